//! A text with what is said in other words put into ours.

use crate::source::Span;

/// A place and what we write there. Where nothing stood, it is written in.
#[derive(Clone, Debug)]
pub struct Rewording {
    /// Of the author's words.
    pub span: Span,
    /// What to write instead.
    pub text: String,
}

/// Whether a place lies within another. What is written in right before that one does not.
pub fn is_within(inner: Span, outer: Span) -> bool {
    let is_before =
        inner.end == outer.start && (outer.start < outer.end || inner.start == inner.end);
    outer.start <= inner.start && inner.end <= outer.end && !is_before
}

/// A text that begins at `from`, in our words.
pub fn reworded(text: &str, from: u32, rewordings: &[Rewording]) -> String {
    let mut own: Vec<&Rewording> = rewordings.iter().collect();
    own.sort_by_key(|it| (it.span.start, it.span.end));
    let (mut written, mut done) = (String::with_capacity(text.len()), 0);
    for rewording in own {
        let place = |byte: u32| byte.saturating_sub(from) as usize;
        let (start, end) = (place(rewording.span.start), place(rewording.span.end));
        // Of two that overlap the first is made.
        let Some(between) = text.get(done..start) else { continue };
        written.push_str(between);
        written.push_str(&rewording.text);
        done = end;
    }
    written.push_str(text.get(done..).unwrap_or_default());
    written
}
