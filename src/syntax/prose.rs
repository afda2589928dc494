//! The words of a Markdown manuscript: headings, paragraphs, items, tables and comments, in
//! their order, each byte with its place in the file.
//!
//! Code and blocks of HTML tell no numbers of a bread, and what stands between square brackets
//! is a live figure or a remark of the author's: they read as gaps. [`Passage::spoken`] has the
//! words of those that print as they stand, for whoever asks what a reader may be promised.

use super::manuscript::is_ours;
use pulldown_cmark::{CodeBlockKind, Event, HeadingLevel, Options, Parser, Tag, TagEnd};
use std::borrow::Cow;
use std::ops::Range;

/// Stands for what is left out of a passage: a word that says nothing.
pub const GAP: char = '\u{fffc}';

/// A run of words that belong together: a paragraph, a heading, an item, a cell.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Passage {
    /// As a reader sees it, without marks.
    pub text: String,
    /// The brackets in it, with what stands between them, in the file.
    pub brackets: Vec<Range<usize>>,
    /// Where stretches of the text begin: in the text, in the file.
    pieces: Vec<(usize, usize)>,
    /// What prints in gaps of the text, each from its byte there.
    hidden: Vec<(usize, String)>,
}

impl Passage {
    /// Where bytes of the text stand in the file.
    pub fn place(&self, range: Range<usize>) -> Range<usize> {
        let start = self.byte(range.start);
        let end = range.end.checked_sub(1).map_or(start, |last| self.byte(last) + 1);
        start..end.max(start)
    }

    /// Words at a place of the file.
    pub fn of(text: &str, file: usize) -> Self {
        let mut passage = Self::default();
        passage.push(text, file);
        passage
    }

    /// Words that stand in another file, all at one place of this one.
    pub fn all_at(text: &str, file: usize) -> Self {
        let mut passage = Self { text: text.to_owned(), ..Self::default() };
        passage.pieces = text.char_indices().map(|(at, _)| (at, file)).collect();
        passage
    }

    /// The text with the words that may print in its gaps: `inline code`, and what stands between
    /// brackets. Every byte of the text stays where it is.
    pub fn spoken(&self) -> Cow<'_, str> {
        if self.hidden.is_empty() {
            return Cow::Borrowed(&self.text);
        }
        let mut spoken = self.text.clone();
        for (at, words) in &self.hidden {
            let range = *at..at + words.len();
            if spoken.get(range.clone()).is_some() {
                spoken.replace_range(range, words);
            }
        }
        Cow::Owned(spoken)
    }

    /// This and another after it, with some blanks or marks between them.
    pub fn joined(&self, between: &str, other: &Self) -> Self {
        let end = self.text.len().checked_sub(1).map_or(0, |last| self.byte(last) + 1);
        let mut joined = self.clone();
        joined.push(between, end);
        let shift = joined.text.len();
        joined.text.push_str(&other.text);
        joined.pieces.extend(other.pieces.iter().map(|(text, file)| (text + shift, *file)));
        let hidden = other.hidden.iter().map(|(at, words)| (at + shift, words.clone()));
        joined.hidden.extend(hidden);
        joined
    }

    fn byte(&self, at: usize) -> usize {
        let behind = self.pieces.partition_point(|(text, _)| *text <= at);
        let piece = behind.checked_sub(1).and_then(|last| self.pieces.get(last));
        piece.map_or(0, |(text, file)| file + (at - text))
    }

    fn push(&mut self, text: &str, file: usize) {
        self.pieces.push((self.text.len(), file));
        self.text.push_str(text);
    }

    /// Puts a gap in place of what stands between square brackets, of the same length.
    fn leave_out_brackets(&mut self, file: &str) {
        let is_escaped = |at: usize| {
            let place = self.byte(at);
            place > 0 && file.as_bytes().get(place - 1) == Some(&b'\\')
        };
        let mut gaps: Vec<Range<usize>> = Vec::new();
        let mut open = None;
        for (at, sign) in self.text.match_indices(['[', ']']) {
            match (sign, open) {
                ("[", _) if !is_escaped(at) => open = Some(at),
                ("]", Some(from)) if !is_escaped(at) => {
                    gaps.push(from..at + 1);
                    open = None;
                }
                _ => {}
            }
        }
        self.brackets = gaps.iter().map(|gap| self.place(gap.clone())).collect();
        for gap in gaps.into_iter().filter(|gap| gap.len() >= GAP.len_utf8()) {
            let inside = &self.text[gap.start + 1..gap.end - 1];
            self.hidden.push((gap.start, format!(" {inside} ")));
            let blanks = " ".repeat(gap.len() - GAP.len_utf8());
            self.text.replace_range(gap, &format!("{GAP}{blanks}"));
        }
    }
}

/// A table with its cells as they are read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ProseTable {
    /// All of it, in the file.
    pub range: Range<usize>,
    /// The row of headings and those below it.
    pub rows: Vec<Vec<Passage>>,
}

/// What a manuscript is made of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PassageKind {
    /// A heading and its level, from 1.
    Heading(u8, Passage),
    /// A paragraph, an item of a list, a term or a note.
    Words(Passage),
    /// What prints and is no prose: the words in a block of HTML, the title in the lines before
    /// a text.
    Aside(Passage),
    /// A line of a block of code, of which only what it denies is read.
    Quoted(Passage),
    /// A table.
    Table(ProseTable),
    /// A block of formulas with its fences, and the words after the first one.
    Fence(Range<usize>, String),
    /// Our words in a comment, without its marks: a place in the file.
    Comment(Range<usize>),
    /// A comment that seems to be meant for us and is not: all of it.
    NearComment(Range<usize>),
}

/// A part of a manuscript.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ProsePart {
    /// What it is.
    pub kind: PassageKind,
    /// Its first byte in the file.
    pub start: usize,
    /// The number of the paragraph, list or table that it lies in.
    pub block: usize,
    /// Whether it is a term, which what comes next explains.
    pub is_term: bool,
}

/// The drawings that a manuscript shows, each with the place of its mark and the name of its
/// file: their letters are printed with it.
pub fn drawings(text: &str) -> Vec<(Range<usize>, String)> {
    let is_drawing = |name: &str| name.to_lowercase().ends_with(".svg");
    if !text.to_lowercase().contains(".svg") {
        return Vec::new();
    }
    let mut all = Vec::new();
    for (event, range) in Parser::new_ext(text, markdown()).into_offset_iter() {
        match event {
            Event::Start(Tag::Image { dest_url, .. }) if is_drawing(&dest_url) => {
                all.push((range, dest_url.to_string()));
            }
            Event::Html(html) | Event::InlineHtml(html) => {
                let sources = html.match_indices("src=").filter_map(|(at, _)| {
                    let value = html.get(at + 4..)?;
                    let mark = value.chars().next().filter(|mark| matches!(mark, '"' | '\''))?;
                    value.get(1..)?.split(mark).next()
                });
                all.extend(
                    sources.filter(|it| is_drawing(it)).map(|it| (range.clone(), it.to_owned())),
                );
            }
            _ => {}
        }
    }
    all
}

/// What of Markdown is read beyond its core.
pub fn markdown() -> Options {
    Options::ENABLE_TABLES
        | Options::ENABLE_FOOTNOTES
        | Options::ENABLE_DEFINITION_LIST
        | Options::ENABLE_STRIKETHROUGH
        | Options::ENABLE_YAML_STYLE_METADATA_BLOCKS
}

/// The parts of a manuscript, in order.
pub fn parts(text: &str) -> Vec<ProsePart> {
    let mut reader = ProseReader::new(text);
    for (event, range) in Parser::new_ext(text, markdown()).into_offset_iter() {
        reader.event(event, range);
    }
    reader.close();
    reader.parts
}

struct ProseReader<'t> {
    text: &'t str,
    parts: Vec<ProsePart>,
    open: Passage,
    start: usize,
    heading: Option<u8>,
    table: Option<ProseTable>,
    /// How deep in blocks we are, and in what is left out.
    depth: usize,
    hidden: usize,
    block: usize,
    is_term: bool,
    /// Whether what is left out are the lines before a text.
    in_metadata: bool,
    /// Whether it is a block of code that may hold words.
    in_quote: bool,
    /// The words of a block of HTML that has not ended, and where they begin.
    in_html: Passage,
    html_start: usize,
    in_comment: bool,
    /// How deep in what is struck out we are.
    struck: usize,
}

impl<'t> ProseReader<'t> {
    fn new(text: &'t str) -> Self {
        Self {
            text,
            parts: Vec::new(),
            open: Passage::default(),
            start: 0,
            heading: None,
            table: None,
            depth: 0,
            hidden: 0,
            block: 0,
            is_term: false,
            in_metadata: false,
            in_quote: false,
            in_html: Passage::default(),
            html_start: 0,
            in_comment: false,
            struck: 0,
        }
    }

    fn event(&mut self, event: Event, range: Range<usize>) {
        match event {
            Event::Start(tag) => self.begin(&tag, range),
            Event::End(tag) => self.end(tag),
            // What is struck out is not said, and numbers in it count no more.
            Event::Text(_) | Event::Code(_) if self.hidden == 0 && self.struck > 0 => {}
            Event::Text(words) if self.hidden == 0 => self.words(&words, range.start),
            Event::SoftBreak | Event::HardBreak if self.hidden == 0 => {
                self.words(" ", range.start);
            }
            Event::Code(words) if self.hidden == 0 => self.code(&words, range),
            Event::Html(_) => self.html(range),
            Event::Text(_) if self.in_metadata => self.titles(range),
            Event::Text(_) if self.in_quote => self.quoted(range),
            Event::InlineMath(_) | Event::DisplayMath(_) if self.hidden == 0 => {
                self.words(GAP.encode_utf8(&mut [0; 4]), range.start);
            }
            Event::InlineHtml(tag) => {
                self.strike(&tag);
                self.attributes(range.clone());
                self.comments(range);
            }
            Event::Rule => self.block += 1,
            _ => {}
        }
    }

    fn words(&mut self, words: &str, at: usize) {
        if self.open.text.is_empty() {
            self.start = at;
        }
        self.open.push(words, at);
    }

    /// A gap as long as what stands in it.
    fn code(&mut self, words: &str, range: Range<usize>) {
        let written = self.text.get(range.clone()).unwrap_or_default();
        let at = range.start + written.find(words).unwrap_or_default();
        let length = words.len().max(GAP.len_utf8());
        if self.open.text.is_empty() {
            self.start = at;
        }
        self.open.hidden.push((self.open.text.len(), format!("{words:length$}")));
        self.open.push(&format!("{GAP}{}", " ".repeat(length - GAP.len_utf8())), at);
    }

    /// The words of a line of a block of HTML, as a browser shows them: marks within a line,
    /// comments and what nobody sees part nothing.
    fn html(&mut self, range: Range<usize>) {
        self.attributes(range.clone());
        let line = self.text.get(range.clone()).unwrap_or_default();
        let mut from = 0;
        while let Some(rest) = line.get(from..).filter(|rest| !rest.is_empty()) {
            let at = range.start + from;
            if self.in_comment {
                let end = rest.find("-->").map(|end| end + "-->".len());
                self.in_comment = end.is_none();
                from += end.unwrap_or(rest.len());
            } else if rest.starts_with("<!--") {
                self.in_comment = true;
                from += "<!--".len();
            } else if is_tag(rest) {
                let end = rest.find('>').map_or(rest.len(), |end| end + 1);
                self.tag(&rest[..end]);
                from += end;
            } else if let Some((letter, length)) = entity(rest) {
                self.shown(&letter, at);
                from += length;
            } else {
                let next = rest.char_indices().skip(1).find(|(_, sign)| "<&\n".contains(*sign));
                let length = next.map_or(rest.len(), |(next, _)| next);
                let words = &rest[..length];
                self.shown(if words.starts_with('\n') { " " } else { words }, at);
                from += length;
            }
        }
    }

    /// Words of a block of HTML that are shown and not struck out.
    fn shown(&mut self, words: &str, at: usize) {
        if self.struck > 0 {
            return;
        }
        if self.in_html.text.is_empty() {
            self.html_start = at;
        }
        self.in_html.push(words, at);
    }

    /// A tag of HTML: one of a block ends the words before it.
    fn tag(&mut self, tag: &str) {
        const WITHIN: [&str; 26] = [
            "a", "abbr", "b", "big", "cite", "code", "del", "dfn", "em", "font", "i", "ins", "kbd",
            "mark", "q", "s", "small", "span", "strike", "strong", "sub", "sup", "u", "var", "wbr",
            "time",
        ];
        let name = tag.trim_start_matches(['<', '/']);
        let end = name.find(|sign: char| !sign.is_ascii_alphanumeric()).unwrap_or(name.len());
        let name = name[..end].to_ascii_lowercase();
        if !WITHIN.contains(&name.as_str()) {
            self.close_html();
        }
        self.strike(tag);
    }

    /// What is struck out is not said: `<del>`, `<s>`.
    fn strike(&mut self, tag: &str) {
        let lower = tag.to_ascii_lowercase();
        let begins = |name: &str| {
            let rest = lower.strip_prefix(name);
            rest.is_some_and(|rest| rest.starts_with(['>', ' ', '\t', '\n']))
        };
        if ["<del", "<s", "<strike"].into_iter().any(begins) {
            self.struck += 1;
        } else if ["</del", "</s", "</strike"].into_iter().any(begins) {
            self.struck = self.struck.saturating_sub(1);
        }
    }

    fn close_html(&mut self) {
        let words = std::mem::take(&mut self.in_html);
        if !words.text.trim().is_empty() {
            self.add(PassageKind::Aside(words), self.html_start);
        }
    }

    /// What attributes of a stretch of HTML say that is shown or read out: `alt="…"`.
    fn attributes(&mut self, range: Range<usize>) {
        let html = self.text.get(range.clone()).unwrap_or_default();
        for value in spoken_attributes(html) {
            let words = html.get(value.clone()).unwrap_or_default();
            if !words.trim().is_empty() {
                let at = range.start + value.start;
                self.add(PassageKind::Aside(Passage::of(words, at)), at);
            }
        }
    }

    /// The lines of a block of code that are words.
    fn quoted(&mut self, range: Range<usize>) {
        let lines = self.text.get(range.clone()).unwrap_or_default();
        let mut at = range.start;
        for line in lines.split_inclusive('\n') {
            if !line.trim().is_empty() {
                self.add(PassageKind::Quoted(Passage::of(line.trim_end(), at)), at);
            }
            at += line.len();
        }
    }

    /// What lines before a text say that is printed with it.
    fn titles(&mut self, range: Range<usize>) {
        const PRINTED: [&str; 5] = ["title", "subtitle", "description", "abstract", "summary"];
        let lines = self.text.get(range.clone()).unwrap_or_default();
        let mut at = range.start;
        for line in lines.split_inclusive('\n') {
            if let Some((key, value)) = line.split_once(':')
                && PRINTED.contains(&key.trim().to_lowercase().as_str())
                && !value.trim().is_empty()
            {
                let at = at + key.len() + 1;
                self.add(PassageKind::Aside(Passage::of(value, at)), at);
            }
            at += line.len();
        }
    }

    fn begin(&mut self, tag: &Tag, range: Range<usize>) {
        if let Tag::Image { title, .. } = tag
            && !title.trim().is_empty()
        {
            let written = self.text.get(range.clone()).unwrap_or_default();
            let at = range.start + written.rfind(title.as_ref()).unwrap_or_default();
            self.add(PassageKind::Aside(Passage::all_at(title, at)), at);
        }
        match tag {
            Tag::Strikethrough => {
                self.struck += 1;
                return;
            }
            // What is said of a picture is printed below it.
            Tag::Emphasis | Tag::Strong | Tag::Link { .. } | Tag::Image { .. } => return,
            _ => {}
        }
        self.close();
        self.struck = 0;
        if self.depth == 0 {
            self.block += 1;
        }
        self.depth += 1;
        match tag {
            Tag::Heading { level, .. } => self.heading = Some(level_of(*level)),
            Tag::Table(_) => self.table = Some(ProseTable { range, rows: Vec::new() }),
            Tag::TableHead | Tag::TableRow => {
                if let Some(table) = &mut self.table {
                    table.rows.push(Vec::new());
                }
            }
            Tag::HtmlBlock => {
                self.hidden += 1;
                self.comments(range);
            }
            Tag::CodeBlock(CodeBlockKind::Fenced(info)) if is_ours(info) => {
                self.hidden += 1;
                let start = range.start;
                self.add(PassageKind::Fence(range, info.to_string()), start);
            }
            Tag::MetadataBlock(_) => {
                self.hidden += 1;
                self.in_metadata = true;
            }
            Tag::CodeBlock(kind) => {
                self.hidden += 1;
                self.in_quote = match kind {
                    CodeBlockKind::Indented => true,
                    CodeBlockKind::Fenced(info) => is_of_words(info),
                };
            }
            Tag::DefinitionListTitle => self.is_term = true,
            _ => {}
        }
    }

    fn end(&mut self, tag: TagEnd) {
        match tag {
            TagEnd::Strikethrough => {
                self.struck = self.struck.saturating_sub(1);
                return;
            }
            TagEnd::Emphasis | TagEnd::Strong | TagEnd::Link | TagEnd::Image => return,
            TagEnd::CodeBlock | TagEnd::MetadataBlock(_) | TagEnd::HtmlBlock => {
                self.hidden = self.hidden.saturating_sub(1);
                self.in_metadata = false;
                self.in_quote = false;
                self.close_html();
                self.in_comment = false;
            }
            TagEnd::TableCell => {
                let mut cell = std::mem::take(&mut self.open);
                cell.leave_out_brackets(self.text);
                if let Some(row) = self.table.as_mut().and_then(|table| table.rows.last_mut()) {
                    row.push(cell);
                }
            }
            _ => {}
        }
        self.close();
        self.depth = self.depth.saturating_sub(1);
        match tag {
            TagEnd::Heading(_) => self.heading = None,
            TagEnd::DefinitionListTitle => self.is_term = false,
            TagEnd::Table => {
                if let Some(table) = self.table.take() {
                    let start = table.range.start;
                    self.add(PassageKind::Table(table), start);
                }
            }
            _ => {}
        }
    }

    fn add(&mut self, kind: PassageKind, start: usize) {
        self.parts.push(ProsePart { kind, start, block: self.block, is_term: self.is_term });
    }

    /// Ends the passage that is open.
    fn close(&mut self) {
        let mut passage = std::mem::take(&mut self.open);
        if passage.text.trim().is_empty() {
            return;
        }
        passage.leave_out_brackets(self.text);
        let kind = match self.heading {
            Some(level) => PassageKind::Heading(level, passage),
            None => PassageKind::Words(passage),
        };
        self.add(kind, self.start);
    }

    /// The comments in a stretch of HTML that are for us.
    fn comments(&mut self, range: Range<usize>) {
        let html = self.text.get(range.clone()).unwrap_or_default();
        let mut from = 0;
        while let Some(open) = html.get(from..).and_then(|rest| rest.find("<!--")) {
            let start = from + open;
            let inside = start + "<!--".len();
            let length = html.get(inside..).and_then(|rest| rest.find("-->"));
            let end = length.map_or(html.len(), |length| inside + length);
            from = length.map_or(html.len(), |_| end + "-->".len());
            let words = html.get(inside..end).unwrap_or_default();
            let at = range.start + inside;
            match ours(words) {
                Some(Ok(skipped)) => {
                    self.add(PassageKind::Comment(at + skipped..at + words.len()), at);
                }
                Some(Err(())) => {
                    self.add(PassageKind::NearComment(range.start + start..range.start + from), at)
                }
                None => {}
            }
        }
    }
}

/// Whether a block of code with such words after its fence may hold plain words.
fn is_of_words(info: &str) -> bool {
    let first = info.split_whitespace().next().unwrap_or_default().to_lowercase();
    matches!(first.as_str(), "" | "text" | "txt" | "plain" | "plaintext" | "none" | "quote")
}

/// Whether a tag of HTML begins here, and not a sign for less.
fn is_tag(rest: &str) -> bool {
    let mut letters = rest.chars();
    letters.next() == Some('<')
        && letters.next().is_some_and(|next| next == '/' || next == '!' || next.is_alphabetic())
}

/// A letter that is written by its name or number, and how long that is: `&#45;`. Soft hyphens
/// are not seen.
fn entity(rest: &str) -> Option<(String, usize)> {
    const LONGEST: usize = 10;
    let name = rest.strip_prefix('&')?;
    let end = name.find(';').filter(|end| *end <= LONGEST)?;
    let name = &name[..end];
    let number = name.strip_prefix('#').and_then(|number| match number.strip_prefix(['x', 'X']) {
        Some(digits) => u32::from_str_radix(digits, 16).ok(),
        None => number.parse().ok(),
    });
    let letter = match (number, name) {
        (Some(0xad), _) | (None, "shy" | "zwnj" | "zwj" | "ZeroWidthSpace") => String::new(),
        (Some(number), _) => char::from_u32(number)?.to_string(),
        (None, "amp") => "&".into(),
        (None, "nbsp" | "ensp" | "emsp" | "thinsp") => " ".into(),
        (None, "hyphen" | "dash") => "-".into(),
        (None, "quot" | "ldquo" | "rdquo") => "\"".into(),
        (None, "apos" | "rsquo" | "lsquo") => "'".into(),
        (None, "lt") => "<".into(),
        (None, "gt") => ">".into(),
        (None, "ndash") => "–".into(),
        (None, "mdash") => "—".into(),
        _ => return None,
    };
    Some((letter, end + 2))
}

/// The places of the values of attributes that are shown or read out.
fn spoken_attributes(html: &str) -> Vec<Range<usize>> {
    const SPOKEN: [&str; 6] = ["alt", "title", "aria-label", "summary", "label", "content"];
    let mut all = Vec::new();
    let mut from = 0;
    while let Some(sign) = html.get(from..).and_then(|rest| rest.find('=')).map(|at| from + at) {
        from = sign + 1;
        let before = html.get(..sign).unwrap_or_default().trim_end();
        let is_of_name = |letter: char| letter.is_ascii_alphanumeric() || letter == '-';
        let name = before.rsplit(|letter: char| !is_of_name(letter)).next().unwrap_or_default();
        let after = html.get(from..).unwrap_or_default();
        let blanks = after.len() - after.trim_start().len();
        let Some(quote) = after.trim_start().chars().next() else { break };
        let start = from + blanks + usize::from(matches!(quote, '"' | '\''));
        let rest = html.get(start..).unwrap_or_default();
        let length = match quote {
            '"' | '\'' => rest.find(quote),
            _ => rest.find(|letter: char| letter.is_whitespace() || letter == '>'),
        };
        let end = start + length.unwrap_or(rest.len());
        if SPOKEN.iter().any(|spoken| spoken.eq_ignore_ascii_case(name)) {
            all.push(start..end);
        }
        from = end.max(from);
    }
    all
}

/// Whether a comment is for us, and how many bytes come before its first statement; an error
/// where only the colon is missing.
fn ours(words: &str) -> Option<Result<usize, ()>> {
    let inner = words.trim_start();
    let name = "assize";
    let head = inner.get(..name.len())?;
    if !head.eq_ignore_ascii_case(name) {
        return None;
    }
    let rest = &inner[name.len()..];
    let after = rest.trim_start();
    if after.starts_with(':') {
        return Some(Ok(words.len() - after.len() + 1));
    }
    // A word that only begins so is the author's own.
    rest.starts_with(char::is_whitespace).then_some(Err(()))
}

fn level_of(level: HeadingLevel) -> u8 {
    match level {
        HeadingLevel::H1 => 1,
        HeadingLevel::H2 => 2,
        HeadingLevel::H3 => 3,
        HeadingLevel::H4 => 4,
        HeadingLevel::H5 => 5,
        HeadingLevel::H6 => 6,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const BOOK: &str = "# Böok\n\nStir *350 g* of\nwater, `9 g` and [50 g of salt] \\[sic\\].\n\n<!-- assize: off; on -->\n\n- one\n- two <!-- assize on -->\n\n| a | 1 |\n|---|---|\n| b | 2 |\n\n```dough\nformula a {}\n```\n\n<!-- note -->\n![3 g](x.png)\n";

    fn shown(part: &ProsePart) -> String {
        let text = |passage: &Passage| passage.text.replace(GAP, "_");
        match &part.kind {
            PassageKind::Heading(level, words) => format!("{level} {}", text(words)),
            PassageKind::Words(words) => text(words),
            PassageKind::Aside(words) | PassageKind::Quoted(words) => format!("({})", text(words)),
            PassageKind::Table(table) => {
                let row = |row: &Vec<Passage>| row.iter().map(text).collect::<Vec<_>>().join("|");
                table.rows.iter().map(row).collect::<Vec<_>>().join(" / ")
            }
            PassageKind::Comment(range) => format!("<{}>", &BOOK[range.clone()]),
            PassageKind::NearComment(range) => format!("?{}", &BOOK[range.clone()]),
            PassageKind::Fence(range, info) => format!("{info}: {}", range.len()),
        }
    }

    #[test]
    fn a_manuscript_is_read_in_its_order_and_places_stay() {
        let parts = parts(BOOK);
        let gap = format!("_{}", " ".repeat("[50 g of salt]".len() - 3));
        assert_eq!(
            parts.iter().map(shown).collect::<Vec<_>>(),
            [
                "1 Böok".to_owned(),
                format!("Stir 350 g of water, _ and {gap} [sic]."),
                "< off; on >".to_owned(),
                "one".to_owned(),
                "?<!-- assize on -->".to_owned(),
                "two ".to_owned(),
                "a|1 / b|2".to_owned(),
                "dough: 25".to_owned(),
                "3 g".to_owned(),
            ]
        );
        for part in &parts {
            let (PassageKind::Heading(_, words) | PassageKind::Words(words)) = &part.kind else {
                continue;
            };
            for word in words.text.split([' ', '.', ',']).filter(|word| !word.contains(GAP)) {
                let at = word.as_ptr() as usize - words.text.as_ptr() as usize;
                if !word.is_empty() && !word.contains(['[', ']']) {
                    assert_eq!(&BOOK[words.place(at..at + word.len())], word);
                }
            }
        }
        assert_eq!(parts[3].block, parts[5].block, "a list is one block");
        assert_ne!(parts[1].block, parts[2].block);
    }

    #[test]
    fn nothing_is_too_odd_to_be_read() {
        for text in ["", "<!--", "<!-- assize:", "[[]", "| a |\n|-", "---\na: 1", "# \u{0}[x"] {
            parts(text);
        }
    }
}
