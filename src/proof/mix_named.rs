//! Which mix of a formula an amount is said to be in: `200 g of water in the levain`.
//!
//! Only what surely says so counts: a word such as `in` before the name of the mix, or a verb of
//! containing after it. Where two mixes are meant, none is.

use crate::check::speech::{Amount, Sentence};
use std::ops::Range;

/// A mix that words name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum MixNamed {
    /// A stage, by its key; whatever raises the dough where it has no name.
    Stage(Option<String>),
    /// A stage, or the dough into which it is stirred: `pour the water onto the levain`.
    AroundStage(Option<String>),
    /// What is put together last.
    FinalDough,
    /// The dough, be it the last mix or all that is in it.
    Dough,
    /// Everything.
    Total,
}

/// A mix that a sentence names.
pub struct MixMention {
    /// Its words.
    pub words: Range<usize>,
    /// What they name.
    pub mix: MixNamed,
}

/// Words before a mix that say what is in it.
const IN: &[&str] =
    &["in", "into", "inside", "within", "dans", "im", "ins", "en", "nel", "nello", "nella", "nell"];

/// The same, where whatever is done is done for the mix.
const FOR: &[&str] = &["for", "pour", "für", "fürs", "para", "per"];

/// What is put to a mix may be stirred into the dough with it.
const TO: &[&str] = &["to", "onto", "with", "au", "à", "zum", "al", "all", "allo", "alla", "dem"];

/// `the water of the levain`
const OF: &[&str] =
    &["of", "de", "du", "d", "des", "von", "vom", "del", "dello", "della", "dell", "di"];

const ARTICLES: &[&str] = &[
    "the", "your", "our", "this", "ripe", "a", "le", "la", "l", "votre", "notre", "ce", "der",
    "die", "das", "den", "dem", "des", "deinen", "unseren", "el", "tu", "nuestra", "il", "lo",
    "tuo", "nostro",
];

/// What feeds or makes a mix, before its name.
const FEEDS: &[&str] = &[
    "feed",
    "feeds",
    "feeding",
    "fed",
    "refresh",
    "refreshes",
    "build",
    "builds",
    "make",
    "makes",
    "prepare",
    "prepares",
    "nourrir",
    "nourrissez",
    "nourris",
    "rafraîchir",
    "rafraîchissez",
    "préparez",
    "préparer",
    "füttern",
    "füttere",
    "füttert",
    "auffrischen",
    "alimenta",
    "alimentar",
    "alimente",
    "refresca",
    "refrescar",
    "prepara",
    "preparar",
    "rinfresca",
    "rinfrescare",
    "rinfrescate",
    "nutri",
    "nutrire",
    "preparare",
    "preparate",
];

/// What a mix does with what is in it, after its name.
const HOLDS: &[&str] = &[
    "s",
    "holds",
    "hold",
    "contains",
    "contain",
    "has",
    "have",
    "takes",
    "take",
    "gets",
    "get",
    "wants",
    "want",
    "needs",
    "need",
    "uses",
    "use",
    "calls",
    "includes",
    "include",
    "requires",
    "require",
    "asks",
    "comprises",
    "consists",
    "carries",
    "receives",
    "counts",
    "drinks",
    "contient",
    "contiennent",
    "prend",
    "reçoit",
    "demande",
    "compte",
    "nécessite",
    "utilise",
    "comporte",
    "veut",
    "exige",
    "renferme",
    "a",
    "comprend",
    "boit",
    "absorbe",
    "enthält",
    "enthalten",
    "bekommt",
    "braucht",
    "nimmt",
    "hat",
    "benötigt",
    "verlangt",
    "erhält",
    "umfasst",
    "fasst",
    "besteht",
    "will",
    "trinkt",
    "contiene",
    "contienen",
    "lleva",
    "llevan",
    "tiene",
    "necesita",
    "pide",
    "toma",
    "usa",
    "requiere",
    "incluye",
    "quiere",
    "recibe",
    "consta",
    "bebe",
    "contengono",
    "prende",
    "vuole",
    "ha",
    "richiede",
    "riceve",
    "chiede",
    "porta",
    "comprende",
    "include",
    "beve",
];

/// The same in two words: `is made with`, `wird … gefüttert`.
const IS: &[&str] = &["is", "are", "est", "sont", "wird", "ist", "se", "está", "è", "viene", "si"];
const MADE: &[&str] = &[
    "made",
    "built",
    "fed",
    "mixed",
    "given",
    "composed",
    "refreshed",
    "fait",
    "faite",
    "nourri",
    "composé",
    "préparé",
    "rafraîchi",
    "gefüttert",
    "angesetzt",
    "aufgefrischt",
    "gemischt",
    "gemacht",
    "hecha",
    "hecho",
    "alimenta",
    "prepara",
    "refresca",
    "compone",
    "hace",
    "fatto",
    "fatta",
    "nutrito",
    "rinfrescato",
    "composto",
    "preparato",
    "fa",
];

const ADVERBS: &[&str] = &[
    "also", "itself", "alone", "now", "only", "then", "aussi", "seul", "selbst", "allein", "auch",
    "también", "sola", "anche", "stesso",
];

/// After these something else begins.
const BREAKS: &[&str] = &[
    "then",
    "next",
    "leaving",
    "leaves",
    "left",
    "remain",
    "remains",
    "remaining",
    "rest",
    "so",
    "thus",
    "which",
    "later",
    "afterwards",
    "tomorrow",
    "before",
    "after",
    "puis",
    "ensuite",
    "reste",
    "restent",
    "dann",
    "danach",
    "bleiben",
    "bleibt",
    "übrig",
    "luego",
    "después",
    "queda",
    "quedan",
    "resto",
    "poi",
    "quindi",
    "resta",
    "restano",
    "dopo",
];

/// The mix that an amount is said to be in; none where none is, or more than one.
pub fn mix_of(sentence: &Sentence, amount: &Amount, mentions: &[MixMention]) -> Option<MixNamed> {
    let reading = MixReading { sentence, amount };
    let mut all: Vec<MixNamed> = Vec::new();
    for mention in
        mentions.iter().filter(|it| it.words.end <= amount.from || it.words.start >= amount.to)
    {
        if let Some(mix) = reading.says(mention)
            && !all.contains(&mix)
        {
            all.push(mix);
        }
    }
    match all.as_slice() {
        [only] => Some(only.clone()),
        _ => None,
    }
}

struct MixReading<'r, 's> {
    sentence: &'r Sentence<'s>,
    amount: &'r Amount,
}

impl MixReading<'_, '_> {
    fn key(&self, at: usize) -> &str {
        self.sentence.tokens.get(at).map_or("", |token| token.key.as_ref())
    }

    /// The mix of a mention, where it says that the amount is in it.
    fn says(&self, mention: &MixMention) -> Option<MixNamed> {
        if mention.mix == MixNamed::Total {
            return self.is_within_reach(&mention.words).then_some(MixNamed::Total);
        }
        if self.holds(mention) {
            return Some(mention.mix.clone());
        }
        let (before, at) = self.before(mention.words.start)?;
        let is_put_in = || self.sentence.has("act", &self.sentence.whole());
        let around = || match &mention.mix {
            MixNamed::Stage(key) => MixNamed::AroundStage(key.clone()),
            other => other.clone(),
        };
        let mix = match before {
            it if FOR.contains(&it) || FEEDS.contains(&it) => mention.mix.clone(),
            it if IN.contains(&it) && !is_put_in() => mention.mix.clone(),
            it if IN.contains(&it) || TO.contains(&it) => around(),
            // `440 g of the levain` is the levain itself.
            it if OF.contains(&it) => {
                let amounts = crate::check::speech::amounts(self.sentence);
                let is_own = amounts.iter().any(|amount| amount.to == at);
                (!is_own && at > 0).then(|| mention.mix.clone())?
            }
            _ => return None,
        };
        self.is_within_reach(&(at..mention.words.end)).then_some(mix)
    }

    /// The word before the articles of a name, and where it stands.
    fn before(&self, start: usize) -> Option<(&str, usize)> {
        let mut at = start.checked_sub(1)?;
        while ARTICLES.contains(&self.key(at)) && start - at < 4 {
            // `dem Sauerteig` says where to by itself.
            if self.key(at) == "dem"
                && at.checked_sub(1).is_none_or(|it| !IN.contains(&self.key(it)))
            {
                return Some(("dem", at));
            }
            at = at.checked_sub(1)?;
        }
        Some((self.key(at), at))
    }

    /// `The levain holds 250 g of water`, `Levain: 250 g of water`.
    fn holds(&self, mention: &MixMention) -> bool {
        let mut at = mention.words.end;
        if at > self.amount.from {
            return false;
        }
        if at == self.amount.from {
            let before = self.sentence.tokens.get(at - 1).map_or(0, |token| token.end);
            let start = self.sentence.tokens.get(at).map_or(before, |token| token.start);
            let between = self.sentence.text.get(before..start).unwrap_or_default();
            return mention.words.start < 3 && between.trim() == ":";
        }
        while ADVERBS.contains(&self.key(at)) {
            at += 1;
        }
        let part = self.sentence.part(at.min(self.sentence.tokens.len() - 1));
        let is_made = || part.clone().any(|at| MADE.contains(&self.key(at)));
        let is_verb = HOLDS.contains(&self.key(at)) || IS.contains(&self.key(at)) && is_made();
        is_verb && at < self.amount.from && self.is_after(at)
    }

    /// Whether nothing else has begun between a word and the amount.
    fn is_after(&self, at: usize) -> bool {
        let own = self.sentence.part(self.amount.from);
        own.start <= at || !(own.start.max(at)..own.end).any(|at| BREAKS.contains(&self.key(at)))
    }

    /// Whether words stand in one part of the sentence with the amount, or begin the sentence.
    fn is_within_reach(&self, words: &Range<usize>) -> bool {
        let own = self.sentence.part(self.amount.from);
        if own.start <= words.start && words.end <= own.end {
            return true;
        }
        words.start < 2 && words.end <= self.amount.from && self.is_after(words.start)
    }
}
