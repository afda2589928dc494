//! What is asked of a formula: heads, words for one and for many, kinds among several, and
//! amounts that can't be meant.

use crate::support::{assize, err, folder, names, out};

/// Runs the command on a text in a folder of its own: what it writes, and what it tells.
fn run(text: &str, args: &[&str]) -> (String, String) {
    let folder = folder();
    std::fs::write(folder.path().join("a.dough"), text).expect("written");
    let output = assize(folder.path(), args);
    (out(&output), err(&output))
}

fn formula(makes: &str, more: &str) -> String {
    format!(
        "formula weir-loaf \"Weir Loaf\" {{\n  makes {makes}\n  total {{ bread flour 100%; water 65%; salt 2%; \
         fresh yeast 1% }}\n{more}}}\n"
    )
}

/// The second line of `show`: what is made.
fn head(text: &str, asked: &str) -> String {
    let (shown, told) = run(text, &["show", "weir-loaf", "--makes", asked]);
    shown.lines().nth(1).map_or(told, str::to_owned)
}

/// One is one and many are many, whichever was written, in five languages.
#[test]
fn pieces_are_called_by_their_number() {
    for (language, written, one, many) in [
        ("en", "2 loaves", "1 loaf at", "6 loaves at"),
        ("en", "1 loaf", "1 loaf at", "3 loaves at"),
        ("en", "2 boule", "1 boule at 900 g", "6 boules at 900 g"),
        ("de", "2 Brote", "1 Brot ", "6 Brote "),
        ("fr", "2 pains", "1 pain ", "6 pains "),
        ("es", "2 panes", "1 pan ", "6 panes "),
        ("it", "2 pani", "1 pane ", "6 pani "),
    ] {
        let house = format!("bakehouse \"Gullhaven\" {{ language {language} }}\n");
        let text = format!("{house}{}", formula(&format!("{written} at 900 g"), ""));
        let by = if written.starts_with('1') { "1x" } else { "0.5x" };
        assert!(head(&text, by).starts_with(one), "{language}: {}", head(&text, by));
        assert!(head(&text, "3x").starts_with(many), "{language}: {}", head(&text, "3x"));
    }
}

/// The head says what was asked for, and what is asked for one kind of several is made of it.
#[test]
fn heads_say_what_was_asked() {
    let text = formula("2 loaves at 900 g", "");
    assert_eq!(head(&text, "from 500 g flour"), "840 g of dough from 500 g of flour");
    assert_eq!(head(&text, "3 kg dough"), "3 loaves at 900 g, 300 g of dough left");
    let mixed = formula(
        "12 loaves at 900 g, 60 rolls at 85 g",
        "  method {\n    mix 8min with everything else\n    bulk 1h at 25C\n    shape 10min for loaves\n    \
         shape 15min per 30 rolls\n    proof 1h at 27C\n    bake 35min at 230C for loaves\n    bake 15min \
         at 230C for rolls\n  }\n",
    );
    assert_eq!(head(&mixed, "90 rolls"), "90 rolls at 85 g");
    let (card, _) = run(&mixed, &["show", "weir-loaf", "--makes", "90 rolls", "--format", "json"]);
    assert!(card.contains("45 min") && !card.contains("35 min"), "{card}");
    let told = head(&mixed, "90 baguettes");
    assert!(told.is_empty() || told.contains("yield-not-in-formula"), "{told}");
}

#[test]
fn what_leaves_nothing_to_make_is_refused() {
    let text = formula("2 loaves at 900 g", "");
    for asked in ["0x", "0 loaves", "0 kg dough", "for 0 people"] {
        let (shown, told) = run(&text, &["show", "weir-loaf", "--makes", asked]);
        assert!(shown.is_empty() && told.contains("amount-impossible"), "{asked}: {told}");
        assert!(!told.contains("fact-doubtful"), "{asked}: {told}");
    }
}

/// A fluid ounce is a US one, and a house that measures otherwise is told.
#[test]
fn whose_fluid_ounce_it_is_is_told() {
    let text = |house: &str| {
        format!(
            "bakehouse \"Gullhaven\" {{ {house} }}\nformula weir-loaf \"Weir Loaf\" {{\n  dough {{ bread \
             flour 500 g; water 12 fl-oz; salt 10 g; instant yeast 4 g }}\n}}\n"
        )
    };
    for (house, told) in [
        ("", true),
        ("language en-GB", true),
        ("measures metric", true),
        ("measures US", false),
        ("units US", false),
    ] {
        assert_eq!(names(&text(house)).contains(&"read-as"), told, "{house}");
    }
    let (_, told) = run(&text(""), &["check"]);
    assert!(told.contains("354.9 ml") || run(&text(""), &["check"]).0.contains("354.9 ml"));
}

/// A preferment in which nothing ferments is told, whatever raises the dough; one with yeast, a
/// culture or another stage is not.
#[test]
fn a_preferment_without_leaven_is_told() {
    let text = |leaven: &str, more: &str| {
        formula(
            "2 loaves at 900 g",
            &format!(
                "  preferment poolish {{ ferments 20% of flour; bread flour 100%; water 100%; {leaven} ripens \
                 12h at 20C }}\n{more}"
            ),
        )
    };
    let starter = "  preferment starter { ferments 5% of flour; bread flour 100%; water 100%; white culture \
                   20%; ripens 8h at 24C }\n";
    for (leaven, more, told) in [
        ("", "", true),
        ("salt 1%;", "", true),
        ("fresh yeast 0.2%;", "", false),
        ("white culture 10%;", "", false),
        ("starter all;", starter, false),
    ] {
        let found = names(&text(leaven, more));
        assert_eq!(found.contains(&"no-leavening"), told, "{leaven}: {found:?}");
    }
}

/// So much of a leavener that nobody could eat the bread is an error; a little more than usual
/// is a warning.
#[test]
fn what_leavens_far_too_much_is_an_error() {
    for (amount, error) in
        [("baking soda 3%", false), ("baking soda 5%", true), ("baking powder 20%", true)]
    {
        let text =
            formula("2 loaves at 900 g", "").replace("salt 2%", &format!("salt 2%; {amount}"));
        let found = crate::support::findings(&text);
        let own = found.iter().find(|finding| finding.rule.name == "amount-doubtful");
        let level = own.unwrap_or_else(|| panic!("{amount}")).level;
        assert_eq!(level == assize::testing::diag::Level::Error, error, "{amount}");
    }
}
