//! A production day as one page for a browser: the chart, then the lists that the PDF has.

use crate::print::day_document::{
    DayBatch, DayBuild, DayDocument, DayLine, DayMixture, DayOrder, DayRow, DayTake, DayTask,
    RowKind,
};
use crate::print::document::Weight;
use crate::print::plan_document::MomentPart;
use base64::Engine;
use maud::{Markup, html};

/// The heat of a bake, and what it falls or rises to.
fn heat_of(task: &DayTask) -> String {
    match (&task.heat, &task.heat_at_end) {
        (Some(heat), Some(end)) if heat != end => format!("{heat} → {end}"),
        (heat, _) => heat.clone().unwrap_or_default(),
    }
}

/// The inside of the page, with the prints that the document wants; `charts` are pages as SVG.
pub fn lists(document: &DayDocument, charts: &[Vec<u8>]) -> Markup {
    let page = Page { document };
    html! {
        header {
            h1 { (document.title) }
            p.makes {
                (document.date)
                @if let Some(zone) = &document.zone { br; span.quiet { (page.zone(zone)) } }
            }
        }
        @for caution in &document.cautions { p.care { strong { (caution) } } }
        @for note in &document.notes { p { (note) } }
        (page.orders())
        @for part in &document.parts {
            @match part.as_str() {
                "plan" => (page.chart(charts)),
                "mixing" => (page.mixing()),
                "levains" => (page.levains()),
                "bench" => (page.bench()),
                "oven" => (page.oven()),
                "requisition" => (page.requisition()),
                "batches" => (page.labels()),
                "packing" => (page.packing()),
                _ => {}
            }
        }
    }
}

/// A row of a list: what it is ticked off as, where it is ticked off, and its cells.
struct ListRow {
    tick: Option<String>,
    cells: Vec<Markup>,
}

/// A heading of a column, and whether numbers stand in it.
type Head<'h> = (&'h str, bool);

struct Page<'d> {
    document: &'d DayDocument,
}

impl<'d> Page<'d> {
    fn word(&self, name: &'d str) -> &'d str {
        self.document.words.get(name).map_or(name, String::as_str)
    }

    fn zone(&self, zone: &str) -> String {
        self.word("zone").replace("{zone}", zone)
    }

    /// A table whose rows are called by the cell in the column `named`.
    fn table(&self, caption: &str, heads: &[Head], named: usize, rows: &[ListRow]) -> Markup {
        let ticks = rows.iter().any(|row| row.tick.is_some());
        html! {
            div.wide {
                table {
                    caption { (caption) }
                    thead {
                        tr {
                            @for (head, is_number) in heads {
                                @if head.is_empty() { td {} } @else {
                                    th.n[*is_number] scope="col" { (head) }
                                }
                            }
                            @if ticks { td {} }
                        }
                    }
                    tbody {
                        @for row in rows {
                            tr {
                                @for (at, cell) in row.cells.iter().enumerate() {
                                    @let is_number = heads.get(at).is_some_and(|head| head.1);
                                    @if at == named { th scope="row" { (cell) } } @else {
                                        td.n[is_number] { (cell) }
                                    }
                                }
                                @if ticks {
                                    td.n {
                                        @if let Some(tick) = &row.tick {
                                            input type="checkbox" aria-label=(tick);
                                        }
                                    }
                                }
                            }
                        }
                    }
                }
            }
        }
    }

    fn chart(&self, charts: &[Vec<u8>]) -> Markup {
        let title = self.word("day-plan");
        let whose = format!("{title}: {}, {}", self.document.title, self.document.date);
        html! {
            h2 { (title) }
            @for (at, bytes) in charts.iter().enumerate() {
                @let data = base64::engine::general_purpose::STANDARD.encode(bytes);
                @let place = format!("{whose} ({}/{})", at + 1, charts.len());
                div.wide.chart {
                    img src=(format!("data:image/svg+xml;base64,{data}")) alt=(place);
                }
            }
        }
    }

    fn orders(&self) -> Markup {
        let rows = self.document.orders.iter().map(|order| ListRow {
            tick: None,
            cells: vec![
                html! { (order.title) @if let Some(whom) = &order.customer { " · " (whom) } },
                html! { (order.amount) },
                html! { (self.document.clock(&order.by)) },
                self.done(order),
            ],
        });
        let rows: Vec<ListRow> = rows.collect();
        let heads = [
            (self.word("day-product"), false),
            ("", false),
            (self.word("day-by"), false),
            (self.word("day-done"), false),
        ];
        self.table(&self.document.title, &heads, 0, &rows)
    }

    fn clock(&self, moment: Option<&MomentPart>) -> String {
        moment.map_or_else(|| "–".to_owned(), |moment| self.document.clock(moment))
    }

    /// When an order is done, and what else has to be known of it.
    fn done(&self, order: &DayOrder) -> Markup {
        html! {
            @if order.missing > 0 {
                strong { (order.missing) " " (self.word("day-missing")) }
            } @else if order.late > 0 {
                strong { (self.clock(order.done.as_ref())) " " (self.word("day-late")) }
            } @else if order.done.is_none() {
                (self.word("day-on-hand"))
            } @else {
                (self.clock(order.done.as_ref()))
            }
            @if order.done.is_some() && order.on_hand > 0 {
                br; span.quiet { (order.on_hand) " " (self.word("day-on-hand")) }
            }
            @if let Some(thaw) = &order.thaw {
                br; span.quiet { (self.word("day-thaw")) " " (self.document.clock(thaw)) }
            }
        }
    }

    /// Batches that are made, by when they are mixed.
    fn by_clock(&self) -> Vec<&'d DayBatch> {
        let mut batches: Vec<&DayBatch> =
            self.document.batches.iter().filter(|batch| batch.mixed.is_some()).collect();
        batches.sort_by_key(|batch| batch.mixed_at);
        batches
    }

    fn mixing(&self) -> Markup {
        let batches = self.by_clock();
        let heads = [
            (self.word("clock"), false),
            (self.word("day-latest"), false),
            (self.word("day-product"), false),
            (self.word("day-size"), true),
            (self.word("water"), true),
            (self.word("ice"), true),
        ];
        let mut mixers: Vec<Option<&str>> = Vec::new();
        for batch in &batches {
            if !mixers.contains(&batch.mixer.as_deref()) {
                mixers.push(batch.mixer.as_deref());
            }
        }
        html! {
            h2 { (self.word("day-mixing")) }
            @for mixer in mixers {
                @let own = batches.iter().filter(|batch| batch.mixer.as_deref() == mixer);
                @let rows: Vec<ListRow> = own.map(|batch| self.mix(batch)).collect();
                (self.table(mixer.unwrap_or(self.word("day-by-hand")), &heads, 2, &rows))
            }
            @for mixture in &self.document.mixtures { (self.mixture(mixture)) }
        }
    }

    fn mixture(&self, mixture: &DayMixture) -> Markup {
        html! {
            (self.weighed(&mixture.name, &mixture.name, &mixture.lines, &mixture.made))
            (self.goes_into(&mixture.takes, Vec::new()))
        }
    }

    /// What something is weighed of, and what it makes, a tick beside each line.
    fn weighed(&self, caption: &str, name: &str, lines: &[DayLine], made: &Weight) -> Markup {
        let line = |line: &DayLine| ListRow {
            tick: Some(format!("{name}: {}", line.name)),
            cells: vec![html! { (line.name) }, weight(&line.weight)],
        };
        let in_all = ListRow {
            tick: None,
            cells: vec![
                html! { strong { (self.word("in-all")) } },
                html! { strong { (weight(made)) } },
            ],
        };
        let rows: Vec<ListRow> = lines.iter().map(line).chain([in_all]).collect();
        self.table(caption, &[(self.word("day-to-weigh"), false), ("", true)], 0, &rows)
    }

    /// Who takes how much of something, and when; other rows after them.
    fn goes_into(&self, takes: &[DayTake], others: Vec<ListRow>) -> Markup {
        let take = |take: &DayTake| ListRow {
            tick: None,
            cells: vec![
                html! { (take.who) },
                html! { (self.clock(take.at.as_ref())) },
                weight(&take.weight),
            ],
        };
        let rows: Vec<ListRow> = takes.iter().map(take).chain(others).collect();
        let heads = [(self.word("day-product"), false), (self.word("clock"), false), ("", true)];
        self.table(self.word("day-for"), &heads, 0, &rows)
    }

    fn mix(&self, batch: &DayBatch) -> ListRow {
        let name = numbered(batch);
        ListRow {
            tick: Some(name.clone()),
            cells: vec![
                html! { strong { (self.clock(batch.mixed.as_ref())) } },
                late(batch.mixed_at_latest.as_ref()),
                html! { (name) },
                weight(&batch.dough),
                html! { @if let Some(water) = &batch.water {
                    (weight(&water.water)) " " (water.temperature)
                } },
                html! { @if let Some(ice) = batch.water.as_ref().and_then(|it| it.ice.as_ref()) {
                    (weight(ice))
                } },
            ],
        }
    }

    fn levains(&self) -> Markup {
        html! {
            h2 { (self.word("day-levains")) }
            @for build in &self.document.builds { (self.levain(build)) }
        }
    }

    fn levain(&self, build: &DayBuild) -> Markup {
        let several =
            if build.of > 1 { format!(" {}/{}", build.number, build.of) } else { String::new() };
        let name = format!("{}{several}", build.name);
        let begins = build.begins.as_ref().map(|at| format!(", {} {}", at.date, at.time));
        let caption = format!("{name}{}", begins.unwrap_or_default());
        let kept =
            [("kept-back", &build.kept_back), ("day-left", &build.left), ("saved", &build.saved)];
        let kept = kept.into_iter().filter_map(|(word, grams)| {
            let cells = vec![html! { (self.word(word)) }, html! {}, weight(grams.as_ref()?)];
            Some(ListRow { tick: None, cells })
        });
        html! {
            @if build.on_hand {
                p {
                    strong { (name) } (self.word("colon")) " " (self.word("day-there"))
                    @if let Some(ripe) = &build.ripe { " " (ripe.date) " " (ripe.time) }
                }
            }
            @if !build.on_hand { (self.weighed(&caption, &name, &build.lines, &build.made)) }
            @if let Some(wait) = &build.wait { p.quiet { (wait) } }
            (self.goes_into(&build.takes, kept.collect()))
        }
    }

    fn bench(&self) -> Markup {
        let work = self.document.tasks.iter().filter(|task| task.hands.is_some() && !task.at_oven);
        let rows: Vec<ListRow> = work
            .map(|task| ListRow {
                tick: Some(format!("{} {}", task.whose, task.title)),
                cells: vec![
                    html! {
                        span.quiet { (task.begins.date) } " "
                        strong { (task.begins.time) } "–" (task.ends.time)
                    },
                    late(task.latest.as_ref()),
                    html! { (task.whose) },
                    html! { (task.title) (load(task)) },
                    html! { @if let Some(hands) = task.hands { (hands) } },
                ],
            })
            .collect();
        let heads = [
            (self.word("clock"), false),
            (self.word("day-latest"), false),
            (self.word("day-product"), false),
            (self.word("to-do"), false),
            (self.word("day-hands-short"), true),
        ];
        html! {
            h2 { (self.word("day-bench")) }
            (self.table(&self.document.date, &heads, 2, &rows))
        }
    }

    fn oven(&self) -> Markup {
        let is_deck = |row: &&DayRow| row.kind == RowKind::Deck && !row.tasks.is_empty();
        let heads = [
            (self.word("clock"), false),
            (self.word("day-latest"), false),
            (self.word("day-product"), false),
            (self.word("day-heat"), true),
            (self.word("day-out"), true),
        ];
        html! {
            h2 { (self.word("day-oven")) }
            @for row in self.document.rows.iter().filter(is_deck) {
                (self.table(&row.name, &heads, 2, &self.deck(row)))
            }
        }
    }

    fn deck(&self, row: &DayRow) -> Vec<ListRow> {
        let own = row.tasks.iter().filter_map(|&task| self.document.tasks.get(task));
        let mut rows: Vec<ListRow> = Vec::new();
        let mut before: Option<&DayTask> = None;
        for task in own {
            // The deck is heated or cooled between two loads.
            let heats = before.and_then(|it| it.heat_at_end.as_ref()).zip(task.heat.as_ref());
            if let Some((was, heat)) = heats.filter(|(was, heat)| was != heat) {
                let from = before.map_or("", |it| it.ends.time.as_str());
                rows.push(ListRow {
                    tick: None,
                    cells: vec![
                        html! { (from) "–" (task.begins.time) },
                        html! {},
                        html! { strong { (was) " → " (heat) } },
                        html! {},
                        html! {},
                    ],
                });
            }
            rows.push(ListRow {
                tick: Some(format!("{}{}", task.whose, load(task))),
                cells: vec![
                    html! { strong { (task.begins.time) } },
                    late(task.latest.as_ref()),
                    html! { (task.whose) (load(task)) },
                    html! { (heat_of(task)) },
                    html! { (task.ends.time) },
                ],
            });
            before = Some(task);
        }
        rows
    }

    fn requisition(&self) -> Markup {
        let rows: Vec<ListRow> = self
            .document
            .requisition
            .iter()
            .map(|store| ListRow {
                tick: Some(store.name.clone()),
                cells: vec![
                    html! { (store.name) },
                    html! { @if let Some(short) = &store.short { strong { (weight(short)) } } },
                    html! { (store.packs.as_deref().unwrap_or_default()) },
                    weight(&store.weight),
                ],
            })
            .collect();
        let heads = [
            (self.word("day-store"), false),
            (self.word("day-short"), true),
            (self.word("day-packs"), true),
            ("", true),
        ];
        self.table(self.word("day-requisition"), &heads, 0, &rows)
    }

    fn labels(&self) -> Markup {
        html! {
            h2 { (self.word("day-labels")) }
            div.columns {
                @for batch in self.by_clock() {
                    section.care {
                        p { strong { (batch.title) } " " (batch.number) "/" (batch.of) }
                        p { (batch.makes) }
                        p {
                            (self.word("day-mixed")) " " strong { (self.clock(batch.mixed.as_ref())) }
                            ", " (self.word("day-done")) " "
                            strong { (self.clock(batch.ready.as_ref())) }
                            @if batch.ready_until != batch.ready {
                                "–" (self.clock(batch.ready_until.as_ref()))
                            }
                        }
                        @if !batch.contains.is_empty() {
                            p { (self.word("contains")) " " strong { (batch.contains.join(", ")) } "." }
                        }
                        @if !batch.may_contain.is_empty() {
                            p { (self.word("may-contain")) " " (batch.may_contain.join(", ")) "." }
                        }
                        @if !batch.contains_unknown.is_empty() {
                            p { strong {
                                (self.word("day-unknown")) " " (batch.contains_unknown.join(", ")) "."
                            } }
                        }
                    }
                }
            }
        }
    }

    fn packing(&self) -> Markup {
        let mut customers: Vec<Option<&str>> = Vec::new();
        for order in &self.document.orders {
            if !customers.contains(&order.customer.as_deref()) {
                customers.push(order.customer.as_deref());
            }
        }
        let heads = [
            (self.word("day-product"), false),
            ("", true),
            (self.word("day-by"), true),
            (self.word("day-done"), true),
        ];
        html! {
            h2 { (self.word("day-packing")) }
            @for customer in customers {
                @let own = self.document.orders.iter();
                @let own = own.filter(|order| order.customer.as_deref() == customer);
                @let rows: Vec<ListRow> = own.map(|order| ListRow {
                    tick: Some(format!("{} {}", order.amount, order.title)),
                    cells: vec![
                        html! { (order.title) },
                        html! { (order.amount) },
                        html! { (self.document.clock(&order.by)) },
                        self.done(order),
                    ],
                }).collect();
                (self.table(customer.unwrap_or(self.word("day-counter")), &heads, 0, &rows))
            }
        }
    }
}

fn weight(weight: &Weight) -> Markup {
    html! { span { (weight.said()) } }
}

fn late(moment: Option<&MomentPart>) -> Markup {
    html! { @if let Some(moment) = moment { span.quiet { (moment.time) } } }
}

fn numbered(batch: &DayBatch) -> String {
    match batch.of > 1 {
        true => format!("{} {}/{}", batch.title, batch.number, batch.of),
        false => batch.title.clone(),
    }
}

fn load(task: &DayTask) -> String {
    task.load.map(|load| format!(" ({load})")).unwrap_or_default()
}
