//! One amount told in two units: how far the two may be apart before one of them is wrong.

use super::{Dimension, Exact, Unit, int, ratio};

/// Degrees Celsius by which two names of an oven's heat may differ: two thirds of a step of a
/// gas oven, which is 25 °F (common practice, no source). 170 °C is printed as 325 °F, which
/// is 163; a whole step away is another mark.
const OVEN: i64 = 9;

/// The same of doughs, rooms and cores, which are told to the degree, and below how many
/// degrees that is.
const CLOSE: i64 = 2;
const BELOW: i64 = 105;

/// An amount in the base unit of its dimension.
#[derive(Clone, Debug)]
pub struct PairAmount {
    /// What it is.
    pub value: Exact,
    /// The worth of its last written digit.
    pub step: Exact,
    /// What it is written in.
    pub unit: Unit,
}

/// Whether two amounts of one dimension are the same to a cook.
pub fn agree(one: &PairAmount, two: &PairAmount) -> bool {
    let apart = (&one.value - &two.value).abs();
    match one.unit.dimension() {
        Dimension::Temperature => {
            let is_close = one.value < int(BELOW) || two.value < int(BELOW);
            apart <= int(if is_close { CLOSE } else { OVEN })
        }
        dimension => {
            let larger = one.value.clone().max(two.value.clone());
            let written = (one.step.clone().max(two.step.clone())).one_in::<2>();
            let least = match dimension {
                // Cups and pints differ from country to country.
                Dimension::Volume => ratio(6, 100),
                _ => ratio(4, 100),
            };
            // Old tables take an ounce for 25 g, which is an eighth too little.
            let is_old = [one, two].iter().any(|told| {
                told.unit == Unit::Ounce && told.value <= int(115) && told.step > int(20)
            });
            let most = if is_old { ratio(13, 100) } else { ratio(10, 100) };
            apart <= written.max(&larger * least).min(larger * most)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::Measures;
    use super::*;

    fn told(number: Exact, step: Exact, unit: Unit) -> PairAmount {
        let zero = unit.to_base(&Exact::ZERO, Measures::Us);
        PairAmount {
            value: unit.to_base(&number, Measures::Us),
            step: unit.to_base(&step, Measures::Us) - zero,
            unit,
        }
    }

    #[test]
    fn what_cooks_print_side_by_side_agrees_and_the_next_step_does_not() {
        let (c, f) = (Unit::Celsius, Unit::Fahrenheit);
        for (celsius, fahrenheit, same) in [
            (230, 450, true),
            (220, 425, true),
            (200, 400, true),
            (170, 325, true),
            (240, 475, true),
            (24, 75, true),
            (96, 205, true),
            (220, 450, false),
            (200, 425, false),
            (180, 375, false),
            (24, 80, false),
            (96, 195, false),
        ] {
            let one = told(int(celsius), int(1), c);
            let two = told(int(fahrenheit), int(1), f);
            assert_eq!(agree(&one, &two), same, "{celsius} °C, {fahrenheit} °F");
            assert_eq!(agree(&two, &one), same, "{fahrenheit} °F, {celsius} °C");
        }
        let (g, oz, lb) = (Unit::Gram, Unit::Ounce, Unit::Pound);
        let tenth = ratio(1, 10);
        for (grams, number, step, unit, same) in [
            (500, ratio(176, 10), tenth.clone(), oz, true),
            (500, ratio(167, 10), tenth, oz, false),
            (250, int(9), int(1), oz, true),
            (25, int(1), int(1), oz, true),
            (100, int(4), int(1), oz, true),
            (250, int(12), int(1), oz, false),
            (900, int(2), int(1), lb, true),
            (500, int(1), int(1), lb, true),
            (800, int(2), int(1), lb, false),
            (500, int(2), int(1), lb, false),
        ] {
            let one = told(int(grams), int(1), g);
            let two = told(number, step, unit);
            assert_eq!(agree(&one, &two), same, "{grams} g, {two:?}");
        }
    }
}
