//! Tables that come with the program, as people edit them: a line for each entry, its cells
//! parted by a sign.

/// The cells of a line between signs, without the blanks around them. They are short, so
/// looking at each byte is quicker than a search that is made for long texts.
pub fn cells(line: &str, sign: u8) -> impl Iterator<Item = &str> {
    debug_assert!(sign.is_ascii());
    let mut rest = Some(line);
    std::iter::from_fn(move || {
        let text = rest?;
        let at = text.bytes().position(|byte| byte == sign);
        rest = at.and_then(|at| text.get(at + 1..));
        let cell = at.map_or(text, |at| text.get(..at).unwrap_or_default());
        Some(trimmed(cell))
    })
}

fn trimmed(cell: &str) -> &str {
    let bytes = cell.as_bytes();
    let is_letter = |byte: &u8| *byte != b' ';
    let Some(start) = bytes.iter().position(is_letter) else { return "" };
    let end = bytes.iter().rposition(is_letter).map_or(start, |last| last + 1);
    cell.get(start..end).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_are_what_splitting_and_trimming_gives() {
        for line in ["", ",", "a", " a ", "a,b", "a, b c ,, d", ",é , ü", "œuf,", "  ,  "] {
            let own: Vec<&str> = cells(line, b',').collect();
            let usual: Vec<&str> = line.split(',').map(|it| it.trim_matches(' ')).collect();
            assert_eq!(own, usual, "{line:?}");
        }
    }
}
