//! The name somebody most likely meant.

/// The closest of `known` to `wanted`, when it is close enough to be worth saying:
/// never for words under three letters.
pub fn nearest<'a>(wanted: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    if wanted.chars().count() < 3 {
        return None;
    }
    let most = (wanted.chars().count() / 3).clamp(1, 3);
    known
        .into_iter()
        .filter(|name| *name != wanted)
        .map(|name| (strsim::damerau_levenshtein(wanted, name), name))
        .filter(|(distance, name)| *distance <= most && name.chars().count() > *distance)
        .min_by(|one, two| one.0.cmp(&two.0).then_with(|| one.1.cmp(two.1)))
        .map(|(_, name)| name)
}

#[cfg(test)]
mod tests {
    use super::nearest;

    #[test]
    fn a_slip_of_the_finger_is_recognised() {
        let known = ["bread flour", "dark rye flour", "salt"];
        assert_eq!(nearest("bred flour", known), Some("bread flour"));
        assert_eq!(nearest("slat", known), Some("salt"));
        assert_eq!(nearest("oz", ["o", "ozz"]), None);
        assert_eq!(nearest("cinnamon", known), None);
    }
}
