//! What each stage weighs: for those who use it, for what is saved, and enough to handle.

use super::lines::own_lines;
use super::sizes::{is_fixed, saved};
use super::solving::{At, Solving};
use crate::formula::limits::MAX_FEEDS;
use crate::formula::line_ref::LineRef;
use crate::formula::mixing::Mixing;
use crate::formula::worked::{Feed, Numbers, StageNumbers, WorkedLine};
use crate::quantity::Exact;
use crate::syntax::tree::Size;

/// The stages with their masses, those first that others use.
pub(super) fn stages(mixing: &Mixing, solving: &Solving, at: &At) -> Vec<StageNumbers> {
    let mut done: Vec<Option<StageNumbers>> = solving.stages.iter().map(|_| None).collect();
    for &stage in mixing.order.iter().rev() {
        done[stage] = Some(stage_numbers(mixing, solving, at, stage, &done));
    }
    // Every stage stands in the order once.
    done.into_iter().flatten().collect()
}

fn stage_numbers(
    mixing: &Mixing,
    solving: &Solving,
    at: &At,
    stage: usize,
    done: &[Option<StageNumbers>],
) -> StageNumbers {
    let declared = mixing.stage(stage);
    let forms = &solving.stages[stage];
    let mut lines = own_lines(mixing, &declared.mix, forms, at);
    let mut goes_on = at.content(&forms.goes_on);
    let mut from_cultures = at.content(&forms.from_cultures);
    let saved = saved(mixing, declared);
    let (plain, into_dough) = (goes_on.mass(), at.value(&solving.into_dough[stage]));
    // A stage that is made larger needs more of what it takes.
    let more = match has_its_size(mixing, stage) && at.ratio.is_one() {
        true => Exact::ZERO,
        false => more_for_users(solving, at, stage, done),
    };
    let inside = match solving.saves_inside[stage] {
        true => &saved * &at.ratio,
        false => Exact::ZERO,
    };
    let ripe = &plain + inside;
    let wanted = &plain + &more + &saved;
    let mut grown = wanted.over(&ripe).unwrap_or(Exact::ONE);
    let feeds = declared.feeds.map_or(1, |(feeds, _)| feeds.max(1));
    for line in &mut lines {
        line.mass *= &grown;
        line.more *= &grown;
    }
    let larger = enough(mixing, stage, &lines, feeds == 1, true);
    grown *= &larger;
    for line in &mut lines {
        line.mass *= &larger;
        line.more *= &larger;
    }
    if let Some(on) = (&ripe * &grown - &saved).over(&plain) {
        goes_on.scale(&on);
        from_cultures.scale(&on);
    }
    StageNumbers {
        made: sum(&lines),
        basis: at.value(&forms.basis) * &grown,
        lines,
        goes_on,
        from_cultures,
        grown,
        saved,
        into_dough,
        feeds,
        earlier: Vec::new(),
    }
}

/// How much larger a feed of these lines has to be made so that each of its amounts can be
/// handled, as `at least` says. A culture goes in at the `first` feed only, what the stage
/// takes of others at the `last`.
fn enough(mixing: &Mixing, stage: usize, lines: &[WorkedLine], first: bool, last: bool) -> Exact {
    let declared = mixing.stage(stage);
    let mut larger = Exact::ONE;
    for least in &declared.at_least {
        let own = declared.mix.lines.iter().zip(lines).filter(|(written, line)| {
            let whole = least.name.key == declared.name.key;
            match line.goes {
                LineRef::Stage(_) if !last => false,
                LineRef::Culture(_) if !whole && !first => {
                    mixing.is_least_of(least, written) && mixing.is_seed_of_its_own(stage, written)
                }
                _ => whole || mixing.is_least_of(least, written),
            }
        });
        let now = own.fold(Exact::ZERO, |sum, (_, line)| sum + &line.mass) * &larger;
        let Some(wanted) = mixing.least_grams(least) else { continue };
        if let Some(times) = wanted.over(&now).filter(|_| now < wanted) {
            larger *= times;
        }
    }
    larger
}

/// Works the feeds before the last one out, from the last to the first: each makes what the
/// next one takes in place of the culture, or as much as can be handled.
pub(super) fn earlier_feeds(mixing: &Mixing, numbers: &mut Numbers) {
    for stage in 0..numbers.stages.len() {
        let worked = &numbers.stages[stage];
        let mut earlier = Vec::new();
        let mut after = worked.lines.clone();
        for feed in (1..worked.feeds.min(MAX_FEEDS)).rev() {
            let Some(own) = feed_before(mixing, stage, &worked.lines, &after, feed == 1) else {
                break;
            };
            after.clone_from(&own.lines);
            earlier.push(own);
        }
        earlier.reverse();
        numbers.stages[stage].earlier = earlier;
    }
}

/// The feed that makes the seed of the one `after`, in the proportions of the last.
fn feed_before(
    mixing: &Mixing,
    stage: usize,
    last: &[WorkedLine],
    after: &[WorkedLine],
    first: bool,
) -> Option<Feed> {
    let declared = mixing.stage(stage);
    let cultures = after.iter().filter(|line| matches!(line.goes, LineRef::Culture(_)));
    let wanted = cultures.fold(Exact::ZERO, |sum, line| sum + &line.mass);
    // What the stage takes of others goes into the last feed.
    let mut lines = last.to_vec();
    for line in lines.iter_mut().filter(|line| matches!(line.goes, LineRef::Stage(_))) {
        (line.mass, line.more) = (Exact::ZERO, Exact::ZERO);
    }
    let loses = declared.loses.as_ref().map_or(Exact::ZERO, |loses| mixing.worth(loses));
    let ripe = |lines: &[WorkedLine]| sum(lines) * (Exact::ONE - &loses);
    let scale = |lines: &mut [WorkedLine], by: &Exact| {
        for line in lines {
            line.mass *= by;
            line.more *= by;
        }
    };
    let made = ripe(&lines);
    if wanted <= Exact::ZERO || made <= Exact::ZERO {
        return None;
    }
    scale(&mut lines, &wanted.over(&made)?);
    let larger = enough(mixing, stage, &lines, first, false);
    scale(&mut lines, &larger);
    let discarded = ripe(&lines) - wanted;
    Some(Feed { lines, discarded })
}

fn sum(lines: &[WorkedLine]) -> Exact {
    lines.iter().fold(Exact::ZERO, |sum, line| sum + &line.mass)
}

/// Whether a stage is as large as is written, whoever uses it.
fn has_its_size(mixing: &Mixing, stage: usize) -> bool {
    let weighs = |size: &Size| matches!(size, Size::Weighs(_));
    is_fixed(mixing, stage) || mixing.stage(stage).sizes.iter().any(|size| weighs(&size.size))
}

/// What other stages ask for beyond what they would ask at their plain size.
fn more_for_users(
    solving: &Solving,
    at: &At,
    stage: usize,
    done: &[Option<StageNumbers>],
) -> Exact {
    let mut more = Exact::ZERO;
    for (user, forms) in done.iter().zip(&solving.stages) {
        let Some(user) = user else { continue };
        for (line, form) in user.lines.iter().zip(&forms.masses) {
            if line.goes == LineRef::Stage(stage) {
                more += &line.mass - at.value(form);
            }
        }
    }
    more
}
