//! The columns: the whole formula, stages, side mixes, the dough, what pieces carry.

use super::lines::{Of, ShownLine, soft};
use crate::formula::weighing::{Leaving, TotalRow, Weighing};
use crate::formula::{LineRef, Within, WorkedLine, all_mixes, main_mix, weighing};
use crate::print::context::{PrintContext, Rounded};
use crate::print::document::{BesidePart, LinePart, MixPart, Weight};
use crate::print::method;
use crate::print::words::capital;
use crate::quantity::Exact;
use crate::syntax::tree::{Counting, Line, Mix};

impl PrintContext<'_, '_> {
    /// The lines of the whole formula, and the sum of what they show.
    pub(super) fn total(&self) -> (Vec<LinePart>, Weight) {
        let numbers = self.numbers();
        let mix = self.worked.formula.total.as_ref();
        let flour = self.worked.listed_flour(numbers);
        let of = Of::mix(flour, Within::All);
        // What only a culture brings is what is left of it, and no line of its own.
        let unlisted = Of { basis: of.basis.clone(), within: None };
        let shown = self.lines(|weighing| Some(&weighing.total));
        let parts = self.rows().iter().zip(shown).map(|(TotalRow { line, declared }, shown)| {
            let own = declared.and_then(|index| mix?.lines.get(index));
            let declared =
                own.or_else(|| line.mass.is_zero().then(|| self.without_a_weight(line)).flatten());
            let of = if mix.is_some() && own.is_none() { &unlisted } else { &of };
            self.line(&ShownLine { line, declared, grams: line.mass.clone(), shown }, of)
        });
        let sum = self.shown(|weighing| Some(&weighing.total.sum));
        (parts.collect(), self.dough_sum(&numbers.whole.mass(), &sum))
    }

    /// The line on which something stands that has no weight anywhere, such as a pinch.
    fn without_a_weight(&self, line: &WorkedLine) -> Option<&Line> {
        let mixes = all_mixes(&self.worked.formula).flat_map(|mix| &mix.lines);
        let mut own = mixes.filter(|own| own.target.name.key == line.key);
        own.find(|own| soft(&own.amount).is_some())
    }

    /// A stage as it is weighed: with what is saved or kept back.
    pub(super) fn stage(&self, index: usize) -> MixPart {
        let stage = &self.worked.formula.stages[index];
        let worked = &self.numbers().stages[index];
        let within = Within::Stage(index);
        let of = Of::mix(self.worked.percent_basis(self.numbers(), index), within);
        let lines = self.lines_as(
            &worked.lines,
            self.lines(|weighing| weighing.stages.get(index)),
            Some(&stage.mix),
        );
        let sum = self.shown(|weighing| Some(&weighing.stages.get(index)?.sum));
        let all = self.sum_ends(within, &sum);
        let goes_on = self.numbers().used(index);
        let left = self.numbers().left_over.iter().find(|(stage, _)| *stage == index);
        let leaving = |grams: &Exact, of: fn(&Leaving) -> &weighing::ShownWeight| {
            let shown = self.shown(|weighing| Some(of(weighing.leaving.get(index)?)));
            self.weight_as(grams, &shown)
        };
        let kept = self.worked.kept_back(self.numbers(), index);
        MixPart {
            name: stage.name.shown.to_string(),
            title: capital(&stage.name.shown),
            kind: stage.kind.word().to_owned(),
            lines: lines.iter().map(|line| self.line(line, &of)).collect(),
            goes_on: (goes_on != worked.made && !goes_on.is_zero())
                .then(|| leaving(&goes_on, |out| &out.goes_on)),
            kept_back: (!kept.is_zero()).then(|| leaving(&kept, |out| &out.kept_back)),
            saved: (!worked.saved.is_zero()).then(|| leaving(&worked.saved, |out| &out.saved)),
            left_over: left.map(|(_, mass)| leaving(mass, |out| &out.left_over)),
            feeds: (worked.feeds > 1).then_some(worked.feeds),
            earlier_feeds: self.earlier_feeds(index, &of.basis),
            discarded: self.discarded(index),
            wait: method::wait(self, stage),
            hydration: self.hydration_within(within),
            sum: self.weight_as(&worked.made, &sum),
            sum_low: all.low,
            sum_high: all.high,
            sum_percent: self.sum_percent(within),
            batch_lines: Vec::new(),
            batch_sum: None,
            last_batch: None,
        }
    }

    /// What of each feed before the last one the next one does not take.
    fn discarded(&self, index: usize) -> Vec<Option<Weight>> {
        let feeds = self.numbers().stages[index].earlier.iter().enumerate();
        let told = feeds.map(|(feed, own)| {
            let shown = self.shown(|weighing| weighing.discarded.get(index)?.get(feed));
            (!own.discarded.is_zero()).then(|| self.weight_as(&own.discarded, &shown))
        });
        told.collect()
    }

    /// The lines of each feed before the last one.
    fn earlier_feeds(&self, index: usize, basis: &Exact) -> Vec<Vec<LinePart>> {
        let stage = &self.worked.formula.stages[index];
        let made = &self.numbers().stages[index].made;
        let feeds = self.worked.earlier_feeds(index);
        let parts = feeds.iter().enumerate().map(|(feed, lines)| {
            let mass = lines.iter().fold(Exact::ZERO, |sum, line| sum + &line.mass);
            let basis = (basis * mass).over(made).unwrap_or_default();
            let shown = self.lines(|weighing| weighing.earlier_feeds.get(index)?.get(feed));
            let lines = self.lines_as(lines, shown, Some(&stage.mix));
            // What the stage takes of others goes into the last feed.
            let told = lines.iter().filter(|line| !matches!(line.line.goes, LineRef::Stage(_)));
            let of = Of { basis, within: None };
            told.map(|line| self.line(line, &of)).collect()
        });
        parts.collect()
    }

    /// The side mixes that lines, pieces and other side mixes use.
    pub(super) fn mixtures(&self) -> Vec<MixPart> {
        let needed = self.worked.side_mixes_needed(self.numbers());
        let used = needed.iter().enumerate();
        let used = used.filter(|(side_mix, _)| self.worked.mixture(*side_mix).is_some());
        used.map(|(side_mix, mass)| self.mixture(side_mix, mass)).collect()
    }

    /// What a side mix comes to as it is weighed, where all of it goes in with a line.
    fn whole_side_mix(&self, line: &WorkedLine, mass: &Exact) -> Option<Rounded> {
        let LineRef::SideMix(side_mix) = line.goes else { return None };
        self.worked.mixture(side_mix)?;
        let needed = self.worked.side_mixes_needed(self.numbers());
        if mass.is_zero() || needed.get(side_mix)? != mass {
            return None;
        }
        let lines = self.worked.mixture_lines(side_mix, mass);
        Some(Rounded::sum(&self.mixture_column(&lines, mass)))
    }

    fn mixture_column(&self, lines: &[WorkedLine], mass: &Exact) -> Vec<Rounded> {
        let masses: Vec<Exact> = lines.iter().map(|line| line.mass.clone()).collect();
        self.column(&masses, &self.rounded_as_known(mass))
    }

    /// So much of a side mix; its lines without a weight where none is known.
    fn mixture(&self, side_mix: usize, mass: &Exact) -> MixPart {
        let lines = self.worked.mixture_lines(side_mix, mass);
        let mix = self.worked.mixture(side_mix).map(|mixture| &mixture.mix);
        let shown = self.lines_as(&lines, self.mixture_column(&lines, mass), mix);
        let sum = Rounded::sum(shown.iter().map(|line| &line.shown));
        let lines = shown.iter().map(|line| {
            let mut part = self.line(line, &Of::nothing());
            // Where no weight is known, the proportions are all there is.
            if mass.is_zero() {
                part.written = part.written.or_else(|| self.parts(line.declared?));
                part.weight = None;
            }
            part
        });
        let shown = &self.worked.side_mixes[side_mix].shown;
        MixPart {
            name: shown.to_string(),
            title: capital(shown),
            kind: "mixture".into(),
            lines: lines.collect(),
            sum: self.weight_as(mass, &sum),
            ..MixPart::default()
        }
    }

    /// The final dough, for all batches and for one.
    pub(super) fn final_dough(&self) -> MixPart {
        let numbers = self.numbers();
        let mix = main_mix(&self.worked.formula);
        let within = Within::FinalDough;
        let of = Of::mix(self.worked.shown_basis(numbers, within), within);
        let lines = self.dough_lines(mix);
        let sum = self.shown(|weighing| Some(&weighing.dough.sum));
        let all = self.sum_ends(within, &sum);
        let is_kept = |line: &&ShownLine| {
            line.line.goes == LineRef::OldDough
                && line
                    .declared
                    .is_some_and(|line| matches!(line.counting, Counting::KeptBack { .. }))
        };
        let kept = Rounded::sum(lines.iter().filter(is_kept).map(|line| &line.shown));
        let saved = self.rounded(&numbers.saved);
        let less = Exact::from(-1);
        let goes_on = Rounded::sum([&sum, &kept.times(&less), &saved.times(&less)]);
        let some =
            |mass: &Exact, shown: &Rounded| (!mass.is_zero()).then(|| self.weight_as(mass, shown));
        let keeps = !numbers.kept_back.is_zero() || !numbers.saved.is_zero();
        let (batch_lines, batch_sum) = match self.batches {
            1 => (Vec::new(), None),
            batches => {
                let part = Exact::ONE.each_of(&Exact::from(batches));
                let lines = self.batch_lines(&part, mix);
                let sum = self.shown(|weighing| Some(&weighing.batch.sum));
                let mut parts =
                    self.told_by_step(&lines, &Of::mix(&of.basis * &part, within), &Exact::ONE);
                for (place, part) in parts.iter_mut().enumerate() {
                    part.part = self.in_the_last_batch(place).or(part.part.take());
                }
                (parts, Some(self.batch_sum(&(numbers.whole.mass() * part), &sum)))
            }
        };
        MixPart {
            name: "final dough".into(),
            title: self.words.say("dough"),
            kind: "dough".into(),
            lines: self.told_by_step(&lines, &of, &Exact::from(self.batches)),
            sum: self.dough_sum(&numbers.whole.mass(), &sum),
            sum_low: all.low,
            sum_high: all.high,
            hydration: self.hydration_within(Within::All),
            sum_percent: self.sum_percent(within),
            goes_on: some(&numbers.into_pieces(), &goes_on).filter(|_| keeps),
            kept_back: some(&numbers.kept_back, &kept),
            saved: some(&numbers.saved, &saved),
            last_batch: batch_sum.as_ref().and_then(|_| self.last_batch()),
            batch_lines,
            batch_sum,
            ..MixPart::default()
        }
    }

    /// The lines of the final dough, with what each step takes of those that go in over
    /// several, for so many batches.
    fn told_by_step(&self, lines: &[ShownLine], of: &Of, batches: &Exact) -> Vec<LinePart> {
        let mut parts: Vec<LinePart> = lines.iter().map(|line| self.line(line, of)).collect();
        let Some(method) = &self.worked.formula.method else { return parts };
        for (place, part) in parts.iter_mut().enumerate() {
            for (step, taken) in self.taken_by_steps(place) {
                let Some(step) = method.steps.get(step) else { continue };
                let weight = self.weight_as(&Exact::ZERO, &taken.times(batches));
                let title = method::group_title(self, step);
                // `Mix 1 600 g` would be read as 1600 g.
                part.by_step.push(format!("{title}: {}", weight.said()));
            }
        }
        parts
    }

    /// What each step takes of a line of one batch, where several do.
    pub(super) fn taken_by_steps(&self, line: usize) -> Vec<(usize, Rounded)> {
        let steps = |weighing: &Weighing| -> Vec<usize> {
            let parts = weighing.parts.get(line);
            parts.map(|parts| parts.iter().map(|(step, _)| *step).collect()).unwrap_or_default()
        };
        let steps = steps(self.on_first_scale());
        let part = |number: usize| {
            self.shown(|weighing| weighing.parts.get(line)?.get(number).map(|(_, part)| part))
        };
        steps.into_iter().enumerate().map(|(number, step)| (step, part(number))).collect()
    }

    /// The lines of the final dough.
    pub(super) fn dough_lines<'l>(&'l self, mix: Option<&'l Mix>) -> Vec<ShownLine<'l>> {
        let shown = self.lines(|weighing| Some(&weighing.dough));
        self.lines_as(&self.numbers().dough_lines, shown, mix)
    }

    fn batch_lines<'l>(&'l self, part: &Exact, mix: Option<&'l Mix>) -> Vec<ShownLine<'l>> {
        let shown = self.lines(|weighing| Some(&weighing.batch));
        let lines = self.lines_as(&self.numbers().dough_lines, shown, mix);
        lines.into_iter().map(|line| ShownLine { grams: &line.grams * part, ..line }).collect()
    }

    /// What the last batch takes of a line that can't be parted evenly.
    fn in_the_last_batch(&self, place: usize) -> Option<String> {
        let all = self.shown(|weighing| weighing.dough.lines.get(place));
        let each = self.shown(|weighing| weighing.batch.lines.get(place));
        let last = self.left_for_the_last(&all, &each)?;
        let weight = self.plain(&last.first.grams, &last);
        let shown = format!("{} {}", weight.shown, weight.unit);
        Some(self.words.fill("last-batch", &[("weight", &shown)]))
    }

    /// What the last batch comes to, where that is not what the others do.
    fn last_batch(&self) -> Option<Weight> {
        let all = self.shown(|weighing| Some(&weighing.dough.sum));
        let each = self.shown(|weighing| Some(&weighing.batch.sum));
        let last = self.left_for_the_last(&all, &each)?;
        Some(self.weight_as(&last.first.grams, &last))
    }

    /// What is left for the last batch, where that is not what each of the others takes.
    fn left_for_the_last(&self, all: &Rounded, each: &Rounded) -> Option<Rounded> {
        let others = each.times(&Exact::from(self.batches.saturating_sub(1)));
        let last = all.less(&others);
        (last.first.grams != each.first.grams).then_some(last)
    }

    /// What each kind of piece carries.
    pub(super) fn beside(&self) -> Vec<BesidePart> {
        let pieces = &self.numbers().pieces;
        let several = pieces.len() > 1;
        let parts = pieces.iter().filter(|piece| !piece.lines.is_empty()).map(|piece| {
            let blocks = self.worked.formula.pieces.iter().flat_map(|block| &block.mix.lines);
            let declared: Vec<&Line> = blocks.collect();
            let count = &piece.made.count;
            let pair = |line: &WorkedLine| {
                let declared = declared.iter().copied().find(|declared| {
                    declared.target.name.key == line.key
                        && declared.target.role.as_ref().map(|role| role.shown.clone()) == line.role
                });
                let (each, all) = self.carried(&line.mass, count);
                // What goes in whole is what its own lines come to.
                let all = self.whole_side_mix(line, &(&line.mass * count)).unwrap_or(all);
                let part = |grams: Exact, shown: &Rounded| {
                    let shown = ShownLine { line, declared, grams, shown: shown.clone() };
                    self.line(&shown, &Of::nothing())
                };
                let mut one = part(line.mass.clone(), &each);
                // What the scale shows of one need not be what it shows of all.
                let is_about = |each: &weighing::ShownWeight, all: &weighing::ShownWeight| {
                    &each.grams * count != all.grams
                };
                if let Some(weight) = &mut one.weight {
                    weight.about = is_about(&each.first, &all.first);
                    let others = each.other.as_ref().zip(all.other.as_ref());
                    if let Some((beside, (each, all))) = weight.beside.as_mut().zip(others) {
                        beside.about = is_about(each, all);
                    }
                }
                (one, part(&line.mass * count, &all))
            };
            let (each, all) = piece.lines.iter().map(pair).unzip();
            let kind = if several { self.piece_kind(&piece.made.kind) } else { String::new() };
            BesidePart { kind, each, all }
        });
        parts.collect()
    }
}
