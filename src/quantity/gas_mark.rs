//! The marks on British gas ovens.

use super::{Exact, int, ratio};

/// Degrees Celsius of the marks from 1 on, as British cookery tables have them rounded
/// (common practice, no source): steps of about 25 °F from 275 °F.
const MARKS: [u16; 10] = [140, 150, 160, 180, 190, 200, 220, 230, 240, 260];

/// Degrees Celsius of a mark; the two below 1 are a quarter and a half.
pub fn gas_mark(mark: &Exact) -> Option<Exact> {
    if *mark == ratio(1, 4) {
        return Some(int(110));
    }
    if *mark == ratio(1, 2) {
        return Some(int(120));
    }
    let whole = u32::try_from(mark.clone()).ok()?;
    let place = usize::try_from(whole.checked_sub(1)?).ok()?;
    MARKS.get(place).map(|degrees| Exact::from(*degrees))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn marks_are_within_some_degrees_of_their_steps_of_fahrenheit() {
        for (place, celsius) in MARKS.iter().enumerate() {
            // Mark 1 is 275 °F, and each further one 25 °F more.
            let fahrenheit = 275 + 25 * i64::try_from(place).expect("small");
            let exact = (fahrenheit - 32) * 5 / 9;
            assert!((i64::from(*celsius) - exact).abs() <= 6, "{celsius} and {exact}");
        }
        assert_eq!(gas_mark(&int(7)), Some(int(220)));
        for none in [int(0), int(11), ratio(3, 2)] {
            assert_eq!(gas_mark(&none), None);
        }
    }
}
