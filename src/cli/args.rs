//! The command line. Help is the doc comment of each part.

use crate::print::day_document::DayLabel;
use clap::{Parser, Subcommand, ValueEnum};
use std::ffi::OsString;
use std::path::PathBuf;

/// Bread formulas as source code: checked exactly, scaled, and printed.
#[derive(Debug, Parser)]
#[command(
    name = "assize",
    version,
    max_term_width = 96,
    after_help = "\
Exit codes: 0 clean; 1 findings of error level, or a file that can't be read or written; \
2 a mistake on the command line or a missing path; 3 a bug of ours."
)]
pub struct Args {
    /// What is to be done.
    #[command(subcommand)]
    pub command: Command,
}

/// The commands, each of which exists when it works.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Write a small bakehouse that checks clean and prints.
    New(New),
    /// Report everything that is wrong in every file.
    Check(Check),
    /// Turn recipes that exist in other forms into formulas.
    Read(Read),
    /// Write a manuscript with its formulas as tables and its figures worked out.
    Weave(Weave),
    /// Show a formula worked out, in the terminal.
    Show(Show),
    /// Say how a figure came about, down to the lines that were written.
    Why(Why),
    /// Print recipe cards, batch sheets and formula tables.
    Print(Print),
    /// Plan a formula by the clock, so that the bread is ready when it has to be.
    Plan(Plan),
    /// Plan a production day: orders to batches, builds, mixers, ovens and hands.
    Day(Day),
    /// Say what changed in meaning between two files, folders, formulas or git revisions.
    Diff(Diff),
    /// Show how a formula changed, commit by commit.
    History(History),
    /// Find the formula and the revision that a code on a print belongs to.
    Trace(Trace),
    /// Let git itself compare and merge formulas by what they say, in this repository.
    GitSetup(GitSetup),
    /// Write a file as plain text, a line for each thing it says; git calls this to compare.
    GitText(GitText),
    /// Bring two edits of a file together; git calls this to merge.
    GitMerge(GitMerge),
    /// Say which formulas use a thing, or what a formula rests on.
    Uses(Uses),
    /// Explain a name: a word of the language, a figure, an ingredient, a style, a finding.
    Explain(Explain),
    /// Format files in the canonical layout; comments and meaning stay.
    Fmt(Fmt),
    /// Set pages for another process of this binary.
    #[command(name = super::press::COMMAND, hide = true)]
    SetApart(SetApart),
}

/// What a child that sets pages is told.
#[derive(Debug, clap::Args)]
pub struct SetApart {
    /// Seconds that a print may take.
    pub seconds: u64,
}

/// `assize new`.
#[derive(Debug, clap::Args)]
pub struct New {
    /// The folder to write; it must not hold anything yet.
    pub dir: PathBuf,
}

/// `assize read`.
#[derive(Debug, clap::Args)]
pub struct Read {
    /// Lists in plain text or Markdown, CSV, `.xlsx` and `.ods`, schema.org JSON-LD, saved
    /// pages, or folders of such.
    #[arg(required = true, value_name = "FILE")]
    pub files: Vec<PathBuf>,
    /// The folder to write the formulas to, or `-`.
    #[arg(long, value_name = "DIR", default_value = ".")]
    pub to: PathBuf,
    /// What every starter in them is made of: a culture of the stores.
    #[arg(long, value_name = "CULTURE")]
    pub culture: Option<String>,
    /// Write percentages of all flour in place of weights.
    #[arg(long)]
    pub percent: bool,
    /// The language that they are written in, such as `fr`; else it is told by their words.
    #[arg(long, value_name = "TAG", value_parser = a_language)]
    pub language: Option<String>,
    /// Write no file: show the formulas.
    #[arg(long, conflicts_with = "to")]
    pub dry_run: bool,
}

/// A language whose words are known.
fn a_label(text: &str) -> Result<DayLabel, String> {
    DayLabel::read(text)
        .ok_or_else(|| "write width and height in millimetres, such as 70x37".to_owned())
}

fn a_language(tag: &str) -> Result<String, String> {
    let own = tag.split(['-', '_']).next().unwrap_or_default().to_lowercase();
    match ["en", "fr", "de", "es", "it"].contains(&own.as_str()) {
        true => Ok(tag.to_owned()),
        false => Err("recipes are read in en, fr, de, es and it".to_owned()),
    }
}

/// `assize weave`.
#[derive(Debug, clap::Args)]
pub struct Weave {
    /// Manuscripts in Markdown, or folders; without one, the bakehouse that the current folder
    /// is in.
    pub paths: Vec<PathBuf>,
    /// The folder to write to, or `-`.
    #[arg(long, value_name = "DIR", default_value = "woven")]
    pub to: PathBuf,
    /// What is written: Markdown for other tools, pages for a browser, or one book on paper.
    #[arg(long, value_enum, default_value_t = WovenFormat::Markdown)]
    pub format: WovenFormat,
    /// What stands for a block that says nothing else: a table in Markdown, a card on a page.
    #[arg(long, value_enum)]
    pub blocks: Option<WovenBlocks>,
    /// The language of tables and figures, such as `fr`.
    #[arg(long, value_name = "TAG")]
    pub language: Option<String>,
    /// The units of tables and figures, in place of the house's.
    #[arg(long, value_enum)]
    pub units: Option<WovenUnits>,
    /// How long a book set with the bakehouse's own templates or fonts may take, in seconds: 120
    /// unless said otherwise.
    #[arg(long, value_name = "SECONDS",
          value_parser = clap::value_parser!(u64).range(1..=3600))]
    pub template_seconds: Option<u64>,
}

/// The units of a woven book.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum WovenUnits {
    /// Grams and degrees Celsius.
    #[value(name = "metric")]
    Metric,
    /// Ounces and degrees Fahrenheit.
    #[value(name = "US")]
    Us,
    /// Metric ones, and those of the US beside them.
    #[value(name = "metric and US")]
    MetricAndUs,
    /// Those of the US, and metric ones beside them.
    #[value(name = "US and metric")]
    UsAndMetric,
}

/// What a woven book is written as.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum WovenFormat {
    /// For whatever sets it afterwards.
    Markdown,
    /// A page for a browser, with its pictures in it.
    Html,
    /// All manuscripts as one book: title page, chapters, cards, index; PDF/UA-1.
    Pdf,
}

/// What stands for a formula in a woven book.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum WovenBlocks {
    /// Its mixes, a table each.
    Table,
    /// Its mixes, its method and what is to be known of it.
    Card,
    /// A list of its figures.
    Figures,
    /// The block as it is written.
    Source,
    /// Nothing.
    Nothing,
}

/// `assize check`.
#[derive(Debug, clap::Args)]
pub struct Check {
    /// Files or folders; without one, the bakehouse that the current folder is in.
    pub paths: Vec<PathBuf>,
    /// Count warnings as errors.
    #[arg(long)]
    pub deny_warnings: bool,
    /// Also report what is allowed, with the reasons.
    #[arg(long)]
    pub all: bool,
    /// How findings are reported.
    #[arg(long, value_enum, default_value_t = CheckFormat::Human)]
    pub format: CheckFormat,
    /// Fix what can be fixed without changing what is meant.
    #[arg(long)]
    pub fix: bool,
    /// Say whether prints are still current, by their codes or by the JSON of sheets, and what
    /// changed where they are not.
    #[arg(long, value_name = "CODE|FILE", num_args = 1.., conflicts_with_all = ["paths", "fix", "deny_warnings", "all"])]
    pub pinned: Vec<OsString>,
}

/// How findings are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum CheckFormat {
    /// With the place drawn, for a terminal.
    Human,
    /// In words only, for a screen reader.
    Narrated,
    /// One line each.
    Short,
    /// For programs; its schema is templates/findings.schema.json.
    Json,
    /// The OASIS standard for findings, version 2.1.0.
    Sarif,
    /// Marks beside the lines of a change, for the log of a CI run.
    Annotations,
}

/// `assize fmt`.
#[derive(Debug, clap::Args)]
pub struct Fmt {
    /// Files, folders or `-`; without one, the bakehouse that the current folder is in.
    pub paths: Vec<PathBuf>,
    /// Write nothing; exit with 1 where a file would change.
    #[arg(long)]
    pub check: bool,
}

/// `assize show`.
#[derive(Debug, clap::Args)]
pub struct Show {
    /// The formula's name, or a file that holds one.
    pub formula: OsString,
    /// What to make instead: "60 loaves", "20 kg dough", "from 400 g levain".
    #[arg(long, value_name = "YIELD", allow_hyphen_values = true)]
    pub makes: Option<String>,
    /// How it is written.
    #[arg(long, value_enum, default_value_t = ShowFormat::Text)]
    pub format: ShowFormat,
}

/// How a formula is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum ShowFormat {
    /// A table for the terminal.
    Text,
    /// The document that prints are made from; its schema is templates/document.schema.json.
    Json,
    /// A row for each line of each mix.
    Csv,
    /// The formula's table as a page for a browser.
    Html,
}

/// `assize explain`.
#[derive(Debug, clap::Args)]
pub struct Explain {
    /// A name, such as hydration, bulk, bread flour or flour-not-100, perhaps with its kind
    /// before it: unit g. A kind, such as ingredients, for a list. Without one, all kinds.
    pub name: Vec<String>,
    /// How it is written.
    #[arg(long, value_enum, default_value_t = ExplainFormat::Text)]
    pub format: ExplainFormat,
}

/// How a page of the reference is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum ExplainFormat {
    /// For a terminal.
    Text,
    /// Pages for programs: kind, name, line, facts, prose, table, example.
    Json,
    /// Without a name, the whole reference as one document.
    Markdown,
    /// Without a name, the whole reference as one page for a browser.
    Html,
}

/// `assize diff`.
#[derive(Debug, clap::Args)]
pub struct Diff {
    /// A file, a folder, a formula, booklet or day, a git revision, REV:FILE, REV:FORMULA or
    /// REV..REV. Alone, it is compared with the files as they are, a file, a folder or a formula as the
    /// last commit has it; without any, the last commit is.
    pub old: Option<OsString>,
    /// The same. A revision beside a file, a folder or a formula means that one at that
    /// revision.
    pub new: Option<OsString>,
    /// Compare with what is staged for the next commit in place of the files as they are.
    #[arg(long)]
    pub staged: bool,
    /// Only the lines of sheets that changed, the old weight struck through, to hang up.
    #[arg(long)]
    pub sheets: bool,
    /// Each printed number of a manuscript that changed, by chapter, for the copy editor.
    #[arg(long, conflicts_with = "sheets")]
    pub numbers: bool,
    /// Exit with 1 where something changed in meaning.
    #[arg(long)]
    pub exit_code: bool,
    /// How it is written.
    #[arg(long, value_enum, default_value_t = DiffFormat::Text)]
    pub format: DiffFormat,
}

/// How a comparison is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum DiffFormat {
    /// A line for each thing, the weightiest first, then the details.
    Text,
    /// For programs; its schema is templates/diff.schema.json, of numbers
    /// templates/numbers.schema.json.
    Json,
    /// For a comment on a change.
    Markdown,
    /// A page for a browser or to print.
    Html,
    /// A page for paper.
    Pdf,
}

/// `assize day`.
#[derive(Debug, clap::Args)]
pub struct Day {
    /// Dates, weekdays or names of days; or files that hold days. Each of several is planned around
    /// those before it, and takes over what they leave.
    pub days: Vec<OsString>,
    /// How warm the room is, such as 18C, in place of what the day says.
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub room: Option<String>,
    /// The time zone, such as Europe/Paris.
    #[arg(long, value_name = "ZONE")]
    pub zone: Option<String>,
    /// Only what one machine, place or pair of hands does: spiral, "deck 2", "hands 1".
    #[arg(long, value_name = "NAME")]
    pub of: Option<String>,
    /// What it is planned from, beside its own words.
    #[command(flatten)]
    pub given: DayGiven,
    /// How many placings of a batch are tried at most; more may find a better day, and the same
    /// number always finds the same one.
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u64).range(1..))]
    pub placings: Option<u64>,
    /// How it is written.
    #[arg(long, value_enum, default_value_t = DayFormat::Text)]
    pub format: DayFormat,
}

/// What a day is planned from, beside its own words.
#[derive(Debug, Default, clap::Args)]
pub struct DayGiven {
    /// Orders from a CSV file, or - for standard input: the columns product, amount and by, and
    /// perhaps kind, after, customer and day, in any order. A row replaces what the day orders of
    /// that product for that customer.
    #[arg(long, value_name = "FILE")]
    pub orders: Option<PathBuf>,
    /// The day has begun: the JSON of its plan so far; without it, the plan that its orders give.
    /// What was begun before --now, or is marked there with "done": true, stays; the rest is planned
    /// anew and moves as little as can be.
    #[arg(long, value_name = "FILE")]
    pub state: Option<PathBuf>,
    /// What time it is, such as 04:10: nothing else is begun before.
    #[arg(long, value_name = "TIME")]
    pub now: Option<String>,
    /// A batch is through a step: "gullhaven-sour 2 bulk".
    #[arg(long, value_name = "BATCH STEP")]
    pub done: Vec<String>,
}

impl DayGiven {
    /// The first of its options that is given.
    pub fn first(&self) -> Option<&'static str> {
        let orders = self.orders.as_ref().map(|_| "--orders");
        let state = self.state.as_ref().map(|_| "--state");
        let now = self.now.as_ref().map(|_| "--now");
        orders.or(state).or(now).or((!self.done.is_empty()).then_some("--done"))
    }
}

/// How a day is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum DayFormat {
    /// Orders, builds, and everything by the clock.
    Text,
    /// For programs; its schema is templates/day.schema.json.
    Json,
    /// A row for each task.
    Csv,
    /// For a calendar: the tasks of hands, or with --of those of one machine or pair of hands.
    Ics,
    /// The chart as a picture.
    Svg,
}

/// `assize history`.
#[derive(Debug, clap::Args)]
pub struct History {
    /// The formula's name.
    pub formula: String,
    /// Only commits after this revision.
    #[arg(long, value_name = "REV")]
    pub since: Option<String>,
    /// The figures to tell, such as hydration,salt; without it, those that moved.
    #[arg(long, value_name = "FIGURES", value_delimiter = ',')]
    pub figures: Vec<String>,
    /// How it is written.
    #[arg(long, value_enum, default_value_t = HistoryFormat::Text)]
    pub format: HistoryFormat,
}

/// How a formula's history is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum HistoryFormat {
    /// A line for each commit that changed its meaning, and how hydration and salt went.
    Text,
    /// For programs; its schema is templates/history.schema.json.
    Json,
    /// A row for each commit, a column for each figure.
    Csv,
    /// The course of the figures as a picture.
    Svg,
}

/// `assize trace`.
#[derive(Debug, clap::Args)]
pub struct Trace {
    /// The eight letters and digits in the foot of a print.
    pub code: String,
    /// How it is written.
    #[arg(long, value_enum, default_value_t = TraceFormat::Text)]
    pub format: TraceFormat,
}

/// How what a code means is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum TraceFormat {
    /// A paragraph for each formula.
    Text,
    /// For programs; its schema is templates/trace.schema.json.
    Json,
}

/// `assize git-setup`.
#[derive(Debug, clap::Args)]
pub struct GitSetup {
    /// Only show what would be written.
    #[arg(long)]
    pub print: bool,
    /// Write without asking.
    #[arg(long, conflicts_with = "print")]
    pub yes: bool,
}

/// `assize git-text`.
#[derive(Debug, clap::Args)]
pub struct GitText {
    /// A file of formulas.
    pub file: PathBuf,
}

/// `assize git-merge`.
#[derive(Debug, clap::Args)]
pub struct GitMerge {
    /// The file that both began from.
    pub base: PathBuf,
    /// Our edit of it; the result is written here.
    pub ours: PathBuf,
    /// The other edit.
    pub theirs: PathBuf,
    /// What the file is called in the repository.
    pub path: PathBuf,
    /// How conflicts are written, as `merge.conflictStyle` has it: with `diff3` or `zdiff3` what
    /// both began from stands between the sides.
    #[arg(long, default_value = "")]
    pub style: String,
    /// What git calls our side, to be written at the conflict marks: `HEAD`.
    #[arg(long, default_value = "")]
    pub ours_name: String,
    /// What git calls the other side.
    #[arg(long, default_value = "")]
    pub theirs_name: String,
}

/// `assize uses`.
#[derive(Debug, clap::Args)]
pub struct Uses {
    /// The name of an ingredient, an allergen, a culture, a stage, a mixture, a style, a tin, a
    /// mixer, an oven or a formula.
    #[arg(required_unless_present = "of", conflicts_with = "of")]
    pub name: Vec<String>,
    /// The other way round: everything that this formula, booklet or day rests on.
    #[arg(long, value_name = "FORMULA")]
    pub of: Option<OsString>,
    /// How it is written.
    #[arg(long, value_enum, default_value_t = UsesFormat::Text)]
    pub format: UsesFormat,
}

/// How what uses a thing is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum UsesFormat {
    /// A tree, a line each.
    Text,
    /// The same tree for programs; its schema is templates/uses.schema.json.
    Json,
}

/// `assize why`.
#[derive(Debug, clap::Args)]
pub struct Why {
    /// The formula's name, or a file that holds one.
    pub formula: OsString,
    /// What to derive: hydration, "water in levain", "water % in levain", dough, salt.
    #[arg(required = true)]
    pub figure: Vec<String>,
    /// How warm the dough really was, such as 26C: what that says of the mixer's friction,
    /// or of its work, for `water temperature`.
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub measured: Option<String>,
    /// What to make instead.
    #[arg(long, value_name = "YIELD", allow_hyphen_values = true)]
    pub makes: Option<String>,
    /// How it is written.
    #[arg(long, value_enum, default_value_t = WhyFormat::Text)]
    pub format: WhyFormat,
}

/// How a derivation is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum WhyFormat {
    /// A tree, a line each.
    Text,
    /// The same tree for programs.
    Json,
}

/// `assize plan`.
#[derive(Debug, clap::Args)]
pub struct Plan {
    /// Names of formulas, or files that hold them.
    #[arg(required = true)]
    pub formulas: Vec<OsString>,
    /// When the bread must be ready: "2026-12-05 07:00", "sunday 11am" of any week; at the
    /// latest: "by 2026-12-05 07:00".
    #[arg(
        long,
        value_name = "TIME",
        required_unless_present = "start",
        allow_hyphen_values = true
    )]
    pub ready: Option<String>,
    /// When to begin instead, or `now`; beside `--ready`, before which nothing is begun.
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    pub start: Option<String>,
    /// The hours when someone is there: 06:30..22:00, several separated by commas, with weekdays if
    /// they differ: "mon..fri 06:00..22:00, sat, sun 08:00..23:00"; without it, the
    /// bakehouse's hours, and without those, always.
    #[arg(long, value_name = "HOURS", allow_hyphen_values = true)]
    pub awake: Option<String>,
    /// What clock times fall on, where the ranges allow it.
    #[arg(long, value_name = "TIME", default_value = "5min", allow_hyphen_values = true)]
    pub grid: String,
    /// The time zone of all times: Europe/Paris; without it, the bakehouse's or this
    /// machine's.
    #[arg(long, value_name = "ZONE")]
    pub zone: Option<String>,
    /// How warm the room is, such as 26C: what ferments in it is re-timed, by estimate.
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub room: Option<String>,
    /// How much seed stages are begun with instead, of their new flour, such as 10%: their
    /// ripening is re-timed, by estimate. The formula's weights stay as they are.
    #[arg(long, value_name = "SHARE", allow_hyphen_values = true)]
    pub seed: Option<String>,
    /// How cold the refrigerator is, such as 6C: dough with yeast in it is re-timed, by
    /// estimate.
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub cold: Option<String>,
    /// What to make instead: "60 loaves", "20 kg dough", "from 400 g levain".
    #[arg(long, value_name = "YIELD", allow_hyphen_values = true)]
    pub makes: Option<String>,
    /// A name for this baking, for the calendar: a second plan of the same name is the same
    /// events at other times. Without it, the date when the bread is ready.
    #[arg(long, value_name = "NAME")]
    pub event: Option<String>,
    /// A calendar made before, whose events this one moves and cancels.
    #[arg(long, value_name = "FILE")]
    pub replaces: Option<PathBuf>,
    /// How it is written.
    #[arg(long, value_enum, default_value_t = PlanFormat::Text)]
    pub format: PlanFormat,
    /// How long a plan set with the bakehouse's own templates may take, in seconds: 20 unless said
    /// otherwise.
    #[arg(long, value_name = "SECONDS",
          value_parser = clap::value_parser!(u64).range(1..=3600))]
    pub template_seconds: Option<u64>,
}

/// How a plan is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum PlanFormat {
    /// Day by day, a line for everything that is begun.
    Text,
    /// For programs; its schema is templates/plan.schema.json.
    Json,
    /// A calendar (RFC 5545) with an alarm for everything that needs someone.
    Ics,
    /// The timeline as a page.
    Pdf,
    /// The timeline as a picture.
    Svg,
}

/// `assize print`.
#[derive(Debug, clap::Args)]
pub struct Print {
    /// Files, folders or names of formulas and booklets; without one, the bakehouse that the
    /// current folder is in.
    pub what: Vec<OsString>,
    /// Which prints to make.
    #[arg(long, value_enum, value_delimiter = ',', value_name = "PRINTS")]
    pub only: Vec<PrintKind>,
    /// The folder to write them into; `-` for a single one on standard output.
    #[arg(long, value_name = "DIR", default_value = "prints")]
    pub to: PathBuf,
    /// How the pages are written.
    #[arg(long, value_enum, default_value_t = PrintFormat::Pdf)]
    pub format: PrintFormat,
    /// Dots per inch, for png: 144 unless said otherwise.
    #[arg(long, value_parser = clap::value_parser!(u16).range(20..=1200))]
    pub dpi: Option<u16>,
    /// What to make instead: "60 loaves", "20 kg dough", "from 400 g levain".
    #[arg(long, value_name = "YIELD", allow_hyphen_values = true)]
    pub makes: Option<String>,
    /// The language of the words, in place of the bakehouse's: "fr"; "fr and de" for sheets
    /// that say everything in both.
    #[arg(long, value_name = "LANGUAGE")]
    pub language: Option<String>,
    /// Of booklets, only these copies.
    #[arg(long, value_enum, value_delimiter = ',', value_name = "COPIES")]
    pub copy: Vec<CopyKind>,
    /// Booklets in 18 pt and more, for readers with poor sight.
    #[arg(long)]
    pub large: bool,
    /// How large the labels of a day are, width and height in millimetres, such as 70x37: as many
    /// as the sheet has.
    #[arg(long, value_name = "SIZE", value_parser = a_label)]
    pub label: Option<DayLabel>,
    /// How many placings of a batch are tried at most for each day, as `assize day` has it.
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u64).range(1..))]
    pub placings: Option<u64>,
    /// Of one day: what it is planned from, beside its own words, as `assize day` has it.
    #[command(flatten)]
    pub given: DayGiven,
    /// All of them in one PDF, with a page of contents.
    #[arg(long)]
    pub one: bool,
    /// PDFs that are also PDF/A-2a, for archives.
    #[arg(long)]
    pub archive: bool,
    /// Approximate volumes beside the weights of cards.
    #[arg(long)]
    pub volumes: bool,
    /// Use this machine's fonts for letters that ours lack.
    #[arg(long)]
    pub system_fonts: bool,
    /// How long a print set with the bakehouse's own templates may take, in seconds: 20 unless
    /// said otherwise.
    #[arg(long, value_name = "SECONDS",
          value_parser = clap::value_parser!(u64).range(1..=3600))]
    pub template_seconds: Option<u64>,
    /// Write our templates and words into a folder, for a bakehouse to change, and stop.
    #[arg(long, value_name = "DIR")]
    pub export_templates: Option<PathBuf>,
}

impl Print {
    /// Whether the one print goes to standard output.
    pub fn is_to_output(&self) -> bool {
        self.to.as_os_str() == "-"
    }
}

/// Whose copy of a booklet it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum CopyKind {
    /// Without what only the teacher has.
    Learner,
    /// With answers and cautions for the room.
    Teacher,
}

impl Print {
    /// Each kind of print once, however often it was asked for.
    pub fn once(mut self) -> Self {
        let mut known = Vec::new();
        self.only.retain(|kind| {
            let is_new = !known.contains(kind);
            known.push(*kind);
            is_new
        });
        self
    }
}

/// The kinds of print.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum PrintKind {
    /// A recipe card for a reader.
    Card,
    /// A batch sheet for a baker on shift.
    Sheet,
    /// The formula's table.
    Table,
    /// The formula's table with blanks.
    Worksheet,
    /// The key of the worksheet.
    Answers,
    /// Every weight for several sizes.
    Reckoner,
    /// Everything to buy.
    Shopping,
    /// Of a day: the chart for the wall.
    Plan,
    /// Of a day: what to mix when, in which mixer.
    Mixing,
    /// Of a day: each build of a stage, and who takes it.
    Levains,
    /// Of a day: the work of hands by the clock.
    Bench,
    /// Of a day: what each deck bakes.
    Oven,
    /// Of a day: everything to be taken out of stores.
    Requisition,
    /// Of a day: a label for each batch, with allergens.
    Batches,
    /// Of a day: what each customer gets.
    Packing,
}

impl PrintKind {
    /// The print of a day that it is; none for those of a formula.
    pub fn of_day(self) -> Option<&'static str> {
        Some(match self {
            Self::Plan => "plan",
            Self::Mixing => "mixing",
            Self::Levains => "levains",
            Self::Bench => "bench",
            Self::Oven => "oven",
            Self::Requisition => "requisition",
            Self::Batches => "batches",
            Self::Packing => "packing",
            _ => return None,
        })
    }

    /// Whether it is made as a booklet is.
    pub fn is_of_class(self) -> bool {
        matches!(self, Self::Worksheet | Self::Answers | Self::Reckoner | Self::Shopping)
    }
}

/// How pages are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum PrintFormat {
    /// One file for each print, tagged for screen readers.
    Pdf,
    /// One file a page.
    Svg,
    /// One file a page.
    Png,
    /// A page for a browser that needs no other file.
    Html,
}
