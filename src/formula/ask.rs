//! Questions about a formula: what a name in a claim, a bound, a text or on the command line
//! means, its value, and why it is so.
//!
//! Enters: names as they were written. Leaves: values in the base unit of their kind, or
//! their reasons; nothing where the formula has no such thing.

use super::class::Class;
use super::figure::{Figure, Value, ValueKind};
use super::figures::Figures;
use super::origin::Origin;
use super::piece_kinds::is_kind;
use super::reason::Reason;
use super::term::Term;
use super::worked::{Numbers, Within, Worked, WorkedPiece};
use crate::formula::subject::{ShareBase, Subject, Topic};
use crate::quantity::Exact;
use crate::syntax::tree::{Base, Measure, Name, Question, Target};

impl Worked<'_> {
    /// The place a claim names.
    pub fn within(&self, key: &str) -> Option<Within> {
        match key {
            "final dough" | "dough" => Some(Within::FinalDough),
            "total" => Some(Within::All),
            "pieces" => Some(Within::Pieces),
            _ => {
                let stage = self.formula.stages.iter().position(|stage| stage.name.key == key);
                let side_mix = || self.side_mixes.iter().position(|side_mix| side_mix.key == key);
                stage.map(Within::Stage).or_else(|| side_mix().map(Within::SideMix))
            }
        }
    }

    /// What a question means: a figure or else a name of the formula's own, and where;
    /// none where there is no such place. A stage or a mixture named like a figure is
    /// meant before it.
    pub fn asked(&self, what: &Target, place: Option<&Name>) -> Option<(Option<Figure>, Within)> {
        let key = what.name.key.as_str();
        let plain = what.role.is_none();
        if plain && key == "salt" && place.is_some_and(|place| place.key == "other ingredients") {
            return Some((Some(Figure::SaltElsewhere), Within::All));
        }
        let within = place.map_or(Some(Within::All), |place| self.within(&place.key))?;
        let is_own = self.formula.stages.iter().any(|stage| stage.name.key == key)
            || self.side_mixes.iter().any(|side_mix| side_mix.key == key);
        let figure = if plain && !is_own { Figure::read(key) } else { None };
        Some((figure, within))
    }

    /// The value of a figure for each choice of range ends, and of one piece for each kind
    /// that is made; none where it has none.
    pub fn figure(&self, figure: &Figure, within: Within) -> Option<Vec<Value>> {
        let mut values = Vec::new();
        for numbers in &self.choices {
            values.extend(self.figure_by_kind(numbers, figure, within)?);
        }
        Some(values)
    }

    /// The value of a figure for one choice of range ends; of one piece, for each kind.
    pub fn figure_by_kind(
        &self,
        numbers: &Numbers,
        figure: &Figure,
        within: Within,
    ) -> Option<Vec<Value>> {
        let kinds = self.kinds(numbers);
        if !figure.is_of_a_piece() || kinds.len() < 2 {
            return self.figure_of(numbers, figure, within).map(|value| vec![value]);
        }
        let of_kind = |(index, piece): (usize, &WorkedPiece)| {
            let amount = Figures::new(self, numbers, within).of_piece(index, piece);
            Some(Value { kind: figure.kind(), amount: amount.figure(figure, &Subject::default())? })
        };
        kinds.iter().enumerate().map(of_kind).collect()
    }

    /// The value of a figure for one choice of range ends; of one piece, of the first kind.
    pub fn figure_of(&self, numbers: &Numbers, figure: &Figure, within: Within) -> Option<Value> {
        let amount = Figures::new(self, numbers, within).figure(figure, &Subject::default())?;
        Some(Value { kind: figure.kind(), amount })
    }

    /// What a text asks for between square brackets, for each choice of range ends and each
    /// kind of piece.
    pub fn ask(&self, what: &Target, place: Option<&Name>) -> Option<Vec<Value>> {
        let (figure, within) = self.asked(what, place)?;
        match figure {
            Some(figure) if !matches!(figure, Figure::Class(_)) => self.figure(&figure, within),
            figure => {
                let kind = ValueKind::Mass;
                let amount = |numbers| {
                    told(self, numbers, figure.as_ref(), what, within, &Subject::default())
                };
                let value = |numbers| Some(Value { kind, amount: amount(numbers)? });
                self.choices.iter().map(value).collect()
            }
        }
    }

    /// The same in one place, for one choice of range ends.
    pub fn ask_within(&self, numbers: &Numbers, what: &Target, within: Within) -> Option<Value> {
        let figure = Figure::read(&what.name.key).filter(|_| what.role.is_none());
        let kind = figure.as_ref().map_or(ValueKind::Mass, Figure::kind);
        let amount = told(self, numbers, figure.as_ref(), what, within, &Subject::default())?;
        Some(Value { kind, amount })
    }

    /// The weight of the lines that bear a name, in grams, in a mix or in all of the dough.
    pub fn line_mass(
        &self,
        numbers: &Numbers,
        key: &str,
        role: Option<&str>,
        within: Within,
    ) -> Option<Exact> {
        Figures::new(self, numbers, within).named(key, role, &Subject::default())
    }

    /// The weight of a class on the lines of a mix itself, in grams; all of it where no mix
    /// is named.
    pub fn class_lines(&self, numbers: &Numbers, class: Class, within: Within) -> Exact {
        Figures::new(self, numbers, within).class_lines(class, &Subject::default())
    }

    /// Grams of one piece out of the oven, with what it carries; none where its loss is not
    /// known.
    pub fn as_eaten(&self, numbers: &Numbers, piece: &WorkedPiece) -> Option<Exact> {
        Figures::new(self, numbers, Within::Pieces).of_piece(0, piece).as_eaten(Subject::default)
    }

    /// Why a figure, an ingredient or a stage has the value it has; none where the
    /// formula has nothing of that name. At the low ends of all ranges.
    pub fn why(&self, what: &Target, place: Option<&Name>) -> Option<Reason> {
        self.why_at(self.first(), what, place)
    }

    fn why_at(&self, numbers: &Numbers, what: &Target, place: Option<&Name>) -> Option<Reason> {
        let (figure, within) = self.asked(what, place)?;
        told(self, numbers, figure.as_ref(), what, within, &label(what, place))
    }

    /// Why a figure has the value it has; of one piece, for each kind that is made.
    pub fn why_each(&self, what: &Target, place: Option<&Name>) -> Vec<Reason> {
        let numbers = self.first();
        let pieces = self.kinds(numbers);
        match self.asked(what, place) {
            Some((Some(figure), within)) if figure.is_of_a_piece() && pieces.len() > 1 => {
                let of_kind = |(kind, piece): (usize, &WorkedPiece)| {
                    let what = label(what, place).of(&piece.made.kind);
                    let figures = Figures::new(self, numbers, within).of_piece(kind, piece);
                    figures.figure(&figure, &what)
                };
                pieces.iter().enumerate().filter_map(of_kind).collect()
            }
            _ => self.why(what, place).into_iter().collect(),
        }
    }

    /// Why an ingredient, a stage or a class is the percentage it is of the flour of its
    /// mix; none where the formula has nothing of that name, or no flour.
    pub fn why_percent(&self, what: &Target, place: Option<&Name>) -> Option<Reason> {
        self.percent_at(self.first(), what, place)
    }

    fn percent_at(&self, numbers: &Numbers, what: &Target, place: Option<&Name>) -> Option<Reason> {
        let (figure, within) = self.asked(what, place)?;
        // Ice is a part of the water, and a piece no part of the flour.
        if !matches!(figure, None | Some(Figure::Class(_) | Figure::Flour | Figure::Dough)) {
            return None;
        }
        let mass = self.why_at(numbers, what, place)?;
        let mass = Some(mass).filter(|mass| mass.kind == ValueKind::Mass)?;
        let flour = Origin::new(self, numbers).per_cent_of(within);
        Reason::ratio_of(Subject::PerCent(Box::new(label(what, place))), mass, flour)
    }

    /// Why something is the share it is of all flour, of the flour added in the dough or of
    /// the whole dough; none where the formula has nothing of that name or no such base.
    pub fn why_share_of(&self, what: &Target, place: Option<&Name>, base: &Base) -> Option<Reason> {
        self.share_at(self.first(), what, place, base)
    }

    fn share_at(
        &self,
        numbers: &Numbers,
        what: &Target,
        place: Option<&Name>,
        base: &Base,
    ) -> Option<Reason> {
        let origin = Origin::new(self, numbers);
        let (below, share_base) = match base {
            Base::Flour => (origin.class(Class::Flour, Within::All), ShareBase::AllFlour),
            Base::AddedFlour => (origin.per_cent_of(Within::FinalDough), ShareBase::AddedFlour),
            Base::Dough => (origin.dough(Within::All), ShareBase::WholeDough),
            Base::BaseDough | Base::Of(_) => return None,
        };
        // The home convention looks at the water of the dough's own lines.
        let home = matches!(base, Base::AddedFlour)
            && Figure::read(&what.name.key) == Some(Figure::Hydration)
            && place.is_none();
        let above = match home {
            true => Figures::new(self, numbers, Within::FinalDough)
                .class_lines(Class::Water, &Topic::WaterInDough.into()),
            false => {
                let above = self.why_at(numbers, what, place)?;
                Some(above).filter(|above| above.kind == ValueKind::Mass)?
            }
        };
        Reason::ratio_of(Subject::ShareOf(Box::new(label(what, place)), share_base), above, below)
    }

    /// What a question of a text comes to, for each choice of range ends and each kind of
    /// piece; none where the formula has no such thing.
    pub fn answer(&self, question: &Question) -> Option<Vec<Value>> {
        let Question { what, place, measure } = question;
        let place = place.as_ref();
        let each = |share: &dyn Fn(&Numbers) -> Option<Reason>| {
            let value = |numbers| {
                let reason = share(numbers)?;
                Some(Value { kind: reason.kind, amount: reason.amount })
            };
            self.choices.iter().map(value).collect::<Option<Vec<_>>>()
        };
        match measure {
            Measure::Itself => self.ask(what, place),
            // A figure that is a share by itself needs no other.
            Measure::Percent => each(&|numbers| self.percent_at(numbers, what, place))
                .or_else(|| self.ask(what, place).filter(|all| is_share(all))),
            Measure::Of(base) => each(&|numbers| self.share_at(numbers, what, place, base)),
        }
    }

    /// The kind of piece that a question asks the number of: `loaves`, `loaf`.
    pub fn pieces_called(&self, question: &Question) -> Option<&WorkedPiece> {
        let Question { what, place: None, measure: Measure::Itself } = question else {
            return None;
        };
        let mut made = self.first().pieces.iter();
        let found = made.find(|piece| is_kind(&piece.made.key, &what.name.key));
        found.filter(|_| what.role.is_none())
    }
}

fn is_share(values: &[Value]) -> bool {
    values.iter().all(|value| value.kind == ValueKind::Share)
}

/// A figure, or the weight of what the formula names itself, in one place; `label` is what
/// its reason calls it.
fn told<T: Term>(
    worked: &Worked,
    numbers: &Numbers,
    figure: Option<&Figure>,
    what: &Target,
    within: Within,
    label: &Subject,
) -> Option<T> {
    let figures = Figures::new(worked, numbers, within);
    match figure {
        Some(Figure::Class(class)) => Some(figures.class_lines(*class, label)),
        Some(figure) => figures.figure(figure, label),
        None => {
            let role = what.role.as_ref().map(|role| role.shown.as_str());
            figures.named(&what.name.key, role, label)
        }
    }
}

fn label(what: &Target, place: Option<&Name>) -> Subject {
    let mut label = Subject::from(&what.name.shown);
    if let Some(role) = &what.role {
        label = Subject::InRole(Box::new(label), role.shown.clone());
    }
    match place {
        Some(place) => label.inside(&place.shown),
        None => label,
    }
}
