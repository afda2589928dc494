//! `assize weave`: the words of a book with tables, figures and indexes in their places.

use super::args::{Weave, WovenBlocks, WovenFormat};
use super::asked::loaded;
use super::exit::{Exit, exit_of};
use super::tell::{drawn, usage};
use super::{streams, write};
use crate::desk::{self, Disk, FileSystem, MAX_BYTES, Shown, Weaving, Woven, bakehouses};
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
    let is_html = args.format == WovenFormat::Html;
    let usual = if is_html { Shown::Card } else { Shown::Table };
    let blocks = args.blocks.map_or(usual, Into::into);
    let weaving = Weaving { blocks, language: args.language.as_deref(), is_html };
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
            let mut path = args.to.join(name);
            if is_html {
                path.set_extension("html");
            }
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
                Ok(()) => {
                    said.push_str(&format!("{}\n", path.display()));
                    if !is_html {
                        findings.extend(pictures_beside(&woven, &args.to));
                    }
                }
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

/// Puts the pictures of a manuscript beside the woven one, under the same names.
fn pictures_beside(woven: &Woven, to: &Path) -> Vec<Finding> {
    let folder = woven.file.path.parent().unwrap_or(Path::new(""));
    let mut findings = Vec::new();
    for name in &woven.pictures {
        let from = folder.join(name);
        let is_beside = Disk.is_below(folder, &from).unwrap_or_default();
        let Some(bytes) = Disk.bytes(&from, MAX_BYTES).ok().filter(|_| is_beside) else { continue };
        let at = to.join(name);
        if at.canonicalize().ok() == from.canonicalize().ok() || bytes.len() as u64 > MAX_BYTES {
            continue;
        }
        let made = at.parent().map_or(Ok(()), fs::create_dir_all).map_err(|error| {
            let name = at.display().to_string();
            Box::new(desk::unwritable::finding(&name, &desk::why(&error)))
        });
        if let Err(finding) = made.and_then(|()| write::whole(&at, &bytes)) {
            findings.push(*finding);
        }
    }
    findings
}

impl From<WovenBlocks> for Shown {
    fn from(blocks: WovenBlocks) -> Self {
        match blocks {
            WovenBlocks::Table => Self::Table,
            WovenBlocks::Card => Self::Card,
            WovenBlocks::Figures => Self::Figures,
            WovenBlocks::Source => Self::Source,
            WovenBlocks::Nothing => Self::Nothing,
        }
    }
}
