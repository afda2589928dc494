//! `hides-nothing`: `hide` of something that the worksheet does not show.

use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;

/// `hides-nothing`, a warning about booklets.
pub const RULE: Rule = Rule {
    name: "hides-nothing",
    level: Level::Warning,
    group: Group::Text,
    page: include_str!("hides_nothing.md"),
};

/// Something that stands on no cell of the sheet, with the figures and the columns that it has.
pub fn finding(span: Span, words: &str, figures: &[&str], columns: &[&str]) -> Finding {
    let list =
        |names: &[&str]| names.iter().map(|it| format!("`{it}`")).collect::<Vec<_>>().join(", ");
    let figures = match figures {
        [] => "no figure".to_owned(),
        [one] => format!("the figure `{one}`"),
        all => format!("the figures {}", list(all)),
    };
    let shows = format!(
        "its table shows {figures}, and a weight and a percentage for each line in {}",
        list(columns)
    );
    Finding::new(&RULE, span, format!("there is no `{words}` on this worksheet to hide"))
        .note(shows)
        .help(
            "hide a figure, a weight as `water`, a percentage as `water %`, or `weights in` a mix",
        )
}
