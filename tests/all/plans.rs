//! Plans: clock times that keep every range, every ripe stage and the hours.

use crate::support::{assize, err, folder, loaded, out};
use assize::testing::desk;
use assize::testing::formula::work;
use assize::testing::syntax::tree::{Open, Weekdays};
use assize::testing::time::clock::{Instant, MINUTE, Zone};
use assize::testing::time::{
    Anchor, Doing, Graph, Hands, NoPlan, Plan, PlanRequest, WIDTH, graph, plan,
};
use proptest::prelude::*;

fn paris() -> Zone {
    Zone::named("Europe/Paris").expect("built in")
}

fn at(text: &str) -> Instant {
    paris().read(text).expect("a time")
}

/// The graph of the first formula of a text.
fn graph_of(text: &str) -> Graph {
    let loaded = loaded(text);
    let bakehouses = desk::bakehouses(&loaded);
    let formula = &bakehouses[0].files[0].tree.formulas[0];
    let worked = work(&bakehouses[0].house, formula, &mut Vec::new());
    graph(&bakehouses[0].house, &worked).expect("a method")
}

/// Hours of every day.
fn daily(hours: &[(u32, u32)]) -> Vec<Open> {
    hours.iter().map(|&(from, to)| Open { days: Weekdays::ALL, from, to, hands: 1 }).collect()
}

/// A plan of any length to the millisecond.
fn planned(graph: &Graph, anchor: Anchor, hours: &[(u32, u32)]) -> Result<Plan, NoPlan> {
    let hours = daily(hours);
    let hours = (!hours.is_empty()).then_some(hours.as_slice());
    plan(
        graph,
        &PlanRequest { anchor, not_before: None, pins: &[], hours, zone: &paris(), grid: None },
    )
}

fn ready(graph: &Graph, time: Instant, hours: &[(u32, u32)]) -> Result<Plan, NoPlan> {
    planned(graph, Anchor::Ready(time), hours)
}

/// A plan on a grid of so many minutes.
fn on_grid(
    graph: &Graph,
    anchor: Anchor,
    hours: &[(u32, u32)],
    minutes: i64,
) -> Result<Plan, NoPlan> {
    let hours = daily(hours);
    let hours = (!hours.is_empty()).then_some(hours.as_slice());
    let grid = Some(minutes * MINUTE);
    plan(graph, &PlanRequest { anchor, not_before: None, pins: &[], hours, zone: &paris(), grid })
}

fn baguette() -> &'static str {
    "formula pier-baguette \"Pier Baguette\" {
  makes 38 baguettes at 350 g
  total {
    bread flour  100%
    water         68%
    salt           2%
    instant yeast  0.5%
  }
  preferment poolish {
    ferments 33% of flour
    bread flour  100%
    water        100%
    instant yeast  0.1%
    ripens 14h at 21C
  }
  method {
    step \"Scale and temper the water.\" 15min with poolish
    mix    6min with everything else
    bulk   2h at 24C fold once every 60min
    divide 20min
    rest   25min
    shape  15min
    proof  75min at 24C
    bake   24min at 240C
  }
}
"
}

/// Our reference sheet for the trade, section 9.1: a poolish baguette out of the oven at
/// 07:00, by arithmetic from the times that Hamelman and King Arthur's professional
/// formulas publish for it.
#[test]
fn the_worked_day_of_a_poolish_baguette_comes_out_to_the_minute() {
    let graph = graph_of(baguette());
    let plan = ready(&graph, at("2026-12-05 07:00"), &[]).expect("a plan");
    let when = |wanted: &dyn Fn(&Doing) -> bool| {
        let stretch = graph.stretches.iter().find(|stretch| wanted(&stretch.doing));
        let stretch = stretch.expect("it is there");
        let clock = |point: usize| paris().at(plan.times[point]).time();
        format!("{}–{}", clock(stretch.from), clock(stretch.to))
    };
    let step = |number: usize| {
        move |doing: &Doing| *doing == Doing::Step { stage: None, step: number, phase: 0 }
    };
    assert_eq!(when(&|doing| matches!(doing, Doing::Ripen { .. })), "12:00–02:00");
    let steps: Vec<String> = (0..8).map(|number| when(&step(number))).collect();
    assert_eq!(
        steps,
        [
            "02:00–02:15",
            "02:15–02:21",
            "02:21–04:21",
            "04:21–04:41",
            "04:41–05:06",
            "05:06–05:21",
            "05:21–06:36",
            "06:36–07:00"
        ]
    );
    assert_eq!(when(&|doing| matches!(doing, Doing::Fold { .. })), "02:21–03:21");
    assert_eq!(plan.begin, at("2026-12-04 12:00"));
    // 300 min from scaling to bread; poolish to bread 1140 min.
    assert_eq!(plan.end - plan.begin, 1140 * MINUTE);
}

/// A formula whose two stages and six steps take these times, in minutes.
#[derive(Clone, Debug)]
struct Made {
    levain: (u32, u32),
    keeps: u32,
    soaker: (u32, u32),
    steps: Vec<(u32, u32)>,
    folds: u32,
}

impl Made {
    fn text(&self) -> String {
        let range = |(low, more): (u32, u32)| format!("{low}min..{}min", low + more);
        let verbs = ["bulk", "divide", "rest", "shape", "proof", "bake"];
        let steps: String = verbs
            .iter()
            .zip(&self.steps)
            .map(|(verb, time)| {
                let more = match *verb {
                    "bulk" if self.folds > 0 => format!(" fold {} times every 20min", self.folds),
                    "bake" => " at 240C".to_owned(),
                    _ => String::new(),
                };
                format!("    {verb} {}{more}\n", range(*time))
            })
            .collect();
        format!(
            "formula mole-loaf \"Mole Loaf\" {{
  makes 2 loaves at 900 g
  total {{
    bread flour 100%
    water        75%
    salt          2%
  }}
  preferment levain {{
    ferments 20% of flour
    bread flour   100%
    water         100%
    white culture  20%
    ripens {} at 22C; keeps {}min
  }}
  soaker wet flour {{
    takes 10% of flour
    bread flour 100%
    water       100%
    stands {} at 20C
  }}
  method {{
    autolyse 30min with flours, wet flour, 90% of water
    mix 10min with levain, everything else, remaining water
{steps}    cool 1h..2h
  }}
}}
",
            range(self.levain),
            self.keeps,
            range(self.soaker),
        )
    }
}

fn made() -> impl Strategy<Value = Made> {
    let time = |low: std::ops::Range<u32>, more: std::ops::Range<u32>| (low, more);
    (
        time(60..900, 0..300),
        0..240u32,
        time(30..400, 0..600),
        prop::collection::vec((0..240u32, 0..240u32), 6),
        0..4u32,
    )
        .prop_map(|(levain, keeps, soaker, steps, folds)| Made {
            levain,
            keeps,
            soaker,
            steps,
            folds,
        })
}

fn hours() -> impl Strategy<Value = Vec<(u32, u32)>> {
    let whole =
        (0..1440u32, 240..1300u32).prop_map(|(from, long)| vec![(from, (from + long) % 1440)]);
    prop_oneof![
        Just(Vec::new()),
        whole,
        Just(vec![(390, 1320)]),
        Just(vec![(210, 780), (1110, 1200)])
    ]
}

/// Nothing happens outside its range, nobody is wanted outside the hours.
fn keeps_every_promise(graph: &Graph, plan: &Plan, hours: &[(u32, u32)]) {
    let milliseconds = |minutes: &assize::testing::quantity::Exact| {
        (minutes * assize::testing::quantity::int(MINUTE)).try_into().expect("whole milliseconds")
    };
    for stretch in &graph.stretches {
        let took = plan.times[stretch.to] - plan.times[stretch.from];
        let least: i64 = milliseconds(&stretch.low);
        assert!(took >= least, "{:?} took {took}", stretch.doing);
        if let Some(high) = &stretch.high {
            let most: i64 = milliseconds(high);
            assert!(took <= most, "{:?} took {took}", stretch.doing);
        }
    }
    if hours.is_empty() {
        return;
    }
    let openings = paris().openings(&daily(hours), plan.begin - 86_400_000, plan.end + 86_400_000);
    let there = |from: Instant, to: Instant| openings.iter().any(|it| it.0 <= from && to <= it.1);
    for stretch in graph.stretches.iter().filter(|stretch| stretch.hands != Hands::Off) {
        assert!(there(plan.times[stretch.from], plan.times[stretch.to]), "{:?}", stretch.doing);
    }
    for &point in &graph.moments {
        assert!(there(plan.times[point], plan.times[point]));
    }
}

/// The end when every length is as the plan has it and only the beginning is said.
fn run_forward(graph: &Graph, plan: &Plan) -> Instant {
    let mut fixed = graph.clone();
    for stretch in &mut fixed.stretches {
        let took = plan.times[stretch.to] - plan.times[stretch.from];
        stretch.low = assize::testing::quantity::ratio(took, MINUTE);
        stretch.high = Some(stretch.low.clone());
    }
    let again = planned(&fixed, Anchor::Start(plan.begin), &[]);
    again.expect("it is one").end
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 120, failure_persistence: None, ..Default::default() })]

    #[test]
    fn a_plan_keeps_every_promise_and_ends_in_time(made in made(), hours in hours()) {
        let graph = graph_of(&made.text());
        let time = at("2026-12-05 07:00");
        if let Ok(plan) = ready(&graph, time, &hours) {
            keeps_every_promise(&graph, &plan, &hours);
            prop_assert_eq!(plan.end, time);
            prop_assert_eq!(run_forward(&graph, &plan), time);
            // A day later, all is a day later.
            let next = ready(&graph, at("2026-12-06 07:00"), &hours).expect("the same day");
            let day = 24 * 60 * MINUTE;
            prop_assert!(plan.times.iter().zip(&next.times).all(|(one, two)| one + day == *two));
        }
    }

    #[test]
    fn a_wider_range_never_makes_a_plan_impossible(made in made(), hours in hours(), step in 0..6usize, more in 1..300u32) {
        let time = at("2026-12-05 07:00");
        let before = ready(&graph_of(&made.text()), time, &hours);
        let mut wider = made.clone();
        wider.steps[step].1 += more;
        let after = ready(&graph_of(&wider.text()), time, &hours);
        if before.is_ok() {
            prop_assert!(after.is_ok());
        }
        let mut kept = made;
        kept.keeps += more;
        if before.is_ok() {
            prop_assert!(ready(&graph_of(&kept.text()), time, &hours).is_ok());
        }
    }

    #[test]
    fn what_would_help_helps(made in made(), hours in hours()) {
        use assize::testing::time::Change;
        let graph = graph_of(&made.text());
        let time = at("2026-12-05 07:00");
        if let Err(conflict) = ready(&graph, time, &hours) {
            for change in conflict.changes {
                let mut changed = graph.clone();
                let minutes = |milliseconds: i64| assize::testing::quantity::ratio(milliseconds, MINUTE);
                match change {
                    Change::Longer { stretch, most } => {
                        changed.stretches[stretch].high = Some(minutes(most));
                    }
                    Change::Shorter { stretch, least } => {
                        changed.stretches[stretch].low = minutes(least);
                    }
                    Change::Ready { at } => {
                        prop_assert!(ready(&graph, at, &hours).is_ok());
                        continue;
                    }
                    Change::Hours { hours: (from, to), .. } => {
                        // By hours of that day, beside those of every day.
                        let day = |at: Instant| paris().at(at).weekday();
                        let minutes = |at: Instant| {
                            u32::from(paris().at(at).hour()) * 60 + u32::from(paris().at(at).minute())
                        };
                        let days = Weekdays::NONE.with(day(from));
                        let until = if day(to) == day(from) { minutes(to) } else { minutes(to) % 1440 };
                        let mut more = daily(&hours);
                        more.push(Open { days, from: minutes(from), to: until, hands: 1 });
                        let anchor = Anchor::Ready(time);
                        let zone = paris();
                        let wanted = PlanRequest {
                            anchor, not_before: None, pins: &[], hours: Some(&more), zone: &zone, grid: None,
                        };
                        prop_assert!(to - from < 24 * 60 * MINUTE);
                        prop_assert!(plan(&graph, &wanted).is_ok(), "{from} {to}");
                        continue;
                    }
                    Change::Daily { hours: wider, now } => {
                        let mut other = daily(&hours);
                        let place = other.iter().position(|open| *open == now).expect("is there");
                        other[place] = wider;
                        let other: Vec<(u32, u32)> = other.iter().map(|it| (it.from, it.to)).collect();
                        prop_assert!(ready(&graph, time, &other).is_ok());
                        continue;
                    }
                    Change::Start { .. } => continue,
                }
                prop_assert!(ready(&changed, time, &hours).is_ok(), "{:?}", change);
            }
        }
    }

    #[test]
    fn a_plan_from_its_start_begins_then(made in made(), hours in hours()) {
        let graph = graph_of(&made.text());
        let time = at("2026-12-05 07:00");
        if let Ok(plan) = planned(&graph, Anchor::Start(time), &hours) {
            keeps_every_promise(&graph, &plan, &hours);
            prop_assert_eq!(plan.begin, time);
            // One that has to be ready then, begins no earlier and is no further from what
            // is best.
            let again = ready(&graph, plan.end, &hours).expect("this one, if no other");
            prop_assert!(again.cost <= plan.cost);
        }
    }
}

/// What of a plan stands on the clock: where steps begin and dough is folded.
fn clock_times(graph: &Graph, plan: &Plan) -> Vec<Instant> {
    let shown = |stretch: &assize::testing::time::Stretch| match stretch.doing {
        Doing::Order | Doing::Keep { .. } => None,
        Doing::Fold { .. } => Some(plan.times[stretch.to]),
        _ => Some(plan.times[stretch.from]),
    };
    graph.stretches.iter().filter_map(shown).collect()
}

/// By how much each range misses its middle, in shares of its width.
fn misses(graph: &Graph, plan: &Plan) -> f64 {
    let minutes = |exact: &assize::testing::quantity::Exact| exact.to_f64();
    let each = graph.stretches.iter().filter_map(|stretch| {
        let (low, high) = (minutes(&stretch.low), minutes(stretch.high.as_ref()?));
        let took = (plan.times[stretch.to] - plan.times[stretch.from]) as f64 / MINUTE as f64;
        let best = match stretch.doing {
            Doing::Keep { .. } => 0.0,
            Doing::Fold { .. } | Doing::Order => return None,
            _ => (low + high) / 2.0,
        };
        (high > low).then(|| (took - best).abs() / (high - low))
    });
    each.sum()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 80, failure_persistence: None, ..Default::default() })]

    /// A plan on the grid keeps every promise, is no further from the middles than a step for
    /// each range, and never has fewer times on the grid than one that does not look at it.
    #[test]
    fn a_plan_on_the_grid_keeps_every_promise(made in made(), hours in hours(), grid in prop::sample::select(vec![1i64, 5, 15])) {
        let graph = graph_of(&made.text());
        let anchor = Anchor::Ready(at("2026-12-05 07:00"));
        if let Ok(free) = planned(&graph, anchor, &hours) {
            let plan = on_grid(&graph, anchor, &hours, grid).expect("the same day");
            keeps_every_promise(&graph, &plan, &hours);
            prop_assert_eq!(plan.end, free.end);
            let step = grid * MINUTE;
            let on = |plan: &Plan| clock_times(&graph, plan).iter().filter(|it| *it % step == 0).count();
            prop_assert!(grid > 1 || on(&plan) == clock_times(&graph, &plan).len());
            prop_assert!(plan.cost >= free.cost);
            let ranges = graph.stretches.iter().filter_map(|it| {
                let width = (it.high.clone()? - &it.low).to_f64();
                (width > 0.0).then(|| grid as f64 / width)
            });
            let most = misses(&graph, &free) + ranges.sum::<f64>() + 1e-6;
            prop_assert!(misses(&graph, &plan) <= most);
        }
    }

    /// Where every range has room for a step of the grid and everything fixed is a multiple of
    /// it, every time on the clock is on the grid.
    #[test]
    fn what_can_be_on_the_grid_is(made in made(), hour in 0..24u32, quarter in 0..12u32) {
        let fives = |(low, more): (u32, u32)| (low / 5 * 5, more / 5 * 5 + 5);
        let made = Made {
            levain: fives(made.levain),
            keeps: made.keeps / 5 * 5,
            soaker: fives(made.soaker),
            steps: made.steps.iter().copied().map(fives).collect(),
            folds: made.folds,
        };
        // The last fold ends before the dough leaves.
        let mut made = made;
        made.steps[0].0 += 20 * made.folds + 5;
        let graph = graph_of(&made.text());
        let anchor = Anchor::Ready(at(&format!("2026-12-05 {hour:02}:{:02}", quarter * 5)));
        if let Ok(plan) = on_grid(&graph, anchor, &[(390, 1320)], 5) {
            for time in clock_times(&graph, &plan) {
                prop_assert_eq!(time % (5 * MINUTE), 0, "{:?}", paris().at(time).time());
            }
        }
    }

    /// `by` is a limit: never later, and where the time itself can be had without leaving a
    /// middle, then exactly then.
    #[test]
    fn bread_by_a_time_is_never_late(made in made(), hours in hours()) {
        let graph = graph_of(&made.text());
        let limit = at("2026-12-05 07:00");
        let exact = ready(&graph, limit, &hours);
        match planned(&graph, Anchor::ReadyBy(limit), &hours) {
            Ok(plan) => {
                keeps_every_promise(&graph, &plan, &hours);
                prop_assert!(plan.end <= limit);
                if let Ok(exact) = exact {
                    prop_assert!(plan.cost <= exact.cost);
                    prop_assert!(exact.cost > 0 || plan.end == limit);
                }
            }
            Err(_) => prop_assert!(exact.is_err()),
        }
    }

    /// Nothing is begun before it may be; and if no plan is possible then, none that begins
    /// later is.
    #[test]
    fn nothing_begins_before_it_may(made in made(), hours in hours(), ahead in 60..2400i64) {
        let graph = graph_of(&made.text());
        let time = at("2026-12-05 07:00");
        let open = daily(&hours);
        let zone = paris();
        let not_before = time - ahead * MINUTE;
        let wanted = PlanRequest {
            anchor: Anchor::Ready(time),
            not_before: Some(not_before), pins: &[],
            hours: (!open.is_empty()).then_some(open.as_slice()),
            zone: &zone,
            grid: None,
        };
        match plan(&graph, &wanted) {
            Ok(plan) => {
                keeps_every_promise(&graph, &plan, &hours);
                prop_assert!(plan.begin >= not_before && plan.end == time);
            }
            Err(_) => {
                let free = ready(&graph, time, &hours);
                prop_assert!(free.is_err() || free.is_ok_and(|plan| plan.begin < not_before));
            }
        }
    }
}

/// The cold proof of six hours' range gives way before the bulk of one: distance is counted in
/// shares of the range.
#[test]
fn the_widest_range_gives_way_first() {
    let text = "formula pier-loaf \"Pier Loaf\" {
  makes 2 loaves at 900 g
  total { bread flour 100%; water 70%; salt 2%; fresh yeast 1% }
  method {
    mix   10min with everything else
    bulk  3h..4h
    shape 10min
    proof 8h..14h at 4C
    bake  40min at 240C
  }
}
";
    let graph = graph_of(text);
    let length = |plan: &Plan, number: usize| {
        let is_it = |doing: &Doing| matches!(doing, Doing::Step { step, .. } if *step == number);
        let stretch = graph.stretches.iter().find(|it| is_it(&it.doing)).expect("it is there");
        (plan.times[stretch.to] - plan.times[stretch.from]) / MINUTE
    };
    let early = planned(&graph, Anchor::Ready(at("2026-12-05 08:20")), &[(420, 1140)]);
    let early = early.expect("a plan");
    // Shaped by 19:00, baked from 7:40 on: 12 h 40 instead of 11 h are a share of 100 ÷ 360.
    assert_eq!((length(&early, 1), length(&early, 3)), (210, 760));
    assert_eq!(early.cost / (WIDTH / 1_000_000), 100 * 1_000_000 / 360);
}

/// In the night of 28 March 2026 clocks in Paris go from two to three, in that of 24
/// October from three to two.
#[test]
fn nights_in_which_clocks_change_are_counted_as_they_are() {
    let begins = |day: &str| {
        let plan = ready(&graph_of(baguette()), at(day), &[]).expect("a plan");
        paris().at(plan.begin).rfc3339()
    };
    assert_eq!(begins("2026-03-29 07:00"), "2026-03-28T11:00:00+01:00");
    assert_eq!(begins("2026-10-25 07:00"), "2026-10-24T13:00:00+02:00");
    assert_eq!(begins("2026-10-26 07:00"), "2026-10-25T12:00:00+01:00");
}

#[test]
fn the_command_tells_the_plan_and_its_slips() {
    let folder = folder();
    std::fs::write(folder.path().join("pier.dough"), baguette()).expect("written");
    let run = |args: &[&str]| assize(folder.path(), args);
    let asked = ["plan", "pier-baguette", "--ready", "2026-12-05 07:00", "--zone", "Europe/Paris"];
    let told = run(&asked);
    assert!(out(&told).contains("  05:21 ○ Proof"), "{}", out(&told));
    assert!(out(&told).contains("fold at 03:21"));
    assert_eq!((told.status.code(), err(&told)), (Some(0), String::new()));
    let with = |more: &[&str]| run(&[&asked, more].concat());
    let awake = with(&["--awake", "06:30..22:00"]);
    assert_eq!(awake.status.code(), Some(1));
    assert!(err(&awake).contains("no-plan"), "{}", err(&awake));
    assert!(err(&awake).contains("the bread at"), "{}", err(&awake));
    for (args, says) in [
        (vec!["--awake", "late"], "is not hours"),
        (vec!["--room", "warm"], "is not a temperature"),
        (vec!["--room", "50C"], "can't be timed for that room"),
    ] {
        let told = with(&args);
        assert_eq!(told.status.code(), Some(2), "{args:?}");
        assert!(err(&told).contains(says), "{}", err(&told));
    }
    let at =
        |time: &str| run(&["plan", "pier-baguette", "--ready", time, "--zone", "Europe/Paris"]);
    assert!(err(&at("seven")).contains("is not a date and a time"));
    assert!(err(&at("2026-03-29 02:30")).contains("skip"));
    let zone =
        run(&["plan", "pier-baguette", "--ready", "2026-12-05 07:00", "--zone", "Gullhaven"]);
    assert!(err(&zone).contains("no time zone"));
}

/// By a parser of other hands: every event has what RFC 5545 asks for, and its times are
/// those of the plan.
#[test]
fn times_out_of_reach_and_days_that_are_skipped_are_named() {
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("pier.dough"), baguette()).expect("written");
    let plan = |more: &[&str]| assize(folder.path(), &[&["plan", "pier-baguette"], more].concat());
    for (at, zone, says) in [
        ("5000-12-31 12:00", "UTC", "plans are made for the years 1900 to 4000"),
        ("2011-12-30 12:00", "Pacific/Apia", "the clocks there skip that whole day"),
        ("1993-08-21 12:00", "Pacific/Kwajalein", "the clocks there skip that whole day"),
    ] {
        let told = plan(&["--ready", at, "--zone", zone]);
        assert_eq!(told.status.code(), Some(2), "{at}");
        assert!(err(&told).contains(says), "{}", err(&told));
    }
    let told = out(&plan(&["--start", "2011-12-29 20:00", "--zone", "Pacific/Apia"]));
    let skips =
        "The calendar skips a day: Thursday 29 December is followed by Saturday 31 December";
    assert!(told.contains(skips), "{told}");
}

#[test]
fn the_calendar_is_the_plan() {
    use calcard::icalendar::{ICalendarComponentType as Kind, ICalendarProperty as Property};
    use calcard::{Entry, Parser};
    let folder = crate::support::top().join("examples/gullhaven");
    let plan = |format: &str| {
        let args = ["plan", "gullhaven-sour", "first-sour", "--ready", "2026-12-05 07:00"];
        let told = assize(
            &folder,
            &[&args[..], &["--awake", "04:30..22:00", "--format", format]].concat(),
        );
        assert_eq!(told.status.code(), Some(0), "{}", err(&told));
        out(&told)
    };
    let text = plan("ics");
    assert_eq!(text, plan("ics"), "the same bytes twice");
    assert!(text.lines().all(|line| line.len() <= 75) && text.matches("\r\n").count() > 50);
    let Entry::ICalendar(calendar) = Parser::new(&text).entry() else { panic!("no calendar") };
    let json: serde_json::Value = serde_json::from_str(&plan("json")).expect("JSON");
    let tasks = json["formulas"].as_array().expect("formulas").iter();
    let tasks = tasks.flat_map(|formula| formula["tasks"].as_array().expect("tasks"));
    let utc = |moment: &serde_json::Value| moment["utc"].as_str().expect("a time").to_owned();
    let mut wanted: Vec<(String, Option<String>)> = Vec::new();
    let mut come_out = 0;
    for task in tasks {
        come_out += usize::from(task["comes_out"] == true);
        let busy = task["kind"] == "hands" || task["kind"] == "oven";
        let (from, to) = (utc(&task["begins"]), utc(&task["ends"]));
        assert!(!busy || task["needed"] == true);
        if task["needed"] == true {
            wanted.push((from.clone(), (busy && from != to).then_some(to)));
        }
        for fold in task["fold_moments"].as_array().expect("folds") {
            wanted.push((utc(fold), None));
        }
    }
    let mut names = std::collections::BTreeSet::new();
    let mut found = Vec::new();
    let (mut alarms, mut at_the_end) = (0, 0);
    for component in &calendar.components {
        let has = |property: &Property| {
            component.entries.iter().any(|entry| entry.name == *property && entry.values.len() == 1)
        };
        match component.component_type {
            Kind::VEvent => {
                for property in [Property::Dtstamp, Property::Uid, Property::Dtstart] {
                    assert!(has(&property), "{property:?}");
                }
                let value = |wanted: Property| {
                    let entry = component.entries.iter().find(|entry| entry.name == wanted);
                    format!("{:?}", entry.expect("it has it").values)
                };
                assert!(names.insert(value(Property::Uid)));
                let stamp = |property: Property| {
                    let entry = component.entries.iter().find(|entry| entry.name == property);
                    let value = entry.and_then(|entry| entry.values.first()).expect("a value");
                    let calcard::icalendar::ICalendarValue::PartialDateTime(time) = value else {
                        panic!("no time: {value:?}")
                    };
                    let part = |part: Option<u8>| part.expect("it is whole");
                    format!(
                        "{:04}{:02}{:02}T{:02}{:02}{:02}Z",
                        time.year.expect("a year"),
                        part(time.month),
                        part(time.day),
                        part(time.hour),
                        part(time.minute),
                        part(time.second)
                    )
                };
                let end = has(&Property::Dtend).then(|| stamp(Property::Dtend));
                found.push((stamp(Property::Dtstart), end));
            }
            Kind::VAlarm => {
                assert!(has(&Property::Trigger) && has(&Property::Action));
                alarms += 1;
                let trigger = component.entries.iter().find(|it| it.name == Property::Trigger);
                let params = format!("{:?}", trigger.expect("it has one").params);
                at_the_end += usize::from(params.contains("End"));
            }
            _ => {}
        }
    }
    wanted.sort();
    found.sort();
    assert_eq!(found, wanted);
    // Before everything that needs somebody, and when each of the two doughs is baked.
    assert!(found.len() > 15 && alarms == found.len() + come_out);
    assert_eq!((come_out, at_the_end), (2, 2), "{text}");
}

#[test]
fn a_plan_as_json_fits_its_schema_and_its_picture_is_one() {
    let schema: serde_json::Value =
        serde_json::from_str(&assize::testing::print::plan_schema()).expect("a schema");
    let schema = jsonschema::validator_for(&schema).expect("a sound schema");
    let folder = crate::support::top().join("examples/gullhaven");
    let plan = |format: &str| {
        let args = ["plan", "ferryman-rye", "--ready", "2026-12-05 13:00", "--room", "24C"];
        assize(&folder, &[&args[..], &["--awake", "05:00..22:00", "--format", format]].concat())
    };
    let told = plan("json");
    let json: serde_json::Value = serde_json::from_str(&out(&told)).expect("JSON");
    let wrong: Vec<String> = schema.iter_errors(&json).map(|error| error.to_string()).collect();
    assert!(wrong.is_empty(), "{wrong:?}");
    assert_eq!(json["formulas"][0]["estimates"].as_array().map(Vec::len), Some(4));
    assert!(out(&plan("svg")).starts_with("<svg"));
    let pdf = plan("pdf").stdout;
    assert!(pdf.starts_with(b"%PDF") && pdf == plan("pdf").stdout);
    let text = pdf_extract::extract_text_from_mem(&pdf).expect("text");
    let dense = |text: &str| text.chars().filter(|it| !it.is_whitespace()).collect::<String>();
    let text = dense(&text);
    for task in json["formulas"][0]["tasks"].as_array().expect("tasks") {
        for said in [&task["begins"]["time"], &task["title"], &task["begins"]["date"]] {
            assert!(text.contains(&dense(said.as_str().expect("words"))), "{said}");
        }
    }
}

/// The estimates of a plan of one of the examples, in words.
fn estimates(formula: &str, more: &[&str]) -> Vec<String> {
    let folder = crate::support::top().join("examples/gullhaven");
    let args = ["plan", formula, "--ready", "2026-12-05 07:00", "--awake", "00:00..24:00"];
    let told = assize(&folder, &[&args[..], more, &["--format", "json"]].concat());
    assert_eq!(told.status.code(), Some(0), "{}", err(&told));
    let json: serde_json::Value = serde_json::from_str(&out(&told)).expect("JSON");
    let all = json["formulas"][0]["estimates"].as_array().expect("estimates");
    all.iter().map(|it| it.as_str().expect("words").to_owned()).collect()
}

#[test]
fn a_warmer_room_makes_what_ferments_in_it_shorter() {
    let none: [&str; 0] = [];
    assert_eq!(estimates("gullhaven-sour", &[]), none);
    let told = estimates("gullhaven-sour", &["--room", "28C"]);
    // 8 to 10 h at 22 °C: yeast 0.723 ÷ 1.141, bacteria 0.790 ÷ 1.186 of the rate at 25 °C
    // (Gänzle's cardinal points). The yeast is ready first: 5 h 4 to 6 h 20.
    assert!(
        told[0].contains("8–10 h at 22 °C are taken as 5 h 5 min – 6 h 20 min at 28 °C"),
        "{told:?}"
    );
    assert!(told[0].contains("10–34 °C"));
    // A hotter room never makes it wait: above 32.5 °C, where bacteria are fastest, it
    // counts as that, 0.790 ÷ 1.326.
    let hottest = &estimates("gullhaven-sour", &["--room", "34C"])[0];
    assert!(hottest.contains("are taken as 4 h 45 min"), "{hottest}");
    // What stands in the cold keeps its time.
    assert_eq!(told.len(), 2);
    // Yeast makes a tenth more gas for each degree: 1.1 to the fourth is 1.46.
    let told = estimates("harbour-rolls", &["--room", "28C"]);
    assert!(told.iter().all(|it| it.contains("gas from added yeast")), "{told:?}");
}

#[test]
fn a_warmer_refrigerator_is_told_by_the_course_of_cooling() {
    let told = estimates("regatta-brioche", &["--cold", "7C"]);
    assert_eq!(told.len(), 1);
    assert!(
        told[0].contains("12–18 h at 4 °C are taken as 9 h 5 min – 13 h 25 min at 7 °C"),
        "{told:?}"
    );
    assert!(told[0].contains("it starts at 24 °C, and half of the difference is gone after"));
    let nothing = "None of its steps is where this changes anything.";
    assert_eq!(estimates("regatta-brioche", &["--cold", "4C"]), [nothing]);
    // Of a culture nothing is known below 10 °C.
    let none: [&str; 0] = [];
    assert_eq!(estimates("gullhaven-sour", &["--cold", "6C"]), none);
}

/// The house measures how fast its dough cools; a lump eight times as heavy cools four
/// times as slowly.
#[test]
fn a_measured_cooling_is_used() {
    let formula = |makes: &str| {
        format!(
            "bakehouse \"Gullhaven Bakehouse\" {{ cooling 500 g from 25C to 14.5C in 2h at 4C; zone Europe/Paris }}
formula pier-loaf \"Pier Loaf\" {{
  makes {makes}
  total {{
    bread flour  100%
    water         70%
    salt           2%
    fresh yeast    1%
  }}
  method {{
    mix 8min with everything else to 25C
    shape 10min
    retard 12h at 4C
    bake 40min at 230C
  }}
}}
"
        )
    };
    let halves = |makes: &str| {
        let folder = folder();
        std::fs::write(folder.path().join("a.dough"), formula(makes)).expect("written");
        let args = ["plan", "pier-loaf", "--ready", "2026-12-05 07:00", "--cold", "6C"];
        let told = assize(folder.path(), &args);
        assert_eq!(told.status.code(), Some(0), "{}", err(&told));
        let line = out(&told).lines().find(|it| it.contains("estimate")).map(str::to_owned);
        line.expect("an estimate").rsplit_once("after ").expect("a time").1.to_owned()
    };
    // From 25 to 14.5 °C at 4 °C is half of the way.
    assert_eq!(halves("500 g dough"), "2 h");
    assert_eq!(halves("4 kg dough"), "8 h");
}

/// The properties above look at plans and at days without one: there are enough of both.
#[test]
fn made_days_have_plans_and_conflicts() {
    use proptest::strategy::ValueTree;
    use proptest::test_runner::TestRunner;
    let mut runner = TestRunner::deterministic();
    let (mut planned, mut refused) = (0, 0);
    for _ in 0..120 {
        let made = made().new_tree(&mut runner).expect("a formula").current();
        let hours = hours().new_tree(&mut runner).expect("hours").current();
        match ready(&graph_of(&made.text()), at("2026-12-05 07:00"), &hours) {
            Ok(_) => planned += 1,
            Err(_) => refused += 1,
        }
    }
    assert!(planned >= 30 && refused >= 15, "{planned} {refused}");
}

#[test]
fn no_way_out_is_to_bake_for_no_time() {
    let folder = crate::support::top().join("examples/gullhaven");
    for (formula, time) in
        [("regatta-brioche", "07:00"), ("gullhaven-sour", "05:00"), ("gullhaven-sour", "13:00")]
    {
        let ready = format!("2026-12-05 {time}");
        let told = err(&assize(&folder, &["plan", formula, "--ready", &ready]));
        assert!(told.contains("no-plan"), "{told}");
        let help = told.split("help:").nth(1).expect("help");
        let help = help.split("note:").next().expect("help");
        assert!(help.contains("the bread at"), "{help}");
        assert!(!help.contains("bake for") && !help.contains("score for"), "{help}");
    }
}

#[test]
fn many_wide_ranges_and_short_hours_end_in_time() {
    let steps = "    rest 1h..20h\n    shape 5min\n".repeat(60);
    let text = format!(
        "formula pier-loaf \"Pier Loaf\" {{
  makes 2 loaves at 900 g
  total {{ bread flour 100%; water 70%; salt 2%; fresh yeast 1% }}
  method {{
    mix 8min with everything else
{steps}    bake 40min at 230C
  }}
}}
"
    );
    let graph = graph_of(&text);
    let hours = [(360, 1200)];
    let plan = ready(&graph, at("2026-12-05 12:00"), &hours).expect("a plan");
    keeps_every_promise(&graph, &plan, &hours);
}

/// Folds without a time part the wait evenly; hands are there for them.
#[test]
fn folds_without_a_time_are_planned_too() {
    let text = baguette().replace("fold once every 60min", "fold once");
    let graph = graph_of(&text);
    let plan = ready(&graph, at("2026-12-05 07:00"), &[]).expect("a plan");
    let fold = graph.stretches.iter().find(|it| matches!(it.doing, Doing::Fold { .. }));
    let fold = fold.expect("a fold");
    // A single fold stands at the half of a bulk of 2 h, as in the published day above.
    assert_eq!(plan.times[fold.to] - plan.times[fold.from], 60 * MINUTE);
}

/// Half the seed doubles the growth that is needed but for its logarithm: 20 % of new flour
/// in a levain of 1 : 1 is 20 of 220, 10 % is 10 of 210; ln 21 ÷ ln 11 = 1.27.
#[test]
fn less_seed_takes_longer_by_the_logarithm() {
    let told = estimates("gullhaven-sour", &["--seed", "10%"]);
    let wanted = "8–10 h with 20\u{a0}% seed are taken as 10 h 10 min – 12 h 40 min with 10\u{a0}%";
    assert!(told.len() == 1 && told[0].contains(wanted), "{told:?}");
    let nothing = "None of its steps is where this changes anything.";
    assert_eq!(estimates("gullhaven-sour", &["--seed", "20%"]), [nothing]);
    assert_eq!(estimates("regatta-brioche", &["--seed", "10%"]), [nothing]);
}
