//! `true hydration`: without what stages and cultures bring, and with it.

use super::super::compare::named;
use super::super::maker::Maker;
use super::super::task::Task;
use super::draw::Draw;
use super::sums::{CountedIn, Rule, Sums};
use crate::print::document::{Document, LineKind, LinePart};
use crate::quantity::display::{read_exact, shows, to_step};
use crate::quantity::{Exact, int, ratio};
use crate::syntax::booklet::Level;

/// Grams of water and flour, of what goes into the dough itself and of what stages bring.
struct Wet {
    water: Exact,
    flour: Exact,
    more_water: Exact,
    more_flour: Exact,
    /// The one stage that brings them, where it holds nothing else.
    stage: Option<String>,
    /// The one stage that brings them, where no culture does: its name, what it weighs, and
    /// its lines: the name, the share of its flour, and whether it is water or flour.
    lines: Option<(String, Exact, Vec<StageLine>)>,
}

/// A line of a stage: its name, its share of the stage's flour, its class.
type StageLine = (String, Exact, Option<String>);

impl Maker<'_> {
    /// The hydration in both conventions.
    pub fn true_hydration(
        &self,
        document: &Document,
        level: Level,
        draw: &mut Draw,
    ) -> Result<Task, String> {
        let wet = self.wet(document, draw)?;
        let ways =
            [self.by_sums(&wet), self.by_stage(&wet), self.by_lines(&wet), self.made_wetter(&wet)];
        let sums = Sums::of_level(ways.into_iter().flatten().collect(), level);
        let sums = sums.ok_or("no flour goes into its dough")?.without_needless();
        let mut lead = vec![self.words.say("exercise-true-hydration-lead")];
        let mut made = document.makes.text.clone();
        if self.is_varied() {
            // It is no longer what the formula makes.
            lead.push(self.words.say("exercise-varied"));
            made = self.words.say("print-weight");
        }
        if sums.has_row(&self.words.say("exercise-wetter-more")) {
            lead.push(self.words.say("exercise-wetter-lead"));
        }
        let title = self.task_title("exercise-true-hydration", document);
        Ok(Task::of(self, sums, title, lead, String::new(), &[made]))
    }

    fn wet(&self, document: &Document, draw: &mut Draw) -> Result<Wet, String> {
        let dough = document.mixes.last().filter(|mix| mix.kind == "dough");
        let dough = dough.ok_or("it has no dough")?;
        let grams = |line: &LinePart| read_exact(&line.weight.as_ref()?.grams);
        let of_class = |lines: &[LinePart], class: &str| {
            let own = lines.iter().filter(|line| line.class.as_deref() == Some(class));
            own.filter_map(grams).fold(Exact::ZERO, |sum, it| sum + it)
        };
        let (water, flour) = (of_class(&dough.lines, "water"), of_class(&dough.lines, "flour"));
        let all_water = of_class(&document.total, "water");
        let all_flour = of_class(&document.total, "flour");
        let (more_water, more_flour) = (&all_water - &water, &all_flour - &flour);
        // Milk and eggs are no water that could be counted.
        let has_hydration = document.figures.iter().any(|it| it.name == "hydration");
        let liquids = document.figures.iter().find(|it| it.name == "liquids");
        let liquids = liquids.and_then(|it| read_exact(&it.exact));
        let is_watery = |share: Exact| (&share * &all_flour) <= &all_water * int(2);
        if !has_hydration || !liquids.is_none_or(is_watery) {
            return Err("its water comes with milk, eggs and the like".into());
        }
        if more_flour.is_zero() || document.mixes.len() < 2 {
            return Err("no stage brings flour of its own".into());
        }
        if flour.is_zero() {
            return Err("no flour goes into its dough".into());
        }
        let brings = |it: &&LinePart| matches!(it.kind, LineKind::Stage | LineKind::Culture);
        let bringing: Vec<&LinePart> = dough.lines.iter().filter(brings).collect();
        let stage = match bringing.as_slice() {
            [one] if grams(one).as_ref() == Some(&(&more_water + &more_flour)) => {
                Some(one.name.clone())
            }
            _ => None,
        };
        let lines = match bringing.as_slice() {
            [one] if one.kind == LineKind::Stage => lines_of(one, document),
            _ => None,
        };
        let (part, points) = self.drawn_wetness(draw);
        let wetter = |points: &Exact| (&water + &all_flour * points) * &part;
        let points = if wetter(&points) > Exact::ZERO { points } else { Exact::ZERO };
        let water = wetter(&points);
        let [flour, more_water, more_flour] = [flour, more_water, more_flour].map(|it| it * &part);
        let lines = lines.map(|(name, whole, lines)| (name, whole * &part, lines));
        if !self.is_varied() {
            return Ok(Wet { water, flour, more_water, more_flour, stage, lines });
        }
        // Amounts that are nobody's may be round ones.
        let ratio_of = more_water.over(&more_flour);
        let [water, flour, more_flour] = [water, flour, more_flour].map(|it| rounded(&it));
        let more_water = ratio_of.map_or(more_water, |it| to_step(&(it * &more_flour), &int(1)));
        // The lines of the stage went with what it weighed.
        let lines = lines.filter(|(_, whole, _)| *whole == &more_water + &more_flour);
        Ok(Wet { water, flour, more_water, more_flour, stage, lines })
    }

    /// Parts of what the formula makes, and points of hydration more: what a seat works with.
    fn drawn_wetness(&self, draw: &mut Draw) -> (Exact, Exact) {
        if !self.is_varied() {
            return (Exact::ONE, Exact::ZERO);
        }
        let parts = [ratio(1, 2), ratio(3, 4), int(1), ratio(5, 4), ratio(3, 2), int(2), int(3)];
        let points = [-6, -4, -3, -2, 2, 3, 4, 6, 8];
        let part = draw.one_of(&parts).cloned().unwrap_or(Exact::ONE);
        (part, ratio(*draw.one_of(&points).unwrap_or(&2), 100))
    }

    /// Water and flour that the stages bring are told.
    fn by_sums(&self, wet: &Wet) -> Option<Sums> {
        let mut sums = Sums::default();
        let [water, flour] = self.added(&mut sums, wet);
        let mut given = |id: &str, worth: &Exact| {
            let row = sums.row(&self.words.say(id));
            sums.given(self, (row, 0), CountedIn::Weight, worth.clone())
        };
        let more_water = given("exercise-water-brought", &wet.more_water);
        let more_flour = given("exercise-flour-brought", &wet.more_flour);
        self.both(&mut sums, [water, flour], [more_water, more_flour])?;
        Some(sums)
    }

    /// The same, and how much water makes it as wet as is wanted: the next whole five of a
    /// hundred, at least two points more.
    fn made_wetter(&self, wet: &Wet) -> Option<Sums> {
        let mut sums = self.by_sums(wet)?;
        let known = |sums: &Sums, id: &str| {
            let name = self.words.say(id);
            sums.row_named(&name).and_then(|row| sums.at(row, 0))
        };
        let all_flour = known(&sums, "exercise-all-flour")?;
        let all_water = known(&sums, "exercise-all-water")?;
        let water = known(&sums, "exercise-water-added")?;
        let flour = known(&sums, "exercise-flour-added")?;
        let now = sums.worth(all_water).over(&sums.worth(all_flour))? * int(100);
        let wanted = ((now + int(2)).over(&int(5))?.ceil() * int(5)).one_in::<100>();
        let row = sums.row(&self.words.say("exercise-wetter-wanted"));
        let wanted = sums.given(self, (row, 0), CountedIn::Percent, wanted);
        let row = sums.row(&self.words.say("exercise-wetter-water"));
        let rule = Rule::Times(vec![wanted, all_flour]);
        let then = sums.then(self, (row, 0), CountedIn::Weight, rule)?;
        let row = sums.row(&self.words.say("exercise-wetter-more"));
        let more =
            sums.asked(self, (row, 0), CountedIn::Weight, Rule::Less(vec![then, all_water]))?;
        let row = sums.row(&self.words.say("exercise-wetter-added"));
        let rule = Rule::Sum(vec![water, more]);
        let added = sums.then(self, (row, 0), CountedIn::Weight, rule)?;
        let row = sums.row(&self.words.say("exercise-wetter-then"));
        sums.asked(self, (row, 0), CountedIn::Percent, Rule::Over(added, flour))?;
        Some(sums)
    }

    /// The one stage is told with its hydration.
    fn by_stage(&self, wet: &Wet) -> Option<Sums> {
        let stage = wet.stage.as_ref()?;
        let wetness = wet.more_water.over(&wet.more_flour)?;
        if !shows(&(&wetness * int(100)), 1) {
            return None;
        }
        let mut sums = Sums::default();
        let [water, flour] = self.added(&mut sums, wet);
        let row = sums.row(stage);
        let whole =
            sums.given(self, (row, 0), CountedIn::Weight, &wet.more_water + &wet.more_flour);
        let args = [("stage", stage.as_str())];
        let row = sums.row(&self.words.fill("exercise-hydration-of-stage", &args));
        let wetness = sums.given(self, (row, 0), CountedIn::Percent, wetness);
        let row = sums.row(&self.words.fill("exercise-flour-of-stage", &args));
        let hundred = sums.given(self, (row, 0), CountedIn::Percent, Exact::ONE);
        let row = sums.row(&self.words.fill("exercise-both-of-stage", &args));
        let both =
            sums.then(self, (row, 0), CountedIn::Percent, Rule::Sum(vec![hundred, wetness]))?;
        let row = sums.row(&self.words.say("exercise-flour-brought"));
        let more_flour = sums.then(self, (row, 0), CountedIn::Weight, Rule::Over(whole, both))?;
        let row = sums.row(&self.words.say("exercise-water-brought"));
        let rule = Rule::Less(vec![whole, more_flour]);
        let more_water = sums.then(self, (row, 0), CountedIn::Weight, rule)?;
        self.both(&mut sums, [water, flour], [more_water, more_flour])?;
        Some(sums)
    }

    /// The one stage is told with the percentages of its lines.
    fn by_lines(&self, wet: &Wet) -> Option<Sums> {
        let (stage, whole, lines) = wet.lines.as_ref()?;
        let mut sums = Sums::default();
        let [water, flour] = self.added(&mut sums, wet);
        let row = sums.row(stage);
        let whole = sums.given(self, (row, 0), CountedIn::Weight, whole.clone());
        let mut percents = Vec::new();
        for (name, share, _) in lines {
            let row = sums.row(&format!("{name} ({stage})"));
            percents.push(sums.given(self, (row, 0), CountedIn::Percent, share.clone()));
        }
        let args = [("stage", stage.as_str())];
        let row = sums.row(&self.words.fill("exercise-both-of-stage", &args));
        let all = sums.then(self, (row, 0), CountedIn::Percent, Rule::Sum(percents.clone()))?;
        let row = sums.row(&self.words.say("exercise-flour-brought"));
        let more_flour = sums.then(self, (row, 0), CountedIn::Weight, Rule::Over(whole, all))?;
        let is_water = |(.., class): &StageLine| class.as_deref() == Some("water");
        let mut waters = lines.iter().zip(&percents).filter(|(line, _)| is_water(line));
        let ((_, percent), None) = (waters.next()?, waters.next()) else { return None };
        let row = sums.row(&self.words.say("exercise-water-brought"));
        let rule = Rule::Times(vec![*percent, more_flour]);
        let more_water = sums.then(self, (row, 0), CountedIn::Weight, rule)?;
        let is_so =
            sums.worth(more_flour) == wet.more_flour && sums.worth(more_water) == wet.more_water;
        self.both(&mut sums, [water, flour], [more_water, more_flour])?;
        is_so.then_some(sums)
    }

    /// Water and flour of the dough itself.
    fn added(&self, sums: &mut Sums, wet: &Wet) -> [usize; 2] {
        let all = [("exercise-water-added", &wet.water), ("exercise-flour-added", &wet.flour)];
        all.map(|(id, worth)| {
            let row = sums.row(&self.words.say(id));
            sums.given(self, (row, 0), CountedIn::Weight, worth.clone())
        })
    }

    /// Both hydrations, of water and flour of the dough and of those that stages bring.
    fn both(
        &self,
        sums: &mut Sums,
        [water, flour]: [usize; 2],
        [more_water, more_flour]: [usize; 2],
    ) -> Option<()> {
        let row = sums.row(&self.words.say("exercise-all-flour"));
        let rule = Rule::Sum(vec![flour, more_flour]);
        let all_flour = sums.then(self, (row, 0), CountedIn::Weight, rule)?;
        let row = sums.row(&self.words.say("exercise-all-water"));
        let rule = Rule::Sum(vec![water, more_water]);
        let all_water = sums.then(self, (row, 0), CountedIn::Weight, rule)?;
        let row = sums.row(&self.words.say("figure-hydration-of-added-flour"));
        sums.asked(self, (row, 0), CountedIn::Percent, Rule::Over(water, flour))?;
        let row = sums.row(&self.words.say("exercise-hydration-with-stages"));
        sums.asked(self, (row, 0), CountedIn::Percent, Rule::Over(all_water, all_flour))?;
        Some(())
    }
}

/// Grams as somebody writes them who may choose: by five from 100 g on, by ten from a kilogram.
fn rounded(grams: &Exact) -> Exact {
    let step = match () {
        () if *grams >= int(1000) => int(10),
        () if *grams >= int(100) => int(5),
        () => int(1),
    };
    to_step(grams, &step).max(step)
}

/// What a stage weighs in the dough and the percentages of its lines; none where a culture or
/// a range is among them.
fn lines_of(stage: &LinePart, document: &Document) -> Option<(String, Exact, Vec<StageLine>)> {
    let mix = document.mixes.iter().find(|mix| mix.name.to_lowercase() == stage.key)?;
    let lines = mix.lines.iter().map(|line| {
        let is_plain = line.kind == LineKind::Ingredient && line.percent_low.is_none();
        let share = read_exact(line.percent_exact.as_deref().filter(|_| is_plain)?)?;
        Some((named(line), share, line.class.clone()))
    });
    let lines: Option<Vec<StageLine>> = lines.collect();
    Some((stage.name.clone(), read_exact(&stage.weight.as_ref()?.grams)?, lines?))
}
