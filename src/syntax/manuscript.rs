//! Formulas inside a Markdown manuscript: fenced blocks marked `dough`.
//!
//! A manuscript is read in place: everything outside such blocks is blanked, byte for
//! byte, so that places stay what they are in the manuscript. A block marked
//! `dough no-check` is left out. A formula may run over several blocks. What looks like such
//! a block and is none has a finding.

use super::findings::unread_fence;
use super::read::{self, unresolved};
use crate::diag::Finding;
use crate::source::{SourceId, Span};
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

/// What a fence says of its block.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Mark {
    /// `dough`, and it is to be checked.
    Ours,
    /// `dough no-check`.
    NotChecked,
    /// A word so near to `dough` that it was most likely meant.
    Near,
    /// `dough` with a word so near to `no-check` that it was most likely meant.
    NearNoCheck,
    /// Anything else, or nothing.
    Other,
}

/// The word of a fence whose block is read, and the one that leaves it out.
const OURS: &str = "dough";
const NO_CHECK: &str = "no-check";

/// What else somebody may call such a block, alone or as a part of a mark.
const NEAR: [&str; 9] =
    [OURS, "assize", "teig", "pate", "pâte", "masa", "impasto", "formula", "deeg"];

/// Reads the words behind a fence: `dough`, `Dough no-check`, `{.dough .no-check}`.
fn mark(info: &str) -> Mark {
    let parts = |letter: char| letter.is_whitespace() || "{}.,;:".contains(letter);
    let mut words = info.split(parts).filter(|word| !word.is_empty()).map(str::to_lowercase);
    let Some(first) = words.next() else { return Mark::Other };
    if first != OURS {
        // `language-dough`, `lang=dough`, and the word in the languages of prints.
        let is_in_it = |word: &str| word.split(['-', '_', '=']).any(|part| NEAR.contains(&part));
        let near = strsim::damerau_levenshtein(&first, OURS) == 1 || is_in_it(&first);
        return if near { Mark::Near } else { Mark::Other };
    }
    let rest: Vec<String> = words.collect();
    if rest.iter().any(|word| word == NO_CHECK) {
        return Mark::NotChecked;
    }
    let plain = |word: &String| word.replace(['-', '_'], "");
    let near = |word: &String| strsim::damerau_levenshtein(&plain(word), "nocheck") <= 2;
    if rest.iter().any(near) { Mark::NearNoCheck } else { Mark::Ours }
}

/// Whether the words after a fence mark a block that is read.
pub fn is_ours(info: &str) -> bool {
    matches!(mark(info), Mark::Ours | Mark::NearNoCheck)
}

/// What of Markdown counts beside CommonMark: formulas stand in footnotes and under the
/// words of a glossary too.
fn markdown() -> Options {
    Options::ENABLE_FOOTNOTES | Options::ENABLE_DEFINITION_LIST
}

/// The blocks of a manuscript that are checked, in order.
pub fn blocks(text: &str) -> Vec<Block> {
    // A manuscript without the word holds none; most texts beside a bakehouse are such.
    if !mentions_ours(text) {
        return Vec::new();
    }
    let mut blocks = Vec::new();
    let mut open: Option<Block> = None;
    for (event, range) in Parser::new_ext(text, markdown()).into_offset_iter() {
        match event {
            Event::Start(Tag::CodeBlock(CodeBlockKind::Fenced(info))) => {
                open = is_ours(&info).then(|| Block { lines: Vec::new() });
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

fn mentions_ours(text: &str) -> bool {
    let word = OURS.as_bytes();
    text.as_bytes().windows(word.len()).any(|bytes| bytes.eq_ignore_ascii_case(word))
}

/// A finding for every merge that is not settled, in the prose or in a block of ours; other code
/// may show what one looks like.
pub fn unsettled(source: SourceId, text: &str) -> Vec<Finding> {
    let conflicts = unresolved(text);
    if conflicts.is_empty() {
        return Vec::new();
    }
    let other = |(event, range)| match event {
        Event::Start(Tag::CodeBlock(CodeBlockKind::Fenced(info))) if is_ours(&info) => None,
        Event::Start(Tag::CodeBlock(_)) => Some(range),
        _ => None,
    };
    let other: Vec<Range<usize>> =
        Parser::new_ext(text, markdown()).into_offset_iter().filter_map(other).collect();
    let is_shown =
        |it: &Range<usize>| other.iter().any(|code| code.start <= it.start && it.end <= code.end);
    let open = conflicts.into_iter().map(|it| it.whole).filter(|it| !is_shown(it));
    open.map(|whole| read::unsettled(source, whole)).collect()
}

/// A finding for every block that looks like one of ours and is not read, and for every
/// fence with a word that is nearly one of ours.
pub fn doubtful(source: SourceId, text: &str) -> Vec<Finding> {
    let mut findings = Vec::new();
    // Stretches in which no fence of ours can open: other code, and comments of HTML.
    let mut passed: Vec<Range<usize>> = Vec::new();
    for (event, range) in Parser::new_ext(text, markdown()).into_offset_iter() {
        match event {
            Event::Start(Tag::CodeBlock(CodeBlockKind::Fenced(info))) => {
                let at = place_of(source, text, range.start, &info);
                match mark(&info) {
                    Mark::Near => findings.push(unread_fence::near(at, &info)),
                    Mark::NearNoCheck => findings.push(unread_fence::near_no_check(at, &info)),
                    Mark::Other
                        if !shows_markdown(&info) && holds_a_formula(&text[range.clone()]) =>
                    {
                        findings.push(unread_fence::unmarked(at, &info));
                    }
                    _ => {}
                }
                passed.push(range);
            }
            Event::Start(Tag::CodeBlock(CodeBlockKind::Indented)) => {
                let inside = &text[range.clone()];
                if let Some(at) = formula_in(inside).filter(|_| !holds_a_fence(inside)) {
                    let at = place(source, text, range.start + at);
                    findings.push(unread_fence::indented(at));
                }
            }
            Event::Start(Tag::HtmlBlock) => {
                let inside = &text[range.clone()];
                let is_comment = inside.trim_start().starts_with("<!--");
                let found = formula_in(inside).filter(|_| is_comment || !holds_a_fence(inside));
                if let Some(at) = found {
                    let at = place(source, text, range.start + at);
                    findings.push(unread_fence::in_html(at, is_comment));
                }
                if is_comment {
                    passed.push(range);
                }
            }
            _ => {}
        }
    }
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        let place = start..start + line.trim_end().len();
        start += line.len();
        let around = passed.partition_point(|range| range.end <= place.start);
        let is_passed = passed.get(around).is_some_and(|range| range.start < place.end);
        if let Some(fence) = fence_of_ours(line).filter(|_| !is_passed) {
            let at = Span::new(source, byte(place.start + fence), byte(place.end));
            findings.push(unread_fence::no_block(at));
        }
    }
    findings
}

/// Where a line opens what looks like a fence of ours, behind its indent, the `>` of a
/// quotation or the sign of a list.
fn fence_of_ours(line: &str) -> Option<usize> {
    let at = line.find("```").or_else(|| line.find("~~~"))?;
    let before = &line[..at];
    let is_lead = before.chars().all(|letter| {
        letter.is_whitespace() || letter.is_ascii_digit() || ">-*+.):".contains(letter)
    });
    let info = line[at..].trim_start_matches(['`', '~']);
    (is_lead && !info.contains('`') && mark(info) == Mark::Ours).then_some(at)
}

/// Whether a formula stands in a block.
fn holds_a_formula(block: &str) -> bool {
    formula_in(block).is_some()
}

/// Whether a block shows how a manuscript is written.
fn shows_markdown(info: &str) -> bool {
    let first = info.split(|letter: char| !letter.is_alphanumeric()).find(|word| !word.is_empty());
    first.is_some_and(|word| matches!(word.to_lowercase().as_str(), "markdown" | "md"))
}

/// Whether what looks like a fence of ours stands in a block.
fn holds_a_fence(block: &str) -> bool {
    block.lines().any(|line| fence_of_ours(line).is_some())
}

/// Where a formula begins in a block that is not read: `formula NAME … {`.
fn formula_in(block: &str) -> Option<usize> {
    let mut start = 0;
    for line in block.split_inclusive('\n') {
        let lead = |letter: char| letter.is_whitespace() || letter == '>';
        // After a tag: `<pre class="dough">formula …`.
        let after = match line.trim_start().strip_prefix('<') {
            Some(tag) => tag.find('>').map_or(line, |end| &tag[end + 1..]),
            None => line,
        };
        let own = after.trim_start_matches(lead);
        let named = own.strip_prefix("formula").filter(|rest| rest.starts_with([' ', '\t']));
        let opens = |rest: &str| rest.split_whitespace().next().is_some_and(|name| name != "{");
        if named.is_some_and(|rest| rest.contains('{') && opens(rest)) {
            return Some(start + line.len() - own.len());
        }
        start += line.len();
    }
    None
}

/// The rest of a line from a place in it.
fn place(source: SourceId, text: &str, start: usize) -> Span {
    let line = text[start..].lines().next().unwrap_or_default();
    Span::new(source, byte(start), byte(start + line.trim_end().len()))
}

/// The words behind a fence that opens at `start`; the fence itself where there are none.
fn place_of(source: SourceId, text: &str, start: usize, info: &str) -> Span {
    let line = text[start..].lines().next().unwrap_or_default();
    let found = if info.is_empty() { None } else { line.find(info) };
    let (from, length) = found.map_or((0, line.trim_end().len()), |at| (at, info.len()));
    Span::new(source, byte(start + from), byte(start + from + length))
}

/// A place in a file, which is never so long that it would not fit.
fn byte(place: usize) -> u32 {
    u32::try_from(place).unwrap_or(u32::MAX)
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
const MAX_BLOCKS: usize = 24;

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
            if last >= blocks.len() || last - next >= MAX_BLOCKS {
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
