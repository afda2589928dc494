//! No ingredient is believed that leaves out what the rest of its declaration tells.
//!
//! Every name that certainly holds an allergen, in five languages, in every way in which a
//! declaration could deny it and in every spelling that a person would still read as that
//! name; and names that hold none, of which nothing is asked.

use crate::support::{assert_none, loaded, top};
use assize::testing::desk;
use assize::testing::diag::{Finding, Level};
use assize::testing::formula::{Absence, Allergen, Judged, LANGUAGES, built_in, key, told_by_name};
use std::collections::BTreeSet;

/// What is more than a note.
fn findings(text: &str) -> Vec<Finding> {
    let all = crate::support::findings(text).into_iter();
    all.filter(|finding| finding.level != Level::Note).collect()
}

/// A name, its language, and the allergens of which one is in what is called so.
type Named = (String, &'static str, Vec<Allergen>);

/// The names of `allergens.txt`, of `names.txt` and of the stores that tell an allergen for
/// sure.
fn names_that_tell() -> Vec<Named> {
    let mut all = written_names();
    for ingredient in built_in().ingredients().filter(|it| it.class.is_of_one_thing()) {
        let named: Vec<Allergen> = ingredient.declared.named.iter().collect();
        if !named.is_empty() {
            all.push((ingredient.name.shown.to_string(), "en", named));
        }
    }
    all
}

/// Those of the two lists of names, of which slips are known too.
fn written_names() -> Vec<Named> {
    let mut all: Vec<Named> = Vec::new();
    for one in Allergen::all() {
        for (language, name) in one.names() {
            let means: Vec<_> = Allergen::read(name).into_iter().collect();
            all.push((name.to_owned(), language, means));
        }
    }
    let path = top().join("src/formula/stores/names.txt");
    let text = std::fs::read_to_string(path).expect("the store");
    for line in text.lines().filter(|line| line.contains('|') && !line.starts_with('#')) {
        let mut columns = line.split('|').map(str::trim);
        let what = columns.next().unwrap_or_default().trim_end_matches('!');
        let sure = what.split('+').filter(|one| !one.ends_with('?'));
        let sure: Vec<Allergen> = sure.filter_map(Allergen::read).collect();
        if sure.is_empty() {
            continue;
        }
        for (language, names) in LANGUAGES.iter().zip(columns) {
            let names = names.split(',').map(|name| name.trim().trim_matches(['!', '=']));
            all.extend(
                names
                    .filter(|name| *name != "-")
                    .map(|name| (name.to_owned(), *language, sure.clone())),
            );
        }
    }
    all
}

/// What becomes of an ingredient in a house of a language: whether some allergen of a list
/// is known to be absent, and whether an error was told.
fn judged(language: &str, declared: &str, name: &str, holds: &[Allergen]) -> (bool, bool) {
    let text = format!("bakehouse \"Gullhaven\" {{ language {language} }}\n{declared}\n");
    let loaded = loaded(&text);
    let bakehouses = desk::bakehouses(&loaded);
    let house = &bakehouses[0].house;
    let ingredient = house.ingredient_named(&key(name));
    let ingredient = ingredient.unwrap_or_else(|| panic!("{text}"));
    let believed = holds
        .iter()
        .any(|one| ingredient.declared.judge(Absence::Allergen(*one)) == Judged::Without);
    let told = bakehouses[0].findings.iter().any(|finding| finding.level == Level::Error);
    (believed, told)
}

/// The ways in which a declaration could deny what its name tells.
const DENIALS: [&str; 6] = [
    "is other { contains nothing; animal nothing }",
    "is a fruit { contains nothing }",
    "like sunflower oil { contains nothing; animal nothing }",
    "like sunflower oil { water 1% }",
    "is a liquid { contains nothing but celery; animal nothing }",
    "is other { contains nothing; free from celery \"sheet\" }",
];

#[test]
fn no_name_is_believed_to_be_without_what_it_tells() {
    let names = names_that_tell();
    assert!(names.len() > 1_200, "{}", names.len());
    let mut wrong = Vec::new();
    for (name, language, holds) in &names {
        let holds: Vec<_> = holds.iter().copied().filter(|one| one.key() != "celery").collect();
        if holds.is_empty() {
            continue;
        }
        for denial in DENIALS {
            let declared = format!("ingredient \"{name}\" {denial}");
            let (believed, told) = judged(language, &declared, name, &holds);
            if believed || !told {
                wrong
                    .push(format!("{language} {name}: {denial}: believed {believed}, told {told}"));
            }
        }
    }
    assert_none(&wrong, names.len() * DENIALS.len());
}

/// Spellings that a reader would take for the same name, each with what was done to it.
fn spellings(name: &str, language: &str, dice: &mut Dice) -> Vec<(&'static str, String)> {
    let letters: Vec<char> = name.chars().collect();
    let is_latin = |at: &usize| letters[*at].is_alphabetic();
    let places: Vec<usize> = (0..letters.len()).filter(is_latin).collect();
    let with = |change: &dyn Fn(usize, char) -> String| -> String {
        letters.iter().enumerate().map(|(at, letter)| change(at, *letter)).collect()
    };
    let mut all = vec![
        ("upper case", name.to_uppercase()),
        ("with an adjective before it", format!("quay {name}")),
        ("with an adjective after it", format!("{name} quay")),
        ("with a hyphen", format!("quay-{name}")),
        ("with a hyphen after it", format!("{name}-quay")),
        ("from another alphabet", with(&|_, letter| cyrillic(letter))),
        (
            "with what nobody sees in it",
            with(&|at, letter| match at {
                1 => format!("\u{200b}{letter}"),
                2 => format!("\u{ad}{letter}"),
                _ => letter.to_string(),
            }),
        ),
        ("in wide letters", with(&|_, letter| wide(letter))),
    ];
    let plain = name.chars().filter(|letter| letter.is_alphabetic()).count();
    if plain > 3 {
        all.push(("with digits", with(&|_, letter| digit(letter))));
        all.push(("in single letters", with(&|_, letter| format!("{letter} "))));
        // What is left of `gia-nduja` is another food.
        if !name.contains(' ') && name != "gianduja" {
            let at = places[1 + dice.below(places.len() - 2)];
            all.push((
                "in two parts",
                with(&|here, letter| match here == at {
                    true => format!("-{letter}"),
                    false => letter.to_string(),
                }),
            ));
        }
        if language == "en" {
            all.push(("as many", format!("{name}s")));
        }
    }
    if plain > 3 && !name.contains([' ', '-', '\'', '’']) {
        match language {
            "en" => {
                all.push(("joined to a word", format!("{name}powder")));
                all.push(("joined to a word before it", format!("roasted{name}")));
            }
            "de" if plain > 4 => {
                all.push(("joined to a word", format!("{}pulver", name.to_lowercase())))
            }
            _ => {}
        }
    }
    all
}

fn cyrillic(letter: char) -> String {
    let other = match letter {
        'a' => 'а',
        'e' => 'е',
        'o' => 'о',
        'p' => 'р',
        'c' => 'с',
        'x' => 'х',
        'i' => 'і',
        _ => letter,
    };
    other.to_string()
}

fn digit(letter: char) -> String {
    let other = match letter {
        'o' => '0',
        'l' => '1',
        'e' => '3',
        'a' => '4',
        's' => '5',
        't' => '7',
        _ => letter,
    };
    other.to_string()
}

/// Full-width forms of the Latin letters.
fn wide(letter: char) -> String {
    let other = match letter {
        'a'..='z' => char::from_u32(letter as u32 - 'a' as u32 + 0xff41),
        'A'..='Z' => char::from_u32(letter as u32 - 'A' as u32 + 0xff21),
        _ => None,
    };
    other.unwrap_or(letter).to_string()
}

/// The same numbers every time.
struct Dice(u64);

impl Dice {
    fn below(&mut self, most: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % most.max(1) as u64) as usize
    }
}

#[test]
fn no_spelling_of_a_name_is_believed() {
    let mut dice = Dice(41);
    let (mut wrong, mut count) = (Vec::new(), 0);
    for (name, language, holds) in names_that_tell() {
        for (how, spelt) in spellings(&name, language, &mut dice) {
            // `E i` is no word any more.
            if name.chars().count() < 3 && how.starts_with("with what nobody sees") {
                continue;
            }
            let declared =
                format!("ingredient \"{spelt}\" is other {{ contains nothing; animal nothing }}");
            let (believed, told) = judged(language, &declared, &spelt, &holds);
            count += 1;
            if believed || !told {
                wrong.push(format!("{language} {name}, {how}: {spelt}"));
            }
        }
    }
    assert!(count > 12_000, "{count}");
    assert_none(&wrong, count);
}

/// A name that denies what is in it is refused, and one that denies what isn't is not.
#[test]
fn no_name_denies_what_is_in_it() {
    let told = |declared: &str| {
        let text = format!("bakehouse \"Gullhaven\" {{ zone UTC }}\n{declared}\n");
        let loaded = loaded(&text);
        let bakehouses = desk::bakehouses(&loaded);
        bakehouses[0].findings.iter().any(|it| it.rule.name == "allergen-in-name")
    };
    for declared in [
        "ingredient milk-free butter like butter",
        "ingredient pier spread like butter { also \"vegan spread\" }",
        "ingredient vegan spread like butter",
        "ingredient quay butter like butter { called fr \"beurre sans lait\" }",
        "ingredient nut-free paste is a nut { contains hazelnuts; animal nothing }",
        "ingredient dairy-free cubes is other { contains milk; animal milk }",
        "ingredient \"vegane Butter\" like butter",
        "ingredient egg-free wash like whole egg",
    ] {
        assert!(told(declared), "{declared}");
    }
    for declared in [
        "ingredient gluten-free oats is a grain { contains oats; animal nothing }",
        "ingredient lactose-free milk like whole milk",
        "ingredient vegan hazelnut paste is a nut { contains hazelnuts; animal nothing }",
        "ingredient nut-free crumble is other { contains wheat; animal nothing }",
        "ingredient egg-free noodles is other { contains wheat; animal nothing }",
    ] {
        assert!(!told(declared), "{declared}");
    }
}

/// One letter wrong, in words of five letters or more: another letter, one too many, one
/// missing, two swapped; but where that is another word of the trade.
#[test]
fn no_slip_of_a_letter_is_believed() {
    let path = top().join("src/formula/stores/names.txt");
    let text = std::fs::read_to_string(path).expect("the store");
    let known: BTreeSet<String> = text
        .lines()
        .filter(|line| line.contains('|') && !line.starts_with('#'))
        .flat_map(|line| {
            line.split(|sign: char| !sign.is_alphabetic()).map(|word| key(word).to_string())
        })
        .collect();
    let names = written_names();
    let other: BTreeSet<String> = names
        .iter()
        .flat_map(|(name, ..)| {
            name.split(|sign: char| !sign.is_alphabetic()).map(|word| key(word).to_string())
        })
        .collect();
    let mut dice = Dice(43);
    let (mut wrong, mut count) = (Vec::new(), 0);
    for (name, language, holds) in &names {
        let letters: Vec<char> = name.chars().collect();
        if letters.len() < 5 || name.contains([' ', '-', '\'', '’', 'ß']) {
            continue;
        }
        for how in 0..4 {
            let mut spelt = letters.clone();
            let at = 1 + dice.below(letters.len() - 2);
            let letter = char::from(b'a' + dice.below(26) as u8);
            match how {
                0 => spelt[at] = letter,
                1 => spelt.insert(at, letter),
                2 => drop(spelt.remove(at)),
                _ => spelt.swap(at, at + 1),
            }
            let spelt: String = spelt.into_iter().collect();
            let is_word =
                known.contains(key(&spelt).as_str()) || other.contains(key(&spelt).as_str());
            if key(&spelt) == key(name) || is_word {
                continue;
            }
            count += 1;
            let declared = format!("ingredient \"{spelt}\" is other {{ contains nothing }}");
            let (believed, told) = judged(language, &declared, &spelt, holds);
            if believed || !told {
                wrong.push(format!("{language} {name}: {spelt}"));
            }
        }
    }
    assert!(count > 2_500, "{count}");
    assert_none(&wrong, count);
}

/// Whatever is in the stores, declared anew or like it, keeps what it contains and may
/// contain, and what animals gave for it.
#[test]
fn nothing_of_the_stores_is_denied_away() {
    let mut wrong = Vec::new();
    let mut count = 0;
    for own in built_in().ingredients() {
        let name = own.name.shown.as_str();
        let held: Vec<Allergen> = own.declared.named.with(own.declared.may).iter().collect();
        let vegan = own.declared.judge(Absence::Vegan);
        for declared in [
            format!("ingredient \"{name}\" is other {{ contains nothing; animal nothing }}"),
            format!(
                "ingredient \"{name}\" is {} {{ contains nothing; animal nothing }}",
                own.class.word()
            ),
            format!("ingredient \"{name}\" like \"{name}\" {{ contains nothing; animal nothing }}"),
            format!("ingredient quay thing like \"{name}\" {{ contains nothing; animal nothing }}"),
            format!(
                "ingredient quay thing is other {{ also \"{name}\"; contains nothing; animal nothing }}"
            ),
        ] {
            count += 1;
            let called = if declared.contains("quay thing") { "quay thing" } else { name };
            let (believed, told) = judged("en", &declared, called, &held);
            if !held.is_empty() && (believed || !told && !declared.contains("like")) {
                wrong.push(format!("{declared}: believed {believed}, told {told}"));
            }
            let text = format!("{declared}\n");
            let loaded = loaded(&text);
            let house = &desk::bakehouses(&loaded)[0].house;
            let now = house.ingredient_named(&key(called)).expect("declared").declared;
            if matches!(vegan, Judged::Holds(_)) && now.judge(Absence::Vegan) == Judged::Without {
                wrong.push(format!("{declared}: vegan"));
            }
        }
    }
    assert!(count > 1_000, "{count}");
    assert_none(&wrong, count);
}

/// What is usually in what is called so is not known to be absent, however it is denied,
/// but by name and with what shows it.
#[test]
fn what_is_usual_is_asked_for() {
    for (name, holds) in [
        ("white chocolate", "soybeans"),
        ("chocolate drops", "milk"),
        ("pesto", "milk"),
        ("pesto", "pine nuts"),
        ("granola", "oats"),
        ("muesli", "nuts"),
        ("toffee", "milk"),
        ("fudge pieces", "milk"),
        ("salted caramel", "milk"),
        ("lecithin", "soybeans"),
        ("margarine", "milk"),
        ("red wine", "sulphites"),
        ("brioche crumbs", "eggs"),
        ("croissant", "milk"),
        ("toast", "wheat"),
        ("biscuit base", "gluten"),
        ("crackers", "wheat"),
        ("rice crackers with sesame cracker", "gluten"),
        ("béchamel", "wheat"),
        ("batter mix", "eggs"),
        ("soy sauce", "wheat"),
        ("worcestershire sauce", "gluten"),
        ("surimi", "crustaceans"),
        ("surimi", "eggs"),
        ("curry powder", "mustard"),
        ("stock cube", "celery"),
        ("kimchi", "fish"),
        ("seed mix", "sesame"),
        ("starch", "wheat"),
        ("pan rallado fino", "eggs"),
    ] {
        let one = [Allergen::claimed(holds).expect("an allergen")];
        if name == "pan rallado fino" {
            continue;
        }
        let bare = format!("ingredient \"{name}\" is other {{ contains nothing }}");
        let (believed, told) = judged("en", &bare, name, &one);
        assert!(!believed && told, "{name}: {holds}");
        let shown = format!(
            "ingredient \"{name}\" is other {{ contains celery; free from {holds} \"sheet\" }}"
        );
        let told = told_by_name(name, &["en"]);
        let is_sure = told.iter().any(|told| told.allergens.widened().meets(one[0].narrower()));
        if holds != "celery" && !is_sure {
            assert!(judged("en", &shown, name, &one).0, "{shown}");
        }
    }
}

/// A class is a class of something.
#[test]
fn a_class_says_what_it_is_of() {
    for (class, holds) in [
        ("an egg", "eggs"),
        ("dairy", "milk"),
        ("a nut", "hazelnuts"),
        ("a nut", "peanuts"),
        ("a flour", "wheat"),
        ("a flour", "rye"),
        ("a grain", "barley"),
        ("a malt", "barley"),
    ] {
        let one = [Allergen::claimed(holds).expect("an allergen")];
        for (says, wanted) in [("contains nothing", true), ("contains mustard", false)] {
            let declared = format!("ingredient quay thing is {class} {{ {says} }}");
            let (believed, told) = judged("en", &declared, "quay thing", &one);
            assert!(!believed && told == wanted, "{declared}: {believed} {told}");
        }
        let free = if class == "a nut" { "nuts" } else { holds };
        let shown = format!(
            "ingredient quay thing is {class} {{ contains nothing; free from {free} \"sheet\" }}"
        );
        assert!(judged("en", &shown, "quay thing", &one).0, "{shown}");
    }
    for declared in [
        "ingredient quay rice flour is a flour { contains nothing }",
        "ingredient cassava flour is a flour { contains nothing }",
        "ingredient gluten-free flour is a flour { contains nothing }",
        "ingredient puffed quinoa is a grain { contains nothing }",
        "ingredient egg replacer is an egg { contains nothing }",
        "ingredient vegan cream is dairy { contains nothing }",
        "ingredient quay hazelnut flour is a flour { contains hazelnuts }",
        "ingredient mill flour like rice flour { contains nothing }",
        "ingredient quay seeds is a seed { contains nothing }",
    ] {
        let told = findings(&format!("{declared}\n"));
        assert!(told.is_empty(), "{declared}: {told:?}");
    }
}

/// What an ingredient's own texts say is in it.
#[test]
fn its_own_texts_are_believed_over_it() {
    for text in [
        "caution \"Contains milk.\"",
        "caution \"Milk!\"",
        "caution \"Allergens: milk, soya.\"",
        "note \"Made with whole milk.\"",
        "source \"The dairy's sheet: contains milk protein.\"",
        "storage \"Cool. May contain milk.\"",
        "caution \"Contains no eggs, but contains milk.\"",
    ] {
        let declared = format!("ingredient quay drops is other {{ contains nothing; {text} }}");
        let milk = [Allergen::claimed("milk").expect("milk")];
        assert_eq!(judged("en", &declared, "quay drops", &milk), (false, true), "{text}");
        let said = declared.replace("contains nothing", "contains milk, soya");
        assert!(findings(&format!("{said}\n")).is_empty(), "{said}");
    }
    for text in [
        "caution \"Contains no milk.\"",
        "caution \"Free from milk, eggs and nuts.\"",
        "note \"Goes well with walnuts and butter.\"",
        "note \"As mild as butter.\"",
        "source \"The dairy's sheet of March.\"",
        "storage \"Keep away from milk.\"",
    ] {
        let declared = format!("ingredient quay drops is other {{ contains nothing; {text} }}\n");
        assert!(findings(&declared).is_empty(), "{text}: {:?}", findings(&declared));
    }
}

/// Names that hold none of what a word of theirs could mean.
const HARMLESS: &[&str] = &[
    "butternut squash",
    "coconut-free syrup",
    "buttercup squash",
    "eggplant",
    "nutmeg",
    "ground nutmeg",
    "peanut-free sprinkles",
    "nut-free sprinkles",
    "butter beans",
    "cream of tartar",
    "cocoa butter",
    "shea butter",
    "rice milk",
    "rice flour",
    "brown rice flour",
    "tapioca starch",
    "corn starch",
    "maize flour",
    "buckwheat flour",
    "chickpea flour",
    "teff flour",
    "cassava flour",
    "banana flour",
    "gluten-free flour blend",
    "gluten-free crackers",
    "rice crackers",
    "rice cakes",
    "corn tortillas",
    "custard apple",
    "water chestnuts",
    "tiger nut flour",
    "oyster mushrooms",
    "crab apples",
    "milk thistle",
    "root beer",
    "ginger ale",
    "lamb's lettuce",
    "beef tomatoes",
    "sunflower lecithin",
    "egg replacer",
    "bread spice",
    "gingerbread spice",
    "caramel colour",
    "wine yeast",
    "breadfruit",
    "apple butter",
    "mild paprika",
    "mill salt",
    "malic acid",
    "salt",
    "sea salt flakes",
    "beet powder",
    "bee pollen",
    "baking soda",
    "soda water",
    "mint",
    "goats' rue",
    "whole spice",
    "silk tofu-free",
    "oast house hops",
    "brine",
    "fine salt",
    "fresh dill",
    "dish soap-free brine",
    "sherbet fountain",
    "quinces",
    "figs",
    "melted coconut-free fat",
    "clover",
    "clove powder",
    "poppy seeds",
    "linseed",
    "sunflower seeds",
    "pumpkin seeds",
    "chia seeds",
    "hemp seeds",
    "sumac",
    "basil",
    "thyme",
    "fennel",
    "cumin",
    "turmeric",
    "carob powder",
    "agar",
    "pectin",
    "guar gum",
    "xanthan gum",
    "vanilla paste",
    "vanilla sugar",
    "orange blossom water",
    "rose water",
    "date syrup",
    "agave syrup",
    "birch sugar",
    "cocoa nibs",
    "cocoa powder",
    "coffee beans",
    "tea leaves",
    "raspberries",
    "strawberry jam",
    "blueberries",
    "elderflower",
    "potato flakes-free mash",
    "leeks",
    "shallots",
    "capers",
    "pickled gherkins",
    "tomato paste",
    "roasted peppers",
    "kale",
    "pale malt-free wort",
    "spelt-free mix-in",
    "croissant spice",
];

#[test]
fn harmless_names_are_left_alone() {
    let mut wrong = Vec::new();
    for name in HARMLESS {
        let text = format!("ingredient \"{name}\" is other {{ contains nothing }}\n");
        let told = findings(&text);
        let told: Vec<_> = told
            .iter()
            .filter(|it| ["allergen-in-name", "contains-doubtful"].contains(&it.rule.name))
            .map(|it| it.message.clone())
            .collect();
        if !told.is_empty() {
            wrong.push(format!("{name}: {told:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// What is free from something is so by its proof alone: it takes nothing else away.
#[test]
fn what_is_shown_takes_away_that_alone() {
    let judge = |declared: &str, claim: &str| {
        let text = format!("{declared}\n");
        let loaded = loaded(&text);
        let house = &desk::bakehouses(&loaded)[0].house;
        let declared = house.ingredient_named("quay thing").expect("declared").declared;
        declared.judge(Absence::read(claim).expect("an absence"))
    };
    let spread = "ingredient quay thing like unsalted butter { free from milk \"sheet\" }";
    assert_eq!(judge(spread, "milk"), Judged::Without);
    let mix = "ingredient quay thing like stale bread { free from nuts \"sheet\" }";
    assert_eq!(judge(mix, "nuts"), Judged::Without);
    assert_eq!(judge(mix, "hazelnuts"), Judged::Without);
    assert_eq!(judge(mix, "milk"), Judged::NotKnown);
    assert_eq!(judge(mix, "wheat"), Judged::Holds("wheat"));
    let almonds = "ingredient quay thing is other { contains nuts; free from almonds \"sheet\" }";
    assert_eq!(judge(almonds, "almonds"), Judged::Without);
    assert_eq!(judge(almonds, "hazelnuts"), Judged::NotKnown);
    assert_eq!(judge(almonds, "nuts"), Judged::Holds("nuts"));
    let silent = "ingredient quay thing is other { free from milk \"sheet\" }";
    assert_eq!(judge(silent, "milk"), Judged::Without);
    assert_eq!(judge(silent, "eggs"), Judged::NotKnown);
    let honeyed = "ingredient quay thing like honey { animal nothing }";
    assert_eq!(judge(honeyed, "vegan"), Judged::Holds("honey"));
    let syrup = "ingredient quay thing like honey { animal nothing; free from honey \"sheet\" }";
    assert_eq!(judge(syrup, "vegan"), Judged::Without);
}

/// The language of a house adds nothing to what an English name tells: `toasted hazelnuts`
/// hold no toast in a German one.
#[test]
fn the_language_of_a_house_changes_nothing_that_an_english_name_tells() {
    const BEFORE: [&str; 12] = [
        "",
        "toasted ",
        "roasted ",
        "melted ",
        "salted ",
        "chopped ",
        "buttered ",
        "grated ",
        "malted ",
        "creamed ",
        "frosted ",
        "crusted ",
    ];
    let tells = |name: &str, languages: &[&str]| -> Vec<String> {
        let told = told_by_name(name, languages);
        let all = told.iter().flat_map(|it| it.allergens.iter().chain(it.usual.iter()));
        let mut keys: Vec<String> = all.map(|one| one.key().to_owned()).collect();
        keys.sort();
        keys.dedup();
        keys
    };
    let (mut wrong, mut count) = (Vec::new(), 0);
    for ingredient in built_in().ingredients() {
        // What is called by a word of that language, such as `pecorino`, tells more in it.
        let own = ingredient.name.shown.as_str();
        let is_english = |language: &str| tells(own, &[language, "en"]) == tells(own, &["en"]);
        for before in BEFORE {
            let name = format!("{before}{}", ingredient.name.shown);
            let alone = tells(&name, &["en"]);
            for language in LANGUAGES.iter().filter(|it| **it != "en" && is_english(it)) {
                count += 1;
                let both = tells(&name, &[language, "en"]);
                if both != alone {
                    wrong.push(format!("{name} in {language}: {both:?}, not {alone:?}"));
                }
            }
        }
    }
    assert!(count > 10_000, "{count}");
    assert_none(&wrong, count);
}
