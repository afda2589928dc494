//! `ingredient-never-added`: something in the mix that no step adds.

use super::context::Context;
use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::{Trouble, key};
use crate::quantity::display::percent;
use crate::source::Span;
use ecow::EcoString;

/// `ingredient-never-added`, an error about the method.
pub const RULE: Rule = Rule {
    name: "ingredient-never-added",
    level: Level::Error,
    group: Group::Method,
    page: include_str!("ingredient_never_added.md"),
};

/// Adds what it finds in a formula to `findings`.
pub fn check(context: &Context, findings: &mut Vec<Finding>) {
    let mut told: Vec<Span> = Vec::new();
    for (method, trouble) in context.method_troubles() {
        let Trouble::Never { name, missing, line_span, beside } = trouble else { continue };
        if missing.is_one() && is_misnamed(context, method.span, name) {
            continue;
        }
        let together = never_added(context, method.span);
        if missing.is_one() && !beside && together.len() > 1 {
            if !told.contains(&method.span) {
                told.push(method.span);
                findings.push(several(&together, method.span));
            }
            continue;
        }
        let how = match missing.is_one() {
            true => format!("no step adds `{name}`"),
            false => format!("{} % of `{name}` is added by no step", percent(missing, 1)),
        };
        let help = match (missing.is_one(), beside) {
            (_, true) => format!("say where it goes on: `top with {name}`"),
            (true, false) => {
                format!("say where it goes in: `mix 6min with {name}`, or `everything else`")
            }
            (false, false) => format!("say where the rest goes in: `with remaining {name}`"),
        };
        let said = Finding::new(&RULE, *line_span, how).label(method.span, "none of these steps");
        findings.push(said.help(help));
    }
}

/// What no step of a method adds any of, with the place of its line.
fn never_added<'c>(context: &'c Context, method: Span) -> Vec<(&'c str, Span)> {
    let own = context.method_troubles().filter(|(it, _)| it.span == method);
    let never = own.filter_map(|(_, trouble)| match trouble {
        Trouble::Never { name, missing, line_span, beside: false } if missing.is_one() => {
            Some((name.as_str(), *line_span))
        }
        _ => None,
    });
    never.filter(|(name, _)| !is_misnamed(context, method, name)).collect()
}

/// The most names that are said of those that no step adds.
const MAX_NAMED: usize = 4;

/// Several things that no step adds: one slip, mostly a step that does not say what goes in.
fn several(together: &[(&str, Span)], method: Span) -> Finding {
    let mut names: Vec<String> =
        together.iter().take(MAX_NAMED).map(|(name, _)| format!("`{name}`")).collect();
    let more = together.len() - names.len();
    let last = match more {
        0 => names.pop().unwrap_or_default(),
        more => format!("{more} more"),
    };
    let message = format!("no step adds {} and {last}", names.join(", "));
    let first = together.first().map(|(_, span)| *span).unwrap_or_default();
    Finding::new(&RULE, first, message).label(method, "none of these steps").help(
        "say what goes in where it is mixed, with commas between the names, or \
         `mix 6min with everything else`",
    )
}

/// Whether a step of the method adds it under a name that the mix does not have: that is the
/// slip then, and this follows from it.
fn is_misnamed(context: &Context, method: Span, name: &str) -> bool {
    let own = context.method_troubles().filter(|(it, _)| it.span == method);
    let troubles: Vec<&Trouble> = own.map(|(_, trouble)| trouble).collect();
    let unknown = troubles.iter().filter_map(|it| match it {
        Trouble::Unknown { near, .. } => Some(near.as_slice()),
        _ => None,
    });
    let unknown: Vec<&[EcoString]> = unknown.collect();
    // `sunflower seeds sesame seeds`: two names without their comma.
    let is_within = |name: &str| {
        let name = key(name);
        let is_flour = context.line_of_flour(&name);
        troubles.iter().any(|it| match it {
            Trouble::Unknown { name: said, .. } => {
                said.key.len() > name.len() && said.key.contains(name.as_str())
                    || is_flour && said.key.starts_with("flours ")
            }
            _ => false,
        })
    };
    if is_within(name) {
        return true;
    }
    let is_meant = |name: &str| {
        let key = key(name);
        unknown.iter().any(|near| near.contains(&key))
    };
    let left = troubles.iter().filter(|it| match it {
        Trouble::Never { name, missing, .. } => missing.is_one() && !is_meant(name),
        _ => false,
    });
    is_meant(name) || left.count() <= unknown.iter().filter(|near| near.is_empty()).count()
}
