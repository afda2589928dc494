//! Cards for a kitchen: the author's own verbs, degrees and ounces, what is for the tin.

use crate::support::{names, with_worked};
use assize::testing::print::{Document, Wording, document};
use assize::testing::source::SourceId;
use assize::testing::syntax::{format, words};

fn card(text: &str) -> Document {
    card_in(text, &Wording::plain())
}

fn card_in(text: &str, words: &Wording) -> Document {
    with_worked(text, |bakehouse, worked| document(&bakehouse.house, worked, words, false))
}

/// A loaf with these settings of its house, these further lines and these steps.
fn loaf(house: &str, lines: &str, steps: &str) -> String {
    format!(
        "bakehouse \"Home\" {{ {house} }}\nformula loaf \"Loaf\" {{\n makes 1 loaf\n dough {{\n bread flour 500 g\n water 340 g\n salt 10 g\n instant yeast 7 g\n {lines}\n }}\n method {{\n {steps}\n }}\n}}\n"
    )
}

fn laid_out(text: &str) -> String {
    let id = SourceId(0);
    format(id, text).expect("laid out")
}

fn titles(document: &Document) -> Vec<String> {
    document.method.iter().map(|step| step.title.clone()).collect()
}

/// A verb that says more than ours is printed as it was said, before and after `fmt`, and
/// every language has a word for it.
#[test]
fn a_verb_that_says_more_than_ours_stays() {
    for verb in words::KEPT_VERBS {
        for (step, first) in [(format!("{verb} 5 min"), "mix"), (verb.to_uppercase(), "mix 3min")] {
            let text =
                loaf("", "", &format!("{first}\n {step}\n bulk 1h\n bake 30min at 230C\n cool 1h"));
            let shown = format!("{}{}", verb[..1].to_uppercase(), &verb[1..]);
            assert_eq!(titles(&card(&text))[1], shown, "{text}");
            let laid_out = laid_out(&text);
            let is_kept = laid_out.lines().any(|line| line.trim().starts_with(verb));
            assert!(is_kept, "{verb}: {laid_out}");
            assert_eq!(titles(&card(&laid_out)), titles(&card(&text)));
        }
        let text = loaf("", "", &format!("mix\n {verb} 5min\n bulk 1h\n bake 30min at 230C"));
        for language in ["de", "fr", "es", "it"] {
            let (words, _) = Wording::new(language, None);
            let title = titles(&card_in(&text, &words))[1].clone();
            assert!(!title.is_empty() && !title.starts_with("step-"), "{language} {verb}: {title}");
        }
    }
}

#[test]
fn a_step_that_only_mixes_on_says_so() {
    let titles = titles(&card(&loaf("", "", "mix 4min\n mix 5min\n mix 2min speed 2\n bulk 1h")));
    assert_eq!(titles[..3], ["Mix", "Mix again", "Mix"]);
}

/// Dressing that names what it takes does not say what goes into the dough.
#[test]
fn what_is_brushed_on_leaves_all_else_to_the_mix() {
    for dressing in ["glaze with egg", "brush with egg", "wash with egg"] {
        let text = loaf(
            "",
            "egg 1",
            &format!(
                "mix\n knead 10min\n bulk 1h\n shape\n proof 1h\n {dressing}\n bake 30min at 230C\n cool 1h"
            ),
        );
        assert_eq!(names(&text), [] as [&str; 0], "{text}");
        let groups: Vec<usize> = card(&text).groups.iter().map(|it| it.lines.len()).collect();
        assert_eq!(groups, [4, 1], "{dressing}");
    }
}

/// `as needed` for something else than the dough is no part of "all the ingredients".
#[test]
fn what_is_for_the_tin_or_the_bench_stands_apart() {
    let method = "mix\n knead 10min\n bulk 1h\n shape\n proof 1h\n bake 30min at 230C\n cool 1h";
    for line in [
        "butter as needed \"for the tin\"",
        "rice flour for dusting",
        "sesame seeds as needed \"for topping\"",
        "olive oil for greasing",
        "semolina as needed \"to dust the peel\"",
    ] {
        let text = loaf("", line, method);
        assert_eq!(names(&text), [] as [&str; 0], "{line}");
        let card = card(&text);
        let groups: Vec<(&str, usize)> =
            card.groups.iter().map(|it| (it.title.as_str(), it.lines.len())).collect();
        assert_eq!(groups, [("Mix", 4), ("Also needed", 1)], "{line}");
    }
    // What has no purpose of its own goes into the dough.
    for line in ["olive oil as needed", "olive oil as needed \"for the dough\""] {
        let card = card(&loaf("", line, method));
        assert_eq!(card.groups.len(), 1, "{line}");
    }
    // What a step names goes in there.
    let text = loaf(
        "",
        "egg as needed \"for brushing\"",
        &method.replace("bake", "brush with egg\n bake"),
    );
    assert_eq!(names(&text), [] as [&str; 0]);
    let groups: Vec<String> = card(&text).groups.iter().map(|it| it.title.clone()).collect();
    assert_eq!(groups, ["Mix", "Brush"]);
}

/// Degrees Fahrenheit stand beside the Celsius of a kitchen whose author wrote them, and
/// nowhere else.
#[test]
fn degrees_fahrenheit_as_written_stand_beside() {
    let at = |house: &str, degrees: &str| {
        let text = loaf(house, "", &format!("mix\n bulk 1h\n bake 30min at {degrees}"));
        card(&text).method[2].phases[0].at.clone().expect("degrees")
    };
    assert_eq!(at("units metric", "450F"), "230 °C (450 °F)");
    assert_eq!(at("units metric", "400F..425F"), "205–220 °C (400–425 °F)");
    assert_eq!(at("units metric", "230C"), "230 °C");
    assert_eq!(at("units US", "450F"), "450 °F");
    assert_eq!(at("units metric and US", "450F"), "230 °C / 450 °F");
    assert_eq!(at("units metric; oven deck { holds 8 loaves }", "450F"), "230 °C");
}

#[test]
fn ounces_as_written_stand_beside_in_a_kitchen() {
    let written = |house: &str, line: &str| {
        let text = loaf(house, line, "mix\n bulk 1h\n bake 30min at 230C");
        let card = card(&text);
        let line = card.mixes[0].lines.iter().find(|it| it.name == "walnuts").expect("it");
        line.written.clone()
    };
    assert_eq!(written("units metric", "walnuts 4 oz").as_deref(), Some("4 oz"));
    assert_eq!(written("units metric", "walnuts 1 lb").as_deref(), Some("1 lb"));
    assert_eq!(written("units US", "walnuts 4 oz"), None);
    assert_eq!(written("units metric and US", "walnuts 4 oz"), None);
    assert_eq!(written("units metric", "walnuts 113 g"), None);
    assert_eq!(written("units metric; oven deck { holds 8 loaves }", "walnuts 4 oz"), None);
}

/// Salt by the pinch is a pinch in the figures too, not a measured 0 %.
#[test]
fn salt_by_the_pinch_is_no_nought_per_cent() {
    for (amount, shown) in [("a pinch", "a pinch"), ("to taste", "to taste")] {
        let text = loaf("", "", "mix\n bulk 1h\n bake 30min at 230C");
        let card = card(&text.replace("salt 10 g", &format!("salt {amount}")));
        let salt = card.figures.iter().find(|it| it.name == "salt").expect("the figure");
        assert_eq!((salt.shown.as_str(), salt.unit.as_str()), (shown, ""));
        assert!(!card.figures.iter().any(|it| it.name.starts_with("salt as ")));
    }
}

/// A later heat stands beside its time once, and the words say which way it goes.
#[test]
fn a_change_of_heat_is_told_once() {
    let text = loaf(
        "",
        "",
        "mix\n proof 1h at 24C then 8h at 4C\n bake 15min at 250C then 20min at 220C then 5min at 240C",
    );
    let card = card(&text);
    let said: Vec<&str> = card.method[2].phases.iter().map(|it| it.text.as_str()).collect();
    assert_eq!(said[1..], ["Then at a lower temperature.", "Then at a higher temperature."]);
    assert_eq!(card.method[1].phases[1].text, "Then at a lower temperature.");
    assert!(!said.iter().any(|it| it.contains("220")));
}
