//! What declarations say, as plain data: the form in which two of them are compared and from
//! which a code is made.
//!
//! Every part of the tree is taken apart by name and without `..`, so that a new part can't
//! be forgotten: the compiler asks what it means.

use super::said::Said;
use crate::syntax::tree::{
    Allow, Amount, Base, Bound, Claim, ClaimValue, Counting, Culture, Elsewhere, Extent, FigureAsk,
    Flag, Fold, FoldStyle, Formula, FreeFrom, Ingredient, IngredientKind, Least, Line, MadePiece,
    Makes, Method, Mix, Mixture, Name, NotedText, Per, Phase, Piece, Price, Property, Quantity,
    Question, Save, Size, Stage, StageSize, Step, Style, Target, Text, TextPart, Until, Wait, With,
};
use ecow::EcoString;

/// The part of a bakehouse's facts that changes how prints look and nothing that is baked.
pub const LOOK: &str = "look";

/// The part that changes what no print of a formula shows: what things cost.
pub const BESIDE: &str = "beside";

/// The part of a formula's facts that is held to its numbers and shown on no print.
pub const CLAIMS: &str = "claims";

/// The fact of the order in which steps or parts stand.
pub const ORDER: &str = "order";

/// Of a formula that can be read in part.
pub const UNREADABLE: &str = "unreadable";
/// How that begins where it is of the formula that another one is based on.
pub const OF_BASE: &str = "in its base ";

/// Whether days rest on a fact: when and how there is work is no matter of how they look.
pub fn is_of_days(fact: &Fact) -> bool {
    matches!(fact.name.as_str(), "hours" | "aim" | "zone")
}

/// A part of a declaration.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Block {
    /// `total`, `stage`, `method`; empty for what the declaration says of itself.
    pub kind: &'static str,
    /// Of a stage, a mixture, a kind of piece.
    pub name: EcoString,
}

/// One thing that a declaration says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fact {
    /// Where it says it.
    pub block: Block,
    /// What of: a line's name, a clause, a step.
    pub name: EcoString,
    /// What it says.
    pub value: Said,
}

impl Fact {
    /// What of it a fingerprint takes, in this order.
    pub fn parts(&self) -> [&str; 4] {
        let Self { block, name, value } = self;
        [block.kind, &block.name, name, &value.canon]
    }

    /// Whether prints show it, or rest on it.
    pub fn is_printed(&self) -> bool {
        !matches!(self.block.kind, LOOK | BESIDE)
    }

    /// Writes what of it a fingerprint takes.
    pub fn write_to(&self, all: &mut Vec<u8>) {
        self.parts().into_iter().for_each(|part| put_part(part, all));
    }
}

/// Writes a text with its length before it, so that no text can run into the next one.
pub fn put_part(text: &str, all: &mut Vec<u8>) {
    all.extend_from_slice(&(text.len() as u64).to_le_bytes());
    all.extend_from_slice(text.as_bytes());
}

/// All that a declaration says, and the names that it takes from elsewhere.
#[derive(Clone, Debug, Default)]
pub struct Facts {
    /// In the order in which they were written.
    pub all: Vec<Fact>,
    /// Keys of what it uses.
    pub uses: Vec<EcoString>,
    /// Of these, the keys that only its texts name.
    pub quoted: Vec<EcoString>,
}

/// Facts while they are gathered.
#[derive(Default)]
pub(super) struct FactWriter {
    facts: Facts,
    block: Block,
}

impl FactWriter {
    /// All that was written.
    pub(super) fn done(mut self) -> Facts {
        let Facts { uses, quoted, .. } = &mut self.facts;
        quoted.retain(|key| !uses.contains(key));
        uses.extend(quoted.iter().cloned());
        for keys in [uses, quoted] {
            keys.sort_unstable();
            keys.dedup();
        }
        self.facts
    }

    /// One fact, into the part at hand.
    pub(super) fn put(&mut self, name: impl Into<EcoString>, value: Said) {
        let fact = Fact { block: self.block.clone(), name: name.into(), value };
        self.facts.all.push(fact);
    }

    fn put_some(&mut self, name: &str, value: Option<Said>) {
        if let Some(value) = value {
            self.put(name, value);
        }
    }

    /// Writes into a part of the declaration.
    fn within(&mut self, kind: &'static str, name: EcoString, write: impl FnOnce(&mut Self)) {
        let outer = std::mem::replace(&mut self.block, Block { kind, name });
        write(self);
        self.block = outer;
    }

    /// Writes what changes how prints look and nothing that is baked.
    pub(super) fn look(&mut self, write: impl FnOnce(&mut Self)) {
        self.within(LOOK, EcoString::new(), write);
    }

    /// Writes what no print of a formula shows.
    pub(super) fn beside(&mut self, write: impl FnOnce(&mut Self)) {
        self.within(BESIDE, EcoString::new(), write);
    }

    /// A name that something else may declare.
    pub(super) fn name(&mut self, name: &Name) -> Said {
        let Name { key, shown, span: _ } = name;
        self.facts.uses.push(key.clone());
        Said { canon: key.to_string(), shown: shown.to_string() }
    }

    /// Names whose order means nothing.
    pub(super) fn names(&mut self, names: &[Name]) -> Said {
        let names: Vec<Said> = names.iter().map(|name| self.name(name)).collect();
        match names.is_empty() {
            true => Said::of("nothing"),
            false => Said::set(names),
        }
    }

    fn target(&mut self, target: &Target) -> Said {
        let Target { name, role } = target;
        let mut said = self.name(name);
        if let Some(role) = role {
            said.canon = format!("{} ({})", said.canon, role.key);
            said.shown = format!("{} ({})", said.shown, role.shown);
        }
        said
    }

    fn text(&mut self, text: &Text) -> Said {
        let direct = self.facts.uses.len();
        let said = self.words_of(text);
        let quoted = self.facts.uses.split_off(direct);
        self.facts.quoted.extend(quoted);
        said
    }

    fn words_of(&mut self, text: &Text) -> Said {
        let Text { parts, span: _ } = text;
        for part in parts {
            let TextPart::Figure { ask: Some(ask), .. } = part else { continue };
            match &**ask {
                FigureAsk::Figure { asked, elsewhere } => {
                    self.question(asked);
                    elsewhere.iter().for_each(|elsewhere| self.elsewhere(elsewhere));
                }
                FigureAsk::Scaled { amount: _, what, elsewhere } => {
                    what.iter().for_each(|what| drop(self.target(what)));
                    elsewhere.iter().for_each(|elsewhere| self.elsewhere(elsewhere));
                }
                FigureAsk::Date(_) | FigureAsk::Weekday { day: _, minutes: _ } => {}
            }
        }
        Said::text(text)
    }

    /// The names in a question; how it is to be told stands in the text.
    fn question(&mut self, question: &Question) {
        let Question { what, place, measure: _ } = question;
        self.target(what);
        place.iter().for_each(|place| drop(self.name(place)));
    }

    /// The names in a question about another formula; its yield stands in the text.
    fn elsewhere(&mut self, elsewhere: &Elsewhere) {
        let Elsewhere { formula, asked, makes: _, everyone: _ } = elsewhere;
        self.name(formula);
        self.question(asked);
    }

    /// Notes, cautions and the like.
    pub(super) fn words(&mut self, words: &[NotedText]) {
        for NotedText { kind, text, allow } in words {
            let text = self.text(text);
            self.put(kind.word(), text);
            self.allow(allow);
        }
    }

    fn allow(&mut self, allow: &[Allow]) {
        for Allow { finding, reason, span: _ } in allow {
            let reason = reason.as_ref().map(Said::text).unwrap_or_default();
            self.put(format!("allow {}", finding.key), reason);
        }
    }

    fn base(&mut self, base: &Base) -> Said {
        match base {
            Base::Flour => Said::of("of flour"),
            Base::AddedFlour => Said::of("of added flour"),
            Base::Dough => Said::of("of dough"),
            Base::BaseDough => Said::of("of base dough"),
            Base::Of(target) => Said::with("of", &self.target(target)),
        }
    }

    fn amount(&mut self, amount: &Amount) -> Said {
        match amount {
            Amount::Measured { range, base } => {
                let mut said = Said::extent(range);
                if let Some(base) = base {
                    said.and(&self.base(base));
                }
                said
            }
            Amount::ToTaste => Said::of("to taste"),
            Amount::AsNeeded => Said::of("as needed"),
            Amount::Pinch => Said::of("a pinch"),
            Amount::Rest => Said::of("the rest"),
            Amount::All => Said::of("all"),
        }
    }

    fn line(&mut self, line: &Line) {
        let Line { target, amount, amount_span: _, beside, counting, note, span: _ } = line;
        let name = self.target(target);
        let mut said = self.amount(amount);
        match counting {
            Counting::Counted => {}
            Counting::NotSplit => said.and(&Said::of("not split")),
            Counting::KeptBack { from } => {
                said.and(&Said::of("kept back"));
                if let Some(from) = from {
                    said.and(&Said::with("from", &self.name(from)));
                }
            }
        }
        if let Some(beside) = beside {
            said.and(&Said::with("beside", &Said::extent(beside)));
        }
        let note = note.as_ref().map(|note| self.text(note));
        self.put(name.canon.clone(), said);
        if let Some(note) = note {
            self.put(format!("note to {}", name.canon), note);
        }
    }

    /// The lines of a mix.
    pub(super) fn mix(&mut self, mix: &Mix) {
        let Mix { lines, without, counts_as_flour, save, broken: _, span: _ } = mix;
        lines.iter().for_each(|line| self.line(line));
        for target in without {
            let name = self.target(target);
            self.put("without", name);
        }
        if !counts_as_flour.is_empty() {
            let names = self.names(counts_as_flour);
            self.put("counts as flour", names);
        }
        self.save(save);
    }

    fn save(&mut self, save: &[Save]) {
        for Save { amount, at, span: _ } in save {
            let mut said = Said::quantity(amount);
            if let Some(at) = at {
                said.and(&Said::with("at", &Said::extent(at)));
            }
            self.put("save", said);
        }
    }

    fn waits(&mut self, word: &str, waits: &[Wait]) {
        let legs = waits.iter().map(|Wait { time, at, in_room, span: _ }| {
            let mut said = time.as_ref().map(Said::extent).unwrap_or_default();
            if let Some(at) = at {
                said.and(&Said::with("at", &Said::extent(at)));
            }
            if *in_room {
                said.and(&Said::of("at room"));
            }
            said
        });
        let legs: Vec<Said> = legs.collect();
        if !legs.is_empty() {
            self.put(word, then(&legs));
        }
    }

    /// All that a stage says.
    pub(super) fn stage(&mut self, stage: &Stage) {
        let Stage {
            kind,
            name: _,
            sizes,
            mix,
            ripens,
            keeps,
            stands,
            feeds,
            at_least,
            save,
            loses,
            method,
            texts,
            allow,
            span: _,
        } = stage;
        self.put("kind", Said::of(kind.word()));
        for StageSize { size, span: _ } in sizes {
            let said = match size {
                Size::OfFlour(share) => Said::with("of flour", &Said::extent(share)),
                Size::Weighs(weight) => Said::with("weighs", &Said::extent(weight)),
                Size::OfTotal => Said::of("percentages of total"),
            };
            self.put("size", said);
        }
        self.mix(mix);
        self.waits("ripens", ripens);
        self.waits("keeps", keeps);
        self.waits("stands", stands);
        self.put_some("feeds", feeds.map(|(times, _)| Said::of(&format!("{times} times"))));
        for Least { amount, name, span: _ } in at_least {
            let mut said = Said::quantity(amount);
            said.and(&self.name(name));
            self.put("at least", said);
        }
        self.save(save);
        self.put_some("loses", loses.as_ref().map(Said::quantity));
        if let Some(method) = method {
            let name = self.block.name.clone();
            self.within("method", name, |it| it.method(method));
        }
        self.words(texts);
        self.allow(allow);
    }

    /// All that a mixture says.
    pub(super) fn mixture(&mut self, mixture: &Mixture) {
        let Mixture { name: _, mix, texts } = mixture;
        self.mix(mix);
        self.words(texts);
    }

    fn piece(&mut self, piece: &Piece) {
        let Piece { kind: _, mix, bake_loss, make_up_loss, span: _ } = piece;
        self.mix(mix);
        self.put_some("bake loss", bake_loss.as_ref().map(Said::quantity));
        self.put_some("make-up loss", make_up_loss.as_ref().map(Said::quantity));
    }

    fn makes(&mut self, makes: &Makes) -> Said {
        // What the command line asks for is no part of a formula.
        let Makes { pieces, dough, from, factor: _, span: _ } = makes;
        let pieces: Vec<Said> = pieces.iter().map(|piece| self.made(piece)).collect();
        let mut said = Said::set(pieces);
        if let Some(dough) = dough {
            said.and(&Said::quantity(dough));
            said.and(&Said::of("dough"));
        }
        if let Some((amount, target)) = from {
            let mut from = Said::with("from", &Said::quantity(amount));
            from.and(&self.target(target));
            said.and(&from);
        }
        said
    }

    fn made(&mut self, piece: &MadePiece) -> Said {
        let MadePiece { count, counted, kind, weight, baked, tin, span: _ } = piece;
        let mut said = if *counted { Said::quantity(count) } else { Said::default() };
        said.and(&Said { canon: kind.key.to_string(), shown: kind.shown.to_string() });
        if let Some(weight) = weight {
            said.and(&Said::with("at", &Said::quantity(weight)));
        }
        if *baked {
            said.and(&Said::of("baked"));
        }
        if let Some(tin) = tin {
            said.and(&Said::with("in", &self.name(tin)));
        }
        said
    }

    fn claim(&mut self, claim: &Claim) {
        let Claim { what, place, value, span: _ } = claim;
        let name = asked(what, place.as_ref());
        match value {
            ClaimValue::Amount { range, base, tolerance } => {
                let mut said = Said::extent(range);
                if let Some(base) = base {
                    said.and(&self.base(base));
                }
                if let Some(tolerance) = tolerance {
                    said.and(&Said::with("±", &Said::quantity(tolerance)));
                }
                self.put(name, said);
            }
            ClaimValue::FreeFrom(from) => {
                let from = Said { canon: from.key.to_string(), shown: from.shown.to_string() };
                self.put(name, from);
            }
        }
    }

    /// A claim of absence or an amount, an order of steps: each clause of a step is a fact,
    /// and so is the order they all stand in.
    fn method(&mut self, method: &Method) {
        let Method { steps, broken: _, span: _ } = method;
        let mut seen: Vec<&str> = Vec::new();
        let mut order = Vec::new();
        for step in steps {
            let first = self.facts.all.len();
            let verb = step.said.unwrap_or(step.verb.word());
            let before = seen.iter().filter(|known| **known == verb).count();
            seen.push(verb);
            let name = match before {
                0 => verb.to_owned(),
                before => format!("{verb} {}", before + 1),
            };
            self.step(&name, step);
            let own = self.facts.all.get(first..).unwrap_or_default();
            let canon: Vec<String> = own
                .iter()
                .map(|fact| {
                    let clause = fact.name.strip_prefix(name.as_str()).unwrap_or_default();
                    format!("{clause}\u{1d}{}", fact.value.canon)
                })
                .collect();
            order.push(Said { canon: format!("{verb}{}", canon.join("\u{1c}")), shown: name });
        }
        // Steps are set apart by a mark of their own, as their clauses may hold sets.
        let canon: Vec<String> = order.iter().map(|step| step.canon.clone()).collect();
        let canon = canon.join("\u{1a}");
        self.put(ORDER, Said { canon, ..Said::list(order) });
    }

    fn step(&mut self, name: &str, step: &Step) {
        let Step {
            verb: _,
            said: _,
            text,
            phases,
            notes,
            cautions,
            hands_on,
            waiting,
            allow,
            span: _,
            verb_span: _,
        } = step;
        let said = text.as_ref().map(|text| self.text(text)).unwrap_or_default();
        self.put(name, said);
        for (index, phase) in phases.iter().enumerate() {
            let name = match index {
                0 => name.to_owned(),
                index => format!("{name}, phase {}", index + 1),
            };
            self.phase(&name, phase);
        }
        for note in notes {
            let note = self.text(note);
            self.put(format!("{name} note"), note);
        }
        for caution in cautions {
            let caution = self.text(caution);
            self.put(format!("{name} caution"), caution);
        }
        let hands_on = hands_on.as_ref().map(|time| Said::extent(time));
        self.put_some(&format!("{name} hands-on"), hands_on);
        if *waiting {
            self.put(format!("{name} waiting"), Said::of("yes"));
        }
        self.allow(allow);
    }

    fn phase(&mut self, name: &str, phase: &Phase) {
        let Phase {
            duration,
            per,
            at,
            in_room,
            to,
            with,
            place,
            kind,
            fold,
            until,
            flags,
            speed,
            span: _,
        } = phase;
        let extent = |extent: &Option<Box<Extent>>| extent.as_ref().map(|it| Said::extent(it));
        let duration = extent(duration).map(|mut time| {
            if let Some(per) = per {
                let Per { count, kind, span: _ } = &**per;
                time.and(&Said {
                    canon: format!("per {count} {}", kind.key),
                    shown: format!("per {count} {}", kind.shown),
                });
            }
            time
        });
        self.put_some(&format!("{name} for"), duration);
        self.put_some(&format!("{name} at"), extent(at));
        self.put_some(&format!("{name} at"), in_room.then(|| Said::of("room")));
        self.put_some(&format!("{name} to"), extent(to));
        let with: Vec<Said> = with.iter().map(|with| self.with(with)).collect();
        self.put_some(&format!("{name} with"), (!with.is_empty()).then(|| Said::set(with)));
        let place = place.as_ref().map(|place| self.name(place));
        self.put_some(&format!("{name} in"), place);
        let kind = kind.as_ref();
        let kind = kind.map(|it| Said { canon: it.key.to_string(), shown: it.shown.to_string() });
        self.put_some(&format!("{name} of"), kind);
        self.put_some(&format!("{name} fold"), fold.as_ref().map(|fold| folds(fold)));
        let until: Vec<Said> = until.iter().map(|until| self.until(until)).collect();
        self.put_some(&format!("{name} until"), (!until.is_empty()).then(|| Said::set(until)));
        let flags = flags.iter().map(|(flag, _)| Said::of(flag_word(*flag)));
        let flags = Said::set(flags);
        self.put_some(&format!("{name} how"), (!flags.canon.is_empty()).then_some(flags));
        let speed = speed.map(|(speed, _)| Said::of(&speed.to_string()));
        self.put_some(&format!("{name} speed"), speed);
    }

    fn with(&mut self, with: &With) -> Said {
        let amount = |it: &mut Self, word: &str, amount: &Quantity, target: &Target| {
            let mut said = Said::with(word, &Said::quantity(amount));
            said.and(&it.target(target));
            said
        };
        match with {
            With::Name(target) => self.target(target),
            With::Flours(_) => Said::of("flours"),
            With::Share(share, target) => amount(self, "share", share, target),
            With::Weight(weight, target) => amount(self, "weight", weight, target),
            With::Remaining(target) => Said::with("remaining", &self.target(target)),
            With::EverythingElse(_) => Said::of("everything else"),
        }
    }

    fn until(&mut self, until: &Until) -> Said {
        match until {
            Until::Volume(volume) => Said::with("volume", &Said::quantity(volume)),
            Until::Core(core) => Said::with("core", &Said::quantity(core)),
            Until::Acidity(number, _) => {
                Said::with("pH", &Said::of(&crate::quantity::display::exact(number)))
            }
            Until::Text(text) => self.text(text),
        }
    }

    /// All that a formula says.
    pub(super) fn formula(&mut self, formula: &Formula) {
        let Formula {
            name,
            title,
            from,
            style,
            makes,
            serves,
            bake_loss,
            make_up_loss,
            total,
            dough,
            stages,
            mixtures,
            pieces,
            method,
            expect,
            allow,
            texts,
            without,
            span: _,
            broken,
        } = formula;
        let own = Said { canon: name.key.to_string(), shown: name.shown.to_string() };
        self.put("name", own);
        self.put_some("title", title.as_ref().map(Said::text));
        let from = from.as_ref().map(|from| self.name(from));
        self.put_some("from", from);
        let style = style.as_ref().map(|style| self.name(style));
        self.put_some("style", style);
        let makes = makes.as_ref().map(|makes| self.makes(makes));
        self.put_some("makes", makes);
        self.put_some("serves", serves.as_ref().map(Said::extent));
        self.put_some("bake loss", bake_loss.as_ref().map(Said::quantity));
        self.put_some("make-up loss", make_up_loss.as_ref().map(Said::quantity));
        if *broken {
            self.put(UNREADABLE, Said::of("in part"));
        }
        for (word, mix) in [("total", total), ("dough", dough)] {
            if let Some(mix) = mix {
                self.within(word, EcoString::new(), |it| it.mix(mix));
            }
        }
        for stage in stages {
            self.facts.uses.push(stage.name.key.clone());
            self.within("stage", stage.name.key.clone(), |it| it.stage(stage));
        }
        for mixture in mixtures {
            self.facts.uses.push(mixture.name.key.clone());
            self.within("mixture", mixture.name.key.clone(), |it| it.mixture(mixture));
        }
        for piece in pieces {
            let kind = piece.kind.as_ref().map(|kind| kind.key.clone());
            self.within("each", kind.unwrap_or_default(), |it| it.piece(piece));
        }
        if let Some(method) = method {
            self.within("method", EcoString::new(), |it| it.method(method));
        }
        self.within(CLAIMS, EcoString::new(), |it| {
            expect.iter().for_each(|claim| it.claim(claim));
        });
        self.words(texts);
        self.allow(allow);
        for target in without {
            let name = self.target(target);
            self.put("without", name);
        }
    }

    /// All that a culture says.
    pub(super) fn culture(&mut self, culture: &Culture) {
        let Culture { name: _, mix, texts } = culture;
        self.mix(mix);
        self.words(texts);
    }

    /// All that a style says.
    pub(super) fn style(&mut self, style: &Style) {
        let Style { name: _, bounds, without, texts, span: _ } = style;
        for Bound { what, place, range, span: _ } in bounds {
            self.put(asked(what, place.as_ref()), Said::extent(range));
        }
        for name in without {
            self.put("without", Said::of(&name.key));
        }
        self.words(texts);
    }

    /// All that an ingredient says.
    pub(super) fn ingredient(&mut self, ingredient: &Ingredient) {
        let Ingredient {
            name: _,
            kind,
            properties,
            contains,
            contains_only,
            may_contain,
            free_from,
            animal,
            price,
            volume,
            each,
            pack,
            kept,
            also,
            called,
            texts,
            span: _,
        } = ingredient;
        match kind {
            Some(IngredientKind::Class(class)) => self
                .put("is", Said { canon: class.key.to_string(), shown: class.shown.to_string() }),
            Some(IngredientKind::Like(like)) => {
                let like = self.name(like);
                self.put("like", like);
            }
            None => {}
        }
        for Property { name, value } in properties {
            self.put(name.key.clone(), Said::quantity(value));
        }
        let plain = |names: &Vec<Name>| match names.is_empty() {
            true => Said::of("nothing"),
            false => Said::set(names.iter().map(|name| Said::of(&name.key))),
        };
        let contains = contains.as_ref().map(plain).map(|said| match contains_only {
            true => Said::with("nothing but", &said),
            false => said,
        });
        self.put_some("contains", contains);
        self.put_some("may contain", may_contain.as_ref().map(plain));
        for FreeFrom { names, proof: _ } in free_from {
            self.put("free from", plain(names));
        }
        self.put_some("animal", animal.as_ref().map(plain));
        if let Some(Price { number, currency, per, span: _ }) = price {
            let number = crate::quantity::display::exact(number);
            let mut said = Said::of(&format!("{number} {currency}"));
            let mut of = Said::quantity(per);
            if per.number.is_one() {
                per.unit.spelling().clone_into(&mut of.shown);
            }
            said.and(&Said::with("per", &of));
            self.beside(|it| it.put("price", said));
        }
        if let Some(pack) = pack {
            self.beside(|it| it.put("pack", Said::quantity(pack)));
        }
        if let Some((volume, weight)) = volume {
            let mut said = Said::quantity(volume);
            said.and(&Said::with("weighs", &Said::quantity(weight)));
            self.put("volume", said);
        }
        self.put_some("each", each.as_ref().map(Said::quantity));
        self.put_some("kept at", kept.as_ref().map(Said::quantity));
        if !also.is_empty() {
            self.put("also", Said::set(also.iter().map(|name| Said::of(&name.key))));
        }
        for (language, called) in called {
            self.put(format!("called {language}"), Said::of(called));
        }
        self.words(texts);
    }
}

/// What a claim or a bound is about. It looks at what the formula has and brings nothing.
fn asked(what: &Target, place: Option<&Name>) -> String {
    let role = what.role.as_ref().map(|role| format!(" ({})", role.key)).unwrap_or_default();
    let place = place.map(|place| format!(" in {}", place.key)).unwrap_or_default();
    format!("{}{role}{place}", what.name.key)
}

/// Legs of a wait, one after the other.
fn then(legs: &[Said]) -> Said {
    let canon: Vec<&str> = legs.iter().map(|leg| leg.canon.as_str()).collect();
    let shown: Vec<&str> = legs.iter().map(|leg| leg.shown.as_str()).collect();
    Said { canon: canon.join("\u{1e}"), shown: shown.join(" then ") }
}

fn folds(fold: &Fold) -> Said {
    let Fold { times, every, style, span: _ } = fold;
    let mut said = match times {
        Some(1) => Said::of("once"),
        Some(times) => Said::of(&format!("{times} times")),
        None => Said::default(),
    };
    if let Some(every) = every {
        said.and(&Said::with("every", &Said::extent(every)));
    }
    match style {
        Some(FoldStyle::Single) => said.and(&Said::of("single")),
        Some(FoldStyle::Double) => said.and(&Said::of("double")),
        None => {}
    }
    if said.canon.is_empty() { Said::of("yes") } else { said }
}

fn flag_word(flag: Flag) -> &'static str {
    Flag::ALL.iter().find(|(_, known)| *known == flag).map_or("", |(word, _)| word)
}
