//! The stores that come with the program, written in the language.
//!
//! A run needs few of their declarations, so each is read when it is first asked for; a
//! quick look through the texts finds where they stand and what they are called.

use super::texts::key;
use crate::quantity::{Exact, Measures, Range};
use crate::source::{SourceId, Span};
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

/// The built-in stores, written in the language.
pub static STORES: [Store; 4] = [
    Store {
        id: SourceId::INGREDIENTS,
        name: "stores/ingredients.dough",
        text: include_str!("../stores/ingredients.dough"),
    },
    Store {
        id: SourceId::CULTURES,
        name: "stores/cultures.dough",
        text: include_str!("../stores/cultures.dough"),
    },
    Store {
        id: SourceId::STYLES,
        name: "stores/styles.dough",
        text: include_str!("../stores/styles.dough"),
    },
    Store {
        id: SourceId::LIMITS,
        name: "stores/limits.dough",
        text: include_str!("../stores/limits.dough"),
    },
];

/// The stores in drawers, of which none is open before it is asked for.
pub(super) fn drawers() -> &'static Drawers {
    static DRAWERS: LazyLock<Drawers> = LazyLock::new(Drawers::new);
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
#[derive(Debug)]
pub(super) struct Drawers {
    /// In the order of their numbers.
    pub ingredients: Vec<Drawer>,
    /// In the order of their numbers.
    pub cultures: Vec<Drawer>,
    /// By key.
    pub styles: FxHashMap<EcoString, StyleDrawer>,
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
    bounds: OnceLock<FxHashMap<EcoString, Range>>,
}

impl Drawers {
    fn new() -> Self {
        let mut all =
            Self { ingredients: Vec::new(), cultures: Vec::new(), styles: FxHashMap::default() };
        for store in &STORES {
            for (start, end, also) in declarations(store.text) {
                all.put(store, start, end, &also);
            }
        }
        all
    }

    /// Names stand as the stores' own hand writes them, which a test holds them to.
    fn put(&mut self, store: &'static Store, start: usize, end: usize, also: &[&str]) {
        let text = store.text.get(start..end).unwrap_or_default();
        let head = text.lines().next().unwrap_or_default();
        let Some((word, rest)) = head.split_once(' ') else { return };
        let ends = [" is ", " like ", " {"].into_iter().filter_map(|end| rest.find(end));
        let name = rest.get(..ends.min().unwrap_or(rest.len())).unwrap_or_default();
        // A name that begins with a digit stands in quotes.
        let name = name.trim_matches('"');
        let also = also.iter().flat_map(|line| line.split('"').skip(1).step_by(2));
        let names = std::iter::once(name).chain(also).map(key).collect();
        let drawer = Drawer { store, start, end, names };
        match word {
            "ingredient" => self.ingredients.push(drawer),
            "culture" => self.cultures.push(drawer),
            _ => {
                let (style, bounds) = (OnceLock::new(), OnceLock::new());
                self.styles.insert(key(name), StyleDrawer { drawer, style, bounds });
            }
        }
    }
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

    fn bounds(&self) -> &FxHashMap<EcoString, Range> {
        self.bounds.get_or_init(|| {
            // Bounds are in no cups or spoons, so nobody's measures count; that is tested.
            let base = |end: &Quantity| end.unit.to_base(&end.number, Measures::default());
            let bounds = self.style().into_iter().flat_map(|style| &style.bounds);
            let mut all = FxHashMap::default();
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
