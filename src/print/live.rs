//! Texts with live figures, worked out.

use super::context::PrintContext;
use super::ends::told_apart;
use super::wording::{Wording, language_of};
use super::words::{capital, length_words};
use crate::check::ABSENCE_IN_TEXT;
use crate::formula::{Figure, ValueKind, Within, WorkedPiece, in_number, worked_elsewhere};
use crate::quantity::display::minutes_range;
use crate::quantity::{Dimension, Exact, Unit, ratio};
use crate::syntax::tree::{
    Allow, Date, Elsewhere, FigureAsk, Measure, Name, NotedText, Quantity, Question, Target, Text,
    TextPart, WordsKind,
};
use crate::time;

/// A text with its live figures worked out.
pub fn text(paper: &PrintContext, text: &Text) -> String {
    let mut written = String::new();
    for part in &text.parts {
        match part {
            TextPart::Plain(words) => written.push_str(words),
            TextPart::Figure { words, ask, .. } => {
                let figure = ask.as_ref().and_then(|ask| figure(paper, ask));
                written.push_str(&figure.unwrap_or_else(|| format!("[{words}]")));
            }
        }
    }
    written
}

/// The texts of a kind, worked out; what says falsely or without proof that something is not in
/// the bread, with the reason why it may say so.
pub fn texts(paper: &PrintContext, all: &[NotedText], kind: WordsKind) -> Vec<String> {
    let own = all.iter().filter(|words| words.kind == kind);
    let said = own.map(|words| {
        let of_absence = |allow: &&Allow| allow.finding.key == ABSENCE_IN_TEXT.name;
        let allow = words.allow.iter().find(of_absence);
        let reason = allow.and_then(|allow| allow.reason.as_ref());
        match reason {
            Some(reason) => format!("{} ({})", text(paper, &words.text), text(paper, reason)),
            None => text(paper, &words.text),
        }
    });
    said.collect()
}

/// The texts of a kind that the formula says, then those of its stages and side mixes,
/// each with its name before it.
pub fn texts_of_all(paper: &PrintContext, kind: WordsKind) -> Vec<String> {
    let formula = &paper.worked.formula;
    let mut all = texts(paper, &formula.texts, kind);
    let mut add = |name: &str, own: &[NotedText]| {
        let named = texts(paper, own, kind).into_iter();
        let name = capital(name);
        all.extend(named.map(|text| {
            paper.words.fill("words-for", &[("kind", name.as_str()), ("words", &text)])
        }));
    };
    // What a stage notes and warns of stands where its work begins.
    if !matches!(kind, WordsKind::Note | WordsKind::Caution) {
        formula.stages.iter().for_each(|stage| add(&stage.name.shown, &stage.texts));
    }
    for index in 0..paper.worked.side_mixes.len() {
        if let Some(mixture) = paper.worked.mixture(index) {
            add(&mixture.name.shown, &mixture.texts);
        }
    }
    all
}

/// What a figure comes to, in words; none where the formula has none.
pub fn figure(paper: &PrintContext, ask: &FigureAsk) -> Option<String> {
    let is_formula = |key: &str| paper.house.formula(key).is_some();
    match (ask, ask.elsewhere(is_formula)) {
        (FigureAsk::Date(_) | FigureAsk::Weekday { .. }, _) => day_of(paper.words, ask),
        (_, Some(elsewhere)) => of_another(paper, ask, elsewhere),
        (FigureAsk::Figure { asked, .. }, None) => question(paper, asked),
        (FigureAsk::Scaled { amount, what, .. }, None) => {
            let by = paper.worked.scale_at(amount.span);
            Some(scaled(paper, amount, what.as_ref(), &by))
        }
    }
}

/// What a text asks of another formula, or of its own by its name.
fn of_another(paper: &PrintContext, ask: &FigureAsk, elsewhere: &Elsewhere) -> Option<String> {
    let is_own = elsewhere.formula.key == paper.worked.formula.name.key;
    if is_own && elsewhere.makes.is_none() && !elsewhere.everyone {
        return told(paper, ask, elsewhere);
    }
    let worked = worked_elsewhere(paper.house, elsewhere, &mut Vec::new())?;
    let batches = worked.batches();
    let other = PrintContext::new(paper.house, &worked, paper.words, batches, paper.volumes);
    told(&other, ask, elsewhere)
}

/// What is asked of the formula of `paper`, which is the one that the question names.
pub fn told(paper: &PrintContext, ask: &FigureAsk, elsewhere: &Elsewhere) -> Option<String> {
    match ask {
        FigureAsk::Scaled { amount, .. } => {
            let what = &elsewhere.asked.what;
            let is_known = paper.worked.ask(what, None).is_some();
            let scaled = || scaled(paper, amount, Some(what), &paper.worked.scaled);
            is_known.then(scaled)
        }
        _ => question(paper, &elsewhere.asked),
    }
}

/// A day or a point in any week; nothing where something else is asked.
pub fn day_of(words: &Wording, ask: &FigureAsk) -> Option<String> {
    match ask {
        FigureAsk::Date(date) => Some(day_words(words, *date)),
        FigureAsk::Weekday { day, minutes } => Some(weekday_words(words, *day, *minutes)),
        FigureAsk::Figure { .. } | FigureAsk::Scaled { .. } => None,
    }
}

/// `Saturday 5 December 2026`.
fn day_words(words: &Wording, date: Date) -> String {
    let weekday = words.say(&format!("weekday-{}", date.weekday() + 1));
    let month = words.say(&format!("month-{}", date.month));
    let day = date.day.to_string();
    let args = [("weekday", weekday.as_str()), ("day", &day), ("month", &month)];
    with_year(words, &words.fill("date", &args), i64::from(date.year))
}

/// `Saturday 5 December 2026`, from the day and its year.
pub fn with_year(words: &Wording, date: &str, year: i64) -> String {
    words.fill("date-with-year", &[("date", date), ("year", &year.to_string())])
}

/// `Saturday 10:00`, of any week.
fn weekday_words(words: &Wording, day: u8, minutes: Option<u32>) -> String {
    let weekday = words.say(&format!("weekday-{}", day + 1));
    match minutes {
        Some(minutes) => format!("{weekday} {:02}:{:02}", minutes / 60, minutes % 60),
        None => weekday,
    }
}

fn question(paper: &PrintContext, asked: &Question) -> Option<String> {
    let Question { what, place, measure } = asked;
    if let (Some(figure @ (Figure::Elapsed | Figure::HandsOn)), None) =
        (Figure::read(&what.name.key), place)
    {
        let graph = time::graph(paper.house, paper.worked)?;
        let length = match figure {
            Figure::HandsOn => time::hands_on(&graph),
            _ => time::elapsed(&graph),
        };
        return Some(length_words(paper, &length));
    }
    // What the sheet says of the water, which may be milk and all else that is poured.
    if let (Some(Figure::WaterTemperature), None) = (Figure::read(&what.name.key), place) {
        return paper.water_temperature();
    }
    let Some(values) = paper.worked.answer(asked) else {
        return paper.worked.pieces_called(asked).map(|piece| count_words(paper, piece));
    };
    let kind = values.first()?.kind;
    let share = match (kind, measure) {
        (ValueKind::Mass | ValueKind::Number, Measure::Itself) => {
            share_of_batch(paper, what, place.as_ref())
        }
        _ => Exact::ONE,
    };
    let amounts: Vec<Exact> = values.iter().map(|value| &value.amount * &share).collect();
    // All the flour is what its lines show together.
    if let (Some(Figure::Flour), None, Measure::Itself, [flour]) =
        (Figure::read(&what.name.key), place, measure, amounts.as_slice())
        && share.is_one()
    {
        let mut weight = paper.flour_weight(flour);
        // Closing zeros that no scale shows stand in columns only.
        let most = if weight.unit == "kg" { 3 } else { 0 };
        let mark = paper.words.decimal_mark();
        let behind = |shown: &str| shown.split_once(&mark).map_or(0, |(_, it)| it.len());
        while behind(&weight.shown) > most && weight.shown.ends_with('0') {
            weight.shown.pop();
        }
        weight.shown = weight.shown.trim_end_matches(&mark).to_owned();
        return Some(weight.said());
    }
    if let (ValueKind::Mass, None, Measure::Itself, [grams]) =
        (kind, place, measure, amounts.as_slice())
        && let Some(said) = paper.line_in_words(what, grams)
    {
        return Some(said);
    }
    Some(value_words(paper, kind, amounts.iter().min()?, amounts.iter().max()?))
}

/// `2 loaves`, and one of them `1 loaf`.
fn count_words(paper: &PrintContext, piece: &WorkedPiece) -> String {
    let count = &piece.made.count * ratio(1, i64::from(paper.shared_by.get()));
    let kind = paper.piece_kind(&piece.made.kind);
    let kind = in_number(&kind, &count, language_of(&paper.words.tag));
    format!("{} {kind}", paper.trimmed(&count, 2))
}

/// An amount that grows with the formula, `by` so much.
fn scaled(paper: &PrintContext, amount: &Quantity, what: Option<&Target>, by: &Exact) -> String {
    let dimension = amount.unit.dimension();
    // A share stays what it is, whatever the batch.
    let by = match dimension {
        Dimension::Mass | Dimension::Volume | Dimension::Count => {
            by * match what {
                Some(what) => share_of_batch(paper, what, None),
                None => ratio(1, i64::from(paper.shared_by.get())),
            }
        }
        _ => Exact::ONE,
    };
    let shown = match dimension {
        Dimension::Mass => {
            let grams = base(paper, amount) * by;
            let of_line = what.and_then(|what| paper.line_in_words(what, &grams));
            of_line.unwrap_or_else(|| paper.in_words(&grams))
        }
        Dimension::Volume | Dimension::Part => {
            let number = &amount.number * by;
            paper.measure(amount.unit, &number, &number)
        }
        _ => {
            let digits = amount.decimals.unwrap_or(2).max(1);
            let shown = paper.trimmed(&(&amount.number * by), digits);
            match amount.unit {
                Unit::Count => shown,
                unit => format!("{shown} {}", unit.spelling()),
            }
        }
    };
    match what {
        Some(what) if dimension == Dimension::Count => format!("{shown} {}", target(paper, what)),
        Some(what) => {
            let name = target(paper, what);
            let of_name = paper.words.of(&name);
            let args = [("weight", &*shown), ("name", &name), ("of-name", &of_name)];
            paper.words.fill("weight-in-text", &args)
        }
        None => shown,
    }
}

/// A value at both ends of its range, `70–74 %`, or the one that it has.
fn value_words(paper: &PrintContext, kind: ValueKind, low: &Exact, high: &Exact) -> String {
    let ends = |shown: &dyn Fn(&Exact, u8) -> String| {
        told_apart(low, high, 1, |value, digits| shown(value, digits))
    };
    match kind {
        ValueKind::Mass => paper.weights_in_words(low, high),
        ValueKind::Share => format!("{} %", ends(&|share, digits| paper.percent(share, digits))),
        ValueKind::Number => ends(&|number, digits| paper.trimmed(number, digits)),
        ValueKind::Time => minutes_range(low, high),
        ValueKind::Temperature if low == high => paper.degrees_worked_out(low),
        ValueKind::Temperature => paper.degrees_range(low, high),
        ValueKind::Energy => {
            format!("{} kJ", ends(&|energy, digits| paper.trimmed(energy, digits)))
        }
    }
}

/// What one batch has of a figure that the words of the dough's steps ask for: its part of
/// all that is in the dough, and of the pieces. A stage, a side mix and what is strewn on
/// pieces are there once for all batches, and a piece is a piece.
pub fn share_of_batch(paper: &PrintContext, what: &Target, place: Option<&Name>) -> Exact {
    let worked = paper.worked;
    let within = |name: &Name| worked.within(&name.key);
    let figure = Figure::read(&what.name.key).filter(|_| what.role.is_none());
    let is_shared = match (place.map(within), figure) {
        (Some(None | Some(Within::Stage(_) | Within::SideMix(_) | Within::Pieces)), _) => false,
        (_, Some(Figure::Pieces)) => true,
        (_, Some(Figure::Piece | Figure::PieceBaked | Figure::DoughYield)) => false,
        (_, Some(_)) => true,
        (_, None) if matches!(within(&what.name), Some(Within::SideMix(_))) => false,
        (_, None) => worked.ask(what, None).is_some(),
    };
    match is_shared {
        true => ratio(1, i64::from(paper.shared_by.get())),
        false => Exact::ONE,
    }
}

/// Grams, milliliters or minutes of a quantity, by the house's measures.
pub fn base(paper: &PrintContext, quantity: &Quantity) -> Exact {
    quantity.unit.to_base(&quantity.number, paper.house.settings.measures)
}

/// What goes in, with its role, in the print's language.
pub fn target(paper: &PrintContext, target: &Target) -> String {
    let name = paper.called(&target.name.key, &target.name.shown);
    match &target.role {
        Some(role) => format!("{name} ({})", role.shown),
        None => name,
    }
}
