//! How the language's own words and units are written, and where a line is parted.

use crate::syntax::outline::{Item, Token, TokenKind};
use crate::syntax::read::{BLOCKS, OF_A_FILE, OF_A_FORMULA, OF_A_STAGE, STAGE_NAMES};

/// Where a line is parted for alignment.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AlignPart {
    /// A name and its amount: numbers stand under each other.
    Amount,
    /// A word of the language and what it says.
    Statement,
    /// What is stated of an ingredient: words and numbers mixed.
    Property,
    /// The head of a block that stands on one line.
    Head,
}

/// Statements of two words.
const PAIRS: &[(&str, &str)] = &[
    ("bake", "loss"),
    ("make-up", "loss"),
    ("at", "least"),
    ("may", "contain"),
    ("greased", "with"),
    ("on", "hand"),
    ("knock", "back"),
    ("punch", "down"),
    ("roll", "out"),
];

/// Blocks of a file whose lines are names with amounts.
const OF_LINES: &[&str] = &["culture", "starter", "style", "ingredient"];

fn word<'t>(text: &'t str, token: &Token) -> &'t str {
    &text[token.start as usize..token.end as usize]
}

fn first<'t>(text: &'t str, item: &Item) -> Option<&'t str> {
    let token = item.tokens.first().filter(|token| token.kind == TokenKind::Word)?;
    Some(word(text, token))
}

fn is_one_of(word: &str, known: &[&str]) -> bool {
    known.iter().any(|known| known.eq_ignore_ascii_case(word))
}

/// Whether an item is a `method` block.
pub fn is_method(text: &str, item: &Item) -> bool {
    first(text, item).is_some_and(|word| word.eq_ignore_ascii_case("method"))
}

/// Whether a block begins with a word of the language, or the name of a stage.
pub fn is_known_block(text: &str, item: &Item) -> bool {
    first(text, item).is_none_or(|word| {
        opens_a_block(word)
            || is_one_of(word, OF_A_STAGE)
            || is_one_of(word, BLOCKS)
            || STAGE_NAMES.iter().any(|name| {
                name.split(' ').next().is_some_and(|name| name.eq_ignore_ascii_case(word))
            })
    })
}

fn opens_a_block(word: &str) -> bool {
    is_one_of(word, OF_A_FILE) || is_one_of(word, OF_A_FORMULA)
}

/// A token as it is written: the language's own words in lower case.
pub fn spelling(text: &str, item: &Item, index: usize) -> String {
    let token = &item.tokens[index];
    let own = word(text, token);
    match token.kind {
        TokenKind::Word if index == 0 => match own.to_ascii_lowercase().as_str() {
            "starter" if item.block.is_some() => "culture".into(),
            "claims" if item.block.is_some() => "expect".into(),
            // Only blocks open with a word that can't be a name there.
            lower if item.block.is_some() && opens_a_block(lower) => lower.into(),
            _ => own.into(),
        },
        TokenKind::Sign if matches!(own, "-" | "–" | "—") && is_range_dash(text, item, index) => {
            "..".into()
        }
        TokenKind::Text { .. } => own.replace("\r\n", "\n"),
        _ => own.into(),
    }
}

/// Units that stand apart from their number.
pub fn is_parted(unit: &str) -> bool {
    matches!(
        unit,
        "mg" | "g"
            | "kg"
            | "oz"
            | "lb"
            | "lbs"
            | "ml"
            | "cl"
            | "dl"
            | "l"
            | "tsp"
            | "tsps"
            | "tbsp"
            | "tbsps"
            | "cup"
            | "cups"
            | "fl-oz"
            | "part"
            | "parts"
            | "kcal"
            | "kJ"
    )
}

/// Units that touch their number.
pub fn is_tight_unit(unit: &str) -> bool {
    matches!(unit, "s" | "min" | "h" | "d" | "C" | "F" | "x")
}

/// A dash that stands between two numbers means a range.
pub fn is_range_dash(text: &str, item: &Item, index: usize) -> bool {
    let after = item.tokens.get(index + 1);
    index.checked_sub(1).is_some_and(|before| ends_amount(text, item, before))
        && after.is_some_and(|token| token.kind == TokenKind::Number)
}

/// Whether a token ends a number with its unit, which may stand apart from it.
pub fn ends_amount(text: &str, item: &Item, index: usize) -> bool {
    let Some(token) = item.tokens.get(index) else { return false };
    match token.kind {
        TokenKind::Number | TokenKind::Unit => true,
        TokenKind::Word => {
            let word = &text[token.start as usize..token.end as usize];
            let number = index.checked_sub(1).and_then(|before| item.tokens.get(before));
            (is_parted(word) || is_tight_unit(word))
                && number.is_some_and(|token| token.kind == TokenKind::Number)
        }
        _ => false,
    }
}

/// Where the first statement of a line is parted, as bytes of its canonical form.
pub fn split(
    text: &str,
    item: &Item,
    parent: Option<&Item>,
    written: &str,
) -> Option<(usize, AlignPart)> {
    let opener = first(text, item)?;
    let block = parent.and_then(|parent| first(text, parent));
    let in_stage = |block: &str| {
        STAGE_NAMES.iter().any(|name| name.split(' ').next() == Some(&*block.to_ascii_lowercase()))
    };
    let in_formula = |block: &str| {
        (is_one_of(block, BLOCKS) || in_stage(block)) && !is_one_of(block, &["method"])
    };
    let in_lines = block.is_some_and(|block| is_one_of(block, OF_LINES) || in_formula(block));
    let in_ingredient = block.is_some_and(|block| is_one_of(block, &["ingredient"]));
    let two = item.tokens.get(1).filter(|token| token.kind == TokenKind::Word);
    let pair = two.is_some_and(|second| {
        PAIRS.iter().any(|(one, other)| {
            one.eq_ignore_ascii_case(opener) && other.eq_ignore_ascii_case(word(text, second))
        })
    });
    parent?;
    if is_one_of(opener, &["without", "percentages"]) {
        return None;
    }
    let in_method = block.is_some_and(|block| is_one_of(block, &["method"]));
    if item.block.is_some() && !in_method {
        return None;
    }
    if in_ingredient {
        let at = amount_at(written).or_else(|| after_words(written, 1))?;
        if pair {
            return after_words(written, 2).map(|at| (at, AlignPart::Property));
        }
        let opener_only = is_one_of(
            opener,
            &["contains", "animal", "also", "called", "source", "price", "pack", "volume", "each"],
        );
        let at = if opener_only { after_words(written, 1)? } else { at };
        return Some((at, AlignPart::Property));
    }
    if pair {
        return after_words(written, 2).map(|at| (at, AlignPart::Statement));
    }
    let is_statement = is_one_of(opener, OF_A_STAGE) || opener.eq_ignore_ascii_case("at");
    if in_lines && !is_statement {
        if let Some(at) = amount_at(written) {
            return Some((at, AlignPart::Amount));
        }
        return None;
    }
    after_words(written, 1).map(|at| (at, AlignPart::Statement))
}

/// Where the head of a one-line block is parted from its brace, among settings of a house.
pub fn split_head(text: &str, parent: Option<&Item>, written: &str) -> Option<(usize, AlignPart)> {
    let block = first(text, parent?)?;
    is_one_of(block, &["bakehouse"]).then_some((written.len() + 1, AlignPart::Head))
}

/// Behind so many words and the blank that follows.
fn after_words(written: &str, count: usize) -> Option<usize> {
    let mut from = 0;
    for _ in 0..count {
        from += written.get(from..)?.find(' ')? + 1;
    }
    Some(from)
}

/// Where the amount of a line begins.
fn amount_at(written: &str) -> Option<usize> {
    for soft in [" to taste", " as needed", " the rest", " all"] {
        if let Some(at) = written.find(soft) {
            let behind = &written[at + soft.len()..];
            if at > 0 && (behind.is_empty() || behind.starts_with(' ')) {
                return Some(at + 1);
            }
        }
    }
    let mut quoted = false;
    let mut in_role = false;
    let mut before = ' ';
    for (at, letter) in written.char_indices() {
        match letter {
            '"' => quoted = !quoted,
            // A role may hold a number: `Mehl (Type 550)`.
            '(' | ')' if !quoted => in_role = letter == '(',
            _ => {}
        }
        let begins = letter.is_ascii_digit() || "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞".contains(letter);
        let open = written[at..].starts_with("..");
        let is_amount = (begins || open) && !is_number_of_name(&written[at..]);
        if !quoted && !in_role && before == ' ' && at > 0 && is_amount {
            return Some(at);
        }
        before = letter;
    }
    None
}

/// Whether a number is part of a name, since another one follows: `Mehl Type 550 500 g`.
fn is_number_of_name(written: &str) -> bool {
    let mut words = written.split(' ');
    let (own, next) = (words.next().unwrap_or_default(), words.next().unwrap_or_default());
    let is_whole = |word: &str| word.bytes().all(|byte| byte.is_ascii_digit());
    let is_fraction = next.contains(['/', '\u{2044}']) || !next.is_ascii();
    let is_thousands = own.len() <= 3 && next.len() == 3 && next.starts_with('0');
    is_whole(own)
        && next.starts_with(|letter: char| letter.is_ascii_digit())
        && !is_fraction
        && !is_thousands
}
