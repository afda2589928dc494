//! Work that hands do by the piece: `shape 25min per 30 pieces`.

use crate::support::{assize, err, folder, loaded, names, out};
use assize::testing::desk;
use assize::testing::formula::{Worked, work};
use assize::testing::quantity::{Exact, int, ratio};
use assize::testing::time::{graph, hands_on};

fn formula(makes: &str, steps: &str) -> String {
    format!(
        "mixer spiral {{ holds 1 kg..9 kg; friction 11C }}\noven deck {{ holds 24 loaves }}\nformula \
         pier-loaf \"Pier Loaf\" {{\n  makes {makes}\n  total {{ bread flour 100%; water 65%; salt \
         2%; fresh yeast 1% }}\n  method {{\n    mix 0min with everything else\n    bulk 1h at \
         25C\n    {steps}\n    bake 30min at 230C\n  }}\n}}\n"
    )
}

/// Minutes of hands of a formula.
fn hands(text: &str) -> Exact {
    let loaded = loaded(text);
    let bakehouses = desk::bakehouses(&loaded);
    let formula = &bakehouses[0].files[0].tree.formulas[0];
    let worked: Worked = work(&bakehouses[0].house, formula, &mut Vec::new());
    hands_on(&graph(&bakehouses[0].house, &worked).expect("a method")).low
}

/// By hand: 15 min for 20 loaves are 45 s each, so that 24 take 18 min.
#[test]
fn time_by_count_grows_with_the_pieces() {
    for (makes, step, wanted) in [
        ("24 loaves at 900 g", "divide 15min per 20 loaves", int(18)),
        ("20 loaves at 900 g", "divide 15min per 20 loaves", int(15)),
        ("1 loaf at 900 g", "divide 15min per 20 loaves", ratio(3, 4)),
        ("10 loaves at 900 g", "divide 15min per 20 loaf", ratio(15, 2)),
        ("24 rolls at 60 g, 10 loaves at 800 g", "shape 25min per 30 pieces", ratio(85, 3)),
        ("24 rolls at 60 g, 10 loaves at 800 g", "shape 25min per 30 pieces for rolls", int(20)),
        ("24 rolls at 60 g, 10 loaves at 800 g", "shape 2min per loaf", int(20)),
        ("8 loaves at 800 g", "shape 4min per 2 loaves then 1min per 4 loaves", int(18)),
        ("8 loaves at 800 g", "shape { 4min per 2 loaves; by hand }", int(16)),
        ("8 loaves at 800 g", "step \"Brush.\" 30s per piece", int(4)),
    ] {
        let text = formula(makes, step);
        let told = names(&text);
        let wrong = ["unknown-in-step", "clause-out-of-place", "unexpected-text"];
        assert!(!told.iter().any(|name| wrong.contains(name)), "{step}: {told:?}");
        assert_eq!(hands(&text), wanted, "{makes}, {step}");
    }
}

/// What is asked for counts, not what is written: `show`, `why`, `plan` and the method of the
/// card agree.
#[test]
fn every_output_counts_what_is_asked_for() {
    let folder = folder();
    let text = formula("20 loaves at 900 g", "divide 15min per 20 loaves");
    std::fs::write(folder.path().join("a.dough"), text).expect("written");
    let run = |args: &[&str]| {
        let output = assize(folder.path(), args);
        assert!(output.status.success(), "{}", err(&output));
        out(&output)
    };
    let asked = ["--makes", "48 loaves"];
    let shown = run(&[&["show", "pier-loaf"], &asked[..]].concat());
    assert!(shown.contains("hands-on             36 min"), "{shown}");
    let json = run(&[&["show", "pier-loaf", "--format", "json"], &asked[..]].concat());
    assert!(json.contains("\"time\": \"36 min\""), "{json}");
    let why = run(&[&["why", "pier-loaf", "hands-on"], &asked[..]].concat());
    assert!(why.contains("36 min = 15 min × 2.4"), "{why}");
    let ready = ["--ready", "2026-12-05 16:00", "--zone", "Europe/Paris"];
    let plan = run(&[&["plan", "pier-loaf"], &ready[..], &asked[..]].concat());
    assert!(plan.contains("Divide") && plan.contains("36 min"), "{plan}");
    // Nine kilograms go into the mixer at a time, and each batch is divided by itself.
    let whole = run(&["show", "pier-loaf", "--format", "json"]);
    let method = whole.split("\"batch_method\"").nth(1).expect("more than one batch");
    assert!(method.contains("\"time\": \"7 min 30 s\""), "{method}");
}

/// What waits or bakes takes as long for many as for one; what is not made can't be counted;
/// and `per` follows its time.
#[test]
fn what_cannot_be_counted_is_refused() {
    for (makes, step, wanted) in [
        ("8 loaves at 800 g", "proof 1h per 8 loaves", "clause-out-of-place"),
        ("8 loaves at 800 g", "step \"Wait.\" 1h per 8 loaves waiting", "clauses-disagree"),
        ("8 loaves at 800 g", "divide 15min per 20 baguettes", "unknown-in-step"),
        ("8 kg dough", "divide 15min per 20 loaves", "unknown-in-step"),
        (
            "8 loaves at 800 g, 4 rolls at 60 g",
            "shape 15min per 2 loaves for rolls",
            "unknown-in-step",
        ),
        ("8 loaves at 800 g", "divide per 20 loaves 15min", "misplaced-statement"),
        ("8 loaves at 800 g", "divide 15min per 0 loaves", "amount-impossible"),
        ("8 loaves at 800 g", "divide 15min per", "missing-name"),
    ] {
        let told = names(&formula(makes, step));
        assert!(told.contains(&wanted), "{step}: {told:?}");
    }
    let told = names(&formula("8 loaves at 800 g", "bake 20min per 8 loaves at 230C"));
    assert!(told.contains(&"clause-out-of-place"), "{told:?}");
}

/// A text may say what so many pieces take, and what all of them do.
#[test]
fn texts_agree_with_time_by_count() {
    let said = |note: &str| {
        let text = formula("24 bagels at 110 g", "boil 1min per 8 bagels");
        let text = text.replace("  makes", &format!("  note \"{note}\"\n  makes"));
        names(&text).contains(&"number-in-text")
    };
    assert!(!said("Boil for 3 minutes."));
    assert!(!said("Boil for 1 minute."));
    assert!(said("Boil for 9 minutes."));
}
