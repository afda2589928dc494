//! `substitute`: a part of the flour is another one, and the hydration stays.

use super::super::compare::named;
use super::super::maker::Maker;
use super::super::task::Task;
use super::draw::Draw;
use super::sums::{CountedIn, Rule, Sums};
use crate::print::document::{Document, LinePart};
use crate::quantity::display::{percent, read_exact};
use crate::quantity::{Exact, ratio};
use crate::syntax::booklet::Level;
use crate::syntax::tree::{Name, Quantity};

/// Which flour, by which one, and how much of all flour.
struct Exchange<'d> {
    from: &'d LinePart,
    /// The other flour's key and the name to print.
    to: (String, String),
    part: Exact,
}

impl Maker<'_> {
    /// The new weights where another flour takes the place of a part of one.
    pub fn substitute(
        &self,
        parts: Option<&(Name, Name, Quantity)>,
        document: &Document,
        level: Level,
        draw: &mut Draw,
    ) -> Result<Task, String> {
        let exchange = self.exchange(parts, document, draw)?;
        let ways = [true, false].map(|from_dough| self.exchanged(document, &exchange, from_dough));
        let sums = Sums::of_level(ways.into_iter().flatten().collect(), level);
        let sums = sums.ok_or("it has no flour")?.without_needless();
        let part = format!("{} %", self.words.number(&percent(&exchange.part, 1)));
        let args = [("part", part.as_str()), ("from", &exchange.from.name), ("to", &exchange.to.1)];
        let columns = ["%", "exercise-before", "exercise-after"]
            .map(|id| if id == "%" { id.to_owned() } else { self.words.say(id) });
        Ok(Task::of(
            self,
            sums,
            self.task_title("exercise-substitute", document),
            vec![self.words.fill("exercise-substitute-lead", &args)],
            self.words.say("print-ingredient"),
            &columns,
        )
        .without_empty_columns())
    }

    fn exchange<'d>(
        &self,
        parts: Option<&(Name, Name, Quantity)>,
        document: &'d Document,
        draw: &mut Draw,
    ) -> Result<Exchange<'d>, String> {
        let flours = document.total.iter().filter(|line| line.class.as_deref() == Some("flour"));
        let flours: Vec<&LinePart> = flours.filter(|line| share(line).is_some()).collect();
        let (from, to, part) = match parts {
            Some((from, to, _)) if from.key == to.key => {
                return Err(format!("`{}` can't take its own place", from.shown));
            }
            Some((from, to, part)) => {
                let own = flours.iter().find(|line| line.key == from.key.as_str());
                let is_there = document.total.iter().any(|line| line.key == from.key.as_str());
                let names: Vec<String> =
                    flours.iter().map(|line| format!("`{}`", line.key)).collect();
                let names = names.join(", ");
                let own = own.ok_or_else(|| match is_there {
                    true => format!("`{}` is not one of its flours: {names}", from.shown),
                    false => format!("it has no `{}`; its flours are {names}", from.shown),
                })?;
                (*own, (to.key.to_string(), to.shown.to_string()), self.house.base(part))
            }
            None => {
                let own = flours.iter().max_by_key(|line| share(line));
                let own = own.ok_or("it has no flour")?;
                let others =
                    ["whole wheat flour", "dark rye flour", "white spelt flour", "bread flour"];
                let is_other =
                    |key: &&&str| self.house.ingredient_named(key).is_some() && **key != own.key;
                let known: Vec<&&str> = others.iter().filter(is_other).collect();
                let to = draw.one_of(&known).ok_or("no other flour is known")?;
                let shares = [10, 15, 20, 25, 30];
                let part = ratio(*draw.one_of(&shares).unwrap_or(&20), 100);
                (*own, (to.to_string(), to.to_string()), part)
            }
        };
        if part.is_zero() {
            return Err("nothing of it is exchanged: write a percentage above 0 %".into());
        }
        if part > share(from).unwrap_or_default() {
            return Err(format!("there is less than that of `{}` in it", from.name));
        }
        let line = document.total.iter().find(|line| line.key == to.0);
        let shown = line.map(named).or_else(|| self.words.name("name", &to.1)).unwrap_or(to.1);
        Ok(Exchange { from, to: (to.0, shown), part })
    }

    /// From the weight of the dough and all percentages, or from that of the flour.
    fn exchanged(
        &self,
        document: &Document,
        exchange: &Exchange,
        from_dough: bool,
    ) -> Option<Sums> {
        let mut sums = Sums::default();
        let flour_row = self.words.say("figure-flour");
        let given = |sums: &mut Sums, line: &LinePart| {
            let row = sums.row(&named(line));
            Some(sums.given(self, (row, 0), CountedIn::Percent, share(line)?))
        };
        // The two flours first.
        let own = given(&mut sums, exchange.from)?;
        let to = sums.row(&exchange.to.1);
        let known = document.total.iter().find(|line| line.key == exchange.to.0);
        let has = match known {
            Some(line) => Some(given(&mut sums, line)?),
            None => None,
        };
        let flour = match from_dough {
            true => {
                let mut all = vec![own];
                all.extend(has);
                let weighed = document.total.iter().filter(|line| line.weight.is_some());
                for line in weighed {
                    if line.key != exchange.from.key && line.key != exchange.to.0 {
                        all.push(given(&mut sums, line)?);
                    }
                }
                let row = sums.row(&self.words.say("exercise-all-percent"));
                let all = sums.then(self, (row, 0), CountedIn::Percent, Rule::Sum(all))?;
                let row = sums.row(&self.words.say("figure-dough"));
                let dough = sums.given_alone(self, (row, 1), &document.total_sum)?;
                let row = sums.row(&flour_row);
                sums.then(self, (row, 1), CountedIn::Weight, Rule::Over(dough, all))?
            }
            false => {
                let row = sums.row(&flour_row);
                sums.given_weight(self, (row, 1), &document.makes.flour)?
            }
        };
        if sums.worth(flour) != read_exact(&document.makes.flour.grams)? {
            return None;
        }
        let row = sums.row(&self.words.say("exercise-exchanged"));
        let part = sums.given(self, (row, 0), CountedIn::Percent, exchange.part.clone());
        let rule = Rule::Times(vec![part, flour]);
        // All of the other flour is what is exchanged, where there was none.
        let moved = match has {
            Some(_) => sums.then(self, (row, 2), CountedIn::Weight, rule)?,
            None => sums.asked(self, (to, 2), CountedIn::Weight, rule)?,
        };
        let from = sums.row(&named(exchange.from));
        let before =
            sums.then(self, (from, 1), CountedIn::Weight, Rule::Times(vec![own, flour]))?;
        sums.asked(self, (from, 2), CountedIn::Weight, Rule::Less(vec![before, moved]))?;
        if let Some(has) = has {
            let rule = Rule::Times(vec![has, flour]);
            let before = sums.then(self, (to, 1), CountedIn::Weight, rule)?;
            sums.asked(self, (to, 2), CountedIn::Weight, Rule::Sum(vec![before, moved]))?;
        }
        let waters = document.total.iter().filter(|line| line.class.as_deref() == Some("water"));
        for line in waters {
            let Some(share) = share(line) else { continue };
            let row = sums.row(&named(line));
            let share = match from_dough {
                // It stands there already.
                true => sums.at(row, 0)?,
                false => sums.given(self, (row, 0), CountedIn::Percent, share),
            };
            sums.asked(self, (row, 2), CountedIn::Weight, Rule::Times(vec![share, flour]))?;
        }
        Some(sums)
    }
}

/// A line's exact share of all flour; none of a range.
fn share(line: &LinePart) -> Option<Exact> {
    read_exact(line.percent_exact.as_deref().filter(|_| line.percent_low.is_none())?)
}
