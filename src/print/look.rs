//! The house's own look: paper, colour and logo, from words to what a template can use.
//!
//! Colours are judged by the contrast of the W3C's Web Content Accessibility Guidelines
//! 2.2 (success criterion 1.4.3): 4.5 : 1 between words and their ground.

/// The contrast that words want from their ground.
pub const LEAST_CONTRAST: f64 = 4.5;

/// The lightest ground that words in the house's colour stand on.
const WHITE: Colour = Colour([255, 255, 255]);
/// The ground of a card's cautions, which is a little darker (`templates/card.typ`).
const TINT: Colour = Colour([246, 241, 233]);

/// The papers we print on: what a house may write, and what a template is told.
pub const PAPERS: [(&str, &str); 6] = [
    ("a4", "a4"),
    ("a5", "a5"),
    ("letter", "letter"),
    ("us-letter", "letter"),
    ("half-letter", "half-letter"),
    ("us-half-letter", "half-letter"),
];

/// A paper by the words of a house: `A5`, `half letter`.
pub fn paper(written: &str) -> Option<String> {
    let key = written.trim().to_lowercase().replace([' ', '_'], "-");
    PAPERS.iter().find(|(known, _)| *known == key).map(|(_, name)| (*name).to_owned())
}

/// The name under which a template finds the house's logo, by its kind; nothing for
/// kinds that we can't print.
pub fn logo(path: &str) -> Option<String> {
    let path = path.to_lowercase();
    ["svg", "png"]
        .into_iter()
        .find(|kind| path.ends_with(&format!(".{kind}")))
        .map(|kind| format!("logo.{kind}"))
}

/// Whether the bytes of a logo are of the kind that its name tells.
pub fn is_picture(name: &str, bytes: &[u8]) -> bool {
    match name {
        "logo.png" => bytes.starts_with(b"\x89PNG\r\n\x1a\n"),
        _ => std::str::from_utf8(bytes).is_ok_and(|text| text.contains("<svg")),
    }
}

/// A colour of the screen, in sRGB.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Colour(pub [u8; 3]);

impl Colour {
    /// Reads `#2f4858` or `#248`.
    pub fn read(written: &str) -> Option<Self> {
        let digits = written.trim().strip_prefix('#')?;
        let full: String = match digits.len() {
            3 => digits.chars().flat_map(|digit| [digit, digit]).collect(),
            6 => digits.to_owned(),
            _ => return None,
        };
        if !full.chars().all(|digit| digit.is_ascii_hexdigit()) {
            return None;
        }
        let value = u32::from_str_radix(&full, 16).ok()?;
        let [_, red, green, blue] = value.to_be_bytes();
        Some(Self([red, green, blue]))
    }

    pub fn written(self) -> String {
        let Self([red, green, blue]) = self;
        format!("#{red:02x}{green:02x}{blue:02x}")
    }

    /// Relative luminance, from 0 for black to 1 for white.
    fn luminance(self) -> f64 {
        let linear = self.0.map(|part| {
            let part = f64::from(part) / 255.0;
            if part <= 0.04045 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) }
        });
        0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
    }

    /// The contrast with another colour, from 1 to 21.
    pub fn contrast(self, with: Self) -> f64 {
        let (one, two) = (self.luminance(), with.luminance());
        (one.max(two) + 0.05) / (one.min(two) + 0.05)
    }

    /// The least contrast with what words stand on in our prints.
    pub fn contrast_on_paper(self) -> f64 {
        self.contrast(WHITE).min(self.contrast(TINT))
    }

    /// The same hue, so far on the way to another colour that words in it can be read on
    /// each of the grounds.
    pub fn towards(self, to: Self, grounds: &[Self]) -> Self {
        let mut steps = (0..=100).map(|step| {
            let mix = |from: u8, to: u8| {
                let part =
                    f64::from(from) + (f64::from(to) - f64::from(from)) * step as f64 / 100.0;
                part.round() as u8
            };
            Self([0, 1, 2].map(|part| mix(self.0[part], to.0[part])))
        });
        let readable =
            |colour: &Self| grounds.iter().all(|it| colour.contrast(*it) >= LEAST_CONTRAST);
        steps.find(readable).unwrap_or(to)
    }

    /// Dark enough for words on our papers.
    pub fn readable(self) -> Self {
        self.towards(Self([0, 0, 0]), &[WHITE, TINT])
    }
}

/// A written colour, made dark enough for words; nothing where it is none.
pub fn readable(written: &str) -> Option<String> {
    Colour::read(written).map(|colour| colour.readable().written())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn contrast_is_that_of_the_guidelines() {
        // W3C, WCAG 2.2: black on white is 21 : 1. Grey #767676 is known as the lightest
        // with 4.5 : 1 on white (4.54).
        assert_eq!(Colour([0, 0, 0]).contrast(WHITE), 21.0);
        let grey = Colour::read("#767676").expect("a colour").contrast(WHITE);
        assert!((grey - 4.54).abs() < 0.005, "{grey}");
    }

    #[test]
    fn a_pale_colour_is_darkened_in_its_hue_until_it_can_be_read() {
        let honey = Colour::read("#f0c040").expect("a colour");
        assert!(honey.contrast_on_paper() < 2.0);
        let dark = honey.readable();
        assert!(dark.contrast_on_paper() >= LEAST_CONTRAST, "{}", dark.written());
        assert!(dark.0[0] > dark.0[1] && dark.0[1] > dark.0[2]);
        let slate = Colour::read("#2f4858").expect("a colour");
        assert_eq!(slate.readable(), slate);
        assert_eq!(Colour::read("#248"), Colour::read("#224488"));
        assert_eq!(Colour::read("teal"), None);
    }

    #[test]
    fn papers_have_the_names_of_the_trade() {
        assert_eq!(paper("A5").as_deref(), Some("a5"));
        assert_eq!(paper("half letter").as_deref(), Some("half-letter"));
        assert_eq!(paper("us-letter").as_deref(), Some("letter"));
        assert_eq!(paper("A0"), None);
    }
}
