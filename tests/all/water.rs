//! How warm the water has to be, and how much of it is ice, against published values.

use crate::support::{assize, err, folder, loaded, out, over, with_worked};
use assize::testing::desk;
use assize::testing::formula::{Steers, from_measured, ice_share, warmth, work};
use assize::testing::quantity::display::{fixed, trimmed};
use assize::testing::quantity::{Exact, System, int, ratio};

/// A straight dough in a house of these settings.
fn house(settings: &str, mixer: &str, target: &str) -> String {
    format!(
        "bakehouse \"Gullhaven Bakehouse\" {{
{settings}
  mixer spiral {{ {mixer} }}
}}
formula pier-loaf \"Pier Loaf\" {{
  makes 10 kg dough
  total {{
    bread flour  100%
    water         65%
    salt           2%
    fresh yeast    0%
  }}
  method {{
    mix 8min with everything else to {target} in spiral
    bulk 1h
    bake 40min at 230C
  }}
}}
"
    )
}

/// What is told of a formula, but that it has no yeast, so that its shares are round.
fn names(text: &str) -> Vec<String> {
    let all = crate::support::names(text).into_iter();
    all.map(|name| name.to_string()).filter(|name| name != "no-effect").collect()
}

/// The water's temperature in degrees Celsius, exactly.
fn water(text: &str) -> Exact {
    let loaded = loaded(text);
    let bakehouses = desk::bakehouses(&loaded);
    let formula = &bakehouses[0].files[0].tree.formulas[0];
    let worked = work(&bakehouses[0].house, formula, &mut Vec::new());
    warmth(&worked).expect("all is known").water.amount
}

fn fahrenheit(degrees: i64) -> Exact {
    int(degrees - 32) * ratio(5, 9)
}

/// T1: course notes of the San Francisco Baking Institute, Artisan I. T2: Lehmann, Pizza
/// Today, June 2018, page 29. T3: a general how-to, by way of a forum. T5 and T7: derived
/// by the same rule in our reference sheet.
#[test]
fn the_factor_method_gives_the_printed_temperatures() {
    for (target, flour, room, friction, wanted) in
        [(75, 65, 65, 8, 87), (80, 65, 75, 35, 65), (78, 60, 70, 16, 88)]
    {
        let settings = format!("  flour {flour}F\n  room {room}F\n  tap 60F");
        let text = house(&settings, &format!("friction {friction}F"), &format!("{target}F"));
        assert_eq!(water(&text), fahrenheit(wanted), "{wanted} °F");
    }
    for (target, flour, room, friction, wanted) in [(24, 20, 21, 13, 18), (24, 28, 30, 14, 0)] {
        let settings = format!("  flour {flour}C\n  room {room}C\n  tap 12C");
        let text = house(&settings, &format!("friction {friction}C"), &format!("{target}C"));
        assert_eq!(water(&text), int(wanted), "{wanted} °C");
    }
}

/// A dough with a levain at 26 °C, a soaker at 30 °C and milk, in a house of 20 °C flour, a
/// room of 21 °C, a friction of 13 °C and such a way to reckon.
fn in_steps(method: &str, reckoned: &str) -> String {
    format!(
        "bakehouse \"Gullhaven Bakehouse\" {{ flour 20C; room 21C; tap 12C; {reckoned}
  mixer spiral {{ friction 13C; work 10 kJ per kg }} }}
formula pier-loaf \"Pier Loaf\" {{
  dough {{ bread flour 1 kg; water 650 g; salt 20 g; levain 200 g; grain soaker 300 g; milk 100 g }}
  preferment levain {{
    bread flour 100%; water 100%; white culture 20%; ripens 8h at 26C
  }}
  soaker grain soaker {{ sunflower seeds 100%; water 100%; stands 4h at 30C }}
  method {{
{method}
    bulk 1h
    bake 40min at 230C
  }}
}}
"
    )
}

/// Only what is in the dough when it is to be so warm counts. By hand, with 20 °C flour,
/// 21 °C room and 13 °C friction: 3 × 24 − 54 = 18; with a levain of 26 °C, 4 × 24 − 80 = 16;
/// with a soaker of 30 °C too, 5 × 24 − 110 = 10. Of 100 g of milk at 4 °C beside 650 g of
/// water, all together at 10 °C: 10 + 100 ÷ 650 × (10 − 4).
#[test]
fn what_goes_in_later_does_not_count() {
    let with_milk = |together: i64| {
        let cold = int(together - 4) * ratio(100, 650);
        int(together) + cold
    };
    let table = [
        ("mix 8min with flours, water, levain to 24C\nmix 3min with everything else", int(16)),
        ("autolyse 30min with flours, water to 24C\nmix 8min with everything else", int(18)),
        (
            "autolyse 30min with flours, water\nmix 8min with levain, salt to 24C\nmix 3min with everything else",
            int(16),
        ),
        (
            "mix 8min with flours, water, levain, grain soaker to 24C\nmix 3min with everything else",
            int(10),
        ),
        ("mix 4min with flours, water, levain to 24C then 4min with everything else", int(16)),
        (
            "mix 4min with flours, water, levain then 4min with everything else to 24C",
            with_milk(10),
        ),
        ("mix 8min with everything else to 24C", with_milk(10)),
        ("mix 4min with flours, milk, water to 24C\nmix 3min with everything else", with_milk(18)),
        (
            "mix 4min with flours, water\nmix 3min with everything else\nrest 5min to 24C",
            with_milk(10),
        ),
    ];
    for (method, wanted) in table {
        assert_eq!(water(&in_steps(method, "")), wanted, "{method}");
    }
}

/// As much water is told, and as much of it is ice, as is in by then.
#[test]
fn water_that_goes_in_later_is_not_brought_to_a_temperature() {
    let method = "mix 8min with flours, 80% of water, levain to 14C\nmix 3min with remaining water, everything else";
    let text = in_steps(method, "");
    let loaded = loaded(&text);
    let bakehouses = desk::bakehouses(&loaded);
    let formula = &bakehouses[0].files[0].tree.formulas[0];
    let worked = work(&bakehouses[0].house, formula, &mut Vec::new());
    let warm = warmth(&worked).expect("all is known");
    // 4 × 14 − 80 = −24; of 520 g, (12 + 24) ÷ (12 + 80) are ice.
    assert_eq!((warm.water.amount.clone(), warm.mass.clone()), (int(-24), int(520)));
    assert_eq!(warm.ice.as_ref().expect("ice").amount, int(520) * ratio(36, 92));
    assert_eq!(warm.steps(&worked), [0]);
    // Where only what goes in later is liquid, there is nothing to steer with.
    let dry = "mix 8min with flours, levain, salt to 24C\nmix 3min with everything else";
    assert!(names(&in_steps(dry, "")).contains(&"no-water-to-adjust".to_owned()));
}

/// The balance of heat, run forward over what is in by then alone: 1 kg of flour, 520 g of
/// water and the levain.
#[test]
fn the_balance_of_heat_leaves_out_what_goes_in_later() {
    let balance = "water by heat balance";
    let first = "mix 8min with flours, 80% of water, levain to 24C";
    let later = [
        "mix 3min with remaining water, everything else",
        "mix 3min with salt, remaining water, everything else",
    ];
    let each = later.map(|later| water(&in_steps(&format!("{first}\n{later}"), balance)));
    // Nothing of the levain but 100 g of flour and 100 g of water, by the culture's too.
    let (flour, levain) = (ratio(176, 100), ratio(176 + 418, 200) * ratio(200, 1000));
    let wet = ratio(520 * 418, 100_000);
    let heat = ratio(1720, 1000) * int(10) + int(15);
    let warmed = (&flour * int(20)) + &levain * int(26) + &wet * &each[0] + heat;
    assert_eq!(over(warmed, flour + levain + wet), int(24));
    assert_eq!(each[0], each[1]);
}

/// Lehmann, PMQ, spring 2003, on finding the friction from a trial; the numbers are T1's
/// with a dough of 77 °F: 3 × 77 − (65 + 65 + 87) = 14.
#[test]
fn friction_follows_from_the_measured_dough() {
    let text = house("  flour 65F\n  room 65F\n  tap 60F", "friction 8F", "75F");
    let loaded = loaded(&text);
    let bakehouses = desk::bakehouses(&loaded);
    let formula = &bakehouses[0].files[0].tree.formulas[0];
    let worked = work(&bakehouses[0].house, formula, &mut Vec::new());
    let warm = warmth(&worked).expect("all is known");
    let friction = from_measured(&worked, &warm, &fahrenheit(77));
    // The zero of °F lies elsewhere, so that 3 × 77 °F − … is told by differences.
    assert_eq!(friction.amount, ratio(14 * 5, 9));
    // What was aimed at gives back what was written.
    let same = from_measured(&worked, &warm, &fahrenheit(75));
    assert_eq!(same.amount, ratio(8 * 5, 9));
}

/// Koerner Co., pounds of ice for a pound of water, by wanted and tap temperature in °F.
/// Of the whole published table our reference sheet has these cells; the formula with 112
/// (144 Btu/lb less 32) differs from the whole by 0.0060 at most.
#[test]
fn the_published_ice_table_is_met() {
    let table: &[(i64, i64, i64)] = &[
        (60, 70, 54),
        (60, 80, 103),
        (50, 60, 57),
        (50, 70, 109),
        (50, 80, 155),
        (40, 50, 61),
        (40, 60, 115),
        (40, 70, 163),
        (40, 80, 206),
        (30, 40, 65),
        (30, 50, 122),
        (30, 60, 172),
        (30, 70, 217),
        (30, 80, 258),
        (20, 40, 130),
        (20, 50, 183),
        (20, 60, 230),
        (20, 70, 272),
        (20, 80, 309),
        (0, 40, 260),
        (0, 50, 305),
        (0, 60, 345),
        (0, 70, 380),
        (0, 80, 416),
        (-20, 40, 390),
        (-20, 50, 427),
        (-20, 60, 465),
        (-20, 70, 495),
        (-20, 80, 521),
        (30, 32, 14),
        (20, 32, 83),
        (0, 32, 222),
        (-20, 32, 361),
    ];
    let mut largest = Exact::ZERO;
    for &(wanted, tap, printed) in table {
        let share = ice_share(&fahrenheit(tap), &fahrenheit(wanted)).expect("colder than the tap");
        let off = share - ratio(printed, 1000);
        largest = largest.max(off.clone().max(-off));
    }
    assert!(largest <= ratio(60, 10_000), "{}", trimmed(&largest, 5));
    // What is found: 0.0051 for -20 °F from a tap of 50 °F.
    assert!(largest > ratio(45, 10_000), "{}", trimmed(&largest, 5));
}

/// Derived in our reference sheet from the same formula: pounds in °F, kilograms in °C.
#[test]
fn worked_amounts_of_ice_come_out() {
    for (water, tap, wanted, printed) in [
        (10, 70, 50, "1.099"),
        (20, 75, 40, "3.743"),
        (100, 80, 45, "18.229"),
        (50, 60, 36, "6.977"),
    ] {
        let share = ice_share(&fahrenheit(tap), &fahrenheit(wanted)).expect("ice");
        assert_eq!(fixed(&(share * int(water)), 3), printed);
    }
    for (water, tap, wanted, printed) in [
        (10, 18, 4, "1.429"),
        (10, 24, 8, "1.538"),
        (65, 22, 3, "12.108"),
        (30, 25, 20, "1.429"),
        (40, 20, 10, "4.000"),
    ] {
        let share = ice_share(&int(tap), &int(wanted)).expect("ice");
        assert_eq!(fixed(&(share * int(water)), 3), printed);
    }
    assert_eq!(ice_share(&int(12), &int(18)), None);
    assert_eq!(ice_share(&int(12), &int(12)), None);
}

/// The balance of heat at 25 °C, 65 % water, 2 % salt and 10 kJ/kg of work, computed in
/// our reference sheet from the constants of Cengel and Boles. The sheet does not say what
/// heat it gave the salt, and prints tenths: the largest difference is 0.066 °C.
#[test]
fn the_balance_of_heat_gives_the_computed_temperatures() {
    for (flour, room, printed) in
        [(10, 22, 231), (15, 22, 198), (22, 22, 153), (28, 28, 113), (32, 32, 87)]
    {
        let settings =
            format!("  flour {flour}C\n  room {room}C\n  tap 12C\n  water by heat balance");
        let text = house(&settings, "work 10 kJ per kg", "25C");
        let text = text.replace("work 10 kJ per kg", "friction 11C; work 10 kJ per kg");
        let off = water(&text) - ratio(printed, 10);
        let off = off.clone().max(-off);
        assert!(off <= ratio(67, 1000), "{flour} and {room} °C: {}", fixed(&off, 3));
    }
}

/// Mixed forward, everything at its own temperature with the heat of wetting and mixing,
/// the dough comes out as warm as it was to be.
#[test]
fn the_balance_of_heat_run_forward_returns_its_target() {
    for (flour, room, target, work) in [(10, 22, 25, 10), (28, 30, 23, 4), (19, 21, 27, 12)] {
        let settings =
            format!("  flour {flour}C\n  room {room}C\n  tap 12C\n  water by heat balance");
        let text =
            house(&settings, &format!("friction 9C; work {work} kJ per kg"), &format!("{target}C"));
        let water = water(&text);
        // A kilogram of flour, 650 g of water, 20 g of salt.
        let capacities = [
            (ratio(176, 100), int(flour)),
            (ratio(418 * 65, 10_000), water),
            (ratio(105 * 2, 10_000), int(room)),
        ];
        let made = int(15) + int(work) * ratio(167, 100);
        let heat =
            capacities.iter().fold(made, |sum, (capacity, celsius)| sum + capacity * celsius);
        let capacity = capacities.iter().fold(Exact::ZERO, |sum, (capacity, _)| sum + capacity);
        assert_eq!(over(heat, capacity), int(target));
    }
}

#[test]
fn a_temperature_of_water_can_be_claimed_and_asked() {
    let text = house("  flour 20C\n  room 21C\n  tap 12C", "friction 13C", "24C");
    let with = |claim: &str| {
        let text = text.trim_end().trim_end_matches('}').to_owned();
        names(&format!("{text}  expect {{ {claim} }}\n}}\n"))
    };
    let none: [&str; 0] = [];
    assert_eq!(with("water temperature 18C"), none);
    assert_eq!(with("water temperature 64F"), none);
    assert_eq!(with("water temperature 20C"), ["claim-refuted"]);
    assert_eq!(with("ice 100 g"), ["claim-cannot-be-checked"]);
    let folder = folder();
    std::fs::write(folder.path().join("house.dough"), &text).expect("written");
    let why = |args: &[&str]| assize(folder.path(), &[&["why", "pier-loaf"], args].concat());
    let told = why(&["water", "temperature"]);
    assert!(out(&told).starts_with("water temperature: 18 °C = 72 °C − 20 °C − 21 °C − 13 °C\n"));
    let told = why(&["water temperature", "--measured", "25C"]);
    assert!(out(&told).starts_with("friction: 16 °C = 75 °C"), "{}", out(&told));
    assert!(err(&why(&["ice"])).contains("not below the tap"));
    assert!(err(&why(&["water temperature", "--measured", "warm"])).contains("not a temperature"));
}

/// How warm the liquid is, in whole degrees Celsius, and whether there is ice.
fn told(text: &str) -> (i64, bool) {
    let loaded = loaded(text);
    let bakehouses = desk::bakehouses(&loaded);
    let formula = &bakehouses[0].files[0].tree.formulas[0];
    let worked = work(&bakehouses[0].house, formula, &mut Vec::new());
    let warm = warmth(&worked).expect("all is known");
    (warm.water.amount.clone().try_into().expect("whole degrees"), warm.ice.is_some())
}

#[test]
fn milk_is_chilled_and_holds_no_ice() {
    let text = house("  flour 26C\n  room 28C\n  tap 22C", "friction 13C", "24C");
    assert_eq!(told(&text), (5, true));
    assert_eq!(told(&text.replace("water         65%", "whole milk    65%")), (5, false));
}

#[test]
fn a_stage_is_as_warm_as_it_is_kept_or_ripened_and_a_loaf_shaped_by_hand_is_still_mixed() {
    let text = house("  flour 20C\n  room 20C\n  tap 12C", "friction 12C", "25C");
    let stage = "  preferment levain {\n    ferments 20% of flour\n    bread flour 100%\n    \
                 water 100%\n    white culture 20%\n    ripens 8h at 22C; keeps 24h at 4C\n  }\n  method";
    let text = text.replace("  method", stage);
    // 4 × 25 − 20 − 20 − 4 − 12: it comes from the refrigerator.
    assert_eq!(told(&text).0, 44);
    // 4 × 25 − 20 − 20 − 22 − 12: used when it is ripe.
    let text = text.replace("; keeps 24h at 4C", "; keeps 2h");
    assert_eq!(told(&text).0, 26);
    let cold = text.replace("ripens 8h at 22C", "ripens 2h at 22C then 12h at 4C");
    assert_eq!(told(&cold).0, 44);
    let shaped = text.replace("    bulk 1h\n", "    bulk 1h\n    shape 10min by hand\n");
    assert_eq!(told(&shaped).0, 26);
}

/// The smallest mixer that holds a dough is the one it is mixed in.
#[test]
fn a_small_dough_goes_into_the_small_mixer() {
    let text =
        house("  flour 20C\n  room 20C\n  tap 12C", "holds 3 kg..28 kg; friction 12C", "25C");
    let text = text.replace("  mixer", "  mixer bench { holds 300 g..3 kg; friction 6C }\n  mixer");
    let text = text.replace(" in spiral", "");
    assert_eq!(told(&text).0, 75 - 20 - 20 - 12);
    assert_eq!(told(&text.replace("makes 10 kg", "makes 2 kg")).0, 75 - 20 - 20 - 6);
}

/// A dough of 10 kg with so much of each liquid, in per cent of the flour.
fn poured(settings: &str, target: i64, lines: &str) -> String {
    let text = house(
        &format!("  flour 20C\n  room 20C\n  tap 12C{settings}"),
        "friction 12C",
        &format!("{target}C"),
    );
    text.replace("    water         65%\n", lines)
}

/// 3 × 25 − 20 − 20 − 12 = 23 °C for all that is poured; milk and egg come at 4 °C (common
/// practice), so that the water makes up for them by its share of the weight.
#[test]
fn milk_and_eggs_and_juice_count_each_at_its_own_temperature() {
    for (lines, wanted) in [
        ("    water 40%\n    whole milk 20%\n", int(23) + ratio(19, 2)),
        ("    water 40%\n    whole egg 10%\n", int(23) + ratio(19, 4)),
        ("    water 40%\n    whole milk 20%\n    whole egg 10%\n", int(23) + ratio(19 * 3, 4)),
        // Juice and the like stand in the room, powders on the shelf.
        ("    water 50%\n    apple juice 10%\n", int(23) + ratio(3, 5)),
        ("    water 60%\n    milk powder 5%\n", int(23)),
    ] {
        assert_eq!(water(&poured("", 25, lines)), wanted, "{lines}");
    }
    let own =
        "ingredient whole milk is dairy { water 88%; kept at 20C; contains milk; animal milk }\n";
    let text = own.to_owned() + &poured("", 25, "    water 40%\n    whole milk 20%\n");
    assert_eq!(water(&text), int(23) + ratio(3, 2));
}

/// Mixed forward with milk at 4 °C, the dough comes out as warm as it was to be.
#[test]
fn the_balance_of_heat_takes_milk_at_its_own_temperature() {
    let settings = "\n  water by heat balance";
    let text = poured(settings, 25, "    water 40%\n    whole milk 20%\n");
    let text = text.replace("friction 12C", "friction 12C; work 10 kJ per kg");
    let water = water(&text);
    // Milk of 88.13 % water: what is dry in it as flour.
    let milk = ratio(8813, 10_000) * ratio(418, 100) + ratio(1187, 10_000) * ratio(176, 100);
    let capacities = [
        (ratio(176, 100), int(20)),
        (ratio(418 * 40, 10_000), water),
        (milk * ratio(20, 100), int(4)),
        (ratio(105 * 2, 10_000), int(20)),
    ];
    let made = int(15) + int(10) * ratio(162, 100);
    let heat = capacities.iter().fold(made, |sum, (capacity, celsius)| sum + capacity * celsius);
    let capacity = capacities.iter().fold(Exact::ZERO, |sum, (capacity, _)| sum + capacity);
    assert_eq!(over(heat, capacity), int(25));
}

/// The sheet's words about the water.
fn sheet(text: &str) -> serde_json::Value {
    let folder = folder();
    std::fs::write(folder.path().join("house.dough"), text).expect("written");
    let told = assize(folder.path(), &["show", "pier-loaf", "--format", "json"]);
    let json: serde_json::Value = serde_json::from_str(&out(&told)).expect("JSON");
    json["water"].clone()
}

#[test]
fn where_water_is_too_little_the_sheet_offers_another_lever() {
    // Much milk, little water: it would have to be 23 + 19 × 60 ÷ 5 = 251 °C.
    let little = sheet(&poured("", 25, "    water 5%\n    whole milk 60%\n"));
    let lever = little["lever"].as_str().expect("a lever");
    assert!(lever.starts_with("Water alone is too little: it would have to be 251 °C."), "{lever}");
    assert_eq!(little["temperature"], "23 °C");
    let next = little["correction"].as_str().expect("words");
    assert!(next.contains("3\u{a0}°C colder water next time"), "{next}");
    assert!(little["label"].as_str().expect("a label").starts_with("water, whole milk for"));
    // 65 of 167 of the dough, all of it together.
    assert_eq!(little["water"]["grams"], "650000/167");
    // A hot room: 3 × 20 − 38 − 40 − 12 = −30 °C, and 60 % ice of a tap of 12 °C is −43.2.
    let hot = |target: i64| {
        house("  flour 38C\n  room 40C\n  tap 12C", "friction 12C", &format!("{target}C"))
    };
    assert_eq!(sheet(&hot(20))["lever"], serde_json::Value::Null);
    // 3 × 15 − 90 = −45 °C: 1.8 too cold, a third of it in the dough.
    let lever = sheet(&hot(15))["lever"].as_str().expect("a lever").to_owned();
    assert!(lever.contains("comes out 0.6 °C too warm: cool the flour"), "{lever}");
    // 3 × 35 − 10 − 12 − 4 = 79 °C: 34 too hot, 11.3 in the dough.
    let cold = house("  flour 10C\n  room 12C\n  tap 12C", "friction 4C", "35C");
    let told = sheet(&cold);
    assert_eq!(told["temperature"], "45 °C");
    assert!(told["lever"].as_str().expect("a lever").contains("11.3 °C too cold"), "{told}");
    assert_eq!(names(&cold), ["water-too-hot"]);
}

#[test]
fn a_sheet_says_how_and_what_to_do_next_time_in_the_units_of_the_house() {
    let metric = house("  flour 20C\n  room 20C\n  tap 12C", "friction 12C", "25C");
    let told = sheet(&metric);
    assert_eq!(told["method"], "by the factor method");
    let next = "1\u{a0}°C too warm: 3\u{a0}°C colder water next time; too cold: as much warmer.";
    assert_eq!(told["correction"], next);
    let us = sheet(&metric.replace("  room", "  units US\n  room"));
    assert_eq!(us["correction"], next.replace("°C", "°F"));
    let balance = sheet(&metric.replace("  room", "  water by heat balance\n  room"));
    assert_eq!(balance["method"], "by heat balance");
    assert!(balance["correction"].as_str().expect("words").contains("colder water"));
    let folder = folder();
    std::fs::write(
        folder.path().join("house.dough"),
        metric.replace("  room", "  units US\n  room"),
    )
    .expect("written");
    let told = assize(folder.path(), &["print", "pier-loaf", "--only", "sheet", "--to", "-"]);
    let text = pdf_extract::extract_text_from_mem(&told.stdout).expect("text");
    let dense = |text: &str| text.chars().filter(|it| !it.is_whitespace()).collect::<String>();
    assert!(dense(&text).contains(&dense("By the factor method. 1 °F too warm")), "{text}");
    assert!(!text.contains("°C"), "{text}");
}

/// Nothing answers with a temperature that water can't have, or can't have alone, without
/// saying so; and a text says what the sheet says.
#[test]
fn no_answer_is_beyond_what_water_can_be_without_the_words() {
    use assize::testing::formula::beyond_water;
    use assize::testing::print::{Wording, document};
    let (mut beyond, mut within) = (0, 0);
    for (units, system) in [("metric", System::Metric), ("US", System::Us)] {
        for (water, milk) in [(65, 0), (30, 30), (3, 40), (1, 60), (10, 50), (0, 60), (60, 5)] {
            for (target, tap) in [(18, 25), (25, 12), (29, 4), (21, 30)] {
                let water = if water > 0 { format!("water {water}%; ") } else { String::new() };
                let milk = if milk > 0 { format!("whole milk {milk}%; ") } else { String::new() };
                let text = format!(
                    "bakehouse \"Gullhaven Bakehouse\" {{ units {units}; room 24C; flour 22C; tap {tap}C; \
                     mixer spiral {{ holds 1 kg..30 kg; friction 13C }} }}\nformula milky \"Milky\" {{ \
                     makes 12 loaves at 1 kg; headnote \"at=[water temperature]\"; total {{ bread flour \
                     100%; {water}{milk}salt 2%; fresh yeast 2% }}\n method {{ mix 8min with everything \
                     to {target}C; bulk 1h at 25C; bake 40min at 230C }} }}"
                );
                with_worked(&text, |bakehouse, worked| {
                    let warmth = warmth(worked).expect("a temperature");
                    let celsius = &warmth.water.amount;
                    let is_water = *celsius >= int(0) && *celsius <= int(100);
                    let note = beyond_water(&warmth, system);
                    assert!(is_water || note.is_some(), "{text}: {celsius}");
                    assert_eq!(
                        note.is_none(),
                        warmth.steers == Steers::Water && is_water,
                        "{text}"
                    );
                    let print = document(&bakehouse.house, worked, &Wording::plain(), false);
                    let sheet = print.water.expect("water");
                    assert_eq!(print.headnotes, [format!("at={}", sheet.temperature)], "{text}");
                    *(if note.is_some() { &mut beyond } else { &mut within }) += 1;
                });
            }
        }
    }
    assert!(beyond > 15 && within > 10, "{beyond} {within}");
    let folder = folder();
    let text = "bakehouse \"Gullhaven Bakehouse\" { units US; room 21C; flour 19C; tap 12C; mixer spiral { \
                holds 3 kg..30 kg; friction 11C } }\nformula milky \"Milky\" { makes 12 loaves at 1 kg; total \
                { bread flour 100%; whole milk 40%; water 3%; salt 2%; fresh yeast 2% }\n method { mix 8min \
                with everything to 25C; bulk 3h at 25C; bake 40min at 230C } }";
    std::fs::write(folder.path().join("a.dough"), text).expect("written");
    let why = |args: &[&str]| assize(folder.path(), &[&["why", "milky"], args].concat());
    let told = out(&why(&["water temperature"]));
    let last = told.lines().last().expect("lines");
    assert!(last.starts_with("note: there is too little water for it to be "), "{told}");
    let json: serde_json::Value =
        serde_json::from_str(&out(&why(&["water temperature", "--format", "json"]))).expect("JSON");
    assert!(json["note"].as_str().is_some_and(|note| note.contains("too little water")), "{json}");
    let ice = err(&why(&["ice"]));
    assert!(ice.contains("there is no ice") && ice.contains("too little water"), "{ice}");
}
