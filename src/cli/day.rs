//! `assize day`: orders become a day that a bakehouse can work.

use super::args::{Day as Args, DayFormat, DayGiven, Print as PrintArgs, PrintFormat, PrintKind};
use super::asked::{loaded, paths_and_names};
use super::exit::Exit;
use super::press::{Press, SECONDS};
use super::progress::Progress;
use super::stamps::Stamps;
use super::streams;
use super::tell::{drawn, tell_on_error, usage};
use super::when::of_the_system;
use crate::desk::{
    self, Bakehouse, Disk, FileSystem, Loaded, MAX_BYTES, glyph_missing, unwritable,
};
use crate::diag::{self, Finding, Level, nearest};
use crate::formula::{House, built_in, key, tell_of_house};
use crate::history::stamp::{PrintRequest as WantedPrint, Stamper};
use crate::orders::{
    Begun, Booked, Carried, Clock, EarlierTask, Planned, ResolvedDay, Sharing, Through, Unmade,
    Work, booked, clashes, day_findings, freeze, heads, is_one_day, known, lay, leave, left, moved,
    names_of_day, part_hands, plan, replace, resolve, rows, taken_over, tried, unmade, works,
};
use crate::print::day_document::{DayDocument, DayEarlier, DayStretch, VERSION as DAY_VERSION};
use crate::print::document::TracePart;
use crate::print::findings::template_slip;
use crate::print::pages::{self, BookPart, Format};
use crate::print::{
    Document, Wording, day_as_begun, day_calendar, day_csv, day_document, day_json, day_sheets,
    day_text, html, json as json_of,
};
use crate::quantity::display;
use crate::source::{SourceId, visible};
use crate::syntax::tree::{DayTime, Open, Ordered, Tree};
use crate::syntax::{read_day_time, read_temperature};
use crate::time::clock::{Dating, Instant, Zone};
use crate::time::day::{self, Change, Effort};
use std::borrow::Cow;
use std::cell::Cell;
use std::io::Read;
use std::path::Path;

/// `assize day`.
pub fn run(args: &Args) -> Exit {
    match days(args) {
        Ok(exit) | Err(exit) => exit,
    }
}

fn days(args: &Args) -> Result<Exit, Exit> {
    if args.of.is_some() && matches!(args.format, DayFormat::Json | DayFormat::Svg) {
        return Err(usage("`--of` is for text, `--format csv` and `--format ics`"));
    }
    let (paths, names) = paths_and_names(&args.days);
    let mut loaded = loaded(&paths)?;
    let table = args.given.orders.as_deref().map(|path| table(path, &mut loaded)).transpose()?;
    let bakehouses = desk::bakehouses(&loaded);
    if !loaded.is_whole() {
        tell_on_error(&loaded.findings, &loaded.sources);
        return Err(Exit::Findings);
    }
    let names: Vec<String> = match names.is_empty() {
        false => names.iter().map(ToString::to_string).collect(),
        true => {
            let own = bakehouses.iter().flat_map(|it| &it.files).filter(|file| file.is_asked_for());
            own.flat_map(|file| &file.tree.days).map(|day| day.name.shown.to_string()).collect()
        }
    };
    let names = by_calendar(names, &bakehouses);
    if names.is_empty() {
        return Err(usage("which day? name a date, a weekday or a `day` of the bakehouse"));
    }
    let state = state(&args.given, &args.days)?;
    if names.len() > 1 && state.is_some() {
        return Err(usage("a day that has begun is planned by itself: name one day"));
    }
    let mut exit = Exit::Clean;
    let mut together = Together::default();
    let mut written_so_far: Vec<Vec<u8>> = Vec::new();
    let several = names.len() > 1;
    for name in &names {
        let wanted = Wanted {
            room: args.room.as_deref(),
            zone: args.zone.as_deref(),
            placings: args.placings,
            state: state.as_ref(),
            table: table.as_ref(),
            notes: true,
            of_several: several,
        };
        let day = (name.as_str(), &mut together);
        let (written, own) =
            with_day(wanted, &loaded, &bakehouses, day, |bakehouse, house, planned| {
                let earlier = state.as_ref().and_then(|state| state.earlier.as_ref());
                written(args, &loaded, bakehouse, house, (planned, earlier))
            })?;
        written_so_far.extend(written);
        exit = exit.max(own);
    }
    let all = match args.format {
        // Several days are one array, as programs read it.
        DayFormat::Json if several => {
            [&b"[\n"[..], &written_so_far.join(&b",\n"[..]), b"]\n"].concat()
        }
        DayFormat::Text => written_so_far.join(&b"\n"[..]),
        _ => written_so_far.concat(),
    };
    Ok(exit.max(streams::output(all)))
}

/// Dates in their order; weekdays and other names follow each other as they are named. A day that
/// is named twice is planned once.
fn by_calendar(all: Vec<String>, bakehouses: &[Bakehouse]) -> Vec<String> {
    let days: Vec<&str> = bakehouses.iter().flat_map(|it| it.house.day_names()).collect();
    let mut names: Vec<String> = Vec::with_capacity(all.len());
    for name in all {
        if !names.iter().any(|known| is_one_day(&days, &key(known), &key(&name))) {
            names.push(name);
        }
    }
    if names.iter().all(|name| name.starts_with(|letter: char| letter.is_ascii_digit())) {
        names.sort();
    }
    names
}

/// Days that are planned together: what those so far have of the house, and what the last of them
/// leaves.
#[derive(Default)]
struct Together {
    before: Vec<Booked>,
    left: Vec<Carried>,
    last: Option<(Dating, Instant)>,
}

impl Together {
    /// Moves a weekday into the week that follows those before it, and says whether it is later
    /// than they are.
    fn is_later(&self, clock: &mut Clock) -> bool {
        let Some((dating, last)) = self.last else { return false };
        if dating != clock.zone.dating || dating == Dating::AnyDay {
            return false;
        }
        while dating == Dating::AnyWeek && clock.midnight <= last {
            clock.midnight = clock.zone.days_later(clock.midnight, 7);
        }
        clock.midnight > last
    }

    fn add(&mut self, house: &House, planned: &Planned) {
        let clock = &planned.laid.clock;
        self.before.push(booked(planned));
        self.left = left(house, planned);
        self.last = Some((clock.zone.dating, clock.midnight));
    }
}

/// What a day is planned with, beside what it says.
#[derive(Clone, Copy)]
struct Wanted<'a> {
    room: Option<&'a str>,
    zone: Option<&'a str>,
    placings: Option<u64>,
    state: Option<&'a State>,
    table: Option<&'a (SourceId, String)>,
    /// Whether notes are told too.
    notes: bool,
    /// Whether other days are asked for too.
    of_several: bool,
}

/// The order file that the command line names, added to the texts of the run.
pub fn table(path: &Path, loaded: &mut Loaded) -> Result<(SourceId, String), Exit> {
    let is_input = path == Path::new("-");
    let shown = if is_input { "standard input".to_owned() } else { path.display().to_string() };
    let bytes = match is_input {
        true => {
            let mut bytes = Vec::new();
            std::io::stdin().take(MAX_BYTES).read_to_end(&mut bytes).map(|_| bytes)
        }
        false => Disk.bytes(path, MAX_BYTES),
    };
    let bytes = bytes.map_err(|error| match error.kind() {
        std::io::ErrorKind::NotFound => usage(&format!("there is no {shown}")),
        _ => usage(&format!("{shown} can't be read: {}", desk::why(&error))),
    })?;
    let text = String::from_utf8(bytes)
        .map_err(|_| usage(&format!("{shown} is not UTF-8: save it as CSV with UTF-8")))?;
    let text = text.strip_prefix('\u{feff}').unwrap_or(&text).to_owned();
    let id = loaded.sources.add(&shown, text.as_str().into());
    Ok((id, text))
}

/// Takes the orders of a table into a day; what was found is told.
fn take_orders(
    wanted: Wanted,
    loaded: &Loaded,
    house: &House,
    day: &mut ResolvedDay,
) -> Result<(), Exit> {
    let Some((source, text)) = wanted.table else { return Ok(()) };
    let read = rows(house, day, *source, text);
    let columns = read.columns.iter().map(|(column, head)| match head == column.word() {
        true => format!("`{head}`"),
        false => format!("`{head}` as {}", column.word()),
    });
    let columns: Vec<String> = columns.collect();
    let name = loaded.sources.get(*source).map_or("", |source| &*source.name);
    let plural = |count: usize| if count == 1 { "" } else { "s" };
    let others = match read.others {
        0 => String::new(),
        others => format!(", {others} of other days left"),
    };
    streams::error_text(&*visible(&format!(
        "{name}: columns {}; {} row{} read{others}\n",
        columns.join(", "),
        read.own,
        plural(read.own)
    )));
    tell_on_error(&read.findings, &loaded.sources);
    if read.findings.iter().any(|finding| finding.level == Level::Error) {
        return Err(Exit::Findings);
    }
    for gone in replace(day, read.orders) {
        let wishes = gone.wishes.iter().map(|wish| {
            let amount = match &wish.amount {
                Ordered::Pieces(count, kind) => {
                    format!("{} {}", display::trimmed(&count.number, 0), kind.shown)
                }
                Ordered::Weight(weight) => {
                    format!("{} g dough", display::trimmed(&house.base(weight), 0))
                }
            };
            let (hour, minute) = (wish.by.minutes / 60, wish.by.minutes % 60);
            let before = if wish.by.day_before { " the day before" } else { "" };
            format!("{amount} by {hour:02}:{minute:02}{before}")
        });
        let whom = gone.customer.as_ref().map(|whom| format!(" for {whom}")).unwrap_or_default();
        streams::error_text(&*visible(&format!(
            "{name}: in place of `{}`{whom} {}\n",
            gone.product.shown,
            wishes.collect::<Vec<_>>().join(", ")
        )));
    }
    Ok(())
}

/// A day that has begun.
struct State {
    /// What was planned; none where that is what the day's orders give.
    earlier: Option<Earlier>,
    now: Option<DayTime>,
    through: Vec<Through>,
}

/// The plan so far, as it was written.
struct Earlier {
    works: Vec<Work>,
    known: Vec<EarlierTask>,
    shown: DayEarlier,
}

/// The state that the command line names: a day has begun where a plan so far, a time or
/// something that is done is given.
fn state(args: &DayGiven, days: &[std::ffi::OsString]) -> Result<Option<State>, Exit> {
    if args.state.is_none() && args.now.is_none() && args.done.is_empty() {
        return Ok(None);
    }
    let earlier = args.state.as_deref().map(|path| earlier(path, days)).transpose()?;
    let through = args.done.iter().map(|text| {
        Through::read(text).ok_or_else(|| {
            usage(&format!(
                "`--done {text}` is not a batch and a step: write \"gullhaven-sour 2 bulk\""
            ))
        })
    });
    let now = args.now.as_ref().map(|text| {
        read_day_time(text)
            .ok_or_else(|| usage(&format!("`--now {text}` is not a time of day: write 04:10")))
    });
    Ok(Some(State { earlier, now: now.transpose()?, through: through.collect::<Result<_, _>>()? }))
}

/// The plan so far, from a file.
fn earlier(path: &Path, days: &[std::ffi::OsString]) -> Result<Earlier, Exit> {
    let shown = path.display();
    let text = Disk.bytes(path, MAX_BYTES).map_err(|error| match error.kind() {
        std::io::ErrorKind::NotFound => usage(&format!("there is no {shown}")),
        _ => usage(&format!("{shown} can't be read: {}", desk::why(&error))),
    })?;
    let unread = || usage(&format!("{shown} is not what `assize day --format json` writes"));
    let plan: serde_json::Value =
        serde_json::from_slice(desk::without_mark(&text)).map_err(|_| unread())?;
    // Of several days, the one that is asked for.
    let plan = match plan {
        serde_json::Value::Array(all) => {
            let is_it = |plan: &serde_json::Value| {
                let name = plan.get("name").and_then(|name| name.as_str()).map(key);
                days.iter().any(|day| day.to_str().map(key) == name)
            };
            all.into_iter().find(is_it).ok_or_else(unread)?
        }
        plan => plan,
    };
    let of = plan.get("name").and_then(|name| name.as_str()).ok_or_else(unread)?;
    if let [day] = days
        && let Some(day) = day.to_str()
        && !Path::new(day).exists()
        && key(day) != key(of)
    {
        return Err(usage(&format!("{shown} is the plan of `{of}`, not of `{day}`")));
    }
    let minute = |value: &serde_json::Value| value.as_i64().and_then(|it| i32::try_from(it).ok());
    let known = |task: &serde_json::Value| {
        Some(EarlierTask {
            id: task.get("id")?.as_str()?.to_owned(),
            from: minute(task.get("from")?)?,
            to: minute(task.get("to")?)?,
            machine: task.get("machine").and_then(|it| it.as_str()).map(ToOwned::to_owned),
            done: task.get("done").and_then(serde_json::Value::as_bool).unwrap_or(false),
        })
    };
    let tasks = plan.get("tasks").and_then(|tasks| tasks.as_array());
    let known: Option<Vec<EarlierTask>> = tasks.and_then(|all| all.iter().map(known).collect());
    let known = known.ok_or_else(unread)?;
    if plan.get("version").and_then(serde_json::Value::as_u64) != Some(DAY_VERSION.into()) {
        return Err(usage(&format!(
            "{shown} was written by another version of assize: plan the day anew"
        )));
    }
    let works = plan.get("works").cloned().unwrap_or_default();
    let works: Vec<Work> = serde_json::from_value(works).map_err(|_| unread())?;
    let shown: DayEarlier = serde_json::from_value(plan).map_err(|_| unread())?;
    Ok(Earlier { works, known, shown })
}

/// A day of a bakehouse, planned, and what is told of it, handed on; nothing, of several days, where
/// one has no orders.
fn with_day<T>(
    wanted: Wanted,
    loaded: &Loaded,
    bakehouses: &[Bakehouse],
    (name, together): (&str, &mut Together),
    then: impl FnOnce(&Bakehouse, &House, &Planned) -> Result<T, Exit>,
) -> Result<(Option<T>, Exit), Exit> {
    let asked = key(name);
    let has_it = |bakehouse: &&Bakehouse| names_of_day(&bakehouse.house, &asked).is_some();
    let Some(bakehouse) = bakehouses.iter().find(has_it) else {
        return Err(no_such_day(bakehouses, name, &asked));
    };
    let (house, mut clock) = house_of_day(wanted, bakehouse, &asked)?;
    let day_key = names_of_day(&house, &asked).unwrap_or_default();
    let mut told: Vec<Finding> = errors(loaded, bakehouse, &house, &day_key);
    if told.iter().any(|finding| finding.level == Level::Error) {
        diag::sort(&mut told);
        tell_on_error(&told, &loaded.sources);
        return Err(Exit::Findings);
    }
    let Some(mut day) = resolve(&house, &day_key, &asked) else {
        return Err(no_such_day(bakehouses, name, &asked));
    };
    if let Some(room) = temperature(wanted.room, &house)? {
        day.room = Some(room.clone());
        day.timed_for = Some(room);
        streams::error_text(
            "what stands in the room is timed for it by estimate, as `assize plan` does\n",
        );
    }
    take_orders(wanted, loaded, &house, &mut day)?;
    if day.orders.is_empty() && wanted.of_several {
        streams::error_text(&*visible(&format!("{name}: nothing is ordered\n")));
        return Ok((None, Exit::Clean));
    }
    if day.orders.is_empty() {
        return Err(usage(&match wanted.table {
            Some(_) => format!(
                "nothing is ordered for the day `{name}`: no row of the table orders more than 0"
            ),
            None => {
                format!("the day `{name}` has no orders: write `order FORMULA 60 loaves by 07:00`")
            }
        }));
    }
    tell_left_out(&day, &clock);
    if day.hours.is_some_and(differ_by_weekday) && clock.weekday().is_none() {
        return Err(usage(&format!(
            "the hours differ by weekday, and `{name}` is none: call the day by its date or weekday"
        )));
    }
    if together.is_later(&mut clock) {
        day.carried = taken_over(&together.left, &day.on_hand, &clock);
        tell_carried(&day);
    }
    let begun = begun(wanted, loaded, (&house, &day, &clock))?;
    let work = Cell::new(0);
    let usual = Changed { change: None, placed: &work };
    let mut planned = best_day(wanted, loaded, (&house, &day, &clock), (&begun, &[]), usual)?;
    let mut around_others: &[Booked] = &[];
    // A day that meets one before it is planned around that; where it is worse for it, that is why.
    let mut met = clashes(&planned, &together.before);
    if !met.is_empty() {
        let before = together.before.as_slice();
        let around = best_day(wanted, loaded, (&house, &day, &clock), (&begun, before), usual)?;
        around_others = before;
        if around.trouble() <= planned.trouble() {
            met.clear();
        }
        planned = around;
    }
    if wanted.state.is_some() {
        let wrong = moved(&planned);
        if let Some(first) = wrong.first() {
            return Err(usage(&format!(
                "the plan so far can't be kept: {first} is no longer exactly where it was"
            )));
        }
        tell_begun(&planned);
    }
    planned.prove();
    part_hands(&mut planned, &together.before);
    let progress = Progress::new(1);
    progress.one_long(planned.laid.making.batches.len());
    work.set(0);
    let causes = tried(&planned, |day, change| {
        let changed = Changed { change, placed: &work };
        let is_left = work.get() < MOST_FOR_WAYS;
        let of = (&house, day, &clock);
        is_left.then(|| best_day(wanted, loaded, of, (&begun, around_others), changed).ok())?
    });
    let mut findings = day_findings(&house, &planned, &causes);
    progress.done();
    findings.extend(met);
    tell_of_house(&house, &mut findings);
    tell_on_error(&findings, &loaded.sources);
    if wanted.notes {
        let notes = findings.iter().filter(|finding| finding.level == Level::Note);
        let colour = streams::colour(&std::io::stderr());
        streams::error_text(drawn(notes, &loaded.sources, colour));
    }
    let is_met = !findings.iter().any(|finding| finding.level == Level::Error);
    let done = then(bakehouse, &house, &planned)?;
    together.add(&house, &planned);
    Ok((Some(done), if is_met { Exit::Clean } else { Exit::Findings }))
}

/// A day as it is planned where nobody asks for anything else, without a word; nothing where it
/// has errors, no orders, or can't be planned.
pub fn document_of(loaded: &Loaded, bakehouses: &[Bakehouse], name: &str) -> Option<DayDocument> {
    let asked = key(name);
    let bakehouse = bakehouses.iter().find(|it| names_of_day(&it.house, &asked).is_some())?;
    let wanted = Wanted {
        room: None,
        zone: None,
        placings: None,
        state: None,
        table: None,
        notes: false,
        of_several: false,
    };
    let (house, clock) = house_of_day(wanted, bakehouse, &asked).ok()?;
    let day_key = names_of_day(&house, &asked)?;
    let is_sound = errors(loaded, bakehouse, &house, &day_key).is_empty();
    let day = resolve(&house, &day_key, &asked).filter(|_| is_sound)?;
    let is_of_a_weekday = !day.hours.is_some_and(differ_by_weekday) || clock.weekday().is_some();
    if day.orders.is_empty() || !is_of_a_weekday {
        return None;
    }
    let begun = Begun::default();
    let usual = Changed { change: None, placed: &Cell::new(0) };
    let mut planned =
        best_day(wanted, loaded, (&house, &day, &clock), (&begun, &[]), usual).ok()?;
    planned.prove();
    part_hands(&mut planned, &[]);
    Some(day_document(&house, &planned, &Wording::plain()))
}

/// Placings that a day is planned with where nobody says how many: a few seconds. More find days
/// that end earlier.
const MAX_PLACINGS: u64 = 3_000;

/// Placings after which no other way to share builds is tried; and where somebody says how many
/// each may try, so many times that.
const MOST_PLACED: u64 = 60_000;
const WAYS: u64 = 8;

/// Placings after which no other way out of a late day is planned.
const MOST_FOR_WAYS: u64 = 120_000;

/// A change of hands or machines that a day is planned with, and the placings that all plans took.
#[derive(Clone, Copy)]
struct Changed<'c> {
    change: Option<&'c Change>,
    placed: &'c Cell<u64>,
}

/// Says which times of orders clocks leave out on that day, and what they count as.
fn tell_left_out(day: &ResolvedDay, clock: &Clock) {
    let wishes = day.orders.iter().flat_map(|order| &order.wishes);
    let times = wishes.flat_map(|wish| [Some(wish.by), wish.after]).flatten();
    let mut told: Vec<DayTime> = Vec::new();
    for time in times.filter(|time| !clock.has(*time)) {
        if told.iter().any(|known| known.of_day() == time.of_day()) {
            continue;
        }
        told.push(time);
        streams::error_text(&*visible(&format!(
            "{}: clocks go forward that night, and no clock shows {:02}:{:02}: it counts as {}\n",
            day.name,
            time.minutes / 60,
            time.minutes % 60,
            clock.said(clock.minute(time))
        )));
    }
}

/// Says what a day takes over from the one before it.
fn tell_carried(day: &ResolvedDay) {
    for it in &day.carried {
        let of = it.there.of.as_ref().map(|of| format!(" of {}", of.shown)).unwrap_or_default();
        let amount = match &it.there.amount {
            Ordered::Pieces(count, kind) => {
                format!("{} {}, frozen", display::trimmed(&count.number, 0), kind.shown)
            }
            Ordered::Weight(weight) => format!("{} g", display::trimmed(&weight.number, 0)),
        };
        streams::error_text(&*visible(&format!(
            "{}: left from the day before, {}{of} {amount}\n",
            day.name, it.there.name.shown
        )));
    }
}

/// Says where the plan so far was made from other words than the day, its formulas and its house
/// have now.
fn tell_other_code(document: &DayDocument, earlier: Option<&TracePart>) {
    /// Letters of a code that tell what is baked; the others tell how it is printed.
    const BAKED: usize = 5;
    let own = document.trace.as_ref().and_then(|trace| trace.code.get(..BAKED));
    let known = earlier.and_then(|trace| trace.code.get(..BAKED));
    if let (Some(own), Some(known)) = (own, known)
        && own != known
    {
        streams::error_text(&*visible(&format!(
            "{}: the day, its formulas or its house have changed since the plan so far: {known} \
             then, {own} now\n",
            document.name
        )));
    }
}

/// Whether the times that the plan so far shows are those that it is worked with, in minutes: who
/// has put one right by hand must not be passed over.
///
/// # Errors
/// Where one differs.
fn as_it_shows(earlier: &Earlier, clock: &Clock) -> Result<(), Exit> {
    let time = |minute: i64| {
        let minute = i32::try_from(minute).ok()?;
        Some(clock.zone.at(clock.instant(minute)).time())
    };
    for task in &earlier.shown.tasks {
        let both = [("from", task.from, &task.begins), ("to", task.to, &task.ends)];
        for (word, minute, shown) in both {
            let known = time(minute).unwrap_or_default();
            if known != shown.time {
                return Err(usage(&visible(&format!(
                    "in the plan so far, `{}` shows {}, but its `{word}` of {minute} minutes after \
                     midnight is {known}: correct both, or run `assize day` with \
                     `--now` and `--done`",
                    task.id, shown.time
                ))));
            }
        }
    }
    Ok(())
}

/// What of a day has begun: nothing, where the command line says nothing of that.
fn begun<'t>(
    wanted: Wanted,
    loaded: &Loaded,
    (house, day, clock): (&'t House<'t>, &ResolvedDay<'t>, &Clock),
) -> Result<Begun, Exit> {
    let Some(state) = wanted.state else { return Ok(Begun::default()) };
    let (works, known) = match &state.earlier {
        Some(earlier) => {
            as_it_shows(earlier, clock)?;
            (earlier.works.clone(), earlier.known.clone())
        }
        // Without a plan so far, the day began as its orders are planned.
        None => {
            let fresh = Begun::default();
            let usual = Changed { change: None, placed: &Cell::new(0) };
            let first = best_day(wanted, loaded, (house, day, clock), (&fresh, &[]), usual)?;
            (works(house, &first), known(&first))
        }
    };
    let now = state.now.map(|now| clock.minute(now));
    Begun::new(works, known, now, &state.through).map_err(|(it, steps)| {
        let batch = it.batch.trim_end();
        usage(&match steps.is_empty() {
            true => format!("there is no batch `{batch}` in the plan so far"),
            false => format!(
                "the batch `{batch}` has no step `{}` in the plan so far; its steps are {}",
                it.step,
                steps.join(", ")
            ),
        })
    })
}

/// Says what is begun and stays as it is, and where that does not fit orders and formulas.
fn tell_begun(planned: &Planned) {
    let laid = &planned.laid;
    let tell = |text: &str| streams::error_text(&*visible(&format!("{}: {text}\n", laid.day.name)));
    let begun = &laid.begun;
    let of = |is_batch: bool| {
        let is_it = |work: &&Work| work.is_batch() == is_batch && !work.on_hand;
        let all = begun.works.iter().filter(is_it).count();
        (begun.begun().filter(|(_, work)| work.is_batch() == is_batch).count(), all)
    };
    let counted = |(begun, all): (usize, usize), one: &str, many: &str| {
        format!("{begun} of {all} {}", if all == 1 { one } else { many })
    };
    let batches = counted(of(true), "batch", "batches");
    tell(&match of(false) {
        (_, 0) => format!("{batches} of the plan so far begun"),
        builds => {
            format!("{batches} and {} of the plan so far begun", counted(builds, "build", "builds"))
        }
    });
    for (work, step, begins, least) in begun.too_soon() {
        let step = work.steps.get(step).map_or("", String::as_str);
        tell(&format!(
            "`{}` is said to be through `{step}`, but it was begun at {}, and its steps up to there \
             take at least {}: is it another batch?",
            work.id,
            laid.clock.said(begins),
            display::minutes(&least.into())
        ));
    }
    for (taker, id, _) in &laid.named {
        if let Some(work) = laid.changed(*taker) {
            tell(&format!(
                "`{id}` was begun by another formula than `{}` is now: it keeps its weights and times",
                work.formula
            ));
        }
        if let Some(left) = laid.left_of(*taker) {
            tell(&format!("`{id}`: {left}"));
        }
    }
}

/// The day with the fewest builds in which all is in time; else the one that leaves out least and
/// is least late. What was begun is kept before all.
fn best_day<'t>(
    wanted: Wanted,
    loaded: &Loaded,
    (house, day, clock): (&'t House<'t>, &ResolvedDay<'t>, &Clock),
    (begun, before): (&Begun, &[Booked]),
    changed: Changed,
) -> Result<Planned<'t>, Exit> {
    let mut best: Option<(usize, Planned<'t>)> = None;
    let mut is_mixed = true;
    let progress = Progress::new(1);
    // Work is counted over all ways to share builds: a day of many batches tries fewer of them.
    let mut placed = 0;
    let ways = [true, false].map(|together| Sharing::ALL.map(|sharing| (sharing, together)));
    for (sharing, together) in ways.concat() {
        // Kinds of pieces are parted only where some are in one dough and that is not in time.
        if !together && !is_mixed {
            break;
        }
        let way = (sharing, together);
        let laid = lay(house, day.clone(), clock.clone(), way, begun.clone());
        let mut laid = laid.map_err(|all| refused(&all, loaded))?;
        is_mixed = if together { laid.making.has_mixed } else { is_mixed };
        let is_known = |(_, best): &(usize, Planned)| {
            best.laid.builds.len() == laid.builds.len()
                && best.laid.making.batches.len() == laid.making.batches.len()
        };
        if best.as_ref().is_some_and(is_known) {
            continue;
        }
        leave(house, &mut laid, before);
        if let Some(other) = changed.change.and_then(|it| day::changed(&laid.puzzle, it)) {
            laid.puzzle = other;
        }
        let lost = freeze(&mut laid);
        let usual = Effort { placings: Effort::of(&laid.puzzle).placings.min(MAX_PLACINGS) };
        let effort = wanted.placings.map_or(usual, |placings| Effort { placings });
        progress.one_long(laid.making.batches.len());
        let planned = plan(laid, effort).map_err(|_| {
            progress.done();
            usage("this day can't be planned: it asks for something that is not there")
        })?;
        placed += planned.plan.placed;
        changed.placed.set(changed.placed.get() + planned.plan.placed);
        let worth = |lost: usize, planned: &Planned| (lost, planned.trouble());
        let is_better =
            best.as_ref().is_none_or(|(less, best)| worth(lost, &planned) < worth(*less, best));
        if is_better {
            best = Some((lost, planned));
        }
        let is_met = |(lost, best): &(usize, Planned)| worth(*lost, best) == (0, (0, 0));
        if best.as_ref().is_some_and(is_met)
            || placed > MOST_PLACED.max(effort.placings.saturating_mul(WAYS))
        {
            break;
        }
    }
    progress.done();
    best.map(|(_, best)| best).ok_or_else(|| usage("this day can't be planned"))
}

/// Whether all names are days and none is a formula.
pub fn are_days(bakehouses: &[Bakehouse], names: &[Cow<str>]) -> bool {
    let is_day = |name: &Cow<str>| {
        let name = key(name);
        let is_formula = bakehouses.iter().any(|it| it.house.formula(&name).is_some());
        !is_formula && bakehouses.iter().any(|it| names_of_day(&it.house, &name).is_some())
    };
    !names.is_empty() && names.iter().all(is_day)
}

/// `assize print DAY`: the chart and the lists in one PDF, the sheets of all batches in another.
///
/// `table` holds the orders that the command line names.
pub fn print(
    args: &PrintArgs,
    loaded: &Loaded,
    bakehouses: &[Bakehouse],
    names: &[Cow<str>],
    table: Option<&(SourceId, String)>,
) -> Exit {
    match printed(args, loaded, bakehouses, names, table) {
        Ok(exit) | Err(exit) => exit,
    }
}

fn printed(
    args: &PrintArgs,
    loaded: &Loaded,
    bakehouses: &[Bakehouse],
    names: &[Cow<str>],
    table: Option<&(SourceId, String)>,
) -> Result<Exit, Exit> {
    let names = by_calendar(names.iter().map(ToString::to_string).collect(), bakehouses);
    if let ([_, _, ..], Some(option)) = (names.as_slice(), args.given.first()) {
        return Err(usage(&format!("`{option}` is of one day: name one")));
    }
    let state = state(&args.given, &args.what)?;
    if args.makes.is_some() {
        return Err(usage("a day makes what is ordered; leave out `--makes`"));
    }
    let other = args.only.iter().any(|only| only.of_day().is_none() && *only != PrintKind::Sheet);
    if other {
        return Err(usage("cards and tables are prints of a formula; name one"));
    }
    if !args.is_to_output()
        && let Err(error) = std::fs::create_dir_all(&args.to)
    {
        let finding = unwritable::finding(&args.to.display().to_string(), &desk::why(&error));
        tell_on_error(&[finding], &loaded.sources);
        return Err(Exit::Findings);
    }
    let (count, exit) = each(args, loaded, bakehouses, &names, (state.as_ref(), table))?;
    if !args.is_to_output() {
        let plural = if count == 1 { "" } else { "s" };
        streams::sentence(&format!("{count} file{plural} in {}\n", streams::path(&args.to)));
    }
    Ok(exit)
}

/// The prints of all days that the files asked for hold and that order something: how many files
/// there are, how many days had errors, and what the days say.
pub fn print_all(
    args: &PrintArgs,
    loaded: &Loaded,
    bakehouses: &[Bakehouse],
) -> ((usize, usize), Exit) {
    let (mut written, mut skipped, mut exit) = (0, 0, Exit::Clean);
    for bakehouse in bakehouses {
        let own = bakehouse.files.iter().filter(|file| file.is_asked_for());
        for day in own.flat_map(|file| &file.tree.days) {
            let key = &day.name.key;
            if crate::orders::products(&bakehouse.house, key).is_empty() {
                continue;
            }
            let name = [day.name.shown.to_string()];
            match each(args, loaded, std::slice::from_ref(bakehouse), &name, (None, None)) {
                Ok((files, own)) => {
                    written += files;
                    exit = exit.max(own);
                }
                Err(own) => {
                    skipped += 1;
                    exit = exit.max(own);
                }
            }
        }
    }
    ((written, skipped), exit)
}

/// The prints of days, by their names.
fn each(
    args: &PrintArgs,
    loaded: &Loaded,
    bakehouses: &[Bakehouse],
    names: &[String],
    (state, table): (Option<&State>, Option<&(SourceId, String)>),
) -> Result<(usize, Exit), Exit> {
    let (mut exit, mut count) = (Exit::Clean, 0);
    let mut together = Together::default();
    let mut before: Vec<&str> = Vec::new();
    for name in names {
        let wanted = Wanted {
            room: None,
            zone: None,
            placings: args.placings,
            state,
            table,
            notes: false,
            of_several: names.len() > 1,
        };
        let earlier = before.join(", ");
        let so_far = state.and_then(|state| state.earlier.as_ref());
        let (written, own) = with_day(
            wanted,
            loaded,
            bakehouses,
            (name.as_str(), &mut together),
            |bakehouse, house, planned| {
                pages(args, loaded, bakehouse, house, (planned, &earlier, so_far))
            },
        )?;
        before.push(name);
        count += written.unwrap_or(0);
        exit = exit.max(own);
    }
    Ok((count, exit))
}

/// Sets and writes the files of one day, which is planned around some earlier ones; how many
/// there are.
fn pages(
    args: &PrintArgs,
    loaded: &Loaded,
    bakehouse: &Bakehouse,
    house: &House,
    (planned, earlier, so_far): (&Planned, &str, Option<&Earlier>),
) -> Result<usize, Exit> {
    let mut slips = Vec::new();
    let (assets, words) = desk::assets(&Disk, bakehouse, args.language.as_deref(), &mut slips);
    let mut document = day_document(house, planned, &words);
    if let Some(so_far) = so_far {
        day_as_begun(&mut document, planned, &so_far.shown);
    }
    document.label = args.label;
    let stamps = Stamps::new(loaded, std::slice::from_ref(bakehouse));
    let head = stamps.head();
    let stamper = stamps.stamper(0, bakehouse, head.as_ref());
    let given = args.given.first().map_or("", |option| option.trim_start_matches('-'));
    document.trace = stamp(&stamper, house, &document, (args.placings, earlier, given));
    if assets.logo.is_none() {
        document.house.logo = None;
    }
    let named: Vec<String> =
        args.only.iter().filter_map(|only| only.of_day()).map(ToOwned::to_owned).collect();
    if !args.only.is_empty() {
        document.parts.retain(|part| named.contains(part));
    }
    let press = Press::new(&assets, args.template_seconds.unwrap_or(SECONDS));
    let missing = press.missing_letters(&day_json(&document));
    if !missing.is_empty() && args.format != PrintFormat::Html {
        slips.push(glyph_missing::finding(&document.title, &missing));
    }
    let failed = |why: String| {
        tell_on_error(&[template_slip::finding("day", &why)], &loaded.sources);
        Exit::Findings
    };
    let mut prints: Vec<(String, Vec<Vec<u8>>)> = Vec::new();
    if !document.parts.is_empty() {
        let files = lists(args, &press, &document).map_err(failed)?;
        prints.push((document.name.clone(), files));
    }
    let wants_sheets = args.only.is_empty() || args.only.contains(&PrintKind::Sheet);
    if wants_sheets && !args.is_to_output() {
        let mut sheets = day_sheets(house, planned, &words);
        sheets.iter_mut().for_each(|sheet| stamp_sheet(&stamper, (bakehouse, house), sheet));
        let logo = assets.logo.as_deref();
        let files = sheet_files(args, &press, &sheets, logo).map_err(failed)?;
        prints.push((format!("{}-sheets", document.name), files));
    }
    tell_on_error(&slips, &loaded.sources);
    let ending = match args.format {
        PrintFormat::Pdf => "pdf",
        PrintFormat::Svg => "svg",
        PrintFormat::Png => "png",
        PrintFormat::Html => "html",
    };
    let mut count = 0;
    for (name, files) in &prints {
        count += super::write::put(args, name, ending, files).map_err(|finding| {
            tell_on_error(&[*finding], &loaded.sources);
            Exit::Findings
        })?;
    }
    Ok(count)
}

/// How pages are set; none for a browser, which sets them by itself.
fn set_as(args: &PrintArgs) -> Option<Format> {
    match args.format {
        PrintFormat::Pdf => Some(Format::Pdf { archive: args.archive }),
        PrintFormat::Svg => Some(Format::Svg),
        PrintFormat::Png => Some(Format::Png(args.dots())),
        PrintFormat::Html => None,
    }
}

/// The chart and the lists: one PDF, a picture for each page, or one page for a browser.
fn lists(args: &PrintArgs, press: &Press, document: &DayDocument) -> Result<Vec<Vec<u8>>, String> {
    if let Some(format) = set_as(args) {
        return press.day(day_json(document), format);
    }
    let mut charts = Vec::new();
    if document.parts.iter().any(|part| part == "plan") {
        let parts = vec!["plan".to_owned()];
        charts = press.day(day_json(&DayDocument { parts, ..document.clone() }), Format::Svg)?;
    }
    Ok(vec![html::day_page(document, &charts).into_bytes()])
}

/// The chart in one piece, as SVG.
fn chart(press: &Press, document: &DayDocument) -> Result<Vec<u8>, String> {
    let mut document = document.clone();
    document.house.logo = None;
    document.parts = vec!["picture".to_owned()];
    // One picture shows all of it.
    if let (Some(first), Some(last)) = (document.stretches.first(), document.stretches.last()) {
        let whole = DayStretch { to: last.to, ..first.clone() };
        document.stretches = vec![whole];
    }
    let files = press.day(day_json(&document), Format::Svg)?;
    files.into_iter().next().ok_or_else(|| "there is nothing to draw".to_owned())
}

/// The sheets of all batches: one PDF, or files for each of them.
fn sheet_files(
    args: &PrintArgs,
    press: &Press,
    sheets: &[Document],
    logo: Option<&[u8]>,
) -> Result<Vec<Vec<u8>>, String> {
    let kind = pages::Print::Sheet;
    match set_as(args) {
        _ if sheets.is_empty() => Ok(Vec::new()),
        Some(Format::Pdf { archive }) => {
            let book = crate::print::book::json(sheets, &[kind]);
            let parts = sheets.iter().map(|sheet| BookPart { print: kind, json: json_of(sheet) });
            Ok(vec![press.book(book, parts.collect(), archive)?])
        }
        Some(format) => {
            let files = sheets.iter().map(|sheet| press.print(kind, json_of(sheet), format));
            Ok(files.collect::<Result<Vec<_>, _>>()?.concat())
        }
        None => Ok(sheets.iter().map(|sheet| html::page(sheet, kind, logo).into_bytes()).collect()),
    }
}

/// Where a day's prints came from: the day that is declared, and by which name it was asked for.
fn stamp(
    stamper: &Stamper,
    house: &House,
    document: &DayDocument,
    (placings, earlier, given): (Option<u64>, &str, &str),
) -> Option<TracePart> {
    let key = names_of_day(house, &document.name)?;
    let makes = if key == document.name { "" } else { &*document.name };
    let label = document.label.map(|it| format!("labels of {} × {} mm", it.width, it.height));
    let placings = placings.map(|it| format!("{it} placings"));
    let earlier = Some(format!("after {earlier}")).filter(|_| !earlier.is_empty());
    // Other orders, or what is done of a day that has begun, stand in no file of the house: what
    // they make of the lists is in the code by itself.
    let shown = || blake3::hash(day_json(document).as_bytes()).to_hex();
    let given = (!given.is_empty()).then(|| format!("given {given} {}", shown()));
    let asked = label.into_iter().chain(placings).chain(earlier).chain(given);
    let asked = asked.collect::<Vec<_>>().join(", ");
    let (language, asked) = (document.language.as_str(), asked.as_str());
    let wanted = WantedPrint { print: "day", of: &key, language, volumes: false, makes, asked };
    stamper.stamp_handout(&key, &stamper.settings(wanted))
}

/// The same of the sheet of a batch, which is one for what it makes.
fn stamp_sheet<'l>(
    stamper: &Stamper<'_, 'l>,
    (bakehouse, house): (&Bakehouse<'l>, &House),
    sheet: &mut Document,
) {
    let mut formulas = bakehouse.files.iter().flat_map(|file| &file.tree.formulas);
    let Some(formula) = formulas.find(|it| it.name.shown == *sheet.name) else { return };
    let makes = stamper.makes(formula, sheet);
    let (language, makes) = (sheet.language.as_str(), makes.as_str());
    let wanted = WantedPrint { print: "sheet", language, makes, ..WantedPrint::default() };
    sheet.trace = Some(stamper.stamp_in(house, formula, &stamper.settings(wanted)));
}

/// The house as it is that day, and the day's clock.
fn house_of_day<'l>(
    asked: Wanted,
    bakehouse: &Bakehouse<'l>,
    wanted: &str,
) -> Result<(House<'l>, Clock), Exit> {
    let trees: Vec<&'l Tree> = bakehouse.files.iter().map(|file| &file.tree).collect();
    let mut house = House::build(Some(built_in()), &trees, &mut Vec::new());
    let key = names_of_day(&house, wanted).unwrap_or_default();
    if let Some(day) = house.day(&key) {
        house = house.on_day(day);
    }
    if let Some(room) = temperature(asked.room, &house)? {
        house.settings.room = Some(room);
    }
    let zone = asked.zone.map(ToOwned::to_owned);
    let zone = zone.or_else(|| house.settings.zone.as_ref().map(|zone| zone.value.to_string()));
    let zone = match zone {
        Some(name) => Zone::named(&name).ok_or_else(|| {
            usage(&format!("there is no time zone `{name}`: write one like Europe/Paris"))
        })?,
        None => of_the_system()?,
    };
    let clock = Clock::of(wanted, zone);
    let clock = clock.ok_or_else(|| usage(&format!("there is no such day as {wanted}")))?;
    Ok((house, clock))
}

fn temperature(text: Option<&str>, house: &House) -> Result<Option<crate::quantity::Exact>, Exit> {
    let Some(text) = text else { return Ok(None) };
    match read_temperature(text) {
        Some(read) => Ok(Some(house.base(&read))),
        None => Err(usage(&format!("`--room {text}` is not a temperature: write 26C"))),
    }
}

fn differ_by_weekday(hours: &[Open]) -> bool {
    hours.iter().any(|open| !open.days.all())
}

fn no_such_day(bakehouses: &[Bakehouse], name: &str, wanted: &str) -> Exit {
    let names: Vec<&str> = bakehouses.iter().flat_map(|it| it.house.day_names()).collect();
    match nearest(wanted, names.iter().copied()) {
        Some(near) => usage(&format!("there is no day `{name}`; did you mean `{near}`?")),
        None if names.is_empty() => {
            usage(&format!("there is no day `{name}`: write `day {name} {{ order … }}`"))
        }
        None => usage(&format!("there is no day `{name}`; there are: {}", names.join(", "))),
    }
}

/// What is wrong with the day itself, with the house and with what is ordered.
fn errors(loaded: &Loaded, bakehouse: &Bakehouse, house: &House, key: &str) -> Vec<Finding> {
    let own = heads(house, key);
    // What is wrong with another day is told when that one is planned.
    let days = || bakehouse.files.iter().flat_map(|file| &file.tree.days);
    let of_other = |finding: &&Finding| {
        let at = finding.span();
        let before = days().map(|day| day.span);
        let before = before.filter(|span| span.source == at.source && span.start <= at.start);
        let other = before.max_by_key(|span| span.start);
        other.is_some_and(|other| !own.contains(&other))
    };
    let of_days = bakehouse.of_days.iter().filter(|finding| !of_other(finding));
    let mut all: Vec<Finding> = bakehouse.findings.iter().chain(of_days).cloned().collect();
    if let Some(day) = house.day(key) {
        let of_day = |finding: &&Finding| {
            let (span, at) = (day.span, finding.span());
            span.source == at.source && at.start >= span.start
        };
        let next = |start: u32| {
            let days = bakehouse.files.iter().flat_map(|file| &file.tree.days);
            let same = days.filter(|other| other.span.source == day.span.source);
            same.map(|other| other.span.start).filter(|other| *other > start).min()
        };
        let end = next(day.span.start).unwrap_or(u32::MAX);
        let files = loaded.files();
        let own = files.iter().flat_map(|file| &file.findings).filter(of_day);
        all.extend(own.filter(|it| day.broken && it.span().start < end).cloned());
    }
    for product in crate::orders::products(house, key) {
        let found = bakehouse.files.iter().find_map(|file| {
            let own = file.tree.formulas.iter().find(|formula| formula.name.key == product)?;
            Some((file, own))
        });
        let Some((file, formula)) = found else { continue };
        let (_, findings) = desk::worked(bakehouse, formula, None);
        if !desk::is_sound(file, formula, &findings) {
            let own = file.findings.iter().chain(&findings);
            let is_error = |it: &&Finding| it.level == Level::Error && it.allowed.is_none();
            all.extend(own.filter(is_error).cloned());
        }
    }
    all.retain(|finding| finding.level == Level::Error && finding.allowed.is_none());
    diag::sort(&mut all);
    all.dedup_by(|one, two| one.span() == two.span() && one.message == two.message);
    all
}

fn refused(all: &[Unmade], loaded: &Loaded) -> Exit {
    let findings: Vec<Finding> = all.iter().map(unmade).collect();
    tell_on_error(&findings, &loaded.sources);
    Exit::Findings
}

fn written(
    args: &Args,
    loaded: &Loaded,
    bakehouse: &Bakehouse,
    house: &House,
    (planned, earlier): (&Planned, Option<&Earlier>),
) -> Result<Vec<u8>, Exit> {
    let mut document: DayDocument = day_document(house, planned, &Wording::plain());
    if args.format == DayFormat::Json || earlier.is_some() {
        let stamps = Stamps::new(loaded, std::slice::from_ref(bakehouse));
        let head = stamps.head();
        let stamper = stamps.stamper(0, bakehouse, head.as_ref());
        document.trace = stamp(&stamper, house, &document, (args.placings, "", ""));
    }
    if let Some(earlier) = earlier {
        tell_other_code(&document, earlier.shown.trace.as_ref());
        day_as_begun(&mut document, planned, &earlier.shown);
    }
    let of = args.of.as_deref();
    if let Some(of) = of
        && !document.rows.iter().any(|row| row.name.eq_ignore_ascii_case(of))
    {
        let names: Vec<&str> = document.rows.iter().map(|row| row.name.as_str()).collect();
        return Err(usage(&format!(
            "nothing here is called `{of}`; there are: {}",
            names.join(", ")
        )));
    }
    let text = match args.format {
        DayFormat::Text => day_text(&document, of),
        DayFormat::Json => day_json(&document) + "\n",
        DayFormat::Csv => day_csv(&document, of),
        DayFormat::Ics if document.zone.is_none() => {
            return Err(usage("a calendar needs a date: name the day by it, as in 2026-12-05"));
        }
        DayFormat::Ics => day_calendar(&document, of),
        DayFormat::Svg => return picture(loaded, bakehouse, house, (planned, earlier)),
    };
    Ok(text.into_bytes())
}

/// The chart of a day, in the house's words.
fn picture(
    loaded: &Loaded,
    bakehouse: &Bakehouse,
    house: &House,
    (planned, earlier): (&Planned, Option<&Earlier>),
) -> Result<Vec<u8>, Exit> {
    let mut slips = Vec::new();
    let (assets, words) = desk::assets(&Disk, bakehouse, None, &mut slips);
    tell_on_error(&slips, &loaded.sources);
    let mut document = day_document(house, planned, &words);
    if let Some(earlier) = earlier {
        day_as_begun(&mut document, planned, &earlier.shown);
    }
    chart(&Press::new(&assets, SECONDS), &document).map_err(|why| {
        tell_on_error(&[template_slip::finding("day", &why)], &loaded.sources);
        Exit::Findings
    })
}
