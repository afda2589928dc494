//! How long a formula takes.

use crate::support::{assize, folder, loaded, names, out};
use assize::testing::desk;
use assize::testing::formula::work;
use assize::testing::quantity::display::minutes;
use assize::testing::time::{elapsed, graph, hands_on};

/// Elapsed and hands-on time of the first formula of a text, at both ends; `…` where it
/// has no end.
fn lengths(text: &str) -> [String; 4] {
    let loaded = loaded(text);
    let bakehouses = desk::bakehouses(&loaded);
    let formula = &bakehouses[0].files[0].tree.formulas[0];
    let worked = work(&bakehouses[0].house, formula, &mut Vec::new());
    let graph = graph(&bakehouses[0].house, &worked).expect("a method");
    let end = |high: Option<_>| high.map_or("…".to_owned(), |high| minutes(&high));
    let (whole, hands) = (elapsed(&graph), hands_on(&graph));
    [minutes(&whole.low), end(whole.high), minutes(&hands.low), end(hands.high)]
}

/// A formula with a levain and a soaker, and this method.
fn with_method(stages: &str, method: &str) -> String {
    format!(
        "formula mole-loaf \"Mole Loaf\" {{\n  makes 2 loaves at 900 g\n  total {{\n    \
         bread flour 100%\n    water 75%\n    salt 2%\n  }}\n{stages}\n  method {{\n{method}\n  }}\n}}\n"
    )
}

const LEVAIN: &str = "  preferment levain {\n    ferments 20% of flour\n    bread flour 100%\n    \
                      water 100%\n    white culture 20%\n    ripens 10h..12h at 22C; keeps 2h\n  }";

/// Common practice, no source: a levain of 10 to 12 h, then from the autolyse to the
/// cooled loaf with the mixing itself left out, 17 h 20 to 20 h 50, of which hands are at
/// work no more than 90 min.
#[test]
fn a_usual_day_takes_what_it_usually_takes() {
    let levain = LEVAIN.replace("; keeps 2h", "");
    let day = with_method(
        &levain,
        "autolyse 30min with levain, flours, 90% of water
         mix with everything else, remaining water
         bulk 3h..4h fold 3 times every 10min
         shape
         proof 2h
         bake 20min at 250C steamed then 30min at 220C
         cool 1h..1h30",
    );
    assert_eq!(lengths(&day)[..2], ["17 h 20 min", "20 h 50 min"]);
    // With times for what hands do, each of them common practice; the levain is mixed in
    // 5 min, what goes into the autolyse is stirred in 5, and each fold takes 2 where nobody
    // says, likewise.
    let day = day
        .replace("mix with", "mix 5min..10min with")
        .replace("shape", "divide 10min\nshape 10min..15min");
    let [.., low, high] = lengths(&day);
    assert_eq!((low.as_str(), high.as_str()), ("41 min", "51 min"));
}

#[test]
fn stages_run_beside_other_work_and_what_keeps_counts_for_the_longest() {
    let soaker = "  soaker rye soaker {\n    takes 10% of flour\n    bread flour 100%\n    \
                  water 100%\n    stands 3h..16h at 20C\n  }";
    let method =
        "mix 10min with levain, rye soaker, everything else\n bulk 2h\n bake 40min at 240C";
    // 10 h of levain, 10 min, 2 h, 40 min; the soaker of 16 h is longer than the levain's
    // 12 h and 2 h of keeping.
    let both = format!("{LEVAIN}\n{soaker}");
    assert_eq!(lengths(&with_method(&both, method))[..2], ["12 h 50 min", "18 h 50 min"]);
    assert_eq!(lengths(&with_method(LEVAIN, method))[..2], ["12 h 50 min", "16 h 50 min"]);
    // A stage that goes in later begins later.
    let later = "autolyse 2h with flours, water\n mix 10min with levain, everything else
                 bulk 2h\n bake 40min at 240C";
    assert_eq!(lengths(&with_method(LEVAIN, later))[0], "12 h 50 min");
    let after = "autolyse 11h with flours, water\n mix 10min with levain, everything else
                 bulk 2h\n bake 40min at 240C";
    assert_eq!(lengths(&with_method(LEVAIN, after))[0], "13 h 50 min");
}

#[test]
fn feeds_follow_each_other_and_an_open_end_stays_open() {
    let thrice =
        LEVAIN.replace("ripens 10h..12h at 22C; keeps 2h", "feeds 3 times\n ripens 4h at 28C");
    let method = "mix 10min with levain, everything else\n bulk 2h..\n bake 40min at 240C";
    assert_eq!(lengths(&with_method(&thrice, method))[..2], ["14 h 50 min", "…"]);
}

#[test]
fn hands_are_counted_where_a_step_says_so() {
    // 5 min for the levain that nobody wrote.
    let method = "mix 10min with levain, everything else\n bulk 2h hands-on 6min..8min
                  step \"Wait for the tide.\" 15min waiting\n shape 12min\n bake 40min at 240C";
    let [.., low, high] = lengths(&with_method(LEVAIN, method));
    assert_eq!((low.as_str(), high.as_str()), ("33 min", "35 min"));
}

#[test]
fn a_claim_of_time_holds_or_is_refuted() {
    let method = "mix 10min with levain, everything else\n bulk 2h\n bake 40min at 240C";
    let claimed = |claim: &str| {
        let text = with_method(LEVAIN, method);
        let text = text.trim_end().trim_end_matches('}').to_owned();
        names(&format!("{text}  expect {{ {claim} }}\n}}\n"))
    };
    let none: [&str; 0] = [];
    assert_eq!(claimed("elapsed 12h..17h; hands-on 15min"), none);
    assert_eq!(claimed("elapsed 12h50..16h50"), none);
    assert_eq!(claimed("elapsed 12h50..16h49"), ["claim-refuted"]);
    assert_eq!(claimed("hands-on 9min"), ["claim-refuted"]);
}

#[test]
fn a_style_can_bound_times_and_a_text_can_tell_them() {
    let method = "mix 10min with levain, everything else\n bulk 2h\n bake 40min at 240C";
    let styled = |bound: &str| {
        let text = with_method(LEVAIN, method).replace("  makes", "  style harbour bread\n  makes");
        names(&format!("style harbour bread {{\n  {bound}\n}}\n{text}"))
    };
    let none: [&str; 0] = [];
    assert_eq!(styled("elapsed ..17h"), none);
    assert_eq!(styled("elapsed 13h.."), ["outside-style"]);
    assert_eq!(styled("elapsed ..16h"), ["outside-style"]);
    assert_eq!(styled("hands-on ..15min"), none);
    assert_eq!(styled("hands-on ..14min"), ["outside-style"]);
    let text = with_method(LEVAIN, method)
        .replace("  makes", "  note \"It takes [elapsed], of which [hands-on] for you.\"\n  makes");
    let folder = folder();
    std::fs::write(folder.path().join("a.dough"), text).expect("written");
    let told = assize(folder.path(), &["show", "mole-loaf", "--format", "json"]);
    let json: serde_json::Value = serde_json::from_str(&out(&told)).expect("JSON");
    assert_eq!(json["notes"][0], "It takes ≈ 13–17 h, of which 15 min for you.");
}

/// What mixes a stage takes hands a while where nobody wrote how long, by its verb; what is
/// written wins. It is as long as README.md says.
#[test]
fn what_mixes_a_stage_takes_hands_a_while() {
    use assize::testing::syntax::tree::Verb;
    let usual = |verb: Verb| assize::testing::time::usual_minutes(verb).map(|it| minutes(&it));
    let [build, feed, soak, scald, fold] =
        [Verb::Build, Verb::Feed, Verb::Soak, Verb::Scald, Verb::Fold]
            .map(|verb| usual(verb).expect("in the store"));
    assert_eq!(build, feed);
    let told = format!(
        "{build} to mix a preferment or to feed it, {soak} for a soaker, {scald} for a scald, \
         {fold} for a fold"
    );
    let readme = std::fs::read_to_string(crate::support::top().join("README.md"));
    assert!(readme.expect("readable").contains(&told), "{told}");
    assert_eq!([usual(Verb::Mix), usual(Verb::Divide)], [None, None]);
    let method = "mix 10min with levain, everything else\n bulk 2h\n bake 40min at 240C";
    let hands = |stage: &str| {
        let [.., low, high] = lengths(&with_method(stage, method));
        assert_eq!(low, high);
        low
    };
    assert_eq!(hands(LEVAIN), "15 min");
    // Three feeds of 5 min each.
    let feeds =
        LEVAIN.replace("ripens 10h..12h at 22C; keeps 2h", "feeds 3 times\n ripens 4h at 28C");
    assert_eq!(hands(&feeds), "25 min");
    for (own, wanted) in [
        ("mix with everything else", "15 min"),
        ("feed with everything else", "15 min"),
        ("mix 7min with everything else", "17 min"),
        ("build 1h with everything else hands-on 8min", "18 min"),
    ] {
        let stage = LEVAIN.replace("ripens", &format!("method {{ {own} }}\n ripens"));
        assert_eq!(hands(&stage), wanted, "{own}");
    }
}
