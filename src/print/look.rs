//! The house's own look: paper, colour and logo, from words to what a template can use.
//!
//! Colours are judged by the contrast of the W3C's Web Content Accessibility Guidelines
//! 2.2 (success criterion 1.4.3): 4.5 : 1 between words and their ground.

#![allow(
    clippy::disallowed_types,
    reason = "places, colours and resolutions on paper are no weights"
)]

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

/// The most pixels of a logo in dots: 4,000 by 4,000 take 64 MB of memory.
const MAX_PIXELS: u64 = 16_000_000;

/// The largest drawn logo, in bytes.
const MAX_BYTES_OF_A_DRAWING: usize = 2_000_000;

/// How deep the parts of a drawn logo may lie in each other.
const MAX_DEPTH_OF_A_DRAWING: usize = 100;

/// Elements of a drawing that are worked out by effects, or that do something where a reader
/// opens it.
const EFFECTS: [&str; 4] = ["filter", "script", "foreignobject", "iframe"];

/// What keeps a logo from being printed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Unfit {
    /// It is not of the kind that its name tells.
    NotThat,
    /// It has more pixels than are read: its width and height.
    Pixels(u32, u32),
    /// It is drawn with more than is read.
    Drawing,
    /// It is drawn, and holds a picture of more dots than are read, or of a kind that is
    /// not read, or names for parts of its text, which may unfold to any size.
    Inside,
    /// It is damaged: it can't be decoded to its end.
    Damaged,
    /// It is drawn with effects, which may take any time to work out, or does something.
    Effects,
}

/// Whether the bytes of a logo are of the kind that its name tells, and of a size that can
/// be printed.
///
/// # Errors
/// What is wrong with it.
pub fn picture(name: &str, bytes: &[u8]) -> Result<(), Unfit> {
    if name == "logo.png" {
        let (width, height) = pixels(bytes).ok_or(Unfit::NotThat)?;
        let fits = u64::from(width) * u64::from(height) <= MAX_PIXELS;
        return if fits { Ok(()) } else { Err(Unfit::Pixels(width, height)) };
    }
    let text = std::str::from_utf8(bytes).ok().filter(|text| text.contains("<svg"));
    let text = text.ok_or(Unfit::NotThat)?;
    if text.len() > MAX_BYTES_OF_A_DRAWING || depth(text) > MAX_DEPTH_OF_A_DRAWING {
        return Err(Unfit::Drawing);
    }
    let of_dots: u64 = text.split("base64,").skip(1).map(pixels_inside).sum();
    if text.contains("<!ENTITY") || of_dots > MAX_PIXELS {
        return Err(Unfit::Inside);
    }
    let tags = text.split('<').skip(1).map(|tag| {
        let name: &str = tag.split([' ', '\t', '\r', '\n', '>', '/']).next().unwrap_or_default();
        name.rsplit(':').next().unwrap_or_default().to_ascii_lowercase()
    });
    match tags.into_iter().any(|tag| EFFECTS.contains(&tag.as_str())) {
        true => Err(Unfit::Effects),
        false => Ok(()),
    }
}

/// The most pixels of a photograph in a book: large cameras make 45 to 60 million.
const MAX_PIXELS_OF_A_PHOTOGRAPH: u64 = 64_000_000;

/// Whether a picture of a book, by the ending of its name, is of a kind and a size that can be
/// printed.
///
/// # Errors
/// What is wrong with it.
pub fn photograph(ending: &str, bytes: &[u8]) -> Result<(), Unfit> {
    let size = match ending {
        "svg" => return picture("logo.svg", bytes),
        "png" => pixels(bytes),
        "jpg" | "jpeg" => pixels_of_jpeg(bytes),
        "gif" => pixels_of_gif(bytes),
        "webp" => pixels_of_webp(bytes),
        _ => None,
    };
    let (width, height) = size.ok_or(Unfit::NotThat)?;
    let fits = u64::from(width) * u64::from(height) <= MAX_PIXELS_OF_A_PHOTOGRAPH;
    if fits { Ok(()) } else { Err(Unfit::Pixels(width, height)) }
}

/// Width and height of a GIF (GIF89a, 18: they stand in the screen's descriptor).
fn pixels_of_gif(bytes: &[u8]) -> Option<(u32, u32)> {
    let rest = bytes.strip_prefix(b"GIF89a").or_else(|| bytes.strip_prefix(b"GIF87a"))?;
    let number = |at: usize| rest.get(at..at + 2)?.try_into().ok().map(u16::from_le_bytes);
    Some((number(0)?.into(), number(2)?.into()))
}

/// Width and height of a WebP (RFC 9649, 2.5 to 2.7).
fn pixels_of_webp(bytes: &[u8]) -> Option<(u32, u32)> {
    let byte = |at: usize| bytes.get(at).copied().map(u32::from);
    if bytes.get(..4)? != b"RIFF" || bytes.get(8..12)? != b"WEBP" {
        return None;
    }
    match bytes.get(12..16)? {
        b"VP8X" => {
            let side =
                |at: usize| Some(1 + byte(at)? + (byte(at + 1)? << 8) + (byte(at + 2)? << 16));
            Some((side(24)?, side(27)?))
        }
        b"VP8L" => {
            let all = byte(21)? | byte(22)? << 8 | byte(23)? << 16 | byte(24)? << 24;
            Some((1 + (all & 0x3fff), 1 + (all >> 14 & 0x3fff)))
        }
        b"VP8 " => {
            let side = |at: usize| Some((byte(at)? + (byte(at + 1)? << 8)) & 0x3fff);
            Some((side(26)?, side(28)?))
        }
        _ => None,
    }
}

/// How many pixels a picture has that stands in base64 at the beginning of a text; more
/// than are read where it is neither PNG nor JPEG.
fn pixels_inside(text: &str) -> u64 {
    use base64::Engine;
    let is_end = |letter: char| matches!(letter, '"' | '\'' | ')' | '<');
    let written: String = text
        .split(is_end)
        .next()
        .unwrap_or_default()
        .chars()
        .filter(|letter| !letter.is_whitespace())
        .collect();
    let bytes = base64::engine::general_purpose::STANDARD.decode(written).unwrap_or_default();
    let size = pixels(&bytes).or_else(|| pixels_of_jpeg(&bytes));
    size.map_or(u64::from(u32::MAX), |(width, height)| u64::from(width) * u64::from(height))
}

/// Width and height of a JPEG (ISO/IEC 10918-1, B.2.2: they stand in the frame's header).
fn pixels_of_jpeg(bytes: &[u8]) -> Option<(u32, u32)> {
    let mut rest = bytes.strip_prefix(b"\xff\xd8")?;
    loop {
        let [0xff, marker, high, low, ..] = *rest else { return None };
        let length = usize::from(u16::from_be_bytes([high, low]));
        if matches!(marker, 0xc0..=0xcf) && !matches!(marker, 0xc4 | 0xc8 | 0xcc) {
            let number = |at: usize| rest.get(at..at + 2)?.try_into().ok().map(u16::from_be_bytes);
            return Some((number(7)?.into(), number(5)?.into()));
        }
        rest = rest.get(2 + length..)?;
    }
}

/// Width and height of a PNG (ISO/IEC 15948, 11.2.2: they open the first chunk).
fn pixels(bytes: &[u8]) -> Option<(u32, u32)> {
    let head = bytes.strip_prefix(b"\x89PNG\r\n\x1a\n")?;
    let number = |at: usize| head.get(at..at + 4)?.try_into().ok().map(u32::from_be_bytes);
    (head.get(4..8)? == b"IHDR").then_some((number(8)?, number(12)?))
}

/// How deep the elements of an XML text lie in each other at most.
fn depth(text: &str) -> usize {
    let mut depth: usize = 0;
    let mut deepest = 0;
    for tag in text.split('<').skip(1) {
        let is_closed = tag.split('>').next().is_some_and(|inside| inside.ends_with('/'));
        match tag.as_bytes().first() {
            Some(b'/') => depth = depth.saturating_sub(1),
            Some(b'!' | b'?') | None => {}
            Some(_) if is_closed => {}
            Some(_) => depth += 1,
        }
        deepest = deepest.max(depth);
    }
    deepest
}

/// The most faces in one file of fonts.
const MAX_FACES: u32 = 100;

/// Whether the bytes of a font begin as fonts do (ISO/IEC 14496-22, "Organization of an
/// OpenType font").
pub fn is_font(bytes: &[u8]) -> bool {
    match bytes.first_chunk() {
        Some(b"\0\x01\0\0" | b"OTTO" | b"true") => true,
        Some(b"ttcf") => {
            let faces = bytes.get(8..12).and_then(|it| it.try_into().ok()).map(u32::from_be_bytes);
            faces.is_some_and(|faces| (1..=MAX_FACES).contains(&faces))
        }
        _ => false,
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

    /// As HTML and typst write it: `#1f6f4a`.
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

    /// The head of a PNG of so many pixels.
    fn png(width: u32, height: u32) -> Vec<u8> {
        let head: &[u8] = b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR";
        [head, &width.to_be_bytes(), &height.to_be_bytes()].concat()
    }

    #[test]
    fn a_logo_is_of_a_size_that_can_be_printed() {
        assert_eq!(picture("logo.png", &png(800, 600)), Ok(()));
        assert_eq!(picture("logo.png", &png(60_000, 60_000)), Err(Unfit::Pixels(60_000, 60_000)));
        assert_eq!(picture("logo.png", &png(1, u32::MAX)), Err(Unfit::Pixels(1, u32::MAX)));
        assert_eq!(picture("logo.png", b"\x89PNG\r\n\x1a\n"), Err(Unfit::NotThat));
        assert_eq!(picture("logo.png", b"<svg/>"), Err(Unfit::NotThat));
        let drawn = |inside: &str| picture("logo.svg", format!("<svg>{inside}</svg>").as_bytes());
        assert_eq!(drawn("<circle r=\"2\"/>"), Ok(()));
        let deep = |depth: usize| "<g>".repeat(depth) + &"</g>".repeat(depth);
        assert_eq!(drawn(&deep(99)), Ok(()));
        assert_eq!(drawn(&deep(100)), Err(Unfit::Drawing));
        assert_eq!(drawn(&deep(20_000)), Err(Unfit::Drawing));
        assert_eq!(drawn(&"<g/>".repeat(1_000)), Ok(()));
        let inside = |bytes: &[u8]| {
            use base64::Engine;
            let bytes = base64::engine::general_purpose::STANDARD.encode(bytes);
            drawn(&format!("<image href=\"data:image/png;base64,{bytes}\"/>"))
        };
        assert_eq!(inside(&png(900, 900)), Ok(()));
        assert_eq!(inside(&png(60_000, 60_000)), Err(Unfit::Inside));
        let jpeg = |side: [u8; 2]| {
            let head: &[u8] = b"\xff\xd8\xff\xe0\0\x04..\xff\xc0\0\x11\x08";
            [head, &side, &side, b"\x03"].concat()
        };
        assert_eq!(inside(&jpeg([2, 0])), Ok(()));
        assert_eq!(inside(&jpeg([255, 255])), Err(Unfit::Inside));
        assert_eq!(inside(b"GIF89a"), Err(Unfit::Inside));
        assert_eq!(drawn("<!ENTITY a \"b\">"), Err(Unfit::Inside));
        for effect in
            ["<filter id=\"f\"/>", "<svg:filter>", "<script>", "<foreignObject\n/>", "<FILTER/>"]
        {
            assert_eq!(drawn(effect), Err(Unfit::Effects), "{effect}");
        }
        assert_eq!(drawn("<text>&lt;filter paper</text>"), Ok(()));
    }

    #[test]
    fn a_font_begins_as_fonts_do() {
        assert!(is_font(b"OTTO...") && is_font(b"\0\x01\0\0..."));
        assert!(is_font(b"ttcf\0\x02\0\0\0\0\0\x05"));
        for bad in [&b"ttcf\0\x02\0\0\xff\xff\xff\xff"[..], b"wOF2....", b"", b"OT"] {
            assert!(!is_font(bad), "{bad:?}");
        }
    }

    #[test]
    fn papers_have_the_names_of_the_trade() {
        assert_eq!(paper("A5").as_deref(), Some("a5"));
        assert_eq!(paper("half letter").as_deref(), Some("half-letter"));
        assert_eq!(paper("us-letter").as_deref(), Some("letter"));
        assert_eq!(paper("A0"), None);
    }
}
