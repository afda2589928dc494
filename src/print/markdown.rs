//! A manuscript in Markdown as blocks and runs of words, for pages to be made from.
//!
//! Nothing is left out and nothing is understood: what stands in HTML stays as it is written.

use crate::syntax::seen;
use pulldown_cmark::{Alignment, CodeBlockKind, Event, HeadingLevel, Parser, Tag};

/// What a manuscript is made of, in its order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Block {
    /// A heading with its level, from 1.
    Heading(u8, Vec<TextRun>),
    /// A paragraph, or the words of an item.
    Words(Vec<TextRun>),
    /// A list; with the number of its first item where it is numbered.
    List(Option<u64>, Vec<Vec<Block>>),
    /// What somebody else said.
    Quote(Vec<Block>),
    /// Words that are set as they are typed.
    Code(String),
    /// HTML of the author's, or a place for something of ours.
    Html(String),
    /// A table: how its columns stand, and its rows, the heads first.
    Table(Vec<ColumnSide>, Vec<Vec<Vec<TextRun>>>),
    /// Terms with what is said of them.
    Terms(Vec<(Vec<TextRun>, Vec<Vec<Block>>)>),
    /// What a footnote says.
    Note(String, Vec<Block>),
    /// A line across.
    Rule,
}

/// How a column stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ColumnSide {
    /// At its beginning.
    Start,
    /// In the middle.
    Middle,
    /// At its end, as numbers do.
    End,
}

/// Words of one kind.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TextRun {
    /// As they are read.
    Text(String),
    /// As they are typed.
    Code(String),
    /// HTML of the author's.
    Html(String),
    /// `*so*`
    Emphasis(Vec<TextRun>),
    /// `**so**`
    Strong(Vec<TextRun>),
    /// `~~so~~`
    Struck(Vec<TextRun>),
    /// Words that lead somewhere.
    Link(String, Vec<TextRun>),
    /// A picture: its file, and what it shows.
    Picture(String, String),
    /// The mark of a footnote.
    NoteMark(String),
    /// The end of a line that the author wants.
    Break,
}

/// How deep blocks and runs may stand in each other: as deep as pages can be set. The words of
/// what is deeper stand in the deepest.
const DEEPEST: usize = 12;

/// The blocks of a manuscript.
pub fn blocks(text: &str) -> Vec<Block> {
    let mut reader =
        MarkdownReader { events: Parser::new_ext(text, crate::syntax::prose::markdown()) };
    reader.blocks(0)
}

/// The words of runs, without their marks.
pub fn plain(runs: &[TextRun]) -> String {
    let mut written = String::new();
    for run in runs {
        match run {
            TextRun::Text(words) | TextRun::Code(words) => written.push_str(words),
            TextRun::Emphasis(inner)
            | TextRun::Strong(inner)
            | TextRun::Struck(inner)
            | TextRun::Link(_, inner) => {
                written.push_str(&plain(inner));
            }
            TextRun::Picture(_, shows) => written.push_str(shows),
            TextRun::Break => written.push(' '),
            TextRun::Html(_) | TextRun::NoteMark(_) => {}
        }
    }
    written
}

struct MarkdownReader<'t> {
    events: Parser<'t>,
}

impl MarkdownReader<'_> {
    /// The blocks up to the end of what holds them. Items of tight lists have their words
    /// without a paragraph around them.
    fn blocks(&mut self, depth: usize) -> Vec<Block> {
        let mut blocks = Vec::new();
        let mut words: Vec<TextRun> = Vec::new();
        while let Some(event) = self.events.next() {
            let event = match event {
                Event::End(_) => break,
                Event::Start(_) if depth > DEEPEST => {
                    words.extend(self.flat());
                    continue;
                }
                event => event,
            };
            let block = match event {
                Event::Start(tag) => match self.block(tag, depth) {
                    Ok(block) => block,
                    Err(tag) => {
                        words.extend(self.run(tag, depth));
                        continue;
                    }
                },
                Event::Rule => Some(Block::Rule),
                event => {
                    words.extend(leaf(event));
                    continue;
                }
            };
            if !words.is_empty() {
                blocks.push(Block::Words(std::mem::take(&mut words)));
            }
            blocks.extend(block);
        }
        if !words.is_empty() {
            blocks.push(Block::Words(words));
        }
        blocks
    }

    /// The block that a tag begins; the tag itself where it begins a run of words.
    fn block<'t>(&mut self, tag: Tag<'t>, depth: usize) -> Result<Option<Block>, Tag<'t>> {
        let depth = depth + 1;
        Ok(match tag {
            Tag::Paragraph => Some(Block::Words(self.runs(depth))),
            Tag::Heading { level, .. } => Some(Block::Heading(level_of(level), self.runs(depth))),
            Tag::BlockQuote(_) => Some(Block::Quote(self.blocks(depth))),
            Tag::CodeBlock(CodeBlockKind::Fenced(_) | CodeBlockKind::Indented) => {
                Some(Block::Code(self.text()))
            }
            Tag::HtmlBlock => Some(Block::Html(self.text())),
            Tag::List(first) => Some(Block::List(first, self.items(depth))),
            Tag::Table(sides) => {
                let sides = sides.iter().map(|side| match side {
                    Alignment::Right => ColumnSide::End,
                    Alignment::Center => ColumnSide::Middle,
                    Alignment::None | Alignment::Left => ColumnSide::Start,
                });
                Some(Block::Table(sides.collect(), self.rows(depth)))
            }
            Tag::FootnoteDefinition(name) => {
                Some(Block::Note(name.to_string(), self.blocks(depth)))
            }
            Tag::DefinitionList => Some(Block::Terms(self.terms(depth))),
            Tag::MetadataBlock(_) => {
                self.text();
                None
            }
            tag => return Err(tag),
        })
    }

    /// The items of a list, up to its end.
    fn items(&mut self, depth: usize) -> Vec<Vec<Block>> {
        let mut items = Vec::new();
        while let Some(Event::Start(Tag::Item)) = self.events.next() {
            items.push(self.blocks(depth));
        }
        items
    }

    fn rows(&mut self, depth: usize) -> Vec<Vec<Vec<TextRun>>> {
        let mut rows = Vec::new();
        while let Some(Event::Start(Tag::TableHead | Tag::TableRow)) = self.events.next() {
            let mut cells = Vec::new();
            while let Some(Event::Start(Tag::TableCell)) = self.events.next() {
                cells.push(self.runs(depth));
            }
            rows.push(cells);
        }
        rows
    }

    fn terms(&mut self, depth: usize) -> Vec<(Vec<TextRun>, Vec<Vec<Block>>)> {
        let mut terms: Vec<(Vec<TextRun>, Vec<Vec<Block>>)> = Vec::new();
        while let Some(Event::Start(tag)) = self.events.next() {
            match tag {
                Tag::DefinitionListTitle => terms.push((self.runs(depth), Vec::new())),
                _ => {
                    let said = self.blocks(depth);
                    if let Some((_, all)) = terms.last_mut() {
                        all.push(said);
                    }
                }
            }
        }
        terms
    }

    /// Runs of words up to the end of what holds them.
    fn runs(&mut self, depth: usize) -> Vec<TextRun> {
        let mut runs = Vec::new();
        while let Some(event) = self.events.next() {
            match event {
                Event::End(_) => break,
                Event::Start(_) if depth > DEEPEST => runs.extend(self.flat()),
                Event::Start(tag) => runs.extend(self.run(tag, depth + 1)),
                event => runs.extend(leaf(event)),
            }
        }
        runs
    }

    fn run(&mut self, tag: Tag, depth: usize) -> Vec<TextRun> {
        match tag {
            Tag::Emphasis => vec![TextRun::Emphasis(self.runs(depth))],
            Tag::Strong => vec![TextRun::Strong(self.runs(depth))],
            Tag::Strikethrough => vec![TextRun::Struck(self.runs(depth))],
            Tag::Link { dest_url, .. } => {
                vec![TextRun::Link(dest_url.to_string(), self.runs(depth))]
            }
            Tag::Image { dest_url, .. } => {
                let shows = plain(&self.runs(depth));
                vec![TextRun::Picture(dest_url.to_string(), shows)]
            }
            _ => self.runs(depth),
        }
    }

    /// The text up to the end of what holds it.
    fn text(&mut self) -> String {
        let mut text = String::new();
        for event in self.events.by_ref() {
            match event {
                Event::End(_) => break,
                Event::Text(words) | Event::Html(words) | Event::InlineHtml(words) => {
                    text.push_str(&words);
                }
                _ => {}
            }
        }
        text
    }

    /// The words of a block, and of all in it, that is too deep to be one.
    fn flat(&mut self) -> Vec<TextRun> {
        let mut open = 1;
        let mut words = Vec::new();
        for event in self.events.by_ref() {
            match event {
                Event::Start(Tag::Item | Tag::Paragraph) => {
                    words.push(TextRun::Break);
                    open += 1;
                }
                Event::Start(_) => open += 1,
                Event::End(_) => open -= 1,
                event => words.extend(leaf(event)),
            }
            if open == 0 {
                break;
            }
        }
        words
    }
}

fn leaf(event: Event) -> Option<TextRun> {
    Some(match event {
        // Nobody sees some letters, and no page can be set with others.
        Event::Text(words) => TextRun::Text(seen(&words).into_owned()),
        Event::Code(words) => TextRun::Code(seen(&words).into_owned()),
        Event::InlineMath(words) | Event::DisplayMath(words) => TextRun::Code(words.to_string()),
        Event::Html(words) | Event::InlineHtml(words) => TextRun::Html(words.to_string()),
        Event::FootnoteReference(name) => TextRun::NoteMark(name.to_string()),
        Event::SoftBreak => TextRun::Text("\n".to_owned()),
        Event::HardBreak => TextRun::Break,
        _ => return None,
    })
}

fn level_of(level: HeadingLevel) -> u8 {
    level as u8
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_of_a_manuscript_is_left_out() {
        let text = "# One *two*\n\nWords[^a] **b** `c` [d](e.md) ![f](g.png)  \nmore ~~h~~\n\n\
                    - i\n- j\n\n  k\n\n3. l\n\n> m\n\n| n | o |\n|---|--:|\n| p | 1 |\n\n\
                    ```\nq\n```\n\n<div>r</div>\n\n---\n\n[^a]: s\n";
        let all = blocks(text);
        let kinds: Vec<String> = all
            .iter()
            .map(|block| {
                format!("{block:?}").split(['(', ' ']).next().unwrap_or_default().to_owned()
            })
            .collect();
        assert_eq!(
            kinds,
            ["Heading", "Words", "List", "List", "Quote", "Table", "Code", "Html", "Rule", "Note"]
        );
        let told = format!("{all:?}");
        for letter in [
            "One ", "two", "Words", "\"b\"", "\"c\"", "\"d\"", "e.md", "g.png", "\"h\"", "\"i\"",
            "\"k\"", "\"l\"", "\"m\"", "\"p\"", "q\\n", "r</div>", "\"s\"",
        ] {
            assert!(told.contains(letter), "{letter}: {told}");
        }
    }

    #[test]
    fn nothing_is_too_deep_to_be_read() {
        blocks(&"> ".repeat(5000));
        blocks(&format!("{}a{}", "*".repeat(3000), "*".repeat(3000)));
        blocks(&"- ".repeat(3000));
        // Nor is it left out.
        let deep: String = (0..70).map(|at| format!("{}- L{at}\n", "  ".repeat(at))).collect();
        let told = format!("{:?}", blocks(&deep));
        assert!((0..70).all(|at| told.contains(&format!("L{at}\""))), "{told}");
    }
}
