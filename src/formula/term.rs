//! What figures are worked out in: bare amounts, or amounts that know how they came about.
//!
//! Each figure is written once, over a [`Term`]. Worked out in [`Exact`] it is a number, and
//! no reason is asked for or paid for; worked out in [`Reason`] it is the same number with
//! the tree behind it.

use super::figure::ValueKind;
use super::reason::Reason;
use super::subject::Subject;
use crate::quantity::Exact;

/// A number in a figure's arithmetic, in the base unit of its kind.
pub(super) trait Term: Sized {
    /// An amount that is known; `reason` says how it came about, where that is kept.
    fn known(amount: Exact, reason: impl FnOnce(Exact) -> Reason) -> Self;

    /// The same by another name.
    fn called(self, what: impl FnOnce() -> Subject) -> Self;

    /// A share; none where it would be one of nothing.
    fn ratio(what: impl FnOnce() -> Subject, above: Self, below: Self) -> Option<Self>;

    /// The parts added up.
    fn sum(
        what: impl FnOnce() -> Subject,
        kind: ValueKind,
        parts: impl IntoIterator<Item = Self>,
    ) -> Self;

    /// The two parts multiplied.
    fn product(what: impl FnOnce() -> Subject, kind: ValueKind, parts: [Self; 2]) -> Self;
}

impl Term for Exact {
    fn known(amount: Exact, _: impl FnOnce(Exact) -> Reason) -> Self {
        amount
    }

    fn called(self, _: impl FnOnce() -> Subject) -> Self {
        self
    }

    fn ratio(_: impl FnOnce() -> Subject, above: Self, below: Self) -> Option<Self> {
        above.over(&below)
    }

    fn sum(
        _: impl FnOnce() -> Subject,
        _: ValueKind,
        parts: impl IntoIterator<Item = Self>,
    ) -> Self {
        parts.into_iter().fold(Self::ZERO, |sum, part| sum + part)
    }

    fn product(_: impl FnOnce() -> Subject, _: ValueKind, [one, other]: [Self; 2]) -> Self {
        one * other
    }
}

impl Term for Reason {
    fn known(amount: Exact, reason: impl FnOnce(Exact) -> Reason) -> Self {
        reason(amount.clone()).coming_to(&amount)
    }

    fn called(self, what: impl FnOnce() -> Subject) -> Self {
        Self { what: what(), ..self }
    }

    fn ratio(what: impl FnOnce() -> Subject, above: Self, below: Self) -> Option<Self> {
        Self::ratio_of(what(), above, below)
    }

    fn sum(
        what: impl FnOnce() -> Subject,
        kind: ValueKind,
        parts: impl IntoIterator<Item = Self>,
    ) -> Self {
        Self { kind, ..Self::sum_of(what(), parts.into_iter().collect()) }
    }

    fn product(what: impl FnOnce() -> Subject, kind: ValueKind, parts: [Self; 2]) -> Self {
        Self::product_of(what(), kind, parts.into())
    }
}
