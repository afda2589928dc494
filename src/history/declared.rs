//! Everything that has a name in a bakehouse, with what it says and what it uses.

use super::facts::{FactWriter, Facts, ORDER, UNREADABLE};
use super::said::Said;
use crate::source::Span;
use crate::syntax::booklet::{Audience, Booklet, BookletItem};
use crate::syntax::tree::{
    Aim, Bakehouse, Cancelled, Cooling, Day, DayTime, Formula, Machine, MachineKind, Name, OnHand,
    Open, Order, Ordered, ScaleLine, Stage, Tree, Weekdays, Wish,
};
use ecow::EcoString;

/// What is declared.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum DeclaredKind {
    /// The bakehouse itself.
    House,
    /// What is weighed out.
    Ingredient,
    /// A kept starter.
    Culture,
    /// A stage that formulas share.
    Stage,
    /// A side mix that formulas share.
    Mixture,
    /// Bounds on figures.
    Style,
    /// A mixer.
    Mixer,
    /// An oven.
    Oven,
    /// A tin.
    Tin,
    /// A proofer.
    Proofer,
    /// A refrigerator.
    Refrigerator,
    /// A board.
    Board,
    /// A production day.
    Day,
    /// A formula.
    Formula,
    /// A handout, from which nothing is baked.
    Booklet,
}

impl DeclaredKind {
    /// The word that declares it.
    pub fn word(self) -> &'static str {
        match self {
            Self::House => "bakehouse",
            Self::Ingredient => "ingredient",
            Self::Culture => "culture",
            Self::Stage => "stage",
            Self::Mixture => "mixture",
            Self::Style => "style",
            Self::Mixer => "mixer",
            Self::Oven => "oven",
            Self::Tin => "tin",
            Self::Proofer => "proofer",
            Self::Refrigerator => "refrigerator",
            Self::Board => "board",
            Self::Day => "day",
            Self::Formula => "formula",
            Self::Booklet => "booklet",
        }
    }

    /// Whether formulas are printed in it, and nothing rests on it.
    pub fn is_handout(self) -> bool {
        matches!(self, Self::Day | Self::Booklet)
    }

    /// Whether it is a place in which something stands or is worked.
    pub fn is_machine(self) -> bool {
        matches!(
            self,
            Self::Mixer | Self::Oven | Self::Tin | Self::Proofer | Self::Refrigerator | Self::Board
        )
    }
}

/// The kind that a word declares.
pub fn kind_named(word: &str) -> Option<DeclaredKind> {
    let all = [
        DeclaredKind::House,
        DeclaredKind::Ingredient,
        DeclaredKind::Culture,
        DeclaredKind::Stage,
        DeclaredKind::Mixture,
        DeclaredKind::Style,
        DeclaredKind::Mixer,
        DeclaredKind::Oven,
        DeclaredKind::Tin,
        DeclaredKind::Proofer,
        DeclaredKind::Refrigerator,
        DeclaredKind::Board,
        DeclaredKind::Day,
        DeclaredKind::Formula,
        DeclaredKind::Booklet,
    ];
    all.into_iter().find(|kind| kind.word() == word)
}

/// A declaration.
#[derive(Clone, Debug)]
pub struct Declared {
    /// What it declares.
    pub kind: DeclaredKind,
    /// Its name, as it is looked up.
    pub key: EcoString,
    /// Its name, as it was written.
    pub shown: EcoString,
    /// Other names that it is looked up by.
    pub also: Vec<EcoString>,
    /// Where it stands.
    pub span: Span,
    /// What it says.
    pub facts: Facts,
}

impl Declared {
    fn new(kind: DeclaredKind, name: &Name, write: impl FnOnce(&mut FactWriter)) -> Self {
        let mut writer = FactWriter::default();
        write(&mut writer);
        let Name { key, shown, span } = name;
        let (key, shown) = (key.clone(), shown.clone());
        Self { kind, key, shown, also: Vec::new(), span: *span, facts: writer.done() }
    }

    /// A formula, with all that it inherits.
    pub fn formula(formula: &Formula) -> Self {
        Self::new(DeclaredKind::Formula, &formula.name, |it| it.formula(formula))
    }

    /// A stage that formulas share.
    fn stage(stage: &Stage) -> Self {
        Self::new(DeclaredKind::Stage, &stage.name, |it| it.stage(stage))
    }

    fn machine(machine: &Machine) -> Self {
        let Machine {
            kind,
            name,
            holds,
            friction,
            work,
            speeds,
            volume_per_gram,
            greased,
            ungreased,
            machines,
            decks,
            at,
            changes,
        } = machine;
        let kind = match kind {
            MachineKind::Mixer => DeclaredKind::Mixer,
            MachineKind::Oven => DeclaredKind::Oven,
            MachineKind::Tin => DeclaredKind::Tin,
            MachineKind::Proofer => DeclaredKind::Proofer,
            MachineKind::Refrigerator => DeclaredKind::Refrigerator,
            MachineKind::Board => DeclaredKind::Board,
        };
        let write = |it: &mut FactWriter| {
            for (extent, of) in holds {
                let mut said = Said::extent(extent);
                if let Some(of) = of {
                    said.and(&Said::of(&of.key));
                }
                it.put("holds", said);
            }
            if let Some(friction) = friction {
                it.put("friction", Said::quantity(friction));
            }
            let per = |(amount, per): &(_, _)| {
                let mut said = Said::quantity(amount);
                said.and(&Said::with("per", &Said::quantity(per)));
                said
            };
            if let Some(work) = work {
                it.put("work", per(work));
            }
            if let Some((speeds, _)) = speeds {
                it.put("speeds", Said::of(&speeds.to_string()));
            }
            if let Some(volume) = volume_per_gram {
                it.put("volume", per(volume));
            }
            for (word, count) in [("machines", machines), ("decks", decks)] {
                if let Some((count, _)) = count {
                    it.put(word, Said::of(&count.to_string()));
                }
            }
            if let Some(at) = at {
                it.put("at", Said::quantity(at));
            }
            if let Some(changes) = changes {
                it.put("changes", per(changes));
            }
            if !greased.is_empty() {
                let greased = it.names(greased);
                it.put("greased with", greased);
            }
            if *ungreased {
                it.put("greased with", Said::of("nothing"));
            }
        };
        Self::new(kind, name, write)
    }

    /// A day with its orders, each by its product and customer.
    /// A day: what it says of the whole, its orders and what is there before it begins.
    fn day(day: &Day) -> Self {
        let Day {
            name,
            title,
            from,
            orders,
            without,
            on_hand,
            hours,
            temperatures,
            aim,
            texts,
            span: _,
            broken,
        } = day;
        Self::new(DeclaredKind::Day, name, |it| {
            if *broken {
                it.put(UNREADABLE, Said::of("in part"));
            }
            if let Some(title) = title {
                it.put("title", Said::text(title));
            }
            if let Some(from) = from {
                let from = it.name(from);
                it.put("from", from);
            }
            orders.iter().for_each(|order| order_facts(it, order));
            for Cancelled { product, customer } in without {
                it.put("without", Said::of(&format!("{}{}", product.key, whom(customer))));
            }
            on_hand.iter().for_each(|there| on_hand_facts(it, there));
            for Open { days, from, to, hands } in hours {
                it.put("hours", open(*days, (*from, *to), *hands));
            }
            for (word, temperature) in temperatures {
                it.put(word.clone(), Said::quantity(temperature));
            }
            if let Some(aim) = aim {
                it.put("aim", aimed(*aim));
            }
            it.words(texts);
        })
    }

    /// A booklet: what it says of the whole, and its parts in order.
    pub fn booklet(booklet: &Booklet) -> Self {
        let Booklet {
            name,
            title,
            language,
            units,
            paper,
            people,
            variants,
            large,
            parts,
            span: _,
            broken,
        } = booklet;
        let mut declared = Self::new(DeclaredKind::Booklet, name, |it| {
            if *broken {
                it.put(UNREADABLE, Said::of("in part"));
            }
            if let Some(title) = title {
                it.put("title", Said::text(title));
            }
            if let Some(language) = language {
                it.put("language", Said::of(&language.shown));
            }
            if let Some(units) = units {
                let both = if units.both { ", both" } else { "" };
                it.put("units", Said::of(&format!("{:?}{both}", units.first).to_lowercase()));
            }
            if let Some((paper, _)) = paper {
                it.put("paper", Said::of(paper));
            }
            if let Some((people, _)) = people {
                it.put("people", Said::of(&people.to_string()));
            }
            if let Some((seats, _)) = variants {
                it.put("variants", Said::of(&seats.to_string()));
            }
            if large.is_some() {
                it.put("large", Said::of("yes"));
            }
            let mut order = Vec::new();
            for BookletItem { reader, what: _, said, span: _ } in parts {
                let reader = match reader {
                    Audience::All => "",
                    Audience::Teacher => "teacher ",
                    Audience::Learner => "learner ",
                };
                let (word, rest) = said.split_once(' ').unwrap_or((said, ""));
                let shown = Said { canon: rest.to_owned(), shown: closed_up(rest) };
                let name = format!("{reader}{word}");
                order.push(Said { canon: format!("{name} {rest}"), shown: name.clone() });
                it.put(name, shown);
            }
            it.put(ORDER, Said::list(order));
        });
        declared.facts.uses = booklet.formulas().into_iter().map(|it| it.key.clone()).collect();
        declared
    }

    fn house(bakehouse: &Bakehouse) -> Self {
        let title = bakehouse.title.as_ref().map(crate::formula::plain).unwrap_or_default();
        let name = Name { key: "bakehouse".into(), shown: title.into(), span: bakehouse.span };
        Self::new(DeclaredKind::House, &name, |it| house_facts(it, bakehouse))
    }
}

/// Words with no blank before a sign that closes what stands before it.
fn closed_up(words: &str) -> String {
    words.replace(" ,", ",").replace(" ;", ";")
}

fn whom(customer: &Option<EcoString>) -> String {
    customer.as_ref().map(|it| format!(" for {it}")).unwrap_or_default()
}

/// `07:00`, `22:00 the day before`: compared in minutes of the day.
fn of_clock(word: &str, time: DayTime) -> Said {
    let clock = format!("{:02}:{:02}", time.minutes / 60, time.minutes % 60);
    let before = if time.day_before { " the day before" } else { "" };
    let canon = format!("{word} {}", time.of_day());
    Said { canon, shown: format!("{word} {clock}{before}") }
}

fn order_facts(it: &mut FactWriter, Order { product, customer, wishes, span: _ }: &Order) {
    it.name(product);
    for Wish { amount, by, after, span: _ } in wishes {
        let mut said = ordered(amount);
        said.and(&of_clock("by", *by));
        if let Some(after) = after {
            said.and(&of_clock("after", *after));
        }
        it.put(format!("order {}{}", product.key, whom(customer)), said);
    }
}

fn on_hand_facts(it: &mut FactWriter, there: &OnHand) {
    let OnHand { name, amount, ripe, frozen, of, span: _ } = there;
    it.name(name);
    let mut said = ordered(amount);
    if let Some(ripe) = ripe {
        said.and(&of_clock("ripe at", *ripe));
    }
    if let Some(of) = of {
        said.and(&Said::with("of", &it.name(of)));
    }
    if let Some(frozen) = frozen {
        said.and(&Said::with("frozen", &Said::quantity(frozen)));
    }
    it.put(format!("on hand {}", name.key), said);
}

fn house_facts(it: &mut FactWriter, bakehouse: &Bakehouse) {
    let Bakehouse {
        title,
        language,
        second_language,
        units,
        volumes,
        us_measures,
        measures_said,
        currency,
        zone,
        temperatures,
        scale,
        scale_span: _,
        hours,
        aim,
        cooling,
        machines: _,
        settings,
        span: _,
    } = bakehouse;
    // Where nothing is said, a formula may speak of its own cups.
    if *measures_said || *us_measures {
        it.put("measures", Said::of(if *us_measures { "US" } else { "metric" }));
    }
    for (word, temperature) in temperatures {
        it.put(word.clone(), Said::quantity(temperature));
    }
    for ScaleLine { step, above, below } in scale {
        let mut said = Said::quantity(step);
        for (word, end) in [("above", above), ("below", below)] {
            if let Some(end) = end {
                said.and(&Said::with(word, &Said::quantity(end)));
            }
        }
        it.put("scale", said);
    }
    if let Some(Cooling { mass, from, to, time, at, span: _ }) = cooling {
        let all = [mass, from, to, time, at];
        it.put("cooling", Said::list(all.into_iter().map(Said::quantity)));
    }
    let is_water = |word: &str| word == "water";
    for (word, value, _) in settings.iter().filter(|(word, ..)| is_water(word)) {
        it.put(word.clone(), Said::of(value));
    }
    it.look(|it| {
        if let Some(title) = title {
            it.put("title", Said::text(title));
        }
        if let Some(language) = language {
            it.put("language", Said::of(&language.shown));
        }
        if let Some(second) = second_language {
            it.put("second language", Said::of(&second.shown));
        }
        let both = if units.both { ", both" } else { "" };
        it.put("units", Said::of(&format!("{:?}{both}", units.first).to_lowercase()));
        if *volumes {
            it.put("volumes", Said::of("beside weights"));
        }
        if let Some(currency) = currency {
            it.put("currency", Said::of(&currency.shown));
        }
        if let Some((zone, _)) = zone {
            it.put("zone", Said::of(zone));
        }
        for Open { days, from, to, hands } in hours {
            it.put("hours", open(*days, (*from, *to), *hands));
        }
        if let Some((aim, _)) = aim {
            it.put("aim", aimed(*aim));
        }
        for (word, value, _) in settings.iter().filter(|(word, ..)| !is_water(word)) {
            it.put(word.clone(), Said::of(value));
        }
    });
}

fn aimed(aim: Aim) -> Said {
    let known = Aim::ALL.iter().find(|(_, known)| *known == aim);
    Said::of(known.map_or("", |(words, _)| words))
}

fn ordered(amount: &Ordered) -> Said {
    match amount {
        Ordered::Weight(weight) => Said::quantity(weight),
        Ordered::Pieces(count, kind) => {
            let mut said = Said::quantity(count);
            said.and(&Said::of(&kind.key));
            said
        }
    }
}

fn open(days: Weekdays, (from, to): (u32, u32), hands: u32) -> Said {
    let named = Weekdays::NAMES.iter().zip(0..).filter(|(_, day)| days.has(*day));
    let named: Vec<&str> = named.map(|(name, _)| *name).collect();
    let clock = |minutes: u32| format!("{:02}:{:02}", minutes / 60, minutes % 60);
    let hands = if hands == 1 { String::new() } else { format!(" with {hands}") };
    let open = format!("{}..{}{hands}", clock(from), clock(to));
    let shown = match named.len() {
        0 | 7 => open.clone(),
        _ => format!("{} {open}", named.join(" ")),
    };
    Said { canon: format!("{} {open}", named.join(" ")), shown }
}

/// All declarations of a tree but its formulas, which have to be put together first.
pub fn of_tree(tree: &Tree) -> Vec<Declared> {
    let Tree {
        bakehouses,
        formulas: _,
        stages,
        mixtures,
        cultures,
        ingredients,
        styles,
        machines,
        booklets,
        days,
    } = tree;
    let mut all: Vec<Declared> = bakehouses.iter().map(Declared::house).collect();
    all.extend(ingredients.iter().map(|ingredient| Declared {
        also: ingredient.also.iter().map(|name| name.key.clone()).collect(),
        ..Declared::new(DeclaredKind::Ingredient, &ingredient.name, |it| it.ingredient(ingredient))
    }));
    all.extend(cultures.iter().map(|culture| {
        Declared::new(DeclaredKind::Culture, &culture.name, |it| it.culture(culture))
    }));
    all.extend(stages.iter().map(Declared::stage));
    all.extend(mixtures.iter().map(|mixture| {
        Declared::new(DeclaredKind::Mixture, &mixture.name, |it| it.mixture(mixture))
    }));
    all.extend(
        styles.iter().map(|it| Declared::new(DeclaredKind::Style, &it.name, |w| w.style(it))),
    );
    let inside = bakehouses.iter().flat_map(|bakehouse| &bakehouse.machines);
    all.extend(inside.chain(machines).map(Declared::machine));
    all.extend(days.iter().map(Declared::day));
    all.extend(booklets.iter().map(Declared::booklet));
    all
}
