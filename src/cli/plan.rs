//! `assize plan`: formulas in clock times.

use super::args::{Plan as Args, PlanFormat};
use super::show::{formulas, worked};
use super::{Exit, is_path, loaded, makes, tell_on_error, usage, write};
use crate::desk::{self, Disk, LoadedFile, Room, glyph_missing};
use crate::diag::{self, Finding, nearest};
use crate::formula::Worked;
use crate::print::findings::template_slip;
use crate::print::pages::{Format, Press};
use crate::print::{Planned, Wording, calendar, plan_document, plan_json, plan_text};
use crate::quantity::Exact;
use crate::source::SourceId;
use crate::syntax::tree::Formula;
use crate::syntax::{read_hours, read_share, read_temperature};
use crate::time::clock::{ClockError, Zone};
use crate::time::findings::no_plan;
use crate::time::{Anchor, Estimate, Graph, Plan, at_cold, at_room, graph, plan, with_seed};
use std::path::PathBuf;

pub fn run(args: &Args) -> Exit {
    match planned(args) {
        Ok(exit) | Err(exit) => exit,
    }
}

fn planned(args: &Args) -> Result<Exit, Exit> {
    let makes = makes(args.makes.as_deref())?;
    let (paths, names): (Vec<&String>, Vec<&String>) =
        args.formulas.iter().partition(|word| is_path(word));
    let paths: Vec<PathBuf> = paths.into_iter().map(PathBuf::from).collect();
    let mut loaded = loaded(&paths)?;
    loaded.sources.replace(SourceId::ASKED, args.makes.as_deref().unwrap_or_default());
    let rooms = desk::rooms(&loaded);
    let all: Vec<(&Room, &LoadedFile, &Formula)> = formulas(&loaded, &rooms).collect();
    if !loaded.findings.is_empty() {
        tell_on_error(&loaded.findings, &loaded.sources);
        return Err(Exit::Findings);
    }
    let wanted = chosen(&names, !paths.is_empty(), all)?;
    let Some((room, ..)) = wanted.first() else { return Err(usage(super::check::NO_FORMULA)) };
    if wanted.iter().any(|(of, ..)| !std::ptr::eq(*of, *room)) {
        return Err(usage("one plan is of one bakehouse; plan the others by themselves"));
    }
    let day = Day::new(args, room)?;
    let mut ready: Vec<(Worked, Graph, Plan, Vec<Estimate>)> = Vec::new();
    let mut refused: Vec<Finding> = Vec::new();
    let mut failed = false;
    for (room, file, formula) in &wanted {
        let (worked, findings) = worked(room, formula, makes.as_ref());
        refused.extend(file.findings.iter().chain(&findings).cloned());
        if !desk::is_sound(file, formula, &findings) {
            failed = true;
            continue;
        }
        let Some(mut graph) = graph(&room.house, &worked) else {
            let name = &formula.name.shown;
            return Err(usage(&match worked.formula.method {
                Some(_) => format!("`{name}` has too many steps to be planned"),
                None => format!("`{name}` has no method, and so nothing to plan"),
            }));
        };
        let mut estimates = match &day.room {
            Some(warm) => at_room(&room.house, &worked, &mut graph, warm).map_err(|why| {
                usage(&format!("`{}` can't be timed for that room: {why}", formula.name.shown))
            })?,
            None => Vec::new(),
        };
        if let Some(share) = &day.seed {
            let more = with_seed(&room.house, &worked, &mut graph, share).map_err(|why| {
                usage(&format!("`{}` can't be timed for that seed: {why}", formula.name.shown))
            })?;
            estimates.extend(more);
        }
        if let Some(cold) = &day.cold {
            let more = at_cold(&room.house, &worked, &mut graph, cold).map_err(|why| {
                usage(&format!("`{}` can't be timed for that cold: {why}", formula.name.shown))
            })?;
            estimates.extend(more);
        }
        match plan(&graph, day.anchor, day.hours.as_deref(), &day.zone) {
            Ok(plan) => ready.push((worked, graph, plan, estimates)),
            Err(conflict) => {
                let hours = day.hours.as_deref();
                let finding =
                    no_plan::finding(&worked, &graph, &conflict, &day.wanted, hours, &day.zone);
                refused.push(finding);
                failed = true;
            }
        }
    }
    diag::sort(&mut refused);
    refused.dedup_by(|one, two| {
        one.rule == two.rule && one.span() == two.span() && one.message == two.message
    });
    tell_on_error(&refused, &loaded.sources);
    if failed {
        return Err(Exit::Findings);
    }
    let asked = day.room.is_some() || day.cold.is_some() || day.seed.is_some();
    let planned: Vec<Planned> = ready
        .iter()
        .map(|(worked, graph, plan, estimates)| Planned { worked, graph, plan, estimates, asked })
        .collect();
    Ok(day.written(args, room, &planned, &loaded.sources))
}

/// The formulas that are meant: those of the files, and those that are named.
fn chosen<'r, 'l>(
    names: &[&String],
    by_path: bool,
    all: Vec<(&'r Room<'l>, &'l LoadedFile, &'l Formula)>,
) -> Result<Vec<(&'r Room<'l>, &'l LoadedFile, &'l Formula)>, Exit> {
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
struct Day {
    zone: Zone,
    hours: Option<Vec<(u32, u32)>>,
    anchor: Anchor,
    /// Degrees Celsius of the room, where it was asked for.
    room: Option<Exact>,
    /// Seed as a share of new flour, likewise.
    seed: Option<Exact>,
    /// Degrees Celsius of the refrigerator, likewise.
    cold: Option<Exact>,
    /// `ready on 2026-12-05 07:00`, for a sentence.
    wanted: String,
}

impl Day {
    fn new(args: &Args, room: &Room) -> Result<Self, Exit> {
        let settings = &room.house.settings;
        let zone =
            match args.zone.as_deref().or(settings.zone.as_ref().map(|zone| zone.value.as_str())) {
                Some(name) => Zone::named(name).ok_or_else(|| {
                    usage(&format!("there is no time zone `{name}`: write one like Europe/Paris"))
                })?,
                None => Zone::from_library(jiff::tz::TimeZone::system()),
            };
        let hours = match &args.awake {
            Some(text) => Some(read_hours(text).ok_or_else(|| {
                usage(&format!("`--awake {text}` is not hours: write 06:30..22:00"))
            })?),
            None => Some(settings.hours.clone()).filter(|hours| !hours.is_empty()),
        };
        let (option, text) = match (&args.ready, &args.start) {
            (Some(ready), _) => ("ready", ready),
            (None, Some(start)) => ("start", start),
            (None, None) => return Err(usage("say when: `--ready \"2026-12-05 07:00\"`")),
        };
        let instant = zone.read(text).map_err(|error| {
            usage(&match error {
                ClockError::Unreadable => format!(
                    "`--{option} {text}` is not a date and a time: write \"2026-12-05 07:00\""
                ),
                ClockError::TooFar => format!("nobody knows the clocks of {text}"),
                ClockError::Skipped => {
                    format!("in the night of {text} the clocks skip that hour; say another")
                }
            })
        })?;
        let (anchor, wanted) = match option {
            "ready" => (Anchor::Ready(instant), format!("ready at {text}")),
            _ => (Anchor::Start(instant), format!("begun at {text}")),
        };
        let warm = |option: &str, text: &String| {
            let read = read_temperature(text);
            let read = read.map(|it| it.unit.to_base(&it.number, room.house.settings.measures));
            read.ok_or_else(|| {
                usage(&format!("`--{option} {text}` is not a temperature: write 26C"))
            })
        };
        let seed = args.seed.as_ref().map(|text| {
            let share = read_share(text).filter(|it| it.number > Exact::ZERO);
            let share = share.map(|it| it.unit.to_base(&it.number, room.house.settings.measures));
            share.ok_or_else(|| usage(&format!("`--seed {text}` is not a share: write 10%")))
        });
        let seed = seed.transpose()?;
        let cold = args.cold.as_ref().map(|text| warm("cold", text)).transpose()?;
        let room = args.room.as_ref().map(|text| warm("room", text)).transpose()?;
        Ok(Self { zone, hours, anchor, room, seed, cold, wanted })
    }

    fn written(
        &self,
        args: &Args,
        room: &Room,
        planned: &[Planned],
        sources: &crate::source::Sources,
    ) -> Exit {
        let document = |words: &Wording| {
            plan_document(&room.house, planned, words, &self.zone, self.hours.as_deref())
        };
        if args.format == PlanFormat::Text {
            return write::standard_output(plan_text(&document(&Wording::plain())).as_bytes());
        }
        let mut slips = Vec::new();
        let (kit, words) = desk::kit(&Disk, room, &mut slips);
        tell_on_error(&slips, sources);
        let mut document = document(&words);
        if kit.logo.is_none() {
            document.house.logo = None;
        }
        document.picture_only = args.format == PlanFormat::Svg;
        let json = plan_json(&document) + "\n";
        let format = match args.format {
            PlanFormat::Json | PlanFormat::Text => return write::standard_output(json.as_bytes()),
            PlanFormat::Ics => return write::standard_output(calendar(&document).as_bytes()),
            PlanFormat::Pdf => Format::Pdf { archive: false },
            PlanFormat::Svg => Format::Svg,
        };
        let press = Press::new(&kit);
        let missing = press.missing_letters(&json);
        if !missing.is_empty() {
            tell_on_error(&[glyph_missing::finding(&document.title, &missing)], sources);
        }
        match press.plan(json, format) {
            Ok(files) => match files.as_slice() {
                [one] => write::standard_output(one),
                _ => usage("this plan has several pages; a picture holds one: use `--format pdf`"),
            },
            Err(why) => {
                tell_on_error(&[template_slip::finding("plan", &why)], sources);
                Exit::Findings
            }
        }
    }
}
