//! `assize print`: cards, sheets and tables as files, or as one book.

#![allow(
    clippy::disallowed_types,
    reason = "places, colours and resolutions on paper are no weights"
)]

use super::args::{CopyKind, Print, PrintFormat, PrintKind};
use super::asked::{NO_FORMULA, loaded, makes, paths_and_names, two_of_a_name};
use super::exit::{Exit, exit_of};
use super::past;
use super::press::{Press, SECONDS};
use super::progress::Progress;
use super::stamps::Stamps;
use super::tell::{tell_on_error, usage};
use super::{day, streams, write};
use crate::desk::booklets::{self, BookletPlace};
use crate::desk::handouts;
use crate::desk::{self, Bakehouse, Disk, LoadedFile, glyph_missing, guarded_at, unwritable};
use crate::diag::{self, Finding, Level, nearest};
use crate::history::stamp::{PrintRequest, Stamper, asked_copy};
use crate::print::assets::TEMPLATES;
use crate::print::booklet::{self, BookletDocument, BookletPart, Copy, Maker, Terms};
use crate::print::document::Document;
use crate::print::pages::{self, BookPart, Format};
use crate::print::wording::{self, CATALOGUES};
use crate::print::{Wording, book, document, html, in_two, json, parallel};
use crate::source::SourceId;
use crate::syntax::booklet::{Booklet, FormulaYield};
use crate::syntax::is_of_identifier;
use crate::syntax::tree::{Formula, Makes};
use clap::ValueEnum;
use std::borrow::Cow;
use std::path::Path;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Formulas after which older pages are forgotten.
const FORGET_AFTER: usize = 8;

/// The most prints of one book: each takes a few of the file numbers that typst has.
const MAX_PRINTS_OF_A_BOOK: usize = 5000;

/// The file of a book, in its folder.
const BOOK: &str = "book.pdf";

/// `assize print`.
pub fn run(args: &Print) -> Exit {
    if let Some(folder) = &args.export_templates {
        if prints_something(args) {
            return usage(
                "`--export-templates` writes templates and prints nothing; leave the rest out",
            );
        }
        if folder.as_os_str() == "-" {
            return usage("templates are several files: name a folder to write them to");
        }
        return export(folder);
    }
    if args.dpi.is_some() && args.format != PrintFormat::Png {
        return usage("`--dpi` is for `--format png`");
    }
    if args.one && args.format != PrintFormat::Pdf {
        return usage("`--one` makes one PDF; leave out `--format`");
    }
    if args.archive && args.format != PrintFormat::Pdf {
        return usage("`--archive` is for PDF; leave out `--format`");
    }
    if args.template_seconds.is_some() && args.format == PrintFormat::Html {
        return usage("no template sets a page for a browser; leave out `--template-seconds`");
    }
    let makes = match makes(args.makes.as_deref()) {
        Ok(makes) => makes,
        Err(exit) => return exit,
    };
    let (paths, names) = paths_and_names(&args.what);
    let mut loaded = match loaded(&paths) {
        Ok(loaded) => loaded,
        Err(exit) => return exit,
    };
    let table = args.given.orders.as_deref().map(|path| day::table(path, &mut loaded));
    let table = match table.transpose() {
        Ok(table) => table,
        Err(exit) => return exit,
    };
    loaded.sources.replace(SourceId::ASKED, args.makes.as_deref().unwrap_or_default());
    let bakehouses = desk::bakehouses(&loaded);
    let languages = match languages(args.language.as_deref(), &bakehouses) {
        Ok(languages) => languages,
        Err(exit) => return exit,
    };
    let of_days = day::are_days(&bakehouses, &names);
    if of_days && let Some(option) = of_booklets(args) {
        return usage(&format!("`{option}` is for booklets, and this is a day"));
    }
    let labels = [PrintKind::Batches, PrintKind::Packing];
    let has_labels = args.only.is_empty() || args.only.iter().any(|kind| labels.contains(kind));
    if args.label.is_some() && !has_labels {
        return usage(
            "`--label` is the size of labels: add `--only batches` or leave `--only` out",
        );
    }
    if of_days {
        return day::print(args, &loaded, &bakehouses, &names, table.as_ref());
    }
    if args.only.iter().any(|only| only.of_day().is_some()) {
        return usage("this is a print of a day: name one, as in `assize print saturday`");
    }
    if let Some(option) = args.given.first() {
        return usage(&format!("`{option}` is of a day: name one, as in `assize print saturday`"));
    }
    let mut wanted: Vec<(&Bakehouse, &LoadedFile, &Formula)> =
        desk::formulas(&bakehouses).collect();
    // Those that a yield or a kind of print is asked for are formulas.
    let takes_booklets = makes.is_none() && args.only.is_empty() && !args.one;
    let mut booklets: Vec<BookletPlace> =
        booklets::booklets(&bakehouses).filter(|_| takes_booklets).collect();
    if !names.is_empty() {
        let keys: Vec<_> = names.iter().map(|name| crate::formula::key(name)).collect();
        for (name, key) in names.iter().zip(&keys) {
            let formulas = wanted.iter().map(|(_, _, formula)| formula.name.key.as_str());
            let known = formulas.chain(booklets.iter().map(|(_, _, it)| it.name.key.as_str()));
            let known: Vec<&str> = known.collect();
            let is_booklet = |(_, _, it): BookletPlace| it.name.key == *key;
            if !takes_booklets && booklets::booklets(&bakehouses).any(is_booklet) {
                return usage(&not_of_a_booklet(args, name));
            }
            if !known.contains(&key.as_str())
                && day::are_days(&bakehouses, std::slice::from_ref(name))
            {
                return usage(&format!(
                    "`{name}` is a day, and a day is printed by itself: `assize print {name}`"
                ));
            }
            if !known.contains(&key.as_str()) {
                return usage(&match nearest(key, known) {
                    Some(near) => {
                        format!("there is no formula or booklet `{name}`; did you mean `{near}`?")
                    }
                    None => format!("there is no formula or booklet `{name}`"),
                });
            }
        }
        wanted.retain(|(_, _, formula)| keys.contains(&formula.name.key));
        booklets.retain(|(_, _, booklet)| keys.contains(&booklet.name.key));
    }
    if wanted.is_empty() && booklets.is_empty() && loaded.is_whole() {
        return usage(NO_FORMULA);
    }
    let prints_days = names.is_empty() && takes_booklets && bakehouses.iter().any(has_days);
    if let Some(wrong) = without_effect(args, booklets.is_empty(), prints_days) {
        return usage(&wrong);
    }
    wanted.sort_by(|one, two| one.2.name.key.cmp(&two.2.name.key));
    if let Some(pair) = wanted.windows(2).find(|pair| pair[0].2.name.key == pair[1].2.name.key) {
        let name = &pair[0].2.name.shown;
        return usage(&two_of_a_name(&loaded, name, pair[0].1, pair[1].1));
    }
    let kinds = kinds(&args.only);
    let of_class = args.only.iter().filter(|kind| kind.is_of_class()).count();
    if of_class > 0 && args.one {
        return usage("`--one` joins cards, sheets and tables; leave it out for other prints");
    }
    let copies = booklets.iter().map(|(_, _, it)| files_of(args, it)).sum::<usize>();
    let copies = copies + of_class * wanted.len();
    if args.is_to_output() && !args.one && wanted.len() * kinds.len() + copies > 1 {
        return usage("`--to -` takes a single print: name one formula and one of `--only`");
    }
    if args.one && wanted.len() * kinds.len() > MAX_PRINTS_OF_A_BOOK {
        return usage(&format!("a book holds {MAX_PRINTS_OF_A_BOOK} prints at most"));
    }
    if !args.is_to_output()
        && let Err(error) = std::fs::create_dir_all(&args.to)
    {
        let finding = unwritable::finding(&args.to.display().to_string(), &desk::why(&error));
        tell_on_error(&[finding], &loaded.sources);
        return Exit::Findings;
    }
    let mut findings: Vec<Finding> = loaded.findings.clone();
    findings.extend(loaded.asked_for().flat_map(|file| file.findings.clone()));
    let stamps = Stamps::new(&loaded, &bakehouses);
    let head = stamps.head();
    let houses: Vec<Printer> = bakehouses
        .iter()
        .enumerate()
        .filter(|(_, bakehouse)| {
            let mut of = wanted.iter().map(|(of, ..)| *of).chain(booklets.iter().map(|it| it.0));
            of.any(|of| std::ptr::eq(of, *bakehouse))
        })
        .map(|(place, bakehouse)| {
            let stamper = stamps.stamper(place, bakehouse, head.as_ref());
            Printer::new(args, &languages, bakehouse, stamper, &mut findings)
        })
        .collect();
    let jobs: Vec<(&Printer, &LoadedFile, &Formula)> = wanted
        .iter()
        .filter_map(|(bakehouse, file, formula)| {
            let printer =
                houses.iter().find(|printer| std::ptr::eq(printer.bakehouse, *bakehouse))?;
            Some((printer, *file, *formula))
        })
        .collect();
    let outcome = match args.one {
        true => print_book(args, &kinds, &jobs, makes.as_ref()),
        false => print_each(args, &kinds, &jobs, makes.as_ref()),
    };
    let of_formulas = args.only.iter().copied().filter(|kind| kind.is_of_class());
    let of_formulas = of_formulas.flat_map(|kind| jobs.iter().map(move |job| (kind, job)));
    let outcome = of_formulas
        .map(|(kind, (printer, file, formula))| {
            print_of_class(args, kind, (printer, file, formula), makes.as_ref())
        })
        .fold(outcome, Outcome::and);
    let of_booklets = booklets.iter().filter_map(|(bakehouse, file, booklet)| {
        let printer = houses.iter().find(|it| std::ptr::eq(it.bakehouse, *bakehouse))?;
        Some(print_booklet(args, printer, file, booklet))
    });
    let outcome = of_booklets.fold(outcome, Outcome::and);
    let takes_days = names.is_empty() && takes_booklets;
    let (of_days, late) = match takes_days && !args.is_to_output() {
        true => day::print_all(args, &loaded, &bakehouses),
        false => ((0, 0), Exit::Clean),
    };
    findings.extend(outcome.findings);
    diag::sort(&mut findings);
    findings.dedup_by(|one, two| {
        one.rule == two.rule && one.span() == two.span() && one.message == two.message
    });
    tell_on_error(&findings, &loaded.sources);
    if !args.is_to_output() {
        let (written, skipped) = (outcome.written + of_days.0, outcome.skipped + of_days.1);
        let plural = if written == 1 { "" } else { "s" };
        streams::sentence(&format!("{written} file{plural} in {}\n", streams::path(&args.to)));
        if skipped > 0 {
            streams::output(format!("{skipped} left out because of errors\n"));
        }
    }
    let left_out = if outcome.skipped > 0 { Exit::Findings } else { Exit::Clean };
    left_out.max(late).max(exit_of(&findings))
}

/// Whether something is asked for that is only of prints.
fn prints_something(args: &Print) -> bool {
    !args.what.is_empty()
        || !args.only.is_empty()
        || args.makes.is_some()
        || args.language.is_some()
        || args.dpi.is_some()
        || args.label.is_some()
        || args.template_seconds.is_some()
        || args.system_fonts
        || args.placings.is_some()
        || args.given.first().is_some()
        || of_booklets(args).is_some()
        || args.one
        || args.archive
        || args.volumes
        || args.format != PrintFormat::Pdf
}

/// An option that is given and only says something to booklets.
fn of_booklets(args: &Print) -> Option<&'static str> {
    let copy = (!args.copy.is_empty()).then_some("--copy");
    copy.or(args.large.then_some("--large"))
}

/// Whether a house has days, which are printed with all the rest.
fn has_days(bakehouse: &Bakehouse) -> bool {
    bakehouse.files.iter().any(|file| !file.tree.days.is_empty())
}

/// What is wrong with an option that would change none of these prints.
fn without_effect(args: &Print, no_booklets: bool, prints_days: bool) -> Option<String> {
    if let Some(option) = of_booklets(args).filter(|_| no_booklets) {
        return Some(format!("`{option}` is for booklets, and none is printed here"));
    }
    let of_days = args.label.map(|_| "--label").or(args.placings.map(|_| "--placings"));
    if let Some(option) = of_days.filter(|_| !prints_days) {
        return Some(format!("`{option}` is for days: name one, as in `assize print saturday`"));
    }
    let no_card = !args.only.is_empty() && !args.only.contains(&PrintKind::Card);
    if args.volumes && no_card {
        return Some("`--volumes` is for cards; leave it out, or add `--only card`".into());
    }
    None
}

/// A house with what its prints need.
struct Printer<'r, 'l> {
    bakehouse: &'r Bakehouse<'l>,
    stamper: Stamper<'r, 'l>,
    press: Press,
    words: Wording,
    /// What sheets say beside it, in a second language.
    second: Option<Wording>,
    logo: Option<Vec<u8>>,
}

impl<'r, 'l> Printer<'r, 'l> {
    fn new(
        args: &Print,
        languages: &[String],
        bakehouse: &'r Bakehouse<'l>,
        stamper: Stamper<'r, 'l>,
        findings: &mut Vec<Finding>,
    ) -> Self {
        let asked = languages.first().map(String::as_str);
        let (mut assets, words) = desk::assets(&Disk, bakehouse, asked, findings);
        let own = bakehouse.house.settings.second_language.as_ref();
        let second = match asked {
            Some(_) => languages.get(1).map(String::as_str),
            None => own.map(|language| &*language.value),
        };
        let second = second.filter(|tag| *tag != words.tag);
        let second = second.map(|tag| Wording::new(tag, None).0.with_numbers_of(&words));
        assets.system_fonts = args.system_fonts;
        let press = Press::new(&assets, args.template_seconds.unwrap_or(SECONDS));
        Self { bakehouse, stamper, press, words, second, logo: assets.logo }
    }

    /// What the prints of a formula say; nothing where errors forbid to print it.
    fn document(
        &self,
        args: &Print,
        file: &LoadedFile,
        formula: &'l Formula,
        makes: Option<&Makes>,
        findings: &mut Vec<Finding>,
    ) -> Option<Documents> {
        let (worked, told) = desk::worked(self.bakehouse, formula, makes);
        let sound = desk::is_sound(file, formula, &told);
        findings.extend(told);
        if !sound {
            return None;
        }
        let volumes = args.volumes || self.bakehouse.house.settings.volumes;
        let in_words = |words| document(&self.bakehouse.house, &worked, words, volumes);
        let mut first = in_words(&self.words);
        if self.logo.is_none() {
            first.house.logo = None;
        }
        let second = self.second.as_ref();
        let both = second.and_then(|words| in_two(&first, &in_words(words)).ok());
        Some(Documents { first, both })
    }

    /// The document as one of its prints has it: with its revision and its code in the foot.
    fn stamped(
        &self,
        args: &Print,
        kind: pages::Print,
        formula: &'l Formula,
        documents: &Documents,
    ) -> Document {
        let document = documents.of(kind);
        let volumes = args.volumes || self.bakehouse.house.settings.volumes;
        let makes = match &args.makes {
            Some(_) => self.stamper.makes(formula, document),
            None => String::new(),
        };
        let (language, makes) = (&*self.tag(kind), makes.as_str());
        let wanted = PrintRequest {
            print: kind.word(),
            language,
            volumes,
            makes,
            ..PrintRequest::default()
        };
        let trace = Some(self.stamper.stamp(formula, &self.stamper.settings(wanted)));
        Document { trace, ..document.clone() }
    }

    /// Puts into the prints of a booklet where each of them came from.
    fn stamp_inside(&self, maker: &Maker, document: &mut BookletDocument) {
        let files = self.bakehouse.files.iter();
        let formulas: Vec<&Formula> = files.flat_map(|file| &file.tree.formulas).collect();
        for part in &mut document.parts {
            let BookletPart::Print { print, document: own } = part else { continue };
            let Some(formula) = formulas.iter().find(|it| *it.name.shown == own.name) else {
                continue;
            };
            let makes = self.stamper.makes(formula, own);
            let (language, volumes) = (document.language.as_str(), maker.volumes);
            let wanted =
                PrintRequest { print, language, volumes, makes: &makes, ..PrintRequest::default() };
            let settings = self.stamper.settings_in(&maker.house.settings, wanted);
            own.trace = Some(self.stamper.stamp(formula, &settings));
        }
    }

    /// The languages of a kind of print: `fr`, `fr and de`.
    fn tag(&self, kind: pages::Print) -> Cow<'_, str> {
        match &self.second {
            Some(second) if kind == pages::Print::Sheet => {
                format!("{} and {}", self.words.tag, second.tag).into()
            }
            _ => self.words.tag.as_str().into(),
        }
    }

    /// Tells of letters that no font has.
    fn tell_missing(&self, documents: &Documents, findings: &mut Vec<Finding>) {
        let all = documents.both.as_ref().unwrap_or(&documents.first);
        let missing = self.press.missing_letters(&json(all));
        if !missing.is_empty() {
            findings.push(glyph_missing::finding(&all.title, &missing));
        }
    }
}

/// What the prints of one formula say.
struct Documents {
    /// In the first language.
    first: Document,
    /// In two, for sheets, where a house has a second.
    both: Option<Document>,
}

impl Documents {
    /// What one kind of print says.
    fn of(&self, kind: pages::Print) -> &Document {
        match kind {
            pages::Print::Sheet => self.both.as_ref().unwrap_or(&self.first),
            _ => &self.first,
        }
    }
}

/// What came of one formula, or of all.
#[derive(Default)]
struct Outcome {
    findings: Vec<Finding>,
    written: usize,
    skipped: usize,
}

impl Outcome {
    fn and(mut self, other: Self) -> Self {
        self.findings.extend(other.findings);
        self.written += other.written;
        self.skipped += other.skipped;
        self
    }

    /// Of a formula at which our own code failed.
    fn of_bug(bug: Finding) -> Self {
        Self { findings: vec![bug], written: 0, skipped: 1 }
    }

    fn written(&mut self, result: Result<usize, Box<Finding>>) {
        match result {
            Ok(files) => self.written += files,
            Err(finding) => {
                self.findings.push(*finding);
                self.skipped += 1;
            }
        }
    }
}

/// Each print as a file of its own.
fn print_each<'l>(
    args: &Print,
    kinds: &[pages::Print],
    jobs: &[(&Printer<'_, 'l>, &LoadedFile, &'l Formula)],
    makes: Option<&Makes>,
) -> Outcome {
    let progress = Progress::new(jobs.len());
    let done = AtomicUsize::new(0);
    let outcomes = parallel::each(jobs, |(printer, file, formula)| {
        let outcome = guarded_at(formula.name.span, &formula.name.shown, || {
            let mut outcome = Outcome::default();
            match printer.document(args, file, formula, makes, &mut outcome.findings) {
                None => outcome.skipped += 1,
                Some(documents) => {
                    if args.format != PrintFormat::Html {
                        printer.tell_missing(&documents, &mut outcome.findings);
                    }
                    for kind in kinds {
                        let document = printer.stamped(args, *kind, formula, &documents);
                        outcome.written(print_one(args, *kind, printer, &document));
                    }
                }
            }
            outcome
        });
        let outcome = outcome.unwrap_or_else(|bug| Outcome::of_bug(*bug));
        if done.fetch_add(1, Ordering::Relaxed) % FORGET_AFTER == FORGET_AFTER - 1 {
            pages::forget();
        }
        progress.one_more();
        outcome
    });
    progress.done();
    outcomes.into_iter().fold(Outcome::default(), Outcome::and)
}

fn print_one(
    args: &Print,
    kind: pages::Print,
    printer: &Printer,
    document: &Document,
) -> Result<usize, Box<Finding>> {
    let (format, ending) = match args.format {
        PrintFormat::Pdf => (Format::Pdf { archive: args.archive }, "pdf"),
        PrintFormat::Svg => (Format::Svg, "svg"),
        PrintFormat::Png => (Format::Png(args.dots()), "png"),
        PrintFormat::Html => {
            let page = html::page(document, kind, printer.logo.as_deref());
            return write::put(args, &file_name(document, kind), "html", &[page.into_bytes()]);
        }
    };
    let stem = file_name(document, kind);
    let files = printer
        .press
        .print(kind, json(document), format)
        .map_err(|why| Box::new(printer.press.slip(&format!("{stem}.{ending}"), &why)))?;
    write::put(args, &stem, ending, &files)
}

/// The copies of a booklet that are asked for.
fn copies(args: &Print, booklet: &Booklet) -> Vec<Copy> {
    let is_asked = |copy: &Copy| match copy {
        Copy::All => args.copy.is_empty(),
        Copy::Learner => args.copy.is_empty() || args.copy.contains(&CopyKind::Learner),
        Copy::Teacher => args.copy.is_empty() || args.copy.contains(&CopyKind::Teacher),
    };
    // One document for all is parted where a copy is asked for: the learner's has no key.
    let all = match Copy::of(booklet).as_slice() {
        [Copy::All] if !args.copy.is_empty() => vec![Copy::Learner, Copy::Teacher],
        own => own.to_vec(),
    };
    all.into_iter().filter(is_asked).collect()
}

/// Why a booklet isn't printed that was asked for by its name.
fn not_of_a_booklet(args: &Print, name: &str) -> String {
    let option = if args.one {
        "--one"
    } else if args.makes.is_some() {
        "--makes"
    } else {
        "--only"
    };
    format!(
        "`{name}` is a booklet, which prints whole; leave out `{option}`, which is for formulas"
    )
}

/// A worksheet, its key, a reckoner or a shopping list of one formula.
fn print_of_class<'l>(
    args: &Print,
    kind: PrintKind,
    (printer, file, formula): (&Printer<'_, 'l>, &'l LoadedFile, &'l Formula),
    makes: Option<&Makes>,
) -> Outcome {
    let guarded = guarded_at(formula.name.span, &formula.name.shown, || {
        let mut outcome = Outcome::default();
        let bakehouse = printer.bakehouse;
        let (worked, told) = desk::worked(bakehouse, formula, makes);
        let sound = desk::is_sound(file, formula, &told);
        outcome.findings.extend(told);
        if !sound {
            outcome.skipped += 1;
            return outcome;
        }
        let word = kind.to_possible_value().map_or_else(String::new, |it| it.get_name().to_owned());
        let booklet = Booklet::of_one(formula, &word, makes);
        let volumes = args.volumes || bakehouse.house.settings.volumes;
        let terms = Terms::new();
        let mut maker = Maker::new(&bakehouse.house, &printer.words, &booklet, &terms);
        maker.volumes = volumes;
        let copy = if kind == PrintKind::Answers { Copy::Teacher } else { Copy::Learner };
        let mut document = BookletDocument { copy: None, ..maker.document(copy, 1, args.large) };
        let asked = makes.map(|_| {
            let document =
                crate::print::document(&bakehouse.house, &worked, &Wording::plain(), false);
            printer.stamper.makes(formula, &document)
        });
        let asked = asked.unwrap_or_default();
        let settings = printer.stamper.settings(PrintRequest {
            print: &word,
            of: "",
            language: &printer.words.tag,
            volumes,
            makes: &asked,
            asked: &asked_copy(Copy::All, 1, args.large),
        });
        document.trace = Some(printer.stamper.stamp(formula, &settings));
        if printer.logo.is_none() {
            document.house.logo = None;
        }
        outcome.findings.extend(maker.findings.take());
        if document.parts.is_empty() {
            outcome.skipped += 1;
            return outcome;
        }
        let result =
            print_copy(args, printer, &document, (Copy::All, 1), &[], &mut outcome.findings);
        outcome.written(result);
        outcome
    });
    guarded.unwrap_or_else(|bug| Outcome::of_bug(*bug))
}

/// How many documents a booklet comes to.
fn files_of(args: &Print, booklet: &Booklet) -> usize {
    let seats = booklet.variants.map_or(1, |(seats, _)| seats as usize);
    let of_copy = |copy: &Copy| if *copy == Copy::Teacher { 1 } else { seats };
    copies(args, booklet).iter().map(of_copy).sum()
}

/// Every copy of a booklet, each as a file of its own.
fn print_booklet<'l>(
    args: &Print,
    printer: &Printer<'_, 'l>,
    file: &'l LoadedFile,
    booklet: &'l Booklet,
) -> Outcome {
    let outcome = guarded_at(booklet.name.span, &booklet.name.shown, || {
        let mut outcome = Outcome::default();
        let bakehouse = printer.bakehouse;
        if !handouts::may_print(bakehouse, file, booklet, &mut outcome.findings) {
            outcome.skipped += 1;
            return outcome;
        }
        let own = Some(&printer.words);
        let (house, words) = booklets::house_and_words(bakehouse, booklet, own);
        // What the command line asks for goes before what the booklet says.
        let words = if args.language.is_some() { printer.words.clone() } else { words };
        let terms = desk::terms::terms(&words);
        let mut found = Vec::new();
        let place = (bakehouse.root.as_deref(), file.path.as_path());
        let pictures = booklets::pictures(&Disk, place, booklet, &mut found);
        let mut denied = Vec::new();
        let of = (bakehouse, file.path.as_path());
        booklets::letters_of_pictures(&Disk, of, booklet, &mut denied);
        if !denied.is_empty() {
            outcome.findings.extend(denied);
            outcome.skipped += 1;
            return outcome;
        }
        let past = |revision: &str, of: &FormulaYield| {
            let volumes = args.volumes || house.settings.volumes;
            past::past(bakehouse, (booklet, &words, volumes), revision, of)
        };
        for copy in copies(args, booklet) {
            let mut maker = Maker::new(&house, &words, booklet, &terms);
            maker.volumes = args.volumes || house.settings.volumes;
            maker.past = Some(&past);
            // The teacher's copy has the keys of all seats.
            let seats = if copy == Copy::Teacher { 1 } else { maker.seats() };
            for seat in 1..=seats {
                let mut document = maker.document(copy, seat, args.large);
                let told = maker.findings.take();
                if told.iter().any(|it| it.level == Level::Error) {
                    found.extend(told.into_iter().filter(|it| it.level == Level::Error));
                    outcome.skipped += 1;
                    continue;
                }
                let wanted = PrintRequest {
                    print: "booklet",
                    of: &booklet.name.key,
                    language: &words.tag,
                    volumes: maker.volumes,
                    makes: "",
                    asked: &asked_copy(copy, seat, args.large),
                };
                let settings = printer.stamper.settings_in(&house.settings, wanted);
                document.trace = printer.stamper.stamp_handout(&booklet.name.key, &settings);
                printer.stamp_inside(&maker, &mut document);
                if printer.logo.is_none() {
                    document.house.logo = None;
                }
                let which = (copy, seat);
                let result = print_copy(args, printer, &document, which, &pictures, &mut found);
                outcome.written(result);
            }
        }
        outcome.findings.extend(found);
        outcome
    });
    outcome.unwrap_or_else(|bug| Outcome::of_bug(*bug))
}

fn print_copy(
    args: &Print,
    printer: &Printer,
    document: &BookletDocument,
    (copy, seat): (Copy, u32),
    pictures: &[(String, Vec<u8>)],
    findings: &mut Vec<Finding>,
) -> Result<usize, Box<Finding>> {
    let stem = match copy {
        Copy::Teacher => format!("{}-teacher", safe_name(&document.name)),
        Copy::All | Copy::Learner if seat > 1 => {
            format!("{}-seat-{seat}", safe_name(&document.name))
        }
        Copy::All | Copy::Learner => safe_name(&document.name),
    };
    let (format, ending) = match args.format {
        PrintFormat::Pdf => (Format::Pdf { archive: args.archive }, "pdf"),
        PrintFormat::Svg => (Format::Svg, "svg"),
        PrintFormat::Png => (Format::Png(args.dots()), "png"),
        PrintFormat::Html => {
            let page = html::booklet_page(document, pictures);
            return write::put(args, &stem, "html", &[page.into_bytes()]);
        }
    };
    let known: Vec<String> = pictures.iter().map(|(name, _)| name.clone()).collect();
    let (json, parts) = booklet::pages_json(document, &known);
    let missing = printer.press.missing_letters(&booklet::booklet_json(document));
    if !missing.is_empty() {
        findings.push(glyph_missing::finding(&document.title, &missing));
    }
    let files = printer
        .press
        .booklet(json, parts, pictures, format)
        .map_err(|why| Box::new(printer.press.slip(&format!("{stem}.{ending}"), &why)))?;
    write::put(args, &stem, ending, &files)
}

/// All prints in one PDF, behind their contents.
fn print_book<'l>(
    args: &Print,
    kinds: &[pages::Print],
    jobs: &[(&Printer<'_, 'l>, &LoadedFile, &'l Formula)],
    makes: Option<&Makes>,
) -> Outcome {
    let mut outcome = Outcome::default();
    let mut contents = Vec::new();
    let mut parts = Vec::new();
    let progress = Progress::new(jobs.len());
    for (printer, file, formula) in jobs {
        progress.one_more();
        let document = guarded_at(formula.name.span, &formula.name.shown, || {
            let mut findings = Vec::new();
            (printer.document(args, file, formula, makes, &mut findings), findings)
        });
        let (document, findings) = document.unwrap_or_else(|bug| (None, vec![*bug]));
        outcome.findings.extend(findings);
        match document {
            None => outcome.skipped += 1,
            Some(documents) => {
                printer.tell_missing(&documents, &mut outcome.findings);
                let part = |print: &pages::Print| {
                    let stamped = printer.stamped(args, *print, formula, &documents);
                    BookPart { print: *print, json: crate::print::json(&stamped) }
                };
                parts.extend(kinds.iter().map(part));
                contents.push(documents.first);
            }
        }
    }
    // The look of a book is that of the first formula's house.
    let Some((printer, ..)) = jobs.first().filter(|_| !parts.is_empty()) else { return outcome };
    progress.one_long(parts.len());
    let book = printer.press.book(book::json(&contents, kinds), parts, args.archive);
    let result = book
        .map_err(|why| Box::new(printer.press.slip(BOOK, &why)))
        .and_then(|bytes| write::put(args, "book", "pdf", &[bytes]));
    progress.done();
    outcome.written(result);
    outcome
}

/// The languages that `--language` asks for: one, or two for sheets.
///
/// # Errors
/// A language of which nothing here knows the words.
pub fn languages(asked: Option<&str>, bakehouses: &[Bakehouse]) -> Result<Vec<String>, Exit> {
    let Some(asked) = asked else { return Ok(vec![]) };
    let own = |tag: &str| {
        let languages = bakehouses.iter().filter_map(|it| it.house.settings.language.as_ref());
        languages.into_iter().any(|own| own.value.eq_ignore_ascii_case(tag))
    };
    let words = asked.split([' ', ',']).filter(|word| !word.is_empty() && *word != "and");
    let tags: Vec<String> = words.map(str::to_owned).collect();
    let unknown = tags.iter().find(|tag| !wording::is_known(tag) && !own(tag));
    match unknown {
        None if (1..=2).contains(&tags.len()) => Ok(tags),
        None => Err(usage("`--language` takes one language, or two: \"fr and de\"")),
        Some(tag) => {
            let known = CATALOGUES.map(|(language, ..)| language).join(", ");
            Err(usage(&format!("there are no words for `{tag}` here; there are: {known}")))
        }
    }
}

fn kinds(only: &[PrintKind]) -> Vec<pages::Print> {
    let kind = |kind: &PrintKind| match kind {
        PrintKind::Card => Some(pages::Print::Card),
        PrintKind::Sheet => Some(pages::Print::Sheet),
        PrintKind::Table => Some(pages::Print::Table),
        _ => None,
    };
    match only {
        [] => pages::Print::ALL.to_vec(),
        some => some.iter().filter_map(kind).collect(),
    }
}

/// A formula's name as the name of a file, whatever it holds, and the print.
fn file_name(document: &Document, kind: pages::Print) -> String {
    format!("{}-{}", safe_name(&document.name), kind.word())
}

fn safe_name(name: &str) -> String {
    // Whatever tells two names apart is kept.
    let safe = |letter: char| if is_of_identifier(letter) { letter } else { '-' };
    name.chars().map(safe).collect()
}

/// Writes our templates and words into a folder, for a house to change.
fn export(folder: &Path) -> Exit {
    let schema = crate::print::schema() + "\n";
    let plan_schema = crate::print::plan_schema() + "\n";
    let day_schema = crate::print::day_schema() + "\n";
    let words = CATALOGUES.map(|(language, words, _)| (format!("words/{language}.ftl"), words));
    let templates = TEMPLATES.into_iter().map(|(name, text)| (name.to_owned(), text));
    let files: Vec<(String, &str)> = templates
        .chain(words)
        .chain([
            ("document.schema.json".to_owned(), schema.as_str()),
            ("plan.schema.json".to_owned(), plan_schema.as_str()),
            ("day.schema.json".to_owned(), day_schema.as_str()),
        ])
        .collect();
    let there = files.iter().find(|(name, _)| folder.join(name).exists());
    if let Some((name, _)) = there {
        return usage(&format!("{} is there already", folder.join(name).display()));
    }
    let written = std::fs::create_dir_all(folder.join("words")).map_err(|error| {
        Box::new(unwritable::finding(&folder.display().to_string(), &desk::why(&error)))
    });
    let written = written.and_then(|()| {
        files.iter().try_for_each(|(name, text)| write::made(&folder.join(name), text.as_bytes()))
    });
    match written {
        Ok(()) => {
            streams::sentence(&format!("{} files in {}\n", files.len(), streams::path(folder)))
        }
        Err(finding) => {
            tell_on_error(&[*finding], &desk::sources(""));
            Exit::Findings
        }
    }
}

impl Print {
    /// Dots an inch of pictures.
    pub fn dots(&self) -> f32 {
        const USUAL: u16 = 144;
        f32::from(self.dpi.unwrap_or(USUAL))
    }
}
