//! The words of a manuscript beside the formulas they are about: sound ones are silent,
//! planted slips are found.

use crate::support::{Memory, assize, err, folder, out, top};
use assize::testing::desk::{load, report};
use assize::testing::diag::Finding;
use std::fs;
use std::path::{Path, PathBuf};

const RULES: [&str; 3] = ["number-in-prose", "pair-disagrees", "unknown-instruction"];

fn corpus(name: &str) -> String {
    fs::read_to_string(top().join("tests/book").join(name)).expect("readable")
}

/// What is said about a chapter beside the formulas of `tests/book`, and how many of its
/// numbers were read and tied.
fn read(text: &str) -> (Vec<Finding>, usize, usize) {
    let files = [("/x/house.dough", corpus("house.dough")), ("/x/book.md", text.to_owned())];
    let files: Vec<(&str, &str)> =
        files.iter().map(|(path, text)| (*path, text.as_str())).collect();
    let paths = [PathBuf::from("/x/book.md"), PathBuf::from("/x/house.dough")];
    let loaded = load(&Memory::with(&files), Path::new("/x"), &paths);
    let report = report(&loaded, None);
    let tied = report.numbers.iter().filter(|number| number.formula.is_some()).count();
    (report.findings, report.numbers.len(), tied)
}

/// The lines of a text that findings are about, counted from one, with what they say.
fn lines(text: &str, findings: &[Finding]) -> Vec<(usize, String)> {
    let line = |finding: &Finding| {
        let before = text.get(..finding.span().range().start).unwrap_or_default();
        (before.matches('\n').count() + 1, format!("{}: {}", finding.rule.name, finding.message))
    };
    findings.iter().map(line).collect()
}

/// A text with what is right, or the slips, in place of its braces.
fn filled(text: &str, slips: bool) -> String {
    let mut filled = String::new();
    let mut rest = text;
    while let Some((before, behind)) = rest.split_once('{') {
        let (inside, after) = behind.split_once('}').expect("closed");
        let (right, wrong) = inside.split_once('|').expect("two");
        filled.push_str(before);
        filled.push_str(if slips { wrong } else { right });
        rest = after;
    }
    filled + rest
}

#[test]
fn sound_sentences_are_silent() {
    let text = corpus("sound.md");
    let sentences = text.lines().filter(|line| !line.is_empty() && !line.starts_with('#'));
    assert!(sentences.count() >= 300);
    let (findings, read, tied) = read(&text);
    assert_eq!(lines(&text, &findings), []);
    assert!(read > 300 && tied > 60, "{read} read, {tied} tied");
}

/// Slips that are not found, each with the reason.
const MISSED: &[(&str, &str)] = &[
    (
        "The dough should be at {25|20} °C when it leaves the bowl.: 0 of 1",
        "`when` may name a condition",
    ),
    ("You will get {two|four} loaves out of this.: 0 of 1", "`out of` may count in another way"),
    (
        "Prima della cottura ogni pane pesa {951|800} g.: 0 of 1",
        "`ogni` may tell of one of several",
    ),
];

#[test]
fn planted_slips_are_found_and_what_stood_there_before_is_silent() {
    let corpus = corpus("planted.md");
    let right = filled(&corpus, false);
    assert_eq!(lines(&right, &read(&right).0), []);
    let wrong = filled(&corpus, true);
    let found = lines(&wrong, &read(&wrong).0);
    let planted: Vec<(usize, &str)> =
        corpus.lines().enumerate().filter(|(_, line)| line.contains('{')).collect();
    let count: usize = planted.iter().map(|(_, line)| line.matches('{').count()).sum();
    let mut missed = Vec::new();
    for (at, line) in &planted {
        let slips = line.matches('{').count();
        let told = found.iter().filter(|(number, _)| *number == at + 1).count();
        if told < slips {
            missed.push(format!("{line}: {told} of {slips}"));
        }
    }
    let known: Vec<&str> = MISSED.iter().map(|(line, _)| *line).collect();
    let new: Vec<&String> = missed.iter().filter(|it| !known.contains(&it.as_str())).collect();
    assert!(new.is_empty(), "{} of {count} missed: {new:#?}", missed.len());
    assert!(count >= 200 && missed.len() * 10 <= count);
}

const HOUSE: &str = "bakehouse \"Gullhaven Bakehouse\" {}\n";

const CHAPTER: &str = "# Loaves

One of 350 g of water, tied to nothing.

## Pier Loaf

Stir 370 g of water into the flour.

```dough
formula pier-loaf \"Pier Loaf\" {
  dough { bread flour 500 g; water 350 g; salt 10 g; fresh yeast 5 g }
}
```

<!-- assize: allow number-in-prose \"the old slip\" -->
The slip of paper said 500 g of water.

### Later

Still 380 g of water.

<!-- assize: off -->
And 390 g of water.
<!-- assize: on -->

## Quay Loaf

Another 360 g of water. Heat the oven to 230 °C (500 °F).

<!-- assize: about pier-loaf -->

Now 340 g of water.
";

#[test]
fn sections_and_comments_say_what_words_are_about() {
    let folder = folder();
    let write =
        |name: &str, text: &str| fs::write(folder.path().join(name), text).expect("written");
    write("house.dough", HOUSE);
    write("book.md", CHAPTER);
    let done = assize(folder.path(), &["check", "book.md", "--format", "short"]);
    assert_eq!(
        out(&done),
        "book.md:7:6: warning[number-in-prose]: this says `370 g` of water, and `pier-loaf` says 350 g
book.md:20:7: warning[number-in-prose]: this says `380 g` of water, and `pier-loaf` says 350 g
book.md:28:42: warning[pair-disagrees]: `230 °C (500 °F)` are not the same
book.md:32:5: warning[number-in-prose]: this says `340 g` of water, and `pier-loaf` says 350 g
1 formula: 4 warnings
"
    );
    assert_eq!((done.status.code(), err(&done)), (Some(0), String::new()));
    let all = out(&assize(folder.path(), &["check", "--all", "book.md", "--format", "short"]));
    assert!(all.contains("book.md:16:24: warning[number-in-prose]"), "{all}");
    assert!(all.contains("book.md:3:8  350 g  -\n"), "{all}");
    assert!(all.contains("book.md:7:6  370 g  pier-loaf\n"), "{all}");
    assert!(all.ends_with("8 numbers read, 4 tied to a formula, 4 not\n"), "{all}");
    write("book.md", &CHAPTER.replace("about pier", "abuot pier"));
    let told = assize(folder.path(), &["check", "book.md", "--format", "short"]);
    assert_eq!(told.status.code(), Some(1));
    let wrong = "book.md:30:14: error[unknown-instruction]: `abuot` is not an instruction for a manuscript\n";
    assert!(out(&told).contains(wrong), "{}", out(&told));
    // What allows nothing is told too.
    write("book.md", &CHAPTER.replace("said 500 g", "said 350 g"));
    let idle = out(&assize(folder.path(), &["check", "book.md", "--format", "short"]));
    assert!(idle.contains("warning[allow-silences-nothing]"), "{idle}");
}

/// Whole times, people at a table, baked weights, and volumes of other countries.
#[test]
fn totals_people_and_pints_are_held() {
    const LOAF: &str = "# Mole Loaf\n\n```dough\nformula mole-loaf \"Mole Loaf\" {\n  \
        makes 2 loaves at 900 g\n  serves 8\n  bake loss 14%\n  \
        total {\n    bread flour 100%\n    water 70%\n    salt 2%\n    fresh yeast 1%\n  }\n  \
        method {\n    mix 10min\n    bulk 2h\n    proof 1h\n    bake 40min at 230C\n    \
        cool 1h\n  }\n}\n```\n\n";
    for (sentence, is_wrong) in [
        ("Serves twelve.", true),
        ("It serves twelve.", true),
        ("Serves 8.", false),
        ("It feeds eight.", false),
        ("From mixing to cooling it takes ten hours.", true),
        ("From mixing to cooling it takes four hours.", false),
        // 900 g less 14 % are 774 g.
        ("The loaf comes out at 700 g when baked.", true),
        ("The loaf comes out at 774 g when baked.", false),
        // The pint of America is 473 ml, that of Britain 568 ml.
        ("1 pint (200 ml)", true),
        ("1 pint (570 ml)", false),
        ("1 pint (470 ml)", false),
        ("2 quarts (1.9 litres)", false),
        ("2 quarts (1 litre)", true),
        ("12 fl oz (200 ml)", true),
        ("12 fl oz (350 ml)", false),
    ] {
        let text = format!("{LOAF}{sentence}\n");
        let (findings, ..) = read(&text);
        let told = findings.iter().filter(|it| RULES.contains(&it.rule.name)).count();
        assert_eq!(told > 0, is_wrong, "{sentence}: {:?}", lines(&text, &findings));
    }
}

/// The slip becomes what the formula says; the repair is one that a person chooses.
#[test]
fn a_repair_writes_the_right_number() {
    for (wrong, right) in [
        ("370 g of water", "350 g of water"),
        ("0.37 kg of water", "0.35 kg of water"),
        ("71 % of water, an 80 % dough", "70 % of water, an 70 % dough"),
    ] {
        let text = CHAPTER.replace("370 g of water", wrong);
        let (findings, ..) = read(&text);
        let line = text.lines().position(|line| line.contains(wrong)).expect("there");
        let mut repaired: String = text.clone();
        let mut repairs: Vec<_> = findings
            .iter()
            .filter(|it| RULES.contains(&it.rule.name) && it.allowed.is_none())
            .filter_map(|it| it.repair.clone())
            .collect();
        repairs.sort_by_key(|repair| std::cmp::Reverse(repair.span));
        for repair in repairs {
            assert!(!repair.safe);
            repaired.replace_range(repair.span.range(), &repair.text);
        }
        let now = repaired.lines().nth(line).expect("a line");
        assert!(now.contains(right), "{wrong}: {now}");
    }
}

/// Where a formula has one weight of a thing, a bracket that stands for it is offered, and is
/// the repair where the measure that was written can't tell a weight.
#[test]
fn a_repair_may_be_a_live_figure() {
    let text = |words: &str| {
        format!(
            "## Pier Loaf\n\n{words}\n\n```dough\nformula pier-loaf \"Pier Loaf\" {{\n  dough {{ bread flour 500 g; water 350 g; salt 10 g; fresh yeast 5 g }}\n}}\n```\n"
        )
    };
    for (words, repair) in [
        ("Stir in 340 g of water.", "350 g"),
        ("Stir in 12 g of salt.", "10 g"),
        ("Stir in 250 ml of water.", "[water of pier-loaf]"),
    ] {
        let (findings, ..) = read(&text(words));
        let told: Vec<&Finding> =
            findings.iter().filter(|it| it.rule.name == "number-in-prose").collect();
        let [finding] = told.as_slice() else { panic!("{words}: {findings:?}") };
        let own = finding.repair.as_ref().expect("a repair");
        assert_eq!(own.text, repair, "{words}");
        assert!(!own.safe, "{words}");
        assert!(
            finding.help.as_ref().is_some_and(|help| help.contains(" of pier-loaf]`")),
            "{words}"
        );
        // What is repaired so is right.
        let range = own.span.range();
        let mut right = text(words);
        right.replace_range(range, repair);
        assert!(read(&right).0.iter().all(|it| it.rule.name != "number-in-prose"), "{words}");
    }
}

/// Whether anything is said of a sentence about Mole Loaf: its levain has 200 g of water (220 g
/// with its culture's), the final dough 530 g, all of it 750 g.
fn is_wrong_of_mole_loaf(sentence: &str) -> bool {
    let text = format!("## Mole Loaf\n\n{sentence}\n");
    read(&text).0.iter().any(|it| RULES.contains(&it.rule.name))
}

/// A mix that is named is the one that is compared, whichever verb or preposition says so.
#[test]
fn what_is_right_of_one_mix_is_not_right_of_another() {
    let of_levain = [
        "The levain {} @ of water.|holds, contains, has, takes, gets, wants, needs, uses, calls for, includes, requires, consists of, is made with, is built from, is fed with, receives",
        "{} @ of water.|In the levain there are, For the levain take, The levain's share is, Feed the levain with, Make the levain with, Into the levain go",
        "Le levain {} @ d'eau.|contient, prend, reçoit, demande, compte, nécessite, utilise, comporte, renferme, est fait avec",
        "{} @ d'eau.|Dans le levain il y a, Pour le levain il faut, Nourrissez le levain avec",
        "Der Sauerteig {} @ Wasser.|enthält, bekommt, braucht, nimmt, hat, benötigt, verlangt, besteht aus",
        "{} @ Wasser.|Im Sauerteig sind, Für den Sauerteig nehmen wir",
        "La masa madre {} @ de agua.|contiene, lleva, tiene, necesita, pide, usa, requiere, incluye, recibe",
        "{} @ de agua.|En la masa madre hay",
        "Il lievito madre {} @ di acqua.|contiene, prende, vuole, ha, richiede, riceve",
        "{} @ di acqua.|Nel lievito madre ci sono, Per il lievito madre servono",
    ];
    let of_dough = [
        "The final dough {} @ of water.|holds, contains, takes, gets, needs",
        "{} @ of water.|For the final dough use, In the final dough there are, Into the final dough go",
        "La pâte finale {} @ d'eau.|contient, reçoit, demande",
        "Der Hauptteig {} @ Wasser.|enthält, bekommt, braucht",
        "La masa final {} @ de agua.|contiene, lleva, necesita",
        "L'impasto finale {} @ di acqua.|contiene, prende, richiede",
    ];
    let of_all = [
        "{} @ of water.|In all there are, In total it takes, Altogether there are",
        "{} @ d'eau.|En tout il y a, Au total il faut",
        "{} @ Wasser.|Insgesamt sind es, Alles in allem sind es",
        "{} @ de agua.|En total hay",
        "{} @ di acqua.|In tutto ci sono",
    ];
    let mut tried = 0;
    for (forms, right, others) in [
        (&of_levain[..], &["200 g", "220 g"][..], &["530 g", "750 g"][..]),
        (&of_dough, &["530 g"], &["200 g", "750 g"]),
        (&of_all, &["750 g"], &["530 g", "200 g"]),
    ] {
        for form in forms {
            let (form, verbs) = form.split_once('|').expect("verbs");
            for verb in verbs.split(", ") {
                let sentence = |number: &str| form.replace("{}", verb).replace('@', number);
                for number in right {
                    let sound = sentence(number);
                    assert!(!is_wrong_of_mole_loaf(&sound), "false alarm: {sound}");
                }
                for number in others {
                    let slip = sentence(number);
                    assert!(is_wrong_of_mole_loaf(&slip), "missed: {slip}");
                    tried += 1;
                }
            }
        }
    }
    assert!(tried > 150, "{tried}");
}

/// How much of one thing there is to another, in each way of saying so: Mole Loaf has five times
/// as much water as whole wheat flour (750 to 150 g).
#[test]
fn ratios_are_held_in_every_form() {
    let forms = [
        ("{5|2} times as much water as whole wheat flour.", "en"),
        ("Use {five times|twice} as much water as whole wheat flour.", "en"),
        ("The ratio of water to whole wheat flour is {5 to 1|3 to 1}.", "en"),
        ("The ratio of water to whole wheat flour is {5:1|4:1}.", "en"),
        ("{Five parts|Three parts} of water to one part of whole wheat flour.", "en"),
        ("One part of whole wheat flour to {five|four} parts of water.", "en"),
        (
            "In the levain there are {equal parts of|twice as much} {flour and|flour as} water.",
            "en",
        ),
        ("{Trente-sept|Vingt} fois plus d'eau que de sel.", "fr"),
        ("Das ist {fünfmal|zweimal} so viel Wasser wie Vollkornmehl.", "de"),
        ("{Cinco|Dos} veces más agua que harina integral.", "es"),
        ("{Cinque|Due} volte più acqua che farina integrale.", "it"),
    ];
    for (form, language) in forms {
        let (right, wrong) = (filled(form, false), filled(form, true));
        assert!(!is_wrong_of_mole_loaf(&right), "false alarm ({language}): {right}");
        assert!(is_wrong_of_mole_loaf(&wrong), "missed ({language}): {wrong}");
    }
}

/// A bracket that can't be filled in is told by `check`, not only where the book is woven.
#[test]
fn brackets_that_cannot_be_filled_in_are_told() {
    for (bracket, rule) in [
        ("[water of mole-loaf]", None),
        ("[water in levain of mole-loaf]", None),
        ("[loaves of mole-loaf]", None),
        ("[one of the well-known]", None),
        ("[cream of tartar]", None),
        ("[water of the sea]", None),
        ("[unsalted butter of mole-loaf]", Some("unknown-figure")),
        ("[makes of mole-loaf]", Some("unknown-figure")),
        ("[water in poolish of mole-loaf]", Some("unknown-figure")),
        ("[water of mole-laof]", Some("unknown-reference")),
        ("[water of mole loaf]", Some("unknown-reference")),
        ("[hydration of tilde-loaf]", Some("unknown-reference")),
        ("[water of mole-loaf for 3]", Some("unknown-reference")),
    ] {
        for text in [
            format!("## Mole Loaf\n\nIt takes {bracket} in all.\n"),
            format!("## Mole Loaf\n\n| what | how much |\n|---|---|\n| this | {bracket} |\n"),
        ] {
            let findings = read(&text).0;
            let told: Vec<&str> = findings.iter().map(|it| it.rule.name).collect();
            assert_eq!(told, rule.into_iter().collect::<Vec<_>>(), "{text}: {findings:?}");
        }
    }
}
