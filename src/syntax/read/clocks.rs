//! Times of a day as they are written elsewhere.

/// `06:30`, of a time as people, tables and their programs write it: `6:30`, `06:30:00`, `6.30`, `6h30`,
/// `6 Uhr`, `6.30 am`. A number by itself may be anything.
pub fn clock_time(written: &str) -> Option<String> {
    let text = written.trim().to_lowercase().replace("a.m.", "am").replace("p.m.", "pm");
    let half = [("am", 0), ("pm", 12)].into_iter().find(|(word, _)| text.ends_with(word));
    let text = half.map_or(text.as_str(), |(word, _)| text.trim_end_matches(word)).trim_end();
    let digits = text.trim_end_matches("uhr").trim_end().trim_end_matches('h');
    let parts: Option<Vec<u32>> =
        digits.split([':', '.', 'h']).map(|part| part.trim().parse().ok()).collect();
    let (hour, minute) = match *parts?.as_slice() {
        [hour] if half.is_some() || digits != text => (hour, 0),
        [hour, minute] | [hour, minute, 0] => (hour, minute),
        _ => return None,
    };
    let hour = match half {
        None => hour,
        Some((_, later)) => (1..=12).contains(&hour).then_some(hour % 12 + later)?,
    };
    (hour < 24 && minute < 60).then(|| format!("{hour:02}:{minute:02}"))
}
