//! Sums that were once wrong, each with its kind: feeds, sizes of stages, what goes on,
//! figures of one piece, claims in kilograms, what goes back for tomorrow.

use crate::properties::{MadeStage, made_stage, text_of};
use crate::support::{PLAIN, assize, err, findings, folder, loaded, names, out, over, top};
use assize::testing::desk;
use assize::testing::diag::{Finding, Level};
use assize::testing::formula::class::Class;
use assize::testing::formula::{
    Figure, House, Numbers, Substance, Value, Within, Worked, WorkedLine, tell, work, work_as,
};
use assize::testing::quantity::{Exact, int, ratio};
use assize::testing::source::SourceId;
use assize::testing::syntax;
use proptest::prelude::*;
use std::fs;

/// Runs `judge` on the first formula of a text.
fn with_worked<T>(text: &str, mut judge: impl FnMut(&House, &Worked, &[Finding]) -> T) -> T {
    let loaded = loaded(text);
    let bakehouses = desk::bakehouses(&loaded);
    let formula = &bakehouses[0].files[0].tree.formulas[0];
    let mut findings = Vec::new();
    let worked = work(&bakehouses[0].house, formula, &mut findings);
    tell(&bakehouses[0].house, &worked, worked.batches(), &mut findings);
    judge(&bakehouses[0].house, &worked, &findings)
}

fn grams(lines: &[WorkedLine]) -> Exact {
    lines.iter().fold(Exact::ZERO, |sum, line| sum + &line.mass)
}

fn own(lines: &[WorkedLine], name: &str) -> Exact {
    let own = lines.iter().filter(|line| line.key == name);
    own.fold(Exact::ZERO, |sum, line| sum + &line.mass)
}

fn figure(worked: &Worked, name: &str) -> Option<Vec<Value>> {
    worked.figure(&Figure::read(name).expect("a figure"), Within::All)
}

// ---- Feeds -------------------------------------------------------------------------

/// A jar fed several times and what is said of least amounts.
#[derive(Clone, Debug)]
struct Fed {
    feeds: u32,
    jar: u32,
    flour: u32,
    water: u32,
    used: u32,
    least: u32,
    of: &'static str,
}

impl Fed {
    fn text(&self) -> String {
        format!(
            "culture jar {{ bread flour 100%; water 80% }}\nformula wake \"Wake\" {{\n  dough {{ bread flour 800 g; water 560 g; salt 20 g; levain {} g }}\n  preferment levain {{ feeds {} times; jar {} parts; bread flour {} parts; water {} parts; at least {} g {} }}\n}}\n",
            self.used, self.feeds, self.jar, self.flour, self.water, self.least, self.of
        )
    }
}

fn fed() -> impl Strategy<Value = Fed> {
    (1..7u32, 1..4u32, 1..6u32, 1..6u32, 50..900u32, 1..120u32, 0..4usize).prop_map(
        |(feeds, jar, flour, water, used, least, of)| Fed {
            feeds,
            jar,
            flour,
            water,
            used,
            least,
            of: ["jar", "levain", "bread flour", "water"][of],
        },
    )
}

/// Mixes the feeds one after the other as they are printed, from the jar on, and says what
/// is not as it should be: what a feed takes has to be there, what it leaves has to be told,
/// nothing may be too little to handle, and nothing larger than that asks for.
fn mixed_in_turn(fed: &Fed, house: &House, worked: &Worked) -> Option<String> {
    let stage = &worked.first().stages[0];
    let flour = house.ingredient_id("bread flour").expect("flour");
    let mut feeds: Vec<(&[WorkedLine], &Exact)> =
        stage.earlier.iter().map(|feed| (feed.lines.as_slice(), &feed.discarded)).collect();
    let left = worked.first().left_over.first().map_or(Exact::ZERO, |(_, left)| left.clone());
    feeds.push((&stage.lines, &left));
    if feeds.len() != fed.feeds as usize {
        return Some(format!("{} feeds", feeds.len()));
    }
    // Flour in a gram of what is in the jar: 100 parts in 180.
    let mut flour_share = ratio(100, 180);
    let mut there: Option<Exact> = None;
    for (index, (lines, discarded)) in feeds.iter().enumerate() {
        let (seed, made) = (own(lines, "jar"), grams(lines));
        if there.as_ref().is_some_and(|there| *there != seed) {
            return Some(format!("feed {index} takes {seed} of {there:?}"));
        }
        let parts = [("jar", fed.jar), ("bread flour", fed.flour), ("water", fed.water)];
        let all = int(i64::from(fed.jar + fed.flour + fed.water));
        if parts
            .iter()
            .any(|(name, part)| own(lines, name) != over(&made * int(i64::from(*part)), &all))
        {
            return Some(format!("feed {index} has other proportions"));
        }
        let held = match fed.of {
            "jar" if index > 0 => None,
            "levain" => Some(made.clone()),
            name => Some(own(lines, name)),
        };
        let least = int(i64::from(fed.least));
        if held.as_ref().is_some_and(|held| *held < least) {
            return Some(format!("feed {index} has {held:?}, less than {least}"));
        }
        if !discarded.is_zero() && held != Some(least) {
            return Some(format!("feed {index} is larger than it has to be"));
        }
        flour_share = over(&seed * &flour_share + own(lines, "bread flour"), &made);
        there = Some(&made - *discarded);
    }
    let used = int(i64::from(fed.used));
    if there != Some(used.clone()) {
        return Some(format!("{there:?} of the last feed go into the dough"));
    }
    let expected = int(800) + used * flour_share;
    let whole = worked.first().whole.get(Substance::Ingredient(flour)).cloned();
    (whole.as_ref() != Some(&expected)).then(|| format!("flour {whole:?}, mixed {expected}"))
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(300) })]

    #[test]
    fn feeds_are_what_mixing_them_one_by_one_gives(fed in fed()) {
        let off = with_worked(&fed.text(), |house, worked, _| mixed_in_turn(&fed, house, worked));
        prop_assert!(off.is_none(), "{}{}", fed.text(), off.unwrap_or_default());
    }
}

/// The instance: 20 g of jar in the first feed, and 140 g − 150/49 g of it are discarded.
#[test]
fn the_least_amount_is_met_where_the_jar_goes_in() {
    let text = Fed { feeds: 3, jar: 1, flour: 3, water: 3, used: 150, least: 20, of: "jar" }.text();
    with_worked(&text, |_, worked, findings| {
        let feeds = &worked.first().stages[0].earlier;
        assert_eq!(own(&feeds[0].lines, "jar"), int(20));
        assert_eq!(feeds[0].discarded, int(140) - ratio(150, 49));
        assert_eq!(feeds[1].discarded, Exact::ZERO);
        let told = findings.iter().find(|said| said.rule.name == "left-over").expect("told");
        assert_eq!(told.message, "all but 3.06 g of the 140 g of feed 1 of `levain` are discarded");
        assert_eq!(told.level, Level::Note);
    });
}

/// What a stage takes of another goes into its last feed only.
#[test]
fn other_stages_go_into_the_last_feed() {
    let text = "formula wake \"Wake\" {\n  dough { bread flour 800 g; water 560 g; salt 20 g; levain 180 g }\n  preferment first { bread flour 1 part; water 1 part; white culture 20% }\n  preferment levain { feeds 2 times; white culture 1 part; bread flour 3 parts; water 3 parts; first 2 parts }\n}\n";
    with_worked(text, |house, worked, _| {
        let stage = &worked.first().stages[1];
        // 20 g a part: 20 g of the feed before, which is of 7 parts.
        assert_eq!(own(&stage.lines, "first"), int(40));
        assert_eq!(grams(&stage.earlier[0].lines), int(20));
        assert_eq!(own(&stage.earlier[0].lines, "first"), Exact::ZERO);
        // All flour and water are half and half, wherever they come from.
        let flour = house.ingredient_id("bread flour").expect("flour");
        let flour = worked.first().whole.get(Substance::Ingredient(flour)).cloned();
        assert_eq!(flour, Some(int(890)));
    });
}

#[test]
fn a_least_amount_of_what_is_not_there_is_refused() {
    let fed = Fed { feeds: 2, jar: 1, flour: 3, water: 3, used: 150, least: 20, of: "jar" };
    for (slip, told) in [("jarr", "did you mean `jar`?"), ("honey", "name something")] {
        let text = fed.text().replace("20 g jar", &format!("20 g {slip}"));
        let said = findings(&text);
        let said = said.iter().find(|said| said.rule.name == "unknown-ingredient").expect("told");
        assert!(said.help.as_ref().is_some_and(|help| help.contains(told)), "{said:?}");
    }
}

/// The smallest line of the smallest feed is looked at.
#[test]
fn what_is_too_little_to_weigh_is_told_of_every_feed() {
    let text = |feeds: u32| {
        format!(
            "formula wake \"Wake\" {{\n  dough {{ bread flour 800 g; water 560 g; salt 20 g; levain 150 g }}\n  preferment levain {{ feeds {feeds} times; white culture 1 part; bread flour 3 parts; water 3 parts }}\n}}\n"
        )
    };
    // 150 g, then 21.4, 3.06, 0.437 g: a scale of 0.1 g is off by more than 2 % of 0.437 g.
    assert!(!names(&text(1)).contains(&"below-scale-resolution"));
    assert!(!names(&text(2)).contains(&"below-scale-resolution"));
    assert!(names(&text(3)).contains(&"below-scale-resolution"));
}

// ---- Sizes of stages -----------------------------------------------------------------

/// `biga all` beside weights: 1.2 kg of biga and 900 g make 2.1 kg.
#[test]
fn all_of_a_sized_stage_beside_weights_is_a_size() {
    let text = fs::read_to_string(top().join("tests/combinations/all-and-weights.dough"));
    let text = text.expect("readable");
    // It allows what it has no yeast for, with its reason.
    assert_eq!(names(&text), ["no-leavening"]);
    for size in ["weighs 500 g", "percentages of total"] {
        let text = text.replace("ferments 5% of flour", size);
        let told: Vec<_> = names(&text);
        assert!(!told.contains(&"stage-size-missing"), "{size}: {told:?}");
    }
    // A stage that says nothing of its size gives none to the one it goes into.
    let text = text.replace("ferments 5% of flour; ", "");
    assert!(names(&text).contains(&"stage-size-missing"));
}

/// A minus before a digit, which no amount in a sentence has.
fn quotes_less_than_nothing(said: &Finding) -> bool {
    let texts = std::iter::once(&said.message).chain(&said.notes).chain(&said.help);
    let repair = said.repair.as_ref().map(|repair| &repair.text);
    texts.chain(repair).any(|text| {
        let signs: Vec<char> = text.chars().collect();
        signs.windows(2).any(|pair| matches!(pair[0], '−' | '-') && pair[1].is_ascii_digit())
    })
}

/// A stage with sizes that fit or don't, in weights, per cent and parts.
fn odd_stage() -> impl Strategy<Value = MadeStage> {
    let one = |words: &'static [&'static str]| prop::sample::select(words);
    let sizes = ["", "ferments 40% of flour", "weighs 90 g", "percentages of total", "weighs 9 kg"];
    (made_stage(), one(&["500 g", "100%", "3 parts"]), prop::sample::select(sizes.to_vec()))
        .prop_map(|(stage, flour, size)| MadeStage { flour, size, ..stage })
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(600) })]

    /// Whatever is wrong with sizes, nothing quotes a weight below nothing.
    #[test]
    fn no_finding_quotes_a_nonsense_number(
        total in any::<bool>(), stages in prop::collection::vec(odd_stage(), 1..4), makes in any::<bool>()
    ) {
        let text = text_of(total, &stages, makes, "");
        let all = findings(&text);
        let off = all.iter().find(|said| quotes_less_than_nothing(said));
        // That a stage would have less than nothing is what `negative-weight` is for.
        let off = off.filter(|said| said.rule.name != "negative-weight");
        prop_assert!(off.is_none(), "{}{:?}", text, off);
    }

    /// What is made goes on, is kept back, saved, left over or boils away: nothing else.
    #[test]
    fn what_is_made_of_a_stage_is_accounted_for(
        total in any::<bool>(), stages in prop::collection::vec(made_stage(), 1..4), makes in any::<bool>()
    ) {
        let text = text_of(total, &stages, makes, "");
        let off = with_worked(&text, |_, worked, findings| {
            let rounded = findings.iter().any(|said| said.rule.name == "stage-takes-more-than-total");
            if !worked.sound || rounded { return None; }
            let numbers = worked.first();
            (0..numbers.stages.len()).find_map(|stage| unaccounted(worked, numbers, stage))
        });
        prop_assert!(off.is_none(), "{}{}", text, off.unwrap_or_default());
    }
}

fn unaccounted(worked: &Worked, numbers: &Numbers, stage: usize) -> Option<String> {
    let own = &numbers.stages[stage];
    let used = numbers.used(stage);
    if used.is_zero() {
        return None;
    }
    let left = numbers.left_over.iter().filter(|(index, _)| *index == stage);
    let left = left.fold(Exact::ZERO, |sum, (_, mass)| sum + mass);
    let loses = worked.formula.stages[stage].loses.as_ref();
    let lost = loses.map_or(Exact::ZERO, |loses| loses.number.one_in::<100>() * &own.made);
    let sum = &used + worked.kept_back(numbers, stage) + &own.saved + &left + lost;
    (sum != own.made).then(|| format!("stage {stage}: {sum} of {} ({used} used)", own.made))
}

/// The instance, as it is printed: 360 g go on, and the rest has names of its own.
#[test]
fn what_goes_on_is_told_apart_from_what_is_left() {
    let text = |line: &str| {
        format!(
            "formula lo \"Left\" {{\n  dough {{ bread flour 740 g; water 620 g; salt 21 g; levain 360 g }}\n  preferment levain {{ white culture 100 g {line} bread flour 500 g; water 400 g }}\n}}\n"
        )
    };
    let shown = |text: &str| {
        let folder = folder();
        fs::write(folder.path().join("lo.dough"), text).expect("written");
        out(&assize(folder.path(), &["show", "lo"]))
    };
    let kept = shown(&text("kept back; save 20 g;"));
    for line in [
        "levain: 360 g goes on",
        "levain: 100 g kept back",
        "levain: 20.0 g saved",
        "levain: 520.0 g left over",
    ] {
        assert!(kept.contains(line), "{line}\n{kept}");
    }
    let plain = shown(&text(";"));
    for line in ["levain: 360 g goes on", "levain: 640"] {
        assert!(plain.contains(line), "{line}\n{plain}");
    }
}

// ---- One base ---------------------------------------------------------------------------

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(100) })]

    /// A per cent in a total and in a stage of `percentages of total` is the same, whatever
    /// flour a culture brings that is not listed.
    #[test]
    fn a_per_cent_of_the_total_is_one_weight(
        seeds in 1..300u32, culture in 0..600u32, sour in 10..500u32, water in 600..900u32, kilos in 1..40u32
    ) {
        let tenths = |number: u32| format!("{}.{}%", number / 10, number % 10);
        let text = format!(
            "formula s \"S\" {{\n  makes from {kilos} kg flour\n  total {{ dark rye flour 100%; water {}; salt 2%; sunflower seeds {} }}\n  preferment sour {{ ferments {} of flour; dark rye flour 100%; water 100%; white culture {} }}\n  soaker soak {{ percentages of total; sunflower seeds {}; salt 2% }}\n}}\n",
            tenths(water), tenths(seeds), tenths(sour), tenths(culture), tenths(seeds)
        );
        let off = with_worked(&text, |_, worked, findings| {
            let errors: Vec<_> = findings.iter().filter(|said| said.level != Level::Note).collect();
            if !errors.is_empty() { return Some(format!("{errors:?}")); }
            let numbers = worked.first();
            let (soak, total) = (&numbers.stages[1].lines, &numbers.total_lines);
            let same = |name: &str| own(soak, name) == own(total, name);
            let base = worked.percent_basis(numbers, 1);
            let shown = over(own(total, "sunflower seeds"), base) == ratio(i64::from(seeds), 1000);
            (!same("sunflower seeds") || !same("salt") || !shown).then(|| "they differ".into())
        });
        prop_assert!(off.is_none(), "{}{}", text, off.unwrap_or_default());
    }
}

// ---- Figures of one piece -----------------------------------------------------------------

const RINGS: &str = "formula rings \"Rolls and rings\" {
  makes 200 rolls at 60 g, 20 rings at 90 g
  bake loss 12%
  total { bread flour 100%; water 60%; salt 1.8%; fresh yeast 2% }
  piece rings { bake loss 10%; make-up loss 1%; coarse salt 1.5 g }
}
";

/// Each figure of one piece, worked out for each kind alone, lies in the range over both.
#[test]
fn every_figure_of_a_piece_is_a_range_over_kinds() {
    let of = |text: &str, name: &str| {
        with_worked(text, |_, worked, _| {
            let values = figure(worked, name).expect("values");
            values.into_iter().map(|value| value.amount).collect::<Vec<_>>()
        })
    };
    let rolls = RINGS.replace(", 20 rings at 90 g", "");
    let rings = RINGS.replace("200 rolls at 60 g, ", "");
    let figures =
        Figure::names().filter(|name| Figure::read(name).is_some_and(|it| it.is_of_a_piece()));
    let mut seen = 0;
    for name in figures {
        assert_eq!(of(RINGS, name), [of(&rolls, name), of(&rings, name)].concat(), "{name}");
        seen += 1;
    }
    assert!(seen >= 8, "{seen}");
}

/// The saltiest kind is told, wherever it stands and however few there are of it.
#[test]
fn a_salty_kind_does_not_hide_among_others() {
    for makes in ["200 rolls at 60 g, 20 rings at 90 g", "20 rings at 90 g, 2000 rolls at 60 g"] {
        let text = RINGS.replace("200 rolls at 60 g, 20 rings at 90 g", makes);
        let text = text.replace("bake loss 10%; make-up loss 1%; ", "");
        let text = text.replace("  makes", "  style spanish daily bread\n  makes");
        let said = findings(&text);
        let told = said.iter().find(|said| said.rule.name == "salt-as-eaten-high");
        assert!(told.is_some_and(|told| told.message.contains("3.09 %")), "{said:?}");
    }
}

#[test]
fn why_answers_for_every_kind() {
    let folder = folder();
    fs::write(folder.path().join("rings.dough"), RINGS).expect("written");
    for what in
        ["piece", "piece baked", "piece as eaten", "bake loss", "salt as eaten", "make-up loss"]
    {
        let told = out(&assize(folder.path(), &["why", "rings", what]));
        for kind in ["rolls", "rings"] {
            assert!(told.contains(&format!("{what} of {kind}: ")), "{what}: {told}");
        }
    }
    let told = out(&assize(folder.path(), &["why", "rings", "pieces"]));
    assert!(told.starts_with("pieces: 220 = 200 + 20"), "{told}");
    // A text shows both ends.
    let text = RINGS.replace("  total", "  note \"One weighs [piece baked].\"\n  total");
    fs::write(folder.path().join("rings.dough"), text).expect("written");
    let json = out(&assize(folder.path(), &["show", "rings", "--format", "json"]));
    assert!(json.contains("One weighs 52.8–81 g."), "{json}");
}

// ---- What is eaten ---------------------------------------------------------------------

/// A filled bun: 60 g of dough, 52.8 g of it baked, 79.8 g with custard and seeds.
#[test]
fn a_filled_piece_says_what_its_weight_is_of() {
    let text = "mixture custard { whole milk 4 parts; sugar 1 part }\nformula bun \"Bun\" {\n  makes 10 buns at 60 g\n  bake loss 12%\n  total { bread flour 100%; water 65%; salt 2%; fresh yeast 3% }\n  piece { custard 25 g; sesame seeds 2 g; butter as needed }\n  expect { piece baked 52.8 g; piece as eaten 79.8 g }\n}\n".replace("butter as", "unsalted butter as");
    let told = names(&text);
    assert!(!told.contains(&"claim-refuted"), "{told:?}");
    let folder = folder();
    fs::write(folder.path().join("bun.dough"), &text).expect("written");
    let shown = out(&assize(folder.path(), &["show", "bun"]));
    assert!(shown.contains("52.8 g baked (the dough alone), 79.8 g as eaten"), "{shown}");
    // Salt as eaten is of the same weight.
    with_worked(&text, |_, worked, _| {
        let numbers = worked.first();
        let piece = &numbers.pieces[0];
        let eaten = worked.as_eaten(numbers, piece).expect("a loss");
        let dough = worked.class_mass(&numbers.whole, Class::Salt).one_in::<10>();
        let salt = figure(worked, "salt as eaten").expect("a value")[0].amount.clone();
        // All but the sodium of flour, milk and seeds is the salt itself.
        assert!(&salt * &eaten > dough && &salt * &eaten < dough * ratio(11, 10));
    });
    // A bread that is made of other breads weighs no more for carrying them.
    let pair = format!(
        "{PLAIN}formula pair \"Pair\" {{ makes 4 pairs; bake loss 12%; piece {{ pier-loaf 400 g }}; expect {{ piece baked 352 g; piece as eaten 352 g }} }}\n"
    );
    let told = names(&format!("bakehouse \"B\" {{ }}\n{pair}"));
    assert!(!told.contains(&"claim-refuted"), "{told:?}");
}

/// Sodium of raising agents is declared, and is no salt.
#[test]
fn salt_and_what_is_declared_of_it_are_two_figures() {
    let text = |lines: &str| {
        format!(
            "ingredient mill flour is a flour {{ contains wheat; sodium 2 mg }}\ningredient well water is a water {{ contains nothing }}\nformula scone \"Scone\" {{\n  style quick bread\n  makes 10 scones at 80 g\n  bake loss 10%\n  total {{ {lines} }}\n}}\n"
        )
    };
    let of = |lines: &str, name: &str| {
        with_worked(&text(lines), |_, worked, _| {
            figure(worked, name).map(|values| values[0].amount.clone())
        })
    };
    let per_100 = |salt: Exact| over(salt, int(165) * ratio(9, 10));
    // 3 g of soda hold 27.36 % sodium, 2.5 times that as salt; flour 2 mg in 100 g.
    let flour = ratio(2, 1000) * ratio(5, 2);
    let soda = int(3) * ratio(2736, 10_000) * ratio(5, 2);
    let lines = "mill flour 100%; well water 62%; baking soda 3%";
    assert_eq!(of(lines, "salt as eaten"), Some(per_100(flour.clone())));
    assert_eq!(of(lines, "salt as declared"), Some(per_100(flour + soda)));
    assert_eq!(of(lines, "salt"), Some(Exact::ZERO));
    assert_eq!(of(lines, "salt in other ingredients"), Some(ratio(2, 100_000) * ratio(5, 2)));
    // Self-raising flour: the salt in it, and all of its sodium.
    let lines = "self-raising flour 100%; well water 65%";
    assert_eq!(of(lines, "salt in other ingredients"), Some(ratio(11, 1000)));
    assert_eq!(of(lines, "salt as declared"), Some(per_100(ratio(1193, 1000) * ratio(5, 2))));
    // What is not known is not declared: an error, never a number.
    let silent = text("mill flour 100%; well water 62%; salt 2%; baking soda 1%")
        .replace("; sodium 2 mg", "");
    let silent = silent.replace("  total", "  expect { salt as declared 1.7% }\n  total");
    let said = findings(&silent);
    let told = said.iter().find(|said| said.rule.name == "claim-cannot-be-checked").expect("told");
    assert_eq!(told.level, Level::Error);
    assert!(told.message.contains("`mill flour`"), "{}", told.message);
}

// ---- Pieces and yields -------------------------------------------------------------------

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(200) })]

    /// A piece by its baked weight is what the scale shows and never too light.
    #[test]
    fn a_baked_weight_is_rounded_up_to_the_scale(
        baked in 20..3000u32, loss in 1..400u32, count in 1..200u32, step in prop::sample::select(vec!["1 g", "5 g", "0.1 g", "2 g above 500 g, 1 g", "10 g above 1 kg, 5 g, 0.5 g below 100 g"])
    ) {
        let text = format!(
            "bakehouse \"B\" {{ scale {step} }}\nformula b \"B\" {{\n  makes {count} loaves at {baked} g baked\n  bake loss {}.{}%\n  total {{ bread flour 100%; water 65%; salt 2%; fresh yeast 1% }}\n}}\n", loss / 10, loss % 10
        );
        let off = with_worked(&text, |house, worked, _| {
            let piece = &worked.first().pieces[0].made;
            let exact = over(int(i64::from(baked)), Exact::ONE - ratio(i64::from(loss), 1000));
            let step = house.settings.scale.resolution(&piece.weight);
            let below = house.settings.scale.resolution(&exact);
            let shows = piece.weight.is_multiple_of(&step);
            let enough = piece.weight >= exact && piece.weight < exact + step + below;
            let whole = worked.first().whole.mass() == &piece.weight * int(i64::from(count));
            (!shows || !enough || !whole).then(|| piece.weight.to_string())
        });
        prop_assert!(off.is_none(), "{}{}", text, off.unwrap_or_default());
    }

    /// As many pieces as a weight of dough gives, and what is left is less than one.
    #[test]
    fn a_weight_of_dough_is_divided_into_whole_pieces(
        dough in 1000..50_000u32, one in 20..1000u32, make_up in 0..80u32, rolls in 0..5u32
    ) {
        let others = if rolls == 0 { String::new() } else { format!(", {rolls} rolls at 50 g") };
        let text = format!(
            "formula d \"D\" {{\n  makes {dough} g loaves at {one} g{others}\n  make-up loss {}.{}%\n  total {{ bread flour 100%; water 65%; salt 2%; fresh yeast 1% }}\n}}\n", make_up / 10, make_up % 10
        );
        let off = with_worked(&text, |_, worked, _| {
            let numbers = worked.first();
            let left = Exact::ONE - ratio(i64::from(make_up), 1000);
            let used = numbers.pieces.iter().fold(Exact::ZERO, |sum, piece| sum + over(&piece.made.weight * &piece.made.count, &left));
            let count = &numbers.pieces[0].made.count;
            let rest = numbers.dough_left().expect("pieces");
            let sums = &used + &rest == numbers.whole.mass();
            let most = rest < over(int(i64::from(one)), left);
            (!count.is_int() || !sums || !most).then(|| format!("{count} and {rest}"))
        });
        prop_assert!(off.is_none(), "{}{}", text, off.unwrap_or_default());
    }

    /// Old dough that is kept back: tomorrow's is there once the pieces are made, and the
    /// dough is no other for it.
    #[test]
    fn what_goes_back_for_tomorrow_is_made(
        old in 1..500u32, loaves in 1..100u32, weight in 50..1500u32, save in 0..900u32
    ) {
        let text = |kept: &str, save: u32| {
            let save = if save == 0 { String::new() } else { format!("; save {save} g at 4C") };
            format!(
                "formula o \"O\" {{\n  makes {loaves} loaves at {weight} g\n  total {{ bread flour 100%; water 65%; salt 2%; fresh yeast 1%; old dough {}.{}%{kept}{save} }}\n}}\n", old / 10, old % 10
            )
        };
        let plain = with_worked(&text("", 0), |_, worked, _| worked.first().whole.per_gram());
        let text = text(" kept back", save);
        let off = with_worked(&text, |_, worked, findings| {
            let numbers = worked.first();
            let pieces = int(i64::from(loaves) * i64::from(weight));
            let line = own(&numbers.total_lines, "old dough");
            let sums = numbers.kept_back == line
                && numbers.whole.mass() == pieces + &line + int(i64::from(save))
                && numbers.whole.per_gram() == plain;
            (!sums || !findings.is_empty()).then(|| format!("{} {findings:?}", numbers.whole.mass()))
        });
        prop_assert!(off.is_none(), "{}{}", text, off.unwrap_or_default());
    }
}

#[test]
fn what_goes_back_is_told() {
    let text = PLAIN.replace(
        "fresh yeast    1%",
        "fresh yeast 1%\n    old dough 25% kept back\n    save 100 g",
    );
    let folder = folder();
    fs::write(folder.path().join("pier.dough"), &text).expect("written");
    let shown = out(&assize(folder.path(), &["show", "pier-loaf"]));
    for line in ["final dough: 1.7696 kg goes on", "kept back", "final dough: 100 g saved"] {
        assert!(shown.contains(line), "{line}\n{shown}");
    }
    let why = out(&assize(folder.path(), &["why", "pier-loaf", "dough"]));
    assert!(why.contains("the next old dough"), "{why}");
}

/// 33.82 lb are 541.12 oz: 38 pieces of 14 oz, and 9.12 oz.
#[test]
fn pieces_from_a_weight_of_dough() {
    for makes in ["33.82 lb at 14 oz", "33.82 lb dough at 14 oz", "33.82 lb loaves at 14 oz"] {
        let text = PLAIN.replace("2 loaves at 885 g", makes);
        with_worked(&text, |_, worked, _| {
            let numbers = worked.first();
            assert_eq!(numbers.pieces[0].made.count, int(38), "{makes}");
            let ounce = ratio(28_349_523_125, 1_000_000_000);
            assert_eq!(numbers.dough_left().expect("pieces"), ratio(912, 100) * ounce, "{makes}");
        });
        assert_eq!(names(&text), ["dough-left"], "{makes}");
    }
    let small = PLAIN.replace("2 loaves at 885 g", "200 g loaves at 885 g");
    assert!(names(&small).contains(&"dough-left"));
}

/// Counts that can't be made, in a file and on the command line.
#[test]
fn a_yield_of_nothing_is_refused() {
    let folder = folder();
    fs::write(folder.path().join("pier.dough"), PLAIN).expect("written");
    let wrong = [
        "0.2 loaves at 885 g",
        "0 loaves at 885 g",
        "1.5 loaves at 885 g",
        "1/2 loaves at 885 g",
        "2 loaves at 0 g",
        "0 kg dough",
        "from 0 g salt",
        "0 kg at 500 g",
        "2 kg at 0 g",
        "2 loaves at 885 g, 0 rolls at 50 g",
    ];
    for makes in wrong {
        let text = PLAIN.replace("2 loaves at 885 g", makes);
        assert_eq!(names(&text), ["amount-impossible"], "{makes}");
        let run = assize(folder.path(), &["show", "pier-loaf", "--makes", makes]);
        assert!(!run.status.success() && out(&run).is_empty(), "{makes}");
    }
    for makes in ["0 loaves", "0.2 loaves"] {
        assert!(!assize(folder.path(), &["show", "pier-loaf", "--makes", makes]).status.success());
    }
}

/// A kind of piece that the formula does not make is named together with those it makes.
#[test]
fn another_kind_of_piece_needs_a_weight() {
    let folder = folder();
    fs::write(folder.path().join("a.dough"), format!("{PLAIN}{RINGS}")).expect("written");
    let run = |name: &str, makes: &str| assize(folder.path(), &["show", name, "--makes", makes]);
    let refused = run("pier-loaf", "60 rolls");
    assert!(!refused.status.success());
    assert!(
        err(&refused).contains("this formula makes `loaves`, not `rolls`"),
        "{}",
        err(&refused)
    );
    assert!(err(&run("rings", "60 loaves")).contains("`rolls` and `rings`"));
    for makes in ["60 loaves", "1 loaf", "60 rolls at 80 g", "from 2 kg flour", "3 kg dough"] {
        let made = run("pier-loaf", makes);
        assert!(made.status.success(), "{makes}: {}", err(&made));
    }
    assert!(run("rings", "1 ring").status.success());
}

#[test]
fn singular_and_plural_are_one_kind() {
    use assize::testing::formula::is_kind;
    let same = [
        ("roll", "rolls"),
        ("loaf", "loaves"),
        ("box", "boxes"),
        ("pasty", "pasties"),
        ("knife", "knives"),
        ("bun", "bun"),
    ];
    for (one, many) in same {
        assert!(is_kind(one, many) && is_kind(many, one), "{one} {many}");
    }
    for (one, other) in
        [("roll", "loaf"), ("rolls", "loaves"), ("bun", "buns of rye"), ("s", "loaf")]
    {
        assert!(!is_kind(one, other), "{one} {other}");
    }
}

/// A yield asked for makes as much go back as a recipe of weights says.
#[test]
fn a_dough_of_weights_scales_with_what_goes_back() {
    let text = "formula w \"W\" {\n  makes 2 loaves\n  dough { bread flour 1000 g; water 650 g; salt 20 g; fresh yeast 10 g; old dough 200 g kept back; save 80 g }\n}\n";
    let loaded = loaded(text);
    let bakehouses = desk::bakehouses(&loaded);
    let (house, formula) = (&bakehouses[0].house, &bakehouses[0].files[0].tree.formulas[0]);
    let (makes, _) = syntax::read_makes(SourceId::default(), "4 loaves");
    let own = work(house, formula, &mut Vec::new());
    // 1880 g are mixed, 200 go back and 80 are saved: 800 g a loaf.
    assert_eq!(own.first().pieces[0].made.weight, int(800));
    let large = work_as(house, formula, &makes.expect("a yield"), &mut Vec::new());
    let numbers = large.first();
    assert_eq!(numbers.into_pieces(), int(3200));
    assert_eq!(numbers.saved, int(80));
}

// ---- Claims and questions ------------------------------------------------------------------

/// Written digits count; whole kilograms and pounds below three digits count to three.
#[test]
fn a_claim_in_kilograms_is_held_to_its_digits() {
    let holds = |grams: &str, claim: &str| {
        let text = format!(
            "formula k \"K\" {{\n  dough {{ bread flour 1000 g; water 700 g; salt {grams} g }}\n  allow salt-high \"x\"\n  allow salt-low \"x\"\n  expect {{ salt in final dough {claim} }}\n}}\n"
        );
        !names(&text).contains(&"claim-refuted")
    };
    let table = [
        ("57.75", "0.058 kg", true),
        ("57.75", "58 g", true),
        ("57.75", "0.057 kg", false),
        ("57.75", "0.0578 kg", true),
        ("57.75", "0.0577 kg", false),
        ("1004.9", "1 kg", true),
        ("1005", "1 kg", false),
        ("1049", "1.0 kg", true),
        ("1050", "1.0 kg", false),
        ("12049", "12 kg", true),
        ("12050", "12 kg", false),
        ("120499", "120 kg", true),
        ("120500", "120 kg", false),
        ("1250", "1.25 kg", true),
        ("1254.9", "1.25 kg", true),
        ("1255", "1.25 kg", false),
        ("453.6", "1 lb", true),
        ("460", "1 lb", false),
        ("460", "1.0 lb", true),
    ];
    for (grams, claim, wanted) in table {
        assert_eq!(holds(grams, claim), wanted, "{grams} g as {claim}");
    }
}

/// A seed is whatever begins the fermentation: a culture or another stage.
#[test]
fn inoculation_counts_a_stage_that_seeds() {
    let text = "formula r \"R\" {\n  dough { dark rye flour 600 g; water 400 g; salt 18 g; full all }\n  build first { dark rye flour 100 g; water 100 g; rye culture 20 g }\n  preferment full { dark rye flour 400 g; water 400 g; first 200 g; oat soak 50 g }\n  soaker oat soak { rolled oats 100 g; water 100 g }\n  expect { inoculation in full 50%; inoculation in first 20% }\n}\n";
    let told = names(text);
    assert!(!told.contains(&"claim-refuted"), "{told:?}");
    with_worked(text, |_, worked, _| {
        let numbers = worked.first();
        let of = |stage| worked.figure_of(numbers, &Figure::Inoculation, Within::Stage(stage));
        assert_eq!(of(1).expect("a value").amount, ratio(1, 2));
    });
}

/// A stage named like a class is meant before the class, in claims, texts and questions.
#[test]
fn a_stage_named_like_a_class_is_told_apart() {
    let text = "formula g \"G\" {\n  total { bread flour 100%; water 80%; salt 2%; fresh yeast 1%; rolled oats 10% }\n  soaker grain { percentages of total; rolled oats 10%; water 15% }\n  note \"[grain]\"\n  expect { grain in final dough 250 g; grain 25% of flour; rolled oats 10% }\n}\n";
    assert_eq!(names(text), [] as [&str; 0]);
    let folder = folder();
    fs::write(folder.path().join("g.dough"), text).expect("written");
    let why = out(&assize(folder.path(), &["why", "g", "grain"]));
    assert!(why.starts_with("grain: 250 g"), "{why}");
    let json = out(&assize(folder.path(), &["show", "g", "--format", "json"]));
    assert!(json.contains("\"250 g\""), "{json}");
}

/// A weight and its percentage are two questions, and each answer names the other; a claim
/// can be asked about as it is written.
#[test]
fn a_weight_and_a_share_are_two_questions() {
    let folder = folder();
    let text = PLAIN.replace("water         74%", "water 74%\n    parmesan 5%");
    fs::write(folder.path().join("pier.dough"), &text).expect("written");
    let why = |what: &[&str]| {
        let run = assize(folder.path(), &[&["why", "pier-loaf"], what].concat());
        assert!(run.status.success(), "{what:?}: {}", err(&run));
        out(&run)
    };
    let weight = why(&["salt"]);
    assert!(
        weight.starts_with("salt: 19.") && weight.ends_with("assize why pier-loaf \"salt %\"\n"),
        "{weight}"
    );
    let share = why(&["salt %"]);
    assert!(
        share.starts_with("salt, per cent: 2 %")
            && share.ends_with("assize why pier-loaf \"salt\"\n"),
        "{share}"
    );
    assert_eq!(why(&["salt", "2%"]), share);
    assert_eq!(why(&["salt 2.0 %"]), share);
    assert_eq!(why(&["hydration 74%"]), why(&["hydration"]));
    assert_eq!(why(&["dough 1770 g"]), why(&["dough"]));
    assert!(why(&["pieces"]).starts_with("pieces: 2"));
    assert!(why(&["salt in other ingredients"]).starts_with("salt in other ingredients: "));
    assert!(!why(&["piece"]).contains("its percentage"));
}

/// A refuted claim shows the arithmetic of what was claimed, with its own base.
#[test]
fn a_claims_note_is_about_what_was_claimed() {
    let note = |claim: &str| {
        let text = PLAIN.replace("  total", &format!("  expect {{ {claim} }}\n  total"));
        let said = findings(&text);
        let told =
            said.into_iter().find(|said| said.rule.name == "claim-refuted").expect("refuted");
        told.notes.join("\n")
    };
    assert!(note("salt 3%").ends_with("= 2 %"), "{}", note("salt 3%"));
    assert!(note("salt 30 g").ends_with(" g"), "{}", note("salt 30 g"));
    assert!(note("salt 3% of dough").contains("dough = 1.13 %"), "{}", note("salt 3% of dough"));
    assert!(note("salt 3% of flour").contains("flour = 2 %"), "{}", note("salt 3% of flour"));
}

/// What stands beside the dough is claimed `in pieces`, and the help says so.
#[test]
fn a_claim_about_what_a_piece_carries_says_where_it_belongs() {
    let filled = "formula filling \"Filling\" { dough { bread flour 10 g; whole milk 500 g; sugar 100 g } }\n";
    let text = |claim: &str| {
        let piece = format!(
            "  piece {{ filling 25 g; sesame seeds 2 g }}\n  expect {{ {claim} }}\n  total"
        );
        format!("bakehouse \"B\" {{ }}\n{filled}{}", PLAIN.replace("  total", &piece))
    };
    for name in ["filling", "sesame seeds"] {
        let said = findings(&text(&format!("{name} 4 g")));
        let told = said
            .iter()
            .find(|said| said.help.as_ref().is_some_and(|help| help.contains("in pieces")));
        assert!(told.is_some_and(|told| told.level == Level::Error), "{name}: {said:?}");
    }
    let told = names(&text("filling in pieces 50 g; sesame seeds in pieces 4 g"));
    assert!(
        !told.iter().any(|name| name.starts_with("claim") || *name == "unknown-figure"),
        "{told:?}"
    );
}

/// A bare number: of what never comes in pieces a unit is missing, likely the one beside it.
#[test]
fn a_bare_number_is_a_count_only_where_things_are_counted() {
    let of = |line: &str, others: &str| {
        let text =
            format!("formula b \"B\" {{ makes 2 kg dough; dough {{ {others}; {line} }} }}\n");
        let said = findings(&text);
        let told =
            said.iter().find(|said| matches!(said.rule.name, "missing-unit" | "no-each-weight"));
        told.map(|told| (told.rule.name, told.repair.as_ref().map(|repair| repair.text.clone())))
    };
    let percents = "bread flour 100%; salt 2%";
    for name in [
        "water",
        "whole milk",
        "sugar",
        "unsalted butter",
        "fresh yeast",
        "honey",
        "white culture",
        "rolled oats",
    ] {
        assert_eq!(
            of(&format!("{name} 65"), percents),
            Some(("missing-unit", Some("65%".into()))),
            "{name}"
        );
    }
    assert_eq!(
        of("water 650", "bread flour 1000 g; salt 20 g"),
        Some(("missing-unit", Some("650 g".into())))
    );
    assert_eq!(
        of("salt 2", "bread flour 100%; water 65%"),
        Some(("missing-unit", Some("2%".into())))
    );
    assert_eq!(of("walnuts 12", percents).map(|(rule, _)| rule), Some("no-each-weight"));
    assert_eq!(of("whole egg 2", percents), None);
}

/// `counts as flour` belongs to a total or a dough; anywhere else it is refused, never
/// passed over.
#[test]
fn what_counts_as_flour_is_said_in_one_place() {
    let counts = "counts as flour potato starch";
    let formula = |formula: &str, stage: &str, total: &str| {
        format!(
            "formula c \"C\" {{\n  {formula}\n  total {{ bread flour 80%; potato starch 20%; water 70%; salt 2%; fresh yeast 1%; {total} }}\n  preferment p {{ ferments 10% of flour; bread flour 100%; water 100%; {stage} }}\n}}\n"
        )
    };
    let refused = [
        formula(counts, "", ""),
        formula("", counts, ""),
        formula(&format!("piece {{ {counts}; sesame seeds 1 g }}"), "", ""),
        formula(&format!("mixture m {{ {counts}; water 1 part }}"), "", ""),
        format!("culture k {{ {counts}; bread flour 100% }}\n{}", formula("", "", counts)),
    ];
    for text in refused {
        let said = findings(&text);
        let told = said.iter().find(|said| said.message.contains("counts as flour is said once"));
        let help = told.and_then(|told| told.help.clone()).unwrap_or_default();
        assert!(help.contains("`total` or `dough`"), "{text}{said:?}");
    }
    // Nothing in the stage makes it ferment, which is another matter.
    assert_eq!(names(&formula("", "", counts)), ["no-leavening"]);
}

#[test]
fn flour_left_to_soak_in_nothing_is_told() {
    let text = |autolyse: &str| {
        PLAIN.replace("  total", &format!("  method {{\n    autolyse 30min with {autolyse}\n    mix 8min with everything else\n    bulk 2h\n    bake 35min at 230C\n  }}\n  total"))
    };
    for dry in ["flours", "bread flour", "flours, salt"] {
        assert!(names(&text(dry)).contains(&"autolyse-without-liquid"), "{dry}");
    }
    for wet in ["flours, water", "flours, 90% of water"] {
        assert!(!names(&text(wet)).contains(&"autolyse-without-liquid"), "{wet}");
    }
}

/// A filling that goes in whole weighs on its line what its own lines come to, whatever is
/// made, on the house's scale and beside it.
#[test]
fn a_filling_has_one_weight() {
    use assize::testing::print::{Wording, document};
    let mut tried = 0;
    for (grams, count, units) in [19, 21, 23, 37]
        .iter()
        .flat_map(|grams| [7, 12, 24, 48, 61].map(|count| (grams, count)))
        .flat_map(|(grams, count)| {
            ["metric", "US", "metric and US"].map(|units| (*grams, count, units))
        })
    {
        let text = format!(
            "bakehouse \"Gullhaven Bakehouse\" {{ units {units} }}\nformula bun \"Bun\" {{\n  makes {count} buns \
             at 70 g\n  total {{ bread flour 100%; water 55%; salt 2%; fresh yeast 2% }}\n  mixture paste {{ butter \
             12 parts; brown sugar 12 parts; toasted hazelnuts 10 parts; cinnamon 1 part }}\n  piece {{ paste {grams} g \
             }}\n}}\n"
        );
        with_worked(&text, |house, worked, _| {
            let document = document(house, worked, &Wording::plain(), false);
            let line = document.beside[0].all[0].weight.clone().expect("a weight");
            assert_eq!(line.said(), document.mixtures[0].sum.said(), "{text}");
            tried += 1;
        });
    }
    assert_eq!(tried, 60);
}
