//! What goes in at which step.
//!
//! Every line of a mix goes in exactly once, in one step or in shares over several; so
//! does every line of a piece, once for its kind.

use super::house::House;
use super::line_ref::LineRef;
use super::mixes::main_mix;
use super::piece_kinds::is_kind;
use super::worked::{Within, Worked, WorkedLine};
use crate::quantity::Exact;
use crate::source::Span;
use crate::syntax::tree::{
    Amount, Line, Method, Name, Phase, Quantity, Step, Target, Text, TextPart, Verb, With,
};
use ecow::EcoString;

/// A line, or a part of one, that goes in at a step.
#[derive(Clone, Debug)]
pub struct Added {
    /// What is added.
    pub line: WorkedLine,
    /// The share of the line that goes in here.
    pub share: Exact,
    /// The phase of the step in which it goes in, from zero.
    pub phase: usize,
    /// Whether other steps bring the rest.
    pub part: bool,
    /// Whether it is what was left after other steps.
    pub remaining: bool,
    /// Of a piece rather than of the mix.
    pub beside: bool,
}

/// What is wrong with a `with`.
#[derive(Clone, Debug)]
pub enum Trouble {
    /// A line that no step adds, wholly or in part.
    Never {
        /// As the author writes it.
        name: EcoString,
        /// Grams that no step adds.
        missing: Exact,
        /// Of the line.
        line_span: Span,
        /// Whether it is a line of a side mix or a piece, and not of the dough.
        beside: bool,
    },
    /// A line that steps add more than once.
    Twice {
        /// As the author writes it.
        name: EcoString,
        /// Of the step that adds it first.
        first: Span,
        /// Of the step that adds more of it than there is.
        again: Span,
        /// What steps add together, as a share of the line.
        share: Exact,
        /// Whether it is a line of a side mix or a piece, and not of the dough.
        beside: bool,
    },
    /// A name in a step that the mix does not have.
    Unknown {
        /// As the step has it.
        name: Name,
        /// Names of the mix that are spelt alike.
        near: Vec<EcoString>,
    },
}

/// What each step of a method adds.
#[derive(Clone, Debug, Default)]
pub struct Additions {
    /// By step, in order.
    pub steps: Vec<Vec<Added>>,
    /// What no step adds and none has to: flour for the bench, fat for the tin.
    pub apart: Vec<WorkedLine>,
    /// What does not come out.
    pub troubles: Vec<Trouble>,
}

/// A line on its way into the dough.
struct Waiting {
    line: WorkedLine,
    span: Span,
    /// The share that has gone in.
    gone: Exact,
    first: Option<Span>,
    /// Shares by step and phase.
    parts: Vec<((usize, usize), Exact, bool)>,
    /// Of a piece: the kind it is for, none for all.
    beside: Option<Option<EcoString>>,
    /// Kinds of piece it has gone on already.
    kinds: Vec<EcoString>,
    /// Whether it is for something else than the mix, such as a tin: it goes in only where a
    /// step names it.
    apart: bool,
}

/// Whether a line is as much as something else than the mix takes: `butter as needed "for
/// the tin"`.
fn is_apart(line: &Line) -> bool {
    const FOR: [&str; 9] =
        ["for ", "to dust", "to grease", "für ", "zum ", "pour ", "para ", "per ", "to brush"];
    const OF_THE_MIX: [&str; 6] = ["dough", "mix", "teig", "pâte", "masa", "impasto"];
    let Some(Text { parts, .. }) = &line.note else { return false };
    let Some(TextPart::Plain(words)) = parts.first() else { return false };
    let words = words.trim_start().to_lowercase();
    matches!(line.amount, Amount::AsNeeded)
        && FOR.iter().any(|start| words.starts_with(start))
        && !OF_THE_MIX.iter().any(|word| words.contains(word))
}

impl Worked<'_> {
    /// What each step of a mix's method adds; `within` is the final dough or a stage.
    pub fn additions(&self, method: &Method, within: Within) -> Additions {
        let mut waiting = self.waiting(within);
        let steps = vec![Vec::new(); method.steps.len()];
        let mut additions = Additions { steps, ..Additions::default() };
        let named_elsewhere = self.named_in(&waiting, method);
        for (index, step) in method.steps.iter().enumerate() {
            for (number, phase) in step.phases.iter().enumerate() {
                for with in &phase.with {
                    self.add(
                        &mut waiting,
                        &mut additions,
                        ((index, number), step, phase),
                        with,
                        &named_elsewhere,
                    );
                }
            }
        }
        for waiting in waiting {
            self.finish(waiting, &mut additions);
        }
        additions
    }

    fn waiting(&self, within: Within) -> Vec<Waiting> {
        let numbers = self.first();
        let mut all: Vec<Waiting> = Vec::new();
        let (lines, mix) = match within {
            Within::Stage(stage) => {
                (&numbers.stages[stage].lines, Some(&self.formula.stages[stage].mix))
            }
            _ => (&numbers.dough_lines, main_mix(&self.formula)),
        };
        for line in lines {
            let declared = line.line.and_then(|index| mix?.lines.get(index));
            let stage_span = match line.goes {
                LineRef::Stage(stage) => self.formula.stages[stage].name.span,
                _ => self.formula.span,
            };
            all.push(Waiting {
                line: line.clone(),
                span: declared.map_or(stage_span, |line| line.span),
                gone: Exact::ZERO,
                first: None,
                parts: Vec::new(),
                beside: None,
                kinds: Vec::new(),
                apart: declared.is_some_and(is_apart),
            });
        }
        if matches!(within, Within::Stage(_)) {
            return all;
        }
        for piece in &self.formula.pieces {
            for declared in &piece.mix.lines {
                let worked = numbers.pieces.iter().flat_map(|piece| &piece.lines);
                let known = worked.clone().find(|line| {
                    line.key == declared.target.name.key
                        && line.role.as_ref().map(|role| role.to_lowercase())
                            == declared.target.role.as_ref().map(|role| role.shown.to_lowercase())
                });
                let line = known.cloned().unwrap_or_else(|| WorkedLine {
                    goes: LineRef::Nothing,
                    name: declared.target.name.shown.clone(),
                    key: declared.target.name.key.clone(),
                    role: declared.target.role.as_ref().map(|role| role.shown.clone()),
                    mass: Exact::ZERO,
                    more: Exact::ZERO,
                    line: None,
                });
                all.push(Waiting {
                    line,
                    span: declared.span,
                    gone: Exact::ZERO,
                    first: None,
                    parts: Vec::new(),
                    beside: Some(piece.kind.as_ref().map(|kind| kind.key.clone())),
                    kinds: Vec::new(),
                    apart: false,
                });
            }
        }
        all
    }

    /// Lines of the mix that a step names itself, by index; the others are what
    /// `everything else` means.
    fn named_in(&self, waiting: &[Waiting], method: &Method) -> Vec<bool> {
        let mut named = vec![false; waiting.len()];
        for step in &method.steps {
            for with in step.phases.iter().flat_map(|phase| &phase.with) {
                let lines = match with {
                    With::EverythingElse(_) => continue,
                    With::Flours(_) => self.flours(waiting),
                    // Sugar that is dusted on is the piece's, not that of the mix.
                    With::Name(target) => self.named(waiting, target, is_for_pieces(step.verb)),
                    With::Share(_, target) | With::Weight(_, target) | With::Remaining(target) => {
                        self.named(waiting, target, false)
                    }
                };
                lines.into_iter().for_each(|line| named[line] = true);
            }
        }
        named
    }

    /// The lines that a step adds by a name: those that bear it, else what a bare name such as
    /// `yeast` can only mean in this mix.
    fn named(&self, waiting: &[Waiting], target: &Target, for_pieces: bool) -> Vec<usize> {
        let found = find(waiting, target, for_pieces);
        if !found.is_empty() || for_pieces || target.role.is_some() {
            return found;
        }
        if target.name.key == "flour" {
            return self.flours(waiting);
        }
        let mixed = || (0..waiting.len()).filter(|&line| waiting[line].beside.is_none());
        let names: Vec<&str> = mixed().map(|line| waiting[line].line.key.as_str()).collect();
        match self.house.same_or_kin(&target.name.key, &names).as_slice() {
            [one] => mixed().filter(|&line| waiting[line].line.key == *one).collect(),
            _ => Vec::new(),
        }
    }

    fn flours(&self, waiting: &[Waiting]) -> Vec<usize> {
        let is_flour = |waiting: &Waiting| match waiting.line.goes {
            LineRef::Ingredient(id) => self.flour_ids.contains(&id),
            _ => false,
        };
        (0..waiting.len())
            .filter(|&index| waiting[index].beside.is_none() && is_flour(&waiting[index]))
            .collect()
    }

    fn add(
        &self,
        waiting: &mut [Waiting],
        additions: &mut Additions,
        (index, step, phase): ((usize, usize), &Step, &Phase),
        with: &With,
        named_elsewhere: &[bool],
    ) {
        let (lines, span, amount) = match with {
            With::Flours(span) => (self.flours(waiting), *span, Share::All),
            With::EverythingElse(span) => {
                let rest = (0..waiting.len()).filter(|&line| {
                    !named_elsewhere[line] && waiting[line].beside.is_none() && !waiting[line].apart
                });
                (rest.collect(), *span, Share::All)
            }
            With::Name(target) => (
                self.named(waiting, target, is_for_pieces(step.verb)),
                target.name.span,
                Share::All,
            ),
            With::Remaining(target) => {
                (self.named(waiting, target, false), target.name.span, Share::Rest)
            }
            With::Share(share, target) => {
                let share = worth(self.house, share);
                (self.named(waiting, target, false), target.name.span, Share::Part(share))
            }
            With::Weight(weight, target) => {
                let lines = self.named(waiting, target, false);
                let mass =
                    lines.iter().fold(Exact::ZERO, |sum, &line| sum + &waiting[line].line.mass);
                let weight = worth(self.house, weight) * self.scale_at(weight.span);
                let share = weight.over(&mass).unwrap_or(Exact::ONE);
                (lines, target.name.span, Share::Part(share))
            }
        };
        if lines.is_empty() {
            if let With::Name(target)
            | With::Share(_, target)
            | With::Remaining(target)
            | With::Weight(_, target) = with
            {
                additions.troubles.push(self.unknown(waiting, target));
            }
            return;
        }
        for line in lines {
            let entry = &mut waiting[line];
            if let Some(kind) = &entry.beside {
                self.add_beside(entry, kind.clone(), additions, index, phase, span);
                continue;
            }
            let share = match &amount {
                Share::All => Exact::ONE,
                Share::Rest => Exact::ONE - &entry.gone,
                Share::Part(share) => share.clone(),
            };
            if &entry.gone + &share > Exact::ONE
                || (matches!(amount, Share::Rest) && share.is_zero())
            {
                additions.troubles.push(Trouble::Twice {
                    name: entry.line.name.clone(),
                    first: entry.first.unwrap_or(span),
                    again: span,
                    share: &entry.gone + &share,
                    beside: false,
                });
                entry.gone = Exact::ONE;
                continue;
            }
            entry.gone += &share;
            entry.first.get_or_insert(span);
            entry.parts.push((index, share, matches!(amount, Share::Rest)));
        }
    }

    /// A piece's line goes on once for each kind that the step is for.
    fn add_beside(
        &self,
        entry: &mut Waiting,
        own: Option<EcoString>,
        additions: &mut Additions,
        index: (usize, usize),
        phase: &Phase,
        span: Span,
    ) {
        let kinds = self.kinds_of(own.as_ref());
        let wanted: Vec<EcoString> = match &phase.kind {
            Some(kind) => kinds.into_iter().filter(|own| is_kind(own, &kind.key)).collect(),
            None => kinds,
        };
        if wanted.iter().any(|kind| entry.kinds.contains(kind)) {
            additions.troubles.push(Trouble::Twice {
                name: entry.line.name.clone(),
                first: entry.first.unwrap_or(span),
                again: span,
                share: Exact::from(2),
                beside: true,
            });
            return;
        }
        entry.kinds.extend(wanted);
        entry.first.get_or_insert(span);
        entry.parts.push((index, Exact::ONE, false));
    }

    /// The kinds of piece that a block for `kind` is for.
    fn kinds_of(&self, kind: Option<&EcoString>) -> Vec<EcoString> {
        let made = self.first().pieces.iter().map(|piece| piece.made.key.clone());
        let kinds: Vec<EcoString> = match kind {
            Some(kind) => made.filter(|own| is_kind(own, kind)).collect(),
            None => made.collect(),
        };
        if kinds.is_empty() { vec![kind.cloned().unwrap_or_default()] } else { kinds }
    }

    fn unknown(&self, waiting: &[Waiting], target: &Target) -> Trouble {
        // The flours together have a word of their own.
        if target.name.key == "flour" {
            return Trouble::Unknown { name: target.name.clone(), near: vec!["flours".into()] };
        }
        let names: Vec<&str> = waiting.iter().map(|waiting| waiting.line.key.as_str()).collect();
        let near = self.house.meant_among(&target.name.key, &names);
        let near = near.into_iter().map(EcoString::from).collect();
        Trouble::Unknown { name: target.name.clone(), near }
    }

    fn finish(&self, waiting: Waiting, additions: &mut Additions) {
        let missing = match &waiting.beside {
            None => Exact::ONE - &waiting.gone,
            Some(kind) => {
                let kinds = self.kinds_of(kind.as_ref());
                let all = kinds.iter().all(|kind| waiting.kinds.contains(kind));
                if all { Exact::ZERO } else { Exact::ONE }
            }
        };
        if waiting.apart && missing.is_one() {
            additions.apart.push(waiting.line.clone());
        } else if missing > Exact::ZERO {
            additions.troubles.push(Trouble::Never {
                name: waiting.line.name.clone(),
                missing,
                line_span: waiting.span,
                beside: waiting.beside.is_some(),
            });
        }
        let several = waiting.parts.len() > 1 && waiting.beside.is_none();
        for ((step, phase), share, remaining) in waiting.parts {
            additions.steps[step].push(Added {
                line: waiting.line.clone(),
                phase,
                part: several || (share != Exact::ONE && waiting.beside.is_none()),
                share,
                remaining: remaining && several,
                beside: waiting.beside.is_some(),
            });
        }
    }
}

enum Share {
    All,
    Rest,
    Part(Exact),
}

fn worth(house: &House, quantity: &Quantity) -> Exact {
    quantity.unit.to_base(&quantity.number, house.settings.measures)
}

/// Whether a verb works on pieces, so that a name means the piece's line first.
fn is_for_pieces(verb: Verb) -> bool {
    matches!(
        verb,
        Verb::Pan
            | Verb::Fill
            | Verb::Top
            | Verb::Glaze
            | Verb::Dust
            | Verb::Wash
            | Verb::Boil
            | Verb::Fry
            | Verb::Shape
            | Verb::Preshape
            | Verb::Proof
            | Verb::Cool
            | Verb::Pack
    )
}

/// The lines that a name in a step means: the one without a role, or all roles where
/// there is none without.
fn find(waiting: &[Waiting], target: &Target, pieces_first: bool) -> Vec<usize> {
    let matching = |beside: bool| -> Vec<usize> {
        let named: Vec<usize> = (0..waiting.len())
            .filter(|&line| {
                waiting[line].beside.is_some() == beside
                    && waiting[line].line.key == target.name.key
            })
            .collect();
        let role = |line: usize| waiting[line].line.role.as_ref().map(|role| role.to_lowercase());
        match &target.role {
            Some(wanted) => named
                .into_iter()
                .filter(|&line| role(line) == Some(wanted.shown.to_lowercase()))
                .collect(),
            None => {
                let bare: Vec<usize> =
                    named.iter().copied().filter(|&line| role(line).is_none()).collect();
                if bare.is_empty() { named } else { bare }
            }
        }
    };
    let first = matching(pieces_first);
    if first.is_empty() { matching(!pieces_first) } else { first }
}
