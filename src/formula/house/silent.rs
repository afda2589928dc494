//! Texts in which nothing was found, so that words which many formulas share are read once.

use rustc_hash::FxHashSet;
use std::sync::Mutex;

/// Texts of a house, each with what was looked for in it in vain. Whole texts are kept rather
/// than hashes of them: what a text says is never taken for what another one says.
#[derive(Debug, Default)]
pub struct Silent(Mutex<FxHashSet<Box<str>>>);

impl Clone for Silent {
    /// Another house may read the same words in another way.
    fn clone(&self) -> Self {
        Self::default()
    }
}

impl Silent {
    /// As many as are kept, so that texts which stand once only fill no memory.
    const MAX: usize = 20_000;

    /// Whether nothing was found when this was looked for.
    pub fn holds(&self, looked_for: &str) -> bool {
        self.0.lock().is_ok_and(|known| known.contains(looked_for))
    }

    /// Remembers that nothing was found.
    pub fn learn(&self, looked_for: &str) {
        if let Ok(mut known) = self.0.lock()
            && known.len() < Self::MAX
        {
            known.insert(looked_for.into());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_learned_is_known_of_the_same_words_only() {
        let silent = Silent::default();
        silent.learn("claims\0On a rack.");
        assert!(silent.holds("claims\0On a rack."));
        assert!(!silent.holds("claims\0On a rack") && !silent.holds("foods\0On a rack."));
        assert!(!silent.clone().holds("claims\0On a rack."));
    }

    #[test]
    fn only_so_many_are_kept() {
        let silent = Silent::default();
        (0..=Silent::MAX).for_each(|text| silent.learn(&text.to_string()));
        assert!(silent.holds("0") && !silent.holds(&Silent::MAX.to_string()));
    }
}
