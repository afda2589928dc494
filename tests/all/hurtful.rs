//! What can hurt is warned of on every print that holds it, whatever it is called, and told
//! where its amount is not one for a bath; facts of an ingredient that can't be.

use crate::support::{PLAIN, findings, loaded, names, top};
use assize::testing::desk;
use assize::testing::formula::{built_in, work};
use assize::testing::print::{Wording, document};

const LANGUAGES: [&str; 5] = ["en", "fr", "de", "es", "it"];

/// What the stores warn of.
fn hurtful() -> Vec<String> {
    let all = built_in().ingredients().filter(|it| !it.cautions.is_empty());
    all.map(|it| it.name.key.to_string()).collect()
}

/// The cautions of the last formula of a text.
fn cautions(text: &str, language: &str) -> Vec<String> {
    let loaded = loaded(text);
    let bakehouses = desk::bakehouses(&loaded);
    let formula = bakehouses[0].files[0].tree.formulas.last().expect("a formula");
    let worked = work(&bakehouses[0].house, formula, &mut Vec::new());
    let words = Wording::new(language, None).0;
    document(&bakehouses[0].house, &worked, &words, false).cautions
}

/// The sentence of a catalogue.
fn sentence(of: &str, language: &str) -> String {
    let path = top().join(format!("templates/words/{language}.ftl"));
    let text = std::fs::read_to_string(path).expect("a catalogue");
    let id = format!("hurts-{} = ", of.replace(' ', "-"));
    let line = text.lines().find_map(|line| line.strip_prefix(&id));
    line.unwrap_or_else(|| panic!("{language} has no {id}")).to_owned()
}

/// The ways in which a house can have something of the stores: `(declaration, name)`.
fn disguises(of: &str) -> Vec<(String, String)> {
    let says = "contains nothing; animal nothing";
    let mut all = vec![
        (String::new(), of.to_owned()),
        (format!("ingredient quay dip like {of} {{ {says} }}"), "quay dip".to_owned()),
        (
            "ingredient second dip like quay dip\n".to_owned()
                + &format!("ingredient quay dip like {of}"),
            "second dip".to_owned(),
        ),
        (format!("ingredient {of} is other {{ {says} }}"), of.to_owned()),
        (format!("ingredient \"{of} pearls\" is other {{ {says} }}"), format!("{of} pearls")),
        (format!("ingredient \"food {of}\" is other {{ {says} }}"), format!("food {of}")),
        (
            format!("ingredient quay dip is other {{ {says}; also \"{of}\" }}"),
            "quay dip".to_owned(),
        ),
        (
            format!("ingredient \"{of} flakes\" is other {{ {says}; caution \"Burns.\" }}"),
            format!("{of} flakes"),
        ),
    ];
    for language in &LANGUAGES[1..] {
        let path = top().join(format!("templates/words/names.{language}.ftl"));
        let text = std::fs::read_to_string(path).expect("a catalogue");
        let id = format!("name-{} = ", of.replace(' ', "-"));
        if let Some(called) = text.lines().find_map(|line| line.strip_prefix(&id)) {
            all.push((format!("ingredient \"{called}\" is other {{ {says} }}"), called.to_owned()));
        }
    }
    all
}

/// In the dough, in a bath, in a stage: on the print in its language.
#[test]
fn what_can_hurt_is_warned_of_wherever_it_is() {
    let all = hurtful();
    for one in ["lye", "alum", "slaked lime", "ammonium bicarbonate"] {
        assert!(all.iter().any(|known| known == one), "{one}: {all:?}");
    }
    let mut count = 0;
    for of in &all {
        for (declared, name) in disguises(of) {
            for formula in [
                format!(
                    "formula f {{ dough {{ rice flour 500 g; water 350 g; salt 10 g; \"{name}\" 1 g }} }}"
                ),
                format!(
                    "mixture dip {{ water 1 kg; \"{name}\" 40 g }}\nformula f {{ dough {{ rice flour 500 g; water 350 g; salt 10 g }}; piece {{ dip 2 g }} }}"
                ),
                format!(
                    "formula f {{ dough {{ rice flour 500 g; water 350 g; salt 10 g; mash all }}; soaker mash {{ rice flour 50 g; water 50 g; \"{name}\" 1 g }} }}"
                ),
            ] {
                for language in LANGUAGES {
                    let text = format!(
                        "{declared}\n{}\n",
                        formula.replace("; piece", "\n piece").replace("; soaker", "\n soaker")
                    );
                    let wanted = sentence(of, language);
                    let said = cautions(&text, language);
                    assert!(
                        said.iter().any(|said| said.ends_with(&wanted)),
                        "{language}\n{text}{said:?}"
                    );
                    count += 1;
                }
            }
        }
    }
    assert!(count > 400, "{count}");
}

/// A warning of the stores takes the place of no other.
#[test]
fn a_warning_of_the_stores_hides_none() {
    let text = "formula f {\n  dough { rice flour 500 g; water 350 g; salt 10 g; ammonium bicarbonate 5 g }\n  method { mix 5min with everything else; bake 12min at 180C }\n}\n";
    let said = cautions(text, "en");
    assert!(said.iter().any(|it| it.starts_with("Oven, pots and steam burn")), "{said:?}");
}

/// Lye goes into a bath, and no stronger than for food, whatever it is called.
#[test]
fn lye_is_for_a_bath_whatever_it_is_called() {
    for (declared, name) in disguises("lye") {
        let dough = PLAIN.replace("salt           2%", &format!("salt 2%; \"{name}\" 1%"));
        let bath = |grams: u32| {
            let piece = PLAIN.replace("  total {", "  piece { dip 2 g }\n  total {");
            format!("mixture dip {{ water 1 kg; \"{name}\" {grams} g }}\n{piece}")
        };
        for (formula, is_wrong) in [(dough, true), (bath(200), true), (bath(40), false)] {
            let found = names(&format!("{declared}\n{formula}"));
            assert_eq!(
                found.contains(&"amount-doubtful"),
                is_wrong,
                "{declared}: {found:?}\n{formula}"
            );
        }
    }
}

/// Alum in a dough is told from a fifth of a per cent.
#[test]
fn alum_is_told_above_a_pinch() {
    for (share, is_wrong) in [("0.1%", false), ("1%", true)] {
        let text = PLAIN.replace("salt           2%", &format!("salt 2%; alum {share}"));
        let found = names(&text);
        assert_eq!(
            found.iter().any(|name| ["amount-doubtful", "improver-high"].contains(name)),
            is_wrong,
            "{share}: {found:?}"
        );
    }
}

/// Facts that can't be, and those that are no food's.
#[test]
fn facts_of_an_ingredient_that_can_not_be_are_told() {
    for (declared, wanted) in [
        ("is a flour { contains wheat; calcium 90000 mg }", Some("error")),
        ("is a fruit { contains nothing; sodium 60 g }", Some("error")),
        ("is a fruit { contains nothing; potassium 70 g }", Some("error")),
        ("is a flour { contains wheat; calcium 5000 mg }", Some("warning")),
        ("is a flour { contains wheat; iron 1000 mg }", Some("warning")),
        ("is dairy { contains milk; cholesterol 9000 mg }", Some("warning")),
        ("is a flour { contains wheat; energy 0 kcal }", Some("warning")),
        ("is a fat { contains nothing; energy 0 kcal }", Some("warning")),
        ("is a nut { contains hazelnuts; energy 6 kcal }", Some("warning")),
        ("is a flour { contains wheat; energy 340 kcal; calcium 34 mg; iron 4 mg }", None),
        ("is water { contains nothing; energy 0 kcal }", None),
        ("is salt { contains nothing; energy 0 kcal }", None),
        ("is a sugar { contains nothing; energy 0 kcal; carbohydrate 100% }", None),
        ("is a leavener { contains nothing; calcium 5876 mg }", None),
        ("is an improver { contains nothing; calcium 39000 mg }", None),
        ("is an improver { contains nothing; iron 30000 mg }", None),
    ] {
        let text = format!(
            "ingredient quay wheat thing {}\n",
            declared.replace("contains nothing", "contains wheat")
        );
        let found = findings(&text);
        let told = found.iter().find(|it| it.rule.name == "composition-impossible");
        let told = told.map(|it| match it.level {
            assize::testing::diag::Level::Error => "error",
            _ => "warning",
        });
        assert_eq!(told, wanted, "{declared}: {found:?}");
    }
    // What the stores say is possible.
    let store = std::fs::read_to_string(top().join("src/formula/stores/ingredients.dough"));
    let found = findings(&store.expect("the store"));
    // What is said of salt and sodium together is another matter.
    let is_of_one = |message: &str| message.contains("100 g of");
    let wrong: Vec<_> = found
        .iter()
        .filter(|it| it.rule.name == "composition-impossible")
        .map(|it| &it.message)
        .filter(|message| is_of_one(message))
        .collect();
    assert!(wrong.is_empty(), "{wrong:?}");
}

/// A packet is 2¼ teaspoons, as recipes have it.
#[test]
fn a_packet_of_dried_yeast_is_what_recipes_call_it() {
    let text = "bakehouse \"Gullhaven\" { measures US }\n".to_owned()
        + "formula f { dough { bread flour 500 g; water 350 g; salt 10 g; active dry yeast 2 1/4 tsp } expect { active dry yeast 7 g } }\n";
    let found = names(&text);
    assert!(!found.iter().any(|name| name.starts_with("claim-")), "{found:?}");
}

/// Examples of what is weighed finely have amounts of the trade, not of the class alone.
#[test]
fn an_example_has_a_usual_amount() {
    let path = top().join("examples/reference/REFERENCE.md");
    let text = std::fs::read_to_string(path).expect("the reference");
    for line in
        ["vital wheat gluten  2%", "psyllium husk  5%", "xanthan gum  1%", "instant yeast  0.7%"]
    {
        assert!(text.contains(line), "{line}");
    }
}

/// Bread that nobody can eat, or that never rises, by one line of it: an error that `allow`
/// silences with a reason.
const NOT_EATEN: [&str; 15] = [
    "salt 10%",
    "salt 6%",
    "fresh yeast 20%",
    "fresh yeast 50%",
    "instant yeast 8%",
    "sugar 100%",
    "sugar 80%",
    "honey 100%",
    "brown sugar 90%",
    "caraway seeds 20%",
    "cinnamon 20%",
    "nutmeg 8%",
    "baking powder 25%",
    "baking soda 12%",
    "ascorbic acid 2%",
];

#[test]
fn bread_that_nobody_can_eat_is_an_error_that_allow_silences() {
    let mut wrong = Vec::new();
    for line in NOT_EATEN {
        let name = line.rsplit_once(' ').expect("a name and an amount").0;
        let kept = ["bread flour 100%", "water 65%", "salt 2%", "fresh yeast 2%"].into_iter();
        let kept = kept.filter(|one| {
            !(one.starts_with(name) || name.contains("yeast") && one.contains("yeast"))
        });
        let lines: Vec<&str> = kept.chain([line]).collect();
        let with = |allowed: &str| {
            format!(
                "formula pier-loaf \"Pier Loaf\" {{\n  makes 2 loaves at 885 g\n{allowed}  total {{ {} }}\n}}\n",
                lines.join("; ")
            )
        };
        let is_error = |it: &&assize::testing::diag::Finding| {
            it.level == assize::testing::diag::Level::Error && it.allowed.is_none()
        };
        let found = crate::support::findings(&with(""));
        let errors: std::collections::BTreeSet<&str> =
            found.iter().filter(is_error).map(|it| it.rule.name).collect();
        let allows = errors.iter().map(|name| format!("  allow {name} \"a trial\"\n"));
        let left = crate::support::findings(&with(&allows.collect::<String>()));
        if errors.is_empty() || left.iter().any(|it| is_error(&it)) {
            wrong.push(format!("{line}: {errors:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
