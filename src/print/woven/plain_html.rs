//! The words of HTML that stands in a manuscript, for pages that know no HTML.

use crate::print::markdown::TextRun;

/// Words, ends of lines and pictures; everything else of it is left out.
pub fn runs(html: &str) -> Vec<TextRun> {
    let mut all = Vec::new();
    let mut rest = html;
    while let Some(at) = rest.find('<') {
        let (words, tag) = rest.split_at(at);
        push(&mut all, words);
        let (inside, after) = split_tag(tag);
        match name(inside).as_str() {
            "br" | "p" | "div" | "li" | "tr" | "hr" if !all.is_empty() => all.push(TextRun::Break),
            "img" => {
                let value = |name: &str| attribute(inside, name).unwrap_or_default();
                all.push(TextRun::Picture(value("src"), value("alt")));
            }
            _ => {}
        }
        rest = after;
    }
    push(&mut all, rest);
    while matches!(all.last(), Some(TextRun::Break)) {
        all.pop();
    }
    all
}

/// The inside of a tag or a comment, and what follows it.
fn split_tag(tag: &str) -> (&str, &str) {
    let (start, end) = if tag.starts_with("<!--") { ("<!--", "-->") } else { ("<", ">") };
    let inside = tag.get(start.len()..).unwrap_or_default();
    match inside.split_once(end) {
        Some((inside, after)) if start == "<" => (inside, after),
        Some((_, after)) => ("", after),
        None => ("", ""),
    }
}

/// The name of an opening tag, in small letters.
fn name(inside: &str) -> String {
    let letters = inside.chars().take_while(char::is_ascii_alphanumeric);
    letters.collect::<String>().to_lowercase()
}

/// The value of an attribute, in quotes of either kind.
fn attribute(inside: &str, name: &str) -> Option<String> {
    let lower = inside.to_ascii_lowercase();
    let at = lower.find(&format!(" {name}="))? + name.len() + 2;
    let value = inside.get(at..)?;
    let quote = value.chars().next().filter(|it| matches!(it, '"' | '\''))?;
    value.get(1..)?.split(quote).next().map(unescaped)
}

fn push(all: &mut Vec<TextRun>, words: &str) {
    let words = unescaped(words);
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    if !words.is_empty() {
        if let Some(TextRun::Text(before)) = all.last_mut() {
            before.push(' ');
            before.push_str(&words);
        } else {
            all.push(TextRun::Text(words));
        }
    }
}

/// The signs that HTML writes in words.
fn unescaped(words: &str) -> String {
    const SIGNS: [(&str, &str); 6] = [
        ("&nbsp;", "\u{a0}"),
        ("&lt;", "<"),
        ("&gt;", ">"),
        ("&quot;", "\""),
        ("&#39;", "'"),
        // The last, so that nothing is read twice.
        ("&amp;", "&"),
    ];
    SIGNS.iter().fold(words.to_owned(), |words, (written, sign)| words.replace(written, sign))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_and_pictures_of_html_are_kept() {
        let text = |words: &str| TextRun::Text(words.to_owned());
        let html = "<div class='x'>\n<p>Sift &amp; fold.<br/>Wait <b>long</b></p>\
                    <img alt=\"A tin\" src='tin.png'><!-- <p>no</p> --></div>";
        assert_eq!(
            runs(html),
            [
                text("Sift & fold."),
                TextRun::Break,
                text("Wait long"),
                TextRun::Picture("tin.png".into(), "A tin".into()),
            ]
        );
        for html in ["", "<", "<!--", "<img", "&", "<p>", "<img src=", "<br><br>"] {
            assert!(runs(html).len() <= 1, "{html}");
        }
    }
}
