//! `assize weave`: the words of a book with tables, figures and indexes in their places.

use super::args::{Weave, WovenBlocks};
use super::asked::loaded;
use super::exit::{Exit, exit_of};
use super::tell::{drawn, usage};
use super::{streams, write};
use crate::desk::{self, Disk, Shown, Weaving, bakehouses};
use crate::diag::Finding;
use std::fs;
use std::path::Path;

/// `assize weave`.
pub fn run(args: &Weave) -> Exit {
    let loaded = match loaded(&args.paths) {
        Ok(loaded) => loaded,
        Err(exit) => return exit,
    };
    let mut findings: Vec<Finding> = loaded.findings.clone();
    let weaving = Weaving { blocks: args.blocks.into(), language: args.language.as_deref() };
    let shows = args.to == Path::new("-");
    let (mut said, mut count) = (String::new(), 0);
    for bakehouse in bakehouses(&loaded) {
        for woven in desk::weave(&loaded, &bakehouse, &Disk, &weaving, &mut findings) {
            count += 1;
            if shows {
                said.push_str(&woven.text);
                continue;
            }
            let name = woven.file.path.file_name().unwrap_or_default();
            let path = args.to.join(name);
            if path.exists() && path.canonicalize().ok() == woven.file.path.canonicalize().ok() {
                return usage(&format!(
                    "{} would be written over; name another folder with `--to`",
                    path.display()
                ));
            }
            let made = fs::create_dir_all(&args.to).map_err(|error| {
                let folder = args.to.display().to_string();
                Box::new(desk::unwritable::finding(&folder, &desk::why(&error)))
            });
            match made.and_then(|()| write::whole(&path, woven.text.as_bytes())) {
                Ok(()) => said.push_str(&format!("{}\n", path.display())),
                Err(finding) => findings.push(*finding),
            }
        }
    }
    if count == 0 && findings.is_empty() {
        return usage("there is no manuscript here: name files in Markdown");
    }
    let written = if shows { streams::output(&said) } else { streams::sentence(&said) };
    streams::error_text(drawn(&findings, &loaded.sources, streams::colour(&std::io::stderr())));
    written.max(exit_of(&findings))
}

impl From<WovenBlocks> for Shown {
    fn from(blocks: WovenBlocks) -> Self {
        match blocks {
            WovenBlocks::Table => Self::Table,
            WovenBlocks::Figures => Self::Figures,
            WovenBlocks::Source => Self::Source,
            WovenBlocks::Nothing => Self::Nothing,
        }
    }
}
