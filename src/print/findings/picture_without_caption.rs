//! `picture-without-caption`: a picture that nothing describes.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `picture-without-caption`, an error about booklets.
pub const RULE: Rule = Rule {
    name: "picture-without-caption",
    level: Level::Error,
    group: Group::Text,
    page: include_str!("picture_without_caption.md"),
};

/// A picture without words.
pub fn finding(span: Span, file: &str) -> Finding {
    Finding::new(&RULE, span, format!("nothing says what `{file}` shows"))
        .help("write it after the file: `picture \"levain.svg\" \"Ripe: domed, and just beginning to dimple\"`")
}
