//! `water temperature`: how warm the water has to be, and how much of it is ice.

use super::super::maker::{Made, Maker};
use super::super::task::Task;
use super::draw::Draw;
use super::sums::{CountedIn, Rule, Sums};
use crate::formula::class::Class;
use crate::formula::{
    House, How, NoWarmth, Reason, Subject, Topic, ValueKind, Warmth, Worked, from_measured,
    no_warmth, warmth, work, work_as,
};
use crate::quantity::display::{last_digit, read_exact, to_step};
use crate::quantity::{Exact, System, int, ratio};
use crate::syntax::booklet::{FormulaYield, Level};
use crate::syntax::tree::Formula;

/// The warmest water that yeast and cultures bear, in degrees Celsius, as `water-too-hot` has it.
const TOO_WARM: i64 = 45;

/// How many days are tried until one takes water that is not too warm.
const MAX_DAYS: usize = 8;

/// How warm hot water is, in degrees Celsius: what comes of a boiler.
const HOT: [i64; 3] = [50, 55, 60];

/// What is asked of hot water.
const HOT_TO_WEIGH: Topic = Topic::HotToWeigh;

/// What the last dough had of its own.
const OF_LAST_TIME: [Topic; 3] = [Topic::Water, Topic::DoughAsMeasured, Topic::InAll];

/// What is asked beside how warm the water has to be.
enum Asked {
    Temperature,
    /// How much of it is ice.
    Ice,
    /// How much of it is hot, of so many degrees Celsius.
    Mixed(Exact),
}

impl Maker<'_> {
    /// How warm the water has to be, on another day for each seat.
    pub fn water_temperature(
        &self,
        of: &FormulaYield,
        made: &Made,
        level: Level,
        draw: &mut Draw,
    ) -> Result<Task, String> {
        // Where that would take water that is too warm for a culture, another day.
        let elsewhere = (0..MAX_DAYS).find_map(|_| {
            let (house, formula) = self.in_another_room(of, draw)?;
            let worked = match &of.makes {
                Some(makes) => work_as(&house, formula, makes, &mut Vec::new()),
                None => work(&house, formula, &mut Vec::new()),
            };
            let is_mild = warmth(&worked).is_ok_and(|told| told.water.amount <= int(TOO_WARM));
            if is_mild { self.water_of(&worked, made, level, draw).ok() } else { None }
        });
        // Where that is too much for the water, the house's own room stays.
        elsewhere.map_or_else(|| self.water_of(made, made, level, draw), Ok)
    }

    /// The house on a warmer or cooler day, and the formula in it, where seats differ.
    fn in_another_room(&self, of: &FormulaYield, draw: &mut Draw) -> Option<(House<'_>, &Formula)> {
        if !self.is_varied() || of.everyone {
            return None;
        }
        let formula = self.house.formula(&of.formula.key)?;
        let mut house = self.house.clone();
        let degrees = [-4, -3, -2, -1, 1, 2, 3, 4];
        for warm in [&mut house.settings.room, &mut house.settings.flour] {
            let more = int(*draw.one_of(&degrees).unwrap_or(&1));
            *warm = warm.take().map(|own| own + more).map(|it| self.whole_degrees(&it));
        }
        Some((house, formula))
    }

    fn water_of(
        &self,
        worked: &Worked,
        made: &Made,
        level: Level,
        draw: &mut Draw,
    ) -> Result<Task, String> {
        let mut told = warmth(worked).map_err(|it: NoWarmth| no_warmth(it).to_string())?;
        let is_water = |id: &_| self.house.ingredient(*id).class == Class::Water;
        if !told.liquids.iter().any(is_water) {
            return Err("no water is poured into its dough".into());
        }
        let mut warmer = int(*draw.one_of(&[-2, -1, 1, 2, 3]).unwrap_or(&1));
        let units = self.house.settings.units.first;
        let is_us = units == System::Us;
        if is_us {
            // So many degrees Fahrenheit.
            warmer *= ratio(5, 9);
        }
        let mut friction = friction_of_last_time(worked, &told, &warmer);
        if is_us && self.is_varied() {
            // A seat has numbers of its own, so they may be whole ones.
            let whole = |it: Reason| it.in_whole_fahrenheit(&[]);
            if let Some(water) = whole(told.water.clone()) {
                let known = [(Topic::WaterTemperature, &water.amount)];
                told.ice = told.ice.and_then(|it| it.in_whole_fahrenheit(&known));
                told.water = water;
                friction = friction.and_then(whole);
            }
        }
        let hot = int(*draw.one_of(&HOT).unwrap_or(&HOT[0]));
        let asked = [Asked::Temperature, Asked::Ice, Asked::Mixed(hot)];
        let ways = asked.iter().flat_map(|asked| {
            let from_last = friction.as_ref().and_then(|it| self.water_by(&told, Some(it), asked));
            [self.water_by(&told, None, asked), from_last]
        });
        let sums = Sums::of_level(ways.flatten().collect(), level);
        let ((number, unit), ..) = self.reason_shown(&told.water.clone().told_in(units));
        let why = || match told.water.amount > int(TOO_WARM) {
            true => format!(
                "its water would have to be {number} {unit}, as there is so little of it; yeast \
                 and cultures die above {TOO_WARM} °C"
            ),
            false => {
                "other liquids count in it, too, so that its steps fill more than a page".into()
            }
        };
        let sums = sums.ok_or_else(why)?.without_needless();
        let mut lead = vec![self.words.say("exercise-water-lead")];
        if !told.by_balance
            && sums.has_standing(&self.reason_name(&Topic::TemperaturesThatCount.into()))
        {
            lead.push(self.words.say("exercise-water-count"));
        }
        if told.water.amount > int(TOO_WARM) {
            lead.push(self.words.say("exercise-water-hot"));
        }
        let last = self.words.fill(
            "exercise-last-time",
            &[("what", self.reason_name(&Topic::DoughAsMeasured.into()).as_str())],
        );
        if sums.has_row(&last) {
            lead.push(self.words.say("exercise-water-last"));
        }
        if sums.has_row(&self.reason_name(&HOT_TO_WEIGH.into())) {
            lead.push(self.words.say("exercise-water-mixed"));
            lead.push(self.words.say("exercise-water-scalds"));
        }
        Ok(Task::of(
            self,
            sums,
            self.task_title("exercise-water-temperature", made.document(self)),
            lead,
            String::new(),
            &[self.words.say("exercise-value")],
        ))
    }

    /// The water, with the friction found from the last dough or as the mixer has it, and what
    /// else is asked.
    fn water_by(&self, told: &Warmth, friction: Option<&Reason>, asked: &Asked) -> Option<Sums> {
        let units = self.house.settings.units.first;
        let mut sums = Sums::default();
        let friction = match friction {
            Some(reason) => {
                Some(self.reasoned(&mut sums, &reason.clone().told_in(units), " (2)", &[])?)
            }
            None => None,
        };
        let own = told.water.parts.iter().find(is_friction);
        let known: Vec<(Subject, usize)> =
            own.zip(friction).map(|(own, it)| (own.what.clone(), it)).into_iter().collect();
        let water = self.reasoned(&mut sums, &told.water.clone().told_in(units), "", &known)?;
        sums.ask(water);
        let known = [(Subject::from(Topic::WaterTemperature), water)];
        match asked {
            Asked::Temperature => {}
            Asked::Ice => {
                let ice = told.ice.clone()?.told_in(units);
                let ice = self.reasoned(&mut sums, &ice, "", &known)?;
                sums.ask(ice);
            }
            Asked::Mixed(hot) => self.mixed(&mut sums, told, hot, &known)?,
        }
        Some(sums)
    }

    /// How much of the water is hot and how much comes from the tap, so that both together are
    /// as warm as they should be: W (water − tap) / (hot − tap), the balance of heat of one
    /// liquid. None where the tap is too warm, or no water is poured.
    fn mixed(
        &self,
        sums: &mut Sums,
        told: &Warmth,
        hot: &Exact,
        known: &[(Subject, usize)],
    ) -> Option<()> {
        let tap = self.house.settings.tap.as_ref()?;
        let tap = &if self.is_varied() { self.whole_degrees(tap) } else { tap.clone() };
        let wanted = &told.water.amount;
        let is_water =
            told.liquids.iter().all(|id| self.house.ingredient(*id).class == Class::Water);
        if !is_water || wanted <= tap || wanted >= hot {
            return None;
        }
        let warmth = |what: Topic, amount: &Exact| {
            Reason::new(what, amount.clone(), ValueKind::Temperature, How::Written)
        };
        let warmer = |what: Topic, above: Reason| {
            let amount = &above.amount - tap;
            let mut reason = Reason::new(what, amount, ValueKind::Temperature, How::Difference);
            reason.parts = vec![above, warmth(Topic::Tap, tap)];
            reason.told_in(self.house.settings.units.first)
        };
        let above = warmer(Topic::WarmerThanTap, warmth(Topic::WaterTemperature, wanted));
        let above = self.reasoned(sums, &above, "", known)?;
        let below = warmer(Topic::HotAboveTap, warmth(Topic::HotWater, hot));
        let below = self.reasoned(sums, &below, "", known)?;
        let row = sums.row(&self.reason_name(&Topic::ShareOfWater.into()));
        let share = sums.then(self, (row, 0), CountedIn::Percent, Rule::Over(above, below))?;
        let row = sums.row(&self.reason_name(&Topic::Water.into()));
        let whole = sums.given(self, (row, 0), CountedIn::Weight, told.mass.clone());
        let row = sums.row(&self.reason_name(&HOT_TO_WEIGH.into()));
        let hot = sums.asked(self, (row, 0), CountedIn::Weight, Rule::Times(vec![whole, share]))?;
        let row = sums.row(&self.reason_name(&Topic::TapToWeigh.into()));
        sums.asked(self, (row, 0), CountedIn::Weight, Rule::Less(vec![whole, hot]))?;
        Some(())
    }

    /// A temperature in degrees Celsius; where they are Fahrenheit, the nearest whole one of those.
    fn whole_degrees(&self, celsius: &Exact) -> Exact {
        if self.house.settings.units.first != System::Us {
            return celsius.clone();
        }
        let whole = (celsius * ratio(9, 5) + int(32)).nearest();
        (whole - int(32)) * ratio(5, 9)
    }

    /// What a number of a derivation is called in the booklet's language.
    fn reason_name(&self, what: &Subject) -> String {
        let words = what.words();
        // `friction of spiral`, with the name of the house's mixer.
        if let Subject::FrictionOf(mixer) = what
            && let Some(friction) = self.words.name("reason", Topic::Friction.words())
        {
            return format!("{friction} ({mixer})");
        }
        let own = self.words.name("reason", &words);
        own.or_else(|| self.words.name("name", &words)).unwrap_or(words)
    }

    /// A derivation as numbers; of what is `known` already, the number that tells it.
    fn reasoned(
        &self,
        sums: &mut Sums,
        reason: &Reason,
        last_time: &str,
        known: &[(Subject, usize)],
    ) -> Option<usize> {
        if let Some((_, number)) = known.iter().find(|(what, _)| *what == reason.what) {
            return Some(*number);
        }
        let parts: Option<Vec<usize>> =
            reason.parts.iter().map(|it| self.reasoned(sums, it, last_time, known)).collect();
        let parts = parts?;
        let own = self.reason_name(&reason.what);
        // What the last dough had of its own.
        let is_of_last = !last_time.is_empty()
            && OF_LAST_TIME.iter().any(|topic| reason.what == Subject::from(*topic));
        let name = match is_of_last {
            true => self.words.fill("exercise-last-time", &[("what", &own)]),
            false => own,
        };
        let row = sums.row(&name);
        let rule = match (&reason.how, parts.as_slice()) {
            (How::Sum, [_, ..]) => Rule::Sum(parts),
            (How::Difference, [_, ..]) => Rule::Less(parts),
            (How::Product, [_, ..]) => Rule::Times(parts),
            (How::Ratio, [above, below]) => Rule::Over(*above, *below),
            _ => Rule::Given,
        };
        if let Some(number) = sums.at(row, 0) {
            return Some(number);
        }
        let number = match rule {
            Rule::Given => sums.given(self, (row, 0), CountedIn::Number, reason.amount.clone()),
            rule => {
                let number = sums.then(self, (row, 0), CountedIn::Number, rule)?;
                // What was rounded on the way, or in other degrees, is given.
                if sums.worth(number) != reason.amount {
                    return None;
                }
                number
            }
        };
        let (shown, seen, step) = self.reason_shown(reason);
        sums.show_words(number, shown, seen, step);
        Some(number)
    }

    /// What a derivation shows of an amount, what that comes to, and the step of its last digit.
    fn reason_shown(&self, reason: &Reason) -> ((String, String), Exact, Exact) {
        let shown = reason.shown();
        let (number, unit) = match shown.rsplit_once(' ') {
            Some((number, unit)) => (number.to_owned(), unit.to_owned()),
            None => (shown, String::new()),
        };
        let digits = number.split_once('.').map_or(0, |(_, behind)| behind.len());
        let step = last_digit(u8::try_from(digits).unwrap_or(0));
        let each = match (reason.kind, unit.as_str()) {
            (ValueKind::Share, "%") => ratio(1, 100),
            (_, "kg") => int(1000),
            _ => int(1),
        };
        let seen = read_exact(&number.replace('−', "-")).map(|it| it * &each);
        let step = step * each;
        let seen = seen.unwrap_or_else(|| to_step(&reason.amount, &step));
        ((self.words.number(&number), unit), seen, step)
    }
}

/// Whether a number of a derivation is the friction of the mixer.
fn is_friction(reason: &&Reason) -> bool {
    matches!(reason.what, Subject::FrictionOf(_) | Subject::Topic(Topic::Friction))
}

/// The friction as it follows from a dough that came out so many degrees warmer than it should:
/// with a water that makes it the mixer's own. None where it is not known that way.
fn friction_of_last_time(worked: &Worked, told: &Warmth, warmer: &Exact) -> Option<Reason> {
    if told.by_balance {
        return None;
    }
    let friction = told.water.parts.iter().find(is_friction)?.amount.clone();
    let measured = &told.target + warmer;
    let mut last = told.clone();
    last.water.amount = Exact::ZERO;
    last.water.amount = from_measured(worked, &last, &measured).amount - &friction;
    let found = from_measured(worked, &last, &measured);
    let is_sound = last.water.amount > int(2) && last.water.amount < int(45);
    (found.amount == friction && is_sound).then_some(found)
}
