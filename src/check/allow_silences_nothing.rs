//! `allow-silences-nothing`: an `allow` that nothing in its formula needs.

use super::missing_salt;
use crate::diag::{Finding, Group, Level, Rule, nearest};
use crate::syntax::tree::{Allow, Formula};

pub const RULE: Rule = Rule {
    name: "allow-silences-nothing",
    level: Level::Warning,
    group: Group::Style,
    page: include_str!("allow_silences_nothing.md"),
};

/// Marks what a formula allows, and says which of its `allow`s nothing needs.
pub fn apply(formula: &Formula, findings: &mut Vec<Finding>, rules: &[&Rule]) {
    let stages = formula.stages.iter().flat_map(|stage| &stage.allow);
    let allows: Vec<&Allow> = formula.allow.iter().chain(stages).collect();
    for allow in allows {
        let mut silenced = false;
        let mut refused = false;
        for finding in findings.iter_mut() {
            let own = finding.formula.as_ref() == Some(&formula.name.key);
            if !own || finding.rule.name != allow.finding.key || finding.rule.name == RULE.name {
                continue;
            }
            if may_be_allowed(finding.rule, finding.level) {
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
        let is_known = rules
            .iter()
            .any(|rule| rule.name == allow.finding.key && may_be_allowed(rule, rule.level));
        if !silenced && (refused || !half_checked || !is_known) {
            let mut said = unneeded(allow, refused, rules);
            said.formula = Some(formula.name.key.clone());
            findings.push(said);
        }
    }
}

/// An error is no matter of taste, a dough without salt excepted.
fn may_be_allowed(rule: &Rule, level: Level) -> bool {
    level != Level::Error || rule.name == missing_salt::RULE.name
}

/// `refused` says that the finding is there, as an error.
fn unneeded(allow: &Allow, refused: bool, rules: &[&Rule]) -> Finding {
    let name = &allow.finding.shown;
    let key = allow.finding.key.as_str();
    let meant = rules.iter().find(|rule| rule.name == key);
    if refused || meant.is_some_and(|rule| !may_be_allowed(rule, rule.level)) {
        return Finding::new(
            &RULE,
            allow.span,
            format!("`{name}` is an error and can't be allowed"),
        )
        .help("mend what it is about");
    }
    if meant.is_some() {
        return Finding::new(&RULE, allow.span, format!("`allow {name}` silences nothing"))
            .help("remove it: what it allowed is not there any more");
    }
    let said = Finding::new(&RULE, allow.span, format!("there is no finding called `{name}`"));
    let may = rules.iter().filter(|rule| may_be_allowed(rule, rule.level));
    match nearest(key, may.map(|rule| rule.name)) {
        Some(near) => {
            said.help(format!("did you mean `{near}`?")).repair(allow.finding.span, near, false)
        }
        None => said.help("write the name that stands with a finding, such as `salt-high`"),
    }
}
