//! Orders from a table: a row for each line of an order, its columns in any order and in any of
//! the five languages.

use super::clock::Clock;
use super::findings::said::customers;
use super::findings::{column_unread, order_unread};
use super::resolve::{ResolvedDay, names_of_day};
use crate::diag::Finding;
use crate::formula::{House, is_kind, key, title};
use crate::quantity::Exact;
use crate::source::{SourceId, Span, unbroken};
use crate::syntax::tree::{DayTime, Name, Order, Ordered, Quantity, Weekdays, Wish};
use crate::syntax::{clock_time, read_day_time, read_ordered};
use crate::time::clock::{Dating, Zone};
use ecow::EcoString;

/// What goes on a number.
const NUMBER: [char; 12] = ['0', '1', '2', '3', '4', '5', '6', '7', '8', '9', '.', ','];

/// What a column says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OrderColumn {
    /// Which formula.
    Product,
    /// How much, perhaps with the kind of pieces.
    Amount,
    /// The kind of pieces.
    Kind,
    /// Done by then.
    By,
    /// Not done before.
    After,
    /// Whom it is for.
    Customer,
    /// The day it is for.
    Day,
}

/// The words for each column.
const WORDS: &[(OrderColumn, &[&str])] = &[
    (
        OrderColumn::Product,
        &[
            "product", "formula", "bread", "item", "produkt", "artikel", "brot", "sorte", "formel",
            "produit", "article", "pain", "formule", "prodotto", "articolo", "pane", "producto",
            "pan", "fórmula",
        ],
    ),
    (
        OrderColumn::Amount,
        &[
            "amount",
            "quantity",
            "menge",
            "anzahl",
            "quantité",
            "quantite",
            "quantità",
            "quantita",
            "cantidad",
            "qty",
            "count",
            "number",
            "stück",
            "stückzahl",
            "nombre",
            "numero",
            "número",
        ],
    ),
    (
        OrderColumn::Kind,
        &["kind", "unit", "pieces", "art", "einheit", "type", "unité", "tipo", "unità", "unidad"],
    ),
    (
        OrderColumn::By,
        &[
            "by", "until", "time", "bis", "uhrzeit", "zeit", "pour", "avant", "heure", "entro",
            "ora", "para", "antes", "hora",
        ],
    ),
    (OrderColumn::After, &["after", "nach", "ab", "après", "apres", "dopo", "después", "despues"]),
    (
        OrderColumn::Customer,
        &[
            "customer", "for", "shop", "branch", "kunde", "filiale", "client", "magasin",
            "cliente", "negozio", "tienda",
        ],
    ),
    (
        OrderColumn::Day,
        &["day", "date", "tag", "datum", "jour", "giorno", "data", "día", "dia", "fecha"],
    ),
];

impl OrderColumn {
    fn read(head: &str) -> Option<Self> {
        let head = head.trim().to_lowercase();
        let own = WORDS.iter().find(|(_, words)| words.contains(&head.as_str()));
        own.map(|(column, _)| *column)
    }

    /// As it is called in English.
    pub fn word(self) -> &'static str {
        let own = WORDS.iter().find(|(column, _)| *column == self);
        own.and_then(|(_, words)| words.first()).copied().unwrap_or("column")
    }
}

/// What a table of orders holds.
#[derive(Clone, Debug, Default)]
pub struct Rows {
    /// The orders of the day, those of one product and customer together.
    pub orders: Vec<Order>,
    /// The columns that were found, each with its heading.
    pub columns: Vec<(OrderColumn, String)>,
    /// Rows of this day.
    pub own: usize,
    /// Rows of other days.
    pub others: usize,
    /// What could not be read.
    pub findings: Vec<Finding>,
}

/// Reads the orders of a day, as it was asked for, from a table.
pub fn rows(house: &House, day: &ResolvedDay, source: SourceId, text: &str) -> Rows {
    let mut rows = Rows::default();
    let mut reader = csv::ReaderBuilder::new()
        .flexible(true)
        .trim(csv::Trim::All)
        .delimiter(delimiter(text))
        .from_reader(text.as_bytes());
    let head_end = text.find('\n').unwrap_or(text.len());
    let head_span = Span::new(source, 0, offset(head_end));
    let Ok(heads) = reader.headers().cloned() else {
        rows.findings.push(order_unread::no_table(head_span));
        return rows;
    };
    let mut columns: Vec<Option<OrderColumn>> = Vec::new();
    for head in &heads {
        let head = head.trim_start_matches('\u{feff}');
        let column = OrderColumn::read(head).filter(|it| !columns.contains(&Some(*it)));
        match column {
            Some(column) => rows.columns.push((column, head.to_owned())),
            None if head.is_empty() => {}
            None => rows.findings.push(column_unread::finding(head_span, head)),
        }
        columns.push(column);
    }
    for wanted in [OrderColumn::Product, OrderColumn::Amount, OrderColumn::By] {
        if !columns.contains(&Some(wanted)) {
            rows.findings.push(order_unread::no_column(head_span, wanted.word()));
            return rows;
        }
    }
    for record in reader.records() {
        let Ok(record) = record else {
            rows.findings.push(order_unread::no_table(head_span));
            continue;
        };
        let from = record.position().map_or(0, csv::Position::byte);
        let from = usize::try_from(from).unwrap_or(0).min(text.len());
        let line = text.get(from..).unwrap_or("").trim_start();
        let from = text.len() - line.len().min(text.len());
        let long = line.find(['\n', '\r']).unwrap_or(line.len());
        let span = Span::new(source, offset(from), offset(from + long));
        let of = |wanted: OrderColumn| {
            let place = columns.iter().position(|column| *column == Some(wanted))?;
            record.get(place).filter(|field| !field.is_empty())
        };
        if record.iter().all(str::is_empty) {
            continue;
        }
        match of(OrderColumn::Day).map(|named| (named, is_same_day(house, day, named))) {
            None | Some((_, Some(true))) => {}
            Some((_, Some(false))) => {
                rows.others += 1;
                continue;
            }
            // Left out as another day's, its bread would be forgotten.
            Some((named, None)) => {
                rows.findings.push(order_unread::day(span, named));
                continue;
            }
        }
        rows.own += 1;
        let headed = |at: usize| heads.get(at).is_some_and(|head| !head.is_empty());
        let mut unheaded = record.iter().enumerate().filter(|(at, _)| !headed(*at));
        if let Some((_, field)) = unheaded.find(|(_, field)| !field.is_empty()) {
            rows.findings.push(order_unread::no_heading(span, field));
            continue;
        }
        match order(house, &of, span) {
            Ok(order) => add(&mut rows.orders, order),
            Err(finding) => rows.findings.push(*finding),
        }
    }
    customers(house, &rows.orders, &mut rows.findings);
    rows
}

/// What parts the fields: the sign that the first line has most of.
fn delimiter(text: &str) -> u8 {
    let head = text.lines().next().unwrap_or("");
    let count = |sign: u8| head.bytes().filter(|byte| *byte == sign).count();
    // Of signs that stand there alike often, the last.
    [b'\t', b';', b','].into_iter().max_by_key(|sign| count(*sign)).unwrap_or(b',')
}

fn offset(at: usize) -> u32 {
    u32::try_from(at).unwrap_or(u32::MAX)
}

/// Whether a row's day is the one that is planned; none where it names no day.
fn is_same_day(house: &House, day: &ResolvedDay, named: &str) -> Option<bool> {
    let named = key(named);
    let is_date = |name: &str| name.starts_with(|sign: char| sign.is_ascii_digit());
    let is_known = match is_date(&named) {
        true => Clock::of(&named, Zone::undated(Dating::Dates))
            .is_some_and(|clock| clock.weekday().is_some()),
        false => Weekdays::number(&named).is_some() || house.day(&named).is_some(),
    };
    if !is_known {
        return None;
    }
    if named == day.name || is_date(&named) && is_date(&day.name) {
        return Some(named == day.name);
    }
    let of = |name: &str| names_of_day(house, name);
    Some(of(&named).is_some() && of(&named) == of(&day.name))
}

/// An order of one row.
fn order<'r>(
    house: &House,
    of: &impl Fn(OrderColumn) -> Option<&'r str>,
    span: Span,
) -> Result<Order, Box<Finding>> {
    let missing = |column: OrderColumn| Box::new(order_unread::no_value(span, column.word()));
    let written = of(OrderColumn::Product).ok_or_else(|| missing(OrderColumn::Product))?;
    let product = product(house, written, span)?;
    let amount = of(OrderColumn::Amount).ok_or_else(|| missing(OrderColumn::Amount))?;
    if is_grouped(amount) {
        return Err(Box::new(order_unread::grouped(span, amount)));
    }
    let ordered = amount_of(house, &product, amount, of(OrderColumn::Kind))
        .ok_or_else(|| Box::new(order_unread::amount(span, amount)))?;
    let by = of(OrderColumn::By).ok_or_else(|| missing(OrderColumn::By))?;
    let by = time(by, span)?;
    let after = of(OrderColumn::After).map(|after| time(after, span)).transpose()?;
    if after.is_some_and(|after| after.of_day() > by.of_day()) {
        return Err(Box::new(order_unread::reversed(span)));
    }
    let customer = of(OrderColumn::Customer).map(|it| EcoString::from(unbroken(it)));
    let wish = Wish { amount: ordered, by, after, span };
    Ok(Order { product, customer, wishes: vec![wish], span })
}

/// The formula that a row means, by its name or its title.
fn product(house: &House, written: &str, span: Span) -> Result<Name, Box<Finding>> {
    let own = key(written);
    let joined = own.replace(" ", "-");
    let known = [own.as_str(), joined.as_str()].into_iter().find(|it| house.formula(it).is_some());
    match known {
        Some(known) => Ok(Name { key: known.into(), shown: written.into(), span }),
        None => {
            // A till calls it by its title.
            let mut titled = house.formulas().filter(|formula| key(&title(formula)) == own);
            if let (Some(formula), None) = (titled.next(), titled.next()) {
                return Ok(Name { shown: written.into(), span, ..formula.name.clone() });
            }
            let near = house.near_formula(&own).or_else(|| house.near_formula(&joined));
            Err(Box::new(order_unread::product(span, written, near)))
        }
    }
}

/// Whether a number may be one in thousands or one with three decimals: `1.000`, `2,500 rolls`.
fn is_grouped(amount: &str) -> bool {
    let number = amount.split_whitespace().next().unwrap_or("");
    let parts: Vec<&str> = number.split(['.', ',', '\'', '’']).collect();
    let are_digits = |part: &&str| part.bytes().all(|sign| sign.is_ascii_digit());
    parts.len() > 1
        && parts.iter().all(|part| are_digits(part) && !part.is_empty())
        && parts.iter().skip(1).all(|part| part.len() == 3)
}

/// `60 loaves`, `20 kg dough`; a number by itself with the kind beside it, or with the only kind
/// that the formula makes.
fn amount_of(house: &House, product: &Name, amount: &str, kind: Option<&str>) -> Option<Ordered> {
    let formula = house.formula(&product.key)?;
    let kinds = super::resolve::kinds(house, formula);
    // Nought says that it is not wanted this time.
    if let Some(rest) = amount.strip_prefix('0').filter(|rest| !rest.starts_with(NUMBER)) {
        let one = amount_of(house, product, &format!("1{rest}"), kind)?;
        return Some(match one {
            Ordered::Pieces(count, kind) => {
                Ordered::Pieces(Quantity { number: Exact::ZERO, ..count }, kind)
            }
            Ordered::Weight(weight) => Ordered::Weight(Quantity { number: Exact::ZERO, ..weight }),
        });
    }
    let with_kind = || {
        let own = kind.map(ToOwned::to_owned).or_else(|| match kinds.as_slice() {
            [one] => Some(one.clone()),
            _ => None,
        })?;
        read_ordered(&format!("{amount} {own}"))
    };
    let read = read_ordered(amount).or_else(with_kind)?;
    match &read {
        Ordered::Pieces(_, kind) => {
            kinds.iter().any(|known| is_kind(known, &kind.key)).then_some(read)
        }
        Ordered::Weight(_) => Some(read),
    }
}

fn time(written: &str, span: Span) -> Result<DayTime, Box<Finding>> {
    let read = read_day_time(written).or_else(|| read_day_time(&clock_time(written)?));
    let read = read.map(|time| DayTime { span, ..time });
    read.ok_or_else(|| Box::new(order_unread::time(span, written)))
}

/// Adds an order to those of its product and customer.
fn add(orders: &mut Vec<Order>, order: Order) {
    let is_same = |known: &&mut Order| {
        known.product.key == order.product.key && known.customer == order.customer
    };
    match orders.iter_mut().find(is_same) {
        Some(known) => known.wishes.extend(order.wishes),
        None => orders.push(order),
    }
}

/// A day with the orders of a table in place of its own of the same product and customer; of
/// several kinds of pieces, of the same kind. What they replaced.
pub fn replace(day: &mut ResolvedDay, orders: Vec<Order>) -> Vec<Order> {
    let is_same = |known: &Order, new: &Order| {
        new.product.key == known.product.key && new.customer == known.customer
    };
    let mut replaced = Vec::new();
    for new in orders {
        let Some(known) = day.orders.iter_mut().find(|known| is_same(known, &new)) else {
            day.orders.push(new);
            continue;
        };
        let is_kept = |wish: &Wish| !new.wishes.iter().any(|own| is_alike(own, wish));
        let (kept, gone): (Vec<Wish>, Vec<Wish>) = known.wishes.drain(..).partition(is_kept);
        if !gone.is_empty() {
            replaced.push(Order { wishes: gone, ..known.clone() });
        }
        known.wishes = kept.into_iter().chain(new.wishes).collect();
    }
    // What a row wants none of is not made.
    for order in &mut day.orders {
        order.wishes.retain(|wish| match &wish.amount {
            Ordered::Pieces(amount, _) | Ordered::Weight(amount) => !amount.number.is_zero(),
        });
    }
    day.orders.retain(|order| !order.wishes.is_empty());
    super::resolve::sort(&mut day.orders);
    replaced
}

/// Whether one takes the place of the other: both want the same kind of pieces, or one of them
/// says how much dough, whatever becomes of it.
fn is_alike(one: &Wish, two: &Wish) -> bool {
    match (&one.amount, &two.amount) {
        (Ordered::Pieces(_, one), Ordered::Pieces(_, two)) => is_kind(&one.key, &two.key),
        _ => true,
    }
}
