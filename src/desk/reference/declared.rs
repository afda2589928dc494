//! Pages of what the stores and a house declare.

use super::entry::{NameKind, ReferenceEntry};
use super::facts;
use crate::formula::class::{Class, Nutrient};
use crate::formula::{Absence, Allergen, House, Ingredient, Judged, limit, plain, words_of};
use crate::print::manual::ManualTable;
use crate::quantity::display::{decimal, trimmed};
use crate::quantity::{Exact, Measures, Unit, int, ratio};
use crate::source::{SourceId, Sources, Span};
use crate::syntax::tree::{self, Extent, Machine, MachineKind, Name, NotedText, Tree, WordsKind};

/// Ingredients of a class that its page names.
const MAX_MEMBERS: usize = 8;

/// What turns declarations into pages.
pub struct Declarer<'h> {
    /// The house whose names they are.
    pub house: &'h House<'h>,
    /// Where their examples are cut from.
    pub sources: &'h Sources,
    /// What counts and what to beware of, by the word of a class.
    pub classes: Vec<(&'static str, &'static str, Option<&'static str>)>,
}

impl Declarer<'_> {
    /// Of the house's own trees first, then of the stores what no house replaces.
    pub fn entries(&self, own: &[&Tree], stored: &[Tree]) -> Vec<ReferenceEntry> {
        let mut all: Vec<ReferenceEntry> = Vec::new();
        for tree in own.iter().copied().chain(stored) {
            let mut found: Vec<ReferenceEntry> = Vec::new();
            found.extend(tree.ingredients.iter().filter_map(|it| self.ingredient(it)));
            found.extend(tree.cultures.iter().map(|it| self.culture(it)));
            // What bounds the checks is written like a style, and is none.
            let styles = tree.styles.iter().filter(|it| it.span.source != SourceId::LIMITS);
            found.extend(styles.map(|it| self.style(it)));
            let inside = tree.bakehouses.iter().flat_map(|house| &house.machines);
            found.extend(inside.chain(&tree.machines).filter_map(|it| self.machine(it)));
            found.retain(|new| !all.iter().any(|old| old.kind == new.kind && old.key == new.key));
            all.extend(found);
        }
        all.sort_by(|one, two| (one.kind, &one.key).cmp(&(two.kind, &two.key)));
        all
    }

    fn entry(&self, kind: NameKind, name: &Name) -> ReferenceEntry {
        let mut entry = ReferenceEntry::new(kind, &name.shown);
        entry.page.line = self.comment_above(name.span);
        entry
    }

    fn text(&self, span: Span) -> &str {
        self.sources.get(span.source).map_or("", |source| source.under(span))
    }

    /// The comment that touches a declaration from above, in one line.
    fn comment_above(&self, name: Span) -> String {
        let source = self.sources.get(name.source);
        let before = source.and_then(|it| it.text.get(..name.start as usize)).unwrap_or_default();
        let lines = before.lines().rev().skip(1).map(str::trim);
        let comment = lines.map_while(|line| line.strip_prefix('#')).map(str::trim);
        let mut comment: Vec<&str> = comment.collect();
        comment.reverse();
        if comment.iter().any(|line| line.starts_with("--")) {
            String::new()
        } else {
            comment.join(" ")
        }
    }

    /// Where it is declared, notes, storage and source.
    fn close(&self, entry: &mut ReferenceEntry, name: Span, texts: &[NotedText]) {
        for (kind, label) in [
            (WordsKind::Note, "Note"),
            (WordsKind::Storage, "Storage"),
            (WordsKind::Caution, "Beware"),
            (WordsKind::Source, "Source"),
        ] {
            for text in words_of(texts, kind) {
                entry.fact(label, plain(text));
            }
        }
        entry.fact("By default", default_of(entry.kind, name.source.is_built_in()));
        let place = if name.source.is_built_in() {
            "built in".to_owned()
        } else {
            self.sources.place(name)
        };
        entry.fact("Declared", place);
    }

    /// Says of a class which ingredients are in it.
    pub fn members(&self, class: &mut ReferenceEntry) {
        let is_in = |known: &&Ingredient| known.class.word() == class.key;
        let names = self.house.ingredients().filter(is_in).map(|known| known.name.shown.as_str());
        let names: Vec<&str> = names.collect();
        if let Some((first, others)) = names.split_at_checked(MAX_MEMBERS) {
            let more = if others.is_empty() { "" } else { " …" };
            class.fact("Ingredients", format!("{}{more}", first.join(", ")));
        } else if !names.is_empty() {
            class.fact("Ingredients", names.join(", "));
        }
    }

    // ---- Ingredients -------------------------------------------------------------------

    fn ingredient(&self, declared: &tree::Ingredient) -> Option<ReferenceEntry> {
        let known = self.house.ingredient_named(&declared.name.key)?;
        let mut entry = self.entry(NameKind::Ingredient, &declared.name);
        let class = known.class;
        let comment = std::mem::take(&mut entry.page.line);
        entry.page.line = in_short(class, known);
        entry.page.prose = comment;
        self.counts(&mut entry, class);
        if let Some(tree::IngredientKind::Like(like)) = &declared.kind {
            entry.fact("Like", format!("`{}`", like.shown));
        }
        allergens(&mut entry, known);
        self.measures(&mut entry, known);
        if let Some(price) = &declared.price {
            entry.fact("Price", format!("`{}`", self.text(price.span)));
        }
        names(&mut entry, declared, known);
        let (caution, elsewhere) = facts::of_ingredient(&entry.key);
        if let Some(caution) = caution {
            entry.fact("Beware", caution);
            entry.is_guarded = true;
        }
        if !elsewhere.is_empty() {
            entry.fact("Called elsewhere", elsewhere.join(", "));
            entry.elsewhere.extend(elsewhere);
        }
        self.close(&mut entry, declared.name.span, &declared.texts);
        entry.page.table = composition(known);
        entry.frame = "line".into();
        entry.page.example = Some(line(known, &mut entry.frame));
        Some(entry)
    }

    fn counts(&self, entry: &mut ReferenceEntry, class: Class) {
        let word = class.word();
        entry.fact("Class", format!("`{word}`"));
        if let Some((_, counts, caution)) = self.classes.iter().find(|(known, ..)| *known == word) {
            entry.fact("Counts", *counts);
            if let Some(caution) = caution {
                entry.fact("Beware", *caution);
            }
        }
    }

    fn measures(&self, entry: &mut ReferenceEntry, known: &Ingredient) {
        if let Some(density) = &known.grams_per_ml {
            let measures = self.house.settings.measures;
            let of = |unit: Unit| trimmed(&(unit.to_base(&int(1), measures) * density), 0);
            let system = if measures == Measures::Us { "US" } else { "metric" };
            entry.fact(
                "Weighs",
                format!(
                    "{} g a millilitre; a {system} cup about {} g, a tablespoon {} g",
                    decimal(density, 3),
                    of(Unit::Cup),
                    of(Unit::Tablespoon),
                ),
            );
        }
        if let Some(each) = &known.each {
            entry.fact("One", format!("{} g", decimal(each, 2)));
        }
        if let Some(kept) = &known.kept {
            entry.fact("Kept at", format!("{} °C", decimal(kept, 1)));
        }
        if let Some(fresh) = &known.fresh_equivalent {
            entry
                .fact("Fresh equivalent", format!("1 g is {} g of fresh yeast", decimal(fresh, 3)));
        }
    }

    // ---- Cultures, styles, machines ----------------------------------------------------

    fn culture(&self, culture: &tree::Culture) -> ReferenceEntry {
        let mut entry = self.entry(NameKind::Culture, &culture.name);
        let rows = culture.mix.lines.iter().map(|line| {
            vec![line.target.name.shown.to_string(), self.text(line.amount_span).to_owned()]
        });
        let rows: Vec<Vec<String>> = rows.collect();
        let inside = rows.iter().map(|row| row.join(" "));
        let inside: Vec<String> = inside.collect();
        or_else(&mut entry.page.line, inside.join(", "));
        entry.fact("Counts", "its flour and water are part of every total");
        entry.fact(
            "Written",
            format!("`{} 20%`, in a stage or a dough", quoted(&culture.name.shown)),
        );
        entry.page.table = Some(ManualTable { heads: vec!["made of", "amount"], rows });
        self.close(&mut entry, culture.name.span, &culture.texts);
        entry.frame = "home".into();
        entry.page.example = Some(format!("{}  20%", quoted(&culture.name.shown)));
        entry
    }

    fn style(&self, style: &tree::Style) -> ReferenceEntry {
        let mut entry = self.entry(NameKind::Style, &style.name);
        let end = |end: &Option<tree::Quantity>| {
            end.as_ref().map_or("", |quantity| self.text(quantity.span)).to_owned()
        };
        let rows = style.bounds.iter().map(|bound| {
            let mut what = bound.what.name.shown.to_string();
            if let Some(place) = &bound.place {
                what = format!("{what} in {}", place.shown);
            }
            vec![what, end(&bound.range.low), end(&bound.range.high)]
        });
        let rows: Vec<Vec<String>> = rows.collect();
        let short = rows.iter().take(2).map(|row| format!("{} {}..{}", row[0], row[1], row[2]));
        or_else(&mut entry.page.line, short.collect::<Vec<_>>().join(", "));
        entry.fact("Written", format!("`style {}`", quoted(&style.name.shown)));
        entry.fact("Counts", "outside a bound is the warning `outside-style`");
        if !style.without.is_empty() {
            let names = style.without.iter().map(|name| format!("`{}`", name.shown));
            entry.fact("Without", names.collect::<Vec<_>>().join(", "));
        }
        if !rows.is_empty() {
            entry.page.table = Some(ManualTable { heads: vec!["figure", "from", "to"], rows });
        }
        self.close(&mut entry, style.name.span, &style.texts);
        // A style without an allergen is shown in a bread that has none.
        let is_free = style.without.iter().any(|name| Allergen::read(&name.key).is_some());
        entry.frame = if is_free { "rice" } else { "formula" }.into();
        entry.page.example = Some(format!("style  {}", quoted(&style.name.shown)));
        entry
    }

    fn machine(&self, machine: &Machine) -> Option<ReferenceEntry> {
        let name = quoted(&machine.name.shown);
        let (kind, frame, example) = match machine.kind {
            MachineKind::Tin => (NameKind::Tin, "yield", format!("makes  40 loaves in {name}")),
            MachineKind::Mixer => {
                (NameKind::Mixer, "mixing", format!("mix  8min with everything else in {name}"))
            }
            MachineKind::Oven => {
                (NameKind::Oven, "baked", format!("bake  35min at 230C in {name}\ncool  1h"))
            }
            // Most of them are called by their word, which has a page.
            MachineKind::Proofer | MachineKind::Refrigerator | MachineKind::Board => return None,
        };
        let mut entry = self.entry(kind, &machine.name);
        let holds = machine.holds.iter().map(|(extent, piece)| self.held(extent, piece.as_ref()));
        let holds = holds.collect::<Vec<_>>().join(", ");
        or_else(
            &mut entry.page.line,
            if holds.is_empty() { String::new() } else { format!("holds {holds}") },
        );
        if !holds.is_empty() {
            entry.fact("Holds", holds);
        }
        if let Some((speeds, _)) = machine.speeds {
            entry.fact("Speeds", speeds.to_string());
        }
        if let Some(friction) = &machine.friction {
            entry.fact("Friction", self.text(friction.span).to_owned());
        }
        if let Some((energy, per)) = &machine.work {
            entry.fact("Work", self.text(energy.span.to(per.span)).to_owned());
        }
        if let Some((volume, mass)) = &machine.volume_per_gram {
            entry.fact("For a gram", self.text(volume.span.to(mass.span)).to_owned());
        }
        if !machine.greased.is_empty() {
            let names = machine.greased.iter().map(|name| format!("`{}`", name.shown));
            entry.fact("Greased with", names.collect::<Vec<_>>().join(", "));
        }
        self.close(&mut entry, machine.name.span, &[]);
        entry.frame = frame.into();
        entry.page.example = Some(example);
        Some(entry)
    }

    /// `3 kg..28 kg`, `24 loaves`.
    fn held(&self, extent: &Extent, piece: Option<&Name>) -> String {
        let amount = self.text(extent.span);
        piece.map_or_else(|| amount.to_owned(), |piece| format!("{amount} {}", piece.shown))
    }
}

/// What holds where nothing more is said of a thing.
fn default_of(kind: NameKind, is_built_in: bool) -> &'static str {
    match kind {
        NameKind::Ingredient if is_built_in => {
            "every formula can use it; a house's own `ingredient` of that name replaces it"
        }
        NameKind::Ingredient => "every formula of the house can use it",
        NameKind::Culture => {
            "its flour and water are counted, unless it is `kept back` or `not split`"
        }
        NameKind::Style => "a formula that names no style is checked only against what is usual",
        NameKind::Tin => "pieces are baked without a tin, unless `makes` names one with `in`",
        NameKind::Mixer => "the smallest mixer that holds the dough is used; `in` names another",
        _ => "a bake that names no oven uses the one that needs fewest loads; `in` names one",
    }
}

fn or_else(line: &mut String, other: String) {
    if line.is_empty() {
        *line = other;
    }
}

/// A name as it is written in a file.
fn quoted(name: &str) -> String {
    let is_reserved = |word: &str| crate::syntax::words::is_reserved(word);
    let begins_with_digit = name.starts_with(|letter: char| letter.is_ascii_digit());
    if begins_with_digit || name.split(' ').any(is_reserved) {
        format!("\"{name}\"")
    } else {
        name.to_owned()
    }
}

fn keys(all: impl Iterator<Item = Allergen>) -> String {
    all.map(Allergen::key).collect::<Vec<_>>().join(", ")
}

/// What a list says of its allergens.
fn in_short(class: Class, known: &Ingredient) -> String {
    let declared = &known.declared;
    let named = keys(declared.named.iter());
    let contains = match (named.is_empty(), declared.is_complete) {
        (_, false) => "what it contains is not stated".to_owned(),
        (true, true) => "no allergens".to_owned(),
        (false, true) => format!("contains {named}"),
    };
    let may = keys(declared.may.iter());
    let may = if may.is_empty() { may } else { format!("; may contain {may}") };
    let mut letters = class.word().chars();
    let first = letters.next().map(|letter| letter.to_ascii_uppercase().to_string());
    format!("{}{}; {contains}{may}.", first.unwrap_or_default(), letters.as_str())
}

fn allergens(entry: &mut ReferenceEntry, known: &Ingredient) {
    let declared = &known.declared;
    let named = keys(declared.named.iter());
    let contains = match (named.is_empty(), declared.is_complete) {
        (true, true) => "nothing that is an allergen".to_owned(),
        (true, false) => "not stated, so not known".to_owned(),
        (false, true) => named,
        (false, false) => format!("{named}; what else is not stated, so not known"),
    };
    entry.fact("Contains", contains);
    let may = keys(declared.may.iter());
    if !may.is_empty() {
        entry.fact("May contain", may);
    }
    let free = keys(declared.free.iter().filter(|one| !one.is_group()));
    if !free.is_empty() {
        entry.fact("Shown to be free from", free);
    }
    let open = keys(declared.open.iter());
    if !open.is_empty() {
        entry.fact("Not answered", open);
    }
    let judged = |absence| match declared.judge(absence) {
        Judged::Without => "yes".to_owned(),
        Judged::Holds(what) => format!("no ({what})"),
        Judged::NotKnown => "not known".to_owned(),
    };
    let (vegan, vegetarian) = (judged(Absence::Vegan), judged(Absence::Vegetarian));
    entry.fact("Vegan", vegan);
    entry.fact("Vegetarian", vegetarian);
}

fn names(entry: &mut ReferenceEntry, declared: &tree::Ingredient, known: &Ingredient) {
    let also = declared.also.iter().map(|name| name.shown.to_string());
    entry.reads = also.collect();
    if !entry.reads.is_empty() {
        let words = format!("`{}`", entry.reads.join("`, `"));
        entry.fact("Also read", words);
    }
    if !known.called.is_empty() {
        let called = known.called.iter().map(|(language, name)| format!("{name} ({language})"));
        entry.fact("Called", called.collect::<Vec<_>>().join(", "));
        entry.elsewhere = known.called.iter().map(|(_, name)| name.to_string()).collect();
    }
}

/// What is in 100 g.
fn composition(known: &Ingredient) -> Option<ManualTable> {
    let row = |(word, nutrient): &(&str, Nutrient)| {
        let per_gram = known.composition.get(*nutrient)?;
        Some(vec![(*word).to_owned(), amount(*nutrient, per_gram)])
    };
    let rows: Vec<Vec<String>> = Nutrient::ALL.iter().filter_map(row).collect();
    (!rows.is_empty()).then(|| ManualTable { heads: vec!["in 100 g", "amount"], rows })
}

fn amount(nutrient: Nutrient, per_gram: &Exact) -> String {
    let in_100 = per_gram * int(100);
    let milligrams = &in_100 * int(1000);
    let is_mineral = matches!(
        nutrient,
        Nutrient::Sodium
            | Nutrient::Calcium
            | Nutrient::Iron
            | Nutrient::Potassium
            | Nutrient::Cholesterol
    );
    match nutrient {
        Nutrient::Energy => format!("{} kcal", decimal(&in_100, 1)),
        _ if is_mineral => format!("{} mg", decimal(&milligrams, 2)),
        _ => format!("{} g", decimal(&in_100, 3)),
    }
}

/// A line with a usual amount, and what it is cut out of.
fn line(known: &Ingredient, frame: &mut String) -> String {
    let (name, key, class) = (quoted(&known.name.shown), known.name.key.as_str(), known.class);
    if known.is_caustic() {
        // Never into the dough.
        *frame = "formula".into();
        return format!(
            "mixture pretzel bath {{\n  water  1 kg\n  {name}    40 g\n}}\npiece {{\n  pretzel bath  2 g\n}}"
        );
    }
    let usual = |of: &str| limit("usual amounts", of).and_then(|range| range.low.clone());
    let share = usual(key)
        .or_else(|| usual(&format!("amount of {}", class.word())))
        .unwrap_or(ratio(1, 100));
    format!("{name}  {}%", decimal(&(share * int(100)), 3))
}
