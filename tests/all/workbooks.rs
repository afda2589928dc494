//! Workbooks that would fill the memory: cells a world apart, thousands to one packed, cells
//! that are only said to be there again and again. They are refused at once, and what is named
//! beside them is read.

use crate::support::{assize, err, folder, out};
use std::fs;
use std::io::{Cursor, Write};
use zip::ZipWriter;
use zip::write::SimpleFileOptions;

fn packed(files: &[(&str, &str)]) -> Vec<u8> {
    let mut all = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, text) in files {
        all.start_file(*name, SimpleFileOptions::default()).expect("begun");
        all.write_all(text.as_bytes()).expect("packed");
    }
    all.finish().expect("whole").into_inner()
}

const OPEN: &str = "http://schemas.openxmlformats.org";

fn xlsx(sheet: &str) -> Vec<u8> {
    styled(sheet, "")
}

/// A workbook with the formats of numbers that its cells name.
fn styled(sheet: &str, styles: &str) -> Vec<u8> {
    listed(sheet, styles, 1)
}

/// The same with its one sheet listed so many times.
fn listed(sheet: &str, styles: &str, times: usize) -> Vec<u8> {
    let relations = |kind: &str, target: &str| {
        format!(
            "<?xml version=\"1.0\"?><Relationships xmlns=\"{OPEN}/package/2006/relationships\"><Relationship \
             Id=\"rId1\" Type=\"{OPEN}/officeDocument/2006/relationships/{kind}\" \
             Target=\"{target}\"/></Relationships>"
        )
    };
    let workbook = format!(
        "<?xml version=\"1.0\"?><workbook xmlns=\"{OPEN}/spreadsheetml/2006/main\" \
         xmlns:r=\"{OPEN}/officeDocument/2006/relationships\"><sheets>{}</sheets></workbook>",
        (1..=times)
            .map(|at| format!("<sheet name=\"Loaf{at}\" sheetId=\"{at}\" r:id=\"rId1\"/>"))
            .collect::<String>()
            .replace("Loaf1\"", "Loaf\"")
    );
    let sheet = format!(
        "<?xml version=\"1.0\"?><worksheet xmlns=\"{OPEN}/spreadsheetml/2006/main\"><sheetData>{sheet}\
         </sheetData></worksheet>"
    );
    packed(&[
        ("_rels/.rels", &relations("officeDocument", "xl/workbook.xml")),
        ("xl/workbook.xml", &workbook),
        (
            "xl/_rels/workbook.xml.rels",
            &relations("worksheet", "worksheets/sheet1.xml").replace(
                "</Relationships>",
                &format!(
                    "<Relationship Id=\"rId2\" Type=\"{OPEN}/officeDocument/2006/relationships/styles\" \
                     Target=\"styles.xml\"/></Relationships>"
                ),
            ),
        ),
        ("xl/worksheets/sheet1.xml", &sheet),
        (
            "xl/styles.xml",
            &format!(
                "<?xml version=\"1.0\"?><styleSheet xmlns=\"{OPEN}/spreadsheetml/2006/main\">{styles}</styleSheet>"
            ),
        ),
    ])
}

fn ods(rows: &str) -> Vec<u8> {
    let content = format!(
        "<?xml version=\"1.0\"?><office:document-content \
         xmlns:office=\"urn:oasis:names:tc:opendocument:xmlns:office:1.0\" \
         xmlns:table=\"urn:oasis:names:tc:opendocument:xmlns:table:1.0\" \
         xmlns:text=\"urn:oasis:names:tc:opendocument:xmlns:text:1.0\"><office:body><office:spreadsheet>\
         <table:table table:name=\"Loaf\">{rows}</table:table></office:spreadsheet></office:body>\
         </office:document-content>"
    );
    packed(&[
        ("mimetype", "application/vnd.oasis.opendocument.spreadsheet"),
        ("content.xml", &content),
        ("META-INF/manifest.xml", "<?xml version=\"1.0\"?><manifest/>"),
    ])
}

fn cell(place: &str, words: &str) -> String {
    format!("<c r=\"{place}\" t=\"inlineStr\"><is><t>{words}</t></is></c>")
}

fn row(number: u32, cells: &[(&str, &str)]) -> String {
    let cells: String = cells.iter().map(|(place, words)| cell(place, words)).collect();
    format!("<row r=\"{number}\">{cells}</row>")
}

fn ods_row(attributes: &str, cells: &[&str]) -> String {
    let cell = |words: &&str| {
        format!(
            "<table:table-cell office:value-type=\"string\"><text:p>{words}</text:p></table:table-cell>"
        )
    };
    let cells: String = cells.iter().map(cell).collect();
    format!("<table:table-row {attributes}>{cells}</table:table-row>")
}

const LOAF: [(&str, &str); 3] = [("bread flour", "500 g"), ("water", "350 g"), ("salt", "10 g")];

#[test]
fn a_workbook_that_would_fill_the_memory_is_refused_and_others_are_read() {
    let folder = folder();
    let at = folder.path();
    let blank = " ".repeat(80 << 20);
    let filled = "<table:table-cell table:number-columns-repeated=\"16384\" \
                  office:value-type=\"string\"><text:p>x</text:p></table:table-cell>";
    let bombs = [
        ("far.xlsx", xlsx(&(row(1, &[("A1", "x")]) + &row(1_048_576, &[("XFD1048576", "x")])))),
        ("blank.xlsx", xlsx(&blank)),
        ("blank.ods", ods(&blank)),
        ("said.ods", ods(&ods_row("", &["fresh<text:s text:c=\"200000000\"/>yeast"]))),
        (
            "rows.ods",
            ods(&format!(
                "<table:table-row table:number-rows-repeated=\"1048576\">{filled}</table:table-row>"
            )),
        ),
    ];
    let good: String = LOAF.iter().map(|(name, amount)| format!("{name},{amount}\n")).collect();
    fs::write(at.join("good.csv"), good).expect("written");
    for (name, bytes) in &bombs {
        fs::write(at.join(name), bytes).expect("written");
        let done = assize(at, &["read", name, "good.csv", "--to", "o"]);
        let said = err(&done);
        assert_eq!(done.status.code(), Some(1), "{name}: {said}");
        assert!(said.contains(name) && !said.contains("bug"), "{name}: {said}");
        assert!(out(&done).contains("good"), "{name}: {} {said}", out(&done));
        fs::remove_dir_all(at.join("o")).expect("written beside it");
    }
}

/// What people fill is read as before, wherever it begins.
#[test]
fn a_workbook_that_somebody_filled_is_read() {
    let folder = folder();
    let at = folder.path();
    let rows = |lead: &str, from: u32| -> String {
        let all = LOAF.iter().enumerate();
        all.map(|(index, (name, amount))| {
            let number = from + u32::try_from(index).expect("few");
            let places = (format!("{lead}{number}"), format!("C{number}"));
            row(number, &[(&places.0, name), (&places.1, amount)])
        })
        .collect()
    };
    let of_ods: String = LOAF.iter().map(|(name, amount)| ods_row("", &[name, amount])).collect();
    let tail = "<table:table-row table:number-rows-repeated=\"1048500\"><table:table-cell \
                table:number-columns-repeated=\"16384\"/></table:table-row>";
    for (name, bytes) in [
        ("near.xlsx", xlsx(&rows("B", 1))),
        ("low.xlsx", xlsx(&rows("B", 90_000))),
        ("plain.ods", ods(&of_ods)),
        ("tail.ods", ods(&format!("{of_ods}{tail}"))),
    ] {
        fs::write(at.join(name), bytes).expect("written");
        let done = assize(at, &["read", name, "--to", "-"]);
        let said = out(&done);
        let is_read =
            LOAF.iter().all(|(name, amount)| said.contains(name) && said.contains(amount));
        assert!(is_read, "{name}: {said}{}", err(&done));
    }
}

/// Cells that are shown as so many per cent are so many per cent, in formats of the program's own
/// and of a person's; a formula of which nobody kept the value is asked about, and not lost.
#[test]
fn cells_are_read_as_a_person_sees_them() {
    let folder = folder();
    let at = folder.path();
    let styles = "<numFmts count=\"1\"><numFmt numFmtId=\"164\" formatCode=\"0.0%\"/></numFmts>\
                  <cellXfs count=\"3\"><xf numFmtId=\"0\"/><xf numFmtId=\"9\"/><xf numFmtId=\"164\"/></cellXfs>";
    let number = |place: &str, style: u8, value: &str| {
        format!("<c r=\"{place}\" s=\"{style}\"><v>{value}</v></c>")
    };
    let table = |style: u8| -> String {
        let rows = [("bread flour", "1"), ("water", "0.68"), ("salt", "0.02")];
        let head = row(1, &[("A1", "Ingredient"), ("B1", "Percent")]);
        let below = rows.iter().zip(2_u32..).map(|((name, value), at)| {
            let name = cell(&format!("A{at}"), name);
            format!("<row r=\"{at}\">{name}{}</row>", number(&format!("B{at}"), style, value))
        });
        head + &below.collect::<String>()
    };
    for style in [1, 2] {
        fs::write(at.join("p.xlsx"), styled(&table(style), styles)).expect("written");
        let done = assize(at, &["read", "p.xlsx", "--to", "-"]);
        let said = out(&done);
        for wanted in ["100%", "68%", "2%"] {
            assert!(said.contains(wanted), "{style} {wanted}: {said}{}", err(&done));
        }
        assert!(!said.contains("0.68%"), "{said}");
    }
    let percent = |words: &str, value: &str| {
        format!(
            "<table:table-row><table:table-cell office:value-type=\"string\"><text:p>{words}</text:p>\
             </table:table-cell><table:table-cell office:value-type=\"percentage\" \
             office:value=\"{value}\"><text:p>x</text:p></table:table-cell></table:table-row>"
        )
    };
    let rows = [
        ods_row("", &["Ingredient", "Percent"]),
        percent("bread flour", "1"),
        percent("water", "0.68"),
        percent("salt", "0.02"),
    ];
    fs::write(at.join("p.ods"), ods(&rows.concat())).expect("written");
    let said = out(&assize(at, &["read", "p.ods", "--to", "-"]));
    assert!(said.contains("68%") && !said.contains("0.68%"), "{said}");
    let head = row(1, &[("A1", "Ingredient"), ("B1", "Weight (g)")]);
    let flour =
        format!("<row r=\"2\">{}{}</row>", cell("A2", "bread flour"), number("B2", 0, "500"));
    let salt = format!("<row r=\"3\">{}{}</row>", cell("A3", "salt"), number("B3", 0, "10"));
    let water = format!("<row r=\"4\">{}<c r=\"B4\"><f>B2*0.66</f></c></row>", cell("A4", "water"));
    let kept = format!(
        "<row r=\"5\">{}<c r=\"B5\"><f>B2*0.01</f><v>5</v></c></row>",
        cell("A5", "fresh yeast")
    );
    let total =
        format!("<row r=\"6\">{}<c r=\"B6\"><f>SUM(B2:B5)</f></c></row>", cell("A6", "Total"));
    let sheet = [head, flour, salt, water, kept, total].concat();
    fs::write(at.join("f.xlsx"), xlsx(&sheet)).expect("written");
    let done = assize(at, &["read", "f.xlsx", "--to", "-"]);
    let said = out(&done);
    for wanted in [
        "its cell holds a formula without a value, `=B2*0.66`",
        "fresh yeast",
        "5 g",
        "=SUM(B2:B5)",
    ] {
        assert!(said.contains(wanted), "{wanted}: {said}{}", err(&done));
    }
    assert!(!said.contains("made beforehand"), "{said}");
}

/// One sheet may be listed many times, so that a small file is much work.
#[test]
fn a_workbook_of_too_many_sheets_is_refused() {
    let folder = folder();
    let at = folder.path();
    let rows = |count: u32| -> String {
        (0..count)
            .flat_map(|block| LOAF.iter().zip(1..).map(move |(line, own)| (block * 3 + own, line)))
            .map(|(number, (name, amount))| {
                row(
                    number,
                    &[("A", *name), ("B", *amount)]
                        .map(|(column, words)| (format!("{column}{number}"), words))
                        .each_ref()
                        .map(|(place, words)| (place.as_str(), *words)),
                )
            })
            .collect()
    };
    for (times, blocks, wanted) in [
        (251, 1, Some("it has 251 sheets")),
        (20_000, 1, Some("it has 20000 sheets")),
        (250, 300, Some("it has more than 200000 cells")),
        (40, 1, None),
    ] {
        fs::write(at.join("s.xlsx"), listed(&rows(blocks), "", times)).expect("written");
        let done = assize(at, &["read", "s.xlsx", "--dry-run"]);
        let said = format!("{}{}", out(&done), err(&done)).replace('│', " ");
        let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
        match wanted {
            Some(wanted) => {
                assert_eq!(done.status.code(), Some(1), "{said:.500}");
                assert!(said.contains(wanted), "{said:.500}");
            }
            None => assert!(!said.contains("sheets") && !said.contains("cells"), "{said:.500}"),
        }
    }
}

/// What a program of tables keeps as a day is no amount: `3.5` becomes the third of May.
#[test]
fn a_day_is_no_weight() {
    let folder = folder();
    let at = folder.path();
    let styles = "<cellXfs count=\"2\"><xf numFmtId=\"0\"/><xf numFmtId=\"14\"/></cellXfs>";
    let rows = [("bread flour", "500", 0), ("water", "350", 0), ("fresh yeast", "45415", 1)];
    let below = rows.iter().zip(2_u32..).map(|((name, value, style), at)| {
        let name = cell(&format!("A{at}"), name);
        format!("<row r=\"{at}\">{name}<c r=\"B{at}\" s=\"{style}\"><v>{value}</v></c></row>")
    });
    let table = row(1, &[("A1", "Ingredient"), ("B1", "Weight")]) + &below.collect::<String>();
    fs::write(at.join("d.xlsx"), styled(&table, styles)).expect("written");
    let done = assize(at, &["read", "d.xlsx", "--to", "-"]);
    let said = out(&done);
    assert!(!said.contains("45415") && said.contains("2024-05-03"), "{said}");
    assert!(said.contains("# decide") && said.contains("500 g"), "{said}");
}
