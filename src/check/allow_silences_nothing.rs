//! `allow-silences-nothing`: an `allow` that nothing in its formula needs.

use crate::diag::{Finding, Group, Level, Rule, nearest};
use crate::source::Span;
use crate::syntax::tree::{Allow, Formula};

/// `allow-silences-nothing`, a warning about what is usual.
pub const RULE: Rule = Rule {
    name: "allow-silences-nothing",
    level: Level::Warning,
    group: Group::Style,
    page: include_str!("allow_silences_nothing.md"),
};

/// Marks what a formula allows, and says which of its `allow`s nothing needs.
/// `judges` says of a rule whether somebody may mean what it calls an error.
pub fn apply(
    formula: &Formula,
    findings: &mut Vec<Finding>,
    rules: &[&Rule],
    judges: fn(&Rule) -> bool,
) {
    // An error is no matter of taste, except where it judges the bread and not the sums:
    // somebody may mean a dough without salt, or an oven for drying.
    let may_be_allowed = |rule: &Rule, level: Level| level != Level::Error || judges(rule);
    for (allow, about) in allows(formula) {
        let mut silenced = false;
        let mut refused = false;
        for finding in findings.iter_mut() {
            let own = finding.formula.as_ref() == Some(&formula.name.key);
            let is_meant =
                own && finding.rule.name == allow.finding.key && finding.rule.name != RULE.name;
            if !is_meant || about.is_some_and(|about| !is_about(about, finding)) {
                continue;
            }
            let of_text = about.is_some() && has_reason(allow) && is_of_texts(finding.rule);
            if of_text || may_be_allowed(finding.rule, finding.level) {
                let reason = allow.reason.as_ref().map(crate::formula::plain);
                finding.allowed = Some(reason.unwrap_or_default());
                silenced = true;
            } else {
                refused = true;
            }
        }
        // In a formula with an error not every rule has been asked.
        let is_error = |finding: &Finding| {
            finding.level == Level::Error
                && finding.allowed.is_none()
                && finding.formula.as_ref() == Some(&formula.name.key)
        };
        let half_checked = formula.broken || findings.iter().any(is_error);
        let meant = rules.iter().find(|rule| rule.name == allow.finding.key);
        // What is too much for a mixer or too little for a scale depends on how much is made.
        let depends = meant.is_some_and(|rule| rule.group == Group::Prints);
        let is_known = meant.is_some_and(|rule| may_be_allowed(rule, rule.level));
        if !silenced && !depends && (refused || !half_checked || !is_known) {
            let mut said = unneeded(allow, refused, rules, may_be_allowed);
            said.formula = Some(formula.name.key.clone());
            findings.push(said);
        }
    }
}

/// What is said of a text, where somebody may mean it of another bread: then the text says so
/// itself, with a reason, and `check` prints both.
const OF_TEXTS: [&str; 2] = ["absence-in-text", "claim-not-proved"];

/// Whether it judges what texts say of what is in the bread.
pub fn is_of_texts(rule: &Rule) -> bool {
    OF_TEXTS.contains(&rule.name)
}

fn has_reason(allow: &Allow) -> bool {
    let reason = allow.reason.as_ref().map(crate::formula::plain);
    reason.is_some_and(|reason| !reason.trim().is_empty())
}

/// Whether a finding is about some words: it stands in them, or shows them beside a claim.
fn is_about(words: Span, finding: &Finding) -> bool {
    let shows = || finding.labels.iter().any(|label| holds(words, label.span));
    holds(words, finding.span()) || is_of_texts(finding.rule) && shows()
}

/// Every `allow` of a formula, and the words that it is about where it is not about all.
fn allows(formula: &Formula) -> Vec<(&Allow, Option<Span>)> {
    let stages = formula.stages.iter();
    let of_all = formula.allow.iter().chain(stages.clone().flat_map(|stage| &stage.allow));
    let texts = formula.texts.iter().chain(stages.clone().flat_map(|stage| &stage.texts));
    let of_texts =
        texts.flat_map(|words| words.allow.iter().map(|allow| (allow, Some(words.text.span))));
    let methods = stages.filter_map(|stage| stage.method.as_ref()).chain(&formula.method);
    let steps = methods.flat_map(|method| &method.steps);
    let of_steps = steps.flat_map(|step| step.allow.iter().map(|allow| (allow, Some(step.span))));
    of_all.map(|allow| (allow, None)).chain(of_texts).chain(of_steps).collect()
}

fn holds(outer: Span, inner: Span) -> bool {
    outer.source == inner.source && outer.start <= inner.start && inner.end <= outer.end
}

/// An `allow` of a finding that is not there.
pub fn idle(span: Span, name: &str) -> Finding {
    Finding::new(&RULE, span, format!("`allow {name}` silences nothing"))
        .help("remove it: what it allowed is no longer there")
}

/// `refused` says that the finding is there, as an error.
fn unneeded(
    allow: &Allow,
    refused: bool,
    rules: &[&Rule],
    may_be_allowed: impl Fn(&Rule, Level) -> bool,
) -> Finding {
    let name = &allow.finding.shown;
    let key = allow.finding.key.as_str();
    let meant = rules.iter().find(|rule| rule.name == key);
    if let Some(rule) = meant.filter(|rule| refused && is_of_texts(rule)) {
        let message = format!("`{name}` is allowed only where the text stands, and with a reason");
        let example = format!("write it after the text: `note \"…\" allow {} \"why\"`", rule.name);
        return Finding::new(&RULE, allow.span, message).help(example);
    }
    let is_text = meant.is_some_and(|rule| is_of_texts(rule));
    if refused || !is_text && meant.is_some_and(|rule| !may_be_allowed(rule, rule.level)) {
        return Finding::new(
            &RULE,
            allow.span,
            format!("`{name}` is an error and can't be allowed"),
        )
        .help("fix what it reports");
    }
    if meant.is_some() {
        return idle(allow.span, name);
    }
    let said = Finding::new(&RULE, allow.span, format!("there is no finding called `{name}`"));
    let may = rules.iter().filter(|rule| may_be_allowed(rule, rule.level));
    match nearest(key, may.map(|rule| rule.name)) {
        Some(near) => {
            said.help(format!("did you mean `{near}`?")).repair(allow.finding.span, near, false)
        }
        None => said.help("write the name that a finding shows, such as `salt-high`"),
    }
}
