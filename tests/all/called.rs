//! What ingredients are called: `tests/words/names.txt`, whose head says how it is written.

use crate::support::{assize, dough_files, err, findings, folder, from_disk, loaded, out, top};
use assize::testing::desk;
use assize::testing::formula::class::Nutrient;
use assize::testing::formula::{LineRef, built_in, work};
use assize::testing::quantity::{Exact, int, read_number};
use assize::testing::source::SourceId;
use assize::testing::syntax::{format, read};
use std::fs;

/// A file in which one line has a name, in a house of a language.
fn text_with(language: &str, line: &str) -> String {
    let house = match language {
        "-" => String::new(),
        language => {
            format!("bakehouse \"Gullhaven Bakehouse\" {{\n  language \"{language}\"\n}}\n\n")
        }
    };
    format!(
        "{house}formula quay-loaf \"Quay Loaf\" {{\n  total {{\n    {line}\n    spring wheat \
         flour (last) 400 g\n  }}\n}}\n"
    )
}

/// What the first line means, as the stores call it, and its note.
fn meant(text: &str) -> (Option<String>, String) {
    let loaded = loaded(text);
    let bakehouses = desk::bakehouses(&loaded);
    let house = &bakehouses[0].house;
    let tree = &bakehouses[0].files[0].tree;
    let mut findings = Vec::new();
    let worked = work(house, &tree.formulas[0], &mut findings);
    let line = worked.first().dough_lines.first().or(worked.first().total_lines.first());
    let note = tree.formulas[0].total.as_ref().and_then(|mix| mix.lines.first());
    let note = note.and_then(|line| line.note.as_ref());
    let note = note.map(|note| note.parts.iter().map(|part| format!("{part:?}")).collect());
    let meant = line.and_then(|line| match line.goes {
        LineRef::Ingredient(id) => Some(house.ingredient(id).name.shown.to_string()),
        _ => None,
    });
    (meant, note.unwrap_or_default())
}

#[test]
fn names_of_eight_countries_mean_what_is_meant() {
    let table = fs::read_to_string(top().join("tests/words/names.txt")).expect("readable");
    let mut wrong = Vec::new();
    let mut rows = 0;
    for line in table.lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
        rows += 1;
        let columns: Vec<&str> = line.split('|').map(str::trim).collect();
        let [language, name, wanted] = columns[..3] else { panic!("{line}") };
        let note = columns.get(3).and_then(|note| note.strip_prefix("= "));
        let text = text_with(language, &format!("{name} 100 g"));
        let said = findings(&text);
        let asked = said.iter().find(|said| said.message.contains("used for several things"));
        let errors: Vec<&str> = said
            .iter()
            .filter(|said| {
                ["unknown-ingredient", "reserved-word", "unexpected-text"].contains(&said.rule.name)
            })
            .map(|said| said.message.as_str())
            .collect();
        let found = match wanted {
            "?" if asked.is_some() => continue,
            "!" if !errors.is_empty() && asked.is_none() => continue,
            _ => meant(&text),
        };
        let is_right = found.0.as_deref() == Some(wanted)
            && errors.is_empty()
            && note.is_none_or(|note| found.1.contains(note));
        if !is_right {
            wrong.push(format!("{line}: {found:?} {errors:?}"));
        }
    }
    assert!(wrong.is_empty(), "{} of {rows} are wrong:\n{}", wrong.len(), wrong.join("\n"));
    assert!(rows >= 300, "{rows} names");
}

/// The formatter leaves every name as its author wrote it, and twice is as once.
#[test]
fn the_formatter_keeps_the_authors_names() {
    let table = fs::read_to_string(top().join("tests/words/names.txt")).expect("readable");
    for line in table.lines().filter(|line| !line.is_empty() && !line.starts_with('#')) {
        let name = line.split('|').nth(1).expect("a name").trim();
        let text = text_with("-", &format!("{name} 100 g"));
        let once = format(SourceId::INGREDIENTS, &text).expect("laid out");
        assert!(once.contains(&format!("{name} ")), "{name}: {once}");
        assert_eq!(format(SourceId::INGREDIENTS, &once).expect("laid out"), once);
    }
}

#[test]
fn a_number_before_an_amount_is_of_the_name() {
    for (line, wanted) in [
        ("Mehl Type 550 500 g", "wheat flour 550"),
        ("Mehl 550 1 1/2 lb", "wheat flour 550"),
        ("farina 00 2 lb", "00 flour"),
        ("500 g Mehl Type 550", "wheat flour 550"),
        ("bread flour 1 1/2 cups", "bread flour"),
        ("bread flour 1 ½ cups", "bread flour"),
    ] {
        assert_eq!(meant(&text_with("-", line)).0.as_deref(), Some(wanted), "{line}");
    }
}

/// Steps, bases and claims may use another name of what stands on a line.
#[test]
fn steps_and_bases_know_a_line_by_each_of_its_names() {
    let text = "formula quay-loaf \"Quay Loaf\" {\n  makes 2 loaves at 800 g\n  total {\n    Mehl \
                Type 550 100%\n    warm water (first) 60%\n    cold water 5%\n    plain flour 10%\n    \
                salt 2% of Weizenmehl 550\n    fresh yeast 2%\n    butter 4%, melted\n  }\n  \
                expect { Mehl 550 90%..92% }\n  method {\n    mix 6min with Weizenmehl Type 550, \
                all-purpose flour, warm water, cold water, salt, yeast fresh, melted butter\n    \
                bulk 2h at 24C\n    divide\n    shape\n    proof 1h at 26C\n    bake 40min at \
                230C\n  }\n}\n";
    let text = text.replace("yeast fresh", "compressed yeast");
    let said = findings(&text);
    let wrong = said.iter().filter(|said| {
        said.rule.name.contains("unknown") || said.rule.name.contains("never-added")
    });
    let wrong: Vec<&str> = wrong.map(|said| said.message.as_str()).collect();
    assert!(wrong.is_empty(), "{wrong:?}");
}

/// A name of a house's own means that, whatever else it may mean.
#[test]
fn a_houses_own_name_comes_first() {
    for own in [
        "ingredient Mehl Type is other { contains nothing }",
        "culture farina { bread flour 100%; water 100% }",
        "mixture manteca { sugar 100%; water 10% }",
    ] {
        let name = own.split(' ').nth(1).expect("a name");
        let name = if name == "Mehl" { "Mehl Type" } else { name };
        let text = format!("{own}\n{}", text_with("-", &format!("{name} 100 g")));
        let said = findings(&text);
        assert!(said.iter().all(|said| said.rule.name != "unknown-ingredient"), "{name}: {said:?}");
        assert_eq!(meant(&text).0.filter(|it| it != "Mehl Type"), None, "{name}");
    }
}

/// What is printed is what was written, in a house of any language.
#[test]
fn prints_keep_the_authors_words() {
    for language in ["en", "de", "it"] {
        let folder = folder();
        let line = "Mehl Type 550 500 g\n    eau tiède 600 g\n    salt 18 g\n    fresh yeast 10 g";
        let text = text_with(language, line).replace("  total", "  makes 1 loaf\n  total");
        fs::write(folder.path().join("quay.dough"), text).expect("written");
        let args = ["print", "quay.dough", "--only", "card", "--format", "html", "--to", "-"];
        let output = assize(folder.path(), &args);
        let page = out(&output);
        assert!(output.status.success(), "{}", err(&output));
        assert!(page.contains("Mehl Type 550") || page.contains("Mehl Type\u{a0}550"), "{page}");
        assert!(page.contains("tiède"), "{page}");
    }
}

/// The composition of flours by type against flours of the USDA that are milled alike:
/// the shares in 100 g differ by what mills and wheats differ.
#[test]
fn flours_by_type_are_made_as_their_like_in_the_usda_tables() {
    let of = |name: &str, nutrient| -> Option<Exact> {
        let ingredient = built_in().ingredient_named(name).unwrap_or_else(|| panic!("{name}"));
        ingredient.composition.get(nutrient).cloned()
    };
    let rows = usda();
    let mut compared = 0;
    for (name, number, most) in [
        ("wheat flour 405", "20481", "2.5"),
        ("wheat flour 550", "20481", "2.5"),
        ("wheat flour 812", "20129", "2.5"),
        ("wheat flour t45", "20481", "2.5"),
        ("wheat flour t55", "20481", "2.5"),
        ("wheat flour t65", "20129", "2.5"),
        ("0 flour", "20635", "2.5"),
        ("medium-strength flour", "20635", "2.5"),
        ("argentine flour 000", "20481", "2.5"),
        ("maida", "20481", "2.5"),
        ("wheat flour t150", "20080", "3.5"),
        ("graham flour", "20080", "3.5"),
        ("atta", "20080", "3.5"),
        ("rye flour 815", "20065", "4"),
        ("rye flour 1150", "20064", "4"),
        ("rye flour 1370", "20064", "4"),
    ] {
        let most = read_number(most).expect("a number").value;
        for (nutrient, column) in
            [(Nutrient::Water, 2), (Nutrient::Protein, 4), (Nutrient::Fat, 5), (Nutrient::Ash, 14)]
        {
            let row = rows.iter().find(|row| row[0] == number).expect("a row");
            let theirs = read_number(&row[column]).expect("a number").value;
            let Some(own) = of(name, nutrient) else { panic!("{name} has no {nutrient:?}") };
            let own = own * int(100);
            let apart = if own > theirs { &own - &theirs } else { &theirs - &own };
            assert!(apart <= most, "{name}: {nutrient:?} {own:?} and {theirs:?}");
            compared += 1;
        }
    }
    assert!(compared >= 60, "{compared}");
}

/// Of at least four hundred ingredients the store says how they count, how much water they
/// bring, and where that is known from.
#[test]
fn four_hundred_ingredients_say_their_class_their_water_and_their_source() {
    let store = include_str!("../../src/formula/stores/ingredients.dough");
    let (mut whole, mut lacking) = (0, Vec::new());
    for entry in store.split("\ningredient ").skip(1) {
        let (head, body) = entry.split_once('{').expect("a block");
        let says = |word: &str| body.lines().any(|line| line.trim_start().starts_with(word));
        match head.contains(" is ") && says("water ") && says("source ") {
            true => whole += 1,
            false => lacking.push(head.trim()),
        }
    }
    assert!(whole >= 400, "{whole}, not {lacking:?}");
}

/// The lines of the second table: number, description and shares.
fn usda() -> Vec<Vec<String>> {
    let table = fs::read_to_string(top().join("tests/words/usda-flours.tsv")).expect("readable");
    let lines = table.lines().filter(|line| !line.starts_with('#'));
    lines.map(|line| line.split('\t').map(str::to_owned).collect()).collect()
}

/// Reading names as people write them changes no formula that means something already: all
/// examples, published formulas and sound ones are read as they were.
#[test]
fn formulas_of_today_mean_what_they_meant() {
    let mut files = 0;
    for folder in ["examples/gullhaven", "tests/published", "tests/breads", "tests/combinations"] {
        for path in dough_files(folder) {
            let loaded = from_disk(&path);
            for file in loaded.files() {
                let text = fs::read_to_string(&file.path).expect("readable");
                let (tree, _) = read(file.source, &text);
                let (before, after) = (format!("{tree:?}"), format!("{:?}", file.tree));
                assert!(before == after, "{}", file.path.display());
                files += 1;
            }
        }
    }
    assert!(files > 60, "{files}");
}

/// A name that the stores have as it is written is that, in a house of any language.
#[test]
fn the_stores_own_names_come_before_all_others() {
    for language in ["-", "en-GB", "de", "fr", "es", "it"] {
        let names = built_in().ingredients().map(|ingredient| &ingredient.name.shown);
        let lines: Vec<String> = names.map(|name| format!("    \"{name}\" 1 g")).collect();
        let text = text_with(language, "water (first) 1 g")
            .replace("    water (first) 1 g", &lines.join("\n"));
        let loaded = loaded(&text);
        let tree = &loaded.files()[0].tree;
        let mix = tree.formulas[0].total.as_ref().expect("a total");
        for line in &mix.lines {
            let name = &line.target.name;
            assert!(built_in().ingredient_named(&name.key).is_some(), "{}", name.shown);
            assert_eq!(name.key, assize::testing::formula::key(&name.shown), "{language}");
        }
    }
}

/// How fast a mixer runs has a number. The first gear and the slowest are 1, the second is 2:
/// they are read. Of other words for it a finding tells the likely number, in five languages.
#[test]
fn a_speed_in_words_is_answered_with_its_number() {
    for (said, speed, is_certain) in [
        ("on low speed", 1, false),
        ("on high speed", 2, false),
        ("1st speed", 1, true),
        ("2nd speed", 2, true),
        ("auf niedriger Stufe", 1, false),
        ("auf hoher Stufe", 2, false),
        ("im ersten Gang", 1, true),
        ("im zweiten Gang", 2, true),
        ("à petite vitesse", 1, true),
        ("en deuxième vitesse", 2, true),
        ("a velocidad baja", 1, true),
        ("a velocidad alta", 2, false),
        ("a velocità minima", 1, true),
        ("a velocità massima", 2, false),
    ] {
        let text = format!(
            "formula pier-loaf \"Pier Loaf\" {{\n  makes 2 loaves at 885 g\n  total {{ bread flour 100%; \
             water 65%; salt 2%; fresh yeast 2% }}\n  method {{\n    mix 8min {said}\n    bulk 1h at 26C\n    \
             bake 40min at 230C\n  }}\n}}\n"
        );
        let told = findings(&text);
        let help = told.iter().find_map(|it| it.help.as_deref()).unwrap_or_default();
        let errors = told.iter().filter(|it| it.rule.name == "unknown-word").count();
        assert_eq!(errors, usize::from(!is_certain), "{said}");
        if !is_certain {
            assert!(help.ends_with(&format!("`speed {speed}`")), "{said}: {help}");
            continue;
        }
        let (tree, _) = read(SourceId(9), &text);
        let method = tree.formulas[0].method.as_ref().expect("a method");
        let read = method.steps[0].phases[0].speed.map(|(speed, _)| speed);
        assert_eq!(read, Some(speed), "{said}");
    }
}
