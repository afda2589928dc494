//! What a formula of a booklet was at a revision of its repository.

use super::revisions::From;
use crate::desk::{self, Bakehouse, booklets};
use crate::diag::{Finding, Level};
use crate::history::git::{Repository, Trouble};
use crate::print::{Document, Wording, document};
use crate::syntax::booklet::{Booklet, FormulaYield};
use crate::syntax::tree::{Factor, Makes};

/// A formula as it was, for the yield that is asked for, told as the booklet tells it.
///
/// # Errors
/// Why it can't be had.
pub fn past(
    bakehouse: &Bakehouse,
    (booklet, words, volumes): (&Booklet, &Wording, bool),
    revision: &str,
    of: &FormulaYield,
) -> Result<(Document, Vec<Finding>), String> {
    let root = bakehouse.root.clone();
    let own = || bakehouse.files.first().and_then(|file| file.path.parent());
    let root = root.or_else(|| own().map(Into::into)).ok_or("its files have no folder")?;
    let repository = Repository::above(&root).map_err(|it| why(&it))?;
    let commit = repository.commit_of(revision).map_err(|it| why(&it))?;
    let from = From::Commit(commit, revision.to_owned());
    let loaded = from.load(Some(&repository), &root).map_err(|it| why(&it))?;
    let loaded = loaded.ok_or("its folder is not there")?;
    let bakehouses = desk::bakehouses(&loaded);
    let mut all = desk::formulas(&bakehouses);
    let found = all.find(|(.., formula)| formula.name.key == of.formula.key);
    let (then, file, formula) = found.ok_or("there is no such formula there")?;
    let everyone = booklet.people.filter(|_| of.everyone);
    let everyone =
        everyone.map(|(people, _)| Makes::times(Factor::Times(i64::from(people).into()), of.span));
    let makes = everyone.as_ref().or(of.makes.as_ref());
    let (worked, told) = desk::worked(then, formula, makes);
    if !desk::is_sound(file, formula, &told) {
        let error = told.iter().find(|it| it.level == Level::Error);
        return Err(error.map_or_else(|| "it has errors there".into(), |it| it.message.clone()));
    }
    let (house, _) = booklets::house_and_words(then, booklet, None);
    Ok((document(&house, &worked, words, volumes), told))
}

fn why(trouble: &Trouble) -> String {
    match trouble {
        Trouble::NoRepository => "its files are in no git repository".into(),
        Trouble::Unreadable(why) => why.clone(),
        Trouble::NotMerged(path) => format!("`{path}` is not merged yet"),
        Trouble::UnknownRevision { asked, near: Some(near) } => {
            format!("there is no revision `{asked}`; did you mean `{near}`?")
        }
        Trouble::UnknownRevision { asked, near: None } => format!("there is no revision `{asked}`"),
        Trouble::Ambiguous { asked, candidates } => {
            format!("`{asked}` may be {}", candidates.join(" or "))
        }
    }
}
