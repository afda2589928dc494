//! The stores that come with the program, written in the language.
//!
//! A run needs few of their declarations, so each is read when it is first asked for. Where
//! they stand, what they are called and the bounds of styles are packed.

use super::first_words::first_words;
use super::texts::key;
use crate::quantity::{Exact, Measures, Range};
use crate::source::{Packer, SourceId, Span, Unpacker, is_fresh, stamp_of};
use crate::syntax::read_part;
use crate::syntax::tree::{self, Quantity, Tree};
use ecow::EcoString;
use rustc_hash::FxHashMap;
use std::sync::{LazyLock, OnceLock};

/// A store that comes with the program.
#[derive(Debug)]
pub struct Store {
    /// Its number among all texts.
    pub id: SourceId,
    /// The name of its file.
    pub name: &'static str,
    /// All of it.
    pub text: &'static str,
}

/// What the stores say, in the order of [`STORES`].
pub(in crate::formula) const TEXTS: [&str; 4] = [
    include_str!("../stores/ingredients.dough"),
    include_str!("../stores/cultures.dough"),
    include_str!("../stores/styles.dough"),
    include_str!("../stores/limits.dough"),
];

/// The built-in stores, written in the language.
pub static STORES: [Store; 4] = [
    Store { id: SourceId::INGREDIENTS, name: "stores/ingredients.dough", text: TEXTS[0] },
    Store { id: SourceId::CULTURES, name: "stores/cultures.dough", text: TEXTS[1] },
    Store { id: SourceId::STYLES, name: "stores/styles.dough", text: TEXTS[2] },
    Store { id: SourceId::LIMITS, name: "stores/limits.dough", text: TEXTS[3] },
];

/// The stores in drawers, of which none is open before it is asked for.
pub(super) fn drawers() -> &'static Drawers {
    static DRAWERS: LazyLock<Drawers> = LazyLock::new(|| match IS_FRESH {
        true => Drawers::unpacked(),
        false => Drawers::read(),
    });
    &DRAWERS
}

/// Every name of an ingredient or a culture in the stores.
pub(super) fn names_in_stores() -> impl Iterator<Item = &'static EcoString> {
    drawers().ingredients.iter().chain(&drawers().cultures).flat_map(|drawer| &drawer.names)
}

/// A bound of the stores in base units, by the name of its style or group and its own.
pub fn limit(style: &str, figure: &str) -> Option<&'static Range> {
    let drawer = drawers().styles.get(style)?;
    drawer.bounds().get(figure)
}

/// One number of the stores in base units: the high end of its range, else the low one.
pub fn known(style: &str, figure: &str) -> Exact {
    let range = limit(style, figure);
    range.and_then(|it| it.high.clone().or_else(|| it.low.clone())).unwrap_or_default()
}

/// The declarations of the stores, none of them read.
#[derive(Debug, Default)]
pub(super) struct Drawers {
    /// In the order of their numbers.
    pub ingredients: Vec<Drawer>,
    /// In the order of their numbers.
    pub cultures: Vec<Drawer>,
    /// By key.
    pub styles: FxHashMap<EcoString, StyleDrawer>,
    /// The first words of all names of ingredients.
    pub first_words: FxHashMap<EcoString, u8>,
}

/// One declaration of a store.
#[derive(Debug)]
pub(super) struct Drawer {
    store: &'static Store,
    start: usize,
    end: usize,
    /// Its name, and those that it is `also` called.
    pub names: Vec<EcoString>,
}

/// A style of the stores, read when it is asked for.
#[derive(Debug)]
pub(super) struct StyleDrawer {
    drawer: Drawer,
    style: OnceLock<Option<tree::Style>>,
    bounds: OnceLock<Bounds>,
}

/// The bounds of a style in base units, by name.
type Bounds = FxHashMap<EcoString, Range>;

/// What a drawer holds.
#[derive(Clone, Copy)]
enum DrawerKind {
    Ingredient,
    Culture,
    Style,
}

impl Drawers {
    fn read() -> Self {
        let mut all = Self::default();
        for store in &STORES {
            for (start, end, also) in declarations(store.text) {
                all.read_one(store, start, end, &also);
            }
        }
        let names = all.ingredients.iter().flat_map(|drawer| &drawer.names);
        all.first_words = first_words(names);
        all
    }

    /// Names stand as the stores' own hand writes them, which a test holds them to.
    fn read_one(&mut self, store: &'static Store, start: usize, end: usize, also: &[&str]) {
        let text = store.text.get(start..end).unwrap_or_default();
        let head = text.lines().next().unwrap_or_default();
        let Some((word, rest)) = head.split_once(' ') else { return };
        let ends = [" is ", " like ", " {"].into_iter().filter_map(|end| rest.find(end));
        let name = rest.get(..ends.min().unwrap_or(rest.len())).unwrap_or_default();
        // A name that begins with a digit stands in quotes.
        let name = name.trim_matches('"');
        let also = also.iter().flat_map(|line| line.split('"').skip(1).step_by(2));
        let names = std::iter::once(name).chain(also).map(key).collect();
        let kind = match word {
            "ingredient" => DrawerKind::Ingredient,
            "culture" => DrawerKind::Culture,
            _ => DrawerKind::Style,
        };
        self.put(kind, Drawer { store, start, end, names }, None);
    }

    fn put(&mut self, kind: DrawerKind, drawer: Drawer, bounds: Option<Bounds>) {
        match kind {
            DrawerKind::Ingredient => self.ingredients.push(drawer),
            DrawerKind::Culture => self.cultures.push(drawer),
            DrawerKind::Style => {
                let name = drawer.names.first().cloned().unwrap_or_default();
                let bounds = bounds.map_or_else(OnceLock::new, OnceLock::from);
                self.styles.insert(name, StyleDrawer { drawer, style: OnceLock::new(), bounds });
            }
        }
    }
}

/// The drawers as they are packed.
static PACKED: &[u8] = include_bytes!("../stores/drawers.packed");

const STAMP: u64 = stamp_of(&TEXTS);

const IS_FRESH: bool = is_fresh(PACKED, STAMP);

/// What the packed file has to be.
#[cfg_attr(closed, allow(dead_code, reason = "a test holds the file to it"))]
pub fn packed_stores() -> Vec<u8> {
    Drawers::read().packed()
}

impl Drawers {
    fn packed(&self) -> Vec<u8> {
        let mut packer = Packer::new(STAMP);
        let mut styles: Vec<&StyleDrawer> = self.styles.values().collect();
        styles.sort_by_key(|style| (style.drawer.store.id, style.drawer.start));
        let ingredients = self.ingredients.iter().map(|it| (DrawerKind::Ingredient, it));
        let cultures = self.cultures.iter().map(|it| (DrawerKind::Culture, it));
        let own_styles = styles.iter().map(|it| (DrawerKind::Style, &it.drawer));
        let drawers: Vec<_> = ingredients.chain(cultures).chain(own_styles).collect();
        let numbers = drawers.iter().flat_map(|(kind, it)| {
            let place = [it.store.id.0, it.start as u32, it.end as u32];
            [*kind as u32, place[0], place[1], place[2], it.names.len() as u32]
        });
        packer.numbers(numbers.collect::<Vec<u32>>().into_iter());
        let names = drawers.iter().flat_map(|(_, it)| &it.names);
        packer.text(&names.map(EcoString::as_str).collect::<Vec<_>>().join("\n"));
        for style in &styles {
            pack_bounds(style.bounds(), &mut packer);
        }
        let mut words: Vec<_> = self.first_words.iter().collect();
        words.sort_unstable();
        packer.text(&words.iter().map(|(word, _)| word.as_str()).collect::<Vec<_>>().join("\n"));
        packer.letters(&words.iter().map(|(_, most)| **most).collect::<Vec<u8>>());
        packer.packed()
    }

    fn unpacked() -> Self {
        let mut from = Unpacker::new(PACKED);
        let mut all = Self::default();
        let numbers: Vec<u32> = from.numbers().collect();
        let mut names = from.text().split('\n');
        for [kind, store, start, end, count] in numbers.as_chunks().0 {
            let Some(store) = STORES.get(*store as usize) else { continue };
            let (start, end) = (*start as usize, *end as usize);
            let names = names.by_ref().take(*count as usize).map(EcoString::from).collect();
            let kind = match kind {
                0 => DrawerKind::Ingredient,
                1 => DrawerKind::Culture,
                _ => DrawerKind::Style,
            };
            let bounds = matches!(kind, DrawerKind::Style).then(|| unpack_bounds(&mut from));
            all.put(kind, Drawer { store, start, end, names }, bounds.flatten());
        }
        let words = from.text().split('\n').map(EcoString::from);
        all.first_words = words.zip(from.letters().iter().copied()).collect();
        all
    }
}

/// Packs the bounds of a style: their names, and four numbers for each end. Where a number
/// does not fit, none, and they are read when they are asked for.
fn pack_bounds(bounds: &Bounds, packer: &mut Packer) {
    let end = |end: &Option<Exact>| {
        let Some(number) = end else { return Some([0, 0]) };
        let above = i32::try_from(number.numerator()).ok()?;
        Some([above as u32, u32::try_from(number.denominator()).ok()?])
    };
    let mut bounds: Vec<_> = bounds.iter().collect();
    bounds.sort_unstable_by_key(|(name, _)| *name);
    let ends = bounds.iter().map(|(_, range)| Some([end(&range.low)?, end(&range.high)?]));
    let ends: Vec<u32> = ends.collect::<Option<Vec<_>>>().unwrap_or_default().concat().concat();
    let names = bounds.iter().map(|(name, _)| name.as_str());
    packer.text(&names.collect::<Vec<_>>().join("\n"));
    packer.numbers(ends.into_iter());
}

fn unpack_bounds(from: &mut Unpacker) -> Option<Bounds> {
    let (names, ends) = (from.text().split('\n'), from.numbers().collect::<Vec<u32>>());
    let end = |above: u32, below: u32| Exact::ratio(i64::from(above as i32), i64::from(below));
    let ranges = ends.as_chunks().0.iter().map(|[low, below_low, high, below_high]| Range {
        low: end(*low, *below_low),
        high: end(*high, *below_high),
    });
    (!ends.is_empty()).then(|| names.map(EcoString::from).zip(ranges).collect())
}

/// Where each declaration begins and ends, and its lines of other names. A declaration
/// begins with a letter in column 0.
fn declarations(text: &str) -> Vec<(usize, usize, Vec<&str>)> {
    let mut all: Vec<(usize, usize, Vec<&str>)> = Vec::new();
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        if line.starts_with(|letter: char| letter.is_ascii_lowercase()) {
            all.push((start, start, Vec::new()));
        }
        start += line.len();
        if let Some((_, end, also)) = all.last_mut() {
            *end = start;
            also.extend(line.strip_prefix("  also "));
        }
    }
    all
}

impl Drawer {
    /// What the declaration says.
    pub fn read(&self) -> Tree {
        read_part(self.store.id, self.store.text, self.start..self.end)
    }

    /// Whether a place lies in it.
    pub fn holds(&self, place: Span) -> bool {
        place.source == self.store.id && (self.start..self.end).contains(&place.range().start)
    }
}

impl StyleDrawer {
    /// Whether it bounds what has no style, and is none to name.
    pub fn is_bounds(&self) -> bool {
        self.drawer.store.id == SourceId::LIMITS
    }

    /// The style, read now where it was not yet.
    pub fn style(&self) -> Option<&tree::Style> {
        self.style.get_or_init(|| self.drawer.read().styles.pop()).as_ref()
    }

    fn bounds(&self) -> &Bounds {
        self.bounds.get_or_init(|| {
            // Bounds are in no cups or spoons, so nobody's measures count; that is tested.
            let base = |end: &Quantity| end.unit.to_base(&end.number, Measures::default());
            let bounds = self.style().into_iter().flat_map(|style| &style.bounds);
            let mut all = Bounds::default();
            for bound in bounds {
                let low = bound.range.low.as_ref().map(base);
                let high = bound.range.high.as_ref().map(base);
                // Of two bounds with one name the first one counts.
                all.entry(bound.what.name.key.clone()).or_insert(Range { low, high });
            }
            all
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Nothing of the packed drawers is lost when they are unpacked.
    #[test]
    fn what_is_unpacked_packs_to_the_same() {
        assert!(IS_FRESH && packed_stores() == PACKED, "stale; see tests/all/packed.rs");
        assert!(Drawers::unpacked().packed() == PACKED, "other drawers");
        for style in Drawers::unpacked().styles.values() {
            assert!(style.bounds.get().is_some(), "{:?} is not packed", style.drawer.names);
        }
    }
}
