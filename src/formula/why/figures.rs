//! Why a figure has the value it has.

use super::mixes::Wanted;
use super::{How, Reason, Why};
use crate::formula::class::Class;
use crate::formula::content::{Content, IngredientId, Substance};
use crate::formula::figure::{Figure, Kind};
use crate::formula::house::Ingredient;
use crate::formula::mixing::Goes;
use crate::formula::worked::{Within, WorkedLine, WorkedPiece};
use crate::quantity::{Exact, int};

impl Why<'_, '_> {
    pub(super) fn figure(&self, figure: &Figure, within: Within, what: &str) -> Option<Reason> {
        let flour = || self.class(Class::Flour, within);
        let formula = &self.worked.formula;
        let pieces = self.worked.kinds(self.worked.first());
        match figure {
            Figure::Hydration => Reason::ratio(what, self.class(Class::Water, within), flour()),
            Figure::TotalPercentage => Reason::ratio(what, self.dough(within), flour()),
            Figure::DoughYield => {
                let parts = vec![flour(), self.class(Class::Water, within)];
                let ratio = Reason::ratio(
                    "parts of dough for one of flour",
                    Reason::sum("flour and water", parts),
                    flour(),
                )?;
                let hundred = Reason::new(
                    "for a hundred parts of flour",
                    int(100),
                    Kind::Number,
                    How::Written,
                );
                Some(Reason::product(what, Kind::Number, vec![ratio, hundred]))
            }
            Figure::Flour => Some(Reason { what: what.to_owned(), ..flour() }),
            Figure::Dough => Some(Reason { what: what.to_owned(), ..self.dough(within) }),
            Figure::Class(class) => Some(self.class_lines(*class, within, what)),
            Figure::Liquids => {
                let wet = [Class::Water, Class::Liquid, Class::Dairy, Class::Egg];
                let content = self.worked.content(self.worked.first(), within);
                let liquids = self.shares_of(&content, within, "water", |class, own| {
                    wet.contains(&class).then(|| own.water_share()).flatten()
                });
                Reason::ratio(what, Reason::sum("water of the liquids", liquids), flour())
            }
            Figure::EffectiveHydration => {
                let all = self.all_water(within);
                let water = Reason::sum("water of all but the flour", all);
                Reason::ratio(what, water, self.true_flour(within))
            }
            Figure::TrueHydration => {
                let mut parts = vec![self.class(Class::Water, within)];
                parts.extend(self.in_whole_cultures(within, Class::Water));
                let water = Reason::sum("all water", parts);
                Reason::ratio(what, water, self.true_flour(within))
            }
            Figure::PrefermentedFlour => Reason::ratio(what, self.fermented(within)?, flour()),
            Figure::Inoculation => {
                let Within::Stage(stage) = within else { return None };
                let worked = &self.worked.first().stages[stage];
                let mix = &formula.stages[stage].mix;
                let seeds = worked.lines.iter().filter(|line| self.worked.is_seed(line));
                let seeds = seeds.map(|line| self.line(line, Some(mix), within)).collect();
                Reason::ratio(what, Reason::sum("seed", seeds), self.basis(within))
            }
            Figure::YeastAsFresh => {
                let content = self.worked.content(self.worked.first(), within);
                let yeast = self.shares_of(
                    &content,
                    within,
                    "fresh yeast that stands for",
                    |class, own| (class == Class::Yeast).then(|| own.as_fresh_yeast()),
                );
                Reason::ratio(what, Reason::sum("yeast, as fresh", yeast), flour())
            }
            Figure::Leavening => {
                let parts =
                    vec![self.class(Class::Yeast, within), self.class(Class::Leavener, within)];
                Reason::ratio(what, Reason::sum("yeast and leaveners", parts), flour())
            }
            Figure::Pieces => {
                let counts: Vec<Reason> = pieces.iter().map(|piece| self.count(piece)).collect();
                let sum = (!counts.is_empty()).then(|| Reason::sum(what, counts))?;
                Some(Reason { kind: Kind::Number, ..sum })
            }
            Figure::Piece => {
                let piece = self.piece(self.kind, pieces.get(self.kind)?);
                Some(Reason { what: what.to_owned(), ..piece })
            }
            Figure::PieceBaked => self.baked(what, pieces.get(self.kind)?),
            Figure::PieceAsEaten => self.as_eaten(what, pieces.get(self.kind)?),
            Figure::BakeLoss | Figure::MakeUpLoss => {
                let values = self.worked.figure_by_kind(self.worked.first(), figure, within)?;
                let value = values.into_iter().nth(self.kind)?;
                let bake = *figure == Figure::BakeLoss;
                let whole = if bake { &formula.bake_loss } else { &formula.make_up_loss };
                let whole = whole.as_ref().map(|loss| loss.span);
                let of_kind = pieces.get(self.kind);
                let place = of_kind.and_then(|piece| self.loss_place(piece, bake)).or(whole);
                let reason = Reason::new(what, value.amount, Kind::Share, How::Written);
                Some(Reason { place, ..reason })
            }
            Figure::SaltAsEaten => {
                self.salt_as_eaten(what, &|id| Some(self.house.ingredient(id).salt.clone()))
            }
            Figure::SaltAsDeclared => {
                self.salt_as_eaten(what, &|id| self.house.ingredient(id).declared_salt.clone())
            }
            Figure::SaltElsewhere => {
                let content = self.worked.content(self.worked.first(), within);
                let salty = self.shares_of(&content, within, "salt", |class, own| {
                    (class != Class::Salt).then(|| own.salt.clone())
                });
                Reason::ratio(what, Reason::sum("salt in other ingredients", salty), flour())
            }
            Figure::WaterTemperature | Figure::Ice
                if !matches!(within, Within::All | Within::FinalDough) =>
            {
                None
            }
            Figure::WaterTemperature => Some(super::super::warmth(self.worked).ok()?.water),
            Figure::Ice => super::super::warmth(self.worked).ok()?.ice,
            Figure::Elapsed | Figure::HandsOn => None,
        }
    }

    /// A class in one mix is what its lines hold; anywhere else, all there is of it.
    pub(super) fn class_lines(&self, class: Class, within: Within, what: &str) -> Reason {
        if !matches!(within, Within::Stage(_) | Within::FinalDough) {
            return Reason { what: what.to_owned(), ..self.class(class, within) };
        }
        let is_it = |line: &WorkedLine| match line.goes {
            Goes::Ingredient(id) => self.class_of(id) == class,
            Goes::Culture(_) => class == Class::Culture,
            _ => false,
        };
        let lines = self.lines(within).into_iter().filter(|(line, _)| is_it(line));
        Reason::sum(what, lines.map(|(line, mix)| self.line(line, mix, within)).collect())
    }

    /// What shares of the ingredients in a content come to, ingredient by ingredient.
    fn shares_of(
        &self,
        content: &Content,
        within: Within,
        word: &str,
        share: impl Fn(Class, &Ingredient) -> Option<Exact>,
    ) -> Vec<Reason> {
        self.shares_of_each(content, within, word, |id| {
            share(self.class_of(id), self.house.ingredient(id))
        })
    }

    fn shares_of_each(
        &self,
        content: &Content,
        within: Within,
        word: &str,
        share: impl Fn(IngredientId) -> Option<Exact>,
    ) -> Vec<Reason> {
        let parts = content.iter().filter_map(|(substance, mass)| {
            let Substance::Ingredient(id) = substance else { return None };
            let ingredient = self.house.ingredient(id);
            let share = share(id).filter(|share| !share.is_zero())?;
            let name = ingredient.name.shown.as_str();
            let is_it = |own: IngredientId| own == id;
            let wanted = Wanted { word: name, is_it: &is_it };
            let own = Reason::sum(name, self.parts(&wanted, within));
            let why = match within {
                Within::Pieces => "on one piece",
                _ => "with what cultures hold",
            };
            let own = match own.amount == *mass {
                true => own,
                false => Reason::words(name, mass.clone(), Kind::Mass, why),
            };
            if share.is_one() {
                return Some(own);
            }
            let part = Reason::new(format!("{word} in {name}"), share, Kind::Share, How::Written);
            let parts = vec![own, part.at(ingredient.name.span)];
            Some(Reason::product(format!("{word} of {name}"), Kind::Mass, parts))
        });
        parts.collect()
    }

    /// All water in anything but flour; that of cultures too, which a table may not split.
    fn all_water(&self, within: Within) -> Vec<Reason> {
        let content = self.worked.content(self.worked.first(), within);
        let mut parts = self.shares_of(&content, within, "water", |class, own| {
            (class != Class::Flour).then(|| own.water_share()).flatten()
        });
        for (substance, mass) in content.iter() {
            let Substance::Whole(id) = substance else { continue };
            let culture = self.house.culture(id);
            let name = culture.name.shown.as_str();
            let wet = crate::formula::worked::sum_of(&culture.per_gram, |id| {
                let flour = self.class_of(id) == Class::Flour;
                if flour { None } else { self.house.ingredient(id).water_share() }
            });
            let own = Reason::words(name, mass.clone(), Kind::Mass, "it is not split");
            let wet = Reason::new(format!("water in {name}"), wet, Kind::Share, How::Written);
            let parts_of = vec![own, wet.at(culture.name.span)];
            parts.push(Reason::product(format!("water of {name}"), Kind::Mass, parts_of));
        }
        parts
    }

    /// What cultures that a table does not split hold of a class.
    fn in_whole_cultures(&self, within: Within, class: Class) -> Vec<Reason> {
        let content = self.worked.content(self.worked.first(), within);
        let parts = content.iter().filter_map(|(substance, mass)| {
            let Substance::Whole(id) = substance else { return None };
            let culture = self.house.culture(id);
            let name = culture.name.shown.as_str();
            let is_it = |id: IngredientId| self.class_of(id) == class;
            let share = Wanted { word: class.word(), is_it: &is_it }.mass_in(&culture.per_gram);
            let own = Reason::words(name, mass.clone(), Kind::Mass, "it is not split");
            let word = format!("{} in {name}", class.word());
            let share = Reason::new(word, share, Kind::Share, How::Written);
            let parts = vec![own, share.at(culture.name.span)];
            Some(Reason::product(format!("by {name}"), Kind::Mass, parts))
        });
        parts.collect()
    }

    /// All flour, that of cultures too which a table does not split.
    fn true_flour(&self, within: Within) -> Reason {
        let whole = self.in_whole_cultures(within, Class::Flour);
        let flour = self.class(Class::Flour, within);
        if whole.is_empty() {
            return flour;
        }
        let mut parts = vec![flour];
        parts.extend(whole);
        Reason::sum("all flour", parts)
    }

    /// The flour that was fermented before it came into a mix.
    fn fermented(&self, within: Within) -> Option<Reason> {
        let what = "flour fermented before the dough";
        let parts = match within {
            Within::All | Within::FinalDough => {
                let mut parts = self.fermented_by(self.lines(Within::FinalDough));
                if self.worked.formula.total.is_none() && self.worked.formula.dough.is_none() {
                    for piece in &self.worked.first().pieces {
                        let lines = piece.lines.iter().map(|line| (line, None)).collect();
                        for one in self.fermented_by(lines) {
                            let what = format!("{} on {}", one.what, piece.made.kind);
                            let both = vec![one, self.count(piece)];
                            parts.push(Reason::product(what, Kind::Mass, both));
                        }
                    }
                }
                parts
            }
            Within::Stage(_) => self.fermented_by(self.lines(within)),
            Within::Pieces | Within::Blend(_) => return None,
        };
        Some(Reason::sum(what, parts))
    }

    fn fermented_by(
        &self,
        lines: Vec<(&WorkedLine, Option<&crate::syntax::tree::Mix>)>,
    ) -> Vec<Reason> {
        let numbers = self.worked.first();
        let is_flour = |id: IngredientId| self.class_of(id) == Class::Flour;
        let wanted = Wanted { word: "flour", is_it: &is_flour };
        let mut parts = Vec::new();
        for (line, mix) in lines {
            let what = format!("by {}", line.name);
            match line.goes {
                Goes::Stage(stage) => {
                    let all = match self.worked.formula.stages[stage].kind.ferments() {
                        true => self.going_on(&wanted, stage),
                        // What a soaker or a scald holds of a ferment.
                        false => {
                            let inner = self.fermented_by(self.lines(Within::Stage(stage)));
                            Reason::sum(format!("fermented flour in {}", line.name), inner)
                        }
                    };
                    if !all.amount.is_zero() {
                        let own = self.line(line, mix, Within::FinalDough);
                        parts.extend(self.part_of_stage(line, stage, all, own));
                    }
                }
                Goes::Culture(id) => {
                    let culture = self.house.culture(id);
                    let share = self.worked.flour(&culture.per_gram);
                    let share = Reason::new(
                        format!("flour in {}", line.name),
                        share,
                        Kind::Share,
                        How::Written,
                    );
                    let own = self.line(line, mix, Within::All);
                    let parts_of = vec![own, share.at(culture.name.span)];
                    parts.push(Reason::product(what, Kind::Mass, parts_of));
                }
                Goes::Blend(blend) => {
                    let blend = &self.worked.blends[blend];
                    if blend.fermented.is_zero() {
                        continue;
                    }
                    let why = "its own preferments and cultures";
                    let share = format!("fermented flour in {}", blend.shown);
                    let share = Reason::words(share, blend.fermented.clone(), Kind::Share, why);
                    let own = self.line(line, mix, Within::All);
                    parts.push(Reason::product(what, Kind::Mass, vec![own, share]));
                }
                Goes::OldDough => {
                    let whole = numbers.whole.mass();
                    let flour = self.worked.flour(&numbers.whole);
                    if whole.is_zero() {
                        continue;
                    }
                    let why = "what it is kept from";
                    let share = Reason::words(
                        "flour in the finished dough",
                        flour / whole,
                        Kind::Share,
                        why,
                    );
                    let own = self.line(line, mix, Within::All);
                    parts.push(Reason::product(what, Kind::Mass, vec![own, share]));
                }
                _ => {}
            }
        }
        parts
    }

    /// The dough of one piece out of the oven.
    fn baked(&self, what: &str, piece: &WorkedPiece) -> Option<Reason> {
        let loss = piece.made.loss.as_ref()?;
        let left = self.left_after("bake loss", loss, self.loss_place(piece, true));
        Some(Reason::product(what, Kind::Mass, vec![self.piece(self.kind, piece), left]))
    }

    /// One piece out of the oven, with what it carries.
    fn as_eaten(&self, what: &str, piece: &WorkedPiece) -> Option<Reason> {
        let mut parts = vec![self.baked("baked, the dough alone", piece)?];
        let carried = self.worked.carried_lines(self.worked.first(), piece);
        let carried = carried.filter(|line| !line.mass.is_zero());
        parts.extend(carried.map(|line| self.line(line, None, Within::Pieces)));
        Some(Reason::sum(what, parts))
    }

    /// The salt in what is eaten of one piece, or of all the dough, over its weight; `salt`
    /// is what each ingredient holds of it.
    fn salt_as_eaten(
        &self,
        what: &str,
        salt: &dyn Fn(IngredientId) -> Option<Exact>,
    ) -> Option<Reason> {
        let numbers = self.worked.first();
        let dough = self.salt_in(&numbers.whole, "salt in the dough", Within::All, salt)?;
        let Some(piece) = self.worked.kinds(numbers).get(self.kind) else {
            let loss = self.worked.formula.bake_loss.as_ref()?;
            let left = self.left_after("bake loss", &self.base(loss), Some(loss.span));
            let baked = vec![self.dough(Within::All), left];
            return Reason::ratio(what, dough, Reason::product("baked", Kind::Mass, baked));
        };
        let whole = Reason::words("dough", numbers.whole.mass(), Kind::Mass, "all of it");
        let in_a_gram = Reason::ratio("salt in a gram of dough", dough, whole)?;
        let own = Reason::product(
            "salt in the dough of one",
            Kind::Mass,
            vec![self.piece(self.kind, piece), in_a_gram],
        );
        let lines = self.worked.carried_lines(numbers, piece);
        let carried = self.worked.brought_by(lines);
        let mut salts = vec![own];
        if !carried.mass().is_zero() {
            salts.push(self.salt_in(&carried, "salt in what it carries", Within::Pieces, salt)?);
        }
        let eaten = self.as_eaten("one as eaten", piece)?;
        Reason::ratio(what, Reason::sum("salt", salts), eaten)
    }

    /// The salt in a content, ingredient by ingredient; none where that of one is not known.
    fn salt_in(
        &self,
        content: &Content,
        what: &str,
        within: Within,
        salt: &dyn Fn(IngredientId) -> Option<Exact>,
    ) -> Option<Reason> {
        let mut split = Content::default();
        for (substance, mass) in content.iter() {
            match substance {
                Substance::Whole(id) | Substance::Kept(id) => {
                    split.add_all(&self.house.culture(id).per_gram, mass);
                }
                _ => split.add(substance, mass.clone()),
            }
        }
        let known = split.iter().all(|(substance, _)| match substance {
            Substance::Ingredient(id) => salt(id).is_some(),
            _ => true,
        });
        let parts = self.shares_of_each(&split, within, "salt", salt);
        known.then(|| Reason::sum(what, parts))
    }
}
