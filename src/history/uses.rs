//! Who uses a thing, and what a formula rests on, as trees.

use super::declared::{Declared, DeclaredKind, of_tree};
use crate::desk::Bakehouse;
use crate::diag::machine::pretty;
use crate::formula::{
    Absence, Allergen, Declared as DeclaredAllergens, Doubt, House, IngredientId, Judged, LineRef,
    PrintedWeights, Proof, Substance, Within, Worked, WorkedLine, absence, key, work, work_as,
};
use crate::orders::{Means, resolve};
use crate::print::{Wording, document};
use crate::quantity::display::{exact, to_step, written_weight};
use crate::quantity::{Exact, Unit};
use crate::source::{Sources, Span, visible};
use crate::syntax::tree::{Formula, Makes, Ordered, Quantity, Verb};
use ecow::EcoString;
use rustc_hash::{FxHashMap, FxHashSet};
use schemars::JsonSchema;
use serde::Serialize;
use std::cell::{OnceCell, RefCell};
use std::collections::BTreeMap;
use std::rc::Rc;

/// The version of the shape of what `assize uses --format json` writes.
const VERSION: u32 = 1;

/// A thing with those that use it, or with what it uses.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Use {
    /// `ingredient`, `culture`, `stage`, `mixture`, `style`, `tin`, `mixer`, `oven`, `formula`,
    /// `old dough`, `allergen`.
    pub kind: String,
    /// Its name, as it is declared.
    pub name: String,
    /// In a formula, how much it has of what was asked about, through whatever it comes; of what
    /// a formula rests on, how
    /// much of it the formula has: `2.160 kg`.
    pub amount: Option<String>,
    /// The same in grams, exactly.
    pub grams: Option<String>,
    /// How much of that is weighed as such, where the rest comes in with something else, such as
    /// old dough.
    pub weighed: Option<String>,
    /// The same in grams, exactly.
    pub weighed_grams: Option<String>,
    /// What the formula makes, which the amount is for: `24 loaves at 900 g`; of a day what is
    /// ordered of it, without what is on hand.
    pub makes: Option<String>,
    /// Where it stands: `bakehouse.dough:62:1`; nothing for what the stores know.
    pub place: Option<String>,
    /// It, or what uses it, is only named in a text: nothing of it is in the other.
    pub quoted: bool,
    /// What is known of it and of the allergen that was asked about: `contains`, `may contain`,
    /// `not known`.
    pub holds: Option<String>,
    /// Where its parts stand that are left out here, since this place is too deep in the tree or
    /// they are told before: `elsewhere`, at another place of this tree; `not here`, nowhere in it.
    /// `from elsewhere`, of a part of the root: what is too deep at another place stands here.
    pub continued: Option<String>,
    /// Those that use it, or what it uses, by kind and name.
    pub parts: Vec<Use>,
}

impl Use {
    fn bare(kind: &str, name: &str) -> Self {
        Self {
            kind: kind.to_owned(),
            name: name.to_owned(),
            amount: None,
            grams: None,
            weighed: None,
            weighed_grams: None,
            makes: None,
            place: None,
            quoted: false,
            holds: None,
            continued: None,
            parts: Vec::new(),
        }
    }
}

/// Of [`Use::continued`].
const ELSEWHERE: &str = "elsewhere";
const FROM_ELSEWHERE: &str = "from elsewhere";
const NOT_HERE: &str = "not here";

/// The answer of `assize uses`.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Uses {
    /// The version of this document's shape.
    pub version: u32,
    /// How many formulas have it, or, of what a formula rests on, 1; of what a booklet or a day
    /// rests on, how many formulas those are.
    pub formulas: usize,
    /// A tree for each thing of that name.
    pub uses: Vec<Use>,
}

/// All that has a name in a bakehouse, each by itself.
struct UsedNames<'b, 'l> {
    bakehouse: &'b Bakehouse<'l>,
    sources: &'b Sources,
    /// Formulas as they are written, without what they inherit.
    all: Vec<Declared>,
    /// By each name, the places among all of those that name it.
    users_of: FxHashMap<EcoString, Vec<usize>>,
    /// By each name, the places among all of those that bear it.
    named: FxHashMap<EcoString, Vec<usize>>,
    /// By where their names stand.
    formulas: FxHashMap<Span, &'l Formula>,
    /// What was told of a user, by its place and what is asked about.
    heads: RefCell<FxHashMap<(Span, EcoString), Use>>,
    /// The formula that was worked out last: much may be asked of it in turn.
    last: RefCell<Option<(Span, Rc<Amounts<'b>>)>>,
}

/// The most things that lead from one to another within one branch; what goes round is cut sooner.
const DEEPEST: usize = 40;

/// The things of a tree after which nothing is told a second time with all that belongs to it:
/// what leads to a thing in many ways doubles at each of them.
const MOST_TOLD: usize = 5_000;

/// A tree in the making: whatever belongs into it stands in it at least once.
#[derive(Default)]
struct Growing<'n> {
    /// How many things it has.
    told: usize,
    /// Those of which it has all that belongs to them.
    grown: FxHashSet<Span>,
    /// Those at which a branch became too deep.
    later: Vec<&'n Declared>,
}

impl<'n> Growing<'n> {
    /// Whether what belongs to a thing stands where it is named now; else it has to be told later,
    /// unless it is already.
    fn grows(&mut self, thing: &'n Declared, depth: usize) -> bool {
        self.told += 1;
        let is_known = self.grown.contains(&thing.span);
        if depth < DEEPEST && !(is_known && self.told > MOST_TOLD) {
            self.grown.insert(thing.span);
            return true;
        }
        if !is_known {
            self.later.push(thing);
        }
        false
    }

    /// The next thing that is still to be told with all that belongs to it.
    fn next(&mut self) -> Option<&'n Declared> {
        let open = self.later.iter().position(|it| !self.grown.contains(&it.span));
        let thing = open.and_then(|open| self.later.drain(..=open).next_back());
        self.grown.extend(thing.map(|it| it.span));
        thing
    }
}

/// How much a formula has of what, worked out once.
struct Amounts<'w> {
    worked: Worked<'w>,
    printed: PrintedWeights,
    /// Grams of each ingredient in all, through whatever it comes, and of those weighed as such.
    held: OnceCell<(IngredientGrams, IngredientGrams)>,
    /// Grams of each side mix.
    side_mixes: OnceCell<Vec<Exact>>,
}

/// Grams by ingredient.
type IngredientGrams = FxHashMap<IngredientId, Exact>;

impl<'b, 'l> UsedNames<'b, 'l> {
    fn of(bakehouse: &'b Bakehouse<'l>, sources: &'b Sources) -> Self {
        let trees = || bakehouse.files.iter().map(|file| &file.tree);
        let mut all: Vec<Declared> = trees().flat_map(of_tree).collect();
        all.extend(trees().flat_map(|tree| &tree.formulas).map(Declared::formula));
        all.retain(|declared| declared.kind != DeclaredKind::House);
        all.sort_by(|one, two| (one.kind, &one.key).cmp(&(two.kind, &two.key)));
        let own = bakehouse.files.iter().flat_map(|file| &file.tree.formulas);
        let mut names = Self {
            bakehouse,
            sources,
            all,
            users_of: FxHashMap::default(),
            named: FxHashMap::default(),
            formulas: own.map(|formula| (formula.name.span, formula)).collect(),
            heads: RefCell::default(),
            last: RefCell::default(),
        };
        let mut users_of: FxHashMap<EcoString, Vec<usize>> = FxHashMap::default();
        let mut named: FxHashMap<EcoString, Vec<usize>> = FxHashMap::default();
        for (at, declared) in names.all.iter().enumerate() {
            named.entry(names.canonical(&declared.key)).or_default().push(at);
            for used in &declared.facts.uses {
                let users = users_of.entry(names.canonical(used)).or_default();
                if users.last() != Some(&at) {
                    users.push(at);
                }
            }
        }
        (names.users_of, names.named) = (users_of, named);
        names
    }

    /// Those that bear a name, by the one name of what several names mean.
    fn named(&self, key: &str) -> impl Iterator<Item = &Declared> {
        let places = self.named.get(key).into_iter().flatten();
        places.filter_map(|&at| self.all.get(at))
    }

    /// Those that name something themselves, or for which a machine of that name is chosen.
    fn direct_users(&self, of: &str) -> Vec<&Declared> {
        if self.may_be_chosen(of) {
            return self.all.iter().filter(|it| it.key != of && self.uses(it, of)).collect();
        }
        let users = self.users_of.get(of).into_iter().flatten();
        users.filter_map(|&at| self.all.get(at)).filter(|it| it.key != of).collect()
    }

    fn house(&self) -> &'b House<'l> {
        &self.bakehouse.house
    }

    /// The one name of what several names mean.
    fn canonical(&self, key: &str) -> EcoString {
        let ingredient = self.house().ingredient_named(key);
        ingredient.map_or_else(|| key.into(), |it| it.name.key.clone())
    }

    fn uses(&self, declared: &Declared, wanted: &str) -> bool {
        let named = declared.facts.uses.iter().any(|used| self.canonical(used) == wanted);
        let is_chosen = || self.chosen(declared).iter().any(|machine| machine == wanted);
        named || self.may_be_chosen(wanted) && is_chosen()
    }

    /// Whether a formula only names something in a text, such as `[water of pier-loaf]`.
    fn quotes(&self, declared: &Declared, wanted: &str) -> bool {
        let quoted = || declared.facts.quoted.iter().any(|it| self.canonical(it) == wanted);
        let uses = || {
            let mut direct = declared.facts.uses.iter();
            direct.any(|it| self.canonical(it) == wanted && !declared.facts.quoted.contains(it))
        };
        let is_chosen = || self.chosen(declared).iter().any(|machine| machine == wanted);
        declared.kind == DeclaredKind::Formula
            && quoted()
            && !uses()
            && !(self.may_be_chosen(wanted) && is_chosen())
    }

    fn formula_of(&self, declared: &Declared) -> Option<&'l Formula> {
        let is_one = declared.kind == DeclaredKind::Formula;
        self.formulas.get(&declared.span).filter(|_| is_one).copied()
    }

    fn worked(&self, declared: &Declared) -> Option<Rc<Amounts<'b>>> {
        if let Some((span, known)) = &*self.last.borrow()
            && *span == declared.span
        {
            return Some(Rc::clone(known));
        }
        let amounts = Rc::new(Amounts::of(self.worked_for(declared, None)?));
        *self.last.borrow_mut() = Some((declared.span, Rc::clone(&amounts)));
        Some(amounts)
    }

    /// The same for a yield in place of what it makes.
    fn worked_for(&self, declared: &Declared, makes: Option<&Makes>) -> Option<Worked<'b>> {
        let formula = self.formula_of(declared)?;
        let of = |makes: Option<&Makes>| match makes {
            Some(makes) => work_as(self.house(), formula, makes, &mut Vec::new()),
            None => work(self.house(), formula, &mut Vec::new()),
        };
        let mut worked = of(makes);
        if makes.is_some() && !worked.sound {
            worked = of(None);
        }
        worked.readable.then_some(worked)
    }

    /// Whether a name is that of a machine which formulas take without naming it.
    fn may_be_chosen(&self, key: &str) -> bool {
        let is_oven = || self.house().oven_keys().any(|oven| oven == key);
        let is_rack = || self.house().racks().iter().any(|rack| rack.name.key == key);
        let is_board = || self.named(key).any(|it| it.kind == DeclaredKind::Board);
        is_board() || self.house().mixer_named(key).is_some() || is_oven() || is_rack()
    }

    /// The mixer that a formula's dough goes into, the oven that it is baked in, and the proofer
    /// and refrigerator that it stands in, where its method names none.
    fn chosen(&self, declared: &Declared) -> Vec<EcoString> {
        // A day's plan counts the boards of all that it bakes.
        if declared.kind == DeclaredKind::Day {
            let boards = self.all.iter().filter(|it| it.kind == DeclaredKind::Board);
            let bakes = !declared.facts.uses.is_empty();
            return boards.filter(|_| bakes).map(|it| it.key.clone()).collect();
        }
        let Some(amounts) = self.worked(declared) else { return Vec::new() };
        let worked = &amounts.worked;
        let steps = || worked.formula.method.iter().flat_map(|method| &method.steps);
        let mut mixes = steps().filter(|step| step.verb == Verb::Mix).flat_map(|it| &it.phases);
        let mixer = mixes.next().and_then(|phase| worked.mixer_of(phase));
        let ovens = self.house().ovens();
        let bakes = steps().any(|step| step.verb == Verb::Bake);
        let means = Means::new(self.house(), None);
        let racks = means.racks_of(worked).into_iter();
        let racks = racks.filter_map(|place| self.house().racks().get(place));
        let oven = bakes.then(|| means.oven_of(worked)).flatten();
        let oven = oven.and_then(|place| ovens.get(place)).map(|oven| oven.name.key.clone());
        let mixer = mixer.map(|mixer| mixer.name.key.clone());
        mixer.into_iter().chain(oven).chain(racks.map(|rack| rack.name.key.clone())).collect()
    }

    fn place(&self, span: Span) -> Option<String> {
        (span != Span::NOWHERE && !span.source.is_built_in()).then(|| self.sources.place(span))
    }

    fn leaf(&self, declared: &Declared) -> Use {
        let leaf = Use::bare(declared.kind.word(), &declared.shown);
        Use { place: self.place(declared.span), ..leaf }
    }

    /// A weight as the formula's prints show it; one that they don't, as the scale does.
    fn weight(&self, of: &Amounts, grams: &Exact) -> String {
        if let Some(printed) = of.printed.said(&of.worked, grams) {
            return printed;
        }
        let settings = &self.house().settings;
        let step = settings.scale.resolution(grams);
        let shown = to_step(grams, &step);
        written_weight(&shown, &step, settings.units.first, None).said()
    }

    /// A user with how much of what is asked about it has, worked out once: it may use that in
    /// many ways.
    fn head(&self, user: &Declared, leaf: Use, asked: &str) -> Use {
        let known = (user.span, EcoString::from(asked));
        if let Some(head) = self.heads.borrow().get(&known) {
            return head.clone();
        }
        let head = match self.worked(user) {
            Some(amounts) => self.with_amount(leaf, &amounts, asked),
            None => leaf,
        };
        self.heads.borrow_mut().insert(known, head.clone());
        head
    }

    fn with_amount(&self, leaf: Use, of: &Amounts, wanted: &str) -> Use {
        let leaf = self.having(leaf, of, wanted);
        // What has no weight is for no yield.
        let makes = leaf.amount.is_some().then(|| self.makes(&of.worked));
        Use { makes, ..leaf }
    }

    /// What a formula makes, in words.
    fn makes(&self, worked: &Worked) -> String {
        document(self.house(), worked, &Wording::plain(), false).makes.text
    }

    /// A leaf with how much of a thing a formula has, and how much of that is weighed as such.
    fn having(&self, leaf: Use, of: &Amounts, wanted: &str) -> Use {
        let grams = of.amount(wanted);
        let weighed = of.weighed(wanted).filter(|own| Some(own) != grams.as_ref());
        Use {
            amount: grams.as_ref().map(|grams| self.weight(of, grams)),
            grams: grams.as_ref().map(exact),
            weighed: weighed.as_ref().map(|grams| self.weight(of, grams)),
            weighed_grams: weighed.as_ref().map(exact),
            ..leaf
        }
    }

    /// What a day makes of a formula: all that is ordered, without what is on hand.
    fn made_on(&self, day: &Declared, formula: &Declared) -> Option<Makes> {
        let day =
            resolve(self.house(), &day.key, &day.key).filter(|_| day.kind == DeclaredKind::Day)?;
        let orders = day.orders.iter().filter(|it| it.product.key == formula.key);
        let ordered: Vec<&Ordered> =
            orders.flat_map(|it| &it.wishes).map(|wish| &wish.amount).collect();
        let Some(Ordered::Pieces(first, kind)) = ordered.first() else { return None };
        let on_hand = day.on_hand.iter().filter(|it| it.name.key == formula.key);
        let pieces = |amount: &Ordered| match amount {
            Ordered::Pieces(count, of) if of.key == kind.key => Some(count.number.clone()),
            _ => None,
        };
        let all = ordered.iter().map(|it| pieces(it)).sum::<Option<Exact>>()?;
        let there = on_hand.map(|it| pieces(&it.amount)).sum::<Option<Exact>>()?;
        let number = all - there;
        let count = Quantity { number, unit: Unit::Count, ..first.clone() };
        let is_some = count.number > Exact::ZERO;
        is_some.then(|| Makes::of_pieces(count, kind.clone(), formula.span))
    }

    /// All that use what bears a name, as a tree: each of them with those that use it in turn.
    fn users_tree(&self, of: &str) -> Vec<Use> {
        let mut growing = Growing::default();
        let mut users = self.users(of, of, &mut Vec::new(), &mut growing);
        while let Some(user) = growing.next() {
            let mut leaf = self.head(user, self.leaf(user), of);
            leaf.continued = Some(FROM_ELSEWHERE.to_owned());
            leaf.parts = self.users(&user.key, of, &mut vec![of.into()], &mut growing);
            users.push(leaf);
        }
        users
    }

    /// Those that use what bears a name, and theirs in turn.
    fn users<'n>(
        &'n self,
        of: &str,
        asked: &str,
        trail: &mut Vec<EcoString>,
        growing: &mut Growing<'n>,
    ) -> Vec<Use> {
        trail.push(of.into());
        let users = self.direct_users(of).into_iter();
        // What a text names is in no bread: only what is asked about may be named by one.
        let users = users.filter(|user| trail.len() == 1 || !self.quotes(user, of));
        let users: Vec<&Declared> = users.collect();
        let users = users.into_iter().map(|user| {
            let mut leaf = self.leaf(user);
            if self.quotes(user, of) {
                leaf.quoted = true;
                return leaf;
            }
            leaf = self.head(user, leaf, asked);
            // What goes round ends here.
            if trail.contains(&user.key) {
                return leaf;
            }
            if growing.grows(user, trail.len()) {
                leaf.parts = self.users(&user.key, asked, trail, growing);
            } else if !self.direct_users(&user.key).is_empty() {
                leaf.continued = Some(ELSEWHERE.to_owned());
            }
            leaf
        });
        let users = users.collect();
        trail.pop();
        users
    }

    /// What a booklet or a day rests on; of a day also what the day that it begins with bakes, but
    /// for what is taken out of it.
    fn in_handout<'n>(
        &'n self,
        of: &Declared,
        (trail, without): (&mut Vec<EcoString>, &mut Vec<String>),
        growing: &mut Growing<'n>,
    ) -> Vec<Use> {
        trail.push(of.key.clone());
        let left_out = of.facts.all.iter().filter(|fact| fact.name == "without");
        without.extend(left_out.map(|fact| fact.value.canon.clone()));
        let mut parts = Vec::new();
        let mut seen: Vec<&EcoString> = Vec::new();
        for used in &of.facts.uses {
            let is_out = trail.len() > 1 && without.iter().any(|it| *it == **used);
            if seen.contains(&used) || trail.contains(used) || is_out {
                continue;
            }
            seen.push(used);
            for part in self.named(&self.canonical(used)).filter(|it| it.key == *used) {
                let mut leaf = self.leaf(part);
                let made = self.made_on(of, part);
                if let Some(worked) = self.worked_for(part, made.as_ref()) {
                    leaf.makes = Some(self.makes(&worked));
                    growing.grown.insert(part.span);
                    let amounts = Amounts::of(worked);
                    leaf.parts = self.used_by(part, Some(&amounts), &mut Vec::new(), growing);
                } else if part.kind.is_handout() && trail.len() < DEEPEST {
                    leaf.parts = self.in_handout(part, (trail, without), growing);
                } else if part.kind.is_handout() {
                    leaf.continued = Some(NOT_HERE.to_owned());
                }
                parts.push(leaf);
            }
        }
        trail.pop();
        parts
    }

    /// What is still to be told of a tree, each thing with all that it uses.
    fn continued<'n>(&'n self, mut growing: Growing<'n>) -> Vec<Use> {
        let mut parts = Vec::new();
        while let Some(thing) = growing.next() {
            let mut leaf = self.leaf(thing);
            leaf.continued = Some(FROM_ELSEWHERE.to_owned());
            leaf.parts = self.used_by(thing, None, &mut Vec::new(), &mut growing);
            parts.push(leaf);
        }
        parts
    }

    /// What something uses, and that in turn; with how much of it a formula has.
    fn used_by<'n>(
        &'n self,
        by: &Declared,
        amounts: Option<&Amounts>,
        trail: &mut Vec<EcoString>,
        growing: &mut Growing<'n>,
    ) -> Vec<Use> {
        trail.push(by.key.clone());
        // Further in, what a part holds is not what the whole formula has.
        let having = |leaf: Use, key: &str| match amounts {
            Some(amounts) => self.having(leaf, amounts, key),
            None => leaf,
        };
        let mut parts: Vec<Use> = Vec::new();
        let mut seen: FxHashSet<EcoString> = FxHashSet::default();
        for used in self.all_used(by).iter().chain(&self.chosen(by)) {
            let key = self.canonical(used);
            if key == by.key || !seen.insert(key.clone()) {
                continue;
            }
            let mut is_known = false;
            for declared in self.named(&key) {
                is_known = true;
                let mut leaf = self.leaf(declared);
                if self.quotes(by, &key) {
                    leaf.quoted = true;
                    parts.push(leaf);
                    continue;
                }
                leaf = having(leaf, &key);
                if trail.contains(&declared.key) {
                    // What goes round ends here.
                } else if growing.grows(declared, trail.len()) {
                    leaf.parts = self.used_by(declared, None, trail, growing);
                } else if !declared.facts.uses.is_empty() {
                    leaf.continued = Some(ELSEWHERE.to_owned());
                }
                parts.push(leaf);
            }
            if !is_known {
                growing.told += 1;
                parts.extend(self.of_stores(&key).map(|leaf| having(leaf, &key)));
            }
        }
        trail.pop();
        parts.sort_by(|one, two| (&one.kind, &one.name).cmp(&(&two.kind, &two.name)));
        parts
    }

    /// The names that something uses; a formula also those of the formula that it is based on,
    /// but for what it leaves out.
    fn all_used(&self, by: &Declared) -> Vec<EcoString> {
        let mut used = by.facts.uses.clone();
        let mut formula = self.formula_of(by);
        let mut trail: FxHashSet<EcoString> = FxHashSet::default();
        let mut without: FxHashSet<EcoString> = FxHashSet::default();
        while let Some(from) = formula.and_then(|at| at.from.as_ref()) {
            let Some(at) = formula.filter(|_| trail.insert(from.key.clone())) else { break };
            let mixes = at.total.iter().chain(&at.dough).flat_map(|mix| &mix.without);
            without.extend(at.without.iter().chain(mixes).map(|it| it.name.key.clone()));
            let mut base = self.named(&from.key).filter(|it| it.kind == DeclaredKind::Formula);
            let base = base.find(|it| it.key == from.key);
            let next = base.and_then(|it| self.formula_of(it));
            let inherited = base.into_iter().flat_map(|it| &it.facts.uses);
            // What a base is based on belongs to it.
            let its_own = next.and_then(|it| it.from.as_ref()).map(|it| &it.key);
            let inherited = inherited.filter(|it| Some(*it) != its_own && !without.contains(*it));
            used.extend(inherited.cloned());
            formula = next;
        }
        used.retain(|it| *it == by.key || !without.contains(it) || trail.contains(it));
        used
    }

    /// What the stores know of a name.
    fn of_stores(&self, key: &str) -> Option<Use> {
        let house = self.house();
        let ingredient = house.ingredient_named(key).map(|it| ("ingredient", &it.name.shown));
        let culture = || house.culture_named(key).map(|(_, it)| ("culture", &it.name.shown));
        let style = || house.style(key).map(|it| ("style", &it.name.shown));
        let known = ingredient.or_else(culture).or_else(style);
        let known = known.map(|(kind, name)| Use::bare(kind, name));
        known.or_else(|| (key == OLD_DOUGH).then(|| Use::bare(OLD_DOUGH, OLD_DOUGH)))
    }

    /// What a name means here: what the house declares of that name, else what stores know.
    fn meant(&self, name: &str) -> Vec<Use> {
        let wanted = self.canonical(&key(name));
        let own: Vec<Use> = (self.named(&wanted))
            .filter(|declared| declared.key == wanted)
            .map(|declared| self.leaf(declared))
            .collect();
        if !own.is_empty() {
            return own;
        }
        let inside = || self.inside(&wanted).map(|(kind, name)| Use::bare(kind, name));
        self.of_stores(&wanted).or_else(inside).into_iter().collect()
    }

    /// An allergen with every ingredient in use that contains it, may contain it, or of which
    /// that is not known, and the formulas that have those. A formula is never left out.
    fn with_allergen(&self, allergen: Allergen) -> Use {
        let mut formulas: Vec<(&Declared, bool)> = Vec::new();
        let mut held: BTreeMap<EcoString, (EcoString, &'static str)> = BTreeMap::new();
        let own = self.all.iter().filter(|it| it.kind == DeclaredKind::Formula);
        for (declared, worked) in own.filter_map(|it| Some((it, self.worked(it)?))) {
            // As `free from` judges it, so that fat or grease that nobody names counts.
            let worked = &worked.worked;
            let proof = absence(worked, Absence::Allergen(allergen));
            if proof == Proof::Proved {
                continue;
            }
            let mut is_of_ingredients = false;
            for ingredient in worked.ingredients() {
                let Some(holds) = holding(&ingredient.declared, allergen) else { continue };
                is_of_ingredients = true;
                let name = &ingredient.name;
                held.insert(name.key.clone(), (name.shown.clone(), holds));
            }
            formulas.push((declared, !is_of_ingredients));
        }
        let mut root = Use::bare(ALLERGEN, allergen.key());
        for (key, (shown, holds)) in held {
            let own =
                self.named(&key).find(|it| it.kind == DeclaredKind::Ingredient && it.key == key);
            let leaf = own.map_or_else(|| Use::bare("ingredient", &shown), |it| self.leaf(it));
            let parts = self.users_tree(&key);
            root.parts.push(Use { holds: Some(holds.to_owned()), parts, ..leaf });
        }
        let mut found = FxHashSet::default();
        formulas_in(&root.parts, &mut found);
        // What has it by no name that leads here, such as the fat that nobody names.
        let missed = formulas
            .iter()
            .filter(|(it, nameless)| *nameless || !found.contains(it.shown.as_str()));
        let missed = missed.map(|(it, nameless)| {
            let holds = if *nameless { NOT_KNOWN } else { CONTAINS };
            Use { holds: Some(holds.to_owned()), ..self.leaf(it) }
        });
        let missed: Vec<Use> = missed.collect();
        root.parts.extend(missed);
        root
    }

    /// A stage or mixture of that name inside some formula.
    fn inside(&self, wanted: &str) -> Option<(&'static str, &'l EcoString)> {
        let formulas = || self.bakehouse.files.iter().flat_map(|file| &file.tree.formulas);
        let stage = formulas().flat_map(|it| &it.stages).find(|it| it.name.key == wanted);
        let mixture = || formulas().flat_map(|it| &it.mixtures).find(|it| it.name.key == wanted);
        stage
            .map(|stage| ("stage", &stage.name.shown))
            .or_else(|| mixture().map(|mixture| ("mixture", &mixture.name.shown)))
    }
}

/// The kind of an allergen that is asked about.
const ALLERGEN: &str = "allergen";

/// What is known of an ingredient and an allergen.
const CONTAINS: &str = "contains";
const MAY_CONTAIN: &str = "may contain";
const NOT_KNOWN: &str = "not known";

/// What is known of an ingredient and an allergen; none where it is free from it.
fn holding(declared: &DeclaredAllergens, allergen: Allergen) -> Option<&'static str> {
    let absence = Absence::Allergen(allergen);
    match declared.judge(absence) {
        Judged::Without => None,
        Judged::Holds(_) => Some(CONTAINS),
        Judged::NotKnown => Some(match declared.doubt(absence) {
            Doubt::Silent | Doubt::Group(_) => NOT_KNOWN,
            Doubt::Usual | Doubt::Warned => MAY_CONTAIN,
        }),
    }
}

/// Dough of the batch before, which nobody declares.
const OLD_DOUGH: &str = "old dough";

impl<'w> Amounts<'w> {
    fn of(worked: Worked<'w>) -> Self {
        let printed = PrintedWeights::default();
        Self { worked, printed, held: OnceCell::new(), side_mixes: OnceCell::new() }
    }

    /// Grams of each ingredient in all, and weighed as such: in lines and on pieces.
    fn held(&self) -> &(IngredientGrams, IngredientGrams) {
        self.held.get_or_init(|| {
            let (worked, numbers) = (&self.worked, self.worked.first());
            let whole = worked.wholly_split(&numbers.whole);
            let beside = worked.content(numbers, Within::Pieces);
            let mut all = IngredientGrams::default();
            let mut own = IngredientGrams::default();
            let add = |into: &mut IngredientGrams, id: IngredientId, mass: &Exact| {
                let sum = into.entry(id).or_default();
                *sum = &*sum + mass;
            };
            for (substance, mass) in whole.iter().chain(beside.iter()) {
                if let Substance::Ingredient(id) = substance {
                    add(&mut all, id, mass);
                }
            }
            for line in self.lines() {
                if let LineRef::Ingredient(id) = line.goes {
                    add(&mut own, id, &line.mass);
                }
            }
            for (substance, mass) in beside.iter() {
                if let Substance::Ingredient(id) = substance {
                    add(&mut own, id, mass);
                }
            }
            (all, own)
        })
    }

    /// The lines of all stages and of the dough.
    fn lines(&self) -> impl Iterator<Item = &WorkedLine> {
        let numbers = self.worked.first();
        numbers.stages.iter().flat_map(|stage| &stage.lines).chain(&numbers.dough_lines)
    }

    /// Grams of an ingredient that the formula has by that name in its lines and on its pieces;
    /// none of anything else, and where none is weighed as such.
    fn weighed(&self, wanted: &str) -> Option<Exact> {
        let id = self.worked.house.ingredient_id(wanted)?;
        let (_, own) = self.held();
        own.get(&id).filter(|sum| !sum.is_zero()).cloned()
    }

    /// Grams of what bears a name in the formula, for what it makes; none where it has none, or
    /// nothing that weighs.
    fn amount(&self, wanted: &str) -> Option<Exact> {
        let (worked, numbers) = (&self.worked, self.worked.first());
        let some = |mass: &Exact| (!mass.is_zero()).then(|| mass.clone());
        let sum = |goes: &dyn Fn(&LineRef) -> bool| {
            let own = self.lines().filter(|line| goes(&line.goes));
            some(&own.fold(Exact::ZERO, |sum, line| sum + &line.mass))
        };
        if let Some(at) = worked.formula.stages.iter().position(|it| it.name.key == wanted) {
            return some(&numbers.stages.get(at)?.made);
        }
        if let Some(at) = worked.side_mixes.iter().position(|it| it.key == wanted) {
            let needed = self.side_mixes.get_or_init(|| worked.side_mixes_needed(numbers));
            return some(needed.get(at)?);
        }
        if wanted == OLD_DOUGH {
            return sum(&|goes| *goes == LineRef::OldDough);
        }
        if let Some((id, _)) = worked.house.culture_named(wanted) {
            return sum(&|goes| *goes == LineRef::Culture(id));
        }
        let (all, _) = self.held();
        some(all.get(&worked.house.ingredient_id(wanted)?)?)
    }
}

/// The formulas of a tree, each once.
fn formulas_in<'u>(uses: &'u [Use], found: &mut FxHashSet<&'u str>) {
    for part in uses {
        if part.kind == "formula" && !part.quoted {
            found.insert(&part.name);
        }
        formulas_in(&part.parts, found);
    }
}

/// Every formula that has what bears a name, directly or through something else; none where
/// nothing here bears it.
pub fn users_of(bakehouses: &[Bakehouse], sources: &Sources, name: &str) -> Option<Uses> {
    let mut uses = Vec::new();
    let mut is_known = false;
    for bakehouse in bakehouses {
        let names = UsedNames::of(bakehouse, sources);
        for mut root in names.meant(name) {
            is_known = true;
            let wanted = names.canonical(&key(name));
            root.parts = names.users_tree(&wanted);
            uses.push(root);
        }
        // What is called like an allergen, such as milk, is not all that contains it.
        if let Some(allergen) = Allergen::claimed(name) {
            is_known = true;
            uses.push(names.with_allergen(allergen));
        }
    }
    // What only the stores know is one thing in every bakehouse.
    if uses.iter().any(|it| !it.parts.is_empty()) {
        uses.retain(|it| it.place.is_some() || !it.parts.is_empty());
    } else {
        uses.truncate(1);
    }
    let mut formulas = FxHashSet::default();
    uses.iter().for_each(|root| formulas_in(&root.parts, &mut formulas));
    let formulas = formulas.len();
    is_known.then_some(Uses { version: VERSION, formulas, uses })
}

/// Everything that a booklet or a day rests on; none where nothing here bears its name.
pub fn handout_rests_on(bakehouses: &[Bakehouse], sources: &Sources, name: &str) -> Option<Uses> {
    bakehouses.iter().find_map(|bakehouse| {
        let names = UsedNames::of(bakehouse, sources);
        let wanted = key(name);
        let own = names.all.iter().find(|it| it.kind.is_handout() && it.key == wanted)?;
        let mut root = names.leaf(own);
        let mut growing = Growing::default();
        let (mut trail, mut without) = (Vec::new(), Vec::new());
        root.parts = names.in_handout(own, (&mut trail, &mut without), &mut growing);
        root.parts.extend(names.continued(growing));
        let mut formulas = FxHashSet::default();
        formulas_in(&root.parts, &mut formulas);
        let formulas = formulas.len();
        Some(Uses { version: VERSION, formulas, uses: vec![root] })
    })
}

/// Everything that a formula rests on.
pub fn rests_on(bakehouse: &Bakehouse, sources: &Sources, formula: Span) -> Option<Uses> {
    let names = UsedNames::of(bakehouse, sources);
    let declared =
        names.all.iter().find(|it| it.kind == DeclaredKind::Formula && it.span == formula)?;
    let mut root = names.leaf(declared);
    if let Some(amounts) = names.worked(declared) {
        root.makes = Some(names.makes(&amounts.worked));
        let mut growing = Growing::default();
        growing.grown.insert(declared.span);
        root.parts = names.used_by(declared, Some(&amounts), &mut Vec::new(), &mut growing);
        root.parts.extend(names.continued(growing));
    }
    Some(Uses { version: VERSION, formulas: 1, uses: vec![root] })
}

/// Names that somebody may have meant.
pub fn names_of<'b>(bakehouses: &'b [Bakehouse]) -> Vec<&'b str> {
    let mut names: Vec<&str> = Vec::new();
    for bakehouse in bakehouses {
        for tree in bakehouse.files.iter().map(|file| &file.tree) {
            names.extend(tree.formulas.iter().map(|it| it.name.key.as_str()));
            names.extend(tree.stages.iter().map(|it| it.name.key.as_str()));
            names.extend(tree.mixtures.iter().map(|it| it.name.key.as_str()));
            names.extend(tree.cultures.iter().map(|it| it.name.key.as_str()));
            names.extend(tree.styles.iter().map(|it| it.name.key.as_str()));
            names.extend(tree.ingredients.iter().map(|it| it.name.key.as_str()));
        }
        names.extend(bakehouse.house.machine_names());
        names.extend(bakehouse.house.names_in_stores().map(EcoString::as_str));
    }
    names
}

/// The trees, a line for each thing.
pub fn text(uses: &Uses, asks_for_users: bool) -> String {
    let mut written = String::new();
    for root in &uses.uses {
        let mut counts = BTreeMap::new();
        if asks_for_users {
            count(&root.parts, &mut counts);
        }
        written.push_str(&line(root, false));
        if root.kind == ALLERGEN {
            by_ingredient(&root.parts, &mut written);
            if root.parts.is_empty() {
                written.push_str("no formula has it\n");
            }
            continue;
        }
        branches(&root.parts, "", &counts, &mut written);
        if asks_for_users && root.parts.is_empty() {
            written.push_str("nothing uses it\n");
        }
    }
    if asks_for_users && uses.formulas > 0 {
        let plural = if uses.formulas == 1 { "formula" } else { "formulas" };
        written.push_str(&format!("{} {plural}\n", uses.formulas));
    }
    visible(&written).into_owned()
}

/// How often each formula stands in a tree.
fn count<'u>(parts: &'u [Use], counts: &mut BTreeMap<&'u str, usize>) {
    for part in parts {
        if part.kind == "formula" && !part.quoted {
            *counts.entry(&part.name).or_default() += 1;
        }
        count(&part.parts, counts);
    }
}

/// The ingredients that have an allergen: amounts are those of each.
fn by_ingredient(parts: &[Use], written: &mut String) {
    for (index, part) in parts.iter().enumerate() {
        let mut counts = BTreeMap::new();
        count(&part.parts, &mut counts);
        let last = index + 1 == parts.len();
        let (joint, below) = if last { ("└─ ", "   ") } else { ("├─ ", "│  ") };
        written.push_str(&format!("{joint}{}", line(part, false)));
        branches(&part.parts, below, &counts, written);
    }
}

fn branches(parts: &[Use], indent: &str, counts: &BTreeMap<&str, usize>, written: &mut String) {
    for (index, part) in parts.iter().enumerate() {
        let last = index + 1 == parts.len();
        let (joint, below) = if last { ("└─ ", "   ") } else { ("├─ ", "│  ") };
        // Where it comes in more than one way, the amount is that of all of them.
        let in_all = counts.get(part.name.as_str()).is_some_and(|count| *count > 1);
        written.push_str(&format!("{indent}{joint}{}", line(part, in_all)));
        branches(&part.parts, &format!("{indent}{below}"), counts, written);
    }
}

fn line(part: &Use, in_all: bool) -> String {
    let kind = match part.kind.as_str() {
        "formula" | OLD_DOUGH => String::new(),
        kind => format!("{kind} "),
    };
    let makes = part.makes.as_ref().map(|makes| format!(" for {makes}"));
    let amount = match (&part.amount, makes) {
        (Some(amount), makes) => {
            let in_all = if in_all { " in all" } else { "" };
            let weighed = part.weighed.as_ref();
            let weighed =
                weighed.map(|own| format!(", {own} of it weighed as such")).unwrap_or_default();
            format!(": {amount}{in_all}{}{weighed}", makes.unwrap_or_default())
        }
        // Its parts are told for what it makes.
        (None, Some(makes)) if !part.parts.is_empty() => makes,
        (None, _) => String::new(),
    };
    let place = part.place.as_ref().map(|place| format!("  [{place}]")).unwrap_or_default();
    let quoted = if part.quoted { ", named in a text" } else { "" };
    let holds = match part.holds.as_deref() {
        None => "",
        Some(CONTAINS) => ", contains it",
        Some(MAY_CONTAIN) => ", may contain it",
        Some(_) => ", not known whether it contains it",
    };
    let continued = match part.continued.as_deref() {
        None => "",
        Some(ELSEWHERE) => ", continued elsewhere in this tree",
        Some(FROM_ELSEWHERE) => ", continued from above",
        Some(_) => ", not continued here",
    };
    format!("{kind}{}{amount}{quoted}{holds}{continued}{place}\n", part.name)
}

/// The same for programs.
pub fn json(uses: &Uses) -> String {
    pretty(uses)
}

/// The published JSON Schema of [`Uses`].
#[cfg_attr(closed, allow(dead_code, reason = "a test holds the published file to it"))]
pub fn schema() -> String {
    pretty(&schemars::schema_for!(Uses))
}
