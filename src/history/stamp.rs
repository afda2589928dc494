//! What a print's foot tells of where it came from: its revision and its code.

use super::brought::Brought;
use super::catalogue::{Catalogue, Digest, Meaning, Shared};
use super::code::{Settings, of_meaning, qr};
use super::declared::DeclaredKind;
use super::git::{Commit, Repository, View};
use crate::desk::{Bakehouse, Disk, FileSystem};
use crate::formula::{House, Setting, Settings as HouseSettings, work, work_as};
use crate::print::booklet::Copy;
use crate::print::document::{HousePart, PiecePart, TracePart};
use crate::print::wording::language_of;
use crate::print::{Document, Wording, document};
use crate::quantity::display::{exact, read_exact};
use crate::quantity::{Exact, System, Unit};
use crate::source::{SourceId, Span};
use crate::syntax::tree::{Formula, Makes, Open, Quantity};
use crate::time::Anchor;
use crate::time::clock::{Dating, Instant, MINUTE, When, Zone};
use std::collections::BTreeMap;
use std::path::Path;
use std::sync::{Mutex, OnceLock, PoisonError};

/// What is printed of a formula that stands in no commit as it is.
pub const DRAFT: &str = "draft";

/// The largest file that is compared, in bytes.
const MAX_BYTES: u64 = 8_000_000;

/// The last commit of a repository, with which files are compared.
pub struct Head<'r> {
    view: View<'r>,
    short: String,
    /// Whether a file is as it was committed, by its path.
    known: Mutex<BTreeMap<String, bool>>,
}

impl<'r> Head<'r> {
    /// That of a commit.
    pub fn of(repository: &'r Repository, commit: &Commit) -> Self {
        let view = View::of_tree(repository, commit.tree);
        Self { view, short: repository.short(commit.id), known: Mutex::default() }
    }

    /// Whether a file is as it was committed; other ends of lines are no difference.
    fn has(&self, path: &Path) -> bool {
        let key = path.to_string_lossy().into_owned();
        let known = self.known.lock().unwrap_or_else(PoisonError::into_inner).get(&key).copied();
        known.unwrap_or_else(|| {
            let read = |files: &dyn FileSystem| files.bytes(path, MAX_BYTES).ok().map(plain_ends);
            let same = read(&Disk).is_some_and(|now| read(&self.view) == Some(now));
            self.known.lock().unwrap_or_else(PoisonError::into_inner).insert(key, same);
            same
        })
    }
}

fn plain_ends(bytes: Vec<u8>) -> Vec<u8> {
    let pairs = bytes.windows(2).filter(|pair| pair == b"\r\n").count();
    if pairs == 0 {
        return bytes;
    }
    let mut plain = Vec::with_capacity(bytes.len());
    for (at, byte) in bytes.iter().enumerate() {
        if *byte != b'\r' || bytes.get(at + 1) != Some(&b'\n') {
            plain.push(*byte);
        }
    }
    plain
}

/// All that codes of one bakehouse are made from.
pub struct Stamper<'b, 'l> {
    bakehouse: &'b Bakehouse<'l>,
    catalogue: Catalogue<'b>,
    brought: &'b Brought,
    /// What the house brought to its prints at the last commit, once it was asked for.
    brought_then: OnceLock<Brought>,
    head: Option<&'b Head<'b>>,
    /// The house without its settings, once it was asked for.
    bare: OnceLock<House<'l>>,
}

impl<'b, 'l: 'b> Stamper<'b, 'l> {
    /// `shared` are the declarations of its files, in their order, `brought` its own words and
    /// templates.
    pub fn new(
        bakehouse: &'b Bakehouse<'l>,
        (shared, brought): (&'b [Shared], &'b Brought),
        head: Option<&'b Head<'b>>,
    ) -> Self {
        let trees = bakehouse.files.iter().map(|file| &file.tree);
        let catalogue = Catalogue::of(trees.zip(shared));
        let (brought_then, bare) = Default::default();
        Self { bakehouse, catalogue, brought, brought_then, head, bare }
    }

    /// The settings of one of its prints.
    pub fn settings(&self, wanted: PrintRequest) -> Settings {
        self.settings_in(&self.bakehouse.house.settings, wanted)
    }

    /// The same, where a booklet has put others in place of the house's.
    pub fn settings_in(&self, settings: &HouseSettings, wanted: PrintRequest) -> Settings {
        let effects = Effects::default();
        Manner { settings, brought: self.brought, effects: &effects }.of(wanted)
    }

    /// What a formula means.
    pub fn meaning(&self, formula: &'b Formula) -> Meaning<'b> {
        self.catalogue.meaning(formula)
    }

    /// What stands in the foot of a print of a formula.
    pub fn stamp(&self, formula: &'b Formula, settings: &Settings) -> TracePart {
        self.stamp_in(&self.bakehouse.house, formula, settings)
    }

    /// The same where a day says that the house is warmer or colder.
    pub fn stamp_in(&self, house: &House, formula: &'b Formula, settings: &Settings) -> TracePart {
        let meaning = self.meaning(formula);
        let bare = self.bare.get_or_init(|| self.bakehouse.house.bare());
        let houses = (house, bare);
        let effect = match settings.print.as_str() {
            "plan" => hex(&meaning.digest),
            _ => effect(houses, formula, &settings.makes, settings.volumes),
        };
        let own_times = settings.print == "plan" && !settings.asked.is_empty() && {
            let usual = usual_plans(&self.bakehouse.house.settings.hours);
            usual.iter().all(|(asked, _)| *asked != settings.asked)
        };
        let settings = Settings { effect, own_times, ..settings.clone() };
        self.told((&meaning.baked, &meaning.places), "", &settings)
    }

    /// What a print of a formula is for; empty where that is what the formula makes.
    pub fn makes(&self, formula: &'b Formula, printed: &Document) -> String {
        let own = own_yield(&self.bakehouse.house, formula);
        Some(yield_of(printed)).filter(|makes| *makes != own).unwrap_or_default()
    }

    /// What stands in the foot of a booklet or a day, by its key.
    pub fn stamp_handout(&self, key: &str, settings: &Settings) -> Option<TracePart> {
        let meaning = self.catalogue.meaning_of_handout(key)?;
        Some(self.told((&meaning.digest, &meaning.places), key, settings))
    }

    fn told(
        &self,
        (digest, places): (&Digest, &[Span]),
        of: &str,
        settings: &Settings,
    ) -> TracePart {
        let code = of_meaning(digest) + &settings.letters();
        let wants = self.bakehouse.house.settings.codes.is_some() && settings.print == "sheet";
        let qr = wants.then(|| qr(&code)).flatten();
        TracePart { revision: self.revision(places, &settings.print, of), code, qr }
    }

    fn revision(&self, places: &[Span], print: &str, of: &str) -> String {
        let is_committed = |head: &&&Head| {
            let mut sources: Vec<SourceId> = places.iter().map(|place| place.source).collect();
            sources.sort();
            sources.dedup();
            let file =
                |source: SourceId| self.bakehouse.files.iter().find(|file| file.source == source);
            sources.into_iter().filter_map(file).all(|file| head.has(&file.path))
                && self.brings_the_same(head, print, of)
        };
        let head = self.head.as_ref().filter(is_committed);
        head.map_or_else(|| DRAFT.to_owned(), |head| head.short.clone())
    }

    /// Whether a kind of print has the house's own words, templates and pictures that were
    /// committed.
    fn brings_the_same(&self, head: &Head, print: &str, of: &str) -> bool {
        let of_head = || Brought::of(&head.view, self.bakehouse);
        let then = self.brought_then.get_or_init(of_head);
        then.of_print(print, of, true) == self.brought.of_print(print, of, true)
    }
}

/// What a print is for, in numbers alone, so that it is the same in every language.
pub fn yield_of(document: &Document) -> String {
    let piece = |piece: &PiecePart| {
        let count: String = piece.count.chars().filter(char::is_ascii_digit).collect();
        format!("{count} at {}", piece.weight.grams)
    };
    let pieces = document.makes.pieces.iter().map(piece);
    pieces.chain([document.makes.dough.grams.clone()]).collect::<Vec<_>>().join(", ")
}

/// What a formula is printed for where nobody asks for anything else.
pub fn own_yield(house: &House, formula: &Formula) -> String {
    let worked = work(house, formula, &mut Vec::new());
    yield_of(&document(house, &worked, &Wording::plain(), false))
}

/// What a house makes of the prints of a formula by its settings and its machines, as far as
/// they show it; nothing of a booklet or a day, which mean all of these.
#[derive(Clone, Debug, Default)]
pub struct Effects {
    /// Of cards, sheets, tables and the parts of booklets.
    plain: String,
    /// Of the same with volumes beside the weights.
    with_volumes: String,
    /// Of plans, which rest on all that a formula rests on.
    plan: String,
}

impl Effects {
    /// Those of a formula as it is written, with the fingerprint of all that it means.
    pub fn of(houses: (&House, &House), formula: &Formula, digest: &Digest) -> Self {
        Self {
            plain: effect(houses, formula, "", false),
            with_volumes: effect(houses, formula, "", true),
            plan: hex(digest),
        }
    }

    /// On a kind of print.
    pub fn on(&self, print: &str, volumes: bool) -> String {
        match (print, volumes) {
            ("plan", _) => self.plan.clone(),
            (_, true) => self.with_volumes.clone(),
            (_, false) => self.plain.clone(),
        }
    }
}

/// What the first of two houses, of which the other has neither settings nor machines, makes of
/// the prints of a formula for a yield in numbers; empty where nothing of it is seen. What is the
/// same in both is what the formula says, which stands in the code's other letters.
pub fn effect(
    (house, bare): (&House, &House),
    formula: &Formula,
    makes: &str,
    volumes: bool,
) -> String {
    let makes = dough_of(makes).map(|number| {
        let (unit, span) = (Unit::Gram, formula.name.span);
        Makes::of_dough(Quantity { number, unit, decimals: None, span }, span)
    });
    let shown = |house: &House| {
        let worked = match &makes {
            Some(makes) => work_as(house, formula, makes, &mut Vec::new()),
            None => work(house, formula, &mut Vec::new()),
        };
        let mut printed = document(house, &worked, &Wording::plain(), volumes);
        printed.house = HousePart::default();
        let printed = serde_json::to_value(&printed).unwrap_or_default();
        let mut all = Vec::new();
        leaves("", &printed, &mut all);
        all.sort_unstable();
        all
    };
    let (with, without) = (shown(house), shown(bare));
    if with == without {
        return String::new();
    }
    let mut only = Vec::new();
    let (mut with, mut without) = (with.into_iter().peekable(), without.into_iter().peekable());
    // Both are in order: what stands in one alone is what the house makes of it.
    loop {
        match (with.peek(), without.peek()) {
            (None, None) => break,
            (Some(one), Some(two)) if one == two => drop((with.next(), without.next())),
            (Some(one), two) if two.is_none_or(|two| one < two) => {
                only.extend(with.next().map(|it| format!("+{it}")));
            }
            _ => only.extend(without.next().map(|it| format!("-{it}"))),
        }
    }
    hex(blake3::hash(only.join("\u{1e}").as_bytes()).as_bytes())
}

/// Each value of a document with its place, the order of lists left out.
fn leaves(at: &str, value: &serde_json::Value, all: &mut Vec<String>) {
    match value {
        serde_json::Value::Object(map) => {
            map.iter().for_each(|(key, value)| leaves(&format!("{at}.{key}"), value, all));
        }
        serde_json::Value::Array(list) => list.iter().for_each(|it| leaves(at, it, all)),
        value => all.push(format!("{at}={value}")),
    }
}

/// The grams of dough of a yield in numbers.
fn dough_of(makes: &str) -> Option<Exact> {
    read_exact(makes.rsplit(", ").next()?)
}

fn hex(digest: &Digest) -> String {
    digest.iter().take(16).map(|byte| format!("{byte:02x}")).collect()
}

/// How a house makes its prints: its settings, and what it brings to them.
#[derive(Clone, Copy)]
pub struct Manner<'h> {
    /// Its settings, or those that a booklet puts in their place.
    pub settings: &'h HouseSettings,
    /// Its own words and templates.
    pub brought: &'h Brought,
    /// What these settings and its machines make of what is printed.
    pub effects: &'h Effects,
}

/// One print, as it was asked for.
#[derive(Clone, Copy, Debug, Default)]
pub struct PrintRequest<'w> {
    /// One of [`prints_of`].
    pub print: &'w str,
    /// Its language, as a tag; `fr and de` in two.
    pub language: &'w str,
    /// Whether volumes stand beside weights.
    pub volumes: bool,
    /// The key of the booklet or day; empty for a formula.
    pub of: &'w str,
    /// What it is made for, where that is not what the formula makes.
    pub makes: &'w str,
    /// What else was asked for.
    pub asked: &'w str,
}

impl Manner<'_> {
    /// The settings of one print.
    pub fn of(&self, wanted: PrintRequest) -> Settings {
        let units = self.settings.units;
        Settings {
            print: wanted.print.to_owned(),
            language: wanted.language.to_owned(),
            units: units_word(units.first, units.both),
            volumes: wanted.volumes,
            makes: wanted.makes.to_owned(),
            house: self.house(wanted.print, wanted.of, wanted.language),
            asked: wanted.asked.to_owned(),
            effect: match wanted.makes {
                "" => self.effects.on(wanted.print, wanted.volumes),
                _ => String::new(),
            },
            own_times: false,
        }
    }

    /// What of a house stands on a print beside what is baked, or shapes it; `of` is the key of
    /// a booklet or day.
    pub fn house(&self, print: &str, of: &str, language: &str) -> String {
        let settings = self.settings;
        let part = serde_json::to_string(&HousePart::of(settings)).unwrap_or_default();
        let value = |setting: &Option<Setting>| setting.as_ref().map(|it| it.value.to_string());
        // Ounces are rounded by scales of their own.
        let part = match settings.units {
            units if units.first == System::Us || units.both => {
                format!("{part} {:?} {:?}", settings.scale, settings.other_scale)
            }
            _ => part,
        };
        let own = match print {
            "sheet" => format!("{part} {:?}", value(&settings.codes)),
            "plan" => {
                let hours =
                    settings.hours.iter().map(|it| format!("{:?} {}..{}", it.days, it.from, it.to));
                let hours: Vec<String> = hours.collect();
                format!("{part} {:?} {hours:?}", value(&settings.zone))
            }
            _ => part,
        };
        // A house's own words are in its own language.
        let speaks = language_of(language) == language_of(&self.language());
        own + &self.brought.of_print(print, of, speaks)
    }

    fn language(&self) -> String {
        let language = self.settings.language.as_ref();
        language.map_or_else(|| "en".to_owned(), |it| it.value.to_string())
    }

    /// How it makes some prints where nobody asks for anything else; a booklet has a copy for
    /// each of so many seats, and `of` is its key.
    pub fn own(&self, prints: &[&str], of: &str, seats: u32) -> Vec<Settings> {
        let language = self.language();
        let second = self.settings.second_language.as_ref();
        let mut all = Vec::new();
        for &print in prints {
            let language = match second.filter(|_| print == "sheet") {
                Some(second) => format!("{language} and {}", second.value),
                None => language.clone(),
            };
            // Plans tell no volumes.
            let volumes = self.settings.volumes && !matches!(print, "plan" | "day");
            for asked in asked_of(print, seats, false) {
                let (language, asked) = (language.as_str(), asked.as_str());
                all.push(self.of(PrintRequest { print, of, language, volumes, asked, makes: "" }));
            }
        }
        all
    }
}

/// What may be asked of a print beside its language, units and yield, as far as it can be
/// told in a word: which copy it is, and whether its letters are large.
pub fn asked_of(print: &str, seats: u32, large: bool) -> Vec<String> {
    let copies: &[(Copy, u32)] = match print {
        "booklet" => &[(Copy::All, seats), (Copy::Learner, seats), (Copy::Teacher, 1)],
        "worksheet" | "answers" | "reckoner" | "shopping" => &[(Copy::All, 1)],
        _ => return vec![String::new()],
    };
    let sizes: &[bool] = if large { &[false, true] } else { &[false] };
    let mut all = Vec::new();
    for large in sizes {
        for (copy, seats) in copies {
            all.extend((1..=*seats).map(|seat| asked_copy(*copy, seat, *large)));
        }
    }
    all
}

/// The times that a plan was asked for.
#[derive(Clone, Copy, Debug)]
pub struct Timed<'t> {
    /// The zone of a plan with dates.
    pub zone: Option<&'t str>,
    /// What it is held at.
    pub anchor: Anchor,
    /// Nothing is begun before then.
    pub not_before: Option<Instant>,
    /// When somebody is there.
    pub hours: Option<&'t [Open]>,
    /// Milliseconds.
    pub grid: i64,
    /// How warm the room and the refrigerator are said to be, and the share of a seed.
    pub warm: [Option<&'t Exact>; 3],
}

/// All that makes a plan another than one for the same formula, whatever words it was asked
/// for in.
pub fn asked_plan(timed: &Timed) -> String {
    let Timed { zone, anchor, not_before, hours, grid, warm } = timed;
    let warm = warm.map(|it| it.map(exact));
    format!("{anchor:?} {not_before:?} {hours:?} {grid} {zone:?} {warm:?}")
}

/// The times of a clock that a house with some hours may have planned for, without a date: each
/// as it was asked, and in words; first those of any day.
pub fn usual_plans(hours: &[Open]) -> Vec<(String, String)> {
    let any = (0..96).map(|quarter| format!("{:02}:{:02}", quarter / 4, quarter % 4 * 15));
    let weekly = DAYS.iter().flat_map(|day| {
        (0..48).map(move |half| format!("{day} {:02}:{:02}", half / 2, half % 2 * 30))
    });
    let any = any.map(|time| (Dating::AnyDay, time));
    let all = any.chain(weekly.map(|time| (Dating::AnyWeek, time)));
    let mut plans = Vec::new();
    for (dating, time) in all {
        let zone = Zone::undated(dating);
        let at = When::read(&time).and_then(|when| zone.instant_of(&when, None).ok());
        let Some(at) = at else { continue };
        let anchors = [
            (Anchor::Ready(at), "ready"),
            (Anchor::ReadyBy(at), "ready by"),
            (Anchor::Start(at), "start"),
        ];
        plans.extend(anchors.map(|(anchor, word)| {
            let timed = Timed {
                zone: None,
                anchor,
                not_before: None,
                hours: Some(hours).filter(|hours| !hours.is_empty()),
                grid: USUAL_GRID,
                warm: [None; 3],
            };
            (asked_plan(&timed), format!("{word} {time}"))
        }));
    }
    plans
}

/// Weekdays as they are typed.
pub const DAYS: [&str; 7] = ["mon", "tue", "wed", "thu", "fri", "sat", "sun"];

/// The steps of the clock that plans keep to where nobody asks for others, in milliseconds.
const USUAL_GRID: i64 = 5 * MINUTE;

/// Which copy of a booklet was asked for: `learner's copy, seat 2, large`.
pub fn asked_copy(copy: Copy, seat: u32, large: bool) -> String {
    let copy = match copy {
        Copy::All => None,
        Copy::Learner => Some("learner's copy".to_owned()),
        Copy::Teacher => Some("teacher's copy".to_owned()),
    };
    let seat = (seat > 1).then(|| format!("seat {seat}"));
    let large = large.then(|| "large".to_owned());
    copy.into_iter().chain(seat).chain(large).collect::<Vec<_>>().join(", ")
}

/// The prints of a formula, a booklet or a day that bear a code.
pub fn prints_of(kind: DeclaredKind) -> &'static [&'static str] {
    match kind {
        DeclaredKind::Booklet => &["booklet"],
        DeclaredKind::Day => &["day"],
        _ => &["sheet", "card", "table", "plan", "worksheet", "answers", "reckoner", "shopping"],
    }
}

/// `metric`, `us`, and whether the other stands beside.
pub fn units_word(first: System, both: bool) -> String {
    let first = match first {
        System::Metric => "metric",
        System::Us => "us",
    };
    if both { format!("{first} and other") } else { first.to_owned() }
}
