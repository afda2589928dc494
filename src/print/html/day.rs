//! The picture of the day: a lane for each stage and one for the dough, as on the card.

use super::words::word;
use crate::print::document::{BarKind, BarPart, Document, LanePart, TimelinePart};
use maud::{Markup, html};

/// Widths and heights in units of the picture.
const WIDE: i64 = 720;
const NAMES: i64 = 130;
const LANE: i64 = 24;
const MARKS: i64 = 22;

/// What takes longer, in minutes, is drawn with a broken axis: a stretch of `IDLE` minutes
/// or more in which nobody works takes the room of `FOLDED` ones.
const LONG: i64 = 2880;
const IDLE: i64 = 480;
const FOLDED: i64 = 180;

/// A piece of the axis, as wide as so many minutes.
struct Piece {
    from: i64,
    to: i64,
    wide: i64,
}

impl Piece {
    fn is_cut(&self) -> bool {
        self.wide < self.to - self.from
    }
}

/// The axis of a day.
struct Axis {
    pieces: Vec<Piece>,
    minutes: i64,
}

impl Axis {
    fn of(day: &TimelinePart) -> Self {
        let whole = |from, to| Piece { from, to, wide: to - from };
        if day.minutes <= LONG {
            return Self { pieces: vec![whole(0, day.minutes)], minutes: day.minutes };
        }
        let mut works: Vec<(i64, i64)> = day.lanes.iter().flat_map(works_of).collect();
        works.push((day.minutes, day.minutes));
        works.sort_unstable();
        let (mut pieces, mut at) = (Vec::new(), 0);
        for (from, to) in works {
            if from - at >= IDLE {
                pieces.push(Piece { from: at, to: from, wide: FOLDED });
            } else if from > at {
                pieces.push(whole(at, from));
            }
            if to > from.max(at) {
                pieces.push(whole(from.max(at), to));
            }
            at = at.max(to);
        }
        Self { pieces, minutes: day.minutes }
    }

    /// Where a minute stands in the picture.
    fn place(&self, minute: i64) -> i64 {
        let length: i64 = self.pieces.iter().map(|piece| piece.wide).sum();
        let mut before = 0;
        for piece in &self.pieces {
            if minute <= piece.to {
                let share = (minute - piece.from) * piece.wide;
                let own = share.checked_div(piece.to - piece.from).unwrap_or(0);
                before += own;
                break;
            }
            before += piece.wide;
        }
        NAMES + (before * (WIDE - NAMES - 20)).checked_div(length).unwrap_or(0)
    }

    /// The minutes that have a mark: regular ones, or those at which a broken axis goes on.
    fn marks(&self) -> Vec<i64> {
        if self.pieces.iter().any(Piece::is_cut) {
            let cut = self.pieces.iter().filter(|piece| piece.is_cut()).map(|piece| piece.to);
            let mut marks: Vec<i64> = [0].into_iter().chain(cut).chain([self.minutes]).collect();
            marks.dedup();
            return marks;
        }
        let steps = [15, 30, 60, 120, 180, 240, 360, 480, 720];
        let every = steps.into_iter().find(|step| self.minutes * 10 <= step * 72).unwrap_or(720);
        (0..=self.minutes / every).map(|mark| mark * every).collect()
    }
}

/// When somebody works in a lane.
fn works_of(lane: &LanePart) -> Vec<(i64, i64)> {
    let busy = lane.bars.iter().filter(|bar| matches!(bar.kind, BarKind::Hands | BarKind::Oven));
    busy.map(|bar| (bar.from, bar.to)).chain(lane.folds.iter().map(|at| (*at, *at))).collect()
}

/// A moment from the beginning: up to two days in hours, later in days.
fn moment(minutes: i64) -> String {
    let parts = match minutes > LONG {
        true => [(minutes / 1440, "d"), (minutes % 1440 / 60, "h")],
        false => [(minutes / 60, "h"), (minutes % 60, "min")],
    };
    let said = parts.iter().filter(|(count, _)| *count > 0);
    let said: Vec<String> = said.map(|(count, unit)| format!("{count}\u{a0}{unit}")).collect();
    if said.is_empty() { "0\u{a0}h".to_owned() } else { said.join("\u{a0}") }
}

fn class_of(kind: BarKind) -> &'static str {
    match kind {
        BarKind::Hands => "hands",
        BarKind::Waiting => "waiting",
        BarKind::Cold => "cold",
        BarKind::Oven => "oven",
    }
}

/// The picture with its legend; nothing where the method has no times.
pub fn day(document: &Document) -> Option<Markup> {
    let day = document.timeline.as_ref()?;
    let axis = Axis::of(day);
    let lanes = i64::try_from(day.lanes.len()).ok()?;
    let high = lanes * LANE;
    let all_bars = || day.lanes.iter().flat_map(|lane| &lane.bars);
    let kinds = [BarKind::Hands, BarKind::Waiting, BarKind::Cold, BarKind::Oven];
    let kinds = kinds.into_iter().filter(|kind| all_bars().any(|bar| bar.kind == *kind));
    Some(html! {
        figure.day.wide tabindex="0" {
            svg viewBox=(format!("0 0 {WIDE} {}", high + MARKS)) role="img" aria-label=(word(document, "timeline")) {
                @for mark in axis.marks() {
                    @let x = axis.place(mark);
                    line.mark x1=(x) x2=(x) y1="0" y2=(high + 3) {}
                }
                @for (minute, x) in told(&axis) {
                    text x=(x) y=(high + 17) text-anchor=(anchor(minute, &axis)) { (moment(minute)) }
                }
                @for (index, lane) in (0..).zip(&day.lanes) {
                    text x="0" y=(index * LANE + 16) { (lane.title) }
                    @for bar in &lane.bars { (one_bar(bar, &axis, index * LANE)) }
                    @for fold in &lane.folds {
                        @let x = axis.place(*fold);
                        line.fold x1=(x) x2=(x) y1=(index * LANE + 6) y2=(index * LANE + 18) {}
                    }
                }
                @for piece in axis.pieces.iter().filter(|piece| piece.is_cut()) {
                    @let x = (axis.place(piece.from) + axis.place(piece.to)) / 2;
                    rect.gap x=(x - 3) y="0" width="6" height=(high) {}
                    @for x in [x - 4, x + 3] { line.mark x1=(x + 2) y1="0" x2=(x - 2) y2=(high) {} }
                }
            }
            figcaption {
                @for kind in kinds {
                    span { i class=(class_of(kind)) {} " " (word(document, class_of(kind))) }
                }
                @if day.lanes.iter().any(|lane| !lane.folds.is_empty()) {
                    span { i.fold {} " " (word(document, "fold")) }
                }
            }
        }
    })
}

fn one_bar(bar: &BarPart, axis: &Axis, top: i64) -> Markup {
    let (from, to) = (axis.place(bar.from), axis.place(bar.to));
    let (y, height) = match bar.kind {
        BarKind::Hands | BarKind::Oven => (top + 4, LANE - 8),
        BarKind::Waiting | BarKind::Cold => (top + 9, LANE - 18),
    };
    html! {
        rect class=(class_of(bar.kind)) x=(from) y=(y) width=((to - from).max(2)) height=(height) {
            title { (bar.title) ", " (bar.time) }
        }
    }
}

/// The marks whose words do not touch, with their places; the last one has its words.
fn told(axis: &Axis) -> Vec<(i64, i64)> {
    let room = |minute: i64| i64::try_from(moment(minute).chars().count()).unwrap_or(9) * 7 + 8;
    let all: Vec<(i64, i64)> =
        axis.marks().into_iter().map(|minute| (minute, axis.place(minute))).collect();
    let Some(last) = all.last().copied() else { return all };
    let mut kept: Vec<(i64, i64)> = Vec::new();
    for (minute, x) in all {
        let clear = |(other, at): &(i64, i64)| x - at >= (room(*other) + room(minute)) / 2;
        let before_last = minute == last.0 || last.1 - x >= (room(last.0) + room(minute)) / 2;
        if before_last && kept.last().is_none_or(clear) {
            kept.push((minute, x));
        }
    }
    kept
}

/// The last mark's words end at the edge of the picture.
fn anchor(minute: i64, axis: &Axis) -> &'static str {
    if minute == axis.minutes && minute > 0 { "end" } else { "middle" }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lane(bars: &[(i64, i64, BarKind)]) -> LanePart {
        let bar = |&(from, to, kind): &(i64, i64, BarKind)| BarPart {
            from,
            to,
            kind,
            title: "Bar".into(),
            time: String::new(),
            at: None,
        };
        LanePart { title: "Dough".into(), bars: bars.iter().map(bar).collect(), folds: vec![] }
    }

    #[test]
    fn a_short_day_is_even_and_a_long_one_broken() {
        let short = TimelinePart {
            minutes: 600,
            heat_minutes: None,
            lanes: vec![lane(&[(0, 600, BarKind::Waiting)])],
        };
        let axis = Axis::of(&short);
        assert_eq!(axis.place(300) - axis.place(0), axis.place(600) - axis.place(300));
        assert_eq!(axis.marks(), [0, 120, 240, 360, 480, 600]);
        let bars =
            [(0, 10, BarKind::Hands), (10, 10_000, BarKind::Cold), (10_000, 10_060, BarKind::Oven)];
        let long = TimelinePart { minutes: 10_060, heat_minutes: None, lanes: vec![lane(&bars)] };
        let axis = Axis::of(&long);
        assert!(
            axis.place(10_000) - axis.place(10) < 3 * 3 * (axis.place(10_060) - axis.place(10_000))
        );
        assert_eq!(axis.marks(), [0, 10_000, 10_060]);
        assert_eq!(moment(10_000), "6\u{a0}d\u{a0}22\u{a0}h");
    }
}
