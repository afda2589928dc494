//! What is printed and claims something, wherever it stands: names of every kind, words beside
//! the formulas, letters in drawings and templates; and what can hurt somebody after the bake.

use crate::support::{Memory, PLAIN, assert_none, assize, err, findings, folder, names, out};
use assize::testing::desk::{self, load, report};
use assize::testing::diag::{Finding, Level};
use assize::testing::source::is_unseen;
use std::fs;
use std::path::{Path, PathBuf};

/// The forms in which a name denies nuts.
const FORMS: [&str; 6] = [
    "nut-free quay thing",
    "quay thing without nuts",
    "Kaiding ohne Nüsse",
    "chose du quai sans noix",
    "cosa sin frutos secos",
    "cosa senza noci",
];

/// A bun with hazelnuts in it; `at` is put into one of its places.
fn buns(house: &str, total: &str, besides: &str, piece: &str, method: &str) -> String {
    format!(
        "{house}\nformula quay-buns \"Quay Buns\" {{\n  makes 12 buns at 80 g\n{besides}\n  total {{ \
         bread flour 100%; water 62%; hazelnuts 8%; salt 1.8%; fresh yeast 2%{total} }}\n  piece {{ \
         {piece} }}\n  method {{\n    mix 8min with everything else to 25C\n    bulk 1h at 25C\n    \
         divide 10min\n    shape 10min\n    proof 1h at 26C\n{method}    bake 15min at 200C until \
         core 93C\n    cool 1h\n  }}\n}}\n"
    )
}

/// Every kind of name that reaches a print is held to what is in the bread, or in what it names.
#[test]
fn every_name_that_is_printed_is_held_to_what_it_names() {
    let mut missed = Vec::new();
    let glaze = "    glaze 5min with THING\n";
    let fill = "    fill 5min with THING\n";
    let parts = "{ hazelnuts 1 part; sugar 1 part }";
    for form in FORMS {
        let cases = [
            (
                "title",
                PLAIN
                    .replace("Pier Loaf", form)
                    .replace("salt           2%", "salt 2%; hazelnuts 8%"),
            ),
            (
                "a mixture of the house",
                buns(
                    &format!("mixture {form} {parts}"),
                    "",
                    "",
                    &format!("{form} 5 g"),
                    &fill.replace("THING", form),
                ),
            ),
            (
                "a mixture of the formula",
                buns(
                    "",
                    "",
                    &format!("  mixture {form} {parts}"),
                    &format!("{form} 5 g"),
                    &glaze.replace("THING", form),
                ),
            ),
            (
                "a mixture in a mixture",
                buns(
                    &format!(
                        "mixture {form} {parts}\nmixture shore fill {{ {form} 1 part; sugar 1 part }}"
                    ),
                    "",
                    "",
                    "shore fill 5 g",
                    &fill.replace("THING", "shore fill"),
                ),
            ),
        ];
        for (place, text) in cases {
            if !names(&text).contains(&"absence-in-text") {
                missed.push(format!("{place}: {form}: {:?}", names(&text)));
            }
        }
    }
    let named = [
        (
            "a formula's name",
            PLAIN
                .replace("pier-loaf \"", "milk-free-loaf \"")
                .replace("salt           2%", "salt 2%; whole milk 9%"),
        ),
        (
            "a kind of piece",
            PLAIN
                .replace("2 loaves", "2 nut-free loaves")
                .replace("salt           2%", "salt 2%; hazelnuts 8%"),
        ),
    ];
    for (place, text) in named {
        if !names(&text).contains(&"absence-in-text") {
            missed.push(format!("{place}: {:?}", names(&text)));
        }
    }
    assert_none(&missed, 26);
}

/// A name that says the truth of the thing is silent, whatever else the bread holds.
#[test]
fn a_true_name_is_silent() {
    let sugar = "{ sugar 1 part; water 1 part }";
    let mut told = Vec::new();
    for form in [
        "vegan glaze",
        "milk-free glaze",
        "egg-free wash",
        "glaze without milk",
        "nut-free syrup",
        "Guss ohne Ei",
    ] {
        let text = buns(
            &format!("mixture {form} {sugar}"),
            "; whole milk 9%",
            "",
            &format!("{form} 5 g"),
            &format!("    glaze 5min with {form}\n"),
        );
        let own: Vec<_> =
            findings(&text).into_iter().filter(|it| it.rule.name == "absence-in-text").collect();
        told.extend(own.into_iter().map(|it| format!("{form}: {}", it.message)));
    }
    assert_none(&told, 6);
}

/// Only what says without a reserve that it was heated is no longer raw.
#[test]
fn half_a_word_of_heat_is_no_heat() {
    let text = |name: &str| {
        PLAIN.replace("  total {", &format!(
            "  mixture {name} {{ whole egg 3 parts; bread flour 1 part }}\n  piece {{ {name} 9 g }}\n  total {{"
        )).replace("\n}\n", &format!(
            "\n  method {{\n    mix 8min with everything else\n    bulk 1h at 25C\n    bake 30min at 230C\n    cool 1h\n    glaze 5min with {name}\n  }}\n}}\n"
        ))
    };
    let raw = [
        "not cooked glaze",
        "never cooked glaze",
        "half-cooked glaze",
        "cooked when served glaze",
        "barely cooked glaze",
        "partly cooked glaze",
        "uncooked glaze",
        "undercooked glaze",
        "non-pasteurised glaze",
        "unpasteurised glaze",
        "raw glaze",
        "lightly cooked glaze",
        "nearly boiled glaze",
        "untreated glaze",
        "cooked later glaze",
        "semi-cooked glaze",
        "soft boiled glaze",
        "hardly toasted glaze",
        "glaze cooked if wished",
    ];
    let cooked = [
        "cooked glaze",
        "fully cooked glaze",
        "pasteurised glaze",
        "boiled glaze",
        "heat-treated glaze",
        "twice cooked glaze",
        "lightly toasted glaze",
    ];
    let is_told = |name: &str| names(&text(name)).contains(&"eaten-raw");
    let silent: Vec<&str> = raw.into_iter().filter(|name| !is_told(name)).collect();
    let alarms: Vec<&str> = cooked.into_iter().filter(|name| is_told(name)).collect();
    assert_eq!((silent, alarms), (vec![], vec![]));
}

/// A bakehouse in memory with a bread of milk, eggs and hazelnuts, and some files beside it.
fn beside(files: &[(&str, &str)]) -> Vec<Finding> {
    let bread =
        PLAIN.replace("salt           2%", "salt 2%; whole milk 9%; whole egg 4%; hazelnuts 8%");
    let own = [
        ("/x/bakehouse.dough", "bakehouse \"Gullhaven Bakehouse\" {}\n"),
        ("/x/pier.dough", bread.as_str()),
    ];
    let all: Vec<(&str, &str)> = own.into_iter().chain(files.iter().copied()).collect();
    let loaded = load(&Memory::with(&all), Path::new("/x"), &[PathBuf::from("/x")]);
    let told = report(&loaded, None).findings;
    told.into_iter().filter(|it| it.rule.name == "absence-in-text").collect()
}

/// Every Markdown file of a bakehouse is read for what it denies, whether it holds formulas or
/// not; one of no bakehouse and one that denies nothing are not.
#[test]
fn every_markdown_file_of_a_bakehouse_is_read_for_denials() {
    let silent: Vec<String> = [
        "All our breads are nut-free.\n",
        "Everything in this book is vegan.\n",
        "Pier Loaf is nut-free.\n",
        "| Bread | Free from |\n| --- | --- |\n| Pier Loaf | nuts, milk |\n",
        "# Pier Loaf\n\nFree from milk and eggs.\n",
        "# Pier Loaf\n\n    nut-free\n",
        "# Pier Loaf\n\n```\nnut-free and vegan\n```\n",
        "# Pier Loaf\n\n<img alt=\"dairy-free loaf\" src=\"x.png\">\n",
        "# Pier Loaf\n\nA loaf <img src='x.png' alt='egg-free loaf'> of ours.\n",
        "# Pier Loaf\n\n<p title=\"nut-free\">A loaf.</p>\n",
        "# Pier Loaf\n\n<!-- assize: off -->\n\nThese are dairy-free.\n\n<!-- assize: on -->\n",
    ]
    .into_iter()
    .filter(|text| {
        beside(&[("/x/intro.md", text)]).is_empty()
            || beside(&[("/x/deep/er/intro.markdown", text)]).is_empty()
    })
    .map(str::to_owned)
    .collect();
    assert_none(&silent, 11);
    for text in [
        "# Notes\n\nThe oven is free on Mondays.\n",
        "# Pier Loaf\n\nMilk makes it soft.\n",
        "Coeliacs need bread without gluten.\n",
        "# Pier Loaf\n\n```sh\nrm nuts # no milk\n```\n",
        "# Pier Loaf\n\n<!-- assize: off -->\n\nBake 3 kg of it at 900 °C with butter.\n",
    ] {
        assert_eq!(names_of(&beside(&[("/x/intro.md", text)])), Vec::<&str>::new(), "{text}");
    }
    // Of a folder that is no bakehouse nothing is read.
    let alone = [("/x/a.dough", PLAIN), ("/x/intro.md", "All our breads are free from wheat.\n")];
    let loaded = load(&Memory::with(&alone), Path::new("/x"), &[PathBuf::from("/x")]);
    assert_eq!(names_of(&report(&loaded, None).findings), Vec::<&str>::new());
}

/// A file that is checked alone hears what booklets and days beside it say of its formulas.
#[test]
fn booklets_and_days_beside_a_checked_file_are_heard() {
    let bread = PLAIN.replace("salt           2%", "salt 2%; hazelnuts 8%");
    for beside in [
        "booklet quay-book \"Nut-free baking\" {\n  page\n  card pier-loaf\n}\n",
        "day saturday {\n  note \"All of it is nut-free.\"\n  order pier-loaf 4 loaves by 07:00\n}\n",
    ] {
        let files = [
            ("/x/bakehouse.dough", "bakehouse \"Gullhaven Bakehouse\" {}\n"),
            ("/x/pier.dough", bread.as_str()),
            ("/x/beside.dough", beside),
        ];
        let memory = Memory::with(&files);
        for path in ["/x/pier.dough", "/x"] {
            let loaded = load(&memory, Path::new("/x"), &[PathBuf::from(path)]);
            let told = names_of(&report(&loaded, None).findings);
            assert!(told.contains(&"absence-in-text"), "{path} {beside}: {told:?}");
        }
    }
}

fn names_of(findings: &[Finding]) -> Vec<&'static str> {
    findings.iter().map(|finding| finding.rule.name).collect()
}

/// Letters in a drawing and in a template of the house's own are read too.
#[test]
fn letters_in_drawings_and_templates_are_read() {
    let folder = folder();
    let at = folder.path();
    let put = |name: &str, text: &str| {
        let path = at.join(name);
        fs::create_dir_all(path.parent().expect("a folder")).expect("made");
        fs::write(path, text).expect("written");
    };
    let svg = |words: &str| {
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9\" height=\"9\"><style>.vegan {{}}</style><text><tspan>{words}</tspan></text></svg>"
        )
    };
    let bread = PLAIN.replace("salt           2%", "salt 2%; hazelnuts 8%");
    put("bakehouse.dough", "bakehouse \"Gullhaven Bakehouse\" { logo \"logo.svg\" }\n");
    put("pier.dough", &bread);
    put("logo.svg", &svg("The quay"));
    assert_eq!(out(&assize(at, &["check"])), "1 formula, no findings\n");
    put("logo.svg", &svg("nut-free, vegan"));
    let told = out(&assize(at, &["check"]));
    assert!(told.contains("absence-in-text") && told.contains("in this picture"), "{told}");
    // However the letters are written; and no print shows them.
    let text = |words: &str| format!("<svg xmlns=\"http://www.w3.org/2000/svg\">{words}</svg>");
    let mut silent = Vec::new();
    for words in [
        "<text>nut-free</text>",
        "<text>&#110;ut-free</text>",
        "<text>&#x6e;ut-free</text>",
        "<text>nut&#8209;free</text>",
        "<text>nut\u{2011}free</text>",
        "<text><![CDATA[nut-free]]></text>",
        "<text>nut-<!-- a mark -->free</text>",
        "<text>nut</text><text>free</text>",
        "<text><tspan>nut-</tspan><tspan>free</tspan></text>",
        "<text>n u t - f r e e</text>",
        "<text>nut-\u{200b}free</text>",
        "<title>nut-free</title>",
    ] {
        put("logo.svg", &text(words));
        if !out(&assize(at, &["check"])).contains("absence-in-text") {
            silent.push(words);
        }
        put(
            "day.dough",
            "booklet quay-week \"Quay Week\" { card pier-loaf; picture \"logo.svg\" }\n",
        );
        for args in [
            &["print", "pier-loaf", "--only", "card", "--format", "html", "--to", "-"][..],
            &["print", "quay-week", "--format", "html", "--to", "o"],
        ] {
            let done = assize(at, args);
            assert!(err(&done).contains("absence-in-text"), "{words}: {args:?} {}", err(&done));
            assert_ne!(done.status.code(), Some(0), "{words}: {args:?}");
            assert!(!out(&done).contains("data:image/svg"), "{words}: {args:?}");
        }
        fs::remove_file(at.join("day.dough")).expect("removed");
    }
    assert_none(&silent.iter().map(|it| (*it).to_owned()).collect::<Vec<_>>(), 12);
    for words in [
        "<text>n u t s</text>",
        "<text>The quay &amp; nuts</text>",
        "<text>Free</text><text>bread</text>",
    ] {
        put("logo.svg", &text(words));
        assert_eq!(out(&assize(at, &["check"])), "1 formula, no findings\n", "{words}");
    }
    put("logo.svg", &svg("The quay"));
    put("templates/card.typ", "// nut-free\n#let card(it) = [This bread is nut-free.]\n");
    let done = assize(at, &["check"]);
    let told = out(&done);
    assert!(told.contains("templates/card.typ, line 2") && !told.contains("line 1)"), "{told}");
    assert_eq!(done.status.code(), Some(0), "a warning: {told}");
}

/// `free from` of an ingredient wants words that show it, and `check --all` lists them.
#[test]
fn what_shows_an_absence_says_something_and_is_listed() {
    let own = |proof: &str| {
        format!("ingredient quay drink like whole milk {{ free from milk \"{proof}\" }}\n{PLAIN}")
    };
    for proof in ["x", "ok", "yes", "....", " - ", "n/a"] {
        assert!(names(&own(proof)).contains(&"missing-value"), "{proof}: {:?}", names(&own(proof)));
    }
    assert_eq!(names(&own("the supplier's sheet of 3 March")), Vec::<&str>::new());
    let folder = folder();
    fs::write(folder.path().join("a.dough"), own("the supplier's sheet of 3 March"))
        .expect("written");
    let told = out(&assize(folder.path(), &["check", "--all"]));
    assert!(
        told.contains("`quay drink` counts as free from milk: the supplier's sheet of 3 March"),
        "{told}"
    );
}

/// What is put on or into baked bread: cream that stands warm, meat that nobody cooked.
#[test]
fn after_the_bake_nothing_makes_food_safe() {
    let loaf = |own: &str, piece: &str, after: &str| {
        PLAIN.replace("  total {", &format!("  piece {{ {piece} }}\n  total {{")).replace("\n}\n", &format!(
            "\n  method {{\n    mix 8min with everything else\n    bulk 1h at 25C\n    bake 30min at 230C\n    cool 1h\n{after}  }}\n}}\n"
        )) + own
    };
    let cream = "ingredient quay cream like heavy cream { contains milk }\n";
    for (name, own, rest, wanted) in [
        ("quay cream", cream, "rest 10h at 28C", true),
        ("cream", "", "rest 8h at 25C", true),
        ("heavy cream", "", "rest 7h", true),
        ("cream", "", "rest 8h at 4C", false),
        ("cream", "", "rest 1h at 20C", false),
        ("sugar", "", "rest 10h at 28C", false),
    ] {
        let text = loaf(
            own,
            &format!("{name} 20 g"),
            &format!("    fill 10min with {name}\n    {rest}\n"),
        );
        assert_eq!(
            names(&text).contains(&"stands-too-warm"),
            wanted,
            "{name}, {rest}: {:?}",
            names(&text)
        );
    }
    let own =
        |name: &str| format!("ingredient {name} is other {{ contains nothing; animal meat }}\n");
    for (name, wanted) in [
        ("bacon", true),
        ("smoked bacon", true),
        ("chicken strips", true),
        ("minced beef", true),
        ("fried bacon", false),
        ("cooked chicken", false),
        ("smoked duck", false),
        ("salami", false),
        ("half-cooked chicken", true),
    ] {
        let text =
            loaf(&own(name), &format!("{name} 20 g"), &format!("    top 10min with {name}\n"));
        assert_eq!(names(&text).contains(&"eaten-raw"), wanted, "{name}: {:?}", names(&text));
    }
}

/// Lye is lye by whatever name it is sold.
#[test]
fn lye_is_known_by_its_names_of_trade() {
    let mut silent = Vec::new();
    for name in [
        "caustic pearls",
        "quay caustic flakes",
        "Natronlauge",
        "Brezellauge 4 %",
        "Ätznatron",
        "soude caustique",
        "sosa cáustica",
        "soda caustica",
        "sodium hydroxide beads",
        "NaOH",
        "E 524",
        "hydroxyde de sodium",
        "potassium hydroxide",
        "Laugenperlen",
    ] {
        let text = format!("ingredient \"{name}\" is other {{ contains nothing; animal nothing }}\n") + &PLAIN.replace("  total {", &format!(
            "  piece {{ \"{name}\" 1 g }}\n  total {{"
        )).replace("\n}\n", &format!(
            "\n  method {{\n    mix 8min with everything else\n    bulk 1h at 25C\n    bake 30min at 230C\n    cool 1h\n    wash 5min with \"{name}\"\n  }}\n}}\n"
        ));
        if !names(&text).contains(&"lye-out-of-place") {
            silent.push(format!("{name}: {:?}", names(&text)));
        }
    }
    assert_none(&silent, 14);
}

/// A table with eggs and no unit counts them, and a claim in a recipe is no step.
#[test]
fn what_is_read_is_neither_weighed_for_counted_nor_done_for_said() {
    let folder = folder();
    let read = |name: &str, text: &str| {
        fs::write(folder.path().join(name), text).expect("written");
        out(&assize(folder.path(), &["read", name, "--to", "-"]))
    };
    let table = |eggs: &str| {
        format!(
            "ingredient,amount,unit\nbread flour,500,g\nwater,250,g\nsalt,9,g\nfresh yeast,12,g\n{eggs}\n"
        )
    };
    for (row, wanted, not) in [
        ("eggs,2,", "whole egg", "2 g"),
        ("eggs,2-3,", "whole egg", "3 g"),
        ("egg yolks,3,", "egg yolk", "3 g"),
    ] {
        let text = read("a.csv", &table(row));
        let line =
            text.lines().find(|line| line.contains(wanted)).unwrap_or_else(|| panic!("{text}"));
        assert!(!line.contains(not), "{line}");
    }
    assert!(read("a.csv", &table("eggs,110,")).contains("110 g"));
    let text = read(
        "b.txt",
        "Quay Bread\n\n500 g bread flour\n300 g water\n10 g salt\n5 g dry yeast\n\nVegan and nut-free!\nMix everything.\nBake at 220C for 30 minutes.\n",
    );
    assert!(!text.contains("step  \"Vegan") && text.contains("\"Vegan and nut-free!\""), "{text}");
}

/// What texts tell people to do with raw dough and with lye, in five languages.
#[test]
fn a_text_tells_nobody_to_do_what_hurts() {
    let of = |text: &str| PLAIN.replace("  total {", &format!("  note \"{text}\"\n  total {{"));
    let told = |text: &str, name: &str| names(&of(text)).contains(&name);
    let mut wrong = Vec::new();
    for text in [
        "Taste the raw dough for salt.",
        "Taste the dough for salt.",
        "Mix, then taste the dough.",
        "Eat a little of the raw dough.",
        "Goûtez la pâte pour le sel.",
        "Probiere den rohen Teig.",
        "Prueba la masa cruda.",
        "Assaggia l'impasto crudo.",
        "Children may lick the raw batter.",
    ] {
        if !told(text, "eaten-raw") {
            wrong.push(format!("silent: {text}"));
        }
    }
    for text in [
        "Dip the baked rolls into a 10 % lye bath.",
        "Dip the baked rolls into lye.",
        "Brush the cooled loaf with lye.",
        "Die gebackenen Brötchen in Lauge tauchen.",
        "Trempez les pains cuits dans la soude.",
        "A bath of 12 % lye gives more colour.",
    ] {
        if !told(text, "lye-out-of-place") {
            wrong.push(format!("silent: {text}"));
        }
    }
    for text in [
        "Never taste raw dough.",
        "Do not eat the raw dough.",
        "The taste of the dough is mild.",
        "Taste a slice of the loaf.",
        "Raw dough is not for tasting.",
        "The dough should taste of nothing.",
        "Dip the rolls in lye before they are baked.",
        "A 4 % lye bath is usual.",
        "Never dip baked rolls into lye.",
        "Den Teig nicht roh essen.",
        "Lye is for gloves and goggles.",
    ] {
        for name in ["eaten-raw", "lye-out-of-place"] {
            if told(text, name) {
                wrong.push(format!("{name}: {text}"));
            }
        }
    }
    assert_none(&wrong, 26);
}

/// The same in a manuscript: in a formula's section, where the reading is turned off, above all
/// formulas, in a table, and in a file that holds none.
#[test]
fn a_manuscript_tells_nobody_to_do_what_hurts() {
    let block = format!("```dough\n{PLAIN}```\n");
    type Files = Vec<(&'static str, String)>;
    let places: [&dyn Fn(&str) -> Files; 6] = [
        &|text| vec![("/x/a.md", format!("# Pier Loaf\n\n{text}\n\n{block}"))],
        &|text| vec![("/x/a.md", format!("# Pier Loaf\n\n{block}\nAs a tip: it keeps. {text}\n"))],
        &|text| {
            vec![(
                "/x/a.md",
                format!(
                    "# Pier Loaf\n\n<!-- assize: off -->\n\n{text}\n\n<!-- assize: on -->\n\n{block}"
                ),
            )]
        },
        &|text| vec![("/x/a.md", format!("# Foreword\n\n{text}\n\n# Pier Loaf\n\n{block}"))],
        &|text| {
            vec![(
                "/x/a.md",
                format!("# Pier Loaf\n\n{block}\n| Step | What |\n| --- | --- |\n| 1 | {text} |\n"),
            )]
        },
        &|text| {
            vec![("/x/b.md", format!("# Foreword\n\n{text}\n")), ("/x/a.dough", PLAIN.to_owned())]
        },
    ];
    let told = |files: &[(&str, String)]| -> Vec<&'static str> {
        let house = ("/x/bakehouse.dough", "bakehouse \"Gullhaven Bakehouse\" {}\n");
        let own = files.iter().map(|(name, text)| (*name, text.as_str()));
        let all: Vec<(&str, &str)> = [house].into_iter().chain(own).collect();
        let loaded = load(&Memory::with(&all), Path::new("/x"), &[PathBuf::from("/x")]);
        names_of(&report(&loaded, None).findings)
    };
    let mut wrong = Vec::new();
    let mut tried = 0;
    for (text, name) in [
        ("Taste the raw dough for salt.", "eaten-raw"),
        ("Eat a little of the raw dough.", "eaten-raw"),
        ("Goûtez la pâte pour le sel.", "eaten-raw"),
        ("Probiere den rohen Teig.", "eaten-raw"),
        ("Dip the baked rolls into lye.", "lye-out-of-place"),
        ("Die gebackenen Brötchen in Lauge tauchen.", "lye-out-of-place"),
    ] {
        for (number, place) in places.iter().enumerate() {
            let found = told(&place(text));
            let count = found.iter().filter(|it| **it == name).count();
            if count != 1 {
                wrong.push(format!("{count} times in place {number}: {text} {found:?}"));
            }
            tried += 1;
        }
    }
    for text in [
        "Never taste raw dough.",
        "The taste of the dough is mild.",
        "Raw dough smells of the mill.",
        "Was die Brötchen aus diesem Teig kosten, steht am Fenster.",
        "Wir sagen, wie viel die Brote aus diesem Teig kosten.",
        "A raw wind blew from the harbour, and the dough was slow.",
        "Lye is for gloves and goggles.",
        "Taste a slice of the loaf.",
    ] {
        for (number, place) in places.iter().enumerate() {
            let found = told(&place(text));
            if found.contains(&"eaten-raw") || found.contains(&"lye-out-of-place") {
                wrong.push(format!("false in place {number}: {text}"));
            }
            tried += 1;
        }
    }
    assert_none(&wrong, tried);
}

/// What nobody would call raw is told as a warning, and lye as an error.
#[test]
fn what_hurts_has_its_level() {
    let level = |text: &str, name: &str| {
        desk::check(&crate::support::loaded(text))
            .into_iter()
            .find(|it| it.rule.name == name)
            .map(|it| it.level)
    };
    let text = format!(
        "mixture nut-free paste {{ hazelnuts 1 part; sugar 1 part }}\n{}",
        PLAIN.replace("  total {", "  piece { nut-free paste 4 g }\n  total {")
    );
    assert_eq!(level(&text, "absence-in-text"), Some(Level::Error));
}

/// Flour of wheat on the board is nothing to bread of wheat, and everything to bread of rice:
/// in a note it weighs as much as in a step.
#[test]
fn gluten_that_a_note_puts_beside_bread_without_is_told() {
    let loaf = |flour: &str, note: &str| {
        format!(
            "formula loaf {{ makes 12 rolls at 60 g; note \"{note}\"\n total {{ {flour} 100%; water 90%; salt 2%; fresh yeast 2%; psyllium husk 5% }} method {{ mix 5min with everything else; bulk 1h at 26C; shape 5min; proof 1h at 26C; bake 14min at 210C }} }}\n"
        )
    };
    for note in [
        "Flour the baskets with wheat flour.",
        "Dust the board with bread flour.",
        "Dust with plain flour.",
        "Dust the tops with rye flour.",
        "Mit Weizenmehl bestäuben.",
        "Fariner avec de la farine de blé.",
        "Coat with panko.",
        "Sift couscous on.",
        "Wrap in filo.",
    ] {
        assert!(names(&loaf("rice flour", note)).contains(&"ingredient-in-text"), "{note}");
    }
    for note in ["Flour the baskets with wheat flour.", "Dust the board with bread flour."] {
        assert!(!names(&loaf("bread flour", note)).contains(&"ingredient-in-text"), "{note}");
        let of_rice =
            note.replace("wheat flour", "rice flour").replace("bread flour", "rice flour");
        assert!(!names(&loaf("rice flour", &of_rice)).contains(&"ingredient-in-text"), "{of_rice}");
    }
}

/// What is printed of a tin or a machine in a step is held to the bread that comes out of it.
#[test]
fn names_of_tins_in_steps_are_held_to_the_bread() {
    let text = |name: &str, grease: &str| {
        format!(
            "bakehouse \"Gullhaven Bakehouse\" {{ tin {name} {{ holds 2.4 l; greased with {grease} }} }}\nformula loaf {{ makes 2 loaves at 700 g\n total {{ bread flour 100%; water 60%; salt 2%; fresh yeast 2% }} method {{ mix 5min with everything else; bulk 1h at 24C; shape 5min; pan 2min in {name}; proof 1h at 24C; bake 35min at 210C }} }}\n"
        )
    };
    assert!(names(&text("vegan tin", "butter")).contains(&"absence-in-text"));
    assert!(names(&text("milk-free tin", "butter")).contains(&"absence-in-text"));
    assert!(!names(&text("vegan tin", "sunflower oil")).contains(&"absence-in-text"));
    assert!(!names(&text("long tin", "butter")).contains(&"absence-in-text"));
}

/// A list of what one ingredient is made of is no list of the bread; an offered variation is
/// told, and is no error.
#[test]
fn lists_of_an_ingredient_and_variations_are_what_they_are() {
    let text = |note: &str, own: &str| {
        format!(
            "ingredient quay filling is other {{ contains milk, soybeans; animal milk; note \"{own}\" }}\nformula loaf {{ makes 12 rolls at 60 g; note \"{note}\"\n total {{ bread flour 100%; water 60%; salt 2%; fresh yeast 2%; quay filling 5% }} method {{ mix 5min with everything else; bulk 1h at 26C; shape 5min; proof 1h at 26C; bake 14min at 210C }} }}\n"
        )
    };
    let told = names(&text("Bake it dark.", "Enthält: Milch, Soja"));
    assert!(!told.contains(&"absence-in-text"), "{told:?}");
    for note in
        ["If you like, add walnuts.", "Variation: add walnuts.", "For a richer loaf add walnuts."]
    {
        let found = findings(&text(note, "Soft."));
        let found = found.iter().find(|it| it.rule.name == "ingredient-in-text").expect("told");
        assert_eq!(found.level, Level::Warning, "{note}");
    }
    let told = names(&text("For a gluten-free bread see the other card.", "Soft."));
    assert!(!told.contains(&"absence-in-text"), "{told:?}");
    for note in ["Safe for everyone with allergies.", "Ovo-free.", "Veganized."] {
        let told = names(&text(note, "Soft.").replace("water 60%", "water 60%; whole egg 5%"));
        assert!(told.contains(&"absence-in-text"), "{note}: {told:?}");
    }
}

/// On paper a word is whole, whatever nobody sees stands inside it.
#[test]
fn a_claim_is_heard_whatever_nobody_sees_in_it() {
    let wheat = "bread flour 100%; water 62%; salt 1.8%; fresh yeast 2%";
    let letters: Vec<char> = ('\u{1}'..='\u{e0fff}')
        .filter(|letter| is_unseen(*letter) && !letter.is_whitespace())
        .filter(|letter| !('\u{e0080}'..='\u{e0ff0}').contains(letter))
        .collect();
    assert!(letters.len() > 200, "{}", letters.len());
    let mut silent = Vec::new();
    for letter in letters {
        for word in [format!("glu{letter}ten-free"), format!("gluten-fr{letter}ee")] {
            let texts = [
                format!(
                    "bakehouse \"A\" {{ footer \"{word}\" }}\nformula q \"Q\" {{ makes 2 loaves at 500 g; total {{ {wheat} }} }}\n"
                ),
                format!(
                    "formula q \"Q {word}\" {{ makes 2 loaves at 500 g; total {{ {wheat} }} }}\n"
                ),
                format!(
                    "formula q \"Q\" {{ makes 2 loaves at 500 g; note \"{word}\"; total {{ {wheat} }} }}\n"
                ),
            ];
            for text in texts {
                if !names(&text).contains(&"absence-in-text") {
                    silent.push(format!("U+{:04X}: {text}", u32::from(letter)));
                }
            }
        }
    }
    assert_none(&silent, 1200);
}
