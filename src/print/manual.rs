//! Pages of a reference as plain data, and as Markdown.

use serde::Serialize;
use unicode_width::UnicodeWidthStr;

/// A chapter: all pages of one kind.
pub struct Chapter<'p> {
    /// The kind's name, for many: `Verbs`.
    pub title: String,
    /// Paragraphs, in Markdown.
    pub intro: String,
    /// In the order of the reference.
    pub pages: Vec<&'p Page>,
}

/// The page of one name.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Page {
    /// What the name is of: `verb`.
    pub kind: &'static str,
    /// As it is written in a formula.
    pub name: String,
    /// Where a reference links to; unique among all pages.
    pub anchor: String,
    /// What it is, in one line.
    pub line: String,
    /// What is to be known of it: a label, and words in Markdown.
    pub facts: Vec<Fact>,
    /// Paragraphs, in Markdown.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub prose: String,
    /// Where the page lists what has columns.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub table: Option<ManualTable>,
    /// Source text as it may be written.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub example: Option<String>,
}

/// One thing that a page says beside its prose.
#[derive(Clone, Debug, Serialize)]
pub struct Fact {
    /// What it is: `default`.
    pub label: &'static str,
    /// Markdown in one line.
    pub words: String,
}

/// Rows under their heads; the first cell of a row is its head.
#[derive(Clone, Debug, Serialize)]
pub struct ManualTable {
    /// One for each column.
    pub heads: Vec<&'static str>,
    /// In order, each as wide as the heads.
    pub rows: Vec<Vec<String>>,
}

impl Page {
    /// The heading of the page: `bulk (verb)`.
    pub fn title(&self) -> String {
        format!("{} ({})", self.name, self.kind)
    }

    /// Everything below the heading.
    fn body(&self) -> String {
        let mut parts = Vec::new();
        if !self.line.is_empty() {
            parts.push(self.line.clone());
        }
        let facts = self.facts.iter().map(|fact| format!("- {}: {}", fact.label, fact.words));
        let facts: Vec<String> = facts.collect();
        if !facts.is_empty() {
            parts.push(facts.join("\n"));
        }
        if !self.prose.is_empty() {
            parts.push(self.prose.clone());
        }
        parts.extend(self.table.as_ref().map(ManualTable::markdown));
        if let Some(example) = &self.example {
            parts.push(format!("```dough no-check\n{}\n```", example.trim_end()));
        }
        parts.join("\n\n") + "\n"
    }

    /// The page alone.
    pub fn markdown(&self) -> String {
        format!("# {}\n\n{}", self.title(), self.body())
    }
}

impl ManualTable {
    fn markdown(&self) -> String {
        let heads = self.heads.iter().map(|head| (*head).to_owned()).collect();
        let all: Vec<&Vec<String>> = std::iter::once(&heads).chain(&self.rows).collect();
        let wide = |column: usize| {
            let cells = all.iter().filter_map(|cells| cells.get(column));
            cells.map(|cell| cell.width()).max().unwrap_or_default()
        };
        let row = |cells: &Vec<String>| {
            let padded = cells.iter().enumerate().map(|(column, cell)| {
                format!("{cell}{}", " ".repeat(wide(column).saturating_sub(cell.width())))
            });
            format!("| {} |", padded.collect::<Vec<_>>().join(" | "))
        };
        let rule = (0..heads.len()).map(|column| "-".repeat(wide(column).max(3))).collect();
        let mut lines = vec![row(&heads), row(&rule)];
        lines.extend(self.rows.iter().map(row));
        lines.join("\n")
    }
}

/// The whole reference as one document.
pub fn markdown(title: &str, intro: &str, chapters: &[Chapter]) -> String {
    let mut all = format!("# {title}\n\n{intro}\n\n");
    for chapter in chapters {
        let links = chapter.pages.iter().map(|page| format!("[{}](#{})", page.name, page.anchor));
        let links: Vec<String> = links.collect();
        all.push_str(&format!("**{}**\n{}\n\n", chapter.title, links.join(" ·\n")));
    }
    for chapter in chapters {
        all.push_str(&format!("## {}\n\n{}\n", chapter.title, chapter.intro));
        for page in &chapter.pages {
            let (anchor, name) = (&page.anchor, &page.name);
            all.push_str(&format!("\n<a id=\"{anchor}\"></a>\n\n### {name}\n\n{}", page.body()));
        }
        all.push('\n');
    }
    all.trim_end().to_owned() + "\n"
}

/// Markdown for a terminal: no line of prose longer than `width`, and source text set in
/// by four blanks in place of its fences, which is Markdown still.
pub fn wrapped(markdown: &str, width: usize) -> String {
    let mut out = String::new();
    let mut in_fence = false;
    for line in markdown.lines() {
        if line.starts_with("```") {
            in_fence = !in_fence;
        } else if in_fence {
            let indented = format!("    {line}");
            out.push_str(indented.trim_end());
            out.push('\n');
        } else {
            let indent = if line.starts_with("- ") { 2 } else { 0 };
            let is_table = line.starts_with('|');
            out.push_str(&hanging(line, if is_table { usize::MAX } else { width }, indent));
        }
    }
    out
}

/// One line broken at blanks; all lines but the first set in.
pub fn hanging(line: &str, width: usize, indent: usize) -> String {
    let text = line.trim_start_matches(' ');
    let mut used = line.len() - text.len();
    let mut out = " ".repeat(used);
    let mut is_first = true;
    for word in text.split(' ') {
        if !is_first && used + 1 + word.width() > width {
            out.push('\n');
            out.push_str(&" ".repeat(indent));
            used = indent;
        } else if !is_first {
            out.push(' ');
            used += 1;
        }
        is_first = false;
        out.push_str(word);
        used += word.width();
    }
    out + "\n"
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn prose_is_broken_at_blanks_and_source_is_set_in() {
        let text = "one two three four\n- five six seven\n```dough\na  1%\n```\n";
        assert_eq!(wrapped(text, 10), "one two\nthree four\n- five six\n  seven\n    a  1%\n");
    }
}
