//! `assize plan`: formulas in clock times.

use super::args::{Plan as Args, PlanFormat};
use super::asked::{NO_FORMULA, loaded, makes, paths_and_names};
use super::exit::Exit;
use super::press::{Press, SECONDS};
use super::stamps::Stamps;
use super::streams;
use super::tell::{tell_on_error, usage};
use super::when::{Anchored, anchored, grid, in_24_hours, of_the_system};
use crate::desk::{
    self, Bakehouse, Disk, FileSystem, Loaded, LoadedFile, MAX_BYTES, glyph_missing, guarded_at,
};
use crate::diag::{self, Finding, nearest};
use crate::formula::{House, Worked, tell_of_house};
use crate::history::stamp::{PrintRequest as WantedPrint, Timed, asked_plan};
use crate::print::pages::Format;
use crate::print::{
    PlanDocument, Planned, Wording, calendar, document as sheet_of, plan_document, plan_json,
    plan_text,
};
use crate::quantity::{Exact, int};
use crate::source::SourceId;
use crate::syntax::tree::{Formula, Open};
use crate::syntax::{read_hours, read_share, read_temperature};
use crate::time::clock::{Dating, Instant, Zone};
use crate::time::findings::no_plan;
use crate::time::{
    Anchor, Asked, Graph, MAX_DAYS, NotTimed, Plan, PlanRequest, Retiming, Used, graph,
    is_in_reach, pins, plan, retime,
};
use std::borrow::Cow;

/// `assize plan`.
pub fn run(args: &Args) -> Exit {
    match planned(args) {
        Ok(exit) | Err(exit) => exit,
    }
}

fn planned(args: &Args) -> Result<Exit, Exit> {
    let makes = makes(args.makes.as_deref())?;
    let (paths, names) = paths_and_names(&args.formulas);
    let mut loaded = loaded(&paths)?;
    loaded.sources.replace(SourceId::ASKED, args.makes.as_deref().unwrap_or_default());
    let bakehouses = desk::bakehouses(&loaded);
    let all: Vec<(&Bakehouse, &LoadedFile, &Formula)> = desk::formulas(&bakehouses).collect();
    if !loaded.is_whole() {
        tell_on_error(&loaded.findings, &loaded.sources);
        return Err(Exit::Findings);
    }
    let wanted = chosen(&names, !paths.is_empty(), all)?;
    let Some((bakehouse, ..)) = wanted.first() else { return Err(usage(NO_FORMULA)) };
    if wanted.iter().any(|(of, ..)| !std::ptr::eq(*of, *bakehouse)) {
        return Err(usage("one plan covers one bakehouse; plan the others separately"));
    }
    let day = PlanTerms::new(args, bakehouse)?;
    let mut ready: Vec<(Worked, Graph, Plan, Retiming)> = Vec::new();
    let mut refused: Vec<Finding> = Vec::new();
    let (mut failed, mut slip) = (Exit::Clean, false);
    for (bakehouse, file, formula) in &wanted {
        let worked = guarded_at(formula.name.span, &formula.name.shown, || {
            desk::worked(bakehouse, formula, makes.as_ref())
        });
        let (worked, findings) = match worked {
            Ok(worked) => worked,
            Err(bug) => {
                refused.push(*bug);
                failed = Exit::Bug;
                continue;
            }
        };
        refused.extend(file.findings.iter().chain(&findings).cloned());
        if !desk::is_sound(file, formula, &findings) {
            failed = failed.max(Exit::Findings);
            continue;
        }
        let Some(mut graph) = graph(&bakehouse.house, &worked) else {
            let name = &formula.name.shown;
            return Err(usage(&match worked.formula.method {
                Some(_) => format!("`{name}` has too many steps to be planned"),
                None => format!("`{name}` has no method, and so nothing to plan"),
            }));
        };
        let retiming = match retime(&bakehouse.house, &worked, &mut graph, &day.asked) {
            Ok(retiming) => retiming,
            Err(NotTimed { asked, why }) => {
                // The others may well be timed so.
                let name = &formula.name.shown;
                usage(&format!("`{name}` can't be timed for that {asked}: {why}"));
                slip = true;
                continue;
            }
        };
        if !is_in_reach(&graph) {
            let name = &formula.name.shown;
            usage(&format!(
                "`{name}` is not planned: it takes, or something in it may take, more than \
                 {MAX_DAYS} days, and a plan has no more"
            ));
            slip = true;
            continue;
        }
        let pins = pins_of(&bakehouse.house, &ready, &worked, &graph);
        let with_pins =
            Some(PlanRequest { pins: &pins, ..day.wanted() }).filter(|_| !pins.is_empty());
        // What others build alike is built once, where that goes; else each builds its own.
        let shared = with_pins.and_then(|wanted| plan(&graph, &wanted).ok());
        match shared.map_or_else(|| plan(&graph, &day.wanted()), Ok) {
            Ok(plan) => ready.push((worked, graph, plan, retiming)),
            Err(conflict) => {
                let wanted = day.wanted();
                let case = no_plan::Case {
                    house: &bakehouse.house,
                    worked: &worked,
                    graph: &graph,
                    asked: &wanted,
                };
                let mut refusal = no_plan::finding(case, &conflict, &day.told);
                tell_of_house(&bakehouse.house, std::slice::from_mut(&mut refusal));
                refused.push(refusal);
                failed = failed.max(Exit::Findings);
            }
        }
    }
    diag::sort(&mut refused);
    refused.dedup_by(|one, two| {
        one.rule == two.rule && one.span() == two.span() && one.message == two.message
    });
    tell_on_error(&refused, &loaded.sources);
    let refusal = match (failed, slip) {
        (Exit::Clean, true) => Some(Exit::Usage),
        (Exit::Clean, false) => None,
        (failed, _) => Some(failed),
    };
    if ready.is_empty()
        && let Some(refusal) = refusal
    {
        return Err(refusal);
    }
    let planned: Vec<Planned> = ready
        .iter()
        .map(|(worked, graph, plan, retiming)| Planned { worked, graph, plan, retiming })
        .collect();
    let written = day.written(args, bakehouse, &planned, &loaded);
    Ok(refusal.unwrap_or(written))
}

/// When stages begin that formulas planned before build alike.
fn pins_of(
    house: &House,
    ready: &[(Worked, Graph, Plan, Retiming)],
    worked: &Worked,
    graph: &Graph,
) -> Vec<(usize, Instant)> {
    let mut all: Vec<(usize, Instant)> = Vec::new();
    for (other, of, plan, _) in ready {
        let used = Used { worked: other, graph: of, plan };
        let new = pins(house, &used, worked, graph);
        let is_new = |(point, _): &(usize, Instant)| all.iter().all(|(known, _)| known != point);
        let new: Vec<(usize, Instant)> = new.into_iter().filter(is_new).collect();
        all.extend(new);
    }
    all
}

/// The formulas that are meant: those of the files, and those that are named.
fn chosen<'r, 'l>(
    names: &[Cow<str>],
    by_path: bool,
    all: Vec<(&'r Bakehouse<'l>, &'l LoadedFile, &'l Formula)>,
) -> Result<Vec<(&'r Bakehouse<'l>, &'l LoadedFile, &'l Formula)>, Exit> {
    if names.is_empty() && by_path {
        return Ok(all);
    }
    let mut wanted = Vec::new();
    for name in names {
        let key = crate::formula::key(name);
        let found: Vec<_> = all.iter().filter(|(_, _, it)| it.name.key == key).collect();
        match found.as_slice() {
            [one] => wanted.push(**one),
            [] => {
                let known = all.iter().map(|(_, _, formula)| formula.name.key.as_str());
                return Err(usage(&match nearest(&key, known) {
                    Some(near) => format!("there is no formula `{name}`; did you mean `{near}`?"),
                    None => format!("there is no formula `{name}`"),
                }));
            }
            _ => return Err(usage(&format!("two formulas are called `{name}`; name its file"))),
        }
    }
    // Named twice it is planned once.
    let mut seen = Vec::new();
    wanted.retain(|(.., formula)| {
        let is_new = !seen.contains(&&formula.name.key);
        seen.push(&formula.name.key);
        is_new
    });
    Ok(wanted)
}

/// What a plan is made for.
struct PlanTerms {
    zone: Zone,
    hours: Option<Vec<Open>>,
    anchor: Anchor,
    not_before: Option<Instant>,
    /// Milliseconds.
    grid: i64,
    asked: Asked,
    /// `ready at 2026-12-05 07:00`, for a sentence.
    told: String,
}

impl PlanTerms {
    fn new(args: &Args, bakehouse: &Bakehouse) -> Result<Self, Exit> {
        let settings = &bakehouse.house.settings;
        let zone =
            match args.zone.as_deref().or(settings.zone.as_ref().map(|zone| zone.value.as_str())) {
                Some(name) => Zone::named(name).ok_or_else(|| {
                    usage(&format!("there is no time zone `{name}`: write one like Europe/Paris"))
                })?,
                None => of_the_system()?,
            };
        let hours = match &args.awake {
            Some(text) => Some(read_hours(&in_24_hours(text)).ok_or_else(|| {
                usage(&format!(
                    "`--awake {text}` is not hours: write 06:30..22:00, or with weekdays \
                     \"mon..fri 06:00..22:00, sat, sun 08:00..23:00\""
                ))
            })?),
            None => Some(settings.hours.clone()).filter(|hours| !hours.is_empty()),
        };
        let grid = grid(&args.grid)?;
        let Anchored { zone, anchor, not_before, told } = anchored(args, zone, grid)?;
        if zone.dating == Dating::AnyDay && hours.iter().flatten().any(|open| !open.days.all()) {
            return Err(usage("the hours differ by weekday: say which, as in \"sat 07:00\""));
        }
        for (option, is_said) in
            [("event", args.event.is_some()), ("replaces", args.replaces.is_some())]
        {
            if is_said && args.format != PlanFormat::Ics {
                return Err(usage(&format!("`--{option}` is for `--format ics`")));
            }
        }
        let is_set = matches!(args.format, PlanFormat::Pdf | PlanFormat::Svg);
        if args.template_seconds.is_some() && !is_set {
            return Err(usage("`--template-seconds` is for `--format pdf` and `--format svg`"));
        }
        if args.format == PlanFormat::Ics && zone.dating != Dating::Dates {
            return Err(usage("a calendar needs a date: write \"2026-12-05 07:00\""));
        }
        let warm = |option: &str, text: &String| {
            let read = read_temperature(text);
            let read =
                read.map(|it| it.unit.to_base(&it.number, bakehouse.house.settings.measures));
            read.ok_or_else(|| {
                usage(&format!("`--{option} {text}` is not a temperature: write 26C"))
            })
        };
        let seed = args.seed.as_ref().map(|text| {
            let share = read_share(text).filter(|it| it.number > Exact::ZERO);
            let share =
                share.map(|it| it.unit.to_base(&it.number, bakehouse.house.settings.measures));
            share.ok_or_else(|| usage(&format!("`--seed {text}` is not a share: write 10%")))
        });
        let seed = seed.transpose()?;
        let cold = args.cold.as_ref().map(|text| {
            let celsius = warm("cold", text)?;
            // From where dough freezes to where no shop would call it a refrigerator.
            match celsius < Exact::ZERO || celsius > int(15) {
                true => Err(usage(&format!(
                    "`--cold {text}` is not how cold a refrigerator is: write 0C to 15C (32F to 59F)"
                ))),
                false => Ok(celsius),
            }
        });
        let cold = cold.transpose()?;
        let room = args.room.as_ref().map(|text| warm("room", text)).transpose()?;
        let asked = Asked { room, cold, seed };
        Ok(Self { zone, hours, anchor, not_before, grid, asked, told })
    }

    fn wanted(&self) -> PlanRequest<'_> {
        PlanRequest {
            anchor: self.anchor,
            not_before: self.not_before,
            pins: &[],
            hours: self.hours.as_deref(),
            zone: &self.zone,
            grid: Some(self.grid),
        }
    }

    fn written<'l>(
        &self,
        args: &Args,
        bakehouse: &Bakehouse<'l>,
        planned: &[Planned],
        loaded: &'l Loaded,
    ) -> Exit {
        let sources = &loaded.sources;
        let document =
            |words: &Wording| plan_document(&bakehouse.house, planned, words, &self.wanted());
        if args.format == PlanFormat::Text {
            return streams::output(plan_text(&document(&Wording::plain())));
        }
        let mut slips = Vec::new();
        let (assets, words) = desk::assets(&Disk, bakehouse, None, &mut slips);
        tell_on_error(&slips, sources);
        let mut document = document(&words);
        if assets.logo.is_none() {
            document.house.logo = None;
        }
        document.picture_only = args.format == PlanFormat::Svg;
        self.stamp(&mut document, planned, args, loaded, bakehouse);
        let json = plan_json(&document) + "\n";
        let format = match args.format {
            PlanFormat::Json | PlanFormat::Text => return streams::output(json),
            PlanFormat::Ics => {
                let before = match replaced(args) {
                    Ok(before) => before,
                    Err(exit) => return exit,
                };
                let text = calendar(&document, args.event.as_deref(), before.as_deref());
                return streams::output(text);
            }
            PlanFormat::Pdf => Format::Pdf { archive: false },
            PlanFormat::Svg => Format::Svg,
        };
        let press = Press::new(&assets, args.template_seconds.unwrap_or(SECONDS));
        let missing = press.missing_letters(&json);
        if !missing.is_empty() {
            tell_on_error(&[glyph_missing::finding(&document.title, &missing)], sources);
        }
        match press.plan(json, format) {
            Ok(files) => match files.as_slice() {
                [one] => streams::output(one),
                _ => usage("this plan has several pages; a picture holds one: use `--format pdf`"),
            },
            Err(why) => {
                tell_on_error(&[press.slip("plan", &why)], sources);
                Exit::Findings
            }
        }
    }

    /// Puts where each formula came from into its part, and into the foot where there is one.
    fn stamp<'l>(
        &self,
        document: &mut PlanDocument,
        planned: &[Planned],
        args: &Args,
        loaded: &'l Loaded,
        bakehouse: &Bakehouse<'l>,
    ) {
        let asked = self.asked_for();
        let stamps = Stamps::new(loaded, std::slice::from_ref(bakehouse));
        let head = stamps.head();
        let stamper = stamps.stamper(0, bakehouse, head.as_ref());
        let formulas = || bakehouse.files.iter().flat_map(|file| &file.tree.formulas);
        for part in &mut document.formulas {
            let formula = formulas().find(|formula| formula.name.shown == part.name);
            part.trace = formula.map(|formula| {
                let own = planned.iter().find(|it| it.worked.formula.name.shown == part.name);
                let makes = own.filter(|_| args.makes.is_some()).map(|it| {
                    let words = Wording::plain();
                    stamper.makes(formula, &sheet_of(&bakehouse.house, it.worked, &words, false))
                });
                let makes = makes.unwrap_or_default();
                let (language, makes) = (document.language.as_str(), makes.as_str());
                let asked = asked.as_str();
                let wanted =
                    WantedPrint { print: "plan", language, makes, asked, ..WantedPrint::default() };
                stamper.stamp(formula, &stamper.settings(wanted))
            });
        }
        if let [one] = document.formulas.as_slice() {
            document.trace = one.trace.clone();
        }
    }

    /// All that makes this plan another than one for the same formula, whatever words it was
    /// asked for in.
    fn asked_for(&self) -> String {
        let Self { zone, hours, anchor, not_before, grid, asked, told: _ } = self;
        let Asked { room, cold, seed } = asked;
        let zone = (zone.dating == Dating::Dates).then(|| zone.name());
        asked_plan(&Timed {
            zone: zone.as_deref(),
            anchor: *anchor,
            not_before: *not_before,
            hours: hours.as_deref(),
            grid: *grid,
            warm: [room.as_ref(), cold.as_ref(), seed.as_ref()],
        })
    }
}

/// The text of the calendar that this one is in place of.
fn replaced(args: &Args) -> Result<Option<String>, Exit> {
    let Some(path) = &args.replaces else { return Ok(None) };
    let shown = path.display();
    let text = Disk.bytes(path, MAX_BYTES).map_err(|error| match error.kind() {
        std::io::ErrorKind::NotFound => usage(&format!("there is no {shown}")),
        _ => usage(&format!("{shown} can't be read: {}", desk::why(&error))),
    })?;
    if text.len() as u64 > MAX_BYTES {
        return Err(usage(&format!("{shown} has more than {MAX_BYTES} bytes")));
    }
    let text = String::from_utf8_lossy(&text).into_owned();
    match text.trim_start_matches('\u{feff}').trim_start().starts_with("BEGIN:VCALENDAR") {
        true => Ok(Some(text)),
        false => Err(usage(&format!("{shown} is not a calendar"))),
    }
}
