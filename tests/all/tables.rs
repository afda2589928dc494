//! Tables of a manuscript: sound ones are silent, slips are named with their arithmetic, and
//! those that are claimed to be all of a formula are held against it.

use crate::support::{Memory, assize, folder, out};
use assize::testing::desk::{load, report};
use std::fs;
use std::path::{Path, PathBuf};

const FORMULA: &str = "```dough
formula first-sour \"First Sour\" {
  makes  2 loaves at 900 g
  total { bread flour 100%; water 70%; salt 2% }
  preferment levain {
    weighs 240 g
    bread flour 100%
    water 100%
    white culture 20%
    ripens 8h at 24C
  }
}
```
";

/// What is said about a manuscript: rule and message of each finding about its words.
fn told(text: &str) -> Vec<String> {
    let text = format!("## First Sour\n\n{text}\n\n{FORMULA}");
    let loaded = load(
        &Memory::with(&[("/x/book.md", &text)]),
        Path::new("/x"),
        &[PathBuf::from("/x/book.md")],
    );
    let rules = ["table-", "number-", "pair-", "unknown-instruction"];
    let found = report(&loaded, None).findings;
    let found = found.iter().filter(|it| rules.iter().any(|rule| it.rule.name.starts_with(rule)));
    found.map(|it| format!("{}: {}", it.rule.name, it.message)).collect()
}

/// Sound tables, in any order of columns and in five languages.
const SOUND: &[&str] = &[
    "| ingredient | weight | % |\n|---|---|---|\n| bread flour | 500 g | 100 % |\n| water | 350 g | 70 % |\n| salt | 10 g | 2 % |\n| fresh yeast | 8 g | 1.6 % |\n| total | 868 g | 173.6 % |",
    "| % | grams | ingredient |\n|---|---|---|\n| 85 | 425 | bread flour |\n| 15 | 75 | whole wheat flour |\n| 68 | 340 | water |\n| 2 | 10 | salt |",
    "| ingredient | metric | US |\n|---|---|---|\n| bread flour | 500 g | 17.6 oz |\n| water | 350 g | 12.3 oz |\n| salt | 10 g | 0.35 oz |\n| fresh yeast | 8 g | 0.3 oz |",
    "| ingredient | ×1 | ×10 |\n|---|---|---|\n| bread flour | 500 g | 5 kg |\n| water | 350 g | 3.5 kg |\n| salt | 10 g | 100 g |\n| fresh yeast | 8 g | 80 g |",
    "| Zutat | Menge (g) | Prozent |\n|---|---|---|\n| Mehl Type 550 | 500 | 100 |\n| Wasser | 333 | 66,6 |\n| Salz | 11 | 2,2 |\n| Summe | 844 | 168,8 |",
    "| ingrédient | poids |\n|---|---|\n| farine T65 | 500 g |\n| eau | 340 g |\n| sel | 10 g |\n| total | 850 g |",
    "| ingrediente | peso | % |\n|---|---|---|\n| harina de fuerza | 500 g | 100 |\n| agua | 325 g | 65 |\n| sal | 10 g | 2 |",
    "| ingrediente | quantità | % |\n|---|---|---|\n| farina 0 | 500 g | 100 |\n| acqua | 325 g | 65 |\n| sale | 10 g | 2 |",
    "| month | loaves | price |\n|---|---|---|\n| May | 300 | £4 |\n| June | 340 | £4.50 |\n| total | 640 | £9 |",
    "| flour | protein | ash |\n|---|---|---|\n| bread flour | 12 % | 0.6 % |\n| dark rye flour | 9 % | 1.6 % |\n| spelt flour | 14 % | 0.8 % |",
    "| bread | water | salt |\n|---|---|---|\n| Mole Loaf | 75 % | 2 % |\n| Pier Loaf | 70 % | 2 % |\n| Quay Loaf | 72 % | 1.8 % |",
    "| ingredient | weight | cups |\n|---|---|---|\n| bread flour | 500 g | 4 cups |\n| water | 350 g | 1 1/2 cups |\n| sugar | 100 g | 1/2 cup |\n| butter | 113 g | 1/2 cup |",
    "| ingredient | small | large |\n|---|---|---|\n| bread flour | 300 g | 700 g |\n| water | 200 g | 420 g |\n| salt | 6 g | 20 g |\n| honey | 0 g | 30 g |",
];

#[test]
fn sound_tables_are_silent() {
    for table in SOUND {
        assert_eq!(told(table), Vec::<String>::new(), "{table}");
    }
}

#[test]
fn each_wrong_cell_is_named_with_its_arithmetic() {
    for (at, right, wrong, said) in [
        (
            0,
            "868 g",
            "878 g",
            "`878 g` of total does not fit this table: the rows above come to 868 g",
        ),
        (0, "70 %", "72 %", "`72 %` of water does not fit this table: 350 g ÷ 500 g = 70 %"),
        (
            0,
            "1.6 %",
            "2.6 %",
            "`2.6 %` of fresh yeast does not fit this table: 8 g ÷ 500 g = 1.6 %",
        ),
        (1, "| 68 |", "| 78 |", "`78` of water does not fit this table: 340 g ÷ 500 g = 68 %"),
        (2, "12.3 oz", "13.3 oz", "`13.3 oz` of water does not fit this table: 350 g = 12.3 oz"),
        (3, "100 g", "120 g", "`120 g` of salt does not fit this table: 10 × 10 g = 100 g"),
        (3, "3.5 kg", "3.9 kg", "`3.9 kg` of water does not fit this table: 10 × 350 g = 3.5 kg"),
        (4, "844", "854", "`854` of Summe does not fit this table: the rows above come to 844 g"),
        (
            5,
            "850 g",
            "860 g",
            "`860 g` of total does not fit this table: the rows above come to 850 g",
        ),
        (
            11,
            "1 1/2 cups",
            "3 cups",
            "`3 cups` of water does not fit this table: 3 cup of it weigh about 750 g",
        ),
    ] {
        let table = SOUND[at].replace(right, wrong);
        assert_ne!(table, SOUND[at]);
        let found = told(&table);
        let wanted = format!("table-disagrees: {said}");
        assert!(found.contains(&wanted), "{table}\n{found:?}\n{wanted}");
    }
}

#[test]
fn a_claimed_table_is_held_against_the_formula() {
    let levain = "<!-- assize: all of levain of first-sour -->\n| levain | metric | US |\n|---|---|---|\n| bread flour | 109 g | 3.8 oz |\n| water | 109 g | 3.8 oz |\n| white culture | 22 g | 0.8 oz |";
    assert_eq!(told(levain), Vec::<String>::new());
    let one = |from: &str, to: &str| told(&levain.replacen(from, to, 1));
    assert_eq!(
        one("| water | 109 g | 3.8 oz |", "| water | 119 g | 4.2 oz |"),
        [
            "table-refuted: `119 g` is not right for water in levain of first-sour: 109 g",
            "table-refuted: `4.2 oz` is not right for water in levain of first-sour: 3.8 oz",
        ]
    );
    assert_eq!(
        one("| white culture | 22 g | 0.8 oz |", "| malt | 22 g | 0.8 oz |").len(),
        2,
        "a row too many and a line without one"
    );
    assert_eq!(
        one("levain of first-sour", "levain of frist-sour"),
        ["unknown-instruction: no formula here is called `frist-sour`"]
    );
    assert_eq!(
        one("levain of first-sour", "sponge of first-sour"),
        ["table-refuted: `sponge of first-sour` is nothing that can be in a table"]
    );
    let all = "<!-- assize: all of first-sour -->\n| first sour | % |\n|---|---|\n| bread flour | 100 % |\n| water | 70 % |\n| salt | 2 % |";
    assert_eq!(told(all), Vec::<String>::new());
    assert_eq!(
        told(&all.replace("70 %", "71 %")),
        ["table-refuted: `71 %` is not right for water in first-sour: 70 %"]
    );
    assert_eq!(
        told("<!-- assize: all of first-sour -->\n\nNo table here."),
        ["unknown-instruction: `first-sour` is not complete"]
    );
}

/// Each cell of a claimed table made wrong is told once, whatever its row and its sums make of it.
#[test]
fn a_slip_in_a_claimed_table_is_told_once() {
    let table = "| levain | metric | % |\n|---|---|---|\n| bread flour | 109.1 g | 100 % |\n| water | 109.1 g | 100 % |\n| white culture | 21.8 g | 20 % |\n| total | 240 g | 220 % |";
    let claimed =
        |table: &str| told(&format!("<!-- assize: all of levain of first-sour -->\n{table}"));
    assert_eq!(claimed(table), Vec::<String>::new());
    for (right, wrong) in [
        ("| bread flour | 109.1 g", "| bread flour | 129.1 g"),
        ("| water | 109.1 g", "| water | 99.1 g"),
        ("| 20 % |", "| 25 % |"),
        ("| 240 g |", "| 260 g |"),
        ("| 220 % |", "| 200 % |"),
    ] {
        let told = claimed(&table.replace(right, wrong));
        assert_eq!(told.len(), 1, "{wrong}: {told:?}");
        assert!(told[0].starts_with("table-refuted"), "{told:?}");
    }
}

/// A cell of a claimed table that says no amount proves nothing, and a row too many is no row.
#[test]
fn a_claimed_table_is_proved_in_each_cell() {
    let claimed = |table: &str| {
        told(&format!(
            "<!-- assize: all of levain of first-sour -->\n| levain | metric |\n|---|---|\n{table}"
        ))
    };
    let right = "| bread flour | 109 g |\n| water | 109 g |\n| white culture | 22 g |";
    assert_eq!(claimed(right), Vec::<String>::new());
    for cell in ["~~109 g~~ 130 g", "six tablespoons", "two cups", "some", "109 g 130 g", "7 tbsp"]
    {
        let told = claimed(&right.replacen("| water | 109 g |", &format!("| water | {cell} |"), 1));
        assert_eq!(told.len(), 1, "{cell}: {told:?}");
        assert!(told[0].starts_with("table-refuted: "), "{told:?}");
    }
    let twice = claimed(&right.replacen("| water", "| water | 109 g |\n| water", 1));
    assert_eq!(
        twice,
        [
            "table-refuted: `water` stands here once more, and `levain of first-sour` has no other line of it"
        ]
    );
}

/// A wrong percentage is told where it stands, and the sum that is right is not.
#[test]
fn a_wrong_cell_makes_no_right_sum_wrong() {
    let table = "| dough | weight | % |\n|---|---|---|\n| bread flour | 1000 g | 100 % |\n| water | 680 g | 86 % |\n| salt | 20 g | 2 % |\n| fresh yeast | 10 g | 1 % |\n| total | 1710 g | 171 % |";
    let told = told(table);
    assert_eq!(told.len(), 1, "{told:?}");
    assert!(told[0].contains("`86 %` of water"), "{told:?}");
}

#[test]
fn a_csv_file_is_read_when_it_is_named() {
    let folder = folder();
    let write =
        |name: &str, text: &str| fs::write(folder.path().join(name), text).expect("written");
    let table = "ingredient,weight (g),%\nbread flour,500,100\nwater,350,70\nsalt,10,3\nfresh yeast,5,1\ntotal,865,173\n";
    write("house.dough", "bakehouse \"Gullhaven Bakehouse\" {}\n");
    write("costs.csv", table);
    let named = assize(folder.path(), &["check", "costs.csv", "--format", "short"]);
    assert!(
        out(&named).starts_with("costs.csv:4:9: warning[table-disagrees]: `3` of salt does not fit this table: 10 g ÷ 500 g = 2 %\n"),
        "{}",
        out(&named)
    );
    let whole = assize(folder.path(), &["check", "--format", "short"]);
    assert!(!out(&whole).contains("costs.csv"), "{}", out(&whole));
}

/// A table below its formula that nobody claims anything of: where most rows are the formula's,
/// the others are slips, in one size of it or another.
#[test]
fn a_table_that_a_formula_left_behind_is_told() {
    let rows = |cells: &[&str]| -> String {
        let names = ["bread flour", "water", "salt", "walnuts", "honey"];
        let rows = names.iter().zip(cells).map(|(name, cell)| format!("| {name} | {cell} |\n"));
        format!("| ingredient | amount |\n|---|---|\n{}", rows.collect::<String>())
    };
    let told = |table: &str| -> Vec<String> {
        let text = format!(
            "## Stack Loaf\n\n```dough\nformula stack-loaf \"Stack Loaf\" {{\n  dough {{ bread flour 500 g; \
             water 350 g; salt 10 g; walnuts 60 g; honey 20 g; fresh yeast 5 g }}\n}}\n```\n\n{table}"
        );
        let files = Memory::with(&[("/x/book.md", &text)]);
        let loaded = load(&files, Path::new("/x"), &[PathBuf::from("/x/book.md")]);
        let found = report(&loaded, None).findings;
        let found = found.iter().filter(|it| it.rule.name == "table-disagrees");
        found.map(|it| it.message.clone()).collect()
    };
    for (cells, wanted) in [
        (["500 g", "350 g", "10 g", "60 g", "20 g"], None),
        (["100 %", "70 %", "2 %", "12 %", "4 %"], None),
        (["1 kg", "700 g", "20 g", "120 g", "40 g"], None),
        // Another bread.
        (["400 g", "350 g", "9 g", "80 g", "30 g"], None),
        (
            ["500 g", "320 g", "10 g", "60 g", "20 g"],
            Some("`320 g` of water is 350 g in `stack-loaf`"),
        ),
        (["100 %", "64 %", "2 %", "12 %", "4 %"], Some("`64 %` of water is 70 % in `stack-loaf`")),
        (
            ["1 kg", "700 g", "30 g", "120 g", "40 g"],
            Some("`30 g` of salt is 20 g in `stack-loaf` beside the other rows"),
        ),
    ] {
        let told = told(&rows(&cells));
        assert_eq!(told.first().map(String::as_str), wanted, "{cells:?}: {told:?}");
        assert!(told.len() < 2, "{told:?}");
    }
    // The words of another language, and one row that is of no line: it is about something else.
    assert!(
        told(
            "| Zutat | Menge |\n|---|---|\n| Wasser | 999 g |\n| Salz | 10 g |\n| Honig | 20 g |\n"
        )
        .is_empty()
    );
}

/// A sum of some rows is no row of the sum of all, and is held by itself.
#[test]
fn sums_of_some_rows_are_held_by_themselves() {
    let table = |flour: &str, total: &str| {
        format!(
            "| ingredient | weight |\n|---|---|\n| bread flour | 800 g |\n| whole wheat flour | 200 g |\n\
             | total flour | {flour} |\n| water | 720 g |\n| salt | 20 g |\n| walnuts | 60 g |\n| total | {total} |"
        )
    };
    assert_eq!(told(&table("1000 g", "1800 g")), Vec::<String>::new());
    assert_eq!(
        told(&table("1100 g", "1800 g")),
        [
            "table-disagrees: `1100 g` of total flour does not fit this table: the rows above come to 1000 g"
        ]
    );
    assert_eq!(
        told(&table("1000 g", "1900 g")),
        [
            "table-disagrees: `1900 g` of total does not fit this table: the rows above come to 1800 g"
        ]
    );
}
