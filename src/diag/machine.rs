//! Findings for other programs: one line each, JSON, SARIF 2.1.0 and CI annotations.

use super::{Finding, Label, Level, Rule};
use crate::source::{Sources, Span, one_line, unseen_by_number};
use schemars::JsonSchema;
use serde::Serialize;
use serde_json::{Value, json};

/// The version of the JSON form; it grows when a field changes its meaning.
pub const VERSION: u32 = 1;

/// All findings of a run.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Report {
    /// The version of this form.
    pub version: u32,
    /// In the order of files and places.
    pub findings: Vec<FindingRecord>,
    /// Findings by level; what is allowed is not counted.
    pub errors: usize,
    /// Likewise, those of level warning.
    pub warnings: usize,
    /// Likewise, those of level note.
    pub notes: usize,
}

/// One finding.
#[derive(Debug, Serialize, JsonSchema)]
pub struct FindingRecord {
    /// The readable name of its rule: `flour-not-100`.
    pub name: &'static str,
    /// `error`, `warning` or `note`.
    pub level: &'static str,
    /// Stands alone in one line.
    pub message: String,
    /// Where; absent for what has no place in a text.
    pub place: Option<FileStretch>,
    /// Other places that belong to it, each with a few words.
    pub others: Vec<Other>,
    /// The arithmetic.
    pub notes: Vec<String>,
    /// What to do.
    pub help: Option<String>,
    /// A change of the text that repairs it.
    pub repair: Option<RepairEntry>,
    /// The formula it was found in.
    pub formula: Option<String>,
    /// The reason for which it is allowed.
    pub allowed: Option<String>,
}

/// A stretch of a file.
#[derive(Debug, Serialize, JsonSchema)]
pub struct FileStretch {
    /// As it was given on the command line, or found from there.
    pub file: String,
    /// Its first character.
    pub start: Point,
    /// The first character after it.
    pub end: Point,
}

/// A point of a file.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Point {
    /// From one.
    pub line: usize,
    /// In characters, from one.
    pub column: usize,
    /// Bytes before it.
    pub byte: u32,
}

/// Another place that a finding points at.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Other {
    /// Where it is.
    pub place: FileStretch,
    /// What is there: `claimed here`.
    pub words: String,
}

/// One replacement of a repair.
#[derive(Debug, Serialize, JsonSchema)]
pub struct RepairEntry {
    /// What is replaced; empty where something is only put in.
    pub place: FileStretch,
    /// What to write there instead.
    pub text: String,
    /// Whether it never changes what the author meant.
    pub safe: bool,
}

fn place(sources: &Sources, span: Span) -> Option<FileStretch> {
    let source = sources.get(span.source)?;
    let point = |byte: u32| {
        let (line, column) = source.line_column(byte);
        Point { line, column, byte }
    };
    Some(FileStretch {
        file: source.name.to_string(),
        start: point(span.start),
        end: point(span.end),
    })
}

fn entry(finding: &Finding, sources: &Sources) -> FindingRecord {
    let other = |label: &Label| {
        Some(Other { place: place(sources, label.span)?, words: label.text.clone() })
    };
    FindingRecord {
        name: finding.rule.name,
        level: finding.level.word(),
        message: finding.message.clone(),
        place: place(sources, finding.span()),
        others: finding.labels.iter().skip(1).filter_map(other).collect(),
        notes: finding.notes.clone(),
        help: finding.help.clone(),
        repair: finding.repair.as_ref().and_then(|repair| {
            let place = place(sources, repair.span)?;
            Some(RepairEntry { place, text: repair.text.clone(), safe: repair.safe })
        }),
        formula: finding.formula.as_ref().map(ToString::to_string),
        allowed: finding.allowed.clone(),
    }
}

/// JSON for programs and people, indented.
///
/// # Panics
/// Where a value of ours is none that JSON can say: a bug of ours is told as one, and never
/// written as an empty page.
#[allow(clippy::expect_used, reason = "our own types, all with text for keys")]
pub fn pretty(value: &impl Serialize) -> String {
    unseen_by_number(serde_json::to_string_pretty(value).expect("our documents have text for keys"))
}

/// The JSON form.
pub fn json_form(findings: &[&Finding], sources: &Sources) -> String {
    let count = |level| {
        let told = findings.iter().filter(|finding| finding.allowed.is_none());
        told.filter(|finding| finding.level == level).count()
    };
    let report = Report {
        version: VERSION,
        findings: findings.iter().map(|finding| entry(finding, sources)).collect(),
        errors: count(Level::Error),
        warnings: count(Level::Warning),
        notes: count(Level::Note),
    };
    pretty(&report) + "\n"
}

/// The published JSON Schema of the JSON form.
#[cfg_attr(closed, allow(dead_code, reason = "a test holds the published file to it"))]
pub fn schema() -> String {
    let schema = schemars::schema_for!(Report);
    pretty(&schema)
}

/// One line a finding: `file:line:col: level[name] in formula: message`.
pub fn short(findings: &[&Finding], sources: &Sources) -> String {
    let line = |finding: &&Finding| {
        let place = place(sources, finding.span())
            .map(|place| format!("{}:{}:{}: ", place.file, place.start.line, place.start.column));
        let line = format!(
            "{}{}[{}]{}: {}",
            place.unwrap_or_default(),
            finding.level.word(),
            finding.rule.name,
            finding.where_in_words(),
            finding.message
        );
        format!("{}\n", one_line(&line))
    };
    findings.iter().map(line).collect()
}

/// Commands for the log of a CI run that turn into marks beside the lines of a change.
pub fn annotations(findings: &[&Finding], sources: &Sources) -> String {
    let escape = |text: &str| text.replace('%', "%25").replace('\r', "%0D").replace('\n', "%0A");
    let property = |text: &str| escape(text).replace(':', "%3A").replace(',', "%2C");
    let line = |finding: &&Finding| {
        let word = if finding.level == Level::Note { "notice" } else { finding.level.word() };
        let place = place(sources, finding.span()).map(|place| {
            format!(
                "file={},line={},endLine={},col={},",
                property(&place.file),
                place.start.line,
                place.end.line,
                place.start.column
            )
        });
        let help = finding.help.as_ref().map(|help| format!("\n{help}")).unwrap_or_default();
        let notes = finding.notes.iter().map(|note| format!("\n{note}")).collect::<String>();
        let message = escape(&format!("{}{notes}{help}", finding.message));
        let title = property(&format!("{}{}", finding.rule.name, finding.where_in_words()));
        let line = format!("::{word} {}title={title}::{message}", place.unwrap_or_default());
        format!("{}\n", one_line(&line))
    };
    findings.iter().map(line).collect()
}

/// The SARIF 2.1.0 form (OASIS standard); `rules` are all there are.
pub fn sarif(
    findings: &[&Finding],
    sources: &Sources,
    rules: impl Iterator<Item = &'static Rule>,
) -> String {
    let rules: Vec<&Rule> = rules.collect();
    let descriptors: Vec<Value> = rules
        .iter()
        .map(|rule| {
            json!({
                "id": rule.name,
                "help": { "text": rule.page, "markdown": rule.page },
                "defaultConfiguration": { "level": rule.level.word() },
            })
        })
        .collect();
    let results: Vec<Value> =
        findings.iter().map(|finding| result(finding, sources, &rules)).collect();
    let log = json!({
        "$schema": "https://json.schemastore.org/sarif-2.1.0.json",
        "version": "2.1.0",
        "runs": [{
            "tool": { "driver": {
                "name": "assize",
                "version": env!("CARGO_PKG_VERSION"),
                "rules": descriptors,
            }},
            "columnKind": "unicodeCodePoints",
            "results": results,
        }],
    });
    pretty(&log) + "\n"
}

fn result(finding: &Finding, sources: &Sources, rules: &[&Rule]) -> Value {
    let mut text = finding.message.clone();
    for more in finding.notes.iter().chain(&finding.help) {
        text.push('\n');
        text.push_str(more);
    }
    let mut result = json!({
        "ruleId": finding.rule.name,
        "level": finding.level.word(),
        "message": { "text": text },
    });
    if let Some(index) = rules.iter().position(|rule| rule.name == finding.rule.name) {
        result["ruleIndex"] = json!(index);
    }
    if let Some(location) = location(sources, finding.span(), None) {
        result["locations"] = json!([location]);
    }
    let others = finding.labels.iter().skip(1);
    let others: Vec<Value> =
        others.filter_map(|label| location(sources, label.span, Some(&label.text))).collect();
    if !others.is_empty() {
        result["relatedLocations"] = json!(others);
    }
    if let Some(reason) = &finding.allowed {
        result["suppressions"] = json!([{ "kind": "inSource", "justification": reason }]);
    }
    if let Some(repair) = &finding.repair
        && let Some(place) = place(sources, repair.span)
    {
        result["fixes"] = json!([{
            "artifactChanges": [{
                "artifactLocation": { "uri": uri(&place.file) },
                "replacements": [{
                    "deletedRegion": region(&place),
                    "insertedContent": { "text": repair.text },
                }],
            }],
        }]);
    }
    result
}

fn location(sources: &Sources, span: Span, words: Option<&str>) -> Option<Value> {
    let place = place(sources, span)?;
    let mut location = json!({
        "physicalLocation": {
            "artifactLocation": { "uri": uri(&place.file) },
            "region": region(&place),
        },
    });
    if let Some(words) = words.filter(|words| !words.is_empty()) {
        location["message"] = json!({ "text": words });
    }
    Some(location)
}

fn region(place: &FileStretch) -> Value {
    json!({
        "startLine": place.start.line,
        "startColumn": place.start.column,
        "endLine": place.end.line,
        "endColumn": place.end.column,
    })
}

/// A path as a relative or absolute URI reference.
fn uri(path: &str) -> String {
    let mut uri = String::new();
    for byte in path.bytes() {
        match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'~' | b'/' => {
                uri.push(char::from(byte));
            }
            other => uri.push_str(&format!("%{other:02X}")),
        }
    }
    if uri.starts_with('/') { format!("file://{uri}") } else { uri }
}
