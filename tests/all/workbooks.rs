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
    let relations = |kind: &str, target: &str| {
        format!(
            "<?xml version=\"1.0\"?><Relationships xmlns=\"{OPEN}/package/2006/relationships\"><Relationship \
             Id=\"rId1\" Type=\"{OPEN}/officeDocument/2006/relationships/{kind}\" \
             Target=\"{target}\"/></Relationships>"
        )
    };
    let workbook = format!(
        "<?xml version=\"1.0\"?><workbook xmlns=\"{OPEN}/spreadsheetml/2006/main\" \
         xmlns:r=\"{OPEN}/officeDocument/2006/relationships\"><sheets><sheet name=\"Loaf\" sheetId=\"1\" \
         r:id=\"rId1\"/></sheets></workbook>"
    );
    let sheet = format!(
        "<?xml version=\"1.0\"?><worksheet xmlns=\"{OPEN}/spreadsheetml/2006/main\"><sheetData>{sheet}\
         </sheetData></worksheet>"
    );
    packed(&[
        ("_rels/.rels", &relations("officeDocument", "xl/workbook.xml")),
        ("xl/workbook.xml", &workbook),
        ("xl/_rels/workbook.xml.rels", &relations("worksheet", "worksheets/sheet1.xml")),
        ("xl/worksheets/sheet1.xml", &sheet),
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
