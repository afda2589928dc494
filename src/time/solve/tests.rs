//! Random step graphs against a judge that knows nothing of the solver, and what has to stay
//! true when a puzzle changes.

use super::puzzle::FURTHEST;
use super::{
    Conflict, Gap, GapNames, Grid, Presence, Puzzle, PuzzlePart, Relief, Solution, attempt,
    is_possible, plan, solve,
};

/// The judge: every time of every point is tried, one point after the other, against plain
/// readings of what a puzzle means. It shares no code with the solver. It answers with the
/// cost, the start and the sum of the times of the best plan within `0..=horizon`.
mod judge {
    use super::super::Puzzle;

    pub type Verdict = Option<(i64, i64, i64)>;

    pub fn best(puzzle: &Puzzle, horizon: i64) -> Verdict {
        let mut best = None;
        go_on(puzzle, horizon, &mut Vec::new(), &mut best);
        best.map(|(cost, start, sum): (i64, i64, i64)| (cost, -start, -sum))
    }

    fn go_on(puzzle: &Puzzle, horizon: i64, times: &mut Vec<i64>, best: &mut Verdict) {
        let cost = cost(puzzle, times);
        if !may_be(puzzle, times) || best.is_some_and(|(known, _, _)| cost > known) {
            return;
        }
        if times.len() == puzzle.points {
            let start = puzzle.start.map_or(0, |point| times[point]);
            let found = (cost, -start, -times.iter().sum::<i64>());
            *best = Some(best.map_or(found, |known| known.min(found)));
            return;
        }
        for time in 0..=horizon {
            times.push(time);
            go_on(puzzle, horizon, times, best);
            times.pop();
        }
    }

    fn cost(puzzle: &Puzzle, times: &[i64]) -> i64 {
        let mut cost = 0;
        for gap in &puzzle.gaps {
            if gap.from < times.len() && gap.to < times.len() {
                let length = times[gap.to] - times[gap.from];
                let misses = gap.wish.map_or(0, |wish| (length - wish).abs());
                cost += misses * gap.price as i64;
            }
        }
        cost
    }

    /// Whether the points that have a time so far break nothing.
    fn may_be(puzzle: &Puzzle, times: &[i64]) -> bool {
        let time = |point: usize| times.get(point).copied();
        for gap in &puzzle.gaps {
            if let (Some(from), Some(to)) = (time(gap.from), time(gap.to))
                && (to - from < gap.least || gap.most.is_some_and(|most| to - from > most))
            {
                return false;
            }
        }
        for presence in &puzzle.presences {
            let (from, to) = (time(presence.from), time(presence.to));
            let there = |&(begin, end): &(i64, i64)| {
                let inside = |time: i64| begin <= time && time <= end;
                from.is_none_or(inside) && to.is_none_or(inside)
            };
            if !puzzle.openings.iter().any(there) {
                return false;
            }
        }
        if let Some(grid) = &puzzle.grid {
            let is_off = |point: usize| {
                time(point).is_some_and(|time| (time - grid.places[point]) % grid.step != 0)
            };
            if (0..puzzle.points).any(is_off) {
                return false;
            }
        }
        puzzle.fixed.iter().all(|&(point, given)| time(point).is_none_or(|time| time == given))
    }
}

/// A small generator of numbers that are always the same.
struct Dice(u64);

impl Dice {
    fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }

    /// A number in `0..sides`.
    fn below(&mut self, sides: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 16) % sides
    }

    fn between(&mut self, low: i64, high: i64) -> i64 {
        low + self.below((high - low + 1) as u64) as i64
    }

    fn place(&mut self, places: usize) -> usize {
        self.below(places as u64) as usize
    }

    fn happens(&mut self, percent: u64) -> bool {
        self.below(100) < percent
    }
}

/// The latest time of a small puzzle.
const HORIZON: i64 = 22;

/// What random puzzles are made of.
struct Shape {
    /// How many points the dough has at most.
    dough: usize,
    /// How many stages are joined in at most, and how many points each has at most.
    stages: usize,
    stage: usize,
    /// The factor by which lengths are longer than those of a small puzzle.
    scale: i64,
    /// Every time lies in `0..=horizon`.
    horizon: i64,
}

/// A length with a range and a wish, of which either may be absent.
fn length(dice: &mut Dice, scale: i64, from: usize, to: usize) -> Gap {
    let least = dice.between(0, 4) * scale;
    let most = dice.happens(60).then(|| least + dice.between(0, 3) * scale);
    let wish = dice.happens(60).then(|| least + dice.between(-1, 4) * scale);
    let price = if dice.happens(50) { 1 } else { dice.below(12) };
    Gap { from, to, least, most, wish, price }
}

fn at_least(from: usize, to: usize, least: i64) -> Gap {
    Gap { from, to, least, most: None, wish: None, price: 1 }
}

/// New points one after the other, the first of them no earlier than the epoch.
fn chain(dice: &mut Dice, puzzle: &mut Puzzle, count: usize, scale: i64) -> Vec<usize> {
    let points: Vec<usize> = (puzzle.points..puzzle.points + count).collect();
    puzzle.points += count;
    puzzle.gaps.push(at_least(0, points[0], 0));
    for pair in points.windows(2) {
        puzzle.gaps.push(length(dice, scale, pair[0], pair[1]));
        if dice.happens(50) {
            puzzle.presences.push(Presence { from: pair[0], to: pair[dice.place(2)] });
        }
    }
    points
}

/// A dough into which stages are joined, some of them in two places. Point 0 is the epoch; the
/// last point of the dough is fixed or needs somebody, so that every point is held.
fn step_graph(dice: &mut Dice, shape: &Shape, openings: Vec<(i64, i64)>) -> Puzzle {
    let mut puzzle = Puzzle { points: 1, fixed: vec![(0, 0)], openings, ..Puzzle::default() };
    let count = 2 + dice.place(shape.dough - 1);
    let dough = chain(dice, &mut puzzle, count, shape.scale);
    let mut joins = dough.clone();
    for _ in 0..dice.place(shape.stages + 1) {
        let count = 1 + dice.place(shape.stage);
        let stage = chain(dice, &mut puzzle, count, shape.scale);
        for _ in 0..1 + usize::from(dice.happens(30)) {
            let (from, to) = (stage[stage.len() - 1], joins[dice.place(joins.len())]);
            puzzle.gaps.push(length(dice, shape.scale, from, to));
        }
        joins.extend(stage);
    }
    let last = dough[dough.len() - 1];
    if dice.happens(50) {
        puzzle.fixed.push((last, dice.between(shape.horizon / 4, shape.horizon)));
    } else {
        puzzle.presences.push(Presence { from: last, to: last });
    }
    puzzle.start = dice.happens(80).then(|| dough[0]);
    puzzle
}

fn small_openings(dice: &mut Dice) -> Vec<(i64, i64)> {
    let mut openings = Vec::new();
    let mut begin = dice.between(0, 4);
    while begin <= HORIZON && openings.len() < 4 {
        let end = (begin + dice.between(0, 3)).min(HORIZON);
        openings.push((begin, end));
        begin = end + dice.between(1, 6);
    }
    openings
}

fn small_puzzle(seed: u64) -> Puzzle {
    let mut dice = Dice::new(seed);
    let openings = small_openings(&mut dice);
    let shape = Shape { dough: 3, stages: 2, stage: 2, scale: 1, horizon: HORIZON };
    step_graph(&mut dice, &shape, openings)
}

fn small_puzzles() -> impl Iterator<Item = Puzzle> {
    (1..=300).map(small_puzzle)
}

fn solved() -> impl Iterator<Item = (Puzzle, Solution)> {
    small_puzzles().filter_map(|puzzle| solve(&puzzle).ok().map(|solution| (puzzle, solution)))
}

fn refused() -> impl Iterator<Item = (Puzzle, Conflict)> {
    small_puzzles().filter_map(|puzzle| solve(&puzzle).err().map(|conflict| (puzzle, conflict)))
}

/// The puzzle with every time and length so many times as long.
fn stretched(puzzle: &Puzzle, factor: i64) -> Puzzle {
    let mut puzzle = puzzle.clone();
    for gap in &mut puzzle.gaps {
        gap.least *= factor;
        gap.most = gap.most.map(|most| most * factor);
        gap.wish = gap.wish.map(|wish| wish * factor);
    }
    puzzle
        .openings
        .iter_mut()
        .for_each(|(begin, end)| (*begin, *end) = (*begin * factor, *end * factor));
    puzzle.fixed.iter_mut().for_each(|(_, time)| *time *= factor);
    puzzle
}

/// The puzzle with no other parts than these.
fn only(puzzle: &Puzzle, parts: &[PuzzlePart]) -> Puzzle {
    let mut only = puzzle.clone();
    (only.gaps, only.presences) = (Vec::new(), Vec::new());
    for part in parts {
        match *part {
            PuzzlePart::Gap(index) => only.gaps.push(puzzle.gaps[index]),
            PuzzlePart::Presence(index) => only.presences.push(puzzle.presences[index]),
        }
    }
    only
}

fn all_parts(puzzle: &Puzzle) -> Vec<PuzzlePart> {
    let presences = (0..puzzle.presences.len()).map(PuzzlePart::Presence);
    (0..puzzle.gaps.len()).map(PuzzlePart::Gap).chain(presences).collect()
}

fn has_plan(puzzle: &Puzzle) -> bool {
    plan(puzzle).is_some()
}

/// The puzzle with openings of which one is another; those that meet are one.
fn with_hours(puzzle: &Puzzle, opening: usize, hours: (i64, i64)) -> Puzzle {
    let mut puzzle = puzzle.clone();
    puzzle.openings[opening] = hours;
    let mut merged: Vec<(i64, i64)> = Vec::new();
    for (begin, end) in std::mem::take(&mut puzzle.openings) {
        match merged.last_mut() {
            Some((_, last)) if begin <= *last => *last = end.max(*last),
            _ => merged.push((begin, end)),
        }
    }
    puzzle.openings = merged;
    puzzle
}

fn with_gap(puzzle: &Puzzle, index: usize, gap: Gap) -> Puzzle {
    let mut puzzle = puzzle.clone();
    puzzle.gaps[index] = gap;
    puzzle
}

fn relieved(puzzle: &Puzzle, relief: Relief) -> Puzzle {
    match relief {
        Relief::Longer { gap, most } => {
            with_gap(puzzle, gap, Gap { most: Some(most), ..puzzle.gaps[gap] })
        }
        Relief::Shorter { gap, least } => with_gap(puzzle, gap, Gap { least, ..puzzle.gaps[gap] }),
        Relief::Hours { opening, hours } => with_hours(puzzle, opening, hours),
    }
}

/// By how much a relief changes a puzzle.
fn size(puzzle: &Puzzle, relief: Relief) -> i64 {
    match relief {
        Relief::Longer { gap, most } => most - puzzle.gaps[gap].most.expect("it was too short"),
        Relief::Shorter { gap, least } => puzzle.gaps[gap].least - least,
        Relief::Hours { opening, hours } => {
            let (begin, end) = puzzle.openings[opening];
            begin - hours.0 + hours.1 - end
        }
    }
}

/// All reliefs of the same kind for the same part that are a millisecond smaller.
fn smaller(puzzle: &Puzzle, relief: Relief) -> Vec<Relief> {
    match relief {
        Relief::Longer { gap, most } => vec![Relief::Longer { gap, most: most - 1 }],
        Relief::Shorter { gap, least } => vec![Relief::Shorter { gap, least: least + 1 }],
        Relief::Hours { opening, hours: (begin, end) } => {
            let (old_begin, old_end) = puzzle.openings[opening];
            let begin = if begin < old_begin { begin + 1 } else { begin };
            let end = if end > old_end { end - 1 } else { end };
            vec![Relief::Hours { opening, hours: (begin, end) }]
        }
    }
}

/// Whether there is nothing to be had from a part for which no relief of a kind is given.
fn is_hopeless(puzzle: &Puzzle, part: PuzzlePart, given: &[Relief]) -> bool {
    let is_longer =
        |relief: &Relief, of| matches!(relief, Relief::Longer { gap, .. } if *gap == of);
    let is_shorter =
        |relief: &Relief, of| matches!(relief, Relief::Shorter { gap, .. } if *gap == of);
    match part {
        PuzzlePart::Gap(index) => {
            let gap = puzzle.gaps[index];
            let endless = with_gap(puzzle, index, Gap { most: None, ..gap });
            let none = with_gap(puzzle, index, Gap { least: gap.least.min(0), ..gap });
            let longer = given.iter().any(|relief| is_longer(relief, index));
            let shorter = given.iter().any(|relief| is_shorter(relief, index));
            (longer || !has_plan(&endless)) && (shorter || !has_plan(&none))
        }
        // Each opening that would help by beginning as early, or ending as late, as it can.
        PuzzlePart::Presence(_) => (0..puzzle.openings.len()).all(|opening| {
            let (begin, end) = puzzle.openings[opening];
            let before = opening.checked_sub(1).map_or(-FURTHEST, |it| puzzle.openings[it].1);
            let after = puzzle.openings.get(opening + 1).map_or(FURTHEST, |it| it.0);
            let is_given = |earlier: bool| {
                given.iter().any(|relief| {
                    matches!(relief, Relief::Hours { opening: of, hours } if *of == opening
                        && earlier == (hours.0 < begin))
                })
            };
            [(true, (before, end)), (false, (begin, after))].into_iter().all(|(earlier, hours)| {
                is_given(earlier) || !has_plan(&with_hours(puzzle, opening, hours))
            })
        }),
    }
}

#[test]
fn the_judge_agrees() {
    let (mut with, mut without) = (0, 0);
    for puzzle in small_puzzles() {
        let found = solve(&puzzle).ok().map(|solution| {
            let start = puzzle.start.map_or(0, |point| solution.times[point]);
            (solution.cost, start, solution.times.iter().sum())
        });
        assert_eq!(found, judge::best(&puzzle, HORIZON), "{puzzle:?}");
        *(if found.is_some() { &mut with } else { &mut without }) += 1;
    }
    assert!(with >= 150 && without >= 80, "{with} have a plan, {without} have none");
}

/// On a grid, where points have places of their own, the judge tries the times on it alone.
/// Prices are multiples of the step, so that no price is halved with a remainder.
#[test]
fn the_judge_agrees_on_a_grid() {
    let (mut with, mut without) = (0, 0);
    for seed in 1..=400 {
        let mut puzzle = small_puzzle(seed);
        let mut dice = Dice::new(seed + 1_000_000);
        let step = dice.between(2, 4);
        puzzle.gaps.iter_mut().for_each(|gap| gap.price *= step as u64);
        let mut places: Vec<i64> = (0..puzzle.points).map(|_| dice.between(0, step - 1)).collect();
        puzzle.fixed.iter().for_each(|&(point, time)| places[point] = time.rem_euclid(step));
        let puzzle_on_grid = puzzle.on_grid(Grid { step, places: places.clone() });
        let found = attempt(&puzzle_on_grid).map(|solution| {
            let start = puzzle.start.map_or(0, |point| solution.times[point]);
            (puzzle.cost(&solution.times), start, solution.times.iter().sum())
        });
        puzzle.grid = Some(Grid { step, places });
        assert_eq!(found, judge::best(&puzzle, HORIZON), "{puzzle:?}");
        *(if found.is_some() { &mut with } else { &mut without }) += 1;
    }
    assert!(with >= 100 && without >= 100, "{with} have a plan, {without} have none");
}

#[test]
fn what_is_possible_has_a_plan_and_nothing_else() {
    for puzzle in small_puzzles() {
        assert_eq!(is_possible(&puzzle), has_plan(&puzzle), "{puzzle:?}");
    }
}

/// The names of parts, chosen at random; a part without a name always holds.
fn named(puzzle: &Puzzle, seed: u64) -> Puzzle {
    let mut dice = Dice::new(seed + 2_000_000);
    let mut name = |_: usize| dice.happens(85).then(|| dice.place(4));
    let gaps = (0..puzzle.gaps.len()).map(&mut name).collect();
    let presences = (0..puzzle.presences.len()).map(&mut name).collect();
    Puzzle { names: Some(GapNames { gaps, presences }), ..puzzle.clone() }
}

/// Every smaller set of names is tried, with all its parts and those without a name.
#[test]
fn a_conflict_has_the_fewest_names() {
    let mut looked_at = 0;
    for (seed, puzzle) in small_puzzles().enumerate() {
        let puzzle = named(&puzzle, seed as u64);
        let Err(conflict) = solve(&puzzle) else { continue };
        let names = puzzle.names.clone().expect("given");
        let name = |part: &PuzzlePart| match *part {
            PuzzlePart::Gap(gap) => names.gaps[gap],
            PuzzlePart::Presence(presence) => names.presences[presence],
        };
        assert!(conflict.is_smallest);
        assert!(!has_plan(&only(&puzzle, &conflict.parts)), "{puzzle:?}");
        let mut own: Vec<usize> = conflict.parts.iter().filter_map(name).collect();
        own.sort_unstable();
        own.dedup();
        for chosen in 0_u32..16 {
            if chosen.count_ones() as usize >= own.len() {
                continue;
            }
            let is_chosen =
                |part: &PuzzlePart| name(part).is_none_or(|name| chosen >> name & 1 == 1);
            let parts: Vec<PuzzlePart> = all_parts(&puzzle).into_iter().filter(is_chosen).collect();
            assert!(has_plan(&only(&puzzle, &parts)), "{chosen:b} is smaller in {puzzle:?}");
            looked_at += 1;
        }
    }
    assert!(looked_at > 200, "only {looked_at} sets were looked at");
}

/// Every conclusion of an argument follows from what is before it by one part of the puzzle,
/// the first from a fixed time, and the last contradicts one, or all hours.
#[test]
fn an_argument_concludes_what_follows() {
    let mut moves = 0;
    for (puzzle, conflict) in refused() {
        for argument in &conflict.arguments {
            let later = |one: i64, two: i64| if argument.forward { one < two } else { one > two };
            for (place, step) in argument.moves.iter().enumerate() {
                let Some(known) = step.known else { continue };
                if place == 0 && step.by_length {
                    assert!(puzzle.fixed.contains(&(step.from, known)), "{step:?} of {puzzle:?}");
                } else if place > 0 {
                    let before = argument.moves[place - 1];
                    assert_eq!((before.to, before.time), (step.from, known), "{puzzle:?}");
                }
                let follows = match step.by_length {
                    true => puzzle.gaps.iter().any(|gap| {
                        let least = gap.least;
                        let most = gap.most.unwrap_or(i64::MAX);
                        let change = (step.time - known).abs();
                        let ends = [(gap.from, gap.to), (gap.to, gap.from)];
                        ends.contains(&(step.from, step.to)) && (change == least || change == most)
                    }),
                    false => puzzle.openings.iter().any(|it| match argument.forward {
                        true => it.0 == step.time,
                        false => it.1 == step.time,
                    }),
                };
                assert!(follows, "{step:?} of {puzzle:?}");
                moves += 1;
            }
            if let (Some(fixed), Some(last)) = (argument.ends_at, argument.moves.last()) {
                assert!(puzzle.fixed.contains(&(last.to, fixed)));
                assert!(later(fixed, last.time), "{argument:?} of {puzzle:?}");
            }
        }
    }
    assert!(moves > 150, "only {moves}");
}

#[test]
fn a_wider_range_never_costs_more() {
    for (puzzle, solution) in solved() {
        for index in 0..puzzle.gaps.len() {
            let gap = puzzle.gaps[index];
            let longer = Gap { most: gap.most.map(|most| most + 1), ..gap };
            for wider in [longer, Gap { most: None, ..gap }, Gap { least: gap.least - 1, ..gap }] {
                let mut relaxed = puzzle.clone();
                relaxed.gaps[index] = wider;
                let cost = solve(&relaxed).map(|relaxed| relaxed.cost);
                assert!(cost.is_ok_and(|cost| cost <= solution.cost), "gap {index} of {puzzle:?}");
            }
        }
    }
}

#[test]
fn a_plan_moves_with_what_is_fixed() {
    for (puzzle, solution) in solved() {
        for shift in [-1_000, 1_791_000_000_007] {
            let mut moved = puzzle.clone();
            moved.fixed.iter_mut().for_each(|(_, time)| *time += shift);
            moved
                .openings
                .iter_mut()
                .for_each(|(begin, end)| (*begin, *end) = (*begin + shift, *end + shift));
            let times = solution.times.iter().map(|time| time + shift).collect();
            assert_eq!(solve(&moved), Ok(Solution { times, ..solution }), "{puzzle:?}");
        }
    }
}

#[test]
fn a_plan_grows_with_its_lengths() {
    for (puzzle, solution) in solved() {
        let times = solution.times.iter().map(|time| time * 60_001).collect();
        let expected = Solution { times, cost: solution.cost * 60_001, ..solution };
        assert_eq!(solve(&stretched(&puzzle, 60_001)), Ok(expected), "{puzzle:?}");
    }
}

#[test]
fn a_conflict_is_irreducible() {
    for (puzzle, conflict) in refused() {
        assert!(!has_plan(&only(&puzzle, &conflict.parts)), "{puzzle:?}");
        for part in &conflict.parts {
            let mut rest = conflict.parts.clone();
            rest.retain(|other| other != part);
            assert!(has_plan(&only(&puzzle, &rest)), "{part:?} is not needed in {puzzle:?}");
        }
    }
}

#[test]
fn no_other_conflict_is_smaller() {
    let mut looked_at = 0;
    for (puzzle, conflict) in refused() {
        let parts = all_parts(&puzzle);
        for chosen in 0_u32..1 << parts.len().min(12) {
            if chosen.count_ones() as usize >= conflict.parts.len() || parts.len() > 12 {
                continue;
            }
            let numbered = parts.iter().enumerate();
            let few = numbered.filter(|(place, _)| chosen >> place & 1 == 1).map(|(_, part)| *part);
            let few: Vec<PuzzlePart> = few.collect();
            assert!(has_plan(&only(&puzzle, &few)), "{few:?} is smaller in {puzzle:?}");
            looked_at += 1;
        }
    }
    assert!(looked_at > 3_000, "only {looked_at} sets were looked at");
}

#[test]
fn a_relief_is_just_enough() {
    let (mut longer, mut shorter, mut hours) = (0, 0, 0);
    for (puzzle, Conflict { reliefs, .. }) in refused() {
        let sizes: Vec<i64> = reliefs.iter().map(|&relief| size(&puzzle, relief)).collect();
        assert!(sizes.is_sorted(), "{sizes:?} of {puzzle:?}");
        for &relief in &reliefs {
            assert!(has_plan(&relieved(&puzzle, relief)), "{relief:?} of {puzzle:?}");
            for smaller in smaller(&puzzle, relief) {
                assert!(!has_plan(&relieved(&puzzle, smaller)), "{smaller:?} of {puzzle:?}");
            }
            match relief {
                Relief::Longer { .. } => longer += 1,
                Relief::Shorter { .. } => shorter += 1,
                Relief::Hours { .. } => hours += 1,
            }
        }
    }
    assert!(longer.min(shorter).min(hours) >= 20, "{longer}, {shorter}, {hours}");
}

#[test]
fn no_relief_is_missing() {
    for (puzzle, Conflict { parts, reliefs, .. }) in refused() {
        for part in parts {
            assert!(is_hopeless(&puzzle, part, &reliefs), "{part:?} of {puzzle:?}");
        }
    }
}

/// Two openings on each of so many days, in milliseconds.
fn hours_of_days(days: i64) -> Vec<(i64, i64)> {
    let hour = 3_600_000;
    let day = |day: i64| [(day * 24 + 5, day * 24 + 13), (day * 24 + 15, day * 24 + 19)];
    (0..days).flat_map(day).map(|(begin, end)| (begin * hour, end * hour)).collect()
}

#[test]
fn a_fortnight_is_planned() {
    let hour = 3_600_000;
    let shape = Shape { dough: 40, stages: 16, stage: 8, scale: hour, horizon: 14 * 24 * hour };
    let (mut points, mut with, mut without) = (0, 0, 0);
    for seed in 1..=40 {
        let puzzle = step_graph(&mut Dice::new(seed), &shape, hours_of_days(14));
        points = points.max(puzzle.points);
        *(if solve(&puzzle).is_ok() { &mut with } else { &mut without }) += 1;
    }
    assert!(points > 100 && with > 5 && without > 5, "{points}: {with} {without}");
}

#[test]
fn what_nothing_holds_stands_near_the_rest() {
    let puzzle = Puzzle {
        points: 6,
        gaps: vec![
            at_least(0, 1, 30),
            at_least(2, 1, 7),
            Gap { most: Some(9), ..at_least(3, 4, 5) },
        ],
        fixed: vec![(0, 100)],
        ..Puzzle::default()
    };
    let times = solve(&puzzle).map(|solution| solution.times);
    assert_eq!(times, Ok(vec![100, 130, 123, 100, 105, 100]));
}

#[test]
fn without_openings_nobody_is_there() {
    let presences = vec![Presence { from: 1, to: 1 }];
    let puzzle = Puzzle { points: 2, presences, ..Puzzle::default() };
    let parts = vec![PuzzlePart::Presence(0)];
    let conflict = solve(&puzzle).expect_err("nobody is there");
    assert_eq!((conflict.parts, conflict.reliefs), (parts, Vec::new()));
}

#[test]
fn what_is_fixed_may_contradict_itself() {
    let nothing = Err((Vec::new(), Vec::new()));
    let told = |puzzle: &Puzzle| solve(puzzle).map_err(|it| (it.parts, it.reliefs));
    let fixed = vec![(0, 1), (0, 2)];
    let puzzle = Puzzle { points: 2, fixed, ..Puzzle::default() };
    assert_eq!(told(&puzzle), nothing);
    assert_eq!(told(&Puzzle { gaps: vec![at_least(0, 1, 3)], ..puzzle }), nothing);
}

#[test]
fn a_gap_may_contradict_itself() {
    for (from, to) in [(0, 1), (1, 1)] {
        let gaps = vec![Gap { most: Some(4), ..at_least(from, to, 5) }];
        let found = solve(&Puzzle { points: 2, gaps, ..Puzzle::default() });
        assert_eq!(found.map_err(|conflict| conflict.parts), Err(vec![PuzzlePart::Gap(0)]));
    }
}

#[test]
fn no_number_is_too_large() {
    let ends = [i64::MIN, i64::MAX];
    for (least, most, wish) in ends.iter().flat_map(|&end| [(end, i64::MAX, 0), (0, 5, end)]) {
        let gaps =
            vec![
                Gap { from: 0, to: 1, least, most: Some(most), wish: Some(wish), price: u64::MAX };
                20
            ];
        for fixed in ends {
            let openings = vec![(i64::MIN, -5), (5, i64::MAX)];
            let presences = vec![Presence { from: 1, to: 2 }];
            let fixed = vec![(0, fixed)];
            let puzzle = Puzzle {
                points: 3,
                gaps: gaps.clone(),
                presences,
                openings,
                fixed,
                ..Puzzle::default()
            };
            let _ = solve(&puzzle);
        }
    }
}

/// Steps one after the other, each begun when somebody is there, that must end in time: a day is
/// ten hours of hands.
fn long_day(steps: usize) -> Puzzle {
    const HOUR: i64 = 3_600_000;
    let least = |step: usize| i64::try_from(10 + step % 7).unwrap_or(10) * HOUR / 60;
    let gap = |step: usize| Gap {
        from: step,
        to: step + 1,
        least: least(step),
        most: Some(2 * least(step)),
        wish: None,
        price: 1,
    };
    let openings: Vec<(i64, i64)> =
        (0..60).map(|day| (day * 24 * HOUR + 6 * HOUR, day * 24 * HOUR + 16 * HOUR)).collect();
    let end = openings.last().map_or(0, |&(_, end)| end);
    Puzzle {
        points: steps + 1,
        gaps: (0..steps).map(gap).collect(),
        presences: (0..steps).map(|step| Presence { from: step, to: step }).collect(),
        openings,
        fixed: vec![(steps, end)],
        ..Puzzle::default()
    }
}

/// The search for the smallest conflict ends by counted work, however many steps there are.
#[test]
fn the_work_of_explaining_does_not_run_away_with_the_steps() {
    let work = [75, 150, 300, 600].map(|steps| super::conflict::work(&long_day(steps)));
    // As much as is allowed, and what was begun before: never a multiple of it.
    assert!(work.iter().all(|work| *work < 45_000_000), "{work:?}");
    for steps in [75, 300] {
        let conflict = solve(&long_day(steps)).expect_err("too long for the hours");
        assert!(!conflict.parts.is_empty());
        assert!(conflict.is_irreducible || !conflict.is_smallest, "{steps}");
    }
}
