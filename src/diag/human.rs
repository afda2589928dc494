//! Findings for a person at a terminal, through miette.

use super::{Finding, Label, Level};
use crate::source::Sources;
use miette::{
    GraphicalReportHandler, GraphicalTheme, LabeledSpan, MietteDiagnostic, NamedSource, Severity,
};

/// Columns that a finding is wrapped to.
const WIDTH: usize = 90;

/// Writes one finding with its excerpt.
pub fn render(finding: &Finding, sources: &Sources, colour: bool) -> String {
    let theme = if colour { GraphicalTheme::unicode() } else { GraphicalTheme::unicode_nocolor() };
    let handler = GraphicalReportHandler::new_themed(theme)
        .with_width(WIDTH)
        .with_links(false)
        .with_context_lines(1)
        .with_primary_span_start()
        .without_syntax_highlighting();
    let home = sources.get(finding.span().source);
    let is_here = |label: &&Label| label.span.source == finding.span().source;
    let mut diagnostic = MietteDiagnostic::new(&finding.message)
        .with_code(finding.rule.name)
        .with_severity(severity(finding.level));
    if home.is_some() {
        let labels = finding.labels.iter().filter(is_here).enumerate();
        diagnostic = diagnostic.with_labels(labels.map(|(index, label)| {
            let text = (!label.text.is_empty()).then(|| label.text.clone());
            let range = label.span.range();
            match index {
                0 => LabeledSpan::new_primary_with_span(text, range),
                _ => LabeledSpan::new_with_span(text, range),
            }
        }));
    }
    let elsewhere = finding.labels.iter().filter(|label| !is_here(label));
    let elsewhere = elsewhere.map(|label| format!("{}: {}", sources.place(label.span), label.text));
    let allowed = finding.allowed.iter().map(|reason| format!("allowed: {reason}"));
    if let Some(help) = &finding.help {
        diagnostic = diagnostic.with_help(help);
    }
    let notes: Vec<String> =
        finding.notes.iter().cloned().chain(elsewhere).chain(allowed).collect();
    let handler = if notes.is_empty() {
        handler
    } else {
        handler.with_footer(format!("note: {}", notes.join("\nnote: ")))
    };
    let mut report = miette::Report::new(diagnostic);
    if let Some(source) = home {
        report = report.with_source_code(NamedSource::new(&*source.name, source.text.clone()));
    }
    let mut written = String::new();
    // Writing to a string can't fail; were it to, the first line still stands.
    if handler.render_report(&mut written, report.as_ref()).is_err() {
        written = format!("{}: {}\n", finding.level.word(), finding.message);
    }
    written
}

fn severity(level: Level) -> Severity {
    match level {
        Level::Error => Severity::Error,
        Level::Warning => Severity::Warning,
        Level::Note => Severity::Advice,
    }
}
