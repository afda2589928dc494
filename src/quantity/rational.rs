//! Exact rational numbers, small ones in two machine words.
//!
//! Nearly every number about bread fits 64 bits above and below. Those are kept as they
//! come, not in lowest terms: finding a common divisor costs more than the sum it would
//! tidy up, so it is done only where a result would not fit. What does not fit in lowest
//! terms either is a large number of dashu's. Each value has one kind, small where it can
//! be, so that two kinds never hold equal values.

use dashu_int::{IBig, UBig};
use dashu_ratio::RBig;
use std::cmp::Ordering;
use std::fmt;
use std::hash::{Hash, Hasher};
use std::iter::Sum;
use std::num::NonZeroI64;
use std::ops::{Add, AddAssign, Mul, MulAssign, Neg, Sub, SubAssign};
use std::str::FromStr;

const ONE: NonZeroI64 = NonZeroI64::new(1).expect("one is not zero");

/// An exact rational number. It grows as needed: nothing overflows, nothing is rounded.
#[derive(Clone)]
pub struct Exact(Repr);

#[derive(Clone)]
enum Repr {
    Small(Small),
    Large(Box<RBig>),
}

/// A ratio that need not be in lowest terms; what is below is positive.
#[derive(Clone, Copy)]
struct Small {
    above: i64,
    below: NonZeroI64,
}

impl Small {
    #[inline]
    fn below(self) -> i64 {
        self.below.get()
    }

    fn lowest(self) -> Self {
        let common = greatest_divisor(self.above.unsigned_abs(), self.below().unsigned_abs());
        // A divisor of what is below, which is positive, fits.
        let common = i64::try_from(common).unwrap_or(1).max(1);
        let below = NonZeroI64::new(self.below() / common).unwrap_or(ONE);
        Self { above: self.above / common, below }
    }

    fn large(self) -> RBig {
        RBig::from_parts(IBig::from(self.above), UBig::from(self.below().unsigned_abs()))
    }
}

/// Of two whole numbers; the other one where one is zero.
fn greatest_divisor(mut one: u64, mut two: u64) -> u64 {
    while two != 0 {
        (one, two) = (two, one % two);
    }
    one
}

/// The same for wide numbers, which are wide for a few steps only.
fn greatest_wide_divisor(mut one: u128, mut two: u128) -> u128 {
    while two != 0 {
        if let (Ok(one), Ok(two)) = (u64::try_from(one), u64::try_from(two)) {
            return u128::from(greatest_divisor(one, two));
        }
        (one, two) = (two, one % two);
    }
    one
}

impl Exact {
    /// 0.
    pub const ZERO: Self = Self::whole(0);
    /// 1.
    pub const ONE: Self = Self::whole(1);

    const fn whole(value: i64) -> Self {
        Self(Repr::Small(Small { above: value, below: ONE }))
    }

    /// A ratio of two words, where both fit; what is below must be positive.
    #[inline]
    const fn small(above: i64, below: i64) -> Option<Self> {
        match NonZeroI64::new(below) {
            Some(positive) if below > 0 && above != i64::MIN => {
                Some(Self(Repr::Small(Small { above, below: positive })))
            }
            _ => None,
        }
    }

    /// A ratio of two wide numbers, of which `below` is positive and neither the least.
    fn wide(above: i128, below: i128) -> Self {
        let fit = |above: i128, below: i128| {
            Self::small(i64::try_from(above).ok()?, i64::try_from(below).ok()?)
        };
        if let Some(small) = fit(above, below) {
            return small;
        }
        let common = greatest_wide_divisor(above.unsigned_abs(), below.unsigned_abs());
        let common = i128::try_from(common).unwrap_or(1).max(1);
        let (above, below) = (above / common, below / common);
        fit(above, below).unwrap_or_else(|| {
            let below = UBig::from(below.unsigned_abs());
            Self(Repr::Large(Box::new(RBig::from_parts(IBig::from(above), below))))
        })
    }

    /// The ratio of two whole numbers; none where `below` is zero.
    pub fn ratio(above: i64, below: i64) -> Option<Self> {
        match below.signum() {
            0 => None,
            1 => Some(Self::wide(i128::from(above), i128::from(below))),
            _ => Some(Self::wide(-i128::from(above), -i128::from(below))),
        }
    }

    fn to_large(&self) -> RBig {
        match &self.0 {
            Repr::Small(small) => small.large(),
            Repr::Large(large) => (**large).clone(),
        }
    }

    /// What stands above in lowest terms.
    pub fn numerator(&self) -> IBig {
        match &self.0 {
            Repr::Small(small) => IBig::from(small.lowest().above),
            Repr::Large(large) => large.numerator().clone(),
        }
    }

    /// What stands below in lowest terms.
    pub fn denominator(&self) -> UBig {
        match &self.0 {
            Repr::Small(small) => UBig::from(small.lowest().below().unsigned_abs()),
            Repr::Large(large) => large.denominator().clone(),
        }
    }

    /// Whether it is 0.
    #[inline]
    pub fn is_zero(&self) -> bool {
        matches!(self.0, Repr::Small(Small { above: 0, .. }))
    }

    /// Whether it is 1.
    #[inline]
    pub fn is_one(&self) -> bool {
        matches!(self.0, Repr::Small(small) if small.above == small.below())
    }

    /// Whether it has no fraction.
    #[inline]
    pub fn is_int(&self) -> bool {
        match &self.0 {
            Repr::Small(small) => small.below() == 1 || small.above % small.below() == 0,
            Repr::Large(large) => large.is_int(),
        }
    }

    /// What is above and what below the line, where both are numbers of the machine.
    pub(super) fn above_and_below(&self) -> Option<(i64, i64)> {
        match &self.0 {
            Repr::Small(small) => Some((small.above, small.below())),
            Repr::Large(_) => None,
        }
    }

    /// The greatest whole number that is not above it.
    pub fn floor(&self) -> Self {
        match &self.0 {
            Repr::Small(small) => Self::whole(small.above.div_euclid(small.below())),
            Repr::Large(large) => large.floor().into(),
        }
    }

    /// The least whole number that is not below it.
    pub fn ceil(&self) -> Self {
        -(-self).floor()
    }

    /// The nearest whole number, half away from zero.
    pub fn nearest(&self) -> Self {
        if let Repr::Small(Small { above, below }) = self.0
            && let (Some(double), below) = (above.checked_mul(2), below.get())
            && let (Some(sum), Some(below)) =
                (double.checked_add(below * above.signum()), below.checked_mul(2))
        {
            return Self::whole(sum / below);
        }
        let half = Self::ONE.one_in::<2>();
        if *self < Self::ZERO { (self - half).ceil() } else { (self + half).floor() }
    }

    /// Without its sign.
    pub fn abs(&self) -> Self {
        if *self < Self::ZERO { -self } else { self.clone() }
    }

    /// The value where it is whole and not beyond 128 bits.
    pub fn to_whole(&self) -> Option<i128> {
        match &self.0 {
            Repr::Small(small) if small.above % small.below() == 0 => {
                Some(i128::from(small.above / small.below()))
            }
            Repr::Small(_) => None,
            Repr::Large(large) if large.is_int() => large.numerator().try_into().ok(),
            Repr::Large(_) => None,
        }
    }

    /// The float that is nearest.
    #[allow(clippy::disallowed_types, reason = "what the models of time take and give")]
    pub fn to_f64(&self) -> f64 {
        const EXACT: u64 = 1 << 53;
        match self.0 {
            // The quotient of two floats that are exact is the nearest float.
            Repr::Small(Small { above, below })
                if above.unsigned_abs() < EXACT && below.get().unsigned_abs() < EXACT =>
            {
                above as f64 / below.get() as f64
            }
            _ => self.to_large().to_f64().value(),
        }
    }

    /// The largest number of which this and the other are whole multiples.
    pub fn common(&self, other: &Self) -> Self {
        use dashu_int::ops::{Gcd, UnsignedAbs};
        let (one, two) = (self.to_large(), other.to_large());
        let part = |of: &RBig, by: &RBig| (of.numerator() * by.denominator()).unsigned_abs();
        let below = one.denominator() * two.denominator();
        RBig::from_parts(IBig::from(part(&one, &two).gcd(part(&two, &one))), below).into()
    }

    #[inline]
    fn smalls(&self, other: &Self) -> Option<(Small, Small)> {
        match (&self.0, &other.0) {
            (Repr::Small(one), Repr::Small(two)) => Some((*one, *two)),
            _ => None,
        }
    }

    #[inline]
    fn plus(&self, other: &Self) -> Self {
        self.smalls(other)
            .and_then(|(one, two)| sum(one, two))
            .unwrap_or_else(|| self.plus_slowly(other))
    }

    #[inline]
    fn minus(&self, other: &Self) -> Self {
        // What is above is never the least word, so its opposite fits.
        self.smalls(other)
            .and_then(|(one, two)| sum(one, Small { above: -two.above, ..two }))
            .unwrap_or_else(|| self.plus_slowly(&-other))
    }

    #[inline]
    fn times(&self, other: &Self) -> Self {
        self.smalls(other)
            .and_then(|(one, two)| product(one, two))
            .unwrap_or_else(|| self.times_slowly(other))
    }

    /// The quotient; none where `other` is zero. There is no `/`: whoever divides says what
    /// a share of nothing is.
    #[inline]
    pub fn over(&self, other: &Self) -> Option<Self> {
        let upside_down = |small: Small| {
            let above = small.below() * small.above.signum();
            NonZeroI64::new(small.above.abs()).map(|below| Small { above, below })
        };
        let quick = self.smalls(other).and_then(|(one, two)| product(one, upside_down(two)?));
        quick.or_else(|| self.over_slowly(other))
    }

    /// One part of it in so many equal ones: `one_in::<1000>()` of grams are kilograms.
    #[inline]
    #[must_use]
    pub fn one_in<const PARTS: i64>(&self) -> Self {
        const { assert!(PARTS > 0) }
        let part = NonZeroI64::new(PARTS).map(|below| Self(Repr::Small(Small { above: 1, below })));
        part.map_or(Self::ZERO, |part| self.times(&part))
    }

    /// What each of so many gets of it; all of it where there are none to share it with.
    #[inline]
    #[must_use]
    pub fn each_of(&self, count: &Self) -> Self {
        self.over(count).unwrap_or_else(|| self.clone())
    }

    /// Whether it is a whole number of steps. Without a step only zero is.
    pub fn is_multiple_of(&self, step: &Self) -> bool {
        self.over(step).map_or_else(|| self.is_zero(), |steps| steps.is_int())
    }

    /// The greatest whole number of steps that is not above it; itself without a step.
    #[must_use]
    pub fn down_to(&self, step: &Self) -> Self {
        self.over(step).map_or_else(|| self.clone(), |steps| steps.floor() * step)
    }

    /// The least whole number of steps that is not below it; itself without a step.
    #[must_use]
    pub fn up_to(&self, step: &Self) -> Self {
        self.over(step).map_or_else(|| self.clone(), |steps| steps.ceil() * step)
    }

    /// Where words do not hold the sum of what the two are now.
    #[cold]
    fn plus_slowly(&self, other: &Self) -> Self {
        let Some((one, two)) = self.smalls(other) else {
            return (self.to_large() + other.to_large()).into();
        };
        let (one, two) = (one.lowest(), two.lowest());
        sum(one, two).unwrap_or_else(|| {
            let common = greatest_divisor(one.below().unsigned_abs(), two.below().unsigned_abs());
            let common = i128::from(common).max(1);
            let (mine, others) =
                (i128::from(one.below()) / common, i128::from(two.below()) / common);
            // Products of two words; their sum does not reach the end of 128 bits.
            let above = i128::from(one.above) * others + i128::from(two.above) * mine;
            Self::wide(above, mine * i128::from(two.below()))
        })
    }

    #[cold]
    fn times_slowly(&self, other: &Self) -> Self {
        let Some((one, two)) = self.smalls(other) else {
            return (self.to_large() * other.to_large()).into();
        };
        let (one, two) = (one.lowest(), two.lowest());
        product(one, two).unwrap_or_else(|| {
            let above = i128::from(one.above) * i128::from(two.above);
            Self::wide(above, i128::from(one.below()) * i128::from(two.below()))
        })
    }

    #[cold]
    fn over_slowly(&self, other: &Self) -> Option<Self> {
        if other.is_zero() {
            return None;
        }
        let Some((one, two)) = self.smalls(other) else {
            return Some((self.to_large() / other.to_large()).into());
        };
        let (one, two) = (one.lowest(), two.lowest());
        let above = i128::from(one.above) * i128::from(two.below());
        let below = i128::from(one.below()) * i128::from(two.above);
        Some(Self::wide(above * below.signum(), below.abs()))
    }
}

#[inline]
fn sum(one: Small, two: Small) -> Option<Exact> {
    if one.below == two.below {
        return Exact::small(one.above.checked_add(two.above)?, one.below());
    }
    let (left, right) = (one.above.checked_mul(two.below())?, two.above.checked_mul(one.below())?);
    Exact::small(left.checked_add(right)?, one.below().checked_mul(two.below())?)
}

#[inline]
fn product(one: Small, two: Small) -> Option<Exact> {
    Exact::small(one.above.checked_mul(two.above)?, one.below().checked_mul(two.below())?)
}

impl Default for Exact {
    fn default() -> Self {
        Self::ZERO
    }
}

impl PartialEq for Exact {
    #[inline]
    fn eq(&self, other: &Self) -> bool {
        match (&self.0, &other.0) {
            (Repr::Small(one), Repr::Small(two)) => compare(*one, *two).is_eq(),
            (Repr::Large(one), Repr::Large(two)) => one == two,
            // What can be small is.
            _ => false,
        }
    }
}

impl Eq for Exact {}

impl Ord for Exact {
    #[inline]
    fn cmp(&self, other: &Self) -> Ordering {
        match self.smalls(other) {
            Some((one, two)) => compare(one, two),
            None => self.to_large().cmp(&other.to_large()),
        }
    }
}

impl PartialOrd for Exact {
    #[inline]
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

#[inline]
fn compare(one: Small, two: Small) -> Ordering {
    if one.below == two.below {
        return one.above.cmp(&two.above);
    }
    let left = i128::from(one.above) * i128::from(two.below());
    left.cmp(&(i128::from(two.above) * i128::from(one.below())))
}

impl Hash for Exact {
    fn hash<H: Hasher>(&self, state: &mut H) {
        match &self.0 {
            Repr::Small(small) => {
                let lowest = small.lowest();
                (lowest.above, lowest.below).hash(state);
            }
            Repr::Large(large) => (large.numerator(), large.denominator()).hash(state),
        }
    }
}

impl fmt::Display for Exact {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        let small = match &self.0 {
            Repr::Small(small) => small.lowest(),
            Repr::Large(large) => return fmt::Display::fmt(large, f),
        };
        fmt::Display::fmt(&small.above, f)?;
        if small.below() == 1 {
            return Ok(());
        }
        f.write_str("/")?;
        fmt::Display::fmt(&small.below(), f)
    }
}

impl fmt::Debug for Exact {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        fmt::Debug::fmt(&self.to_large(), f)
    }
}

/// What a text, or a float, has to be for a number to be read from it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NotExact;

impl FromStr for Exact {
    type Err = NotExact;

    /// Reads `12`, `-3` or `1000/3`.
    fn from_str(text: &str) -> Result<Self, NotExact> {
        text.parse::<RBig>().map(Self::from).map_err(|_| NotExact)
    }
}

#[allow(clippy::disallowed_types, reason = "what the models of time take and give")]
impl TryFrom<f64> for Exact {
    type Error = NotExact;

    /// The very number that the float is.
    fn try_from(float: f64) -> Result<Self, NotExact> {
        RBig::try_from(float).map(Self::from).map_err(|_| NotExact)
    }
}

impl From<RBig> for Exact {
    fn from(large: RBig) -> Self {
        let above = i64::try_from(large.numerator()).ok();
        let below = i64::try_from(large.denominator()).ok();
        above
            .zip(below)
            .and_then(|(above, below)| Self::small(above, below))
            .unwrap_or_else(|| Self(Repr::Large(Box::new(large))))
    }
}

impl From<IBig> for Exact {
    fn from(whole: IBig) -> Self {
        RBig::from(whole).into()
    }
}

macro_rules! from_whole {
    ($($whole:ty)*) => {$(
        impl From<$whole> for Exact {
            #[inline]
            fn from(whole: $whole) -> Self {
                match i64::try_from(whole).ok().and_then(|whole| Self::small(whole, 1)) {
                    Some(small) => small,
                    None => RBig::from(whole).into(),
                }
            }
        }

        impl TryFrom<Exact> for $whole {
            type Error = NotExact;

            /// None where it is not whole, or does not fit.
            fn try_from(value: Exact) -> Result<Self, NotExact> {
                value.to_whole().and_then(|whole| whole.try_into().ok()).ok_or(NotExact)
            }
        }
    )*};
}

from_whole!(i8 u8 i16 u16 i32 u32 i64 u64 isize usize i128 u128);

macro_rules! operation {
    ($name:ident $method:ident $assign:ident $assign_method:ident $own:ident) => {
        impl $name<&Exact> for &Exact {
            type Output = Exact;
            #[inline]
            fn $method(self, other: &Exact) -> Exact {
                self.$own(other)
            }
        }

        impl $name<Exact> for &Exact {
            type Output = Exact;
            #[inline]
            fn $method(self, other: Exact) -> Exact {
                self.$own(&other)
            }
        }

        impl $name<&Exact> for Exact {
            type Output = Exact;
            #[inline]
            fn $method(self, other: &Exact) -> Exact {
                self.$own(other)
            }
        }

        impl $name<Exact> for Exact {
            type Output = Exact;
            #[inline]
            fn $method(self, other: Exact) -> Exact {
                self.$own(&other)
            }
        }

        impl $assign<&Exact> for Exact {
            #[inline]
            fn $assign_method(&mut self, other: &Exact) {
                *self = self.$own(other);
            }
        }

        impl $assign<Exact> for Exact {
            #[inline]
            fn $assign_method(&mut self, other: Exact) {
                *self = self.$own(&other);
            }
        }
    };
}

operation!(Add add AddAssign add_assign plus);
operation!(Sub sub SubAssign sub_assign minus);
operation!(Mul mul MulAssign mul_assign times);

impl Neg for &Exact {
    type Output = Exact;

    #[inline]
    fn neg(self) -> Exact {
        match &self.0 {
            Repr::Small(small) => Exact(Repr::Small(Small { above: -small.above, ..*small })),
            Repr::Large(large) => Exact(Repr::Large(Box::new(-(**large).clone()))),
        }
    }
}

impl Neg for Exact {
    type Output = Exact;

    #[inline]
    fn neg(self) -> Exact {
        -&self
    }
}

impl Sum for Exact {
    fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
        all.fold(Self::ZERO, |sum, one| sum + one)
    }
}

impl<'a> Sum<&'a Exact> for Exact {
    fn sum<I: Iterator<Item = &'a Self>>(all: I) -> Self {
        all.fold(Self::ZERO, |sum, one| sum + one)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use std::hash::BuildHasher;

    /// Numbers of every size on both sides of where words end.
    fn part() -> impl Strategy<Value = i64> {
        prop_oneof![
            -12i64..=12,
            -100_000i64..=100_000,
            any::<i64>(),
            Just(i64::MIN),
            Just(i64::MIN + 1),
            Just(i64::MAX),
            (0u32..63).prop_map(|power| 1 << power),
            (0u32..19).prop_map(|power| 10i64.pow(power)),
        ]
    }

    /// A number with what it has to be, at times after sums and products that leave it
    /// out of lowest terms or beyond words.
    fn number() -> impl Strategy<Value = (Exact, RBig)> {
        let plain = (part(), part().prop_filter("nothing is divided by zero", |it| *it != 0))
            .prop_map(|(above, below)| {
                let own = Exact::ratio(above, below).expect("not zero");
                (own, RBig::from_parts_signed(above.into(), below.into()))
            });
        plain.prop_recursive(3, 8, 2, |inner| {
            (inner.clone(), inner, 0..3u8).prop_map(|((one, large), (two, other), how)| match how {
                0 => (one + two, large + other),
                1 => (one - two, large - other),
                _ => (one * two, large * other),
            })
        })
    }

    fn same(own: &Exact, large: &RBig) -> bool {
        let from = Exact::from(large.clone());
        let hash = |it: &Exact| rustc_hash::FxBuildHasher.hash_one(it);
        own.to_large() == *large
            && *own == from
            && own.cmp(&from).is_eq()
            && hash(own) == hash(&from)
            && matches!(
                (&own.0, &from.0),
                (Repr::Small(_), Repr::Small(_)) | (Repr::Large(_), Repr::Large(_))
            )
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(4000))]

        #[test]
        fn small_and_large_numbers_agree((one, large) in number(), (two, other) in number()) {
            prop_assert!(same(&one, &large));
            prop_assert!(same(&(&one + &two), &(&large + &other)));
            prop_assert!(same(&(&one - &two), &(&large - &other)));
            prop_assert!(same(&(&one * &two), &(&large * &other)));
            match one.over(&two) {
                Some(share) => prop_assert!(same(&share, &(&large / &other))),
                None => prop_assert!(two.is_zero()),
            }
            prop_assert_eq!(Some(one.one_in::<7>()), one.over(&Exact::from(7)));
            prop_assert_eq!(one.each_of(&two), one.over(&two).unwrap_or_else(|| one.clone()));
            prop_assert!(same(&-&one, &-large.clone()));
            prop_assert_eq!(one.cmp(&two), large.cmp(&other));
            prop_assert_eq!(one == two, large == other);
            let mut sum = one.clone();
            sum += &two;
            sum -= &two;
            prop_assert_eq!(&sum, &one);
            prop_assert!(same(&[one, two].iter().sum(), &(large + other)));
        }

        #[test]
        fn what_is_asked_of_a_number_agrees((own, large) in number()) {
            prop_assert_eq!(own.is_zero(), large.is_zero());
            prop_assert_eq!(own.is_one(), large.is_one());
            prop_assert_eq!(own.is_int(), large.is_int());
            prop_assert_eq!(&own.numerator(), large.numerator());
            prop_assert_eq!(&own.denominator(), large.denominator());
            prop_assert!(same(&own.floor(), &RBig::from(large.floor())));
            prop_assert!(same(&own.ceil(), &RBig::from(large.ceil())));
            prop_assert!(own.nearest().is_int());
            let size = large.clone().max(-large.clone());
            prop_assert!(same(&own.abs(), &size));
            let off = (&own - own.nearest()).abs();
            prop_assert!(off <= Exact::ratio(1, 2).expect("not zero"));
            prop_assert!(own.nearest().abs() >= own.abs() - Exact::ratio(1, 2).expect("not zero"));
            prop_assert_eq!(own.to_f64(), large.to_f64().value());
            prop_assert_eq!(own.to_string(), large.to_string());
            prop_assert_eq!(own.to_string().parse(), Ok(own.clone()));
            let whole = large.is_int().then(|| i128::try_from(large.numerator()).ok()).flatten();
            prop_assert_eq!(own.to_whole(), whole);
        }

        #[test]
        fn both_are_whole_multiples_of_what_they_have_in_common(
            (one, _) in number(), (two, _) in number(),
        ) {
            prop_assume!(!one.is_zero() && !two.is_zero());
            let common = one.common(&two);
            prop_assert!(one.is_multiple_of(&common) && two.is_multiple_of(&common));
            let times = |of: &Exact| of.over(&common).map(|times| times.numerator());
            let (Some(left), Some(right)) = (times(&one), times(&two)) else { panic!("zero") };
            use dashu_int::ops::Gcd;
            prop_assert_eq!(left.gcd(right), UBig::from(1u8));
        }

        #[test]
        fn steps_below_and_above_are_the_nearest((one, _) in number(), (step, _) in number()) {
            let step = step.abs();
            prop_assume!(!step.is_zero());
            let (below, above) = (one.down_to(&step), one.up_to(&step));
            prop_assert!(below.is_multiple_of(&step) && above.is_multiple_of(&step));
            prop_assert!(below <= one && one <= above);
            prop_assert!(&above - &below == step || (above == below && above == one));
        }
    }

    #[test]
    fn halves_go_away_from_zero() {
        let nearest = |above, below| Exact::ratio(above, below).map(|it| it.nearest());
        assert_eq!(nearest(5, 2), Some(Exact::from(3)));
        assert_eq!(nearest(-5, 2), Some(Exact::from(-3)));
        assert_eq!(nearest(-1, 4), Some(Exact::ZERO));
        assert_eq!(nearest(i64::MAX, 2), Some(Exact::from(1i64 << 62)));
    }

    #[test]
    #[allow(clippy::disallowed_types, reason = "a float that is no number has no other name")]
    fn whole_numbers_come_and_go_as_they_are() {
        assert_eq!(u64::try_from(Exact::from(u64::MAX)), Ok(u64::MAX));
        assert_eq!(u128::try_from(Exact::from(i128::MAX)), Ok(i128::MAX as u128));
        assert_eq!(u8::try_from(Exact::from(256)), Err(NotExact));
        assert_eq!(i64::try_from(Exact::ONE.one_in::<2>()), Err(NotExact));
        assert_eq!(Exact::try_from(0.5), Ok(Exact::ONE.one_in::<2>()));
        assert_eq!(Exact::try_from(f64::NAN), Err(NotExact));
    }

    #[test]
    fn a_number_takes_two_words() {
        assert_eq!(size_of::<Exact>(), 16);
    }
}
