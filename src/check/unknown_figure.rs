//! `unknown-figure`: a claim about something that has no name here.

use super::Context;
use super::claims::Verdict;
use crate::diag::nearest;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Figure;
use crate::syntax::tree::Target;

pub const RULE: Rule = Rule { name: "unknown-figure", level: Level::Error, group: Group::Names };

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    for (claim, verdict) in context.verdicts() {
        match verdict {
            Verdict::Unknown => findings.push(unknown(context, &claim.what)),
            Verdict::UnknownPlace => {
                let Some(place) = &claim.place else { continue };
                let near = nearest(&place.key, context.places());
                let said = Finding::new(
                    &RULE,
                    place.span,
                    format!("this formula has no mix called `{}`", place.shown),
                );
                findings.push(match near {
                    Some(near) => {
                        said.help(format!("did you mean `{near}`?")).repair(place.span, near, false)
                    }
                    None => said.help("name a stage, or `final dough`, or `pieces`"),
                });
            }
            _ => {}
        }
    }
    let Some(style) = context.style else { return };
    if style.span.source.is_built_in() {
        return;
    }
    for bound in style.bounds.iter().filter(|bound| Figure::read(&bound.what.name.key).is_none()) {
        findings.push(unknown(context, &bound.what));
    }
}

fn unknown(context: &Context, what: &Target) -> Finding {
    let names: Vec<String> =
        Figure::names().map(str::to_owned).chain(context.line_names()).collect();
    let said = Finding::new(
        &RULE,
        what.name.span,
        format!("`{}` is neither a figure nor anything in this formula", what.name.shown),
    );
    match nearest(&what.name.key, names.iter().map(String::as_str)) {
        Some(near) => {
            said.help(format!("did you mean `{near}`?")).repair(what.name.span, near, false)
        }
        None => said.help(
            "a claim names a figure (`hydration`, `salt`, `dough`), an ingredient or a stage",
        ),
    }
}
