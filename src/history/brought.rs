//! What a house brings to its prints from files of its own: its words and templates.

use super::catalogue::{Digest, Shared};
use super::declared::Kind;
use super::facts::{Block, Fact, LOOK};
use super::said::Said;
use crate::print::assets::{TEMPLATES, WORDS};
use crate::print::wording::{CATALOGUES, own_messages};
use std::collections::{BTreeMap, BTreeSet};

/// What a fact of a house's own words begins with, before the name of the message.
pub const OF_WORDS: &str = "words ";

/// What a fact of a house's own template begins with, before the name of the file.
pub const OF_TEMPLATE: &str = "template ";

/// The words and templates of a house, as far as prints are others with them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Brought {
    /// Its own words, by the message in which they stand.
    words: BTreeMap<String, String>,
    files: BTreeMap<String, File>,
}

/// A file of the folder of templates.
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
    pub const NOTHING: Self = Self { words: BTreeMap::new(), files: BTreeMap::new() };

    /// Of the files of a house's folder of templates, by their paths below it.
    pub fn of(templates: &BTreeMap<String, Vec<u8>>) -> Self {
        let words = templates.get(WORDS).map(Vec::as_slice).unwrap_or_default();
        let words = own_messages(std::str::from_utf8(words).unwrap_or_default());
        let words = words.into_iter().map(|it| (it.id.to_owned(), it.written)).collect();
        let files = templates.iter();
        let files = files.filter(|(name, bytes)| *name != WORDS && !is_ours(name, bytes));
        let files = files.map(|(name, bytes)| (name.clone(), File::of(bytes))).collect();
        Self { words, files }
    }

    /// A fingerprint of what of it stands in one kind of print or shapes it; `speaks` where the
    /// print is in the house's own language. Empty where nothing does.
    pub fn of_print(&self, print: &str, speaks: bool) -> String {
        let words = self.words.iter().filter(|_| speaks).map(|(id, text)| format!("{id} {text}"));
        let files = self.files_of(print);
        let files = files.map(|(name, it)| format!("{name} {}", hex(&it.digest, 32)));
        let all: Vec<String> = words.chain(files).collect();
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

    /// Adds to what the house says of its prints.
    pub fn tell(&self, files: &mut [Shared]) {
        let mut all = files.iter_mut().flatten().map(|(declared, _)| declared);
        let Some(house) = all.find(|it| it.kind == Kind::House) else { return };
        let fact = |name: String, value: Said| Fact {
            block: Block { kind: LOOK, ..Block::default() },
            name: name.into(),
            value,
        };
        let words = self.words.iter().map(|(id, text)| {
            let shown = format!("“{}”", text.split_whitespace().collect::<Vec<_>>().join(" "));
            fact(format!("{OF_WORDS}{id}"), Said { canon: text.clone(), shown })
        });
        let files = self.files.iter().map(|(name, file)| {
            let (canon, shown) = (hex(&file.digest, 32), file.shown.clone());
            fact(format!("{OF_TEMPLATE}{name}"), Said { canon, shown })
        });
        house.facts.all.extend(words.chain(files));
    }
}

impl File {
    /// Other ends of lines are no difference.
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
