//! `scale`: every weight for another yield, from another weight of flour, or from what
//! starter is in the jar.

use super::super::compare::named;
use super::super::maker::{Made, Maker};
use super::super::task::Task;
use super::draw::{Draw, multiples, round_numbers};
use super::sums::{CountedIn, Rule, Sums};
use super::without_no_ounces;
use crate::print::document::{Document, LineKind, LinePart, MixPart, PiecePart, Weight};
use crate::quantity::display::{ounce, read_exact, shows};
use crate::quantity::{Exact, System, Unit, int};
use crate::source::Span;
use crate::syntax::booklet::{FormulaYield, Level};
use crate::syntax::key_of;
use crate::syntax::tree::{MadePiece, Makes, Name, Quantity, Target};
use std::rc::Rc;

/// Forms of a yield that is drawn: from flour, from starter, and twice in pieces.
const FORMS: usize = 4;

/// A column that no page has.
const OFF_THE_PAGE: usize = 9;

/// What is known of how much is wanted.
enum Wanted {
    /// So many pieces of such a weight.
    Pieces(Exact, Exact),
    /// The dough of the other yield.
    Dough,
    /// Grams of flour.
    Flour(Exact),
    /// Grams of a stage, and its name.
    Stage(Exact, String),
}

impl<'a> Maker<'a> {
    /// All weights for another yield.
    pub fn scale(
        &self,
        makes: Option<&Makes>,
        of: &FormulaYield,
        made: &Made<'a>,
        (level, span): (Level, Span),
        draw: &mut Draw,
    ) -> Result<Task, String> {
        let own = made.document(self);
        if let Some(makes) = makes {
            let other = self.worked_as(&of.formula, Some(makes)).ok_or("it can't make so much")?;
            let dough = |of: &Document| read_exact(&of.makes.dough.grams).unwrap_or_default();
            let (wanted, makes_now) = (dough(other.document(self)), dough(own));
            if is_the_same(&wanted, &makes_now) {
                return Err("it makes that already: ask for another yield".into());
            }
            self.can_be_weighed(other.document(self))?;
            return self.scaled(own, &other, makes, level);
        }
        // Of the forms of yield, from one that is drawn, the first whose answer has as many
        // steps as the level wants.
        let mut first = None;
        let start = draw.below(FORMS);
        for form in 0..FORMS {
            let makes = self.drawn_yield((start + form) % FORMS, (made, own), span, draw);
            let Some(makes) = makes else { continue };
            let Some(other) = self.worked_as(&of.formula, Some(&makes)) else { continue };
            let Ok(task) = self.scaled(own, &other, &makes, level) else { continue };
            if level.wants(task.steps) {
                return Ok(task);
            }
            first.get_or_insert(task);
        }
        first.ok_or_else(|| "it makes nothing that could be counted".to_owned())
    }

    /// What a yield weighs too little of for any number to stand on the scale.
    fn can_be_weighed(&self, other: &Document) -> Result<(), String> {
        let least = self.house_scale().finest().one_in::<2>();
        let lines = other.mixes.iter().flat_map(|mix| &mix.lines);
        let mut weighed = lines.filter_map(|line| Some((line, line.weight.as_ref()?)));
        let too_little = weighed.find(|(_, weight)| {
            read_exact(&weight.grams).is_some_and(|it| !it.is_zero() && it < least)
        });
        match too_little {
            Some((line, _)) => Err(format!(
                "so little takes less `{}` than the scale shows: ask for more",
                line.name
            )),
            None => Ok(()),
        }
    }

    fn scaled(
        &self,
        own: &Document,
        other: &Rc<Made<'a>>,
        makes: &Makes,
        level: Level,
    ) -> Result<Task, String> {
        let other = other.document(self);
        let wanted = self.wanted(other, makes);
        let ways = [
            self.by_factor(own, other, &wanted),
            self.by_percent(other, &wanted, false),
            self.by_stages(other, &wanted),
            self.by_percent(other, &wanted, true),
        ];
        let sums = Sums::of_level(ways.into_iter().flatten().collect(), level);
        let mut sums = sums.ok_or("it weighs nothing")?.without_needless();
        sums.sharpen(self);
        // In the title it weighs what it weighs in the table.
        let as_in_table = |sums: &Sums, row: &str, grams: &Exact| {
            let number = sums.row_named(row).and_then(|row| sums.at(row, 2));
            let said = number.filter(|it| sums.worth(*it) == *grams).map(|it| sums.said(it));
            without_no_ounces(&said.unwrap_or_else(|| self.grams_said(grams)))
        };
        // What is in the jar is asked from, not the dough that comes of it.
        let made = match &wanted {
            Wanted::Flour(grams) => {
                let said = as_in_table(&sums, &self.words.say("figure-flour"), grams);
                self.words.fill("exercise-of-flour", &[("weight", &said)])
            }
            Wanted::Stage(grams, key) => {
                let mix = own.mixes.iter().find(|mix| *key_of(&mix.name) == **key);
                let title = mix.map_or(key.as_str(), |mix| self.stage_said(mix));
                let row = mix.map_or(key.as_str(), |mix| mix.title.as_str());
                let weight = as_in_table(&sums, row, grams);
                let of_title = self.words.of(title);
                let args = [("stage", title), ("of-stage", &of_title), ("weight", &weight)];
                self.words.fill("exercise-of-stage", &args)
            }
            Wanted::Pieces(..) | Wanted::Dough => {
                // One piece weighs in the title what it weighs in the table.
                let row = sums.row_named(&self.words.say("exercise-piece"));
                let each = row.and_then(|row| sums.at(row, 2)).map(|it| sums.said(it));
                // From what one weighs out of the oven, its dough is for the learner to find.
                let is_baked = sums.has_row(&self.words.say("exercise-piece-baked"));
                let text = match (each, other.makes.pieces.as_slice()) {
                    (_, [piece]) if is_baked => {
                        let count = read_exact(&piece.count).unwrap_or_default();
                        self.counted(&count, &piece.kind)
                    }
                    (Some(each), [piece]) => other.makes.text.replace(&piece.weight.said(), &each),
                    _ => other.makes.text.clone(),
                };
                without_no_ounces(&text)
            }
        };
        Ok(Task::of(
            self,
            sums,
            self.task_title("exercise-scale", own),
            vec![self.words.fill("exercise-scale-lead", &[("yield", &made)])],
            self.words.say("print-ingredient"),
            &["%".to_owned(), own.makes.text.clone(), made.clone()],
        )
        .without_empty_columns())
    }

    /// What is known of how much is wanted.
    fn wanted(&self, document: &Document, makes: &Makes) -> Wanted {
        let grams = |text: &str| read_exact(text).unwrap_or_default();
        let dough = grams(&document.makes.dough.grams);
        if let Some((amount, target)) = &makes.from {
            let grams = self.house.base(amount);
            return match target.name.key.as_str() {
                "flour" => Wanted::Flour(grams),
                key => Wanted::Stage(grams, key.to_owned()),
            };
        }
        match document.makes.pieces.as_slice() {
            [piece] => {
                let each = grams(&piece.weight.grams);
                match read_exact(&piece.count) {
                    Some(count) if &count * &each == dough => Wanted::Pieces(count, each),
                    _ => Wanted::Dough,
                }
            }
            _ => Wanted::Dough,
        }
    }

    // ---- Ways to ask -------------------------------------------------------------------

    /// From the weights as they are: each grows by one factor.
    fn by_factor(&self, own: &Document, other: &Document, wanted: &Wanted) -> Option<Sums> {
        let mut sums = Sums::default();
        let (before, after) = match wanted {
            Wanted::Pieces(count, _) => match own.makes.pieces.as_slice() {
                [piece] if read_exact(&piece.count).is_some() => {
                    let row = sums.row(&other.makes.pieces.first()?.kind);
                    let before = read_exact(&piece.count)?;
                    let before = sums.given(self, (row, 1), CountedIn::Number, before);
                    (before, sums.given(self, (row, 2), CountedIn::Number, count.clone()))
                }
                _ => self.both_weights(&mut sums, own, other, wanted)?,
            },
            _ => self.both_weights(&mut sums, own, other, wanted)?,
        };
        let exact =
            read_exact(&other.makes.dough.grams)?.over(&read_exact(&own.makes.dough.grams)?)?;
        if sums.worth(after).over(&sums.worth(before))? != exact {
            return None;
        }
        let row = sums.row(&self.words.say("exercise-factor"));
        let factor = sums.then(self, (row, 2), CountedIn::Number, Rule::Over(after, before))?;
        for (mix, new) in own.mixes.iter().zip(&other.mixes) {
            for (line, new) in mix.lines.iter().zip(&new.lines) {
                let (Some(weight), Some(_)) = (&line.weight, &new.weight) else { continue };
                let row = sums.row(&in_mix(line, mix, own));
                let Some(weight) = sums.given_weight(self, (row, 1), weight) else { continue };
                let rule = Rule::Times(vec![weight, factor]);
                sums.asked(self, (row, 2), CountedIn::Weight, rule)?;
            }
        }
        Some(sums)
    }

    /// The dough, the flour or the stage as it is and as it is wanted.
    fn both_weights(
        &self,
        sums: &mut Sums,
        own: &Document,
        other: &Document,
        wanted: &Wanted,
    ) -> Option<(usize, usize)> {
        let (row, before, after) = match wanted {
            Wanted::Flour(grams) => {
                (sums.row(&self.words.say("figure-flour")), &own.makes.flour, grams.clone())
            }
            Wanted::Stage(grams, key) => {
                let mix = own.mixes.iter().find(|mix| *key_of(&mix.name) == **key)?;
                (sums.row(&mix.title), &mix.sum, grams.clone())
            }
            Wanted::Pieces(..) | Wanted::Dough => {
                let after = read_exact(&other.makes.dough.grams)?;
                (sums.row(&self.words.say("figure-dough")), &own.makes.dough, after)
            }
        };
        let before = sums.given_weight(self, (row, 1), before)?;
        Some((before, sums.given(self, (row, 2), CountedIn::Weight, after)))
    }

    /// All the flour, from what is wanted and the percentages.
    fn flour_of(
        &self,
        sums: &mut Sums,
        other: &Document,
        wanted: &Wanted,
        baked: bool,
    ) -> Option<(usize, Vec<usize>)> {
        let mut percents = Vec::new();
        for line in other.total.iter().filter(|line| line.weight.is_some()) {
            let row = sums.row(&named(line));
            let share =
                read_exact(line.percent_exact.as_deref().filter(|_| line.percent_low.is_none())?)?;
            percents.push(sums.given(self, (row, 0), CountedIn::Percent, share));
        }
        let dough = sums.row(&self.words.say("figure-dough"));
        let all = sums.row(&self.words.say("exercise-all-percent"));
        let flour = sums.row(&self.words.say("figure-flour"));
        let number = match wanted {
            Wanted::Flour(grams) => sums.given(self, (flour, 2), CountedIn::Weight, grams.clone()),
            Wanted::Stage(grams, key) => {
                let mix = other.mixes.iter().find(|mix| *key_of(&mix.name) == **key)?;
                let share = grams.over(&read_exact(&other.makes.flour.grams)?)?;
                let row = sums.row(&mix.title);
                let share = sums.given(self, (row, 0), CountedIn::Percent, share);
                let grams = sums.given(self, (row, 2), CountedIn::Weight, grams.clone());
                sums.then(self, (flour, 2), CountedIn::Weight, Rule::Over(grams, share))?
            }
            Wanted::Pieces(..) | Wanted::Dough => {
                let dough = match wanted {
                    Wanted::Pieces(count, each) => {
                        let piece = other.makes.pieces.first()?;
                        let row = sums.row(&piece.kind);
                        let count = sums.given(self, (row, 2), CountedIn::Number, count.clone());
                        let row = sums.row(&self.words.say("exercise-piece"));
                        let each = match baked {
                            true => self.piece_of_baked(sums, row, piece, each)?,
                            false => sums.given(self, (row, 2), CountedIn::Weight, each.clone()),
                        };
                        let rule = Rule::Times(vec![count, each]);
                        sums.then(self, (dough, 2), CountedIn::Weight, rule)?
                    }
                    _ => {
                        let grams = read_exact(&other.makes.dough.grams)?;
                        sums.given(self, (dough, 2), CountedIn::Weight, grams)
                    }
                };
                let rule = Rule::Sum(percents.clone());
                let all = sums.then(self, (all, 0), CountedIn::Percent, rule)?;
                sums.then(self, (flour, 2), CountedIn::Weight, Rule::Over(dough, all))?
            }
        };
        // What is lost on the way, or not counted, would make it another flour.
        (sums.worth(number) == read_exact(&other.makes.flour.grams)?).then_some((number, percents))
    }

    /// The dough of one piece, from what it weighs out of the oven and what it loses there.
    fn piece_of_baked(
        &self,
        sums: &mut Sums,
        piece_row: usize,
        piece: &PiecePart,
        each: &Exact,
    ) -> Option<usize> {
        let out_of_oven = read_exact(&piece.baked.as_ref()?.grams)?;
        let loss = (each - &out_of_oven).over(each)?;
        if loss <= Exact::ZERO || !shows(&(&loss * int(100)), 1) {
            return None;
        }
        // All of it is in no column: those are percentages of the flour.
        let whole = sums.given(self, (piece_row, OFF_THE_PAGE), CountedIn::Percent, Exact::ONE);
        let row = sums.row(&self.words.say("exercise-loss"));
        let loss = sums.given(self, (row, 0), CountedIn::Percent, loss);
        let row = sums.row(&self.words.say("exercise-piece-baked"));
        let rule = Rule::Less(vec![whole, loss]);
        let left = sums.then(self, (row, 0), CountedIn::Percent, rule)?;
        // With the digits that make it the piece that the formula has.
        let baked = sums.given_fine(self, (row, 2), piece.baked.as_ref()?)?;
        sums.then(self, (piece_row, 2), CountedIn::Weight, Rule::Over(baked, left))
    }

    /// From the percentages alone; `baked`, from what one weighs out of the oven.
    fn by_percent(&self, other: &Document, wanted: &Wanted, baked: bool) -> Option<Sums> {
        let mut sums = Sums::default();
        let (flour, percents) = self.flour_of(&mut sums, other, wanted, baked)?;
        let lines = other.total.iter().filter(|line| line.weight.is_some());
        for (line, percent) in lines.zip(percents) {
            let row = sums.row(&named(line));
            let rule = Rule::Times(vec![percent, flour]);
            let asked = sums.asked(self, (row, 2), CountedIn::Weight, rule)?;
            if sums.worth(asked) != read_exact(&line.weight.as_ref()?.grams)? {
                return None;
            }
        }
        Some(sums)
    }

    /// What goes into the dough itself, from the percentages of the whole and of the stages.
    fn by_stages(&self, other: &Document, wanted: &Wanted) -> Option<Sums> {
        let (dough, stages) = other.mixes.split_last()?;
        if stages.is_empty() || dough.kind != "dough" {
            return None;
        }
        let mut sums = Sums::default();
        let (flour, percents) = self.flour_of(&mut sums, other, wanted, false)?;
        let all_flour = read_exact(&other.makes.flour.grams)?;
        // For each line of each stage its weight.
        let mut taken: Vec<(&LinePart, usize)> = Vec::new();
        for mix in stages {
            if mix.feeds.is_some() || mix.lines.iter().any(|line| line.kind == LineKind::Stage) {
                return None;
            }
            let row = sums.row(&mix.title);
            // What is in the jar is known already.
            let whole = match sums.at(row, 2) {
                Some(whole) => whole,
                None => {
                    let share = read_exact(&mix.sum.grams)?.over(&all_flour)?;
                    let share = sums.given(self, (row, 0), CountedIn::Percent, share);
                    let rule = Rule::Times(vec![share, flour]);
                    sums.then(self, (row, 2), CountedIn::Weight, rule)?
                }
            };
            let mut own = Vec::new();
            for line in &mix.lines {
                let row = sums.row(&in_mix(line, mix, other));
                let share = read_exact(line.percent_exact.as_deref()?)?;
                own.push(sums.given(self, (row, 0), CountedIn::Percent, share));
            }
            let row =
                sums.row(&format!("{} ({})", self.words.say("exercise-all-percent"), mix.title));
            let all = sums.then(self, (row, 0), CountedIn::Percent, Rule::Sum(own.clone()))?;
            let row = sums.row(&format!("{} ({})", self.words.say("figure-flour"), mix.title));
            let base = sums.then(self, (row, 2), CountedIn::Weight, Rule::Over(whole, all))?;
            for (line, percent) in mix.lines.iter().zip(own) {
                let row = sums.row(&in_mix(line, mix, other));
                let rule = Rule::Times(vec![percent, base]);
                let weight = sums.then(self, (row, 2), CountedIn::Weight, rule)?;
                if sums.worth(weight) != read_exact(&line.weight.as_ref()?.grams)? {
                    return None;
                }
                taken.push((line, weight));
            }
        }
        let lines = other.total.iter().filter(|line| line.weight.is_some());
        for (line, percent) in lines.zip(percents) {
            let row = sums.row(&named(line));
            let rule = Rule::Times(vec![percent, flour]);
            let whole = sums.then(self, (row, 2), CountedIn::Weight, rule)?;
            let is_it = |it: &&LinePart| it.key == line.key && it.role == line.role;
            let Some(own) = dough.lines.iter().find(is_it) else { continue };
            let of_stages = taken.iter().filter(|(it, _)| it.key == line.key);
            let mut parts = vec![whole];
            parts.extend(of_stages.map(|(_, weight)| *weight));
            let grams = read_exact(&own.weight.as_ref()?.grams)?;
            let left = |sums: &Sums, parts: &[usize]| {
                parts[1..].iter().fold(sums.worth(whole), |left, it| left - sums.worth(*it))
            };
            let brought = left(&sums, &parts) - &grams;
            parts.extend(self.of_culture(&mut sums, line, &taken, &brought));
            if left(&sums, &parts) != grams {
                continue;
            }
            match parts.len() {
                1 => sums.ask(whole),
                _ => {
                    let row = sums.row(&in_mix(own, dough, other));
                    sums.asked(self, (row, 2), CountedIn::Weight, Rule::Less(parts))?;
                }
            }
        }
        // What goes into the stages is asked, too.
        taken.iter().for_each(|(_, weight)| sums.ask(*weight));
        Some(sums)
    }

    /// What a culture brings of a line of the total, where there is one culture that brings it.
    fn of_culture(
        &self,
        sums: &mut Sums,
        line: &LinePart,
        taken: &[(&LinePart, usize)],
        brought: &Exact,
    ) -> Option<usize> {
        let mut cultures = taken.iter().filter(|(it, _)| it.kind == LineKind::Culture);
        let (culture, weight) = cultures.next()?;
        let share = brought.over(&sums.worth(*weight))?;
        if *brought <= Exact::ZERO || share > Exact::ONE || cultures.next().is_some() {
            return None;
        }
        let row = sums.row(&format!("{} ({})", named(line), named(culture)));
        let share = sums.given(self, (row, 0), CountedIn::Percent, share);
        sums.then(self, (row, 2), CountedIn::Weight, Rule::Times(vec![share, *weight]))
    }

    // ---- What is drawn -----------------------------------------------------------------

    /// Another number of pieces, another weight of flour, or what starter there is; none
    /// where the formula has nothing of the form.
    fn drawn_yield(
        &self,
        form: usize,
        (made, own): (&Made, &Document),
        span: Span,
        draw: &mut Draw,
    ) -> Option<Makes> {
        let quantity = |number: Exact, unit| Quantity { number, unit, decimals: None, span };
        let is_us = self.house.settings.units.first == System::Us;
        let of = |number: i64, unit, name: &str| {
            let name = Name { key: name.into(), shown: name.into(), span };
            let from = Some((quantity(int(number), unit), Target { name, role: None }));
            Makes { pieces: Vec::new(), dough: None, from, factor: None, span }
        };
        // From half of it to six times as much: what the same people and oven can make.
        let about = |weight: &Weight, most: i64| {
            let own = read_exact(&weight.grams).unwrap_or_default();
            let each = if is_us { ounce() } else { int(1) };
            let (least, most) = (own.one_in::<2>().over(&each), (own * int(most)).over(&each));
            let (least, most) = (least.unwrap_or_default(), most.unwrap_or_default());
            if !is_us {
                return round_numbers(&least, &most);
            }
            // Halves of a pound, and below two pounds ounces.
            multiples(if most > int(60) { 8 } else { 1 }, &least, &most)
        };
        let unit = if is_us { Unit::Ounce } else { Unit::Gram };
        let whole = |part: &Weight, all: Vec<i64>| {
            let whole = if is_us { Vec::new() } else { come_out_whole(own, part, &all) };
            let seats = usize::try_from(self.seats()).unwrap_or(1);
            if whole.len() >= seats.max(3) { whole } else { all }
        };
        if form == 0 {
            let all = whole(&own.makes.flour, about(&own.makes.flour, 6));
            return Some(of(*draw.one_of(&all)?, unit, "flour"));
        }
        if form == 1 {
            let has_culture = |mix: &&MixPart| {
                mix.kind != "dough" && mix.lines.iter().any(|line| line.kind == LineKind::Culture)
            };
            let jar = own.mixes.iter().find(has_culture)?;
            let all = whole(&jar.sum, about(&jar.sum, 3));
            return Some(of(*draw.one_of(&all)?, unit, &jar.name));
        }
        let [piece] = made.first().pieces.as_slice() else {
            // Of several kinds of piece, some dough.
            let number = *draw.one_of(&about(&own.makes.dough, 6))?;
            let dough = Some(quantity(int(number), unit));
            return Some(Makes { pieces: Vec::new(), dough, from: None, factor: None, span });
        };
        if !piece.made.count.is_int() {
            return None;
        }
        // Small pieces come by the half dozen, and to as many as six times what it makes.
        let counts: Vec<i64> = match piece.made.count < int(6) {
            true => vec![3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 15, 16, 18, 20, 24, 25, 30],
            false => multiples(6, &int(6), &(&piece.made.count * int(6)).max(int(120))),
        };
        let counts = counts.into_iter().filter(|it| int(*it) != piece.made.count);
        let counts: Vec<i64> = counts.collect();
        // No more than two full mixers, where that leaves every seat its own number.
        let each = made.first().whole.mass().over(&piece.made.count)?;
        let most = made.batch_mixer().map(|(_, most)| most * int(2));
        let fits = |count: &i64| most.as_ref().is_none_or(|most| &each * int(*count) <= *most);
        let fitting: Vec<i64> = counts.iter().copied().filter(fits).collect();
        let seats = usize::try_from(self.seats()).unwrap_or(1);
        let counts = if fitting.len() >= seats.max(6) { fitting } else { counts };
        let count = quantity(int(*draw.one_of(&counts)?), Unit::Count);
        let kind = Name { key: piece.made.key.clone(), shown: piece.made.kind.clone(), span };
        let (counted, weight, baked, tin) = (true, None, false, None);
        let piece = MadePiece { count, counted, kind, weight, baked, tin, span };
        let (dough, from, factor) = (None, None, None);
        Some(Makes { pieces: vec![piece], dough, from, factor, span })
    }
}

/// Whether two weights are one to anybody who weighs them: within a thousandth.
pub fn is_the_same(one: &Exact, other: &Exact) -> bool {
    (one - other).abs() <= other.one_in::<1000>()
}

/// Those of some weights in grams for which every weight of the whole comes out in grams, those
/// below 10 g in tenths, where a part of it weighs so much instead of what it does.
fn come_out_whole(document: &Document, part: &Weight, all: &[i64]) -> Vec<i64> {
    let grams = |weight: &Weight| read_exact(&weight.grams);
    let weights: Vec<Exact> =
        document.total.iter().filter_map(|line| grams(line.weight.as_ref()?)).collect();
    let Some(part) = grams(part) else { return Vec::new() };
    let is_whole = |wanted: &&i64| {
        let factor = int(**wanted).over(&part);
        factor.is_some_and(|factor| {
            weights.iter().all(|weight| {
                let weight = weight * &factor;
                weight.is_int() || weight < int(10) && shows(&weight, 1)
            })
        })
    };
    all.iter().filter(is_whole).copied().collect()
}

/// A line's name, with its mix where there are several.
pub fn in_mix(line: &LinePart, mix: &MixPart, document: &Document) -> String {
    match document.mixes.len() {
        1 => named(line),
        _ => format!("{} ({})", named(line), mix.title),
    }
}
