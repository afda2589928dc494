//! Foods that texts name beside a claim that the bread is without them: an error, unless
//! the mention puts nothing in.

use crate::support::{assize, err, findings, folder, out, top};
use assize::testing::diag::Finding;
use std::fs;

/// The findings that texts raise, and claims.
const RULES: [&str; 5] = [
    "claim-not-proved",
    "claim-refuted",
    "absence-in-text",
    "ingredient-in-text",
    "number-in-text",
];

/// A sentence in a formula that holds nothing of what it claims to be without.
struct Case {
    language: String,
    claim: String,
    place: String,
    sentence: String,
}

impl Case {
    fn read(line: &str) -> Self {
        let mut columns = line.splitn(4, '|').map(|column| column.trim().to_owned());
        let mut next = || columns.next().expect("four columns");
        Self { language: next(), claim: next(), place: next(), sentence: next() }
    }

    fn file(&self) -> String {
        let said = &self.sentence;
        let (title, text) = match self.place.as_str() {
            "title" => (said.as_str(), String::new()),
            place => ("Pier Loaf", format!("{place} \"{said}\"")),
        };
        let of_wheat = !self.claim.contains("gluten") && !self.claim.contains("wheat");
        let flour = if of_wheat { "bread flour" } else { "rice flour" };
        format!(
            "bakehouse \"Gullhaven Bakehouse\" {{ language {} }}\n\
             formula pier-loaf \"{title}\" {{\n  makes 2 loaves at 885 g\n  total {{\n    \
             {flour} 100%\n    water 74%\n    salt 2%\n    fresh yeast 1%\n    sunflower oil 2%\n  \
             }}\n  {text}\n  expect {{ {} }}\n}}\n",
            self.language, self.claim
        )
    }

    /// What texts and claims raise there.
    fn told(&self) -> Vec<String> {
        let found = findings(&self.file());
        let found = found.iter().filter(|finding| RULES.contains(&finding.rule.name));
        found.map(|finding| format!("{}: {}", finding.rule.name, finding.message)).collect()
    }

    fn is_refused(&self) -> bool {
        self.told().iter().any(|told| told.starts_with("claim-not-proved"))
    }
}

fn cases(file: &str) -> Vec<Case> {
    let text = fs::read_to_string(top().join("tests/texts").join(file)).expect("readable");
    let lines = text.lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
    lines.map(Case::read).collect()
}

fn show(case: &Case) -> String {
    format!("{} {} {}: {:?}", case.language, case.claim, case.sentence, case.told())
}

#[test]
fn what_a_text_names_refutes_a_claim() {
    for (file, least) in [
        ("named.harmful.txt", 100),
        ("named.second.harmful.txt", 75),
        ("named.third.harmful.txt", 180),
    ] {
        let cases = cases(file);
        assert!(cases.len() >= least);
        let silent = cases.iter().filter(|case| !case.is_refused());
        let silent: Vec<String> = silent.map(show).collect();
        assert!(silent.is_empty(), "{} of {}:\n{}", silent.len(), cases.len(), silent.join("\n"));
    }
}

#[test]
fn what_a_text_only_mentions_refutes_nothing() {
    for (file, least) in [
        ("named.harmless.txt", 60),
        ("named.second.harmless.txt", 60),
        ("named.third.harmless.txt", 190),
    ] {
        let cases = cases(file);
        assert!(cases.len() >= least);
        let wrong = cases.iter().filter(|case| !case.told().is_empty());
        let wrong: Vec<String> = wrong.map(show).collect();
        assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), cases.len(), wrong.join("\n"));
    }
}

/// A loaf without milk whose note speaks of another bread, allowed where it stands.
fn allowed(after_text: &str, in_formula: &str) -> String {
    format!(
        "formula pier-loaf \"Pier Loaf\" {{\n  makes 2 loaves at 900 g\n  note \"The ganache loaf is \
         our other one.\"{after_text}\n  {in_formula}\n  total {{ bread flour 100%; water 70%; salt 2%; \
         fresh yeast 1% }}\n  expect {{ free from milk }}\n}}\n"
    )
}

#[test]
fn a_text_may_be_allowed_where_it_stands_and_check_prints_why() {
    let told = |after: &str, inside: &str| {
        let found = findings(&allowed(after, inside));
        let of_text = |it: &&Finding| it.rule.name == "claim-not-proved";
        found.iter().filter(of_text).map(|it| it.allowed.clone()).collect::<Vec<_>>()
    };
    let reason = "another loaf";
    let own = format!(" allow claim-not-proved \"{reason}\"");
    assert_eq!(told("", ""), [None]);
    assert_eq!(told(&own, ""), [Some(reason.to_owned())]);
    assert_eq!(told("", own.trim()), [None], "not for the whole formula");
    assert_eq!(told(" allow claim-not-proved", ""), [None], "not without a reason");
    let folder = folder();
    fs::write(folder.path().join("a.dough"), allowed(&own, "")).expect("written");
    let run = assize(folder.path(), &["check", "a.dough"]);
    let said = format!("{}{}", out(&run), err(&run));
    assert!(said.contains(reason) && said.contains("ganache"), "{said}");
    assert!(run.status.success(), "{said}");
}

/// Templates of a language, and foods with the claim that each refutes: alone, with its
/// article, and as some of it.
struct Cross {
    language: &'static str,
    foods: &'static [[&'static str; 4]],
    holding: &'static [&'static str],
    harmless: &'static [&'static str],
}

const CROSS: [Cross; 5] = [
    Cross {
        language: "en",
        foods: &[
            ["free from milk", "butter", "the butter", "some butter"],
            ["free from milk", "cream", "the cream", "some cream"],
            ["free from eggs", "eggs", "the eggs", "some eggs"],
            ["free from nuts", "walnuts", "the walnuts", "some walnuts"],
            ["free from sesame", "sesame", "the sesame", "some sesame"],
            ["free from fish", "anchovies", "the anchovies", "some anchovies"],
            ["vegan", "honey", "the honey", "some honey"],
            ["vegetarian", "lard", "the lard", "some lard"],
        ],
        holding: &[
            "Made with {}.",
            "Contains {}.",
            "May be made with {}.",
            "There is {} in it.",
            "A loaf with {}.",
            "With {some}.",
            "Enriched with {}.",
            "Add {the} last.",
            "Brush with {} before the bake.",
            "Fold in {the}, then rest.",
            "Its secret is {}.",
            "Not without {}.",
            "Do not forget {the}.",
            "Optional: {}.",
            "or {}",
            "We like {} in it.",
            "As well as {}, it has seeds.",
            "Fats such as {} are fine.",
            "Ingredients: flour, water, {}, salt.",
            "Half of it is {}.",
        ],
        harmless: &[
            "Smells of {}.",
            "It tastes of {}, nearly.",
            "Goes with {}.",
            "Serve with {} and soup.",
            "Never add {}.",
            "Do not use {}.",
            "Oil instead of {}.",
            "Keep it away from {}.",
            "Other bakers use {}.",
            "Spread with {} at the table.",
        ],
    },
    Cross {
        language: "fr",
        foods: &[
            ["free from milk", "beurre", "le beurre", "du beurre"],
            ["free from milk", "fromage", "le fromage", "du fromage"],
            ["free from eggs", "œufs", "les œufs", "des œufs"],
            ["free from nuts", "noisettes", "les noisettes", "des noisettes"],
            ["free from sesame", "sésame", "le sésame", "du sésame"],
            ["vegan", "miel", "le miel", "du miel"],
            ["vegetarian", "saindoux", "le saindoux", "du saindoux"],
        ],
        holding: &[
            "Fait avec {some}.",
            "Contient {some}.",
            "Il y a {some} dedans.",
            "Un pain avec {some}.",
            "Ajoutez {the} en dernier.",
            "Badigeonnez avec {some} fondu.",
            "Incorporez {the} doucement.",
            "Le secret, c'est {the}.",
            "Jamais sans {}.",
            "N'oubliez pas {the}.",
            "Facultatif : {some}.",
            "ou {some}",
            "Ingrédients : farine, eau, {}, sel.",
            "Comme toujours avec {some}.",
        ],
        harmless: &[
            "Rappelle {the}.",
            "Se marie avec {the}.",
            "À servir avec {some}.",
            "N'utilisez pas de {}.",
            "Sans {}.",
            "De l'huile à la place de {}.",
            "À garder loin de {the}.",
            "D'autres mettent {some}.",
        ],
    },
    Cross {
        language: "de",
        foods: &[
            ["free from milk", "Butter", "die Butter", "etwas Butter"],
            ["free from milk", "Sahne", "die Sahne", "etwas Sahne"],
            ["free from eggs", "Eier", "die Eier", "ein paar Eier"],
            ["free from nuts", "Walnüsse", "die Walnüsse", "einige Walnüsse"],
            ["free from sesame", "Sesam", "den Sesam", "etwas Sesam"],
            ["vegan", "Honig", "den Honig", "etwas Honig"],
            ["vegetarian", "Schmalz", "das Schmalz", "etwas Schmalz"],
        ],
        holding: &[
            "Mit {} gebacken.",
            "Enthält {}.",
            "Ein Brot mit {}.",
            "{the} zuletzt zugeben.",
            "Vor dem Backen mit {} bestreichen.",
            "{the} langsam unterkneten.",
            "Das Geheimnis ist {}.",
            "Nie ohne {}.",
            "{the} nicht vergessen.",
            "Nach Belieben {some}.",
            "oder {}",
            "Zutaten: Mehl, Wasser, {}, Salz.",
            "Wie immer mit {}.",
            "Die Hälfte ist {}.",
        ],
        harmless: &[
            "Riecht nach {}.",
            "Passt zu {}.",
            "Mit {} servieren.",
            "Ohne {}.",
            "Niemals mit {} bestreichen.",
            "Öl statt {}.",
            "Schmeckt gut mit {}.",
            "Andere nehmen {}.",
        ],
    },
    Cross {
        language: "es",
        foods: &[
            ["free from milk", "mantequilla", "la mantequilla", "un poco de mantequilla"],
            ["free from milk", "queso", "el queso", "un poco de queso"],
            ["free from eggs", "huevos", "los huevos", "unos huevos"],
            ["free from nuts", "almendras", "las almendras", "unas almendras"],
            ["free from sesame", "sésamo", "el sésamo", "un poco de sésamo"],
            ["vegan", "miel", "la miel", "un poco de miel"],
            ["vegetarian", "jamón", "el jamón", "un poco de jamón"],
        ],
        holding: &[
            "Hecho con {}.",
            "Contiene {}.",
            "Hay {} dentro.",
            "Un pan con {}.",
            "Añade {the} al final.",
            "Pinta con {} antes de hornear.",
            "El secreto es {the}.",
            "Nunca sin {}.",
            "No olvides {the}.",
            "Opcional: {some}.",
            "o {}",
            "Ingredientes: harina, agua, {}, sal.",
        ],
        harmless: &[
            "Huele a {}.",
            "Servir con {}.",
            "Va bien con {}.",
            "Sin {}.",
            "No usar {}.",
            "Aceite en lugar de {}.",
            "Lejos de {the}.",
            "Otros usan {}.",
        ],
    },
    Cross {
        language: "it",
        foods: &[
            ["free from milk", "burro", "il burro", "un po' di burro"],
            ["free from milk", "formaggio", "il formaggio", "un po' di formaggio"],
            ["free from eggs", "uova", "le uova", "qualche uovo"],
            ["free from nuts", "nocciole", "le nocciole", "qualche nocciola"],
            ["free from sesame", "sesamo", "il sesamo", "un po' di sesamo"],
            ["vegan", "miele", "il miele", "un po' di miele"],
            ["vegetarian", "strutto", "lo strutto", "un po' di strutto"],
        ],
        holding: &[
            "Fatto con {}.",
            "Contiene {}.",
            "C'è {some} dentro.",
            "Un pane con {}.",
            "Aggiungi {the} alla fine.",
            "Spennella con {} prima di infornare.",
            "Il segreto è {the}.",
            "Mai senza {}.",
            "Non dimenticare {the}.",
            "Facoltativo: {some}.",
            "o {}",
            "Ingredienti: farina, acqua, {}, sale.",
        ],
        harmless: &[
            "Profuma di {}.",
            "Servire con {}.",
            "Ottimo con {}.",
            "Senza {}.",
            "Non usare {}.",
            "Olio al posto di {}.",
            "Lontano da {the}.",
            "Altri usano {}.",
        ],
    },
];

/// Every template with every food, in a house of its own language and in an English one.
fn crossed(templates: fn(&Cross) -> &'static [&'static str]) -> Vec<Case> {
    let mut all = Vec::new();
    for cross in &CROSS {
        for (template, [claim, bare, the, some]) in templates(cross)
            .iter()
            .flat_map(|template| cross.foods.iter().map(move |food| (template, food)))
        {
            let sentence = template.replace("{the}", the).replace("{some}", some);
            let sentence = sentence.replace("{}", bare);
            for language in [cross.language, "en"] {
                all.push(Case {
                    language: language.into(),
                    claim: (*claim).into(),
                    place: "note".into(),
                    sentence: sentence.clone(),
                });
            }
        }
    }
    all
}

/// However a text says it, and in whatever language, a food that is claimed to be absent
/// refutes the claim.
#[test]
fn every_way_to_hold_a_food_refutes_its_absence() {
    assert!(CROSS.iter().map(|cross| cross.holding.len()).sum::<usize>() >= 60);
    let cases = crossed(|cross| cross.holding);
    let silent = cases.iter().filter(|case| case.told().is_empty());
    let silent: Vec<String> = silent.map(show).collect();
    assert!(silent.is_empty(), "{} of {}:\n{}", silent.len(), cases.len(), silent.join("\n"));
}

/// What is compared, eaten beside, forbidden, replaced or of others refutes nothing.
#[test]
fn no_harmless_way_to_name_a_food_refutes_its_absence() {
    assert!(CROSS.iter().map(|cross| cross.harmless.len()).sum::<usize>() >= 40);
    let cases = crossed(|cross| cross.harmless);
    let wrong = cases.iter().filter(|case| case.is_refused());
    let wrong: Vec<String> = wrong.map(show).collect();
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), cases.len(), wrong.join("\n"));
}

/// What is said of an ingredient, a culture, a mixture, a stage or a line counts as well,
/// and what a house prints everywhere.
#[test]
fn a_food_counts_wherever_a_text_names_it() {
    const FILE: &str = r#"bakehouse "Gullhaven Bakehouse" { footer "<footer>" }
ingredient dune sprinkles is an other { contains nothing; animal nothing; <ingredient> }
culture house seed { bread flour 100%; water 100%; <culture> }
mixture glaze { sugar 1 part; water 1 part; <mixture> }
formula pier-loaf "Pier Loaf" {
  makes 2 <kind> at 900 g
  total {
    bread flour 100%
    water 72% <line>
    salt 2%
    dune sprinkles 5%
  }
  preferment levain {
    ferments 20% of flour
    bread flour 100%
    water 100%
    house seed 20%
    ripens 8h at 24C
    <stage>
  }
  piece { glaze 5 g }
  method {
    mix 5min with everything else <step>
    bulk 3h at 25C
    step "<free step>" 1min
    bake 35min at 230C
  }
  expect { free from milk }
}
"#;
    let says = "\"Contains milk.\"";
    let note = format!("note {says}");
    let caution = format!("caution {says}");
    let source = "source \"Packet: may contain milk.\"".to_owned();
    let places: Vec<(&str, String)> = vec![
        ("<footer>", "Made with butter.".into()),
        ("<ingredient>", note.clone()),
        ("<ingredient>", caution.clone()),
        ("<ingredient>", source),
        ("<culture>", note.clone()),
        ("<culture>", caution.clone()),
        ("<mixture>", note.clone()),
        ("<mixture>", caution.clone()),
        ("<kind>", "\"milk rolls\"".into()),
        ("<line>", "\"or milk\"".into()),
        ("<stage>", note.clone()),
        ("<step>", note.clone()),
        ("<step>", caution),
        ("<step>", "until \"the butter is in\"".into()),
        ("<free step>", "Milk wash".into()),
    ];
    let marks = ["<footer>", "<ingredient>", "<culture>", "<mixture>", "<kind>", "<line>"];
    let marks = marks.iter().chain(&["<stage>", "<step>", "<free step>"]);
    let filled = |mark: &str, words: &str| {
        let mut text = FILE.replace(mark, words);
        for other in marks.clone() {
            let usual = match *other {
                "<kind>" => "loaves",
                "<free step>" => "Pat it",
                _ => "",
            };
            text = text.replace(other, usual);
        }
        text
    };
    let is_refused = |text: &str| {
        findings(text).iter().any(|finding| {
            finding.rule.name == "claim-not-proved" && finding.message.contains("a text names")
        })
    };
    assert!(!is_refused(&filled("<line>", "")));
    for (mark, words) in places {
        assert!(is_refused(&filled(mark, &words)), "{mark} {words}");
    }
}
