//! What is wrong with a booklet: everything that printing it would tell, and what its copies
//! give away.

use super::maker::{Copy, Maker, Terms};
use super::worksheet::Sheet;
use crate::check;
use crate::diag::Finding;
use crate::formula::{House, too_many};
use crate::print::findings as say;
use crate::print::look;
use crate::print::wording::Wording;
use crate::source::Span;
use crate::syntax::booklet::{
    Audience, Booklet, BookletItem, Compare, Exercise, ExerciseKind, FormulaYield, HiddenKind,
    PartKind, Worksheet,
};
use crate::syntax::tree::{Measure, Name, Question, TextPart};

/// Adds what is wrong with a booklet to `findings`.
pub fn check_booklet(house: &House, booklet: &Booklet, findings: &mut Vec<Finding>) {
    let words = Wording::plain();
    let terms = Terms::new();
    let maker = Maker::new(house, &words, booklet, &terms);
    if let Some(finding) = too_many_exercises(booklet, maker.seats() as usize) {
        findings.push(finding);
        return;
    }
    // Both copies are made, so that nothing that prints fails later; of further seats only
    // what differs between them.
    for copy in Copy::of(booklet) {
        maker.document(copy, 1, false);
    }
    for part in &booklet.parts {
        let PartKind::Worksheet(sheet) = &part.what else { continue };
        for seat in 2..=maker.seats() {
            maker.tasks(sheet, seat);
        }
    }
    findings.extend(maker.findings.borrow_mut().drain(..));
    denials(&maker, findings);
    copies(booklet, findings);
    hidden_but_printed(&maker, findings);
    hidden_but_told(&maker, findings);
    sheets_that_tell(&maker, findings);
    exercises_that_tell(&maker, findings);
    pictures(booklet, findings);
    people(booklet, findings);
}

/// More exercises than a class could write: each is drawn until its numbers are new and its
/// answer can be written down, which takes its time.
fn too_many_exercises(booklet: &Booklet, seats: usize) -> Option<Finding> {
    /// From memory: a class works at a dozen in an hour.
    const MAX_OF_A_SHEET: usize = 100;
    const MAX_OF_ALL_SEATS: usize = 2_000;
    let sheets = booklet.parts.iter().filter_map(|part| match &part.what {
        PartKind::Worksheet(sheet) => {
            let drawn = sheet.exercises.iter().map(|it| usize::try_from(it.times).unwrap_or(1));
            Some((part.span, drawn.sum::<usize>()))
        }
        _ => None,
    });
    let mut all = 0;
    for (span, count) in sheets {
        if count > MAX_OF_A_SHEET {
            return Some(too_many::exercises(span, count, MAX_OF_A_SHEET));
        }
        all += count * seats;
        if all > MAX_OF_ALL_SEATS {
            return Some(too_many::exercises(span, all, MAX_OF_ALL_SEATS));
        }
    }
    None
}

/// What the texts say is not in the bread, held against every formula that the booklet names.
fn denials(maker: &Maker, findings: &mut Vec<Finding>) {
    let worked = maker.booklet.formulas().into_iter();
    let worked: Vec<_> = worked.filter_map(|name| maker.worked_as(name, None)).collect();
    let first = findings.len();
    for text in maker.booklet.texts() {
        for worked in &worked {
            let mut told = Vec::new();
            check::check_words(maker.house, worked, text, &mut told);
            for finding in told {
                let known = &findings[first..];
                let is_known =
                    |it: &Finding| it.span() == finding.span() && it.message == finding.message;
                if !known.iter().any(is_known) {
                    findings.push(finding);
                }
            }
        }
    }
}

/// Answers where they are not meant to be, or to nothing.
fn copies(booklet: &Booklet, findings: &mut Vec<Finding>) {
    let has_teacher = booklet.parts.iter().any(|part| part.reader == Audience::Teacher);
    let mut waiting = 0;
    for part in &booklet.parts {
        match part.what {
            PartKind::Worksheet(_) => waiting += 1,
            PartKind::Answers => {
                if has_teacher && part.reader != Audience::Teacher {
                    findings.push(say::answers_for_learners::finding(part.span));
                }
                if std::mem::take(&mut waiting) == 0 {
                    findings.push(say::nothing_to_answer::finding(part.span));
                }
            }
            _ => {}
        }
    }
}

/// Worksheets whose formula another part of the learner's copy prints: for the same yield, or
/// for any where percentages are hidden.
fn hidden_but_printed(maker: &Maker, findings: &mut Vec<Finding>) {
    let in_copy = |part: &&BookletItem| part.reader != Audience::Teacher;
    let parts = || maker.booklet.parts.iter().filter(in_copy);
    let printed: Vec<(&FormulaYield, &BookletItem)> = parts()
        .flat_map(|part| shown_by(&part.what).into_iter().map(move |of| (of, part)))
        .collect();
    for part in parts() {
        let PartKind::Worksheet(sheet) = &part.what else { continue };
        let mass = |of: &FormulaYield| Some(maker.worked(of)?.first().whole.mass());
        // A yield that an exercise asks for may be that of a print.
        for exercise in &sheet.exercises {
            let ExerciseKind::Scale(Some(makes)) = &exercise.what else { continue };
            let (formula, makes) = (sheet.of.formula.clone(), Some(makes.clone()));
            let asked = FormulaYield { formula, makes, everyone: false, span: exercise.span };
            let Some(wanted) = mass(&asked) else { continue };
            let same = printed.iter().find(|(of, _)| {
                of.formula.key == asked.formula.key && mass(of).as_ref() == Some(&wanted)
            });
            if let Some((_, other)) = same {
                let say = say::hidden_but_printed::finding;
                findings.push(say(exercise.span, &asked.formula.shown, other.span, false));
            }
        }
        // Exercises have numbers of their own, but what is spoilt stands right in any print.
        let is_slip = |it: &Exercise| matches!(it.what, ExerciseKind::Mistake(_));
        let has_slip = sheet.exercises.iter().any(is_slip);
        if sheet.hide.is_empty() && !sheet.exercises.is_empty() && !has_slip {
            continue;
        }
        let in_any_yield =
            has_slip || sheet.hide.is_empty() || sheet.hide.iter().any(|it| is_share(&it.what));
        let same = printed.iter().find(|(of, _)| {
            of.formula.key == sheet.of.formula.key
                && mass(of).is_some()
                && (in_any_yield || mass(of) == mass(&sheet.of))
        });
        if let Some((_, other)) = same {
            let formula = &sheet.of.formula.shown;
            let has_table = !sheet.hide.is_empty() || sheet.exercises.is_empty();
            findings.push(match has_table {
                true => {
                    say::hidden_but_printed::finding(part.span, formula, other.span, in_any_yield)
                }
                false => say::hidden_but_printed::of_slip(part.span, formula, other.span),
            });
        }
    }
}

/// Worksheets whose answers a reckoner of the learner's copy has in a column, a text in a bracket,
/// or a plan in its times.
fn hidden_but_told(maker: &Maker, findings: &mut Vec<Finding>) {
    let parts = || maker.booklet.parts.iter().filter(|part| part.reader != Audience::Teacher);
    let mass = |of: &FormulaYield| Some(maker.worked(of)?.first().whole.mass());
    for part in parts() {
        let PartKind::Worksheet(sheet) = &part.what else { continue };
        let formula = &sheet.of.formula;
        let known = |findings: &[Finding], span: Span| {
            let is_it = |it: &Finding| it.rule.name == "hidden-but-printed" && it.span() == span;
            findings.iter().any(is_it)
        };
        // The yields that are asked for, and where.
        let weights = sheet.hide.iter().any(|it| !is_share(&it.what));
        let mut asked = vec![(sheet.of.clone(), part.span)];
        asked.retain(|_| weights);
        for exercise in &sheet.exercises {
            if let ExerciseKind::Scale(Some(makes)) = &exercise.what {
                let (formula, makes) = (formula.clone(), Some(makes.clone()));
                let of = FormulaYield { formula, makes, everyone: false, span: exercise.span };
                asked.push((of, exercise.span));
            }
        }
        for other in parts() {
            match &other.what {
                PartKind::Reckoner(table) => {
                    let sizes = maker.reckoned(table, &formula.key);
                    for (of, span) in &asked {
                        let wanted = mass(of);
                        let has_it = sizes
                            .iter()
                            .any(|size| wanted.is_some() && Some(size) == wanted.as_ref());
                        if has_it && !known(findings, *span) {
                            let say = say::hidden_but_printed::finding;
                            findings.push(say(*span, &formula.shown, other.span, false));
                        }
                    }
                }
                PartKind::Plan(plan) if plan.of.formula.key == formula.key => {
                    let of_plan = plan.ready.as_ref().map(|(written, _)| written.as_str());
                    for exercise in &sheet.exercises {
                        let ExerciseKind::WhenToBegin(Some(ready)) = exercise.what else {
                            continue;
                        };
                        let clock = format!("{:02}:{:02}", ready / 60, ready % 60);
                        let is_same = of_plan.is_some_and(|it| it.ends_with(&clock));
                        if is_same && !known(findings, exercise.span) {
                            let say = say::hidden_but_printed::finding;
                            findings.push(say(exercise.span, &formula.shown, other.span, true));
                        }
                    }
                }
                PartKind::Text(text) | PartKind::Caution(text) => {
                    let told = text.parts.iter().filter_map(|part| {
                        let TextPart::Figure { ask: Some(ask), span, .. } = part else {
                            return None;
                        };
                        let of = ask.elsewhere(|key| maker.house.formula(key).is_some())?;
                        (of.formula.key == formula.key).then_some((&of.asked, *span))
                    });
                    for (question, span) in told {
                        let hidden = sheet.hide.iter().find(|it| is_told_by(&it.what, question));
                        if let Some(hidden) = hidden.filter(|it| !known(findings, it.span)) {
                            let say = say::hidden_but_printed::finding;
                            findings.push(say(hidden.span, &formula.shown, span, true));
                        }
                    }
                }
                _ => {}
            }
        }
    }
}

/// Whether a bracket prints what is hidden.
fn is_told_by(hidden: &HiddenKind, asked: &Question) -> bool {
    let is_in = |place: &Option<Name>| match (place, &asked.place) {
        (None, _) => true,
        (Some(place), Some(of)) => place.key == of.key,
        (Some(_), None) => false,
    };
    let is_percent = matches!(asked.measure, Measure::Percent);
    let is_figure = asked.what.name.key == "hydration";
    match hidden {
        HiddenKind::Weights(place) => {
            !is_percent && !is_figure && matches!(asked.measure, Measure::Itself) && is_in(place)
        }
        HiddenKind::Percentages(place) => is_percent && is_in(place),
        HiddenKind::Everything(place) => is_in(place),
        HiddenKind::Figure(question) => {
            let is_same = question.what.name.key == asked.what.name.key;
            // Without a place a name is of the whole formula.
            let of_whole = |place: &Option<Name>| {
                place.as_ref().map(|it| it.key.to_string()).filter(|it| it != "total")
            };
            let same_place = of_whole(&question.place) == of_whole(&asked.place);
            is_same && same_place && question.measure == asked.measure
        }
    }
}

/// Worksheets that another worksheet of the learner's copy gives away: what one hides stands on
/// the other, or the right numbers of a slip do.
fn sheets_that_tell(maker: &Maker, findings: &mut Vec<Finding>) {
    let of_learner = maker.booklet.parts.iter().filter(|part| part.reader != Audience::Teacher);
    let sheets: Vec<(&BookletItem, &Worksheet, Option<Sheet>)> = of_learner
        .filter_map(|part| {
            let PartKind::Worksheet(sheet) = &part.what else { return None };
            let has_table = !sheet.hide.is_empty() || sheet.exercises.is_empty();
            let table = has_table.then(|| maker.sheet(sheet, part.span)).flatten();
            Some((part, sheet, table))
        })
        .collect();
    for (part, sheet, table) in &sheets {
        let has_slip = sheet.exercises.iter().any(|it| matches!(it.what, ExerciseKind::Mistake(_)));
        let teller = sheets.iter().find(|(other, of, told)| {
            let is_other =
                !std::ptr::eq(*other, *part) && of.of.formula.key == sheet.of.formula.key;
            let Some(told) = told.as_ref().filter(|_| is_other) else { return false };
            let is_told = table.as_ref().is_some_and(|table| told.gives_away(table));
            is_told || has_slip
        });
        let known = |span| {
            findings.iter().any(|it| it.rule.name == "hidden-but-printed" && it.span() == span)
        };
        if let Some((other, ..)) = teller.filter(|_| !known(part.span)) {
            let formula = &sheet.of.formula.shown;
            let say = say::hidden_but_printed::finding;
            findings.push(say(part.span, formula, other.span, true));
        }
    }
}

/// Worksheets whose answers stand in an exercise of the learner's copy, on the same worksheet or
/// on another one.
fn exercises_that_tell(maker: &Maker, findings: &mut Vec<Finding>) {
    let of_learner = maker.booklet.parts.iter().filter(|part| part.reader != Audience::Teacher);
    let sheets: Vec<(&BookletItem, &Worksheet)> = of_learner
        .filter_map(|part| match &part.what {
            PartKind::Worksheet(sheet) => Some((part, sheet)),
            _ => None,
        })
        .collect();
    let asking = || sheets.iter().filter(|(_, sheet)| !sheet.exercises.is_empty());
    for (part, sheet) in &sheets {
        if sheet.hide.is_empty() && !sheet.exercises.is_empty() {
            continue;
        }
        let of_formula =
            |(_, other): &&(&BookletItem, &Worksheet)| other.of.formula.key == sheet.of.formula.key;
        if asking().all(|it| !of_formula(&it)) {
            continue;
        }
        let Some(table) = maker.sheet(sheet, part.span) else { continue };
        let told = asking().filter(of_formula).find_map(|(other, asking)| {
            let tasks = maker.tasks(asking, 1);
            let spans = asking.exercises.iter();
            let spans = spans.flat_map(|it| vec![it.span; usize::try_from(it.times).unwrap_or(1)]);
            let spans: Vec<Span> = spans.collect();
            let span = |at: usize| match spans.len() == tasks.len() {
                true => spans.get(at).copied().unwrap_or(other.span),
                false => other.span,
            };
            tasks
                .iter()
                .enumerate()
                .find_map(|(at, task)| Some((table.told_by(maker, &task.asked)?, span(at))))
        });
        if let Some((blank, exercise)) = told {
            findings.push(say::hidden_but_printed::by_exercise(part.span, &blank, exercise));
        }
    }
}

/// Whether something hidden is the same for every yield: a percentage or a figure.
fn is_share(what: &HiddenKind) -> bool {
    match what {
        HiddenKind::Weights(_) => false,
        HiddenKind::Percentages(_) | HiddenKind::Everything(_) => true,
        HiddenKind::Figure(question) => {
            let is_figure = question.place.is_none() && question.what.name.key == "hydration";
            is_figure || !matches!(question.measure, Measure::Itself)
        }
    }
}

/// The formulas whose weights and percentages a part prints, each with its yield.
fn shown_by(part: &PartKind) -> Vec<&FormulaYield> {
    match part {
        PartKind::Print(_, all) | PartKind::Compare(Compare::Formulas(all)) => all.iter().collect(),
        PartKind::Compare(Compare::With { of, .. } | Compare::Since { of, .. }) => vec![of],
        _ => Vec::new(),
    }
}

fn pictures(booklet: &Booklet, findings: &mut Vec<Finding>) {
    for part in &booklet.parts {
        let PartKind::Picture { file, file_span, caption } = &part.what else { continue };
        if caption.is_none() {
            findings.push(say::picture_without_caption::finding(part.span, file));
        }
        if look::logo(file).is_none() {
            findings.push(say::unknown_picture::finding(*file_span, file));
        }
    }
}

/// Whether anything is for all the people together.
fn people(booklet: &Booklet, findings: &mut Vec<Finding>) {
    let Some((_, span)) = booklet.people else { return };
    let asks_for_all = |text: &crate::syntax::tree::Text| {
        text.parts.iter().any(|part| match part {
            TextPart::Figure { ask: Some(ask), .. } => {
                ask.elsewhere(|_| true).is_some_and(|it| it.everyone)
            }
            _ => false,
        })
    };
    let is_for_all = |part: &BookletItem| match &part.what {
        PartKind::Shopping(_) => true,
        PartKind::Text(text) | PartKind::Caution(text) => asks_for_all(text),
        PartKind::Print(_, all) => all.iter().any(|of| of.everyone),
        PartKind::Worksheet(sheet) => sheet.of.everyone,
        _ => false,
    };
    if !booklet.parts.iter().any(is_for_all) {
        findings.push(say::people_unused::finding(span));
    }
}
