//! Recipes that are brought in: sixty files of every form in five languages with the formulas
//! they become, nothing lost, and lists that give back the masses they were made from.

use crate::support::{assize, err, findings, folder, out, top, with_worked};
use assize::testing::bring::{Options, recipes, write};
use assize::testing::diag::Level;
use assize::testing::quantity::{Exact, int, ratio};
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

fn files() -> Vec<PathBuf> {
    let folder = fs::read_dir(top().join("tests/book/read")).expect("there");
    let mut files: Vec<PathBuf> = folder.map(|entry| entry.expect("an entry").path()).collect();
    files.retain(|path| path.is_file());
    files.sort();
    files
}

/// The formulas of a file as they are written, one after the other.
fn brought(path: &Path, options: &Options) -> String {
    let bytes = fs::read(path).expect("readable");
    let name = path.file_name().expect("a name").to_string_lossy().into_owned();
    let brought = recipes(path, &bytes).unwrap_or_else(|why| panic!("{name}: {why}"));
    let columns = brought.columns.iter().map(|columns| format!("# {columns}\n"));
    let formulas = brought.recipes.iter().map(|it| write(it, &name, options).text + "\n");
    columns.chain(formulas).collect()
}

#[test]
fn every_file_becomes_the_formulas_beside_it() {
    let files = files();
    assert!(files.len() >= 60);
    let (mut wrong, mut count) = (Vec::new(), 0);
    for path in &files {
        let made = brought(path, &Options::default());
        count += made.matches("\nformula ").count() + usize::from(made.starts_with("formula "));
        let name = path.file_name().expect("a name").to_string_lossy().into_owned();
        let beside = top().join("tests/book/read/formulas").join(format!("{name}.dough"));
        if std::env::var_os("ASSIZE_REWRITE").is_some() {
            fs::create_dir_all(beside.parent().expect("a folder")).expect("made");
            fs::write(&beside, &made).expect("written");
        }
        let wanted = fs::read_to_string(&beside).unwrap_or_default();
        if made != wanted {
            wrong.push(format!("{name}:\n{made}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(count >= 60, "{count}");
}

/// The numbers of a text, by how often each occurs.
fn numbers(text: &str) -> BTreeMap<String, usize> {
    let mut all = BTreeMap::new();
    let is_number = |letter: char| letter.is_ascii_digit() || "½¼¾⅓⅔".contains(letter);
    for number in text.split(|letter: char| !is_number(letter)).filter(|it| !it.is_empty()) {
        *all.entry(number.to_owned()).or_default() += 1;
    }
    all
}

/// What a page marks as a recipe, without its tags.
fn of_recipe(page: &str) -> String {
    let marks = [
        ("<article", "</article>"),
        ("<script type=\"application/ld+json\"", "</script>"),
        ("<div vocab", "</body>"),
    ];
    let found = marks.iter().filter_map(|(from, to)| {
        let start = page.find(from)?;
        Some((start, page[start..].find(to).map_or(page.len(), |end| start + end)))
    });
    let (start, end) = found.min().unwrap_or((0, page.len()));
    let mut plain = String::new();
    let mut rest = page[start..end].replace("schema.org", "").replace("HowTo", "");
    rest = rest.replace("&frac12;", "½");
    while let Some((before, after)) = rest.split_once('<') {
        plain.push_str(before);
        let (tag, after) = after.split_once('>').unwrap_or((after, ""));
        plain.extend(tag.split("content=").skip(1));
        plain.push(' ');
        rest = after.to_owned();
    }
    plain + &rest
}

/// Every number of a text is in its formulas: as a number, or in what was not understood.
#[test]
fn no_number_is_lost() {
    let mut lost = Vec::new();
    for path in files() {
        let ending = path.extension().expect("an ending").to_string_lossy().into_owned();
        if ["xlsx", "ods"].contains(&ending.as_str()) {
            continue;
        }
        let text = fs::read_to_string(&path).expect("readable");
        let text = if ending.starts_with("htm") { of_recipe(&text) } else { text };
        let there = numbers(&brought(&path, &Options::default()));
        for number in numbers(&text).into_keys() {
            if !there.contains_key(&number) {
                lost.push(format!("{}: {number}", path.display()));
            }
        }
    }
    assert!(lost.is_empty(), "{}", lost.join("\n"));
}

/// What is written has no error in it, or says what a person has to decide.
#[test]
fn every_formula_checks_or_says_what_is_to_be_decided() {
    let (mut wrong, mut sound) = (Vec::new(), 0);
    for path in files() {
        let name = path.to_string_lossy().into_owned();
        let shown = out(&assize(&top(), &["read", &name, "--to", "-"]));
        for formula in shown.split("# Read from ").skip(1) {
            let formula = format!("# Read from {formula}");
            let found = findings(&formula);
            let errors: Vec<&str> = found
                .iter()
                .filter(|it| it.level == Level::Error)
                .map(|it| it.message.as_str())
                .collect();
            let decides = formula.contains("# decide: ");
            sound += usize::from(errors.is_empty() && !decides);
            if !errors.is_empty() && !decides {
                wrong.push(format!("{name}: {errors:?}\n{formula}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(sound > 35, "{sound}");
}

/// Ingredients with what they are called in lists, and the worth of a unit in grams.
const NAMES: [&str; 12] = [
    "bread flour",
    "whole wheat flour",
    "dark rye flour",
    "water",
    "salt",
    "fresh yeast",
    "sunflower seeds",
    "olive oil",
    "sugar",
    "raisins",
    "rolled oats",
    "unsalted butter",
];

/// The masses of a formula's dough, by name.
fn masses(text: &str) -> BTreeMap<String, Exact> {
    with_worked(text, |_, worked| {
        let lines = &worked.choices[0].dough_lines;
        lines.iter().map(|line| (line.key.to_string(), line.mass.clone())).collect()
    })
}

/// A formula written as a plain list, in many ways, and read back has the same masses.
#[test]
fn a_list_gives_back_the_masses_that_it_was_made_from() {
    let mut seed: u64 = 7;
    let mut next = |below: u64| {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (seed >> 33) % below
    };
    for round in 0..200 {
        let mut wanted: BTreeMap<String, Exact> = BTreeMap::new();
        let mut list = format!("Loaf number {round}\n\n");
        for (at, name) in NAMES.iter().enumerate() {
            if at > 5 && next(2) == 0 {
                continue;
            }
            let tenths = i64::try_from(next(9_000) + 10).expect("small");
            let grams = ratio(tenths, 10);
            let number = match tenths % 10 {
                0 => format!("{}", tenths / 10),
                part => format!("{}.{part}", tenths / 10),
            };
            let line = match next(6) {
                0 => format!("{number} g {name}"),
                1 => format!("- {number}g {name}"),
                2 => format!("{name}: {number} g"),
                3 => format!("{name} .... {number} g"),
                4 => format!("* **{number} g** of {name}, as it is"),
                _ => format!("{number} grams of {name} (sifted)"),
            };
            list.push_str(&line);
            list.push('\n');
            wanted.insert((*name).to_owned(), grams);
        }
        let read = recipes(Path::new("list.txt"), list.as_bytes()).expect("one");
        let [recipe] = read.recipes.as_slice() else { panic!("{list}") };
        let written = write(recipe, "list.txt", &Options::default());
        assert!(written.decisions.is_empty() && written.left.is_empty(), "{list}{written:?}");
        assert_eq!(masses(&written.text), wanted, "{list}{}", written.text);
        // As percentages the same, to the last digit that is written.
        let percent = Options { percent: true, ..Options::default() };
        let written = write(recipe, "list.txt", &percent);
        let totals = with_worked(&written.text, |_, worked| {
            let lines = &worked.choices[0].total_lines;
            let pair = |line: &assize::testing::formula::WorkedLine| {
                (line.key.to_string(), line.mass.clone())
            };
            lines.iter().map(pair).collect::<BTreeMap<_, _>>()
        });
        let flour: Exact = NAMES[..3].iter().fold(int(0), |sum, name| sum + &wanted[*name]);
        for (name, grams) in &wanted {
            let apart = (&totals[name] - grams).abs();
            assert!(apart <= &flour * ratio(1, 500_000), "{name}: {}", written.text);
        }
    }
}

#[test]
fn the_command_writes_shows_and_says_what_is_left() {
    let folder = folder();
    let at = folder.path();
    let write = |name: &str, text: &str| fs::write(at.join(name), text).expect("written");
    write(
        "loaf.txt",
        "Gull Loaf\n\n500 g bread flour\n350 g water\n10 g salt\n5 g instant yeast\n",
    );
    let done = assize(at, &["read", "loaf.txt", "--to", "house"]);
    assert_eq!((out(&done).as_str(), err(&done).as_str()), ("house/gull-loaf.dough\n", ""));
    assert_eq!(done.status.code(), Some(0));
    let made = fs::read_to_string(at.join("house/gull-loaf.dough")).expect("written");
    assert!(
        made.starts_with("# Read from loaf.txt.\nformula gull-loaf \"Gull Loaf\" {\n"),
        "{made}"
    );
    let checked = assize(at, &["check", "house"]);
    assert_eq!(out(&checked), "1 formula, no findings\n");
    let shown = assize(at, &["fmt", "--check", "house"]);
    assert_eq!(out(&shown), "nothing to reformat\n");
    // A second time is another formula, and nothing is overwritten.
    let again = assize(at, &["read", "loaf.txt", "--to", "house"]);
    assert_eq!(out(&again), "house/gull-loaf-2.dough\n");
    // Dry, nothing is written.
    let dry = assize(at, &["read", "loaf.txt", "--to", "none", "--dry-run"]);
    assert!(out(&dry).contains("formula gull-loaf ") && !at.join("none").exists());
    // A starter is asked for its make-up.
    write("sour.txt", "Sour\n\n400 g bread flour\n280 g water\n90 g sourdough starter\n8 g salt\n");
    let sour = assize(at, &["read", "sour.txt", "--to", "-"]);
    assert_eq!(sour.status.code(), Some(1));
    assert!(
        err(&sour).contains("needs-a-decision")
            && out(&sour).contains("# decide: what `sourdough starter` is made of")
    );
    let told = assize(at, &["read", "sour.txt", "--to", "-", "--culture", "white culture"]);
    assert_eq!((told.status.code(), err(&told)), (Some(0), String::new()));
    assert!(out(&told).contains("white culture"), "{}", out(&told));
    let none = assize(at, &["read", "sour.txt", "--culture", "gannet culture"]);
    assert_eq!(none.status.code(), Some(2));
    // What gives no formula, and what is not there.
    write("words.txt", "No bread here.\n");
    assert_eq!(assize(at, &["read", "words.txt"]).status.code(), Some(1));
    assert_eq!(assize(at, &["read", "nothing.txt"]).status.code(), Some(1));
    write("broken.xlsx", "PK");
    assert_eq!(assize(at, &["read", "broken.xlsx"]).status.code(), Some(1));
}

/// What contradicts itself, what no kitchen could measure, and a unit that nobody wrote are
/// told; what agrees, of the flour or of the whole, is not.
#[test]
fn nothing_is_guessed_in_silence() {
    let folder = folder();
    let brought = |name: &str, text: &str| {
        let path = folder.path().join(name);
        fs::write(&path, text).expect("written");
        brought(&path, &Options::default())
    };
    let table = |water: &str, percent: &str| {
        let head = "ingredient,weight,percent\nbread flour,500 g,100\n";
        brought("a.csv", &format!("{head}water,{water},{percent}\nsalt,10 g,2\n"))
    };
    for (water, percent, is_right) in [
        ("400 g", "65", false),
        ("325 g", "56", false),
        ("3250 g", "65", false),
        ("325 g", "65", true),
        ("327 g", "65", true),
        ("327 g", "65.4", true),
    ] {
        let told = table(water, percent);
        let is_told = told.contains("# decide: which of two is right: `water`");
        assert_eq!(is_told, !is_right, "{water} {percent}: {told}");
    }
    // Of the whole, as some write it; and of the flour that a starter brings as well.
    let whole =
        "ingredient,weight,percent\nbread flour,500 g,60\nwater,320 g,38.4\nsalt,13 g,1.6\n";
    assert!(!brought("b.csv", whole).contains("decide"), "{}", brought("b.csv", whole));
    let sour = "ingredient,weight,percent\nbread flour,450 g,90\nwater,300 g,60\nwhite culture,100 g,20\nsalt,10 g,2\n";
    assert!(!brought("c.csv", sour).contains("which of two"), "{}", brought("c.csv", sour));
    let spoilt = sour.replace("300 g,60", "300 g,65");
    assert!(
        brought("c.csv", &spoilt).contains("`water` is 300 g"),
        "{}",
        brought("c.csv", &spoilt)
    );
    // A cell without a unit, and cells that have one in their head or beside them.
    let bare =
        |text: &str| brought("d.csv", text).matches("in grams, for no unit is written").count();
    assert_eq!(bare("ingredient,weight\nbread flour,500 g\nwater,325 g\nsalt,10\n"), 1);
    assert_eq!(bare("ingredient,weight (g)\nbread flour,500\nwater,325\nsalt,10\n"), 0);
    assert_eq!(bare("ingredient,amount,unit\nbread flour,500,g\nwater,325,g\nsalt,10,g\n"), 0);
    assert_eq!(bare("ingredient,Loaf A,Loaf B\nbread flour,500,400\nwater,325,300\n"), 2);
    // No measure: the line is kept, and nothing is made of it.
    for line in ["1/0 cup milk", "1/00 cup milk", "3/0 tsp salt", "1/99 cup milk", "1⁄0 cup milk"]
    {
        let told = brought(
            "e.md",
            &format!("# Loaf\n\n- 500 g bread flour\n- 300 g water\n- {line}\n- 9 g salt\n"),
        );
        let is_asked = told.contains(&format!("# decide: how much is {line}"))
            || told.contains(&format!("# not read: {line}"));
        assert!(is_asked && told.contains("# decide: how much"), "{line}: {told}");
    }
    for line in ["1/2 cup milk", "250g/9oz butter", "1 1/2 tsp sugar", "250 g / 9 oz butter"] {
        let told = brought(
            "e.md",
            &format!("# Loaf\n\n- 500 g bread flour\n- 300 g water\n- {line}\n- 9 g salt\n"),
        );
        assert!(!told.contains("not read"), "{line}: {told}");
    }
}

/// A recipe of a list and a method, as it is brought in.
fn listed(list: &[&str], method: &str) -> assize::testing::bring::Written {
    let text = format!("Loaf of the Quay\n\n{}\n\nMethod\n\n{method}\n", list.join("\n"));
    let read = recipes(Path::new("list.txt"), text.as_bytes()).expect("one");
    let [recipe] = read.recipes.as_slice() else { panic!("{text}") };
    write(recipe, "list.txt", &Options::default())
}

/// Whatever holds an allergen and stands in a list without an amount, or goes onto the bread, or
/// is named by a step alone, is asked about: it is never in a comment only.
#[test]
fn nothing_that_holds_an_allergen_is_left_out_in_silence() {
    let stock = assize::testing::formula::built_in();
    let names = stock.ingredients().filter(|it| {
        let mut named = it.declared.named.iter();
        named.any(|one| !["wheat", "barley"].contains(&one.key()))
    });
    let names: Vec<String> = names.map(|it| it.name.shown.to_string()).collect();
    assert!(names.len() > 60, "{}", names.len());
    let mut silent = Vec::new();
    for (at, name) in names.iter().enumerate() {
        let forms = [
            name.clone(),
            format!("some {name}"),
            format!("{name}, to taste"),
            format!("a little {name} for the top"),
            format!("50 g {name}, to finish"),
        ];
        let form = &forms[at % forms.len()];
        let (before, after) =
            (["500 g bread flour", "320 g water"], ["10 g salt", "5 g fresh yeast"]);
        let bulleted = format!("- {form}");
        let places = [
            [&before[..], &[form.as_str()], &after].concat(),
            [&before[..], &after, &[form.as_str()]].concat(),
            [&before[..], &after, &["", form.as_str()]].concat(),
            [&["- 500 g bread flour", "- 320 g water"][..], &[bulleted.as_str()], &["- 9 g salt"]]
                .concat(),
        ];
        for list in &places {
            let written = listed(list, "Mix for 10 minutes. Bake for 40 minutes at 230 °C.");
            let is_asked = written.decisions.iter().any(|it| it.contains(name.as_str()));
            let has_it = written
                .text
                .lines()
                .any(|line| !line.trim_start().starts_with('#') && line.contains(name.as_str()));
            if !is_asked && !has_it {
                silent.push(format!("{list:?}"));
            }
        }
    }
    assert!(silent.is_empty(), "{} silent:\n{}", silent.len(), silent.join("\n"));
    let plain = ["500 g bread flour", "320 g water", "10 g salt", "5 g fresh yeast"];
    for (method, food) in [
        ("Brush with beaten egg. Bake for 40 minutes at 230 °C.", "egg"),
        ("Mix for 10 minutes. Fold in the walnuts. Bake for 40 minutes at 230 °C.", "walnuts"),
        ("Kneten. Mit Sesam bestreuen. 40 Minuten bei 230 °C backen.", "Sesam"),
        ("Pétrir 10 minutes. Badigeonner de lait. Cuire 40 minutes à 230 °C.", "lait"),
        ("Amasar. Pincelar con huevo batido. Hornear 40 minutos a 220 °C.", "huevo"),
        ("Impastare. Spennellare con il latte. Cuocere 40 minuti a 220 °C.", "latte"),
    ] {
        let written = listed(&plain, method);
        let is_asked = written.decisions.iter().any(|it| it.contains(&food.to_lowercase()));
        assert!(is_asked, "{method}: {:?}", written.decisions);
    }
    // What is on a line is asked about no second time.
    for list in [
        &["500 g bread flour", "320 g water", "10 g salt", "5 g fresh yeast", "2 eggs (100 g)"][..],
        &["500 g bread flour", "320 g water", "10 g salt", "5 g fresh yeast", "80 g walnuts"],
    ] {
        let written = listed(list, "Mix in the egg and the walnuts for 10 minutes.");
        let asked = written.decisions.iter().filter(|it| it.contains("goes in")).count();
        assert_eq!(asked, 1, "{:?}", written.decisions);
    }
    let head = listed(&["500 g bread flour", "", "320 g water", "10 g salt"], "Mix everything.");
    assert_eq!(head.decisions, Vec::<String>::new());
}

/// A step that says a time or a heat without a number of its own is left to its author.
#[test]
fn a_time_in_words_makes_no_step_of_another_length() {
    let plain = ["500 g bread flour", "320 g water", "10 g salt", "5 g fresh yeast"];
    for step in [
        "Laisser lever 2 h puis une nuit au réfrigérateur",
        "Rise overnight in the fridge",
        "Bake at 220 C for 40 min, then reduce to 200 C for 15 more minutes",
        "Bake 450F for 30 mins, then 400F for another 15",
        "Bake 30 min at 375",
        "2 Stunden und dann über Nacht gehen lassen",
        "Dejar fermentar 2 horas y toda la noche en la nevera",
        "Lascia lievitare 2 ore e poi una notte in frigorifero",
    ] {
        let written = listed(&plain, &format!("1. Mix for 10 minutes.\n2. {step}."));
        let is_asked = written.decisions.iter().any(|it| it.contains(step));
        assert!(is_asked, "{step}: {}", written.text);
        let is_step = |line: &str| {
            line.trim_start().starts_with("step ") && line.contains(&format!("\"{step}"))
        };
        assert!(written.text.lines().any(is_step), "{}", written.text);
    }
    let raw = listed(&plain, "1. Mix for 10 minutes.\n2. Bake at 90C for 5 min.");
    assert!(raw.text.contains("bake  5min at 90C"), "{}", raw.text);
}

/// A table of Markdown is read by its heads, whatever the order of its columns.
#[test]
fn a_table_of_markdown_is_a_list() {
    let told = |table: &str| {
        let text = format!("# Focaccia of the Quay\n\n{table}\n\nMix for 10 minutes.\n");
        let read = recipes(Path::new("table.md"), text.as_bytes()).expect("one");
        let [recipe] = read.recipes.as_slice() else { panic!("{text}") };
        masses(&write(recipe, "table.md", &Options::default()).text)
    };
    let grams: BTreeMap<String, Exact> = [("bread flour", 1000), ("water", 800), ("salt", 22)]
        .map(|(k, v)| (k.to_owned(), int(v)))
        .into();
    for table in [
        "| Ingredient | Amount | % |\n|---|---|---|\n| Bread flour | 1000 g | 100 |\n| Water | 800 g | 80 |\n| Salt | 22 g | 2.2 |",
        "Weight (g) | Ingredient\n--- | ---\n1000 | Bread flour\n800 | Water\n22 | Salt",
        "| % | Ingrediente | Peso |\n|:-:|---|--:|\n| 100 | bread flour | 1 kg |\n| 80 | Acqua | 800 g |\n| 2,2 | Sale | 22 g |\n| 182,2 | Totale | 1822 g |",
    ] {
        assert_eq!(told(table), grams, "{table}");
    }
}
