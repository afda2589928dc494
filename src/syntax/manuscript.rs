//! Formulas inside a Markdown manuscript: fenced blocks marked `dough`.
//!
//! A manuscript is read in place: everything outside such blocks is blanked, byte for
//! byte, so that places stay what they are in the manuscript. A block marked
//! `dough no-check` is left out. A formula may run over several blocks.

use pulldown_cmark::{CodeBlockKind, Event, Options, Parser, Tag, TagEnd};
use std::ops::Range;

/// A block of formulas in a manuscript.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Block {
    /// The stretches of its lines, without what stands before each (indent, `>`).
    pub lines: Vec<Range<usize>>,
}

impl Block {
    /// From its first byte to its last.
    pub fn span(&self) -> Range<usize> {
        let start = self.lines.first().map_or(0, |line| line.start);
        start..self.lines.last().map_or(start, |line| line.end)
    }
}

/// The blocks of a manuscript that are checked, in order.
pub fn blocks(text: &str) -> Vec<Block> {
    let mut blocks = Vec::new();
    let mut open: Option<Block> = None;
    for (event, range) in Parser::new_ext(text, Options::empty()).into_offset_iter() {
        match event {
            Event::Start(Tag::CodeBlock(CodeBlockKind::Fenced(info))) => {
                let mut words = info.split_whitespace();
                let is_ours =
                    words.next() == Some("dough") && !words.any(|word| word == "no-check");
                open = is_ours.then(|| Block { lines: Vec::new() });
            }
            Event::Text(_) => {
                if let Some(block) = &mut open {
                    block.lines.push(range);
                }
            }
            Event::End(TagEnd::CodeBlock) => {
                blocks.extend(open.take().filter(|block| !block.lines.is_empty()));
            }
            _ => {}
        }
    }
    blocks
}

/// The manuscript with all but its formulas blanked, of the same length.
pub fn only_formulas(text: &str) -> String {
    let mut plain: Vec<u8> =
        text.bytes().map(|byte| if byte == b'\n' { b'\n' } else { b' ' }).collect();
    for line in blocks(text).iter().flat_map(|block| &block.lines) {
        if let (Some(plain), Some(own)) = (plain.get_mut(line.clone()), text.get(line.clone())) {
            plain.copy_from_slice(own.as_bytes());
        }
    }
    // Whole letters were copied and the rest is ASCII, so the text is sound.
    String::from_utf8(plain).unwrap_or_default()
}

/// Stands between two blocks that are rewritten as one; a comment, so that it keeps its line.
const SEAM: &str = "#\u{2060}seam";

/// Blocks that one formula may run over and still be rewritten.
const MOST_BLOCKS: usize = 24;

/// The manuscript with the inside of each block rewritten. Where `rewrite` gives nothing for
/// a block alone, as for a formula that goes on in the next, the following ones are taken
/// with it; what nothing is given for stays as it is.
pub fn rewrite(text: &str, rewrite: impl Fn(&str) -> Option<String>) -> String {
    let blocks = blocks(text);
    let insides: Vec<String> = blocks
        .iter()
        .map(|block| block.lines.iter().filter_map(|line| text.get(line.clone())).collect())
        .collect();
    let mut written = String::with_capacity(text.len());
    let mut from = 0;
    let mut next = 0;
    while next < blocks.len() {
        let mut joined = insides[next].clone();
        let mut last = next;
        let laid_out = loop {
            if let Some(laid_out) = rewrite(&joined) {
                break Some(laid_out);
            }
            last += 1;
            if last >= blocks.len() || last - next >= MOST_BLOCKS {
                break None;
            }
            if !joined.ends_with('\n') {
                joined.push('\n');
            }
            joined.push_str(&format!("{SEAM}\n{}", insides[last]));
        };
        let Some(laid_out) = laid_out else {
            next += 1;
            continue;
        };
        let lines: Vec<&str> = laid_out.lines().collect();
        let parts = lines.split(|line| line.trim_start().starts_with(SEAM));
        for (block, lines) in blocks[next..=last].iter().zip(parts) {
            let span = block.span();
            written.push_str(&text[from..line_start(text, span.start)]);
            write_block(text, block, lines, &mut written);
            from = span.end;
        }
        next = last + 1;
    }
    written.push_str(&text[from..]);
    written
}

fn line_start(text: &str, at: usize) -> usize {
    text[..at].rfind('\n').map_or(0, |at| at + 1)
}

/// Writes the lines of a block, each behind what stands before those of the manuscript.
fn write_block(text: &str, block: &Block, lines: &[&str], written: &mut String) {
    let span = block.span();
    let prefix = &text[line_start(text, span.start)..span.start];
    let first = lines.iter().position(|line| !line.is_empty()).unwrap_or(0);
    let end = lines.iter().rposition(|line| !line.is_empty()).map_or(first, |last| last + 1);
    let line_end = if text[span.clone()].contains("\r\n") { "\r\n" } else { "\n" };
    for line in &lines[first..end] {
        written.push_str(format!("{prefix}{line}").trim_end());
        written.push_str(line_end);
    }
    // A block in a list may end before its last line break.
    if !text[..span.end].ends_with('\n') {
        written.truncate(written.trim_end_matches(['\r', '\n']).len());
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const BOOK: &str = "# Héading\n\nWords.\n\n```dough\nformula a {\n```\n\nMore.\n\n- item\n\n  ```dough\n  } # end\n  ```\n\n```dough no-check\nnonsense\n```\n\n    not ours\n";

    #[test]
    fn everything_but_the_formulas_is_blank_and_places_stay() {
        let plain = only_formulas(BOOK);
        assert_eq!(plain.len(), BOOK.len());
        assert_eq!(
            plain.split_whitespace().collect::<Vec<_>>(),
            ["formula", "a", "{", "}", "#", "end"]
        );
        assert_eq!(plain.find("formula"), BOOK.find("formula"));
        assert_eq!(plain.matches('\n').count(), BOOK.matches('\n').count());
    }

    #[test]
    fn only_the_inside_of_a_block_is_rewritten() {
        let shouted = rewrite(BOOK, |inside| Some(inside.to_uppercase()));
        let expected = BOOK.replace("formula a {", "FORMULA A {").replace("} # end", "} # END");
        assert_eq!(shouted, expected);
        assert_eq!(rewrite(BOOK, |_| None), BOOK);
    }

    #[test]
    fn a_formula_over_several_blocks_is_rewritten_as_one() {
        let whole = |inside: &str| {
            let opened = inside.matches('{').count() == inside.matches('}').count();
            opened.then(|| inside.replace("formula a", "formula b"))
        };
        let expected = BOOK.replace("formula a", "formula b");
        assert_eq!(rewrite(BOOK, whole), expected);
    }
}
