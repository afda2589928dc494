//! Numbers that stay with their units, wherever a line ends.

/// Words in which a number stays with its unit.
pub fn tied(words: &str) -> String {
    const UNITS: [&str; 15] =
        ["°", "%", "g", "kg", "mg", "ml", "l", "oz", "lb", "s", "min", "h", "d", "cm", "mm"];
    let mut written = String::with_capacity(words.len());
    let mut from = 0;
    for (at, _) in words.match_indices(' ') {
        let is_number =
            words[..at].ends_with(|it: char| it.is_ascii_digit() || "⅛¼⅓⅜½⅝⅔¾⅞".contains(it));
        let rest = &words[at + 1..];
        let is_unit = || {
            UNITS.iter().any(|unit| {
                rest.strip_prefix(unit).is_some_and(|after| {
                    *unit == "°"
                        || *unit == "%"
                        || !after.starts_with(|it: char| it.is_alphanumeric())
                })
            })
        };
        if is_number && is_unit() {
            written.push_str(&words[from..at]);
            written.push('\u{a0}');
            from = at + 1;
        }
    }
    written.push_str(&words[from..]);
    written
}

/// The same for the words of a page: tags, scripts, styles and what is set as it was typed stay
/// as they are.
pub fn tied_markup(page: &str) -> String {
    const AS_TYPED: [&str; 5] = ["script", "style", "pre", "code", "textarea"];
    let mut written = String::with_capacity(page.len());
    let mut rest = page;
    while let Some(open) = rest.find('<') {
        let (words, tag) = rest.split_at(open);
        written.push_str(&tied(words));
        let name = tag.get(1..).unwrap_or_default();
        let is = |it: &&&str| {
            name.strip_prefix(**it).is_some_and(|after| after.starts_with(['>', ' ', '\n']))
        };
        let end = match AS_TYPED.iter().find(is) {
            Some(name) => tag.find(&format!("</{name}")).unwrap_or(tag.len()),
            // A `>` in what stands in quotes ends no tag.
            None => end_of_tag(tag),
        };
        let (tag, after) = tag.split_at(end);
        written.push_str(tag);
        rest = after;
    }
    written.push_str(&tied(rest));
    written
}

/// Where a tag ends, past its `>`.
fn end_of_tag(tag: &str) -> usize {
    let mut quote = None;
    for (at, letter) in tag.char_indices() {
        match (quote, letter) {
            (None, '>') => return at + 1,
            (None, '"' | '\'') => quote = Some(letter),
            (Some(open), _) if letter == open => quote = None,
            _ => {}
        }
    }
    tag.len()
}

#[cfg(test)]
mod tests {
    use super::{tied, tied_markup};

    #[test]
    fn a_number_stays_with_its_unit_and_with_nothing_else() {
        assert_eq!(
            tied("350 g of water at 24 °C, 2 loaves"),
            "350\u{a0}g of water at 24\u{a0}°C, 2 loaves"
        );
        assert_eq!(tied("½ l, 3 goats, 70 % and 5 "), "½\u{a0}l, 3 goats, 70\u{a0}% and 5 ");
        assert_eq!(tied(""), "");
    }

    #[test]
    fn a_page_keeps_its_tags_and_what_is_typed() {
        let page = "<p title=\"350 g > 2 oz\">350 g of <b>salt 2 %</b></p><pre>350 g</pre>\
            <script>\"350 g\"</script> 5 min";
        assert_eq!(
            tied_markup(page),
            "<p title=\"350 g > 2 oz\">350\u{a0}g of <b>salt 2\u{a0}%</b></p><pre>350 g</pre>\
            <script>\"350 g\"</script> 5\u{a0}min"
        );
        for odd in ["", "<", "<p", "a < b 5 g", "<pre>5 g"] {
            assert_eq!(tied_markup(odd).replace('\u{a0}', " "), odd);
        }
    }
}
