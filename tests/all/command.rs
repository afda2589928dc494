//! The commands as a new user runs them: exact streams and exit codes.

use crate::support::{PLAIN, assize, err, folder, out};
use std::fs;
use std::path::Path;

fn folder_with(files: &[(&str, &str)]) -> tempfile::TempDir {
    let folder = folder();
    for (name, text) in files {
        let path = folder.path().join(name);
        fs::create_dir_all(path.parent().expect("a parent")).expect("made");
        fs::write(path, text).expect("written");
    }
    folder
}

fn run(folder: &Path, args: &[&str], code: i32, stdout: &str, stderr: &str) {
    let done = assize(folder, args);
    assert_eq!(
        (done.status.code(), out(&done).as_str(), err(&done).as_str()),
        (Some(code), stdout, stderr),
        "assize {args:?}"
    );
}

#[test]
fn check_says_that_there_is_nothing_to_mend() {
    let folder = folder_with(&[("a.dough", PLAIN)]);
    run(folder.path(), &["check"], 0, "1 formula, no findings\n", "");
    run(folder.path(), &["check", "a.dough"], 0, "1 formula, no findings\n", "");
}

#[test]
fn check_tells_what_is_wrong_and_counts_it() {
    let text = PLAIN
        .replace("bread flour  100%", "bread flour   80%\n    dark rye flour  15%")
        .replace("885 g", "875 g");
    let folder = folder_with(&[("a.dough", &text)]);
    let expected = "\
flour-not-100 in pier-loaf

  × the flours add up to 95 %, 5 % missing
   ╭─[a.dough:5:19]
 4 │   total {
 5 │     bread flour   80%
   ·                   ───
 6 │     dark rye flour  15%
   ·                     ───
 7 │     water         74%
   ╰────
  help: flour is 100 %: `bread flour 85%` would make it so, or `the rest`

  note: 80 + 15 = 95

1 formula: 1 error
";
    run(folder.path(), &["check"], 1, expected, "");
}

#[test]
fn warnings_count_as_errors_when_denied() {
    let text = PLAIN.replace("salt           2%", "salt           3.2%");
    let folder = folder_with(&[("a.dough", &text)]);
    assert_eq!(assize(folder.path(), &["check"]).status.code(), Some(0));
    let denied = assize(folder.path(), &["check", "--deny-warnings"]);
    assert_eq!(denied.status.code(), Some(1));
    assert!(out(&denied).ends_with("1 formula: 1 error\n"));
}

#[test]
fn show_prints_the_table() {
    let folder = folder_with(&[("a.dough", PLAIN)]);
    let expected = "\
Pier Loaf
2 loaves at 885 g

                total    %  final dough    %
────────────────────────────────────────────
bread flour  1.000 kg  100     1.000 kg  100
water           740 g   74        740 g   74
salt           20.0 g    2       20.0 g    2
fresh yeast    10.0 g    1       10.0 g    1
────────────────────────────────────────────
sum          1.770 kg  177     1.770 kg  177

hydration            74 %
salt                 2 %
prefermented flour   0 %
liquids              74 %
effective hydration  74.7 %
yeast as fresh       1 %
total percentage     177 %
dough yield          174
salt as eaten        1.3 %
flour                1 kg
dough                1.77 kg

2 loaves at 885 g, 779 g baked
";
    run(folder.path(), &["show", "pier-loaf"], 0, expected, "");
}

/// The cautions of a formula as its document has them.
fn cautions(text: &str) -> (String, String) {
    let folder = folder_with(&[("a.dough", text)]);
    let shown = out(&assize(folder.path(), &["show", "pier-loaf", "--format", "json"]));
    let document: serde_json::Value = serde_json::from_str(&shown).expect("a document");
    let steps = document["method"].as_array().expect("steps");
    let of_steps: Vec<String> = steps.iter().map(|step| step["cautions"].to_string()).collect();
    (document["cautions"].to_string(), of_steps.concat())
}

#[test]
fn what_can_burn_is_said_unless_the_author_said_it() {
    let scald = "  scald paste {
    takes  5% of flour
    bread flour  100%
    water        300%
    caution      \"Draw the pan off the foil with care.\"
    METHOD
  }
";
    let with = |method: &str| {
        let stage = scald.replace("METHOD", method);
        PLAIN.replace("  total {", &format!("{stage}  total {{"))
    };
    let (usual, of_steps) = cautions(&with(""));
    assert!(usual.contains("Boiling liquid scalds"), "{usual}");
    assert!(of_steps.contains("Draw the pan"), "{of_steps}");
    let (usual, of_steps) = cautions(&with("method { mix 5min with everything else }"));
    assert!(usual.contains("Boiling liquid scalds"), "{usual}");
    assert!(of_steps.contains("Draw the pan"), "{of_steps}");
    // `Draw` is not a word about raw dough, nor `foil` one about oil.
    let fried = with("").replace(
        "  total {",
        "  method { mix 5min with everything else; fry 9min at 180C }\n  total {",
    );
    let (usual, _) = cautions(&fried);
    assert!(usual.contains("Hot fat catches fire") && usual.contains("Raw flour"), "{usual}");
    let said = with("").replace("off the foil", "off: boiling water scalds");
    assert!(!cautions(&said).0.contains("Boiling liquid scalds"));
}

#[test]
fn show_scales_to_what_is_asked() {
    let folder = folder_with(&[("a.dough", PLAIN)]);
    let csv = out(&assize(
        folder.path(),
        &["show", "pier-loaf", "--makes", "20 loaves", "--format", "csv"],
    ));
    assert!(csv.contains("pier-loaf,final dough,bread flour,,10000,10.000,kg,100,"), "{csv}");
    let csv = out(&assize(
        folder.path(),
        &["show", "pier-loaf", "--makes", "from 500 g water", "--format", "csv"],
    ));
    // Decimal numbers only, those without an end to a millionth.
    assert!(
        csv.contains("pier-loaf,total,bread flour,,675.675676,676,g,100,,bread flour,,,,,,\n"),
        "{csv}"
    );
}

/// What may go in beyond the low end is of the whole dough, also where a stage has taken a
/// part of it before.
#[test]
fn a_ranged_amount_says_how_much_more_may_go_in() {
    let text = "formula tide-loaf \"Tide Loaf\" {
  makes  from 1 kg flour
  total { bread flour 100%; water 65%..70%; salt 2% }
  preferment levain { ferments 20% of flour; bread flour 100%; water 100%; white culture 20% kept back }
}
";
    let folder = folder_with(&[("tide.dough", text)]);
    let done = assize(folder.path(), &["show", "tide-loaf", "--format", "json"]);
    let document: serde_json::Value = serde_json::from_str(&out(&done)).expect("JSON");
    let lines = document["mixes"][1]["lines"].as_array().expect("lines").clone();
    let water = lines.iter().find(|line| line["name"] == "water").expect("water");
    // 650 g less 200 g in the levain; 5 % of 1 kg more.
    assert_eq!(water["weight"]["shown"], "450");
    assert_eq!(water["more"], "up to 50 g more");
}

/// Bounds look at every choice of range ends: here the least flour meets the most water.
#[test]
fn a_bound_is_looked_at_where_ranges_cross() {
    let text = "formula tide-loaf \"Tide Loaf\" {
  makes 2 loaves
  style crane loaf
  dough { bread flour 500 g..600 g; water 350 g..390 g; salt 11 g; fresh yeast 5 g }
}
style crane loaf { hydration 50%..75% }
";
    let folder = folder_with(&[("tide.dough", text)]);
    let done = assize(folder.path(), &["check", "tide.dough"]);
    assert!(out(&done).contains("78 %"), "{}", out(&done));
}

/// Weights in texts grow with the formula, also those that are inherited; shares do not.
#[test]
fn texts_scale_with_the_formula_they_were_written_for() {
    let text = "formula tide-loaf \"Tide Loaf\" {
  makes 10 loaves at 500 g
  total { bread flour 100%; water 65%; salt 2%; fresh yeast 1% }
  note \"keep [50 g of water], [10% of water]\"
}
formula tide-ring \"Tide Ring\" from tide-loaf { makes 100 loaves at 500 g }
";
    let folder = folder_with(&[("tide.dough", text)]);
    let note = |formula: &str, makes: &str| {
        let args = ["show", formula, "--makes", makes, "--format", "json"];
        let done = assize(folder.path(), &args);
        let document: serde_json::Value = serde_json::from_str(&out(&done)).expect("JSON");
        document["notes"][0].as_str().expect("a note").to_owned()
    };
    assert_eq!(note("tide-loaf", "10 loaves"), "keep 50 g of water, 10 % of water");
    assert_eq!(note("tide-loaf", "5 loaves"), "keep 25 g of water, 10 % of water");
    assert_eq!(note("tide-ring", "100 loaves"), "keep 500 g of water, 10 % of water");
    assert_eq!(note("tide-ring", "10 loaves"), "keep 50 g of water, 10 % of water");
}

/// A weight of dough makes no pieces; what is said of one is of those that are written.
#[test]
fn a_weight_of_dough_keeps_what_is_said_of_a_piece() {
    let text =
        PLAIN.replace("  total {", "  note \"each [piece], baked [piece baked]\"\n  total {");
    let folder = folder_with(&[("a.dough", &text)]);
    let done =
        assize(folder.path(), &["show", "pier-loaf", "--makes", "20 kg dough", "--format", "json"]);
    assert_eq!(done.status.code(), Some(0), "{}", err(&done));
    let document: serde_json::Value = serde_json::from_str(&out(&done)).expect("JSON");
    assert_eq!(document["notes"][0], "each 885 g, baked 779 g");
}

/// Dough that is a range gives pieces that are one.
#[test]
fn a_ranged_dough_shares_out_a_range() {
    let text = "formula tide-loaf \"Tide Loaf\" {
  makes 2 loaves
  dough { bread flour 500 g; water 325 g..350 g; salt 10 g; fresh yeast 5 g }
}
";
    let folder = folder_with(&[("tide.dough", text)]);
    let shown = out(&assize(folder.path(), &["show", "tide-loaf"]));
    assert!(shown.contains("2 loaves at 420–433 g"), "{shown}");
}

/// A formula that runs over several blocks of a manuscript is laid out as one.
#[test]
fn fmt_lays_out_a_formula_over_several_blocks() {
    let book = "# Week 1\n\n```dough\nformula  tide-loaf \"Tide Loaf\" {\nmakes 2 loaves at 865 g # two\n```\n\nIts total:\n\n- item\n\n  ```dough\n      total { bread flour 100%; water 70%; salt 2%; fresh yeast 1% }\n   expect { hydration 70% }\n  }\n  ```\n\nEnd.\n";
    let folder = folder_with(&[("book.md", book)]);
    run(folder.path(), &["fmt", "--check", "book.md"], 1, "book.md would be reformatted\n", "");
    run(folder.path(), &["fmt", "book.md"], 0, "book.md reformatted\n", "");
    let text = fs::read_to_string(folder.path().join("book.md")).expect("readable");
    let expected = "# Week 1\n\n```dough\nformula tide-loaf \"Tide Loaf\" {\n  makes  2 loaves at 865 g  # two\n```\n\nIts total:\n\n- item\n\n  ```dough\n    total { bread flour 100%; water 70%; salt 2%; fresh yeast 1% }\n    expect { hydration 70% }\n  }\n  ```\n\nEnd.\n";
    assert_eq!(text, expected);
    run(folder.path(), &["fmt", "book.md"], 0, "nothing to reformat\n", "");
    run(folder.path(), &["check", "book.md"], 0, "1 formula, no findings\n", "");
}

#[test]
fn the_summary_says_whose_sums_wait() {
    let folder = folder_with(&[("a.dough", &PLAIN.replace("74%", "74 x"))]);
    let told = out(&assize(folder.path(), &["check"]));
    let summary = "1 formula: 1 error; the sums of `pier-loaf` wait until it can be read\n";
    assert!(told.ends_with(summary), "{told}");
}

#[test]
fn a_yield_that_cannot_be_read_is_a_slip_of_usage() {
    let folder = folder_with(&[("a.dough", PLAIN)]);
    let done = assize(folder.path(), &["show", "pier-loaf", "--makes", "lots"]);
    assert_eq!(done.status.code(), Some(2));
    assert!(err(&done).contains("is not a yield"), "{}", err(&done));
}

/// What is asked for scales the dough and the weights in its steps, not what is saved.
#[test]
fn a_yield_that_is_asked_for_scales_weights_but_not_what_is_saved() {
    let text = "formula tide-loaf \"Tide Loaf\" {
  makes  2 loaves
  dough { bread flour 900 g; water 500 g; salt 20 g; levain all }
  preferment levain { save 50 g at 4C; bread flour 100 g; water 100 g; white culture 30 g }
  method {
    mix   5min with bread flour, levain, salt, 400 g of water
    mix   3min with remaining water
    bake  30min at 230C
  }
}
";
    let folder = folder_with(&[("tide.dough", text)]);
    let shown = |makes: &str| {
        let args = ["show", "tide-loaf", "--makes", makes, "--format", "json"];
        let done = assize(folder.path(), &args);
        assert_eq!(done.status.code(), Some(0), "{}", err(&done));
        serde_json::from_str::<serde_json::Value>(&out(&done)).expect("JSON")
    };
    let (plain, twice) = (shown("2 loaves"), shown("4 loaves"));
    let levain = |document: &serde_json::Value| document["mixes"][0].clone();
    let grams = |mass: &serde_json::Value| mass["grams"].clone();
    assert_eq!(grams(&levain(&plain)["saved"]), grams(&levain(&twice)["saved"]));
    assert_eq!(levain(&plain)["goes_on"]["grams"], "180");
    assert_eq!(levain(&twice)["goes_on"]["grams"], "360");
    let step = |document: &serde_json::Value| {
        document["method"].to_string().matches("800 g of water").count()
    };
    assert_eq!((step(&plain), step(&twice)), (0, 1));
    // A slip in what is asked for is shown there, not in a file.
    let done = assize(folder.path(), &["show", "tide-loaf", "--makes", "4 loaves in quay"]);
    assert_eq!(done.status.code(), Some(1));
    assert!(err(&done).contains("--makes:1:13"), "{}", err(&done));
}

#[test]
fn an_unknown_formula_offers_the_near_one() {
    let folder = folder_with(&[("a.dough", PLAIN)]);
    run(
        folder.path(),
        &["show", "pier-laof"],
        2,
        "",
        "assize: there is no formula `pier-laof`; did you mean `pier-loaf`?\n",
    );
}

#[test]
fn a_new_bakehouse_checks_clean_shows_and_prints() {
    let folder = folder();
    let made = assize(folder.path(), &["new", "mine"]);
    assert_eq!(made.status.code(), Some(0), "{}", err(&made));
    run(folder.path(), &["check", "mine", "--deny-warnings"], 0, "2 formulas, no findings\n", "");
    let inside = folder.path().join("mine");
    run(&inside, &["check"], 0, "2 formulas, no findings\n", "");
    assert_eq!(assize(&inside, &["show", "country-loaf"]).status.code(), Some(0));
    run(&inside, &["print"], 0, "6 files in prints\n", "");
    assert!(inside.join("prints/country-loaf-card.pdf").exists());
    let again = assize(folder.path(), &["new", "mine"]);
    assert_eq!(again.status.code(), Some(2));
}

#[test]
fn one_file_of_a_bakehouse_is_checked_with_the_whole() {
    let house = "bakehouse \"Quay\" {\n  scale 1 g\n}\n\ningredient quay flour like bread flour\n";
    let loaf = PLAIN.replace("bread flour", "quay flour");
    let bad = PLAIN.replace("pier-loaf", "mole-loaf").replace("salt           2%", "salt 9%");
    let folder = folder_with(&[("house.dough", house), ("sub/a.dough", &loaf), ("b.dough", &bad)]);
    run(folder.path(), &["check", "sub/a.dough"], 0, "1 formula, no findings\n", "");
    assert_eq!(assize(folder.path(), &["check"]).status.code(), Some(1));
    run(&folder.path().join("sub"), &["check", "a.dough"], 0, "1 formula, no findings\n", "");
}

#[test]
fn print_leaves_out_what_has_errors() {
    let bad = PLAIN.replace("pier-loaf", "mole-loaf").replace("salt           2%", "salt 9%");
    let folder = folder_with(&[("a.dough", PLAIN), ("b.dough", &bad)]);
    let done = assize(folder.path(), &["print", "--only", "table"]);
    assert_eq!(done.status.code(), Some(1));
    assert_eq!(out(&done), "1 file in prints\n1 left out because of errors\n");
    assert!(!folder.path().join("prints/mole-loaf-table.pdf").exists());
}

#[test]
fn help_names_every_command() {
    let folder = folder();
    let help = out(&assize(folder.path(), &["--help"]));
    for command in ["new", "check", "show", "print"] {
        assert!(help.contains(&format!("  {command} ")), "{help}");
    }
}

#[test]
fn a_formula_can_come_by_standard_input() {
    use std::io::Write;
    use std::process::{Command, Stdio};
    let mut child = Command::new(env!("CARGO_BIN_EXE_assize"))
        .args(["check", "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the command runs");
    child.stdin.take().expect("a pipe").write_all(PLAIN.as_bytes()).expect("written");
    let done = child.wait_with_output().expect("done");
    assert_eq!(out(&done), "1 formula, no findings\n");
}

/// What is read but written wrongly is an error, and an error is never printed.
#[test]
fn a_slip_that_could_be_read_still_keeps_a_formula_from_print() {
    let slip = PLAIN.replace("makes  2 loaves at 885 g", "makes  2 loaves at 885,5 g");
    let other = PLAIN.replace("pier-loaf", "mole-loaf");
    let folder = folder_with(&[("a.dough", &format!("{slip}\n{other}"))]);
    let done = assize(folder.path(), &["print", "--only", "table"]);
    assert_eq!(out(&done), "1 file in prints\n1 left out because of errors\n");
    assert!(folder.path().join("prints/mole-loaf-table.pdf").exists());
}

#[test]
fn a_manuscript_is_checked_and_laid_out_in_place() {
    let book = "# Week 1\n\nA loaf.\n\n```dough\nformula pier-loaf \"Pier Loaf\" {\n  makes 2 loaves at 865 g\n```\n\nIts total:\n\n```dough\n  total { bread flour 100%; water 70%; salt 2%; fresh yeast 1% }\n  expect { hydration 71% }\n}\n```\n\n```dough\ntin  quay {holds 2 l}\n```\n\n```dough no-check\nformula broken {\n```\n";
    let folder = folder_with(&[("book.md", book)]);
    let done = assize(folder.path(), &["check", "book.md", "--format", "short"]);
    assert_eq!(
        (done.status.code(), out(&done).as_str()),
        (
            Some(1),
            "book.md:14:12: error[claim-refuted] in pier-loaf: `hydration` is claimed to be 71 %, but is 70 %; 71 % is `effective hydration`\n1 formula: 1 error\n"
        )
    );
    let done = assize(folder.path(), &["fmt", "book.md"]);
    assert_eq!((done.status.code(), out(&done).as_str()), (Some(0), "book.md reformatted\n"));
    let text = fs::read_to_string(folder.path().join("book.md")).expect("readable");
    let expected = book
        .replace("tin  quay {holds 2 l}", "tin quay { holds 2 l }")
        .replace("makes 2 loaves", "makes  2 loaves");
    assert_eq!(text, expected);
}

#[test]
fn why_derives_a_figure_down_to_its_lines() {
    let levain = "formula pier-loaf \"Pier Loaf\" {\n  dough {\n    bread flour    500 g\n    water          275 g\n    salt            15 g\n    white culture  500 g\n  }\n}\n";
    let folder = folder_with(&[("a.dough", levain)]);
    let expected = "\
hydration: 70 % = 525 g ÷ 750 g
├─ water: 525 g = 275 g + 250 g
│  ├─ water: 275 g  [a.dough:4]
│  └─ by white culture: 250 g = 500 g × 50 %
│     ├─ white culture: 500 g  [a.dough:6]
│     └─ water in white culture: 50 %  [store of cultures, white culture: common practice, no source]
└─ flour: 750 g = 500 g + 250 g
   ├─ bread flour: 500 g  [a.dough:3]
   └─ by white culture: 250 g = 500 g × 50 %
      ├─ white culture: 500 g  [a.dough:6]
      └─ flour in white culture: 50 %  [store of cultures, white culture: common practice, no source]
";
    run(folder.path(), &["why", "pier-loaf", "hydration"], 0, expected, "");
    let expected = "\
water in final dough, per cent: 55 % = 275 g ÷ 500 g
├─ water in final dough: 275 g
│  └─ water: 275 g  [a.dough:4]
└─ flour added in the dough: 500 g
   └─ bread flour: 500 g  [a.dough:3]
its weight: assize why pier-loaf \"water in final dough\"
";
    run(
        folder.path(),
        &["why", "pier-loaf", "water", "%", "in", "final", "dough"],
        0,
        expected,
        "",
    );
    let json = out(&assize(folder.path(), &["why", "a.dough", "salt", "--format", "json"]));
    let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    assert_eq!((json["exact"].as_str(), json["place"]["line"].as_u64()), (Some("15"), Some(5)));
    run(
        folder.path(),
        &["why", "pier-loaf", "hydratoin"],
        2,
        "",
        "assize: there is no `hydratoin` in it; did you mean `hydration`?\n",
    );
}

/// Programs find what is exact in grams; what is shown to people is in the house's units.
#[test]
fn a_derivation_in_json_is_shown_in_the_units_of_the_house() {
    let folder = folder();
    let text = format!("bakehouse \"Gullhaven Bakehouse\" {{ units US }}\n{PLAIN}");
    fs::write(folder.path().join("a.dough"), text).expect("written");
    for asked in ["water", "dough", "salt"] {
        let why = assize(folder.path(), &["why", "a.dough", asked, "--format", "json"]);
        let why: serde_json::Value = serde_json::from_str(&out(&why)).expect("JSON");
        let shown = why["shown"].as_str().unwrap_or_default();
        assert!(shown.ends_with(" oz"), "{asked}: {shown}");
        let exact = why["exact"].as_str().unwrap_or_default();
        assert!(exact.contains('/') || exact.len() > 1, "{asked}: {exact}");
        let words = out(&assize(folder.path(), &["why", "a.dough", asked]));
        assert!(words.contains(shown), "{words}");
    }
}

/// The root of every derivation is the figure itself, and its parts add up to it.
#[test]
fn every_figure_of_the_examples_can_be_asked_why() {
    let folder = crate::support::top().join("examples/gullhaven");
    for formula in ["gullhaven-sour", "ferryman-rye", "first-sour", "slipway-loaf", "lookout-sour"]
    {
        let show = out(&assize(&folder, &["show", formula, "--format", "json"]));
        let show: serde_json::Value = serde_json::from_str(&show).expect("JSON");
        for figure in show["figures"].as_array().expect("figures") {
            let name = figure["name"].as_str().expect("a name");
            if name == "salt in other ingredients" {
                continue;
            }
            let why = assize(&folder, &["why", formula, name, "--format", "json"]);
            assert_eq!(why.status.code(), Some(0), "{formula} {name}: {}", err(&why));
            let why: serde_json::Value = serde_json::from_str(&out(&why)).expect("JSON");
            // A time is told at its shortest and at its longest.
            let why = why.get(0).unwrap_or(&why);
            let same = why["exact"] == figure["exact"] || figure["unit"] == "%";
            assert!(same, "{formula} {name}: {} {}", why["exact"], figure["exact"]);
        }
    }
}

#[cfg(unix)]
#[test]
fn a_print_overwrites_no_file_that_a_link_leads_to() {
    let folder = folder();
    let at = folder.path();
    fs::write(at.join("a.dough"), PLAIN).expect("written");
    fs::write(at.join("letter.txt"), "Dear Ines").expect("written");
    fs::create_dir(at.join("prints")).expect("made");
    let link = at.join("prints/pier-loaf-card.html");
    std::os::unix::fs::symlink(at.join("letter.txt"), &link).expect("linked");
    let done = assize(at, &["print", "a.dough", "--only", "card", "--format", "html"]);
    assert_eq!(done.status.code(), Some(1), "{}", err(&done));
    assert!(err(&done).contains("it is a link"), "{}", err(&done));
    assert_eq!(fs::read_to_string(at.join("letter.txt")).expect("readable"), "Dear Ines");
    assert!(link.symlink_metadata().expect("there").is_symlink());
}
