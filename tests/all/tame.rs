//! What a name, a text or a file's name holds is never obeyed by a terminal, a spreadsheet
//! or a calendar.

use crate::support::{assize, err, out};

/// Letters that a terminal obeys, or that turn its lines round.
const OBEYED: [char; 9] =
    ['\u{1b}', '\u{7}', '\u{8}', '\u{b}', '\u{7f}', '\u{9b}', '\u{202e}', '\u{2066}', '\r'];

fn is_tame(told: &str) -> bool {
    let is_obeyed = |letter: char| {
        OBEYED.contains(&letter) || letter.is_control() && !matches!(letter, '\n' | '\t')
    };
    !told.chars().any(is_obeyed)
}

/// A formula with a letter in each of its texts and names, and slips that quote them.
fn formula(letter: char) -> String {
    format!(
        "bakehouse \"Gull{letter}haven\" {{ awake 06:00..22:00 }}\n\
         ingredient \"rock{letter}salt\" like salt\n\
         formula tide-loaf \"Tide{letter} Loaf\" {{\n  makes 2 loaves at 800 g\n  \
         note \"Mind{letter} the tide, 7 kg of it.\"\n  total {{\n    bread flour 100%\n    \
         water 70%\n    \"rock{letter}salt\" 2%\n    fresh yeast 1%\n  }}\n  method {{\n    \
         mix 8min with everything else note \"Or{letter} so.\"\n    bulk 2h at 24C\n    \
         proof 1h at 24C\n    bake 40min at 230C\n  }}\n}}\n\
         formula lost-loaf \"Lost{letter}\" {{ makes 1 loaf; total {{ \"no{letter}such\" 1% }} }}\n"
    )
}

/// Every human form of every command.
const COMMANDS: &[&[&str]] = &[
    &["check"],
    &["check", "--format", "narrated"],
    &["check", "--format", "short"],
    &["check", "--format", "annotations"],
    &["show", "tide-loaf"],
    &["why", "tide-loaf", "salt"],
    &["why", "tide-loaf", "hydration"],
    &["plan", "tide-loaf", "--ready", "2030-01-05 12:00"],
    &["print", "tide-loaf", "--only", "card", "--to", "out"],
    &["fmt", "--check"],
    &["fmt"],
];

#[test]
fn no_human_form_holds_a_letter_that_a_terminal_obeys() {
    for letter in OBEYED {
        let folder = tempfile::tempdir().expect("a folder");
        std::fs::write(folder.path().join("a.dough"), formula(letter)).expect("written");
        for command in COMMANDS {
            let done = assize(folder.path(), command);
            assert!(is_tame(&out(&done)), "{letter:?} {command:?}: {:?}", out(&done));
            assert!(is_tame(&err(&done)), "{letter:?} {command:?}: {:?}", err(&done));
        }
        let word = format!("no{letter}such");
        for command in [&["show", &word][..], &["check", &word], &["why", "tide-loaf", &word]] {
            let done = assize(folder.path(), command);
            assert!(is_tame(&(out(&done) + &err(&done))), "{letter:?} {command:?}");
        }
    }
}

/// A form of one line a finding has one, whatever names and texts hold.
#[cfg(unix)]
#[test]
fn one_line_forms_are_one_line() {
    let folder = tempfile::tempdir().expect("a folder");
    let name = "odd\nname\u{1b}[31m.dough";
    let text = "formula a \"A\" {\n  makes 2 loaves\n  total { \"no\nsuch\" 100%; water 65 }\n}\n";
    std::fs::write(folder.path().join(name), text).expect("written");
    for (format, begins) in [("short", "odd\\u{a}name"), ("annotations", "::")] {
        let done = assize(folder.path(), &["check", "--format", format]);
        let told = out(&done);
        assert!(is_tame(&told), "{told:?}");
        let lines: Vec<&str> = told
            .lines()
            .filter(|line| !line.starts_with(begins) && !line.starts_with("1 formula"))
            .collect();
        assert!(lines.is_empty(), "{format}: {lines:?}");
    }
    let human = out(&assize(folder.path(), &["check"]));
    assert!(is_tame(&human) && human.contains("odd\\u{a}name\\u{1b}[31m.dough"), "{human}");
}

/// A cell of text that a spreadsheet would work out is text to it; numbers stay numbers.
#[test]
fn no_cell_of_text_is_worked_out() {
    for start in ["=", "+", "-", "@", "\t", " ="] {
        let folder = tempfile::tempdir().expect("a folder");
        let text = format!(
            "ingredient \"{start}1+1\" like salt\nformula a \"A\" {{\n  makes 2 loaves at 800 g\n  \
             total {{ bread flour 100%; water ({start}2) 70%; \"{start}1+1\" 2%; fresh yeast 1% }}\n}}\n"
        );
        std::fs::write(folder.path().join("a.dough"), text).expect("written");
        let done = assize(folder.path(), &["show", "a", "--format", "csv"]);
        let mut reader = csv::Reader::from_reader(done.stdout.as_slice());
        let header = reader.headers().expect("a header").clone();
        for record in reader.records() {
            let record = record.expect("a row");
            for (name, cell) in header.iter().zip(&record) {
                let is_number = ["grams", "shown", "percent", "grams high"].contains(&name);
                let text = cell.trim_start_matches(' ');
                let begins = text.starts_with(['=', '+', '-', '@', '\t', '\r']);
                assert!(!begins, "{start:?} {name}: {cell:?}");
                if is_number && !cell.is_empty() {
                    assert!(cell.parse::<f64>().is_ok() || name == "percent", "{name}: {cell}");
                }
            }
        }
    }
}

/// Commas, semicolons, line ends and control letters of a title are text in a calendar.
#[test]
fn a_calendar_is_called_what_the_formula_is_called() {
    let folder = tempfile::tempdir().expect("a folder");
    let title = "Tide; Loaf, the\nbest \u{8}of \\\\ all";
    let text = formula('x').replace("Tidex Loaf", title);
    std::fs::write(folder.path().join("a.dough"), text).expect("written");
    let args = ["plan", "tide-loaf", "--ready", "2030-01-05 12:00", "--zone", "Europe/Paris"];
    let done = assize(folder.path(), &[&args[..], &["--format", "ics"]].concat());
    let told = out(&done).replace("\r\n ", "");
    let names: Vec<&str> = told
        .lines()
        .filter(|it| it.starts_with("NAME") || it.starts_with("X-WR-CALNAME"))
        .collect();
    assert_eq!(names.len(), 2, "{told} {}", err(&done));
    for name in names {
        assert!(name.ends_with(":Tide\\; Loaf\\, the\\nbest  of \\\\ all"), "{name}");
    }
    let is_kept = |letter: char| !letter.is_control() || matches!(letter, '\r' | '\n');
    assert!(told.chars().all(is_kept));
}

/// Markup holds no letter that XML forbids or a terminal obeys.
#[test]
fn no_page_for_a_browser_holds_what_no_markup_may() {
    let folder = crate::support::folder();
    for letter in ['\u{7f}', '\u{9b}', '\u{fffe}', '\u{ffff}'] {
        std::fs::write(folder.path().join("a.dough"), formula(letter)).expect("written");
        let commands: [&[&str]; 2] = [
            &["show", "tide-loaf", "--format", "html"],
            &["print", "tide-loaf", "--only", "card", "--format", "html", "--to", "-"],
        ];
        for command in commands {
            let done = assize(folder.path(), command);
            let page = out(&done);
            assert!(page.contains("<html"), "{letter:?} {command:?}: {}", err(&done));
            let is_odd = |it: char| {
                it.is_control() && !matches!(it, '\n' | '\t')
                    || matches!(it, '\u{fffe}' | '\u{ffff}')
            };
            assert!(!page.contains(is_odd), "{letter:?} {command:?}");
        }
    }
}

/// No letter that nobody sees comes into tables, calendars or JSON as it is, and JSON says what the name
/// is; letters that a script needs stay.
#[test]
fn machine_forms_hold_no_letter_that_nobody_sees() {
    let unseen = ['\u{200b}', '\u{202e}', '\u{9b}', '\u{fffe}', '\u{feff}', '\u{e0041}', '\u{ad}'];
    for letter in unseen {
        let folder = tempfile::tempdir().expect("a folder");
        let text = formula(letter).replace("2 loaves at 800 g\n", "2 loaves at 800 g\n ");
        std::fs::write(folder.path().join("a.dough"), text).expect("written");
        let calendar = ["plan", "tide-loaf", "--ready", "2030-01-05 12:00", "--format", "ics"];
        for args in [
            &["show", "tide-loaf", "--format", "json"][..],
            &["show", "tide-loaf", "--format", "csv"],
            &["check", "--format", "json"],
            &["check", "--format", "sarif"],
            &["uses", "bread flour", "--format", "json"],
            &calendar,
        ] {
            let done = assize(folder.path(), args);
            let told = out(&done);
            assert!(!told.contains(letter), "{letter:?} {args:?}: {told:?}");
            if args.contains(&"json") && args[0] == "show" && !told.is_empty() {
                let read: serde_json::Value = serde_json::from_str(&told).expect("JSON");
                let title = read["title"].as_str().unwrap_or_default();
                assert!(title.contains("Tide") && title.contains("Loaf"), "{title:?}");
            }
        }
    }
    let folder = tempfile::tempdir().expect("a folder");
    let persian = "\u{646}\u{627}\u{646}\u{200c}\u{647}\u{627}";
    let text = formula('x').replace("Tidex Loaf", persian);
    std::fs::write(folder.path().join("a.dough"), text).expect("written");
    let args = ["plan", "tide-loaf", "--ready", "2030-01-05 12:00", "--format", "ics"];
    let told = out(&assize(folder.path(), &args)).replace("\r\n ", "");
    assert!(told.contains(persian), "{told}");
}
