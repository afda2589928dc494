//! Steps of a recipe: a text each, with the time and the heat where the verb is one of ours.

use crate::check::speech::{
    self, AmountReading, Language, Measure, Sentence, TokenKind, read_named, spelled, unparted,
};
use crate::quantity::display::trimmed;
use crate::quantity::{Dimension, Exact, Measures, Unit, gas_mark, int};
use crate::syntax::NIGHTS;

/// The verbs whose time a sentence may tell.
const VERBS: [&str; 6] = ["autolyse", "mix", "bulk", "proof", "bake", "cool"];

/// Steps as a formula has them, from texts that are ready to stand in quotes. Where no step
/// is one that mixes all there is, the first takes it in.
pub fn steps(texts: &[String], language: &'static Language) -> Vec<String> {
    let mut is_shaped = false;
    let timed = texts.iter().map(|text| {
        // What is shaped first rises as what is shaped.
        let time = text.find(|it: char| it.is_ascii_digit()).unwrap_or(text.len());
        let shape = shapes(text);
        let step = timed(text, language, is_shaped || shape.is_some_and(|at| at < time));
        is_shaped |= shape.is_some();
        step
    });
    let timed: Vec<Option<String>> = timed.collect();
    let is_mixed = timed.iter().flatten().any(|step| step.starts_with("mix "));
    let first = takes_all(texts, language);
    let step = |(at, (text, timed)): (usize, (&String, Option<String>))| {
        let takes = if at == first && !is_mixed { " with everything" } else { "" };
        match timed {
            Some(timed) => format!("{timed}{takes} note \"{text}\""),
            None => format!("step \"{text}\"{takes}"),
        }
    };
    texts.iter().zip(timed).enumerate().map(step).collect()
}

/// Which step takes in all there is: the first that is not about a starter that ripens.
fn takes_all(texts: &[String], language: &'static Language) -> usize {
    texts
        .iter()
        .position(|text| !is_of_starter(text, language) && !is_slogan(text))
        .unwrap_or_default()
}

/// Whether a text only praises: `Vegan and nut-free!` is no work, and says what is not in it.
pub fn is_slogan(text: &str) -> bool {
    /// So few words are no sentence about work.
    const MOST: usize = 6;
    const CLAIMS: [&str; 9] =
        ["vegan", "vegane", "veganes", "végane", "végan", "vegano", "vegana", "free", "frei"];
    let tokens = speech::tokens(text);
    let words = || tokens.iter().filter(|token| token.kind == TokenKind::Word);
    let is_short = words().count() <= MOST;
    let has_number = tokens.iter().any(|token| token.kind == TokenKind::Number);
    let claims = |token: &speech::Token| {
        let key = token.key.as_ref();
        CLAIMS.contains(&key) || key.ends_with("frei") || key.ends_with("free")
    };
    // `Sans lait !`
    let denies = |token: &speech::Token| {
        ["without", "sans", "ohne", "sin", "senza"].contains(&token.key.as_ref())
    };
    let is_claim = words().any(claims) || text.trim_end().ends_with('!') && words().any(denies);
    if !is_short || has_number || !is_claim {
        return false;
    }
    let sentence = unparted(text, &tokens, Language::all());
    !sentence.found.iter().any(|it| it.tag.kind == "verb" || it.tag.word == "act")
}

/// Where a step gives the pieces their form, in bytes of the text in small letters.
fn shapes(text: &str) -> Option<usize> {
    const SHAPED: [&str; 18] = [
        "shape",
        "shaping",
        "form into",
        "roll into",
        "tin",
        "banneton",
        "basket",
        "façonne",
        "formez",
        "boule",
        "formen",
        "wirken",
        "gärkorb",
        "forma",
        "moldea",
        "bolea",
        "pirla",
        "formare",
    ];
    let lower = text.to_lowercase();
    SHAPED.iter().filter_map(|word| lower.find(word)).min()
}

/// The sentences of a paragraph, where it has several.
pub fn sentences(text: &str) -> Vec<String> {
    let mut all = Vec::new();
    let mut from = 0;
    for (at, mark) in text.match_indices(['.', '!', '?']) {
        let end = at + mark.len();
        let after = text[end..].trim_start();
        let begins = after.trim_start_matches(['¡', '¿', '(', '"', '“']);
        let before = text[from..at].rsplit(' ').next().unwrap_or_default();
        // `c. à s.` and `approx. 3` end no sentence.
        let is_short = before.chars().count() < 3 && before.chars().all(char::is_alphabetic);
        if begins.starts_with(char::is_uppercase) && after.len() < text[end..].len() && !is_short {
            all.push(text[from..end].trim().to_owned());
            from = text.len() - after.len();
        }
    }
    all.push(text[from..].trim().to_owned());
    all.retain(|sentence| !sentence.is_empty());
    all
}

/// A text that says several steps, parted before each of them that has a time: every word stays.
/// None where one of its times is of no step of ours; itself alone where there is nothing to
/// part.
pub fn parted(text: &str, language: &'static Language) -> Option<Vec<String>> {
    const JOINTS: [&str; 24] = [
        ". ",
        "; ",
        ", ",
        " then ",
        " and ",
        " before ",
        " puis ",
        " et ",
        " ensuite ",
        " dann ",
        " und ",
        " anschließend ",
        " danach ",
        " luego ",
        " y ",
        " después ",
        " poi ",
        " e ",
        " quindi ",
        " – ",
        " — ",
        ": ",
        "! ",
        " afterwards ",
    ];
    let tokens = speech::tokens(text);
    let sentence = unparted(text, &tokens, language);
    let byte = |at: usize| sentence.tokens.get(at).map_or(text.len(), |token| token.start);
    let times: Vec<usize> = speech::amounts(&sentence)
        .iter()
        .filter(|it| it.measure.dimension() == Dimension::Time)
        .map(|it| byte(it.from))
        .collect();
    if says_more(&sentence) {
        return None;
    }
    if times.is_empty() || timed(text, language, false).is_some() {
        return Some(vec![text.to_owned()]);
    }
    let (mut cuts, mut end) = (Vec::new(), text.len());
    for (index, time) in times.iter().enumerate().rev() {
        let from = index.checked_sub(1).and_then(|before| times.get(before)).copied();
        let between = text.get(from.unwrap_or_default()..*time)?;
        let mut joints: Vec<usize> = JOINTS
            .iter()
            .flat_map(|joint| between.match_indices(joint).map(|(at, joint)| (at, joint.len())))
            // The mark stays with what it ends, the word with what it begins.
            .map(|(at, length)| {
                let ends = between[at..].starts_with(|it: char| !it.is_whitespace());
                from.unwrap_or_default() + at + if ends { length } else { 1 }
            })
            .collect();
        joints.sort_unstable();
        let is_step = |at: &usize| {
            text.get(*at..end).is_some_and(|own| timed(own.trim(), language, false).is_some())
        };
        match joints.into_iter().rev().find(is_step) {
            Some(at) => {
                cuts.push(at);
                end = at;
            }
            None if index == 0 && is_step(&0) => {}
            None => return None,
        }
    }
    cuts.reverse();
    let starts = std::iter::once(0).chain(cuts.iter().copied());
    let ends = cuts.iter().copied().chain([text.len()]);
    let parts = starts.zip(ends).filter_map(|(from, to)| text.get(from..to));
    Some(parts.map(|it| it.trim().to_owned()).filter(|it| !it.is_empty()).collect())
}

/// Whether a text says a time or a heat that no number with its unit tells: `overnight`, `15 more
/// minutes`, an oven `at 375`.
fn says_more(sentence: &Sentence) -> bool {
    /// What may speak of a night beside [`NIGHTS`].
    const OF_NIGHTS: [&str; 4] = ["a night", "the night", "eine nacht", "next day"];
    const MORE: [&str; 20] = [
        "more",
        "further",
        "extra",
        "additional",
        "weitere",
        "weiteren",
        "autres",
        "más",
        "altri",
        "ulteriori",
        "another",
        "further",
        "noch",
        "encore",
        "otros",
        "otras",
        "altre",
        "zusätzliche",
        "supplémentaires",
        "ancora",
    ];
    let key = |at: usize| sentence.tokens.get(at).map_or("", |token| token.key.as_ref());
    let amounts = speech::amounts(sentence);
    let is_told = |at: usize| {
        amounts.iter().any(|it| it.from <= at && at < it.to && it.measure != Measure::Bare)
    };
    let words: Vec<&str> = sentence.tokens.iter().map(|token| token.key.as_ref()).collect();
    let said = format!(" {} ", words.join(" "));
    let mut nights = NIGHTS.iter().chain(&OF_NIGHTS);
    let is_night = nights.any(|night| said.contains(&format!(" {night} ")));
    let is_number =
        |at: &usize| sentence.tokens.get(*at).is_some_and(|token| token.kind == TokenKind::Number);
    let mut bare = (0..sentence.tokens.len()).filter(|at| is_number(at) && !is_told(*at));
    // What is a number of degrees and says no scale.
    let is_heat = |at: usize| {
        let is_oven = key(at).parse::<u32>().is_ok_and(|number| (100..=550).contains(&number));
        let is_led = at.checked_sub(1).is_some_and(|before| {
            ["at", "to", "à", "bei", "auf", "a", "on"].contains(&key(before))
        });
        is_oven && (is_led || sentence.text.contains('@'))
    };
    let is_more = |at: usize| {
        let before = at.checked_sub(1).map_or("", key);
        MORE.contains(&key(at + 1)) || MORE.contains(&before)
    };
    // `20 + 15 minutes`, `2 x 45 minutes`: more than the number with the unit says.
    let is_time = |at: usize| {
        let mut amounts = amounts.iter();
        amounts.any(|it| it.from == at && it.measure.dimension() == Dimension::Time)
    };
    let before_time = |from: usize| {
        let joined = (from..from + 3).take_while(|at| JOINS.contains(&key(*at))).count();
        (from..=from + joined).any(is_time)
    };
    let is_part = |at: usize| before_time(at + 1);
    let is_times = |at: usize| {
        let is_twice = TWICE.contains(&key(at));
        let is_after = amounts.iter().any(|it| {
            it.measure.dimension() == Dimension::Time
                && (at == it.to || at == it.to + 1 && JOINS.contains(&key(it.to)))
        });
        let is_by = |word: &str| {
            let rest = word.strip_prefix(['x', '×']);
            rest.is_some_and(|rest| !rest.is_empty() && rest.bytes().all(|it| it.is_ascii_digit()))
        };
        is_twice && (before_time(at + 1) || is_after)
            || is_after && (matches!(key(at), "x" | "×") || is_by(key(at)))
    };
    let keys: Vec<&str> = (0..sentence.tokens.len()).map(key).collect();
    // `four plus three minutes`
    let is_spelled_part = |at: usize| {
        const ONE: [&str; 9] = ["a", "an", "one", "un", "une", "ein", "eine", "uno", "una"];
        let words = keys.get(at..).and_then(|rest| spelled(rest, "")).map_or(0, |it| it.words);
        words > 0
            && !is_told(at)
            && !ONE.contains(&key(at))
            && JOINS.contains(&key(at + words))
            && before_time(at + words)
    };
    // `20 and 15 minutes` are two times, and `between 20 and 25` is one.
    let is_number_at =
        |at: usize| sentence.tokens.get(at).is_some_and(|it| it.kind == TokenKind::Number);
    let is_sum = |it: &speech::Amount| {
        let is_and = |at: usize| {
            ["and", "et", "und", "y", "e"].contains(&key(at))
                && is_number_at(at.saturating_sub(1))
                && is_number_at(at + 1)
        };
        let is_between = it
            .from
            .checked_sub(1)
            .is_some_and(|at| ["between", "entre", "zwischen", "tra", "fra"].contains(&key(at)));
        it.measure.dimension() == Dimension::Time && !is_between && (it.from..it.to).any(is_and)
    };
    is_night
        || amounts.iter().any(is_sum)
        || (0..keys.len()).any(|at| is_times(at) || is_spelled_part(at))
        || bare.any(|at| is_more(at) || is_heat(at) || is_part(at))
}

/// What may stand between two numbers of one time.
const JOINS: [&str; 21] = [
    ",", "/", "–", "x", "×", "plus", "and", "then", "und", "dann", "et", "puis", "y", "luego", "e",
    "poi", "mal", "fois", "veces", "volte", "times",
];

/// Words that say a time several times.
const TWICE: [&str; 12] = [
    "twice",
    "thrice",
    "zweimal",
    "dreimal",
    "viermal",
    "dos veces",
    "deux fois",
    "due volte",
    "tres veces",
    "trois fois",
    "tre volte",
    "double",
];

/// Whether a text tells how long a starter ripens.
pub fn is_of_starter(text: &str, language: &'static Language) -> bool {
    let tokens = speech::tokens(text);
    let sentence = unparted(text, &tokens, language);
    let named = read_named(&sentence, language);
    let is_long = speech::amounts(&sentence).iter().any(|it| {
        it.measure.dimension() == Dimension::Time
            && it.readings.iter().any(|told| told.low >= int(120))
    });
    is_long && named.has("the-levain", &named.whole())
}

/// `bake 40min at 230C`, where a text says one verb with one time; `after` is whether pieces
/// are shaped already.
fn timed(text: &str, language: &'static Language, after: bool) -> Option<String> {
    let tokens = speech::tokens(text);
    let sentence = unparted(text, &tokens, language);
    let found = sentence.found.iter().filter(|it| it.tag.kind == "verb");
    let mut verbs: Vec<&str> = found.map(|it| it.tag.word).collect();
    verbs.sort_unstable();
    verbs.dedup();
    let whole = sentence.whole();
    let named = read_named(&sentence, language);
    // `Let rise for 2 hours.`
    let left = match () {
        () if !verbs.is_empty() => None,
        () if named.has("rise", &whole) => Some(if after { "proof" } else { "bulk" }),
        () if named.has("stand", &whole)
            && (named.has("let", &whole) || named.word_at("stand", 0).is_some()) =>
        {
            Some("rest")
        }
        () => None,
    };
    let verb = match (verbs.as_slice(), &left) {
        ([verb], _) => verb,
        ([], Some(verb)) => verb,
        _ => return None,
    };
    if says_more(&sentence) {
        return None;
    }
    let is_doubtful = ["unreal", "every", "apiece"].iter().any(|word| sentence.has(word, &whole));
    if !VERBS.contains(verb) && *verb != "rest" || is_doubtful {
        return None;
    }
    let amounts = speech::amounts(&sentence);
    let of = |dimension| amounts.iter().filter(move |it| it.measure.dimension() == dimension);
    let mut times = of(Dimension::Time);
    let (Some(time), None) = (times.next(), times.next()) else { return None };
    let told = time.readings.first()?;
    // Nobody mixes for hours: what is mixed then stands.
    if *verb == "mix" && told.high > int(60) {
        return None;
    }
    let time = duration(told)?;
    let heat = of(Dimension::Temperature).find(|it| it.measure == Measure::Unit(Unit::Celsius));
    let heat = heat.or_else(|| {
        of(Dimension::Temperature).find(|it| it.measure == Measure::Unit(Unit::Fahrenheit))
    });
    let heat = heat.and_then(|heat| Some((heat.readings.first()?, heat.measure)));
    let heat = heat.filter(|(heat, _)| *verb == "bake" || heat.low <= int(45));
    let heat = heat.map(|(heat, measure)| format!(" at {}", degrees(heat, measure)));
    let gas = || {
        let mark = gas_mark_in(&sentence).filter(|_| *verb == "bake")?;
        Some(format!(" at {}C", trimmed(&mark, 0)))
    };
    let heat = heat.or_else(gas);
    // `180 Grad`: in English they may be of either scale.
    let bare = of(Dimension::Temperature).find(|it| it.measure == Measure::Degrees);
    let heat = match (heat, bare) {
        (Some(heat), _) => heat,
        (None, None) => String::new(),
        (None, Some(_)) if matches!(language.code, "" | "en") => return None,
        (None, Some(bare)) => {
            let written = sentence.tokens.get(bare.from).map_or("", |token| token.key.as_ref());
            let degrees = written.parse::<u32>().ok()?;
            let is_told = *verb == "bake" || degrees <= 45;
            if is_told { format!(" at {degrees}C") } else { String::new() }
        }
    };
    let is_cold = ["bulk", "proof", "rest"].contains(verb) && heat.is_empty() && is_in_fridge(text);
    let place = if is_cold { " in fridge" } else { "" };
    Some(format!("{verb} {time}{heat}{place}"))
}

/// Whether words name a refrigerator.
fn is_in_fridge(text: &str) -> bool {
    const FRIDGES: [&str; 9] = [
        "fridge",
        "refrigerator",
        "réfrigérateur",
        "frigo",
        "kühlschrank",
        "nevera",
        "frigorífico",
        "refrigerador",
        "heladera",
    ];
    let lower = text.to_lowercase();
    FRIDGES.iter().any(|word| lower.contains(word))
}

/// The heat of `gas mark 7`, in °C.
fn gas_mark_in(sentence: &Sentence) -> Option<Exact> {
    let key = |at: usize| sentence.tokens.get(at).map_or("", |token| token.key.as_ref());
    (0..sentence.tokens.len()).filter(|at| key(*at) == "gas").find_map(|at| {
        let number = if key(at + 1) == "mark" { at + 2 } else { at + 1 };
        gas_mark(&super::numbers::number(key(number))?.low)
    })
}

fn duration(told: &AmountReading) -> Option<String> {
    let shown = |minutes: &Exact| {
        let hours = minutes.one_in::<60>();
        match hours.is_int() && *minutes >= int(60) {
            true => format!("{}h", trimmed(&hours, 0)),
            false => format!("{}min", trimmed(minutes, 0)),
        }
    };
    let is_time = told.low >= Exact::ONE
        && told.low <= told.high
        && told.high <= int(7 * 24 * 60)
        && told.low.is_int();
    is_time.then(|| match told.low == told.high {
        true => shown(&told.low),
        false => format!("{}..{}", shown(&told.low), shown(&told.high)),
    })
}

fn degrees(told: &AmountReading, measure: Measure) -> String {
    let (unit, letter) = match measure {
        Measure::Unit(Unit::Fahrenheit) => (Unit::Fahrenheit, "F"),
        _ => (Unit::Celsius, "C"),
    };
    let shown = |value: &Exact| {
        format!("{}{letter}", trimmed(&unit.count_in(value, Measures::default()), 0))
    };
    match told.low == told.high {
        true => shown(&told.low),
        false => format!("{}..{}", shown(&told.low), shown(&told.high)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_and_heat_are_read_where_the_verb_is_ours() {
        let language = |code| Language::of_house(Some(code)).last().expect("known");
        for (code, text, wanted) in [
            ("en", "Bake for 40 minutes at 230 °C.", "bake 40min at 230C"),
            ("en", "Bake for 40 minutes at 450 °F.", "bake 40min at 450F"),
            ("en", "Knead for ten minutes.", "mix 10min"),
            ("en", "Prove for 1 to 2 hours.", "proof 1h..2h"),
            ("fr", "Faites cuire 45 minutes à 240 °C.", "bake 45min at 240C"),
            ("de", "Das Brot 50 Minuten bei 230 °C backen.", "bake 50min at 230C"),
            ("es", "Hornear 35 minutos a 220 °C.", "bake 35min at 220C"),
            ("it", "Cuocere per 40 minuti a 220 °C.", "bake 40min at 220C"),
            ("en", "Mix the starter and leave it for 8 hours.", ""),
            ("en", "Mix, then bake for 40 minutes.", ""),
            ("en", "If it is pale, bake for 5 minutes.", ""),
            ("en", "Shape into a ball.", ""),
            ("en", "Rise overnight in the fridge for 10 hours.", ""),
            ("en", "Bake at 220 C for 40 min, then reduce to 200 C for 15 more minutes.", ""),
            ("en", "Bake 450F for 30 mins, then reduce to 400F for 15 more.", ""),
            ("en", "Bake 30 min at 375.", ""),
            ("en", "Bake @ 375 for 45 min", ""),
            ("en", "Bake at 90C for 5 min.", "bake 5min at 90C"),
            ("fr", "Laisser lever 2 h puis une nuit au réfrigérateur.", ""),
            ("de", "2 Stunden und dann über Nacht gehen lassen.", ""),
            ("en", "Let rise for 2 hours at 24 °C.", "bulk 2h at 24C"),
            ("en", "Leave the dough to rest for 30 minutes.", "rest 30min"),
            ("en", "Bake at gas mark 7 for 40 minutes.", "bake 40min at 220C"),
            ("en", "Bake for 40 minutes at 230 °C (gas 8).", "bake 40min at 230C"),
            ("fr", "Laissez lever 2 heures à 24 °C.", "bulk 2h at 24C"),
            ("fr", "Laisser pousser 1 h 30 à 26 °C.", "bulk 90min at 26C"),
            ("de", "Den Teig 2 Stunden bei 24 °C gehen lassen.", "bulk 2h at 24C"),
            ("es", "Deja fermentar 2 horas a 24 °C.", "bulk 2h at 24C"),
            ("it", "Lascia lievitare 2 ore a 24 °C.", "bulk 2h at 24C"),
            ("en", "Bake 20 + 15 minutes at 230 °C.", ""),
            ("en", "Mix for 4 + 3 minutes.", ""),
            ("en", "Mix for four plus three minutes.", ""),
            ("en", "Rise 2 x 45 minutes.", ""),
            ("en", "Rise 45 minutes x 2.", ""),
            ("en", "Rise twice 45 minutes.", ""),
            ("fr", "Pétrir 4 + 3 minutes.", ""),
            ("fr", "Laisser lever 2 fois 45 minutes.", ""),
            ("de", "20 + 15 Minuten bei 230 °C backen.", ""),
            ("de", "Den Teig 2 x 45 Minuten gehen lassen.", ""),
            ("es", "Hornear 20 + 15 minutos a 220 °C.", ""),
            ("es", "Dejar fermentar 2 veces 45 minutos.", ""),
            ("it", "Cuocere 20 e 15 minuti a 220 °C.", ""),
            ("en", "Proof 10-12 hours in the fridge.", "proof 10h..12h in fridge"),
            ("de", "12 Stunden im Kühlschrank gehen lassen.", "bulk 12h in fridge"),
            ("fr", "Laisser lever 12 heures au réfrigérateur.", "bulk 12h in fridge"),
            ("de", "35 Minuten bei 180 Grad backen.", "bake 35min at 180C"),
            ("es", "Hornear 30 minutos a 180 grados.", "bake 30min at 180C"),
        ] {
            assert_eq!(timed(text, language(code), false).unwrap_or_default(), wanted, "{text}");
        }
    }

    #[test]
    fn a_text_of_several_steps_is_parted_before_each_and_loses_no_word() {
        let language = |code| Language::of_house(Some(code)).last().expect("known");
        for (code, text, wanted) in [
            (
                "en",
                "Mix for 10 minutes, let rise for 2 hours and bake for 40 minutes at 230 °C.",
                3,
            ),
            ("en", "Mix, then bake for 40 minutes.", 2),
            ("en", "Knead for ten minutes. Prove for 1 hour. Bake for 40 minutes.", 3),
            ("en", "Bake for 40 minutes.", 1),
            ("en", "Shape into a ball.", 1),
            (
                "fr",
                "Pétrir 10 minutes, puis laisser lever 2 heures et cuire 40 minutes à 230 °C.",
                3,
            ),
            (
                "de",
                "10 Minuten kneten, 2 Stunden gehen lassen und 40 Minuten bei 230 °C backen.",
                3,
            ),
            ("es", "Amasar 10 minutos, dejar fermentar 2 horas y hornear 40 minutos a 220 °C.", 3),
            (
                "it",
                "Impastare 10 minuti, lasciare lievitare 2 ore e cuocere 40 minuti a 220 °C.",
                3,
            ),
        ] {
            let parts = parted(text, language(code)).unwrap_or_default();
            assert_eq!(parts.len(), wanted, "{text}: {parts:?}");
            assert_eq!(parts.join(" "), text);
            let timed = parts.iter().filter(|it| timed(it, language(code), false).is_some());
            let times = text.matches(|it: char| it.is_ascii_digit()).count();
            assert!(times == 0 || timed.count() + 1 >= wanted, "{parts:?}");
        }
        assert_eq!(parted("Feed it, wait 8 hours, mix for 10 minutes.", language("en")), None);
    }

    #[test]
    fn a_paragraph_is_parted_into_its_sentences() {
        for (text, wanted) in [
            ("Mix. Rest for 30 min. Bake at 230 °C.", 3),
            ("Add 1 c. à s. de miel. Pétrissez.", 2),
            ("Bake it at 200.5 °C, approx. 40 minutes", 1),
            ("Mezcla todo. ¡Listo! Hornea.", 3),
        ] {
            assert_eq!(sentences(text).len(), wanted, "{text}: {:?}", sentences(text));
        }
    }
}
