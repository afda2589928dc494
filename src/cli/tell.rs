//! What a person is told on standard error, and findings drawn for one.

use super::exit::Exit;
use super::streams;
use crate::desk::unwritable;
use crate::diag::{Finding, Level, render};
use crate::source::{Sources, visible};

/// A slip on the command line.
pub fn usage(message: &str) -> Exit {
    streams::error_text(format!("assize: {}\n", visible(&seen(message))));
    Exit::Usage
}

/// The most letters of what was typed that an answer repeats.
const MAX_QUOTED: usize = 200;

/// A word in backticks that holds nothing to see is shown in quotes.
fn seen(message: &str) -> String {
    let parts: Vec<&str> = message.split('`').collect();
    let quoted = parts.iter().enumerate().map(|(at, part)| {
        let is_word = at % 2 == 1 && at + 1 < parts.len();
        if is_word && part.chars().count() > MAX_QUOTED {
            return format!("{}…", part.chars().take(MAX_QUOTED).collect::<String>());
        }
        match is_word && part.trim().is_empty() {
            true => format!("\"{part}\""),
            false => (*part).to_owned(),
        }
    });
    quoted.collect::<Vec<_>>().join("`")
}

/// Draws findings for a person, with an empty line after each.
pub fn drawn<'f>(
    findings: impl IntoIterator<Item = &'f Finding>,
    sources: &Sources,
    colour: bool,
) -> String {
    let each = findings.into_iter();
    each.map(|finding| render(finding, sources, colour).trim_end().to_owned() + "\n\n").collect()
}

/// `2 errors, 1 warning`.
pub fn counted(findings: &[&Finding]) -> String {
    let count = |level| {
        let count =
            findings.iter().filter(|finding| finding.level == level && finding.allowed.is_none());
        count.count()
    };
    let plural = |count: usize, word: &str| match count {
        1 => format!("1 {word}"),
        count => format!("{count} {word}s"),
    };
    let mut parts = Vec::new();
    for (level, word) in
        [(Level::Error, "error"), (Level::Warning, "warning"), (Level::Note, "note")]
    {
        if count(level) > 0 {
            parts.push(plural(count(level), word));
        }
    }
    parts.join(", ")
}

/// Tells findings of error level and warnings on standard error; files that can't be
/// written for the same reason are told together.
pub fn tell_on_error(findings: &[Finding], sources: &Sources) {
    let findings = unwritable::joined(findings);
    let is_serious = |finding: &&Finding| finding.level != Level::Note && finding.allowed.is_none();
    let serious = findings.iter().filter(is_serious);
    let told = drawn(serious, sources, streams::colour(&std::io::stderr()));
    if !told.is_empty() {
        streams::error_text(told);
    }
}

#[cfg(test)]
mod tests {
    use super::seen;

    #[test]
    fn what_stands_in_backticks_can_be_seen() {
        for (message, shown) in [
            ("there is no time zone ``: write one", "there is no time zone `\"\"`: write one"),
            ("`  ` is not a figure: write `dough`", "`\"  \"` is not a figure: write `dough`"),
            ("there is no pier ", "there is no pier "),
            ("a lone ` stays", "a lone ` stays"),
        ] {
            assert_eq!(seen(message), shown);
        }
    }
}
