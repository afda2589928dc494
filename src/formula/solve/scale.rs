//! How much larger a formula is made than it was where something stands.

use super::work;
use crate::formula::worked::Worked;
use crate::quantity::Exact;
use crate::source::Span;
use crate::syntax::tree::Formula;

impl Worked<'_> {
    /// How much larger the formula is made than it was where something stands that was
    /// written for its size: what it inherits was written for the one it is from.
    pub fn scale_at(&self, span: Span) -> Exact {
        let mut chain = vec![&*self.formula];
        let mut next = self.house.formula(&self.formula.name.key).and_then(|own| own.from.as_ref());
        while let Some(parent) = next.and_then(|from| self.house.formula(&from.key)) {
            if chain.iter().any(|known| known.name.key == parent.name.key) {
                break;
            }
            chain.push(parent);
            next = parent.from.as_ref();
        }
        let holds = |formula: &&&Formula| {
            formula.span.source == span.source && formula.span.start <= span.start
        };
        let origin = chain.iter().filter(holds).max_by_key(|formula| formula.span.start);
        match origin {
            Some(origin) if origin.name.key != self.formula.name.key => {
                let written = work(self.house, origin, &mut Vec::new()).first().whole.mass();
                self.first().whole.mass().over(&written).unwrap_or(Exact::ONE)
            }
            _ => self.scaled.clone(),
        }
    }
}
