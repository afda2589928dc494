//! What a house brings to its prints: templates, fonts, a logo, words.

use std::collections::BTreeMap;

/// The files of a house that prints may use, already read.
#[derive(Clone, Debug, Default)]
pub struct PrintAssets {
    /// The files of its folder `templates`, by path below it, parted by `/`.
    pub templates: BTreeMap<String, Vec<u8>>,
    /// The files of its folder `fonts`.
    pub fonts: Vec<Vec<u8>>,
    /// Its logo, whose kind the document's name for it tells.
    pub logo: Option<Vec<u8>>,
    /// Whether the fonts of this machine may stand in as well.
    pub system_fonts: bool,
}

impl PrintAssets {
    /// The house's own words, if it has any.
    pub fn words(&self) -> Option<&str> {
        self.templates
            .get(WORDS)
            .and_then(|bytes| std::str::from_utf8(bytes).ok())
            .map(|words| words.trim_start_matches('\u{feff}'))
    }
}

/// The file with a house's own words, among its templates.
pub const WORDS: &str = "words.ftl";

/// Our own templates, by name.
pub const TEMPLATES: [(&str, &str); 10] = [
    ("card.typ", include_str!("../../templates/card.typ")),
    ("sheet.typ", include_str!("../../templates/sheet.typ")),
    ("table.typ", include_str!("../../templates/table.typ")),
    ("common.typ", include_str!("../../templates/common.typ")),
    ("plan.typ", include_str!("../../templates/plan.typ")),
    ("changes.typ", include_str!("../../templates/changes.typ")),
    ("day.typ", include_str!("../../templates/day.typ")),
    ("book.typ", include_str!("../../templates/book.typ")),
    ("booklet.typ", include_str!("../../templates/booklet.typ")),
    ("woven.typ", include_str!("../../templates/woven.typ")),
];
