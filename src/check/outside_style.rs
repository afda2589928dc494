//! `outside-style`: a figure outside the style that the formula names.

use super::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::{Figure, Kind, Within};

pub const RULE: Rule = Rule { name: "outside-style", level: Level::Warning, group: Group::Style };

pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let (Some(style), Some(named)) = (context.style, &context.worked.formula.style) else { return };
    for bound in &style.bounds {
        let Some(figure) = Figure::read(&bound.what.name.key) else { continue };
        let within = match &bound.place {
            Some(place) => match context.worked.within(&place.key) {
                Some(within) => within,
                None => continue,
            },
            None => Within::All,
        };
        let Some(values) = context.worked.figure(context.house, &figure, within) else { continue };
        let range = context.range(&bound.range);
        let flour = context.flour();
        let shares = values.iter().map(|value| match value.kind {
            Kind::Mass if !flour.is_zero() && bound.is_share() => &value.amount / flour,
            _ => value.amount.clone(),
        });
        let Some(outside) = shares.into_iter().find(|share| !range.holds(share)) else { continue };
        let label = &bound.what.name.shown;
        let span = context.figure_span(&figure).unwrap_or(named.span);
        let mut said = Finding::new(
            &RULE,
            span,
            format!(
                "{label} is {}, outside the {} of the style `{}`",
                context.show(&outside, bound.is_share()),
                super::show_range(&range),
                style.name.shown
            ),
        );
        if span != named.span {
            said = said.label(named.span, "the style it names");
        }
        findings.push(
            said.help(
                "bring it inside, name another style, or say why: `allow outside-style \"…\"`",
            ),
        );
    }
}
