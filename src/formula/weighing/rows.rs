//! What the rows of the total show, and all that is shown once everything is rounded.

use super::bench::Bench;
use super::shown::{Leaving, ShownWeight, Weighing, WeightColumn, finer};
use super::total::TotalRow;
use crate::formula::line_ref::LineRef;
use crate::quantity::Exact;
use crate::quantity::display::to_step;
use crate::quantity::rounding::{Sum, shared_out};
use rustc_hash::FxHashMap;

/// The rows of one ingredient in the total.
#[derive(Default)]
pub(super) struct RowGroup {
    /// Their places, and what is weighed of each.
    pub(super) rows: Vec<(usize, Sum)>,
    /// What is weighed of the ingredient, no matter for which row.
    pub(super) apart: Sum,
}

impl Bench<'_, '_> {
    /// The rows of the total, those of one ingredient together.
    pub(super) fn groups(&self, rows: &[TotalRow]) -> Vec<RowGroup> {
        let numbers = self.worked.first();
        let reaches = self.worked.reach_the_dough();
        let mut groups: Vec<RowGroup> = Vec::new();
        let mut group_of: FxHashMap<LineRef, usize> = FxHashMap::default();
        for (place, row) in rows.iter().enumerate() {
            let known = group_of.get(&row.line.goes).copied();
            let group = known.filter(|_| row.line.goes != LineRef::Nothing);
            let group = group.unwrap_or_else(|| {
                groups.push(RowGroup::default());
                group_of.insert(row.line.goes, groups.len() - 1);
                groups.len() - 1
            });
            groups[group].rows.push((place, Sum::default()));
        }
        for (line, own) in numbers.dough_lines.iter().zip(&self.all) {
            let Some(&group) = group_of.get(&line.goes) else { continue };
            let group = &mut groups[group];
            let same_role = |(place, _): &&mut (usize, Sum)| rows[*place].line.role == line.role;
            let only = group.rows.len() == 1;
            match group.rows.iter_mut().find(|row| only || same_role(row)) {
                Some((_, sum)) => sum.add(own, 1),
                None => group.apart.add(own, 1),
            }
        }
        for (stage, lines) in self.stages.iter().enumerate().filter(|(stage, _)| reaches[*stage]) {
            for (line, own) in numbers.stages[stage].lines.iter().zip(lines) {
                if let Some(&group) = group_of.get(&line.goes) {
                    groups[group].apart.add(own, 1);
                }
            }
        }
        // Where there is one row, all of it is that row's.
        for group in &mut groups {
            if let [(_, sum)] = group.rows.as_mut_slice() {
                sum.add(&std::mem::take(&mut group.apart), 1);
            }
        }
        groups
    }

    /// What each row shows: what is weighed of it, and its share of what comes in other
    /// things, such as cultures, or leaves with them.
    pub(super) fn rows(
        &self,
        rows: &[TotalRow],
        groups: &[RowGroup],
        values: &[Exact],
        exact: &[Exact],
    ) -> WeightColumn {
        let masses = || rows.iter().map(|row| &row.line.mass);
        let all = masses().fold(Exact::ZERO, |sum, mass| sum + mass);
        let whole = self.whole();
        if all != whole.of(exact) {
            return WeightColumn::of(
                masses().map(|mass| ShownWeight::alone(self.scale, mass)).collect(),
            );
        }
        let fine = self.scale.finest();
        let mut shown = vec![ShownWeight::default(); rows.len()];
        let mut inside = Vec::with_capacity(rows.len());
        let mut left = whole.of(values);
        let mut places = Vec::with_capacity(rows.len());
        for group in groups {
            let is = group
                .rows
                .iter()
                .fold(Exact::ZERO, |sum, (place, _)| sum + &rows[*place].line.mass);
            let own = |of: &[Exact]| {
                let rows = group.rows.iter().fold(Exact::ZERO, |sum, (_, own)| sum + own.of(of));
                rows + group.apart.of(of)
            };
            inside.push((is.clone() - own(exact), to_step(&is, &fine) - own(values)));
            left -= own(values);
            places.push(&group.rows);
        }
        let (is, wanted): (Vec<Exact>, Vec<Exact>) = inside.into_iter().unzip();
        let brought = shared_out(&is, &wanted, &left, &fine);
        for (group, brought) in groups.iter().zip(brought) {
            // What is not weighed for one of several rows is shared out among them.
            let more = &brought + group.apart.of(values);
            let own =
                |of: &[Exact]| group.rows.iter().map(|(_, own)| own.of(of)).collect::<Vec<_>>();
            let now = own(values);
            let is: Vec<Exact> = group
                .rows
                .iter()
                .zip(own(exact))
                .map(|((place, _), own)| &rows[*place].line.mass - own)
                .collect();
            let wanted: Vec<Exact> = group
                .rows
                .iter()
                .zip(&now)
                .map(|((place, _), now)| to_step(&rows[*place].line.mass, &fine) - now)
                .collect();
            let shares = shared_out(&is, &wanted, &more, &fine);
            for (((place, own), now), share) in group.rows.iter().zip(now).zip(shares) {
                let step = own.finest(&self.weighed);
                let step = if share.is_zero() { step } else { finer(step, &fine) };
                shown[*place] = ShownWeight { grams: now + share, step };
            }
        }
        WeightColumn::of(shown)
    }

    pub(super) fn see(&self, sum: &Sum, values: &[Exact]) -> ShownWeight {
        ShownWeight { grams: sum.of(values), step: sum.finest(&self.weighed) }
    }

    pub(super) fn shown(
        &self,
        values: &[Exact],
        total: WeightColumn,
        asked: ShownWeight,
    ) -> Weighing {
        let column = |lines: &Vec<Sum>| {
            WeightColumn::of(lines.iter().map(|line| self.see(line, values)).collect())
        };
        let leaving = |stage: usize| Leaving {
            kept_back: self.see(&self.kept[stage], values),
            saved: self.see(&self.saved[stage], values),
            left_over: self.see(&self.left[stage], values),
            goes_on: self.see(&self.goes_on[stage], values),
        };
        let parts = self.parts.iter().map(|parts| {
            parts.iter().map(|(step, part)| (*step, self.see(part, values))).collect()
        });
        let (dough, batch) = (column(&self.all), column(&self.batch));
        let each = self.worked.first().whole.mass().each_of(&Exact::from(self.batches));
        Weighing {
            scale: self.scale.clone(),
            stages: self.stages.iter().map(column).collect(),
            earlier_feeds: self
                .feeds
                .iter()
                .map(|feeds| feeds.iter().map(column).collect())
                .collect(),
            discarded: self
                .discarded
                .iter()
                .map(|feeds| feeds.iter().map(|left| self.see(left, values)).collect())
                .collect(),
            leaving: (0..self.stages.len()).map(leaving).collect(),
            batch_is_exact: batch.sum.grams == to_step(&each, &asked.step),
            batch,
            is_exact: dough.sum.grams == asked.grams,
            asked,
            dough,
            parts: parts.collect(),
            total,
        }
    }
}
