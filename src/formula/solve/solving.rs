//! A formula on its way from sums that wait for a size to masses in grams.

use crate::formula::composition::Composition;
use crate::formula::linear::LinearExpr;
use crate::formula::mixing::MixForms;
use crate::quantity::Exact;

/// A formula on its way to being solved: all masses as sums that wait for a size.
pub(super) struct Solving {
    /// In the order of the formula.
    pub stages: Vec<MixForms>,
    /// The lines of `total`, or of `dough`.
    pub main: MixForms,
    /// Whether what a stage saves is taken from its own weights, rather than made besides.
    pub saves_inside: Vec<bool>,
    /// Whether a line of the final dough takes all of a stage.
    pub taken_whole: Vec<bool>,
    /// What stages, cultures and old dough bring into the final dough, in total form.
    pub takes: Composition<LinearExpr>,
    /// Flour that only a culture brings, in total form.
    pub unlisted: Composition<LinearExpr>,
    /// Everything that is in the dough.
    pub whole: Composition<LinearExpr>,
    /// The mass of each stage that goes into the final dough.
    pub into_dough: Vec<LinearExpr>,
    /// Of the finished dough, what is kept back as the next old dough.
    pub kept_back: LinearExpr,
    /// Grams of the finished dough that are saved besides, whatever is made.
    pub saved: Exact,
}

impl Solving {
    /// What of the finished dough goes into the pieces.
    pub fn form_of_pieces(&self, whole: &LinearExpr) -> LinearExpr {
        whole.clone().minus(&self.kept_back).minus(&LinearExpr::constant(self.saved.clone()))
    }
}

/// What every unknown is, and how much larger than written the whole is made.
pub(super) struct At<'s> {
    /// Grams, by the number of the unknown.
    pub values: &'s [Exact],
    /// One where it is made as it is written.
    pub ratio: Exact,
}

impl At<'_> {
    /// Grams of a sum.
    pub fn value(&self, form: &LinearExpr) -> Exact {
        form.value(self.values) * &self.ratio
    }

    /// Grams of each substance.
    pub fn content(&self, forms: &Composition<LinearExpr>) -> Composition {
        let mut content = Composition::from_forms(forms, self.values);
        content.scale(&self.ratio);
        content
    }
}
