//! What a rule asks of a formula.

use super::limits;
use super::speech::GAP;
use super::verdict::Verdict;
use crate::diag::Finding;
use crate::diag::amounts::{celsius, grams};
use crate::formula::class::Class;
use crate::formula::{
    Allergen, Composition, Figure, House, Ingredient, IngredientId, LineRef, Mixer, NoWarmth,
    Numbers, Substance, Trouble, Value, ValueKind, Warmth, Within, Worked, WorkedLine, main_mix,
    unknown_style, warmth,
};
use crate::quantity::display::{minutes, percent, to_step, trimmed};
use crate::quantity::{Exact, Range, Unit, half, int, ratio};
use crate::source::{SourceId, Span};
use crate::syntax::tree::{
    Amount, Claim, Extent, Line, Method, Mix, Name, NotedText, Quantity, StageKind, Step, Style,
    Target, Text, TextPart, Until, Verb, With, WordsKind,
};
use crate::time::{self, Graph, Length, NoPlan};
use rustc_hash::{FxHashMap, FxHashSet};
use std::borrow::Cow;
use std::cell::{OnceCell, RefCell};

/// A formula with its house and what rules need more than once.
pub struct Context<'a, 't> {
    /// The house that the formula is of.
    pub house: &'a House<'t>,
    /// The formula with its masses.
    pub worked: &'a Worked<'t>,
    /// The style that it is held to, where it names one that is known.
    pub style: Option<&'t Style>,
    /// For the choice of range ends that is looked at.
    numbers: &'a Numbers,
    flour: Exact,
    troubles: Vec<(&'a Method, Trouble)>,
    /// What became of each claim, once `claims` has judged them.
    pub(super) verdicts: OnceCell<Vec<Verdict>>,
    /// The formula in time, and what can't hold together in it, where some rule asked.
    clash: OnceCell<Option<(Graph, NoPlan)>>,
    heaviest_lines: OnceCell<FxHashMap<IngredientId, &'a Line>>,
    /// How warm the water has to be, where some rule asked.
    warmth: OnceCell<Result<Warmth, NoWarmth>>,
    /// Figures of the whole dough that some rule has asked for.
    figures: RefCell<Vec<(Figure, Option<Value>)>>,
    /// Whether powder alone raises the dough, at the choice that is looked at.
    quick: OnceCell<bool>,
    /// Whether much fat and sugar stand on the flour, at the choice that is looked at.
    rich: OnceCell<bool>,
}

impl<'a, 't> Context<'a, 't> {
    /// Finds the style that the formula names; an unknown one is said here.
    pub fn new(house: &'a House<'t>, worked: &'a Worked<'t>, findings: &mut Vec<Finding>) -> Self {
        let style = worked.formula.style.as_ref().and_then(|name| {
            // The stores' bounds are written as styles, and are none to name.
            let style = house.style(&name.key);
            let style = style.filter(|style| style.span.source != SourceId::LIMITS);
            if style.is_none() {
                let near = house.near_style(&name.key);
                findings.push(unknown_style::finding(name, near, &house.style_names()));
            }
            style
        });
        let flour = worked.flour(&worked.first().whole);
        let mut troubles = Vec::new();
        let formula: &'a crate::syntax::tree::Formula = &worked.formula;
        for (index, stage) in formula.stages.iter().enumerate() {
            if let Some(method) = &stage.method {
                let additions = worked.additions(method, Within::Stage(index));
                troubles.extend(additions.troubles.into_iter().map(|trouble| (method, trouble)));
            }
        }
        if let Some(method) = &formula.method {
            let additions = worked.additions(method, Within::FinalDough);
            troubles.extend(additions.troubles.into_iter().map(|trouble| (method, trouble)));
        }
        let numbers = worked.first();
        Self {
            house,
            worked,
            style,
            numbers,
            flour,
            troubles,
            verdicts: OnceCell::new(),
            clash: OnceCell::new(),
            heaviest_lines: OnceCell::new(),
            warmth: OnceCell::new(),
            figures: RefCell::default(),
            quick: OnceCell::new(),
            rich: OnceCell::new(),
        }
    }

    /// How warm the water of the dough has to be.
    pub fn warmth(&self) -> Result<&Warmth, NoWarmth> {
        let known = self.warmth.get_or_init(|| warmth(self.worked));
        known.as_ref().map_err(|why| *why)
    }

    /// How long the formula takes, or hands are at work in it; none where it has no method.
    pub fn length(&self, figure: &Figure) -> Option<Length> {
        let graph = time::graph(self.house, self.worked)?;
        Some(match figure {
            Figure::HandsOn => time::hands_on(&graph),
            _ => time::elapsed(&graph),
        })
    }

    /// What can't hold together in the formula's times, whatever the clock.
    pub fn clash(&self) -> Option<(&Graph, &NoPlan)> {
        let found = self.clash.get_or_init(|| {
            if !self.uses_a_stage_twice() {
                return None;
            }
            let graph = time::graph(self.house, self.worked)?;
            let clash = time::clash(&graph)?;
            Some((graph, clash))
        });
        found.as_ref().map(|(graph, clash)| (graph, clash))
    }

    /// Whether some stage is used in two places: in two mixes, or in parts. One that is used
    /// once can always be built early enough.
    fn uses_a_stage_twice(&self) -> bool {
        let numbers = self.worked.first();
        let lines = numbers.stages.iter().flat_map(|stage| &stage.lines);
        let mut used: Vec<usize> = Vec::new();
        for line in lines.chain(&numbers.dough_lines) {
            if let LineRef::Stage(stage) = line.goes {
                if used.contains(&stage) {
                    return true;
                }
                used.push(stage);
            }
        }
        let is_stage = |target: &Target| {
            let mut stages = self.worked.formula.stages.iter();
            stages.any(|stage| stage.name.key == target.name.key)
        };
        let steps = self.worked.formula.method.iter().flat_map(|method| &method.steps);
        steps.flat_map(|step| &step.phases).flat_map(|phase| &phase.with).any(|with| match with {
            With::Share(_, target) | With::Weight(_, target) | With::Remaining(target) => {
                is_stage(target)
            }
            With::Name(_) | With::Flours(_) | With::EverythingElse(_) => false,
        })
    }

    /// The numbers that are looked at.
    pub fn first(&self) -> &'a Numbers {
        self.numbers
    }

    /// Looks at another choice of range ends from now on.
    pub fn look_at(&mut self, numbers: &'a Numbers) {
        self.flour = self.worked.flour(&numbers.whole);
        self.numbers = numbers;
        self.figures.take();
        self.quick.take();
        self.rich.take();
    }

    /// A figure at the choice of range ends that is looked at; of one piece, for each kind.
    pub fn figures(&self, figure: &Figure) -> Vec<Value> {
        let values = self.worked.figure_by_kind(self.numbers, figure, Within::All);
        values.unwrap_or_default()
    }

    /// A figure of the whole dough; worked out once.
    pub fn figure(&self, figure: &Figure) -> Option<Value> {
        if let Some((_, value)) = self.figures.borrow().iter().find(|(known, _)| known == figure) {
            return value.clone();
        }
        let value = self.worked.figure_of(self.numbers, figure, Within::All);
        self.figures.borrow_mut().push((figure.clone(), value.clone()));
        value
    }

    /// The block that says what the dough is of: `total`, or `dough` without one.
    pub fn main_mix(&self) -> Option<&'a Mix> {
        main_mix(&self.worked.formula)
    }

    /// All the flour in grams.
    pub fn flour(&self) -> &Exact {
        &self.flour
    }

    /// Whether a line's ingredient counts as flour in this formula.
    pub fn is_flour(&self, line: &Line) -> bool {
        let id = self.house.ingredient_id(&line.target.name.key);
        id.is_some_and(|id| self.worked.is_flour(id))
    }

    /// Whether a name on a line of the dough is that of a flour.
    pub fn line_of_flour(&self, key: &str) -> bool {
        let mut lines = self.main_mix().into_iter().flat_map(|mix| &mix.lines);
        lines.any(|line| line.target.name.key == key && self.is_flour(line))
    }

    /// A quantity in the base unit of its dimension.
    pub fn base(&self, quantity: &Quantity) -> Exact {
        quantity.unit.to_base(&quantity.number, self.house.settings.measures)
    }

    /// A range with its ends in the base unit of their dimension.
    pub fn range(&self, extent: &Extent) -> Range {
        Range {
            low: extent.low.as_ref().map(|low| self.base(low)),
            high: extent.high.as_ref().map(|high| self.base(high)),
        }
    }

    /// A figure of the whole formula that is a share, at the low ends of ranges.
    pub fn share(&self, figure: &Figure) -> Option<Exact> {
        let value = self.figure(figure)?;
        Some(value.amount)
    }

    /// Grams of a class in the dough.
    pub fn class(&self, class: Class) -> Exact {
        self.worked.class_mass(&self.first().whole, class)
    }

    /// Salt over flour, grain and seed.
    pub fn salt_share(&self) -> Option<Exact> {
        let base = self.flour.clone() + self.class(Class::Grain) + self.class(Class::Seed);
        self.class(Class::Salt).over(&base).filter(|_| !self.flour.is_zero())
    }

    /// The one line that brings all salt, written so that salt comes to 2 % or, where that
    /// is not usual, to the middle of a range.
    pub fn salt_in_the_middle(&self, range: &Range) -> Option<(Span, String)> {
        let (low, high) = (range.low.as_ref()?, range.high.as_ref()?);
        let mix = self.main_mix()?;
        let is_salt = |line: &&Line| {
            let id = self.house.ingredient_id(&line.target.name.key);
            id.is_some_and(|id| self.house.ingredient(id).class == Class::Salt)
        };
        let stages = self.worked.formula.stages.iter().flat_map(|stage| &stage.mix.lines);
        if stages.filter(is_salt).count() > 0 {
            return None;
        }
        let mut lines = mix.lines.iter().filter(is_salt);
        let (Some(line), None) = (lines.next(), lines.next()) else { return None };
        // Salt inside another formula or a mixture stays what it is.
        let own = self.worked.class_lines(self.first(), Class::Salt, Within::FinalDough);
        if own != self.class(Class::Salt) {
            return None;
        }
        let Amount::Measured { range: written, base: None } = &line.amount else { return None };
        let quantity = written.low.as_ref().filter(|_| !written.ranged)?;
        let usual = limits::number("habit", "usual salt")?;
        let range = Range { low: Some(low.clone()), high: Some(high.clone()) };
        let wanted = if range.holds(&usual) { usual } else { (low + high) * half() };
        let salt = self.salt_share()?;
        let number = (&quantity.number * wanted).over(&salt)?;
        // As few digits as bring it inside: whole grams are too coarse for a roll.
        let shown = (0..=2).map(|decimals| trimmed(&number, decimals)).find(|shown| {
            let written = crate::quantity::read_number(shown).map(|number| number.value);
            let share = written.ok().and_then(|written| (&salt * written).over(&quantity.number));
            share.is_some_and(|share| range.holds(&share))
        })?;
        match quantity.unit {
            Unit::Percent => Some((written.span, format!("{shown}%"))),
            Unit::Gram => Some((written.span, format!("{shown} g"))),
            _ => None,
        }
    }

    /// How the share of salt comes about.
    pub fn salt_working(&self) -> String {
        let mut base = format!("{} flour", grams(&self.flour));
        for (class, word) in [(Class::Grain, "grain"), (Class::Seed, "seed")] {
            let mass = self.class(class);
            if !mass.is_zero() {
                base.push_str(&format!(" + {} {word}", grams(&mass)));
            }
        }
        if base.contains('+') {
            base = format!("({base})");
        }
        let share = self.salt_share().unwrap_or_default();
        let salt = grams(&self.class(Class::Salt));
        format!("{salt} salt ÷ {base} = {}", self.show(&share, ValueKind::Share))
    }

    /// Where the first ingredient of a class stands.
    pub fn class_span(&self, class: Class) -> Option<Span> {
        self.class_line(class).map(|line| line.span)
    }

    /// The first line of an ingredient of a class.
    pub fn class_line(&self, class: Class) -> Option<&'a Line> {
        let formula: &'a crate::syntax::tree::Formula = &self.worked.formula;
        let stages = formula.stages.iter().map(|stage| &stage.mix);
        let is_it = |line: &&Line| {
            let named = self.house.ingredient_named(&line.target.name.key);
            named.is_some_and(|ingredient| ingredient.class == class)
        };
        self.main_mix().into_iter().chain(stages).flat_map(|mix| &mix.lines).find(is_it)
    }

    /// Where the line stands that a figure mostly depends on.
    pub fn figure_span(&self, figure: &Figure) -> Option<Span> {
        match figure {
            Figure::Class(class) => self.class_span(*class),
            Figure::Hydration | Figure::Liquids => self.class_span(Class::Water),
            Figure::YeastAsFresh => self.class_span(Class::Yeast),
            _ => None,
        }
    }

    /// A bound from the store of limits.
    pub fn limit(&self, group: &str, name: &str) -> Option<Range> {
        limits::bound(group, name)
    }

    /// What is usual of a figure, unless the style bounds it itself.
    pub fn habit(&self, figure: &str) -> Option<Range> {
        if self.style_bounds(figure) {
            return None;
        }
        let of = |group: &str, applies: bool| applies.then(|| self.limit(group, figure)).flatten();
        of("habit of quick doughs", self.is_quick())
            .or_else(|| of("habit of rich doughs", self.is_rich()))
            .or_else(|| self.limit("habit", figure))
    }

    /// Whether powder alone raises the dough.
    fn is_quick(&self) -> bool {
        *self.quick.get_or_init(|| self.is_raised_by_powder())
    }

    fn is_raised_by_powder(&self) -> bool {
        let holds_any = |test: &dyn Fn(&Ingredient) -> bool| {
            let ids = self.worked.ingredients();
            ids.iter().any(|ingredient| test(ingredient))
        };
        let stages = self.first().stages.iter().flat_map(|stage| &stage.lines);
        let mut lines = stages.chain(&self.first().dough_lines);
        let ferments = holds_any(&|it| it.class == Class::Yeast)
            || lines.any(|it| matches!(it.goes, LineRef::Culture(_) | LineRef::OldDough));
        !ferments && holds_any(&|it| it.class == Class::Leavener || limits::holds_powder(it))
    }

    /// Whether much fat and sugar stand on the flour.
    fn is_rich(&self) -> bool {
        *self.rich.get_or_init(|| {
            let most = limits::most("rich doughs", "fat and sugar").unwrap_or(Exact::ONE);
            self.class(Class::Fat) + self.class(Class::Sugar) > &self.flour * most
        })
    }

    /// What the style that is named says of a figure of the whole formula.
    pub fn own_bound(&self, figure: &str) -> Option<Range> {
        let mut bounds = self.style?.bounds.iter();
        let bound = bounds.find(|bound| bound.what.name.key == figure && bound.place.is_none())?;
        Some(self.range(&bound.range))
    }

    /// What is possible of a figure.
    pub fn physics(&self, figure: &str) -> Option<Range> {
        let rich = self.is_rich().then(|| self.limit("physics of rich doughs", figure)).flatten();
        rich.or_else(|| self.limit("physics", figure))
    }

    /// The line of an ingredient that brings most of it, in any mix.
    pub fn ingredient_line(&self, id: IngredientId) -> Option<&'a Line> {
        self.heaviest_lines.get_or_init(|| self.lines_by_ingredient()).get(&id).copied()
    }

    /// Of each ingredient the line that brings most of it.
    fn lines_by_ingredient(&self) -> FxHashMap<IngredientId, &'a Line> {
        let numbers = self.first();
        let formula: &'a crate::syntax::tree::Formula = &self.worked.formula;
        let main: &[WorkedLine] = match numbers.total_lines.is_empty() {
            true => &numbers.dough_lines,
            false => &numbers.total_lines,
        };
        let stages = formula.stages.iter().zip(&numbers.stages);
        let stages = stages.map(|(stage, worked)| (&stage.mix, worked.lines.as_slice()));
        let mixes = self.main_mix().map(|mix| (mix, main)).into_iter().chain(stages);
        let mut heaviest: FxHashMap<IngredientId, (&'a Line, &Exact)> = FxHashMap::default();
        for (mix, lines) in mixes {
            for worked in lines {
                let LineRef::Ingredient(id) = worked.goes else { continue };
                let Some(line) = worked.line.and_then(|line| mix.lines.get(line)) else { continue };
                let known = heaviest.entry(id).or_insert((line, &worked.mass));
                if worked.mass >= *known.1 {
                    *known = (line, &worked.mass);
                }
            }
        }
        heaviest.into_iter().map(|(id, (line, _))| (id, line)).collect()
    }

    /// Whether the formula's style bounds a figure, so that the usual bound of it is silent.
    pub fn style_bounds(&self, figure: &str) -> bool {
        self.style
            .is_some_and(|style| style.bounds.iter().any(|bound| bound.what.name.key == figure))
    }

    /// Whether the style is made without something.
    pub fn style_goes_without(&self, what: &str) -> bool {
        self.style.is_some_and(|style| style.without.iter().any(|name| name.key == what))
    }

    /// Water that soakers and scalds of seed and grain hold.
    pub fn soaked_water(&self) -> Exact {
        let formula = &self.worked.formula;
        let numbers = self.first();
        formula.stages.iter().zip(&numbers.stages).fold(Exact::ZERO, |sum, (stage, worked)| {
            let of = |class| self.worked.class_mass(&worked.goes_on, class);
            let seeds = of(Class::Seed) + of(Class::Grain);
            let flour = self.worked.flour(&worked.goes_on);
            let is_soaked = matches!(stage.kind, StageKind::Soaker | StageKind::Scald);
            if is_soaked && seeds > flour {
                sum + self.worked.class_mass(&worked.goes_on, Class::Water)
            } else {
                sum
            }
        })
    }

    /// Whether all commercial yeast in the dough is fresh.
    pub fn is_fresh_yeast(&self) -> bool {
        self.ingredients_of(&self.first().whole)
            .filter(|ingredient| ingredient.class == Class::Yeast)
            .all(|ingredient| ingredient.as_fresh_yeast().is_one())
    }

    /// Whether nothing but commercial yeast raises the dough.
    pub fn only_yeast(&self) -> bool {
        let numbers = self.first();
        let stages = numbers.stages.iter().flat_map(|stage| &stage.lines);
        stages.chain(&numbers.dough_lines).all(|line| match line.goes {
            LineRef::Culture(_) | LineRef::OldDough => false,
            LineRef::Ingredient(id) => self.house.ingredient(id).class != Class::Leavener,
            _ => true,
        })
    }

    /// The longest wait in minutes, where there is a method.
    pub fn longest_wait(&self) -> Option<Exact> {
        let formula = &self.worked.formula;
        formula.method.as_ref()?;
        let steps = self.steps().flat_map(|step| &step.phases);
        let times = steps.filter_map(|phase| phase.duration.as_deref());
        let ripens =
            formula.stages.iter().flat_map(|stage| stage.ripens.iter().chain(&stage.stands));
        let times = times.chain(ripens.filter_map(|wait| wait.time.as_ref()));
        times
            .filter_map(|time| time.high.as_ref().or(time.low.as_ref()))
            .map(|time| self.base(time))
            .max()
    }

    /// What a mass is to the flour; zero where there is no flour.
    pub fn of_flour(&self, mass: &Exact) -> Exact {
        mass.over(&self.flour).unwrap_or_default()
    }

    /// The share of the flour that is rye, by the allergen it contains.
    pub fn rye_share(&self) -> Exact {
        let Some(rye) = Allergen::read("rye") else { return Exact::ZERO };
        let mass = self.first().whole.iter().fold(Exact::ZERO, |sum, (substance, mass)| {
            let Substance::Ingredient(id) = substance else { return sum };
            let is_rye = self.house.ingredient(id).declared.contains(rye);
            if is_rye && self.worked.is_flour(id) { sum + mass } else { sum }
        });
        self.of_flour(&mass)
    }

    /// Whether a stage goes into another, directly or by way of others.
    pub fn flows_into(&self, from: usize, to: usize) -> bool {
        let stages = &self.first().stages;
        let mut open = vec![to];
        let mut seen = vec![false; stages.len()];
        while let Some(stage) = open.pop() {
            if stage == from {
                return true;
            }
            if !std::mem::replace(&mut seen[stage], true) {
                open.extend(stages[stage].lines.iter().filter_map(|line| match line.goes {
                    LineRef::Stage(inner) => Some(inner),
                    _ => None,
                }));
            }
        }
        false
    }

    /// What is wrong with the `with` of its steps, each with the method it is in.
    pub fn method_troubles(&self) -> impl Iterator<Item = (&'a Method, &Trouble)> {
        self.troubles.iter().map(|(method, trouble)| (*method, trouble))
    }

    /// All steps, those of stages first.
    pub fn steps(&self) -> impl Iterator<Item = &'a Step> {
        let formula: &'a crate::syntax::tree::Formula = &self.worked.formula;
        let stages = formula.stages.iter().filter_map(|stage| stage.method.as_ref());
        stages.chain(&formula.method).flat_map(|method| &method.steps)
    }

    /// Every text that is printed.
    pub fn texts(&self) -> impl Iterator<Item = &'a Text> {
        let formula: &'a crate::syntax::tree::Formula = &self.worked.formula;
        let stages = formula.stages.iter().flat_map(|stage| &stage.texts);
        let words = formula.texts.iter().chain(stages).map(|words| &words.text);
        let steps =
            self.steps().flat_map(|step| step.text.iter().chain(&step.notes).chain(&step.cautions));
        words.chain(steps)
    }

    /// The lines that cultures stand on, in stages and dough.
    pub fn lines_of_cultures(&self) -> impl Iterator<Item = &'a WorkedLine> {
        self.mixed_lines().filter(|line| matches!(line.goes, LineRef::Culture(_)))
    }

    /// The line with dough of the day before.
    pub fn old_dough_line(&self) -> Option<&'a WorkedLine> {
        self.mixed_lines().find(|line| line.goes == LineRef::OldDough)
    }

    fn mixed_lines(&self) -> impl Iterator<Item = &'a WorkedLine> {
        let numbers = self.numbers;
        let stages = numbers.stages.iter().flat_map(|stage| &stage.lines);
        stages.chain(&numbers.dough_lines).chain(&numbers.total_lines)
    }

    /// All that is said to people, with where it stands.
    pub fn said(&self) -> Vec<PlainText<'a>> {
        let formula: &'a crate::syntax::tree::Formula = &self.worked.formula;
        let mut all = vec![self.title_said()];
        let own = |words: &'a NotedText| (&words.text, SaidAt::of(words.kind));
        all.extend(formula.texts.iter().map(own).map(PlainText::new));
        for stage in &formula.stages {
            all.extend(
                stage.texts.iter().map(|words| PlainText::new((&words.text, SaidAt::Stage))),
            );
        }
        let mixtures = formula.mixtures.iter().flat_map(|mixture| &mixture.texts);
        all.extend(mixtures.map(own).map(PlainText::new));
        let lines = crate::formula::all_mixes(formula).flat_map(|mix| &mix.lines);
        let notes = lines.filter_map(|line| line.note.as_ref());
        all.extend(notes.map(|note| PlainText::new((note, SaidAt::Line))));
        for step in self.steps() {
            let until = step.phases.iter().flat_map(|phase| &phase.until);
            let until = until.filter_map(|until| match until {
                Until::Text(text) => Some(text),
                _ => None,
            });
            let words = step.text.iter().chain(&step.notes).chain(&step.cautions).chain(until);
            all.extend(words.map(|text| PlainText::new((text, SaidAt::Step(step)))));
        }
        all
    }

    /// What is printed with the formula though it was not said of it: the house's name, footer
    /// and language, the style, the kinds of piece, the roles of lines, cautions of what goes in.
    pub fn said_of_all(&self) -> Vec<PlainText<'a>> {
        let settings = &self.house.settings;
        let title = settings.title.as_deref().map(|title| (title, settings.title_span));
        let own = settings.footer.iter().chain(&settings.language);
        let own = own.map(|it| (it.value.as_str(), it.span));
        let house = title.into_iter().chain(own).map(|it| PlainText::plain(it, SaidAt::House));
        let house = house.chain(self.name_beside_a_title());
        let names = self.printed_names().into_iter().map(|it| PlainText::plain(it, SaidAt::Name));
        house.chain(names).chain(self.said_of_parts()).collect()
    }

    /// The name of a formula that has a title: files and codes are called by it.
    fn name_beside_a_title(&self) -> Option<PlainText<'a>> {
        let formula: &'a crate::syntax::tree::Formula = &self.worked.formula;
        let name = &formula.name;
        let said = || PlainText::plain((name.shown.as_str(), name.span), SaidAt::Title);
        formula.title.as_ref().map(|_| said())
    }

    /// Names that are printed, where they stand.
    fn printed_names(&self) -> Vec<(&'a str, Span)> {
        let formula: &'a crate::syntax::tree::Formula = &self.worked.formula;
        let pieces = formula.makes.iter().flat_map(|makes| &makes.pieces);
        let names = formula.style.iter().chain(pieces.map(|piece| &piece.kind));
        let lines = crate::formula::all_mixes(formula).flat_map(|mix| &mix.lines);
        let roles = lines.filter_map(|line| line.target.role.as_deref());
        let stages = formula.stages.iter().map(|stage| &stage.name);
        let own = stages.chain(formula.mixtures.iter().map(|mixture| &mixture.name));
        let tins = formula.makes.iter().flat_map(|makes| &makes.pieces);
        let tins = tins.filter_map(|piece| piece.tin.as_ref());
        let machines = self.machines_used();
        let all = names.chain(roles).chain(own).chain(tins).chain(machines);
        let all = all.map(|name| (name.shown.as_str(), name.span));
        all.chain(self.places_said()).collect()
    }

    /// What is said of the ingredients, cultures and mixtures that go in. Where that is
    /// from is printed nowhere, and yet a packet may be quoted there.
    fn said_of_parts(&self) -> Vec<PlainText<'a>> {
        let house: &'a House<'t> = self.house;
        let formula: &'a crate::syntax::tree::Formula = &self.worked.formula;
        let mixtures =
            self.worked.side_mixes.iter().filter_map(|side_mix| house.mixture(&side_mix.key));
        let mixtures: Vec<_> = mixtures.collect();
        let mixes = crate::formula::all_mixes(formula).chain(mixtures.iter().map(|it| &it.mix));
        let mut keys: FxHashSet<&str> = FxHashSet::default();
        let mut all: Vec<PlainText<'a>> = Vec::new();
        for line in mixes.flat_map(|mix| &mix.lines) {
            let key = line.target.name.key.as_str();
            if !keys.insert(key) {
                continue;
            }
            let ingredient = house.ingredient_named(key).map(|it| (&it.cautions, &it.remarks));
            let culture = || house.culture_named(key).map(|(_, it)| (&it.cautions, &it.remarks));
            let Some((cautions, remarks)) = ingredient.or_else(culture) else { continue };
            // Those of the stores are ours to word, and printed from the catalogues.
            let own = cautions.iter().filter(|text| !text.span.source.is_built_in());
            all.extend(own.map(|text| PlainText::new((text, SaidAt::Part))));
            all.extend(remarks.iter().map(PlainText::of_part));
        }
        all.extend(mixtures.iter().flat_map(|mixture| &mixture.texts).map(PlainText::of_part));
        all
    }

    /// The mixers that mix steps take without naming them.
    fn machines_used(&self) -> impl Iterator<Item = &'a Name> {
        let phases = self.steps().filter(|step| step.verb == Verb::Mix);
        let phases = phases.flat_map(|step| &step.phases).filter(|it| it.place.is_none());
        let worked = self.worked;
        phases.filter_map(move |phase| worked.mixer_of(phase)).map(|mixer| &mixer.name)
    }

    /// Where steps are done, as they are written and printed: `in buttered tin`.
    pub fn places_said(&self) -> impl Iterator<Item = (&'a str, Span)> {
        let phases = self.steps().flat_map(|step| &step.phases);
        let places = phases.filter_map(|phase| phase.place.as_ref());
        places.map(|place| (place.shown.as_str(), place.span))
    }

    fn title_said(&self) -> PlainText<'a> {
        let formula: &'a crate::syntax::tree::Formula = &self.worked.formula;
        let span = formula.title.as_ref().map_or(formula.name.span, |title| title.span);
        PlainText { words: crate::formula::title(formula).into(), span, place: SaidAt::Title }
    }

    /// Names that `in NAME` of a step may mean.
    pub fn step_places(&self) -> impl Iterator<Item = &str> {
        let side_mixes = self.worked.side_mixes.iter().map(|side_mix| side_mix.key.as_str());
        let places = time::places().map(|place| -> &str { place });
        self.house.machine_names().chain(side_mixes).chain(places)
    }

    /// Whether `in NAME` can mean it: a machine, a side mix, a place or a food.
    pub fn is_place(&self, key: &str) -> bool {
        self.step_places().any(|known| known == key)
            || self.house.ingredient_id(key).is_some()
            || self.worked.within(key).is_some()
            || time::is_place(key)
    }

    /// The lines of the mixes that a claim is about.
    pub fn lines_within(&self, within: Within) -> impl Iterator<Item = &'a Line> {
        let formula: &'a crate::syntax::tree::Formula = &self.worked.formula;
        let all = within == Within::All;
        let main = self.main_mix().filter(|_| all || within == Within::FinalDough);
        let stages = formula.stages.iter().enumerate();
        let stages = stages.filter(move |(index, _)| all || within == Within::Stage(*index));
        let pieces = formula.pieces.iter().filter(move |_| within == Within::Pieces);
        let mixes = main.into_iter().chain(stages.map(|(_, stage)| &stage.mix));
        mixes.chain(pieces.map(|piece| &piece.mix)).flat_map(|mix| &mix.lines)
    }

    /// The mixer that a mix step names, and where.
    pub fn named_mixer(&self) -> Option<(&'a Mixer, Span)> {
        let (mixer, named) = self.worked.named_mixer()?;
        Some((mixer, self.worked.formula.makes.as_ref().map_or(named, |makes| makes.span)))
    }

    /// How many batches the dough is mixed in.
    pub fn batches(&self) -> u32 {
        self.worked.batches()
    }

    fn ingredients_of(&self, content: &'a Composition) -> impl Iterator<Item = &'a Ingredient> {
        content.iter().filter_map(|(substance, _)| match substance {
            Substance::Ingredient(id) => Some(self.house.ingredient(id)),
            _ => None,
        })
    }

    /// Whether the house has an ingredient or a culture of that name.
    pub fn is_known(&self, key: &str) -> bool {
        self.house.ingredient_id(key).is_some() || self.house.culture_named(key).is_some()
    }

    /// The names of places that a claim may ask in.
    pub fn places(&self) -> impl Iterator<Item = &str> {
        let stages = self.worked.formula.stages.iter().map(|stage| stage.name.key.as_str());
        let side_mixes = self.worked.side_mixes.iter().map(|side_mix| side_mix.key.as_str());
        ["final dough", "pieces"].into_iter().chain(stages).chain(side_mixes)
    }

    /// The names that stand on the formula's lines.
    pub fn line_names(&self) -> impl Iterator<Item = String> {
        let formula = &self.worked.formula;
        let stages = formula.stages.iter().map(|stage| stage.name.key.to_string());
        let mixes = crate::formula::all_mixes(formula).flat_map(|mix| &mix.lines);
        stages.chain(mixes.map(|line| line.target.name.key.to_string()))
    }

    /// Whether something stands beside the dough only, so that a claim has to say so.
    pub fn is_beside(&self, claim: &Claim) -> bool {
        let key = claim.what.name.key.as_str();
        let numbers = self.first();
        let mass = |within| self.worked.line_mass(numbers, key, None, within);
        let in_dough = mass(Within::All).is_some_and(|mass| !mass.is_zero());
        let on_pieces = mass(Within::Pieces).is_some_and(|mass| !mass.is_zero());
        claim.place.is_none() && on_pieces && !in_dough
    }

    /// A claim's question in words: `water in final dough`.
    pub fn claim_name(&self, claim: &Claim) -> String {
        let mut name = claim.what.name.shown.to_string();
        if let Some(role) = &claim.what.role {
            name = format!("{name} ({})", role.shown);
        }
        match &claim.place {
            Some(place) => format!("{name} in {}", place.shown),
            None => name,
        }
    }

    /// Whether a mix holds yeast or a culture; none is the whole dough.
    pub fn is_alive(&self, stage: Option<usize>) -> bool {
        let numbers = self.first();
        let lines = |stage: usize| numbers.stages[stage].lines.as_slice();
        let mut open: Vec<usize> = stage.into_iter().collect();
        let mut seen = Vec::new();
        let alive = |lines: &[WorkedLine], open: &mut Vec<usize>| {
            lines.iter().any(|line| match line.goes {
                LineRef::Culture(_) | LineRef::OldDough => true,
                LineRef::Stage(inner) => {
                    open.push(inner);
                    false
                }
                LineRef::Ingredient(id) => self.house.ingredient(id).class == Class::Yeast,
                _ => false,
            })
        };
        if stage.is_none() && alive(&numbers.dough_lines, &mut open) {
            return true;
        }
        while let Some(stage) = open.pop() {
            if !seen.contains(&stage) {
                seen.push(stage);
                if alive(lines(stage), &mut open) {
                    return true;
                }
            }
        }
        false
    }

    /// The steps of mixes that hold yeast or a culture.
    pub fn living_steps(&self) -> impl Iterator<Item = &'a Step> {
        let formula: &'a crate::syntax::tree::Formula = &self.worked.formula;
        let stages = formula.stages.iter().enumerate();
        let stages = stages.filter(|(index, _)| self.is_alive(Some(*index)));
        let stages = stages.filter_map(|(_, stage)| stage.method.as_ref());
        let own = formula.method.iter().filter(|_| self.is_alive(None));
        stages.chain(own).flat_map(|method| &method.steps)
    }

    /// A value of a figure for a sentence.
    pub fn show(&self, value: &Exact, kind: ValueKind) -> String {
        match kind {
            ValueKind::Share => {
                let shown = trimmed(&(value * int(100)), 2);
                // What is something is never told as nothing.
                let is_nothing = !value.is_zero() && to_step(value, &ratio(1, 10_000)).is_zero();
                format!("{} %", if is_nothing { percent(value, 2) } else { shown })
            }
            ValueKind::Mass => grams(value),
            ValueKind::Number => trimmed(value, 2),
            ValueKind::Time => minutes(value),
            ValueKind::Temperature => celsius(value, 1),
            ValueKind::Energy => format!("{} kJ", trimmed(value, 1)),
        }
    }
}

/// Where something is said.
#[derive(Clone, Copy, Debug)]
pub enum SaidAt<'a> {
    /// What prints call the formula.
    Title,
    /// What is read before the formula.
    Headnote,
    /// A note, a caution, equipment or a line's note.
    Note,
    /// The note of a line.
    Line,
    /// How the bread keeps.
    Storage,
    /// Where the formula is from; what it names is no part of the bread.
    Source,
    /// Of a stage, or of a side mix.
    Stage,
    /// A note, a caution, `until` or the words of a step.
    Step(&'a Step),
    /// What a house says on every print.
    House,
    /// A name that is printed: of a style, a kind of piece, a stage, a role of a line.
    Name,
    /// What is said of an ingredient, a culture or a mixture wherever it is used.
    Part,
}

impl SaidAt<'_> {
    /// What it is, whatever the step.
    pub fn word(self) -> &'static str {
        match self {
            Self::Title => "title",
            Self::Headnote => "headnote",
            Self::Note => "note",
            Self::Line => "line",
            Self::Storage => "storage",
            Self::Source => "source",
            Self::Stage => "stage",
            Self::Step(_) => "step",
            Self::House => "house",
            Self::Name => "name",
            Self::Part => "part",
        }
    }

    fn of(kind: WordsKind) -> Self {
        match kind {
            WordsKind::Headnote => Self::Headnote,
            WordsKind::Storage => Self::Storage,
            WordsKind::Source => Self::Source,
            WordsKind::Note | WordsKind::Caution | WordsKind::Equipment => Self::Note,
        }
    }
}

/// A text, its live figures left out.
#[derive(Clone, Debug)]
pub struct PlainText<'a> {
    /// What is said, with [`super::speech::GAP`] for live figures.
    pub words: Cow<'a, str>,
    /// Of the text in the file.
    pub span: Span,
    /// Where it is said.
    pub place: SaidAt<'a>,
}

impl<'a> PlainText<'a> {
    /// Of an ingredient, a culture or a mixture.
    fn of_part(words: &'a NotedText) -> Self {
        let place = match words.kind {
            WordsKind::Source => SaidAt::Source,
            _ => SaidAt::Part,
        };
        Self::new((&words.text, place))
    }

    pub(super) fn plain((words, span): (&'a str, Span), place: SaidAt<'a>) -> Self {
        Self { words: Cow::Borrowed(words), span, place }
    }

    pub(super) fn new((text, place): (&'a Text, SaidAt<'a>)) -> Self {
        let words = match text.parts.as_slice() {
            [TextPart::Plain(words)] => Cow::Borrowed(words.as_str()),
            parts => Cow::Owned(parts.iter().map(plain_or_gap).collect()),
        };
        Self { words, span: text.span, place }
    }

    /// Where words of the text stand; all of it where marks in it hide their place.
    pub fn place_of(&self, written: &str) -> Span {
        let quotes = self.span.range().len().checked_sub(self.words.len());
        let at = self.words.find(written).filter(|_| !written.is_empty());
        let (Some(quotes @ (0 | 2)), Some(at)) = (quotes, at) else { return self.span };
        let start = self.span.range().start + quotes / 2 + at;
        let byte = |at: usize| u32::try_from(at).unwrap_or(self.span.start);
        Span { start: byte(start), end: byte(start + written.len()), ..self.span }
    }
}

fn plain_or_gap(part: &TextPart) -> &str {
    match part {
        TextPart::Plain(words) => words,
        TextPart::Figure { .. } => GAP,
    }
}
