//! A line, a step or a clause that begins with a word which means nothing there.

use super::{meant, quoted, with_article};
use crate::diag::{Finding, Group, Level, Rule};
use crate::source::Span;
use crate::syntax::abroad;
use crate::syntax::waits::named_wait;

/// `unknown-word`, an error about what a file says.
pub const RULE: Rule = Rule {
    name: "unknown-word",
    level: Level::Error,
    group: Group::Parse,
    page: include_str!("unknown_word.md"),
};

/// A first word that means nothing in a `holder`.
pub fn unknown_word(span: Span, word: &str, holder: &str, near: Option<&str>) -> Finding {
    let (bare, holder) = (holder, with_article(holder));
    let finding = Finding::new(&RULE, span, format!("{holder} has no {}", quoted(word)));
    match near {
        Some(near) => meant(finding, span, near),
        None => finding.help(match bare {
            "file" => {
                "a file holds formulas, `formula my-loaf \"My Loaf\" { … }`, and what they share; \
                 a comment begins with `#`; `assize read FILE` turns a recipe as books print it into \
                 a formula"
            }
            "formula" => {
                "a formula holds `dough` or `total`, stages, `piece`, `method`, `makes` and \
                 `expect`; anything else is a `note \"…\"`, or a comment after `#`"
            }
            "bakehouse" => {
                "a bakehouse says `units`, `measures`, `room`, `zone`, `currency` and the like, \
                 and has mixers, ovens and tins; a comment begins with `#`"
            }
            "ingredient" => {
                "an ingredient says what it `contains`, its composition per 100 g, its `price`; \
                 anything else is a `note \"…\"`, or a comment after `#`"
            }
            _ => "put `#` before it to keep it as a comment",
        }),
    }
}

fn no_such_block(head: &str) -> String {
    match head.trim() {
        "" => "a block has no word before its brace".to_owned(),
        head => format!("a formula has no {}", quoted(head)),
    }
}

/// A block of ours with another word before it.
pub fn block_of_ours(span: Span, head: &str, ours: &str) -> Finding {
    let help = match ours {
        "piece" => {
            "write `piece { … }`: what stands there goes onto each piece, with the weight for one"
                .to_owned()
        }
        ours => format!("write `{ours} {{ … }}`"),
    };
    Finding::new(&RULE, span, no_such_block(head)).help(help).repair(span, ours, false)
}

/// A stage without the word for it.
pub fn stage(span: Span, head: &str, kind: &str, name: &str) -> Finding {
    // A stage has a name and no title.
    let name = name.split('"').next().unwrap_or_default().trim().trim_end_matches(':');
    Finding::new(&RULE, span, no_such_block(head))
        .help(format!("it is made before the dough: write `{kind} {name} {{ … }}`"))
        .repair(span, format!("{kind} {name}"), false)
}

/// `my starter is 100% hydration` in a file.
pub fn culture_meant(span: Span, head: &str, name: &str, water: u32) -> Finding {
    let meant = format!("culture {name} {{ bread flour 100%; water {water}% }}");
    Finding::new(&RULE, span, format!("{} can't be read", quoted(head.trim())))
        .help(format!("what a starter is made of is written `{meant}`, or with another flour"))
        .repair(span, meant, false)
}

/// A side mix without the word for it.
pub fn mixture(span: Span, head: &str) -> Finding {
    let name = head.trim().trim_end_matches(':');
    Finding::new(&RULE, span, no_such_block(head))
        .help(format!(
            "a side mix is written `mixture {name} {{ … }}`, what one piece carries of it \
             `piece {{ {name} 20 g }}`; what is made before the dough and goes into it is a \
             `preferment {name} {{ … }}`"
        ))
        .repair(span, format!("mixture {name}"), false)
}

/// A formula without its word, or with another one; `meant` is its whole head.
pub fn formula_meant(span: Span, written: &str, meant: &str, repaired: &str) -> Finding {
    Finding::new(&RULE, span, format!("a file has no {}", quoted(written)))
        .help(format!("a formula begins with its word, its name and its title: `{meant} {{`"))
        .repair(span, repaired, false)
}

/// A first word that people say for one of ours; `help` says which.
pub fn said_for(span: Span, word: &str, holder: &str, help: &str) -> Finding {
    Finding::new(&RULE, span, format!("{} has no {}", with_article(holder), quoted(word)))
        .help(help)
}

/// A first word that looks like a statement of the block, misspelt.
pub fn statement_meant(span: Span, word: &str, near: &str) -> Finding {
    let message = format!("this line, which begins with {}, can't be read", quoted(word));
    meant(Finding::new(&RULE, span, message), span, near)
}

/// A stage that waits in another word than ours; `time` is how long.
pub fn ripens(span: Span, written: &str, time: &str) -> Finding {
    let time =
        [" bei ", " à ", " a "].iter().fold(time.to_owned(), |time, at| time.replace(at, " at "));
    Finding::new(&RULE, span, format!("a stage has no {}", quoted(written)))
        .help(format!("how long it stands before use is written `ripens {time}`"))
        .repair(span, format!("ripens {time}"), false)
}

/// Letters of a step that is shown whole in what to do about it.
const LONGEST_STEP: usize = 40;

/// No step of a method, with the verb that was perhaps meant; `whole` is the step to its end.
pub fn unknown_verb(span: Span, word: &str, whole: &str, near: Option<&str>) -> Finding {
    // What is turned out is not turned over, which is a verb of ours.
    let two: Vec<&str> = whole.split_whitespace().take(2).collect();
    let shown = if word == "turn" { two.join(" ") } else { word.to_owned() };
    let finding =
        Finding::new(&RULE, span, format!("{} is not a verb of a method", quoted(&shown)));
    let last = whole.split_whitespace().next_back().unwrap_or_default();
    if let (Some(abroad::Verb::Several(help)), true) = (abroad::verb(last), word != last) {
        return finding.help(help);
    }
    let near = match abroad::verb(word) {
        Some(abroad::Verb::Ours(ours)) => Some(ours),
        Some(abroad::Verb::Several(help)) => {
            return finding.help(waits(word, whole).unwrap_or_else(|| help.to_owned()));
        }
        // What is done to tins and boards is no slip of another verb.
        None => near.filter(|_| !NO_SLIPS.contains(&word)),
    };
    let said = whole.split_whitespace().collect::<Vec<_>>().join(" ");
    let is_long = said.chars().count() > LONGEST_STEP || said.contains(['"', '`']);
    // A time that stands in the words alone is lost to a plan.
    let time = named_wait(&said);
    let rest = said.get(word.len()..).unwrap_or_default().trim();
    let begins = rest.starts_with(|letter: char| letter.is_ascii_digit()) && !is_long;
    let timed = time.as_ref().filter(|_| begins).map(|_| format!("step \"{word}\" {rest}"));
    let whole = if is_long { format!("{word} …") } else { said };
    match (near, time) {
        (Some(near), _) => meant(finding, span, near),
        (None, Some(time)) if is_wait(word, &time) => finding.help(which_wait(&time)),
        (None, Some(time)) => finding.help(format!(
            "for anything without a verb of its own, write `{}`",
            timed.unwrap_or_else(|| format!("step \"{whole}\" {time}"))
        )),
        (None, None) => finding
            .help(format!("for anything without a verb of its own, write `step \"{whole}\"`")),
    }
}

/// Whether a time is one of waiting: of a night, in the cold, or after a word for it.
fn is_wait(word: &str, time: &str) -> bool {
    let says = ["sit", "sits", "lie", "relax", "relaxes", "hold", "store", "park", "fridge"];
    time.contains("overnight") || time.contains("fridge") || says.contains(&word)
}

/// Verbs of the kitchen that are no slip of one of ours.
const NO_SLIPS: [&str; 36] = [
    "oil", "grease", "line", "turn", "take", "make", "put", "tip", "lift", "open", "rotate",
    "serve", "mit", "mettre", "mettez", "faire", "dans", "avec", "sur", "con", "nella", "nel",
    "toast", "scald", "crush", "splash", "leaven", "grind", "poner", "sobre", "into", "next",
    "finally", "auf", "dejar", "fare",
];

/// `wait 24 hours`: which verbs wait, with the time that was written.
fn waits(word: &str, whole: &str) -> Option<String> {
    let says = ["wait", "leave", "keep", "let", "stand"];
    let time = whole.get(word.len()..)?.trim();
    let is_time = time.starts_with(|sign: char| sign.is_ascii_digit())
        || time.to_lowercase().starts_with("overnight");
    let is_plain = time.len() <= LONGEST_STEP && !time.contains(['"', '`', '\n']);
    (says.contains(&word.to_lowercase().as_str()) && is_time && is_plain).then(|| which_wait(time))
}

fn which_wait(time: &str) -> String {
    format!(
        "what the dough waits for has its verb: `bulk {time}` before shaping, `proof {time}` after \
         it, `rest {time}` between"
    )
}

/// A step that begins with how long it takes, and has no verb.
pub fn time_without_verb(span: Span, written: &str) -> Finding {
    let said = Finding::new(&RULE, span, format!("{} has no verb", quoted(written)));
    match written.len() <= LONGEST_STEP && !written.contains(['"', '`', '\n']) {
        true => said.help(which_wait(written)),
        false => said.help("a step begins with its verb, such as `proof 1h at 24C`"),
    }
}

/// No clause of a step, with the one that was perhaps meant.
pub fn unknown_clause(span: Span, word: &str, near: Option<&str>) -> Finding {
    let finding = Finding::new(&RULE, span, format!("a step has no {}", quoted(word)));
    if is_speed(word) {
        return speed(span, word);
    }
    let near = near.filter(|_| word.chars().count() > 2);
    match abroad::clause(word).or(near) {
        Some("at") if word != "@" => finding
            .help("how warm it is, is written `at 230C`; anything else goes into `note \"…\"`"),
        Some(near) => meant(finding, span, near),
        None => finding.help("what can't be said otherwise goes into `note \"…\"`"),
    }
}

/// Whether a word says how fast a mixer runs.
pub fn is_speed(word: &str) -> bool {
    let words = ["slow", "slowly", "low", "fast", "quickly", "high", "medium"];
    words.iter().any(|known| known.eq_ignore_ascii_case(word))
}

/// A speed in words: how many a mixer has, it alone knows.
pub fn speed(span: Span, written: &str) -> Finding {
    const FAST: [&str; 16] = [
        "fast",
        "quick",
        "high",
        "second",
        "hoh",
        "höchst",
        "schnell",
        "zweit",
        "grande",
        "rapide",
        "deuxième",
        "alta",
        "rápida",
        "segunda",
        "veloce",
        "massima",
    ];
    let written_small = written.to_lowercase();
    let is_fast = FAST.iter().any(|it| written_small.contains(it));
    let digit = written.chars().find(char::is_ascii_digit);
    let speed = digit.unwrap_or(if is_fast { '2' } else { '1' });
    Finding::new(&RULE, span, format!("a step has no {}", quoted(written)))
        .help(format!("speeds have numbers, 1 the slowest: write `speed {speed}`"))
}
