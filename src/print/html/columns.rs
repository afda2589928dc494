//! Weights that stand under each other: lists of ingredients, and mixes side by side.

use super::words::{filled, word};
use crate::print::document::{Document, LinePart, MixPart, Weight};
use maud::{Markup, html};
use std::collections::BTreeMap;
use unicode_width::UnicodeWidthStr;

/// How wide the units of a column are, in digits, and for each unit the widest tail of
/// its numbers, so that marks of one unit stand under each other.
#[derive(Default)]
pub struct Room {
    tails: BTreeMap<String, usize>,
    unit: usize,
}

/// The whole part of a number, and the mark with what is behind it.
pub fn split<'w>(shown: &'w str, mark: &str) -> (&'w str, &'w str) {
    if let Some(at) = shown.rfind(mark) {
        return shown.split_at(at);
    }
    let fraction = shown.char_indices().last().filter(|(_, letter)| "⅛¼⅓⅜½⅝⅔¾⅞".contains(*letter));
    fraction.map_or((shown, ""), |(at, _)| shown.split_at(at))
}

/// How much room the digits of some weights and units need on either side of the mark.
pub fn room<'w>(weights: impl Iterator<Item = (&'w str, &'w str)>, mark: &str) -> Room {
    let mut room = Room::default();
    for (shown, unit) in weights {
        let tail = room.tails.entry(unit.to_owned()).or_default();
        *tail = split(shown, mark).1.width().max(*tail);
        room.unit = room.unit.max(unit.width());
    }
    room
}

/// A number in its column, with blanks so that the marks stand below each other.
pub fn number(shown: &str, unit: &str, room: &Room, mark: &str) -> Markup {
    let (whole, tail) = split(shown, mark);
    let wide = room.tails.get(unit).copied().unwrap_or_default();
    html! {
        b { (whole) @if wide > 0 { span.tail style=(format!("--tail:{wide}ch")) { (tail) } } }
        @if room.unit > 0 { span.unit style=(format!("--unit:{}ch", room.unit + 1)) { (unit) } }
    }
}

/// The weights of some lines, ready to stand under each other.
pub struct AlignedColumn<'d> {
    mark: &'d str,
    first: Room,
    beside: Option<Room>,
}

impl<'d> AlignedColumn<'d> {
    /// The columns that some weights need.
    pub fn of<'w>(
        document: &'d Document,
        weights: impl Iterator<Item = &'w Weight> + Clone,
    ) -> Self {
        let mark = document.decimal_mark.as_str();
        let other = weights.clone().filter_map(|weight| weight.beside.as_ref());
        let beside = other.clone().next().is_some();
        Self {
            mark,
            first: room(weights.map(|it| (it.shown.as_str(), it.unit.as_str())), mark),
            beside: beside
                .then(|| room(other.map(|it| (it.shown.as_str(), it.unit.as_str())), mark)),
        }
    }

    /// The cells of a weight: one, or one for each system.
    pub fn cells(&self, weight: Option<&Weight>, more: &Markup) -> Markup {
        html! {
            td.n {
                @if let Some(weight) = weight {
                    (weight.mark()) (number(&weight.shown, &weight.unit, &self.first, self.mark))
                }
                (more)
            }
            @if let Some(room) = &self.beside {
                td.n {
                    @if let Some(beside) = weight.and_then(|weight| weight.beside.as_ref()) {
                        @if beside.about { "≈ " }
                        (number(&beside.shown, &beside.unit, room, self.mark))
                    }
                }
            }
        }
    }

    /// How many cells they are.
    pub fn width(&self) -> usize {
        1 + usize::from(self.beside.is_some())
    }
}

/// The weights of lines, sums left out.
pub fn weights_of(lines: &[LinePart]) -> impl Iterator<Item = &Weight> + Clone {
    lines.iter().filter_map(|line| line.weight.as_ref())
}

/// A line's name with what belongs to it.
pub fn named(line: &LinePart) -> Markup {
    html! {
        (line.name)
        @if let Some(role) = &line.role { " (" (role) ")" }
        @if let Some(part) = &line.part { ", " (part) }
        @if let Some(soft) = &line.soft { ", " (soft) }
        @if let Some(volume) = line.written.as_ref().or(line.volume.as_ref()) { " " span.quiet { "(" (volume) ")" } }
        @if line.more.is_some() || line.note.is_some() {
            br;
            span.quiet {
                @if let Some(more) = &line.more { (more) }
                @if line.more.is_some() && line.note.is_some() { "; " }
                @if let Some(note) = &line.note { em { (note) } }
            }
        }
    }
}

/// A column of the sheet or the table: a mix.
pub struct MixColumn<'d> {
    /// Its heading.
    pub title: &'d str,
    /// Lines below the heading.
    pub under: Vec<String>,
    /// What goes in.
    pub lines: &'d [LinePart],
    /// What the lines add up to.
    pub sum: &'d Weight,
    /// The sum in per cent, where that says something.
    pub percent: Option<&'d str>,
    /// What else is told of the mix; none for the whole formula.
    pub mix: Option<&'d MixPart>,
}

impl<'d> MixColumn<'d> {
    /// A mix as it is, without words below its title.
    pub fn of(mix: &'d MixPart) -> Self {
        Self {
            title: &mix.title,
            under: Vec::new(),
            lines: &mix.lines,
            sum: &mix.sum,
            percent: mix.sum_percent.as_deref(),
            mix: Some(mix),
        }
    }

    /// Its line for a row of the whole formula.
    pub fn line(&self, row: &LinePart) -> Option<&'d LinePart> {
        self.lines.iter().find(|line| line.name == row.name && line.role == row.role)
    }

    /// What leaves the mix again.
    pub fn after(&self, what: &str) -> Option<&'d Weight> {
        let mix = self.mix?;
        match what {
            "last-batch-sum" => {
                let of_batch =
                    mix.batch_sum.as_ref().is_some_and(|sum| std::ptr::eq(sum, self.sum));
                mix.last_batch.as_ref().filter(|_| of_batch)
            }
            "goes-on" => mix.goes_on.as_ref(),
            "kept-back" => mix.kept_back.as_ref(),
            "saved" => mix.saved.as_ref(),
            _ => mix.left_over.as_ref(),
        }
    }
}

/// The rows of some columns: each line once, in the order in which they come up.
pub fn rows<'d>(columns: &[MixColumn<'d>]) -> Vec<&'d LinePart> {
    let mut rows: Vec<&LinePart> = Vec::new();
    for line in columns.iter().flat_map(|column| column.lines) {
        if !rows.iter().any(|row| row.name == line.name && row.role == line.role) {
            rows.push(line);
        }
    }
    rows
}

/// All mixes side by side: with percentages, or with boxes to tick.
pub fn side_by_side(document: &Document, columns: &[MixColumn], ticks: bool) -> Markup {
    let mark = &document.decimal_mark;
    let looks: Vec<(AlignedColumn, Room)> = columns
        .iter()
        .map(|column| {
            let weights = weights_of(column.lines).chain([column.sum]);
            let percents = column.lines.iter().filter_map(|line| line.percent.as_deref());
            let percents = percents.chain(column.percent).map(|percent| (percent, ""));
            (AlignedColumn::of(document, weights), room(percents, mark))
        })
        .collect();
    let share = |percent: Option<&str>, room: &Room| {
        html! {
            @if !ticks { td.n.share { @if let Some(percent) = percent { (number(percent, "", room, mark)) } } }
        }
    };
    let closing = AFTER.iter().filter(|what| columns.iter().any(|it| it.after(what).is_some()));
    html! {
        section.wide tabindex="0" aria-label=(word(document, "weights")) {
            table style=(format!("--mixes: {}", looks.iter().map(|(look, _)| look.width()).sum::<usize>())) {
                thead {
                    tr {
                        th scope="col" rowspan=[(!ticks).then_some("2")] { (word(document, "ingredient")) }
                        @for (column, (look, _)) in columns.iter().zip(&looks) {
                            @let width = look.width() + usize::from(!ticks);
                            th.mix scope=(if width > 1 { "colgroup" } else { "col" }) colspan=[(width > 1).then_some(width)] {
                                (column.title)
                                @for line in &column.under { br; span.quiet { (line) } }
                            }
                        }
                    }
                    @if !ticks {
                        tr {
                            @for (look, _) in &looks {
                                th.n scope="col" { (word(document, "percent")) }
                                th.n scope="col" colspan=[(look.width() > 1).then_some(look.width())] { (word(document, "weight")) }
                            }
                        }
                    }
                }
                tbody {
                    @for row in rows(columns) {
                        tr {
                            th scope="row" {
                                (row.name) @if let Some(role) = &row.role { " (" (role) ")" }
                                @if let Some(note) = &row.note { br; em.quiet { (note) } }
                            }
                            @for (column, (look, shares)) in columns.iter().zip(&looks) {
                                @let line = column.line(row);
                                (share(line.and_then(|line| line.percent.as_deref()), shares))
                                (look.cells(line.and_then(|line| line.weight.as_ref()), &html! {
                                    @if let Some(line) = line {
                                        @if let Some(soft) = &line.soft { (soft) }
                                        @if ticks {
                                            input type="checkbox" aria-label=(format!("{}, {}", line.name, column.title));
                                        }
                                        @for more in [&line.written, &line.part, &line.more].into_iter().flatten().chain(&line.by_step) {
                                            br; span.quiet { (more) }
                                        }
                                    }
                                }))
                            }
                        }
                    }
                }
                tfoot {
                    tr {
                        th scope="row" { (word(document, "total")) }
                        @for (column, (look, shares)) in columns.iter().zip(&looks) {
                            (share(column.percent, shares))
                            (look.cells(Some(column.sum), &html! {}))
                        }
                    }
                    @for what in closing {
                        tr {
                            th scope="row" { (word(document, what)) }
                            @for (column, (look, shares)) in columns.iter().zip(&looks) {
                                (share(None, shares))
                                (look.cells(column.after(what), &html! {}))
                            }
                        }
                    }
                }
            }
        }
    }
}

/// Rows below the sum, by the names of their words.
pub const AFTER: [&str; 5] = ["last-batch-sum", "goes-on", "kept-back", "saved", "left-over"];

/// Ingredients of several mixes in one table.
pub fn ingredients(
    document: &Document,
    title: &str,
    percent_of: Option<&str>,
    lines: &[LinePart],
) -> Markup {
    let column = AlignedColumn::of(document, weights_of(lines));
    let percents = lines.iter().any(|line| line.percent.is_some());
    let mark = &document.decimal_mark;
    let shares = room(lines.iter().filter_map(|line| Some((line.percent.as_deref()?, ""))), mark);
    html! {
        table {
            caption { (title) }
            thead {
                tr {
                    th scope="col" colspan=[(column.width() > 1).then_some(column.width())] {
                        (word(document, "weight"))
                    }
                    th scope="col" { (word(document, "ingredient")) }
                    @if percents {
                        th.n scope="col" { (percent_of.unwrap_or(word(document, "percent"))) }
                    }
                }
            }
            tbody {
                @for line in lines {
                    tr {
                        (column.cells(line.weight.as_ref(), &html! {}))
                        th scope="row" { (named(line)) }
                        @if percents {
                            td.n.share {
                                @if let Some(percent) = &line.percent {
                                    (number(percent, "", &shares, mark))
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// What a piece carries besides its dough.
pub fn beside(document: &Document) -> Markup {
    html! {
        @for kind in &document.beside {
            @let each = AlignedColumn::of(document, weights_of(&kind.each));
            @let all = AlignedColumn::of(document, weights_of(&kind.all));
            table {
                caption {
                    @if kind.kind.is_empty() { (word(document, "beside")) } @else {
                        (filled(document, "beside-kind", &[("kind", &kind.kind)]))
                    }
                }
                thead {
                    tr {
                        th scope="col" colspan=[(each.width() > 1).then_some(each.width())] {
                            (word(document, "each"))
                        }
                        th scope="col" { (word(document, "ingredient")) }
                        th.n scope="col" colspan=[(all.width() > 1).then_some(all.width())] {
                            (word(document, "in-all"))
                        }
                    }
                }
                tbody {
                    @for (index, line) in kind.each.iter().enumerate() {
                        tr {
                            (each.cells(line.weight.as_ref(), &html! {}))
                            th scope="row" { (named(line)) }
                            (all.cells(kind.all.get(index).and_then(|line| line.weight.as_ref()), &html! {}))
                        }
                    }
                }
            }
        }
    }
}
