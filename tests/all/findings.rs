//! Findings with their source: one file for each rule under `examples/mistakes`.

use crate::support::{PLAIN, alone, dough_files, findings, names, top};
use assize::testing::desk;
use assize::testing::diag::{Finding, Level, render};
use assize::testing::print::wording::CATALOGUES;
use assize::testing::source::Span;
use std::collections::BTreeSet;

/// Each file raises the finding that it is named after; what it says is in a snapshot.
#[test]
fn each_file_raises_the_finding_it_is_named_after() {
    let mut missing = Vec::new();
    for file in dough_files("examples/mistakes") {
        let name = file.file_stem().expect("a name").to_string_lossy().into_owned();
        let loaded = alone(&file);
        let findings = desk::check(&loaded);
        // `a.2.dough` is a second case of the rule `a`.
        let rule = name.split('.').next().unwrap_or(&name);
        if !findings.iter().any(|finding| finding.rule.name == rule) {
            missing.push(name.clone());
        }
        let told: String =
            findings.iter().map(|finding| render(finding, &loaded.sources, false)).collect();
        let source = std::fs::read_to_string(&file).expect("readable");
        insta::with_settings!({
            snapshot_path => top().join("tests/findings"),
            prepend_module_to_snapshot => false,
            omit_expression => true,
        }, {
            insta::assert_snapshot!(name, format!("{source}\n{told}"));
        });
    }
    assert!(missing.is_empty(), "these files do not raise their finding: {missing:?}");
}

/// Rules that need more than one file, or a file that is no text, have their tests
/// elsewhere in this binary.
const ELSEWHERE: &[&str] = &[
    "bug-of-ours",
    "column-unread",
    "day-not-proven",
    "days-clash",
    "file-too-large",
    "history-cut-short",
    "house-too-large",
    "glyph-missing",
    "needs-a-decision",
    "no-plan",
    "no-repository",
    "no-words-for-language",
    "number-in-prose",
    "not-understood",
    "not-utf-8",
    "order-late",
    "order-left-out",
    "order-unread",
    "placeholder-empty",
    "print-unknown",
    "repository-unreadable",
    "sheet-out-of-date",
    "table-disagrees",
    "table-refuted",
    "template-slip",
    "too-deep",
    "unknown-instruction",
    "unknown-reference",
    "unread-fence",
    "unread-file",
    "unreadable",
    "unwritable",
    "words-refused",
    "words-unread",
];

#[test]
fn every_rule_has_a_case() {
    let files = dough_files("examples/mistakes");
    let covered: BTreeSet<String> = files
        .iter()
        .map(|file| file.file_stem().expect("a name").to_string_lossy().into_owned())
        .map(|name| name.split('.').next().unwrap_or(&name).to_owned())
        .collect();
    let bare: Vec<&str> = desk::rules()
        .map(|rule| rule.name)
        .filter(|name| !covered.contains(*name) && !ELSEWHERE.contains(name))
        .collect();
    assert!(bare.is_empty(), "rules without a case: {bare:?}");
}

#[test]
fn names_of_rules_are_words_joined_by_hyphens() {
    for rule in desk::rules() {
        let plain =
            rule.name.chars().all(|c| c.is_ascii_lowercase() || c == '-' || c.is_ascii_digit());
        assert!(plain, "{}", rule.name);
    }
}

/// Five separate mistakes give five findings, and the rest of the file still counts.
#[test]
fn five_mistakes_give_five_findings_and_the_rest_still_has_figures() {
    let text = "\
formula pier-loaf \"Pier Loaf\" {
  makes  2 loaves at 900 g
  total {
    bread flour  100%
    water         74,5%
    salt           2%
    fresh yeast    1% in all
  }
  bakes it well
}

formula quay-loaf \"Quay Loaf\" {
  makes 2 loaves at 900 g
  total { bread flour 100%; water 70%; salt 2%; slat 1%; fresh yeast 1% }
  expect { hydration 71% }
}

formula mole-loaf \"Mole Loaf\" {
  makes 2 loaves at 900 g
  total { bread flour 100%; water 70%; salt 2%; fresh yeast 1% }
  expect { hydration 71% }
}
";
    assert_eq!(
        names(text),
        ["decimal-comma", "unexpected-text", "unknown-word", "unknown-ingredient", "claim-refuted"]
    );
}

#[test]
fn an_allowed_finding_is_silent_and_an_idle_allow_is_not() {
    let salty = crate::support::PLAIN.replace("salt           2%", "salt           3.2%");
    assert_eq!(names(&salty), ["salt-high"]);
    let allowed = salty.replace("  total {", "  allow salt-high \"for the sea\"\n  total {");
    let findings = crate::support::findings(&allowed);
    assert_eq!(findings.len(), 1);
    assert_eq!(findings[0].allowed.as_deref(), Some("for the sea"));
    let idle =
        crate::support::PLAIN.replace("  total {", "  allow salt-high \"no more\"\n  total {");
    assert_eq!(names(&idle), ["allow-silences-nothing"]);
}

/// What judges the bread can be allowed, as an error too; what judges the sums can't.
#[test]
fn an_error_that_judges_the_bread_can_be_allowed_and_others_cannot() {
    let allowing = |name: &str, salt: &str| {
        let text = crate::support::PLAIN.replace("    salt           2%\n", salt);
        text.replace("  total {", &format!("  allow {name} \"as we do\"\n  total {{"))
    };
    for (name, salt) in
        [("salt-high", "    salt  5%\n"), ("salt-low", "    salt  2 g\n"), ("missing-salt", "")]
    {
        let found = crate::support::findings(&allowing(name, salt));
        let told: Vec<_> = found
            .iter()
            .map(|finding| (finding.rule.name, finding.level, finding.allowed.as_deref()))
            .collect();
        assert_eq!(told, [(name, Level::Error, Some("as we do"))]);
    }
    let sums = allowing("claim-refuted", "    salt  2%\n")
        .replace("  total {", "  expect { hydration 75% }\n  total {");
    let found = crate::support::findings(&sums);
    assert!(
        found
            .iter()
            .any(|finding| finding.message == "`claim-refuted` is an error and can't be allowed")
    );
    assert!(found.iter().all(|finding| finding.allowed.is_none()));
}

/// `allow` behind a text, or in a step, holds there alone.
#[test]
fn one_sentence_or_step_can_be_allowed() {
    let with = |notes: &str| PLAIN.replace("  total {", &format!("{notes}\n  total {{"));
    let sentence = "note \"Serve with 30 g of jam.\"";
    let allow = " allow number-in-text \"a serving\"";
    let other = "note \"Offer 30 g of jam.\"";
    assert_eq!(names(&with(&format!("  {sentence}\n  {other}"))), ["number-in-text"; 2]);
    let found = findings(&with(&format!("  {sentence}{allow}\n  {other}")));
    let told: Vec<_> = found.iter().map(|finding| finding.allowed.as_deref()).collect();
    assert_eq!(told, [Some("a serving"), None]);
    let bulk = |allow: &str| {
        format!(
            "  method {{ mix 8min with everything else; bulk 28h at 20C{allow}; shape; proof 19h at 20C; bake 40min at 230C }}"
        )
    };
    assert_eq!(names(&with(&bulk(""))), ["time-doubtful"; 2]);
    let found = findings(&with(&bulk(" allow time-doubtful \"a cold cellar\"")));
    let told: Vec<_> = found.iter().map(|finding| finding.allowed.as_deref()).collect();
    assert_eq!(told, [Some("a cold cellar"), None]);
    let idle = with("  note \"Warm.\" allow number-in-text \"a serving\"");
    assert_eq!(names(&idle), ["allow-silences-nothing"]);
}

#[test]
fn a_tin_is_declared_once() {
    let tin = |name: &str, litres: &str| format!("tin {name} {{ holds {litres} l }}\n");
    let both =
        format!("{}{}{}", tin("chandler", "2.4"), tin("chandler", "1.2"), crate::support::PLAIN);
    assert_eq!(names(&both), ["declared-twice"]);
    let two =
        format!("{}{}{}", tin("chandler", "2.4"), tin("cooper", "1.2"), crate::support::PLAIN);
    assert_eq!(names(&two), Vec::<&str>::new());
}

/// `without` removes from what `from` brings; alone there is nothing to remove from.
#[test]
fn without_needs_a_formula_that_it_is_from() {
    let text = PLAIN.replace("water         74%", "water 74%; without raisins");
    assert_eq!(names(&text), ["overrides-nothing"]);
}

/// What is like something built in contains what that contains, and no more.
#[test]
fn likeness_carries_what_is_not_contained() {
    let text = PLAIN.replace("salt           2%", "cliff salt 2%")
        + "ingredient cliff salt like salt { each 2 g }\n";
    let free = text.replace("  total {", "  expect { free from nuts }\n  total {");
    assert_eq!(names(&free), [] as [&str; 0]);
}

/// Of a culture in weights and per cent nobody knows what it is made of.
#[test]
fn a_culture_is_written_in_one_kind_of_amount() {
    let text = format!("culture odd culture {{ bread flour 100%; water 100 g }}\n{PLAIN}");
    assert_eq!(names(&text), ["composition-depends-on-size"]);
}

/// 72.5 % rounds to 73 %, so no number is both 72 % and 73 %.
#[test]
fn claims_a_digit_apart_disagree() {
    let text = PLAIN.replace("  total {", "  expect { hydration 74%; hydration 75% }\n  total {");
    assert_eq!(names(&text), ["claim-refuted", "claims-disagree"]);
}

/// An `allow` says why; in a formula that is not wholly checked none is called idle.
#[test]
fn an_allow_needs_its_reason() {
    let text = PLAIN
        .replace("salt           2%", "salt 1.2%")
        .replace("  total {", "  allow salt-low\n  total {");
    assert_eq!(names(&text), ["missing-value", "salt-low"]);
    let allowed = findings(&text.replace("salt-low", "salt-low \"for a diet\""));
    let told: Vec<_> =
        allowed.iter().map(|finding| (finding.rule.name, finding.allowed.as_deref())).collect();
    assert_eq!(told, [("salt-low", Some("for a diet"))]);
}

/// A baked weight needs what the oven takes; a dough at the heat of an oven is told.
#[test]
fn slips_about_the_oven_are_told() {
    let baked = PLAIN.replace("at 885 g", "at 780 g baked");
    assert_eq!(names(&baked), [] as [&str; 0]);
    assert_eq!(names(&baked.replace("  bake loss  12%\n", "")), ["piece-size-missing"]);
    let method = "  method { mix 6min with everything else; bulk 2h at 250C; proof 1h at 75C; bake 35min at 230C }\n";
    let hot = PLAIN.replace("  total {", &format!("{method}  total {{"));
    assert_eq!(names(&hot), ["temperature-doubtful", "temperature-doubtful"]);
    assert_eq!(names(&hot.replace("250C", "25C").replace("75C", "75F")), [] as [&str; 0]);
}

/// A slip in a text, a claim or the method leaves the sums to be judged.
#[test]
fn a_slip_beside_the_sums_hides_none_of_them() {
    let salty = PLAIN.replace("salt           2%", "salt 5%");
    for slip in ["note \"[water 3]\"", "expect { hydration }", "method { bake 35 }"] {
        let text = salty.replace("  total {", &format!("  {slip}\n  total {{"));
        let found = names(&text);
        assert!(found.contains(&"salt-high") && found.len() >= 2, "{slip}: {found:?}");
    }
}

/// One ingredient under two of its names is one too many.
#[test]
fn a_second_name_of_a_line_is_told() {
    let text = PLAIN.replace("bread flour  100%", "hill flour 50%; top flour 50%")
        + "ingredient hill flour like bread flour { also \"top flour\" }\n";
    assert_eq!(names(&text), ["declared-twice"]);
}

/// Two lines that are percentages of each other have no size.
#[test]
fn lines_that_size_each_other_are_told() {
    let text = PLAIN
        .replace("fresh yeast    1%", "fresh yeast 1%; butter 20% of sugar; sugar 50% of butter");
    assert_eq!(names(&text), ["circular-size", "circular-size"]);
}

/// Every allergen that a text speaks of is told, and every name it asks an amount of.
#[test]
fn all_that_a_text_speaks_of_is_told() {
    let text = PLAIN.replace(
        "  total {",
        "  note \"Add almonds, then sesame seeds; [5 g of honey]\"\n  total {",
    );
    assert_eq!(names(&text), ["ingredient-in-text", "ingredient-in-text", "unknown-figure"]);
}

/// What a word processor or a habit puts in is read, told and repaired.
#[test]
fn signs_of_habit_are_mended() {
    let slips = PLAIN
        .replace("\"Pier Loaf\"", "“Pier Loaf”")
        .replace("  total {", "  note „Serve [50 g of water] warm.“\n  total {");
    assert_eq!(names(&slips), ["misplaced-punctuation"; 2]);
    let found = findings(&slips);
    let source = found[0].span().source;
    let (better, made) = assize::testing::diag::repaired(source, &slips, &found);
    assert_eq!((made, names(&better)), (2, vec![]));
    assert!(better.contains("note \"Serve [50 g of water] warm.\""), "{better}");
}

/// A formula on a line of a total brings flour that belongs to the 100 %.
#[test]
fn flour_inside_a_line_of_a_total_counts() {
    let inner = "formula tide-loaf \"Tide Loaf\" {\n  makes 10 kg dough\n  total { bread flour 100%; water 50%; salt 2%; fresh yeast 1%; pier-loaf 17.7% }\n}\n";
    let text = format!("bakehouse \"Tide\" {{\n}}\n{PLAIN}{inner}");
    // A gram of pier-loaf holds 100 / 177 g flour: 10 % too much.
    assert_eq!(names(&text), ["flour-not-100"]);
    assert_eq!(
        names(&text.replace("bread flour 100%; water 50%", "bread flour 90%; water 50%")),
        [] as [&str; 0]
    );
}

/// Old dough raises nothing where nothing else does.
#[test]
fn old_dough_alone_raises_nothing() {
    let text = PLAIN.replace("fresh yeast    1%", "old dough 10% of dough");
    assert_eq!(names(&text), ["no-leavening"]);
    let yeasted = PLAIN.replace("salt           2%", "salt 2%; old dough 10% of dough");
    assert_eq!(names(&yeasted), [] as [&str; 0]);
}

/// A culture is left whole in the total and in its stage, or in neither.
#[test]
fn a_culture_is_split_in_both_places_or_in_neither() {
    let sour = "  preferment sour { ferments 20% of flour; bread flour 100%; water 80%; rye culture 25% not split }\n  total {";
    let text = PLAIN.replace("  total {", sour).replace("fresh yeast    1%", "rye culture 5%");
    let told = findings(&text);
    assert!(told.iter().any(|said| said.message.contains("but here it is split")), "{told:?}");
}

/// A bare number gets the unit that it most likely had.
#[test]
fn a_bare_number_gets_the_likely_unit() {
    let help = |slip: &str| {
        let text = PLAIN.replace("  total {", &format!("  {slip}\n  total {{"));
        let told = findings(&text);
        let said = told.iter().find(|said| said.rule.name == "missing-unit").expect("told");
        said.repair.as_ref().map(|repair| repair.text.clone())
    };
    let bake =
        |at: &str| help(&format!("method {{ mix with everything else; bake 35min at {at} }}"));
    assert_eq!(bake("230").as_deref(), Some("230C"));
    assert_eq!(bake("450").as_deref(), Some("450F"));
    assert_eq!(help("expect { hydration 0.74 }").as_deref(), Some("74%"));
}

/// Spoons as home recipes write them.
#[test]
fn spoons_of_home_recipes_are_known() {
    for (written, meant) in [("2 T", "tbsp"), ("2 t", "tsp")] {
        let text = PLAIN.replace("salt           2%", &format!("salt {written}"));
        let told = findings(&text);
        let said = told.iter().find(|said| said.rule.name == "unknown-unit").expect("told");
        let repair = said.repair.as_ref().expect("a repair");
        // A slip of the case would be three times as much.
        assert_eq!((repair.text.as_str(), repair.safe), (meant, false));
    }
}

/// As many pieces as a dough gives, and what is left: 33.82 lb are 541.12 oz, 38 × 14 are
/// 532, and 9.12 oz are left.
#[test]
fn a_weight_of_dough_gives_pieces_and_a_rest() {
    for makes in
        ["33.82 lb at 14 oz", "33.82 lb dough at 14 oz", "rounds at 14 oz from 33.82 lb dough"]
    {
        let text = PLAIN.replace("2 loaves at 885 g", makes);
        let loaded = crate::support::loaded(&text);
        let bakehouses = desk::bakehouses(&loaded);
        let formula = &loaded.files()[0].tree.formulas[0];
        let worked = desk::check_formula(&bakehouses[0].house, formula, &mut Vec::new());
        let numbers = worked.first();
        assert_eq!(numbers.pieces[0].made.count, assize::testing::quantity::int(38), "{makes}");
        let ounce = assize::testing::quantity::ratio(45_359_237, 1_600_000);
        assert_eq!(numbers.dough_left(), Some(assize::testing::quantity::ratio(912, 100) * ounce));
        assert_eq!(names(&text), ["dough-left"]);
    }
    let written = PLAIN
        .replace("makes  2 loaves at 885 g", "makes rolls at 80 g")
        .replace("bread flour  100%", "bread flour 1 kg");
    // 1770 g of dough: 22 × 80 = 1760.
    let told = findings(&written);
    assert_eq!(told[0].message, "22 `rolls` at 80 g leave 10 g of dough");
    let heavy = PLAIN.replace("2 loaves at 885 g", "loaves at 2 kg from 1.5 kg dough");
    assert_eq!(findings(&heavy)[0].level, Level::Error);
    assert_eq!(
        names(&PLAIN.replace("2 loaves at 885 g", "loaves at 885 g")),
        ["piece-size-missing"]
    );
}

/// Rules about a file, a folder, a font or ourselves: what has no lines to show.
const OF_NO_LINE: &[&str] = &[
    "bug-of-ours",
    "file-too-large",
    "glyph-missing",
    "house-too-large",
    "not-utf-8",
    "template-slip",
    "unread-file",
    "unreadable",
    "unwritable",
    "words-unread",
];

/// What is about a text says where, in every form; programs find a `place` and never `null`.
#[test]
fn every_mistake_has_its_place() {
    let files = dough_files("examples/mistakes");
    let mut seen = BTreeSet::new();
    for file in &files {
        let found = desk::check(&alone(file));
        let file = file.display();
        for finding in &found {
            assert_ne!(finding.span(), Span::NOWHERE, "{file}: {}", finding.message);
            for label in &finding.labels {
                assert_ne!(label.span, Span::NOWHERE, "{file}: {} {label:?}", finding.message);
            }
            seen.insert(finding.rule.name);
        }
    }
    assert!(seen.len() > 100, "{}", seen.len());
    let covered = |name: &&str| seen.contains(name) || ELSEWHERE.contains(name);
    let bare: Vec<&str> = desk::rules().map(|rule| rule.name).filter(|it| !covered(it)).collect();
    assert!(bare.is_empty(), "{bare:?}");
    // `no-plan`, `too-deep` and the like have a place too, and are tested where they are.
    assert!(OF_NO_LINE.iter().all(|name| ELSEWHERE.contains(name)));

    let folder = crate::support::folder();
    for file in &files {
        let name = file.file_name().expect("a name");
        std::fs::copy(file, folder.path().join(name)).expect("copied");
    }
    let done = crate::support::assize(folder.path(), &["check", "--format", "json", "--all"]);
    let told: serde_json::Value = serde_json::from_slice(&done.stdout).expect("JSON");
    let findings = told["findings"].as_array().expect("a list");
    assert!(findings.len() > files.len(), "{}", findings.len());
    for finding in findings.iter().filter(|it| it["place"].is_null()) {
        let name = finding["name"].as_str().expect("a name");
        assert!(OF_NO_LINE.contains(&name), "{finding}");
    }
}

/// Blanks of a finding are those of a keyboard, and what stands in backticks can be seen.
#[test]
fn findings_are_set_in_plain_blanks() {
    let said = |finding: &Finding| {
        let own = [&finding.message].into_iter().chain(&finding.help).chain(&finding.notes);
        own.chain(finding.labels.iter().map(|it| &it.text)).cloned().collect::<Vec<_>>()
    };
    for file in dough_files("examples/mistakes").into_iter().chain(dough_files("tests/breads")) {
        let loaded = alone(&file);
        let text = std::fs::read_to_string(&file).expect("readable");
        for words in desk::check(&loaded).iter().flat_map(said) {
            let odd = |letter: char| letter.is_whitespace() && !matches!(letter, ' ' | '\n');
            let own = |letter: char| text.contains(letter);
            assert!(!words.contains(|it| odd(it) && !own(it)), "{}: {words:?}", file.display());
            let empty = words.split('`').skip(1).step_by(2).any(|it| it.trim().is_empty());
            assert!(!empty || text.contains('`'), "{}: {words:?}", file.display());
        }
    }
}

/// No catalogue has blanks of its own beside those of its language's numbers, which come
/// from CLDR: what parts a number from its `%` never breaks where it is set on paper.
#[test]
fn catalogues_have_no_narrow_blanks() {
    for (tag, own, names) in CATALOGUES {
        let is_narrow = |letter: char| ('\u{2002}'..='\u{200a}').contains(&letter);
        assert!(!own.contains(is_narrow) && !names.contains(is_narrow), "{tag}");
    }
}
