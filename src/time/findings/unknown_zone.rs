//! `unknown-zone`: a time zone that the world's zone database does not have.

use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Setting;

/// A time zone that the world's database does not have.
pub const RULE: Rule = Rule {
    name: "unknown-zone",
    level: Level::Warning,
    group: Group::Method,
    page: include_str!("unknown_zone.md"),
};

/// The finding for the zone of a house.
pub fn finding(zone: &Setting) -> Finding {
    Finding::new(&RULE, zone.span, format!("there is no time zone `{}`", zone.value))
        .help("write the region and a large city of it, such as `zone Europe/Paris`")
}
