//! `allow-silences-nothing`: an `allow` that nothing in its formula needs.

use crate::diag::{Finding, Group, Level, Rule, nearest};
use crate::syntax::tree::{Allow, Formula};

pub const RULE: Rule = Rule {
    name: "allow-silences-nothing",
    level: Level::Warning,
    group: Group::Style,
    page: include_str!("allow_silences_nothing.md"),
};

/// Marks what a formula allows, and says which of its `allow`s nothing needs.
pub fn apply(formula: &Formula, findings: &mut Vec<Finding>, names: &[&str]) {
    let stages = formula.stages.iter().flat_map(|stage| &stage.allow);
    let allows: Vec<&Allow> = formula.allow.iter().chain(stages).collect();
    for allow in allows {
        let mut silenced = false;
        for finding in findings.iter_mut() {
            let own = finding.formula.as_ref() == Some(&formula.name.key);
            // An error is no matter of taste, a dough without salt excepted.
            let may = finding.level != Level::Error || finding.rule.group == Group::Salt;
            if own
                && may
                && finding.rule.name == allow.finding.key
                && finding.rule.name != RULE.name
            {
                let reason = allow.reason.as_ref().map(crate::formula::plain);
                finding.allowed = Some(reason.unwrap_or_default());
                silenced = true;
            }
        }
        if !silenced {
            let mut said = unneeded(allow, names);
            said.formula = Some(formula.name.key.clone());
            findings.push(said);
        }
    }
}

fn unneeded(allow: &Allow, names: &[&str]) -> Finding {
    let name = &allow.finding.shown;
    let errors = ["claim-refuted", "flour-not-100", "stage-takes-more-than-total"];
    if errors.contains(&name.as_str()) || name.starts_with("unknown-") {
        return Finding::new(
            &RULE,
            allow.span,
            format!("`{name}` is an error and can't be allowed"),
        )
        .help("mend what it is about");
    }
    if names.contains(&allow.finding.key.as_str()) {
        return Finding::new(&RULE, allow.span, format!("`allow {name}` silences nothing"))
            .help("remove it: what it allowed is not there any more");
    }
    let said = Finding::new(&RULE, allow.span, format!("there is no finding called `{name}`"));
    match nearest(&allow.finding.key, names.iter().copied()) {
        Some(near) => {
            said.help(format!("did you mean `{near}`?")).repair(allow.finding.span, near, false)
        }
        None => said.help("write the name that stands in brackets behind a finding"),
    }
}
