//! What is proposed where a claim is false: the claim is told with both numbers, and what is
//! proposed raises nothing that was not there.

use crate::support::findings;
use assize::testing::diag::{Finding, Level};

/// A plain generator, so that every run makes the same formulas.
struct Dice(u64);

impl Dice {
    fn roll(&mut self, sides: u64) -> u64 {
        // Knuth's MMIX constants.
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % sides
    }

    fn one<'t>(&mut self, all: &[&'t str]) -> &'t str {
        all[usize::try_from(self.roll(all.len() as u64)).expect("small")]
    }
}

/// A sound formula with one claim that is false.
fn formula(dice: &mut Dice) -> String {
    let water = 58 + dice.roll(14);
    let salt = dice.one(&["1.8%", "2%", "2.2%"]);
    let yeast = dice.one(&["0.8%", "1%", "1.5%", "2%"]);
    let more: String =
        ["sunflower seeds 10%", "honey 3%", "unsalted butter 4%", "milk powder 2%", "rye sour"]
            .iter()
            .filter(|name| **name != "rye sour" && dice.roll(3) == 0)
            .map(|line| format!("; {line}"))
            .collect();
    let stage = match dice.roll(3) {
        0 => {
            "preferment biga { ferments 20% of flour; bread flour 100%; water 50%; fresh yeast 0.5%; ripens 12h at 18C }"
        }
        1 => "soaker grain { weighs 200 g; cracked wheat 100%; water 100%; stands 8h }",
        _ => "",
    };
    let grain = if stage.starts_with("soaker") { "; cracked wheat 15%" } else { "" };
    let claims = [
        "total percentage 190%",
        "total percentage 160%",
        "liquids 95%",
        "effective hydration 90%",
        "yeast as fresh 30%",
        "salt 20%",
        "salt 3%",
        "hydration 6.5%",
        "hydration 54%",
        "hydration 650%",
        "dough 2.6 kg",
        "flour 1 kg",
        "water 700 g",
        "salt 250 g",
        "salt 30 g",
        "salt as eaten 9%",
        "salt as eaten 1.5%",
        "fresh yeast 10%",
        "bread flour 90%",
        "dough yield 240",
        "salt 7% of dough",
        "water 12% of dough",
        "prefermented flour 90%",
    ];
    let claim = dice.one(&claims);
    let more_claims = dice.one(&["", "; flour 3 kg", "; salt 5%"]);
    format!(
        "bakehouse \"Gullhaven Bakehouse\" {{ scale {} }}\nformula quay \"Quay\" {{ makes {} loaves at 800 g\n  bake loss 12%\n  \
         total {{ bread flour 100%; water {water}%; salt {salt}; fresh yeast {yeast}{grain}{more} }}\n  {stage}\n  \
         expect {{ {claim}{more_claims} }} }}\n",
        dice.one(&["1 g", "1 g, 0.1 g below 100 g"]),
        3 + dice.roll(9),
    )
}

/// The line that a claim's finding proposes to change, and to what: `water 65%`, `87%`.
fn proposed(finding: &Finding) -> Option<(String, String)> {
    let help = finding.help.as_deref()?;
    let rest = help.strip_prefix("if the claim is right, `")?;
    let (line, rest) = rest.split_once("` is to be `")?;
    Some((line.to_owned(), rest.split_once('`')?.0.to_owned()))
}

/// What is found after a change that was not found before, or is graver now.
fn raised(before: &[Finding], text: &str) -> Vec<String> {
    let after = findings(text);
    let count = |all: &[Finding], one: &Finding| {
        all.iter().filter(|it| it.rule.name == one.rule.name && it.level <= one.level).count()
    };
    let is_new = |it: &&Finding| it.level != Level::Note && count(&after, it) > count(before, it);
    after.iter().filter(is_new).map(|it| format!("{}: {}", it.rule.name, it.message)).collect()
}

#[test]
fn what_a_false_claim_proposes_raises_nothing_new() {
    let mut dice = Dice(20_261_129);
    let (mut proposals, mut told) = (0, 0);
    for _ in 0..250 {
        let text = formula(&mut dice);
        let before = findings(&text);
        let refuted: Vec<&Finding> =
            before.iter().filter(|it| it.rule.name == "claim-refuted").collect();
        assert!(!refuted.is_empty(), "{text}\n{before:#?}");
        for finding in refuted {
            told += 1;
            // Both numbers, in the message or at each claim.
            let says = |said: &str| said.contains("is claimed to be") && said.contains(", but is ");
            let labels = finding.labels.iter().filter(|label| says(&label.text)).count();
            assert!(says(&finding.message) || labels > 0, "{text}\n{finding:#?}");
            let mut tries = Vec::new();
            if let Some((line, meant)) = proposed(finding) {
                let name = &line[..line.find(|it: char| it.is_ascii_digit()).expect("an amount")];
                assert_eq!(text.matches(&line).count(), 1, "{line}: {text}");
                tries.push(text.replace(&line, &format!("{name}{meant}")));
            }
            if let Some(repair) = &finding.repair {
                let range = repair.span.range();
                tries.push(format!(
                    "{}{}{}",
                    &text[..range.start],
                    repair.text,
                    &text[range.end..]
                ));
            }
            for tried in tries {
                proposals += 1;
                let new = raised(&before, &tried);
                assert!(
                    new.is_empty(),
                    "{text}\n{}\n{:?}\n{tried}\n{new:#?}",
                    finding.message,
                    finding.help
                );
            }
        }
        // Nothing else speaks for the claim.
        for other in before.iter().filter(|it| it.rule.name == "below-scale-resolution") {
            assert!(other.notes.iter().all(|note| !note.contains("claim")), "{text}\n{other:#?}");
        }
    }
    assert!(told > 200 && proposals > 200, "{told} told, {proposals} proposals");
}

/// The line that is changed is one that the claim speaks of.
#[test]
fn nobody_is_told_to_bake_with_what_cannot_be_eaten() {
    let formula = |claim: &str| {
        format!(
            "formula a \"A\" {{ makes 3 loaves at 800 g; bake loss 12%\n total {{ bread flour 100%; water 65%; salt 2%; \
             fresh yeast 1%; unsalted butter 4% }}\n expect {{ {claim} }} }}\n"
        )
    };
    for claim in [
        "total percentage 194%",
        "salt as eaten 9%",
        "salt 250 g",
        "water 700 g",
        "yeast as fresh 30%",
    ] {
        let all = findings(&formula(claim));
        let told = all.iter().find(|it| it.rule.name == "claim-refuted").expect("a finding");
        let line = proposed(told).map_or(String::new(), |(line, _)| line);
        assert!(line.is_empty() || line.starts_with("water"), "{claim}: {:?}", told.help);
    }
}
