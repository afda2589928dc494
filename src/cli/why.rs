//! `assize why`: how a figure came about.

use super::args::{Why, WhyFormat};
use super::show::{find, worked};
use super::{Exit, makes, tell_on_error, usage};
use crate::diag::nearest;
use crate::formula::Figure;
use crate::print::{json_tree, tree};
use crate::syntax::read_ask;

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
        let reason = match percent {
            true => worked.why_percent(&room.house, &what, place.as_ref()),
            false => worked.why(&room.house, &what, place.as_ref()),
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
