//! Steps of a recipe: a text each, with the time and the heat where the verb is one of ours.

use crate::check::speech::{self, Language, Measure, Reading, unparted};
use crate::quantity::display::trimmed;
use crate::quantity::{Dimension, Exact, Measures, Unit, int};

/// The verbs whose time a sentence may tell.
const VERBS: [&str; 6] = ["autolyse", "mix", "bulk", "proof", "bake", "cool"];

/// Steps as a formula has them, from texts that are ready to stand in quotes. Where no step
/// is one that mixes all there is, the first takes it in.
pub fn steps(texts: &[String], language: &'static Language) -> Vec<String> {
    let timed: Vec<Option<String>> = texts.iter().map(|text| timed(text, language)).collect();
    let is_mixed = timed.iter().flatten().any(|step| step.starts_with("mix "));
    let step = |(at, (text, timed)): (usize, (&String, Option<String>))| {
        let takes = if at == 0 && !is_mixed { " with everything" } else { "" };
        match timed {
            Some(timed) => format!("{timed}{takes} note \"{text}\""),
            None => format!("step \"{text}\"{takes}"),
        }
    };
    texts.iter().zip(timed).enumerate().map(step).collect()
}

/// `bake 40min at 230C`, where a text says one verb with one time.
fn timed(text: &str, language: &'static Language) -> Option<String> {
    let tokens = speech::tokens(text);
    let sentence = unparted(text, &tokens, language);
    let found = sentence.found.iter().filter(|it| it.tag.kind == "verb");
    let mut verbs: Vec<&str> = found.map(|it| it.tag.word).collect();
    verbs.sort_unstable();
    verbs.dedup();
    let [verb] = verbs.as_slice() else { return None };
    let whole = sentence.whole();
    let is_doubtful = ["unreal", "every", "apiece"].iter().any(|word| sentence.has(word, &whole));
    if !VERBS.contains(verb) || is_doubtful {
        return None;
    }
    let amounts = speech::amounts(&sentence);
    let of = |dimension| amounts.iter().filter(move |it| it.measure.dimension() == dimension);
    let mut times = of(Dimension::Time);
    let (Some(time), None) = (times.next(), times.next()) else { return None };
    let time = duration(time.readings.first()?)?;
    let heat = of(Dimension::Temperature).find(|it| it.measure == Measure::Unit(Unit::Celsius));
    let heat = heat.or_else(|| {
        of(Dimension::Temperature).find(|it| it.measure == Measure::Unit(Unit::Fahrenheit))
    });
    let heat = heat.and_then(|heat| Some((heat.readings.first()?, heat.measure)));
    let heat = heat.filter(|(heat, _)| {
        *verb == "bake" && heat.low >= int(100) || *verb != "bake" && heat.low <= int(45)
    });
    let heat = heat.map(|(heat, measure)| format!(" at {}", degrees(heat, measure)));
    let heat = heat.unwrap_or_default();
    Some(format!("{verb} {time}{heat}"))
}

fn duration(told: &Reading) -> Option<String> {
    let shown = |minutes: &Exact| {
        let hours = minutes.one_in::<60>();
        match hours.is_int() && *minutes >= int(60) {
            true => format!("{}h", trimmed(&hours, 0)),
            false => format!("{}min", trimmed(minutes, 0)),
        }
    };
    let is_time = told.low >= Exact::ONE && told.high <= int(7 * 24 * 60) && told.low.is_int();
    is_time.then(|| match told.low == told.high {
        true => shown(&told.low),
        false => format!("{}..{}", shown(&told.low), shown(&told.high)),
    })
}

fn degrees(told: &Reading, measure: Measure) -> String {
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
            ("en", "Mix, then bake for 40 minutes.", ""),
            ("en", "If it is pale, bake for 5 minutes.", ""),
            ("en", "Shape into a ball.", ""),
        ] {
            assert_eq!(timed(text, language(code)).unwrap_or_default(), wanted, "{text}");
        }
    }
}
