//! The pages that are written by hand: reading their Markdown.

/// A part of a file: `## NAME`, a line, facts, paragraphs, an example.
#[derive(Debug, Default)]
pub struct Section {
    /// As the heading has it.
    pub name: &'static str,
    /// What lists say of it.
    pub line: &'static str,
    /// Label and words.
    pub facts: Vec<(&'static str, &'static str)>,
    /// Paragraphs, in Markdown.
    pub prose: String,
    /// What is written after the fence's `dough`, and what the fence holds.
    pub example: Option<(&'static str, String)>,
}

impl Section {
    /// The words of a label.
    pub fn fact(&self, label: &str) -> Option<&'static str> {
        self.facts.iter().find(|(known, _)| *known == label).map(|(_, words)| *words)
    }
}

/// The paragraphs above the first name of a file.
pub fn intro(text: &'static str) -> &'static str {
    let head = text.split("\n## ").next().unwrap_or_default();
    head.split_once('\n').map_or("", |(_, below)| below.trim())
}

/// Every part of a file.
pub fn parts(text: &'static str) -> impl Iterator<Item = Section> {
    text.split("\n## ").skip(1).map(part)
}

fn part(text: &'static str) -> Section {
    let (name, below) = text.split_once('\n').unwrap_or((text, ""));
    let mut said = Section { name: name.trim(), ..Section::default() };
    let mut is_open = false;
    for line in below.lines() {
        if let Some(info) = line.strip_prefix("```") {
            is_open = !is_open;
            if is_open {
                let frame = info.trim_start_matches("dough").trim();
                said.example = Some((frame, String::new()));
            }
        } else if let Some((_, text)) = said.example.as_mut().filter(|_| is_open) {
            text.push_str(line);
            text.push('\n');
        } else if let Some((label, words)) =
            line.strip_prefix("- ").and_then(|it| it.split_once(": "))
        {
            said.facts.push((label, words));
        } else if said.line.is_empty() && said.facts.is_empty() {
            said.line = line.trim();
        } else {
            said.prose.push_str(line);
            said.prose.push('\n');
        }
    }
    said.prose = said.prose.trim().to_owned();
    said
}

/// The words of a list: `` `a`, `b` `` or `a, b`.
pub fn list(words: &str) -> Vec<String> {
    let each = words.split(", ").map(|word| word.trim().trim_matches('`').to_owned());
    each.filter(|word| !word.is_empty()).collect()
}
