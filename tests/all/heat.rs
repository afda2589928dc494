//! Bread that nobody bakes, that stays raw, or of which nobody knows how hot the oven is.

use crate::support::{assize, dough_files, err, findings, folder, out};
use assize::testing::diag::Level;
use std::fs;

/// A loaf with a method that ends in `baking`.
fn loaf(dough: &str, baking: &str) -> String {
    format!(
        "formula x \"X\" {{\n  makes 1 loaf at 850 g\n  dough {{ bread flour 500 g; water 330 g; \
         salt 10 g; fresh yeast 10 g; {dough} }}\n  method {{ mix 10min; bulk 1h; shape 5min; \
         proof 1h; {baking} }}\n}}\n"
    )
}

/// The names and levels of what is found.
fn told(text: &str) -> Vec<(&'static str, Level)> {
    findings(text).iter().map(|finding| (finding.rule.name, finding.level)).collect()
}

fn error(text: &str, rule: &str) -> bool {
    told(text).contains(&(rules(rule), Level::Error))
}

fn rules(name: &str) -> &'static str {
    let all = assize::testing::desk::rules();
    all.into_iter().map(|rule| rule.name).find(|known| *known == name).expect("a rule")
}

/// Only heat bakes: whatever else a free step says, wherever it stands.
#[test]
fn a_free_step_bakes_only_if_it_says_so() {
    let idle = [
        "serve raw",
        "put in a bowl",
        "decorate",
        "stir",
        "wait",
        "cover with a cloth",
        "enjoy",
        "Tip onto the board.",
        "Form the loaf",
        "call the baker",
        "do not bake",
        "keep the iron dry, no baking",
        "in Stücke schneiden",
        "roh servieren",
        "nicht backen",
        "servir cru",
        "servir crudo",
        "lay on baking paper without heat",
        "mit Backpapier abdecken",
        "clean up",
        "fresh herbs on top",
        "brush off flour",
    ];
    for words in idle {
        for tail in ["", " 5min", "; cool 1h", "; slice", "; pack"] {
            let text = loaf("", &format!("step \"{words}\"{tail}"));
            // A dough that ends in `pack` is for later.
            assert!(
                tail == "; pack" || error(&text, "no-bake"),
                "{words}{tail}: {:?}",
                told(&text)
            );
        }
    }
    for words in [
        "Brown on a griddle, four minutes a side.",
        "Bake on a hot plate, a minute a side.",
        "Fry in a little butter, two minutes a side.",
        "Cook in the waffle iron until crisp",
        "Boil in salted water",
        "In der Pfanne braten",
        "Auf dem Stein backen",
        "Cuire à la poêle",
        "Cocer u hornear sobre la piedra",
        "Cuocere sulla piastra",
        "Steam over the pot",
        "Bake.",
    ] {
        for tail in [" 20min", "; cool 1h"] {
            let text = loaf("", &format!("step \"{words}\"{tail}"));
            assert!(!error(&text, "no-bake"), "{words}{tail}");
        }
    }
}

/// The longer and the hotter, the better it is baked: never the other way round.
#[test]
fn time_and_heat_are_judged_together() {
    let level = |baking: &str| {
        let text = loaf("", baking);
        let all = findings(&text);
        let of = all
            .iter()
            .filter(|it| matches!(it.rule.name, "bake-doubtful" | "temperature-doubtful"));
        of.map(|it| it.level).max_by_key(|level| *level as u8 == Level::Error as u8)
    };
    for raw in [
        "bake 20min at 130C",
        "bake 20min at 130C then 1min at 230C",
        "bake 20min at gas mark 1",
        "bake 12min at 230C",
        "bake 25min at 140C",
        "bake 1min at 230C then 20min at 135C",
        "bake 20min at 275F",
        "bake 30min at 135C",
        "bake 8min at 250C",
        "bake 40min at 104C",
    ] {
        assert_eq!(level(raw), Some(Level::Error), "{raw}");
    }
    for sound in [
        "bake 40min at 220C",
        "bake 45min at 180C",
        "bake 35min at 230C",
        "bake 60min at 160C",
        "bake 30min at 240C",
        "bake 10min at 250C then 30min at 200C",
        "bake 50min at 190C",
        "bake 25min at 450F",
        "bake 40min at gas mark 6",
    ] {
        assert_eq!(level(sound), None, "{sound}");
    }
    let rank = |baking: &str| match level(baking) {
        Some(Level::Error) => 2,
        Some(_) => 1,
        None => 0,
    };
    for minutes in (6..60).step_by(3) {
        let all: Vec<i32> =
            (13..=25).map(|tens| rank(&format!("bake {minutes}min at {}C", tens * 10))).collect();
        assert!(all.windows(2).all(|pair| pair[0] >= pair[1]), "{minutes} min: {all:?}");
    }
    for tens in 13..=25 {
        let all: Vec<i32> = (6..42)
            .step_by(3)
            .map(|minutes| rank(&format!("bake {minutes}min at {}C", tens * 10)))
            .collect();
        assert!(all.windows(2).all(|pair| pair[0] >= pair[1]), "{tens}0 °C: {all:?}");
    }
}

#[test]
fn fat_that_is_not_hot_fries_nothing() {
    let text = |at: &str| {
        format!(
            "formula d \"D\" {{\n  makes 8 doughnuts at 106 g\n  dough {{ bread flour 500 g; water 330 \
             g; salt 10 g; fresh yeast 10 g }}\n  method {{ mix 10min; bulk 1h; shape 5min; proof 1h; fry 5min at {at} }}\n}}\n"
        )
    };
    for at in ["100C", "120C", "90C", "212F", "240C"] {
        assert!(error(&text(at), "temperature-doubtful"), "{at}");
    }
    for at in ["175C", "160C", "350F"] {
        assert!(!told(&text(at)).iter().any(|(name, _)| *name == "temperature-doubtful"), "{at}");
    }
}

/// A bake without a temperature is told, unless the oven was heated before.
#[test]
fn an_oven_has_a_temperature() {
    for (baking, is_told) in [
        ("bake 40min", true),
        ("bake 20min steamed then 20min vented", true),
        ("bake 20min then 20min at 200C", true),
        ("preheat oven; bake 40min", true),
        ("bake 10min at 250C; bake 30min", true),
        ("bake 40min at 220C", false),
        ("bake 20min at 230C then 20min vented", false),
        ("preheat oven 450F; bake 30min", false),
        ("preheat 45min at 250C; bake 10min then 25min at 220C", false),
        ("step \"Bake on a hot plate\" 20min", false),
    ] {
        let text = loaf("", baking);
        let names: Vec<&str> = told(&text).into_iter().map(|(name, _)| name).collect();
        assert_eq!(names.contains(&"temperature-missing"), is_told, "{baking}: {names:?}");
    }
}

/// What the oven was heated to stands wherever the bake does.
#[test]
fn a_bake_takes_the_heat_of_its_oven_with_it() {
    let folder = folder();
    let text = loaf("", "preheat oven 450F; bake 30min; cool 1h");
    fs::write(folder.path().join("x.dough"), text).expect("written");
    let plan =
        ["plan", "x", "--ready", "2026-12-05 11:00", "--zone", "UTC", "--awake", "06:00..22:00"];
    let told = out(&assize(folder.path(), &plan));
    let line = |verb: &str| told.lines().find(|line| line.contains(verb)).map(str::to_owned);
    assert!(line("Bake").is_some_and(|line| line.contains("230 °C")), "{told}");
    assert!(line("Preheat").is_some_and(|line| line.contains("230 °C")), "{told}");
    for print in ["card", "sheet"] {
        let done = assize(folder.path(), &["print", "x", "--only", print]);
        assert_eq!(done.status.code(), Some(0), "{}", err(&done));
        let pdf = fs::read(folder.path().join(format!("prints/x-{print}.pdf"))).expect("a print");
        let text = pdf_extract::extract_text_from_mem(&pdf).expect("text");
        assert!(text.matches("230").count() >= 2, "{print}: {text}");
    }
}

/// What stands in the cold says so in a plan, and how cold.
#[test]
fn a_plan_says_where_and_how_cold() {
    for (proof, wanted) in [
        ("proof overnight in fridge", "in the fridge at 4 °C"),
        ("proof 10h in fridge at 3C", "in the fridge at 3 °C"),
        ("proof 10h at 4C", "at 4 °C"),
        ("proof 90min in proofer at 28C", "in the proofer at 28 °C"),
        ("proof 1h at room temperature", "at room temperature"),
    ] {
        let folder = folder();
        let text = loaf("", "bake 40min at 220C; cool 1h").replace("proof 1h", proof);
        fs::write(folder.path().join("x.dough"), text).expect("written");
        let plan = ["plan", "x", "--ready", "2026-12-05 11:00", "--zone", "UTC"];
        let told = out(&assize(folder.path(), &plan));
        let line = told.lines().find(|line| line.contains("Proof")).unwrap_or_default();
        assert!(line.contains(wanted), "{proof}: {told}");
    }
}

/// A time in the words of a step is no time in a plan.
#[test]
fn a_wait_in_words_is_told_and_no_help_loses_it() {
    for words in [
        "fridge overnight",
        "Rise overnight in the fridge.",
        "Leave it for 12 hours.",
        "über Nacht im Kühlschrank",
        "une nuit au frigo",
        "2 h on the table",
        "stand half an hour",
        "toda la noche en la nevera",
        "una notte in frigo",
    ] {
        let text = loaf("", &format!("step \"{words}\"; bake 40min at 220C"));
        let names: Vec<&str> = told(&text).into_iter().map(|(name, _)| name).collect();
        assert!(names.contains(&"time-missing"), "{words}: {names:?}");
        let text = loaf("", &format!("step \"{words}\" 8h waiting; bake 40min at 220C"));
        let names: Vec<&str> = told(&text).into_iter().map(|(name, _)| name).collect();
        assert!(!names.contains(&"time-missing"), "{words}: {names:?}");
    }
    for (step, wanted) in [
        ("fridge overnight", "proof overnight in fridge"),
        ("sit 20 min", "rest 20min"),
        ("whirl 5 min", "step \"whirl\" 5 min"),
        ("whirl it for 5 min", "step \"whirl it for 5 min\" 5min"),
    ] {
        let all = findings(&loaf("", &format!("{step}; bake 40min at 220C")));
        let helps: Vec<String> = all.iter().filter_map(|it| it.help.clone()).collect();
        assert!(helps.iter().any(|help| help.contains(wanted)), "{step}: {helps:?}");
    }
}

/// None of it on what others baked before.
#[test]
fn bread_that_is_baked_raises_none_of_it() {
    let mut wrong = Vec::new();
    for folder in ["tests/sound", "tests/breads", "examples/gullhaven", "tests/published"] {
        for file in dough_files(folder) {
            let loaded = crate::support::alone(&file);
            for finding in assize::testing::desk::check(&loaded) {
                if matches!(
                    finding.rule.name,
                    "bake-doubtful"
                        | "temperature-missing"
                        | "no-bake"
                        | "time-missing"
                        | "temperature-doubtful"
                        | "stands-too-warm"
                        | "salt-high"
                        | "amount-doubtful"
                ) && finding.level != Level::Note
                    && finding.allowed.is_none()
                {
                    wrong.push(format!("{}: {}", file.display(), finding.message));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// Egg and milk that stand warm: the longer, the worse, and the print says so too.
#[test]
fn egg_and_milk_do_not_stand_warm_for_days() {
    let text = |bulk: &str, allow: &str| {
        loaf("eggs 2; whole milk 50 g", "bake 40min at 220C; cool 1h")
            .replace("bulk 1h;", &format!("{bulk};"))
            .replace("1 loaf at 850 g", "1 loaf at 1000 g")
            .replace("  method", &format!("{allow}\n  method"))
    };
    let level = |bulk: &str| {
        let all = findings(&text(bulk, ""));
        all.iter().find(|it| it.rule.name == "stands-too-warm").map(|it| it.level)
    };
    // An hour of proof and the mixing count as well.
    let mut last = 0;
    for hours in [1, 3, 5, 7, 9, 11, 13, 18, 24, 48] {
        let rank = match level(&format!("bulk {hours}h at 24C")) {
            None => 0,
            Some(Level::Error) => 2,
            Some(_) => 1,
        };
        assert!(rank >= last, "{hours} h");
        assert_eq!(
            rank,
            if hours <= 3 {
                0
            } else if hours <= 9 {
                1
            } else {
                2
            },
            "{hours} h"
        );
        last = rank;
    }
    assert_eq!(level("bulk 24h at 4C"), None);
    let allow = "  allow stands-too-warm \"a trial\"";
    for language in ["en", "fr", "de", "es", "it"] {
        let words = assize::testing::print::Wording::new(language, None).0;
        for (bulk, is_said) in
            [("bulk 2h at 24C", false), ("bulk 9h at 24C", true), ("bulk 20h at 24C", true)]
        {
            let loaded = crate::support::loaded(&text(bulk, allow));
            let bakehouses = assize::testing::desk::bakehouses(&loaded);
            let house = &bakehouses[0];
            let formula = &house.files[0].tree.formulas[0];
            let worked = assize::testing::formula::work(&house.house, formula, &mut Vec::new());
            let document = assize::testing::print::document(&house.house, &worked, &words, false);
            let warm = words.fill("caution-warm", &[("time", "")]);
            let end = warm.rsplit(':').next().expect("an end").trim();
            let said = document.cautions.iter().any(|caution| caution.ends_with(end));
            assert_eq!(said, is_said, "{language}, {bulk}: {:?}", document.cautions);
        }
    }
}

/// Salt is salt, whatever brings it.
#[test]
fn salt_of_other_ingredients_counts() {
    let level = |dough: &str| {
        let all = findings(&loaf(dough, "bake 40min at 220C"));
        all.iter().filter(|it| it.rule.name == "salt-high").map(|it| it.level).next()
    };
    for (dough, wanted) in [
        ("soy sauce 150 g", Some(Level::Error)),
        ("miso 150 g", Some(Level::Warning)),
        ("soy sauce 30 g", None),
        ("green olives 100 g", None),
        ("cheddar 100 g", None),
        ("salted butter 50 g", None),
    ] {
        assert_eq!(level(dough), wanted, "{dough}");
    }
    // The more, the worse.
    let mut last = 0;
    for grams in (0..=240).step_by(20) {
        let rank = match level(&format!("soy sauce {grams} g")) {
            None => 0,
            Some(Level::Error) => 2,
            Some(_) => 1,
        };
        assert!(rank >= last, "{grams} g");
        last = rank;
    }
    assert_eq!(last, 2);
    let soda = |grams: u32| {
        let all = findings(&loaf(&format!("baking soda {grams} g"), "bake 40min at 220C"));
        all.iter().any(|it| it.rule.name == "amount-doubtful")
    };
    assert!(soda(20) && !soda(8));
}

/// A fold before a rest is one thing to do, with the time that hands take.
#[test]
fn one_fold_is_one_line_of_a_plan() {
    for method in ["fold and rest 15 min", "fold; rest 15min", "fold; bulk 1h"] {
        let folder = folder();
        let text = loaf("", "bake 40min at 220C; cool 1h")
            .replace("bulk 1h;", &format!("{method}; bulk 1h;"));
        fs::write(folder.path().join("x.dough"), text).expect("written");
        let plan = ["plan", "x", "--ready", "2026-12-05 11:00", "--zone", "UTC"];
        let told = out(&assize(folder.path(), &plan));
        let folds: Vec<&str> = told.lines().filter(|line| line.contains("● Fold")).collect();
        assert_eq!(folds.len(), 1, "{method}: {told}");
        assert!(folds[0].contains("2 min"), "{method}: {told}");
    }
}

/// A kind of print that is asked for twice is written once.
#[test]
fn a_print_is_written_once_however_often_it_is_asked_for() {
    let folder = folder();
    fs::write(folder.path().join("x.dough"), loaf("", "bake 40min at 220C; cool 1h"))
        .expect("written");
    for only in ["card,card", "sheet,card,sheet", "table,table,table"] {
        let done = assize(folder.path(), &["print", "x", "--only", only]);
        assert_eq!(done.status.code(), Some(0), "{only}: {}", err(&done));
    }
}

/// Flour and water say nothing of a dough of milk.
#[test]
fn a_dough_of_milk_shows_no_dough_yield() {
    let folder = folder();
    let text = loaf("", "bake 40min at 220C").replace("water 330 g", "whole milk 350 g");
    fs::write(folder.path().join("x.dough"), text).expect("written");
    let told = out(&assize(folder.path(), &["show", "x"]));
    assert!(told.contains("liquids") && !told.contains("dough yield"), "{told}");
    fs::write(folder.path().join("x.dough"), loaf("", "bake 40min at 220C")).expect("written");
    assert!(out(&assize(folder.path(), &["show", "x"])).contains("dough yield"));
}
