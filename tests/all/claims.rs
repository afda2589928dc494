//! Formulas with figures worked out beside them: the breads that must be sayable, the
//! published examples, and the example bakehouse.

use crate::support::{PLAIN, dough_files, findings, from_disk, loaded, names, over, top};
use assize::testing::desk;
use assize::testing::diag::{Finding, Level, render};
use assize::testing::formula::{Figure, Within, work};
use assize::testing::quantity::ratio;
use assize::testing::syntax::tree::ClaimValue;
use std::path::Path;

/// The findings that count, and the text to show for them.
fn serious(path: &Path) -> (Vec<Finding>, String) {
    let loaded = from_disk(path);
    let mut findings = desk::check(&loaded);
    findings.retain(|finding| finding.level != Level::Note && finding.allowed.is_none());
    let told = findings.iter().map(|finding| render(finding, &loaded.sources, false)).collect();
    (findings, told)
}

/// How many claims of a file there are, and how many can't be checked.
fn claims(path: &Path) -> (usize, usize) {
    let loaded = from_disk(path);
    let formulas = loaded.asked_for().flat_map(|file| &file.tree.formulas);
    let claims = formulas.flat_map(|formula| &formula.expect).count();
    let open = desk::check(&loaded)
        .iter()
        .filter(|finding| finding.rule.name == "claim-cannot-be-checked")
        .count();
    (claims, open)
}

#[test]
fn the_twenty_breads_hold_every_claim_and_meet_no_alarm() {
    let files = dough_files("tests/breads");
    assert_eq!(files.len(), 20);
    let mut wrong = String::new();
    for file in files {
        let (findings, told) = serious(&file);
        let (claims, open) = claims(&file);
        if !findings.is_empty() || claims < 6 || open > 0 {
            wrong.push_str(&format!("{}: {claims} claims, {open} open\n{told}\n", file.display()));
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
}

/// A claim that a publication prints and that is wrong carries `# refuted:` on its line.
#[test]
fn published_figures_hold_to_the_printed_digits_and_misprints_are_refuted() {
    let mut wrong = String::new();
    let mut checked = 0;
    for file in dough_files("tests/published") {
        let text = std::fs::read_to_string(&file).expect("readable");
        let loaded = from_disk(&file);
        let source = &loaded.files()[0];
        let lines: Vec<&str> = text.lines().collect();
        let mut expected: Vec<usize> = lines
            .iter()
            .enumerate()
            .filter(|(_, line)| line.contains("# refuted: [claim-refuted]"))
            .map(|(index, _)| index + 1)
            .collect();
        checked += source.tree.formulas.iter().map(|formula| formula.expect.len()).sum::<usize>();
        for finding in desk::check(&loaded) {
            let place = loaded.sources.get(finding.span().source).expect("a place");
            let (line, _) = place.line_column(finding.span().start);
            let is_expected = finding.rule.name == "claim-refuted" && expected.contains(&line);
            expected.retain(|&wanted| !(is_expected && wanted == line));
            let open = finding.rule.name == "claim-cannot-be-checked";
            let serious = finding.level != Level::Note && finding.allowed.is_none();
            if (serious && !is_expected) || open {
                wrong.push_str(&render(&finding, &loaded.sources, false));
            }
        }
        if !expected.is_empty() {
            wrong.push_str(&format!("{}: lines {expected:?} should be refuted\n", file.display()));
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
    assert!(checked > 500, "{checked} claims were checked");
}

#[test]
fn the_example_bakehouse_checks_clean() {
    let folder = top().join("examples/gullhaven");
    let (findings, told) = serious(&folder);
    assert!(findings.is_empty(), "{told}");
    let loaded = from_disk(&folder);
    let formulas = loaded.asked_for().map(|file| file.tree.formulas.len()).sum::<usize>();
    assert!(formulas >= 10, "{formulas} formulas");
}

/// A claim is refuted when it is off by its last digit, whatever kind it is: else the
/// files above could not fail.
#[test]
fn a_claim_off_by_one_in_its_last_digit_is_refuted() {
    let mut refuted = 0;
    let mut silent = Vec::new();
    for file in dough_files("tests/breads") {
        let text = std::fs::read_to_string(&file).expect("readable");
        let loaded = from_disk(&file);
        let tree = &loaded.files()[0].tree;
        for claim in tree.formulas.iter().flat_map(|formula| &formula.expect) {
            let ClaimValue::Amount { range, tolerance: None, .. } = &claim.value else { continue };
            let Some(low) =
                range.low.as_ref().filter(|low| !range.ranged && low.decimals.is_some())
            else {
                continue;
            };
            let digits = &text[low.span.range()];
            let end =
                digits.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(digits.len());
            let bumped = bump(&digits[..end]);
            let place = low.span.range();
            let changed =
                format!("{}{bumped}{}{}", &text[..place.start], &digits[end..], &text[place.end..]);
            let found = crate::support::names(&changed);
            if found.contains(&"claim-refuted") {
                refuted += 1;
            } else if !found.contains(&"claim-cannot-be-checked") {
                silent.push(format!("{}: {digits} -> {bumped}", file.display()));
            }
        }
    }
    assert!(silent.is_empty(), "{}", silent.join("\n"));
    assert!(refuted > 150, "{refuted} claims were refuted");
}

/// A number raised by three in its last digit.
fn bump(digits: &str) -> String {
    let decimals = digits.split_once('.').map_or(0, |(_, rest)| rest.len());
    let whole: u64 = digits.replace('.', "").parse().expect("digits");
    let width = decimals + 1;
    let raised = format!("{:0>width$}", whole + 3);
    let (left, right) = raised.split_at(raised.len() - decimals);
    if decimals == 0 { left.to_owned() } else { format!("{left}.{right}") }
}

/// What a formula's pieces carry reaches the formula it is part of, and so does what a
/// side mix has only a pinch of.
#[test]
fn an_allergen_of_an_inner_formula_is_not_lost() {
    let inner = |carried: &str| {
        format!(
            "mixture quay icing {{\n  icing sugar  100 g\n  water  20 g\n  almonds  as needed\n}}\n\
             formula quay-bun \"Quay Bun\" {{\n  makes  10 buns at 60 g\n  total {{\n    bread flour  100%\n    water  62%\n    salt  2%\n    fresh yeast  2%\n  }}\n  piece {{\n    {carried}\n  }}\n}}\n\
             formula quay-box \"Quay Box\" {{\n  makes  4 boxes\n  piece {{\n    quay-bun  240 g\n  }}\n  expect {{\n    free from nuts\n  }}\n}}\n"
        )
    };
    assert!(!names(&inner("poppy seeds  3 g")).contains(&"claim-refuted"));
    assert!(names(&inner("flaked almonds  5 g")).contains(&"claim-refuted"));
    assert!(names(&inner("quay icing  15 g")).contains(&"claim-refuted"));
}

/// A bun of 50 g dough with 2 % salt of its flour, and no other sodium in it; making up loses dough and its salt
/// alike, so that a bun has the same share of salt with and without that loss.
#[test]
fn what_is_lost_in_making_up_takes_its_salt_with_it() {
    let salt = |make_up: &str| {
        let text = format!(
            "ingredient mill flour is a flour {{ contains wheat }}\ningredient well water is a water {{ contains nothing }}\nformula salt-bun \"Salt Bun\" {{\n  makes  100 buns at 50 g\n  bake loss  10%\n  {make_up}\n  total {{\n    mill flour  100%\n    well water  60%\n    salt  2%\n  }}\n  piece {{\n    coarse salt  0.5 g\n  }}\n}}\n"
        );
        let loaded = loaded(&text);
        let bakehouses = desk::bakehouses(&loaded);
        let house = &bakehouses[0].house;
        let formula = &bakehouses[0].files[0].tree.formulas[0];
        let worked = work(house, formula, &mut Vec::new());
        let figure = Figure::read("salt as eaten").expect("a figure");
        worked.figure_of(worked.first(), &figure, Within::All).expect("a value").amount
    };
    // Worked by hand: (50 × 2/162 + 0.5) ÷ (50 × 0.9 + 0.5).
    let expected = over(ratio(100, 162) + ratio(1, 2), ratio(91, 2));
    assert_eq!(salt(""), expected);
    assert_eq!(salt("make-up loss  4%"), expected);
}

/// Combinations that no common bread needs, with their figures worked out by hand.
#[test]
fn rare_combinations_hold_every_claim() {
    let mut wrong = String::new();
    for file in dough_files("tests/combinations") {
        let (findings, told) = serious(&file);
        let (claims, open) = claims(&file);
        if !findings.is_empty() || claims < 4 || open > 0 {
            wrong.push_str(&format!("{}: {claims} claims, {open} open\n{told}\n", file.display()));
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
}

/// Claims with open ends and tolerances are told apart, and as they were written.
#[test]
fn claims_disagree_in_the_words_they_were_written_in() {
    for (claims, wanted) in [
        ("hydration ..70%; hydration 74%..", Some("at most 70 % and to be at least 74 %")),
        ("hydration 70%..; hydration ..80%", None),
        ("hydration 74% ± 1%; hydration 74%", None),
        ("hydration 70% ± 1%; hydration 74%", Some("70 % ± 1 % and to be 74 %")),
        ("hydration 60%..65%; hydration 74%", Some("60 % to 65 % and to be 74 %")),
    ] {
        let text = PLAIN.replace("  total {", &format!("  expect {{ {claims} }}\n  total {{"));
        let found = findings(&text);
        let told = found.iter().find(|it| it.rule.name == "claims-disagree");
        match (told, wanted) {
            (Some(told), Some(wanted)) => {
                assert!(told.message.contains(wanted), "{}", told.message);
            }
            (told, wanted) => assert_eq!(told.map(|it| &it.message), None, "{claims}: {wanted:?}"),
        }
        assert!(told.is_some() == wanted.is_some(), "{claims}: {found:?}");
    }
}

/// Who counts milk as water is led to the figure that does.
#[test]
fn a_hydration_of_milk_leads_to_liquids() {
    let help = |claim: &str| {
        let text = PLAIN
            .replace("water         74%", "whole milk    60%")
            .replace("  total {", &format!("  expect {{ {claim} }}\n  total {{"));
        let found = findings(&text);
        let told = found.iter().find(|it| it.rule.name == "claim-refuted").expect("refuted");
        told.help.clone().unwrap_or_default()
    };
    assert!(help("hydration 53%").contains("`liquids 53%`"), "{}", help("hydration 53%"));
    assert!(help("hydration 60%").contains("`liquids`, which is 52.88 %"));
    // Where water is all there is, it is no help.
    let text = PLAIN.replace("  total {", "  expect { hydration 60% }\n  total {");
    let found = findings(&text);
    assert!(!found[0].help.as_deref().unwrap_or_default().contains("liquids"), "{found:?}");
}

/// A figure that is a share of its own base is not proved as one of another: no range is so
/// wide that it would hold.
#[test]
fn no_figure_is_proved_of_a_base_that_is_not_its_own() {
    let shares = [
        "hydration",
        "liquids",
        "effective hydration",
        "true hydration",
        "total percentage",
        "prefermented flour",
        "yeast as fresh",
        "leavening",
        "bake loss",
        "make-up loss",
        "salt as eaten",
        "salt in other ingredients",
        "dough yield",
    ];
    for figure in shares {
        for base in ["of flour", "of added flour", "of dough", "of base dough", "of water"] {
            let claim = format!("expect {{ {figure} 0%..900% {base} }}\n}}");
            let text = PLAIN.trim_end().trim_end_matches('}').to_owned() + &claim;
            let is_its_own = base == "of flour"
                && !["loss", "eaten", "yield", "effective", "true"]
                    .iter()
                    .any(|it| figure.contains(it));
            let is_its_own = is_its_own || (figure, base) == ("hydration", "of added flour");
            let found = findings(&text);
            // That such a range says nothing is told of every one of them.
            let is_open = |it: &Finding| it.rule.name == "claim-cannot-be-checked";
            let found: Vec<&Finding> =
                found.iter().filter(|it| !it.message.contains("says nothing")).collect();
            let is_silent = !found.iter().any(|it| it.level == Level::Error || is_open(it));
            assert_eq!(is_silent, is_its_own, "{figure} {base}: {:?}", names(&text));
        }
    }
}

/// 500 g of a starter of equal weights: 750 g of flour in all, 500 g of it added, 525 g of
/// water, 1290 g of dough.
const QUAY: &str = "culture starter { bread flour 100%; water 100% }
formula quay-loaf \"Quay Loaf\" {
  dough {
    bread flour 500 g
    water 275 g
    salt 15 g
    starter 500 g
  }
  expect { CLAIM }
}
";

/// What is claimed of a base is the ratio that a pocket calculator gives.
#[test]
fn a_share_is_one_of_the_base_that_it_names() {
    // 15 g of salt, 500 g of starter and 525 g of water, by 750, 500, 1290 g and the rest.
    for (claim, digits) in [
        ("hydration 70.00%", 525.0 / 750.0),
        ("hydration 70.00% of flour", 525.0 / 750.0),
        ("hydration 55.00% of added flour", 275.0 / 500.0),
        ("salt 2.00%", 15.0 / 750.0),
        ("salt 2.00% of flour", 15.0 / 750.0),
        ("salt 3.00% of added flour", 15.0 / 500.0),
        ("salt 1.16% of dough", 15.0 / 1290.0),
        ("salt 1.18% of base dough", 15.0 / 1275.0),
        ("salt 2.86% of water", 15.0 / 525.0),
        ("starter 66.67% of flour", 500.0 / 750.0),
        ("starter 100.00% of added flour", 500.0 / 500.0),
        ("starter 38.76% of dough", 500.0 / 1290.0),
        ("prefermented flour 33.33%", 250.0 / 750.0),
        ("prefermented flour 33.33% of flour", 250.0 / 750.0),
    ] {
        let share: f64 = digits;
        let written: f64 = claim
            .split(' ')
            .find_map(|word| word.strip_suffix('%')?.parse().ok())
            .expect("a percentage");
        assert!((share * 100.0 - written).abs() < 0.005, "{claim}");
        let found = findings(&QUAY.replace("CLAIM", claim));
        assert!(found.iter().all(|it| it.level != Level::Error), "{claim}: {found:?}");
        let off = claim.replace(&format!("{written:.2}%"), &format!("{:.2}%", written + 0.02));
        assert!(names(&QUAY.replace("CLAIM", &off)).contains(&"claim-refuted"), "{off}");
    }
}

/// A number that is true in another convention is told so first.
#[test]
fn the_convention_in_which_a_claim_is_true_is_told_first() {
    for (claim, elsewhere) in [
        ("hydration 55%", "hydration 55% of added flour"),
        ("salt 3%", "salt 3% of added flour"),
        ("salt 1.2%", "salt 1.2% of dough"),
        ("salt 2% of added flour", "salt 2%"),
        ("hydration 70% of added flour", "hydration 70%"),
        ("starter 100%", "starter 100% of added flour"),
        ("starter 39%", "starter 39% of dough"),
        ("starter 33%", "prefermented flour 33%"),
        ("prefermented flour 100%", "starter 100% of added flour"),
    ] {
        let text = QUAY.replace("CLAIM", claim);
        let found = findings(&text);
        let [told] = found.as_slice() else { unreachable!("{claim}: {found:?}") };
        assert!(told.message.contains("; "), "{}", told.message);
        let repair = told.repair.as_ref().expect("a repair");
        assert_eq!((repair.text.as_str(), repair.safe), (elsewhere, false));
        assert!(names(&QUAY.replace("CLAIM", elsewhere)).is_empty(), "{elsewhere}");
    }
    // What is true nowhere is no convention.
    let found = findings(&QUAY.replace("CLAIM", "hydration 61%"));
    assert!(!found[0].message.contains("; "), "{found:?}");
}

/// A base that is not a figure's own is an error, which says whose share it is.
#[test]
fn another_base_is_an_error_that_names_the_right_one() {
    for (claim, says) in [
        ("hydration 60% of dough", "`of added flour`"),
        ("prefermented flour 20% of dough", "leave `of dough` out"),
        ("liquids 70% of water", "leave `of water` out"),
    ] {
        let found = findings(&QUAY.replace("CLAIM", claim));
        let [told] = found.as_slice() else { unreachable!("{claim}: {found:?}") };
        assert_eq!((told.rule.name, told.level), ("claim-cannot-be-checked", Level::Error));
        assert!(told.help.as_deref().is_some_and(|it| it.contains(says)), "{told:?}");
        assert!(told.message.contains("flour"), "{told:?}");
    }
}

/// A wrong amount is told once, where it stands, and a true claim is not to be changed.
#[test]
fn a_wrong_amount_is_blamed_once_at_its_line() {
    let claims = "hydration 70%; salt 2%; starter 66.67%; dough 1290 g";
    let sound = QUAY.replace("CLAIM", claims);
    assert!(names(&sound).is_empty(), "{:?}", names(&sound));
    for (right, wrong) in [
        ("water 275 g", "water 257 g"),
        ("water 275 g", "water 325 g"),
        ("water 275 g", "water 27.5 g"),
        ("salt 15 g", "salt 51 g"),
        ("salt 15 g", "salt 10 g"),
        ("starter 500 g", "starter 50 g"),
        ("bread flour 500 g", "bread flour 550 g"),
        ("bread flour 500 g", "bread flour 50 g"),
    ] {
        let text = sound.replace(right, wrong);
        let found = findings(&text);
        let serious: Vec<&Finding> = found.iter().filter(|it| it.level != Level::Note).collect();
        let [told] = serious.as_slice() else { unreachable!("{wrong}: {found:?}") };
        let line = text.find(wrong).expect("there");
        let start = told.span().range().start;
        assert!((line..line + wrong.len()).contains(&start), "{wrong}: {told:?}");
        let repair = told.repair.as_ref().expect("a repair");
        assert!(right.ends_with(&repair.text), "{wrong}: {}", repair.text);
    }
}
