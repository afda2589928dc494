//! From a formula worked out to the document that every print is written from.
//!
//! Each file fills in one part of it: `makes` the yield, `figures` and `summary` the figures,
//! `lines` a line, `mixes` and `groups` columns of lines, `water` how warm the water has to
//! be, `allergens` what is in the bread.

mod allergens;
mod figures;
mod groups;
mod lines;
mod makes;
mod mixes;
mod summary;
mod water;

pub use lines::soft;

use crate::formula::{House, Settings, Within, Worked, main_mix, title};
use crate::print::context::PrintContext;
use crate::print::document::{Document, FigurePart, HousePart, MixPart, VERSION};
use crate::print::wording::Wording;
use crate::print::{cautions, live, look, method, timeline};
use crate::syntax::tree::WordsKind;

/// The document of a formula, in these words; with `volumes`, those stand beside weights.
pub fn document(house: &House, worked: &Worked, words: &Wording, volumes: bool) -> Document {
    let mut paper = PrintContext::new(house, worked, words, worked.batches(), volumes);
    paper.in_one_notation(PrintContext::document)
}

/// The same with all ounces in decimals, as they stand in a table beside others that have to be.
pub fn document_in_decimals(
    house: &House,
    worked: &Worked,
    words: &Wording,
    volumes: bool,
) -> Document {
    let mut paper = PrintContext::new(house, worked, words, worked.batches(), volumes);
    paper.in_decimals();
    paper.in_one_notation(PrintContext::document)
}

/// All figures of a formula, those included that its document leaves out because they would
/// say nothing there.
pub fn every_figure(house: &House, worked: &Worked, words: &Wording) -> Vec<FigurePart> {
    let mut paper = PrintContext::new(house, worked, words, worked.batches(), false);
    paper.in_one_notation(PrintContext::every_figure)
}

/// What a formula makes, in one line.
pub fn yield_text(paper: &PrintContext) -> String {
    paper.makes().text
}

impl HousePart {
    /// The house as its settings describe it.
    pub fn of(settings: &Settings) -> Self {
        Self {
            title: settings.title.clone(),
            footer: settings.footer.as_ref().map(|footer| footer.value.to_string()),
            paper: settings.paper.as_ref().and_then(|paper| look::paper(&paper.value)),
            logo: settings.logo.as_ref().and_then(|logo| look::logo(&logo.value)),
            colour: settings.colour.as_ref().and_then(|it| look::readable(&it.value)),
        }
    }
}

impl PrintContext<'_, '_> {
    fn document(&self) -> Document {
        let formula = &self.worked.formula;
        let mut mixes: Vec<MixPart> =
            self.worked.order.iter().map(|&stage| self.stage(stage)).collect();
        if main_mix(formula).is_some() {
            mixes.push(self.final_dough());
        }
        let texts = |kind| live::texts_of_all(self, kind);
        let allergens = self.allergens();
        let (total, total_sum) = self.total();
        let all = self.sum_ends(Within::All, &self.shown(|weighing| Some(&weighing.total.sum)));
        Document {
            version: VERSION,
            house: HousePart::of(&self.house.settings),
            name: formula.name.shown.to_string(),
            title: title(formula),
            style: formula.style.as_ref().map(|style| style.shown.to_string()),
            language: self.words.tag.clone(),
            decimal_mark: self.words.decimal_mark(),
            words: self.words.of_templates(),
            makes: self.makes(),
            figures: self.figures(),
            total,
            total_sum,
            total_sum_low: all.low,
            total_sum_high: all.high,
            total_sum_percent: self.sum_percent(Within::All),
            mixes,
            mixtures: self.mixtures(),
            beside: self.beside(),
            groups: self.groups(),
            summary: self.summary(),
            method: method::method(self),
            batch_method: method::batch_method(self),
            water: self.water(),
            timeline: timeline::timeline(self),
            headnotes: texts(WordsKind::Headnote),
            notes: texts(WordsKind::Note),
            equipment: texts(WordsKind::Equipment),
            storage: texts(WordsKind::Storage),
            sources: texts(WordsKind::Source),
            cautions: cautions::cautions(self),
            contains: allergens.contains,
            contains_keys: allergens.contains_keys,
            may_contain: allergens.may_contain,
            may_contain_keys: allergens.may_contain_keys,
            contains_unknown: allergens.unknown,
            trace: None,
        }
    }
}
