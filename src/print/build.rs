//! From a formula worked out to the document that prints are made from.

use super::context::{PrintContext, Rounded};
use super::document::{
    BesidePart, Document, FigurePart, GroupPart, HousePart, LineKind, LinePart, MixPart, PiecePart,
    VERSION, WaterPart, Weight, Yield,
};
use super::ends::{both_ends, told_apart};
use super::look;
use super::timeline;
use super::wording::Wording;
use super::words::{capital, length_words};
use super::{cautions, live, method};
use crate::formula::class::Class;
use crate::formula::weighing::{self, Leaving, TotalRow, Weighing};
use crate::formula::{
    Allergen, Allergens, Declared, Ends, Figure, House, IngredientId, LineRef, Numbers, Settings,
    SizedBy, Steers, Substance, ValueKind, Warmth, Within, Worked, WorkedLine, WorkedPiece,
    all_mixes, ends, ice_share, main_mix, sum_of, title, warmth,
};
use crate::quantity::display::{self, read_exact};
use crate::quantity::{Dimension, Exact, Unit, int, ratio};
use crate::syntax::tree::{Amount, Counting, Line, Mix, Quantity, Size, WordsKind};
use crate::time;

/// The document of a formula, in these words; with `volumes`, those stand beside weights.
pub fn document(house: &House, worked: &Worked, words: &Wording, volumes: bool) -> Document {
    let mut paper = PrintContext::new(house, worked, words, worked.batches(), volumes);
    paper.in_one_notation(PrintContext::document)
}

/// What a formula makes, in one line.
pub fn yield_text(paper: &PrintContext) -> String {
    paper.makes().text
}

/// A line with what is shown of it.
struct Shown<'a> {
    line: &'a WorkedLine,
    declared: Option<&'a Line>,
    grams: Exact,
    shown: Rounded,
}

/// What the percentages of a column are of, and where it stands; a side mix stands nowhere.
struct Of {
    basis: Exact,
    within: Option<Within>,
}

impl Of {
    fn mix(basis: Exact, within: Within) -> Self {
        Self { basis, within: Some(within) }
    }

    /// No percentages, and ranges as each line writes them.
    fn nothing() -> Self {
        Self { basis: Exact::ZERO, within: None }
    }
}

/// What a print says of allergens.
struct AllergenParts {
    contains: Vec<String>,
    may_contain: Vec<String>,
    unknown: Vec<String>,
}

impl HousePart {
    /// The house as its settings describe it.
    pub fn of(settings: &Settings) -> Self {
        Self {
            title: settings.title.clone(),
            footer: settings.footer.as_ref().map(|footer| footer.value.to_string()),
            paper: settings.paper.as_ref().and_then(|paper| look::paper(&paper.value)),
            logo: settings.logo.as_ref().and_then(|logo| look::logo(&logo.value)),
            colour: settings.colour.as_ref().and_then(|it| look::readable(&it.value)),
        }
    }
}

/// What the sheet tells of the water: grams, degrees Celsius.
struct WaterTold {
    celsius: Exact,
    water: Exact,
    ice: Option<Exact>,
    liquids: Vec<IngredientId>,
    /// Degrees that it moves for one of the dough.
    by_degree: Exact,
    lever: Option<String>,
}

impl PrintContext<'_, '_> {
    fn document(&self) -> Document {
        let formula = &self.worked.formula;
        let mut mixes: Vec<MixPart> =
            self.worked.order.iter().map(|&stage| self.stage(stage)).collect();
        if main_mix(formula).is_some() {
            mixes.push(self.final_dough());
        }
        let texts = |kind| live::texts_of_all(self, kind);
        let allergens = self.allergens();
        let (total, total_sum) = self.total();
        let all = self.sum_ends(Within::All, &self.shown(|weighing| Some(&weighing.total.sum)));
        Document {
            version: VERSION,
            house: HousePart::of(&self.house.settings),
            name: formula.name.shown.to_string(),
            title: title(formula),
            style: formula.style.as_ref().map(|style| style.shown.to_string()),
            language: self.words.tag.clone(),
            decimal_mark: self.words.decimal_mark(),
            words: self.words.of_templates(),
            makes: self.makes(),
            figures: self.figures(),
            total,
            total_sum,
            total_sum_low: all.low,
            total_sum_high: all.high,
            total_sum_percent: self.sum_percent(Within::All),
            mixes,
            mixtures: self.mixtures(),
            beside: self.beside(),
            groups: self.groups(),
            summary: self.summary(),
            method: method::method(self),
            batch_method: method::batch_method(self),
            water: self.water(),
            timeline: timeline::timeline(self),
            headnotes: texts(WordsKind::Headnote),
            notes: texts(WordsKind::Note),
            equipment: texts(WordsKind::Equipment),
            storage: texts(WordsKind::Storage),
            sources: texts(WordsKind::Source),
            cautions: cautions::cautions(self),
            contains: allergens.contains,
            may_contain: allergens.may_contain,
            contains_unknown: allergens.unknown,
        }
    }

    /// What the formula contains and may contain, in the print's language.
    fn allergens(&self) -> AllergenParts {
        let all = self.worked.ingredients();
        let union = |of: fn(&Declared) -> Allergens| {
            all.iter().fold(Allergens::NONE, |sum, ingredient| sum.with(of(&ingredient.declared)))
        };
        let named = union(|declared| declared.named);
        let may = union(|declared| declared.may.with(declared.open)).without(named.widened());
        let said = |allergens: Allergens| {
            let keys = allergens.to_print().map(Allergen::key);
            let name = |key| self.words.name("allergen", key).unwrap_or_else(|| key.to_owned());
            let mut names: Vec<String> = keys.map(name).collect();
            names.sort();
            names.dedup();
            names
        };
        let unknown = all.iter().filter(|ingredient| !ingredient.declared.is_complete);
        let unknown = unknown.map(|it| self.called(&it.name.key, &it.name.shown));
        let nameless = self.worked.nameless().into_iter().map(String::from);
        let unknown = unknown.chain(nameless).collect();
        AllergenParts { contains: said(named), may_contain: said(may), unknown }
    }

    /// A part of a piece's dough: a range where ranged amounts are shared out.
    fn piece_weight(&self, index: usize, part: &Exact) -> Weight {
        let each = self.worked.choices.iter().filter_map(|numbers| numbers.pieces.get(index));
        let weights = each.map(|piece| &piece.made.weight * part);
        let (low, high) = weights.fold((None::<Exact>, None::<Exact>), |(low, high), weight| {
            let lower = low.map_or(weight.clone(), |low| low.min(weight.clone()));
            (Some(lower), Some(high.map_or(weight.clone(), |high| high.max(weight))))
        });
        let shown = self.plain_weight(&low.unwrap_or_default());
        let high = self.plain_weight(&high.unwrap_or_default());
        match shown.shown == high.shown && shown.unit == high.unit {
            true => shown,
            false if shown.unit == high.unit => {
                Weight { shown: format!("{}–{}", shown.shown, high.shown), ..shown }
            }
            false => {
                let shown = format!("{} {}–{}", shown.shown, shown.unit, high.shown);
                Weight { shown, ..high }
            }
        }
    }

    /// All the flour: as it was asked for, else what its lines show.
    fn flour_weight(&self, grams: &Exact) -> Weight {
        let flour = self.worked.flour(&self.numbers().whole);
        let scale = &self.house.settings.scale;
        let is_round = grams.is_multiple_of(&scale.resolution(grams));
        if is_round || *grams != flour {
            return self.head_weight(grams);
        }
        let sum = self.shown(|weighing| Some(&weighing.dough.sum));
        let sums = self.class_sums(&[(Class::Flour, flour)], &sum);
        sums.first().map_or_else(|| self.head_weight(grams), |sum| self.plain(grams, sum))
    }

    /// What is left where a dough is divided into as many pieces as it gives.
    fn left_of_dough(&self) -> Option<String> {
        let makes = self.worked.formula.makes.as_ref()?;
        let left = self.numbers().dough_left()?;
        let is_open = makes.pieces.iter().any(|made| !made.counted) && left > Exact::ZERO;
        let weight = self.plain_weight(&left);
        let said = format!("{} {}", weight.shown, weight.unit);
        is_open.then(|| self.words.fill("makes-left", &[("weight", &said)]))
    }

    /// One piece out of the oven, where it carries something besides its dough.
    fn as_eaten(&self, index: usize, piece: &WorkedPiece) -> Option<Weight> {
        let numbers = self.numbers();
        let carries = self.worked.carried_lines(numbers, piece).any(|line| !line.mass.is_zero());
        let eaten = self.worked.as_eaten(numbers, piece).filter(|_| carries)?;
        Some(self.piece_weight(index, &eaten.over(&piece.made.weight)?))
    }

    fn makes(&self) -> Yield {
        let numbers = self.numbers();
        let whole = numbers.whole.mass();
        let pieces: Vec<PiecePart> = numbers
            .pieces
            .iter()
            .enumerate()
            .map(|(index, piece)| PiecePart {
                count: self.trimmed(&piece.made.count, 2),
                kind: self.piece_kind(&piece.made.kind),
                weight: self.piece_weight(index, &Exact::ONE),
                baked: piece
                    .made
                    .loss
                    .as_ref()
                    .map(|loss| self.piece_weight(index, &(Exact::ONE - loss))),
                as_eaten: self.as_eaten(index, piece),
                loss: piece.made.loss.as_ref().map(|loss| self.percent(loss, 1)),
                tin: piece.made.tin.as_ref().map(ToString::to_string),
            })
            .collect();
        let flour = self.worked.flour(&numbers.whole);
        let dough = self.head_weight(&whole);
        let said = |weight: &Weight| format!("{} {}", weight.shown, weight.unit);
        let text = match pieces.is_empty() {
            true if numbers.anchor == SizedBy::Default => {
                let flour = said(&self.flour_weight(&flour));
                self.words.fill("makes-flour", &[("weight", &flour)])
            }
            true => self.words.fill("makes-dough", &[("weight", &said(&dough))]),
            false => pieces
                .iter()
                .map(|piece| {
                    let args = [
                        ("count", piece.count.as_str()),
                        ("kind", &piece.kind),
                        ("weight", &said(&piece.weight)),
                    ];
                    self.words.fill("makes-pieces", &args)
                })
                .chain(self.left_of_dough())
                .collect::<Vec<_>>()
                .join(", "),
        };
        let serves = self.serves();
        let text = match &serves {
            Some(people) => {
                let serves = self.words.fill("serves", &[("people", people)]);
                format!("{text}, {serves}")
            }
            None => text,
        };
        Yield {
            text,
            pieces,
            serves,
            flour: self.flour_weight(&flour),
            batches: self.batches,
            batch: self.head_weight(&whole.each_of(&Exact::from(self.batches))),
            dough,
            assumed: numbers.anchor == SizedBy::Default,
        }
    }

    /// How many people it serves, of as much as is made.
    fn serves(&self) -> Option<String> {
        let serves = self.worked.formula.serves.as_ref()?;
        let shown = |end: &Quantity| self.trimmed(&(&end.number * &self.worked.scaled), 0);
        let (low, high) = (serves.low.as_ref().map(shown), serves.high.as_ref().map(shown));
        Some(match (low, high) {
            (Some(low), Some(high)) if low != high => format!("{low}–{high}"),
            (low, high) => high.or(low)?,
        })
    }

    fn figures(&self) -> Vec<FigurePart> {
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
            .filter(|(name, ..)| *name != "true hydration" || self.leaves_cultures_whole())
            .filter_map(|(name, figure, key)| self.figure(name, &figure, key))
            .collect();
        // In the home convention both hydrations are told.
        if self.worked.formula.dough.is_some()
            && let Some(added) = self.at_each(|it| self.worked.added_hydration(it))
        {
            let name = "hydration of added flour";
            let added = self.figure_part(name, self.label(name), added, true);
            let is_told = |first: &FigurePart| {
                (&first.exact, &first.exact_high) == (&added.exact, &added.exact_high)
            };
            if figures.first().is_some_and(|first| !is_told(first)) {
                figures.insert(1, added);
            }
        }
        // What a label declares is told where it is not the salt that was eaten.
        let eaten = figures.iter().find(|figure| figure.name == "salt as eaten");
        let eaten = eaten.map(|figure| figure.shown.clone());
        figures.retain(|figure| {
            figure.name != "salt as declared" || Some(&figure.shown) != eaten.as_ref()
        });
        self.key_figures(&mut figures);
        figures.extend(self.times());
        figures.extend(self.salt_apart());
        figures.extend(self.stage_shares());
        figures
    }

    /// How long it takes, and how long hands are at work.
    fn times(&self) -> Vec<FigurePart> {
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
    fn salt_apart(&self) -> Option<FigurePart> {
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
        let is_seen = shares.iter().any(|share| *share >= seen);
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

    fn figure(&self, name: &str, figure: &Figure, key: bool) -> Option<FigurePart> {
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
        let always = ["hydration", "salt", "prefermented flour"];
        if is_zero && !always.contains(&name) {
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

    /// The lines of the whole formula, and the sum of what they show.
    fn total(&self) -> (Vec<LinePart>, Weight) {
        let numbers = self.numbers();
        let mix = self.worked.formula.total.as_ref();
        let flour = self.worked.listed_flour(numbers);
        let of = Of::mix(flour, Within::All);
        // What only a culture brings is what is left of it, and no line of its own.
        let unlisted = Of { basis: of.basis.clone(), within: None };
        let shown = self.lines(|weighing| Some(&weighing.total));
        let parts = self.rows().iter().zip(shown).map(|(TotalRow { line, declared }, shown)| {
            let own = declared.and_then(|index| mix?.lines.get(index));
            let declared =
                own.or_else(|| line.mass.is_zero().then(|| self.without_a_weight(line)).flatten());
            let of = if mix.is_some() && own.is_none() { &unlisted } else { &of };
            self.line(&Shown { line, declared, grams: line.mass.clone(), shown }, of)
        });
        let sum = self.shown(|weighing| Some(&weighing.total.sum));
        (parts.collect(), self.dough_sum(&numbers.whole.mass(), &sum))
    }

    /// The line on which something stands that has no weight anywhere, such as a pinch.
    fn without_a_weight(&self, line: &WorkedLine) -> Option<&Line> {
        let mixes = all_mixes(&self.worked.formula).flat_map(|mix| &mix.lines);
        let mut own = mixes.filter(|own| own.target.name.key == line.key);
        own.find(|own| soft(&own.amount).is_some())
    }

    /// A stage as it is weighed: with what is saved or kept back.
    fn stage(&self, index: usize) -> MixPart {
        let stage = &self.worked.formula.stages[index];
        let worked = &self.numbers().stages[index];
        let within = Within::Stage(index);
        let of = Of::mix(self.worked.percent_basis(self.numbers(), index), within);
        let lines = self.lines_as(
            &worked.lines,
            self.lines(|weighing| weighing.stages.get(index)),
            Some(&stage.mix),
        );
        let sum = self.shown(|weighing| Some(&weighing.stages.get(index)?.sum));
        let all = self.sum_ends(within, &sum);
        let goes_on = self.numbers().used(index);
        let left = self.numbers().left_over.iter().find(|(stage, _)| *stage == index);
        let leaving = |grams: &Exact, of: fn(&Leaving) -> &weighing::Shown| {
            let shown = self.shown(|weighing| Some(of(weighing.leaving.get(index)?)));
            self.weight_as(grams, &shown)
        };
        let kept = self.worked.kept_back(self.numbers(), index);
        MixPart {
            name: stage.name.shown.to_string(),
            title: capital(&stage.name.shown),
            kind: stage.kind.word().to_owned(),
            lines: lines.iter().map(|line| self.line(line, &of)).collect(),
            goes_on: (goes_on != worked.made && !goes_on.is_zero())
                .then(|| leaving(&goes_on, |out| &out.goes_on)),
            kept_back: (!kept.is_zero()).then(|| leaving(&kept, |out| &out.kept_back)),
            saved: (!worked.saved.is_zero()).then(|| leaving(&worked.saved, |out| &out.saved)),
            left_over: left.map(|(_, mass)| leaving(mass, |out| &out.left_over)),
            feeds: (worked.feeds > 1).then_some(worked.feeds),
            earlier_feeds: self.earlier_feeds(index, &of.basis),
            discarded: self.discarded(index),
            wait: method::wait(self, stage),
            hydration: self.hydration_within(within),
            sum: self.weight_as(&worked.made, &sum),
            sum_low: all.low,
            sum_high: all.high,
            sum_percent: self.sum_percent(within),
            batch_lines: Vec::new(),
            batch_sum: None,
        }
    }

    /// What of each feed before the last one the next one does not take.
    fn discarded(&self, index: usize) -> Vec<Option<Weight>> {
        let feeds = self.numbers().stages[index].earlier.iter().enumerate();
        let told = feeds.map(|(feed, own)| {
            let shown = self.shown(|weighing| weighing.discarded.get(index)?.get(feed));
            (!own.discarded.is_zero()).then(|| self.weight_as(&own.discarded, &shown))
        });
        told.collect()
    }

    /// The lines of each feed before the last one.
    fn earlier_feeds(&self, index: usize, basis: &Exact) -> Vec<Vec<LinePart>> {
        let stage = &self.worked.formula.stages[index];
        let made = &self.numbers().stages[index].made;
        let feeds = self.worked.earlier_feeds(index);
        let parts = feeds.iter().enumerate().map(|(feed, lines)| {
            let mass = lines.iter().fold(Exact::ZERO, |sum, line| sum + &line.mass);
            let basis = (basis * mass).over(made).unwrap_or_default();
            let shown = self.lines(|weighing| weighing.earlier_feeds.get(index)?.get(feed));
            let lines = self.lines_as(lines, shown, Some(&stage.mix));
            // What the stage takes of others goes into the last feed.
            let told = lines.iter().filter(|line| !matches!(line.line.goes, LineRef::Stage(_)));
            let of = Of { basis, within: None };
            told.map(|line| self.line(line, &of)).collect()
        });
        parts.collect()
    }

    /// The side mixes that lines, pieces and other side mixes use.
    fn mixtures(&self) -> Vec<MixPart> {
        let needed = self.worked.side_mixes_needed(self.numbers());
        let used = needed.iter().enumerate();
        let used = used.filter(|(side_mix, _)| self.worked.mixture(*side_mix).is_some());
        used.map(|(side_mix, mass)| self.mixture(side_mix, mass)).collect()
    }

    /// So much of a side mix; its lines without a weight where none is known.
    fn mixture(&self, side_mix: usize, mass: &Exact) -> MixPart {
        let lines = self.worked.mixture_lines(side_mix, mass);
        let mix = self.worked.mixture(side_mix).map(|mixture| &mixture.mix);
        let masses: Vec<Exact> = lines.iter().map(|line| line.mass.clone()).collect();
        let sum = self.rounded_as_known(mass);
        let shown = self.lines_as(&lines, self.column(&masses, &sum), mix);
        let sum = Rounded::sum(shown.iter().map(|line| &line.shown));
        let lines = shown.iter().map(|line| {
            let mut part = self.line(line, &Of::nothing());
            // Where no weight is known, the proportions are all there is.
            if mass.is_zero() {
                part.written = part.written.or_else(|| self.parts(line.declared?));
                part.weight = None;
            }
            part
        });
        let shown = &self.worked.side_mixes[side_mix].shown;
        MixPart {
            name: shown.to_string(),
            title: capital(shown),
            kind: "mixture".into(),
            lines: lines.collect(),
            sum: self.weight_as(mass, &sum),
            ..MixPart::default()
        }
    }

    fn final_dough(&self) -> MixPart {
        let numbers = self.numbers();
        let mix = main_mix(&self.worked.formula);
        let within = Within::FinalDough;
        let of = Of::mix(self.worked.shown_basis(numbers, within), within);
        let lines = self.dough_lines(mix);
        let sum = self.shown(|weighing| Some(&weighing.dough.sum));
        let all = self.sum_ends(within, &sum);
        let is_kept = |line: &&Shown| {
            line.line.goes == LineRef::OldDough
                && line
                    .declared
                    .is_some_and(|line| matches!(line.counting, Counting::KeptBack { .. }))
        };
        let kept = Rounded::sum(lines.iter().filter(is_kept).map(|line| &line.shown));
        let saved = self.rounded(&numbers.saved);
        let less = Exact::from(-1);
        let goes_on = Rounded::sum([&sum, &kept.times(&less), &saved.times(&less)]);
        let some =
            |mass: &Exact, shown: &Rounded| (!mass.is_zero()).then(|| self.weight_as(mass, shown));
        let keeps = !numbers.kept_back.is_zero() || !numbers.saved.is_zero();
        let (batch_lines, batch_sum) = match self.batches {
            1 => (Vec::new(), None),
            batches => {
                let part = Exact::ONE.each_of(&Exact::from(batches));
                let lines = self.batch_lines(&part, mix);
                let sum = self.shown(|weighing| Some(&weighing.batch.sum));
                let mut parts =
                    self.told_by_step(&lines, &Of::mix(&of.basis * &part, within), &Exact::ONE);
                for (place, part) in parts.iter_mut().enumerate() {
                    part.part = self.in_the_last_batch(place).or(part.part.take());
                }
                (parts, Some(self.dough_sum(&(numbers.whole.mass() * part), &sum)))
            }
        };
        MixPart {
            name: "final dough".into(),
            title: self.words.say("dough"),
            kind: "dough".into(),
            lines: self.told_by_step(&lines, &of, &Exact::from(self.batches)),
            sum: self.dough_sum(&numbers.whole.mass(), &sum),
            sum_low: all.low,
            sum_high: all.high,
            hydration: self.hydration_within(Within::All),
            sum_percent: self.sum_percent(within),
            goes_on: some(&numbers.into_pieces(), &goes_on).filter(|_| keeps),
            kept_back: some(&numbers.kept_back, &kept),
            saved: some(&numbers.saved, &saved),
            batch_lines,
            batch_sum,
            ..MixPart::default()
        }
    }

    /// The lines of the final dough, with what each step takes of those that go in over
    /// several, for so many batches.
    fn told_by_step(&self, lines: &[Shown], of: &Of, batches: &Exact) -> Vec<LinePart> {
        let mut parts: Vec<LinePart> = lines.iter().map(|line| self.line(line, of)).collect();
        let Some(method) = &self.worked.formula.method else { return parts };
        for (place, part) in parts.iter_mut().enumerate() {
            for (step, taken) in self.taken_by_steps(place) {
                let Some(step) = method.steps.get(step) else { continue };
                let weight = self.weight_as(&Exact::ZERO, &taken.times(batches));
                let title = method::group_title(self, step);
                part.by_step.push(format!("{title} {}", weight.said()));
            }
        }
        parts
    }

    /// What each step takes of a line of one batch, where several do.
    fn taken_by_steps(&self, line: usize) -> Vec<(usize, Rounded)> {
        let steps = |weighing: &Weighing| -> Vec<usize> {
            let parts = weighing.parts.get(line);
            parts.map(|parts| parts.iter().map(|(step, _)| *step).collect()).unwrap_or_default()
        };
        let steps = steps(self.on_first_scale());
        let part = |number: usize| {
            self.shown(|weighing| weighing.parts.get(line)?.get(number).map(|(_, part)| part))
        };
        steps.into_iter().enumerate().map(|(number, step)| (step, part(number))).collect()
    }

    fn dough_lines<'l>(&'l self, mix: Option<&'l Mix>) -> Vec<Shown<'l>> {
        let shown = self.lines(|weighing| Some(&weighing.dough));
        self.lines_as(&self.numbers().dough_lines, shown, mix)
    }

    fn batch_lines<'l>(&'l self, part: &Exact, mix: Option<&'l Mix>) -> Vec<Shown<'l>> {
        let shown = self.lines(|weighing| Some(&weighing.batch));
        let lines = self.lines_as(&self.numbers().dough_lines, shown, mix);
        lines.into_iter().map(|line| Shown { grams: &line.grams * part, ..line }).collect()
    }

    /// What the last batch takes of a line that can't be parted evenly.
    fn in_the_last_batch(&self, place: usize) -> Option<String> {
        let all = self.shown(|weighing| weighing.dough.lines.get(place));
        let each = self.shown(|weighing| weighing.batch.lines.get(place));
        let others = each.times(&Exact::from(self.batches.saturating_sub(1)));
        let last = all.less(&others);
        if last.first.grams == each.first.grams {
            return None;
        }
        let weight = self.plain(&last.first.grams, &last);
        let shown = format!("{} {}", weight.shown, weight.unit);
        Some(self.words.fill("last-batch", &[("weight", &shown)]))
    }

    /// Lines of a mix with what is shown of them.
    fn lines_as<'l>(
        &self,
        lines: &'l [WorkedLine],
        shown: Vec<Rounded>,
        mix: Option<&'l Mix>,
    ) -> Vec<Shown<'l>> {
        let pairs = lines.iter().zip(shown);
        pairs
            .map(|(line, shown)| Shown {
                declared: line.line.and_then(|index| mix?.lines.get(index)),
                line,
                grams: line.mass.clone(),
                shown,
            })
            .collect()
    }

    fn line(&self, shown: &Shown, of: &Of) -> LinePart {
        let (kind, class) = match shown.line.goes {
            LineRef::Ingredient(id) => {
                let class = match self.worked.is_flour(id) {
                    true => Class::Flour,
                    false => self.house.ingredient(id).class,
                };
                (LineKind::Ingredient, Some(class.word().to_owned()))
            }
            LineRef::Culture(_) => (LineKind::Culture, None),
            LineRef::Stage(_) => (LineKind::Stage, None),
            LineRef::SideMix(side_mix) if self.worked.side_mixes[side_mix].is_formula => {
                (LineKind::Formula, None)
            }
            LineRef::SideMix(_) => (LineKind::Mixture, None),
            LineRef::OldDough => (LineKind::OldDough, None),
            LineRef::Nothing => (LineKind::Ingredient, None),
        };
        let soft = shown.declared.and_then(|line| soft(&line.amount));
        let written = shown.declared.and_then(written_decimals);
        let share = shown.grams.over(&of.basis).filter(|_| soft.is_none());
        let shares = of.within.filter(|_| share.is_some()).and_then(|within| {
            let (low, high) = self.worked.line_shares(shown.line, within)?;
            let part = part_of_line(shown);
            Some((low * &part, high * part))
        });
        let ends = self.grams_ends(shown, of);
        let at = self.weights_at(&shown.grams, &shown.shown, ends.as_ref());
        let named = matches!(shown.line.goes, LineRef::Ingredient(_) | LineRef::Culture(_));
        LinePart {
            key: self.key_of(shown.line),
            name: match named {
                true => self.called(&shown.line.key, &shown.line.name),
                false => shown.line.name.to_string(),
            },
            role: shown.line.role.as_ref().map(ToString::to_string),
            kind,
            class,
            weight: soft.is_none().then(|| self.weight_as(&shown.grams, &shown.shown)),
            volume: match (shown.line.goes, soft) {
                (LineRef::Ingredient(id), None) if self.volumes => {
                    self.about(self.house.ingredient(id), &shown.grams)
                }
                _ => None,
            },
            soft: soft.map(|id| self.words.say(id)),
            by_step: Vec::new(),
            written: self.written_measure(shown),
            more: self.more(&shown.grams, &shown.shown, ends.as_ref()),
            weight_low: at.low.filter(|_| soft.is_none()),
            weight_high: at.high.filter(|_| soft.is_none()),
            grams_high: ends.as_ref().map(|(_, high)| display::exact(high)),
            percent: share
                .as_ref()
                .map(|share| self.percent_or_range(share, shares.as_ref(), written.unwrap_or(1))),
            percent_exact: share.as_ref().map(display::exact),
            percent_low: shares.as_ref().map(|(low, _)| display::exact(low)),
            percent_high: shares.as_ref().map(|(_, high)| display::exact(high)),
            part: shown.declared.and_then(|line| match &line.counting {
                Counting::KeptBack { from: None } => Some(self.words.say("kept-back")),
                Counting::KeptBack { from: Some(from) } => {
                    Some(self.words.fill("kept-back-from", &[("stage", &from.shown)]))
                }
                Counting::NotSplit => Some(self.words.say("not-split")),
                Counting::Counted => None,
            }),
            note: shown
                .declared
                .and_then(|line| line.note.as_ref())
                .map(|note| live::text(self, note)),
        }
    }

    /// What a line is by the name of its declaration.
    fn key_of(&self, line: &WorkedLine) -> String {
        let key = match line.goes {
            LineRef::Ingredient(id) => &self.house.ingredient(id).name.key,
            LineRef::Culture(id) => &self.house.culture(id).name.key,
            LineRef::Stage(stage) => &self.worked.formula.stages[stage].name.key,
            LineRef::SideMix(side_mix) => &self.worked.side_mixes[side_mix].key,
            LineRef::OldDough | LineRef::Nothing => &line.key,
        };
        key.to_string()
    }

    /// The author's measure, grown or shrunk with what is shown, where they did not weigh.
    fn written_measure(&self, shown: &Shown) -> Option<String> {
        let Amount::Measured { range, .. } = &shown.declared?.amount else { return None };
        let low = range.low.as_ref()?;
        let high = range.high.as_ref().unwrap_or(low);
        let dimension = low.unit.dimension();
        let number = match (dimension, shown.line.goes) {
            (_, _) if shown.grams.is_zero() => return None,
            (Dimension::Count, LineRef::Ingredient(id)) => {
                shown.grams.over(self.house.ingredient(id).each.as_ref()?)?
            }
            (Dimension::Volume, LineRef::Ingredient(id)) => {
                let dense = self.house.ingredient(id).grams_per_ml.as_ref()?;
                low.unit.count_in(&shown.grams.over(dense)?, self.house.settings.measures)
            }
            _ => return None,
        };
        let highest = (&number * &high.number).over(&low.number);
        let highest = highest.unwrap_or_else(|| high.number.clone());
        Some(self.measure(low.unit, &number, &highest))
    }

    /// `10 parts`.
    fn parts(&self, line: &Line) -> Option<String> {
        let Amount::Measured { range, .. } = &line.amount else { return None };
        let low = range.low.as_ref().filter(|low| low.unit == Unit::Part)?;
        let high = range.high.as_ref().unwrap_or(low);
        Some(self.measure(Unit::Part, &low.number, &high.number))
    }

    /// Grams of a line at the ends of ranges.
    fn grams_ends(&self, shown: &Shown, of: &Of) -> Option<Ends> {
        let part = part_of_line(shown);
        match of.within {
            Some(within) => {
                let (low, high) = self.worked.line_ends(shown.line, within)?;
                // Of a batch or of a step it is the same part.
                Some((low * &part, high * part))
            }
            None => ends([shown.grams.clone(), &shown.grams + &shown.line.more * part]),
        }
    }

    fn beside(&self) -> Vec<BesidePart> {
        let pieces = &self.numbers().pieces;
        let several = pieces.len() > 1;
        let parts = pieces.iter().filter(|piece| !piece.lines.is_empty()).map(|piece| {
            let blocks = self.worked.formula.pieces.iter().flat_map(|block| &block.mix.lines);
            let declared: Vec<&Line> = blocks.collect();
            let part = |factor: &Exact| -> Vec<LinePart> {
                let lines = piece.lines.iter();
                lines
                    .map(|line| {
                        let grams = &line.mass * factor;
                        let shown = self.rounded(&line.mass).times(factor);
                        let declared = declared.iter().copied().find(|declared| {
                            declared.target.name.key == line.key
                                && declared.target.role.as_ref().map(|role| role.shown.clone())
                                    == line.role
                        });
                        self.line(&Shown { line, declared, grams, shown }, &Of::nothing())
                    })
                    .collect()
            };
            BesidePart {
                kind: if several { self.piece_kind(&piece.made.kind) } else { String::new() },
                each: part(&Exact::ONE),
                all: part(&piece.made.count),
            }
        });
        parts.collect()
    }

    /// How warm the water has to be, and how much of it is ice.
    fn water(&self) -> Option<WaterPart> {
        let warmth = warmth(self.worked).ok()?;
        let batches = Exact::from(self.batches);
        let stages = self.worked.order.iter();
        let before = stages.map(|&stage| method::stage_steps(&self.worked.formula.stages[stage]));
        let before: usize = before.sum();
        let own = warmth.steps(self.worked);
        let steps = self.worked.formula.method.iter().flat_map(|method| &method.steps);
        let titles: Vec<String> = steps
            .enumerate()
            .filter(|(index, _)| own.contains(index))
            .map(|(_, step)| method::group_title(self, step))
            .collect();
        let by = if warmth.by_balance { "water-by-balance" } else { "water-by-factor" };
        let told = self.water_told(&warmth);
        let by_degree = self.trimmed(&told.by_degree, 1);
        let unit = self.degree_unit();
        let correction =
            self.words.fill("water-next", &[("degrees", by_degree.as_str()), ("unit", unit)]);
        let names = self.liquid(&told.liquids);
        Some(WaterPart {
            temperature: match self.house.settings.tap.as_ref() == Some(&told.celsius) {
                true => self.degrees(&told.celsius),
                false => self.degrees_worked_out(&told.celsius),
            },
            water: self.without_ice(&told.water, told.ice.as_ref()),
            ice: told.ice.map(|ice| self.weight(&ice.each_of(&batches))),
            label: self
                .words
                .fill("liquid-for", &[("liquid", names.as_str()), ("step", &titles.join(", "))]),
            steps: own.iter().map(|step| before + step).collect(),
            target: self.degrees(&warmth.target),
            method: self.words.say(by),
            correction,
            lever: told.lever,
        })
    }

    /// The liquid for one batch: with the ice it comes to what its line shows.
    fn without_ice(&self, liquid: &Exact, ice: Option<&Exact>) -> Weight {
        let batches = Exact::from(self.batches);
        let Some(ice) = ice else {
            let grams = liquid.each_of(&batches);
            return self.weight_as(&grams, &self.rounded_as_known(&grams));
        };
        let all = self.rounded_as_known(&(liquid + ice).each_of(&batches));
        let shown = all.less(&self.rounded(&ice.each_of(&batches)));
        self.weight_as(&liquid.each_of(&batches), &shown)
    }

    /// What is brought to which temperature, and what else helps where that is not enough.
    fn water_told(&self, warmth: &Warmth) -> WaterTold {
        let tap = self.house.settings.tap.as_ref();
        let with_ice = |celsius: &Exact| {
            let share =
                tap.and_then(|tap| ice_share(tap, celsius)).filter(|_| warmth.ice.is_some());
            let ice = share.map(|share| &warmth.mass * share);
            let shown = tap.filter(|_| ice.is_some()).unwrap_or(celsius).clone();
            let water = &warmth.mass - ice.clone().unwrap_or_default();
            let (liquids, by_degree) = (warmth.liquids.clone(), warmth.by_degree.clone());
            WaterTold { celsius: shown, water, ice, liquids, by_degree, lever: None }
        };
        match &warmth.steers {
            Steers::Water => with_ice(&warmth.water.amount),
            Steers::Together => {
                let alone = self.degrees_worked_out(&warmth.water.amount);
                WaterTold {
                    celsius: warmth.together.clone(),
                    water: warmth.poured_mass.clone(),
                    ice: None,
                    liquids: warmth.poured.clone(),
                    // There is so much more of it than of the water.
                    by_degree: (&warmth.by_degree * &warmth.mass).each_of(&warmth.poured_mass),
                    lever: Some(self.words.fill("water-together", &[("alone", &alone)])),
                }
            }
            Steers::Nothing { at, off } => {
                let id = if *off < Exact::ZERO { "water-too-cold" } else { "water-too-warm" };
                let far = off.clone().max(-off.clone());
                let far = format!("{} {}", self.degrees_apart(&far), self.degree_unit());
                let lever = Some(self.words.fill(id, &[("off", &far)]));
                WaterTold { lever, ..with_ice(at) }
            }
        }
    }

    /// What the liquid is called.
    fn liquid(&self, liquids: &[IngredientId]) -> String {
        let names = liquids.iter().map(|&id| {
            let name = &self.house.ingredient(id).name;
            self.called(&name.key, &name.shown)
        });
        names.collect::<Vec<_>>().join(", ")
    }

    /// Ingredients by when they go in.
    fn groups(&self) -> Vec<GroupPart> {
        let formula = &self.worked.formula;
        let numbers = self.numbers();
        let mut groups = Vec::new();
        let mut step = 0;
        for &index in &self.worked.order {
            let part = self.stage(index);
            let count = method::stage_steps(&formula.stages[index]);
            groups.push(GroupPart {
                title: part.title,
                percent_of: self.percent_of(index),
                lines: part.lines,
                steps: (step..step + count).collect(),
            });
            step += count;
        }
        let Some(mix) = main_mix(formula) else { return groups };
        let within = Within::FinalDough;
        let of = Of::mix(self.worked.shown_basis(numbers, within), within);
        let shown = self.dough_lines(Some(mix));
        let Some(method) = &formula.method else {
            groups.push(GroupPart {
                title: self.words.say("dough"),
                percent_of: Some(self.words.say("percent-of-all-flour")),
                lines: shown.iter().map(|line| self.line(line, &of)).collect(),
                steps: Vec::new(),
            });
            return groups;
        };
        let additions = self.worked.additions(method, Within::FinalDough);
        let batches = Exact::from(self.batches);
        let parts: Vec<_> = (0..shown.len()).map(|place| self.taken_by_steps(place)).collect();
        for (index, added) in additions.steps.iter().enumerate() {
            let mut lines = Vec::new();
            for added in added.iter().filter(|added| !added.beside) {
                let Some(place) = shown.iter().position(|shown| {
                    shown.line.key == added.line.key && shown.line.role == added.line.role
                }) else {
                    continue;
                };
                let whole = &shown[place];
                let grams = &whole.grams * &added.share;
                let part = parts[place].iter().find(|(step, _)| *step == index);
                let part_shown = match part {
                    Some((_, part)) => part.times(&batches),
                    None if added.share.is_one() => whole.shown.clone(),
                    None => self.rounded(&grams),
                };
                let mut line = self.line(
                    &Shown { line: whole.line, declared: whole.declared, grams, shown: part_shown },
                    &Of::mix(Exact::ZERO, within),
                );
                if added.remaining {
                    line.part = Some(self.words.say("the-rest"));
                }
                lines.push(line);
            }
            if !lines.is_empty() {
                groups.push(GroupPart {
                    title: method::group_title(self, &method.steps[index]),
                    percent_of: None,
                    lines,
                    steps: vec![step + index],
                });
            }
        }
        groups
    }

    /// What the percentages of a stage are of, for the head of their column.
    fn percent_of(&self, stage: usize) -> Option<String> {
        let declared = &self.worked.formula.stages[stage];
        if declared.sizes.iter().any(|size| matches!(size.size, Size::OfTotal)) {
            return Some(self.words.say("percent-of-all-flour"));
        }
        let lines = &self.numbers().stages[stage].lines;
        let has = |wanted: Class| {
            lines.iter().any(|line| match line.goes {
                LineRef::Ingredient(id) if self.worked.is_flour(id) => wanted == Class::Flour,
                LineRef::Ingredient(id) => self.house.ingredient(id).class == wanted,
                _ => false,
            })
        };
        let id = match (has(Class::Flour), has(Class::Grain), has(Class::Seed)) {
            (true, ..) => "percent-of-its-flour",
            (_, true, true) => "percent-of-its-grain-and-seed",
            (_, true, _) => "percent-of-its-grain",
            (_, _, true) => "percent-of-its-seed",
            _ => return None,
        };
        Some(self.words.say(id))
    }

    /// Flour, liquids, salt, what raises, the rest, all.
    fn summary(&self) -> Vec<LinePart> {
        let numbers = self.numbers();
        let flour = self.worked.flour(&numbers.whole);
        let classes: Vec<(Class, Exact)> = Class::ALL
            .iter()
            .map(|(_, class)| (*class, self.worked.class_mass(&numbers.whole, *class)))
            .filter(|(_, mass)| !mass.is_zero())
            .collect();
        let whole = numbers.whole.mass();
        let sum = self.shown(|weighing| Some(&weighing.dough.sum));
        let shown = self.class_sums(&classes, &sum);
        let part = |key: &str, of: &dyn Fn(&Numbers) -> Exact, shown: &Rounded| {
            let grams = of(numbers);
            let ends = self.worked.grams_ends(Within::All, of);
            let shares = self.worked.shares_ends(Within::All, of);
            let share = grams.over(&flour);
            let at = self.weights_at(&grams, shown, ends.as_ref());
            LinePart {
                key: key.to_owned(),
                name: self.class_word(key),
                role: None,
                kind: LineKind::Sum,
                class: None,
                weight: Some(self.weight_as(&grams, shown)),
                volume: None,
                soft: None,
                by_step: Vec::new(),
                written: None,
                more: self.more(&grams, shown, ends.as_ref()),
                weight_low: at.low,
                weight_high: at.high,
                grams_high: ends.as_ref().map(|(_, high)| display::exact(high)),
                percent: share
                    .as_ref()
                    .map(|share| self.percent_or_range(share, shares.as_ref(), 1)),
                percent_exact: share.as_ref().map(display::exact),
                percent_low: shares.as_ref().map(|(low, _)| display::exact(low)),
                percent_high: shares.as_ref().map(|(_, high)| display::exact(high)),
                part: None,
                note: None,
            }
        };
        let mut parts: Vec<LinePart> = classes
            .iter()
            .zip(&shown)
            .map(|((class, _), shown)| {
                let of = |numbers: &Numbers| self.worked.class_mass(&numbers.whole, *class);
                part(class.word(), &of, shown)
            })
            .collect();
        let mut dough = part("dough", &|numbers| numbers.whole.mass(), &sum);
        dough.weight = Some(self.dough_sum(&whole, &sum));
        parts.push(dough);
        parts
    }

    /// What the lines of the total show, by class.
    fn class_sums(&self, classes: &[(Class, Exact)], sum: &Rounded) -> Vec<Rounded> {
        let class_of = |line: &WorkedLine| match line.goes {
            LineRef::Ingredient(id) if self.worked.is_flour(id) => Some(Class::Flour),
            LineRef::Ingredient(id) => Some(self.house.ingredient(id).class),
            LineRef::Culture(_) => Some(Class::Culture),
            _ => None,
        };
        let rows: Vec<(Option<Class>, Rounded)> = self
            .rows()
            .iter()
            .map(|row| class_of(&row.line))
            .zip(self.lines(|weighing| Some(&weighing.total)))
            .collect();
        // A side mix on a line of the total is of several classes.
        if classes.len() > 1 && rows.iter().any(|(class, _)| class.is_none()) {
            let masses: Vec<Exact> = classes.iter().map(|(_, mass)| mass.clone()).collect();
            return self.column(&masses, sum);
        }
        let of = |class: Class| {
            Rounded::sum(rows.iter().filter(|(own, _)| *own == Some(class)).map(|(_, row)| row))
        };
        classes.iter().map(|(class, _)| of(*class)).collect()
    }

    fn class_word(&self, word: &str) -> String {
        self.words.name("class", word).unwrap_or_else(|| word.to_owned())
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

/// The part of its line that is shown, such as that of one batch.
fn part_of_line(shown: &Shown) -> Exact {
    shown.grams.over(&shown.line.mass).unwrap_or(Exact::ONE)
}

/// The message for an amount without weight.
fn soft(amount: &Amount) -> Option<&'static str> {
    match amount {
        Amount::ToTaste => Some("to-taste"),
        Amount::AsNeeded => Some("as-needed"),
        Amount::Pinch => Some("pinch"),
        _ => None,
    }
}

/// Digits after the point of a written percentage.
fn written_decimals(line: &Line) -> Option<u8> {
    let Amount::Measured { range, .. } = &line.amount else { return None };
    let quantity = range.low.as_ref()?;
    if quantity.unit == Unit::Percent { quantity.decimals } else { None }
}
