//! A formula worked out: masses of every line, and the figures that follow.

use super::class::Class;
use super::content::{Content, CultureId, IngredientId, Substance};
use super::figure::{Figure, Kind, Value};
use super::house::House;
use super::mixing::{Blend, Goes, Mixing};
use crate::quantity::{Exact, int};
use crate::source::Span;
use crate::syntax::tree::{Counting, Formula, Mixture, Name, Size, Target};
use ecow::EcoString;
use std::borrow::Cow;

/// What gives a formula its size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// `makes`.
    Makes,
    /// Its own weights.
    Weights,
    /// Nothing: it is worked out for a kilogram of flour.
    Default,
    /// Its pieces, which are made of other formulas.
    Pieces,
}

/// Whether two words name one kind of piece, in the singular or the plural: `roll` and
/// `rolls`, `loaf` and `loaves`, `box` and `boxes`, `pasty` and `pasties`.
pub fn is_kind(one: &str, two: &str) -> bool {
    one == two || is_plural_of(one, two) || is_plural_of(two, one)
}

fn is_plural_of(many: &str, one: &str) -> bool {
    const ENDINGS: [(&str, &str); 5] =
        [("s", ""), ("es", ""), ("ves", "f"), ("ves", "fe"), ("ies", "y")];
    let fits = |(plural, singular): &(&str, &str)| {
        let stem = many.strip_suffix(plural);
        stem.is_some_and(|stem| one.strip_suffix(singular) == Some(stem))
    };
    ENDINGS.iter().any(fits)
}

/// A line with its mass in grams.
#[derive(Clone, Debug)]
pub struct WorkedLine {
    pub goes: Goes,
    pub name: EcoString,
    pub key: EcoString,
    pub role: Option<EcoString>,
    pub mass: Exact,
    /// Grams that may go in beyond this, where the amount is a range.
    pub more: Exact,
    /// Its place among the lines of its mix, where it stands on one.
    pub line: Option<usize>,
}

#[derive(Clone, Debug)]
pub struct StageNumbers {
    /// As they are weighed; of a stage that is fed several times, for the last feed.
    pub lines: Vec<WorkedLine>,
    /// What goes on into the next mixes, and what is left over of it.
    pub goes_on: Content,
    pub from_cultures: Content,
    /// Everything that is put together, with what is saved or kept back.
    pub made: Exact,
    /// How much larger it is made than its own lines say, because some is saved, too little
    /// to handle, or wanted by a stage that is made larger itself.
    pub grown: Exact,
    /// The new flour (or grain and seed) that per cent in it are of.
    pub basis: Exact,
    pub saved: Exact,
    /// The mass that goes into the final dough.
    pub into_dough: Exact,
    pub feeds: u32,
    /// The feeds before the last one, the first one first; none where nothing seeds them.
    pub earlier: Vec<Feed>,
}

/// A feed of a stage that another one follows.
#[derive(Clone, Debug)]
pub struct Feed {
    /// As they are weighed; from the second on, the feed before stands in place of the
    /// cultures.
    pub lines: Vec<WorkedLine>,
    /// Grams that the next feed does not take.
    pub discarded: Exact,
}

impl Feed {
    /// All that is put together.
    pub fn made(&self) -> Exact {
        self.lines.iter().fold(Exact::ZERO, |sum, line| sum + &line.mass)
    }
}

/// A kind of piece that is made.
#[derive(Clone, Debug)]
pub struct MadeKind {
    pub kind: EcoString,
    pub key: EcoString,
    pub count: Exact,
    /// Dough of one, in grams.
    pub weight: Exact,
    /// Whether the weight was written or shared out.
    pub written: bool,
    pub tin: Option<EcoString>,
    /// Share of the dough lost in making up.
    pub make_up_loss: Exact,
    /// Share lost in the oven.
    pub loss: Option<Exact>,
}

impl MadeKind {
    /// The dough of one out of the oven, in grams.
    pub fn baked(&self) -> Option<Exact> {
        Some(&self.weight * (Exact::ONE - self.loss.as_ref()?))
    }
}

#[derive(Clone, Debug)]
pub struct WorkedPiece {
    pub made: MadeKind,
    /// What one piece carries besides its dough.
    pub lines: Vec<WorkedLine>,
}

/// All masses for one choice of range ends.
#[derive(Clone, Debug)]
pub struct Numbers {
    pub stages: Vec<StageNumbers>,
    /// Everything in the dough.
    pub whole: Content,
    /// Flour that only a culture brings, in total form.
    pub unlisted: Content,
    /// The lines of `total`.
    pub total_lines: Vec<WorkedLine>,
    /// What the mixer gets.
    pub dough_lines: Vec<WorkedLine>,
    /// The flour that per cent in `total` or `dough` are of.
    pub basis: Exact,
    pub pieces: Vec<WorkedPiece>,
    pub anchor: Anchor,
    /// Stage and mass that nothing uses.
    pub left_over: Vec<(usize, Exact)>,
    /// Grams of the finished dough that are kept back as the next old dough.
    pub kept_back: Exact,
    /// Grams of the finished dough that are saved.
    pub saved: Exact,
}

impl Numbers {
    /// Dough that the pieces leave, less what is lost in making up.
    pub fn dough_left(&self) -> Option<Exact> {
        let taken = self.pieces.iter().fold(Exact::ZERO, |sum, piece| {
            let made = &piece.made;
            sum + &made.weight * &made.count / (Exact::ONE - &made.make_up_loss)
        });
        (!self.pieces.is_empty()).then(|| self.into_pieces() - taken)
    }

    pub fn whole_content(&self) -> &Content {
        &self.whole
    }

    /// Grams of the finished dough that go into the pieces, with what is lost in making up.
    pub fn into_pieces(&self) -> Exact {
        self.whole.mass() - &self.kept_back - &self.saved
    }

    /// Grams of a stage that go into the dough and into other stages.
    pub fn used(&self, stage: usize) -> Exact {
        let lines = self.stages.iter().flat_map(|user| &user.lines);
        let lines = lines.filter(|line| line.goes == Goes::Stage(stage));
        lines.fold(self.stages[stage].into_dough.clone(), |sum, line| sum + &line.mass)
    }

    /// The mass of what a name means, as an anchor of a yield.
    pub fn named(&self, mixing: &Mixing, key: &str) -> Exact {
        match key {
            "flour" => return mixing.flour_of(&self.whole),
            "dough" => return self.whole.mass(),
            _ => {}
        }
        let stage = mixing.formula.stages.iter().position(|stage| stage.name.key == key);
        if let Some(stage) = stage {
            return self.stages[stage].goes_on.mass();
        }
        if let Some(id) = mixing.house.ingredient_id(key)
            && let Some(mass) = self.whole.get(Substance::Ingredient(id))
        {
            return mass.clone();
        }
        let stages = self.stages.iter().flat_map(|stage| &stage.lines);
        let named = stages.chain(&self.dough_lines).filter(|line| line.key == key);
        named.fold(Exact::ZERO, |sum, line| sum + &line.mass)
    }
}

impl Mixing<'_, '_> {
    /// The flour in grams of a content.
    pub fn flour_of(&self, content: &Content) -> Exact {
        content.iter().fold(Exact::ZERO, |sum, (substance, mass)| match substance {
            Substance::Ingredient(id) if self.is_flour(id) => sum + mass,
            _ => sum,
        })
    }
}

/// A formula with all its numbers.
pub struct Worked<'t> {
    /// The house whose names it uses.
    pub house: &'t House<'t>,
    /// With all that it inherits.
    pub formula: Cow<'t, Formula>,
    pub blends: Vec<Blend>,
    pub counts_as_flour: Vec<IngredientId>,
    /// Every ingredient of the formula that is flour.
    pub flour_ids: Vec<IngredientId>,
    /// Stages in an order in which they can be built.
    pub order: Vec<usize>,
    /// For each choice of range ends; the low ends first.
    pub choices: Vec<Numbers>,
    /// How much larger it is made than it is written; weights in its steps grow with it.
    pub scaled: Exact,
    /// The pieces it makes as it is written, where another yield names none.
    pub usual_pieces: Vec<WorkedPiece>,
    /// Whether everything in it could be read and every name is known.
    pub readable: bool,
    /// Whether nothing of it was unreadable, unknown or impossible.
    pub sound: bool,
}

/// Where a figure is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Within {
    All,
    FinalDough,
    Stage(usize),
    Pieces,
    /// A side mix, as much of it as is used.
    Blend(usize),
}

impl<'t> Worked<'t> {
    /// The numbers at the low ends of all ranges.
    pub fn first(&self) -> &Numbers {
        // There is one choice at least: every range has a low end.
        &self.choices[0]
    }

    pub fn is_flour(&self, id: IngredientId) -> bool {
        self.house.ingredient(id).class == Class::Flour || self.counts_as_flour.contains(&id)
    }

    /// How much larger the formula is made than it was where something stands that was
    /// written for its size: what it inherits was written for the one it is from.
    pub fn scale_at(&self, span: Span) -> Exact {
        let mut chain = vec![&*self.formula];
        let mut next = self.house.formula(&self.formula.name.key).and_then(|own| own.from.as_ref());
        while let Some(parent) = next.and_then(|from| self.house.formula(&from.key)) {
            if chain.iter().any(|known| known.name.key == parent.name.key) {
                break;
            }
            chain.push(parent);
            next = parent.from.as_ref();
        }
        let holds = |formula: &&&Formula| {
            formula.span.source == span.source && formula.span.start <= span.start
        };
        let origin = chain.iter().filter(holds).max_by_key(|formula| formula.span.start);
        match origin {
            Some(origin) if origin.name.key != self.formula.name.key => {
                let written = super::work(self.house, origin, &mut Vec::new()).first().whole.mass();
                if written.is_zero() { Exact::ONE } else { self.first().whole.mass() / written }
            }
            _ => self.scaled.clone(),
        }
    }

    /// The place a claim names.
    pub fn within(&self, key: &str) -> Option<Within> {
        match key {
            "final dough" | "dough" => Some(Within::FinalDough),
            "total" => Some(Within::All),
            "pieces" => Some(Within::Pieces),
            _ => {
                let stage = self.formula.stages.iter().position(|stage| stage.name.key == key);
                let blend = || self.blends.iter().position(|blend| blend.key == key);
                stage.map(Within::Stage).or_else(|| blend().map(Within::Blend))
            }
        }
    }

    /// By stage, whether what is in it comes into the dough, through other stages too.
    pub fn reach_the_dough(&self) -> Vec<bool> {
        let numbers = self.first();
        let mut reaches = vec![false; numbers.stages.len()];
        let mut open: Vec<&WorkedLine> = numbers.dough_lines.iter().collect();
        while let Some(line) = open.pop() {
            if let Goes::Stage(stage) = line.goes
                && !std::mem::replace(&mut reaches[stage], true)
            {
                open.extend(&numbers.stages[stage].lines);
            }
        }
        reaches
    }

    /// The lines of each feed of a stage before its last, the first feed first: each makes
    /// what the next one takes in place of the culture.
    pub fn earlier_feeds(&self, stage: usize) -> Vec<Vec<WorkedLine>> {
        let feeds = self.first().stages[stage].earlier.iter();
        feeds.map(|feed| feed.lines.clone()).collect()
    }

    /// Everything that is in a mix, cultures split as they are.
    pub fn content<'n>(&self, numbers: &'n Numbers, within: Within) -> Cow<'n, Content> {
        Cow::Owned(match within {
            Within::All | Within::FinalDough => return Cow::Borrowed(&numbers.whole),
            Within::Stage(stage) => {
                let worked = &numbers.stages[stage];
                let mut content = Content::default();
                let goes_on = worked.goes_on.mass();
                // What is saved is made of the same.
                let ripe = match goes_on.is_zero() {
                    true => Exact::ONE,
                    false => (&goes_on + &worked.saved) / &goes_on,
                };
                for (substance, mass) in worked.goes_on.iter() {
                    add_split(self.house, &mut content, substance, &(mass * &ripe));
                }
                for (culture, mass) in self.seeds_kept(numbers, stage) {
                    content.add_all(&self.house.culture(culture).per_gram, &mass);
                }
                content
            }
            Within::Blend(blend) => {
                let mut content = self.blends[blend].per_gram.clone();
                content.scale(&self.blend_mass(numbers, blend));
                content
            }
            Within::Pieces => {
                let mut content = Content::default();
                for piece in &numbers.pieces {
                    let one = self.brought_by(piece.lines.iter());
                    content.add_all(&one, &piece.made.count);
                }
                content
            }
        })
    }

    /// Grams of ripe stage that are kept back to be the next culture.
    pub fn kept_back(&self, numbers: &Numbers, stage: usize) -> Exact {
        let seeds = self.seeds_kept(numbers, stage);
        seeds.iter().fold(Exact::ZERO, |sum, (_, mass)| sum + mass)
    }

    /// The cultures that this stage was begun with, or that came here through other stages,
    /// and that are kept back from it.
    pub fn seeds_kept(&self, numbers: &Numbers, stage: usize) -> Vec<(CultureId, Exact)> {
        let here = &self.formula.stages[stage].name.key;
        let mut kept: Vec<(CultureId, Exact)> = Vec::new();
        let mut came: Vec<CultureId> = Vec::new();
        let stages = self.formula.stages.iter().zip(&numbers.stages).enumerate();
        for (index, (declared, worked)) in stages {
            for (line, seed) in declared.mix.lines.iter().zip(&worked.lines) {
                let (Goes::Culture(id), Counting::KeptBack { from }) = (seed.goes, &line.counting)
                else {
                    continue;
                };
                let is_here = from.as_ref().is_none_or(|from| from.key == *here);
                if index == stage && is_here {
                    kept.push((id, seed.mass.clone()));
                } else if index != stage && from.is_some() && is_here && !came.contains(&id) {
                    came.push(id);
                }
            }
        }
        for id in came {
            let mut mass = Exact::ZERO;
            for line in &numbers.stages[stage].lines {
                let Goes::Stage(inner) = line.goes else { continue };
                let inner = &numbers.stages[inner].goes_on;
                if let Some(seed) = inner.get(Substance::Kept(id)) {
                    mass += seed * &line.mass / inner.mass();
                }
            }
            kept.push((id, mass));
        }
        kept
    }

    fn blend_used(&self, numbers: &Numbers, blend: usize) -> Exact {
        let stages = numbers.stages.iter().flat_map(|stage| &stage.lines);
        let in_mixes = stages.chain(&numbers.dough_lines);
        let in_mixes = in_mixes.filter(|line| line.goes == Goes::Blend(blend));
        let mass = in_mixes.fold(Exact::ZERO, |sum, line| sum + &line.mass);
        numbers.pieces.iter().fold(mass, |sum, piece| {
            let own = piece.lines.iter().filter(|line| line.goes == Goes::Blend(blend));
            own.fold(sum, |sum, line| sum + &line.mass * &piece.made.count)
        })
    }

    /// Grams of a side mix that lines and pieces use, or its own weights.
    pub fn blend_mass(&self, numbers: &Numbers, blend: usize) -> Exact {
        let mass = self.blend_used(numbers, blend);
        // A bath is used by no line and has weights of its own.
        if mass.is_zero() { self.blends[blend].own_mass.clone() } else { mass }
    }

    /// Grams of each side mix that has to be made, for other side mixes too.
    pub fn blends_needed(&self, numbers: &Numbers) -> Vec<Exact> {
        let mut needed: Vec<Exact> =
            (0..self.blends.len()).map(|blend| self.blend_used(numbers, blend)).collect();
        // What a mixture is made of stands before it.
        for outer in (0..self.blends.len()).rev() {
            if needed[outer].is_zero() {
                needed[outer] = self.blends[outer].own_mass.clone();
            }
            let Some(mixture) = self.mixture(outer) else { continue };
            for (line, share) in mixture.mix.lines.iter().zip(&self.blends[outer].shares) {
                if let Goes::Blend(inner) = self.goes_in_mixture(&line.target.name.key) {
                    let more = &needed[outer] * share;
                    needed[inner] += more;
                }
            }
        }
        needed
    }

    /// Where a side mix stands; none for a formula.
    pub fn mixture(&self, blend: usize) -> Option<&Mixture> {
        let blend = &self.blends[blend];
        let own = self.formula.mixtures.iter().find(|mixture| mixture.name.key == blend.key);
        own.or_else(|| self.house.mixture(&blend.key)).filter(|_| !blend.is_formula)
    }

    /// The lines of so much of a side mix.
    pub fn mixture_lines(&self, blend: usize, mass: &Exact) -> Vec<WorkedLine> {
        let Some(mixture) = self.mixture(blend) else { return Vec::new() };
        let zero = Exact::ZERO;
        let shares = self.blends[blend].shares.iter().chain(std::iter::repeat(&zero));
        let lines = mixture.mix.lines.iter().zip(shares).enumerate();
        lines
            .map(|(index, (line, share))| WorkedLine {
                goes: self.goes_in_mixture(&line.target.name.key),
                name: line.target.name.shown.clone(),
                key: line.target.name.key.clone(),
                role: line.target.role.as_ref().map(|role| role.shown.clone()),
                mass: mass * share,
                more: Exact::ZERO,
                line: Some(index),
            })
            .collect()
    }

    fn goes_in_mixture(&self, key: &str) -> Goes {
        if let Some(blend) = self.blends.iter().position(|blend| blend.key == key) {
            return Goes::Blend(blend);
        }
        let culture = self.house.culture_named(key).map(|(id, _)| Goes::Culture(id));
        let ingredient = || self.house.ingredient_id(key).map(Goes::Ingredient);
        culture.or_else(ingredient).unwrap_or(Goes::Nothing)
    }

    /// Grams of flour in a content.
    pub fn flour(&self, content: &Content) -> Exact {
        sum_of(content, |id| self.is_flour(id).then_some(Exact::ONE))
    }

    /// Grams of a class in a content; `counts as flour` moves its names to flour.
    pub fn class_mass(&self, content: &Content, class: Class) -> Exact {
        let cultures = content.iter().fold(Exact::ZERO, |sum, (substance, mass)| match substance {
            Substance::Whole(_) if class == Class::Culture => sum + mass,
            _ => sum,
        });
        cultures
            + sum_of(content, |id| {
                let own = match self.is_flour(id) {
                    true => Class::Flour,
                    false => self.house.ingredient(id).class,
                };
                (own == class).then_some(Exact::ONE)
            })
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
        kinds.iter().map(|piece| self.piece_figure(numbers, figure, piece)).collect()
    }

    /// The kinds of piece that are made, or that are usual where another yield names none.
    pub fn kinds<'n>(&'n self, numbers: &'n Numbers) -> &'n [WorkedPiece] {
        if numbers.pieces.is_empty() { &self.usual_pieces } else { &numbers.pieces }
    }

    /// A figure of one kind of piece.
    fn piece_figure(
        &self,
        numbers: &Numbers,
        figure: &Figure,
        piece: &WorkedPiece,
    ) -> Option<Value> {
        let made = &piece.made;
        let (kind, amount) = match figure {
            Figure::Piece => (Kind::Mass, made.weight.clone()),
            Figure::PieceBaked => (Kind::Mass, made.baked()?),
            Figure::PieceAsEaten => (Kind::Mass, self.as_eaten(numbers, piece)?),
            Figure::BakeLoss => (Kind::Share, made.loss.clone()?),
            Figure::MakeUpLoss => {
                let is_said = self.written_share(true).is_some()
                    || self.formula.pieces.iter().any(|piece| piece.make_up_loss.is_some());
                (Kind::Share, is_said.then(|| made.make_up_loss.clone())?)
            }
            Figure::SaltAsEaten => {
                let salt = |id| Some(self.house.ingredient(id).salt.clone());
                (Kind::Share, self.eaten_share(numbers, piece, salt)?)
            }
            Figure::SaltAsDeclared => {
                let salt = |id| self.house.ingredient(id).declared_salt.clone();
                (Kind::Share, self.eaten_share(numbers, piece, salt)?)
            }
            _ => return None,
        };
        Some(Value { kind, amount })
    }

    /// The value of a figure for one choice of range ends.
    pub fn figure_of(&self, numbers: &Numbers, figure: &Figure, within: Within) -> Option<Value> {
        let content = self.content(numbers, within);
        let flour = || self.flour(&content);
        let over_flour = |mass: Exact| {
            let flour = flour();
            (!flour.is_zero()).then(|| Value { kind: Kind::Share, amount: mass / flour })
        };
        match figure {
            Figure::Hydration => over_flour(self.class_mass(&content, Class::Water)),
            Figure::Liquids => over_flour(sum_of(&content, |id| {
                let liquid = [Class::Water, Class::Liquid, Class::Dairy, Class::Egg];
                let ingredient = self.house.ingredient(id);
                liquid.contains(&ingredient.class).then(|| ingredient.water_share()).flatten()
            })),
            Figure::EffectiveHydration | Figure::TrueHydration => {
                let split = self.wholly_split(&content);
                let water = match figure {
                    Figure::TrueHydration => self.class_mass(&split, Class::Water),
                    _ => self.all_water(&split),
                };
                let flour = self.flour(&split);
                (!flour.is_zero()).then(|| Value { kind: Kind::Share, amount: water / flour })
            }
            Figure::TotalPercentage => over_flour(match within {
                Within::Stage(stage) => numbers.stages[stage].made.clone(),
                _ => content.mass(),
            }),
            Figure::DoughYield => {
                let (flour, water) = (flour(), self.class_mass(&content, Class::Water));
                let value = (!flour.is_zero()).then(|| (&flour + water) / &flour * int(100));
                value.map(|amount| Value { kind: Kind::Number, amount })
            }
            Figure::Flour => Some(Value { kind: Kind::Mass, amount: flour() }),
            Figure::Dough => {
                let amount = match within {
                    Within::Stage(stage) => numbers.stages[stage].made.clone(),
                    _ => content.mass(),
                };
                Some(Value { kind: Kind::Mass, amount })
            }
            Figure::PrefermentedFlour => match within {
                Within::Pieces | Within::Blend(_) => None,
                _ => over_flour(self.fermented_flour(numbers, within)),
            },
            Figure::Inoculation => match within {
                Within::Stage(stage) => {
                    let worked = &numbers.stages[stage];
                    let culture = self.seed_mass(worked);
                    let share = (!worked.basis.is_zero()).then(|| culture / &worked.basis);
                    share.map(|amount| Value { kind: Kind::Share, amount })
                }
                _ => None,
            },
            Figure::YeastAsFresh => over_flour(sum_of(&content, |id| {
                let ingredient = self.house.ingredient(id);
                (ingredient.class == Class::Yeast).then(|| ingredient.as_fresh_yeast())
            })),
            Figure::Leavening => over_flour(
                self.class_mass(&content, Class::Yeast)
                    + self.class_mass(&content, Class::Leavener),
            ),
            Figure::Pieces => {
                let count = |sum: Exact, piece: &WorkedPiece| sum + &piece.made.count;
                let amount = numbers.pieces.iter().fold(Exact::ZERO, count);
                (!numbers.pieces.is_empty()).then_some(Value { kind: Kind::Number, amount })
            }
            figure if figure.is_of_a_piece() => match self.kinds(numbers).first() {
                Some(piece) => self.piece_figure(numbers, figure, piece),
                None => self.figure_without_pieces(numbers, figure),
            },
            Figure::SaltElsewhere => over_flour(sum_of(&content, |id| {
                let ingredient = self.house.ingredient(id);
                (ingredient.class != Class::Salt).then(|| ingredient.salt.clone())
            })),
            Figure::Class(class) => {
                let amount = self.class_mass(&content, *class);
                Some(Value { kind: Kind::Mass, amount })
            }
            Figure::WaterTemperature | Figure::Ice
                if !matches!(within, Within::All | Within::FinalDough) =>
            {
                None
            }
            Figure::WaterTemperature => {
                let water = super::warmth(self).ok()?.water;
                Some(Value { kind: water.kind, amount: water.amount })
            }
            Figure::Ice => {
                let ice = super::warmth(self).ok()?.ice?;
                Some(Value { kind: ice.kind, amount: ice.amount })
            }
            // The room `time` knows them; what is of a piece has been told.
            _ => None,
        }
    }

    /// A figure of a piece where the formula names none: that of all the dough.
    fn figure_without_pieces(&self, numbers: &Numbers, figure: &Figure) -> Option<Value> {
        let amount = match figure {
            Figure::BakeLoss => self.written_share(false)?,
            Figure::MakeUpLoss => self.written_share(true)?,
            Figure::SaltAsEaten | Figure::SaltAsDeclared => {
                let whole = WorkedPiece {
                    made: MadeKind {
                        kind: EcoString::new(),
                        key: EcoString::new(),
                        count: Exact::ONE,
                        weight: numbers.whole.mass(),
                        written: false,
                        tin: None,
                        make_up_loss: Exact::ZERO,
                        loss: Some(self.written_share(false)?),
                    },
                    lines: Vec::new(),
                };
                return self.piece_figure(numbers, figure, &whole);
            }
            _ => return None,
        };
        Some(Value { kind: Kind::Share, amount })
    }

    fn written_share(&self, make_up: bool) -> Option<Exact> {
        let written = if make_up { &self.formula.make_up_loss } else { &self.formula.bake_loss };
        let written = written.as_ref()?;
        Some(written.unit.to_base(&written.number, self.house.settings.measures))
    }

    /// A content with the flour and water of cultures that a table does not split.
    fn wholly_split(&self, content: &Content) -> Content {
        let mut split = Content::default();
        for (substance, mass) in content.iter() {
            match substance {
                Substance::Whole(id) => split.add_all(&self.house.culture(id).per_gram, mass),
                _ => add_split(self.house, &mut split, substance, mass),
            }
        }
        split
    }

    /// All water in anything but flour.
    fn all_water(&self, split: &Content) -> Exact {
        sum_of(split, |id| {
            let flour = self.is_flour(id);
            if flour { None } else { self.house.ingredient(id).water_share() }
        })
    }

    /// The mass of cultures that a stage is begun with.
    pub fn culture_mass(&self, worked: &StageNumbers) -> Exact {
        let cultures = worked.lines.iter().filter(|line| matches!(line.goes, Goes::Culture(_)));
        cultures.fold(Exact::ZERO, |sum, line| sum + &line.mass)
    }

    /// The mass that a stage is begun with: cultures, and other stages that ferment.
    pub fn seed_mass(&self, worked: &StageNumbers) -> Exact {
        let seeds = worked.lines.iter().filter(|line| self.is_seed(line));
        seeds.fold(Exact::ZERO, |sum, line| sum + &line.mass)
    }

    /// Whether a line begins the fermentation of its stage.
    pub fn is_seed(&self, line: &WorkedLine) -> bool {
        match line.goes {
            Goes::Culture(_) => true,
            Goes::Stage(inner) => self.formula.stages[inner].kind.ferments(),
            _ => false,
        }
    }

    /// Flour fermented before the dough: in preferments and builds, in cultures and old
    /// dough that go straight in. Of a stage, what was fermented before it.
    pub fn fermented_flour(&self, numbers: &Numbers, within: Within) -> Exact {
        let mut fermented = vec![Exact::ZERO; numbers.stages.len()];
        for &stage in &self.order {
            let worked = &numbers.stages[stage];
            let before = self.carried(numbers, &worked.lines, &fermented);
            if within == Within::Stage(stage) {
                return before;
            }
            let mut content = Content::default();
            for (substance, mass) in worked.goes_on.iter() {
                add_split(self.house, &mut content, substance, mass);
            }
            fermented[stage] = match self.formula.stages[stage].kind.ferments() {
                true => self.flour(&content),
                false => before,
            };
        }
        let lines = self.carried(numbers, &numbers.dough_lines, &fermented);
        let pieces = match self.formula.total.is_none() && self.formula.dough.is_none() {
            // A bread that is made of other formulas only has their flour.
            true => numbers.pieces.iter().fold(Exact::ZERO, |sum, piece| {
                sum + self.carried(numbers, &piece.lines, &fermented) * &piece.made.count
            }),
            false => Exact::ZERO,
        };
        lines + pieces + self.old_dough_flour(numbers)
    }

    /// The fermented flour that lines bring.
    fn carried(&self, numbers: &Numbers, lines: &[WorkedLine], fermented: &[Exact]) -> Exact {
        lines.iter().fold(Exact::ZERO, |sum, line| match line.goes {
            Goes::Stage(inner) => {
                let whole = numbers.stages[inner].goes_on.mass();
                let share = if whole.is_zero() { whole } else { &line.mass / whole };
                sum + &fermented[inner] * share
            }
            Goes::Culture(id) => sum + self.flour(&self.house.culture(id).per_gram) * &line.mass,
            Goes::Blend(blend) => sum + &self.blends[blend].fermented * &line.mass,
            _ => sum,
        })
    }

    fn old_dough_flour(&self, numbers: &Numbers) -> Exact {
        let old = numbers.dough_lines.iter().filter(|line| line.goes == Goes::OldDough);
        let mass = old.fold(Exact::ZERO, |sum, line| sum + &line.mass);
        let whole = numbers.whole.mass();
        if whole.is_zero() {
            return whole;
        }
        self.flour(&numbers.whole) * mass / whole
    }

    /// Flour that is fermented by a culture, for the bound on sour doughs.
    pub fn culture_fermented_flour(&self, numbers: &Numbers) -> Exact {
        let has_seed = |stage: usize| {
            let mut open = vec![stage];
            let mut seen = Vec::new();
            while let Some(stage) = open.pop() {
                if seen.contains(&stage) {
                    continue;
                }
                seen.push(stage);
                for line in &numbers.stages[stage].lines {
                    match line.goes {
                        Goes::Culture(_) => return true,
                        Goes::Stage(inner) => open.push(inner),
                        _ => {}
                    }
                }
            }
            false
        };
        numbers.dough_lines.iter().fold(Exact::ZERO, |sum, line| match line.goes {
            Goes::Stage(stage) if has_seed(stage) => {
                let worked = &numbers.stages[stage];
                let whole = worked.goes_on.mass();
                if whole.is_zero() || !self.formula.stages[stage].kind.ferments() {
                    return sum;
                }
                sum + self.flour(&worked.goes_on) * &line.mass / whole
            }
            Goes::Culture(id) => sum + self.flour(&self.house.culture(id).per_gram) * &line.mass,
            _ => sum,
        })
    }

    /// What a share of each ingredient comes to in a gram of the baked piece with all that
    /// it carries; none where the loss or the share of an ingredient is not known.
    fn eaten_share(
        &self,
        numbers: &Numbers,
        piece: &WorkedPiece,
        share: impl Fn(IngredientId) -> Option<Exact>,
    ) -> Option<Exact> {
        let whole = numbers.whole.mass();
        let eaten = self.as_eaten(numbers, piece).filter(|eaten| !eaten.is_zero())?;
        if whole.is_zero() {
            return None;
        }
        let of = |content: &Content| {
            content.iter().try_fold(Exact::ZERO, |sum, (substance, mass)| match substance {
                Substance::Ingredient(id) => Some(sum + share(id)? * mass),
                Substance::Kept(id) | Substance::Whole(id) => {
                    let mut split = self.house.culture(id).per_gram.iter();
                    split.try_fold(sum, |sum, (inner, part)| match inner {
                        Substance::Ingredient(id) => Some(sum + share(id)? * part * mass),
                        _ => Some(sum),
                    })
                }
                Substance::OldDough => Some(sum),
            })
        };
        let dough = of(&numbers.whole)? * &piece.made.weight / whole;
        let carried = of(&self.brought_by(self.carried_lines(numbers, piece)))?;
        Some((dough + carried) / eaten)
    }

    /// The lines of what one piece carries besides its dough. Of a piece that is wholly made
    /// of other formulas, those are its dough.
    pub fn carried_lines<'n>(
        &'n self,
        numbers: &'n Numbers,
        piece: &'n WorkedPiece,
    ) -> impl Iterator<Item = &'n WorkedLine> {
        let is_dough = |line: &WorkedLine| match line.goes {
            Goes::Blend(blend) => numbers.anchor == Anchor::Pieces && self.blends[blend].is_formula,
            _ => false,
        };
        piece.lines.iter().filter(move |line| !is_dough(line))
    }

    /// Grams of one piece out of the oven, with what it carries. What is filled and topped
    /// is counted as it goes on: what it loses in the oven is not known.
    pub fn as_eaten(&self, numbers: &Numbers, piece: &WorkedPiece) -> Option<Exact> {
        let carried = self.carried_lines(numbers, piece);
        Some(carried.fold(piece.made.baked()?, |sum, line| sum + &line.mass))
    }

    /// What some lines of a piece bring, split as far as it is known.
    pub fn brought_by<'n>(&self, lines: impl Iterator<Item = &'n WorkedLine>) -> Content {
        let mut content = Content::default();
        for line in lines {
            match line.goes {
                Goes::Ingredient(id) => content.add(Substance::Ingredient(id), line.mass.clone()),
                Goes::Blend(blend) => content.add_all(&self.blends[blend].per_gram, &line.mass),
                Goes::Culture(id) => content.add_all(&self.house.culture(id).per_gram, &line.mass),
                _ => {}
            }
        }
        content
    }

    /// The weight of the lines that bear a name, in a mix or in all of the dough.
    pub fn line_mass(
        &self,
        numbers: &Numbers,
        key: &str,
        role: Option<&str>,
        within: Within,
    ) -> Option<Exact> {
        let wanted = self.house.ingredient_id(key);
        let is_it = |line: &&WorkedLine| {
            let same_thing = line.key == key
                || matches!((line.goes, wanted), (Goes::Ingredient(id), Some(wanted)) if id == wanted);
            same_thing
                && role.is_none_or(|role| {
                    line.role.as_deref().is_some_and(|own| own.eq_ignore_ascii_case(role))
                })
        };
        let sum = |lines: &[WorkedLine]| {
            let mut found = lines.iter().filter(is_it).peekable();
            found.peek()?;
            Some(found.fold(Exact::ZERO, |sum, line| sum + &line.mass))
        };
        match within {
            Within::Stage(stage) => sum(&numbers.stages[stage].lines),
            Within::FinalDough => {
                // What the stages took whole is a line of zero, not an unknown name.
                sum(&numbers.dough_lines).or_else(|| sum(&numbers.total_lines).map(|_| Exact::ZERO))
            }
            Within::Pieces => {
                // An ingredient also where mixtures and formulas bring it, as a class is.
                if let (None, Some(id)) = (role, wanted)
                    && let Some(mass) = self.content(numbers, within).get(Substance::Ingredient(id))
                {
                    return Some(mass.clone());
                }
                let mut total = None;
                for piece in &numbers.pieces {
                    if let Some(mass) = sum(&piece.lines) {
                        let more = mass * &piece.made.count;
                        total = Some(total.unwrap_or(Exact::ZERO) + more);
                    }
                }
                total
            }
            Within::Blend(_) => {
                let content = self.content(numbers, within);
                content.get(Substance::Ingredient(wanted?)).cloned()
            }
            Within::All => {
                if role.is_some() {
                    return sum(&numbers.total_lines).or_else(|| sum(&numbers.dough_lines));
                }
                if let Some(stage) =
                    self.formula.stages.iter().position(|stage| stage.name.key == key)
                {
                    let (into_dough, used) =
                        (&numbers.stages[stage].into_dough, numbers.used(stage));
                    return Some(match (into_dough.is_zero(), used.is_zero()) {
                        (false, _) => into_dough.clone(),
                        (true, false) => used,
                        (true, true) => numbers.stages[stage].goes_on.mass(),
                    });
                }
                if let Some(id) = wanted
                    && let Some(mass) = numbers.whole.get(Substance::Ingredient(id))
                {
                    return Some(mass.clone());
                }
                let stages = numbers.stages.iter().filter_map(|stage| sum(&stage.lines));
                let main = if numbers.total_lines.is_empty() {
                    &numbers.dough_lines
                } else {
                    &numbers.total_lines
                };
                match sum(main) {
                    Some(mass) if !numbers.total_lines.is_empty() => Some(mass),
                    Some(mass) => Some(stages.fold(mass, |sum, mass| sum + mass)),
                    None => {
                        let mut stages = stages.peekable();
                        stages.peek()?;
                        Some(stages.fold(Exact::ZERO, |sum, mass| sum + mass))
                    }
                }
            }
        }
    }

    /// The weight of a class on the lines of a mix itself; all of it where no mix is
    /// named.
    pub fn class_lines(&self, numbers: &Numbers, class: Class, within: Within) -> Exact {
        let lines: &[WorkedLine] = match within {
            Within::Stage(stage) => &numbers.stages[stage].lines,
            Within::FinalDough => &numbers.dough_lines,
            _ => return self.class_mass(&self.content(numbers, within), class),
        };
        lines.iter().fold(Exact::ZERO, |sum, line| match line.goes {
            Goes::Ingredient(id) => {
                let own = match self.is_flour(id) {
                    true => Class::Flour,
                    false => self.house.ingredient(id).class,
                };
                if own == class { sum + &line.mass } else { sum }
            }
            Goes::Culture(_) if class == Class::Culture => sum + &line.mass,
            _ => sum,
        })
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
            || self.blends.iter().any(|blend| blend.key == key);
        let figure = if plain && !is_own { Figure::read(key) } else { None };
        Some((figure, within))
    }

    /// What a text asks for between square brackets, for each choice of range ends and each
    /// kind of piece.
    pub fn ask(&self, what: &Target, place: Option<&Name>) -> Option<Vec<Value>> {
        let (figure, within) = self.asked(what, place)?;
        let mass = |mass: &dyn Fn(&Numbers) -> Option<Exact>| {
            let each = self.choices.iter().map(mass);
            each.map(|amount| Some(Value { kind: Kind::Mass, amount: amount? })).collect()
        };
        match figure {
            Some(Figure::Class(class)) if within != Within::All => {
                mass(&|numbers| Some(self.class_lines(numbers, class, within)))
            }
            Some(figure) => self.figure(&figure, within),
            None => {
                let role = what.role.as_ref().map(|role| role.shown.as_str());
                let key = what.name.key.as_str();
                mass(&|numbers| self.line_mass(numbers, key, role, within))
            }
        }
    }

    /// The same in one place, for one choice of range ends.
    pub fn ask_within(&self, numbers: &Numbers, what: &Target, within: Within) -> Option<Value> {
        let figure = Figure::read(&what.name.key).filter(|_| what.role.is_none());
        let role = what.role.as_ref().map(|role| role.shown.as_str());
        let mass = |amount| Value { kind: Kind::Mass, amount };
        match &figure {
            Some(Figure::Class(class)) if within != Within::All => {
                Some(mass(self.class_lines(numbers, *class, within)))
            }
            Some(figure) => self.figure_of(numbers, figure, within),
            None => self.line_mass(numbers, &what.name.key, role, within).map(mass),
        }
    }

    /// The new flour of a mix, the base of percentages there.
    pub fn basis(&self, numbers: &Numbers, within: Within) -> Exact {
        match within {
            Within::Stage(stage) => numbers.stages[stage].basis.clone(),
            Within::FinalDough => self.added_flour(numbers),
            _ => self.flour(&numbers.whole),
        }
    }

    /// The flour that the lines of a total list, which its per cent are of: all but what
    /// only a culture brings. In dough form, all there is.
    pub fn listed_flour(&self, numbers: &Numbers) -> Exact {
        self.flour(&numbers.whole) - self.flour(&numbers.unlisted)
    }

    /// The flour that per cent on the lines of a stage are of: its own new flour, or that
    /// which the total lists.
    pub fn percent_basis(&self, numbers: &Numbers, stage: usize) -> Exact {
        let (declared, worked) = (&self.formula.stages[stage], &numbers.stages[stage]);
        let of_total = declared.sizes.iter().any(|size| matches!(size.size, Size::OfTotal));
        match of_total {
            false => worked.basis.clone(),
            true => self.listed_flour(numbers) * &worked.grown,
        }
    }

    /// The flour on the lines of the final dough, stages and cultures left out.
    pub fn added_flour(&self, numbers: &Numbers) -> Exact {
        numbers.dough_lines.iter().fold(Exact::ZERO, |sum, line| match line.goes {
            Goes::Ingredient(id) if self.is_flour(id) => sum + &line.mass,
            _ => sum,
        })
    }

    /// Hydration over added flour only: the water on the lines of the dough.
    pub fn added_hydration(&self, numbers: &Numbers) -> Option<Exact> {
        let flour = self.added_flour(numbers);
        let water = numbers.dough_lines.iter().fold(Exact::ZERO, |sum, line| match line.goes {
            Goes::Ingredient(id) if self.house.ingredient(id).class == Class::Water => {
                sum + &line.mass
            }
            _ => sum,
        });
        (!flour.is_zero()).then(|| water / flour)
    }

    /// The pieces of a kind.
    pub fn piece(&self, kind: &str) -> Option<&WorkedPiece> {
        self.first().pieces.iter().find(|piece| is_kind(&piece.made.key, kind))
    }
}

impl super::house::Ingredient {
    /// Grams of fresh yeast that a gram of it stands for.
    pub fn as_fresh_yeast(&self) -> Exact {
        self.fresh_equivalent.clone().unwrap_or(Exact::ONE)
    }
}

fn add_split(house: &House, content: &mut Content, substance: Substance, mass: &Exact) {
    match substance {
        Substance::Kept(id) => content.add_all(&house.culture(id).per_gram, mass),
        _ => content.add(substance, mass.clone()),
    }
}

/// Sums a share over the ingredients of a content.
pub fn sum_of(content: &Content, share: impl Fn(IngredientId) -> Option<Exact>) -> Exact {
    content.iter().fold(Exact::ZERO, |sum, (substance, mass)| match substance {
        Substance::Ingredient(id) => match share(id) {
            Some(share) if share.is_one() => sum + mass,
            Some(share) => sum + share * mass,
            None => sum,
        },
        _ => sum,
    })
}
