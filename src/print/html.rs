//! A print as a page for a browser: one file, real tables, no script, light and dark.
//!
//! A card also carries the recipe for machines, as schema.org's `Recipe` in JSON-LD.

use super::document::{Document, LineKind, LinePart, MixPart, PhasePart, StepPart, Weight};
use super::look::{Colour, readable};
use super::pages::Print;
use base64::Engine;
use maud::{DOCTYPE, Markup, PreEscaped, html};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use unicode_width::UnicodeWidthStr;

const CSS: &str = include_str!("../../templates/page.css");

/// The colour of prints whose house has none.
const USUAL_COLOUR: &str = "#7f4424";
/// The grounds of `page.css` in the dark.
const DARK_GROUNDS: [Colour; 2] = [Colour([0x16, 0x13, 0x0f]), Colour([0x24, 0x1f, 0x19])];

/// The page of a print; `logo` are the bytes of the picture that the document names.
pub fn page(document: &Document, print: Print, logo: Option<&[u8]>) -> String {
    let body = match print {
        Print::Card => card(document),
        Print::Sheet => sheet(document),
        Print::Table => table(document),
    };
    let kind = print.word();
    let markup = html! {
        (DOCTYPE)
        html lang=(document.language) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (document.title) }
                style { (PreEscaped(colours(document.house.colour.as_deref()))) (PreEscaped(CSS)) }
                @if print == Print::Card {
                    script type="application/ld+json" { (PreEscaped(recipe(document))) }
                }
            }
            body {
                main class=(kind) {
                    (head(document, logo))
                    (body)
                    (care(document))
                }
                (foot(document))
            }
        }
    };
    markup.into_string() + "\n"
}

/// A page that is no print, in English and in our own colour; `css` is its own.
pub fn shell(title: &str, css: &str, body: &Markup) -> String {
    let markup = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) }
                style { (PreEscaped(colours(None))) (PreEscaped(CSS)) (PreEscaped(css)) }
            }
            body { (body) }
        }
    };
    markup.into_string() + "\n"
}

/// The accent by day and by night, each readable on its grounds.
fn colours(colour: Option<&str>) -> String {
    let colour = colour.unwrap_or(USUAL_COLOUR);
    let light = readable(colour).unwrap_or_else(|| USUAL_COLOUR.to_owned());
    let dark = Colour::read(&light)
        .map(|colour| colour.towards(Colour([255, 255, 255]), &DARK_GROUNDS).written())
        .unwrap_or_else(|| light.clone());
    format!(":root {{ --accent: {light}; --accent-light: {light}; --accent-dark: {dark}; }}\n")
}

fn word<'d>(document: &'d Document, name: &'d str) -> &'d str {
    document.words.get(name).map_or(name, String::as_str)
}

/// A word with what stands in its braces.
fn filled(document: &Document, name: &str, args: &[(&str, &str)]) -> String {
    let mut text = word(document, name).to_owned();
    for (arg, value) in args {
        text = text.replace(&format!("{{{arg}}}"), value);
    }
    text
}

fn head(document: &Document, logo: Option<&[u8]>) -> Markup {
    let picture = document.house.logo.as_ref().zip(logo).map(|(name, bytes)| {
        let kind = if name.ends_with(".svg") { "svg+xml" } else { "png" };
        let bytes = base64::engine::general_purpose::STANDARD.encode(bytes);
        format!("data:image/{kind};base64,{bytes}")
    });
    let house = document.house.title.as_deref().unwrap_or_default();
    html! {
        header {
            div {
                @if let Some(picture) = picture {
                    img src=(picture) alt=(filled(document, "logo", &[("house", house)]));
                }
                h1 { (document.title) }
            }
            div.makes {
                @for piece in &document.makes.pieces {
                    p.makes {
                        strong { (piece.count) } " " (piece.kind) " "
                        span.quiet {
                            (filled(document, "of-dough", &[("weight", &piece.weight.said())]))
                            @if let Some(tin) = &piece.tin {
                                ", " (filled(document, "in-tin", &[("tin", tin)]))
                            }
                            @if let Some(baked) = &piece.baked {
                                @let word = if piece.as_eaten.is_some() { "baked-alone" } else { "baked" };
                                ", " (filled(document, word, &[("weight", &baked.said())]))
                            }
                            @if let Some(eaten) = &piece.as_eaten {
                                ", " (filled(document, "as-eaten", &[("weight", &eaten.said())]))
                            }
                        }
                    }
                }
                @if document.makes.pieces.is_empty() { p.makes { (document.makes.text) } }
            }
        }
    }
}

fn foot(document: &Document) -> Markup {
    html! {
        footer.quiet {
            @if let Some(house) = &document.house.title { span { (house) } }
            span { (document.name) }
            @if let Some(footer) = &document.house.footer { span { (footer) } }
        }
    }
}

/// What can hurt somebody, and the allergens.
fn care(document: &Document) -> Markup {
    let unknown = &document.contains_unknown;
    let may_contain = &document.may_contain;
    let said = [&document.cautions, &document.contains, may_contain, unknown];
    if said.iter().all(|part| part.is_empty()) {
        return html! {};
    }
    html! {
        section.care aria-label=(word(document, "take-care").trim_end_matches('.')) {
            @if !document.cautions.is_empty() {
                p { strong { (word(document, "take-care")) } " " (document.cautions.join(" ")) }
            }
            @if !document.contains.is_empty() {
                p {
                    (word(document, "contains")) " "
                    @for (index, name) in document.contains.iter().enumerate() {
                        @if index > 0 { ", " }
                        strong { (name) }
                    }
                    "."
                }
            }
            @if !may_contain.is_empty() {
                p { (word(document, "may-contain")) " " (may_contain.join(", ")) "." }
            }
            @if !unknown.is_empty() {
                p { (word(document, "allergens-unknown")) " " (unknown.join(", ")) "." }
            }
        }
    }
}

// ---- Columns of weights ------------------------------------------------------------

/// How wide the units of a column are, in digits, and for each unit the widest tail of
/// its numbers, so that marks of one unit stand under each other.
#[derive(Default)]
struct Room {
    tails: BTreeMap<String, usize>,
    unit: usize,
}

/// The whole part of a number, and the mark with what is behind it.
fn split<'w>(shown: &'w str, mark: &str) -> (&'w str, &'w str) {
    if let Some(at) = shown.rfind(mark) {
        return shown.split_at(at);
    }
    let fraction = shown.char_indices().last().filter(|(_, letter)| "⅛¼⅓⅜½⅝⅔¾⅞".contains(*letter));
    fraction.map_or((shown, ""), |(at, _)| shown.split_at(at))
}

fn room<'w>(weights: impl Iterator<Item = (&'w str, &'w str)>, mark: &str) -> Room {
    let mut room = Room::default();
    for (shown, unit) in weights {
        let tail = room.tails.entry(unit.to_owned()).or_default();
        *tail = split(shown, mark).1.width().max(*tail);
        room.unit = room.unit.max(unit.width());
    }
    room
}

fn number(shown: &str, unit: &str, room: &Room, mark: &str) -> Markup {
    let (whole, tail) = split(shown, mark);
    let wide = room.tails.get(unit).copied().unwrap_or_default();
    html! {
        b { (whole) @if wide > 0 { span.tail style=(format!("--tail:{wide}ch")) { (tail) } } }
        @if room.unit > 0 { span.unit style=(format!("--unit:{}ch", room.unit + 1)) { (unit) } }
    }
}

/// The weights of some lines, ready to stand under each other.
struct Column<'d> {
    mark: &'d str,
    first: Room,
    beside: Option<Room>,
}

impl<'d> Column<'d> {
    fn of<'w>(document: &'d Document, weights: impl Iterator<Item = &'w Weight> + Clone) -> Self {
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
    fn cells(&self, weight: Option<&Weight>, more: &Markup) -> Markup {
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

    fn width(&self) -> usize {
        1 + usize::from(self.beside.is_some())
    }
}

fn weights_of(lines: &[LinePart]) -> impl Iterator<Item = &Weight> + Clone {
    lines.iter().filter_map(|line| line.weight.as_ref())
}

/// A line's name with what belongs to it.
fn named(line: &LinePart) -> Markup {
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

// ---- Card --------------------------------------------------------------------------

fn card(document: &Document) -> Markup {
    let key: Vec<_> = document.figures.iter().filter(|figure| figure.key).collect();
    html! {
        @for note in &document.headnotes { p.headnote { (note) } }
        @if !key.is_empty() {
            dl.figures {
                @for figure in key {
                    div { dt { (figure.label) } dd { (figure.shown) " " (figure.unit) } }
                }
            }
        }
        h2 { (word(document, "ingredients")) }
        div.columns {
            @for group in &document.groups {
                (ingredients(document, &group.title, group.percent_of.as_deref(), &group.lines))
            }
            @if !document.summary.is_empty() {
                (ingredients(document, word(document, "summary"), None, &document.summary))
            }
            (beside(document))
            @for mix in &document.mixtures {
                (ingredients(document, &mix.title, None, &mix.lines))
            }
        }
        (what_leaves(document))
        @if document.volumes() {
            p.quiet { (word(document, "approximate")) }
        }
        @if !document.method.is_empty() {
            h2 { (word(document, "method")) }
            ol.steps { @for step in &document.method { li { (one_step(step)) } } }
        }
        @for (title, texts) in [
            ("notes", &document.notes), ("equipment", &document.equipment),
            ("storage", &document.storage), ("sources", &document.sources),
        ] {
            @if !texts.is_empty() {
                h2 { (word(document, title)) }
                @for text in texts { p { (text) } }
            }
        }
    }
}

/// What of each stage is not for the dough: kept back, saved, left over.
fn what_leaves(document: &Document) -> Markup {
    html! {
        @for mix in &document.mixes {
            @let column = MixColumn::of(mix);
            @let parts: Vec<String> = AFTER
                .iter()
                .filter_map(|what| Some(format!("{} {}", word(document, what), column.after(what)?.said())))
                .collect();
            @if !parts.is_empty() { p.quiet { (mix.title) ": " (parts.join(", ")) } }
        }
    }
}

fn ingredients(
    document: &Document,
    title: &str,
    percent_of: Option<&str>,
    lines: &[LinePart],
) -> Markup {
    let column = Column::of(document, weights_of(lines));
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
fn beside(document: &Document) -> Markup {
    html! {
        @for kind in &document.beside {
            @let each = Column::of(document, weights_of(&kind.each));
            @let all = Column::of(document, weights_of(&kind.all));
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

/// A step's title with its stage, where that is another word.
fn title_of(step: &StepPart) -> String {
    match &step.stage {
        Some(stage) if step.title.is_empty() => stage.clone(),
        Some(stage) if stage.to_lowercase() != step.title.to_lowercase() => {
            format!("{stage} · {}", step.title)
        }
        _ => step.title.clone(),
    }
}

/// What tells a row of the steps: the title, else the author's words.
fn row_title(step: &StepPart) -> String {
    match (step.title.is_empty(), step.phases.first()) {
        (true, Some(phase)) => phase.text.clone(),
        _ => title_of(step),
    }
}

fn one_step(step: &StepPart) -> Markup {
    let none = [PhasePart::default()];
    let phases = if step.phases.is_empty() { &none[..] } else { &step.phases };
    html! {
        @for (index, phase) in phases.iter().enumerate() {
            @let (at, text) = phase.at_home();
            div.phase {
                div.when {
                    @if let Some(time) = &phase.time { (time) }
                    @if let Some(at) = at { span { (at) } }
                    @if let Some(to) = &phase.to { span { "→ " (to) } }
                }
                div {
                    @let title = title_of(step);
                    @if index == 0 && !title.is_empty() { h3 { (title) "." } " " }
                    (text)
                    @if index + 1 == phases.len() {
                        @for note in &step.notes { " " span.note { (note) } }
                        @for caution in &step.cautions { p.caution { (caution) } }
                    }
                }
            }
        }
    }
}

// ---- Sheet and table ---------------------------------------------------------------

/// A column of the sheet or the table: a mix.
struct MixColumn<'d> {
    title: &'d str,
    under: Vec<String>,
    lines: &'d [LinePart],
    sum: &'d Weight,
    percent: Option<&'d str>,
    mix: Option<&'d MixPart>,
}

impl<'d> MixColumn<'d> {
    /// A mix as it is, without words below its title.
    fn of(mix: &'d MixPart) -> Self {
        Self {
            title: &mix.title,
            under: Vec::new(),
            lines: &mix.lines,
            sum: &mix.sum,
            percent: mix.sum_percent.as_deref(),
            mix: Some(mix),
        }
    }

    fn line(&self, row: &LinePart) -> Option<&'d LinePart> {
        self.lines.iter().find(|line| line.name == row.name && line.role == row.role)
    }

    /// What leaves the mix again.
    fn after(&self, what: &str) -> Option<&'d Weight> {
        let mix = self.mix?;
        match what {
            "goes-on" => mix.goes_on.as_ref(),
            "kept-back" => mix.kept_back.as_ref(),
            "saved" => mix.saved.as_ref(),
            _ => mix.left_over.as_ref(),
        }
    }
}

/// The rows of some columns: each line once, in the order in which they come up.
fn rows<'d>(columns: &[MixColumn<'d>]) -> Vec<&'d LinePart> {
    let mut rows: Vec<&LinePart> = Vec::new();
    for line in columns.iter().flat_map(|column| column.lines) {
        if !rows.iter().any(|row| row.name == line.name && row.role == line.role) {
            rows.push(line);
        }
    }
    rows
}

const AFTER: [&str; 4] = ["goes-on", "kept-back", "saved", "left-over"];

fn sheet(document: &Document) -> Markup {
    let batches = document.makes.batches;
    let beside_the_dough = document.mixtures.iter().map(MixColumn::of);
    let columns: Vec<MixColumn> = document
        .mixes
        .iter()
        .map(|mix| {
            let per_batch = !mix.batch_lines.is_empty();
            let mut under = Vec::new();
            if per_batch {
                under.push(word(document, "per-batch").to_owned());
            } else if mix.kind != "dough" {
                under.push(word(document, "once").to_owned());
            }
            if let Some(feeds) = mix.feeds {
                under.push(filled(document, "fed", &[("feeds", &feeds.to_string())]));
            }
            under.extend(mix.wait.clone());
            MixColumn {
                title: &mix.title,
                under,
                lines: if per_batch { &mix.batch_lines } else { &mix.lines },
                sum: mix.batch_sum.as_ref().unwrap_or(&mix.sum),
                percent: None,
                mix: Some(mix),
            }
        })
        .chain(beside_the_dough)
        .collect();
    html! {
        p { (document.makes.text)
            @if batches > 1 {
                ", " (filled(document, "each-batch", &[("batches", &batches.to_string())]))
                ": " (document.makes.batch.said())
            }
        }
        (water(document))
        (side_by_side(document, &columns, true))
        (earlier_feeds(document))
        (beside(document))
        @if !document.method.is_empty() { (steps(document)) }
    }
}

/// How warm the water has to be, and room for what was measured.
fn water(document: &Document) -> Markup {
    html! {
        @if let Some(water) = &document.water {
            p {
                (water.label) ": " strong { (water.temperature) }
                @if let Some(ice) = &water.ice {
                    ", " (word(document, "ice")) " " (ice.said())
                    ", " (word(document, "water")) " " (water.water.said())
                }
                "; " (word(document, "dough")) " " (word(document, "aimed-at")) " " strong { (water.target) } ", "
                label { (word(document, "measured")) " " input type="text" size="6"; }
            }
            @if let Some(lever) = &water.lever { p { (lever) } }
            p.quiet { (water.method) ". " (water.correction) }
        }
    }
}

/// The feeds before a stage's last one.
fn earlier_feeds(document: &Document) -> Markup {
    html! {
        @for mix in &document.mixes {
            @for (index, lines) in mix.earlier_feeds.iter().enumerate() {
                @let feeds = (mix.earlier_feeds.len() + 1).to_string();
                @let feed = filled(document, "feed", &[("feed", &(index + 1).to_string()), ("feeds", &feeds)]);
                (ingredients(document, &format!("{}, {feed}", mix.title), None, lines))
                @if let Some(Some(discarded)) = mix.discarded.get(index) {
                    p.quiet { (word(document, "discarded")) ": " (discarded.shown) " " (discarded.unit) }
                }
            }
        }
    }
}

fn steps(document: &Document) -> Markup {
    let steps = match document.batch_method.is_empty() {
        true => &document.method,
        false => &document.batch_method,
    };
    html! {
        table {
            caption { (word(document, "steps")) }
            thead {
                tr {
                    th scope="col" { (word(document, "step")) }
                    th scope="col" { (word(document, "time")) }
                    th scope="col" { (word(document, "temperature")) }
                    th scope="col" { (word(document, "measured")) }
                    th scope="col" { (word(document, "done")) }
                }
            }
            tbody {
                @for step in steps {
                    @let title = row_title(step);
                    tr {
                        th scope="row" { (title) }
                        td { @for (index, phase) in step.phases.iter().enumerate() {
                            @if index > 0 { br; } (phase.time.as_deref().unwrap_or_default())
                        } }
                        td { @for (index, phase) in step.phases.iter().enumerate() {
                            @if index > 0 { br; }
                            (phase.at.as_deref().unwrap_or_default())
                            @if let Some(to) = &phase.to { " → " (to) }
                        } }
                        td { input type="text" aria-label=(format!("{title}: {}", word(document, "measured"))); }
                        td { input type="text" aria-label=(format!("{title}: {}", word(document, "done"))); }
                    }
                }
            }
        }
    }
}

fn table(document: &Document) -> Markup {
    let hydration = |shown: &str| filled(document, "hydration", &[("hydration", shown)]);
    let figure = |name: &str| {
        let found = document.figures.iter().find(|figure| figure.name == name);
        found.map(|figure| figure.shown.as_str())
    };
    let total = MixColumn {
        title: word(document, "total-formula"),
        under: figure("hydration").map(hydration).into_iter().collect(),
        lines: &document.total,
        sum: &document.total_sum,
        percent: document.total_sum_percent.as_deref(),
        mix: None,
    };
    let mixes = document.mixes.iter().chain(&document.mixtures).map(|mix| MixColumn {
        under: mix
            .hydration
            .as_deref()
            .map(hydration)
            .into_iter()
            .chain(mix.wait.clone())
            .collect(),
        ..MixColumn::of(mix)
    });
    let columns: Vec<MixColumn> = std::iter::once(total).chain(mixes).collect();
    html! {
        @if let Some(style) = &document.style {
            p.quiet { (filled(document, "style", &[("style", style)])) }
        }
        (side_by_side(document, &columns, false))
        table {
            caption { (word(document, "figures")) }
            thead { tr { th scope="col" { (word(document, "figure")) } th.n scope="col" { (word(document, "value")) } } }
            tbody {
                @for figure in &document.figures {
                    tr { th scope="row" { (figure.label) } td.n { (figure.shown) " " (figure.unit) } }
                }
            }
        }
        @for (title, texts) in [("notes", &document.notes), ("sources", &document.sources)] {
            @if !texts.is_empty() {
                h2 { (word(document, title)) }
                @for text in texts { p { (text) } }
            }
        }
    }
}

/// All mixes side by side: with percentages, or with boxes to tick.
fn side_by_side(document: &Document, columns: &[MixColumn], ticks: bool) -> Markup {
    let mark = &document.decimal_mark;
    let looks: Vec<(Column, Room)> = columns
        .iter()
        .map(|column| {
            let weights = weights_of(column.lines).chain([column.sum]);
            let percents = column.lines.iter().filter_map(|line| line.percent.as_deref());
            let percents = percents.chain(column.percent).map(|percent| (percent, ""));
            (Column::of(document, weights), room(percents, mark))
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
            table {
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

// ---- For machines --------------------------------------------------------------------

/// The recipe in schema.org's words, as JSON-LD that can stand in a page.
fn recipe(document: &Document) -> String {
    let mut ingredients: Vec<String> = Vec::new();
    let beside = document.beside.iter().flat_map(|kind| &kind.all);
    let mixtures = document.mixtures.iter().flat_map(|mix| &mix.lines);
    for line in document.groups.iter().flat_map(|group| &group.lines).chain(beside).chain(mixtures)
    {
        // What is mixed beforehand is told by what it is made of.
        if !matches!(line.kind, LineKind::Stage | LineKind::Mixture) {
            let amount = line.weight.as_ref().map(Weight::said).or_else(|| line.soft.clone());
            ingredients.push(match amount {
                Some(amount) => format!("{amount} {}", line.name),
                None => line.name.clone(),
            });
        }
    }
    let mut recipe = json!({
        "@context": "https://schema.org",
        "@type": "Recipe",
        "name": document.title,
        "inLanguage": document.language,
        "recipeYield": document.makes.text,
        "recipeIngredient": ingredients,
    });
    let mut say = |name: &str, value: Value| recipe[name] = value;
    let steps = instructions(document);
    if !steps.is_empty() {
        let steps = json!({ "@type": "ItemList", "itemListElement": steps });
        say("recipeInstructions", steps);
    }
    if !document.headnotes.is_empty() {
        say("description", document.headnotes.join(" ").into());
    }
    if let Some(house) = &document.house.title {
        say("author", json!({ "@type": "Organization", "name": house }));
    }
    if !document.equipment.is_empty() {
        let tools = document.equipment.iter();
        let tools = tools.map(|tool| json!({ "@type": "HowToTool", "name": tool }));
        say("tool", Value::Array(tools.collect()));
    }
    // `<` might end the element that this stands in.
    recipe.to_string().replace('<', "\\u003c")
}

/// Steps; those of one stage as a section.
fn instructions(document: &Document) -> Vec<Value> {
    let mut all: Vec<Value> = Vec::new();
    let mut section: Option<(&str, Vec<Value>)> = None;
    let close = |section: &mut Option<(&str, Vec<Value>)>, all: &mut Vec<Value>| {
        if let Some((name, steps)) = section.take() {
            all.push(json!({ "@type": "HowToSection", "name": name, "itemListElement": steps }));
        }
    };
    for step in &document.method {
        let mut said = json!({ "@type": "HowToStep", "text": step_text(step) });
        if !step.title.is_empty() {
            said["name"] = step.title.as_str().into();
        }
        match (&step.stage, &mut section) {
            (Some(stage), Some((name, steps))) if stage == name => steps.push(said),
            (Some(stage), _) => {
                close(&mut section, &mut all);
                section = Some((stage, vec![said]));
            }
            (None, _) => {
                close(&mut section, &mut all);
                all.push(said);
            }
        }
    }
    close(&mut section, &mut all);
    all
}

/// Everything that is said at a step, in one text.
fn step_text(step: &StepPart) -> String {
    let mut parts = Vec::new();
    for phase in &step.phases {
        let (at, text) = phase.at_home();
        let when = [phase.time.as_deref(), at, phase.to.as_deref()].into_iter().flatten();
        let when: Vec<&str> = when.collect();
        if !when.is_empty() {
            parts.push(format!("{}.", when.join(", ")));
        }
        if !text.is_empty() {
            parts.push(text.to_owned());
        }
    }
    parts.extend(step.notes.iter().chain(&step.cautions).cloned());
    if parts.is_empty() { step.title.clone() } else { parts.join(" ") }
}
