//! Both ends of ranges, what goes on pieces, names and places in other languages.

use crate::support::{assize, folder, loaded, out, over, top};
use assize::testing::desk;
use assize::testing::formula::{built_in, work};
use assize::testing::print::document::LinePart;
use assize::testing::print::{Document, Wording, document};
use assize::testing::quantity::Exact;
use assize::testing::quantity::display::read_exact;
use assize::testing::source::SourceId;
use assize::testing::syntax::{read, tree::Tree};
use std::fs;

fn documents(text: &str, language: &str) -> Vec<Document> {
    let loaded = loaded(text);
    let mut documents = Vec::new();
    for room in desk::bakehouses(&loaded) {
        for formula in room.files.iter().flat_map(|file| &file.tree.formulas) {
            let worked = work(&room.house, formula, &mut Vec::new());
            assert!(worked.sound, "{text}");
            documents.push(document(&room.house, &worked, &Wording::new(language, None).0, false));
        }
    }
    documents
}

/// A formula of ranges: in the dough, in a stage, in a mixture, by pieces.
fn ranged(makes: &str, water: (u32, u32), seeds: (u32, u32), culture: (u32, u32)) -> String {
    let range = |(low, high): (u32, u32)| {
        if low == high { format!("{low}%") } else { format!("{low}..{high}%") }
    };
    format!(
        "formula ranged-loaf \"Ranged Loaf\" {{\n  makes {makes}\n  dough {{\n    bread flour 100%\n    \
         water {}\n    salt 2%\n    sunflower seeds {}\n    levain 20%\n  }}\n  preferment levain {{\n    \
         bread flour 100%\n    water 90%\n    white culture {}\n    ripens 8h at 24C\n  }}\n  method {{\n    \
         mix 5min with everything else\n    proof 2h at 25C\n    bake 40min at 230C\n  }}\n}}\n",
        range(water),
        range(seeds),
        range(culture)
    )
}

fn value(number: &Option<String>) -> Option<Exact> {
    number.as_deref().and_then(read_exact)
}

/// What is more by a share is told by it twice: in grams and in per cent.
fn assert_both_ends(line: &LinePart, of: &str) -> bool {
    let weights = (line.weight_low.is_some(), line.weight_high.is_some());
    assert_eq!(weights.0, weights.1, "{of} {}", line.name);
    let (Some(low), Some(high)) = (value(&line.percent_low), value(&line.percent_high)) else {
        return weights.1;
    };
    let grams = |weight: &Option<assize::testing::print::document::Weight>| {
        let own = line.weight.as_ref().and_then(|weight| read_exact(&weight.grams));
        weight.as_ref().and_then(|weight| read_exact(&weight.grams)).or(own).unwrap_or_default()
    };
    let ratio = over(&high, &low);
    assert_eq!(
        over(grams(&line.weight_high), grams(&line.weight_low)),
        ratio,
        "{of} {}",
        line.name
    );
    assert!(line.more.is_some(), "{of} {}", line.name);
    let shown = line.percent.as_deref().unwrap_or_default();
    assert!(shown.contains('–'), "{of} {}: {shown}", line.name);
    true
}

#[test]
fn every_range_tells_both_ends_in_grams_and_per_cent() {
    let mut told = 0;
    for makes in ["2 loaves at 900 g", "20 kg dough", "from 5 kg flour"] {
        for water in [(65, 70), (70, 70)] {
            for seeds in [(10, 12), (0, 5), (8, 8)] {
                for culture in [(10, 20), (15, 15)] {
                    let seeds = (seeds.0.max(1), seeds.1);
                    let text = ranged(makes, water, seeds, culture);
                    let ranges = [water, seeds, culture].iter().filter(|it| it.0 != it.1).count();
                    let document = documents(&text, "en").remove(0);
                    let own = document.mixes.iter().flat_map(|mix| &mix.lines);
                    let count = own.filter(|line| assert_both_ends(line, &text)).count();
                    assert_eq!(count, ranges, "{text}");
                    let total = document.total.iter();
                    let moved = total.filter(|line| line.percent_high.is_some()).count();
                    assert!(moved >= ranges.min(1), "{text}");
                    // A levain of a written size takes its culture within it.
                    let grows = water.0 != water.1 || seeds.0 != seeds.1;
                    assert_eq!(document.total_sum_high.is_some(), grows, "{text}");
                    // The total's high end is the figure's.
                    let figure = document.figures.iter().find(|figure| figure.name == "hydration");
                    let figure = figure.expect("a figure");
                    let line = document.total.iter().find(|line| line.key == "water");
                    let line = line.expect("water");
                    let end = line.percent_high.as_ref().or(line.percent_exact.as_ref());
                    let wanted = figure.exact_high.as_ref().unwrap_or(&figure.exact);
                    assert_eq!(end, Some(wanted), "{text}");
                    told += count;
                }
            }
        }
    }
    assert!(told >= 36, "{told}");
}

#[test]
fn what_falls_where_another_rises_is_told_too() {
    let text = "formula rest-loaf \"Rest Loaf\" {\n  makes 20 kg dough\n  total {\n    bread flour the rest\n    \
                dark rye flour 10..20%\n    water 70%\n    salt 2%\n  }\n}\n";
    let document = documents(text, "en").remove(0);
    let bread = &document.total[0];
    assert_eq!(bread.percent.as_deref(), Some("80–90"));
    assert!(bread.more.as_deref().is_some_and(|more| more.ends_with(" less")), "{:?}", bread.more);
    assert_eq!(document.total[1].percent.as_deref(), Some("10–20"));
}

#[test]
fn show_and_csv_tell_both_ends_and_what_goes_on_a_piece() {
    let folder = folder();
    let text = "formula pie-rolls \"Pie Rolls\" {\n  makes 20 rolls at 80 g\n  bake loss 12%\n  total {\n    \
                bread flour 100%\n    water 62..65%\n    salt 2%\n    fresh yeast 2%\n  }\n  piece {\n    \
                sesame seeds 4 g\n  }\n  method {\n    mix 5min with everything else\n    bulk 1h at 25C\n    \
                shape 10min note \"[sesame seeds in pieces] on [pieces] of [piece].\"\n    proof 1h at 25C\n    \
                top with sesame seeds\n    bake 20min at 230C\n  }\n}\n";
    std::fs::write(folder.path().join("a.dough"), text).expect("written");
    let shown = out(&assize(folder.path(), &["show", "pie-rolls"]));
    assert!(shown.contains("62–65"), "{shown}");
    assert!(shown.contains("with each piece: sesame seeds 4.0 g (80.0 g in all)"), "{shown}");
    let csv = out(&assize(folder.path(), &["show", "pie-rolls", "--format", "csv"]));
    let row = |start: &str| csv.lines().find(|line| line.starts_with(start)).map(str::to_owned);
    let water = row("pie-rolls,final dough,water,").unwrap_or_default();
    assert!(water.contains(",62,,water,") && water.ends_with(",62"), "{water}");
    assert!(water.contains(",65,"), "{water}");
    assert!(row("pie-rolls,each piece,sesame seeds,,4,4.0,g").is_some(), "{csv}");
    assert!(row("pie-rolls,pieces,sesame seeds,,80,80.0,g").is_some(), "{csv}");
    // Another yield in dough is divided as usual, or says that it is too little.
    for (makes, said) in [("20 kg dough", "1 kg on 250 of 80 g"), ("from 3 kg flour", " on 62")] {
        let args = ["print", "pie-rolls", "--only", "card", "--format", "html", "--to", "-"];
        let args: Vec<&str> = args.into_iter().chain(["--makes", makes]).collect();
        let card = out(&assize(folder.path(), &args));
        assert!(card.contains(said), "{makes}");
    }
    let little = assize(folder.path(), &["print", "pie-rolls", "--makes", "100 g dough"]);
    let said = String::from_utf8_lossy(&little.stderr).into_owned();
    assert!(said.contains("about pieces") && said.contains("--makes"), "{said}");
}

/// The base of a stage's percentages stands at their head.
#[test]
fn a_column_is_headed_by_what_it_is_a_per_cent_of() {
    for (line, head) in [
        ("sunflower seeds", "% of its seeds"),
        ("rolled oats", "% of its grain"),
        ("bread flour", "% of its flour"),
        ("bread flour 10%\n    sunflower seeds", "% of its flour"),
        ("rolled oats 50%\n    sunflower seeds", "% of its grain and seeds"),
    ] {
        let share = if line.contains("oats 50") {
            50
        } else if line.contains("10%") {
            90
        } else {
            100
        };
        let share = if line.contains("flour 10%") { 30 } else { share };
        let flour =
            if line.contains("flour 10%") { line.replace("10%", "100%") } else { line.into() };
        let text = format!(
            "formula soaked \"Soaked\" {{\n  makes 2 kg dough\n  dough {{\n    bread flour 100%\n    water 60%\n    \
             salt 2%\n    fresh yeast 2%\n    soaker 20%\n  }}\n  soaker soaker {{\n    {flour} {share}%\n    \
             water 100%\n  }}\n}}\n",
        );
        let document = documents(&text, "en").remove(0);
        assert_eq!(document.groups[0].percent_of.as_deref(), Some(head), "{text}");
    }
}

/// Words that change what a food is: another one than in the name of its entry asks for a
/// name of its own in every language.
const TELLING: &[&str] = &[
    "whole",
    "wholemeal",
    "skim",
    "skimmed",
    "nonfat",
    "salted",
    "unsalted",
    "fresh",
    "dried",
    "dark",
    "light",
    "white",
    "red",
    "black",
    "brown",
    "hulled",
    "ground",
    "candied",
];

/// Other words for the same: nothing is lost where the main name is printed.
const SAME: &[(&str, &str)] = &[
    ("whole wheat flour", ""),
    ("white spelt flour", "light"),
    ("light rye flour", "white"),
    ("brown rice flour", "whole"),
    ("bread flour", "white"),
    ("all-purpose flour", "white"),
    ("rice flour", "white"),
    ("high-extraction flour", "brown"),
    ("sorghum flour", "whole"),
    ("rye grain", "whole"),
    ("barley grain", "hulled"),
    ("whole egg", ""),
    ("egg white", ""),
    ("vinegar", "white"),
    ("hulled sesame seeds", ""),
    ("sesame seeds", "whole"),
    ("almonds", "whole"),
    ("ground almonds", ""),
    ("ground hazelnuts", ""),
    ("desiccated coconut", "dried"),
    ("raisins", "dark"),
    ("currants", "dried"),
    ("molasses", "black"),
    ("roasted malt flour", "dark"),
    ("skimmed milk", ""),
    ("whey powder", "dried"),
    ("quark", "fresh"),
    ("sun-dried tomatoes", "dried"),
    ("prunes", "dried"),
    ("candied citron", ""),
    ("mixed peel", "candied"),
    ("glacé cherries", "candied"),
    ("potato flakes", "dried"),
    ("dried onion", ""),
    ("nigella seeds", "black"),
    ("bread spice", "ground"),
    ("turmeric", "ground"),
    ("chives", "fresh"),
    ("psyllium husk", "whole"),
    ("psyllium powder", "ground"),
    ("dried whole egg", ""),
    ("ground flax seeds", ""),
    ("soft whole wheat flour", ""),
    ("dark beer", "beer"),
    ("instant yeast", "dried"),
    ("active dry yeast", "dried"),
];

/// The store of ingredients as it is written.
fn store() -> Tree {
    let path = top().join("src/formula/stores/ingredients.dough");
    read(SourceId::ASKED, &std::fs::read_to_string(path).expect("readable")).0
}

#[test]
fn a_word_that_says_more_than_the_entry_has_a_name_of_its_own() {
    let (mut judged, mut lacking) = (0, Vec::new());
    for language in ["fr", "de", "es", "it"] {
        let words = Wording::new(language, None).0;
        for ingredient in &store().ingredients {
            let main = ingredient.name.key.as_str();
            for other in ingredient.also.iter().map(|other| other.key.as_str()) {
                let of = |name: &str| -> Vec<&str> {
                    TELLING
                        .iter()
                        .copied()
                        .filter(|word| name.split(' ').any(|it| it == *word))
                        .collect()
                };
                let (own, said) = (of(main), of(other));
                let new: Vec<&str> =
                    said.iter().copied().filter(|word| !own.contains(word)).collect();
                // `beer` for dark beer: the name of the entry says more than was written.
                let rest = main.split(' ').filter(|word| !own.contains(word)).collect::<Vec<_>>();
                let lost = said.is_empty() && !own.is_empty() && rest.join(" ") == other;
                let excused = SAME
                    .iter()
                    .any(|(entry, word)| *entry == main && (word.is_empty() || new.contains(word)));
                // Dried yeast is dry yeast.
                let same = |word: &str| {
                    (word == "dried" && main.contains("dry"))
                        || main.split(' ').any(|it| it == word)
                };
                let new = new.iter().any(|word| !same(word));
                if (!new && !lost) || excused {
                    continue;
                }
                judged += 1;
                if words.name("name", other).is_none() {
                    lacking.push(format!("{language}: `{other}` is printed as `{main}`"));
                }
            }
        }
    }
    assert_eq!(lacking, Vec::<String>::new());
    assert!(judged > 100, "{judged}");
}

#[test]
fn names_mean_the_same_food_in_every_language() {
    // What each language calls what is easily taken for something else.
    let table: &[(&str, [&str; 4])] = &[
        (
            "spelt flour",
            [
                "farine de grand épeautre",
                "Dinkelmehl",
                "harina de espelta",
                "farina di farro spelta",
            ],
        ),
        (
            "whole spelt flour",
            [
                "farine complète de grand épeautre",
                "Dinkelvollkornmehl",
                "harina integral de espelta",
                "farina integrale di farro spelta",
            ],
        ),
        (
            "dark rye flour",
            [
                "farine de seigle foncée",
                "dunkles Roggenmehl",
                "harina oscura de centeno",
                "farina di segale scura",
            ],
        ),
        (
            "whole rye flour",
            [
                "farine complète de seigle",
                "Roggenvollkornmehl",
                "harina integral de centeno",
                "farina integrale di segale",
            ],
        ),
        (
            "salted butter",
            ["beurre demi-sel", "gesalzene Butter", "mantequilla con sal", "burro salato"],
        ),
        (
            "unsalted butter",
            ["beurre doux", "ungesalzene Butter", "mantequilla sin sal", "burro non salato"],
        ),
        ("beer", ["bière", "Bier", "cerveza", "birra"]),
        (
            "fresh yeast",
            ["levure fraîche", "Frischhefe", "levadura fresca", "lievito di birra fresco"],
        ),
        (
            "instant yeast",
            [
                "levure sèche instantanée",
                "Instanthefe",
                "levadura seca instantánea",
                "lievito di birra secco istantaneo",
            ],
        ),
        ("walnuts", ["noix", "Walnüsse", "nueces", "noci"]),
        ("cream", ["crème", "Sahne", "nata", "panna"]),
    ];
    for (name, called) in table {
        for (language, called) in ["fr", "de", "es", "it"].into_iter().zip(called) {
            let words = Wording::new(language, None).0;
            assert_eq!(words.name("name", name).as_deref(), Some(*called), "{language} {name}");
        }
    }
    // No two foods of different allergens share a name.
    for language in ["fr", "de", "es", "it"] {
        let words = Wording::new(language, None).0;
        let mut known: Vec<(String, String)> = Vec::new();
        for ingredient in built_in().ingredients() {
            let Some(name) = words.name("name", &ingredient.name.key) else { continue };
            let same = known.iter().find(|(known, _)| *known == name);
            assert!(same.is_none(), "{language}: {name} is {same:?} and {}", ingredient.name.key);
            known.push((name, ingredient.name.key.to_string()));
        }
    }
}

#[test]
fn a_place_is_said_in_the_language_and_is_no_machine() {
    for place in assize::testing::time::places() {
        for (language, wrong) in
            [("fr", "Machine"), ("de", "Maschine"), ("es", "Máquina"), ("it", "Macchina")]
        {
            let text = format!(
                "formula cold \"Cold\" {{\n  makes 2 loaves at 900 g\n  total {{\n    bread flour 100%\n    water 70%\n    \
                 salt 2%\n    fresh yeast 1%\n  }}\n  method {{\n    mix 5min with everything else\n    \
                 proof 2h at 5C in {place}\n    bake 40min at 230C\n  }}\n}}\n"
            );
            let document = documents(&text, language).remove(0);
            let told = serde_json::to_string(&document.method).expect("json");
            assert!(!told.contains(wrong), "{language} {place}: {told}");
            let in_english =
                told.contains(&format!(": {place}")) || told.contains(&format!(" : {place}"));
            let general = ["cabinet", "chamber"].contains(&place);
            assert!(general || !in_english, "{language} {place}: {told}");
        }
    }
}

/// Pages that are turned off before their first word are no manuscript: nothing is read of
/// them, and nothing is woven from them. Turned off later, or on again, they are one.
#[test]
fn what_is_turned_off_from_its_first_word_is_no_manuscript() {
    let false_words = "All our bread is vegan.\n";
    for (text, is_none) in [
        (format!("<!-- assize: off -->\n\n{false_words}"), true),
        (format!("<!-- collected -->\n<!-- assize: off -->\n\n{false_words}"), true),
        (format!("<!-- assize: off -->\n\n{false_words}\n<!-- assize: on -->\n"), false),
        (format!("Our bread\n\n<!-- assize: off -->\n\n{false_words}"), false),
        (false_words.to_owned(), false),
    ] {
        let folder = folder();
        let house = "bakehouse \"Gullhaven Bakehouse\" {\n  units metric\n}\nformula pier-buns \"Pier Buns\" {\n  makes 8 buns at 80 g\n  total {\n    bread flour 100%\n    whole milk 65%\n    salt 2%\n    fresh yeast 2%\n  }\n}\n";
        fs::write(folder.path().join("house.dough"), house).expect("written");
        fs::write(folder.path().join("pages.md"), &text).expect("written");
        let told = out(&assize(folder.path(), &["check", "--format", "short"]));
        assert_eq!(!told.contains("absence-in-text"), is_none, "{text}{told}");
        let named = out(&assize(folder.path(), &["check", "pages.md", "--format", "short"]));
        assert!(named.contains("absence-in-text"), "{text}{named}");
        let _ = assize(folder.path(), &["weave"]);
        assert!(!is_none || !folder.path().join("woven/pages.md").exists(), "{text}");
    }
}

#[test]
fn the_reference_of_findings_is_no_part_of_a_bakehouse() {
    let said = assize(&top(), &["check", "examples/mistakes"]);
    let said = String::from_utf8_lossy(&said.stderr).into_owned() + &out(&said);
    assert!(!said.contains("FINDINGS.md"));
}
