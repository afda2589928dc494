//! What a house brings to its prints from files of its own: its words, templates, fonts, its
//! logo and the pictures of its booklets.

use super::catalogue::{Digest, Shared};
use super::declared::DeclaredKind;
use super::facts::{Block, Fact, LOOK};
use super::git::{Repository, View};
use super::said::Said;
use crate::desk::{Bakehouse, FileSystem, LoadedFile, OwnFiles, booklets, own_files};
use crate::formula::Settings;
use crate::print::assets::{TEMPLATES, WORDS};
use crate::print::booklet::picture_name;
use crate::print::wording::{CATALOGUES, own_messages};
use crate::syntax::booklet::{Booklet, Compare, PartKind};
use ecow::EcoString;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// What a fact of a house's own words begins with, before the name of the message.
const OF_WORDS: &str = "words ";

/// What a fact of a house's own template begins with, before the name of the file.
const OF_TEMPLATE: &str = "template ";

/// What a fact of a house's own font begins with, before the name of the file.
const OF_FONT: &str = "font ";

/// What a fact of a picture begins with, before the name of the file.
const OF_PICTURE: &str = "picture ";

/// Whether a fact of a house is one of a file that it brings to its prints.
pub fn is_brought(fact: &str) -> bool {
    [OF_WORDS, OF_TEMPLATE, OF_FONT, OF_PICTURE].iter().any(|it| fact.starts_with(it))
}

/// The words, templates and pictures of a house, as far as prints are others with them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Brought {
    /// Its own words, by the message in which they stand.
    words: BTreeMap<String, String>,
    files: BTreeMap<String, File>,
    /// Its fonts, by their paths.
    fonts: BTreeMap<String, File>,
    /// Its logo, by the name that its settings have for it.
    logo: Option<(String, File)>,
    /// The pictures of each of its booklets, by the names that it has for them.
    pictures: BTreeMap<EcoString, BTreeMap<String, File>>,
    /// The files that the revisions stand for which each of its booklets looks back to.
    past: BTreeMap<EcoString, BTreeMap<String, String>>,
}

/// A file that a house brings.
#[derive(Clone, Debug, PartialEq, Eq)]
struct File {
    digest: Digest,
    /// `48 lines, 3f2a91c`.
    shown: String,
    /// The templates that it names.
    names: BTreeSet<&'static str>,
}

/// Whether a file is a copy of one of ours, as `--export-templates` writes them out: it
/// changes nothing, and nor do our schemas, which no print is set with.
fn is_ours(name: &str, bytes: &[u8]) -> bool {
    let catalogues = CATALOGUES.iter().map(|(tag, text, _)| (format!("words/{tag}.ftl"), *text));
    let templates = TEMPLATES.iter().map(|(own, text)| ((*own).to_owned(), *text));
    name.ends_with(".schema.json")
        || templates.chain(catalogues).any(|(own, text)| own == name && text.as_bytes() == bytes)
}

impl Brought {
    /// What a house without any brings.
    pub const NOTHING: Self = Self {
        words: BTreeMap::new(),
        files: BTreeMap::new(),
        fonts: BTreeMap::new(),
        logo: None,
        pictures: BTreeMap::new(),
        past: BTreeMap::new(),
    };

    /// What a house brings, with its booklets, from the disk or from a revision; files that
    /// can't be read are left out, as printing tells of them.
    pub fn of(files: &dyn FileSystem, bakehouse: &Bakehouse) -> Self {
        let root = bakehouse.root.as_deref();
        let mut brought = match root {
            Some(root) => Self::of_house(files, root, &bakehouse.house.settings),
            None => Self::default(),
        };
        for file in &bakehouse.files {
            for booklet in &file.tree.booklets {
                brought.with_booklet(files, (root, &file.path), booklet);
            }
        }
        let looks_back =
            |file: &&&LoadedFile| !file.tree.booklets.iter().all(|it| since(it).is_empty());
        if let Some(file) = bakehouse.files.iter().find(looks_back) {
            let folder = root.or_else(|| file.path.parent()).unwrap_or(&file.path);
            if let Ok(repository) = Repository::above(folder) {
                let booklets = bakehouse.files.iter().flat_map(|file| &file.tree.booklets);
                booklets.for_each(|it| brought.with_past(&repository, folder, it));
            }
        }
        brought
    }

    /// The same without booklets, of the house in a folder.
    pub fn of_house(files: &dyn FileSystem, root: &Path, settings: &Settings) -> Self {
        let OwnFiles { templates, fonts, logo } = own_files(files, root, settings, &mut Vec::new());
        let fonts = fonts.iter().map(|(name, bytes)| (name.clone(), File::of(bytes))).collect();
        let logo = settings.logo.as_ref().zip(logo);
        let logo = logo.map(|(name, bytes)| (name.value.to_string(), File::of(&bytes)));
        Self { fonts, logo, ..Self::of_templates(&templates) }
    }

    /// Adds the pictures of a booklet, of which the first one with a name counts; `place` is the
    /// house's folder, where it has one, and the booklet's file.
    pub fn with_booklet(
        &mut self,
        files: &dyn FileSystem,
        place: (Option<&Path>, &Path),
        booklet: &Booklet,
    ) {
        if self.pictures.contains_key(&booklet.name.key) {
            return;
        }
        let read = booklets::pictures(files, place, booklet, &mut Vec::new());
        let mut pictures = BTreeMap::new();
        for (at, part) in booklet.parts.iter().enumerate() {
            let PartKind::Picture { file, .. } = &part.what else { continue };
            let own = picture_name(at, file);
            let bytes = read.iter().find(|(name, _)| *name == own);
            pictures.extend(bytes.map(|(_, bytes)| (file.to_string(), File::of(bytes))));
        }
        if !pictures.is_empty() {
            self.pictures.insert(booklet.name.key.clone(), pictures);
        }
    }

    /// Adds the revisions that a booklet of the house in a folder looks back to: a tag may be
    /// moved, and then its table shows something else.
    pub fn with_past(&mut self, repository: &Repository, folder: &Path, booklet: &Booklet) {
        for revision in since(booklet) {
            let Ok(commit) = repository.commit_of(revision) else { continue };
            let view = View::of_tree(repository, commit.tree);
            let files = view.id_of(folder).unwrap_or(commit.tree).to_string();
            let past = self.past.entry(booklet.name.key.clone()).or_default();
            past.insert(revision.to_owned(), files);
        }
    }

    fn of_templates(templates: &BTreeMap<String, Vec<u8>>) -> Self {
        let words = templates.get(WORDS).map(Vec::as_slice).unwrap_or_default();
        let words = own_messages(std::str::from_utf8(words).unwrap_or_default());
        let words = words.into_iter().map(|it| (it.id.to_owned(), it.written)).collect();
        let files = templates.iter();
        let files = files.filter(|(name, bytes)| *name != WORDS && !is_ours(name, bytes));
        let files = files.map(|(name, bytes)| (name.clone(), File::of(bytes))).collect();
        Self { words, files, ..Self::default() }
    }

    /// A fingerprint of what of it stands in one kind of print or shapes it, of a booklet by its
    /// key; `speaks` where the print is in the house's own language. Empty where nothing does.
    pub fn of_print(&self, print: &str, of: &str, speaks: bool) -> String {
        let words = self.words.iter().filter(|_| speaks).map(|(id, text)| format!("{id} {text}"));
        let files = self.files_of(print);
        let files = files.map(|(name, it)| format!("{name} {}", hex(&it.digest, 32)));
        let fonts = self.fonts.iter().map(|(name, it)| (OF_FONT, name, it));
        let logo = self.logo.iter().map(|(name, it)| ("logo ", name, it));
        let pictures = self.pictures.get(of).into_iter().flatten();
        let pictures = pictures.map(|(name, it)| (OF_PICTURE, name, it));
        let looks = fonts.chain(logo).chain(pictures);
        let looks = looks.map(|(kind, name, it)| format!("{kind}{name} {}", hex(&it.digest, 32)));
        let past = self.past.get(of).into_iter().flatten();
        let past = past.map(|(revision, files)| format!("since {revision} {files}"));
        let all: Vec<String> = words.chain(files).chain(looks).chain(past).collect();
        if all.is_empty() {
            return String::new();
        }
        let mut hasher = blake3::Hasher::new();
        for text in all {
            hasher.update(&(text.len() as u64).to_le_bytes());
            hasher.update(text.as_bytes());
        }
        hex(hasher.finalize().as_bytes(), 32)
    }

    /// The files that one kind of print is set with: its own template, those that one of them
    /// names, and whatever is none of ours.
    fn files_of(&self, print: &str) -> impl Iterator<Item = (&String, &File)> {
        let mut open = match self.files.is_empty() {
            true => Vec::new(),
            false => templates_of(print),
        };
        let mut used: BTreeSet<&str> = BTreeSet::new();
        while let Some(name) = open.pop() {
            if !used.insert(name) {
                continue;
            }
            let ours = || TEMPLATES.iter().find(|(known, _)| *known == name);
            match self.files.get(name) {
                Some(own) => open.extend(own.names.iter().copied()),
                None => open.extend(ours().into_iter().flat_map(|(_, text)| named_in(text))),
            }
        }
        let is_ours = |name: &str| TEMPLATES.iter().any(|(known, _)| *known == name);
        self.files.iter().filter(move |(name, _)| !is_ours(name) || used.contains(name.as_str()))
    }

    /// Adds to what the house says of its prints, and to what its booklets say.
    pub fn tell(&self, files: &mut [Shared]) {
        let fact = |name: String, value: Said| Fact {
            block: Block { kind: LOOK, ..Block::default() },
            name: name.into(),
            value,
        };
        let words = self.words.iter().map(|(id, text)| {
            let shown = format!("“{}”", text.split_whitespace().collect::<Vec<_>>().join(" "));
            fact(format!("{OF_WORDS}{id}"), Said { canon: text.clone(), shown })
        });
        let of_file = |kind: &str, name: &str, file: &File| {
            let (canon, shown) = (hex(&file.digest, 32), file.shown.clone());
            fact(format!("{kind}{name}"), Said { canon, shown })
        };
        let templates = self.files.iter().map(|(name, file)| of_file(OF_TEMPLATE, name, file));
        let fonts = self.fonts.iter().map(|(name, file)| of_file(OF_FONT, name, file));
        let logo = self.logo.iter().map(|(name, file)| of_file(OF_PICTURE, name, file));
        let mut all = files.iter_mut().flatten().map(|(declared, _)| declared);
        if let Some(house) = all.find(|it| it.kind == DeclaredKind::House) {
            house.facts.all.extend(words.chain(templates).chain(fonts).chain(logo));
        }
        let all = files.iter_mut().flatten().map(|(declared, _)| declared);
        for booklet in all.filter(|it| it.kind == DeclaredKind::Booklet) {
            let own = self.pictures.get(&booklet.key).into_iter().flatten();
            let own = own.map(|(name, file)| of_file(OF_PICTURE, name, file));
            booklet.facts.all.extend(own);
        }
    }
}

impl File {
    /// Other ends of lines of a text are no difference.
    fn of(bytes: &[u8]) -> Self {
        let text = std::str::from_utf8(bytes).ok().map(|text| text.replace("\r\n", "\n"));
        let digest = *blake3::hash(text.as_ref().map_or(bytes, |it| it.as_bytes())).as_bytes();
        let size = match &text {
            Some(text) => counted(text.lines().count(), "line"),
            None => counted(bytes.len(), "byte"),
        };
        let names = text.iter().flat_map(|text| named_in(text)).collect();
        Self { digest, shown: format!("{size}, {}", hex(&digest, 7)), names }
    }
}

fn counted(count: usize, of: &str) -> String {
    let plural = if count == 1 { "" } else { "s" };
    format!("{count} {of}{plural}")
}

/// The templates that a print begins with.
fn templates_of(print: &str) -> Vec<&'static str> {
    match print {
        "sheet" => vec!["sheet.typ"],
        "card" => vec!["card.typ"],
        "table" => vec!["table.typ"],
        "plan" => vec!["plan.typ"],
        "day" => vec!["day.typ"],
        // Cards, sheets and tables stand in them as they are.
        "booklet" => vec!["booklet.typ", "card.typ", "sheet.typ", "table.typ"],
        _ => vec!["booklet.typ"],
    }
}

/// The revisions that a booklet looks back to.
fn since(booklet: &Booklet) -> Vec<&str> {
    let revisions = booklet.parts.iter().filter_map(|part| match &part.what {
        PartKind::Compare(Compare::Since { revision, .. }) => Some(revision.as_str()),
        _ => None,
    });
    revisions.collect()
}

/// Templates of ours, or of the house in their place, that a text names.
fn named_in(text: &str) -> Vec<&'static str> {
    let names = TEMPLATES.iter().map(|(name, _)| *name);
    names.filter(|name| text.contains(&format!("\"{name}\""))).collect()
}

/// The first digits of a fingerprint.
fn hex(digest: &Digest, digits: usize) -> String {
    let all: String = digest.iter().map(|byte| format!("{byte:02x}")).collect();
    all.get(..digits).unwrap_or_default().to_owned()
}
