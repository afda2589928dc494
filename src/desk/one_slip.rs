//! One slip, one finding: what only follows from another finding is held back until that one
//! is mended. Nothing is held back for something less grave, and no claim of absence, no
//! allergen and nothing that hurts is held back at all: those are in no table here.

use crate::diag::{Finding, Group, Level};
use crate::source::{SourceId, Sources, Span};
use crate::syntax::tree::Name;
use rustc_hash::FxHashMap;

/// What can't be judged where a brace, a quotation mark or the word of a block is lost: it asks
/// for what is not there.
const OF_A_LOST_BLOCK: &[&str] = &[
    "autolyse-without-liquid",
    "claim-refuted",
    "declared-twice",
    "empty-mix",
    "fact-doubtful",
    "flour-not-100",
    "ingredient-added-twice",
    "ingredient-never-added",
    "missing-salt",
    "missing-value",
    "no-bake",
    "no-flour",
    "no-leavening",
    "no-liquid",
    "said-twice",
    "scald-not-cooled",
    "size-given-twice",
    "stage-size-missing",
    "time-missing",
    "too-deep",
    "unknown-figure",
    "unknown-in-step",
    "unknown-stage",
    "unknown-tin",
    "unused-mixture",
    "unused-stage",
    "yield-disagrees",
];

/// What follows from a line that is not there, or whose name or unit is not known.
const OF_A_LOST_LINE: &[&str] = &[
    "amount-doubtful",
    "impossible-hydration",
    "autolyse-without-liquid",
    "claim-refuted",
    "claims-disagree",
    "composition-depends-on-size",
    "culture-flour-not-listed",
    "ingredient-added-twice",
    "ingredient-never-added",
    "liquids-unusual",
    "missing-salt",
    "missing-value",
    "no-leavening",
    "no-liquid",
    "outside-style",
    "stage-size-missing",
    "stage-takes-more-than-total",
    "unused-mixture",
    "unused-stage",
    "yield-disagrees",
];

/// What says that a line is missing or not as it was meant, the likeliest cause first.
const LOST_LINES: &[&str] = &[
    "unknown-ingredient",
    "missing-unit",
    "missing-amount",
    "unknown-unit",
    "no-each-weight",
    "percentage-of-nothing",
    "percent-or-grams",
    "flour-not-100",
    "unknown-in-step",
    "no-flour",
    "no-liquid",
    "impossible-hydration",
    "missing-salt",
    "stage-takes-more-than-total",
    "stage-size-missing",
    "no-leavening",
    "ingredient-added-twice",
    "ingredient-never-added",
];

/// What says that an amount is most likely not what was meant, so that claims that are false
/// with it follow from it.
const DOUBTS: &[&str] = &[
    "amount-doubtful",
    "liquids-unusual",
    "loss-doubtful",
    "percent-or-grams",
    "piece-doubtful",
    "salt-high",
];

/// What somebody's health may depend on is told beside any slip.
const ALWAYS: &[&str] = &[
    "absence-in-text",
    "allergen-in-name",
    "allergen-undeclared",
    "claim-not-proved",
    "contains-doubtful",
    "eaten-raw",
    "ingredient-in-text",
    "lye-out-of-place",
    "stands-too-warm",
];

/// What is said of a thing that nothing bears the name of, the likeliest cause first.
const UNKNOWN: &[&str] =
    &["unknown-ingredient", "empty-mix", "unknown-stage", "unknown-in-step", "unknown-figure"];

/// What is left over of a line that is told by something else.
const LEFT_OVERS: &[&str] = &["missing-amount", "missing-name", "reserved-word", "unexpected-text"];

/// So many refuted claims and more are told as one: that so many are wrong at once is less
/// likely than one wrong amount.
const MANY_CLAIMS: usize = 3;

/// The places in which a slip has its followers: a file, and the formula in it.
type Region = (SourceId, usize);

/// Where a finding stands among the others.
#[derive(Clone, Copy)]
struct FindingPlace {
    region: Region,
    /// Counted from nothing.
    line: usize,
}

/// More findings of one formula than a slip has followers.
const MAX_FOLLOWERS: usize = 300;

/// Holds back what follows, of findings in the order of their places; `formulas` are those of
/// all files.
pub fn hold_back(findings: &mut Vec<Finding>, sources: &Sources, formulas: &[&Name]) {
    let all: Vec<usize> = (0..findings.len()).filter(|&at| counts(&findings[at])).collect();
    if all.len() < 2 {
        return;
    }
    let places = places(findings, sources, formulas);
    let mut held = Held { of: vec![None; findings.len()] };
    let lines = grouped(&all, |at| (places[at].region.0, places[at].line));
    lines.values().for_each(|own| one_of_a_line(findings, own, &mut held));
    one_for_each_name(findings, &all, &mut held);
    let files = grouped(&all, |at| places[at].region.0);
    let regions = grouped(&all, |at| places[at].region);
    for (region, own) in regions.iter().filter(|(_, own)| own.len() <= MAX_FOLLOWERS) {
        let file = files.get(&region.0).map_or(&[][..], Vec::as_slice);
        lost_text(findings, own, &mut held);
        lost_block(findings, own, file, &mut held);
        said_twice(findings, own, &mut held);
        lost_step(findings, own, file, &places, &mut held);
        lost_line(findings, own, &mut held);
        misspelt_where_it_is_made(findings, own, file, &mut held);
        many_claims(findings, own, &mut held);
    }
    held.tell(findings);
}

/// The place of each finding.
fn places(findings: &[Finding], sources: &Sources, formulas: &[&Name]) -> Vec<FindingPlace> {
    let mut heads: Vec<(SourceId, u32, &str)> =
        formulas.iter().map(|it| (it.span.source, it.span.start, it.key.as_str())).collect();
    heads.sort_unstable();
    let named: FxHashMap<(SourceId, &str), usize> =
        heads.iter().enumerate().map(|(at, head)| ((head.0, head.2), at + 1)).collect();
    let mut before = (SourceId::default(), 0, 0);
    let of = |it: &Finding| {
        let Span { source, start, .. } = it.span();
        let end = start as usize;
        let (from, line) = match before {
            (same, from, line) if same == source && from <= end => (from, line),
            _ => (0, 0),
        };
        let text = sources.get(source).map_or("", |source| &*source.text);
        let line = line + text.get(from..end).unwrap_or_default().matches('\n').count();
        before = (source, end, line);
        // What is found in a shared stage belongs to the formula that it was found in.
        let own = it.formula.as_ref().and_then(|name| named.get(&(source, name.as_str())));
        let here = || heads.partition_point(|head| (head.0, head.1) <= (source, start));
        let formula = own.copied().unwrap_or_else(here);
        FindingPlace { region: (source, formula), line }
    };
    findings.iter().map(of).collect()
}

/// Whether a finding is held against others: what is only noted or allowed is not.
fn counts(it: &Finding) -> bool {
    it.level != Level::Note && it.allowed.is_none()
}

fn grouped<K: std::hash::Hash + Eq>(
    all: &[usize],
    of: impl Fn(usize) -> K,
) -> FxHashMap<K, Vec<usize>> {
    let mut groups: FxHashMap<K, Vec<usize>> = FxHashMap::default();
    for &at in all {
        groups.entry(of(at)).or_default().push(at);
    }
    groups
}

/// Which findings are held back, and for which other.
struct Held {
    of: Vec<Option<usize>>,
}

impl Held {
    fn is_held(&self, at: usize) -> bool {
        self.of.get(at).is_some_and(Option::is_some)
    }

    /// Holds one back for another, unless that is less grave or is held back itself.
    fn hold(&mut self, findings: &[Finding], at: usize, cause: usize) {
        let it = &findings[at];
        let is_told = it.is_of_health || is(it, ALWAYS) || it.level < findings[cause].level;
        if at == cause || is_told || self.is_held(at) || self.is_held(cause) {
            return;
        }
        if let Some(of) = self.of.get_mut(at) {
            *of = Some(cause);
        }
    }

    /// The same, and the other becomes as grave as what is held back for it.
    fn hold_raising(&mut self, findings: &mut [Finding], at: usize, cause: usize) {
        let it = &findings[at];
        let is_told = it.is_of_health || is(it, ALWAYS);
        if at != cause && !is_told && !self.is_held(at) && !self.is_held(cause) {
            findings[cause].level = findings[cause].level.min(findings[at].level);
            self.hold(findings, at, cause);
        }
    }

    /// Takes out what is held back; what is said of the same name elsewhere is shown beside.
    fn tell(self, findings: &mut Vec<Finding>) {
        for (at, cause) in self.of.iter().enumerate() {
            let Some(cause) = *cause else { continue };
            let (span, about) = (findings[at].span(), findings[at].about.clone());
            let own = &mut findings[cause];
            if about.is_some() && own.about == about && own.labels.len() < 3 {
                own.labels.push(crate::diag::Label { span, text: "and here".into() });
            }
        }
        let mut at = 0;
        findings.retain(|_| {
            at += 1;
            !self.is_held(at - 1)
        });
    }
}

fn is(it: &Finding, names: &[&str]) -> bool {
    names.contains(&it.rule.name)
}

/// Of a line that can't be read, its first finding that says more than that something is left
/// over; a name or a figure of such a line is not judged.
fn one_of_a_line(findings: &[Finding], own: &[usize], held: &mut Held) {
    let of_parse =
        |at: &&usize| findings[**at].rule.group == Group::Parse && !is_mended(&findings[**at]);
    // Beside an error a letter that nobody sees explains nothing.
    let gravest = own.iter().filter(of_parse).map(|at| findings[*at].level).min();
    let parse = |at: &&usize| of_parse(at) && Some(findings[**at].level) == gravest;
    let Some(&first) = own.iter().find(parse) else { return };
    let main = own.iter().filter(parse).find(|at| !is(&findings[**at], LEFT_OVERS));
    let main = main.copied().unwrap_or(first);
    for &at in own {
        let it = &findings[at];
        let is_left_over = it.rule.group == Group::Parse && is(it, LEFT_OVERS);
        let is_unit = is(&findings[main], &["unknown-unit", "unknown-word"])
            && is(it, &["missing-unit", "unknown-unit", "unknown-ingredient"]);
        let is_again = it.rule == findings[main].rule && is(it, &["said-twice"]);
        if is_left_over || is_unit || is_again || is(it, &["unknown-ingredient"]) {
            held.hold(findings, at, main);
        }
    }
}

/// Whether a finding has a repair that changes nothing else, so that nothing follows from it.
fn is_mended(it: &Finding) -> bool {
    it.repair.as_ref().is_some_and(|repair| repair.safe)
}

/// What is not known is told once for each name.
fn one_for_each_name(findings: &[Finding], all: &[usize], held: &mut Held) {
    let named = all
        .iter()
        .copied()
        .filter(|&at| findings[at].about.is_some() && is(&findings[at], UNKNOWN));
    let named: Vec<usize> = named.collect();
    let of = |at: usize| (findings[at].span().source, findings[at].about.clone());
    for own in grouped(&named, of).into_values() {
        let rank = |at: &usize| UNKNOWN.iter().position(|name| *name == findings[*at].rule.name);
        let Some(&cause) = own.iter().min_by_key(|at| (rank(at), **at)) else { continue };
        own.iter().for_each(|&at| held.hold(findings, at, cause));
    }
}

/// A text that lacks an end turns texts and words round: what is found before its end and
/// after the mark that is lost follows from it.
fn lost_text(findings: &[Finding], own: &[usize], held: &mut Held) {
    let lost = |at: &&usize| is(&findings[**at], &["unclosed-text"]);
    let Some(&cause) = own.iter().find(lost) else { return };
    for &at in own {
        held.hold(findings, at, cause);
    }
}

/// Whether a brace, or the word before one, is lost.
fn loses_a_block(it: &Finding) -> bool {
    let says = |words: &str| it.message.contains(words);
    match it.rule.name {
        "unclosed-block" | "misplaced-brace" | "unclosed-text" => true,
        "missing-value" => says("braces"),
        "missing-name" => says("name of the mixture") || says("name of the stage"),
        "unexpected-text" => {
            let in_braces = |help: &String| help.contains("the rest goes in braces");
            it.message.starts_with("`(`") || it.help.as_ref().is_some_and(in_braces)
        }
        "misplaced-statement" => says("directly in the formula") || says("without a step"),
        // What is read as the word that was meant loses nothing.
        "unknown-word" => {
            let is_block = says("a formula has no") || says("a block has no");
            (is_block || says("a file has no")) && it.repair.is_none()
        }
        _ => false,
    }
}

/// What follows from a lost brace: in its formula, and elsewhere where a shared stage is
/// missing for it.
fn lost_block(findings: &[Finding], own: &[usize], file: &[usize], held: &mut Held) {
    let loses = |at: &&usize| loses_a_block(&findings[**at]) && !is_mended(&findings[**at]);
    let Some(&cause) = own.iter().find(|at| loses(at) && !held.is_held(**at)) else { return };
    let is_unclosed = is(&findings[cause], &["unclosed-block"]);
    let says_braces = is(&findings[cause], &["missing-value", "missing-name"]);
    for &at in own {
        let it = &findings[at];
        let later = at > cause || !is(it, &["declared-twice", "missing-value"]);
        let is_name = at > cause && is(it, &["unknown-ingredient"]) && says_braces;
        let is_brace =
            at > cause && loses_a_block(it) && is(it, &["misplaced-brace"]) && is_unclosed;
        if is(it, OF_A_LOST_BLOCK) && later || is_brace || is_name {
            held.hold(findings, at, cause);
        }
    }
    let elsewhere = |at: &&usize| {
        is(&findings[**at], &["empty-mix", "unused-mixture", "size-given-twice", "unknown-tin"])
            || is(&findings[**at], &["unknown-ingredient"]) && says_braces
            || findings[**at].message.contains("stands outside of a formula")
    };
    file.iter().filter(elsewhere).for_each(|&at| held.hold(findings, at, cause));
}

/// What a step adds that is written twice, and how long that takes: as grave as the gravest.
fn said_twice(findings: &mut [Finding], own: &[usize], held: &mut Held) {
    let twice = |it: &Finding| is(it, &["said-twice"]) && it.message.contains("in a row");
    let Some(&cause) = own.iter().find(|at| twice(&findings[**at]) && !held.is_held(**at)) else {
        return;
    };
    for &at in own {
        let it = &findings[at];
        let is_time = is(it, &["claim-refuted"]) && it.message.starts_with("`elapsed`");
        if is_time || is(it, &["ingredient-added-twice"]) {
            held.hold_raising(findings, at, cause);
        }
    }
}

/// What follows from a line that is missing, or is not what was meant.
fn lost_line(findings: &mut [Finding], own: &[usize], held: &mut Held) {
    let rank = |at: &usize| LOST_LINES.iter().position(|name| *name == findings[*at].rule.name);
    let causes = own.iter().copied().filter(|at| rank(at).is_some() && !held.is_held(*at));
    let Some(cause) = causes.min_by_key(rank) else { return };
    for &at in own {
        // That a dough is flat on purpose makes no claim false.
        let only_warns = findings[cause].level != Level::Error;
        if is(&findings[at], OF_A_LOST_LINE)
            && !(only_warns && is(&findings[at], &["claim-refuted"]))
        {
            held.hold_raising(findings, at, cause);
        }
    }
}

/// What follows from something in a step that can't be read, and from a dough that is never
/// baked.
fn lost_step(
    findings: &[Finding],
    own: &[usize],
    file: &[usize],
    places: &[FindingPlace],
    held: &mut Held,
) {
    const NEAR: usize = 3;
    let is_time = |it: &Finding| {
        is(it, &["claim-refuted"])
            && (it.message.starts_with("`elapsed`") || it.message.starts_with("`hands-on`"))
    };
    let causes: Vec<usize> = own.iter().copied().filter(|&at| !held.is_held(at)).collect();
    for cause in causes {
        let it = &findings[cause];
        let is_parse = it.rule.group == Group::Parse && it.level == Level::Error;
        for &at in own {
            let other = &findings[at];
            let ends_list =
                is(it, &["misplaced-punctuation"]) && is(other, &["ingredient-never-added"]);
            let again = is_parse
                && at > cause
                && is(other, &["said-twice"])
                && places[at].line.saturating_sub(places[cause].line) < NEAR;
            if ends_list || again || is(it, &["no-bake"]) && is_time(other) {
                held.hold(findings, at, cause);
            }
        }
        let unused = |at: &&usize| is(&findings[**at], &["unused-mixture", "unused-stage"]);
        if is_parse && !is_mended(it) {
            file.iter().filter(unused).for_each(|&at| held.hold(findings, at, cause));
        }
    }
}

/// A stage or mixture that nothing uses, and a name that is not known: one of them is
/// misspelt.
fn misspelt_where_it_is_made(findings: &[Finding], own: &[usize], file: &[usize], held: &mut Held) {
    let unknown = own.iter().copied().find(|&at| {
        findings[at].about.is_some() && is(&findings[at], UNKNOWN) && !held.is_held(at)
    });
    let Some(cause) = unknown else { return };
    let unused = |at: &&usize| is(&findings[**at], &["unused-mixture", "unused-stage"]);
    file.iter().filter(unused).for_each(|&at| held.hold(findings, at, cause));
}

/// Many claims that are false at once are told as one.
fn many_claims(findings: &mut [Finding], own: &[usize], held: &mut Held) {
    // A pinch of salt is told at its line, not again at what is claimed of the salt.
    let pinch = own.iter().copied().find(|&at| is(&findings[at], &["salt-not-weighed"]));
    for &at in pinch.map_or(&[][..], |_| own) {
        let it = &findings[at];
        if is(it, &["claim-refuted"]) && it.message.starts_with("`salt`") && !held.is_held(at) {
            let (told, pinch) = (it.message.clone(), pinch.unwrap_or(at));
            findings[pinch].notes.push(told);
            held.hold_raising(findings, at, pinch);
        }
    }
    let refuted = own.iter().copied().filter(|&at| {
        is(&findings[at], &["claim-refuted"])
            && !findings[at].is_of_health
            && findings[at].level == Level::Error
            && !held.is_held(at)
    });
    let refuted: Vec<usize> = refuted.collect();
    let doubt = own.iter().copied().find(|&at| is(&findings[at], DOUBTS) && !held.is_held(at));
    if let Some(doubt) = doubt.filter(|_| !refuted.is_empty()) {
        findings[doubt].notes.push(match refuted.len() {
            1 => "a claim is false with it".to_owned(),
            count => format!("{count} claims are false with it"),
        });
        refuted.iter().for_each(|&at| held.hold_raising(findings, at, doubt));
        return;
    }
    let [first, others @ ..] = refuted.as_slice() else { return };
    if refuted.len() < MANY_CLAIMS {
        return;
    }
    let said: Vec<String> = others.iter().map(|&at| findings[at].message.clone()).collect();
    let own = &mut findings[*first];
    own.notes.extend(said);
    own.repair = None;
    own.help = Some(format!(
        "{} claims are false together, so look first for one amount that is wrong: a line, the \
         size of a stage, or what is made",
        refuted.len()
    ));
    others.iter().for_each(|&at| held.hold(findings, at, *first));
}
