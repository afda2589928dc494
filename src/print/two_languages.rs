//! One print in two languages: whatever they say differently stands in both, one after the
//! other, for people at one bench who read different ones.

use super::document::Document;
use serde_json::Value;

/// What stands between the two.
const BETWEEN: &str = " / ";

/// Fields that are no words.
const NO_WORDS: [&str; 2] = ["language", "decimal_mark"];

/// Lists in which one place does not mean one thing: allergens are in the order of their
/// language's alphabet, and a caution is left out where the author's words say it.
const OF_OTHER_ORDER: [&str; 4] = ["contains", "may_contain", "contains_unknown", "cautions"];

/// The document of a formula with what a document of the same formula in another language
/// says beside it; its numbers have to be written alike.
///
/// # Errors
/// Where the joined words are no document again, which would be a slip of ours.
pub fn in_two(first: &Document, second: &Document) -> Result<Document, serde_json::Error> {
    let (mut both, second) = (serde_json::to_value(first)?, serde_json::to_value(second)?);
    join(&mut both, &second);
    let mut document: Document = serde_json::from_value(both)?;
    // A print in several languages is of none; readers aloud take the first.
    document.language = first.language.clone();
    Ok(document)
}

fn join(one: &mut Value, other: &Value) {
    match (one, other) {
        (Value::String(one), Value::String(other)) if one != other && !other.is_empty() => {
            *one = joined(one, other);
        }
        (Value::Array(one), Value::Array(other)) => {
            one.iter_mut().zip(other).for_each(|(one, other)| join(one, other));
        }
        (Value::Object(one), Value::Object(other)) => {
            for (key, value) in one {
                match other.get(key) {
                    Some(_) if NO_WORDS.contains(&key.as_str()) => (),
                    Some(Value::Array(others)) if OF_OTHER_ORDER.contains(&key.as_str()) => {
                        add(value, others);
                    }
                    Some(others) => join(value, others),
                    None => (),
                }
            }
        }
        _ => (),
    }
}

/// `Milch / lait`; what is empty says nothing.
fn joined(one: &str, other: &str) -> String {
    if one.is_empty() { other.to_owned() } else { format!("{one}{BETWEEN}{other}") }
}

/// All of one list, then what only the other has.
fn add(one: &mut Value, other: &[Value]) {
    if let Value::Array(one) = one {
        let more: Vec<Value> = other.iter().filter(|it| !one.contains(it)).cloned().collect();
        one.extend(more);
    }
}
