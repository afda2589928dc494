//! Formulas side by side: weights, percentages, figures, and what each amount would raise.

use super::document::{TableCell, TableColumn, TablePart, TableRow};
use super::maker::Maker;
use super::slips::OF_THE_YIELD;
use crate::check;
use crate::diag::{Finding, Level};
use crate::formula::class::Class;
use crate::formula::{LineRef, Worked, inherited, work, work_as};
use crate::print::document::{Document, FigurePart, LinePart};
use crate::print::findings as say;
use crate::print::wording::language_of;
use crate::source::Span;
use crate::syntax::booklet::{Compare, FormulaYield};
use crate::syntax::tree::{Amount, Extent, Formula, Mix, Name, Quantity, Target};

/// A column: its heading, what it is, and what `check` says of it.
struct ComparedColumn {
    title: String,
    document: Document,
    findings: Vec<Finding>,
}

impl<'a> Maker<'a> {
    /// The table of a comparison; none where it can't be made, which is told.
    pub fn compare(&self, compare: &Compare) -> Option<TablePart> {
        let (title, columns, mut notes) = match compare {
            Compare::Formulas(all) => {
                let columns: Option<Vec<ComparedColumn>> =
                    all.iter().map(|of| self.column_of(of)).collect();
                let worked: Option<Vec<_>> = all.iter().map(|of| self.worked(of)).collect();
                let documents = self.side_by_side(&worked?);
                let columns = columns?.into_iter().zip(documents);
                let columns =
                    columns.map(|(column, document)| ComparedColumn { document, ..column });
                (self.words.say("booklet-compare"), columns.collect(), Vec::new())
            }
            Compare::Since { of, revision, span } => self.then_and_now(of, revision, *span)?,
            Compare::With { of, line, amounts, span } => {
                self.versions(of, line.as_ref(), amounts, *span)?
            }
        };
        notes.extend(self.one_sided(&columns));
        let of_one = !matches!(compare, Compare::Formulas(_));
        let mut table = side_by_side(self, title, &columns, notes, of_one);
        let differs = table.rows.iter().flat_map(|row| &row.cells).any(|cell| cell.strong);
        if let (Compare::Since { revision, .. }, false) = (compare, differs) {
            let args = [("revision", revision.as_str())];
            table.notes.insert(0, self.words.fill("booklet-nothing-changed", &args));
        }
        Some(table)
    }

    fn column_of(&self, of: &FormulaYield) -> Option<ComparedColumn> {
        let worked = self.worked(of)?;
        let document = worked.document(self).clone();
        let mut findings = Vec::new();
        check::check(self.house, self.house.formula(&of.formula.key)?, &worked, &mut findings);
        Some(ComparedColumn { title: document.title.clone(), document, findings })
    }

    /// What a formula was at a revision, and what it is.
    fn then_and_now(
        &self,
        of: &FormulaYield,
        revision: &str,
        span: Span,
    ) -> Option<(String, Vec<ComparedColumn>, Vec<String>)> {
        let mut now = self.column_of(of)?;
        let title = now.title.clone();
        let (document, findings) = match (self.past?)(revision, of) {
            Ok(past) => past,
            Err(why) => {
                let formula = &of.formula.shown;
                self.say(say::table_not_possible::no_past(span, formula, revision, &why));
                return None;
            }
        };
        now.title = self.words.say("booklet-now");
        let then = ComparedColumn { title: revision.to_owned(), document, findings };
        let since = self.words.fill("booklet-since", &[("revision", revision)]);
        let args = [("formula", title.as_str()), ("line", since.as_str())];
        Some((self.words.fill("booklet-compare-with", &args), vec![then, now], Vec::new()))
    }

    /// A column for each amount of a line, or of the loss in the oven.
    fn versions(
        &self,
        of: &FormulaYield,
        line: Option<&Target>,
        amounts: &[(Amount, Span)],
        span: Span,
    ) -> Option<(String, Vec<ComparedColumn>, Vec<String>)> {
        let own = self.worked(of)?;
        let formula = self.house.formula(&of.formula.key)?;
        let whole = inherited(self.house, formula).into_owned();
        let mut columns = Vec::new();
        let mut giver = None;
        for (amount, place) in amounts {
            let mut version = whole.clone();
            giver = match line {
                None => {
                    version.bake_loss = Some(share_of(amount).or_else(|| {
                        self.say(say::table_not_possible::no_such_loss(*place));
                        None
                    })?);
                    None
                }
                Some(line) => match self.replaced(&own, &mut version, line, amount) {
                    Some(giver) => giver,
                    None => {
                        self.say(say::table_not_possible::no_such_line(span, &line.name.shown));
                        return None;
                    }
                },
            };
            columns.push(self.version(of, &version, amount, *place)?);
        }
        let titles: Vec<&str> = columns.iter().map(|column| column.title.as_str()).collect();
        let twice = titles.iter().enumerate().find(|(at, one)| titles[..*at].contains(one));
        if let Some((at, _)) = twice
            && let Some((_, place)) = amounts.get(at)
        {
            self.say(say::columns_alike::finding(*place));
        }
        let name = match line {
            Some(line) => name_in(self, &columns, &line.name),
            None => self.words.say("booklet-bake-loss"),
        };
        let args = [("formula", self.title_of(&own)), ("line", name)];
        let args: Vec<(&str, &str)> = args.iter().map(|(key, it)| (*key, it.as_str())).collect();
        let notes = giver.map(|giver| {
            self.words.fill("booklet-gives-up", &[("flour", &name_in(self, &columns, &giver))])
        });
        Some((self.words.fill("booklet-compare-with", &args), columns, notes.into_iter().collect()))
    }

    fn title_of(&self, worked: &Worked) -> String {
        crate::formula::title(&worked.formula)
    }

    fn version(
        &self,
        of: &FormulaYield,
        version: &Formula,
        amount: &Amount,
        place: Span,
    ) -> Option<ComparedColumn> {
        let mut findings = Vec::new();
        let worked = match &of.makes {
            Some(makes) => work_as(self.house, version, makes, &mut findings),
            None => work(self.house, version, &mut findings),
        };
        if !worked.sound {
            let why = findings.iter().find(|it| it.level == Level::Error);
            self.say(say::table_not_possible::impossible(place, why.map(|it| it.message.as_str())));
            return None;
        }
        // A claim about the formula says nothing of its versions.
        let mut unclaimed = version.clone();
        unclaimed.expect.clear();
        let judged = match &of.makes {
            Some(makes) => work_as(self.house, &unclaimed, makes, &mut Vec::new()),
            None => work(self.house, &unclaimed, &mut Vec::new()),
        };
        check::check(self.house, &unclaimed, &judged, &mut findings);
        let title = match amount {
            Amount::Measured { range, .. } => self.extent_words(range),
            _ => String::new(),
        };
        Some(ComparedColumn { title, document: self.document_of(&worked), findings })
    }

    /// `65 %`, `300 g`, as it was written.
    fn extent_words(&self, range: &Extent) -> String {
        let one = |it: &Quantity| {
            let number = crate::quantity::display::trimmed(&it.number, it.decimals.unwrap_or(2));
            format!("{} {}", self.words.number(&number), it.unit.spelling())
        };
        match (&range.low, &range.high) {
            (Some(low), Some(high)) if range.ranged => format!("{}–{}", one(low), one(high)),
            (Some(one_end), _) | (None, Some(one_end)) => one(one_end),
            (None, None) => String::new(),
        }
    }

    /// Puts an amount onto a line; what a flour gains in per cent, the flour of the largest
    /// share gives up, whose name is given back. None where there is no such line.
    fn replaced(
        &self,
        own: &Worked,
        version: &mut Formula,
        line: &Target,
        amount: &Amount,
    ) -> Option<Option<Name>> {
        let mix: &mut Mix = version.total.as_mut().or(version.dough.as_mut())?;
        let is_line = |target: &Target| {
            target.name.key == line.name.key
                && target.role.as_ref().map(|role| &role.key)
                    == line.role.as_ref().map(|role| &role.key)
        };
        let at = mix.lines.iter().position(|it| is_line(&it.target))?;
        let before = share_of(&mix.lines.get(at)?.amount);
        let own_line = mix.lines.get_mut(at)?;
        own_line.amount = amount.clone();
        own_line.beside = None;
        let is_flour = |key: &str| {
            let lines = own.first().total_lines.iter().chain(&own.first().dough_lines);
            lines.into_iter().any(|line| {
                matches!(line.goes, LineRef::Ingredient(id) if line.key == key
                    && (own.is_flour(id) || self.house.ingredient(id).class == Class::Flour))
            })
        };
        let (Some(before), Some(after)) = (before, share_of(amount)) else { return Some(None) };
        if !is_flour(&line.name.key) {
            return Some(None);
        }
        let gained = &after.number - &before.number;
        let others = mix.lines.iter().enumerate().filter(|(place, it)| {
            *place != at && is_flour(&it.target.name.key) && share_of(&it.amount).is_some()
        });
        let number = |it: &crate::syntax::tree::Line| share_of(&it.amount).map(|it| it.number);
        let largest = others.max_by(|one, two| number(one.1).cmp(&number(two.1)))?.0;
        let giver = mix.lines.get_mut(largest)?;
        if let Amount::Measured { range, .. } = &mut giver.amount {
            for end in [&mut range.low, &mut range.high].into_iter().flatten() {
                end.number = &end.number - &gained;
            }
        }
        Some(Some(giver.target.name.clone()))
    }

    /// What `check` says of some columns and not of others, or not the same of all. Its
    /// sentences are English; in other languages our words for the finding stand there. What is
    /// about how a file is written is for nobody who reads a table.
    fn one_sided(&self, columns: &[ComparedColumn]) -> Vec<String> {
        let is_english = language_of(&self.words.tag) == "en";
        let mut notes = Vec::new();
        for column in columns {
            for finding in column.findings.iter().filter(|it| it.level != Level::Note) {
                let is_same = |it: &Finding| {
                    it.rule.name == finding.rule.name && it.message == finding.message
                };
                let everywhere = columns.iter().all(|other| other.findings.iter().any(is_same));
                let is_claim = finding.rule.name.starts_with("claim");
                let is_of_yield = OF_THE_YIELD.contains(&finding.rule.name);
                if !everywhere && !is_claim && !is_of_yield {
                    let message = finding.message.replace('`', "");
                    let Some(told) = self.finding_said(finding) else { continue };
                    let args = [("column", column.title.as_str()), ("finding", told.as_str())];
                    notes.push(match is_english {
                        true => format!("{}: {message}.", column.title),
                        false => self.words.fill("booklet-objection", &args),
                    });
                }
            }
        }
        notes.dedup();
        notes
    }
}

/// What prints call a line.
fn name_in(maker: &Maker, columns: &[ComparedColumn], name: &Name) -> String {
    let mut lines = columns.iter().flat_map(|column| &column.document.total);
    let line = lines.find(|line| line.key == name.key.as_str());
    let own = line.map(|line| line.name.clone());
    let own = own.or_else(|| maker.words.name("name", &name.key));
    own.unwrap_or_else(|| name.shown.to_string())
}

/// The quantity of an amount in per cent.
fn share_of(amount: &Amount) -> Option<Quantity> {
    let Amount::Measured { range, .. } = amount else { return None };
    let low = range.low.clone()?;
    (low.unit.dimension() == crate::quantity::Dimension::Share).then_some(low)
}

/// The table of some columns: what is in them, then their figures.
fn side_by_side(
    maker: &Maker,
    title: String,
    columns: &[ComparedColumn],
    notes: Vec<String>,
    of_one: bool,
) -> TablePart {
    let heads = columns.iter().flat_map(|column| {
        let weight = maker.words.say("print-weight");
        [
            TableColumn { title: column.title.clone(), under: "%".into() },
            TableColumn { title: String::new(), under: weight },
        ]
    });
    let mut rows = Vec::new();
    let mut known: Vec<(&str, Option<&str>)> = Vec::new();
    for line in columns.iter().flat_map(|column| &column.document.total) {
        let name = (line.key.as_str(), line.role.as_deref());
        if known.contains(&name) {
            continue;
        }
        known.push(name);
        let lines: Vec<Option<&LinePart>> = columns
            .iter()
            .map(|column| {
                let mut own = column.document.total.iter();
                own.find(|it| (it.key.as_str(), it.role.as_deref()) == name)
            })
            .collect();
        rows.push(row_of(line, &lines));
    }
    let sums = columns.iter().flat_map(|column| {
        let document = &column.document;
        let percent = document.total_sum_percent.clone().unwrap_or_default();
        let sum = &document.total_sum;
        [
            TableCell::of(percent, ""),
            TableCell::of(format!("{}{}", sum.mark(), sum.shown), &sum.unit),
        ]
    });
    rows.push(TableRow {
        kind: "sum".into(),
        name: maker.words.say("print-total"),
        cells: sums.collect(),
    });
    rows.extend(figure_rows(maker, columns, of_one));
    TablePart {
        title,
        names: maker.words.say("print-ingredient"),
        columns: heads.collect(),
        rows,
        notes,
        ..TablePart::default()
    }
}

/// One line in every column; what is not as in the first is set strongly.
fn row_of(line: &LinePart, lines: &[Option<&LinePart>]) -> TableRow {
    let percent = |it: &LinePart| it.percent.clone().unwrap_or_default();
    let weight = |it: &LinePart| match &it.weight {
        Some(weight) => (weight.shown.clone(), weight.unit.clone()),
        None => (it.soft.clone().unwrap_or_default(), String::new()),
    };
    let exact = |it: Option<&LinePart>| it.and_then(|it| it.percent_exact.clone());
    let differ = lines.iter().any(|it| exact(*it) != exact(lines.first().copied().flatten()));
    let cells = lines.iter().flat_map(|it| {
        let (shown, unit) = it.map(weight).unwrap_or_default();
        let share =
            TableCell { strong: differ, ..TableCell::of(it.map(percent).unwrap_or_default(), "") };
        [share, TableCell { strong: differ, ..TableCell::of(shown, unit) }]
    });
    TableRow { kind: "line".into(), name: named(line), cells: cells.collect() }
}

/// A line's name with its role.
pub fn named(line: &LinePart) -> String {
    match &line.role {
        Some(role) => format!("{} ({role})", line.name),
        None => line.name.clone(),
    }
}

/// The figures of all columns, in the order of each; then what pieces weigh when baked. Of one
/// formula, a figure that is on no card's strip and is alike in all columns says nothing.
fn figure_rows(maker: &Maker, columns: &[ComparedColumn], of_one: bool) -> Vec<TableRow> {
    let mut known: Vec<&FigurePart> = Vec::new();
    // Flour and water say little of a dough that is wetted with something else.
    let exact = |it: Option<&FigurePart>| it.map(|it| it.exact.clone());
    let has_liquids = columns.iter().any(|column| {
        let liquids = exact(column.figure("liquids"));
        liquids.is_some() && liquids != exact(column.figure("hydration"))
    });
    for column in columns {
        // What only this column has stands after what it comes after there.
        let mut next = 0;
        for figure in &column.document.figures {
            // The sum of the lines stands above already.
            let is_told = figure.name != "dough" && (figure.name != "dough yield" || !has_liquids);
            match known.iter().position(|it| it.name == figure.name) {
                Some(at) => next = at + 1,
                None if is_told => {
                    known.insert(next, figure);
                    next += 1;
                }
                None => {}
            }
        }
    }
    let figures = known.iter().filter_map(|figure| {
        let values = columns.iter().map(|column| {
            let value = column.figure(&figure.name).filter(|it| !is_no_hydration(it))?;
            Some((value.exact.clone(), value.shown.clone(), value.unit.clone()))
        });
        let values: Vec<Option<ComparedFigure>> = values.collect();
        let exact = |it: &Option<ComparedFigure>| it.as_ref().map(|(exact, ..)| exact.clone());
        let differ = values.iter().any(|it| exact(it) != exact(&values[0]));
        let is_kept = figure.key || ["elapsed", "dough yield"].contains(&figure.name.as_str());
        let is_there = values.iter().any(Option::is_some) && (!of_one || differ || is_kept);
        is_there.then(|| figure_row(figure.label.clone(), values))
    });
    let pieces = columns.first().map(|column| column.document.makes.pieces.as_slice());
    let baked = pieces.unwrap_or_default().iter().enumerate().filter_map(|(at, piece)| {
        let values = columns.iter().map(|column| {
            let baked = column.document.makes.pieces.get(at)?.baked.as_ref()?;
            let shown = format!("{}{}", baked.mark(), baked.shown);
            Some((baked.grams.clone(), shown, baked.unit.clone()))
        });
        let values: Vec<Option<ComparedFigure>> = values.collect();
        let args = [("kind", piece.kind.as_str())];
        let name = maker.words.fill("booklet-baked", &args);
        values.iter().any(Option::is_some).then(|| figure_row(name, values))
    });
    figures.chain(baked).collect()
}

/// The hydration of a dough that other liquids wet, which its card leaves out, too.
pub fn is_no_hydration(figure: &FigurePart) -> bool {
    figure.name == "hydration" && !figure.key
}

/// A figure of one column: exactly, as shown, and its unit.
type ComparedFigure = (String, String, String);

/// A figure in every column; where they differ it is set strongly.
fn figure_row(name: String, values: Vec<Option<ComparedFigure>>) -> TableRow {
    let exact = |it: &Option<ComparedFigure>| it.as_ref().map(|(exact, ..)| exact.clone());
    let differ = values.iter().any(|it| exact(it) != exact(&values[0]));
    let cells = values.into_iter().flat_map(|it| {
        let (_, shown, unit) = it.unwrap_or_default();
        [TableCell::default(), TableCell { strong: differ, ..TableCell::of(shown, unit) }]
    });
    TableRow { kind: "figure".into(), name, cells: cells.collect() }
}

/// Figures that a document leaves out where another one says the same.
const SAID_BY: [(&str, &str); 2] =
    [("salt as declared", "salt as eaten"), ("hydration of added flour", "hydration")];

impl ComparedColumn {
    /// A figure, or the one that says the same where it is left out.
    fn figure(&self, name: &str) -> Option<&FigurePart> {
        let own = |name: &str| self.document.figures.iter().find(|figure| figure.name == name);
        let other = || SAID_BY.iter().find(|(known, _)| *known == name);
        own(name).or_else(|| own(other()?.1))
    }
}
