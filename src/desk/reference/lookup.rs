//! Which pages a name means.

use super::Reference;
use super::entry::{NameKind, ReferenceEntry};
use crate::formula::{NamePlace, built_in, called_somewhere, key};
use crate::syntax::verb_abroad;

/// What there is to say of a name.
pub enum LookupAnswer<'r> {
    /// A list; beside it, what else bears the name.
    List(NameKind, Vec<&'r ReferenceEntry>),
    /// Pages, and how the name leads to them where it is not theirs.
    Pages(Vec<&'r ReferenceEntry>, Option<String>),
    /// Something of the house that another command shows.
    Shown {
        /// As it is written.
        name: &'r str,
        /// What it is, and which command shows it.
        what: &'static str,
    },
    /// Nothing bears the name; what is near, and names that hold it as a word.
    Unknown {
        /// Names spelt nearly so, the nearest first.
        near: Vec<Near<'r>>,
        /// In the order of the reference.
        holding: Vec<&'r str>,
    },
}

/// A name that was perhaps meant, and what it leads to.
pub struct Near<'r> {
    /// As it would be asked for.
    pub name: String,
    /// Where it leads.
    pub entry: &'r ReferenceEntry,
}

/// Letters that a name may be off.
const MAX_SLIP: usize = 3;
/// Names that are offered at most.
const MAX_OFFERED: usize = 3;

impl Reference {
    /// What a name means: `salt`, `figure salt`, `ingredients`.
    pub fn find(&self, asked: &str) -> LookupAnswer<'_> {
        let wanted = key(asked);
        if let Some(kind) = NameKind::read(&wanted).filter(|kind| kind.words().1 == wanted) {
            return LookupAnswer::List(kind, self.named(&wanted, None));
        }
        if let Some(answer) = self.known(&wanted, None).or_else(|| self.doing(&wanted)) {
            return answer;
        }
        let parted =
            wanted.split_once(' ').and_then(|(kind, name)| Some((NameKind::read(kind)?, name)));
        if let Some((kind, name)) = parted {
            if let Some(answer) = self.known(name, Some(kind)) {
                return answer;
            }
            return self.unknown(name, Some(kind));
        }
        // A kind that is no name of its own: `figure`.
        if let Some(kind) = NameKind::read(&wanted) {
            return LookupAnswer::List(kind, Vec::new());
        }
        self.unknown(&wanted, None)
    }

    fn all(&self, kind: Option<NameKind>) -> impl Iterator<Item = &ReferenceEntry> {
        self.entries().iter().filter(move |entry| kind.is_none_or(|kind| entry.kind == kind))
    }

    fn named(&self, wanted: &str, kind: Option<NameKind>) -> Vec<&ReferenceEntry> {
        self.all(kind).filter(|entry| entry.key == wanted).collect()
    }

    fn known(&self, wanted: &str, kind: Option<NameKind>) -> Option<LookupAnswer<'_>> {
        let named = self.named(wanted, kind);
        if !named.is_empty() {
            return Some(LookupAnswer::Pages(named, None));
        }
        let shown = self.shown.iter().find(|(known, ..)| kind.is_none() && *known == wanted);
        if let Some((_, name, what)) = shown {
            return Some(LookupAnswer::Shown { name, what });
        }
        let by = |names: fn(&ReferenceEntry) -> &[String]| {
            let has = |entry: &&ReferenceEntry| names(entry).iter().any(|name| key(name) == wanted);
            self.all(kind).filter(has).collect::<Vec<_>>()
        };
        let read = by(|entry| &entry.reads);
        if !read.is_empty() {
            let told = format!("`{wanted}` leads to {}.", list(&read));
            return Some(LookupAnswer::Pages(read, Some(told)));
        }
        let elsewhere = by(|entry| &entry.elsewhere);
        if !elsewhere.is_empty() {
            let told =
                format!("`{wanted}` is not a word of ours; here it is {}.", list(&elsewhere));
            return Some(LookupAnswer::Pages(elsewhere, Some(told)));
        }
        if let Some((verb, _)) =
            verb_abroad(wanted).filter(|_| kind.is_none_or(|it| it == NameKind::Verb))
        {
            let pages = self.named(verb.word(), Some(NameKind::Verb));
            let told = format!("`{wanted}` is read as {}.", list(&pages));
            return (!pages.is_empty()).then_some(LookupAnswer::Pages(pages, Some(told)));
        }
        self.called(wanted, kind)
    }

    /// An ingredient by what it is called in some language or country.
    fn called(&self, wanted: &str, kind: Option<NameKind>) -> Option<LookupAnswer<'_>> {
        if kind.is_some_and(|kind| kind != NameKind::Ingredient) {
            return None;
        }
        let names = called_somewhere(wanted);
        let named = names.iter().flat_map(|name| self.named(name, Some(NameKind::Ingredient)));
        let pages: Vec<&ReferenceEntry> = named.collect();
        if pages.is_empty() {
            return self.kin(wanted);
        }
        let told = format!("`{wanted}` leads to {}.", list(&pages));
        Some(LookupAnswer::Pages(pages, Some(told)))
    }

    /// What a bare, old or foreign name may mean: `Hefe`, `masa madre`.
    fn kin(&self, wanted: &str) -> Option<LookupAnswer<'_>> {
        let (names, apart) = built_in().kin(wanted, &NamePlace::default())?;
        let pages: Vec<&ReferenceEntry> = names
            .iter()
            .flat_map(|name| self.named(&key(name), None))
            .filter(|entry| matches!(entry.kind, NameKind::Ingredient | NameKind::Culture))
            .collect();
        let apart = if apart.is_empty() { apart } else { format!(": {apart}") };
        let told = format!("`{wanted}` may mean {}{apart}.", list(&pages));
        (!pages.is_empty()).then_some(LookupAnswer::Pages(pages, Some(told)))
    }

    /// A verb by what doing it is called: `folding`, `scoring`.
    fn doing(&self, wanted: &str) -> Option<LookupAnswer<'_>> {
        let stem = wanted.strip_suffix("ing").filter(|stem| stem.len() > 2)?;
        let half = stem.get(..stem.len() - 1).unwrap_or_default();
        let stems = [stem.to_owned(), format!("{stem}e"), half.to_owned()];
        stems.iter().find_map(|stem| match self.known(stem, Some(NameKind::Verb))? {
            LookupAnswer::Pages(pages, _) => {
                let told = format!("`{wanted}` leads to {}.", list(&pages));
                Some(LookupAnswer::Pages(pages, Some(told)))
            }
            _ => None,
        })
    }

    fn unknown(&self, wanted: &str, kind: Option<NameKind>) -> LookupAnswer<'_> {
        LookupAnswer::Unknown { near: self.near(wanted, kind), holding: self.holding(wanted) }
    }

    /// What was most likely meant, the nearest first.
    fn near(&self, wanted: &str, kind: Option<NameKind>) -> Vec<Near<'_>> {
        let mut all: Vec<(usize, Near)> = Vec::new();
        for (name, shown, index) in &self.names {
            let Some(entry) = self.entries.get(*index) else { continue };
            let is_meant = kind.is_none_or(|kind| entry.kind == kind)
                && (!entry.is_guarded || is_sure(wanted, name));
            let Some(distance) = distance(wanted, name).filter(|_| is_meant) else { continue };
            all.push((distance, Near { name: shown.clone(), entry }));
        }
        all.sort_by_key(|(distance, near)| (*distance, near.entry.kind));
        let least = all.first().map(|(distance, _)| *distance);
        all.retain(|(distance, _)| Some(*distance) == least);
        all.dedup_by(|one, two| std::ptr::eq(one.1.entry, two.1.entry));
        all.into_iter().map(|(_, near)| near).take(MAX_OFFERED).collect()
    }

    /// Names that hold a name as a word: `dark rye flour` for `rye`.
    pub fn holding(&self, wanted: &str) -> Vec<&str> {
        let holds = |entry: &&ReferenceEntry| {
            entry.kind != NameKind::Finding
                && entry.key != wanted
                && std::iter::once(&entry.page.name)
                    .chain(entry.reads.iter().filter(|_| entry.kind >= NameKind::Ingredient))
                    .any(|name| key(name).split(' ').any(|word| word == wanted))
        };
        let mut names: Vec<&str> =
            self.all(None).filter(holds).map(|entry| entry.page.name.as_str()).collect();
        names.dedup();
        names
    }
}

/// The verb `mix` and the figure `ice`, in words.
fn list(entries: &[&ReferenceEntry]) -> String {
    let each = entries.iter().map(|entry| format!("the {} `{}`", entry.page.kind, entry.page.name));
    let mut all: Vec<String> = each.collect();
    all.dedup();
    let last = all.pop().unwrap_or_default();
    if all.is_empty() { last } else { format!("{} and {last}", all.join(", ")) }
}

/// How far a slip is from a name, where it may be one. Each word has to be near its
/// counterpart, so that no word is changed into its opposite.
fn distance(wanted: &str, name: &str) -> Option<usize> {
    let length = wanted.chars().count();
    if length < 3 || name.chars().count() < 3 || wanted.len().abs_diff(name.len()) > MAX_SLIP {
        return None;
    }
    // So short a word is another one as soon as it begins otherwise.
    if length == 3 && wanted.chars().next() != name.chars().next() {
        return None;
    }
    let whole = strsim::damerau_levenshtein(wanted, name);
    if whole <= 1 {
        return Some(whole);
    }
    let words = || wanted.split(' ').zip(name.split(' '));
    let are_as_many = wanted.split(' ').count() == name.split(' ').count();
    let is_near = |(one, other): (&str, &str)| {
        let most = (one.chars().count() / 4).clamp(1, 2);
        strsim::damerau_levenshtein(one, other) <= most
    };
    (are_as_many && whole <= (length / 3).clamp(1, MAX_SLIP) && words().all(is_near))
        .then_some(whole)
}

/// Whether a slip can't be another word: what can hurt is never offered for a short one.
fn is_sure(wanted: &str, name: &str) -> bool {
    name.chars().count() >= 5 && wanted.chars().next() == name.chars().next()
}
