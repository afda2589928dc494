//! `unknown-logo`: a logo of a kind that can't be printed.

use crate::diag::{Finding, Group, Level, Rule};
use crate::formula::Setting;
use crate::print::look::Unfit;

/// A logo that is no picture we can read.
pub const RULE: Rule = Rule {
    name: "unknown-logo",
    level: Level::Warning,
    group: Group::Prints,
    page: include_str!("unknown_logo.md"),
};

/// The finding for the logo of a house.
pub fn finding(logo: &Setting) -> Finding {
    let message = format!("`{}` is neither an SVG nor a PNG file", logo.value);
    Finding::new(&RULE, logo.span, message)
        .help("save the picture as SVG (drawn) or PNG (dots), and name that file here")
}

/// A file with the right ending that can't be printed.
pub fn unfit(logo: &Setting, unfit: &Unfit) -> Finding {
    let file = &logo.value;
    let (message, help) = match unfit {
        Unfit::NotThat => (
            format!("`{file}` does not hold the picture that its name promises"),
            "the prints leave it out; save it again as SVG or PNG",
        ),
        Unfit::Pixels(width, height) => (
            format!("`{file}` has {width} × {height} pixels, and 16 million are the most"),
            "the prints leave it out; 1000 pixels across are plenty for a logo",
        ),
        Unfit::Drawing => (
            format!("`{file}` is drawn with more than can be printed"),
            "the prints leave it out; make the drawing simpler: below 2 MB, and no more than 100 \
             groups inside each other",
        ),
        Unfit::Damaged => (
            format!("`{file}` is damaged, and not all of it can be drawn"),
            "the prints leave it out; save it again as SVG or PNG",
        ),
        Unfit::Effects => (
            format!("`{file}` has effects or scripts in it, which are not printed"),
            "the prints leave it out; save it without effects such as shadows, or as PNG",
        ),
        Unfit::Inside => (
            format!("`{file}` holds a photograph that is too large, or something that is not read"),
            "the prints leave it out; save the drawing without photographs, or all of it as PNG",
        ),
    };
    Finding::new(&RULE, logo.span, message).help(help)
}
