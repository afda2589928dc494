//! `nearly-the-same-name`: two names so close that one may be a slip.

use crate::diag::{Finding, Group, Level, Rule, slips_up_to};
use crate::formula::House;
use crate::syntax::tree::{Name, Tree, Weekdays};
use ecow::EcoString;
use rustc_hash::FxHashMap;

/// `nearly-the-same-name`, a warning about names.
pub const RULE: Rule = Rule {
    name: "nearly-the-same-name",
    level: Level::Warning,
    group: Group::Names,
    page: include_str!("nearly_the_same_name.md"),
};

/// Adds what it finds in the files of a house to `findings`.
pub fn check(house: &House, trees: &[&Tree], findings: &mut Vec<Finding>) {
    let own: Vec<&Name> = trees
        .iter()
        .flat_map(|tree| {
            let ingredients = tree.ingredients.iter().map(|ingredient| &ingredient.name);
            ingredients.chain(tree.cultures.iter().map(|culture| &culture.name))
        })
        .collect();
    let days = trees.iter().flat_map(|tree| &tree.days);
    findings.extend(days.filter_map(|day| weekday(&day.name)));
    let mut earlier = Slips::default();
    for name in own {
        let mut stores = house.names_in_stores().map(EcoString::as_str);
        let near = earlier.near(&name.key);
        let near = near.or_else(|| stores.find(|other| nearly(&name.key, other)));
        earlier.add(&name.key);
        if let Some(other) = near {
            findings.push(
                Finding::new(
                    &RULE,
                    name.span,
                    format!("`{}` is nearly the same name as `{other}`", name.shown),
                )
                .help("use one name if they are one thing, or names that are hard to confuse"),
            );
        }
    }
}

/// The finding for a day whose name is nearly that of a weekday, or that of one in another
/// language: it would be any day.
fn weekday(name: &Name) -> Option<Finding> {
    let abroad = Weekdays::abroad(&name.key);
    let near = || Weekdays::WHOLE.into_iter().find(|weekday| nearly(&name.key, weekday));
    let is_weekday = Weekdays::number(&name.key).is_some();
    let (weekday, message) = match abroad {
        _ if is_weekday => return None,
        Some(weekday) => {
            (weekday, format!("`{}` is not a weekday here, only a name for any day", name.shown))
        }
        None => {
            let weekday = near()?;
            (weekday, format!("`{}` is nearly the same name as `{weekday}`", name.shown))
        }
    };
    let help = format!(
        "write `{weekday}` if it is the day of that weekday, or a name that is hard to confuse"
    );
    Some(Finding::new(&RULE, name.span, message).help(help).repair(name.span, weekday, false))
}

/// Names by what is left of each without one of its letters: two that are one slip apart
/// have such a rest in common.
#[derive(Default)]
struct Slips<'n> {
    rests: FxHashMap<String, Vec<usize>>,
    names: Vec<&'n str>,
}

/// Names of one rest that are looked at.
const MAX_OF_A_REST: usize = 50;

impl<'n> Slips<'n> {
    fn add(&mut self, name: &'n str) {
        for rest in rests(name) {
            let places = self.rests.entry(rest).or_default();
            if places.last() != Some(&self.names.len()) {
                places.push(self.names.len());
            }
        }
        self.names.push(name);
    }

    /// The first that is nearly the same name.
    fn near(&self, name: &str) -> Option<&'n str> {
        let known = rests(name).filter_map(|rest| self.rests.get(&rest));
        let places = known.flat_map(|places| places.iter().take(MAX_OF_A_REST));
        let near =
            places.filter(|place| self.names.get(**place).is_some_and(|it| nearly(name, it)));
        near.min().and_then(|place| self.names.get(*place).copied())
    }
}

/// A name, and what is left of it without each of its letters.
fn rests(name: &str) -> impl Iterator<Item = String> {
    let name = if name.len() + 1 < SHORT || name.len() > LONG { "" } else { name };
    let whole = Some(name.to_owned()).filter(|name| !name.is_empty());
    let without = name
        .char_indices()
        .map(|(at, letter)| format!("{}{}", &name[..at], &name[at + letter.len_utf8()..]));
    whole.into_iter().chain(without)
}

/// Bytes of the shortest names that are compared, and of the longest.
const SHORT: usize = 5;
const LONG: usize = 200;

/// One slip apart; names that differ in digits (`T55`, `T65`) are meant to.
fn nearly(one: &str, two: &str) -> bool {
    if one == two || one.len().abs_diff(two.len()) > 1 || one.len() < SHORT {
        return false;
    }
    let digits = |text: &str| text.chars().filter(char::is_ascii_digit).collect::<String>();
    slips_up_to(one, two, 1) == Some(1) && digits(one) == digits(two)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Names of few letters, so that many are near each other: the first near one is found
    /// as by comparing each with each.
    #[test]
    fn the_first_near_name_is_found_without_comparing_all() {
        let mut seed = 7_u64;
        let mut roll = |sides: u64| {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            (seed >> 33) % sides
        };
        let letters = ['a', 'b', 'é', '5', ' '];
        let names: Vec<String> = (0..600)
            .map(|_| {
                let length = 4 + roll(4);
                (0..length).map(|_| letters[roll(5) as usize]).collect()
            })
            .collect();
        let (mut slips, mut found) = (Slips::default(), 0);
        for (index, name) in names.iter().enumerate() {
            let first = names[..index].iter().find(|other| nearly(name, other));
            assert_eq!(slips.near(name), first.map(String::as_str), "{name}");
            found += usize::from(first.is_some());
            slips.add(name);
        }
        assert!(found > 100, "{found}");
    }
}
