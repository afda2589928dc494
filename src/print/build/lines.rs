//! A line of a column.

use crate::formula::class::Class;
use crate::formula::{Ends, LineRef, Within, WorkedLine, ends};
use crate::print::context::{PrintContext, Rounded};
use crate::print::document::{LineKind, LinePart};
use crate::print::live;
use crate::quantity::{Dimension, Exact, System, Unit, display};
use crate::syntax::tree::{Amount, Counting, Line, Mix};

/// A line with what is shown of it.
pub(super) struct ShownLine<'a> {
    /// The line as it was worked out.
    pub(super) line: &'a WorkedLine,
    /// The same as it is written; none where it is gathered.
    pub(super) declared: Option<&'a Line>,
    /// Its exact weight.
    pub(super) grams: Exact,
    /// What the scale shows of it.
    pub(super) shown: Rounded,
}

/// What the percentages of a column are of, and where it stands; a side mix stands nowhere.
pub(super) struct Of {
    /// What is a hundred per cent, in grams.
    pub(super) basis: Exact,
    /// The mix that it is in.
    pub(super) within: Option<Within>,
}

impl Of {
    /// Percentages of a basis in a mix.
    pub(super) fn mix(basis: Exact, within: Within) -> Self {
        Self { basis, within: Some(within) }
    }

    /// No percentages, and ranges as each line writes them.
    pub(super) fn nothing() -> Self {
        Self { basis: Exact::ZERO, within: None }
    }
}

impl PrintContext<'_, '_> {
    /// Lines of a mix with what is shown of them.
    pub(super) fn lines_as<'l>(
        &self,
        lines: &'l [WorkedLine],
        shown: Vec<Rounded>,
        mix: Option<&'l Mix>,
    ) -> Vec<ShownLine<'l>> {
        let pairs = lines.iter().zip(shown);
        pairs
            .map(|(line, shown)| ShownLine {
                declared: line.line.and_then(|index| mix?.lines.get(index)),
                line,
                grams: line.mass.clone(),
                shown,
            })
            .collect()
    }

    /// A line to print.
    pub(super) fn line(&self, shown: &ShownLine, of: &Of) -> LinePart {
        let (kind, class) = match shown.line.goes {
            LineRef::Ingredient(id) => {
                let class = match self.worked.is_flour(id) {
                    true => Class::Flour,
                    false => self.house.ingredient(id).class,
                };
                (LineKind::Ingredient, Some(class.word().to_owned()))
            }
            LineRef::Culture(_) => (LineKind::Culture, None),
            LineRef::Stage(_) => (LineKind::Stage, None),
            LineRef::SideMix(side_mix) if self.worked.side_mixes[side_mix].is_formula => {
                (LineKind::Formula, None)
            }
            LineRef::SideMix(_) => (LineKind::Mixture, None),
            LineRef::OldDough => (LineKind::OldDough, None),
            LineRef::Nothing => (LineKind::Ingredient, None),
        };
        let soft = shown.declared.and_then(|line| soft(&line.amount));
        let written = shown.declared.and_then(written_decimals);
        let share = shown.grams.over(&of.basis).filter(|_| soft.is_none());
        let shares = of.within.filter(|_| share.is_some()).and_then(|within| {
            let (low, high) = self.worked.line_shares(shown.line, within)?;
            let part = part_of_line(shown);
            Some((low * &part, high * part))
        });
        let ends = self.grams_ends(shown, of);
        let at = self.weights_at(&shown.grams, &shown.shown, ends.as_ref());
        let named = matches!(
            shown.line.goes,
            LineRef::Ingredient(_) | LineRef::Culture(_) | LineRef::OldDough
        );
        LinePart {
            key: self.key_of(shown.line),
            name: match named {
                true => self.called(&shown.line.key, &shown.line.name),
                false => shown.line.name.to_string(),
            },
            role: shown.line.role.as_ref().map(ToString::to_string),
            kind,
            class,
            weight: soft.is_none().then(|| self.weight_as(&shown.grams, &shown.shown)),
            volume: match (shown.line.goes, soft) {
                (LineRef::Ingredient(id), None) if self.volumes => {
                    self.about(self.house.ingredient(id), &shown.grams)
                }
                _ => None,
            },
            soft: soft.map(|id| self.words.say(id)),
            by_step: Vec::new(),
            written: self.written_measure(shown),
            more: self.more(&shown.grams, &shown.shown, ends.as_ref()),
            weight_low: at.low.filter(|_| soft.is_none()),
            weight_high: at.high.filter(|_| soft.is_none()),
            grams_high: ends.as_ref().map(|(_, high)| display::exact(high)),
            percent: share
                .as_ref()
                .map(|share| self.percent_or_range(share, shares.as_ref(), written.unwrap_or(1))),
            percent_exact: share.as_ref().map(display::exact),
            percent_low: shares.as_ref().map(|(low, _)| display::exact(low)),
            percent_high: shares.as_ref().map(|(_, high)| display::exact(high)),
            part: shown.declared.and_then(|line| match &line.counting {
                Counting::KeptBack { from: None } => Some(self.words.say("kept-back")),
                Counting::KeptBack { from: Some(from) } => {
                    Some(self.words.fill("kept-back-from", &[("stage", &from.shown)]))
                }
                Counting::NotSplit => Some(self.words.say("not-split")),
                Counting::Counted => None,
            }),
            note: shown
                .declared
                .and_then(|line| line.note.as_ref())
                .map(|note| live::text(self, note)),
        }
    }

    /// What a line is by the name of its declaration.
    fn key_of(&self, line: &WorkedLine) -> String {
        let key = match line.goes {
            LineRef::Ingredient(id) => &self.house.ingredient(id).name.key,
            LineRef::Culture(id) => &self.house.culture(id).name.key,
            LineRef::Stage(stage) => &self.worked.formula.stages[stage].name.key,
            LineRef::SideMix(side_mix) => &self.worked.side_mixes[side_mix].key,
            LineRef::OldDough | LineRef::Nothing => &line.key,
        };
        key.to_string()
    }

    /// The author's measure, grown or shrunk with what is shown, where they did not weigh.
    fn written_measure(&self, shown: &ShownLine) -> Option<String> {
        let Amount::Measured { range, .. } = &shown.declared?.amount else { return None };
        let low = range.low.as_ref()?;
        let high = range.high.as_ref().unwrap_or(low);
        let dimension = low.unit.dimension();
        let number = match (dimension, shown.line.goes) {
            (_, _) if shown.grams.is_zero() => return None,
            (Dimension::Count, LineRef::Ingredient(id)) => {
                shown.grams.over(self.house.ingredient(id).each.as_ref()?)?
            }
            (Dimension::Volume, LineRef::Ingredient(id)) => {
                let dense = self.house.ingredient(id).grams_per_ml.as_ref()?;
                low.unit.count_in(&shown.grams.over(dense)?, self.house.settings.measures)
            }
            (Dimension::Mass, _) if self.is_at_home() && !self.prints(low.unit) => {
                // What was grown is told by the scale alone.
                let number = low.unit.count_in(&shown.grams, self.house.settings.measures);
                (number == low.number).then_some(number)?
            }
            _ => return None,
        };
        let highest = (&number * &high.number).over(&low.number);
        let highest = highest.unwrap_or_else(|| high.number.clone());
        Some(self.measure(low.unit, &number, &highest))
    }

    /// Whether weights are printed in a unit's system; grams stand on every scale.
    fn prints(&self, unit: Unit) -> bool {
        let units = self.house.settings.units;
        let is_us = matches!(unit, Unit::Ounce | Unit::Pound);
        !is_us || units.both || self.first() == System::Us
    }

    /// `10 parts`.
    pub(super) fn parts(&self, line: &Line) -> Option<String> {
        let Amount::Measured { range, .. } = &line.amount else { return None };
        let low = range.low.as_ref().filter(|low| low.unit == Unit::Part)?;
        let high = range.high.as_ref().unwrap_or(low);
        Some(self.measure(Unit::Part, &low.number, &high.number))
    }

    /// Grams of a line at the ends of ranges.
    pub(super) fn grams_ends(&self, shown: &ShownLine, of: &Of) -> Option<Ends> {
        let part = part_of_line(shown);
        match of.within {
            Some(within) => {
                let (low, high) = self.worked.line_ends(shown.line, within)?;
                // Of a batch or of a step it is the same part.
                Some((low * &part, high * part))
            }
            None => ends([shown.grams.clone(), &shown.grams + &shown.line.more * part]),
        }
    }
}

/// The part of its line that is shown, such as that of one batch.
fn part_of_line(shown: &ShownLine) -> Exact {
    shown.grams.over(&shown.line.mass).unwrap_or(Exact::ONE)
}

/// The message for an amount without weight.
pub fn soft(amount: &Amount) -> Option<&'static str> {
    match amount {
        Amount::ToTaste => Some("to-taste"),
        Amount::AsNeeded => Some("as-needed"),
        Amount::Pinch => Some("pinch"),
        _ => None,
    }
}

/// Digits after the point of a written percentage.
fn written_decimals(line: &Line) -> Option<u8> {
    let Amount::Measured { range, .. } = &line.amount else { return None };
    let quantity = range.low.as_ref()?;
    if quantity.unit == Unit::Percent { quantity.decimals } else { None }
}
