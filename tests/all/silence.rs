//! What was once ignored in silence, each by its name; `sweep.rs` holds the kind.

use crate::support::{PLAIN, assize, err, findings, folder, names, out};
use assize::testing::diag::{Finding, Level};
use assize::testing::source::is_unseen;
use std::fs;
use std::path::Path;

fn told<'f>(findings: &'f [Finding], rule: &str) -> Vec<&'f str> {
    let of_rule = findings.iter().filter(|finding| finding.rule.name == rule);
    of_rule.map(|finding| finding.message.as_str()).collect()
}

/// A loaf with a levain from a culture of these lines.
fn with_culture(lines: &str) -> String {
    let levain = "  preferment levain { ferments 20% of flour; bread flour 100%; water 100%; house \
                  seed 20%; ripens 8h at 24C }\n  expect { hydration 74% }\n}\n";
    let formula = PLAIN.replace("    fresh yeast    1%\n", "").replace("  }\n}\n", "  }\n");
    format!("culture house seed {{\n{lines}\n}}\n{formula}{levain}")
}

#[test]
fn a_culture_needs_amounts_that_can_be_counted() {
    for amount in ["to taste", "as needed", "a pinch", "all", "100%..120%", "50%.."] {
        let text = with_culture(&format!("  bread flour 100%\n  water {amount}"));
        assert_eq!(names(&text), ["not-an-amount"], "{amount}");
    }
    // What is left of the flour is known; of anything else, nobody knows what to.
    let rest = with_culture("  bread flour the rest\n  dark rye flour 20%\n  water 100%");
    assert_eq!(names(&rest), ["culture-flour-not-listed"]);
    let same = rest.replace("the rest", "80%");
    let rye = |text: &str| {
        let said = findings(&text.replace("hydration 74%", "dark rye flour 9 g"));
        told(&said, "claim-refuted").join("\n")
    };
    assert!(rye(&rest).contains("dark rye flour"), "{}", rye(&rest));
    assert_eq!(rye(&rest), rye(&same));
    for lines in [
        "  bread flour 100%\n  water the rest",
        "  bread flour the rest\n  dark rye flour the rest\n  water 100%",
        "  bread flour the rest\n  dark rye flour 100%\n  water 100%",
        "  bread flour the rest\n  dark rye flour 5 g\n  water 100%",
    ] {
        assert!(names(&with_culture(lines)).contains(&"not-an-amount"), "{lines}");
    }
}

#[test]
fn an_ingredient_is_made_of_no_more_than_itself() {
    let own = |lines: &str| format!("{PLAIN}ingredient weir flour {lines}\n");
    for (lines, wrong) in [
        ("is a flour { protein 190%; contains wheat }", true),
        ("is a flour { protein 100%; contains wheat }", false),
        ("is a flour { sodium 101 g; contains wheat }", true),
        (
            "is a flour { water 13%; protein 12%; fat 2%; carbohydrate 72%; ash 1%; contains wheat }",
            false,
        ),
        (
            "is a flour { water 13%; protein 12%; fat 2%; carbohydrate 72%; ash 4%; contains wheat }",
            true,
        ),
        (
            "is a fat { fat 80%; saturates 50%; monounsaturates 20%; polyunsaturates 10%; contains wheat }",
            false,
        ),
        ("is a fat { fat 80%; saturates 85%; contains wheat }", true),
        ("is a sugar { carbohydrate 80%; sugars 90%; contains wheat }", true),
        ("is a fat { energy 902 kcal; contains wheat }", false),
        ("is a fat { energy 903 kcal; contains wheat }", true),
        ("is a fat { energy 3773 kJ; contains wheat }", false),
        ("is a fat { energy 3800 kJ; contains wheat }", true),
        ("is a fat { salt 1%; sodium 400 mg; contains wheat }", false),
        ("is a fat { salt 1%; sodium 40 mg; contains wheat }", true),
        ("like whole wheat flour { protein 16% }", false),
        ("like whole wheat flour { protein 40% }", true),
        ("like salt { water 0% }", false),
    ] {
        let expected: &[&str] = if wrong { &["composition-impossible"] } else { &[] };
        assert_eq!(names(&own(lines)), expected, "{lines}");
    }
}

#[test]
fn a_price_is_in_the_money_of_the_house_and_of_a_size_that_somebody_pays() {
    let house = |currency: &str, price: &str| {
        let house = format!("bakehouse \"Gullhaven Bakehouse\" {{ {currency} }}\n");
        format!("{house}{PLAIN}ingredient weir flour like bread flour {{ price {price} }}\n")
    };
    for (currency, price, doubtful) in [
        ("currency EUR", "23.50 EUR per 25 kg", false),
        ("currency EUR", "23.50 EUR per 25 g", true),
        ("currency EUR", "0.0235 EUR per 25 kg", true),
        ("currency EUR", "0 EUR per kg", true),
        ("currency EUR", "23.50 USD per 25 kg", true),
        ("currency USD", "23.50 EUR per 25 kg", true),
        ("", "23.50 USD per 25 kg", false),
        ("currency JPY", "3800 JPY per 25 kg", false),
        ("currency JPY", "3800 JPY per 25 g", true),
        // Of money that we know nothing of, only the currency is looked at.
        ("currency XAF", "15000 XAF per 25 kg", false),
        ("currency EUR", "1 EUR per l", false),
    ] {
        let said = findings(&house(currency, price));
        let doubts = told(&said, "price-doubtful");
        assert_eq!(doubts.len(), usize::from(doubtful), "{currency} {price}: {doubts:?}");
        assert_eq!(told(&said, "not-worked-out-yet").len(), 1, "{price}");
    }
    let mixed_up = findings(&house("currency EUR", "23.50 EUR per 25 g"));
    let repair = mixed_up.iter().find_map(|finding| finding.repair.as_ref()).expect("a repair");
    assert_eq!(repair.text, "25 kg");
    let two = format!("{PLAIN}ingredient a flour like bread flour {{ price 1 EUR per kg }}\n")
        + "ingredient b flour like bread flour { price 1 GBP per kg }\n";
    assert_eq!(told(&findings(&two), "price-doubtful").len(), 1);
    for currency in ["currency EURO", "currency euros"] {
        assert_eq!(names(&house(currency, "1 EUR per kg"))[0], "unknown-value");
    }
    assert!(
        names(&house("currency eur", "1 eur per kg"))
            .iter()
            .all(|name| *name == "not-worked-out-yet")
    );
}

/// A loaf that is baked in an oven of this kind.
fn baked(makes: &str, oven: &str, place: &str) -> String {
    let method = format!(
        "  method {{\n    mix 8min with everything else\n    bulk 2h at 25C\n    proof 1h at 25C\n    \
         bake 40min at 230C{place}\n  }}\n}}\n"
    );
    let formula =
        PLAIN.replace("2 loaves at 885 g", makes).replace("  }\n}\n", &format!("  }}\n{method}"));
    format!("{oven}\n{formula}")
}

#[test]
fn more_than_the_oven_holds_is_told_in_loads() {
    let loads = |makes: &str, oven: &str, place: &str| {
        let said = findings(&baked(makes, oven, place));
        told(&said, "oven-loads").first().map(|told| (*told).to_owned())
    };
    let hearth = "oven hearth { holds 2 loaves }";
    let takes =
        |loads: u32, oven: &str| Some(format!("this takes {loads} loads of the oven `{oven}`"));
    assert_eq!(loads("200 loaves at 885 g", hearth, " in hearth"), takes(100, "hearth"));
    // Where only one oven is there, nobody need name it; a part of a load is a load.
    assert_eq!(loads("5 loaves at 885 g", hearth, ""), takes(3, "hearth"));
    assert_eq!(loads("2 loaves at 885 g", hearth, ""), None);
    assert_eq!(loads("4 loaves at 885 g", "oven hearth { holds 1 loaf }", ""), takes(4, "hearth"));
    assert_eq!(loads("4 loaves at 885 g", "oven hearth { holds 2 }", ""), takes(2, "hearth"));
    // Several kinds share a load.
    let both = "oven deck { holds 10 loaves, 50 rolls }";
    assert_eq!(loads("5 loaves at 885 g, 25 rolls at 80 g", both, ""), None);
    assert_eq!(loads("6 loaves at 885 g, 25 rolls at 80 g", both, ""), takes(2, "deck"));
    // The one that is named counts, else the one that needs the fewest.
    let two = "oven small { holds 2 loaves }\noven large { holds 6 loaves }";
    assert_eq!(loads("12 loaves at 885 g", two, ""), takes(2, "large"));
    assert_eq!(loads("12 loaves at 885 g", two, " in small"), takes(6, "small"));
    let unsaid = loads("12 loaves at 885 g", "oven deck { holds 50 rolls }", " in deck");
    assert_eq!(unsaid.as_deref(), Some("the oven `deck` does not say how many loaves it holds"));
}

#[test]
fn a_mixer_that_fits_comes_before_one_that_does_not_say_what_it_holds() {
    let house = |mixers: &str| {
        let formula = baked("2 loaves at 885 g", mixers, "")
            .replace("everything else", "everything else to 25C");
        format!("bakehouse \"Gullhaven Bakehouse\" {{ room 20C; flour 20C; tap 30C }}\n{formula}")
    };
    let friction = |mixers: &str| {
        let folder = folder();
        fs::write(folder.path().join("a.dough"), house(mixers)).expect("written");
        let why = assize(folder.path(), &["why", "pier-loaf", "water", "temperature"]);
        let told = out(&why) + &err(&why);
        let line =
            told.lines().find(|line| line.contains("friction of")).unwrap_or(&told).to_owned();
        line.split("friction of ").nth(1).unwrap_or("").split(':').next().unwrap_or("").to_owned()
    };
    let unsaid = "mixer attic { friction 3C }\n";
    let fits = "mixer bench { holds 1 kg..3 kg; friction 5C }\n";
    let large = "mixer spiral { holds 5 kg..50 kg; friction 9C }\n";
    assert_eq!(friction(&format!("{unsaid}{large}{fits}")), "bench");
    assert_eq!(friction(&format!("{unsaid}{large}")), "attic");
    assert_eq!(
        friction(&format!("{large}mixer tub {{ holds 100 g..200 g; friction 1C }}\n")),
        "spiral"
    );
}

#[test]
fn a_figure_is_claimed_in_its_unit_and_is_no_name_to_give_away() {
    for (claim, rule) in [
        ("true hydration 74", "missing-unit"),
        ("yeast as fresh 1", "missing-unit"),
        ("water temperature 20", "missing-unit"),
        ("ice 5", "missing-unit"),
        ("true hydration 3h", "wrong-kind-of-amount"),
        ("pieces 900 g", "wrong-kind-of-amount"),
        ("water temperature 20%", "wrong-kind-of-amount"),
    ] {
        let text = PLAIN.replace("  total {", &format!("  expect {{ {claim} }}\n  total {{"));
        assert_eq!(names(&text), [rule], "{claim}");
    }
    for name in
        ["ice", "true hydration", "yeast as fresh", "water temperature", "bake loss", "flours"]
    {
        for declared in [
            "ingredient NAME is a water",
            "culture NAME { water 1 g }",
            "mixture NAME { water 1 g }",
        ] {
            let text = format!("{PLAIN}{}\n", declared.replace("NAME", name));
            assert!(names(&text).contains(&"reserved-word"), "{declared}: {name}");
        }
    }
}

/// Nothing at all, where that can't be meant.
#[test]
fn nothing_where_an_amount_is_due_is_an_error() {
    let house = |setting: &str| format!("bakehouse \"A\" {{ {setting} }}\n{PLAIN}");
    let ingredient =
        |fact: &str| format!("{PLAIN}ingredient a flour like bread flour {{ {fact} }}\n");
    let formula = |from: &str, to: &str| PLAIN.replace(from, to);
    let stage = |line: &str| {
        let levain = format!(
            "  preferment levain {{ ferments 9% of flour; {line}; bread flour 100%; water 100%; \
                              rye culture 20%; ripens 8h at 24C }}\n  total {{"
        );
        PLAIN.replace("  total {", &levain)
    };
    for text in [
        house("scale 0 g"),
        house("scale 1 g, 0.1 g below 0 g"),
        house("mixer a { holds 0 kg }"),
        house("mixer a { holds 0 kg..0 kg }"),
        house("mixer a { work 10 kJ per 0 kg }"),
        house("oven a { holds 0 loaves }"),
        house("tin a { holds 0 l }"),
        house("tin a { holds 1 l; 0 ml per g }"),
        house("tin a { holds 1 l; 3 ml per 0 g }"),
        house("cooling 0 g from 25C to 8C in 3h at 4C"),
        ingredient("each 0 g"),
        ingredient("volume 0 cup weighs 120 g"),
        ingredient("volume 1 cup weighs 0 g"),
        ingredient("price 1 EUR per 0 kg"),
        ingredient("fresh equivalent 0x"),
        formula("885 g", "0 g"),
        formula("2 loaves at 885 g", "0 kg dough"),
        formula("2 loaves at 885 g", "from 0 g flour"),
        stage("at least 0 g rye culture"),
        stage("save 0 g"),
        stage("feeds 0 times"),
    ] {
        assert!(names(&text).contains(&"amount-impossible"), "{text}");
    }
    for sound in [
        house("mixer a { holds 0 kg..28 kg }"),
        ingredient("energy 0 kcal; salt 0%"),
        stage("loses 0%"),
    ] {
        assert!(!names(&sound).contains(&"amount-impossible"), "{sound}");
    }
}

#[test]
fn a_machine_says_one_value_where_there_is_one() {
    for (machine, sound) in [
        ("mixer a { holds 3 kg..28 kg }", true),
        ("mixer a { holds 3 kg..28 kg, 5 kg }", false),
        ("tin a { holds 2.4 l }", true),
        ("tin a { holds 2.4 l, 3 l }", false),
        ("tin a { holds 2 l..3 l }", false),
        ("tin a { 3.2 ml per g }", false),
        ("tin a { }", false),
        ("oven a { holds 24 loaves, 120 rolls }", true),
    ] {
        let text = format!("{PLAIN}{machine}\n");
        assert_eq!(names(&text).is_empty(), sound, "{machine}: {:?}", names(&text));
    }
}

fn house(files: &[(&str, &str)]) -> tempfile::TempDir {
    let folder = folder();
    for (name, text) in files {
        let path = folder.path().join(name);
        fs::create_dir_all(path.parent().expect("a folder")).expect("made");
        fs::write(path, text).expect("written");
    }
    folder
}

fn check(folder: &Path) -> String {
    out(&assize(folder, &["check", "--format", "short"]))
}

#[test]
fn check_tells_what_is_wrong_with_what_a_house_brings_to_its_prints() {
    let bakehouse = "bakehouse \"Gullhaven Bakehouse\" { logo \"sign.svg\"; language nl }\n";
    let words = "print-method = Werkwijze\nprint-storag = Bewaren\npiece-loaf = brood\n\
                 name-bread-flour = bloem\nname-bred-flour = bloem\n= 5\n";
    let folder = house(&[
        ("house.dough", bakehouse),
        ("pier.dough", PLAIN),
        ("templates/words.ftl", words),
        ("templates/crad.typ", ""),
        ("templates/my-parts.typ", ""),
        ("templates/word.ftl", ""),
        ("templates/words/fr.ftl", "print-method = Méthode\n"),
        ("fonts/Own.woff2", ""),
    ]);
    let told = check(folder.path());
    for part in [
        "`sign.svg` can't be read: it is not there",
        "no print asks for the message `print-storag` in templates/words.ftl, line 2",
        "no print asks for the message `name-bred-flour` in templates/words.ftl, line 5",
        "templates/words.ftl can't be read: line 6",
        "no print reads templates/crad.typ",
        "no print reads templates/word.ftl",
        "fonts/Own.woff2 is a font in a form that no print reads",
    ] {
        assert!(told.contains(part), "{part}: {told}");
    }
    assert!(told.ends_with("1 formula: 7 warnings\n"), "{told}");
    // With none of it, a language that we do not speak is told as well.
    let bare =
        house(&[("house.dough", "bakehouse \"A\" { language nl }\n"), ("pier.dough", PLAIN)]);
    assert!(check(bare.path()).contains("no-words-for-language"), "{}", check(bare.path()));
}

#[test]
fn hours_that_end_when_they_begin_are_none() {
    for (hours, sound) in [
        ("22:00..22:00", false),
        ("00:00..00:00", false),
        ("24:00..00:00", false),
        ("24:00..24:00", false),
        ("00:00..24:00", true),
        ("22:00..06:00", true),
        ("05:00..13:00, 14:00..14:00", false),
    ] {
        let text = format!("bakehouse \"A\" {{ hours {hours} }}\n{PLAIN}");
        assert_eq!(names(&text).is_empty(), sound, "{hours}");
        let folder = house(&[("a.dough", &baked("2 loaves at 885 g", "", ""))]);
        let plan =
            ["plan", "pier-loaf", "--ready", "2026-12-05 12:00", "--zone", "UTC", "--awake", hours];
        let code = assize(folder.path(), &plan).status.code();
        assert_eq!(code == Some(2), !sound, "{hours}: {code:?}");
    }
}

#[test]
fn seed_that_nobody_begins_a_stage_with_is_refused() {
    let text = with_culture("  bread flour 100%\n  water 100%").replace(
        "  expect { hydration 74% }\n",
        "  method {\n    mix 8min with everything else\n    bulk 3h at 25C\n    bake 40min at 230C\n  }\n",
    );
    let folder = house(&[("a.dough", &text)]);
    for (seed, sound) in [
        ("0.001%", false),
        ("0.4%", false),
        ("1%", true),
        ("100%", true),
        ("301%", false),
        ("9999%", false),
    ] {
        let plan =
            ["plan", "pier-loaf", "--ready", "2026-12-05 20:00", "--zone", "UTC", "--seed", seed];
        let done = assize(folder.path(), &plan);
        assert_eq!(done.status.success(), sound, "{seed}: {}{}", out(&done), err(&done));
        if !sound {
            assert!(err(&done).contains("in which stages are begun"), "{}", err(&done));
        }
    }
}

#[test]
fn the_bounds_of_the_stores_are_no_styles_to_name() {
    for name in ["physics", "habit", "prices", "composition", "currencies"] {
        let text = PLAIN.replace("  makes", &format!("  style {name}\n  makes"));
        assert_eq!(names(&text), ["unknown-style"], "{name}");
    }
}

/// Cautions of what goes in come out with it, in every language and through side mixes.
#[test]
fn the_cautions_of_what_goes_in_are_on_every_card() {
    let text = format!(
        "bakehouse \"A\" {{ }}\n{}ingredient lye flakes is other {{ contains nothing; caution \"Burns.\" }}\n\
         mixture lye bath {{ water 1 kg; lye flakes 40 g; caution \"Goggles.\" }}\n",
        PLAIN.replace("  total {", "  piece { lye bath 2 g }\n  total {")
    );
    let folder = house(&[("a.dough", &text)]);
    let document = out(&assize(folder.path(), &["show", "pier-loaf", "--format", "json"]));
    assert!(document.contains("Lye flakes: Burns."), "{document}");
    assert!(document.contains("Lye bath: Goggles."), "{document}");
}

/// A bound of the stores that could not be read would be no bound.
#[test]
fn the_stores_are_read_without_a_finding() {
    for store in &assize::testing::formula::STORES {
        let (_, findings) = assize::testing::syntax::read(store.id, store.text);
        assert!(findings.is_empty(), "{}: {findings:?}", store.name);
    }
}

/// Names and titles that no page has room for are told, and printed all the same.
#[test]
fn names_too_long_for_a_page_are_told_and_printed() {
    let longest = |name: &str| format!("{name} {}", "of long pier ".repeat(14));
    let text = |title: &str, name: &str| {
        format!(
            "bakehouse \"{title}\" {{ zone UTC }}\ningredient {name} like bread flour {{ protein 12% }}\n\n\
             formula pier-loaf \"{title}\" {{\n  makes 2 {name} at 880 g\n  dough {{ {name} 1 kg; \
             water 700 g; salt (fine {name}) 20 g; fresh yeast 10 g }}\n  piece {{ {name} wash 3 g }}\n  \
             mixture {name} wash {{ water 2 parts; honey 1 part }}\n  method {{\n    \
             mix 8min with everything else\n    bulk 2h at 25C\n    glaze with {name} wash\n    \
             bake 35min at 230C\n  }}\n}}\n"
        )
    };
    let long = |text: &str| told(&findings(text), "fact-doubtful").len();
    assert_eq!(long(&text("Pier Loaf", "pier flour")), 0);
    assert_eq!(long(&text(&longest("Pier"), "pier flour")), 2);
    assert_eq!(long(&text("Pier Loaf", longest("pier").trim())), 4);
    for (title, name) in [
        (longest("Pier"), "pier flour".to_owned()),
        ("x".repeat(200), "x".repeat(195)),
        (longest("Pier"), longest("pier").trim().to_owned()),
    ] {
        let folder = house(&[("a.dough", &text(&title, &name))]);
        for format in ["pdf", "html"] {
            let done = assize(folder.path(), &["print", "--to", "out", "--format", format]);
            assert!(done.status.success(), "{format}: {}", err(&done));
        }
        let ready = ["plan", "pier-loaf", "--ready", "2026-12-05 12:00", "--zone", "UTC"];
        for format in ["text", "ics", "pdf"] {
            let done = assize(folder.path(), &[&ready[..], &["--format", format]].concat());
            assert!(done.status.success(), "{format}: {}", err(&done));
        }
    }
}

/// A title without words is no title: prints go by the name.
#[test]
fn a_title_without_words_is_told_and_the_name_stands_for_it() {
    for title in ["", "  ", "\u{200b}", "\\n"] {
        let text = PLAIN.replace("\"Pier Loaf\"", &format!("\"{title}\""));
        assert!(names(&text).contains(&"missing-value"), "{title:?}: {:?}", names(&text));
        let folder = house(&[("a.dough", &text)]);
        let done = assize(folder.path(), &["print", "--only", "card", "--to", "out"]);
        assert!(done.status.success(), "{title:?}: {}", err(&done));
        let shown = out(&assize(folder.path(), &["show", "pier-loaf"]));
        assert!(shown.starts_with("pier-loaf\n"), "{shown}");
    }
}

/// Every letter that nobody sees is named, wherever it stands.
#[test]
fn letters_that_nobody_sees_are_named_wherever_they_stand() {
    let text = PLAIN.replace("  makes", "  note \"Of the pier.\" # the best\n  makes");
    let places = ["Pier Loaf", "Of the pier", "the best", "bread flour", "pier-loaf", "makes"];
    // A file with a zero byte is no text at all.
    let letters = ('\u{1}'..='\u{e007f}').filter(|letter| is_unseen(*letter));
    let letters = letters.filter(|letter| !matches!(letter, '\n' | '\r' | '\t'));
    let mut tried = 0;
    for letter in letters {
        for place in places.iter().filter(|place| text.contains(**place)) {
            let (before, after) = place.split_at(place.len() / 2);
            let odd = text.replacen(place, &format!("{before}{letter}{after}"), 1);
            let code = format!("U+{:04X}", u32::from(letter));
            let said = findings(&odd);
            let named = said.iter().filter(|finding| finding.message.contains(&code));
            assert!(named.count() >= 1, "{code} in {place}: {said:?}");
            tried += 1;
        }
    }
    assert!(tried > 1000, "{tried}");
    // Scripts that need marks keep them, and what turns letters round is an error there too.
    let persian = text.replace("Of the pier", "\u{646}\u{627}\u{646}\u{200c}\u{647}\u{627}");
    assert!(!names(&persian).contains(&"unseen-letter"), "{:?}", names(&persian));
    let turned = persian.replace("the best", "the \u{202e}best");
    let said = findings(&turned);
    let error = said.iter().find(|it| it.rule.name == "unseen-letter").expect("told");
    assert_eq!(error.level, Level::Error);
}

/// What no bakery has is an error, and what is only odd a warning.
#[test]
fn numbers_that_nobody_can_mean_are_errors() {
    let level = |text: &str, rule: &str| {
        let said = findings(text);
        said.iter().find(|finding| finding.rule.name == rule).map(|finding| finding.level)
    };
    let house = |says: &str| format!("bakehouse \"A\" {{ {says} }}\n{PLAIN}");
    let step = |step: &str| baked("2 loaves at 885 g", "", "").replace("bulk 2h at 25C", step);
    let mixed = |mixer: &str, speed: &str| {
        let text = baked("2 loaves at 885 g", mixer, "");
        text.replace("everything else\n", &format!("everything else {speed}\n"))
    };
    for (text, rule, expected) in [
        (house("scale 5 g"), "fact-doubtful", None),
        (house("scale 500 g"), "fact-doubtful", Some(Level::Warning)),
        (house("scale 999999 kg"), "fact-doubtful", Some(Level::Error)),
        (house("room 60C"), "fact-doubtful", Some(Level::Warning)),
        (house("room 99999999999999999C"), "fact-doubtful", Some(Level::Error)),
        (step("bulk 2h at 25C fold 3 times"), "folds-do-not-fit", None),
        (step("bulk 12h at 25C fold 12 times"), "folds-do-not-fit", Some(Level::Warning)),
        (step("bulk 2h at 25C fold 999999999 times"), "folds-do-not-fit", Some(Level::Error)),
        (step("bulk 2h at 25C\n rest 3d"), "time-doubtful", Some(Level::Warning)),
        (step("bulk 2h at 25C\n rest 999999999999999999h"), "time-doubtful", Some(Level::Error)),
        (mixed("mixer m { holds 1 kg..30 kg; speeds 2 }", "speed 2"), "fact-doubtful", None),
        (
            mixed("mixer m { holds 1 kg..30 kg; speeds 2 }", "speed 3"),
            "fact-doubtful",
            Some(Level::Error),
        ),
        (mixed("mixer m { holds 1 kg..30 kg }", "speed 3"), "fact-doubtful", None),
        (mixed("mixer m { holds 1 kg..30 kg }", "speed 30"), "fact-doubtful", Some(Level::Warning)),
    ] {
        assert_eq!(level(&text, rule), expected, "{text}");
    }
    // Nothing is cut off on the way: so many hours are so many days.
    let said = findings(&step("bulk 2h at 25C\n rest 999999999999999999h"));
    assert!(told(&said, "time-doubtful")[0].starts_with("41666666666666667 d of"), "{said:?}");
}

/// A scale in units that no print shows is told.
#[test]
fn a_scale_in_other_units_than_the_prints_is_told() {
    for (says, expected) in [
        ("scale 1 g", 0),
        ("units metric; scale 1 g, 0.1 g below 20 g", 0),
        ("units US; scale 0.25 oz", 0),
        ("units US; scale 1 g", 1),
        ("units metric; scale 0.25 oz", 1),
        ("scale 0.25 oz", 1),
        ("units US; scale 0.25 oz, 1 g below 2 oz", 1),
        ("units metric and US; scale 1 g", 0),
        ("units metric and US; scale 0.25 oz", 0),
        ("units US and metric; scale 1 g, 0.25 oz below 2 oz", 1),
    ] {
        let text = format!("bakehouse \"A\" {{ {says} }}\n{PLAIN}");
        let said = findings(&text);
        assert_eq!(told(&said, "no-effect").len(), expected, "{says}: {said:?}");
    }
}

/// What is in the jar is what is asked for, wherever the scale can show it.
#[test]
fn a_stage_that_was_asked_for_is_shown_as_it_was_asked_for() {
    let text = "bakehouse \"A\" { scale 1 g }\nformula pier-loaf \"Pier Loaf\" {\n  makes 2 loaves at \
        900 g\n  total { bread flour 85%; whole wheat flour 15%; water 75%; salt 2% }\n  \
        preferment house levain { ferments 20% of flour; bread flour 100%; water 100%; white \
        culture 20%; ripens 8h at 24C }\n}\n";
    let folder = house(&[("a.dough", text)]);
    for grams in (240..=700).step_by(23).chain([500]) {
        let makes = format!("from {grams} g house levain");
        let shown = out(&assize(folder.path(), &["show", "pier-loaf", "--makes", &makes]));
        let sum = shown.lines().find(|line| line.starts_with("sum")).expect("a sum");
        assert!(sum.contains(&format!(" {grams} g ")), "{makes}: {shown}");
    }
}

/// `why` and findings of a house that weighs in ounces say nothing in grams, and their
/// arithmetic comes out in what they show.
#[test]
fn a_house_of_ounces_is_told_why_in_ounces() {
    let house_of = |water: &str| {
        format!(
            "bakehouse \"A\" {{ units US; room 70F; tap 75F; flour 66F; water {water}; \
             mixer m {{ holds 1 lb..60 lb; friction 30F; work 10 kJ per kg }} }}\n\
             tin chandler {{ holds 2.4 l }}\nformula pier-loaf \"Pier Loaf\" {{\n  makes 2 loaves \
             at 5 lb in chandler\n  total {{ bread flour 85%; rye flour 15%; water 55%; whole milk \
             20%; salt 2% }}\n  preferment levain {{ ferments 15% of flour; bread flour 100%; \
             water 100%; white culture 20%; ripens 8h at 75F }}\n  expect {{ water 90 oz; salt 9 oz; \
             hydration 95%; water temperature 90F }}\n  method {{\n mix 6min with everything else \
             to 77F\n bulk 2h at 75F\n bake 40min at 425F\n }}\n}}\n"
        )
        .replace("rye flour", "dark rye flour")
    };
    let asked = [
        "water temperature",
        "ice",
        "water",
        "salt",
        "levain",
        "water in final dough",
        "piece",
        "hydration",
        "salt as eaten",
        "water %",
        "elapsed",
        "flour",
        "dough",
    ];
    let metric = speaks_metric();
    for water in ["by factor", "by heat balance"] {
        let folder = house(&[("a.dough", &house_of(water))]);
        for figure in asked {
            let why = assize(folder.path(), &["why", "pier-loaf", figure]);
            let told = out(&why) + &err(&why);
            assert!(!metric(&told), "{figure}: {told}");
            assert!(!told.contains("exactly"), "{figure}: {told}");
        }
        let measured = ["why", "pier-loaf", "water", "temperature", "--measured", "80F"];
        let told = out(&assize(folder.path(), &measured));
        assert!(!metric(&told), "{told}");
        let told = check(folder.path()) + &out(&assize(folder.path(), &["check"]));
        assert!(told.contains("tin-fill") && told.contains("claim-refuted"), "{told}");
        let own: String = told.lines().filter(|line| !line.contains('│')).collect();
        assert!(!metric(&own), "{own}");
    }
}

/// Whether a text says something in grams, litres or degrees Celsius.
fn speaks_metric() -> impl Fn(&str) -> bool {
    let units = ["g", "kg", "ml", "l", "°C"];
    move |text: &str| {
        let words: Vec<&str> = text.split_whitespace().collect();
        words.windows(2).any(|pair| {
            let number = pair[0].trim_start_matches(['−', '(', '≈']);
            let unit = pair[1].trim_end_matches([',', ';', ':', '.', ')']);
            number.starts_with(|letter: char| letter.is_ascii_digit()) && units.contains(&unit)
        })
    }
}

/// The hydration of a dough of milk says nothing; its liquids do.
#[test]
fn a_dough_of_milk_is_told_by_its_liquids() {
    let figures = |water: &str| {
        let liquids = format!("whole milk 60%; {water} raisins 30%");
        let text = PLAIN.replace("    water         74%\n", &format!("    {liquids}\n"));
        let folder = house(&[("a.dough", &text)]);
        let json = out(&assize(folder.path(), &["show", "pier-loaf", "--format", "json"]));
        let document: serde_json::Value = serde_json::from_str(&json).expect("JSON");
        let figures = document["figures"].as_array().expect("figures").clone();
        let key = |name: &str| {
            let figure = figures.iter().find(|figure| figure["name"] == name)?;
            figure["key"].as_bool()
        };
        (key("hydration"), key("liquids"))
    };
    assert_eq!(figures(""), (None, Some(true)));
    assert_eq!(figures("water 4%;"), (Some(false), Some(true)));
    assert_eq!(figures("water 62%;"), (Some(true), Some(true)));
}

/// What a house prints with whatever it makes, and what a day prints with all that is ordered,
/// is held to what is in the bread.
#[test]
fn what_is_printed_with_many_breads_is_held_to_each() {
    let formula = "formula pier-loaf \"Pier Loaf\" {\n makes 2 loaves at 800 g\n \
                   dough { bread flour 100%; whole milk 65%; salt 2%; instant yeast 1% }\n \
                   method { mix 5min with everything; bulk 2h; proof 1h; bake 40min at 230C }\n}\n";
    let head = "bakehouse \"Gullhaven Bakehouse\" { language en }\n";
    let errors = |words: &str, day: &str| {
        let day = format!("day saturday {day}\n");
        let files = [
            ("house.dough", head),
            ("pier.dough", formula),
            ("templates/words.ftl", words),
            ("saturday.dough", day.as_str()),
        ];
        let told = check(house(&files).path());
        told.lines().filter(|line| line.contains("error[absence-in-text]")).count()
    };
    let order = "order pier-loaf 4 loaves by 07:00";
    let plain = format!("\"Market\" {{ {order} }}");
    assert_eq!(errors("print-method = How we do it\n", &plain), 0);
    for day in [
        format!("\"Dairy-free Saturday\" {{ {order} }}"),
        format!("\"Market\" {{ {order}; note \"All of it is vegan.\" }}"),
        format!("\"Market\" {{ {order}; caution \"Contains: wheat.\" }}"),
    ] {
        assert_eq!(errors("", &day), 1, "{day}");
    }
    let warned = |customer: &str| {
        let day = format!(
            "day saturday \"A\" {{ order pier-loaf for \"{customer}\" 4 loaves by 07:00 }}\n"
        );
        let folder = house(&[("house.dough", head), ("pier.dough", formula), ("day.dough", &day)]);
        check(folder.path()).contains("warning[absence-in-text]")
    };
    assert!(warned("Harbour Hotel, milk-free please"));
    assert!(!warned("Harbour Hotel"));
    let captioned = |caption: &str| {
        let book = format!("# Pier\n\n```dough\n{formula}```\n\n![{caption}](loaf.png)\n");
        let folder = house(&[("house.dough", head), ("book.md", &book)]);
        check(folder.path()).contains("error[absence-in-text]")
    };
    assert!(captioned("A milk-free loaf"));
    assert!(!captioned("A plain loaf"));
    // Nothing that is ordered refutes it.
    assert_eq!(errors("", &format!("\"Egg-free Saturday\" {{ {order} }}")), 0);
    for words in [
        "print-method = Milk-free method\n",
        "print-method =\n    Made without\n    any milk\n",
        "print-contains = Free from\n",
        "print-may-contain = Without\n",
        "print-serves = { $people ->\n  [one] dairy-free\n *[other] for { $people }\n }\n",
        "print-method = {\"vegan\"}\n",
        "-brand = Milk-free\nprint-method = Our { -brand } method\n",
        "milk-word = Milk\nprint-method = { milk-word }-free\n",
        "print-method = {\"\\u006d\"}ilk-free\n",
    ] {
        assert_eq!(errors(words, &plain), 1, "{words}");
    }
    for words in ["# vegan\nprint-method = Method\n", "print-contains = In it\n"] {
        assert_eq!(errors(words, &plain), 0, "{words}");
    }
}

/// A culture of every make-up: told where nothing can live in it, silent over all that are
/// kept, and so with soakers and scalds of every dry thing.
#[test]
fn a_culture_and_a_soaker_have_something_to_live_and_swell_in() {
    let level = |text: &str, rule: &str| {
        let found = findings(text);
        let told = found.iter().find(|finding| finding.rule.name == rule);
        told.map(|finding| finding.level)
    };
    for flour in [0, 100] {
        for water in [0, 10, 20, 34, 35, 50, 100, 150, 260, 261, 900, 1001, 2000] {
            let line = |name: &str, share: i32| match share {
                0 => String::new(),
                share => format!("{name} {share}%; "),
            };
            let lines = line("bread flour", flour) + &line("water", water);
            if lines.is_empty() {
                continue;
            }
            let text = format!("culture c seed {{ {lines}}}\n");
            let wanted = match (flour, water) {
                (0, _) | (_, 0..15) | (_, 1001..) => Some(Level::Error),
                (_, 35..=260) => None,
                _ => Some(Level::Warning),
            };
            assert_eq!(level(&text, "culture-doubtful"), wanted, "{text}");
        }
    }
    for lives in [
        "water 100%; raisins 20%",
        "water 100%; honey 10%",
        "whole wheat flour 50%; apples 40%; water 30%",
    ] {
        assert_eq!(
            level(&format!("culture c seed {{ {lives} }}\n"), "culture-doubtful"),
            None,
            "{lives}"
        );
    }
    let stage = |kind: &str, lines: &str| {
        format!(
            "formula a \"A\" {{ makes 3 loaves at 800 g\n dough {{ bread flour 900 g; water 600 g; salt 18 g; fresh \
             yeast 9 g; apart all }}\n {kind} apart {{ {lines}; stands 8h }} }}\n"
        )
    };
    for kind in ["soaker", "scald"] {
        for dry in [
            "bread flour",
            "dark rye flour",
            "cracked wheat",
            "rolled oats",
            "sunflower seeds",
            "linseed",
        ] {
            for beside in ["", "; salt 2 g", "; sunflower oil 10 g"] {
                let text = stage(kind, &format!("{dry} 100 g{beside}"));
                assert_eq!(level(&text, "no-liquid"), Some(Level::Error), "{text}");
            }
            for wet in [
                "water 100 g",
                "whole milk 100 g",
                "egg 100 g",
                "water as needed",
                "rye culture 50 g",
            ] {
                let text = stage(kind, &format!("{dry} 100 g; {wet}"));
                assert_eq!(level(&text, "no-liquid"), None, "{text}");
            }
        }
    }
}

/// A tin that does not say what it is greased with proves no absence; one that says it, or
/// that it is with nothing, does, and so does a step that greases it.
#[test]
fn the_grease_of_a_tin_is_known_before_an_absence_is_proved() {
    let text = |tin: &str, step: &str, claim: &str| {
        format!(
            "bakehouse \"Gullhaven Bakehouse\" {{ tin plain {{ holds 1 l{tin} }} }}\nformula a \"A\" {{ makes 2 loaves in \
             plain\n total {{ bread flour 100%; water 65%; salt 2%; fresh yeast 1% }}\n method {{ mix 8min; bulk 1h at \
             24C; {step}proof 1h at 24C; bake 40min at 230C }}\n expect {{ {claim} }} }}\n"
        )
    };
    let told = |text: &str| {
        let found = findings(text);
        let told = found.iter().find(|it| it.rule.name == "claim-not-proved");
        told.map(|it| (it.level, it.message.clone()))
    };
    for claim in ["free from milk", "free from eggs, nuts", "free from soya", "vegan", "vegetarian"]
    {
        let (level, message) = told(&text("", "", claim)).expect(claim);
        assert_eq!(level, Level::Error);
        assert!(message.contains("the tin `plain` is greased with is not known"), "{message}");
        assert_eq!(
            told(&text("", "pan 5min in plain; ", claim)).map(|it| it.0),
            Some(Level::Error),
            "{claim}"
        );
        for known in ["; greased with nothing", "; greased with sunflower oil"] {
            assert_eq!(told(&text(known, "", claim)), None, "{claim} {known}");
        }
        let by_hand = text("", "pan 5min with sunflower oil in plain; ", claim);
        assert_eq!(told(&by_hand), None, "{claim}");
    }
    let buttered = findings(&text("; greased with butter", "", "free from milk"));
    assert!(buttered.iter().any(|it| it.rule.name == "claim-refuted"), "{buttered:#?}");
    // Without a claim nothing is asked of a tin.
    assert_eq!(told(&text("", "", "hydration 65%")), None);
}

/// A claim that is true of whatever there is, is refused; one that somebody can fail is not.
#[test]
fn a_claim_says_something() {
    let told = |claim: &str| {
        let text = PLAIN.replace("  }\n}\n", &format!("  }}\n  expect {{ {claim} }}\n}}\n"));
        let found = findings(&text);
        found.iter().any(|it| it.rule.name == "claim-cannot-be-checked" && it.level == Level::Error)
    };
    let empty = [
        "hydration 60% ± 100%",
        "hydration 60% ± 60%",
        "salt 0%..100%",
        "salt 0%..",
        "salt ..100%",
        "salt 0%..250%",
        "fresh yeast 0%..100%",
        "yeast as fresh ..100%",
        "dough 0 g..",
        "dough 1 kg ± 1 kg",
        "salt ..100% of dough",
        "prefermented flour 0%..100%",
        "salt 2% ± 5%",
    ];
    for claim in empty {
        assert!(told(claim), "{claim}");
    }
    let full = [
        "hydration 60% ± 20%",
        "salt 0%..3%",
        "salt ..3%",
        "hydration ..100%",
        "dough 1 kg..",
        "water ..100%",
        "salt 2% ± 0.2%",
        "total percentage ..180%",
        "fresh yeast 0.5%..",
    ];
    for claim in full {
        assert!(!told(claim), "{claim}");
    }
}

/// A stage with the name of a kind of ingredient: what is claimed of it is told apart or
/// refused, never left open.
#[test]
fn a_claim_of_a_stage_named_like_a_class_is_not_left_open() {
    for class in ["grain", "seed", "fruit", "egg", "fat", "salt", "sugar"] {
        let text = format!(
            "formula a \"A\" {{ makes 3 loaves at 800 g\n total {{ bread flour 100%; water 65%; salt 2%; fresh yeast 1%; \
             cracked wheat 10% }}\n soaker {class} {{ weighs 300 g; cracked wheat 100%; water 100%; stands 8h }}\n expect {{ \
             {class} 10% }} }}\n"
        );
        let found = findings(&text);
        assert!(found.iter().any(|it| it.level == Level::Error), "{class}: {found:#?}");
    }
}

/// A speed that few mixers have is told of a mixer that does not say its own.
#[test]
fn a_speed_is_one_that_a_mixer_has() {
    let level = |speeds: &str, speed: u32| {
        let text = format!(
            "bakehouse \"Gullhaven Bakehouse\" {{ mixer spiral {{ holds 1 kg..30 kg{speeds} }} }}\nformula a \"A\" {{ makes 3 \
             loaves at 800 g\n total {{ bread flour 100%; water 65%; salt 2%; fresh yeast 1% }}\n method {{ mix 8min with \
             everything else in spiral speed {speed}; bulk 1h at 24C; proof 1h at 24C; bake 40min at 230C }} }}\n"
        );
        let found = findings(&text);
        found.iter().find(|it| it.rule.name == "fact-doubtful").map(|it| it.level)
    };
    assert_eq!((level("", 2), level("", 4)), (None, None));
    assert_eq!((level("", 5), level("", 9)), (Some(Level::Warning), Some(Level::Warning)));
    assert_eq!((level("; speeds 10", 9), level("; speeds 2", 3)), (None, Some(Level::Error)));
}

/// A day of the calendar is one that there is.
#[test]
fn a_day_stands_in_the_calendar() {
    let told =
        |date: &str| names(&format!("day {date} \"Fair\" {{ }}\n")).contains(&"malformed-hours");
    for date in ["2026-02-30", "2026-13-45", "2027-02-29", "2026-00-10", "2026-04-31", "0000-01-01"]
    {
        assert!(told(date), "{date}");
    }
    for date in ["2026-02-28", "2028-02-29", "2026-12-31"] {
        assert!(!told(date), "{date}");
    }
}

/// Where an editor begins another line and a formula does not, a line could hide in a comment.
#[test]
fn what_only_looks_like_the_end_of_a_line_is_an_error() {
    let order = "day saturday {\n  order pier-loaf 6 loaves by 09:00 # x";
    for letter in ['\r', '\u{b}', '\u{c}', '\u{85}', '\u{2028}', '\u{2029}'] {
        let texts = [
            PLAIN.replace("bread flour ", &format!("# so{letter}hazelnuts 9%\n    bread flour ")),
            format!("{PLAIN}\n{order}{letter}  order pier-loaf 8 loaves by 09:00\n}}\n"),
            PLAIN.replace('\n', &letter.to_string()),
        ];
        for text in texts {
            let said = findings(&text);
            let told =
                said.iter().any(|it| it.rule.name == "unseen-letter" && it.level == Level::Error);
            assert!(told, "{letter:?}: {said:?}\n{text:?}");
        }
    }
    // Two letters end a line as one does.
    assert_eq!(names(&PLAIN.replace('\n', "\r\n")), names(PLAIN));
}
