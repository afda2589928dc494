//! A derivation as a tree for a terminal and as JSON.

use crate::formula::{How, Kind, Reason};
use crate::quantity::Exact;
use crate::quantity::display::{exact, grams, percent, trimmed};
use crate::source::Sources;
use serde_json::{Value, json};

/// The tree of reasons, a line each.
pub fn tree(reason: &Reason, sources: &Sources) -> String {
    let mut written = format!("{}\n", line(reason, sources));
    branches(&reason.parts, "", sources, &mut written);
    written
}

fn branches(parts: &[Reason], indent: &str, sources: &Sources, written: &mut String) {
    for (index, part) in parts.iter().enumerate() {
        let last = index + 1 == parts.len();
        let (joint, below) = if last { ("└─ ", "   ") } else { ("├─ ", "│  ") };
        written.push_str(&format!("{indent}{joint}{}\n", line(part, sources)));
        branches(&part.parts, &format!("{indent}{below}"), sources, written);
    }
}

fn line(reason: &Reason, sources: &Sources) -> String {
    let value = show(&reason.amount, reason.kind);
    let place = reason.place.map(|place| format!("  [{}]", sources.place(place)));
    let how = arithmetic(reason).map(|how| format!(" = {how}")).unwrap_or_default();
    format!("{}: {value}{how}{}", reason.what, place.unwrap_or_default())
}

fn show(amount: &Exact, kind: Kind) -> String {
    match kind {
        Kind::Mass => grams(amount),
        Kind::Share => format!("{} %", percent(amount, 2)),
        Kind::Number => trimmed(amount, 2),
    }
}

/// The arithmetic with real numbers, or the words for it.
fn arithmetic(reason: &Reason) -> Option<String> {
    let joined = |sign: &str| {
        let numbers: Vec<String> =
            reason.parts.iter().map(|part| show(&part.amount, part.kind)).collect();
        (numbers.len() > 1).then(|| numbers.join(sign))
    };
    match &reason.how {
        How::Ratio => joined(" ÷ "),
        How::Sum => joined(" + "),
        How::Difference => joined(" − "),
        How::Product => joined(" × "),
        How::Written => None,
        How::Default(why) => Some(format!("a default: {why}")),
        How::Words(words) => Some(words.clone()),
    }
}

/// The same tree for programs.
pub fn json_tree(reason: &Reason, sources: &Sources) -> String {
    serde_json::to_string_pretty(&value(reason, sources)).unwrap_or_default() + "\n"
}

fn value(reason: &Reason, sources: &Sources) -> Value {
    let place = reason.place.and_then(|place| {
        let source = sources.get(place.source)?;
        let (line, column) = source.line_column(place.start);
        Some(json!({ "file": &*source.name, "line": line, "column": column }))
    });
    let parts: Vec<Value> = reason.parts.iter().map(|part| value(part, sources)).collect();
    json!({
        "what": reason.what,
        "shown": show(&reason.amount, reason.kind),
        "exact": exact(&reason.amount),
        "how": arithmetic(reason),
        "default": matches!(reason.how, How::Default(_)),
        "place": place,
        "parts": parts,
    })
}
