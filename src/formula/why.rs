//! How a figure came about: a tree of reasons, down to the lines that were written.

use super::class::Class;
use super::content::IngredientId;
use super::content::Substance;
use super::figure::{Figure, Kind};
use super::house::House;
use super::mixing::Goes;
use super::solve::main_mix;
use super::worked::{Anchor, Within, Worked, WorkedLine};
use crate::quantity::{Exact, Unit, int};
use crate::source::Span;
use crate::syntax::tree::{Amount, Base, Line, Mix, Name, Quantity, Size, Target};

/// One step of a derivation.
#[derive(Clone, Debug)]
pub struct Reason {
    /// What it is: `hydration`, `water in levain`.
    pub what: String,
    pub amount: Exact,
    pub kind: Kind,
    /// How it follows from the parts.
    pub how: How,
    /// Where it is written.
    pub place: Option<Span>,
    pub parts: Vec<Reason>,
}

/// The arithmetic of a step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum How {
    /// The first part divided by the second.
    Ratio,
    /// The parts added up.
    Sum,
    /// The first part less the others.
    Difference,
    /// The parts multiplied.
    Product,
    /// As it is written.
    Written,
    /// Nobody said it: the program's own choice, and why.
    Default(&'static str),
    /// Told in words.
    Words(String),
}

impl Reason {
    fn new(what: impl Into<String>, amount: Exact, kind: Kind, how: How) -> Self {
        Self { what: what.into(), amount, kind, how, place: None, parts: Vec::new() }
    }

    fn at(mut self, place: Span) -> Self {
        self.place = Some(place);
        self
    }

    fn of(mut self, parts: Vec<Reason>) -> Self {
        self.parts = parts;
        self
    }

    fn ratio(what: impl Into<String>, above: Reason, below: Reason) -> Option<Self> {
        if below.amount.is_zero() {
            return None;
        }
        let amount = &above.amount / &below.amount;
        Some(Self::new(what, amount, Kind::Share, How::Ratio).of(vec![above, below]))
    }

    fn sum(what: impl Into<String>, parts: Vec<Reason>) -> Self {
        let amount = parts.iter().fold(Exact::ZERO, |sum, part| sum + &part.amount);
        Self::new(what, amount, Kind::Mass, How::Sum).of(parts)
    }
}

impl Worked<'_> {
    /// Why a figure, an ingredient or a stage has the value it has; none where the
    /// formula has nothing of that name. At the low ends of all ranges.
    pub fn why(&self, house: &House, what: &Target, place: Option<&Name>) -> Option<Reason> {
        let within = match place {
            Some(place) => self.within(&place.key)?,
            None => Within::All,
        };
        let why = Why { worked: self, house };
        let key = what.name.key.as_str();
        match Figure::read(key).filter(|_| what.role.is_none()) {
            Some(figure) => why.figure(&figure, within, &label(what, place)),
            None => why.named(what, within, &label(what, place)),
        }
    }
}

fn label(what: &Target, place: Option<&Name>) -> String {
    let mut label = what.name.shown.to_string();
    if let Some(role) = &what.role {
        label = format!("{label} ({})", role.shown);
    }
    place.map_or(label.clone(), |place| format!("{label} in {}", place.shown))
}

struct Why<'a, 't> {
    worked: &'a Worked<'t>,
    house: &'a House<'t>,
}

impl Why<'_, '_> {
    fn figure(&self, figure: &Figure, within: Within, what: &str) -> Option<Reason> {
        let flour = || self.class(Class::Flour, within);
        match figure {
            Figure::Hydration => Reason::ratio(what, self.class(Class::Water, within), flour()),
            Figure::TotalPercentage => Reason::ratio(what, self.dough(within), flour()),
            Figure::DoughYield => {
                let parts = vec![flour(), self.class(Class::Water, within)];
                let reason = Reason::ratio(what, Reason::sum("flour and water", parts), flour())?;
                let amount = &reason.amount * int(100);
                Some(Reason { amount, kind: Kind::Number, ..reason })
            }
            Figure::Flour => Some(Reason { what: what.to_owned(), ..flour() }),
            Figure::Dough => Some(Reason { what: what.to_owned(), ..self.dough(within) }),
            Figure::Class(class) => {
                Some(Reason { what: what.to_owned(), ..self.class(*class, within) })
            }
            Figure::Liquids => {
                let wet = [Class::Water, Class::Liquid, Class::Dairy, Class::Egg];
                let liquids = self.water_of(within, |class| wet.contains(&class));
                Reason::ratio(what, Reason::sum("water of the liquids", liquids), flour())
            }
            Figure::EffectiveHydration => {
                let all = self.water_of(within, |class| class != Class::Flour);
                Reason::ratio(what, Reason::sum("water of all but the flour", all), flour())
            }
            Figure::PrefermentedFlour => Reason::ratio(what, self.fermented(), flour()),
            Figure::Inoculation => {
                let Within::Stage(stage) = within else { return None };
                let worked = &self.worked.first().stages[stage];
                let mix = &self.worked.formula.stages[stage].mix;
                let seeds =
                    worked.lines.iter().filter(|line| matches!(line.goes, Goes::Culture(_)));
                let seeds = seeds.map(|line| self.line(line, Some(mix), within)).collect();
                let basis = self.basis(within);
                Reason::ratio(what, Reason::sum("culture", seeds), basis)
            }
            _ => {
                let value =
                    self.worked.figure_of(self.house, self.worked.first(), figure, within)?;
                let makes = self.worked.formula.makes.as_ref();
                let loss = self.worked.formula.bake_loss.as_ref();
                let mut parts = Vec::new();
                if matches!(figure, Figure::PieceBaked) {
                    parts.extend(self.figure(&Figure::Piece, Within::All, "piece"));
                }
                if matches!(figure, Figure::PieceBaked | Figure::SaltAsEaten | Figure::BakeLoss)
                    && let Some(loss) = loss
                {
                    let share = self.base(loss);
                    let written = Reason::new("bake loss", share, Kind::Share, How::Written);
                    parts.push(written.at(loss.span));
                }
                let how = match figure {
                    Figure::PieceBaked => How::Words("the piece less what it loses".into()),
                    Figure::SaltAsEaten => {
                        parts.insert(0, self.class(Class::Salt, Within::All));
                        How::Words("all salt over the weight of the baked bread".into())
                    }
                    _ => How::Written,
                };
                let reason = Reason::new(what, value.amount, value.kind, how).of(parts);
                Some(match makes {
                    Some(makes) if matches!(figure, Figure::Pieces | Figure::Piece) => {
                        reason.at(makes.span)
                    }
                    _ => reason,
                })
            }
        }
    }

    fn base(&self, quantity: &Quantity) -> Exact {
        quantity.unit.to_base(&quantity.number, self.house.settings.measures)
    }

    /// An ingredient, a culture or a stage by its name.
    fn named(&self, what: &Target, within: Within, label: &str) -> Option<Reason> {
        let numbers = self.worked.first();
        let key = what.name.key.as_str();
        let role = what.role.as_ref().map(|role| role.shown.as_str());
        let amount = self.worked.line_mass(self.house, numbers, key, role, within)?;
        if let (Within::All, Some(id), None) = (within, self.house.ingredient_id(key), role) {
            let parts = self.ingredient(&|own| own == id, within);
            return Some(Reason::new(label, amount, Kind::Mass, How::Sum).of(parts));
        }
        if let Some(stage) =
            self.worked.formula.stages.iter().position(|stage| stage.name.key == key)
        {
            let reason = self.stage(stage);
            return Some(Reason { what: label.to_owned(), amount, ..reason });
        }
        let parts = self.lines(within).into_iter().filter(|(line, _)| line.key == key);
        let parts = parts.map(|(line, mix)| self.line(line, mix, within)).collect();
        Some(Reason::new(label, amount, Kind::Mass, How::Sum).of(parts))
    }

    fn lines(&self, within: Within) -> Vec<(&WorkedLine, Option<&Mix>)> {
        let (numbers, formula) = (self.worked.first(), &self.worked.formula);
        match within {
            Within::Stage(stage) => {
                let mix = &formula.stages[stage].mix;
                numbers.stages[stage].lines.iter().map(|line| (line, Some(mix))).collect()
            }
            Within::FinalDough => {
                numbers.dough_lines.iter().map(|line| (line, main_mix(formula))).collect()
            }
            Within::All if formula.total.is_some() => {
                numbers.total_lines.iter().map(|line| (line, formula.total.as_ref())).collect()
            }
            _ => numbers.dough_lines.iter().map(|line| (line, main_mix(formula))).collect(),
        }
    }

    /// All of a class that is in a mix.
    fn class(&self, class: Class, within: Within) -> Reason {
        let is_it = |id: IngredientId| match self.worked.is_flour(self.house, id) {
            true => class == Class::Flour,
            false => self.house.ingredient(id).class == class,
        };
        let word = match within {
            Within::Stage(stage) => {
                format!("{} in {}", class.word(), self.worked.formula.stages[stage].name.shown)
            }
            _ => class.word().to_owned(),
        };
        Reason::sum(word, self.ingredient(&is_it, within))
    }

    /// Where the mass of some ingredients in a mix comes from.
    fn ingredient(&self, is_it: &dyn Fn(IngredientId) -> bool, within: Within) -> Vec<Reason> {
        let numbers = self.worked.first();
        let mut parts = Vec::new();
        for (line, mix) in self.lines(within) {
            match line.goes {
                Goes::Ingredient(id) if is_it(id) => parts.push(self.line(line, mix, within)),
                // In total form stages only take from what is listed.
                Goes::Stage(stage) if self.takes(within) => {
                    let whole = numbers.stages[stage].goes_on.mass();
                    let share = if whole.is_zero() { whole } else { &line.mass / whole };
                    let inner = self.ingredient(is_it, Within::Stage(stage));
                    let amount = self.mass_in(is_it, &numbers.stages[stage].goes_on) * share;
                    if !amount.is_zero() {
                        let what = format!("by {}", line.name);
                        parts.push(Reason::new(what, amount, Kind::Mass, How::Sum).of(inner));
                    }
                }
                Goes::Culture(id) if self.takes(within) => {
                    let culture = self.house.culture(id);
                    let amount = self.mass_in(is_it, &culture.per_gram) * &line.mass;
                    if !amount.is_zero() {
                        let how = How::Words("its part of the culture".into());
                        let what = format!("by {}", line.name);
                        let reason = Reason::new(what, amount, Kind::Mass, how);
                        let own = self.line(line, mix, within);
                        parts.push(reason.at(culture.name.span).of(vec![own]));
                    }
                }
                Goes::OldDough if self.takes(within) => {
                    let whole = numbers.whole.mass();
                    let share = if whole.is_zero() { whole } else { &line.mass / whole };
                    let amount = self.mass_in(is_it, &numbers.whole) * share;
                    let how = How::Words("its part of the dough it is kept from".into());
                    let reason = Reason::new("by old dough", amount, Kind::Mass, how);
                    parts.push(reason.of(vec![self.line(line, mix, within)]));
                }
                Goes::Blend(blend) => {
                    let blend = &self.worked.blends[blend];
                    let amount = self.mass_in(is_it, &blend.per_gram) * &line.mass;
                    if !amount.is_zero() {
                        let how = How::Words("its part of the mixture".into());
                        parts.push(Reason::new(
                            format!("by {}", line.name),
                            amount,
                            Kind::Mass,
                            how,
                        ));
                    }
                }
                _ => {}
            }
        }
        if matches!(within, Within::All | Within::FinalDough) {
            for (substance, mass) in numbers.unlisted.iter() {
                if let Substance::Ingredient(id) = substance
                    && is_it(id)
                {
                    let what = format!(
                        "{} that only a culture brings",
                        self.house.ingredient(id).name.shown
                    );
                    let how = How::Words("it is on no line of the total".into());
                    parts.push(Reason::new(what, mass.clone(), Kind::Mass, how));
                }
            }
        }
        parts
    }

    /// Whether stages and cultures add to what stands on the lines of a mix.
    fn takes(&self, within: Within) -> bool {
        matches!(within, Within::Stage(_)) || self.worked.formula.total.is_none()
    }

    fn mass_in(
        &self,
        is_it: &dyn Fn(IngredientId) -> bool,
        content: &super::content::Content,
    ) -> Exact {
        super::worked::sum_of(content, |id| is_it(id).then_some(Exact::ONE))
    }

    /// The water of some classes, ingredient by ingredient.
    fn water_of(&self, within: Within, wanted: impl Fn(Class) -> bool) -> Vec<Reason> {
        let content = self.worked.content(self.house, self.worked.first(), within);
        let parts = content.iter().filter_map(|(substance, mass)| {
            let Substance::Ingredient(id) = substance else { return None };
            let ingredient = self.house.ingredient(id);
            let flour = self.worked.is_flour(self.house, id);
            let share = ingredient.water_share().filter(|share| !share.is_zero())?;
            if flour || !wanted(ingredient.class) {
                return None;
            }
            let name = &ingredient.name.shown;
            let own = Reason::new(name.as_str(), mass.clone(), Kind::Mass, How::Sum)
                .of(self.ingredient(&|own| own == id, within));
            let wet = Reason::new(
                format!("water share of {name}"),
                share.clone(),
                Kind::Share,
                How::Written,
            )
            .at(ingredient.name.span);
            let what = format!("water of {name}");
            Some(Reason::new(what, mass * share, Kind::Mass, How::Product).of(vec![own, wet]))
        });
        parts.collect()
    }

    fn fermented(&self) -> Reason {
        let numbers = self.worked.first();
        let parts = numbers.dough_lines.iter().filter_map(|line| match line.goes {
            Goes::Stage(stage) if self.worked.formula.stages[stage].kind.ferments() => {
                let flour = self.class(Class::Flour, Within::Stage(stage));
                let what = format!("flour that goes on in {}", line.name);
                let amount = self.worked.flour(self.house, &numbers.stages[stage].goes_on);
                Some(Reason { what, amount, ..flour })
            }
            Goes::Culture(id) => {
                let share = self.worked.flour(self.house, &self.house.culture(id).per_gram);
                let how = How::Words("its flour".into());
                let what = format!("flour by {}", line.name);
                Some(Reason::new(what, share * &line.mass, Kind::Mass, how))
            }
            _ => None,
        });
        let reason = Reason::sum("flour fermented before the dough", parts.collect());
        let amount = self.worked.fermented_flour(self.house, numbers);
        Reason { amount, ..reason }
    }

    /// How heavy a mix is.
    fn dough(&self, within: Within) -> Reason {
        if let Within::Stage(stage) = within {
            let reason = self.stage(stage);
            let amount = self.worked.first().stages[stage].made.clone();
            return Reason { what: format!("dough in {}", reason.what), amount, ..reason };
        }
        let numbers = self.worked.first();
        let amount = numbers.whole.mass();
        let formula = &self.worked.formula;
        match (numbers.anchor, &formula.makes) {
            (Anchor::Makes, Some(makes)) => {
                let parts = numbers.pieces.iter().map(|piece| {
                    let made = &piece.made;
                    let count = Reason::new(
                        made.kind.as_str(),
                        made.count.clone(),
                        Kind::Number,
                        How::Written,
                    );
                    let weight =
                        Reason::new("dough of one", made.weight.clone(), Kind::Mass, How::Written);
                    let mass = &made.weight * &made.count;
                    Reason::new(format!("dough for {}", made.kind), mass, Kind::Mass, How::Product)
                        .of(vec![count.at(makes.span), weight.at(makes.span)])
                });
                let how = How::Words("what it makes, and what is lost in making up".into());
                Reason::new("dough", amount, Kind::Mass, how).at(makes.span).of(parts.collect())
            }
            (Anchor::Default, _) => {
                let how =
                    How::Default("nothing says how much is made, so it is for a kilogram of flour");
                Reason::new("dough", amount, Kind::Mass, how)
            }
            _ => {
                let lines = self.lines(Within::All).into_iter();
                let sizes_only = |line: &WorkedLine| {
                    formula.total.is_some() && matches!(line.goes, Goes::Stage(_) | Goes::OldDough)
                };
                let parts = lines
                    .filter(|(line, _)| !sizes_only(line) && !line.mass.is_zero())
                    .map(|(line, mix)| self.line(line, mix, Within::All));
                Reason::new("dough", amount, Kind::Mass, How::Sum).of(parts.collect())
            }
        }
    }

    /// How large a stage is.
    fn stage(&self, stage: usize) -> Reason {
        let declared = &self.worked.formula.stages[stage];
        let worked = &self.worked.first().stages[stage];
        let within = Within::Stage(stage);
        let mut parts: Vec<Reason> =
            worked.lines.iter().map(|line| self.line(line, Some(&declared.mix), within)).collect();
        parts.retain(|part| !part.amount.is_zero());
        let reason = Reason::sum(declared.name.shown.as_str(), parts).at(declared.name.span);
        match declared.sizes.first().map(|size| (&size.size, size.span)) {
            Some((Size::OfFlour(_), span)) => {
                let flour = self.worked.flour(self.house, &worked.goes_on);
                let how = How::Words("its flour is that share of all the flour".into());
                let size = Reason::new("its size", flour, Kind::Mass, how).at(span);
                let mut parts = reason.parts;
                parts.push(size);
                let how = How::Words("its lines added up, for the size it is given".into());
                Reason { how, parts, ..reason }
            }
            _ => reason,
        }
    }

    /// The flour that per cent in a mix are of.
    fn basis(&self, within: Within) -> Reason {
        let amount = match within {
            Within::Stage(stage) => self.worked.first().stages[stage].basis.clone(),
            _ => self.worked.first().basis.clone(),
        };
        let place = match within {
            Within::Stage(stage) => {
                let declared = &self.worked.formula.stages[stage];
                Some(declared.sizes.first().map_or(declared.name.span, |size| size.span))
            }
            _ => self.worked.formula.makes.as_ref().map(|makes| makes.span),
        };
        let how = match (within, self.worked.first().anchor) {
            (Within::Stage(_), _) => How::Words("for the size of the stage".into()),
            (_, Anchor::Default) => How::Default("nothing says how much is made"),
            (_, Anchor::Makes) => How::Words("for what the formula makes".into()),
            _ => How::Words("by the weights that are written".into()),
        };
        Reason { place, ..Reason::new("flour of this mix", amount, Kind::Mass, how) }
    }

    /// Why a line weighs what it weighs.
    fn line(&self, line: &WorkedLine, mix: Option<&Mix>, within: Within) -> Reason {
        let declared = line.line.and_then(|index| mix?.lines.get(index));
        let mut what = line.name.to_string();
        if let Some(role) = &line.role {
            what = format!("{what} ({role})");
        }
        let Some(declared) = declared else {
            let how = How::Words("what the stage makes for the dough".into());
            return Reason::new(what, line.mass.clone(), Kind::Mass, how);
        };
        // In the final dough of a total, what the stages took is gone.
        if within == Within::FinalDough && self.worked.formula.total.is_some() {
            let total =
                self.worked.first().total_lines.iter().find(|total| total.line == line.line);
            if let Some(total) = total {
                let whole = self.line(total, mix, Within::All);
                let taken = &whole.amount - &line.mass;
                let how = How::Words("what the stages take".into());
                let taken = Reason::new("taken by stages", taken, Kind::Mass, how);
                return Reason::new(what, line.mass.clone(), Kind::Mass, How::Difference)
                    .at(declared.span)
                    .of(vec![whole, taken]);
            }
        }
        let reason = Reason::new(what, line.mass.clone(), Kind::Mass, How::Written);
        self.amount(reason.at(declared.amount_span), declared, within)
    }

    fn amount(&self, reason: Reason, declared: &Line, within: Within) -> Reason {
        match &declared.amount {
            Amount::Measured { range, base } => {
                let Some(quantity) = range.low.as_ref().or(range.high.as_ref()) else {
                    return reason;
                };
                let place = quantity.span;
                match (quantity.unit, base.as_deref()) {
                    (Unit::Percent, base) => {
                        let share = self.base(quantity);
                        let of = match base {
                            Some(Base::Dough) => "the dough",
                            Some(Base::BaseDough) => "the rest of this mix",
                            Some(Base::Of(_)) => "what it names",
                            Some(Base::Flour) => "all the flour",
                            Some(Base::AddedFlour) | None => match within {
                                Within::Stage(_) => "the flour new in this stage",
                                _ => "the flour",
                            },
                        };
                        let whole =
                            if share.is_zero() { share.clone() } else { &reason.amount / &share };
                        let written = Reason::new("written", share, Kind::Share, How::Written);
                        let own = matches!(base, None | Some(Base::Flour | Base::AddedFlour));
                        let base = match own {
                            true => Reason { amount: whole, what: of.into(), ..self.basis(within) },
                            false => {
                                let how = How::Words("what these per cent are of".into());
                                Reason::new(of, whole, Kind::Mass, how)
                            }
                        };
                        Reason { how: How::Product, ..reason }.of(vec![written.at(place), base])
                    }
                    (Unit::Part, _) => {
                        Reason { how: How::Words("its parts of the mix".into()), ..reason }
                    }
                    _ => reason,
                }
            }
            Amount::Rest => Reason { how: How::Words("what is missing to 100 %".into()), ..reason },
            Amount::All => Reason { how: How::Words("all that is made of it".into()), ..reason },
            _ => Reason { how: How::Words("too little to count".into()), ..reason },
        }
    }
}
