//! What comments of a manuscript place of a booklet: cards, tables, reckoners.
//!
//! Each statement is a booklet of its own, of which the formulas of the book are printed too,
//! so that `shopping` and `glossary` know what the book prints.

use super::bakehouses::Bakehouse;
use super::load::is_manuscript;
use super::terms::terms;
use crate::diag::Finding;
use crate::formula::{House, Worked};
use crate::print::booklet::{BookletPart, Copy, Maker, Occurring};
use crate::print::document::Document;
use crate::print::wording::Wording;
use crate::print::woven;
use crate::proof::{Manuscript, Placeholder, placeholder_empty};
use crate::quantity::display::read_exact;
use crate::quantity::{Exact, Unit, Units, int};
use crate::source::{SourceId, Span};
use crate::syntax::booklet::{Audience, Booklet, BookletItem, FormulaYield, PartKind, PrintKind};
use crate::syntax::read_placed;
use crate::syntax::tree::{Formula, Name, Quantity};
use std::ops::Range;

/// What a formula of a bakehouse was at a revision, told as a booklet of it tells it, with what
/// `check` said of it; or why that is not known.
pub type PastOf<'p> = dyn Fn(
        &Bakehouse,
        (&Booklet, &Wording),
        &str,
        &FormulaYield,
    ) -> Result<(Document, Vec<Finding>), String>
    + 'p;

/// A part of a book in place of a comment.
pub enum BookPart {
    /// As Markdown.
    Words(String),
    /// The card of a formula for a yield of its own.
    Card(Box<Document>),
    /// What follows begins a page.
    Page,
}

/// What the parts of a book are made with.
pub struct Shop<'s, 'l> {
    /// The house, in the units of the book.
    pub house: &'s House<'l>,
    /// In the language of the book.
    pub words: &'s Wording,
    /// The formulas that stand in the book.
    pub formulas: Vec<&'l Formula>,
    /// What occurs in the book.
    pub occurring: &'s Occurring,
    /// Whether tables are to be narrow.
    pub narrow: bool,
    /// The units of the book, where they are not the house's.
    pub units: Option<Units>,
    /// What formulas of the bakehouse were at a revision; none where nobody can tell, as when
    /// a book is only checked.
    pub past: Option<(&'s Bakehouse<'l>, &'s PastOf<'s>)>,
}

impl Shop<'_, '_> {
    /// What a statement of a manuscript stands for; what is wrong with it is told.
    pub fn shown(
        &self,
        source: SourceId,
        text: &str,
        statement: Range<usize>,
        findings: &mut Vec<Finding>,
    ) -> Vec<BookPart> {
        let (parts, _) = read_placed(source, text, statement);
        parts.into_iter().flat_map(|part| self.of_part(part, findings)).collect()
    }

    /// What a placeholder is called, and what the book lacks for it; nothing where it has it.
    pub fn lacks(&self, placeholder: &Placeholder) -> Option<(&'static str, &'static str)> {
        let any = |has: fn(&Formula) -> bool| self.formulas.iter().any(|it| has(it));
        let (written, has, lacks): (_, fn(&Formula) -> bool, _) = match placeholder {
            Placeholder::Contents => ("contents", |_| true, ""),
            Placeholder::ByIngredient => ("index by ingredient", |_| true, ""),
            Placeholder::ByStyle => (
                "index by style",
                |it| it.style.is_some(),
                "no formula of the book says its `style`",
            ),
            Placeholder::ByTime => {
                ("index by time", |it| it.method.is_some(), "no formula of the book has a method")
            }
            Placeholder::Claims => {
                ("claims", |it| !it.expect.is_empty(), "no formula of the book claims anything")
            }
            Placeholder::Title(..) | Placeholder::Part(_) => return None,
        };
        match self.formulas.is_empty() {
            true => Some((written, "no formula stands in this book")),
            false => (!any(has)).then_some((written, lacks)),
        }
    }

    fn of_part(&self, part: BookletItem, findings: &mut Vec<Finding>) -> Vec<BookPart> {
        if let PartKind::Page = part.what {
            return vec![BookPart::Page];
        }
        let needs_all = matches!(part.what, PartKind::Shopping(_) | PartKind::Glossary(_));
        let span = part.span;
        let all = BookletItem {
            reader: Audience::All,
            what: PartKind::Print(PrintKind::Card, self.of_book(span)),
            said: part.said.clone(),
            span,
        };
        let mut booklet = booklet(span);
        booklet.units = self.units;
        booklet.parts.extend(needs_all.then_some(all));
        booklet.parts.push(part);
        let terms = match booklet.parts.last().map(|part| &part.what) {
            Some(PartKind::Glossary(_)) => terms(self.words),
            _ => Vec::new(),
        };
        let mut maker = Maker::new(self.house, self.words, &booklet, &terms);
        let own_past = |revision: &str, of: &FormulaYield| match self.past {
            Some((bakehouse, past)) => past(bakehouse, (&booklet, self.words), revision, of),
            None => Err("nobody asks".to_owned()),
        };
        if self.past.is_some() {
            maker.past = Some(&own_past);
        }
        maker.volumes = self.house.settings.volumes;
        maker.occurring = Some(self.occurring);
        let document = maker.document(Copy::All, 1, self.narrow);
        findings.extend(maker.findings.take());
        // What the book prints by itself comes first.
        let own = document.parts.into_iter();
        let own = own.skip_while(|it| needs_all && matches!(it, BookletPart::Print { .. }));
        own.map(shown).collect()
    }

    fn of_book(&self, span: Span) -> Vec<FormulaYield> {
        let of = |formula: &&Formula| FormulaYield {
            formula: Name { span, ..formula.name.clone() },
            makes: None,
            everyone: false,
            span,
        };
        self.formulas.iter().map(of).collect()
    }
}

fn booklet(span: Span) -> Booklet {
    Booklet {
        name: Name::default(),
        title: None,
        language: None,
        units: None,
        paper: None,
        people: None,
        variants: None,
        large: None,
        parts: Vec::new(),
        span,
        broken: false,
    }
}

fn shown(part: BookletPart) -> BookPart {
    match part {
        BookletPart::Print { print, document } if print == "table" => {
            BookPart::Words(woven::table(&document))
        }
        BookletPart::Print { document, .. } => BookPart::Card(document),
        BookletPart::Table(table) => BookPart::Words(woven::rows(&table)),
        BookletPart::Glossary { title, entries } => {
            let entry = |(word, text): (&str, &str)| {
                format!("{}\n: {}\n", woven::cell(word), woven::cell(text))
            };
            let all = entries.iter().map(|it| entry((&it.word, &it.text)));
            let all: Vec<String> = all.collect();
            BookPart::Words(format!("**{}**\n\n{}", woven::cell(&title), all.join("\n")))
        }
        BookletPart::Lines { title, lines } => {
            let all: String = lines.iter().map(|it| format!("- {}\n", woven::cell(it))).collect();
            BookPart::Words(format!("**{}**\n\n{all}", woven::cell(&title)))
        }
        _ => BookPart::Words(String::new()),
    }
}

/// What is wrong with the placeholders of a manuscript, for `check`: what weaving it would
/// tell.
pub fn check(
    bakehouse: &Bakehouse,
    manuscript: &Manuscript,
    placeholders: &[(Placeholder, Span)],
    findings: &mut Vec<Finding>,
) {
    let house = &bakehouse.house;
    let files = bakehouse.files.iter().filter(|file| is_manuscript(&file.path));
    let formulas: Vec<&Formula> = files.flat_map(|file| &file.tree.formulas).collect();
    let words = Wording::plain();
    let occurring = Occurring::default();
    let (narrow, units, past) = (false, None, None);
    let (words, occurring) = (&words, &occurring);
    let shop = Shop { house, words, formulas, occurring, narrow, units, past };
    for (placeholder, span) in placeholders {
        if let Some((written, lacks)) = shop.lacks(placeholder) {
            findings.push(placeholder_empty::finding(*span, written, lacks));
        }
        if let Placeholder::Part(statement) = placeholder {
            let Manuscript { source, text, .. } = *manuscript;
            shop.shown(source, text, statement.clone(), findings);
        }
    }
}

/// What occurs in the words and the blocks of a book, and in its formulas.
pub fn occurring<'w>(
    house: &House,
    texts: impl Iterator<Item = &'w str>,
    formulas: impl Iterator<Item = &'w Worked<'w>>,
) -> Occurring {
    /// A table has no more rows: where there are more weights, they are rounded.
    const ROWS: usize = 40;
    let (mut temperatures, mut weights) = (Vec::new(), Vec::new());
    let mut american: Vec<Exact> = Vec::new();
    for amount in texts.flat_map(amounts) {
        match amount.unit {
            Unit::Celsius => temperatures.push(house.base(&amount)),
            Unit::Fahrenheit => american.push(house.base(&amount)),
            _ => weights.push(house.base(&amount)),
        }
    }
    // `230 °C (450 °F)` is one, and rounded.
    american.retain(|it| temperatures.iter().all(|known| (known - it).abs() > int(5)));
    temperatures.append(&mut american);
    temperatures.retain(|it| *it >= int(-40) && *it <= int(400));
    weights.retain(|it| *it > Exact::ZERO);
    let once = |all: &mut Vec<Exact>| {
        all.sort();
        all.dedup();
    };
    once(&mut temperatures);
    once(&mut weights);
    for step in [1, 5, 10, 25, 50, 100, 250, 500, 1000] {
        if weights.len() <= ROWS {
            break;
        }
        weights = weights.iter().map(|it| it.up_to(&int(step))).collect();
        once(&mut weights);
    }
    let mut measured: Vec<String> = Vec::new();
    for worked in formulas {
        for held in worked.ingredients() {
            let key = held.name.key.to_string();
            if held.grams_per_ml.is_some() && !measured.contains(&key) {
                measured.push(key);
            }
        }
    }
    measured.sort();
    let of = |all: Vec<Exact>, unit| {
        let one = |number| Quantity { number, unit, decimals: None, span: Span::NOWHERE };
        all.into_iter().map(one).collect()
    };
    Occurring {
        temperatures: of(temperatures, Unit::Celsius),
        weights: of(weights, Unit::Gram),
        measured,
    }
}

/// The weights in grams and the temperatures of a text, wherever they stand.
fn amounts(text: &str) -> Vec<Quantity> {
    let bytes = text.as_bytes();
    let mut all = Vec::new();
    let mut at = 0;
    while at < bytes.len() {
        let is_inside = at > 0 && (bytes[at - 1].is_ascii_alphanumeric() || bytes[at - 1] == b'.');
        if !bytes[at].is_ascii_digit() || is_inside {
            at += 1;
            continue;
        }
        let rest = text.get(at..).unwrap_or_default();
        let length = rest.find(|it: char| !it.is_ascii_digit() && !matches!(it, '.' | ','));
        let written = rest.get(..length.unwrap_or(rest.len())).unwrap_or_default();
        let after = rest.get(written.len()..).unwrap_or_default();
        at += written.len().max(1);
        let after = after.strip_prefix([' ', '\u{a0}', '\u{202f}']).unwrap_or(after);
        let after =
            after.strip_prefix('°').map_or(after, |it| it.trim_start_matches([' ', '\u{a0}']));
        let word: String = after.chars().take_while(|it| it.is_alphanumeric()).collect();
        let unit = match word.as_str() {
            "C" => Unit::Celsius,
            "F" => Unit::Fahrenheit,
            "g" => Unit::Gram,
            "kg" => Unit::Kilogram,
            _ => continue,
        };
        let Some(number) = number_of(written) else { continue };
        all.push(Quantity { number, unit, decimals: None, span: Span::NOWHERE });
    }
    all
}

/// `1,200` is a thousand and more, `1,2` is not.
fn number_of(written: &str) -> Option<Exact> {
    let written = written.trim_end_matches(['.', ',']);
    let is_grouped = written.split_once(',').is_some_and(|(_, rest)| rest.len() == 3);
    read_exact(&written.replace(',', if is_grouped { "" } else { "." }))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weights_and_temperatures_are_found_wherever_they_stand() {
        let text =
            "Heat to 230 °C (450°F); 1,200 g, 0,5 kg and 7.5g. Not 3 gulls, A4 C, 12 cm, 1.2.3";
        let of = |unit: Unit| -> Vec<Exact> {
            amounts(text).into_iter().filter(|it| it.unit == unit).map(|it| it.number).collect()
        };
        assert_eq!(of(Unit::Celsius), [int(230)]);
        assert_eq!(of(Unit::Fahrenheit), [int(450)]);
        assert_eq!(of(Unit::Gram), [int(1200), int(15).one_in::<2>()]);
        assert_eq!(of(Unit::Kilogram), [int(1).one_in::<2>()]);
    }
}
