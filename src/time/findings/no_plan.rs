//! `no-plan`: no clock times meet all that is written and the hours.

use crate::diag::amounts::celsius;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::{House, Worked, title};
use crate::quantity::Exact;
use crate::quantity::display::{minutes, minutes_range};
use crate::source::Span;
use crate::syntax::tree::{Open, Weekdays};
use crate::time::clock::{Dating, Instant, MINUTE, Zone};
use crate::time::findings::doing::work_name;
use crate::time::graph::{Doing, Graph, Retimed, Stretch};
use crate::time::length::elapsed;
use crate::time::planned::{Anchor, Change, Conclusion, NoPlan, PlanRequest};
use crate::time::puzzle::at_point;

/// No plan keeps all that is asked.
pub const RULE: Rule = Rule {
    name: "no-plan",
    level: Level::Error,
    group: Group::Method,
    page: include_str!("no_plan.md"),
};

/// Ways out that are told.
const MAX_WAYS: usize = 6;

/// Conclusions that are told.
const MAX_REASONS: usize = 4;

/// What a plan was asked of.
#[derive(Clone, Copy)]
pub struct Case<'a, 't> {
    /// The house of all formulas.
    pub house: &'a House<'t>,
    /// The formula that has no plan.
    pub worked: &'a Worked<'t>,
    /// Its steps in time.
    pub graph: &'a Graph,
    /// What was asked.
    pub asked: &'a PlanRequest<'a>,
}

/// `wanted` is what was asked for: `ready at 2026-12-05 07:00`.
pub fn finding(case: Case, conflict: &NoPlan, wanted: &str) -> Finding {
    let formula = &case.worked.formula;
    let stretches: Vec<&Stretch> =
        conflict.lengths.iter().map(|&stretch| &case.graph.stretches[stretch]).collect();
    let span = stretches.first().map_or(formula.name.span, |stretch| stretch.span);
    let mut finding = Finding::new(&RULE, span, format!("`{}` can't be {wanted}", title(formula)));
    let mut told: Vec<Span> = vec![span];
    for stretch in stretches.iter().skip(1).filter(|stretch| stretch.span != Span::default()) {
        if !told.contains(&stretch.span) {
            told.push(stretch.span);
            finding = finding.label(stretch.span, "and this");
        }
    }
    finding = finding.here("this does not go together with the rest");
    for because in conflict.because.iter().take(MAX_REASONS) {
        finding = finding.note(case.reason(because));
    }
    if let Some(parts) = case.parts(conflict) {
        finding = finding.note(parts);
    }
    if conflict.no_time_fits {
        finding = finding.note(case.no_time());
    }
    let changes = conflict.changes.iter().filter(|change| case.keeps_style(change));
    let ways: Vec<String> = changes.take(MAX_WAYS).map(|change| case.way_out(change)).collect();
    match ways.is_empty() {
        true => finding.help("no single change is enough: move the time, or widen several ranges"),
        false => {
            finding.help(format!("one of these would make it possible: {}", ways.join("; or ")))
        }
    }
}

impl Case<'_, '_> {
    /// `from bulk to ready takes at least 4 h 37 min; hours begin 03:30`, and the sum.
    fn reason(&self, because: &Conclusion) -> String {
        let runs = because.runs.iter().map(|run| {
            let (from, to) = (self.point(run.from), self.point(run.to));
            let most = if run.at_least { "at least" } else { "at most" };
            format!("from {from} to {to} takes {most} {}", time(run.length))
        });
        let mut told = runs.collect::<Vec<_>>().join(", ");
        let hour = |at: Instant| match self.differs_by_day() {
            true => self.clock(at),
            false => self.asked.zone.at(at).time(),
        };
        match (because.begins.map(hour), because.ends.map(hour)) {
            (Some(begins), Some(ends)) => {
                told.push_str(&format!("; hours begin {begins} and end {ends}"));
            }
            (Some(begins), None) => told.push_str(&format!("; hours begin {begins}")),
            (None, Some(ends)) => told.push_str(&format!("; hours end {ends}")),
            (None, None) => {}
        }
        if let ([run], Some(known), Some(follows)) =
            (because.runs.as_slice(), because.known, because.follows)
        {
            let sign = if follows < known { "−" } else { "+" };
            let not = because.fixed.map(|fixed| {
                let side = if follows < fixed { "before" } else { "after" };
                format!(", which is {side} {}", self.clock(fixed))
            });
            let (known, follows) = (self.clock(known), self.clock(follows));
            let sum = format!("{known} {sign} {} = {follows}", time(run.length));
            told.push_str(&format!(" ({sum}{})", not.unwrap_or_default()));
        }
        told
    }

    /// The parts of the conflict, each by its name, and what is known of them.
    fn parts(&self, conflict: &NoPlan) -> Option<String> {
        let mut parts: Vec<String> = Vec::new();
        let mut add = |part: String| {
            if !parts.contains(&part) {
                parts.push(part);
            }
        };
        for &(from, to) in &conflict.presences {
            let own =
                self.graph.stretches.iter().find(|it| from != to && (it.from, it.to) == (from, to));
            let own = own.filter(|stretch| stretch.doing != Doing::Order);
            add(match own {
                Some(stretch) => format!("someone there for {}", self.name(&stretch.doing)),
                None => format!("someone there at the beginning of {}", self.point(from)),
            });
        }
        for stretch in conflict.lengths.iter().map(|&stretch| &self.graph.stretches[stretch]) {
            let is_nothing = stretch.high.as_ref().is_some_and(Exact::is_zero);
            match &stretch.doing {
                Doing::Order => {}
                Doing::Keep { .. } if is_nothing => {
                    add(format!("{}: no time given, so none", self.name(&stretch.doing)));
                }
                _ if is_nothing => {}
                doing => {
                    let length = length(stretch);
                    add(format!("{}: {length}{}", self.name(doing), estimate(stretch)));
                }
            }
        }
        let hours = match (conflict.presences.is_empty(), self.asked.hours) {
            (false, Some(hours)) => format!(" (hands are there {})", told_hours(hours)),
            _ => String::new(),
        };
        let known = match (conflict.is_smallest, conflict.is_irreducible) {
            (true, _) => "the fewest that do not go together",
            (false, false) => {
                "these do not go together (the search ended before it was shown which of them \
                 can be left out)"
            }
            (false, true) => {
                "these do not go together, and none of them can be left out (whether fewer \
                would do was not shown)"
            }
        };
        (!parts.is_empty()).then(|| format!("{known}: {}{hours}", parts.join(", ")))
    }

    fn differs_by_day(&self) -> bool {
        self.asked.hours.is_some_and(|hours| hours.iter().any(|open| !open.days.all()))
    }

    fn no_time(&self) -> String {
        match self.differs_by_day() {
            true => "no time of the week fits".to_owned(),
            false => "no time of day fits".to_owned(),
        }
    }

    /// What is done, and where several steps have one verb, which of them.
    fn name(&self, doing: &Doing) -> String {
        let name = work_name(self.worked, doing);
        let is_other = |stretch: &Stretch| match (&stretch.doing, doing) {
            (Doing::Step { stage, step, .. }, Doing::Step { stage: of, step: own, .. }) => {
                (stage, step) != (of, own) && work_name(self.worked, &stretch.doing) == name
            }
            _ => false,
        };
        match doing {
            Doing::Step { step, .. } if self.graph.stretches.iter().any(is_other) => {
                format!("{name} (step {})", step + 1)
            }
            _ => name,
        }
    }

    /// What is done at a point of the graph.
    fn point(&self, point: usize) -> String {
        if point == self.graph.end {
            return "ready".to_owned();
        }
        let Some(stretch) = at_point(self.graph, point) else { return "the beginning".to_owned() };
        match &stretch.doing {
            Doing::Build { stage, .. } | Doing::Ripen { stage, leg: 0, .. }
                if stretch.from == point =>
            {
                self.worked.formula.stages[*stage].name.shown.to_string()
            }
            Doing::Keep { stage, .. } if stretch.from == point => {
                format!("ripe {}", self.worked.formula.stages[*stage].name.shown)
            }
            doing @ Doing::Fold { .. } => self.name(doing),
            doing if stretch.from == point => self.name(doing),
            doing => format!("the end of {}", self.name(doing)),
        }
    }

    /// Whether a way out leaves the formula as long as its style wants it.
    fn keeps_style(&self, change: &Change) -> bool {
        let mut changed = self.graph.clone();
        let minutes = |milliseconds: i64| crate::quantity::ratio(milliseconds, MINUTE);
        match change {
            Change::Longer { stretch, most } => {
                changed.stretches[*stretch].high = Some(minutes(*most));
            }
            Change::Shorter { stretch, least } => changed.stretches[*stretch].low = minutes(*least),
            _ => return true,
        }
        let style = self.worked.formula.style.as_ref();
        let Some(style) = style.and_then(|name| self.house.style(&name.key)) else { return true };
        let bound = style.bounds.iter().find(|bound| bound.what.name.key == "elapsed");
        let Some(bound) = bound else { return true };
        let end = |end: &Option<_>| end.as_ref().map(|end| self.house.base(end));
        let (low, high) = (end(&bound.range.low), end(&bound.range.high));
        let is_inside = |graph: &Graph| {
            let length = elapsed(graph);
            low.as_ref().is_none_or(|low| length.low >= *low)
                && high.as_ref().is_none_or(|most| length.high.is_some_and(|high| high <= *most))
        };
        is_inside(&changed) || !is_inside(self.graph)
    }

    /// `a proof of 11 h instead of at most 10 h`.
    fn way_out(&self, change: &Change) -> String {
        // What is told in whole minutes has to be enough.
        let up = |it: i64| it.div_euclid(MINUTE) + i64::from(it % MINUTE != 0);
        let whole = |minutes: i64| time(minutes * MINUTE);
        match change {
            Change::Longer { stretch, most } => {
                let stretch = &self.graph.stretches[*stretch];
                let high = stretch.high.as_ref().map(minutes).unwrap_or_default();
                let name = self.name(&stretch.doing);
                let most = whole(up(*most));
                format!("{name} for {most} instead of at most {high}{}", by_estimate(stretch))
            }
            Change::Shorter { stretch, least } => {
                let stretch = &self.graph.stretches[*stretch];
                let name = self.name(&stretch.doing);
                let least = whole(least.div_euclid(MINUTE));
                let (low, estimated) = (minutes(&stretch.low), by_estimate(stretch));
                format!("{name} for {least} instead of at least {low}{estimated}")
            }
            Change::Hours { hours: (from, to), now } => {
                let (old, new) = match from < &now.0 {
                    true => (now.0, *from),
                    false => (now.1, *to),
                };
                let which = if from < &now.0 { "from" } else { "until" };
                let old = self.asked.zone.at(old).time();
                format!("hands {which} {} instead of {which} {old}", self.clock(new))
            }
            Change::Daily { hours, now } => {
                format!("hands {} (now {})", told_hours(&[*hours]), told_hours(&[*now]))
            }
            Change::Ready { at } => format!("the bread at {}", self.clock(*at)),
            Change::Start { at } => format!("a beginning at {}", self.clock(*at)),
        }
    }

    /// `Fri 04 22:40`; without a date, of any week or day.
    fn clock(&self, instant: Instant) -> String {
        const DAYS: [&str; 7] = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"];
        const MONTHS: &[&str] =
            &["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
        let zone: &Zone = self.asked.zone;
        let moment = zone.at(instant);
        let day = DAYS[usize::from(moment.weekday() % 7)];
        let (Anchor::Ready(about) | Anchor::ReadyBy(about) | Anchor::Start(about)) =
            self.asked.anchor;
        match (zone.dating, zone.days_between(about, instant)) {
            (Dating::Dates, _) if moment.month() != zone.at(about).month() => {
                let month = MONTHS[usize::from(moment.month().saturating_sub(1)) % MONTHS.len()];
                format!("{day} {:02} {month} {}", moment.day(), moment.time())
            }
            (Dating::Dates, _) => format!("{day} {:02} {}", moment.day(), moment.time()),
            (Dating::AnyWeek, _) => format!("{day} {}", moment.time()),
            (Dating::AnyDay, 0) => moment.time(),
            (Dating::AnyDay, -1) => format!("{} the day before", moment.time()),
            (Dating::AnyDay, 1) => format!("{} the next day", moment.time()),
            (Dating::AnyDay, days) if days < 0 => {
                format!("{} {} days before", moment.time(), -days)
            }
            (Dating::AnyDay, days) => format!("{} {days} days later", moment.time()),
        }
    }
}

/// Milliseconds as minutes: `4 h 37 min`.
fn time(milliseconds: i64) -> String {
    minutes(&crate::quantity::ratio(milliseconds, MINUTE))
}

/// `10 h`, `10–16 h`, `at least 3 h`.
pub fn length(stretch: &Stretch) -> String {
    match &stretch.high {
        Some(high) => minutes_range(&stretch.low, high),
        None => format!("at least {}", minutes(&stretch.low)),
    }
}

/// Of what a model gave: that it did, and what is written.
fn estimate(stretch: &Stretch) -> String {
    let Some(Retimed { written: (low, high), at }) = &stretch.retimed else { return String::new() };
    let at = at.as_ref().map(|at| format!(" for {}", celsius(at, 1))).unwrap_or_default();
    let written = match high {
        Some(high) => minutes_range(low, high),
        None => format!("at least {}", minutes(low)),
    };
    format!(", an estimate{at} ({written} written)")
}

/// Where a bound is what a model gave: ` by estimate`.
fn by_estimate(stretch: &Stretch) -> &'static str {
    if stretch.retimed.is_some() { " by estimate" } else { "" }
}

/// `from 06:30 to 22:00`, `mon..fri from 06:00 to 22:00`.
fn told_hours(hours: &[Open]) -> String {
    let clock = |minutes: u32| format!("{:02}:{:02}", minutes / 60, minutes % 60);
    let mut days: Option<Weekdays> = None;
    let each = hours.iter().map(|open| {
        let told = format!("from {} to {}", clock(open.from), clock(open.to));
        match days.replace(open.days) == Some(open.days) || open.days.all() {
            true => told,
            false => format!("{} {told}", told_days(open.days)),
        }
    });
    each.collect::<Vec<_>>().join(" and ")
}

/// `mon..fri`, `sat, sun`.
fn told_days(days: Weekdays) -> String {
    let mut runs: Vec<(u8, u8)> = Vec::new();
    for day in (0..7).filter(|&day| days.has(day)) {
        match runs.last_mut() {
            Some((_, last)) if *last + 1 == day => *last = day,
            _ => runs.push((day, day)),
        }
    }
    let name = |day: u8| Weekdays::NAMES[usize::from(day % 7)];
    let told = runs.iter().map(|&(first, last)| match last - first {
        0 => name(first).to_owned(),
        1 => format!("{}, {}", name(first), name(last)),
        _ => format!("{}..{}", name(first), name(last)),
    });
    told.collect::<Vec<_>>().join(", ")
}
