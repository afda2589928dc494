//! The small Markdown of a booklet's texts: paragraphs, two sizes of headings, lists with
//! `-` and `1.`, and words set apart. All else prints as it stands.

use super::document::{TextBlock, WordRun};

/// Takes the indent of the first line that has words off every line.
pub fn without_indent(text: &str) -> String {
    let is_filled = |line: &&str| !line.trim().is_empty();
    let Some(first) = text.lines().skip(1).find(is_filled) else { return text.to_owned() };
    let indent = first.len() - first.trim_start_matches([' ', '\t']).len();
    let indent = first.get(..indent).unwrap_or_default();
    let lines = text.lines().map(|line| match line.strip_prefix(indent) {
        Some(rest) => rest,
        None => line.trim_start_matches([' ', '\t']),
    });
    lines.collect::<Vec<_>>().join("\n")
}

/// The blocks of a text.
pub fn blocks(text: &str) -> Vec<TextBlock> {
    let mut blocks: Vec<TextBlock> = Vec::new();
    let mut is_open = false;
    for line in without_indent(text).lines() {
        let line = line.trim_end();
        let words = line.trim_start();
        if words.is_empty() {
            is_open = false;
            continue;
        }
        if let Some(item) = item_of(words) {
            let kind = if item.1 { "numbered" } else { "list" };
            let goes_on = is_open && blocks.last().is_some_and(|last| last.kind == kind);
            if !goes_on {
                blocks.push(TextBlock { kind: kind.into(), ..TextBlock::default() });
            }
            if let Some(last) = blocks.last_mut() {
                last.items.push(vec![plain(item.0)]);
            }
            is_open = true;
        } else if let Some((kind, words)) = heading_of(words) {
            let runs = runs(words);
            blocks.push(TextBlock { kind: kind.into(), runs, items: Vec::new() });
            is_open = false;
        } else {
            add_to_last(&mut blocks, words, is_open);
            is_open = true;
        }
    }
    for block in &mut blocks {
        if block.kind == "paragraph" {
            block.runs = runs(&text_of(&block.runs));
        }
        for item in &mut block.items {
            *item = runs(&text_of(item));
        }
    }
    blocks
}

/// A line that goes on with the paragraph or the item before it, or begins a paragraph.
fn add_to_last(blocks: &mut Vec<TextBlock>, words: &str, is_open: bool) {
    if let Some(last) = blocks.last_mut().filter(|_| is_open) {
        let runs = match last.items.last_mut() {
            Some(item) => item,
            None => &mut last.runs,
        };
        if let Some(run) = runs.last_mut() {
            run.text.push(' ');
            run.text.push_str(words);
            return;
        }
    }
    let runs = vec![plain(words)];
    blocks.push(TextBlock { kind: "paragraph".into(), runs, items: Vec::new() });
}

fn plain(words: &str) -> WordRun {
    WordRun { text: words.to_owned(), ..WordRun::default() }
}

fn text_of(runs: &[WordRun]) -> String {
    runs.iter().map(|run| run.text.as_str()).collect()
}

/// `- milk`, and whether it is numbered, `1. milk`.
fn item_of(line: &str) -> Option<(&str, bool)> {
    if let Some(rest) = line.strip_prefix("- ") {
        return Some((rest.trim_start(), false));
    }
    let digits = line.bytes().take_while(u8::is_ascii_digit).count();
    let rest = line.get(digits..)?.strip_prefix(". ")?;
    (1..=3).contains(&digits).then(|| (rest.trim_start(), true))
}

fn heading_of(line: &str) -> Option<(&'static str, &str)> {
    let parted = |mark: &str| line.strip_prefix(mark).map(str::trim);
    parted("# ")
        .map(|words| ("heading", words))
        .or_else(|| parted("## ").map(|words| ("subheading", words)))
}

/// Words with those between stars set apart. A star that nothing closes is a star.
fn runs(words: &str) -> Vec<WordRun> {
    let mut all = Vec::new();
    let mut plain = String::new();
    let mut rest = words;
    while let Some(at) = rest.find('*') {
        let (before, from) = rest.split_at(at);
        plain.push_str(before);
        let mark = if from.starts_with("**") { "**" } else { "*" };
        let inside = from.get(mark.len()..).unwrap_or_default();
        let found = inside.find(mark).filter(|end| is_set_apart(inside.get(..*end)));
        let Some(end) = found else {
            plain.push_str(mark);
            rest = inside;
            continue;
        };
        if !plain.is_empty() {
            all.push(WordRun { text: std::mem::take(&mut plain), ..WordRun::default() });
        }
        let text = inside.get(..end).unwrap_or_default().to_owned();
        let strong = mark == "**";
        all.push(WordRun { text, emphasis: !strong, strong });
        rest = inside.get(end + mark.len()..).unwrap_or_default();
    }
    plain.push_str(rest);
    if !plain.is_empty() {
        all.push(WordRun { text: plain, ..WordRun::default() });
    }
    all
}

/// Whether words may stand between two stars: no blank touches either, so that `2 * 3 * 4`
/// stays as it is.
fn is_set_apart(words: Option<&str>) -> bool {
    words.is_some_and(|words| !words.is_empty() && words.trim() == words)
}

/// The first mark of a larger Markdown in a text, which prints as it stands.
pub fn unread_mark(text: &str) -> Option<String> {
    let text = without_indent(text);
    let of_line = text.lines().find_map(|line| {
        let line = line.trim();
        let starts = ["###", "```", "> ", "| ", "* ", "+ ", "---", "***", "==="];
        let found = starts.into_iter().find(|mark| line.starts_with(mark))?;
        Some(found.trim().to_owned())
    });
    of_line.or_else(|| {
        let marks = ["`", "__", "~~", "](", "!["];
        marks.into_iter().find(|mark| text.contains(mark)).map(str::to_owned)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(text: &str) -> Vec<String> {
        let of_runs = |runs: &[WordRun]| {
            let one = |run: &WordRun| match (run.emphasis, run.strong) {
                (true, _) => format!("<i>{}</i>", run.text),
                (_, true) => format!("<b>{}</b>", run.text),
                _ => run.text.clone(),
            };
            runs.iter().map(one).collect::<String>()
        };
        let block = |block: &TextBlock| {
            let items: Vec<String> = block.items.iter().map(|item| of_runs(item)).collect();
            format!("{}: {}{}", block.kind, of_runs(&block.runs), items.join(" | "))
        };
        blocks(text).iter().map(block).collect()
    }

    #[test]
    fn the_small_markdown_and_nothing_else() {
        let text = "\n    # Tonight *we* mix\n\n    One line\n    and its next.\n\n    - weigh\n      \
                    first\n    - read\n    1. then\n    2. mix **well**\n\n    ## Later\n    2 * 3 * 4 \
                    and a*\n";
        assert_eq!(
            told(text),
            [
                "heading: Tonight <i>we</i> mix",
                "paragraph: One line and its next.",
                "list: weigh first | read",
                "numbered: then | mix <b>well</b>",
                "subheading: Later",
                "paragraph: 2 * 3 * 4 and a*",
            ]
        );
        assert!(told("").is_empty());
        assert_eq!(told("one line"), ["paragraph: one line"]);
    }

    #[test]
    fn marks_of_a_larger_markdown_are_told() {
        let told = [
            ("### deep", Some("###")),
            ("> quoted", Some(">")),
            ("a `tick`", Some("`")),
            ("[a](b)", Some("](")),
            ("* star", Some("*")),
            ("# fine\n\n- *fine* **too**\n\n1. one", None),
        ];
        for (text, mark) in told {
            assert_eq!(unread_mark(text).as_deref(), mark, "{text}");
        }
    }
}
