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
    let dry = assize(at, &["read", "loaf.txt", "--dry-run"]);
    assert!(out(&dry).contains("formula gull-loaf ") && !at.join("gull-loaf.dough").exists());
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
fn listed(list: &[&str], method: &str) -> assize::testing::bring::WrittenFormula {
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

/// Whether a formula has a line of so much of something.
fn has_line(text: &str, name: &str, amount: &str) -> bool {
    text.lines().filter(|line| !line.trim_start().starts_with('#')).any(|line| {
        let line = line.split('#').next().unwrap_or_default();
        let words: Vec<&str> = line.split_whitespace().collect();
        let words = words.join(" ");
        words.starts_with(&format!("{name} {amount}"))
    })
}

/// A second thing on a line is a line of its own, in five languages and however it is parted.
#[test]
fn two_things_on_one_line_are_two_lines() {
    let of = [
        (
            "en",
            "bread flour",
            "water",
            "salt",
            [("milk", "milk"), ("hazelnuts", "hazelnuts"), ("egg powder", "")],
        ),
        (
            "fr",
            "farine de blé",
            "eau",
            "sel",
            [("lait", "milk"), ("beurre", ""), ("noisettes", "hazelnuts")],
        ),
        (
            "de",
            "Weizenmehl Type 550",
            "Wasser",
            "Salz",
            [("Milch", "milk"), ("Butter", ""), ("Haselnüsse", "hazelnuts")],
        ),
        (
            "es",
            "harina de fuerza",
            "agua",
            "sal",
            [("leche", "milk"), ("mantequilla", ""), ("avellanas", "hazelnuts")],
        ),
        (
            "it",
            "farina di forza",
            "acqua",
            "sale",
            [("latte", "milk"), ("burro", ""), ("nocciole", "hazelnuts")],
        ),
    ];
    let mut lost = Vec::new();
    for (code, flour, water, salt, foods) in of {
        for joint in [", ", "; ", " + ", " & ", " / "] {
            for (food, _) in foods {
                let text = format!(
                    "Loaf of the Quay\n\n500 g {flour}\n300 g {water}{joint}120 g {food}\n10 g {salt}\n"
                );
                let read = recipes(Path::new("list.txt"), text.as_bytes()).expect("one");
                let [recipe] = read.recipes.as_slice() else { panic!("{text}") };
                let options = Options { language: Some(code.to_owned()), ..Options::default() };
                let written = write(recipe, "list.txt", &options);
                let is_line = written.text.lines().any(|line| {
                    !line.trim_start().starts_with('#')
                        && line.split('#').next().unwrap_or_default().contains("120 g")
                        && !line.contains("300 g")
                });
                let is_asked = written.decisions.iter().any(|it| it.contains(food));
                if !is_line && !is_asked || written.text.contains("\"120 g") {
                    lost.push(format!("{text}\n{}", written.text));
                }
            }
        }
    }
    assert!(lost.is_empty(), "{} lost: {}", lost.len(), lost.join("\n"));
    // What is beside a line in other words is asked about.
    for (line, food) in [
        ("30 g sunflower seeds (or walnuts)", "walnuts"),
        ("30 g sunflower seeds (20 g of them chopped walnuts)", "30 g sunflower seeds"),
        ("300 g water + 20 g", "300 g water + 20 g"),
        ("300 ml water + 2 tbsp", "300 ml water + 2 tbsp"),
        ("500 g bread flour, 100 g of it sieved", "100 g of it sieved"),
        ("250 g water, or milk", "milk"),
    ] {
        let list = ["500 g bread flour", line, "10 g salt", "5 g instant yeast"];
        let written = listed(&list, "Mix for 10 minutes.");
        let is_asked = written.decisions.iter().any(|it| it.contains(food));
        assert!(is_asked, "{line}: {}", written.text);
    }
    // A line of one thing stays one, and is asked about nothing.
    for line in
        ["300 g water, cold", "300 g water (at 20 °C)", "40 g walnuts, chopped", "2 eggs, beaten"]
    {
        let list = ["500 g bread flour", line, "10 g salt", "5 g instant yeast"];
        let written = listed(&list, "Mix for 10 minutes.");
        assert_eq!(written.decisions, Vec::<String>::new(), "{line}: {}", written.text);
    }
    let one = "One Line\n\n500g bread flour, 250ml milk, 60g butter, 10g salt, 6g instant yeast, 1 egg\n\nMix.\n";
    let read = recipes(Path::new("list.txt"), one.as_bytes()).expect("one");
    let written = write(&read.recipes[0], "list.txt", &Options::default());
    for (name, amount) in [("bread flour", "500 g"), ("salt", "10 g"), ("instant yeast", "6 g")] {
        assert!(has_line(&written.text, name, amount), "{name}: {}", written.text);
    }
    assert_eq!(written.text.matches("60 g").count() + written.text.matches("60g").count(), 2);
}

/// A count beside a weight in brackets: nobody knows whether it is of each or of all.
#[test]
fn a_weight_beside_several_packets_is_asked_about() {
    for line in [
        "½ sachet instant yeast (7 g)",
        "2 sachets instant yeast (14 g)",
        "1/2 Würfel Frischhefe (21 g)",
        "mezzo cubetto di lievito di birra (12 g)",
        "2 bustine di zucchero (10 g)",
        "2 sobres de levadura seca (11 g)",
        "2 paquets de sucre (15 g)",
        "half a tin of pumpkin (200 g)",
    ] {
        let written = listed(&["500 g bread flour", "300 g water", line, "10 g salt"], "Mix.");
        let is_asked = written.decisions.iter().any(|it| it.contains(line));
        assert!(is_asked && written.text.contains(line), "{line}: {}", written.text);
    }
    for (line, name, amount) in [
        ("1 sachet instant yeast (7 g)", "instant yeast", "7 g"),
        ("2 x 7 g sachets instant yeast", "instant yeast", "14 g"),
    ] {
        let written = listed(&["500 g bread flour", "300 g water", line, "10 g salt"], "Mix.");
        assert!(has_line(&written.text, name, amount), "{line}: {}", written.text);
    }
}

/// Two times of one step are no time of it.
#[test]
fn a_time_of_two_numbers_is_asked_about() {
    let plain = ["500 g bread flour", "320 g water", "10 g salt", "5 g fresh yeast"];
    for step in [
        "Bake 20 + 15 minutes at 230 °C",
        "Mix for 4 + 3 minutes",
        "Rise 2 x 45 minutes",
        "Pétrir 4 + 3 minutes",
        "Bake 20 and 15 minutes at 230 °C",
        "Bake @ 375 for 45 min",
    ] {
        let written = listed(&plain, &format!("1. Mix everything.\n2. {step}."));
        let is_asked = written.decisions.iter().any(|it| it.contains(step));
        assert!(is_asked, "{step}: {}", written.text);
    }
}

/// What is brushed on is asked about, in five languages.
#[test]
fn a_wash_goes_into_no_dough() {
    for line in [
        "1 egg, for egg wash",
        "1 egg (egg wash)",
        "1 egg for the wash",
        "2 tbsp oil for the bowl",
        "1 œuf (dorure)",
        "1 œuf pour la dorure",
        "1 Ei (Eistreiche)",
        "1 Ei zum Abglänzen",
        "1 huevo para barnizar",
        "1 uovo per la doratura",
    ] {
        let written = listed(&["500 g bread flour", "300 g water", line, "10 g salt"], "Mix.");
        let is_asked = written.decisions.iter().any(|it| it.contains(line));
        let is_line = written.text.lines().any(|it| {
            let own = it.split('#').next().unwrap_or_default();
            own.contains("egg") || own.contains("oil")
        });
        assert!(is_asked && !is_line, "{line}: {}", written.text);
    }
}

/// What the command writes is read again without a slip of the language, and nothing is declared
/// twice, though several recipes name the same unknown thing.
#[test]
fn what_is_written_parses_and_declares_nothing_twice() {
    let folder = folder();
    let at = folder.path();
    let several = "# Pier\n\n500 g bread flour\n300 g water\n10 g gannet dust\n2 tbsp oil for the bowl\n\n# Mole\n\n500 g bread flour\n320 g water\n8 g gannet dust\n50 g granola with hazelnuts\n1 egg in the wash\n\n# Quay\n\n400 g farine T65\n20 g Gannet dust\n260 g water\n";
    fs::write(at.join("several.md"), several).expect("written");
    let own = top().join("tests/book/read");
    let own = own.to_string_lossy();
    let done = assize(at, &["read", "several.md", &own, "--to", "house"]);
    assert!(out(&done).lines().count() > 60, "{}", err(&done));
    fs::write(at.join("house/house.dough"), "bakehouse \"Gullhaven Bakehouse\" {}\n").expect("ok");
    let told = out(&assize(at, &["check", "house", "--format", "short"]));
    let wrong: Vec<&str> = told
        .lines()
        .filter(|line| {
            ["declared-twice", "reserved-word", "not-understood", "unreadable", "unclosed"]
                .iter()
                .any(|rule| line.contains(&format!("[{rule}]")))
        })
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    // Read once more into the same folder, it is declared by the file that stands there.
    let again = assize(at, &["read", "several.md", "--to", "house"]);
    assert!(out(&again).contains("house/pier-2.dough"), "{}", err(&again));
    let told = out(&assize(at, &["check", "house", "--format", "short"]));
    assert!(!told.contains("[declared-twice]"), "{told}");
}

/// A row of a table without a unit is no gram of an egg; a recipe in each row is one each.
#[test]
fn tables_without_units_and_with_a_recipe_in_each_row() {
    let of = |text: &str| {
        let read = recipes(Path::new("t.csv"), text.as_bytes()).expect("some");
        let all = read.recipes.iter().map(|it| write(it, "t.csv", &Options::default()));
        all.collect::<Vec<_>>()
    };
    for table in [
        "ingredient,amount,unit\nbread flour,500,g\nwater,250,g\neggs,2,\nsalt,10,g\n",
        "ingredient,weight\nbread flour,500\nwater,250\neggs,2\nsalt,10\n",
        "Zutat;Menge;Einheit\nWeizenmehl Type 550;500;g\nWasser;250;g\nEier;2;\nSalz;10;g\n",
        "ingredient,Loaf A,Loaf B\nbread flour,500,400\nwater,250,200\neggs,2,3\n",
    ] {
        for written in of(table) {
            let is_two_grams = written
                .text
                .lines()
                .any(|it| it.contains("egg") && (it.contains(" 2 g") || it.contains(" 3 g")));
            assert!(!is_two_grams, "{table}: {}", written.text);
        }
    }
    let rows = "recipe,bread flour,rye flour,water,salt,instant yeast\nPier Bread,900,100,650,20,10\nMast Bread,800,200,700,18,9\n";
    let all = of(rows);
    let names: Vec<&str> = all.iter().map(|it| it.name.as_str()).collect();
    assert_eq!(names, ["pier-bread", "mast-bread"]);
    assert!(has_line(&all[0].text, "bread flour", "900 g"), "{}", all[0].text);
    assert!(has_line(&all[1].text, "water", "700 g"), "{}", all[1].text);
    let units = of(
        "name;bread flour;water;salt;fresh yeast\nPier;900 g;650 g;20 g;10 g\nMole;1 kg;700 g;20 g;10 g\n",
    );
    assert_eq!(units.len(), 2);
    assert!(has_line(&units[1].text, "bread flour", "1 kg"), "{}", units[1].text);
}

/// Signs that a screen obeys do not reach it, and words about a bread mix nothing.
#[test]
fn signs_of_control_and_slogans_do_nothing() {
    let folder = folder();
    let at = folder.path();
    let text = "Lo\u{1b}[31maf\n\n500 g bread flour\n300 g wa\u{7}ter\u{202e}\n10 g salt\u{9b}2J\n\nMix \u{1b}]0;x\u{7} well.\n";
    fs::write(at.join("e.txt"), text).expect("written");
    let done = assize(at, &["read", "e.txt", "--to", "-"]);
    let said = out(&done) + &err(&done);
    let is_sign = |it: char| it != '\n' && (it.is_control() || it == '\u{202e}');
    assert!(!said.contains(is_sign), "{said:?}");
    for slogan in
        ["Vegan and nut-free!", "Sans lait !", "Ganz ohne Ei!", "¡Sin huevo!", "Senza latte!"]
    {
        let list = ["500 g bread flour", "300 g water", "10 g salt", "5 g fresh yeast"];
        let written = listed(
            &list,
            &format!("{slogan}\n\n1. Mix everything for 10 minutes.\n2. Bake for 40 minutes."),
        );
        let steps = written.text.lines().filter(|it| it.trim_start().starts_with("step "));
        let step = steps.map(str::to_owned).find(|it| it.contains(slogan));
        assert_eq!(step, None, "{}", written.text);
        assert!(written.text.contains(slogan.trim_end_matches([' ', '!'])), "{}", written.text);
    }
}

/// What stands at the head of a file or in brackets beside a head says what is made and how it is
/// called.
#[test]
fn heads_say_what_is_made() {
    let list = "500 g bread flour\n300 g water\n10 g salt\n5 g fresh yeast\n";
    let of = |text: String| {
        let read = recipes(Path::new("t.md"), text.as_bytes()).expect("one");
        let text = write(&read.recipes[0], "t.md", &Options::default()).text;
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let front = of(format!("---\ntitle: Ship's Loaf\ndate: 2026-11-02\n---\n\n{list}"));
    assert!(front.contains("formula ship-s-loaf \"Ship's Loaf\""), "{front}");
    assert!(front.contains("# not read: date: 2026-11-02"), "{front}");
    let german = of(format!("Hafenbrot\n\nZutaten (2 Brote zu je 750 g):\n{list}"));
    assert!(german.contains("makes 2 Brote") && german.contains("750 g"), "{german}");
    let title = of(format!("Quay Loaf (yields two loaves)\n\n{list}"));
    assert!(title.contains("formula quay-loaf \"Quay Loaf\""), "{title}");
    assert!(title.contains("two loaves"), "{title}");
}

/// A mark that parts thousands in one line and decimals in another is asked about.
#[test]
fn marks_of_thousands_and_decimals_are_not_guessed() {
    let folder = folder();
    for (one, other, is_asked) in [
        ("1,250 g", "1.250 g", true),
        ("1.250 g", "12.5 g", true),
        ("1,250 g", "12,5 g", true),
        ("1,250 g", "12.5 g", false),
        ("1.250 g", "12,5 g", false),
        ("1,250 g", "1,100 g", false),
        ("1250 g", "12.5 g", false),
    ] {
        let path = folder.path().join("odd.md");
        let list = format!("# Odd Loaf\n\n- {one} bread flour\n- {other} sugar\n- 10 g salt\n");
        fs::write(&path, list).expect("written");
        let told = brought(&path, &Options::default());
        assert_eq!(told.contains("# decide: how much `"), is_asked, "{one} {other}: {told}");
    }
}

/// What is less than nothing, what has two units, and what has two names is asked, in each form.
#[test]
fn what_a_table_cannot_mean_is_asked() {
    let rows = [
        ("ingredient,amount\nbread flour,500 g\nwater,300 g\nsalt,{}\n", "-10"),
        ("ingredient,amount\nbread flour,500 g\nwater,300 g\nsalt,{}\n", "-10 g"),
        ("ingredient,amount\nbread flour,500 g\nwater,300 g\nsalt,{}\n", "–10"),
        ("ingredient,amount\nbread flour,500 g\nwater,300 g\nsalt,{}\n", " - 10"),
        ("ingredient,%\nbread flour,100\nwater,60\nsalt,{}\n", "-2"),
        ("ingredient,unit,g\nbread flour,g,500\nwater,g,300\nsalt,{}\n", "lb,10"),
        ("ingredient,g,unit\nbread flour,500,\nwater,300,g\nsalt,{}\n", "10,kg"),
        ("ingredient,amount\nbread flour,500 g\nwater,300 g\n{}\n", "\"fresh yeast\nsalt\",10 g"),
    ];
    for (table, odd) in rows {
        let text = table.replace("{}", odd);
        let folder = folder();
        fs::write(folder.path().join("a.csv"), &text).expect("written");
        let done = assize(folder.path(), &["read", "a.csv", "--dry-run"]);
        assert!(out(&done).contains("# decide:"), "{text}: {}", out(&done));
        assert!(!out(&done).contains("\n    salt          10 g"), "{text}: {}", out(&done));
    }
    let page = r#"<script type="application/ld+json">{"@type":"Recipe","name":"Q","recipeIngredient":["500 g bread flour","300 g water","-5 g salt"]}</script>"#;
    let folder = folder();
    fs::write(folder.path().join("a.html"), page).expect("written");
    let done = assize(folder.path(), &["read", "a.html", "--dry-run"]);
    assert!(out(&done).contains("# decide:") && !out(&done).contains(" 5 g"), "{}", out(&done));
    // The same unit twice is one.
    fs::write(
        folder.path().join("b.csv"),
        "ingredient,unit,g\nbread flour,g,500\nsalt,grams,10\nwater,,300\n",
    )
    .expect("written");
    let done = assize(folder.path(), &["read", "b.csv", "--dry-run"]);
    assert!(out(&done).contains("salt          10 g"), "{}", out(&done));
}
