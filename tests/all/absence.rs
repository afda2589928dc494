//! Claims of absence: nothing false is proved, nothing that is known stays open.

use crate::support::{Memory, PLAIN, findings, letters, loaded, names, top};
use assize::testing::desk::{self, load};
use assize::testing::formula::{
    Absence, Allergen, Judged, LANGUAGES, Proof, absence, built_in, key, told_by_name, work,
};
use assize::testing::print::{Wording, document};
use assize::testing::syntax::tree::ClaimValue;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// The plain loaf with more lines, a claim and what the file holds besides.
fn loaf(lines: &str, claim: &str, besides: &str) -> String {
    let loaf = PLAIN.replace("    salt           2%\n", &format!("    salt           2%\n{lines}"));
    let claim = format!("  expect {{ {claim} }}\n  total {{");
    loaf.replace("  total {", &claim) + besides
}

/// What became of the claims of a text: `proved`, or the names of the findings.
fn verdict(text: &str) -> String {
    let told: Vec<&str> = names(text);
    let of_claims = ["claim-refuted", "claim-not-proved", "unknown-allergen"];
    match told.iter().find(|name| of_claims.contains(name)) {
        Some(name) => (*name).to_owned(),
        None => {
            // What is not sound is not judged, and would pass for proved.
            let serious: Vec<_> = findings(text)
                .into_iter()
                .filter(|finding| finding.level == assize::testing::diag::Level::Error)
                .collect();
            assert!(serious.is_empty(), "{serious:?}\n{text}");
            "proved".to_owned()
        }
    }
}

// ---- The store, read by other eyes -----------------------------------------------------

/// An entry of the store as this file reads it.
#[derive(Clone, Default)]
struct Entry {
    of: Vec<String>,
    is_group: bool,
    is_diet: bool,
    names: Vec<(String, String)>,
}

/// The store with what follows from it, by this file's own reading.
struct Store {
    entries: BTreeMap<String, Entry>,
    /// The entries that a name stands in, by its key.
    meanings: BTreeMap<String, Vec<String>>,
    /// Of each entry, itself and all that gathers it.
    wider: BTreeMap<String, BTreeSet<String>>,
}

impl Store {
    fn read() -> Self {
        let entries = entries();
        let mut meanings: BTreeMap<String, Vec<String>> = BTreeMap::new();
        for (one, entry) in entries.iter().filter(|(_, entry)| !entry.is_diet) {
            for (_, name) in &entry.names {
                let means = meanings.entry(key(name).to_string()).or_default();
                if !means.contains(one) {
                    means.push(one.clone());
                }
            }
        }
        let all = entries.keys().map(|one| (one.clone(), all_wider(&entries, one)));
        Self { meanings, wider: all.collect(), entries }
    }

    fn names(&self) -> Vec<String> {
        let entries = self.entries.values().filter(|entry| !entry.is_diet);
        entries.flat_map(|entry| entry.names.iter().map(|(_, name)| name.clone())).collect()
    }

    fn is(&self, one: &str, wide: &str) -> bool {
        self.wider[one].contains(wide)
    }

    /// The meaning that is no kind of any other.
    fn wide(&self, name: &str) -> &str {
        let means = &self.meanings[key(name).as_str()];
        let mut wide = means.iter().filter(|one| means.iter().all(|other| self.is(other, one)));
        wide.next().expect("a wide meaning")
    }

    /// The meaning that is a kind of all others.
    fn narrow(&self, name: &str) -> &str {
        let means = &self.meanings[key(name).as_str()];
        let mut narrow = means.iter().filter(|one| means.iter().all(|other| self.is(one, other)));
        narrow.next().expect("a narrow meaning")
    }
}

fn entries() -> BTreeMap<String, Entry> {
    let text = std::fs::read_to_string(top().join("src/formula/stores/allergens.txt"));
    let mut entries: BTreeMap<String, Entry> = BTreeMap::new();
    let mut key = String::new();
    for line in text.expect("the store").lines().filter(|line| !line.starts_with('#')) {
        let Some(fact) = line.strip_prefix("  ") else {
            key = line.to_owned();
            continue;
        };
        let entry = entries.entry(key.clone()).or_default();
        let (word, rest) = fact.split_once(' ').unwrap_or((fact, ""));
        let list = rest.split(',').map(|name| name.trim().to_owned());
        match word {
            "of" => entry.of = list.collect(),
            "group" => entry.is_group = true,
            "diet" => entry.is_diet = true,
            "not" => {}
            language => entry.names.extend(list.map(|name| (language.to_owned(), name))),
        }
    }
    entries
}

/// An entry and all that gathers it.
fn all_wider(entries: &BTreeMap<String, Entry>, one: &str) -> BTreeSet<String> {
    let mut all = BTreeSet::from([one.to_owned()]);
    for above in &entries[one].of {
        all.extend(all_wider(entries, above));
    }
    all
}

/// The law, by hand: each group of Annex II of EU Regulation 1169/2011 and of the US list
/// with members and with other names.
const LAW: &[(&str, &[&str])] = &[
    (
        "cereals containing gluten",
        &[
            "wheat",
            "spelt",
            "khorasan wheat",
            "emmer",
            "einkorn",
            "triticale",
            "durum wheat",
            "rye",
            "barley",
            "oats",
            "gluten",
        ],
    ),
    ("wheat", &["spelt", "khorasan wheat", "emmer", "einkorn", "durum", "triticale", "kamut"]),
    ("rye", &["triticale"]),
    ("crustaceans", &["crab", "lobster", "shrimp", "prawns", "crayfish", "crustacean shellfish"]),
    ("eggs", &["egg", "egg white", "egg yolk"]),
    ("fish", &["anchovies", "cod", "salmon", "tuna"]),
    ("peanuts", &["peanut", "groundnuts"]),
    ("soybeans", &["soya", "soy", "soybean"]),
    ("milk", &["lactose", "dairy", "casein", "whey"]),
    (
        "tree nuts",
        &[
            "almonds",
            "hazelnuts",
            "filberts",
            "walnuts",
            "cashews",
            "pecan nuts",
            "Brazil nuts",
            "pistachio nuts",
            "macadamia nuts",
            "Queensland nuts",
            "pine nuts",
        ],
    ),
    ("nuts", &["almond", "hazelnut", "peanuts", "chestnuts", "coconut", "tree nuts"]),
    ("celery", &["celeriac"]),
    ("mustard", &["mustard"]),
    ("sesame", &["sesame seeds", "tahini"]),
    ("sulphites", &["sulfites", "sulphur dioxide", "sulfite"]),
    ("lupin", &["lupins"]),
    ("molluscs", &["mussels", "oysters", "clams", "scallops", "squid", "snails", "octopus"]),
    ("shellfish", &["crab", "mussels"]),
];

#[test]
fn a_group_is_refuted_by_each_of_its_members() {
    for (group, members) in LAW {
        for member in *members {
            let besides = format!("ingredient pier paste is other {{ contains {member} }}\n");
            let text = loaf("    pier paste 3%\n", &format!("free from {group}"), &besides);
            assert_eq!(verdict(&text), "claim-refuted", "free from {group} over {member}");
        }
    }
}

/// What only says the group does not say which of its members.
#[test]
fn a_member_is_not_proved_by_what_only_says_its_group() {
    let proves = |contains: &str, claim: &str| {
        let besides = format!("ingredient pier paste is other {{ contains {contains} }}\n");
        let plain = loaf("    pier paste 3%\n", &format!("free from {claim}"), &besides);
        // Bread flour itself is wheat.
        verdict(&plain.replace("bread flour", "rice flour"))
    };
    for (group, members) in LAW {
        let own = Allergen::claimed(group).expect("a group");
        for member in *members {
            if Allergen::claimed(member) != Some(own) && *group != "rye" {
                assert_eq!(proves(group, member), "claim-not-proved", "{member} over {group}");
            }
        }
    }
    assert_eq!(proves("wheat", "rye"), "proved");
    assert_eq!(proves("almonds", "hazelnuts"), "proved");
    assert_eq!(proves("spelt", "khorasan wheat"), "proved");
    assert_eq!(proves("peanuts", "tree nuts"), "proved");
}

/// What was proved once, each by the name of an allergen that the store did not lead to
/// the other.
#[test]
fn what_was_falsely_proved_is_refuted() {
    for (claim, holder) in [
        ("soya", "soy flour"),
        ("soy", "soy milk"),
        ("eggs", "whole egg"),
        ("egg", "egg yolk"),
        ("cereals containing gluten", "spelt flour"),
        ("cereals containing gluten", "emmer flour"),
        ("gluten", "oat flour"),
        ("nuts", "hazelnuts"),
        ("nuts", "peanuts"),
        ("tree nuts", "pecans"),
        ("dairy", "unsalted butter"),
        ("milk", "whey powder"),
        ("lactose", "whole milk"),
        ("peanut", "peanut oil"),
        ("sulfites", "white wine"),
        ("sulphur dioxide", "dried apricots"),
        ("Haselnüsse", "ground hazelnuts"),
        ("œufs", "whole egg"),
        ("barley", "diastatic malt powder"),
        ("fish", "anchovies"),
        ("almonds", "marzipan"),
    ] {
        let text = loaf(&format!("    {holder} 5%\n"), &format!("free from {claim}"), "");
        assert_eq!(verdict(&text), "claim-refuted", "free from {claim} over {holder}");
    }
}

/// Every name in every language, where an ingredient contains it and where a claim denies
/// it.
#[test]
fn every_name_of_every_allergen_refutes_and_is_refuted() {
    let store = Store::read();
    let mut text = String::new();
    let mut wanted = 0;
    for (index, (key, entry)) in store.entries.iter().filter(|(_, it)| !it.is_diet).enumerate() {
        for (at, (_, name)) in entry.names.iter().enumerate() {
            let id = letters(index * 100 + at);
            text.push_str(&format!(
                "ingredient written {id} is a flour {{ contains \"{name}\" }}\n\
                 ingredient known {id} is a flour {{ contains \"{key}\" }}\n\
                 formula f-{id} {{\n  dough {{ written {id} 100 g; known {id} 1 g; water 60 g; salt 2 g }}\n  expect {{ free from \"{name}\" }}\n}}\n\
                 formula g-{id} {{\n  dough {{ written {id} 100 g; water 60 g; salt 2 g }}\n  expect {{ free from \"{key}\" }}\n}}\n"
            ));
            wanted += 1;
            // A name may be that of a narrower thing too, which is then contained.
            assert!(store.is(store.narrow(name), key));
        }
    }
    assert!(wanted > 700, "{wanted} names");
    let told = findings(&text);
    let refuted = told.iter().filter(|finding| finding.rule.name == "claim-refuted").count();
    let unknown: Vec<_> =
        told.iter().filter(|finding| finding.rule.name == "unknown-allergen").collect();
    assert!(unknown.is_empty(), "{unknown:?}");
    assert_eq!(refuted, wanted * 2);
}

#[test]
fn what_no_list_knows_is_refused_with_the_name_that_was_meant() {
    for (written, near) in [
        ("hazlenuts", Some("hazelnuts")),
        ("glutn", Some("gluten")),
        ("sessame", Some("sesame")),
        ("sulfits", Some("sulfite")),
        ("haselnuesse", Some("Haselnuss")),
        ("honey", None),
        ("butter", None),
        ("vegan", None),
    ] {
        let claimed = loaf("", &format!("free from {written}"), "");
        let contained = format!("{PLAIN}ingredient pier paste is other {{ contains {written} }}\n");
        for text in [claimed, contained] {
            let found = findings(&text);
            assert_eq!(found.len(), 1, "{written}: {found:?}");
            assert_eq!(found[0].rule.name, "unknown-allergen");
            let repair = found[0].repair.as_ref().map(|repair| repair.text.as_str());
            assert_eq!(repair, near, "{written}");
            assert!(found[0].help.is_some());
        }
    }
}

/// One misspelt name leaves all of an ingredient unknown.
#[test]
fn a_misspelt_allergen_proves_nothing() {
    for contains in [
        "contains hazlenuts",
        "contains almonds, hazlenuts",
        "contains nothing; may contain hazlenuts",
    ] {
        let besides = format!("ingredient pier paste is other {{ {contains} }}\n");
        let text = loaf("    pier paste 3%\n", "free from milk", &besides);
        assert!(names(&text).contains(&"claim-not-proved"), "{contains}");
    }
}

// ---- Where an ingredient can be ---------------------------------------------------------

/// Formulas in which PASTE is somewhere, and what else the file holds.
const PLACES: &[(&str, &str)] = &[
    (
        "a line of the total",
        "formula f { total { rice flour 100%; water 70%; salt 2%; PASTE 3% } EXPECT }",
    ),
    (
        "a line of the dough",
        "formula f { dough { rice flour 500 g; water 350 g; salt 10 g; PASTE 5 g } EXPECT }",
    ),
    (
        "to taste",
        "formula f { dough { rice flour 500 g; water 350 g; salt 10 g; PASTE to taste } EXPECT }",
    ),
    (
        "a pinch",
        "formula f { dough { rice flour 500 g; water 350 g; salt 10 g; PASTE 1 pinch } EXPECT }",
    ),
    (
        "nothing of it",
        "formula f { dough { rice flour 500 g; water 350 g; salt 10 g; PASTE 0 g } EXPECT }",
    ),
    (
        "a stage",
        "formula f { dough { rice flour 500 g; water 350 g; salt 10 g; levain all } preferment levain { rice flour 50 g; water 50 g; PASTE 5 g } EXPECT }",
    ),
    (
        "a stage, as needed",
        "formula f { dough { rice flour 500 g; water 350 g; salt 10 g; levain all } preferment levain { rice flour 50 g; water 50 g; PASTE as needed } EXPECT }",
    ),
    (
        "a stage in a stage",
        "formula f { dough { rice flour 500 g; water 350 g; salt 10 g; levain all } preferment levain { rice flour 50 g; water 50 g; seed all } build seed { rice flour 5 g; water 5 g; PASTE 1 g } EXPECT }",
    ),
    (
        "a stage of a total",
        "formula f { total { rice flour 100%; water 70%; salt 2%; PASTE 3% } soaker mash { takes 5% of flour; rice flour 100%; water 100%; PASTE 3% } EXPECT }",
    ),
    (
        "a shared stage",
        "preferment levain { rice flour 50 g; water 50 g; PASTE 5 g }\nformula f { dough { rice flour 500 g; water 350 g; salt 10 g; levain all } EXPECT }",
    ),
    (
        "a culture in the dough",
        "culture jar { rice flour 1 part; PASTE 1 part; water 1 part }\nformula f { dough { rice flour 500 g; water 350 g; salt 10 g; jar 100 g } EXPECT }",
    ),
    (
        "a culture in a stage",
        "culture jar { rice flour 1 part; PASTE 1 part; water 1 part }\nformula f { dough { rice flour 500 g; water 350 g; salt 10 g; levain all } preferment levain { rice flour 50 g; water 50 g; jar 10 g } EXPECT }",
    ),
    (
        "a culture kept back",
        "culture jar { rice flour 1 part; PASTE 1 part; water 1 part }\nformula f { dough { rice flour 500 g; water 350 g; salt 10 g; levain all } preferment levain { rice flour 50 g; water 50 g; jar 10 g kept back } EXPECT }",
    ),
    (
        "a culture not split",
        "culture jar { rice flour 1 part; PASTE 1 part; water 1 part }\nformula f { dough { rice flour 500 g; water 350 g; salt 10 g; levain all } preferment levain { rice flour 50 g; water 50 g; jar 10 g not split } EXPECT }",
    ),
    (
        "old dough",
        "formula f { dough { rice flour 500 g; water 350 g; salt 10 g; old dough 50 g; PASTE 5 g } EXPECT }",
    ),
    (
        "a piece",
        "formula f { makes 4 loaves at 200 g; total { rice flour 100%; water 70%; salt 2% } piece { PASTE 1 g } EXPECT }",
    ),
    (
        "a piece, as needed",
        "formula f { makes 4 loaves at 200 g; total { rice flour 100%; water 70%; salt 2% } piece { PASTE as needed } EXPECT }",
    ),
    (
        "a piece of one kind",
        "formula f { makes 4 loaves at 200 g, 4 rolls at 50 g; total { rice flour 100%; water 70%; salt 2% } piece rolls { PASTE 1 g } EXPECT }",
    ),
    (
        "a mixture on a piece",
        "formula f { makes 4 loaves at 200 g; total { rice flour 100%; water 70%; salt 2% } mixture wash { water 1 part; PASTE 1 part } piece { wash 3 g } EXPECT }",
    ),
    (
        "a soft line of a mixture",
        "formula f { makes 4 loaves at 200 g; total { rice flour 100%; water 70%; salt 2% } mixture wash { water 1 part; PASTE as needed } piece { wash 3 g } EXPECT }",
    ),
    (
        "a mixture in a mixture",
        "mixture wash { water 1 part; glaze 1 part }\nmixture glaze { sugar 1 part; PASTE 1 part }\nformula f { makes 4 loaves at 200 g; total { rice flour 100%; water 70%; salt 2% } piece { wash 3 g } EXPECT }",
    ),
    (
        "a mixture in the dough",
        "mixture wash { water 1 part; PASTE 1 part }\nformula f { total { rice flour 100%; water 70%; salt 2%; wash 5% } EXPECT }",
    ),
    (
        "a bath",
        "mixture bath { water 1 kg; PASTE 10 g }\nformula f { makes 4 loaves at 200 g; total { rice flour 100%; water 70%; salt 2% } method { mix 5min with everything else; boil 1min in bath; bake 30min at 220C } EXPECT }",
    ),
    (
        "what it is fried in",
        "formula f { makes 4 loaves at 200 g; total { rice flour 100%; water 70%; salt 2% } method { mix 5min with everything else; fry 4min in PASTE at 180C } EXPECT }",
    ),
    (
        "what is dusted on",
        "formula f { makes 4 loaves at 200 g; total { rice flour 100%; water 70%; salt 2% } piece { PASTE as needed } method { mix 5min with everything else; bake 30min at 220C; dust with PASTE } EXPECT }",
    ),
    (
        "the grease of a tin",
        "tin box { holds 1 l; greased with PASTE }\nformula f { makes 4 loaves in box; total { rice flour 100%; water 70%; salt 2% } EXPECT }",
    ),
    (
        "the grease of a tin in a step",
        "tin box { holds 1 l; greased with sunflower oil, PASTE }\nformula f { makes 4 loaves at 200 g; total { rice flour 100%; water 70%; salt 2% } method { mix 5min with everything else; pan in box; bake 30min at 220C } EXPECT }",
    ),
    (
        "a mixture as grease",
        "tin box { holds 1 l; greased with release }\nmixture release { sunflower oil 1 part; PASTE 1 part }\nformula f { makes 4 loaves in box; total { rice flour 100%; water 70%; salt 2% } EXPECT }",
    ),
    (
        "a formula that is carried",
        "formula inner { dough { rice flour 500 g; water 350 g; salt 10 g; PASTE 5 g } }\nformula f { makes 4 boxes; piece { inner 100 g } EXPECT }",
    ),
    (
        "the piece of a formula that is carried",
        "formula inner { makes 10 buns at 60 g; total { rice flour 100%; water 70%; salt 2% } piece { PASTE as needed } }\nformula f { makes 4 boxes; piece { inner 100 g } EXPECT }",
    ),
    (
        "the tin of a formula that is carried",
        "tin box { holds 1 l; greased with PASTE }\nformula inner { makes 10 buns in box; total { rice flour 100%; water 70%; salt 2% } }\nformula f { makes 4 boxes; piece { inner 100 g } EXPECT }",
    ),
    (
        "the bath of a formula that is carried twice over",
        "mixture bath { water 1 kg; PASTE 10 g }\nformula inmost { makes 4 loaves at 200 g; total { rice flour 100%; water 70%; salt 2% } method { mix 5min with everything else; boil 1min in bath; bake 30min at 220C } }\nformula inner { makes 4 boxes; piece { inmost 100 g } }\nformula f { makes 4 crates; piece { inner 100 g } EXPECT }",
    ),
    (
        "a formula that it is from",
        "formula g { total { rice flour 100%; water 70%; salt 2%; PASTE 3% } }\nformula f from g { EXPECT }",
    ),
    (
        "the piece of a formula that it is from",
        "formula g { makes 4 loaves at 200 g; total { rice flour 100%; water 70%; salt 2% } piece { PASTE as needed } }\nformula f from g { EXPECT }",
    ),
    (
        "another name of it",
        "formula f { total { rice flour 100%; water 70%; salt 2%; pier glaze 3% } EXPECT }",
    ),
];

/// Wherever it is, what contains it refutes, what is unknown leaves the claim open, and
/// what does not contain it proves.
#[test]
fn an_ingredient_counts_wherever_it_is() {
    let mut wrong = Vec::new();
    for (place, formula) in PLACES {
        for (says, wanted) in [
            ("contains hazelnuts; animal milk", "claim-refuted"),
            ("", "claim-not-proved"),
            ("may contain hazelnuts", "claim-not-proved"),
            ("contains nothing; may contain nuts", "claim-not-proved"),
            ("contains nuts; animal meat", "claim-refuted"),
            ("contains nothing; animal nothing", "proved"),
            ("contains milk; animal milk", "proved"),
        ] {
            let said = format!("{says}; also \"pier glaze\"").trim_start_matches("; ").to_owned();
            let paste = format!("ingredient pier paste is other {{ {said} }}\n");
            let claim = "expect { free from nuts }";
            let text = paste + &formula.replace("PASTE", "pier paste").replace("EXPECT", claim);
            let found = verdict(&text);
            if found != wanted {
                wrong.push(format!("{place}: {says}: {found}, not {wanted}"));
            }
        }
        for (says, vegan, vegetarian) in [
            ("contains nothing; animal nothing", "proved", "proved"),
            ("contains nothing; animal honey", "claim-refuted", "proved"),
            ("contains nothing; animal meat", "claim-refuted", "claim-refuted"),
            ("contains milk", "claim-refuted", "claim-not-proved"),
            ("contains anchovies", "claim-refuted", "claim-refuted"),
            ("contains nothing", "claim-not-proved", "claim-not-proved"),
        ] {
            for (claim, wanted) in [("vegan", vegan), ("vegetarian", vegetarian)] {
                let paste =
                    format!("ingredient pier paste is other {{ {says}; also \"pier glaze\" }}\n");
                let expect = format!("expect {{ {claim} }}");
                let text =
                    paste + &formula.replace("PASTE", "pier paste").replace("EXPECT", &expect);
                let found = verdict(&text);
                if found != wanted {
                    wrong.push(format!("{place}: {says}: {claim}: {found}, not {wanted}"));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The finding names everything that is not known, and all that brings it.
#[test]
fn a_claim_names_each_that_stands_in_its_way() {
    let besides = "ingredient pier paste is other { price 3 EUR per kg }\n\
                   ingredient quay glaze is other { water 20% }\n";
    let text = loaf("    pier paste 3%\n    quay glaze 2%\n", "free from milk", besides);
    let found = findings(&text);
    let open = found.iter().find(|finding| finding.rule.name == "claim-not-proved");
    let open = open.expect("a finding");
    for name in ["`pier paste`", "`quay glaze`"] {
        assert!(open.message.contains(name), "{}", open.message);
    }
    assert!(!open.message.contains("bread flour"), "{}", open.message);
    let text = loaf("    butter 3%\n    whole milk 2%\n", "free from dairy", "");
    let found = findings(&text);
    let told = found.iter().find(|finding| finding.rule.name == "claim-refuted").expect("told");
    assert!(told.message.contains("`unsalted butter` contains milk"), "{}", told.message);
    assert!(told.notes.iter().any(|note| note.contains("`whole milk`")), "{:?}", told.notes);
}

/// The name of a style stands on the card, so what it is without is a claim.
#[test]
fn a_style_without_something_is_a_claim() {
    let styled = |style: &str, flour: &str, besides: &str| {
        let text = PLAIN.replace("bread flour", flour);
        text.replace("  total {", &format!("  style {style}\n  total {{")) + besides
    };
    assert!(names(&styled("gluten-free", "bread flour", "")).contains(&"claim-refuted"));
    assert!(names(&styled("gluten-free", "oat flour", "")).contains(&"claim-refuted"));
    let own = "ingredient mill flour is a flour { water 12% }\n";
    assert!(names(&styled("gluten-free", "mill flour", own)).contains(&"claim-not-proved"));
    let sound = names(&styled("gluten-free", "rice flour", ""));
    assert!(!sound.iter().any(|name| name.starts_with("claim-")), "{sound:?}");
    let house = "style quiet { without milk, vegan }\n";
    assert_eq!(names(&styled("quiet", "bread flour", house)), [] as [&str; 0]);
    let buttered = styled("quiet", "bread flour", house)
        .replace("fresh yeast    1%", "fresh yeast 1%; butter 4%");
    assert_eq!(names(&buttered), ["claim-refuted", "claim-refuted"]);
}

/// What something is fried in is on it; a fat that nobody names is not known.
#[test]
fn an_unnamed_bath_is_not_known() {
    let fried = |place: &str| {
        format!(
            "oven fryer {{ holds 10 rolls }}\n\
             formula f {{ makes 4 rolls at 50 g; total {{ rice flour 100%; water 70%; salt 2% }} \
             method {{ mix 5min with everything else; fry 4min in {place} at 180C }} \
             expect {{ free from nuts }} }}\n"
        )
    };
    let told = |place: &str| {
        let told = names(&fried(place)).into_iter();
        told.filter(|name| name.starts_with("claim-")).collect::<Vec<_>>()
    };
    assert_eq!(told("peanut oil"), ["claim-refuted"]);
    assert_eq!(told("mystery oil"), ["claim-not-proved"]);
    assert_eq!(told("sunflower oil"), [] as [&str; 0]);
    assert_eq!(told("fryer"), ["claim-not-proved"]);
    // What rolls fry in is eaten, and where no step names it nobody knows what it is.
    for claim in ["free from peanuts", "free from milk", "vegan", "vegetarian"] {
        let silent = fried("fryer").replace("fry 4min in fryer at", "fry 4min at");
        let silent = silent.replace("free from nuts", claim);
        assert!(names(&silent).contains(&"claim-not-proved"), "{claim}");
        let named = silent.replace("fry 4min at 180C", "fry 4min at 180C in sunflower oil");
        assert!(!names(&named).contains(&"claim-not-proved"), "{claim}");
    }
}

/// Each claim of a list is told of at its own name.
#[test]
fn of_several_claims_each_has_its_place() {
    let text = loaf("    butter 3%\n    whole egg 2%\n", "free from milk, sesame, eggs", "");
    let found = findings(&text);
    let told: Vec<&str> = found
        .iter()
        .filter(|finding| finding.rule.name == "claim-refuted")
        .map(|finding| &text[finding.span().range()])
        .collect();
    assert_eq!(told, ["milk", "eggs"]);
}

/// One house names its silent ingredients once, however many formulas use them; what is
/// like another says as much as that one.
#[test]
fn what_is_silent_is_named_once_for_a_house() {
    let formula = |name: &str| {
        PLAIN.replace("pier-loaf", name).replace("salt           2%", "salt 2%; pier paste 3%")
    };
    let declares = "bakehouse \"Gullhaven Bakehouse\" { room 20C }\n\
                    ingredient pier paste is other { water 3% }\n\
                    ingredient quay glaze is other\n\
                    ingredient quay flour like bread flour\n\
                    ingredient ferry cream like quay glaze\n\
                    ingredient dune herbs is a spice { contains nothing }\n";
    let files = [
        ("/x/house.dough", declares),
        ("/x/a.dough", &formula("a-loaf")),
        ("/x/b.dough", &formula("b-loaf")),
    ];
    let file_system = Memory::with(&files);
    let loaded = load(&file_system, Path::new("/x"), &[PathBuf::from("/x")]);
    let told: Vec<_> = desk::check(&loaded)
        .into_iter()
        .filter(|finding| finding.rule.name == "allergen-undeclared")
        .collect();
    assert_eq!(told.len(), 1, "{told:?}");
    for (name, is_named) in [
        ("pier paste", true),
        ("quay glaze", true),
        ("quay flour", false),
        ("ferry cream", false),
        ("dune herbs", false),
    ] {
        assert_eq!(told[0].message.contains(name), is_named, "{}", told[0].message);
    }
}

/// What is like another loses nothing that one contains, unless it says so in so many
/// words.
#[test]
fn likeness_loses_no_allergen() {
    for (says, claim, wanted) in [
        ("", "wheat", "claim-refuted"),
        ("contains hazelnuts", "wheat", "claim-refuted"),
        ("contains hazelnuts", "nuts", "claim-refuted"),
        ("contains hazelnuts", "milk", "proved"),
        ("contains nothing", "wheat", "claim-refuted"),
        ("contains nothing; free from gluten \"sheet\"", "wheat", "proved"),
        ("free from spelt \"sheet\"", "wheat", "proved"),
        ("contains oats; free from wheat \"sheet\"", "wheat", "proved"),
        ("contains oats; free from wheat \"sheet\"", "gluten", "claim-refuted"),
        ("contains nothing but oats", "wheat", "claim-refuted"),
        ("contains nothing but oats; free from wheat \"sheet\"", "wheat", "proved"),
        ("contains nothing but oats", "gluten", "claim-refuted"),
        ("may contain milk", "wheat", "claim-refuted"),
        ("may contain milk", "milk", "claim-not-proved"),
        ("contains nothing; may contain milk", "milk", "claim-not-proved"),
    ] {
        let besides = format!("ingredient pier flour like spelt flour {{ {says} }}\n");
        let text = loaf("    pier flour 3%\n", &format!("free from {claim}"), &besides);
        let text = text
            .replace("bread flour  100%", "rice flour  97%")
            .replace("water         74%", "water 74%");
        assert_eq!(verdict(&text), wanted, "{says}: {claim}");
    }
    // The like of what is unknown is unknown, also by way of a third.
    let besides = "ingredient one is a flour\ningredient two like one\ningredient three like two\n";
    let text = loaf("    three 3%\n", "free from milk", besides);
    assert!(names(&text).contains(&"claim-not-proved"));
    let circle = "ingredient one like two\ningredient two like one\n";
    let text = loaf("    two 3%\n", "free from milk", circle);
    assert!(names(&text).contains(&"claim-not-proved"));
}

/// A built-in name that a house declares anew says nothing until the house does.
#[test]
fn a_name_declared_anew_is_unknown_again() {
    let text = loaf("", "free from milk", "ingredient bread flour is a flour { water 13% }\n");
    assert!(names(&text).contains(&"claim-not-proved"));
}

#[test]
fn an_ingredient_called_by_an_allergen_contains_it() {
    for name in ["hazelnuts", "hazelnut", "soya", "filberts"] {
        for says in ["", "contains nothing", "contains almonds"] {
            let besides = format!("ingredient {name} is a nut {{ {says} }}\n");
            let claim = format!("free from {name}");
            let text = loaf(&format!("    {name} 3%\n"), &claim, &besides);
            let found = names(&text);
            assert!(found.contains(&"claim-refuted"), "{name}: {says}: {found:?}");
            assert_eq!(found.contains(&"allergen-in-name"), !says.is_empty(), "{name}: {says}");
        }
    }
    // Nothing is in what another language calls an allergen: one of the two is wrong.
    for name in ["noisettes", "mandeln", "latte", "œuf", "senf", "sésame", "cacahuètes", "blé"]
    {
        for says in [
            format!("ingredient {name} is an other {{ contains nothing }}\n"),
            format!("ingredient pier mix is an other {{ contains nothing; also \"{name}\" }}\n"),
        ] {
            let line = if says.contains("pier") { "pier mix" } else { name };
            let found =
                names(&loaf(&format!("    {line} 3%\n"), &format!("free from {name}"), &says));
            assert!(found.contains(&"claim-refuted"), "{says}: {found:?}");
            assert!(found.contains(&"allergen-in-name"), "{says}: {found:?}");
        }
    }
    let called = "ingredient pier mix is an other { contains nothing; called fr \"noisettes\" }\n";
    let found = names(&loaf("    pier mix 3%\n", "free from hazelnuts", called));
    assert!(found.contains(&"claim-refuted"), "{found:?}");
    // Orzo is barley in Italian, and in English a pasta of wheat.
    let text = format!("{PLAIN}ingredient orzo is a grain {{ contains wheat }}\n");
    assert_eq!(names(&text), [] as [&str; 0]);
    let italian = format!("bakehouse \"Gullhaven\" {{ language it }}\n{text}");
    assert_eq!(names(&italian), ["allergen-in-name"]);
}

/// A claim that there is nothing of something holds over no line without a weight.
#[test]
fn a_claimed_nought_is_not_held_by_what_has_no_weight() {
    for (line, claim, wanted) in [
        ("butter as needed", "butter 0%", "claim-refuted"),
        ("butter as needed", "fat 0%", "claim-refuted"),
        ("butter as needed", "honey 0%", "proved"),
        ("honey to taste", "honey 0 g", "claim-refuted"),
        ("honey to taste", "honey in final dough 0 g", "claim-refuted"),
        ("cinnamon 1 pinch", "cinnamon 0%", "claim-refuted"),
        ("cinnamon 1 pinch", "cinnamon 0%..1%", "proved"),
    ] {
        assert_eq!(verdict(&loaf(&format!("    {line}\n"), claim, "")), wanted, "{line}: {claim}");
    }
    let piece = |claim: &str| {
        let text = loaf("", claim, "");
        verdict(&text.replace("  total {", "  piece { honey as needed }\n  total {"))
    };
    assert_eq!(piece("honey in pieces 0 g"), "claim-refuted");
}

// ---- What comes with the program --------------------------------------------------------

/// Every built-in ingredient says what it contains, and no name of it denies that.
#[test]
fn every_built_in_ingredient_says_what_it_contains() {
    let path = top().join("src/formula/stores/ingredients.dough");
    let text = std::fs::read_to_string(path).expect("the store");
    let mut blocks = 0;
    for block in text.split("\ningredient ").skip(1) {
        let block = block.split("\n}").next().unwrap_or_default();
        assert!(block.contains("\n  contains "), "{block}");
        blocks += 1;
    }
    assert!(blocks > 250, "{blocks} ingredients");
    assert_eq!(blocks, built_in().ingredients().count());
    for ingredient in built_in().ingredients() {
        assert!(ingredient.declared.is_complete, "{}", ingredient.name.shown);
        for told in told_by_name(&ingredient.name.shown, &["en"]) {
            assert_eq!(ingredient.declared.lacks(&told), None, "{}", ingredient.name.shown);
        }
    }
}

/// Words that an ingredient's name holds, and the allergen that it then contains, or may
/// contain; but for those named after.
#[test]
fn what_a_built_in_name_says_is_what_it_contains() {
    let words: &[(&str, &str, &[&str])] = &[
        ("wheat", "wheat", &["buckwheat"]),
        ("spelt", "spelt", &[]),
        ("semolina", "wheat", &[]),
        ("durum", "wheat", &[]),
        ("bulgur", "wheat", &[]),
        ("bread", "wheat", &["bread spice"]),
        ("rye", "rye", &[]),
        ("barley", "barley", &[]),
        ("malt", "gluten", &[]),
        ("beer", "barley", &[]),
        ("oat", "oats", &["groat", "goat"]),
        ("milk", "milk", &["soy milk", "coconut milk"]),
        ("butter", "milk", &["cocoa butter", "peanut butter", "almond butter", "plant butter"]),
        ("cream", "milk", &["cream of tartar"]),
        ("cheese", "milk", &[]),
        ("yogurt", "milk", &[]),
        ("whey", "milk", &[]),
        ("chocolate", "milk", &[]),
        ("chocolate", "soybeans", &[]),
        ("margarine", "milk", &[]),
        ("egg", "eggs", &[]),
        ("soy", "soybeans", &[]),
        ("lecithin", "soybeans", &[]),
        ("almond", "almonds", &[]),
        ("marzipan", "almonds", &[]),
        ("hazelnut", "hazelnuts", &[]),
        ("walnut", "walnuts", &[]),
        ("peanut", "peanuts", &[]),
        ("nuts", "nuts", &[]),
        ("nut oil", "nuts", &[]),
        ("sesame", "sesame", &[]),
        ("mustard", "mustard", &[]),
        ("celery", "celery", &[]),
        ("lupin", "lupin", &[]),
        ("anchov", "fish", &[]),
        ("wine", "sulphites", &[]),
        ("cider", "sulphites", &[]),
        ("dried ap", "sulphites", &[]),
        ("candied", "sulphites", &[]),
        ("raisins", "sulphites", &[]),
    ];
    for (word, allergen, but) in words {
        let asked = Absence::read(allergen).expect("an allergen");
        let named = built_in().ingredients().filter(|it| it.name.key.contains(word));
        let mut found = 0;
        for ingredient in named.filter(|it| !but.iter().any(|but| it.name.key.contains(but))) {
            found += 1;
            let judged = ingredient.declared.judge(asked);
            assert_ne!(judged, Judged::Without, "{} and {allergen}", ingredient.name.shown);
        }
        assert!(found > 0, "no name holds `{word}`");
    }
}

/// What the law says of the whole, over what comes with the program.
#[test]
fn diets_are_judged_by_what_animals_gave() {
    let judge = |name: &str, diet| {
        built_in().ingredient_named(name).expect("an ingredient").declared.judge(diet)
    };
    for (name, vegan, vegetarian) in [
        ("bread flour", Judged::Without, Judged::Without),
        ("unsalted butter", Judged::Holds("milk"), Judged::Without),
        ("whole egg", Judged::Holds("egg"), Judged::Without),
        ("honey", Judged::Holds("honey"), Judged::Without),
        ("lard", Judged::Holds("meat"), Judged::Holds("meat")),
        ("anchovies", Judged::Holds("meat"), Judged::Holds("meat")),
        ("parmesan", Judged::Holds("milk"), Judged::Holds("meat")),
        ("cheddar", Judged::Holds("milk"), Judged::NotKnown),
        ("dark chocolate", Judged::NotKnown, Judged::NotKnown),
        ("red wine", Judged::NotKnown, Judged::NotKnown),
    ] {
        assert_eq!(judge(name, Absence::Vegan), vegan, "{name}");
        assert_eq!(judge(name, Absence::Vegetarian), vegetarian, "{name}");
    }
}

/// A culture holds the gluten of its flours.
#[test]
fn cultures_hold_what_their_flours_hold() {
    for (culture, wanted) in [
        ("white culture", "claim-refuted"),
        ("rye culture", "claim-refuted"),
        ("spelt culture", "claim-refuted"),
        ("lievito madre", "claim-refuted"),
        ("rice culture", "proved"),
        ("buckwheat culture", "proved"),
    ] {
        let text = format!(
            "formula f {{ dough {{ rice flour 500 g; water 350 g; salt 10 g; {culture} 100 g }} \
             expect {{ free from gluten }} }}\n"
        );
        assert_eq!(verdict(&text), wanted, "{culture}");
    }
}

// ---- Prints -----------------------------------------------------------------------------

/// Allergens as the print of a text's last formula names them: contained, perhaps, unknown.
fn printed(text: &str, language: &str) -> (Vec<String>, Vec<String>, Vec<String>) {
    let loaded = loaded(text);
    let bakehouses = desk::bakehouses(&loaded);
    let formula = bakehouses[0].files[0].tree.formulas.last().expect("a formula");
    let worked = work(&bakehouses[0].house, formula, &mut Vec::new());
    let words = Wording::new(language, None).0;
    let document = document(&bakehouses[0].house, &worked, &words, false);
    (document.contains, document.may_contain, document.contains_unknown)
}

/// Whatever name and language an allergen is declared in, the print names it in its own.
#[test]
fn a_print_names_allergens_in_its_own_language() {
    let names = "Haselnüsse, lait, soja, sésamo, uova, sulfites";
    let text = format!(
        "ingredient pier paste is other {{ contains {names}; may contain moutarde }}\n\
         formula f {{ dough {{ rice flour 100 g; pier paste 5 g }} }}\n"
    );
    for (language, contained, perhaps) in [
        ("en", "eggs hazelnuts milk sesame soybeans sulphites", "mustard"),
        ("fr", "graines de sésame lait noisettes soja sulfites œufs", "moutarde"),
        ("de", "Eier Haselnüsse Milch Sesamsamen Sojabohnen Sulfite", "Senf"),
        ("es", "avellanas granos de sésamo huevos leche soja sulfitos", "mostaza"),
        ("it", "latte nocciole semi di sesamo soia solfiti uova", "senape"),
    ] {
        let (contains, may_contain, unknown) = printed(&text, language);
        assert_eq!(contains.join(" "), contained);
        assert_eq!(may_contain, [perhaps]);
        assert!(unknown.is_empty());
    }
}

/// Every allergen has a name in every language, which is read as that allergen again.
#[test]
fn a_printed_name_is_read_as_the_same_allergen() {
    for language in LANGUAGES {
        let words = Wording::new(language, None).0;
        for allergen in Allergen::all() {
            let name = words.name("allergen", allergen.key());
            let name = name.unwrap_or_else(|| panic!("{language}: {}", allergen.key()));
            let read = [Allergen::read(&name), Allergen::claimed(&name)];
            assert!(read.contains(&Some(allergen)), "{language}: {} is {name}", allergen.key());
        }
    }
}

/// A kind is printed with the allergen that it is in law, a group only where no more is
/// said.
#[test]
fn a_print_names_what_the_law_asks_for() {
    for (contains, wanted) in [
        ("spelt", "spelt, wheat"),
        ("almonds", "almonds"),
        ("nuts", "nuts"),
        ("gluten", "gluten"),
        ("anchovies", "anchovies, fish"),
        ("shellfish", "shellfish"),
    ] {
        let text = format!(
            "ingredient pier paste is other {{ contains {contains} }}\n\
             formula f {{ dough {{ rice flour 100 g; pier paste 5 g }} }}\n"
        );
        assert_eq!(printed(&text, "en").0.join(", "), wanted);
    }
}

#[test]
fn a_print_tells_what_is_not_known() {
    let text = "ingredient pier paste is other { contains almonds, hazlenuts }\n\
                ingredient quay glaze is other\n\
                formula inner { dough { rice flour 100 g; no such thing 5 g } }\n\
                formula f { makes 4 boxes; piece { inner 10 g; pier paste 1 g; quay glaze 1 g } }\n";
    let (contains, _, unknown) = printed(text, "en");
    assert_eq!(contains, ["almonds"]);
    assert_eq!(unknown, ["pier paste", "quay glaze", "no such thing"]);
}

/// Where a tin is greased, its grease is in the bread.
#[test]
fn the_grease_of_a_tin_is_printed() {
    let text = "tin box { holds 1 l; greased with butter }\n\
                formula f { makes 4 loaves in box; total { rice flour 100%; water 70%; salt 2% } }\n";
    assert_eq!(printed(text, "en").0, ["milk"]);
    let told = names(&text.replace("butter", "buter"));
    assert!(told.contains(&"unknown-ingredient"), "{told:?}");
    assert!(names(&text.replace("with butter", "butter")).contains(&"incomplete-statement"));
}

#[test]
fn a_mixture_that_nothing_uses_is_told_and_brings_no_allergen() {
    let mixtures = "mixture wash { whole egg 1 part; shine 1 part }\nmixture shine { whole milk 1 part; sugar 1 part }\n";
    let with = |inside: &str, beside: &str, more: &str| {
        format!(
            "{beside}formula f {{ makes 4 loaves at 200 g; total {{ rice flour 100%; water 70%; salt 2%; fresh yeast 1% }} {more}\n{inside} expect {{ free from eggs, milk }} }}\n"
        )
    };
    for (inside, beside) in [(mixtures, ""), ("", mixtures)] {
        let text = with(inside, beside, "");
        assert_eq!(names(&text), ["unused-mixture", "unused-mixture"]);
        assert!(printed(&text, "en").0.is_empty());
        let text = with(inside, beside, "piece { wash 3 g }");
        assert_eq!(names(&text), ["claim-refuted", "claim-refuted"]);
        assert_eq!(printed(&text, "en").0, ["eggs", "milk"]);
        let text = with(inside, beside, "piece { shine 3 g }");
        assert_eq!(names(&text), ["unused-mixture", "claim-refuted"]);
        assert_eq!(printed(&text, "en").0, ["milk"]);
    }
    // What a tin is greased with, or what stands in a file of mixtures alone, is used.
    assert_eq!(names(mixtures), [] as [&str; 0]);
    let text = format!("tin box {{ holds 1 l; greased with wash }}\n{mixtures}{PLAIN}");
    assert_eq!(names(&text), [] as [&str; 0]);
}

// ---- Ten thousand formulas --------------------------------------------------------------

/// Numbers that come at random and the same each time (splitmix64; Steele and others 2014).
struct Dice(u64);

impl Dice {
    fn below(&mut self, count: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ mixed >> 30).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ mixed >> 27).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((mixed ^ mixed >> 31) % count as u64) as usize
    }

    fn one_in(&mut self, count: usize) -> bool {
        self.below(count) == 0
    }

    fn pick<'a, T>(&mut self, from: &'a [T]) -> &'a T {
        &from[self.below(from.len())]
    }
}

/// What an ingredient says, as names of allergens; none where nothing is said.
#[derive(Clone, Default)]
struct Says {
    contains: Option<Vec<String>>,
    may: Vec<String>,
}

/// A house at random: its text, and what a search over it needs.
#[derive(Default)]
struct Random {
    text: String,
    ingredients: BTreeMap<String, Says>,
    /// What each mixture, culture, tin and formula names.
    brings: BTreeMap<String, Vec<String>>,
    claims: Vec<(String, String)>,
}

impl Random {
    fn new(dice: &mut Dice, all_names: &[String]) -> Self {
        let mut house = Self::default();
        let items: Vec<String> = (0..7).map(|index| format!("item {}", letters(index))).collect();
        for (index, item) in items.iter().enumerate() {
            house.ingredient(dice, item, &items[..index], all_names);
        }
        let mut things = items.clone();
        for index in 0..dice.below(3) {
            let name = format!("mixture {}", letters(index));
            house.block(dice, "mixture", &name, &things.clone(), "part");
            things.push(name);
        }
        for index in 0..dice.below(2) {
            let name = format!("culture {}", letters(index));
            house.block(dice, "culture", &name, &items, "part");
        }
        let tin = house.tin(dice, &things);
        let mut carried = Vec::new();
        for index in 0..4 {
            let name = format!("f-{}", letters(index));
            house.formula(dice, &name, &items, &things, &carried, &tin, all_names);
            carried.push(name);
        }
        house
    }

    fn ingredient(&mut self, dice: &mut Dice, name: &str, before: &[String], all: &[String]) {
        let some = |dice: &mut Dice| -> Vec<String> {
            (0..=dice.below(2)).map(|_| dice.pick(all).clone()).collect()
        };
        let model = (!before.is_empty() && dice.one_in(4)).then(|| dice.pick(before).clone());
        let mut says = match &model {
            Some(model) => self.ingredients[model].clone(),
            None => Says::default(),
        };
        let mut facts = Vec::new();
        match dice.below(6) {
            0 => {}
            1 | 2 => {
                // What a model contains is not denied away.
                says.contains.get_or_insert_default();
                facts.push("contains nothing".to_owned());
            }
            3 => {
                let new = some(dice);
                facts.push(format!("contains nothing but \"{}\"", new.join("\", \"")));
                says.contains.get_or_insert_default().extend(new);
                says.may.clear();
            }
            _ => {
                let new = some(dice);
                facts.push(format!("contains \"{}\"", new.join("\", \"")));
                says.contains.get_or_insert_default().extend(new);
            }
        }
        if dice.one_in(4) {
            let new = some(dice);
            facts.push(format!("may contain \"{}\"", new.join("\", \"")));
            says.may.extend(new);
        }
        let kind = model.map_or("is other".to_owned(), |model| format!("like {model}"));
        self.text.push_str(&format!("ingredient {name} {kind} {{ {} }}\n", facts.join("; ")));
        self.ingredients.insert(name.to_owned(), says);
    }

    /// Lines of some of these, each once.
    fn lines(dice: &mut Dice, from: &[String], unit: &str) -> (Vec<String>, Vec<String>) {
        let mut named: Vec<String> = Vec::new();
        for _ in 0..=dice.below(3) {
            let name = dice.pick(from);
            if !named.contains(name) {
                named.push(name.clone());
            }
        }
        let amount = |dice: &mut Dice, first: bool| match dice.below(6) {
            0 if !first => "as needed".to_owned(),
            1 if !first => "to taste".to_owned(),
            number => format!("{} {unit}", number + 1),
        };
        let lines = named.iter().enumerate();
        let lines = lines.map(|(index, name)| format!("{name} {}", amount(dice, index == 0)));
        (lines.collect(), named)
    }

    fn block(&mut self, dice: &mut Dice, word: &str, name: &str, from: &[String], unit: &str) {
        let (lines, named) = Self::lines(dice, from, unit);
        // A culture takes no soft amounts.
        let lines = match word {
            "culture" => named.iter().map(|name| format!("{name} 1 {unit}")).collect(),
            _ => lines,
        };
        self.text.push_str(&format!("{word} {name} {{ {} }}\n", lines.join("; ")));
        self.brings.insert(name.to_owned(), named);
    }

    fn tin(&mut self, dice: &mut Dice, things: &[String]) -> Option<String> {
        let grease = match dice.below(3) {
            0 => return None,
            1 => Vec::new(),
            _ => vec![dice.pick(things).clone()],
        };
        // One that says nothing of its grease proves nothing.
        let is_silent = grease.is_empty() && dice.one_in(2);
        let greased = match grease.first() {
            Some(grease) => format!("; greased with {grease}"),
            None if is_silent => String::new(),
            None => "; greased with nothing".to_owned(),
        };
        let grease = if is_silent { vec![UNKNOWN_GREASE.to_owned()] } else { grease };
        self.text.push_str(&format!("tin box {{ holds 1 l{greased} }}\n"));
        self.brings.insert("box".to_owned(), grease);
        Some("box".to_owned())
    }

    #[allow(clippy::too_many_arguments, reason = "a case is made of all of them")]
    fn formula(
        &mut self,
        dice: &mut Dice,
        name: &str,
        items: &[String],
        things: &[String],
        carried: &[String],
        tin: &Option<String>,
        all: &[String],
    ) {
        let mut brings = Vec::new();
        let (mut lines, named) = Self::lines(dice, items, "g");
        brings.extend(named);
        let mut parts = String::new();
        if dice.one_in(3) {
            let (stage, named) = Self::lines(dice, items, "g");
            parts.push_str(&format!("  preferment levain {{ {} }}\n", stage.join("; ")));
            lines.push("levain all".to_owned());
            brings.extend(named);
        }
        if self.brings.contains_key("culture xa") && dice.one_in(3) {
            lines.push("culture xa 4 g".to_owned());
            brings.push("culture xa".to_owned());
        }
        let beside: Vec<String> = things.iter().chain(carried).cloned().collect();
        if dice.one_in(2) {
            let (piece, named) = Self::lines(dice, &beside, "g");
            parts.push_str(&format!("  piece {{ {} }}\n", piece.join("; ")));
            brings.extend(named);
        }
        let mut makes = String::new();
        let mut steps = vec!["mix 5min with everything else".to_owned()];
        match (tin, dice.below(3)) {
            (Some(tin), 0) => {
                makes = format!("  makes 2 loaves in {tin}\n");
                brings.push(tin.clone());
            }
            (Some(tin), 1) => {
                steps.push(format!("pan in {tin}"));
                brings.push(tin.clone());
            }
            _ => {}
        }
        if dice.one_in(4) {
            let medium = dice.pick(things).clone();
            steps.push(format!("boil 1min in {medium}"));
            brings.push(medium);
        }
        if dice.one_in(2) {
            parts.push_str(&format!("  method {{ {}; bake 30min at 220C }}\n", steps.join("; ")));
        } else if let Some(at) = steps.iter().position(|step| step.starts_with("pan")) {
            // Without its method the tin is not used.
            let tin = steps[at].trim_start_matches("pan in ").to_owned();
            brings.retain(|name| *name != tin);
        }
        if !parts.contains("method") {
            let mediums: Vec<String> = steps
                .iter()
                .filter_map(|step| step.strip_prefix("boil 1min in "))
                .map(str::to_owned)
                .collect();
            for medium in mediums {
                if let Some(at) = brings.iter().rposition(|name| *name == medium) {
                    brings.remove(at);
                }
            }
        }
        if dice.one_in(5) {
            let (unused, _) = Self::lines(dice, items, "part");
            parts.push_str(&format!("  mixture unused {{ {} }}\n", unused.join("; ")));
        }
        let claims: Vec<String> = (0..=dice.below(2)).map(|_| dice.pick(all).clone()).collect();
        parts.push_str(&format!("  expect {{ free from \"{}\" }}\n", claims.join("\", \"")));
        self.claims.extend(claims.into_iter().map(|claim| (name.to_owned(), claim)));
        self.text.push_str(&format!(
            "formula {name} {{\n{makes}  dough {{ {} }}\n{parts}}}\n",
            lines.join("; ")
        ));
        self.brings.insert(name.to_owned(), brings);
    }

    /// Every ingredient that a name leads to.
    fn search(&self, name: &str, found: &mut BTreeSet<String>) {
        if self.ingredients.contains_key(name) {
            found.insert(name.to_owned());
        }
        for inner in self.brings.get(name).into_iter().flatten() {
            self.search(inner, found);
        }
    }

    /// Whether a name leads to a tin that says nothing of its grease.
    fn is_of_unknown_grease(&self, name: &str) -> bool {
        let mut inner = self.brings.get(name).into_iter().flatten();
        name == UNKNOWN_GREASE || inner.any(|inner| self.is_of_unknown_grease(inner))
    }

    /// What a search by brute force says of a claim.
    fn verdict(&self, store: &Store, formula: &str, claim: &str) -> &'static str {
        let mut found = BTreeSet::new();
        self.search(formula, &mut found);
        let wide = store.wide(claim);
        let is_below = |name: &str| store.is(store.narrow(name), wide);
        let is_above = |name: &str| store.is(wide, store.narrow(name));
        let says = || found.iter().map(|item| &self.ingredients[item]);
        if says().flat_map(|says| says.contains.iter().flatten()).any(|name| is_below(name)) {
            return "claim-refuted";
        }
        let open = self.is_of_unknown_grease(formula)
            || says().any(|says| {
                says.contains.is_none()
                    || says.contains.iter().flatten().any(|name| is_above(name))
                    || says.may.iter().any(|name| is_below(name) || is_above(name))
            });
        if open { "claim-not-proved" } else { "proved" }
    }
}

/// What stands for the grease of a tin that does not say it.
const UNKNOWN_GREASE: &str = "grease that nobody knows";

/// 10,000 formulas: a claim is proved where a search over all names, members and other
/// names finds nothing and everything is known, and only there.
#[test]
fn no_claim_is_proved_that_a_search_refutes() {
    let store = Store::read();
    let all = store.names();
    let mut dice = Dice(11);
    let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
    let mut formulas = 0;
    for _ in 0..2_500 {
        let house = Random::new(&mut dice, &all);
        let loaded = loaded(&house.text);
        let bakehouses = desk::bakehouses(&loaded);
        let mut claims = house.claims.iter();
        for formula in &bakehouses[0].files[0].tree.formulas {
            formulas += 1;
            let worked = work(&bakehouses[0].house, formula, &mut Vec::new());
            for claim in &formula.expect {
                let ClaimValue::FreeFrom(name) = &claim.value else { panic!("no claim") };
                let asked = Absence::read(&name.key).expect("an allergen");
                let proof = absence(&worked, asked);
                let found = match proof {
                    Proof::Proved => "proved",
                    Proof::Refuted(_) => "claim-refuted",
                    Proof::NotKnown(_) => "claim-not-proved",
                };
                let (owner, written) = claims.next().expect("a claim");
                let wanted = house.verdict(&store, owner, written);
                assert_eq!(found, wanted, "{owner}: {written}\n{}", house.text);
                *counts.entry(found).or_default() += 1;
            }
        }
        assert!(claims.next().is_none());
    }
    assert_eq!(formulas, 10_000);
    for verdict in ["proved", "claim-refuted", "claim-not-proved"] {
        assert!(counts[verdict] > 500, "{counts:?}");
    }
}

/// What the command says is what the proof says.
#[test]
fn findings_say_what_is_proved() {
    let store = Store::read();
    let all = store.names();
    let mut dice = Dice(12);
    let (mut judged, mut formulas) = (0, 0);
    for _ in 0..150 {
        let house = Random::new(&mut dice, &all);
        let told = findings(&house.text);
        let loaded = loaded(&house.text);
        let bakehouses = desk::bakehouses(&loaded);
        for formula in &bakehouses[0].files[0].tree.formulas {
            formulas += 1;
            let own = || told.iter().filter(|it| it.formula.as_ref() == Some(&formula.name.key));
            let of_claims = ["claim-refuted", "claim-not-proved"];
            if !work(&bakehouses[0].house, formula, &mut Vec::new()).sound {
                continue;
            }
            for claim in &formula.expect {
                let ClaimValue::FreeFrom(name) = &claim.value else { continue };
                let at =
                    own().find(|it| it.span() == claim.span && of_claims.contains(&it.rule.name));
                let found = at.map_or("proved", |it| it.rule.name);
                assert_eq!(
                    found,
                    house.verdict(&store, &formula.name.key, &name.shown),
                    "{}",
                    house.text
                );
                judged += 1;
            }
        }
    }
    assert!(judged > formulas, "{judged} claims of {formulas} formulas were judged");
}

// ---- What names tell ---------------------------------------------------------------------

/// Every name of every allergen, in each of five languages, tells it from within a name;
/// in German from within a word as well.
#[test]
fn every_name_of_an_allergen_tells_from_within_a_name() {
    let mut count = 0;
    let mut silent = Vec::new();
    for one in Allergen::all() {
        for (language, name) in one.names() {
            let mut names = vec![format!("{name} xyz"), format!("xyz {name}")];
            if language == "de" && !name.contains([' ', '-']) && name.chars().count() > 4 {
                names.push(format!("{name}mus"));
                names.push(format!("Bio{}", name.to_lowercase()));
            }
            for whole in names {
                count += 1;
                let told = told_by_name(&whole, &[language]);
                if !told.iter().any(|told| {
                    let all = told.allergens.with(told.wide);
                    all.iter().any(|told| told.narrower().meets(one.narrower()))
                }) {
                    silent.push(format!("{language} {whole}"));
                }
            }
        }
    }
    assert!(count > 1000, "{count}");
    assert!(silent.is_empty(), "{silent:#?}");
}

/// What an ingredient's name tells is in it, whatever it says.
#[test]
fn no_ingredient_is_believed_against_its_name() {
    for (name, claim) in [
        ("noisette paste", "free from hazelnuts"),
        ("toasted filberts", "free from nuts"),
        ("cream cheese blend", "free from milk"),
        ("spelt flakes fine", "free from wheat"),
        ("spelt flakes fine", "free from gluten"),
        ("Haselnussmus", "free from hazelnuts"),
        ("Weizenvollkorngrieß", "free from gluten"),
        ("crème d'amandes", "free from nuts"),
        ("pasta de avellana", "free from hazelnuts"),
        ("farina di nocciole", "free from tree nuts"),
        ("brown butter", "free from milk"),
        ("brown butter", "vegan"),
        ("rendered lard", "vegan"),
        ("rendered lard", "vegetarian"),
        ("smoked bacon bits", "vegetarian"),
        ("leaf gelatine", "vegetarian"),
        ("saindoux du pays", "vegan"),
        ("Schweineschmalz fein", "vegetarian"),
        ("manteca de cerdo", "vegan"),
        ("strutto", "vegetarian"),
        ("heather honey", "vegan"),
        ("Waldhonig", "vegan"),
        ("anchovy paste", "vegetarian"),
    ] {
        let own =
            format!("ingredient \"{name}\" is an other {{ contains nothing; animal nothing }}\n");
        let found = names(&loaf(&format!("    \"{name}\" 3%\n"), claim, &own));
        assert!(found.contains(&"claim-refuted"), "{name}, {claim}: {found:?}");
        assert!(found.contains(&"allergen-in-name"), "{name}: {found:?}");
    }
    for (name, claim) in [
        ("cocoa butter", "free from milk"),
        ("cocoa butter", "vegan"),
        ("nut-free sprinkles", "free from nuts"),
        ("butter beans", "vegan"),
        ("vegan cream cheese", "free from milk"),
        ("vegetable suet", "vegetarian"),
        ("rice milk", "free from milk"),
        ("cream of tartar fine", "free from milk"),
        ("buckwheat groats fine", "free from gluten"),
        ("Muskatnusspulver", "free from nuts"),
    ] {
        let own =
            format!("ingredient \"{name}\" is an other {{ contains nothing; animal nothing }}\n");
        // The flour is of rice, so that nothing else stands in the way.
        let text =
            loaf(&format!("    \"{name}\" 3%\n"), claim, &own).replace("bread flour", "rice flour");
        assert_eq!(verdict(&text), "proved", "{name}, {claim}");
        assert!(!names(&text).contains(&"allergen-in-name"), "{name}");
    }
}

/// Who declares a built-in food anew, by any of its names, does not lose its allergens.
#[test]
fn a_built_in_food_declared_anew_keeps_its_allergens() {
    for (name, class, claim) in [
        ("bread flour", "flour", "free from wheat"),
        ("ground hazelnuts", "nut", "free from hazelnuts"),
        ("rolled oats", "grain", "free from gluten"),
        ("bulgur", "grain", "free from wheat"),
        ("kefir", "dairy", "free from milk"),
        ("farine 00", "flour", "free from wheat"),
        ("Brotmehl (Weizen)", "flour", "free from gluten"),
    ] {
        let own = format!("ingredient \"{name}\" is a {class} {{ contains nothing }}\n");
        let text = loaf(&format!("    \"{name}\" 3%\n"), claim, &own);
        let text = text.replace("    bread flour  100%\n", "    rice flour  100%\n");
        let found = names(&text);
        assert!(found.contains(&"claim-refuted"), "{name}: {found:?}");
        assert!(found.contains(&"allergen-in-name"), "{name}: {found:?}");
    }
    // What is mixed of many things is as its packet says, once that speaks of them.
    for (says, wanted) in [
        ("contains nothing", "claim-not-proved"),
        ("contains milk", "claim-not-proved"),
        ("contains milk; free from soya \"sheet\"", "proved"),
        ("contains soya", "claim-refuted"),
    ] {
        let own = format!("ingredient dark chocolate is an other {{ {says} }}\n");
        let text = loaf("    dark chocolate 3%\n", "free from soya", &own);
        let found = names(&text);
        let found = found.iter().find(|name| name.starts_with("claim-"));
        assert_eq!(*found.unwrap_or(&"proved"), wanted, "{says}");
        assert!(!names(&text).contains(&"allergen-in-name"));
    }
}

/// Nought of an allergen is claimed like its absence.
#[test]
fn nought_of_an_allergen_is_its_absence() {
    for (line, claim, wanted) in [
        ("ground hazelnuts 3%", "hazelnuts 0%", "claim-refuted"),
        ("ground hazelnuts 3%", "hazelnuts 0 g", "claim-refuted"),
        ("walnut oil 3%", "walnuts 0%", "claim-refuted"),
        ("sesame oil 3%", "sesame 0%", "claim-refuted"),
        ("own paste 3%", "hazelnuts 0%", "claim-not-proved"),
        ("sunflower seeds 3%", "hazelnuts 0%", "proved"),
        ("ground hazelnuts 3%", "almonds 0%", "proved"),
    ] {
        let own = "ingredient own paste is an other { water 10% }\n";
        let own = if line.starts_with("own") { own } else { "" };
        let text = loaf(&format!("    {line}\n"), claim, own);
        assert_eq!(verdict(&text), wanted, "{line}: {claim}");
    }
}

/// A claim is not proved while a text uses what would refute it.
#[test]
fn what_a_text_uses_stands_against_a_claim() {
    let told = |language: &str, claim: &str, text: &str| {
        let head = format!("bakehouse \"Gullhaven Bakehouse\" {{ language {language} }}\n");
        let method = format!(
            "  method {{ step \"{text}\"; bake 40min at 230C }}\n  expect {{ {claim} }}\n}}\n"
        );
        let loaf = PLAIN.replace("bread flour", "rice flour");
        let end = loaf.rfind('}').expect("an end");
        let loaf = match loaf.find("  method {") {
            Some(method) => &loaf[..method],
            None => &loaf[..end],
        };
        let found = findings(&format!("{head}{loaf}{method}"));
        let found = found.iter().find(|finding| finding.rule.name == "claim-not-proved");
        found.map(|finding| finding.message.clone())
    };
    for (language, claim, text) in [
        ("en", "free from milk", "Brush with butter."),
        ("en", "free from milk", "While hot, brush them with melted butter."),
        ("en", "free from eggs", "Brush with egg wash before baking."),
        ("en", "free from nuts", "Sprinkle walnuts over the top."),
        ("en", "free from sesame", "Roll in sesame seeds."),
        ("en", "free from gluten", "Dust the loaves with rye flour."),
        ("en", "hazelnuts 0%", "Fold in the hazelnuts."),
        ("en", "vegan", "Brush with honey."),
        ("en", "vegan", "Grease the tins with lard."),
        ("en", "vegetarian", "Grease the tins with lard."),
        ("en", "vegetarian", "Dissolve the gelatine and stir it in."),
        ("fr", "free from milk", "Badigeonnez de beurre fondu."),
        ("fr", "vegan", "Ajoutez le miel."),
        ("de", "free from milk", "Mit Butter bestreichen."),
        ("de", "free from hazelnuts", "Haselnussmehl unterheben."),
        ("de", "free from milk", "Mit Buttercreme füllen."),
        ("es", "free from milk", "Pinta con mantequilla."),
        ("es", "vegan", "Engrasa los moldes con manteca de cerdo."),
        ("it", "free from milk", "Spennella con il burro."),
        ("it", "vegetarian", "Ungi gli stampi con lo strutto."),
    ] {
        let message = told(language, claim, text);
        assert!(message.is_some(), "{language} {claim}: {text}");
    }
    for (language, claim, text) in [
        ("en", "free from milk", "Mix until smooth as butter."),
        ("en", "free from nuts", "The crust is the colour of hazelnuts."),
        ("en", "vegan", "Bake until the colour of honey."),
        ("en", "free from milk", "Brush with water."),
        ("en", "free from eggs", "Brush with butter."),
        ("en", "free from milk", "Wipe the butter off the bench first."),
        ("fr", "free from milk", "Pétrir : souple comme du beurre."),
        ("de", "vegan", "Braun wie Honig backen."),
    ] {
        let message = told(language, claim, text);
        assert!(message.is_none(), "{language} {claim}: {text}: {message:?}");
    }
    // Another butter in the mix is not this one.
    let peanut = PLAIN
        .replace("bread flour", "rice flour")
        .replace("  total {", "  note \"Brush with butter.\"\n  expect { free from milk }\n  total {\n    peanut butter 3%")
        + "ingredient peanut butter is a nut { contains peanuts }\n";
    assert!(names(&peanut).contains(&"claim-not-proved"), "{:?}", names(&peanut));
    let vegan = peanut
        .replace("peanut butter", "vegan butter")
        .replace("contains peanuts", "contains nothing");
    assert!(!names(&vegan).contains(&"claim-not-proved"), "{:?}", names(&vegan));
    let found = told("en", "free from milk", "Brush with butter.").expect("told");
    assert!(found.contains("`butter`") && found.contains("free from milk"), "{found}");
}

/// A claim that another text makes falls with what a text uses.
#[test]
fn what_a_text_uses_stands_against_what_a_text_claims() {
    let text = PLAIN.replace("bread flour", "rice flour").replace(
        "  total {",
        "  headnote \"Free from milk.\"\n  note \"Brush with butter.\"\n  total {",
    );
    let found = findings(&text);
    let told: Vec<_> = found.iter().filter(|it| it.rule.name == "absence-in-text").collect();
    assert_eq!(told.len(), 1, "{found:?}");
    assert!(told[0].message.contains("`butter`"), "{}", told[0].message);
}

/// A refuted claim tells the way by which it came in.
#[test]
fn a_refuted_claim_names_the_way_in() {
    let stage = "  preferment levain { ferments 20% of flour; rice flour 100%; water 100%; whole milk 5%; white culture 20%; ripens 8h at 24C }\n";
    let wash = "  mixture wash { whole egg 1 part; shine 1 part }\n  mixture shine { whole milk 1 part; sugar 1 part }\n  piece { wash 3 g }\n";
    let tin = "tin chandler { holds 1 l; greased with butter }\n";
    let plain = PLAIN.replace("bread flour", "rice flour");
    for (text, wanted) in [
        (plain.replace("  total {", &format!("  expect {{ free from milk }}
{stage}  total {{
    whole milk 1%")), "`levain`"),
        (
            plain.replace("  total {", &format!("  expect {{ free from milk }}\n{wash}  total {{")),
            "`shine` in `wash`",
        ),
        (
            format!("{tin}{}", plain.replace("  total {", "  expect { free from milk }\n  method { bake 40min in chandler at 230C }\n  total {")),
            "`chandler`",
        ),
    ] {
        let found = findings(&text);
        let told = found.iter().find(|it| it.rule.name == "claim-refuted");
        let told = told.unwrap_or_else(|| panic!("{text}{found:?}"));
        assert!(told.notes.iter().any(|note| note.contains(wanted)), "{:?}", told.notes);
    }
}

/// Where a packet warns, nobody is sent to read it once more.
#[test]
fn the_help_fits_why_it_is_not_known() {
    for (says, wanted) in [
        ("contains nothing; may contain hazelnuts", "may contain it"),
        ("contains nuts", "which of the nuts"),
        ("water 10%", "is not known"),
    ] {
        let own = format!("ingredient quay mix is an other {{ {says} }}\n");
        let text = loaf("    quay mix 3%\n", "free from hazelnuts", &own);
        let found = findings(&text);
        let told = found.iter().find(|it| it.rule.name == "claim-not-proved").expect("told");
        assert!(told.message.contains(wanted), "{says}: {}", told.message);
        let help = told.help.as_deref().unwrap_or_default();
        let sends = help.contains("contains nothing");
        assert_eq!(sends, says.starts_with("water"), "{says}: {help}");
    }
}
