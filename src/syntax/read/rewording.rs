//! What can be read in other words than ours, and how we write it.
//!
//! The reader notes our words beside what it read; `fmt` writes them. They never change
//! what a statement says.

use super::Reader;
use super::ours::{Rewording, is_within, reworded};
use crate::source::{Span, is_blank, is_unseen};

impl Reader<'_> {
    /// Notes how we write what stands at a place. What was noted within it is taken over by
    /// it, so the text has to hold it (`worded`).
    pub fn reword(&mut self, span: Span, text: impl Into<String>) {
        let (text, written) = (text.into(), self.under(span));
        // Where a statement goes on in the next line its comments are not to be touched.
        if self.muted || written.contains(['\n', '#']) {
            return;
        }
        // A letter that nobody sees is left to its author: a name may hold it.
        let holds_unseen =
            |words: &str| words.chars().any(|letter| is_unseen(letter) && letter != '\t');
        if holds_unseen(written) && !holds_unseen(&text) {
            return;
        }
        // The comma at the end of a line is what goes on in the next.
        if written.contains(',') && !text.ends_with(',') && self.ends_its_line(span) {
            return;
        }
        while self.rewordings.last().is_some_and(|last| is_within(last.span, span)) {
            self.rewordings.pop();
        }
        if written != text {
            self.rewordings.push(Rewording { span, text });
        }
    }

    /// Whether a place ends in a comma, and nothing but a comment stands after it on its line.
    fn ends_its_line(&self, span: Span) -> bool {
        let behind = self.text.get(span.end as usize..).unwrap_or_default();
        let line = behind.split('\n').next().unwrap_or_default();
        let behind = line.split('#').next().unwrap_or_default();
        self.under(span).trim_end().ends_with(',')
            && behind.chars().all(is_blank)
            && line.len() < self.text.len().saturating_sub(span.end as usize)
    }

    /// What stands at a place, in our words.
    pub fn worded(&self, span: Span) -> String {
        // Those of what stands before it came before.
        let last = self.rewordings.iter().rposition(|it| it.span.end <= span.start);
        let own = self.rewordings.get(last.map_or(0, |at| at + 1)..).unwrap_or_default();
        let own: Vec<_> = own.iter().filter(|it| is_within(it.span, span)).cloned().collect();
        reworded(self.under(span), span.start, &own)
    }
}
