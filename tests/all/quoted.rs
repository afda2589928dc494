//! Amounts that findings quote: in the units of the house, and as its prints show them.

use crate::support::{dough_files, loaded};
use assize::testing::desk;
use assize::testing::diag::Finding;
use assize::testing::formula::work;
use assize::testing::print::{Wording, document};
use assize::testing::quantity::display::{fixed, read_exact};
use assize::testing::quantity::{Exact, int, ratio};

/// All that a finding says in words of its own.
fn said(finding: &Finding) -> Vec<&str> {
    let labels = finding.labels.iter().map(|label| label.text.as_str());
    let more = finding.notes.iter().chain(&finding.help).map(String::as_str);
    labels.chain([finding.message.as_str()]).chain(more).collect()
}

/// A text without what stands between backticks, which is code.
fn words(text: &str) -> String {
    text.split('`').step_by(2).collect::<Vec<_>>().join("…")
}

/// The arithmetic of a derivation, whose factors come to its result with the digits shown.
/// Of two amounts that are written side by side, each is told in the unit of the other.
fn is_a_derivation(finding: &Finding, said: &str) -> bool {
    let rules = ["claim-refuted", "water-too-hot", "ice-too-much", "pair-disagrees"];
    rules.contains(&finding.rule.name) && finding.notes.iter().any(|note| note == said)
}

/// Each example of a mistake as a house with these units has it.
fn mistakes(units: &str) -> Vec<(String, String)> {
    let files = dough_files("examples/mistakes");
    let texts = files.iter().map(|path| {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let text = std::fs::read_to_string(path).expect("readable");
        let text = match text.find("\nbakehouse ").or(text.starts_with("bakehouse ").then_some(0)) {
            None => format!("bakehouse \"Gullhaven Bakehouse\" {{\n  {units}\n}}\n{text}"),
            Some(_) if text.contains("\n  units ") => text,
            Some(at) => {
                let open = at + text[at..].find('{').expect("a block") + 1;
                format!("{}\n  {units}\n{}", &text[..open], &text[open..])
            }
        };
        (name, text)
    });
    texts.collect()
}

#[test]
fn a_house_in_us_units_is_told_no_grams_and_no_celsius() {
    let mut judged = 0;
    for (name, text) in mistakes("units US") {
        for finding in desk::check(&loaded(&text)) {
            for said in said(&finding).into_iter().filter(|said| !is_a_derivation(&finding, said)) {
                assert!(!said.contains(['\u{f0e0}', '\u{f0e1}']), "{name}: untold: {said}");
                let words = words(said);
                // A label counts per 100 g in every country.
                let words = words.replace("per 100 g", "").replace("100 g of anything", "");
                for unit in [" °C", " g", " kg", " g,", " kg,"] {
                    let ends = words.match_indices(unit).any(|(at, unit)| {
                        let before = words[..at].chars().next_back();
                        let after = words[at + unit.len()..].chars().next();
                        before.is_some_and(|it| it.is_ascii_digit())
                            && after.is_none_or(|it| !it.is_alphanumeric())
                    });
                    assert!(!ends, "{name}: [{}] {said}", finding.rule.name);
                }
                judged += usize::from(words.contains(" oz") || words.contains(" °F"));
            }
        }
    }
    assert!(judged > 20, "{judged}");
}

/// The weights in a text that are not said to be about so much, in grams.
fn weights(text: &str) -> Vec<Exact> {
    let tokens: Vec<&str> = text.split([' ', '(', ')', ',', ';']).collect();
    let is_number = |token: &str| token.starts_with(|it: char| it.is_ascii_digit());
    let mut found = Vec::new();
    for (place, pair) in tokens.windows(2).enumerate() {
        let worth = match pair[1] {
            "g" => int(1),
            "kg" => int(1000),
            _ => continue,
        };
        let about = place > 0 && tokens[place - 1] == "≈";
        if about || !is_number(pair[0]) {
            continue;
        }
        found.extend(read_exact(pair[0]).map(|number| number * worth));
    }
    found
}

/// What is nearly a number that the prints show, and is not it, would be another number for
/// the same thing.
#[test]
fn findings_quote_the_number_that_is_printed() {
    let mut judged = 0;
    for (name, text) in mistakes("units metric") {
        let loaded = loaded(&text);
        let found = desk::check(&loaded);
        for room in desk::bakehouses(&loaded) {
            for formula in room.files.iter().flat_map(|file| &file.tree.formulas) {
                let worked = work(&room.house, formula, &mut Vec::new());
                if !worked.sound {
                    continue;
                }
                let document = document(&room.house, &worked, &Wording::plain(), false);
                let lines = document.total.iter().chain(
                    document.mixes.iter().flat_map(|mix| mix.lines.iter().chain(&mix.batch_lines)),
                );
                let weights_shown = lines.filter_map(|line| line.weight.as_ref());
                let sums = document.mixes.iter().map(|mix| &mix.sum).chain([&document.total_sum]);
                let head = [&document.makes.dough, &document.makes.batch, &document.makes.flour];
                let shown: Vec<Exact> = weights_shown
                    .chain(sums)
                    .chain(head)
                    .filter_map(|weight| {
                        let worth = if weight.unit == "kg" { int(1000) } else { int(1) };
                        read_exact(&weight.decimal).map(|number| number * worth)
                    })
                    .collect();
                let own = found.iter().filter(|it| {
                    it.formula.as_ref() == Some(&formula.name.key)
                        && it.rule.name != "below-scale-resolution"
                });
                for finding in own {
                    let all = said(finding).into_iter();
                    for said in all.filter(|said| !is_a_derivation(finding, said)) {
                        for quoted in weights(&words(said)) {
                            judged += 1;
                            let step = if quoted < int(100) { ratio(1, 10) } else { int(1) };
                            let near = shown.iter().find(|shown| {
                                let off = *shown - &quoted;
                                let off = off.clone().max(-off);
                                !off.is_zero() && off < step.one_in::<2>()
                            });
                            if let Some(near) = near
                                && !shown.contains(&quoted)
                            {
                                panic!("{name}: {said}: prints show {} g", fixed(near, 2));
                            }
                        }
                    }
                }
            }
        }
    }
    assert!(judged > 20, "{judged}");
}

/// What is too little for a scale is told more closely than the scale shows it, in either
/// system, and the scale that is proposed is one that the house would use and that helps.
#[test]
fn what_is_below_the_scale_is_told_more_closely_than_the_scale_shows() {
    let mut judged = 0;
    for units in ["metric", "US", "US and metric", "metric and US"] {
        for hundredths in 1..60 {
            let text = |scale: &str| {
                format!(
                    "bakehouse \"Gullhaven Bakehouse\" {{ units {units}{scale} }}\nformula a \"A\" {{\n  \
                     makes 1 loaf at 860 g\n  total {{ bread flour 100%; water 70%; salt 2%; instant yeast \
                     0.{hundredths:02}% }}\n}}\n"
                )
            };
            let house = loaded(&text(""));
            let found = desk::check(&house);
            let Some(finding) = found.iter().find(|it| it.rule.name == "below-scale-resolution")
            else {
                continue;
            };
            judged += 1;
            let exact = finding.message.split(" of `").next().expect("a weight");
            let rounded = finding.notes[0].trim_start_matches("rounded it is ");
            assert_ne!(exact, rounded, "{units} 0.{hundredths:02}: {}", finding.message);
            let help = finding.help.as_deref().expect("a help");
            let Some(scale) = help.rsplit('`').nth(1).filter(|it| it.starts_with("scale")) else {
                // 0.001 oz is 0.028 g, and half of it 2 % of 0.7 g; the flour is 500 g.
                assert!(units.starts_with("US") && hundredths < 15, "{units}: {help}");
                continue;
            };
            assert!(scale.contains("oz") == units.starts_with("US"), "{units}: {help}");
            let finer = loaded(&text(&format!("; {scale}")));
            let left = desk::check(&finer);
            let is_told = left.iter().any(|it| it.rule.name == "below-scale-resolution");
            assert!(!is_told, "{units} 0.{hundredths:02} with {scale}");
        }
    }
    assert!(judged >= 40, "{judged}");
}

/// A weight that a scale shows as nothing is quoted as what it is.
#[test]
fn no_finding_calls_a_weight_nothing_that_is_something() {
    for each in ["1 mg", "10 mg", "40 mg", "1 g"] {
        let text = format!(
            "bakehouse \"Gullhaven Bakehouse\" {{ scale 1 g }}\nformula mote \"Mote\" {{ makes 1 loaf at \
             {each}; total {{ bread flour 100%; water 65%; salt 2%; fresh yeast 1% }} method {{ mix 5min; \
             bulk 1h at 24C; proof 1h at 24C; bake 40min at 230C }} }}\n"
        );
        let findings = crate::support::findings(&text);
        let told = findings.iter().find(|it| it.rule.name == "bake-doubtful");
        let told = told.unwrap_or_else(|| panic!("{each}: {findings:#?}"));
        let is_nothing = |said: &&str| said.contains(" 0 g") || said.contains(" 0.0 g");
        let wrong: Vec<&str> = said(told).into_iter().filter(|it| is_nothing(it)).collect();
        assert!(wrong.is_empty(), "{each}: {wrong:?}");
    }
}

/// What a house is told to do about weights that are too small, done: every form of it
/// silences the finding. Nothing that goes in is printed as nothing.
#[test]
fn what_is_proposed_for_small_weights_silences_them() {
    let is_it = |it: &&assize::testing::diag::Finding| it.rule.name == "below-scale-resolution";
    let bodies = [
        "total { bread flour 100%; water 65%; salt 2%; fresh yeast 1%; egg 10% }",
        "total { bread flour 100%; water 65%; salt 2%; unsalted butter 3%; instant yeast 0.07..0.2% }",
        "total { bread flour 100%; water 65%; salt 2% }\n preferment levain { ferments 2% of flour; bread flour \
         100%; water 100%; white culture 10%; feeds 4 times; ripens 8h at 24C }",
        "total { bread flour 100%; water 65%; salt 2%; instant yeast 0.4% }\n preferment poolish { ferments 20% \
         of flour; bread flour 100%; water 100%; instant yeast 0.1%; ripens 12h at 18C }",
    ];
    let houses = [
        "units metric; scale 1 g",
        "units metric",
        "units metric; scale 5 g above 1 kg, 1 g, 0.1 g below 20 g",
        "units US",
        "units US; scale 0.125 oz, 0.001 oz below 1 oz",
        "units US and metric",
    ];
    let (mut judged, mut nothing) = (0, 0);
    for house in houses {
        for body in bodies {
            for makes in
                ["1 roll at 40 g", "1 loaf at 300 g", "3 loaves at 800 g", "8 loaves at 20 oz"]
            {
                let text = |scale: &str, least: &str| {
                    let settings = match scale {
                        "" => house.to_owned(),
                        scale => {
                            format!("{}; {scale}", house.split(';').next().unwrap_or_default())
                        }
                    };
                    let body = body.replace("feeds 4 times", &format!("feeds 4 times{least}"));
                    format!(
                        "bakehouse \"Gullhaven Bakehouse\" {{ {settings} }}\nformula a \"A\" {{ makes {makes}\n \
                         {body} }}\n"
                    )
                };
                let before = crate::support::findings(&text("", ""));
                for finding in before.iter().filter(is_it) {
                    judged += 1;
                    let zero = finding.message.contains("printed as 0");
                    nothing += usize::from(zero);
                    assert_eq!(zero, finding.level == assize::testing::diag::Level::Error);
                    let help = finding.help.as_deref().expect("a help");
                    for told in help.split('`').skip(1).step_by(2) {
                        let tried = match told.strip_prefix("at least") {
                            Some(_) => text("", &format!("; {told}")),
                            None => text(told, ""),
                        };
                        let after = crate::support::findings(&tried);
                        // Enough at every feed mends the stage; the scale mends all lines.
                        let stage = tried.find("preferment").unwrap_or(tried.len());
                        let left = after.iter().filter(is_it).find(|it| {
                            told.starts_with("scale") || it.span().range().start > stage
                        });
                        assert!(left.is_none(), "{tried}\n{help}\n{left:#?}");
                        let broken = after
                            .iter()
                            .find(|it| it.rule.group == assize::testing::diag::Group::Parse);
                        assert!(broken.is_none(), "{tried}\n{broken:#?}");
                    }
                    let stock = help.contains("1 : 10");
                    assert!(!(stock && finding.message.contains("butter")), "{help}");
                }
            }
        }
    }
    assert!(judged > 60 && nothing > 10, "{judged} judged, {nothing} printed as nothing");
}
