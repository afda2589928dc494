//! Every step of every derivation is true arithmetic, down to what is written.

use crate::support::{dough_files, from_disk, over, top};
use assize::testing::desk;
use assize::testing::formula::{Figure, Ground, How, Reason, Subject, ValueKind, all_mixes, work};
use assize::testing::quantity::{Exact, System};
use assize::testing::syntax::read_ask;
use assize::testing::time;

/// The first step that does not add up, or is not accounted for, in words.
fn untrue(reason: &Reason) -> Option<String> {
    if reason.how == How::Because(Ground::OnNoLine) {
        return Some(format!(
            "`{}` is {}, and no line brings it",
            reason.what.words(),
            reason.amount
        ));
    }
    if let Some(words) = not_english(&reason.what.words()) {
        return Some(format!("`{}` reads `{words}`", reason.what.words()));
    }
    let amounts: Vec<&Exact> = reason.parts.iter().map(|part| &part.amount).collect();
    let comes_to = match (&reason.how, amounts.as_slice()) {
        (How::Sum, all) => all.iter().fold(Exact::ZERO, |sum, part| sum + *part),
        (How::Product, all) => all.iter().fold(Exact::ONE, |product, part| product * *part),
        (How::Ratio, [above, below]) => over(*above, *below),
        (How::Difference, [whole, taken @ ..]) if !taken.is_empty() => {
            taken.iter().fold((*whole).clone(), |left, taken| left - *taken)
        }
        (How::Written | How::Default(_) | How::Because(_), []) => reason.amount.clone(),
        (how, parts) => {
            return Some(format!("`{}`: {how:?} of {}", reason.what.words(), parts.len()));
        }
    };
    if comes_to != reason.amount {
        return Some(format!(
            "`{}` is {}, its parts come to {comes_to}",
            reason.what.words(),
            reason.amount
        ));
    }
    reason.parts.iter().find_map(untrue)
}

/// Two words of a name that no sentence has side by side: `for of`.
fn not_english(what: &str) -> Option<String> {
    let words: Vec<&str> = what.split(' ').collect();
    let is_link = |word: &str| matches!(word, "of" | "in" | "for" | "at" | "with");
    let found = words.windows(2).find(|pair| pair.iter().all(|word| is_link(word)));
    let last = words.last().filter(|last| is_link(last)).map(ToString::to_string);
    found.map(|pair| pair.join(" ")).or(last)
}

#[test]
fn every_derivation_adds_up_to_what_is_shown() {
    let mut wrong = String::new();
    let mut trees = 0;
    let mut times = 0;
    let mut files: Vec<_> = ["tests/breads", "tests/combinations", "tests/published"]
        .into_iter()
        .flat_map(dough_files)
        .collect();
    files.push(top().join("examples/gullhaven"));
    for path in files {
        let loaded = from_disk(&path);
        for bakehouse in &desk::bakehouses(&loaded) {
            for formula in bakehouse.files.iter().flat_map(|file| &file.tree.formulas) {
                let worked = work(&bakehouse.house, formula, &mut Vec::new());
                if !worked.sound {
                    continue;
                }
                if let Some(graph) = time::graph(&bakehouse.house, &worked) {
                    let elapsed = time::why_elapsed(&worked, &graph);
                    let told = [time::elapsed(&graph), time::hands_on(&graph)];
                    let reasons = [elapsed, time::why_hands_on(&worked, &graph)];
                    for (length, reasons) in told.iter().zip(&reasons) {
                        let ends = [Some(&length.low), length.high.as_ref()];
                        for (reason, end) in reasons.iter().zip(ends) {
                            let off = untrue(reason);
                            assert_eq!(
                                (off, Some(&reason.amount)),
                                (None, end),
                                "{}",
                                reason.what.words()
                            );
                            times += 1;
                        }
                    }
                }
                let stages = worked.formula.stages.iter().map(|stage| stage.name.key.as_str());
                let mut places = vec!["", " in final dough", " in pieces"];
                let in_stages: Vec<String> = stages.map(|stage| format!(" in {stage}")).collect();
                places.extend(in_stages.iter().map(String::as_str));
                let mut asked: Vec<String> = Figure::names().map(str::to_owned).collect();
                asked.extend(all_mixes(&worked.formula).flat_map(|mix| &mix.lines).map(|line| {
                    let role = line.target.role.as_ref();
                    let role = role.map(|role| format!(" ({})", role.shown)).unwrap_or_default();
                    format!("{}{role}", line.target.name.key)
                }));
                for (what, place) in
                    asked.iter().flat_map(|what| places.iter().map(move |place| (what, place)))
                {
                    let words = format!("{what}{place}");
                    let Some((target, place)) = read_ask(&words) else { continue };
                    let told = worked.ask(&target, place.as_ref());
                    // Of one piece, a tree for each kind.
                    let reasons = worked.why_each(&target, place.as_ref());
                    let reason = reasons.first();
                    let off = match (&told, reason) {
                        (Some(told), Some(_)) => {
                            let mut pairs = told.iter().zip(&reasons);
                            let other = pairs.find(|(told, tree)| told.amount != tree.amount);
                            let other = other.map(|(told, tree)| {
                                format!("is {}, the tree says {}", told.amount, tree.amount)
                            });
                            other.or_else(|| reasons.iter().find_map(untrue))
                        }
                        (Some(_), None) => Some("has a value and no reason".into()),
                        (None, Some(_)) => Some("has a reason and no value".into()),
                        (None, None) => continue,
                    };
                    trees += 1;
                    let percent = worked.why_percent(&target, place.as_ref());
                    let is_mass = reason.is_some_and(|reason| reason.kind == ValueKind::Mass);
                    let off =
                        off.or_else(|| percent.filter(|_| is_mass).and_then(|it| untrue(&it)));
                    if let Some(off) = off {
                        wrong.push_str(&format!("{} {words}: {off}\n", formula.name.shown));
                    }
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
    assert!(trees > 5000, "{trees}");
    assert!(times > 100, "{times}");
}

/// What a line of `assize why` says, read as somebody with a calculator reads it; it shares
/// nothing with what writes it.
mod read {
    /// A number with its unit, in grams, minutes, degrees or shares of one; and half of the
    /// last digit that it shows.
    pub fn amount(text: &str) -> Option<(f64, f64)> {
        let words: Vec<&str> = text.split_whitespace().collect();
        let (mut value, mut half, mut sign) = (0.0, 0.0, 1.0);
        let pairs = words.chunks(2);
        for pair in pairs {
            let shown = pair[0];
            let shown = match shown.strip_prefix('−') {
                Some(rest) => {
                    sign = -1.0;
                    rest
                }
                None => shown,
            };
            let worth = match pair.get(1) {
                None | Some(&("g" | "min" | "°C" | "kJ")) => 1.0,
                Some(&"kg") => 1000.0,
                Some(&"%") => 0.01,
                Some(&"s") => 1.0 / 60.0,
                Some(&"h") => 60.0,
                Some(&"d") => 1440.0,
                Some(_) => return None,
            };
            let digits = shown.split_once('.').map_or(0, |(_, rest)| rest.len());
            value += shown.parse::<f64>().ok()? * worth;
            half = 0.5 * worth * 0.1f64.powi(i32::try_from(digits).ok()?);
        }
        (!words.is_empty()).then_some((sign * value, half))
    }

    /// What `525 g ÷ 750 g` comes to; none for words.
    pub fn sum(text: &str) -> Option<f64> {
        let signs = [" ÷ ", " × ", " + ", " − "];
        let mut value: Option<f64> = None;
        let (mut rest, mut sign) = (text, "");
        loop {
            let next = signs.iter().filter_map(|sign| Some((rest.find(sign)?, *sign))).min();
            let part = next.map_or(rest, |(at, _)| &rest[..at]);
            let number = amount(part)?.0;
            value = Some(match (value, sign) {
                (None, _) => number,
                (Some(value), " ÷ ") => value / number,
                (Some(value), " × ") => value * number,
                (Some(value), " + ") => value + number,
                (Some(value), _) => value - number,
            });
            let Some((at, next)) = next else { break };
            (rest, sign) = (&rest[at + next.len()..], next);
        }
        value.filter(|_| !sign.is_empty())
    }
}

/// Of each line of a tree: whether it is arithmetic, and what is wrong with it.
fn judge_tree(tree: &str) -> (usize, usize, Vec<String>) {
    let (mut sums, mut exactly, mut wrong) = (0, 0, Vec::new());
    for line in tree.lines() {
        let line = line.trim_start_matches(['├', '└', '─', '│', ' ']);
        let line = line.rsplit_once("  [").map_or(line, |(line, _)| line);
        let Some((said, how)) = line.rsplit_once(": ").and_then(|(_, it)| it.split_once(" = "))
        else {
            continue;
        };
        if how.contains(", exactly ") {
            exactly += 1;
            continue;
        }
        let Some(comes_to) = read::sum(how) else { continue };
        let (shown, half) = read::amount(said).unwrap_or_else(|| panic!("{line}"));
        sums += 1;
        if (comes_to - shown).abs() > half * 1.000_001 + 1e-12 {
            wrong.push(format!("{line}: comes to {comes_to}\n"));
        }
    }
    (sums, exactly, wrong)
}

#[test]
fn the_numbers_that_why_shows_come_to_what_it_shows() {
    let (mut sums, mut exactly) = (0, 0);
    let mut wrong = Vec::new();
    // Trees are long: every other of the breads will do beside the house.
    let mut files: Vec<_> = dough_files("tests/breads").into_iter().step_by(2).collect();
    files.push(top().join("examples/gullhaven"));
    for path in files {
        let loaded = from_disk(&path);
        for bakehouse in &desk::bakehouses(&loaded) {
            for formula in bakehouse.files.iter().flat_map(|file| &file.tree.formulas) {
                let worked = work(&bakehouse.house, formula, &mut Vec::new());
                if !worked.sound {
                    continue;
                }
                let stages = worked.formula.stages.first().map(|stage| stage.name.key.to_string());
                let stages = stages.into_iter();
                let places = stages.map(|stage| format!(" in {stage}"));
                let places: Vec<String> =
                    places.chain([String::new(), " in final dough".into()]).collect();
                let lines = all_mixes(&worked.formula).flat_map(|mix| &mix.lines);
                let lines = lines.map(|line| line.target.name.key.to_string());
                let asked: Vec<String> = Figure::names().map(str::to_owned).chain(lines).collect();
                for words in
                    asked.iter().flat_map(|what| places.iter().map(move |at| format!("{what}{at}")))
                {
                    let Some((target, place)) = read_ask(&words) else { continue };
                    let place = place.as_ref();
                    let reasons = [worked.why(&target, place), worked.why_percent(&target, place)];
                    for reason in reasons.into_iter().flatten() {
                        let (some, exact, off) =
                            judge_tree(&assize::testing::print::tree(&reason, &loaded.sources));
                        sums += some;
                        exactly += exact;
                        wrong.extend(off);
                    }
                }
                if let Some(graph) = time::graph(&bakehouse.house, &worked) {
                    for reason in time::why_elapsed(&worked, &graph) {
                        let (some, _, off) =
                            judge_tree(&assize::testing::print::tree(&reason, &loaded.sources));
                        sums += some;
                        wrong.extend(off);
                    }
                }
            }
        }
    }
    wrong.sort();
    wrong.dedup();
    assert!(wrong.is_empty(), "{} of {sums}:\n{}", wrong.len(), wrong.concat());
    assert!(sums > 5_000, "{sums}");
    assert!(exactly * 50 < sums, "{exactly} of {sums} can't be shown");
}

/// A part of 1217/133 has no few digits that multiply to what is shown of a hundred thousand.
#[test]
fn what_no_few_digits_show_is_said_exactly() {
    let part = |amount: Exact| {
        Reason::new(Subject::named("part"), amount, ValueKind::Number, How::Written)
    };
    let of = |above: i64, below: i64, times: i64| {
        let amount = assize::testing::quantity::ratio(above, below);
        let times = assize::testing::quantity::int(times);
        let mut reason =
            Reason::new(Subject::named("all"), &amount * &times, ValueKind::Number, How::Product);
        reason.parts = vec![part(amount), part(times)];
        reason.arithmetic().expect("arithmetic")
    };
    assert_eq!(of(1217, 133, 1), "9.15 × 1");
    assert_eq!(of(1217, 133, 100), "9.1504 × 100");
    assert_eq!(of(1217, 133, 10_000_000), "9.15 × 10000000, exactly 12170000000/133");
}

#[test]
fn a_store_is_cited_by_its_name_and_source() {
    let loaded = from_disk(&top().join("examples/gullhaven"));
    let bakehouse = &desk::bakehouses(&loaded)[0];
    let formula = bakehouse.files.iter().flat_map(|file| &file.tree.formulas);
    let formula = formula.clone().find(|it| it.name.key == "gullhaven-sour").expect("it");
    let worked = work(&bakehouse.house, formula, &mut Vec::new());
    let (target, place) = read_ask("effective hydration").expect("a figure");
    let reason = worked.why(&target, place.as_ref()).expect("a reason");
    let tree = assize::testing::print::tree(&reason, &loaded.sources);
    assert!(tree.contains("[store of ingredients, salt: USDA SR28 02047]"), "{tree}");
    assert!(!tree.contains("stores/"), "{tree}");
    let json =
        assize::testing::print::json_tree(&reason, System::Metric, (None, None), &loaded.sources);
    assert!(json.contains("\"source\": \"USDA SR28 02047\""), "{json}");
    assert!(!json.contains("stores/"), "{json}");
    // Every ingredient and culture of the stores says where it is from.
    let stock = assize::testing::formula::built_in();
    let cultures = assize::testing::formula::STORES[1].text.lines();
    let cultures = cultures.filter_map(|line| line.strip_prefix("culture ")?.strip_suffix(" {"));
    let cultures = cultures.map(|name| &stock.culture_named(name).expect("a culture").1.name);
    let names: Vec<_> = stock.ingredients().map(|it| &it.name).chain(cultures).collect();
    assert!(names.len() > 150, "{}", names.len());
    for name in names {
        let entry = assize::testing::formula::entry_at(name.span).expect("an entry");
        assert!(entry.source.is_some(), "{}", name.shown);
    }
}

/// Where `show` has a range, `why` names both of its ends as `show` does.
#[test]
fn why_names_both_ends_of_what_show_has() {
    let folder = crate::support::folder();
    let text = "formula reach \"Reach\" { makes 3 loaves at 490 g\n total { bread flour 93%; whole wheat flour 7%; water \
                68%..71%; salt 1.9%; honey 3%..5%; instant yeast 0.4% }\n preferment poolish { ferments 21% of flour; \
                bread flour 100%; water 100%; instant yeast 0.2%; ripens 12h..14h at 21C } }\n";
    std::fs::write(folder.path().join("reach.dough"), text).expect("written");
    let run = |args: &[&str]| crate::support::out(&crate::support::assize(folder.path(), args));
    let shown = run(&["show", "reach"]);
    for (asked, row) in [
        ("hydration", "68–71 %"),
        ("liquids", "68–71 %"),
        ("water in final dough", "399–424 g"),
        // 3 % of 1470 / 1.733 g of flour are 25.447 g, which is nearest to 25.4 on the scale.
        ("honey", "25.4–42.4 g"),
    ] {
        assert!(shown.contains(row), "{row}: {shown}");
        let told = run(&["why", "reach", asked]);
        let (low, high) = row.split_once('–').expect("a range");
        let last = told
            .lines()
            .find(|line| line.starts_with("from "))
            .unwrap_or_else(|| panic!("{asked}: {told}"));
        let unit = high.rsplit(' ').next().expect("a unit");
        assert!(last.starts_with(&format!("from {low} {unit} to {high};")), "{asked}: {last}");
        let json = run(&["why", "reach", asked, "--format", "json"]);
        let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
        let shown = |end: &str| json[end]["shown"].as_str().map(str::to_owned);
        assert_eq!(shown("from"), Some(format!("{low} {unit}")), "{asked}: {json}");
        assert_eq!(shown("to").as_deref(), Some(high), "{asked}: {json}");
    }
    for asked in ["salt %", "salt in final dough", "prefermented flour"] {
        let told = run(&["why", "reach", asked]);
        assert!(!told.lines().any(|line| line.starts_with("from ")), "{asked}: {told}");
        let json = run(&["why", "reach", asked, "--format", "json"]);
        assert!(!json.contains("\"from\""), "{asked}: {json}");
    }
}
