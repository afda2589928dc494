//! Whether a claim holds: the exact figure against the written number.

use super::context::Context;
use super::verdict::Verdict;
use crate::diag::{Group, Level, Rule};
use crate::formula::{
    self, Absence, Allergen, Bringer, Figure, Proof, Reason, ValueKind, Within, Worked, no_warmth,
    warmth,
};
use crate::quantity::display::{last_digit, minutes, to_step, trimmed};
use crate::quantity::{Dimension, Exact, Measures, Unit};
use crate::syntax::tree::{Amount, Base, Claim, ClaimValue, Extent, Line, Name, Quantity, Target};
use ecow::EcoString;

/// A claim, or a bound of a style, about something that is not known.
pub const CANNOT_BE_CHECKED: Rule = Rule {
    name: "claim-cannot-be-checked",
    level: Level::Note,
    group: Group::Claims,
    page: include_str!("claim_cannot_be_checked.md"),
};

/// A claim that the numbers contradict.
pub const REFUTED: Rule = Rule {
    name: "claim-refuted",
    level: Level::Error,
    group: Group::Claims,
    page: include_str!("claim_refuted.md"),
};

/// Every claim of a formula with what became of it; judged once.
pub fn verdicts<'c>(
    context: &'c Context<'_, '_>,
) -> impl Iterator<Item = (&'c Claim, &'c Verdict)> {
    let claims = &context.worked.formula.expect;
    let judge_all = || claims.iter().map(|claim| judge(context, claim)).collect();
    claims.iter().zip(context.verdicts.get_or_init(judge_all))
}

/// Whether a claim that holds says the same figure: the author knows it. `place` is the
/// mix, none the whole dough.
pub fn is_claimed(context: &Context, figure: &str, place: Option<&str>) -> bool {
    let is_it = |claim: &Claim| {
        claim.what.name.key == figure
            && claim.what.role.is_none()
            && claim.place.as_ref().map(|place| place.key.as_str()) == place
            && matches!(&claim.value, ClaimValue::Amount { base: None, .. })
    };
    context.worked.formula.expect.iter().any(is_it)
        && verdicts(context)
            .any(|(claim, verdict)| is_it(claim) && matches!(verdict, Verdict::Holds))
}

/// Judges one claim of a formula.
pub fn judge(context: &Context, claim: &Claim) -> Verdict {
    match &claim.value {
        ClaimValue::FreeFrom(name) => absence(context, claim, name),
        ClaimValue::Amount { range, base, tolerance } => {
            let Some(asked) = context.worked.asked(&claim.what, claim.place.as_ref()) else {
                return Verdict::UnknownPlace;
            };
            let within = asked.1;
            let Some(quantity) = range.low.as_ref().or(range.high.as_ref()) else {
                return Verdict::Open("it claims nothing".into());
            };
            match values(context, &claim.what, asked, quantity, base.as_ref()) {
                ClaimedValues::Values(values) => {
                    // The derivation is only worth its work when there is something to tell.
                    let working = || working(context, claim, quantity, base.as_ref());
                    let verdict =
                        compare(context, range, tolerance.as_ref(), quantity, &values, working);
                    match verdict {
                        Verdict::Holds if denies(range) => {
                            match none_of_allergen(context, claim, within) {
                                Verdict::Holds => soft(context, claim, within, quantity),
                                verdict => verdict,
                            }
                        }
                        verdict => verdict,
                    }
                }
                ClaimedValues::Open(why) => Verdict::Open(why),
                ClaimedValues::OtherBase(figure) => Verdict::OtherBase(figure),
                ClaimedValues::Unknown => Verdict::Unknown,
            }
        }
    }
}

/// The one value of what a claim asks for, in the base unit of the claim.
pub fn value_of(context: &Context, claim: &Claim) -> Option<Exact> {
    let ClaimValue::Amount { range, base, .. } = &claim.value else { return None };
    let asked = context.worked.asked(&claim.what, claim.place.as_ref())?;
    let quantity = range.low.as_ref().or(range.high.as_ref())?;
    match values(context, &claim.what, asked, quantity, base.as_ref()) {
        ClaimedValues::Values(values) if values.len() == 1 => values.into_iter().next(),
        _ => None,
    }
}

/// Whether a claim says that there is nothing of something.
fn denies(range: &Extent) -> bool {
    let high = if range.ranged { range.high.as_ref() } else { range.low.as_ref() };
    high.is_some_and(|high| high.number.is_zero())
}

/// `hazelnuts 0%` is read as `free from hazelnuts`: whatever brings them counts.
fn none_of_allergen(context: &Context, claim: &Claim, within: Within) -> Verdict {
    let named = Allergen::claimed(&claim.what.name.key).filter(|_| within == Within::All);
    named.map_or(Verdict::Holds, |allergen| denied(context, Absence::Allergen(allergen)))
}

/// What became of a claim that something is not in a formula.
fn denied(context: &Context, asked: Absence) -> Verdict {
    match formula::absence(context.worked, asked) {
        Proof::Proved => Verdict::Holds,
        Proof::Refuted(bringers) => Verdict::Contained(bringers),
        Proof::NotKnown(names) => Verdict::NotProved(names),
    }
}

/// A claim that there is nothing of something, over lines that have no weight.
fn soft(context: &Context, claim: &Claim, within: Within, quantity: &Quantity) -> Verdict {
    let house = context.house;
    let key = claim.what.name.key.as_str();
    let asked = house.ingredient_id(key);
    let class = match Figure::read(key) {
        Some(Figure::Class(class)) => Some(class),
        _ => None,
    };
    let is_it = |line: &&Line| match house.ingredient_id(&line.target.name.key) {
        Some(id) => Some(id) == asked || Some(house.ingredient(id).class) == class,
        None => line.target.name.key == key,
    };
    let found = context.lines_within(within).filter(is_it).find_map(|line| match line.amount {
        Amount::ToTaste => Some("to taste"),
        Amount::AsNeeded => Some("as needed"),
        Amount::Pinch => Some("by the pinch"),
        _ => None,
    });
    match found {
        Some(how) => Verdict::Refuted {
            is: format!("in it {how}"),
            claimed: written(quantity),
            working: None,
            instead: None,
        },
        None => Verdict::Holds,
    }
}

/// The values of a figure in the base unit of the claimed quantity.
enum ClaimedValues {
    Values(Vec<Exact>),
    Open(String),
    /// The figure is a share of its own base, and another is asked for: whatever it came
    /// to would be another figure.
    OtherBase(Figure),
    Unknown,
}

fn values(
    context: &Context,
    what: &Target,
    (figure, within): (Option<Figure>, Within),
    quantity: &Quantity,
    base: Option<&Base>,
) -> ClaimedValues {
    let worked = context.worked;
    let key = what.name.key.as_str();
    if let Some(figure @ (Figure::Elapsed | Figure::HandsOn)) = &figure {
        return times(context, figure, within, quantity);
    }
    let own_ingredient = context.house.ingredient_id(key).is_some();
    match figure {
        // `X in MIX` is X's own lines there, for a class as for an ingredient.
        Some(Figure::Class(class)) if within != Within::All || !own_ingredient => {
            masses(context, within, quantity, base, |numbers| {
                Some(worked.class_lines(numbers, class, within))
            })
        }
        Some(Figure::Class(class)) => masses(context, within, quantity, base, |numbers| {
            Some(worked.class_mass(&numbers.whole, class))
        }),
        Some(Figure::Hydration) if matches!(base, Some(Base::AddedFlour)) => {
            let each = worked.choices.iter();
            let values: Option<Vec<Exact>> =
                each.map(|numbers| worked.added_hydration(numbers)).collect();
            values.map_or_else(no_flour, ClaimedValues::Values)
        }
        Some(figure) => {
            let values = match (within, worked.choices.as_slice()) {
                (Within::All, [_]) if !figure.is_of_a_piece() => {
                    context.figure(&figure).map(|value| vec![value])
                }
                _ => worked.figure(&figure, within),
            };
            let Some(values) = values else {
                return ClaimedValues::Open(why_not(worked, &figure));
            };
            let kind = values.first().map_or(ValueKind::Number, |value| value.kind);
            if kind != ValueKind::Mass && base.is_some_and(|base| !is_its_base(&figure, base)) {
                return ClaimedValues::OtherBase(figure);
            }
            let amounts: Vec<Exact> = values.into_iter().map(|value| value.amount).collect();
            match (kind, quantity.unit.dimension()) {
                (ValueKind::Mass, Dimension::Mass)
                | (ValueKind::Temperature, Dimension::Temperature)
                | (ValueKind::Share, Dimension::Share)
                | (ValueKind::Number, Dimension::Count) => ClaimedValues::Values(amounts),
                // A yield of 174 is 174 parts of dough for 100 of flour.
                (ValueKind::Number, Dimension::Share) if figure == Figure::DoughYield => {
                    ClaimedValues::Values(
                        amounts.into_iter().map(|amount| amount.one_in::<100>()).collect(),
                    )
                }
                // Ice is a part of the water.
                (ValueKind::Mass, Dimension::Share) if figure == Figure::Ice && base.is_none() => {
                    match context.warmth() {
                        Ok(warmth) => {
                            let shares = amounts.iter().map(|ice| ice.over(&warmth.mass));
                            shares
                                .collect::<Option<_>>()
                                .map_or(ClaimedValues::Unknown, ClaimedValues::Values)
                        }
                        Err(why) => ClaimedValues::Open(no_warmth(why).into()),
                    }
                }
                (ValueKind::Mass, Dimension::Share) => {
                    let mut amounts = amounts.into_iter();
                    masses(context, within, quantity, base, |_| amounts.next())
                }
                _ => ClaimedValues::Open(format!(
                    "`{}` is not {}",
                    what.name.shown,
                    quantity.unit.dimension().word()
                )),
            }
        }
        None if quantity.unit.dimension() == Dimension::Share
            && base.is_none()
            && within == Within::All
            && worked.within(key).is_some() =>
        {
            ClaimedValues::Open(format!(
                "say of what: `{key} … of flour`, `of added flour` or `of dough`"
            ))
        }
        None => {
            let role = what.role.as_ref().map(|role| role.shown.as_str());
            let found = masses(context, within, quantity, base, |numbers| {
                worked.line_mass(numbers, key, role, within)
            });
            match found {
                ClaimedValues::Unknown if context.is_known(key) => {
                    masses(context, within, quantity, base, |_| Some(Exact::ZERO))
                }
                found => found,
            }
        }
    }
}

/// Whether a figure that is a share is one of that base.
fn is_its_base(figure: &Figure, base: &Base) -> bool {
    use Figure::{
        Hydration, Leavening, Liquids, PrefermentedFlour, SaltElsewhere, TotalPercentage,
        YeastAsFresh,
    };
    let of_flour = [
        Hydration,
        Leavening,
        Liquids,
        PrefermentedFlour,
        SaltElsewhere,
        TotalPercentage,
        YeastAsFresh,
    ];
    matches!(base, Base::Flour) && of_flour.contains(figure)
}

/// How long it takes, in minutes, at its shortest and at its longest.
fn times(context: &Context, figure: &Figure, within: Within, quantity: &Quantity) -> ClaimedValues {
    if quantity.unit.dimension() != Dimension::Time {
        return ClaimedValues::Open("it is a time: write `24h` or `23h..36h`".into());
    }
    if within != Within::All {
        return ClaimedValues::Open("a time can be claimed only for the whole formula".into());
    }
    let Some(length) = context.length(figure) else {
        return ClaimedValues::Open("the formula has no method, and so no times".into());
    };
    match length.high {
        Some(high) => ClaimedValues::Values(vec![length.low, high]),
        None => ClaimedValues::Open("a time in it is open-ended, such as `3h..`".into()),
    }
}

fn no_flour() -> ClaimedValues {
    ClaimedValues::Open("there is no flour to be a percentage of".into())
}

/// Why a formula has no such figure, as a part of a sentence.
pub fn why_not(worked: &Worked, figure: &Figure) -> String {
    let why = match figure {
        Figure::WaterTemperature | Figure::Ice => {
            return match warmth(worked) {
                Err(why) => no_warmth(why).to_owned(),
                Ok(_) => "the water need not be colder than the tap".to_owned(),
            };
        }
        Figure::SaltAsDeclared if let Some(names) = without_sodium(worked) => {
            return format!("the sodium of {names} is not known: write `sodium … mg` there");
        }
        Figure::PieceBaked
        | Figure::PieceAsEaten
        | Figure::BakeLoss
        | Figure::SaltAsEaten
        | Figure::SaltAsDeclared => "the loss in the oven is not given: `bake loss 13%`",
        Figure::Pieces | Figure::Piece => "the formula does not say what pieces it makes",
        Figure::Inoculation => "say of which stage: `inoculation in levain 20%`",
        Figure::MakeUpLoss => "no make-up loss is given",
        _ if worked.first().whole.mass().is_zero() => "the dough weighs nothing",
        _ => "there is no flour to be a percentage of",
    };
    why.into()
}

/// The ingredients of which neither sodium nor salt is stated.
fn without_sodium(worked: &Worked) -> Option<String> {
    let all = worked.ingredients();
    let silent = all.iter().filter(|own| own.declared_salt.is_none());
    let names: Vec<String> = silent.map(|own| format!("`{}`", own.name.shown)).collect();
    (!names.is_empty()).then(|| names.join(", "))
}

/// Masses as what the claim counts in: grams, a share of its base, millilitres, pieces.
fn masses(
    context: &Context,
    within: Within,
    quantity: &Quantity,
    base: Option<&Base>,
    mut mass: impl FnMut(&crate::formula::Numbers) -> Option<Exact>,
) -> ClaimedValues {
    let mut values = Vec::new();
    for numbers in &context.worked.choices {
        let Some(mass) = mass(numbers) else { return ClaimedValues::Unknown };
        match quantity.unit.dimension() {
            Dimension::Mass => values.push(mass),
            Dimension::Share => {
                let Some(base) = base_mass(context, numbers, within, base, &mass) else {
                    return ClaimedValues::Unknown;
                };
                let Some(share) = mass.over(&base) else { return no_flour() };
                values.push(share);
            }
            other => return ClaimedValues::Open(format!("it is claimed as {}", other.word())),
        }
    }
    ClaimedValues::Values(values)
}

fn base_mass(
    context: &Context,
    numbers: &crate::formula::Numbers,
    within: Within,
    base: Option<&Base>,
    own: &Exact,
) -> Option<Exact> {
    let worked = context.worked;
    Some(match base {
        None => match within {
            Within::Pieces => numbers.whole.mass(),
            within => worked.basis(numbers, within),
        },
        Some(Base::Flour) => worked.flour(&numbers.whole),
        Some(Base::AddedFlour) => worked.added_flour(numbers),
        Some(Base::Dough) => numbers.whole.mass(),
        Some(Base::BaseDough) => numbers.whole.mass() - own,
        Some(Base::Of(target)) => {
            let key = target.name.key.as_str();
            let role = target.role.as_ref().map(|role| role.shown.as_str());
            let line = worked.line_mass(numbers, key, role, within);
            match (line, Figure::read(key)) {
                (Some(mass), _) => mass,
                (None, Some(Figure::Class(class))) => worked.class_lines(numbers, class, within),
                (None, _) => return None,
            }
        }
    })
}

fn compare(
    context: &Context,
    range: &Extent,
    tolerance: Option<&Quantity>,
    quantity: &Quantity,
    values: &[Exact],
    working: impl FnOnce() -> Option<String>,
) -> Verdict {
    let holds = if range.ranged {
        let claimed = context.range(range);
        values.iter().all(|value| claimed.holds(value))
    } else {
        let claimed = context.base(quantity);
        values.iter().all(|value| match tolerance {
            Some(tolerance) => {
                let off = value - &claimed;
                off.clone().max(-off) <= context.base(tolerance)
            }
            None => rounds_to(context, value, quantity),
        })
    };
    if holds {
        return Verdict::Holds;
    }
    let (low, high) = match (values.iter().min(), values.iter().max()) {
        (Some(low), Some(high)) => (low, high),
        _ => return Verdict::Open("there is no value".into()),
    };
    let is = match low == high {
        true => show(context, low, quantity),
        false => format!("{} to {}", show(context, low, quantity), show(context, high, quantity)),
    };
    let claimed = written_claim(range, tolerance);
    let instead = (low == high && !range.ranged).then(|| instead(context, low, quantity));
    // The derivation is that of the low ends, so of a range it would tell half.
    let is_time = quantity.unit.dimension() == Dimension::Time;
    let working = if low == high || is_time { working() } else { None };
    Verdict::Refuted { is, claimed, working, instead }
}

/// What an amount is claimed to be: `72 %`, `70 % to 75 %`, `72 % ± 1 %`.
pub fn written_claim(range: &Extent, tolerance: Option<&Quantity>) -> String {
    let end = |quantity: &Option<Quantity>| quantity.as_ref().map_or("…".into(), written);
    match (range.ranged, tolerance) {
        (true, _) => format!("{} to {}", end(&range.low), end(&range.high)),
        (false, tolerance) => {
            let written_one = end(if range.low.is_some() { &range.low } else { &range.high });
            match tolerance {
                Some(tolerance) => format!("{written_one} ± {}", written(tolerance)),
                None => written_one,
            }
        }
    }
}

/// Whether a value rounds, half away from zero, to the written digits. A claim that there is
/// none of something is not true of a little.
fn rounds_to(context: &Context, value: &Exact, quantity: &Quantity) -> bool {
    if quantity.number.is_zero() {
        return value.is_zero();
    }
    let unit_value = in_unit(context, value, quantity.unit);
    let Some(written) = quantity.decimals else {
        return unit_value == quantity.number;
    };
    let digits = decimals_of(quantity, written);
    to_step(&unit_value, &last_digit(digits)) == quantity.number
}

/// Kilograms and pounds written without decimals count to three significant digits at
/// least; with decimals, the author has said how exactly they are meant.
fn decimals_of(quantity: &Quantity, written: u8) -> u8 {
    let is_large = matches!(quantity.unit, Unit::Kilogram | Unit::Pound);
    if !is_large || written > 0 || quantity.number.is_zero() {
        return written;
    }
    let mut digits = 2;
    let mut size = quantity.number.clone();
    while size >= Exact::from(10u8) && digits > 0 {
        size = size.one_in::<10>();
        digits -= 1;
    }
    digits
}

fn in_unit(context: &Context, value: &Exact, unit: Unit) -> Exact {
    unit.count_in(value, context.house.settings.measures)
}

fn written(quantity: &Quantity) -> String {
    if quantity.unit.dimension() == Dimension::Time {
        return minutes(&quantity.unit.to_base(&quantity.number, Measures::Metric));
    }
    let number = trimmed(
        &quantity.number,
        quantity.decimals.unwrap_or(4).max(quantity.decimals.unwrap_or(0)),
    );
    match quantity.unit {
        Unit::Count => number,
        unit => format!("{number} {}", unit.spelling()),
    }
}

fn show(context: &Context, value: &Exact, quantity: &Quantity) -> String {
    if quantity.unit.dimension() == Dimension::Time {
        return minutes(value);
    }
    let number = in_unit(context, value, quantity.unit);
    let digits = quantity.decimals.unwrap_or(2) + 2;
    let number = trimmed(&number, digits);
    match quantity.unit {
        Unit::Count => number,
        unit => format!("{number} {}", unit.spelling()),
    }
}

fn instead(context: &Context, value: &Exact, quantity: &Quantity) -> String {
    let number = in_unit(context, value, quantity.unit);
    let mut digits = decimals_of(quantity, quantity.decimals.unwrap_or(2));
    while digits < 6 && !number.is_zero() && to_step(&number, &last_digit(digits)).is_zero() {
        digits += 1;
    }
    let number = trimmed(&number, digits);
    match quantity.unit {
        Unit::Count => number,
        Unit::Percent => format!("{number}%"),
        unit => format!("{number} {}", unit.spelling()),
    }
}

/// The short derivation of a figure: the arithmetic of its last step.
fn working(
    context: &Context,
    claim: &Claim,
    quantity: &Quantity,
    base: Option<&Base>,
) -> Option<String> {
    let (worked, place) = (context.worked, claim.place.as_ref());
    let told = |reason: Reason| reason.told_in(context.house.settings.units.first).short();
    if let Some(base) = base {
        return told(worked.why_share_of(&claim.what, place, base)?);
    }
    if quantity.unit.dimension() == Dimension::Time {
        let name = &worked.formula.name.shown;
        return Some(format!("`assize why {name} {}` shows the steps", claim.what.name.shown));
    }
    let reason = worked.why(&claim.what, place)?;
    match (reason.kind, quantity.unit.dimension()) {
        (ValueKind::Mass, Dimension::Share) => told(worked.why_percent(&claim.what, place)?),
        _ => told(reason),
    }
}

/// Whether the formula is without what a claim says, in the words of the claim.
fn absence(context: &Context, claim: &Claim, name: &Name) -> Verdict {
    let asked = match is_diet(claim, name) {
        true => Absence::read(&name.key),
        false => Allergen::claimed(&name.key).map(Absence::Allergen),
    };
    asked.map_or(Verdict::Unknown, |asked| denied(context, asked))
}

/// How something that a claim denies comes in: `butter` on a tin, or with a stage.
pub fn way_of(context: &Context, bringer: &Bringer) -> Option<String> {
    let way = formula::way_in(context.worked, bringer.id)?;
    let quoted = |name: &EcoString| format!("`{name}`");
    let names: Vec<String> = way.through.iter().rev().map(quoted).collect();
    let through = names.join(" in ");
    let name = &bringer.ingredient;
    Some(match (way.tin, names.is_empty()) {
        (Some(tin), true) => format!("`{name}` comes in as the grease of the tin `{tin}`"),
        (Some(tin), false) => {
            format!("`{name}` comes in with {through}, the grease of the tin `{tin}`")
        }
        (None, _) => format!("`{name}` comes in with {through}"),
    })
}

/// The absence that a claim asks for, as `free from` or as nought of an allergen, and its
/// words.
pub fn absence_asked(claim: &Claim) -> Option<(Absence, String, bool)> {
    match &claim.value {
        ClaimValue::FreeFrom(name) => {
            let is_diet = is_diet(claim, name);
            let asked = match is_diet {
                true => Absence::read(&name.key),
                false => Allergen::claimed(&name.key).map(Absence::Allergen),
            };
            Some((
                asked?,
                format!("this is claimed to be {}", absence_in_words(claim, name)),
                is_diet,
            ))
        }
        ClaimValue::Amount { range, .. } if denies(range) => {
            let allergen = Allergen::claimed(&claim.what.name.key)?;
            let said = format!("this is claimed to contain no {}", claim.what.name.shown);
            Some((Absence::Allergen(allergen), said, false))
        }
        ClaimValue::Amount { .. } => None,
    }
}

/// What the formula's style is without, besides salt and leavening, and whether the formula
/// is too: the name of the style stands on the card.
pub fn absences_of_style<'c>(
    context: &'c Context,
) -> impl Iterator<Item = (&'c Name, &'c Name, Proof)> {
    let named = context.worked.formula.style.as_ref();
    let style = context.style.filter(|style| !style.without.is_empty()).zip(named);
    style.into_iter().flat_map(move |(style, named)| {
        style.without.iter().filter_map(move |without| {
            let asked = Absence::read(&without.key)?;
            Some((named, without, formula::absence(context.worked, asked)))
        })
    })
}

/// Whether a claim says `vegan` or `vegetarian` rather than `free from` something.
pub fn is_diet(claim: &Claim, name: &Name) -> bool {
    claim.what.name.key == name.key
}

/// A claim of absence in words: `free from nuts`, `vegan`.
pub fn absence_in_words(claim: &Claim, name: &Name) -> String {
    match is_diet(claim, name) {
        true => name.shown.to_string(),
        false => format!("free from {}", name.shown),
    }
}
