//! `unknown-picture`: a picture of a kind that can't be printed.

use crate::diag::{Finding, Group, Level, Rule};
use crate::print::look::Unfit;
use crate::source::Span;

/// `unknown-picture`, a warning about booklets.
pub const RULE: Rule = Rule {
    name: "unknown-picture",
    level: Level::Warning,
    group: Group::Prints,
    page: include_str!("unknown_picture.md"),
};

/// A file that is neither drawn nor made of dots, by its name.
pub fn finding(span: Span, file: &str) -> Finding {
    Finding::new(&RULE, span, format!("`{file}` is neither an SVG nor a PNG file"))
        .help("save the picture as SVG (drawn) or PNG (dots), and name that file here")
}

/// A file with the right ending that can't be printed.
pub fn unfit(span: Span, file: &str, unfit: &Unfit) -> Finding {
    let said = match unfit {
        Unfit::NotThat => format!("`{file}` does not hold the picture that its name promises"),
        Unfit::Pixels(width, height) => {
            format!("`{file}` has {width} × {height} pixels, and 16 million are the most")
        }
        Unfit::Damaged => format!("`{file}` is damaged, and not all of it can be drawn"),
        Unfit::Drawing | Unfit::Inside | Unfit::Effects => {
            format!("`{file}` holds something that can't be printed")
        }
    };
    Finding::new(&RULE, span, said)
        .help("the booklet leaves it out; save it again as SVG or PNG, smaller or plainer")
}

/// A picture of a manuscript that can't be set on a page.
pub fn of_a_book(span: Span, file: &str, unfit: &Unfit) -> Finding {
    let said = match unfit {
        Unfit::NotThat => format!("`{file}` is not a picture that can be printed"),
        Unfit::Pixels(width, height) => {
            format!("`{file}` has {width} × {height} pixels, and 64 million are the most")
        }
        Unfit::Damaged => format!("`{file}` is damaged, and not all of it can be drawn"),
        Unfit::Drawing | Unfit::Inside | Unfit::Effects => {
            format!("`{file}` holds something that can't be printed")
        }
    };
    Finding::new(&RULE, span, said)
        .help("its words are printed instead; save it as PNG, JPEG, GIF, WebP or SVG")
}
