//! `assize explain`: the page of a finding.

use super::args::Explain;
use super::{Exit, streams, usage};
use crate::desk;
use crate::diag::nearest;

pub fn run(args: &Explain) -> Exit {
    let Some(name) = &args.name else {
        let each = desk::rules().map(|rule| format!("{:8} {}\n", rule.level.word(), rule.name));
        return streams::output(each.collect::<String>());
    };
    let wanted = name.to_lowercase();
    match desk::rules().find(|rule| rule.name == wanted) {
        Some(rule) => streams::output(rule.page),
        None => usage(&match nearest(&wanted, desk::rules().map(|rule| rule.name)) {
            Some(near) => format!("there is no finding `{name}`; did you mean `{near}`?"),
            None => format!("there is no finding `{name}`; `assize explain` lists them all"),
        }),
    }
}
