//! `assize why`: how a figure came about.

use super::args::{Why, WhyFormat};
use super::show::{find, worked};
use super::{Exit, makes, tell_on_error, usage};
use crate::diag::nearest;
use crate::formula::Figure;
use crate::print::{json_tree, tree};
use crate::syntax::read_ask;
use crate::syntax::tree::Base;

pub fn run(args: &Why) -> Exit {
    let makes = match makes(args.makes.as_deref()) {
        Ok(makes) => makes,
        Err(exit) => return exit,
    };
    let words = args.figure.join(" ");
    // `water %` asks for the cell beside the weight, in quotes or without.
    let (percent, asked): (Vec<&str>, Vec<&str>) =
        words.split_whitespace().partition(|word| *word == "%");
    let percent = !percent.is_empty();
    let (asked, base) = based_on(&asked);
    let Some((what, place)) = read_ask(&asked.join(" ")) else {
        return usage(&format!(
            "`{words}` is not a figure: write `hydration` or `water in levain`"
        ));
    };
    find(&args.formula, args.makes.as_deref(), |loaded, room, _, formula| {
        let (worked, findings) = worked(room, formula, makes.as_ref());
        if !worked.readable {
            tell_on_error(&findings, &loaded.sources);
            return Exit::Findings;
        }
        let reason = match (&base, percent) {
            (Some(base), _) => worked.why_share_of(&room.house, &what, place.as_ref(), base),
            (None, true) => worked.why_percent(&room.house, &what, place.as_ref()),
            (None, false) => worked.why(&room.house, &what, place.as_ref()),
        };
        match reason {
            Some(reason) => {
                let written = match args.format {
                    WhyFormat::Text => tree(&reason, &loaded.sources),
                    WhyFormat::Json => json_tree(&reason, &loaded.sources),
                };
                super::write::standard_output(written.as_bytes())
            }
            None => {
                if matches!(Figure::read(&what.name.key), Some(Figure::Elapsed | Figure::HandsOn)) {
                    return usage(&format!(
                        "`{words}` is a time, and times are not worked out yet"
                    ));
                }
                let near = nearest(&what.name.key, Figure::names());
                usage(&match near {
                    Some(near) => format!("there is no `{words}` in it; did you mean `{near}`?"),
                    None => format!("there is no `{words}` in this formula"),
                })
            }
        }
    })
}

/// Takes off what a share is of, as `show` names it; the last row of a table is its dough.
fn based_on<'w>(asked: &[&'w str]) -> (Vec<&'w str>, Option<Base>) {
    let ends: [(&[&str], Base); 4] = [
        (&["of", "added", "flour"], Base::AddedFlour),
        (&["of", "all", "flour"], Base::Flour),
        (&["of", "flour"], Base::Flour),
        (&["of", "dough"], Base::Dough),
    ];
    let found = ends.into_iter().find(|(end, _)| asked.len() > end.len() && asked.ends_with(end));
    let (asked, base) = match found {
        Some((end, base)) => (&asked[..asked.len() - end.len()], Some(base)),
        None => (asked, None),
    };
    let mut asked = asked.to_vec();
    if asked.first() == Some(&"sum") {
        asked[0] = "dough";
    }
    (asked, base)
}
