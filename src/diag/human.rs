//! Findings for a person: drawn for a terminal through miette, or told in sentences for a
//! screen reader.

mod excerpt;

use super::{Finding, Label, Level};
use crate::source::{Sources, one_line, visible};
use excerpt::Excerpt;
use miette::{
    GraphicalReportHandler, GraphicalTheme, LabeledSpan, MietteDiagnostic, Report, Severity,
};

/// Columns that a finding is wrapped to.
const WIDTH: usize = 90;

/// Draws one finding with its excerpt.
pub fn render(finding: &Finding, sources: &Sources, colour: bool) -> String {
    let theme = if colour { GraphicalTheme::unicode() } else { GraphicalTheme::unicode_nocolor() };
    let mut handler = GraphicalReportHandler::new_themed(theme)
        .with_width(WIDTH)
        .with_links(false)
        .with_context_lines(1)
        .with_primary_span_start()
        .without_syntax_highlighting();
    let notes = notes(finding, sources);
    if !notes.is_empty() {
        let notes = format!("note: {}", notes.join("\nnote: "));
        handler = handler.with_footer(visible(&notes).into_owned());
    }
    let mut written = String::new();
    let done = handler.render_report(&mut written, report(finding, sources).as_ref());
    // Writing to a string can't fail; were it to, the first line still stands.
    if done.is_err() { first_line(finding) } else { written }
}

/// Tells one finding in sentences, without any drawing.
pub fn narrate(finding: &Finding, sources: &Sources) -> String {
    let level = finding.level.word();
    let level = level[..1].to_uppercase() + &level[1..];
    let mut told = format!("{level}: {}.\n", finding.message.trim_end_matches('.'));
    for (index, label) in finding.labels.iter().enumerate() {
        let Some(source) = sources.get(label.span.source) else { continue };
        let (line, column) = source.line_column(label.span.start);
        let words = source.under(label.span).lines().next().unwrap_or("");
        let word = if index == 0 { "In" } else { "Also in" };
        told.push_str(&format!("{word} {}, line {line}, column {column}: `{words}`", source.name));
        let text = if label.text.is_empty() { String::new() } else { format!(", {}", label.text) };
        told.push_str(&format!("{text}.\n"));
    }
    for note in &finding.notes {
        told.push_str(&format!("The arithmetic: {note}.\n"));
    }
    if let Some(help) = &finding.help {
        let end = if help.ends_with('?') { "" } else { "." };
        told.push_str(&format!("What to do: {}{end}\n", help.trim_end_matches('.')));
    }
    if let Some(reason) = &finding.allowed {
        told.push_str(&format!("It is allowed: {reason}\n"));
    }
    told.push_str(&format!("Its name: {}{}.\n", finding.rule.name, finding.where_in_words()));
    visible(&told).into_owned()
}

fn first_line(finding: &Finding) -> String {
    format!("{}: {}\n", finding.level.word(), one_line(&finding.message))
}

/// The arithmetic, places in other files, and the reason it is allowed.
fn notes(finding: &Finding, sources: &Sources) -> Vec<String> {
    let elsewhere = finding.labels.iter().filter(|label| !is_at_home(finding, label));
    let elsewhere = elsewhere.map(|label| format!("{}: {}", sources.place(label.span), label.text));
    let allowed = finding.allowed.iter().map(|reason| format!("allowed: {reason}"));
    finding.notes.iter().cloned().chain(elsewhere).chain(allowed).collect()
}

/// Whether a place lies in the text of the primary one.
fn is_at_home(finding: &Finding, label: &Label) -> bool {
    label.span.source == finding.span().source
}

fn report(finding: &Finding, sources: &Sources) -> Report {
    let mut diagnostic = MietteDiagnostic::new(visible(&finding.message))
        .with_code(format!("{}{}", finding.rule.name, finding.where_in_words()))
        .with_severity(severity(finding.level));
    if let Some(help) = &finding.help {
        diagnostic = diagnostic.with_help(visible(help));
    }
    let Some(source) = sources.get(finding.span().source) else { return Report::new(diagnostic) };
    let labels: Vec<&Label> = finding.labels.iter().filter(|it| is_at_home(finding, it)).collect();
    let places: Vec<_> = labels.iter().map(|label| label.span.range()).collect();
    let excerpt = Excerpt::new(source, &places);
    let labels = labels.iter().enumerate().map(|(index, label)| {
        let text = (!label.text.is_empty()).then(|| visible(&label.text).into_owned());
        let range = excerpt.place(&label.span.range());
        match index {
            0 => LabeledSpan::new_primary_with_span(text, range),
            _ => LabeledSpan::new_with_span(text, range),
        }
    });
    Report::new(diagnostic.with_labels(labels)).with_source_code(excerpt)
}

fn severity(level: Level) -> Severity {
    match level {
        Level::Error => Severity::Error,
        Level::Warning => Severity::Warning,
        Level::Note => Severity::Advice,
    }
}
