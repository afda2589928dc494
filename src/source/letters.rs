//! Letters without their accents.

/// A name without its accents, where it has no letters but those of western Europe, as nearly
/// all names have: what Unicode's decomposition gives, at a tenth of its price.
pub fn unaccented(name: &str) -> Option<String> {
    let mut plain = String::with_capacity(name.len());
    for letter in name.chars() {
        plain.push(match letter {
            _ if letter.is_ascii() => letter,
            'à'..='å' => 'a',
            'ç' => 'c',
            'è'..='ë' => 'e',
            'ì'..='ï' => 'i',
            'ñ' => 'n',
            'ò'..='ö' => 'o',
            'ù'..='ü' => 'u',
            'ý' | 'ÿ' => 'y',
            'œ' | 'æ' | 'ß' | 'ø' => letter,
            _ => return None,
        });
    }
    Some(plain)
}
