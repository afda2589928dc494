//! A derivation as a tree for a terminal and as JSON.

use crate::diag::machine::pretty;
use crate::formula::{How, Reason, entry_at};
use crate::quantity::display::exact;
use crate::source::{Sources, Span, visible};
use serde_json::{Value, json};

/// The tree of reasons, a line each.
pub fn tree(reason: &Reason, sources: &Sources) -> String {
    let mut written = format!("{}\n", line(reason, sources));
    branches(&reason.parts, "", sources, &mut written);
    visible(&written).into_owned()
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
    let value = reason.shown();
    let place = reason.place.map(|place| format!("  [{}]", cited(place, sources)));
    let how = arithmetic(reason).map(|how| format!(" = {how}")).unwrap_or_default();
    format!("{}: {value}{how}{}", reason.what, place.unwrap_or_default())
}

/// A line of a file; of a store the entry and where it is from.
fn cited(place: Span, sources: &Sources) -> String {
    let Some(entry) = entry_at(place) else { return sources.place(place) };
    let source = entry.source.map(|source| format!(": {source}")).unwrap_or_default();
    format!("store of {}, {}{source}", entry.store, entry.name)
}

/// The arithmetic with real numbers, or the words for it.
fn arithmetic(reason: &Reason) -> Option<String> {
    match &reason.how {
        How::Default(why) => Some(format!("a default: {why}")),
        How::Words(words) => Some(words.clone()),
        _ => reason.arithmetic(),
    }
}

/// The same tree for programs.
pub fn json_tree(reason: &Reason, sources: &Sources) -> String {
    pretty(&value(reason, sources)) + "\n"
}

fn value(reason: &Reason, sources: &Sources) -> Value {
    let entry = reason.place.and_then(entry_at);
    let place = reason.place.filter(|_| entry.is_none()).and_then(|place| {
        let source = sources.get(place.source)?;
        let (line, column) = source.line_column(place.start);
        Some(json!({ "file": &*source.name, "line": line, "column": column }))
    });
    let parts: Vec<Value> = reason.parts.iter().map(|part| value(part, sources)).collect();
    json!({
        "what": reason.what,
        "shown": reason.shown(),
        "exact": exact(&reason.amount),
        "how": arithmetic(reason),
        "default": matches!(reason.how, How::Default(_)),
        "place": place,
        "store": entry.map(|entry| {
            json!({ "name": entry.store, "entry": entry.name.as_str(), "source": entry.source })
        }),
        "parts": parts,
    })
}
