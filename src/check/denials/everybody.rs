//! What is said to suit everybody: `suitable for all diets`, `everyone can eat it`. Somebody
//! is allergic to each of the allergens, so it is a claim to be without all of them.

use super::super::speech::PhraseFound;
use super::reading::{Claim, DenialReading, Denied};

impl DenialReading<'_> {
    /// The claims that a sentence makes so.
    pub(super) fn for_everybody(&self) -> Vec<Claim> {
        let all = self.sentence.all("word", "everybody");
        all.filter_map(|who| self.suits_all(&who)).collect()
    }

    fn suits_all(&self, who: &PhraseFound) -> Option<Claim> {
        const NEAR: usize = 3;
        let is_near = |from: usize, to: usize| from >= to && from - to <= NEAR;
        let mut fits = self.sentence.all("word", "fits");
        let mut eats = self.sentence.all("word", "eats");
        let said = fits
            .find(|it| is_near(who.from, it.to) || is_near(it.from, who.to))
            .or_else(|| eats.find(|it| is_near(it.from, who.to)))?;
        let (from, to) = (said.from.min(who.from), said.to.max(who.to));
        let after = self.is("to-eat", to).unwrap_or(to);
        let is_whole = self.is_break(to) || self.is_break(after);
        let is_aside = self.is_denied(from)
            || self.is_denied(who.from)
            || self.is_turned_round()
            || self.is_could_be(from)
            || ["ask", "other-bread"].iter().any(|row| self.has(row, &self.sentence.whole()));
        (is_whole && !is_aside).then(|| Claim::of(from..to, Denied::AllAllergens))
    }
}
