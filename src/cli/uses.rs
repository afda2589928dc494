//! `assize uses`: who uses a thing, and what a formula rests on.

use super::args::{Uses, UsesFormat};
use super::asked::{find, loaded};
use super::exit::Exit;
use super::streams;
use super::tell::{tell_on_error, usage};
use crate::desk;
use crate::diag::nearest;
use crate::formula::key;
use crate::history::uses;
use std::ffi::OsStr;

/// Looks a name or a formula up, and tells the tree.
pub fn run(args: &Uses) -> Exit {
    match &args.of {
        Some(formula) => rests_on(args, formula),
        None => users(args),
    }
}

fn users(args: &Uses) -> Exit {
    let name = args.name.join(" ");
    let loaded = match loaded(&[]) {
        Ok(loaded) => loaded,
        Err(exit) => return exit,
    };
    let bakehouses = desk::bakehouses(&loaded);
    if let Some(uses) = uses::users_of(&bakehouses, &loaded.sources, &name) {
        return told(args, &uses);
    }
    if !loaded.is_whole() {
        tell_on_error(&loaded.findings, &loaded.sources);
        return Exit::Findings;
    }
    let wanted = key(&name);
    usage(&match nearest(&wanted, uses::names_of(&bakehouses)) {
        Some(near) => format!("nothing here is called `{name}`; did you mean `{near}`?"),
        None => format!("nothing here is called `{name}`"),
    })
}

fn rests_on(args: &Uses, formula: &OsStr) -> Exit {
    // A booklet or a day has a name of its own.
    if let Some(name) = formula.to_str()
        && let Ok(loaded) = loaded(&[])
        && let Some(uses) =
            uses::handout_rests_on(&desk::bakehouses(&loaded), &loaded.sources, name)
    {
        return told(args, &uses);
    }
    find(formula, None, |loaded, bakehouse, _, formula| {
        match uses::rests_on(bakehouse, &loaded.sources, formula.name.span) {
            Some(uses) => told(args, &uses),
            None => Exit::Clean,
        }
    })
}

fn told(args: &Uses, uses: &uses::Uses) -> Exit {
    streams::output(match args.format {
        UsesFormat::Text => uses::text(uses, args.of.is_none()),
        UsesFormat::Json => uses::json(uses) + "\n",
    })
}
