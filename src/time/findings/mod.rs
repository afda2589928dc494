//! Findings about times that can't be, one file a rule.

use super::clock::Zone;
use crate::diag::{Finding, Rule};
use crate::formula::House;

pub mod cooling_doubtful;
pub mod doing;
mod errors;
pub mod no_plan;
pub mod unknown_zone;

/// The rules of this room.
pub const ALL: &[&Rule] = &[&cooling_doubtful::RULE, &no_plan::RULE, &unknown_zone::RULE];

/// What a house says of time that can't be.
pub fn check_times(house: &House, findings: &mut Vec<Finding>) {
    if let Some(zone) = &house.settings.zone
        && Zone::named(&zone.value).is_none()
    {
        findings.push(unknown_zone::finding(zone));
    }
    if let Some(cooled) = &house.settings.cooling {
        findings.extend(cooling_doubtful::finding(cooled));
    }
}
