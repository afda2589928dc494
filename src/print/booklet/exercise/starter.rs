//! `starter`: what to feed for the weight that is wanted.

use super::super::compare::named;
use super::super::maker::Maker;
use super::super::reckoner::adding_up;
use super::super::task::Task;
use super::draw::{Draw, multiples, round_numbers};
use super::scale::is_the_same;
use super::sums::{CountedIn, Rule, Sums};
use crate::print::document::{Document, LineKind, LinePart, MixPart};
use crate::print::wording::language_of;
use crate::quantity::display::{Scale, ScaleStep, ounce, read_exact, to_step};
use crate::quantity::{Exact, System, int};
use crate::syntax::booklet::Level;
use crate::syntax::tree::{Name, Quantity};

/// How many digits more parts of a feed get at most, so that they add up.
const MAX_FINER: u8 = 2;

impl Maker<'_> {
    /// What goes into so much of a stage.
    pub fn starter(
        &self,
        stage: Option<&Name>,
        wanted: Option<&Quantity>,
        document: &Document,
        level: Level,
        draw: &mut Draw,
    ) -> Result<Task, String> {
        let mix = stage_of(stage, document)?;
        let wanted_is_drawn = wanted.is_none();
        let wanted = match wanted {
            Some(wanted) => self.house.base(wanted),
            None if self.house.settings.units.first == System::Us => {
                let ounces: Vec<i64> = (5..=32).collect();
                ounce() * int(*draw.one_of(&ounces).unwrap_or(&8))
            }
            None => drawn_weight(mix, self.seats(), draw),
        };
        let makes = read_exact(&mix.sum.grams).unwrap_or_default();
        if !wanted_is_drawn && is_the_same(&wanted, &makes) {
            return Err("it makes that much already: ask for another weight".into());
        }
        // What was fed first can be weighed.
        let drawn = (level == Level::Third && wanted_is_drawn).then_some([1, 2, 5, 10]);
        let wanted = drawn
            .into_iter()
            .flatten()
            .map(|times| &wanted * int(times))
            .find(|wanted| {
                let sums = self.fed_by_percent(mix, wanted, true);
                sums.is_some_and(|sums| sums.least_asked() >= int(2))
            })
            .unwrap_or(wanted);
        let ways = [
            self.fed_by_factor(mix, &wanted),
            self.fed_by_percent(mix, &wanted, false),
            self.fed_by_percent(mix, &wanted, true),
        ];
        let sums = Sums::of_level(ways.into_iter().flatten().collect(), level);
        let sums = sums.ok_or("it weighs nothing")?.without_needless();
        if sums.least_asked() < self.house_scale().finest().one_in::<2>() {
            return Err("so little takes less than the scale shows: ask for more".into());
        }
        // In the title it weighs what it weighs in the table.
        let weight = sums.row_named(&mix.title).and_then(|row| sums.at(row, 2));
        let weight = weight.map_or_else(|| self.grams_said(&wanted), |it| sums.said(it));
        let weight = super::without_no_ounces(&weight);
        let stage = self.stage_said(mix);
        let of_stage = self.words.of(stage);
        let args = [("stage", stage), ("of-stage", &of_stage), ("weight", &weight)];
        let mut lead = vec![self.words.fill("exercise-starter-lead", &args)];
        let mut columns = ["%".to_owned(), mix.sum.said(), weight.clone()];
        if sums.has_row(&self.words.say("exercise-fed-before")) {
            lead[0] = self.words.fill("exercise-starter-need", &args);
            lead.push(self.words.say("exercise-starter-twice"));
            columns[1] = self.words.say("exercise-feed-before");
        }
        let mut sums = sums;
        sums.sharpen(self);
        // The column is headed by what it holds.
        if let Some(before) = sums.row_named(&mix.title).and_then(|row| sums.at(row, 1)) {
            columns[1] = sums.said(before);
        }
        if sums.is_rough() {
            lead.push(self.words.say("exercise-starter-sum"));
        }
        Ok(Task::of(
            self,
            sums,
            self.task_title("exercise-starter", document),
            lead,
            self.words.say("print-ingredient"),
            &columns,
        )
        .without_empty_columns())
    }

    /// What a stage is called in a sentence: as the formula calls it; German nouns have a
    /// capital.
    pub fn stage_said<'d>(&self, mix: &'d MixPart) -> &'d str {
        let is_german = language_of(&self.words.tag) == "de";
        if is_german { mix.title.as_str() } else { mix.name.as_str() }
    }

    /// From the weights as they are: each grows by one factor.
    fn fed_by_factor(&self, mix: &MixPart, wanted: &Exact) -> Option<Sums> {
        let mut sums = Sums::default();
        let row = sums.row(&mix.title);
        let before = sums.given_weight(self, (row, 1), &mix.sum)?;
        let after = sums.given(self, (row, 2), CountedIn::Weight, wanted.clone());
        let row = sums.row(&self.words.say("exercise-factor"));
        let factor = sums.then(self, (row, 2), CountedIn::Number, Rule::Over(after, before))?;
        let mut asked = Vec::new();
        for line in &mix.lines {
            let Some(weight) = &line.weight else { continue };
            let row = sums.row(&named(line));
            let own = sums.given_weight(self, (row, 1), weight)?;
            let rule = Rule::Times(vec![own, factor]);
            asked.push(sums.asked(self, (row, 2), CountedIn::Weight, rule)?);
        }
        self.add_up(&mut sums, &asked, wanted);
        Some(sums)
    }

    /// From the percentages of its own flour; `twice`, with what the feed before took.
    fn fed_by_percent(&self, mix: &MixPart, wanted: &Exact, twice: bool) -> Option<Sums> {
        let lines: Vec<&LinePart> = mix.lines.iter().filter(|line| line.weight.is_some()).collect();
        let mut sums = Sums::default();
        let mut percents = Vec::new();
        for line in &lines {
            let row = sums.row(&named(line));
            let share = read_exact(line.percent_exact.as_deref()?)?;
            percents.push(sums.given(self, (row, 0), CountedIn::Percent, share));
        }
        let row = sums.row(&self.words.say("exercise-all-percent"));
        let all = sums.then(self, (row, 0), CountedIn::Percent, Rule::Sum(percents.clone()))?;
        let whole = sums.row(&mix.title);
        let last = sums.given(self, (whole, 2), CountedIn::Weight, wanted.clone());
        let flour = sums.row(&self.words.say("figure-flour"));
        let base = sums.then(self, (flour, 2), CountedIn::Weight, Rule::Over(last, all))?;
        let mut seed = None;
        let mut asked = Vec::new();
        for (line, percent) in lines.iter().zip(&percents) {
            let row = sums.row(&named(line));
            let rule = Rule::Times(vec![*percent, base]);
            let number = match twice {
                true => sums.then(self, (row, 2), CountedIn::Weight, rule)?,
                false => sums.asked(self, (row, 2), CountedIn::Weight, rule)?,
            };
            asked.push(number);
            if line.kind == LineKind::Culture {
                seed = Some(number);
            }
        }
        self.add_up(&mut sums, &asked, wanted);
        if !twice {
            return Some(sums);
        }
        // What went into the first feed is as a pencil has it: the page names no weight to come to.
        let row = sums.row(&self.words.say("exercise-fed-before"));
        let base = sums.then(self, (row, 1), CountedIn::Weight, Rule::Over(seed?, all))?;
        for (line, percent) in lines.iter().zip(&percents) {
            let row = sums.row(&named(line));
            let rule = Rule::Times(vec![*percent, base]);
            sums.asked(self, (row, 1), CountedIn::Weight, rule)?;
        }
        Some(sums)
    }

    /// Answers that come to what is wanted: each with the digits that a pencil gives it, or all
    /// with a digit more or two; where that doesn't come out, with what is lacking added to those
    /// that lost most.
    fn add_up(&self, sums: &mut Sums, asked: &[usize], wanted: &Exact) {
        let worths: Vec<Exact> = asked.iter().map(|it| sums.worth(*it)).collect();
        for finer in 0..=MAX_FINER {
            let told: Vec<(Exact, Exact)> = worths
                .iter()
                .map(|worth| {
                    let (_, seen, step) = self.finer_figure(CountedIn::Weight, worth, false, finer);
                    (seen, step)
                })
                .collect();
            let sum = told.iter().fold(Exact::ZERO, |sum, (seen, _)| sum + seen);
            let finest = told.iter().map(|(_, step)| step.clone()).min().unwrap_or_default();
            if sum == to_step(wanted, &finest) {
                for (number, (_, step)) in asked.iter().zip(told) {
                    sums.show_to(self, *number, step);
                }
                return;
            }
        }
        let steps = worths.iter().map(|it| self.figure(CountedIn::Weight, it, false).2);
        let step = steps.min().unwrap_or(Exact::ONE);
        let pencil = Scale::new(vec![ScaleStep { step, above: None, below: None }]);
        let shown = adding_up(&pencil, &worths, wanted);
        for (number, shown) in asked.iter().zip(shown) {
            sums.show_grams(self, *number, shown);
        }
    }
}

fn stage_of<'d>(stage: Option<&Name>, document: &'d Document) -> Result<&'d MixPart, String> {
    let has_culture = |mix: &&MixPart| mix.lines.iter().any(|line| line.kind == LineKind::Culture);
    let mix = match stage {
        Some(stage) => document
            .mixes
            .iter()
            .find(|mix| crate::syntax::key_of(&mix.name) == stage.key)
            .ok_or_else(|| format!("it has no stage `{}`", stage.shown))?,
        None => document.mixes.iter().find(has_culture).ok_or("no stage of it takes a culture")?,
    };
    if !has_culture(&mix) {
        return Err(format!("no culture goes into `{}`", mix.name));
    }
    Ok(mix)
}

/// A round weight; where there is one that can be weighed in whole grams, such a one.
fn drawn_weight(mix: &MixPart, seats: u32, draw: &mut Draw) -> Exact {
    let grams = |line: &LinePart| read_exact(&line.weight.as_ref()?.grams);
    let parts: Vec<Exact> = mix.lines.iter().filter_map(grams).collect();
    let sum = parts.iter().fold(Exact::ZERO, |sum, it| sum + it);
    let is_whole = |wanted: &i64| {
        let each = int(*wanted).over(&sum);
        each.is_some_and(|each| parts.iter().all(|part| (part * &each).is_int()))
    };
    // From a third of it to three times as much.
    let (least, most) = (sum.one_in::<3>(), &sum * int(3));
    let round = match most {
        ref most if *most <= int(200) => multiples(5, &least, most),
        ref most if *most <= int(2000) => multiples(10, &least, most),
        ref most => round_numbers(&least, most),
    };
    let whole: Vec<i64> = round.iter().copied().filter(is_whole).collect();
    let least = usize::try_from(seats).unwrap_or(1).max(3);
    let all = if whole.len() >= least { whole } else { round };
    int(*draw.one_of(&all).unwrap_or(&300))
}
