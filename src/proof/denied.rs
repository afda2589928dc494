//! What the words of a manuscript deny of the bread they are about: claims of absence, lists
//! of allergens, and foods named beside a claim.
//!
//! They are judged as the texts of a formula are, all passages about it together, since one
//! may contradict another. For that they are put after each other in a text of their own, and
//! the places that are found there are carried back to the manuscript.

use super::names::FormulaNames;
use crate::check::prose::{self, Prose};
use crate::check::speech::{self, Token, TokenKind};
use crate::check::{self, Context, PlainText, SaidAt};
use crate::diag::Finding;
use crate::source::{SourceId, Span};
use crate::syntax::prose::{Passage, PassageKind, ProsePart, ProseTable};
use rustc_hash::{FxHashMap, FxHashSet};
use std::borrow::Cow;
use std::collections::BTreeMap;
use std::rc::Rc;
use std::sync::LazyLock;

/// The text that all passages about a formula are put into.
const JOINED: SourceId = SourceId(u32::MAX);

/// A passage, or a row of a table, with what of it is about some formulas.
struct Read {
    /// The same bytes as the passage's, blanks where it is about other formulas.
    text: String,
    /// The formulas, in order.
    about: Vec<usize>,
    passage: Passage,
    /// Of the part it is in.
    block: usize,
    place: SaidAt<'static>,
    /// Whether it may say that something is not in a bread.
    may_deny: bool,
    /// Whether it may tell people to do what hurts.
    may_hurt: bool,
    /// Whether nothing else is read of it.
    is_off: bool,
}

/// Where words of a manuscript stand.
#[derive(Clone, Debug)]
pub struct Stands {
    /// The formulas that a sentence is about which names none, and says no `both` or `these`.
    pub about: Rc<[usize]>,
    /// Those several.
    pub all: Rc<[usize]>,
    /// Every formula of the house.
    pub house: Rc<[usize]>,
    /// Which sentences are about `about`.
    pub scope: Scope,
    /// The number of the part's block.
    pub block: usize,
    /// Whether it is a heading.
    pub is_heading: bool,
    /// Whether only what is denied is read there.
    pub is_off: bool,
}

/// Which sentences of a place are about its formulas.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Scope {
    /// All, in a section of theirs.
    Own,
    /// All that deny something, above the sections of theirs.
    Above,
    /// Those that deny something of all the bread there is, in a section of none.
    Beside,
}

/// What is said of formulas, in the order of the manuscript.
#[derive(Default)]
pub struct Denied {
    all: Vec<Read>,
}

impl Denied {
    /// Keeps a passage for the formulas that its sentences are about.
    pub fn keep(&mut self, passage: &Passage, names: &FormulaNames, at: &Stands) {
        let spoken = passage.spoken();
        let tokens = speech::tokens(&spoken);
        let may_deny = check::may_deny_in(&spoken, &tokens);
        let is_read = !at.is_off && at.scope == Scope::Own;
        let may_hurt = check::may_hurt_in(&tokens);
        let place = if at.is_heading { SaidAt::Title } else { SaidAt::Note };
        let block = at.block;
        // What hurts does so in any bread, wherever it is said.
        if may_hurt && !is_read {
            let (text, about, passage) = (spoken.to_string(), at.house.to_vec(), passage.clone());
            let (may_deny, is_off) = (false, true);
            self.all.push(Read { text, about, passage, block, place, may_deny, may_hurt, is_off });
        }
        if !may_deny && !is_read {
            return;
        }
        let may_hurt = may_hurt && is_read;
        let parts: Vec<(usize, Vec<usize>)> = speech::whole_sentences(&tokens)
            .map(|words| {
                let start = words.first().map_or(0, |it| it.start);
                let end = words.last().map_or(start, |it| it.end);
                (start, about(words, spoken.get(start..end).unwrap_or_default(), names, at))
            })
            .collect();
        for (text, about) in by_formulas(&spoken, &parts) {
            let (passage, is_off) = (passage.clone(), at.is_off);
            self.all.push(Read { text, about, passage, block, place, may_deny, may_hurt, is_off });
        }
    }

    /// Keeps the rows of a table: `Allergens | wheat`, and below a heading `Milk` the answers.
    pub fn keep_rows(&mut self, table: &ProseTable, names: &FormulaNames, at: &Stands) {
        let head = table.rows.first().map_or(&[][..], Vec::as_slice);
        let of_cell = |cell: &Passage| -> Vec<usize> {
            let named = names.named(&speech::tokens(&cell.text));
            named.into_iter().chain(names.formula(cell.text.trim())).collect()
        };
        // A dash among weights is an empty cell: `| salt | – | 20 g |`.
        let is_amount = |cell: &Passage| {
            let text = cell.text.trim();
            let found = text
                .starts_with(|letter: char| letter.is_ascii_digit() || "½¼¾⅓⅔".contains(letter));
            found
                && text.contains(|letter: char| {
                    letter.is_ascii_digit() && letter != '0' || "½¼¾⅓⅔".contains(letter)
                })
                && text.split_whitespace().count() <= 2
        };
        let of_amounts: Vec<bool> = (0..head.len())
            .map(|at| table.rows.iter().skip(1).any(|row| row.get(at).is_some_and(is_amount)))
            .collect();
        let is_weighed = |cell: &Passage| {
            const UNITS: [&str; 9] = ["g", "kg", "mg", "oz", "lb", "ml", "l", "%", "cl"];
            let is_number = |letter: char| letter.is_ascii_digit() || "½¼¾⅓⅔.,/ ".contains(letter);
            is_amount(cell) && UNITS.contains(&cell.text.trim().trim_start_matches(is_number))
        };
        let is_answer = |cell: &Passage| check::is_answer(&cell.spoken());
        let columns: Vec<Vec<usize>> = head.iter().map(of_cell).collect();
        for (number, row) in table.rows.iter().enumerate() {
            let [first, rest @ ..] = row.as_slice() else { continue };
            let own = of_cell(first);
            let of = |named: &[usize]| match named {
                [] if own.is_empty() => at.clone(),
                [] => of_these(&own, at),
                named => of_these(named, at),
            };
            if let [second] = rest {
                self.keep(&first.joined(": ", second), names, &of(&[]));
            }
            if number == 0 {
                continue;
            }
            let is_of_amounts = rest.iter().any(is_weighed);
            for (column, cell) in row.iter().enumerate() {
                let named = columns.get(column).map_or(&[][..], Vec::as_slice);
                let is_of_one = !own.is_empty() || !named.is_empty();
                let may_be_empty = column > 0 && !is_of_one && is_answer(cell);
                let is_among_amounts = of_amounts.get(column) == Some(&true);
                if may_be_empty && is_among_amounts {
                    continue;
                }
                let heading = head.get(column).filter(|it| !it.text.trim().is_empty());
                let is_label = column == 0 && !is_answer(cell);
                if let Some(heading) = heading.filter(|_| !is_label) {
                    self.keep(&heading.joined(": ", cell), names, &of(&[]));
                }
                // `Milk | no | yes` below the names of two breads, or with more beside it.
                let is_told = !named.is_empty() || rest.len() > 1 && is_answer(cell);
                if column > 0 && is_told && !(may_be_empty && is_of_amounts) {
                    self.keep(&first.joined(": ", cell), names, &of(named));
                }
            }
        }
    }

    /// What is wrong in what is said of each formula, with the blocks that it stands in.
    pub fn judge<'f, 'c: 'f, 't: 'c>(
        &self,
        source: SourceId,
        context_of: &dyn Fn(usize) -> Option<&'f Context<'c, 't>>,
    ) -> Vec<(Finding, Vec<usize>)> {
        let byte = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
        let mut starts = Vec::new();
        let mut end = 0;
        let joined = self.all.iter().map(|read| {
            let start = end;
            starts.push(start);
            end += read.text.len();
            let span = Span::new(JOINED, byte(start), byte(end));
            let said = PlainText { words: Cow::Borrowed(&read.text), span, place: read.place };
            let Read { may_deny, may_hurt, is_off, .. } = *read;
            Prose { said, may_deny, may_hurt, is_off, about: read.about.clone() }
        });
        let joined: Vec<Prose> = joined.collect();
        let found = prose::check(&joined, JOINED, context_of).into_iter();
        let back = |mut finding: Finding| {
            let mut blocks = Vec::new();
            for label in finding.labels.iter_mut().filter(|it| it.span.source == JOINED) {
                let at = label.span.range();
                let index = starts.partition_point(|start| *start <= at.start).saturating_sub(1);
                let Some((read, start)) = self.all.get(index).zip(starts.get(index)) else {
                    continue;
                };
                let inside = at.start - start..(at.end - start).min(read.text.len());
                let place = read.passage.place(inside);
                label.span = Span::new(source, byte(place.start), byte(place.end));
                blocks.push(read.block);
            }
            (finding, blocks)
        };
        let mut all: Vec<_> = found.map(back).collect();
        // The cells of a row are read together and each below its heading.
        let mut seen = FxHashSet::default();
        all.retain(|(finding, _)| {
            !check::is_of_harm(finding.rule) || seen.insert((finding.rule.name, finding.span().end))
        });
        name_formulas(&mut all);
        all
    }
}

/// The words of a passage, each time with those formulas that the same sentences are about;
/// blanks stand for the others.
fn by_formulas(spoken: &str, parts: &[(usize, Vec<usize>)]) -> Vec<(String, Vec<usize>)> {
    let mut of: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (index, (_, about)) in parts.iter().enumerate() {
        about.iter().for_each(|formula| of.entry(*formula).or_default().push(index));
    }
    let mut all: BTreeMap<Vec<usize>, Vec<usize>> = BTreeMap::new();
    for (formula, mut sentences) in of {
        sentences.dedup();
        all.entry(sentences).or_default().push(formula);
    }
    let words_of = |sentences: &[usize]| {
        let mut text = String::with_capacity(spoken.len());
        for (index, (start, _)) in parts.iter().enumerate() {
            let end = parts.get(index + 1).map_or(spoken.len(), |(start, _)| *start);
            let start = if index == 0 { 0 } else { *start };
            let words = spoken.get(start..end).unwrap_or_default();
            match sentences.contains(&index) {
                true => text.push_str(words),
                false => text.extend(std::iter::repeat_n(' ', words.len())),
            }
        }
        text
    };
    all.into_iter().map(|(sentences, about)| (words_of(&sentences), about)).collect()
}

/// Says in which breads it is so, where the same is said of several.
fn name_formulas(all: &mut [(Finding, Vec<usize>)]) {
    /// So many are named, the others counted.
    const NAMED: usize = 5;
    let mut of: FxHashMap<(Span, String), Vec<String>> = FxHashMap::default();
    for (finding, _) in all.iter() {
        let name = finding.formula.as_deref().unwrap_or_default().to_owned();
        let names = of.entry((finding.span(), finding.message.clone())).or_default();
        if !names.contains(&name) {
            names.push(name);
        }
    }
    for (finding, _) in all {
        let names = of.get(&(finding.span(), finding.message.clone()));
        let Some(names) = names.filter(|names| names.len() > 1) else { continue };
        let shown: Vec<String> = names.iter().take(NAMED).map(|name| format!("`{name}`")).collect();
        let more = match names.len().checked_sub(NAMED).filter(|more| *more > 0) {
            Some(more) => format!(" and {more} more"),
            None => String::new(),
        };
        finding.notes.push(format!("so it is in {}{more}", shown.join(", ")));
    }
}

/// What headings, labels and questions say together with what answers them in the parts after
/// them: the number of a part that begins so, and both.
pub fn answered(parts: &[ProsePart]) -> Vec<(usize, Passage)> {
    /// What answers a label is no longer than this.
    const WORDS: usize = 8;
    let is_short = |words: &Passage| words.text.split_whitespace().count() <= WORDS;
    let mut all = Vec::new();
    for (at, part) in parts.iter().enumerate() {
        let (PassageKind::Heading(_, lead) | PassageKind::Words(lead)) = &part.kind else {
            continue;
        };
        let written = lead.text.trim_end();
        let is_label = written.ends_with([':', '?', '：']) || part.is_term;
        let is_heading = matches!(part.kind, PassageKind::Heading(..));
        let takes_list = is_label || is_heading && check::may_deny(written);
        let between = match written.ends_with([':', '?', '：']) {
            true => " ",
            false => ": ",
        };
        let mut joined: Option<Passage> = None;
        for next in parts.iter().skip(at + 1) {
            let PassageKind::Words(words) = &next.kind else { break };
            let goes_on = joined.is_some();
            let is_next_label = words.text.trim_end().ends_with([':', '?']) || next.is_term;
            let fits = if goes_on || takes_list {
                takes_list && is_short(words) && !is_next_label
            } else {
                check::is_answer(&words.spoken())
            };
            if !fits || next.block > part.block + 1 + usize::from(is_heading) {
                break;
            }
            joined = Some(match &joined {
                Some(before) => before.joined(", ", words),
                None => lead.joined(between, words),
            });
        }
        all.extend(joined.map(|joined| (at, joined)));
    }
    all
}

/// The same place, about some formulas alone.
fn of_these(named: &[usize], at: &Stands) -> Stands {
    let named: Rc<[usize]> = named.into();
    Stands { about: named.clone(), all: named, scope: Scope::Own, ..at.clone() }
}

/// The formulas that a sentence is about.
fn about(words: &[Token], written: &str, names: &FormulaNames, at: &Stands) -> Vec<usize> {
    // A heading may name another bread, and is still over this one.
    let is_of_one = at.is_heading && at.scope == Scope::Own;
    let named = if is_of_one { Vec::new() } else { names.named(words) };
    if !named.is_empty() {
        return named;
    }
    let several = || tells(words, &SEVERAL);
    let may_deny = || check::may_deny(written);
    if at.scope != Scope::Own && is_of_some(words) {
        return Vec::new();
    }
    match at.scope {
        _ if is_of_house(words) && may_deny() => at.house.to_vec(),
        Scope::Own if several() => at.all.to_vec(),
        Scope::Own => at.about.to_vec(),
        Scope::Above if may_deny() => at.about.to_vec(),
        Scope::Beside if is_of_all(words) && may_deny() => at.about.to_vec(),
        Scope::Above | Scope::Beside => Vec::new(),
    }
}

/// `All our loaves`, `every bread in this book`, wherever it is said.
fn is_of_house(words: &[Token]) -> bool {
    static EVERY: WordSet = LazyLock::new(|| {
        words_of(
            "all each every none tous toutes chaque aucun aucune alle allen jedes keines \
        todos todas cada ninguna ningún tutti tutte ogni nessuna nessun",
        )
    });
    [&EVERY, &HOUSE, &BREADS].iter().all(|list| tells(words, list)) && !is_of_some(words)
}

/// Whether one of some words is in a list, between blanks.
fn tells(words: &[Token], list: &WordSet) -> bool {
    words.iter().any(|it| is_in(list, &it.key))
}

fn is_in(list: &WordSet, word: &str) -> bool {
    list.contains(word)
}

/// A list of words, read when it is first asked.
type WordSet = LazyLock<FxHashSet<&'static str>>;

/// The words of a list, with blanks between them.
fn words_of(list: &'static str) -> FxHashSet<&'static str> {
    list.split(' ').collect()
}

/// `Some of our breads`, `most loaves`, `not all of them`.
fn is_of_some(words: &[Token]) -> bool {
    /// So many words may stand before the bread.
    const NEAR: usize = 4;
    let is = |at: usize, list: &WordSet| words.get(at).is_some_and(|it| is_in(list, &it.key));
    (0..words.len()).any(|at| {
        let of_breads = is(at, &SOME) && (at + 1..=at + NEAR).any(|next| is(next, &BREADS));
        of_breads || is(at, &NOT) && is(at + 1, &SEVERAL)
    })
}

/// Whether a sentence between recipes speaks of the bread of the book: by a word for all of
/// it, or by nothing but its claim.
fn is_of_all(words: &[Token]) -> bool {
    /// `The flour is gluten-free` is about what is bought.
    static FLOURS: WordSet = LazyLock::new(|| words_of("flour flours farine mehl harina farina"));
    const SHORT: usize = 5;
    /// `Coeliacs need bread without gluten` is about them.
    static NEEDS: WordSet = LazyLock::new(|| {
        words_of(
            "need needs must should want wants faut besoin brauchen braucht benötigen müssen \
        necesita necesitan deben bisogno devono",
        )
    });
    let is_we = |it: &Token| {
        let key = it.key.as_ref();
        ["amos", "emos", "imos", "iamo"].iter().any(|end| key.len() > 5 && key.ends_with(end))
    };
    let is_named = words.windows(2).any(|two| match two {
        [one, two] => is_in(&BEFORE, &one.key) && is_in(&BREADS, &two.key),
        _ => false,
    });
    let count = words.iter().filter(|it| it.kind == TokenKind::Word).count();
    let is_short = count <= SHORT && !tells(words, &FLOURS) && !tells(words, &NEEDS);
    is_short
        || is_named
        || tells(words, &SEVERAL)
        || tells(words, &OF_ALL)
        || words.iter().any(is_we)
}

/// Words for several, in five languages.
static SEVERAL: WordSet = LazyLock::new(|| {
    words_of(
        "both all each every these none everything nothing any tous toutes tout rien deux ces \
    chacun chacune chaque beide alle allen aller alles nichts sämtliche diese jedes jeder \
    ambos ambas todos todas todo nada cada estos estas entrambi tutti tutte tutto niente \
    ogni questi queste",
    )
});

/// Before the name of bread, words for a part of it.
static SOME: WordSet = LazyLock::new(|| {
    words_of(
        "some most many several few certain half certains certaines plupart quelques plusieurs \
    beaucoup manche manchen mancher einige einigen einiger mehrere viele vielen meisten \
    algunos algunas muchos muchas varios varias mayoría alcuni alcune molti molte diversi \
    parte",
    )
});

/// Before a word for all, what makes some of it.
static NOT: WordSet = LazyLock::new(|| words_of("not pas nicht no non"));

/// Words for the book, or for whoever bakes.
static HOUSE: WordSet = LazyLock::new(|| {
    words_of(
        "our ours we book books pages bakery bakehouse kitchen recipes here notre nos nous livre \
    pages recettes boulangerie fournil ici unser unsere unserem unseren unserer wir buch \
    buches rezepte rezepten backstube bäckerei hier nuestro nuestra nuestros nuestras libro \
    recetas panadería obrador aquí nostro nostra nostri nostre ricette forno panificio",
    )
});

/// Words for what a book or a house does, beside those above.
static OF_ALL: WordSet = LazyLock::new(|| {
    words_of(
        "our ours we us my this here book whole entire notre nos nous ce cet cette ici livre \
    unser unsere unserem unseren unserer unseres wir uns dies dieses dieser diesem hier buch \
    nuestro nuestra nuestros nuestras nosotros este esta aquí libro nostro nostra nostri \
    nostre noi questo questa qui jede chez keinem",
    )
});

/// Before [`BREADS`], a word that speaks of those of the book.
static BEFORE: WordSet = LazyLock::new(|| {
    words_of(
        "the no not les aucun aucune des die das kein keine keines keins los las ningún ninguna i \
    le nessun nessuna gli",
    )
});

static BREADS: WordSet = LazyLock::new(|| {
    words_of(
        "bread breads loaf loaves roll rolls bun buns recipe recipes formula formulas bake bakes \
    dough doughs pain pains recette recettes brioches formule formules pâte pâtes brot brote \
    brötchen rezept rezepte teig teige gebäcke pan panes receta recetas fórmula fórmulas \
    masas bollos pane pani ricetta ricette impasti",
    )
});
