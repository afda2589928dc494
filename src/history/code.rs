//! The code on a print: eight letters and digits by which a sheet on a wall is found again.
//!
//! Five stand for what is baked, three for how it is printed.

use super::catalogue::Digest;
use qrcode::{Color, EcLevel, QrCode};

/// Letters and digits of a code: of those that look alike only one is among them.
const LETTERS: &[u8; 28] = b"0123456789ACDEFGHJKMNPRTVWXY";

/// Letters that stand for what is baked.
pub const OF_MEANING: usize = 5;

/// Letters that stand for how it is printed.
pub const OF_SETTINGS: usize = 3;

/// How a print is made, as far as it changes what stands on it.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Settings {
    /// `card`, `sheet`, `table`, `plan`, `booklet`.
    pub print: String,
    /// Its language, as a tag.
    pub language: String,
    /// `metric`, `us`, and `both` where the other stands beside.
    pub units: String,
    /// Whether volumes stand beside weights.
    pub volumes: bool,
    /// What it is made for, where that is not what the formula makes.
    pub makes: String,
    /// What else of the house stands on it or shapes it: its name, its foot, its paper, its
    /// own words and template; of a plan also its hours.
    pub house: String,
    /// What else was asked for: the times of a plan, the copy and the seat of a booklet.
    pub asked: String,
    /// What the house's machines and settings make of it, as far as the print shows that.
    pub effect: String,
    /// Of a plan, whether its times are none that a house plans for by itself: dates, or hours
    /// and warmth of its own.
    pub own_times: bool,
}

impl Settings {
    /// The three letters.
    pub fn letters(&self) -> String {
        let Self { print, language, units, volumes, makes, house, asked, effect, own_times } = self;
        let volumes = if *volumes { "volumes" } else { "" };
        let mut said: Vec<&str> = vec![print, language, units, volumes, makes, house];
        match (asked.as_str(), effect.as_str()) {
            ("", "") => {}
            (asked, "") => said.push(asked),
            both => said.extend([both.0, both.1]),
        }
        let said: String = said.into_iter().map(|it| format!("{}:{it}", it.len())).collect();
        let all = letters(blake3::hash(said.as_bytes()).as_bytes(), OF_SETTINGS);
        match (own_times, all.get(1..)) {
            (true, Some(rest)) => format!("{}{rest}", mark_of_own_times()),
            _ => all,
        }
    }
}

/// The first of the three letters of a plan with dates or times of its own: such a plan can't be
/// made again from its code, and is known by that letter.
fn mark_of_own_times() -> String {
    letters(blake3::hash(b"a plan with times of its own").as_bytes(), 1)
}

/// Whether the three letters of a code may be those of a plan with dates or times of its own.
pub fn may_have_own_times(code: &str) -> bool {
    code.get(OF_MEANING..).is_some_and(|ending| ending.starts_with(&mark_of_own_times()))
}

/// The five letters of a meaning.
pub fn of_meaning(digest: &Digest) -> String {
    letters(digest, OF_MEANING)
}

/// A code as a square for a telephone, row by row, `1` for each dark module.
pub fn qr(code: &str) -> Option<Vec<String>> {
    let square = QrCode::with_error_correction_level(code, EcLevel::M).ok()?;
    let modules = square.to_colors();
    let row = |row: &[Color]| row.iter().map(|it| it.select('1', '0')).collect();
    Some(modules.chunks(square.width()).map(row).collect())
}

/// The first letters of a fingerprint, as a number in the base of our alphabet.
fn letters(digest: &Digest, count: usize) -> String {
    let (head, _) = digest.split_first_chunk::<8>().unwrap_or((&[0; 8], &[]));
    let mut number = u64::from_be_bytes(*head);
    let base = LETTERS.len() as u64;
    let mut all = String::new();
    for _ in 0..count {
        let letter = LETTERS.get((number % base) as usize).copied().unwrap_or(b'0');
        all.push(char::from(letter));
        number /= base;
    }
    all
}

/// A code as somebody typed it: blanks and hyphens left out, small letters made large, and
/// letters that look like one of ours read as that one; none where it is no code.
pub fn read(text: &str) -> Option<String> {
    let letters = text.chars().filter(|letter| !letter.is_whitespace() && *letter != '-');
    let letters = letters.map(|letter| match letter.to_ascii_uppercase() {
        'O' | 'Q' => '0',
        'I' | 'L' => '1',
        'Z' => '2',
        'S' => '5',
        'B' => '8',
        'U' => 'V',
        letter => letter,
    });
    let code: String = letters.collect();
    let is_ours = |byte: u8| LETTERS.contains(&byte);
    (code.len() == OF_MEANING + OF_SETTINGS && code.bytes().all(is_ours)).then_some(code)
}

/// The code in what somebody typed: the code itself, the foot of a print with it at the end, or
/// its first five letters alone.
pub fn read_in(text: &str) -> Option<String> {
    let last = || text.split(|it: char| it.is_whitespace() || it == '·').rfind(|it| !it.is_empty());
    let alone = || {
        let code = read(&format!("{text}000"))?;
        code.get(..OF_MEANING).map(str::to_owned)
    };
    read(text).or_else(|| read(last()?)).or_else(alone)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_that_look_alike_are_read_as_one() {
        assert_eq!(read("olz5 s8bu"), Some("0125588V".to_owned()));
        assert_eq!(read("0125-588V"), Some("0125588V".to_owned()));
        for wrong in ["", "0125588", "0125588VV", "0125588!", "0125588é"] {
            assert_eq!(read(wrong), None, "{wrong}");
        }
        for letter in LETTERS {
            let eight = char::from(*letter).to_string().repeat(8);
            assert_eq!(read(&eight), Some(eight), "each of ours is read as itself");
        }
    }

    #[test]
    fn a_code_is_read_out_of_the_foot_it_stands_in() {
        for (typed, code) in [
            ("0d026c8 · NMK5XPFR", Some("NMK5XPFR")),
            ("draft · nmk5xpfr", Some("NMK5XPFR")),
            ("NMK5X", Some("NMK5X")),
            ("nmk 5x-pfr", Some("NMK5XPFR")),
            ("NMK5", None),
            ("0d026c8", None),
            ("NMK5XPF", None),
            ("", None),
        ] {
            assert_eq!(read_in(typed).as_deref(), code, "{typed}");
        }
    }

    #[test]
    fn each_setting_changes_the_three_letters() {
        let plain = Settings {
            print: "sheet".into(),
            language: "en".into(),
            units: "metric".into(),
            volumes: false,
            makes: String::new(),
            house: String::new(),
            asked: String::new(),
            effect: String::new(),
            own_times: false,
        };
        let others = [
            Settings { print: "card".into(), ..plain.clone() },
            Settings { language: "fr".into(), ..plain.clone() },
            Settings { units: "us".into(), ..plain.clone() },
            Settings { volumes: true, ..plain.clone() },
            Settings { makes: "60 loaves".into(), ..plain.clone() },
            Settings { house: "Quay Bakery".into(), ..plain.clone() },
            Settings { asked: "seat 2".into(), ..plain.clone() },
            Settings { effect: "seat 2".into(), ..plain.clone() },
            Settings { own_times: true, ..plain.clone() },
        ];
        assert_eq!(plain.letters().len(), OF_SETTINGS);
        for other in others {
            assert_ne!(other.letters(), plain.letters(), "{other:?}");
            let code = format!("01234{}", other.letters());
            assert_eq!(may_have_own_times(&code), other.own_times, "{other:?}: {code}");
        }
    }
}
