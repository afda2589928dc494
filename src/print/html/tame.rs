//! HTML of a manuscript for a page of ours: what marks up words stays, and whatever runs,
//! loads or asks for something is left out. A chapter may come from somebody else.

use crate::source::is_unseen;

/// Elements that mark up words, pictures and tables (HTML Living Standard, from memory).
const KEPT: &[&str] = &[
    "a",
    "abbr",
    "aside",
    "b",
    "bdi",
    "bdo",
    "blockquote",
    "br",
    "caption",
    "center",
    "cite",
    "code",
    "dd",
    "del",
    "details",
    "dfn",
    "div",
    "dl",
    "dt",
    "em",
    "figcaption",
    "figure",
    "h1",
    "h2",
    "h3",
    "h4",
    "h5",
    "h6",
    "hr",
    "i",
    "img",
    "ins",
    "kbd",
    "li",
    "mark",
    "ol",
    "p",
    "pre",
    "q",
    "s",
    "section",
    "small",
    "span",
    "strong",
    "sub",
    "summary",
    "sup",
    "table",
    "tbody",
    "td",
    "tfoot",
    "th",
    "thead",
    "time",
    "tr",
    "u",
    "ul",
    "var",
    "wbr",
];

/// Elements that are left out with all that stands in them.
const GONE: &[&str] = &[
    "script", "style", "iframe", "object", "embed", "template", "noscript", "svg", "math", "title",
    "textarea", "select", "button", "video", "audio", "canvas", "frameset", "xmp",
];

/// Attributes that only say how something looks or what it is.
const TOLD: &[&str] = &[
    "align", "alt", "colspan", "dir", "height", "href", "id", "lang", "open", "reversed",
    "rowspan", "scope", "span", "src", "start", "title", "valign", "width",
];

/// Kinds of address that only lead somewhere.
const LEAD: [&str; 4] = ["http", "https", "mailto", "tel"];

/// HTML with no more in it than words, pictures and how they are marked up.
pub fn tamed(html: &str) -> String {
    let mut written = String::with_capacity(html.len());
    let mut rest = html;
    while let Some(at) = rest.find('<') {
        let (words, tag) = rest.split_at(at);
        written.push_str(words);
        rest = match tag.strip_prefix("<!--") {
            Some(inside) => {
                let (said, after) = inside.split_once("-->").unwrap_or_default();
                // A comment of words alone is its author's.
                if !said.contains(['<', '>', '[']) && !said.is_empty() {
                    written.push_str(&format!("<!--{said}-->"));
                }
                after
            }
            None => tamed_tag(tag, &mut written),
        };
    }
    written.push_str(rest);
    written
}

/// Writes a tag where it may stay; what follows it, or what follows its element.
fn tamed_tag<'h>(tag: &'h str, written: &mut String) -> &'h str {
    let is_end = tag.as_bytes().get(1) == Some(&b'/');
    let from = 1 + usize::from(is_end);
    let length = tag[from..].find(|it: char| !it.is_ascii_alphanumeric() && it != '-');
    let name = tag[from..].get(..length.unwrap_or(tag.len() - from)).unwrap_or_default();
    let lower = name.to_ascii_lowercase();
    if lower.is_empty() && !matches!(tag.as_bytes().get(1), Some(b'!' | b'?' | b'/')) {
        // `a < b`
        written.push_str("&lt;");
        return &tag[1..];
    }
    let Some(inside) = inside(&tag[from + name.len()..]) else { return "" };
    let after = tag[from + name.len() + inside.len()..].get(1..).unwrap_or_default();
    if GONE.contains(&lower.as_str()) && !is_end {
        return after_element(after, &lower);
    }
    if KEPT.contains(&lower.as_str()) {
        written.push('<');
        written.push_str(if is_end { "/" } else { "" });
        written.push_str(&lower);
        if !is_end {
            for (name, value) in attributes(inside) {
                let leads = matches!(name.as_str(), "href" | "src");
                if TOLD.contains(&name.as_str()) && (!leads || leads_somewhere(&value)) {
                    let value = escaped(&value);
                    written.push_str(&format!(" {name}=\"{value}\""));
                }
            }
        }
        written.push('>');
    }
    after
}

/// What stands between the name of a tag and its `>`; one inside quotes does not end it.
fn inside(tag: &str) -> Option<&str> {
    let mut quote = None;
    for (at, letter) in tag.char_indices() {
        match (quote, letter) {
            (None, '>') => return tag.get(..at),
            (None, '"' | '\'') => quote = Some(letter),
            (Some(open), letter) if open == letter => quote = None,
            _ => {}
        }
    }
    None
}

/// What follows the end of an element that began before a text.
fn after_element<'h>(text: &'h str, name: &str) -> &'h str {
    let lower = text.to_ascii_lowercase();
    let Some(end) = lower.find(&format!("</{name}")) else { return "" };
    let close = lower[end..].find('>');
    close.and_then(|close| text.get(end + close + 1..)).unwrap_or_default()
}

/// The attributes of a tag, their names in small letters.
fn attributes(inside: &str) -> Vec<(String, String)> {
    let mut all = Vec::new();
    let mut rest = inside.trim_start();
    while !rest.is_empty() {
        let end = rest.find(|it: char| it.is_whitespace() || matches!(it, '=' | '/' | '>'));
        let name = rest.get(..end.unwrap_or(rest.len())).unwrap_or_default().to_ascii_lowercase();
        rest = rest.get(name.len()..).unwrap_or_default().trim_start();
        if name.is_empty() {
            let mut letters = rest.chars();
            letters.next();
            rest = letters.as_str().trim_start();
            continue;
        }
        let mut value = "";
        if let Some(after) = rest.strip_prefix('=') {
            let after = after.trim_start();
            (value, rest) = match after.chars().next() {
                Some(quote @ ('"' | '\'')) => {
                    after.get(1..).unwrap_or_default().split_once(quote).unwrap_or((after, ""))
                }
                _ => after.split_at(after.find(char::is_whitespace).unwrap_or(after.len())),
            };
            rest = rest.trim_start();
        }
        all.push((name, value.to_owned()));
    }
    all
}

/// Whether an address names a place on the page, a file beside it, or one of the kinds that
/// only lead there. Browsers pass over blanks and what can't be seen, and so does this.
pub fn leads_somewhere(address: &str) -> bool {
    let plain: String = address
        .chars()
        .filter(|letter| !letter.is_whitespace() && !letter.is_control() && !is_unseen(*letter))
        .collect();
    let plain = plain.to_ascii_lowercase();
    let before = plain.split(['/', '?', '#']).next().unwrap_or_default();
    match before.split_once([':', '&', '\\']) {
        Some((kind, _)) => LEAD.contains(&kind) && before.contains(':') && !before.contains('&'),
        None => true,
    }
}

fn escaped(value: &str) -> String {
    value.replace('"', "&quot;").replace('<', "&lt;").replace('>', "&gt;")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_marks_up_words_stays() {
        for html in [
            "<p>Sift &amp; fold.</p>",
            "<sub>2</sub>",
            "<!-- the author's own -->",
            "<a href=\"https://example.org/a?b=1#c\">x</a>",
            "<a href=\"#notes\">x</a>",
            "<img src=\"tin.png\" alt=\"A tin\">",
            "<table><tr><td colspan=\"2\">1</td></tr></table>",
            "<details open=\"\"><summary>More</summary></details>",
        ] {
            assert_eq!(tamed(html), html);
        }
        assert_eq!(tamed("a < b, <BR/>c"), "a &lt; b, <br>c");
    }

    #[test]
    fn nothing_runs_loads_or_asks() {
        for (html, left) in [
            ("<script>alert(1)</script>", ""),
            ("a<SCRIPT src=//e>x</sCript >b", "ab"),
            ("<img src=x onerror=alert(1)>", "<img src=\"x\">"),
            ("<img/src='x'/onload='alert(1)'>", "<img src=\"x\">"),
            ("<p style=\"background:url(//e)\" onclick=x>a</p>", "<p>a</p>"),
            ("<a href='javascript:alert(1)'>x</a>", "<a>x</a>"),
            ("<a href=\" jAva\tscript\u{200b}:alert(1)\">x</a>", "<a>x</a>"),
            ("<a href=\"javascript&colon;alert(1)\">x</a>", "<a>x</a>"),
            ("<a href=\"&#106;avascript:alert(1)\">x</a>", "<a>x</a>"),
            ("<a href=\"data:text/html,x\">x</a>", "<a>x</a>"),
            ("<a href=\"vbscript:x\">x</a>", "<a>x</a>"),
            ("<iframe src=//e></iframe>", ""),
            ("<svg><script>x</script></svg>b", "b"),
            ("<form action=//e><input></form>", ""),
            (
                "<base href=//e><meta http-equiv=refresh content=0><link rel=stylesheet href=//e>",
                "",
            ),
            ("<!-- <p>no</p> -->b", "b"),
            ("<!--[if IE]>x<![endif]-->b", "b"),
            ("<script>never closed", ""),
            ("<img src=\"x", ""),
            (
                "<p title='\"><script>alert(1)</script>'>a</p>",
                "<p title=\"&quot;&gt;&lt;script&gt;alert(1)&lt;/script&gt;\">a</p>",
            ),
            ("<scr<script>ipt>alert(1)</script>", "ipt>alert(1)"),
        ] {
            assert_eq!(tamed(html), left, "{html}");
        }
    }
}
