//! Planted mistakes of owners and authors: each is told, but for those that are listed and
//! judged beside the table; and sweeps of one kind of slip through all sound formulas.

use crate::support::{findings, from_disk, loaded, top};
use assize::testing::desk;
use assize::testing::diag::{Finding, Level};
use assize::testing::source::Span;
use assize::testing::syntax::tree::{Extent, Formula, Step, Verb};
use std::collections::BTreeSet;
use std::fs;

fn read(name: &str) -> String {
    fs::read_to_string(top().join("tests/planted").join(name)).expect("readable")
}

/// The rows of a table, without its comments.
fn rows(text: &str) -> Vec<Vec<&str>> {
    let lines = text.lines().filter(|line| !line.starts_with('#') && !line.is_empty());
    lines.map(|line| line.split('\t').collect()).collect()
}

/// The house and one formula of a file of several.
fn alone(text: &str, name: &str) -> String {
    let start = text.find(&format!("formula {name} ")).expect("a base");
    let end = text[start..].find("\n}\n").expect("its end") + start + 3;
    let house = text.find("\nformula ").expect("a house first");
    format!("{}\n{}", &text[..house], &text[start..end])
}

fn is_told(finding: &Finding) -> bool {
    finding.level != Level::Note && finding.allowed.is_none()
}

#[test]
fn the_bases_of_the_table_are_sound() {
    let told = findings(&read("bases.dough"));
    let told: Vec<&str> = told.iter().filter(|told| is_told(told)).map(|it| &*it.message).collect();
    assert!(told.is_empty(), "{told:#?}");
}

/// Each mistake raises one of the findings that its row names. Those that don't are the
/// ones that `misses.tsv` lists, with the judgement; the list may only become shorter.
#[test]
fn planted_mistakes_are_told() {
    let (bases, table, listed) = (read("bases.dough"), read("slips.tsv"), read("misses.tsv"));
    let table = rows(&table);
    assert!(table.len() >= 200, "{} mistakes", table.len());
    let mut missed: BTreeSet<String> = BTreeSet::new();
    for row in &table {
        let [base, written, slip, wanted] = row.as_slice() else { panic!("{row:?}") };
        let sound = alone(&bases, base);
        assert!(sound.contains(written), "`{written}` is not in {base}");
        let told = findings(&sound.replacen(written, slip, 1));
        let told: Vec<&str> =
            told.iter().filter(|told| is_told(told)).map(|told| told.rule.name).collect();
        if !wanted.split('/').any(|wanted| told.contains(&wanted)) {
            println!("{base}: {written} -> {slip}: {told:?}");
            missed.insert(format!("{base}\t{written}\t{slip}"));
        }
    }
    let listed: BTreeSet<String> = rows(&listed).iter().map(|row| row[..3].join("\t")).collect();
    let new: Vec<&String> = missed.difference(&listed).collect();
    let gone: Vec<&String> = listed.difference(&missed).collect();
    assert!(new.is_empty() && gone.is_empty(), "missed now: {new:#?}\nno longer missed: {gone:#?}");
}

/// What is put in the place of an amount, or nothing where the slip has no sense there.
type Slip = fn(&Step, &Extent, &str) -> Option<String>;

/// One slip at each duration (or temperature) of each step of the sound formulas; gives how
/// many were made, and those that nothing told.
fn sweep(
    slip: Slip,
    extent: fn(&assize::testing::syntax::tree::Phase) -> Option<&Extent>,
) -> (usize, Vec<String>) {
    let all = from_disk(&top().join("tests/sound"));
    let house = fs::read_to_string(top().join("tests/sound/bakehouse.dough")).expect("readable");
    let (mut made, mut missed) = (0, Vec::new());
    for file in all.files() {
        for formula in &file.tree.formulas {
            let source = all.sources.get(file.source).expect("a source");
            let text = format!("{house}\n{}", own_text(&source.text, formula));
            let again = loaded(&text);
            let formula = &again.files()[0].tree.formulas[0];
            let steps = formula.method.iter().flat_map(|method| &method.steps);
            for (step, phase) in steps.flat_map(|step| step.phases.iter().map(move |it| (step, it)))
            {
                let Some(extent) = extent(phase) else { continue };
                let written = &text[extent.span.range()];
                let Some(changed) = slip(step, extent, written) else { continue };
                made += 1;
                let told = desk::check(&loaded(&put(&text, extent.span, &changed)));
                if !told.iter().any(is_told) {
                    let name = &formula.name.shown;
                    missed.push(format!("{name}: {} {written} -> {changed}", step.verb.word()));
                }
            }
        }
    }
    (made, missed)
}

/// A formula's own text: from its head to the `}` in the first column.
fn own_text<'t>(text: &'t str, formula: &Formula) -> &'t str {
    let start = formula.span.start as usize;
    let end = text[start..].find("\n}").map_or(text.len(), |end| start + end + 2);
    &text[start..end]
}

fn put(text: &str, span: Span, new: &str) -> String {
    format!("{}{new}{}", &text[..span.start as usize], &text[span.end as usize..])
}

fn assert_nearly_all((made, missed): (usize, Vec<String>), most_missed_in_100: usize) {
    println!("missed {} of {made}", missed.len());
    assert!(made > 100, "only {made} slips");
    assert!(
        missed.len() * 100 <= made * most_missed_in_100,
        "{} of {made} missed:\n{}",
        missed.len(),
        missed.join("\n")
    );
}

/// Minutes for hours and hours for minutes, wherever a dough ferments or bakes.
#[test]
fn minutes_for_hours_are_told() {
    let swap: Slip = |step, _, written| {
        let counts =
            matches!(step.verb, Verb::Bulk | Verb::Proof | Verb::Bake | Verb::Mix | Verb::Retard);
        let swapped = match (written.contains("min"), written.contains('h')) {
            (true, false) => written.replace("min", "h"),
            (false, true) => written.replace('h', "min"),
            _ => return None,
        };
        // `1h30` and its like have no unit of their own to swap.
        let is_plain = !written.contains("1h30") && !written.chars().next_back()?.is_ascii_digit();
        (counts && is_plain).then_some(swapped)
    };
    assert_nearly_all(sweep(swap, |phase| phase.duration.as_deref()), 3);
}

/// A digit too many in what a dough stands at or bakes at.
#[test]
fn a_digit_too_many_in_a_temperature_is_told() {
    let slip: Slip = |step, extent, written| {
        let is_plain = !extent.ranged && written.ends_with(['C', 'F']);
        let counts = matches!(step.verb, Verb::Bulk | Verb::Proof | Verb::Bake | Verb::Retard);
        let (number, unit) = written.split_at(written.len() - 1);
        (is_plain && counts).then(|| format!("{number}0{unit}"))
    };
    assert_nearly_all(sweep(slip, |phase| phase.at.as_deref()), 3);
}

/// Celsius written as Fahrenheit where a dough stands in a room, and in the oven.
#[test]
fn fahrenheit_for_celsius_is_told() {
    let slip: Slip = |step, extent, written| {
        let number = written.strip_suffix('C')?;
        let warm = number.parse::<u32>().ok()? > 15;
        let counts = matches!(step.verb, Verb::Bulk | Verb::Proof | Verb::Bake);
        (!extent.ranged && warm && counts).then(|| format!("{number}F"))
    };
    assert_nearly_all(sweep(slip, |phase| phase.at.as_deref()), 5);
}
