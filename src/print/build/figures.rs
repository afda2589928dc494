//! The figures of the whole formula and of its stages.

use super::lines::soft;
use crate::formula::class::Class;
use crate::formula::{
    Figure, LineRef, Numbers, Substance, ValueKind, Within, Worked, WorkedLine, main_mix, sum_of,
};
use crate::print::context::PrintContext;
use crate::print::document::FigurePart;
use crate::print::ends::{both_ends, told_apart};
use crate::print::words::{capital, length_words};
use crate::quantity::display::read_exact;
use crate::quantity::{Exact, display, int, ratio};
use crate::time;

impl PrintContext<'_, '_> {
    /// The figures of the whole formula, the important ones first.
    pub(super) fn figures(&self) -> Vec<FigurePart> {
        self.listed(false)
    }

    /// The same with those that would say nothing beside the others, or are nought: a
    /// comparison asks what a figure was before it could be seen.
    pub(super) fn every_figure(&self) -> Vec<FigurePart> {
        self.listed(true)
    }

    fn listed(&self, all: bool) -> Vec<FigurePart> {
        let salt = Figure::Class(Class::Salt);
        let wanted = [
            ("hydration", Figure::Hydration, true),
            ("true hydration", Figure::TrueHydration, true),
            ("salt", salt, true),
            ("prefermented flour", Figure::PrefermentedFlour, true),
            ("liquids", Figure::Liquids, false),
            ("effective hydration", Figure::EffectiveHydration, false),
            ("sugar", Figure::Class(Class::Sugar), false),
            ("fat", Figure::Class(Class::Fat), false),
            ("yeast as fresh", Figure::YeastAsFresh, false),
            ("total percentage", Figure::TotalPercentage, false),
            ("dough yield", Figure::DoughYield, false),
            ("salt as eaten", Figure::SaltAsEaten, false),
            ("salt as declared", Figure::SaltAsDeclared, false),
            ("flour", Figure::Flour, false),
            ("dough", Figure::Dough, false),
        ];
        let mut figures: Vec<FigurePart> = wanted
            .into_iter()
            // Where a table splits every culture, its hydration is the true one.
            .filter(|(name, ..)| all || *name != "true hydration" || self.leaves_cultures_whole())
            .filter_map(|(name, figure, key)| self.figure(name, &figure, key, all))
            .collect();
        // In the home convention both hydrations are told.
        if (all || self.worked.formula.dough.is_some())
            && let Some(added) = self.at_each(|it| self.worked.added_hydration(it))
        {
            let name = "hydration of added flour";
            let added = self.figure_part(name, self.label(name), added, true);
            let is_told = |first: &FigurePart| {
                (&first.exact, &first.exact_high) == (&added.exact, &added.exact_high)
            };
            if figures.first().is_some_and(|first| all || !is_told(first)) {
                figures.insert(1, added);
            }
        }
        // What a label declares is told where it is not the salt that was eaten.
        let eaten = figures.iter().find(|figure| figure.name == "salt as eaten");
        let eaten = eaten.map(|figure| figure.shown.clone());
        figures.retain(|figure| {
            all || figure.name != "salt as declared" || Some(&figure.shown) != eaten.as_ref()
        });
        // Flour and water say little of a dough that is wetted with something else.
        let exact = |name: &str| {
            let figure = figures.iter().find(|it| it.name == name)?;
            Some((figure.exact.clone(), figure.exact_high.clone()))
        };
        let liquids = exact("liquids");
        let has_liquids = liquids.is_some() && liquids != exact("hydration");
        figures.retain(|figure| all || figure.name != "dough yield" || !has_liquids);
        if !all {
            self.key_figures(&mut figures);
            self.unweighed_salt(&mut figures);
        }
        figures.extend(self.times());
        figures.extend(self.salt_apart(all));
        figures.extend(self.stage_shares());
        figures
    }

    /// How long it takes, and how long hands are at work.
    pub(super) fn times(&self) -> Vec<FigurePart> {
        let Some(graph) = time::graph(self.house, self.worked) else { return Vec::new() };
        let lengths = [("elapsed", time::elapsed(&graph)), ("hands-on", time::hands_on(&graph))];
        let some = lengths.into_iter().filter(|(_, length)| {
            !length.low.is_zero() || length.high.as_ref().is_none_or(|high| !high.is_zero())
        });
        some.map(|(name, length)| FigurePart {
            name: name.to_owned(),
            label: self.label(name),
            shown: length_words(self, &length),
            unit: String::new(),
            exact: display::exact(&length.low),
            exact_high: length
                .high
                .filter(|high| *high != length.low)
                .map(|high| display::exact(&high)),
            key: true,
        })
        .collect()
    }

    /// Whether a culture is listed as it is and not split.
    fn leaves_cultures_whole(&self) -> bool {
        let whole = &self.numbers().whole;
        whole.iter().any(|(substance, _)| matches!(substance, Substance::Whole(_)))
    }

    /// Salt inside other ingredients, where it is enough to be seen.
    fn salt_apart(&self, all: bool) -> Option<FigurePart> {
        let shares = self.at_each(|numbers| {
            let flour = self.worked.flour(&numbers.whole);
            let salt = sum_of(&numbers.whole, |id| {
                let ingredient = self.house.ingredient(id);
                (ingredient.class != Class::Salt).then(|| ingredient.salt.clone())
            });
            salt.over(&flour)
        })?;
        let seen = ratio(1, 2000);
        let name = "salt in other ingredients";
        let is_seen = all || shares.iter().any(|share| *share >= seen);
        is_seen.then(|| self.figure_part(name, self.label(name), shares, false))
    }

    /// What a figure is called on paper.
    fn label(&self, name: &str) -> String {
        self.words.say(&format!("figure-{}", name.replace(' ', "-")))
    }

    /// What goes of each ferment into the dough, on the three bases in use, each named.
    fn stage_shares(&self) -> Vec<FigurePart> {
        type Mass = fn(&Worked, &Numbers) -> Exact;
        let bases: [(&str, Mass); 3] = [
            ("all flour", |worked, numbers| worked.flour(&numbers.whole)),
            ("added flour", |worked, numbers| worked.added_flour(numbers)),
            ("dough", |_, numbers| numbers.whole.mass()),
        ];
        let stages = self.worked.formula.stages.iter().zip(&self.numbers().stages).enumerate();
        let ferments = stages
            .filter(|(_, (stage, worked))| stage.kind.ferments() && !worked.into_dough.is_zero());
        ferments
            .flat_map(|(index, (stage, _))| {
                bases.iter().filter_map(move |(of, base)| {
                    let shares = self.at_each(|numbers| {
                        numbers.stages[index].into_dough.over(&base(self.worked, numbers))
                    })?;
                    let name = format!("{} of {of}", stage.name.shown);
                    let id = format!("figure-of-{}", of.replace(' ', "-"));
                    let label = self.words.fill(&id, &[("stage", &stage.name.shown)]);
                    Some(self.figure_part(&name, capital(&label), shares, false))
                })
            })
            .collect()
    }

    /// A dough whose liquid is mostly milk or egg is told by its liquids: its hydration counts
    /// the water of a soaked raisin. Of a dough without a line of water there is none to tell.
    fn key_figures(&self, figures: &mut Vec<FigurePart>) {
        let exact = |name: &str| {
            let figure = figures.iter().find(|figure| figure.name == name)?;
            read_exact(figure.exact_high.as_ref().unwrap_or(&figure.exact))
        };
        let (hydration, liquids) = (exact("hydration"), exact("liquids"));
        let water = hydration.unwrap_or_default();
        let liquids = liquids.unwrap_or_default();
        let (rich, milky) = (liquids != water, liquids > &water * int(2));
        if milky && water.is_zero() {
            figures.retain(|figure| !figure.name.starts_with("hydration"));
        }
        for figure in figures {
            match figure.name.as_str() {
                "hydration" | "hydration of added flour" if milky => figure.key = false,
                "liquids" if rich => figure.key = true,
                "prefermented flour" if figure.shown == "0" => figure.key = false,
                _ => {}
            }
        }
    }

    /// Salt by the pinch weighs nothing in the arithmetic, and is none of nought per cent.
    fn unweighed_salt(&self, figures: &mut Vec<FigurePart>) {
        let Some(mix) = main_mix(&self.worked.formula) else { return };
        let is_salt = |line: &&WorkedLine| match line.goes {
            LineRef::Ingredient(id) => self.house.ingredient(id).class == Class::Salt,
            _ => false,
        };
        let salts = self.numbers().dough_lines.iter().filter(is_salt);
        let mut amounts = salts.filter_map(|line| Some(&mix.lines.get(line.line?)?.amount));
        let Some(said) = amounts.find_map(soft) else { return };
        figures.retain(|figure| !figure.name.starts_with("salt as "));
        for figure in figures.iter_mut().filter(|it| it.name == "salt" && it.shown == "0") {
            (figure.shown, figure.unit) = (self.words.say(said), String::new());
        }
    }

    fn figure(&self, name: &str, figure: &Figure, key: bool, all: bool) -> Option<FigurePart> {
        let values = self.worked.figure(figure, Within::All)?;
        let kind = values.first()?.kind;
        let of_flour = kind == ValueKind::Mass && matches!(figure, Figure::Class(_));
        // Each choice of range ends has its own flour.
        let each = values.into_iter().enumerate();
        let amounts: Option<Vec<Exact>> = each
            .map(|(index, value)| {
                let numbers = self.worked.choices.get(index).unwrap_or(self.numbers());
                let flour = self.worked.flour(&numbers.whole);
                match of_flour {
                    false => Some(value.amount),
                    true => value.amount.over(&flour),
                }
            })
            .collect();
        let amounts = amounts?;
        let is_zero = amounts.iter().all(Exact::is_zero);
        // Flour and water alone: without water it says nothing, as of a dough of milk.
        if matches!(figure, Figure::DoughYield) && amounts.iter().all(|it| *it == int(100)) {
            return None;
        }
        let always = ["hydration", "salt", "prefermented flour"];
        if is_zero && !all && !always.contains(&name) {
            return None;
        }
        let label = self.label(name);
        match kind {
            ValueKind::Mass if !of_flour => {
                let low = amounts.iter().min()?;
                let head = |grams: &Exact| match figure {
                    Figure::Flour => self.flour_weight(grams),
                    _ => self.head_weight(grams),
                };
                let weight = head(low);
                let high = amounts.iter().max()?;
                let shown = match low == high {
                    true => weight.shown,
                    false => {
                        let high = head(high);
                        match high.unit == weight.unit {
                            true => both_ends(weight.shown, &high.shown),
                            false => {
                                return Some(FigurePart {
                                    name: name.to_owned(),
                                    label,
                                    shown: format!(
                                        "{} {} – {}",
                                        weight.shown, weight.unit, high.shown
                                    ),
                                    unit: high.unit,
                                    exact: display::exact(low),
                                    exact_high: amounts.iter().max().map(display::exact),
                                    key,
                                });
                            }
                        }
                    }
                };
                Some(FigurePart {
                    name: name.to_owned(),
                    label,
                    shown,
                    unit: weight.unit,
                    exact: display::exact(low),
                    exact_high: (low != high).then(|| display::exact(high)),
                    key,
                })
            }
            ValueKind::Number => {
                let (low, high) = (amounts.iter().min()?, amounts.iter().max()?);
                Some(FigurePart {
                    name: name.to_owned(),
                    label,
                    shown: told_apart(low, high, 1, |number, digits| self.trimmed(number, digits)),
                    unit: String::new(),
                    exact: display::exact(low),
                    exact_high: (low != high).then(|| display::exact(high)),
                    key,
                })
            }
            _ => Some(self.figure_part(name, label, amounts, key)),
        }
    }

    fn figure_part(&self, name: &str, label: String, amounts: Vec<Exact>, key: bool) -> FigurePart {
        let low = amounts.iter().min().cloned().unwrap_or_default();
        let high = amounts.iter().max().cloned().unwrap_or_default();
        let shown = told_apart(&low, &high, 1, |share, digits| self.percent(share, digits));
        FigurePart {
            name: name.to_owned(),
            label,
            shown,
            unit: "%".into(),
            exact: display::exact(&low),
            exact_high: (low != high).then(|| display::exact(&high)),
            key,
        }
    }
}
