//! The printed words and numbers of a language.
//!
//! Words stand in catalogues (`templates/words/*.ftl`, in Project Fluent's syntax): those
//! of the language, those of the house before them, and the English ones behind both.
//! Numbers are written as the language writes them (CLDR, through ICU4X), in Latin
//! digits.

#![allow(
    clippy::disallowed_types,
    reason = "places, colours and resolutions on paper are no weights"
)]

use super::guarded::{self, Judged};
use crate::diag::nearest;
use crate::syntax::{unseen_letter_told, unseen_letters};
use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::resolver::ResolverError;
use fluent_bundle::resolver::errors::ReferenceKind;
use fluent_bundle::{FluentArgs, FluentError, FluentResource, FluentValue};
use icu_decimal::input::Decimal;
use icu_decimal::options::DecimalFormatterOptions;
use icu_decimal::{DecimalFormatter, DecimalFormatterPreferences};
use icu_locale_core::Locale;
use rustc_hash::{FxHashMap, FxHashSet};
use std::borrow::Cow;
use std::collections::BTreeMap;
use std::collections::hash_map::Entry;
use std::sync::{Arc, LazyLock};
use unic_langid::LanguageIdentifier;
use unicode_normalization::UnicodeNormalization;

/// The built-in catalogues: language, words, names of ingredients.
pub const CATALOGUES: [(&str, &str, &str); 5] = [
    (
        "en",
        include_str!("../../templates/words/en.ftl"),
        include_str!("../../templates/words/names.en.ftl"),
    ),
    (
        "fr",
        include_str!("../../templates/words/fr.ftl"),
        include_str!("../../templates/words/names.fr.ftl"),
    ),
    (
        "de",
        include_str!("../../templates/words/de.ftl"),
        include_str!("../../templates/words/names.de.ftl"),
    ),
    (
        "es",
        include_str!("../../templates/words/es.ftl"),
        include_str!("../../templates/words/names.es.ftl"),
    ),
    (
        "it",
        include_str!("../../templates/words/it.ftl"),
        include_str!("../../templates/words/names.it.ftl"),
    ),
];

type Catalogue = FluentBundle<Arc<FluentResource>>;

static ENGLISH: LazyLock<Arc<Catalogue>> = LazyLock::new(|| Arc::new(built_in("en")));

/// How a print of one house speaks.
#[derive(Clone)]
pub struct Wording {
    /// The language, as a BCP 47 tag: `en`, `de-AT`.
    pub tag: String,
    /// The house's own words, those of the language, the English ones.
    catalogues: Vec<Arc<Catalogue>>,
    numbers: Option<Arc<DecimalFormatter>>,
    /// Which of the house's own messages are not printed as they are written.
    judged: Arc<FxHashMap<String, Judged>>,
}

impl Wording {
    /// English words and plain numbers.
    pub fn plain() -> Self {
        let judged = Arc::default();
        Self { tag: "en".into(), catalogues: vec![ENGLISH.clone()], numbers: None, judged }
    }

    /// The words of a language, after the house's `own`, which is a text in Fluent's
    /// syntax. What can't be read of it is said, a line each; the rest counts.
    pub fn new(tag: &str, own: Option<&str>) -> (Self, Vec<String>) {
        let language = language_of(tag).to_lowercase();
        let mut catalogues = Vec::new();
        let mut slips = Vec::new();
        let mut judged = FxHashMap::default();
        if let Some(own) = own {
            let (own, deep) = without_deep(own);
            slips.extend(deep.iter().map(|line| {
                format!("line {line}: its braces are nested more than {MAX_BRACES} deep")
            }));
            let resource = FluentResource::try_new(own.clone()).unwrap_or_else(|(part, bad)| {
                slips.extend(bad.iter().map(|error| {
                    let before = own.get(..error.pos.start).unwrap_or_default();
                    let line = before.matches('\n').count() + 1;
                    format!("line {line}: {}", error.kind.to_string().to_lowercase())
                }));
                part
            });
            let mut bundle = empty(tag);
            bundle.add_resource_overriding(Arc::new(resource));
            judged = judged_of(&own, &bundle, !is_known(tag));
            for (line, id, why) in unread_of(&own, &bundle) {
                // A warning that is refused says so itself.
                if let Entry::Vacant(free) = judged.entry(id) {
                    free.insert(Judged::Unread);
                    slips.push(format!("line {line}: {why}"));
                }
            }
            catalogues.push(Arc::new(bundle));
        }
        if language != "en" && CATALOGUES.iter().any(|(known, ..)| *known == language) {
            catalogues.push(Arc::new(built_in(&language)));
        }
        catalogues.push(ENGLISH.clone());
        let judged = Arc::new(judged);
        (Self { tag: tag.to_owned(), catalogues, numbers: numbers(tag), judged }, slips)
    }

    /// These words with ours in the place of some of the house's own, by their names.
    pub fn without(mut self, refused: &[String]) -> Self {
        if !refused.is_empty() {
            let mut judged = (*self.judged).clone();
            let why = || Judged::Refused("says what is not so".to_owned());
            judged.extend(refused.iter().map(|id| (id.clone(), why())));
            self.judged = Arc::new(judged);
        }
        self
    }

    /// Messages of the house in whose place ours are printed, by name, and why.
    pub fn refused(&self) -> BTreeMap<&str, &str> {
        let all = self.judged.iter().filter_map(|(id, judged)| match judged {
            Judged::Refused(why) => Some((id.as_str(), why.as_str())),
            _ => None,
        });
        all.collect()
    }

    /// These words with numbers as another language writes them, for a print in both.
    pub fn with_numbers_of(mut self, other: &Self) -> Self {
        self.numbers.clone_from(&other.numbers);
        self
    }

    /// A name as French has it after an amount: `de sel`, `d’eau`.
    pub fn of(&self, name: &str) -> String {
        if language_of(&self.tag) == "fr" && is_elided(name) {
            return format!("d’{name}");
        }
        format!("de {name}")
    }

    /// A message without arguments; its name where no catalogue has it, which a test rules
    /// out for all that we ask for.
    pub fn say(&self, id: &str) -> String {
        self.fill(id, &[])
    }

    /// A message with what stands in its braces.
    pub fn fill(&self, id: &str, args: &[(&str, &str)]) -> String {
        self.find(id, args).unwrap_or_else(|| id.to_owned())
    }

    /// A message that need not be there.
    pub fn find(&self, id: &str, args: &[(&str, &str)]) -> Option<String> {
        let mut values = FluentArgs::new();
        for (name, value) in args {
            values.set(*name, FluentValue::String(Cow::Borrowed(value)));
        }
        self.format(id, &values)
    }

    /// A message that changes with a number, given as `name` and, to print, among `args`.
    pub fn count(&self, id: &str, name: &str, number: f64, args: &[(&str, &str)]) -> String {
        let mut values = FluentArgs::new();
        values.set(name, FluentValue::from(number));
        for (name, value) in args {
            values.set(*name, FluentValue::String(Cow::Borrowed(value)));
        }
        self.format(id, &values).unwrap_or_else(|| id.to_owned())
    }

    fn format(&self, id: &str, args: &FluentArgs) -> Option<String> {
        let of = |bundle: &Arc<Catalogue>| {
            let pattern = bundle.get_message(id)?.value()?;
            // What is missing in a message of the house shows in braces.
            let mut slips = Vec::new();
            Some(bundle.format_pattern(pattern, Some(args), &mut slips).into_owned())
        };
        let ours = || self.catalogues.iter().skip(1).find_map(of);
        match self.judged.get(id) {
            None | Some(Judged::AsWritten) => self.catalogues.iter().find_map(of),
            Some(Judged::Refused(_) | Judged::Unread) => ours(),
            Some(Judged::Beside) => {
                let own = self.catalogues.first().and_then(of)?;
                let Some(ours) = ours() else { return Some(own) };
                Some(match id.starts_with("allergen-") {
                    true => format!("{own} ({ours})"),
                    false => format!("{} / {own}", ours.trim_end_matches(':').trim_end()),
                })
            }
        }
    }

    /// A message with all that it is put together of, whatever is filled in left empty.
    pub fn put_together(&self, id: &str) -> Option<String> {
        let mut args = FluentArgs::new();
        ARGUMENTS.iter().for_each(|name| args.set(*name, FluentValue::from("")));
        self.format(id, &args)
    }

    /// The name of something built in; nothing where the language has none.
    pub fn name(&self, kind: &str, name: &str) -> Option<String> {
        self.find(&format!("{kind}-{}", slug(name)), &[])
    }

    /// A number with a decimal point as the language writes it.
    pub fn number(&self, plain: &str) -> String {
        let Some(numbers) = &self.numbers else { return plain.to_owned() };
        match Decimal::try_from_str(&plain.replace('−', "-")) {
            Ok(decimal) => numbers.format(&decimal).to_string(),
            Err(_) => plain.to_owned(),
        }
    }

    /// What parts the whole from the rest of a number.
    pub fn decimal_mark(&self) -> String {
        self.number("1.5").chars().filter(|letter| !letter.is_ascii_digit()).collect()
    }

    /// The words of the templates: those messages that begin with `print-`, by the rest of
    /// their names, and one more; the braces are left to fill in.
    pub fn of_templates(&self) -> BTreeMap<String, String> {
        static PLAIN: LazyLock<BTreeMap<String, String>> =
            LazyLock::new(|| Wording::plain().filled_for_templates());
        // Without words of a house they are always the same.
        let is_plain = self.catalogues.len() == 1 && self.tag == "en" && self.judged.is_empty();
        if is_plain { PLAIN.clone() } else { self.filled_for_templates() }
    }

    fn filled_for_templates(&self) -> BTreeMap<String, String> {
        let mut args = FluentArgs::new();
        for name in ARGUMENTS {
            args.set(*name, FluentValue::String(Cow::Owned(format!("{{{name}}}"))));
        }
        let ids = of_templates().iter();
        ids.map(|id| {
            let own = self.format(&format!("print-{id}"), &args);
            (id.clone(), own.or_else(|| self.format(id, &args)).unwrap_or_default())
        })
        .collect()
    }
}

/// The messages of a house's own words that warn, each judged as it is printed.
fn judged_of(own: &str, bundle: &Catalogue, is_foreign: bool) -> FxHashMap<String, Judged> {
    let mut args = FluentArgs::new();
    for name in ["kind", "words", "most", "last", "temperature", "time"] {
        let marked = format!("{}{name}{}", guarded::FILLED[0], guarded::FILLED[1]);
        args.set(name, FluentValue::from(marked));
    }
    let guarded = own_messages(own).into_iter().filter(|own| guarded::is_guarded(own.id));
    let judged = guarded.filter_map(|message| {
        let pattern = bundle.get_message(message.id)?.value()?;
        let mut slips = Vec::new();
        let said = bundle.format_pattern(pattern, Some(&args), &mut slips);
        // What chooses between words may choose others on paper.
        let chooses = message.written.contains("->") && message.id != "list-end";
        let judged = match slips.is_empty() && !chooses {
            true => guarded::judge(message.id, &said, &in_catalogues(message.id), is_foreign),
            false => Judged::Refused("does not always say the same".to_owned()),
        };
        Some((message.id.to_owned(), judged))
    });
    judged.filter(|(_, judged)| *judged != Judged::AsWritten).collect()
}

/// The messages of a house that can't be put together whatever is filled in, or that look different
/// from what they say, each with its line and why. Those that no print asks for are told as such.
fn unread_of(own: &str, bundle: &Catalogue) -> Vec<(usize, String, String)> {
    let mut unread: Vec<(usize, String, String)> = Vec::new();
    let mut seen: FxHashSet<&str> = FxHashSet::default();
    for message in own_messages(own).into_iter().rev().filter(|it| seen.insert(it.id)) {
        let Some(filled_in) = filled_in(message.id) else { continue };
        let why = said_in_all_ways(&message, bundle, &filled_in).find_map(|(said, slips)| {
            let turned = unseen_letters(&said).map(|(_, letter)| unseen_letter_told(letter));
            let turned = turned.filter(|(_, deceives)| *deceives).map(|(told, _)| told).next();
            slips.first().map(slip_in_words).or(turned)
        });
        unread.extend(why.map(|why| (message.line, message.id.to_owned(), why)));
    }
    unread.reverse();
    unread
}

/// Letters in a house's messages that nobody sees and that no script needs, by message.
pub fn unseen_in_messages(own: &str) -> Vec<(OwnMessage<'_>, char)> {
    let (words, _) = Wording::new("en", Some(own));
    let Some(bundle) = words.catalogues.first().filter(|_| words.catalogues.len() > 1) else {
        return Vec::new();
    };
    let mut found: Vec<(OwnMessage, char)> = Vec::new();
    for message in own_messages(own) {
        let filled_in = filled_in(message.id).unwrap_or_default();
        let letters = said_in_all_ways(&message, bundle, &filled_in).find_map(|(said, _)| {
            let mut letters = unseen_letters(&said).map(|(_, letter)| letter);
            letters.find(|letter| !unseen_letter_told(*letter).1)
        });
        found.extend(letters.map(|letter| (message, letter)));
    }
    found
}

/// What a message says with one thing or another filled in for each of `names`, and what went
/// wrong: each form of a message that has several is among them.
fn said_in_all_ways<'a>(
    message: &'a OwnMessage,
    bundle: &'a Catalogue,
    names: &'a [String],
) -> impl Iterator<Item = (String, Vec<FluentError>)> + 'a {
    // One number of each plural form that a language may have (CLDR).
    let numbers = [0.0, 1.0, 2.0, 3.0, 11.0, 100.0, 1_000_000.0, 0.5].map(FluentValue::from);
    let keys = message.written.split('[').skip(1).filter_map(|rest| rest.split_once(']'));
    let keys: Vec<&str> = keys.map(|(key, _)| key.trim()).collect();
    let keys = keys.into_iter().flat_map(|key| {
        [Some(FluentValue::from(key.to_owned())), key.parse::<f64>().ok().map(FluentValue::from)]
    });
    let values = [FluentValue::from("")].into_iter().chain(numbers).chain(keys.flatten());
    let pattern = bundle.get_message(message.id).and_then(|it| it.value());
    values.filter_map(move |value| {
        let mut args = FluentArgs::new();
        names.iter().for_each(|name| args.set(name.clone(), value.clone()));
        let mut slips = Vec::new();
        let said = bundle.format_pattern(pattern?, Some(&args), &mut slips).into_owned();
        Some((said, slips))
    })
}

/// What may be filled into a message: whatever some language of ours fills in there; none where no
/// print asks for it.
fn filled_in(id: &str) -> Option<Vec<String>> {
    /// What prints ask for by names of the house's own.
    const OF_A_HOUSE: [&str; 3] = ["piece-", "place-", "name-"];
    static NAMES: LazyLock<FxHashMap<&str, Vec<String>>> = LazyLock::new(|| {
        let mut names: FxHashMap<&str, Vec<String>> = FxHashMap::default();
        for (_, words, of_ingredients) in CATALOGUES {
            for message in own_messages(words).into_iter().chain(own_messages(of_ingredients)) {
                let known = names.entry(message.id).or_default();
                let new = message.written.split('$').skip(1).map(|rest| {
                    let is_name = |it: &char| it.is_ascii_alphanumeric() || matches!(it, '-' | '_');
                    rest.chars().take_while(is_name).collect::<String>()
                });
                known.extend(new);
            }
        }
        names
    });
    if let Some(known) = NAMES.get(id) {
        return Some(known.clone());
    }
    let kind = OF_A_HOUSE.into_iter().find(|kind| id.starts_with(kind))?;
    let alike = NAMES.iter().filter(|(known, _)| known.starts_with(kind));
    Some(alike.flat_map(|(_, names)| names.clone()).collect())
}

/// Why a message can't be put together.
fn slip_in_words(slip: &FluentError) -> String {
    let FluentError::ResolverError(slip) = slip else { return slip.to_string() };
    match slip {
        ResolverError::Reference(ReferenceKind::Variable { id }) => {
            format!("prints fill in no `${id}` there")
        }
        ResolverError::Reference(ReferenceKind::Function { id }) => {
            format!("there is no function `{id}`")
        }
        ResolverError::Reference(ReferenceKind::Message { id, .. }) => {
            format!("there is no message `{id}` in this file")
        }
        ResolverError::Reference(ReferenceKind::Term { id, .. }) => {
            format!("there is no term `-{id}` in this file")
        }
        ResolverError::Cyclic => "it is made of itself".to_owned(),
        ResolverError::TooManyPlaceables => "it has too many braces".to_owned(),
        ResolverError::MissingDefault => "none of its forms has a `*`".to_owned(),
        ResolverError::NoValue(id) => format!("`{id}` has no words"),
    }
}

/// What our catalogues have for a message of one line.
fn in_catalogues(id: &str) -> Vec<&'static str> {
    let lines = CATALOGUES.iter().flat_map(|(_, words, _)| words.lines());
    lines.filter_map(|line| line.strip_prefix(id)?.strip_prefix(" = ")).collect()
}

/// What templates fill in.
const ARGUMENTS: &[&str] = &[
    "batches",
    "date",
    "feed",
    "feeds",
    "house",
    "hydration",
    "kind",
    "page",
    "pages",
    "people",
    "style",
    "temperature",
    "time",
    "times",
    "tin",
    "weight",
    "zone",
];

/// The names of the templates' words.
fn of_templates() -> &'static Vec<String> {
    static IDS: LazyLock<Vec<String>> = LazyLock::new(|| {
        let (_, words, _) = CATALOGUES[0];
        let ids = words.lines().filter_map(|line| line.strip_prefix("print-"));
        let ids = ids.filter_map(|line| Some(line.split_once(" =")?.0.to_owned()));
        ids.chain(["percent-of-all-flour".to_owned()]).collect()
    });
    &IDS
}

/// A message of a house, or a variable in one, that is none of ours.
pub struct Unknown {
    /// Of the house's file, counted from 1.
    pub line: usize,
    /// The name of the message, or of the variable.
    pub message: String,
    /// The one that was perhaps meant.
    pub near: Option<String>,
}

/// A message of a house's own words.
pub struct OwnMessage<'o> {
    /// Of the house's file, counted from 1.
    pub line: usize,
    /// What it is called.
    pub id: &'o str,
    /// All that it may say, without what is filled in.
    pub words: String,
    /// The same as it is written, blanks around its lines left out.
    pub written: String,
}

/// The messages of a house's own words.
pub fn own_messages(own: &str) -> Vec<OwnMessage<'_>> {
    let mut all: Vec<OwnMessage> = Vec::new();
    for (line, text) in own.lines().enumerate() {
        if text.starts_with('#') {
            continue;
        }
        let begun = message_of(text).and_then(|id| Some((id, text.split_once('=')?.1)));
        match (begun, all.last_mut()) {
            (Some((id, words)), _) => {
                let written = words.trim().to_owned();
                all.push(OwnMessage { line: line + 1, id, words: spoken(words), written });
            }
            (None, Some(last)) => {
                last.words.push('\n');
                last.words.push_str(&spoken(text));
                if !text.trim().is_empty() {
                    last.written.push('\n');
                    last.written.push_str(text.trim());
                }
            }
            (None, None) => {}
        }
    }
    all
}

/// The words of a line of a message: without braces, and without the names in them of what is
/// filled in.
fn spoken(line: &str) -> String {
    let words = line.split_whitespace().filter(|word| !word.starts_with(['$', '-']));
    let words: Vec<String> = words.map(|word| word.replace(['{', '}', '"'], " ")).collect();
    words.join(" ").trim().to_owned()
}

/// The messages in a house's own words that no print asks for; `names` are those of its
/// ingredients.
pub fn unknown_messages(own: &str, names: &[&str]) -> Vec<Unknown> {
    let (_, words, built_in_names) = CATALOGUES[0];
    let known: FxHashSet<&str> =
        words.lines().chain(built_in_names.lines()).filter_map(message_of).collect();
    let named: FxHashSet<String> =
        names.iter().map(|name| format!("name-{}", slug(name))).collect();
    let lines = own.lines().enumerate();
    let messages = lines.filter_map(|(line, text)| Some((line + 1, message_of(text)?)));
    let unknown = messages.filter(|(_, id)| {
        // A house names its own kinds of piece and places.
        !id.starts_with("piece-")
            && !id.starts_with("place-")
            && !known.contains(id)
            && !named.contains(*id)
    });
    unknown
        .map(|(line, id)| Unknown {
            line,
            message: id.to_owned(),
            near: nearest(id, known.iter().copied()).map(str::to_owned),
        })
        .collect()
}

/// Messages that a house's own words say again, each with the line where it is said first.
pub fn said_again(own: &str) -> Vec<(OwnMessage<'_>, usize)> {
    let mut first: FxHashMap<&str, usize> = FxHashMap::default();
    let again = own_messages(own).into_iter().filter_map(|message| {
        let line = *first.entry(message.id).or_insert(message.line);
        (line != message.line).then_some((message, line))
    });
    again.collect()
}

/// The name of the message that begins on a line.
fn message_of(line: &str) -> Option<&str> {
    let (id, _) = line.split_once('=')?;
    let id = id.trim_end();
    let is_name = |letter: char| letter.is_ascii_alphanumeric() || letter == '-' || letter == '_';
    (id.starts_with(|letter: char| letter.is_ascii_alphabetic()) && id.chars().all(is_name))
        .then_some(id)
}

/// Whether `de` loses its vowel before a French name: before vowels, and before an h that
/// is mute, which no rule tells (from memory).
fn is_elided(name: &str) -> bool {
    const MUTE: [&str; 8] =
        ["herbe", "huil", "huître", "hydro", "hysope", "hibiscus", "hélianthe", "hamamélis"];
    let name = name.to_lowercase();
    let begins = |letters: &str| name.chars().next().is_some_and(|it| letters.contains(it));
    begins("aàâäeéèêëiîïoôöœæuùûü") || MUTE.iter().any(|mute| name.starts_with(mute))
}

/// The language of a tag: `de` of `de-AT`.
pub fn language_of(tag: &str) -> &str {
    tag.split(['-', '_']).next().unwrap_or_default()
}

/// Whether a language has words of ours.
pub fn is_known(tag: &str) -> bool {
    let language = language_of(tag).to_lowercase();
    CATALOGUES.iter().any(|(known, ..)| *known == language)
}

/// How deep the braces of a message may be nested; ours need three.
const MAX_BRACES: usize = 10;

/// A catalogue without the messages whose braces are nested too deep, which its
/// reader would follow until its stack is full, and the lines on which those begin. Other
/// lines stay where they are.
fn without_deep(own: &str) -> (String, Vec<usize>) {
    let mut kept = String::with_capacity(own.len());
    let mut refused = Vec::new();
    let mut lines = own.split_inclusive('\n').enumerate().peekable();
    while let Some((number, first)) = lines.next() {
        let mut message = vec![first];
        // A message goes on in lines that begin with a blank, or are empty.
        while let Some((_, line)) =
            lines.next_if(|(_, line)| line.starts_with([' ', '\t', '\r', '\n', '}']))
        {
            message.push(line);
        }
        let mut depth: usize = 0;
        let mut deepest = 0;
        for letter in message.iter().flat_map(|line| line.chars()) {
            match letter {
                '{' => depth += 1,
                '}' => depth = depth.saturating_sub(1),
                _ => {}
            }
            deepest = deepest.max(depth);
        }
        if deepest > MAX_BRACES {
            refused.push(number + 1);
            kept.extend(message.iter().map(|_| '\n'));
        } else {
            kept.extend(message);
        }
    }
    (kept, refused)
}

fn empty(tag: &str) -> Catalogue {
    let language: LanguageIdentifier = tag.parse().unwrap_or_default();
    let mut bundle = FluentBundle::new_concurrent(vec![language]);
    // The marks that keep directions apart are for scripts that run both ways.
    bundle.set_use_isolating(false);
    bundle
}

fn built_in(language: &str) -> Catalogue {
    let mut bundle = empty(language);
    for (known, words, names) in CATALOGUES {
        if known == language {
            for text in [words, names] {
                // A test reads every catalogue to its end.
                let resource = FluentResource::try_new(text.to_owned());
                let resource = resource.unwrap_or_else(|(part, _)| part);
                bundle.add_resource_overriding(Arc::new(resource));
            }
        }
    }
    bundle
}

fn numbers(tag: &str) -> Option<Arc<DecimalFormatter>> {
    let locale = Locale::try_from_str(&format!("{tag}-u-nu-latn")).ok()?;
    let preferences = DecimalFormatterPreferences::from(&locale);
    let formatter = DecimalFormatter::try_new(preferences, DecimalFormatterOptions::default());
    formatter.ok().map(Arc::new)
}

/// A name as a part of a message's name: `creme-fraiche`.
fn slug(name: &str) -> String {
    let mut slug = String::new();
    for letter in name.nfd().flat_map(char::to_lowercase) {
        if letter.is_ascii_alphanumeric() {
            slug.push(letter);
        } else if !slug.ends_with('-') && !('\u{300}'..='\u{36f}').contains(&letter) {
            slug.push('-');
        }
    }
    slug
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_written_as_the_language_writes_them() {
        let said = |tag: &str, number: &str| Wording::new(tag, None).0.number(number);
        // Unicode CLDR 48, symbols of numbers.
        assert_eq!(said("en", "1234.5"), "1,234.5");
        assert_eq!(said("fr", "1234.50"), "1\u{202f}234,50");
        assert_eq!(said("de", "1234.5"), "1.234,5");
        assert_eq!(said("es", "1234.5"), "1234,5");
        assert_eq!(Wording::plain().number("1234.5"), "1234.5");
        assert_eq!(Wording::new("it", None).0.decimal_mark(), ",");
    }

    #[test]
    fn french_elides_before_vowels_and_a_mute_h() {
        let french = Wording::new("fr", None).0;
        let all = [
            ("eau", "d’eau"),
            ("œufs", "d’œufs"),
            ("huile d’olive", "d’huile d’olive"),
            ("Épeautre", "d’Épeautre"),
            ("sel", "de sel"),
            ("yaourt", "de yaourt"),
            ("houblon", "de houblon"),
            ("haricots", "de haricots"),
        ];
        for (name, said) in all {
            assert_eq!(french.of(name), said);
        }
    }

    #[test]
    fn a_house_has_the_first_word_and_english_the_last() {
        let (words, slips) = Wording::new("nl", Some("print-method = Werkwijze\n= 5\n"));
        assert_eq!(words.say("print-method"), "Werkwijze");
        assert_eq!(words.say("print-storage"), "Storage");
        assert_eq!(slips.len(), 1, "{slips:?}");
        assert!(slips[0].starts_with("line 2: "), "{slips:?}");
    }

    #[test]
    fn a_message_too_deep_to_be_read_is_told_and_the_others_count() {
        for depth in [11, 20_000] {
            let own = format!(
                "print-method = {}$a{}\n\nprint-storage = Bewaren\n",
                "{".repeat(depth),
                "}".repeat(depth)
            );
            let (words, slips) = Wording::new("nl", Some(&own));
            assert_eq!(slips, ["line 1: its braces are nested more than 10 deep"]);
            assert_eq!(words.say("print-method"), "Method");
            assert_eq!(words.say("print-storage"), "Bewaren");
        }
        // Nor does it help to part them by lines.
        let own = format!("print-method = {}\n", "{\n  ".repeat(20_000));
        assert_eq!(Wording::new("nl", Some(&own)).1.len(), 1);
    }

    #[test]
    fn a_message_changes_with_its_number() {
        let words = Wording::plain();
        let fold = |times: f64| words.count("fold", "times", times, &[]);
        assert_eq!(fold(1.0), "Fold once.");
        assert_eq!(fold(3.0), "Fold 3 times.");
    }
}
