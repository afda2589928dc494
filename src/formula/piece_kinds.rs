//! Kinds of piece by their words: `roll` and `rolls` are one.

/// Whether two words name one kind of piece, in the singular or the plural: `roll` and
/// `rolls`, `loaf` and `loaves`, `box` and `boxes`, `pasty` and `pasties`.
pub fn is_kind(one: &str, two: &str) -> bool {
    one == two || is_plural_of(one, two) || is_plural_of(two, one)
}

fn is_plural_of(many: &str, one: &str) -> bool {
    const ENDINGS: [(&str, &str); 5] =
        [("s", ""), ("es", ""), ("ves", "f"), ("ves", "fe"), ("ies", "y")];
    let fits = |(plural, singular): &(&str, &str)| {
        let stem = many.strip_suffix(plural);
        stem.is_some_and(|stem| one.strip_suffix(singular) == Some(stem))
    };
    ENDINGS.iter().any(fits)
}
