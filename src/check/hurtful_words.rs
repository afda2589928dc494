//! `eaten-raw` and `lye-out-of-place` in texts: what a note tells people to do with raw dough
//! and with lye, in five languages whatever the house speaks.

use super::context::{Context, PlainText};
use super::speech::{Token, TokenKind, whole_sentences};
use super::{eaten_raw, limits, lye_out_of_place};
use crate::diag::{Finding, Level};
use crate::formula::class::Class;
use crate::quantity::display::percent;
use crate::quantity::ratio;

/// Words for eating; the first are for tasting alone.
const TASTE: &[&str] = &[
    "taste",
    "lick",
    "nibble",
    "goûter",
    "goûtez",
    "goûte",
    "kosten",
    "koste",
    "kostet",
    "naschen",
    "nasche",
    "probieren",
    "probiere",
    "probier",
    "assaggia",
    "assaggiare",
    "assaggiate",
];
const EAT: &[&str] = &[
    "eat", "try", "sample", "snack", "manger", "mangez", "mange", "essen", "esst", "iss", "prueba",
    "probar", "pruebe", "comer", "come", "mangia", "mangiare", "mangiate", "degustar",
];
const DOUGH: &[&str] = &[
    "dough", "batter", "mixture", "pâte", "appareil", "teig", "brotteig", "hefeteig", "masa",
    "impasto", "pastella",
];
const RAW: &[&str] = &[
    "raw",
    "unbaked",
    "uncooked",
    "crue",
    "cru",
    "crus",
    "crues",
    "roh",
    "rohe",
    "rohen",
    "roher",
    "rohes",
    "ungebacken",
    "ungebackenen",
    "cruda",
    "crudo",
    "crude",
    "crudi",
];
/// What takes an order back, or is no order.
const NOT: &[&str] = &[
    "not",
    "no",
    "never",
    "don't",
    "dont",
    "nobody",
    "avoid",
    "without",
    "nor",
    "ne",
    "pas",
    "jamais",
    "nicht",
    "nie",
    "niemals",
    "kein",
    "keinen",
    "keine",
    "nunca",
    "jamás",
    "non",
    "mai",
    "cannot",
    "can't",
    "mustn't",
    "shouldn't",
    "instead",
    "unless",
    "safe",
    "zum",
    "bevor",
];
const PRICE: &[&str] = &[
    "was", "viel", "wieviel", "euro", "eur", "€", "cent", "franken", "chf", "preis", "mehr",
    "weniger",
];
const LYE: &[&str] = &[
    "lye",
    "caustic",
    "natronlauge",
    "lauge",
    "brezellauge",
    "laugenbad",
    "soude",
    "sosa",
    "caustica",
    "cáustica",
    "lejía",
    "lisciva",
];
const PUT_IN: &[&str] = &[
    "dip",
    "dunk",
    "wash",
    "brush",
    "soak",
    "bathe",
    "pour",
    "drizzle",
    "trempez",
    "tremper",
    "plongez",
    "badigeonnez",
    "tauchen",
    "tauche",
    "taucht",
    "bestreichen",
    "legen",
    "sumerge",
    "sumergir",
    "baña",
    "moja",
    "pinta",
    "immergi",
    "immergere",
    "immergete",
    "spennella",
    "bagna",
];
const BAKED: &[&str] = &[
    "baked",
    "cooled",
    "finished",
    "cuits",
    "cuites",
    "cuit",
    "cuite",
    "refroidis",
    "gebackene",
    "gebackenen",
    "fertigen",
    "abgekühlten",
    "horneados",
    "horneadas",
    "horneado",
    "cocidos",
    "cotti",
    "cotto",
    "cotte",
    "sfornati",
];
/// With these, the bake comes after.
const LATER: &[&str] = &[
    "before", "then", "until", "avant", "puis", "ensuite", "vor", "dann", "bis", "werden", "antes",
    "luego", "después", "prima", "poi", "to", "be", "are", "is",
];

/// Adds what a text tells somebody to do that hurts.
pub fn check(context: &Context, said: &PlainText, tokens: &[Token], findings: &mut Vec<Finding>) {
    for words in whole_sentences(tokens) {
        findings.extend(raw_dough(context, said, words));
        findings.extend(baked_in_lye(said, words));
        findings.extend(strong_lye(said, words));
    }
}

/// Whether words could be of something that hurts: no others need to be looked at.
pub fn may_hurt(tokens: &[Token]) -> bool {
    [TASTE, RAW, LYE].iter().any(|list| has(tokens, list))
}

fn has(words: &[Token], list: &[&str]) -> bool {
    words.iter().any(|word| list.contains(&word.key.as_ref()))
}

fn quoted<'s>(said: &'s PlainText, words: &[Token]) -> &'s str {
    let start = words.first().map_or(0, |word| word.start);
    let end = words.last().map_or(start, |word| word.end);
    said.words.get(start..end).unwrap_or_default()
}

/// `Taste the raw dough for salt`: flour is raw, and so is egg.
fn raw_dough(context: &Context, said: &PlainText, words: &[Token]) -> Option<Finding> {
    let tastes = has(words, TASTE);
    // What a dough costs in German is no order to taste it.
    let is_price = has(words, PRICE);
    let is_told =
        tastes && is_order(words) && !is_price || has(words, RAW) && (tastes || has(words, EAT));
    if !is_told || !has(words, DOUGH) || has(words, NOT) {
        return None;
    }
    let held = context.worked.ingredients();
    let egg = held.iter().any(|it| it.class == Class::Egg);
    let what = if egg { "raw flour and raw egg" } else { "raw flour" };
    let text = quoted(said, words);
    let message = format!("this text says `{text}`, and there is {what} in the dough");
    let why = "both may carry bacteria that only baking kills: US FDA, Flour Is a Raw Food, from \
               memory";
    let help = "take the words out of the text; salt is checked by weighing it";
    Some(Finding::new(&eaten_raw::RULE, said.place_of(text), message).note(why).help(help))
}

/// Whether a sentence begins with one of the words for tasting, or one of its parts does.
fn is_order(words: &[Token]) -> bool {
    let begins = |at: usize| words.get(at).is_some_and(|it| TASTE.contains(&it.key.as_ref()));
    let is_break = |word: &Token| matches!(word.kind, TokenKind::Comma | TokenKind::Stop);
    let led = ["and", "then", "et", "puis", "und", "dann", "y", "e", "poi", "den", "la", "l"];
    (0..words.len()).filter(|at| begins(*at)).any(|at| {
        let before = at.checked_sub(1).and_then(|before| words.get(before));
        before.is_none_or(|it| is_break(it) || led.contains(&it.key.as_ref()))
            // German verbs stand at the end.
            || at + 1 == words.len()
    })
}

/// `Dip the baked rolls into lye`: no heat uses it up any more.
fn baked_in_lye(said: &PlainText, words: &[Token]) -> Option<Finding> {
    let is_told = has(words, LYE) && has(words, PUT_IN) && has(words, BAKED);
    if !is_told || has(words, NOT) || has(words, LATER) {
        return None;
    }
    let text = quoted(said, words);
    let message = format!("this text says `{text}`, and no heat follows that would use up the lye");
    Some(
        Finding::new(&lye_out_of_place::RULE, said.place_of(text), message)
            .level(Level::Error)
            .note("it burns mouth and throat")
            .help("pieces are dipped before the bake; take the words out of the text"),
    )
}

/// `a 10 % lye bath`: stronger than food bears.
fn strong_lye(said: &PlainText, words: &[Token]) -> Option<Finding> {
    const NEAR: usize = 4;
    let most = limits::bound("physics of baths", "lye")?;
    let is_lye = |word: &Token| LYE.contains(&word.key.as_ref());
    let mut percents = words.windows(2).enumerate().filter_map(|(at, two)| match two {
        [number, percent] if number.kind == TokenKind::Number && percent.key == "%" => {
            let whole = number.key.split(['.', ',']).next()?.parse::<i64>().ok()?;
            Some((at, whole))
        }
        _ => None,
    });
    let (_, whole) = percents.find(|(at, whole)| {
        let near = words.get(at.saturating_sub(NEAR)..(at + 2 + NEAR).min(words.len()));
        near.is_some_and(|near| near.iter().any(is_lye)) && !most.holds(&ratio(*whole, 100))
    })?;
    if has(words, NOT) {
        return None;
    }
    let text = quoted(said, words);
    let bound = percent(&most.high.unwrap_or_default(), 0);
    let message =
        format!("this text says lye of {whole} %, and more than {bound} % is not used on food");
    Some(
        Finding::new(&lye_out_of_place::RULE, said.place_of(text), message)
            .level(Level::Error)
            .note("stronger lye burns skin and eyes at once")
            .help("write the strength of the bath that is used, or take the words out of the text"),
    )
}
