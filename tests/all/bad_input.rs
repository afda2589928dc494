//! Input that nobody should send, and machines that refuse.

use crate::support::{Memory, PLAIN, assize, err, folder, loaded_bytes, names, out};
use assize::testing::desk::{self, load};
use std::fs;
use std::path::{Path, PathBuf};

fn names_of_bytes(bytes: &[u8]) -> Vec<&'static str> {
    desk::check(&loaded_bytes(bytes)).iter().map(|finding| finding.rule.name).collect()
}

#[test]
fn what_is_not_text_is_said_to_be_none() {
    assert_eq!(names_of_bytes(b"formula a {\xff}"), ["not-utf-8"]);
    assert_eq!(names_of_bytes(b"formula a {\0}"), ["not-utf-8"]);
}

#[test]
fn a_huge_file_is_refused_before_it_is_read() {
    let bytes = vec![b' '; 100_000_000];
    assert_eq!(names_of_bytes(&bytes), ["file-too-large"]);
}

#[test]
fn ten_thousand_braces_are_one_finding() {
    let text = format!("formula a {}", "{".repeat(10_000));
    let found = names(&text);
    // That they are too deep follows from those that are never closed.
    assert_eq!(found, ["unclosed-block"]);
}

#[test]
fn impossible_numbers_are_findings() {
    let with = |amount: &str| PLAIN.replace("salt           2%", &format!("salt {amount}"));
    assert!(names(&with("1e400 g")).contains(&"number-too-large"));
    assert!(names(&with("1/0 kg")).contains(&"division-by-zero"));
    assert!(names(&with("99999999999999999999 g")).contains(&"number-too-large"));
}

#[test]
fn an_unclosed_block_ends_at_the_next_declaration() {
    let text = format!("formula a \"A\" {{\n  total {{\n    bread flour 100%\n\n{PLAIN}");
    let found = names(&text);
    assert!(found.contains(&"unclosed-block"), "{found:?}");
    let loaded = crate::support::loaded(&text);
    assert_eq!(loaded.files()[0].tree.formulas.len(), 2);
}

#[test]
fn circles_are_drawn_and_never_run_in() {
    for (text, rule) in [
        ("formula a \"A\" from b { }\nformula b \"B\" from a { }\n", "from-cycle"),
        ("formula a \"A\" from a { }\n", "from-cycle"),
        ("ingredient one like two { }\ningredient two like one { }\n", "from-cycle"),
        (
            "formula a \"A\" {\n  makes 1 kg dough\n  total { bread flour 100%; water 70%; salt 2% }\n  build one { ferments 5% of flour; bread flour 100%; water 100%; two 10% }\n  build two { bread flour 100%; water 100%; one 10% }\n}\n",
            "stage-cycle",
        ),
        (
            "mixture one { two 1 part }\nmixture two { one 1 part }\nformula a \"A\" {\n  makes 2 loaves at 500 g\n  total { bread flour 100%; water 70%; salt 2%; fresh yeast 1%; one 2% }\n}\n",
            "stage-cycle",
        ),
        (
            "formula a \"A\" {\n  makes 2 loaves\n  piece { b 100 g }\n}\nformula b \"B\" {\n  makes 2 loaves\n  piece { a 100 g }\n}\n",
            "piece-cycle",
        ),
    ] {
        let found = names(text);
        assert!(found.contains(&rule), "{text}{found:?}");
        let untrue = |name: &&str| name.starts_with("unknown-") && !text.contains("from a");
        assert!(!found.iter().any(untrue), "{text}{found:?}");
    }
}

/// A formula that carries itself is one slip and one finding.
#[test]
fn a_formula_made_of_itself_is_told_once() {
    let text = "formula a \"A\" {\n  makes 2 loaves\n  piece { a 100 g }\n}\n";
    assert_eq!(names(text), ["piece-cycle"]);
}

/// A row of formulas that is too long is told, though it lies deep inside.
#[test]
fn a_long_row_of_formulas_is_told() {
    let mut text = String::from(
        "formula f0 \"F\" {\n  makes 2 kg dough\n  total { bread flour 100%; water 70%; salt 2%; fresh yeast 1% }\n}\n",
    );
    for index in 1..25 {
        text.push_str(&format!(
            "formula f{index} \"F\" {{\n  makes 2 loaves\n  piece {{ f{} 100 g }}\n}}\n",
            index - 1
        ));
    }
    let found = names(&text);
    assert!(found.contains(&"too-many"), "{found:?}");
    assert!(!found.contains(&"unknown-ingredient"), "{found:?}");
}

#[test]
fn a_long_row_of_mixtures_is_told() {
    let mut text = String::from(
        "formula f0 \"F\" {\n  makes 2 loaves at 900 g\n  total { bread flour 100%; water 70%; salt 2%; fresh yeast 1% }\n  piece { wash-0 3 g }\n}\n",
    );
    for index in 0..30_000 {
        text.push_str(&format!(
            "mixture wash-{index} {{ wash-{} 1 part; water 1 part }}\n",
            index + 1
        ));
    }
    text.push_str("mixture wash-30000 { water 1 part }\n");
    assert_eq!(names(&text), ["too-many"]);
}

/// A file behind a link is written where it lies, and keeps who may read it.
#[cfg(unix)]
#[test]
fn a_file_behind_a_link_keeps_its_place_and_its_rights() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let folder = folder();
    let (file, link) = (folder.path().join("kept.txt"), folder.path().join("a.dough"));
    fs::write(&file, PLAIN.replace("  bake loss  12%", "    bake loss 12%")).expect("written");
    fs::set_permissions(&file, fs::Permissions::from_mode(0o600)).expect("set");
    symlink(&file, &link).expect("linked");
    let done = assize(folder.path(), &["fmt", "a.dough"]);
    assert_eq!(done.status.code(), Some(0), "{}", err(&done));
    assert!(link.symlink_metadata().expect("there").is_symlink());
    let text = fs::read_to_string(&file).expect("readable");
    assert!(text.contains("\n  bake loss  12%\n"), "{text}");
    assert_eq!(file.metadata().expect("there").permissions().mode() & 0o777, 0o600);
}

#[test]
fn names_are_data() {
    let text = "\
ingredient \"#import \\\"x\\\"\" is a spice {
  water 5%
  contains nothing
}
ingredient \"$(rm)\" is a spice {
  water 5%
  contains nothing
}
formula a \"A *bold* title\" {
  makes 2 loaves at 875 g
  total { bread flour 100%; water 70%; salt 2%; fresh yeast 1%; \"#import \\\"x\\\"\" 1%; \"$(rm)\" 1% }
}
";
    assert_eq!(names(text), [""; 0]);
    let folder = folder();
    fs::write(folder.path().join("a.dough"), text).expect("written");
    let done = assize(folder.path(), &["print", "a.dough", "--to", "out"]);
    assert_eq!(done.status.code(), Some(0), "{}", err(&done));
    let pdf = fs::read(folder.path().join("out/a-table.pdf")).expect("a print");
    let text = pdf_extract::extract_text_from_mem(&pdf).expect("text");
    assert!(text.contains("#import") && text.contains("$(rm)"), "{text}");
}

#[test]
fn a_missing_path_is_a_slip_of_usage() {
    let folder = folder();
    let done = assize(folder.path(), &["check", "nowhere"]);
    assert_eq!(done.status.code(), Some(2));
    assert_eq!(err(&done), "assize: there is no nowhere\n");
    assert_eq!(out(&done), "");
}

#[test]
fn a_shelf_that_refuses_is_told_and_the_rest_is_read() {
    struct Refusing(Memory);
    impl desk::FileSystem for Refusing {
        fn is_folder(&self, path: &Path) -> std::io::Result<bool> {
            self.0.is_folder(path)
        }
        fn list(&self, folder: &Path) -> std::io::Result<Vec<(PathBuf, bool)>> {
            if folder.ends_with("locked") {
                return Err(std::io::ErrorKind::PermissionDenied.into());
            }
            self.0.list(folder)
        }
        fn size(&self, path: &Path) -> std::io::Result<u64> {
            self.0.size(path)
        }
        fn bytes(&self, path: &Path, most: u64) -> std::io::Result<Vec<u8>> {
            self.0.bytes(path, most)
        }
        fn is_below(&self, folder: &Path, path: &Path) -> std::io::Result<bool> {
            self.0.is_below(folder, path)
        }
    }
    let file_system = Refusing(Memory::with(&[("/x/locked/b.dough", ""), ("/x/a.dough", PLAIN)]));
    let loaded = load(&file_system, Path::new("/x"), &[PathBuf::from("/x")]);
    let found: Vec<&str> = desk::check(&loaded).iter().map(|finding| finding.rule.name).collect();
    assert_eq!(found, ["unreadable"]);
    assert_eq!(loaded.files().len(), 1);
}

/// A folder where the output can't be written keeps what it had.
#[test]
fn an_output_that_cannot_be_written_leaves_what_was_there() {
    let folder = folder();
    fs::write(folder.path().join("a.dough"), PLAIN).expect("written");
    // A folder stands where the print should go, so that the rename fails.
    fs::create_dir_all(folder.path().join("out/pier-loaf-card.pdf/inside")).expect("a folder");
    let done = assize(folder.path(), &["print", "a.dough", "--to", "out", "--only", "card"]);
    assert_eq!(done.status.code(), Some(1));
    assert!(err(&done).contains("unwritable"), "{}", err(&done));
    assert!(folder.path().join("out/pier-loaf-card.pdf/inside").is_dir());
    let left: Vec<_> = fs::read_dir(folder.path().join("out")).expect("listed").collect();
    assert_eq!(left.len(), 1, "no half file is left beside");
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_told() {
    use std::process::{Command, Stdio};
    let folder = folder();
    fs::write(folder.path().join("a.dough"), PLAIN).expect("written");
    let full = fs::OpenOptions::new().write(true).open("/dev/full").expect("linux has it");
    let done = Command::new(env!("CARGO_BIN_EXE_assize"))
        .args(["show", "a.dough"])
        .current_dir(folder.path())
        .stdout(Stdio::from(full))
        .output()
        .expect("the command runs");
    assert_eq!(done.status.code(), Some(1));
    assert!(err(&done).contains("can't be written"), "{}", err(&done));
}

/// A pipe waits for ever and a device never ends: neither may matter, wherever it lies.
#[cfg(unix)]
#[test]
fn only_ordinary_files_are_read() {
    use std::process::Command;
    let around = tempfile::tempdir().expect("a folder");
    let house = around.path().join("house");
    std::fs::create_dir_all(house.join("templates")).expect("made");
    std::fs::write(house.join("a.dough"), PLAIN).expect("written");
    let pipe = |path: &Path| {
        let made = Command::new("mkfifo").arg(path).status().expect("mkfifo");
        assert!(made.success());
    };
    for folder in [around.path(), &house] {
        pipe(&folder.join("pipe.dough"));
        pipe(&folder.join("pipe.md"));
        std::os::unix::fs::symlink("/dev/zero", folder.join("zero.dough")).expect("linked");
        std::os::unix::fs::symlink("/dev/zero", folder.join("zero.md")).expect("linked");
    }
    pipe(&house.join("templates/words.ftl"));
    pipe(&house.join("templates/card.typ"));
    let done = assize(&house, &["check", "a.dough"]);
    assert_eq!(done.status.code(), Some(0), "{}", out(&done));
    let done = assize(&house, &["check", "."]);
    assert_eq!(done.status.code(), Some(1));
    assert!(out(&done).contains("pipe.dough can't be read: it is not an ordinary file"));
    assert!(out(&done).contains("zero.dough can't be read: it is not an ordinary file"));
    let done = assize(&house, &["check", "pipe.dough"]);
    assert_eq!(done.status.code(), Some(1));
    assize(&house, &["fmt", "."]);
    assize(&house, &["print", ".", "--only", "card"]);
    assize(&house, &["plan", "--ready", "2030-01-01 07:00"]);
}

/// What editors and other systems leave beside a file is not read.
#[test]
fn hidden_files_are_passed_over() {
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("a.dough"), PLAIN).expect("written");
    for hidden in [".#a.dough", "._a.dough", ".a.md"] {
        std::fs::write(folder.path().join(hidden), b"\x00\xff bakehouse").expect("written");
    }
    let done = assize(folder.path(), &["check"]);
    assert!(out(&done).starts_with("1 formula, "), "{}", out(&done));
    assert_eq!((err(&done).as_str(), done.status.code()), ("", Some(0)));
}

/// A file system of more than anyone has: what is too much is said once, and nothing is read.
#[test]
fn a_whole_disk_is_no_bakehouse() {
    enum Endless {
        Files,
        Folders,
        Bytes,
    }
    impl desk::FileSystem for Endless {
        fn is_folder(&self, path: &Path) -> std::io::Result<bool> {
            Ok(path.extension().is_none())
        }
        fn list(&self, folder: &Path) -> std::io::Result<Vec<(PathBuf, bool)>> {
            let (count, ending, is_folder) = match self {
                Self::Files => (60_000, "dough", false),
                Self::Folders if folder.components().count() < 4 => (1_000, "d", true),
                Self::Folders => (1_000, "txt", false),
                Self::Bytes => (100, "dough", false),
            };
            let entry = |number| (folder.join(format!("{number}.{ending}")), is_folder);
            let folders = |(path, is_folder): (PathBuf, bool)| match is_folder {
                true => (path.with_extension(""), true),
                false => (path, false),
            };
            Ok((0..count).map(entry).map(folders).collect())
        }
        fn size(&self, _: &Path) -> std::io::Result<u64> {
            Ok(match self {
                Self::Bytes => 7_000_000,
                _ => 1,
            })
        }
        fn bytes(&self, path: &Path, _: u64) -> std::io::Result<Vec<u8>> {
            assert!(matches!(self, Self::Files | Self::Bytes), "read {}", path.display());
            Ok(Vec::new())
        }
        fn is_below(&self, _: &Path, _: &Path) -> std::io::Result<bool> {
            Ok(true)
        }
    }
    for (file_system, said) in [
        (Endless::Files, "this folder holds more than 50000 files of formulas"),
        (Endless::Folders, "this folder holds more than 2000000 files and folders"),
        (Endless::Bytes, "this folder has 700 MB of formulas, and no more than 400 MB are read"),
    ] {
        let loaded = load(&file_system, Path::new("/x"), &[PathBuf::from("/x")]);
        let found = desk::check(&loaded);
        let told: Vec<&str> = found.iter().map(|finding| finding.message.as_str()).collect();
        assert_eq!(told, [said]);
        assert!(loaded.files().is_empty());
    }
}

/// A path is bytes, and need not be a text: every argument that takes one takes any.
#[cfg(target_os = "linux")]
#[test]
fn every_command_takes_paths_that_are_no_text() {
    use std::ffi::{OsStr, OsString};
    use std::os::unix::ffi::OsStrExt;
    let folder = folder();
    let odd = |name: &str| {
        let (start, end) = name.split_once('?').expect("a place for it");
        OsStr::from_bytes(&[start.as_bytes(), b"\xff", end.as_bytes()].concat()).to_owned()
    };
    let method = "  method { mix 8min with everything else; bulk 1h at 24C; proof 1h at 24C; \
                  bake 40min at 230C }\n}\n";
    let text = PLAIN.trim_end().trim_end_matches('}').to_owned() + method;
    fs::create_dir(folder.path().join(odd("quay?side"))).expect("made");
    for file in ["pier?.dough", "quay?side/mole?.dough"] {
        fs::write(folder.path().join(odd(file)), &text).expect("written");
    }
    let laid_out = assize(folder.path(), &["fmt"]);
    assert_eq!(laid_out.status.code(), Some(0), "{}", err(&laid_out));
    let run = |words: &[&str]| {
        let words: Vec<OsString> = words
            .iter()
            .map(|word| if word.contains('?') { odd(word) } else { OsString::from(word) })
            .collect();
        let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_assize"));
        command.args(&words).current_dir(folder.path()).output().expect("it runs")
    };
    let ready = "2030-01-05 12:00";
    let sheet = run(&["show", "pier?.dough", "--format", "json"]);
    fs::write(folder.path().join(odd("sheet?.json")), &sheet.stdout).expect("written");
    for words in [
        &["check", "pier?.dough"][..],
        &["check", "--pinned", "sheet?.json"],
        &["diff", "pier?.dough", "quay?side/mole?.dough"],
        &["diff", "quay?side", "."],
        &["check", "quay?side"],
        &["check", "pier?.dough", "--format", "json"],
        &["check", "pier?.dough", "--format", "sarif"],
        &["check", "pier?.dough", "--fix"],
        &["fmt", "pier?.dough", "quay?side"],
        &["show", "pier?.dough"],
        &["show", "quay?side", "--format", "json"],
        &["why", "pier?.dough", "hydration"],
        &["print", "pier?.dough", "--only", "card", "--to", "prints?"],
        &["print", "quay?side", "--only", "card", "--format", "html", "--to", "-"],
        &["plan", "pier?.dough", "--ready", ready, "--zone", "UTC"],
        &["new", "fresh?"],
        &["print", "--export-templates", "ours?"],
    ] {
        let done = run(words);
        assert_eq!(done.status.code(), Some(0), "{words:?}: {}{}", out(&done), err(&done));
    }
    assert!(folder.path().join(odd("prints?")).join("pier-loaf-card.pdf").is_file());
    let calendar =
        run(&["plan", "pier?.dough", "--ready", ready, "--zone", "UTC", "--format", "ics"]);
    fs::write(folder.path().join(odd("old?.ics")), &calendar.stdout).expect("written");
    let words =
        ["plan", "pier?.dough", "--ready", ready, "--format", "ics", "--replaces", "old?.ics"];
    assert_eq!(run(&words).status.code(), Some(0));
    for command in [&["check"][..], &["fmt"], &["show"], &["print"]] {
        let done = run(&[command, &["nowhere?"]].concat());
        assert_eq!(done.status.code(), Some(2), "{command:?}");
        assert_eq!(err(&done), "assize: there is no nowhere\u{fffd}\n", "{command:?}");
    }
}

/// A text of a bakehouse that nobody can read may say anything of its bread: that is an error. One that
/// says nothing of it, one of no bakehouse, and what is no text at all are notes.
#[test]
fn a_manuscript_that_can_t_be_read_is_an_error_where_it_may_matter() {
    let latin = |text: &str| text.chars().map(|letter| letter as u32 as u8).collect::<Vec<u8>>();
    let wide = |text: &str| {
        [0xfffe]
            .into_iter()
            .chain(text.encode_utf16())
            .flat_map(u16::to_be_bytes)
            .collect::<Vec<u8>>()
    };
    let denies = "Nut-free caf\u{e9} bread. All our breads are gluten-free.\n";
    let german = "Unser Brot f\u{fc}r Allergiker: ohne N\u{fc}sse, glutenfrei.\n";
    let formula = "# Caf\u{e9}\n\n```dough\nformula b \"B\" { }\n```\n";
    for (name, bytes, is_error) in [
        ("denies", latin(denies), true),
        ("german", latin(german), true),
        ("wide", wide(denies), true),
        ("formula", latin(formula), true),
        ("harmless", latin("The caf\u{e9} opens at eight.\n"), false),
        ("large", vec![b'a'; 8_000_001], true),
    ] {
        for is_house in [true, false] {
            let folder = crate::support::folder();
            let house = if is_house { "bakehouse \"Quay\" {}\n" } else { "" };
            let text = format!("{house}{}", crate::support::PLAIN);
            std::fs::write(folder.path().join("a.dough"), text).expect("written");
            std::fs::write(folder.path().join("c.md"), &bytes).expect("written");
            let done = assize(folder.path(), &["check"]);
            let code = if is_error && is_house { 1 } else { 0 };
            assert_eq!(done.status.code(), Some(code), "{name} {is_house}: {}", out(&done));
            assert!(out(&done).contains("c.md"), "{name}: {}", out(&done));
            // Words beside the formulas keep nobody from working with those.
            let shown = assize(folder.path(), &["show", "pier-loaf"]);
            assert_eq!(shown.status.code(), Some(0), "{name} {is_house}: {}", err(&shown));
        }
    }
}
