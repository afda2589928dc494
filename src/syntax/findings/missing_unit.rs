//! Numbers without what they count.

use super::quoted;
use crate::diag::{Finding, Group, Level, Rule};
use crate::quantity::display::trimmed;
use crate::quantity::{Exact, Unit, int, read_number};
use crate::source::Span;
use crate::syntax::expected_amount::ExpectedAmount;
use crate::syntax::tree::Quantity;

/// `missing-unit`, an error about what a file says.
pub const RULE: Rule = Rule {
    name: "missing-unit",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("missing_unit.md"),
};

/// A bare number where an amount of the kind `wanted` stands.
pub fn finding(span: Span, written: &str, wanted: ExpectedAmount) -> Finding {
    let finding = Finding::new(&RULE, span, format!("{} has no unit", quoted(written)));
    let Some(unit) = wanted.likely() else {
        return finding.help(match wanted {
            ExpectedAmount::Time => format!("it is a time: write `{written}min` or `{written}h`"),
            _ => wanted.units().to_owned(),
        });
    };
    let value = read_number(written).map(|number| number.value).unwrap_or_default();
    let repaired = match unit {
        // Common practice, no source: no share that is claimed is below 1 %.
        Unit::Celsius => joined(written, likely_degrees(written)),
        Unit::Percent if value < Exact::ONE && !value.is_zero() => {
            format!("{}%", trimmed(&(value * int(100)), 4))
        }
        unit => joined(written, unit),
    };
    finding
        .help(format!("it is {}: most likely `{repaired}`", wanted.word()))
        .repair(span, repaired, false)
}

/// `bake 350`: what an oven is set to, and no time.
pub fn heat(span: Span, written: &str) -> Finding {
    let likely = likely_degrees(written);
    let meant = joined(written, likely);
    Finding::new(&RULE, span, format!("{} has no unit", quoted(written)))
        .help(format!(
            "as a temperature of the oven it is most likely `at {meant}`; as a time, write \
             `{written}min`"
        ))
        .repair(span, format!("at {meant}"), false)
}

/// The scale in which a number is most likely meant around dough and bread.
///
/// Common practice, no source: rooms are below 40 °C and ovens below 300 °C; between 40 and
/// 120 a number is a warm room or a dough in Fahrenheit.
fn likely_degrees(written: &str) -> Unit {
    let value = read_number(written).map(|number| number.value).unwrap_or_default();
    let is_fahrenheit = value > int(300) || value > int(40) && value <= int(120);
    if is_fahrenheit { Unit::Fahrenheit } else { Unit::Celsius }
}

/// `450 degrees`: of which scale, only the author knows.
pub fn which_degrees(span: Span, written: &str, number: &str) -> Finding {
    let message = format!("{} does not say which degrees", quoted(written));
    let help = match likely_degrees(number) {
        Unit::Fahrenheit => {
            format!("most likely `{number}F`, for Fahrenheit; for Celsius write `{number}C`")
        }
        _ => format!("most likely `{number}C`, for Celsius; for Fahrenheit write `{number}F`"),
    };
    Finding::new(&RULE, span, message).help(help)
}

/// `water 65`: a number alone on a line of what nobody counts; `likely` is the unit of the
/// lines beside it.
pub fn of_line(span: Span, name: &str, number: &Exact, likely: Unit) -> Finding {
    let number = trimmed(number, 4);
    let meant = joined(&number, likely);
    Finding::new(&RULE, span, format!("{} has no unit", quoted(&format!("{name} {number}"))))
        .help(format!("most likely `{name} {meant}`: a number alone counts pieces, such as eggs"))
        .repair(span, meant, false)
}

/// A block in which every number stands alone; `first` is its first line.
pub fn all_lines(span: Span, word: &str, first: &str, unit: Unit) -> Finding {
    let what = match unit {
        Unit::Percent => "if they are percentages of the flour",
        _ => "if they are grams",
    };
    let other = if unit == Unit::Percent {
        "`g` where they are grams"
    } else {
        "`%` where they are shares of the flour"
    };
    Finding::new(&RULE, span, format!("no number in {} has a unit", quoted(word)))
        .help(format!("{what}, write `{}` and so on; {other}", joined(first, unit)))
}

/// `3h..4`: the right end of a range.
pub fn right_end(span: Span, written: &str, left: Unit) -> Finding {
    let repaired = joined(written, left);
    Finding::new(&RULE, span, format!("{} has no unit", quoted(written)))
        .help(format!("most likely `{repaired}`: only the left end of a range may leave it out"))
        .repair(span, repaired, false)
}

/// `1h 30`, `74% ± 1`: what stands before it leaves one unit.
pub fn most_likely(span: Span, written: &str, unit: Unit) -> Finding {
    let repaired = joined(written, unit);
    Finding::new(&RULE, span, format!("{} has no unit", quoted(written)))
        .help(format!("most likely `{repaired}`"))
        .repair(span, repaired, false)
}

/// `ferments 18%`.
pub fn of_flour(span: Span, written: &str, share: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} does not say of what", quoted(written)))
        .help(format!("a stage is sized by the flour in it: write `{share} of flour`"))
        .repair(span, format!("{share} of flour"), false)
}

/// `feeds 3`.
pub fn times(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} does not say what it counts", quoted(written)))
        .help(format!("write `{written} times`"))
        .repair(span, format!("{written} times"), true)
}

/// `makes 24`.
pub fn pieces(count: &Quantity, written: &str) -> Finding {
    // Of nothing nothing can be made.
    let digits = trimmed(&count.number, 4);
    let such = if count.number.is_zero() { "24" } else { &digits };
    Finding::new(&RULE, count.span, format!("{} does not say what it counts", quoted(written)))
        .help(format!("write what is made, such as `{such} loaves`, or `{such} kg dough`"))
}

/// `price 14 per kg`.
pub fn currency(span: Span, written: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} has no currency", quoted(written)))
        .help(format!("write it after the number, such as `{written} EUR`"))
}

/// Units of one sign or letter touch their number, as the formatter writes them.
fn joined(written: &str, unit: Unit) -> String {
    let touches = matches!(
        unit,
        Unit::Percent
            | Unit::Celsius
            | Unit::Fahrenheit
            | Unit::Times
            | Unit::Second
            | Unit::Minute
            | Unit::Hour
            | Unit::Day
    );
    format!("{written}{}{}", if touches { "" } else { " " }, unit.spelling())
}
