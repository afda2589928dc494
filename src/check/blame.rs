//! The one line that is off where several claims are refuted: a wrong amount is told once,
//! where it stands, and not at every claim that it makes false.
//!
//! A figure is one sum over another, so that it is known at all amounts of a line when it is
//! known at three. The amount at which the first claim would be true is worked out for each
//! line; where all claims are true then, and nothing is found that was not found before, the
//! line is the likeliest to be wrong. A claim that is false is always told with both numbers.

use super::claims::{REFUTED, judge, value_of, verdicts};
use super::context::Context;
use super::conventions::true_elsewhere;
use super::verdict::Verdict;
use crate::diag::{Finding, Group, Level, Repair, slips_between};
use crate::formula::{Figure, Worked, work};
use crate::quantity::display::{last_digit, to_step, trimmed};
use crate::quantity::{Dimension, Exact, Unit, int, ratio};
use crate::source::Span;
use crate::syntax::tree::{Amount, Claim, ClaimValue, Formula, Line, Quantity};

/// Lines that are tried at most.
const MAX_LINES: usize = 24;
/// Amounts of a formula that are held to have made others seem wrong.
const MAX_PIVOTS: usize = 3;

/// All that the rules find in a formula worked out anew.
type Checks<'c> = &'c dyn Fn(&Context) -> Vec<Finding>;

/// Tells a wrong amount once: claims that it makes false are told together at its line, each
/// with what is claimed and what is.
pub fn blame_once(context: &Context, findings: &mut Vec<Finding>, check: Checks) {
    let refuted = verdicts(context).filter(|(_, it)| matches!(it, Verdict::Refuted { .. }));
    let refuted: Vec<&Claim> = refuted.map(|(claim, _)| claim).collect();
    if refuted.is_empty() {
        return;
    }
    // A number that is true in another convention is a slip of its own, unless it takes
    // part in what one line explains.
    let unexplained: Vec<&Claim> =
        refuted.iter().copied().filter(|it| true_elsewhere(context, it).is_none()).collect();
    let is_mixed = refuted.len() > unexplained.len();
    let together = {
        let only_beside = is_mixed && unexplained.is_empty();
        blamed_for(context, (findings, check), &refuted, only_beside)
    };
    if !together && is_mixed {
        blamed_for(context, (findings, check), &unexplained, false);
    }
}

/// Tells what one line explains of claims, if it does; `only_beside` another finding at the
/// line.
fn blamed_for(
    context: &Context,
    (findings, check): (&mut Vec<Finding>, Checks),
    claims: &[&Claim],
    only_beside: bool,
) -> bool {
    let spans: Vec<Span> = claims.iter().map(|claim| claim.span).collect();
    let is_claim = |it: &Finding| it.rule.name == REFUTED.name && spans.contains(&it.span());
    let allowed = allowed_rules(&context.worked.formula);
    let is_other = |it: &Finding| {
        it.level != Level::Note
            && matches!(it.rule.group, Group::Sums | Group::Salt | Group::Style)
            && !allowed.contains(&it.rule.name)
    };
    let culprits = culprits(context, claims, findings, check);
    let told = culprits.iter().find_map(|culprit| {
        let at =
            |it: &Finding| is_other(it) && culprit.span.range().contains(&it.span().range().start);
        Some((findings.iter().position(at)?, culprit))
    });
    // What else is unusual in the sums speaks against the line rather than the claim.
    let is_doubted = findings.iter().any(is_other);
    match (told, culprits.as_slice()) {
        (Some((_, culprit)), _) if claims.len() > 1 => {
            let said = blamed(context, culprit, claims);
            findings.retain(|it| !is_claim(it));
            findings.push(said);
            true
        }
        (Some((other, culprit)), _) if culprit.is_yield => {
            let told: Vec<String> = claims.iter().map(|claim| told_of(context, claim)).collect();
            if let Some(other) = findings.get_mut(other) {
                other.notes.extend(told);
            }
            findings.retain(|it| !is_claim(it));
            true
        }
        (Some((other, culprit)), _) => {
            let note = format!("with `{} {}` all claims are true", culprit.name, culprit.meant);
            if let Some(other) = findings.get_mut(other) {
                other.notes.push(note);
            }
            true
        }
        (None, [culprit]) if (claims.len() > 1 || is_doubted) && !only_beside => {
            findings.retain(|it| !is_claim(it));
            findings.push(blamed(context, culprit, claims));
            true
        }
        (None, [culprit]) if !only_beside => {
            for claim in findings.iter_mut().filter(|it| is_claim(it) && it.repair.is_some()) {
                claim.help = Some(either(culprit, claim.repair.as_ref()));
                claim.repair = None;
            }
            true
        }
        _ => false,
    }
}

/// One claim against one line: nobody knows which of them is right.
fn either(culprit: &Culprit, claimed: Option<&Repair>) -> String {
    let Culprit { name, written, meant, .. } = culprit;
    let claim = match claimed {
        Some(claimed) => format!("claim `{}`", claimed.text),
        None => "correct the claim".into(),
    };
    format!("if the claim is right, `{name} {written}` is to be `{meant}`; if the line is, {claim}")
}

fn blamed(context: &Context, culprit: &Culprit, claims: &[&Claim]) -> Finding {
    let Culprit { name, written, meant, .. } = culprit;
    let told: Vec<(Span, String)> =
        claims.iter().map(|claim| (claim.span, told_of(context, claim))).collect();
    let message = match told.as_slice() {
        [(_, one)] => format!("{one}; with `{name} {meant}` instead of `{written}` it is true"),
        _ => format!(
            "`{name} {written}` makes {} claims false; with `{meant}` all are true",
            claims.len()
        ),
    };
    let said = Finding::new(&REFUTED, culprit.amount, message);
    let said = told.into_iter().fold(said, |said, (span, told)| said.label(span, told));
    said.help(format!("was `{name} {meant}` meant? If not, correct the claims")).repair(
        culprit.amount,
        meant.clone(),
        false,
    )
}

/// What is claimed and what is.
fn told_of(context: &Context, claim: &Claim) -> String {
    let name = context.claim_name(claim);
    let verdict = verdicts(context).find(|(own, _)| own.span == claim.span);
    match verdict {
        Some((_, Verdict::Refuted { is, claimed, .. })) => {
            format!("`{name}` is claimed to be {claimed}, but is {is}")
        }
        _ => format!("`{name}` is false with it"),
    }
}

/// A line with another amount, at which every claim is true.
struct Culprit {
    span: Span,
    /// Where its amount stands.
    amount: Span,
    name: String,
    written: String,
    meant: String,
    /// Whether all shares are shares of it.
    is_flour: bool,
    /// Whether it is a number of `makes`.
    is_yield: bool,
}

/// The lines any one of which alone, with another amount, makes all claims true; those
/// whose amount looks like a slip of the other where there are such. Other claims that are
/// refuted are a slip of their own.
fn culprits(
    context: &Context,
    claims: &[&Claim],
    findings: &[Finding],
    check: Checks,
) -> Vec<Culprit> {
    let Some(claim) = claims.first() else { return Vec::new() };
    let formula = &*context.worked.formula;
    let refuted = verdicts(context).filter(|(_, it)| matches!(it, Verdict::Refuted { .. }));
    let others = refuted.map(|(claim, _)| claim.span);
    let others: Vec<Span> =
        others.filter(|span| claims.iter().all(|claim| claim.span != *span)).collect();
    let mut found: Vec<(bool, Culprit)> = Vec::new();
    for at in 0..lines(formula).count().min(MAX_LINES) {
        let accepts = |with: &Formula| {
            let left = in_worked(context, with, check);
            left.is_some_and(|left| !left.iter().any(|it| is_new(it, findings)))
        };
        found.extend(tried(context, claim, at, &others, &accepts));
    }
    // Where no line explains it, what is made may be another amount.
    if found.is_empty() {
        let first = lines(formula).count();
        for at in first..first + yields(formula).len().min(MAX_LINES) {
            let accepts = |with: &Formula| {
                let left = in_worked(context, with, check);
                left.is_some_and(|left| !left.iter().any(|it| is_new(it, findings)))
            };
            found.extend(tried(context, claim, at, &others, &accepts));
        }
    }
    // Of a share, its own line is the likelier one: another flour would change all figures.
    let is_own = |culprit: &Culprit| !culprit.is_flour;
    if claims.len() == 1 && found.iter().any(|(_, culprit)| is_own(culprit)) {
        found.retain(|(_, culprit)| is_own(culprit));
    }
    if found.iter().any(|(is_slip, _)| *is_slip) {
        found.retain(|(is_slip, _)| *is_slip);
    }
    found.into_iter().map(|(_, culprit)| culprit).collect()
}

/// Holds back what follows from a wrong amount whose repair is known: what is not found any
/// more where the amount is repaired.
pub fn hold_back(context: &Context, findings: &mut Vec<Finding>, check: Checks) {
    let formula = &*context.worked.formula;
    let counts = |it: &Finding| it.level != Level::Note;
    let allowed = allowed_rules(formula);
    let is_allowed = |it: &Finding| allowed.contains(&it.rule.name);
    for _ in 0..MAX_PIVOTS {
        if findings.iter().filter(|it| counts(it)).count() < 2 {
            return;
        }
        let pivots: Vec<usize> = (0..findings.len())
            .filter(|&at| counts(&findings[at]) && !is_allowed(&findings[at]))
            .collect();
        let best = pivots.into_iter().take(MAX_LINES).filter_map(|pivot| {
            let repaired = repaired(formula, findings[pivot].repair.as_ref()?)?;
            let left = in_worked(context, &repaired, check)?;
            let stays = |it: &Finding| {
                left.iter().any(|left| left.rule.name == it.rule.name && left.span() == it.span())
            };
            if stays(&findings[pivot]) || left.iter().any(|it| is_new(it, findings)) {
                return None;
            }
            let follows: Vec<usize> = (0..findings.len())
                .filter(|&at| at != pivot && counts(&findings[at]) && !stays(&findings[at]))
                .filter(|&at| !is_allowed(&findings[at]))
                // What was claimed and what is, is always said.
                .filter(|&at| findings[at].rule.name != REFUTED.name)
                .collect();
            (!follows.is_empty()).then_some((pivot, follows))
        });
        let Some((pivot, follows)) = best.max_by_key(|(_, follows)| follows.len()) else { return };
        // What is held back may be graver: then so is its cause.
        let gravest = follows.iter().map(|&at| findings[at].level).min();
        let own = &mut findings[pivot];
        own.level = gravest.map_or(own.level, |level| level.min(own.level));
        let mut at = 0;
        findings.retain(|_| {
            at += 1;
            !follows.contains(&(at - 1))
        });
    }
}

/// Findings that the author allows somewhere: nothing is laid to what may not be told.
fn allowed_rules(formula: &Formula) -> Vec<&str> {
    let stages = formula.stages.iter().flat_map(|stage| &stage.allow);
    let methods = formula.stages.iter().filter_map(|stage| stage.method.as_ref());
    let steps = methods.chain(&formula.method).flat_map(|method| &method.steps);
    let all = formula.allow.iter().chain(stages).chain(steps.flat_map(|step| &step.allow));
    all.map(|allow| allow.finding.key.as_str()).collect()
}

/// Whether a finding is none of those that there were, or graver.
fn is_new(finding: &Finding, findings: &[Finding]) -> bool {
    let is_known = |known: &Finding| {
        known.rule.name == finding.rule.name
            && known.span() == finding.span()
            && known.level <= finding.level
    };
    finding.level != Level::Note && !findings.iter().any(is_known)
}

/// The formula with the amount of a line repaired; none where the repair is of anything else.
fn repaired(formula: &Formula, repair: &Repair) -> Option<Formula> {
    let at = lines(formula).position(|line| line.amount_span == repair.span)?;
    let digits = repair.text.trim_end_matches(|sign: char| !sign.is_ascii_digit());
    let unit = repair.text.get(digits.len()..)?.trim();
    let number = read_number(digits)?;
    let mut with = with_amount(formula, at, &number);
    let unit = Unit::read(unit)?;
    if let Amount::Measured { range, .. } = &mut lines_mut(&mut with).nth(at)?.amount {
        range.low.iter_mut().chain(&mut range.high).for_each(|end| end.unit = unit);
    }
    Some(with)
}

fn read_number(digits: &str) -> Option<Exact> {
    let (whole, part) = digits.split_once('.').unwrap_or((digits, ""));
    let number: i64 = format!("{whole}{part}").parse().ok()?;
    Some(int(number) * last_digit(u8::try_from(part.len()).ok()?))
}

fn lines(formula: &Formula) -> impl Iterator<Item = &Line> {
    let blocks = formula.total.iter().chain(&formula.dough);
    let stages = formula.stages.iter().map(|stage| &stage.mix);
    blocks.chain(stages).flat_map(|mix| &mix.lines)
}

fn lines_mut(formula: &mut Formula) -> impl Iterator<Item = &mut Line> {
    let blocks = formula.total.iter_mut().chain(&mut formula.dough);
    let stages = formula.stages.iter_mut().map(|stage| &mut stage.mix);
    blocks.chain(stages).flat_map(|mix| &mut mix.lines)
}

/// What `makes` says in numbers: how many pieces, what each weighs, how much dough.
fn yields(formula: &Formula) -> Vec<&Quantity> {
    let Some(makes) = &formula.makes else { return Vec::new() };
    let pieces = makes.pieces.iter().filter(|piece| piece.counted && !piece.baked);
    let pieces = pieces.flat_map(|piece| std::iter::once(&piece.count).chain(&piece.weight));
    pieces.chain(&makes.dough).collect()
}

/// The same, to be changed.
fn yields_mut(formula: &mut Formula) -> Vec<&mut Quantity> {
    let Some(makes) = &mut formula.makes else { return Vec::new() };
    let pieces = makes.pieces.iter_mut().filter(|piece| piece.counted && !piece.baked);
    let pieces =
        pieces.flat_map(|piece| std::iter::once(&mut piece.count).chain(&mut piece.weight));
    pieces.chain(&mut makes.dough).collect()
}

/// The one quantity of a line that has no range.
fn quantity(line: &Line) -> Option<&Quantity> {
    match &line.amount {
        Amount::Measured { range, .. } if !range.ranged => range.low.as_ref(),
        _ => None,
    }
}

fn tried(
    context: &Context,
    claim: &Claim,
    at: usize,
    others: &[Span],
    accepts: &dyn Fn(&Formula) -> bool,
) -> Option<(bool, Culprit)> {
    let formula = &*context.worked.formula;
    let line = lines(formula).nth(at);
    if line.is_some_and(|line| !speaks_of(context, claim, line)) {
        return None;
    }
    let made = || yields(formula).into_iter().nth(at.checked_sub(lines(formula).count())?);
    let own = match line {
        Some(line) => quantity(line)?,
        None => made()?,
    };
    let is_weighed = match own.unit.dimension() {
        Dimension::Mass | Dimension::Share => true,
        dimension => line.is_none() && dimension == Dimension::Count,
    };
    if !is_weighed || own.number.is_zero() {
        return None;
    }
    let target = claimed(context, claim)?;
    let exact = amount_for(context, claim, at, &own.number, &target)?;
    if exact <= Exact::ZERO {
        return None;
    }
    let rounded = rounded(&exact, own.decimals.unwrap_or(0));
    let is_count = own.unit == Unit::Count;
    let number = rounded.into_iter().find(|number| {
        let with = with_amount(formula, at, number);
        *number != own.number
            && (!is_count || number.is_int())
            && *number > Exact::ZERO
            && is_near(&own.number, number)
            && all_hold(context, &with, others)
            && accepts(&with)
    })?;
    let shown = |number: &Exact| {
        let blank = if matches!(own.unit, Unit::Percent | Unit::Count) { "" } else { " " };
        format!("{}{blank}{}", trimmed(number, 4), own.unit.spelling())
    };
    let is_weight = own.unit.dimension() == Dimension::Mass;
    let of_pieces = is_weight && formula.makes.as_ref().is_some_and(|it| it.dough.is_none());
    let name = match line {
        Some(line) => line.target.name.shown.to_string(),
        None if of_pieces => "at".to_owned(),
        None => "makes".to_owned(),
    };
    let culprit = Culprit {
        span: line.map_or_else(|| formula.makes.as_ref().map(|it| it.span), |it| Some(it.span))?,
        amount: line.map_or(own.span, |line| line.amount_span),
        name,
        written: shown(&own.number),
        meant: shown(&number),
        is_flour: line.is_some_and(|line| context.is_flour(line)),
        is_yield: line.is_none(),
    };
    Some((is_slip(&own.number, &number), culprit))
}

/// Whether a line may be wrong for a claim to be false: of an ingredient or a class its own
/// lines, and those of the flour that it is a share of.
fn speaks_of(context: &Context, claim: &Claim, line: &Line) -> bool {
    let key = claim.what.name.key.as_str();
    let own = line.target.name.key.as_str();
    let Some(ingredient) = context.house.ingredient_named(own) else { return true };
    let is_its_own = match Figure::read(key) {
        Some(Figure::Class(class)) => ingredient.class == class,
        Some(_) => true,
        None => own == key || context.house.ingredient_named(key).is_none(),
    };
    is_its_own || context.is_flour(line)
}

impl Context<'_, '_> {
    /// The line with a range that a claim is about, so that its figure is a range as well.
    pub fn ranged_line(&self, claim: &Claim) -> Option<&Line> {
        let is_ranged = |line: &&Line| {
            matches!(&line.amount, Amount::Measured { range, .. }
            if range.ranged && range.low.is_some() && range.high.is_some())
        };
        let mut all = lines(&self.worked.formula).filter(is_ranged);
        all.find(|line| speaks_of(self, claim, line))
    }
}

/// Whether somebody can have written one number for the other: half to twice as much, or the
/// same digits with the point elsewhere or one of them another.
fn is_near(one: &Exact, two: &Exact) -> bool {
    let double = |low: &Exact, high: &Exact| *high <= low * int(2);
    let digits = |number: &Exact| trimmed(number, 4).replace('.', "");
    let (from, to) = (digits(one), digits(two));
    let is_moved = from.trim_matches('0') == to.trim_matches('0');
    let is_another = from.len() == to.len() && slips_between(&from, &to) == 1;
    (double(one, two) && double(two, one)) || is_moved || is_another
}

/// What a claim that is no range says, in its base unit.
fn claimed(context: &Context, claim: &Claim) -> Option<Exact> {
    let ClaimValue::Amount { range, .. } = &claim.value else { return None };
    range.low.as_ref().filter(|_| !range.ranged).map(|one| context.base(one))
}

/// The amount of a line at which a claim comes to a value.
fn amount_for(
    context: &Context,
    claim: &Claim,
    at: usize,
    own: &Exact,
    target: &Exact,
) -> Option<Exact> {
    let formula = &*context.worked.formula;
    let at_amounts: Option<Vec<(Exact, Exact)>> = [int(1), ratio(5, 4), ratio(3, 2)]
        .into_iter()
        .map(|times| {
            let amount = own * times;
            let with = with_amount(formula, at, &amount);
            let value = in_worked(context, &with, |context| value_of(context, claim))??;
            Some((amount, value))
        })
        .collect();
    let known = at_amounts?;
    let [(x0, f0), (x1, f1), (x2, f2)] = known.as_slice() else { return None };
    // (t − f1)(f2 − f0) ÷ ((t − f0)(f2 − f1)) is the same of the amounts.
    let left = (target - f1) * (f2 - f0);
    let right = (target - f0) * (f2 - f1);
    let (a, b) = (x2 - x0, x2 - x1);
    // (x − x1) a right = left (x − x0) b
    let above = x1 * &a * &right - x0 * &b * &left;
    let below = &a * &right - &b * &left;
    above.over(&below)
}

/// A number with few digits first, then with more.
fn rounded(exact: &Exact, decimals: u8) -> Vec<Exact> {
    let steps = [int(100), int(50), int(10), int(5), int(1)];
    let mut all: Vec<Exact> = steps.iter().map(|step| to_step(exact, step)).collect();
    all.extend((1..=decimals.max(1) + 1).map(|digits| to_step(exact, &last_digit(digits))));
    all
}

fn with_amount(formula: &Formula, at: usize, number: &Exact) -> Formula {
    let mut with = formula.clone();
    with.from = None;
    let made = at.checked_sub(lines(formula).count());
    if let Some(own) = made.and_then(|made| yields_mut(&mut with).into_iter().nth(made)) {
        own.number = number.clone();
        return with;
    }
    if let Some(line) = lines_mut(&mut with).nth(at)
        && let Amount::Measured { range, .. } = &mut line.amount
    {
        for end in range.low.iter_mut().chain(&mut range.high) {
            end.number = number.clone();
        }
    }
    with
}

/// What is asked of a formula worked out anew; nothing where its sums do not come out.
fn in_worked<T>(
    context: &Context,
    formula: &Formula,
    ask: impl FnOnce(&Context) -> T,
) -> Option<T> {
    let worked: Worked = work(context.house, formula, &mut Vec::new());
    worked.sound.then(|| ask(&Context::new(context.house, &worked, &mut Vec::new())))
}

fn all_hold(context: &Context, formula: &Formula, others: &[Span]) -> bool {
    let holds = |context: &Context| {
        let claims = &context.worked.formula.expect;
        claims.iter().all(|claim| {
            others.contains(&claim.span)
                || !matches!(judge(context, claim), Verdict::Refuted { .. } | Verdict::Contained(_))
        })
    };
    in_worked(context, formula, holds).unwrap_or(false)
}

/// Whether a number looks like a slip of another: a digit more or less or another one, two
/// swapped, or the point elsewhere.
fn is_slip(one: &Exact, two: &Exact) -> bool {
    let digits = |number: &Exact| trimmed(number, 4);
    let (one, two) = (digits(one), digits(two));
    let bare = |text: &str| text.replace('.', "").trim_matches('0').to_owned();
    bare(&one) == bare(&two) || slips_between(&one, &two) == 1
}
