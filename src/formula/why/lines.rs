//! Why a line weighs what it weighs, and how large stages, pieces and doughs are.

use super::{How, Reason, Why};
use crate::formula::class::Class;
use crate::formula::content::Substance;
use crate::formula::figure::Kind;
use crate::formula::mixing::Goes;
use crate::formula::solve::main_mix;
use crate::formula::worked::{Anchor, Within, WorkedLine, WorkedPiece, is_kind};
use crate::quantity::{Dimension, Exact, Unit};
use crate::source::Span;
use crate::syntax::tree::{Amount, Base, Line, Mix, Quantity, Size, Target};

impl Why<'_, '_> {
    /// An ingredient, a culture or a stage by its name.
    pub(super) fn named(&self, what: &Target, within: Within, label: &str) -> Option<Reason> {
        let (numbers, formula) = (self.worked.first(), &self.worked.formula);
        let key = what.name.key.as_str();
        let role = what.role.as_ref().map(|role| role.shown.as_str());
        let amount = self.worked.line_mass(numbers, key, role, within)?;
        let id = self.house.ingredient_id(key);
        let all = within == Within::All && role.is_none();
        if let (true, Some(stage)) =
            (all, formula.stages.iter().position(|stage| stage.name.key == key))
        {
            return Some(Reason { what: label.to_owned(), ..self.stage(stage) });
        }
        if let (true, Some(id)) =
            (all, id.filter(|id| numbers.whole.get(Substance::Ingredient(*id)).is_some()))
        {
            let is_it = |own| own == id;
            let wanted = super::mixes::Wanted { word: key, is_it: &is_it };
            return Some(Reason::sum(label, self.parts(&wanted, within)));
        }
        if let (Within::Pieces, Some(id), None) = (within, id, role)
            && self.worked.content(numbers, within).get(Substance::Ingredient(id)).is_some()
        {
            let is_it = |own| own == id;
            let wanted = super::mixes::Wanted { word: key, is_it: &is_it };
            return Some(Reason::sum(label, self.parts(&wanted, within)));
        }
        let is_it = |line: &WorkedLine| {
            let same = line.key == key
                || matches!((line.goes, id), (Goes::Ingredient(own), Some(id)) if own == id);
            let same_role = role.is_none_or(|role| {
                line.role.as_deref().is_some_and(|own| own.eq_ignore_ascii_case(role))
            });
            same && same_role
        };
        let parts = match within {
            Within::Pieces => {
                let pieces = numbers.pieces.iter();
                let on = pieces.flat_map(|piece| piece.lines.iter().map(move |line| (piece, line)));
                on.filter(|(_, line)| is_it(line))
                    .map(|(piece, line)| {
                        let parts = vec![self.line(line, None, within), self.count(piece)];
                        let what = format!("{} on {}", line.name, piece.made.kind);
                        Reason::product(what, Kind::Mass, parts)
                    })
                    .collect()
            }
            Within::Blend(_) => {
                return Some(Reason::words(label, amount, Kind::Mass, "its part of the mixture"));
            }
            _ => {
                let mut lines = self.lines(within);
                let own = lines.iter().any(|(line, _)| is_it(line));
                // In dough form stages have lines of their own; in a total only what
                // stands on none of its lines.
                if within == Within::All && role.is_none() && (formula.total.is_none() || !own) {
                    for stage in 0..formula.stages.len() {
                        lines.extend(self.lines(Within::Stage(stage)));
                    }
                }
                let lines = lines.into_iter().filter(|(line, _)| is_it(line));
                lines.map(|(line, mix)| self.line(line, mix, within)).collect()
            }
        };
        Some(Reason::sum(label, parts))
    }

    /// The lines of a mix: of a total, those of the total.
    pub(super) fn lines(&self, within: Within) -> Vec<(&WorkedLine, Option<&Mix>)> {
        let (numbers, formula) = (self.worked.first(), &self.worked.formula);
        match within {
            Within::Stage(stage) => {
                let mix = &formula.stages[stage].mix;
                numbers.stages[stage].lines.iter().map(|line| (line, Some(mix))).collect()
            }
            Within::All if formula.total.is_some() => {
                numbers.total_lines.iter().map(|line| (line, formula.total.as_ref())).collect()
            }
            _ => numbers.dough_lines.iter().map(|line| (line, main_mix(formula))).collect(),
        }
    }

    pub(super) fn count(&self, piece: &WorkedPiece) -> Reason {
        let made = &piece.made;
        let count = Reason::new(made.kind.as_str(), made.count.clone(), Kind::Number, How::Written);
        match &self.worked.formula.makes {
            Some(makes) => count.at(makes.span),
            None => count,
        }
    }

    /// How heavy a mix is.
    pub(super) fn dough(&self, within: Within) -> Reason {
        let (numbers, formula) = (self.worked.first(), &self.worked.formula);
        match within {
            Within::Stage(stage) => {
                let what = format!("dough in {}", formula.stages[stage].name.shown);
                return self.made(stage, what);
            }
            Within::All | Within::FinalDough => {}
            Within::Pieces | Within::Blend(_) => {
                let is_it = |_| true;
                let wanted = super::mixes::Wanted { word: "dough", is_it: &is_it };
                return Reason::sum(self.word_in("dough", within), self.parts(&wanted, within));
            }
        }
        let amount = numbers.whole.mass();
        match (numbers.anchor, &formula.makes) {
            (Anchor::Makes, Some(makes)) => {
                if let Some(dough) = &makes.dough {
                    return Reason::new("dough", amount, Kind::Mass, How::Written).at(dough.span);
                }
                // Without a weight for each piece it is made from something that is weighed.
                if makes.from.is_none() || numbers.pieces.iter().all(|piece| piece.made.written) {
                    let pieces = numbers.pieces.iter().enumerate();
                    let parts = pieces.map(|(index, piece)| self.dough_of_kind(index, piece));
                    let mut parts: Vec<Reason> = parts.collect();
                    if !parts.is_empty() {
                        parts.extend(self.going_back());
                        return Reason::sum("dough", parts).at(makes.span);
                    }
                }
            }
            (Anchor::Pieces, _) => {
                let is_it = |_| true;
                let wanted = super::mixes::Wanted { word: "dough", is_it: &is_it };
                return Reason::sum("dough", self.parts(&wanted, Within::All));
            }
            (Anchor::Default, _) => {
                let how =
                    How::Default("nothing says how much is made, so it is for a kilogram of flour");
                return Reason::new("dough", amount, Kind::Mass, how);
            }
            _ => {}
        }
        let is_total = formula.total.is_some();
        let sizes_only = |line: &WorkedLine, mix: Option<&Mix>| {
            let declared = line.line.and_then(|index| mix?.lines.get(index));
            let split = declared.is_none_or(|line| {
                !matches!(line.counting, crate::syntax::tree::Counting::NotSplit)
            });
            match line.goes {
                Goes::Stage(_) | Goes::OldDough => is_total,
                Goes::Culture(_) => is_total && split,
                _ => false,
            }
        };
        let mut parts: Vec<Reason> = self
            .lines(Within::All)
            .into_iter()
            .filter(|(line, mix)| !sizes_only(line, *mix) && !line.mass.is_zero())
            .map(|(line, mix)| self.line(line, mix, Within::All))
            .collect();
        let is_it = |_| true;
        parts.extend(self.unlisted(&super::mixes::Wanted { word: "dough", is_it: &is_it }));
        Reason::sum("dough", parts)
    }

    /// What of the finished dough is kept for the next one.
    fn going_back(&self) -> Vec<Reason> {
        let numbers = self.worked.first();
        let parts = [
            ("kept back", &numbers.kept_back, "the next old dough"),
            ("saved", &numbers.saved, "for the next time"),
        ];
        let some = parts.into_iter().filter(|(_, mass, _)| !mass.is_zero());
        some.map(|(what, mass, why)| Reason::words(what, mass.clone(), Kind::Mass, why)).collect()
    }

    /// The dough for all pieces of a kind, with what is lost in making them up.
    fn dough_of_kind(&self, index: usize, piece: &WorkedPiece) -> Reason {
        let what = format!("dough for {}", piece.made.kind);
        let made = vec![self.count(piece), self.piece(index, piece)];
        let made = Reason::product(what.as_str(), Kind::Mass, made);
        let loss = &piece.made.make_up_loss;
        if loss.is_zero() {
            return made;
        }
        let made = Reason { what: format!("{what}, made up"), ..made };
        let left = self.left_after("make-up loss", loss, self.loss_place(piece, false));
        let amount = &made.amount / &left.amount;
        Reason::new(what, amount, Kind::Mass, How::Ratio).of(vec![made, left])
    }

    /// What a loss leaves of one.
    pub(super) fn left_after(&self, name: &str, loss: &Exact, place: Option<Span>) -> Reason {
        let lost = Reason::new(name, loss.clone(), Kind::Share, How::Written);
        let lost = Reason { place, ..lost };
        let whole = Reason::new("the whole", Exact::ONE, Kind::Share, How::Written);
        Reason::less(format!("left after {name}"), Kind::Share, whole, lost)
    }

    /// Where the loss of a kind of piece is written, in the oven or in making up.
    pub(super) fn loss_place(&self, piece: &WorkedPiece, bake: bool) -> Option<Span> {
        let formula = &self.worked.formula;
        let of = |own: &crate::syntax::tree::Piece| {
            let loss = if bake { &own.bake_loss } else { &own.make_up_loss };
            loss.as_ref().map(|loss| loss.span)
        };
        let mut own = formula.pieces.iter().filter(|own| {
            own.kind.as_ref().is_some_and(|kind| is_kind(&kind.key, &piece.made.key))
        });
        let mut all = formula.pieces.iter().filter(|own| own.kind.is_none());
        let whole = if bake { &formula.bake_loss } else { &formula.make_up_loss };
        let whole = whole.as_ref().map(|loss| loss.span);
        own.find_map(of).or_else(|| all.find_map(of)).or(whole)
    }

    /// The dough of one piece.
    pub(super) fn piece(&self, index: usize, piece: &WorkedPiece) -> Reason {
        let made = &piece.made;
        let amount = made.weight.clone();
        let what = "dough of one";
        let makes = self.worked.formula.makes.as_ref();
        let declared = makes.and_then(|makes| makes.pieces.get(index));
        let Some(declared) = declared else {
            return Reason::new(what, amount, Kind::Mass, How::Written);
        };
        let ratio = |above: Reason, below: Reason| {
            let reason = Reason::new(what, &above.amount / &below.amount, Kind::Mass, How::Ratio);
            reason.of(vec![above, below]).at(declared.span)
        };
        let tin = declared.tin.as_ref().and_then(|tin| self.house.tin(&tin.key));
        match (&declared.weight, &made.loss, tin) {
            (Some(weight), Some(loss), _) if declared.baked => {
                let baked = self.base(weight);
                let baked = Reason::new("baked weight", baked, Kind::Mass, How::Written);
                let left = self.left_after("bake loss", loss, self.loss_place(piece, true));
                let plain = ratio(baked.at(weight.span), left);
                let more = &amount - &plain.amount;
                if more.is_zero() {
                    return plain;
                }
                let plain = Reason { what: "baked weight before the oven".into(), ..plain };
                let why = "so that the scale shows it and no piece is too light";
                let more = Reason::words("rounded up", more, Kind::Mass, why);
                Reason::sum(what, vec![plain, more]).at(declared.span)
            }
            (Some(weight), ..) => {
                Reason::new(what, amount, Kind::Mass, How::Written).at(weight.span)
            }
            (None, _, Some(known)) => {
                let holds = format!("millilitres of {}", known.name.shown);
                let holds =
                    Reason::new(holds, known.millilitres.clone(), Kind::Number, How::Written);
                let how = match known.ml_per_gram {
                    Some(_) => How::Written,
                    None => How::Default("common practice; a tin may say its own"),
                };
                let ml = known.ml_for_a_gram();
                let ml = Reason::new("millilitres for a gram of dough", ml, Kind::Number, how);
                ratio(holds.at(known.name.span), ml.at(known.name.span))
            }
            _ => {
                let why = "what the dough gives, shared out";
                Reason::words(what, amount, Kind::Mass, why).at(declared.span)
            }
        }
    }

    /// All that is put into a stage.
    fn made(&self, stage: usize, what: String) -> Reason {
        let declared = &self.worked.formula.stages[stage];
        let lines = self.worked.first().stages[stage].lines.iter();
        let lines = lines.filter(|line| !line.mass.is_zero());
        let parts = lines.map(|line| self.line(line, Some(&declared.mix), Within::Stage(stage)));
        Reason::sum(what, parts.collect()).at(declared.name.span)
    }

    /// How much of a stage goes into the dough; of one that only others use, how much goes
    /// on.
    fn stage(&self, stage: usize) -> Reason {
        let (numbers, formula) = (self.worked.first(), &self.worked.formula);
        let (declared, worked) = (&formula.stages[stage], &numbers.stages[stage]);
        let name = declared.name.shown.as_str();
        let made = self.made(stage, name.to_owned());
        let mut parts = made.parts;
        let mut less = |what: &str, mass: Exact, why: &str| {
            if !mass.is_zero() {
                parts.push(Reason::words(what, -mass, Kind::Mass, why));
            }
        };
        let kept = self.worked.kept_back(numbers, stage);
        let lost = &worked.made - &kept - &worked.saved - worked.goes_on.mass();
        less("kept back", kept, "as much ripe stage as the seed weighed");
        less("boils away", lost, "water that is lost");
        less("saved", worked.saved.clone(), "for the next time");
        if !worked.into_dough.is_zero() {
            // Of one that only others use, this is what they use.
            for (user, other) in formula.stages.iter().zip(&numbers.stages) {
                let used = other.lines.iter().filter(|line| line.goes == Goes::Stage(stage));
                let mass = used.fold(Exact::ZERO, |sum, line| sum + &line.mass);
                less(&format!("goes into {}", user.name.shown), mass, "a line there");
            }
        }
        let left = numbers.left_over.iter().filter(|(own, _)| *own == stage);
        let left = left.fold(Exact::ZERO, |sum, (_, mass)| sum + mass);
        less("left over", left, "nothing uses it");
        Reason::sum(name, parts).at(declared.name.span)
    }

    /// The flour that the percentages in a mix are of, as a table prints them.
    pub(super) fn per_cent_of(&self, within: Within) -> Reason {
        match within {
            Within::Stage(_) => self.basis(within),
            Within::FinalDough => {
                let lines = self.lines(Within::FinalDough).into_iter();
                let flours = lines.filter(|(line, _)| {
                    matches!(line.goes, Goes::Ingredient(id) if self.class_of(id) == Class::Flour)
                });
                let flours = flours.map(|(line, mix)| self.line(line, mix, within));
                Reason::sum("flour added in the dough", flours.collect())
            }
            _ => self.class(Class::Flour, Within::All),
        }
    }

    /// The flour that per cent in a mix are of.
    pub(super) fn basis(&self, within: Within) -> Reason {
        let amount = match within {
            Within::Stage(stage) => self.worked.first().stages[stage].basis.clone(),
            _ => self.worked.first().basis.clone(),
        };
        let size = match within {
            Within::Stage(stage) => self.worked.formula.stages[stage].sizes.first(),
            _ => None,
        };
        let place = match within {
            Within::Stage(stage) => {
                let declared = &self.worked.formula.stages[stage];
                Some(size.map_or(declared.name.span, |size| size.span))
            }
            _ => self.worked.formula.makes.as_ref().map(|makes| makes.span),
        };
        let words = |words: &str| How::Words(words.into());
        let how = match (within, size.map(|size| &size.size), self.worked.first().anchor) {
            (_, Some(Size::OfFlour(_)), _) => {
                words("so much that the flour going on is that share of all the flour")
            }
            (_, Some(Size::Weighs(_)), _) => words("so much that the stage weighs what it says"),
            (Within::Stage(_), ..) => words("for those who use the stage"),
            (_, _, Anchor::Default) => How::Default("nothing says how much is made"),
            (_, _, Anchor::Makes) => words("for what the formula makes"),
            _ => words("by the weights that are written"),
        };
        Reason { place, ..Reason::new("flour of this mix", amount, Kind::Mass, how) }
    }

    /// Why a line weighs what it weighs.
    pub(super) fn line(&self, line: &WorkedLine, mix: Option<&Mix>, within: Within) -> Reason {
        let declared = line.line.and_then(|index| mix?.lines.get(index));
        let mut what = line.name.to_string();
        if let Some(role) = &line.role {
            what = format!("{what} ({role})");
        }
        let Some(declared) = declared else {
            let why = match within {
                Within::Pieces => "on one piece",
                _ => "what the stage makes for the dough",
            };
            return Reason::words(what, line.mass.clone(), Kind::Mass, why);
        };
        // In the final dough of a total, what the stages took is gone.
        let is_final = within == Within::FinalDough && self.worked.formula.total.is_some();
        let total = self.worked.first().total_lines.iter().find(|total| total.line == line.line);
        if let (true, Some(total)) = (is_final, total) {
            let whole = self.line(total, mix, Within::All);
            let taken = &whole.amount - &line.mass;
            let why = "what the stages take";
            let taken = Reason::words("taken by stages", taken, Kind::Mass, why);
            let reason = Reason::less(what, Kind::Mass, whole, taken);
            return reason.at(declared.span);
        }
        let reason = Reason::new(what, line.mass.clone(), Kind::Mass, How::Written);
        self.amount(reason.at(declared.amount_span), line, declared, within)
    }

    fn amount(&self, reason: Reason, line: &WorkedLine, declared: &Line, within: Within) -> Reason {
        let words = |words: &str| How::Words(words.into());
        match &declared.amount {
            Amount::Measured { range, base } => {
                let Some(quantity) = range.low.as_ref().or(range.high.as_ref()) else {
                    return reason;
                };
                match quantity.unit.dimension() {
                    Dimension::Share => self.percentage(reason, quantity, base.as_deref(), within),
                    Dimension::Part if !quantity.number.is_zero() => {
                        let one = &reason.amount / &quantity.number;
                        let number = quantity.number.clone();
                        let parts = Reason::new("parts", number, Kind::Number, How::Written);
                        let why = "for the size of the mix";
                        let one = Reason::words("one part", one, Kind::Mass, why);
                        Reason { how: How::Product, ..reason }
                            .of(vec![parts.at(quantity.span), one])
                    }
                    _ => self.weighed(reason, line, quantity),
                }
            }
            Amount::Rest => Reason { how: words("what is missing to 100 %"), ..reason },
            Amount::All => Reason { how: words("all that is made of it"), ..reason },
            _ => Reason { how: words("too little to count"), ..reason },
        }
    }

    fn percentage(
        &self,
        reason: Reason,
        quantity: &Quantity,
        base: Option<&Base>,
        within: Within,
    ) -> Reason {
        let share = self.base(quantity);
        if share.is_zero() {
            return reason;
        }
        let of_total = match within {
            Within::Stage(stage) => {
                let sizes = &self.worked.formula.stages[stage].sizes;
                sizes.iter().any(|size| matches!(size.size, Size::OfTotal))
            }
            _ => false,
        };
        let whole = &reason.amount / &share;
        let of = match base {
            Some(Base::Dough) => "the whole dough",
            Some(Base::BaseDough) => "the rest of this mix",
            Some(Base::Of(_)) => "what it names",
            Some(Base::Flour) => "all flour",
            None if of_total && self.worked.formula.total.is_some() => "the flour of the total",
            None if of_total => "all flour",
            Some(Base::AddedFlour) | None => match within {
                Within::Stage(_) => "flour new in this stage",
                _ => "flour",
            },
        };
        let own = self.basis(within);
        let is_own = matches!(base, None | Some(Base::AddedFlour)) && !of_total;
        let base = match is_own && own.amount == whole {
            true => Reason { what: of.into(), ..own },
            false if is_own => {
                // Where a total is rounded, a stage gets what there is.
                let how = How::Words("all that the total leaves for it".into());
                return Reason { how, ..reason };
            }
            false => Reason::words(of, whole, Kind::Mass, "what these per cent are of"),
        };
        let written = Reason::new("written", share, Kind::Share, How::Written);
        Reason { how: How::Product, ..reason }.of(vec![written.at(quantity.span), base])
    }

    /// A weight, a spoon or a count, and how much larger it is made than written.
    fn weighed(&self, reason: Reason, line: &WorkedLine, quantity: &Quantity) -> Reason {
        let ingredient = match line.goes {
            Goes::Ingredient(id) => Some(self.house.ingredient(id)),
            _ => None,
        };
        let number = self.base(quantity);
        let each = match quantity.unit.dimension() {
            Dimension::Volume => ingredient.and_then(|own| own.grams_per_ml.clone()),
            Dimension::Count => ingredient.and_then(|own| own.each.clone()),
            _ => None,
        };
        let mut parts = match (&each, ingredient) {
            (Some(each), Some(ingredient)) => {
                let (what, of) = match quantity.unit {
                    Unit::Count => ("pieces", "grams of one"),
                    _ => ("millilitres", "grams of a millilitre"),
                };
                let written = Reason::new(what, number.clone(), Kind::Number, How::Written);
                let each = Reason::new(of, each.clone(), Kind::Number, How::Written);
                vec![written.at(quantity.span), each.at(ingredient.name.span)]
            }
            _ => {
                let written = Reason::new("written", number.clone(), Kind::Mass, How::Written);
                vec![written.at(quantity.span)]
            }
        };
        let plain = each.map_or(number.clone(), |each| number * each);
        if plain == reason.amount {
            return match parts.len() {
                1 => reason,
                _ => Reason { how: How::Product, ..reason }.of(parts),
            };
        }
        if plain.is_zero() {
            return reason;
        }
        let times = &reason.amount / plain;
        parts.push(Reason::words(
            "how much larger it is made",
            times,
            Kind::Number,
            "for what is asked, saved or too little to handle",
        ));
        Reason { how: How::Product, ..reason }.of(parts)
    }
}
