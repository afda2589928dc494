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
                found.contains(&"lye-out-of-place"),
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

/// Pretzels with lines after their piece and steps around their bake.
fn pretzels(pieces: &str, before: &str, after: &str) -> String {
    format!(
        "formula quay-pretzels \"Quay Pretzels\" {{\n  makes 20 pretzels at 80 g\n  \
         total {{ bread flour 100%; water 52%; salt 1.8%; fresh yeast 2%; butter 4% }}\n  {pieces}\n  \
         method {{\n    mix 8min with everything else to 25C\n    bulk 20min at 24C\n    \
         shape 20min\n    proof 30min at 26C\n    {before}\n    bake 15min at 230C\n    {after}\n  \
         }}\n}}\n"
    )
}

/// A bath wets the outside before the bake; everything else leaves lye on bread or in it,
/// whatever it is called and whoever allows it.
#[test]
fn lye_touches_bread_only_before_the_bake() {
    let mut told = 0;
    for of in ["lye", "slaked lime"] {
        for (declared, name) in disguises(of) {
            let bath = format!("{declared}\nmixture dip {{ water 1 kg; \"{name}\" 40 g }}\n");
            let bare = format!("{declared}\n");
            let direct = format!("piece {{ \"{name}\" 1 g }}");
            let mut trials = Vec::new();
            for step in ["wash 5min with dip", "glaze 5min with dip", "boil 20s in dip"] {
                trials.push((&bath, "piece { dip 2 g }", step.to_owned(), String::new(), false));
                trials.push((&bath, "piece { dip 2 g }", String::new(), step.to_owned(), true));
            }
            for step in ["fill 5min with dip", "top 5min with dip", "dust 5min with dip"] {
                trials.push((&bath, "piece { dip 2 g }", step.to_owned(), String::new(), true));
                trials.push((&bath, "piece { dip 2 g }", String::new(), step.to_owned(), true));
            }
            for verb in ["wash", "dust", "top", "fill", "glaze"] {
                let step = format!("{verb} 5min with \"{name}\"");
                trials.push((&bare, &direct, step.clone(), String::new(), true));
                trials.push((&bare, &direct, String::new(), step, true));
            }
            for (head, pieces, before, after, is_wrong) in trials {
                for allowed in [
                    "",
                    "  allow lye-out-of-place \"Old custom.\"\n",
                    "  allow amount-doubtful \"Old custom.\"\n",
                ] {
                    let text = format!("{head}{}", pretzels(pieces, &before, &after));
                    let text = text.replace("  total {", &format!("{allowed}  total {{"));
                    assert_eq!(
                        names(&text).contains(&"lye-out-of-place"),
                        is_wrong,
                        "{:?}\n{text}",
                        names(&text)
                    );
                    told += 1;
                }
            }
        }
    }
    assert!(told > 1_000, "{told}");
}

/// Whatever the oven: too little heat for a piece is raw, much too much of it is charcoal.
#[test]
fn heat_that_leaves_bread_raw_or_burns_it_is_an_error() {
    let baked = |weight: &str, heat: &str| {
        format!(
            "formula quay-loaf \"Quay Loaf\" {{\n  makes 4 loaves at {weight}\n  total {{ bread flour \
             100%; water 66%; salt 2%; fresh yeast 1% }}\n  method {{\n    mix 8min with everything \
             else to 25C\n    bulk 1h at 25C\n    shape 15min\n    proof 45min at 26C\n    {heat}\n  }}\n}}\n"
        )
    };
    let level = |text: &str| {
        let found = findings(text);
        let of = found.iter().filter(|it| it.rule.name == "bake-doubtful");
        of.map(|it| it.level.word().to_owned()).next()
    };
    for (weight, heat, wanted) in [
        ("900 g", "bake 3min at 280C", Some("error")),
        ("900 g", "bake 1min at 300C", Some("error")),
        ("900 g", "bake 8min at 300C", Some("error")),
        ("900 g", "bake 30min at 280C", None),
        ("900 g", "bake 20min at 300C then 20min at 250C", None),
        ("900 g", "bake 2min at 230C then 40min at 90C", Some("error")),
        ("900 g", "bake 5min at 240C then 4min at 275C", Some("error")),
        ("900 g", "bake 16h at 110C", None),
        ("900 g", "bake 4h at 250C", Some("error")),
        ("900 g", "bake 4h at 140C", Some("warning")),
        ("800 g", "bake 2h50 at 280C", Some("error")),
        ("900 g", "steam 3min at 100C", Some("error")),
        ("900 g", "steam 1h at 100C", None),
        ("900 g", "fry 20s at 180C", Some("error")),
        ("900 g", "steam 20min at 100C; bake 30min at 230C", None),
    ] {
        let text = baked(weight, heat);
        assert_eq!(level(&text).as_deref(), wanted, "{text}");
    }
    // Hotter is never rawer, and longer never either.
    for minutes in (1..90).step_by(4) {
        let raw = |celsius: u32, minutes: u32| {
            level(&baked("900 g", &format!("bake {minutes}min at {celsius}C"))).is_some()
                && minutes < 60
        };
        for celsius in [272, 280, 290] {
            assert!(!raw(celsius + 10, minutes) || raw(celsius, minutes), "{minutes} {celsius}");
            assert!(!raw(celsius, minutes + 4) || raw(celsius, minutes), "{minutes} {celsius}");
        }
    }
}

/// Egg and flour after the last heat, as they are and in a mixture, however deep.
#[test]
fn what_is_raw_in_a_mixture_is_told_as_what_is_raw_by_itself() {
    for raw in ["egg white", "whole egg", "egg yolk", "bread flour", "rice flour"] {
        let plain = format!("mixture cream {{ {raw} 50 g; sugar 200 g }}\n");
        let deep = format!(
            "mixture foam {{ {raw} 50 g; sugar 50 g }}\nmixture cream {{ foam 1 part; sugar 2 parts }}\n"
        );
        for head in [plain, deep] {
            for verb in ["glaze", "fill", "top"] {
                let step = format!("{verb} 5min with cream");
                let after = head.clone() + &pretzels("piece { cream 5 g }", "", &step);
                assert!(names(&after).contains(&"eaten-raw"), "{after}");
                let before = head.clone() + &pretzels("piece { cream 5 g }", &step, "");
                assert!(!names(&before).contains(&"eaten-raw"), "{before}");
                let cooked = after.replace("cream", "cooked cream");
                assert!(!names(&cooked).contains(&"eaten-raw"), "{cooked}");
            }
        }
    }
}

/// Rolls that are done to after the bake as `after` says.
fn filled(piece: &str, after: &str) -> String {
    format!(
        "formula rolls {{\n  makes 12 rolls at 60 g\n  total {{ bread flour 100%; water 58%; salt 2%; fresh yeast 2% }}\n  piece {{ {piece} }}\n  method {{ mix 5min with everything else; bulk 1h at 24C; shape 5min; proof 1h at 26C; bake 14min at 200C; cool 1h; {after} }}\n}}\n"
    )
}

/// What spoils counts from when it goes on, in whatever step it then waits, for everything that
/// spoils: the cold alone stops it.
#[test]
fn what_spoils_may_not_wait_warm_in_any_step_after_the_bake() {
    for food in ["cream", "pastry cream", "mascarpone", "clotted cream", "cooked ham", "tofu"] {
        for wait in [
            "mature 5d at 22C",
            "mature 5d",
            "rest 14h at 22C",
            "cool 14h",
            "pack 14h",
            "chill 14h at 20C",
        ] {
            let text = filled(&format!("{food} 20 g"), &format!("fill 5min with {food}; {wait}"));
            assert!(names(&text).contains(&"stands-too-warm"), "{food}, {wait}");
        }
        for wait in ["chill 14h at 4C", "chill 14h", "freeze 5d", "rest 2h", "mature 5d at 4C"] {
            let text = filled(&format!("{food} 20 g"), &format!("fill 5min with {food}; {wait}"));
            assert!(!names(&text).contains(&"stands-too-warm"), "{food}, {wait}");
        }
    }
    for food in ["raspberry jam", "honey", "unsalted butter"] {
        let text =
            filled(&format!("{food} 10 g"), &format!("fill 5min with {food}; mature 5d at 22C"));
        assert!(!names(&text).contains(&"stands-too-warm"), "{food}");
    }
}

/// A flash of heat, or a lukewarm oven, cooks nothing that goes on after the bake.
#[test]
fn a_flash_of_heat_cooks_nothing() {
    for (last, is_raw) in [
        ("", true),
        ("; bake 5s at 210C", true),
        ("; bake 1min at 250C", true),
        ("; bake 20min at 60C", true),
        ("; bake 10min at 180C", false),
        ("; bake at 180C", false),
        ("; bake 4h at 100C", false),
    ] {
        let text = filled("whole egg 2 g", &format!("glaze 2min with whole egg{last}"));
        assert_eq!(names(&text).contains(&"eaten-raw"), is_raw, "{last}");
    }
}

/// What is done to baked bread has its temperatures as what is raw has.
#[test]
fn temperatures_after_the_bake_are_judged() {
    for (step, is_told) in [
        ("pack 5min at 200C", true),
        ("freeze 3h at 30C", true),
        ("chill 3h at 40C", true),
        ("mature 2d at 90C", true),
        ("rest 1h at 95C", true),
        ("freeze 3h at -18C", false),
        ("chill 3h at 4C", false),
        ("mature 2d at 20C", false),
        ("rest 1h at 24C", false),
    ] {
        let told = names(&filled("honey 1 g", &format!("glaze 1min with honey; {step}")));
        assert_eq!(told.contains(&"temperature-doubtful"), is_told, "{step}: {told:?}");
    }
}

/// Baths of each caustic thing have a strength above which they are not used on food.
#[test]
fn a_bath_of_any_caustic_thing_may_be_too_strong() {
    for (caustic, grams, is_told) in [
        ("lye", 74, true),
        ("lye", 40, false),
        ("slaked lime", 400, true),
        ("slaked lime", 90, true),
        ("slaked lime", 10, false),
    ] {
        let text = format!(
            "mixture bath {{ water 1 kg; {caustic} {grams} g }}\n{}",
            filled("honey 1 g", "glaze 1min with honey")
                .replace("bake 14min", "boil 30s in bath; bake 14min")
        );
        let told = names(&text).contains(&"lye-out-of-place");
        assert_eq!(told, is_told, "{caustic} {grams} g");
    }
}

/// Pieces that are dipped and leave the house unbaked are told to be baked.
#[test]
fn lye_without_a_bake_asks_for_a_caution() {
    let text = |caution: &str| {
        format!(
            "mixture bath {{ water 1 kg; lye 40 g }}\nformula pretzels {{ makes 12 rolls at 60 g {caution}\n total {{ bread flour 100%; water 52%; salt 2%; fresh yeast 2% }} method {{ mix 5min with everything else; bulk 1h at 24C; shape 5min; wash 1min with bath; freeze 12h at -18C }} }}\n"
        )
    };
    let told = |caution: &str| {
        let found = findings(&text(caution));
        found.into_iter().find(|it| it.rule.name == "lye-out-of-place")
    };
    let silent = told("").expect("told");
    assert!(silent.message.contains("not baked after it"), "{}", silent.message);
    assert_eq!(silent.level, assize::testing::diag::Level::Warning);
    assert!(told("caution \"Bake before eating.\"").is_none());
}
