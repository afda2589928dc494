//! The house's own settings, and its machines and tins.

use super::clocks::clock_time;
use super::cursor::Cursor;
use super::names::name_of;
use super::said_for;
use super::seen_clauses::SeenClauses;
use super::statements::{Statement, Statements, opens_in_file};
use super::words::{
    OF_A_BAKEHOUSE, OF_A_BOARD, OF_A_FILE, OF_A_MIXER, OF_A_PLACE, OF_A_TIN, OF_AN_OVEN, near,
};
use super::{Reader, Reading};
use crate::quantity::{System, Unit, Units, int};
use crate::source::{Span, is_blank, is_unseen};
use crate::syntax::expected_amount::ExpectedAmount;
use crate::syntax::findings::{
    incomplete_statement, malformed_hours, missing_name, missing_value, said_twice,
    unexpected_text, unknown_value, unknown_word,
};
use crate::syntax::outline::TokenKind;
use crate::syntax::tree::{
    Aim, Bakehouse, Cooling, Extent, Machine, MachineKind, Name, Open, Quantity, ScaleLine, Text,
    Weekdays,
};
use ecow::EcoString;

impl<'a> Reader<'a> {
    /// Reads a `bakehouse` block.
    pub fn bakehouse(
        &mut self,
        statement: &Statement<'a>,
        outer: &mut Statements<'a>,
    ) -> Bakehouse {
        let mut cursor = statement.after_word();
        let title = cursor.is_text().then(|| self.text(&mut cursor));
        let end = match cursor.word().filter(|_| title.is_none()) {
            Some(_) => {
                let rest = cursor.rest();
                Err(missing_value::missing_text(rest, "bakehouse", cursor.under(rest)).into())
            }
            None => self.end(&cursor, "a bakehouse has a title in quotes"),
        };
        let title = title.filter(Text::says_something);
        self.done(end);
        let mut inner = self.open(statement);
        let mut house = Bakehouse { title, ..empty_bakehouse(statement.span) };
        let mut said = SeenClauses::default();
        while let Some(statement) = inner.next(self) {
            let word = statement.cursor.lower();
            if let Some(kind) = machine_kind(&word) {
                house.machines.extend(self.machine(kind, &statement, &mut inner));
            } else if statement.has_block() && OF_A_FILE.contains(&&*word) {
                self.hand_out(&statement, &mut inner, outer);
            } else {
                self.setting(&statement, &word, &mut house, &mut said);
            }
        }
        self.close(&inner);
        house
    }

    fn setting(
        &mut self,
        statement: &Statement<'a>,
        word: &str,
        house: &mut Bakehouse,
        said: &mut SeenClauses,
    ) {
        let Some(word) = OF_A_BAKEHOUSE.iter().copied().find(|known| *known == word) else {
            let here = statement.cursor.here();
            return match said_for::in_a_bakehouse(self.under(statement.span)) {
                Some(help) => {
                    let written = self.under(here);
                    self.fail(unknown_word::said_for(here, written, "bakehouse", help));
                }
                None => self.unknown_word(statement, "bakehouse", OF_A_BAKEHOUSE),
            };
        };
        if self.first_time(said, word, statement.span) {
            let mut cursor = statement.after_word();
            self.needless_colon(&mut cursor);
            let read = self.setting_value(&mut cursor, word, house, statement.span);
            self.done(read);
            self.no_block(statement);
        }
    }

    fn setting_value(
        &mut self,
        cursor: &mut Cursor,
        word: &'static str,
        house: &mut Bakehouse,
        span: Span,
    ) -> Reading<()> {
        match word {
            "language" => {
                house.language = Some(self.language(cursor, word)?);
                if cursor.take("and") {
                    house.second_language = Some(self.language(cursor, word)?);
                }
                return self.end(cursor, "write `language fr`, or `language fr and de`");
            }
            "units" => {
                let first = self.metric_or_us(cursor, word)?;
                let both = cursor.take("and") && self.metric_or_us(cursor, word)? != first;
                house.units = Units { first, both };
                return self
                    .end(cursor, "write `units metric`, `units US`, or `units metric and US`");
            }
            "measures" => {
                house.us_measures = self.metric_or_us(cursor, word)? == System::Us;
                house.measures_said = true;
            }
            "volumes" => house.volumes = self.beside_weights(cursor, word)?,
            "currency" => house.currency = Some(self.currency(cursor, word)?),
            "zone" => {
                let span = cursor.rest();
                house.zone = Some((self.as_written(cursor, word)?, span));
                return Ok(());
            }
            "room" | "flour" | "tap" | "cold" => {
                self.needless_temperature(cursor);
                let temperature = self.quantity(cursor, ExpectedAmount::Temperature)?;
                house.temperatures.push((word.into(), temperature));
            }
            "scale" => {
                house.scale = self.scale(cursor, span)?;
                house.scale_span = Some(span);
            }
            "cooling" => {
                let all = cursor.rest();
                house.cooling = Some(self.cooling(cursor, all)?);
            }
            "water" => {
                let span = cursor.rest();
                let value = self.water_method(cursor)?;
                house.settings.push((word.into(), value.into(), span));
            }
            "codes" => {
                let span = cursor.rest();
                if !cursor.take("qr") {
                    return Err(unknown_value::codes(span, cursor.under(span)).into());
                }
                house.settings.push((word.into(), "qr".into(), span));
            }
            "hours" => {
                house.hours = self.opening_hours(cursor)?;
            }
            "aim" => house.aim = Some((self.aim(cursor)?, span)),
            _ => {
                let behind = cursor.rest();
                let value = self.as_written(cursor, word)?;
                house.settings.push((word.into(), value, behind));
                return Ok(());
            }
        }
        self.end(cursor, "")
    }

    /// `least hands`, `finish early` or `fewest oven changes`.
    pub fn aim(&mut self, cursor: &mut Cursor) -> Reading<Aim> {
        let rest = cursor.rest();
        let words = Aim::ALL.map(|(words, _)| words);
        match cursor.longest_of(&words) {
            Some(found) => {
                let known = Aim::ALL.iter().find(|(words, _)| *words == found);
                Ok(known.map(|(_, aim)| *aim).unwrap_or_default())
            }
            None => Err(unknown_value::aim(rest, cursor.under(rest)).into()),
        }
    }

    /// `en`, `de-AT`: a tag, not the name of the language.
    pub fn language(&mut self, cursor: &mut Cursor, word: &str) -> Reading<Name> {
        let here = cursor.here();
        let name = self.name(cursor, |cursor| cursor.is("and"));
        let name = name.ok_or_else(|| missing_value::missing_value(here, word))?;
        match said_for::language(&name.key) {
            Some(tag) => Err(unknown_value::language(name.span, &name.shown, tag).into()),
            None => Ok(name),
        }
    }

    /// `room temperature 21C`: the second word says nothing more.
    pub fn needless_temperature(&mut self, cursor: &mut Cursor) {
        let word = cursor.here();
        if cursor.is("temperature") && cursor.further().is_number() {
            let gap = Span { start: cursor.after().start, ..word };
            cursor.advance();
            self.report(unexpected_text::needless(word, gap, cursor.under(cursor.rest())));
        }
    }

    /// `EUR`: three letters, as all currencies have.
    fn currency(&mut self, cursor: &mut Cursor, word: &str) -> Reading<Name> {
        if let Some(sign) = cursor.sign() {
            return Err(unknown_value::currency_sign(cursor.here(), sign).into());
        }
        let name = self.setting_name(cursor, word)?;
        if !is_currency(&name.shown) {
            return Err(unknown_value::currency(name.span, &name.shown).into());
        }
        Ok(Name { shown: name.shown.to_uppercase(), ..name })
    }

    fn setting_name(&mut self, cursor: &mut Cursor, word: &str) -> Reading<Name> {
        let here = cursor.here();
        let name = self.name(cursor, |_| false);
        name.ok_or_else(|| missing_value::missing_value(here, word).into())
    }

    /// A value that is kept as it stands: a text without its quotes, or the words to the
    /// end of the statement.
    pub fn as_written(&mut self, cursor: &mut Cursor, word: &str) -> Reading<EcoString> {
        if cursor.at_end() {
            return Err(missing_value::missing_value(cursor.here(), word).into());
        }
        if cursor.is_text() && cursor.further().at_end() {
            let here = cursor.here();
            let value = self.plain_text(cursor);
            let shows = |letter: char| !is_blank(letter) && !is_unseen(letter);
            return match value.chars().any(shows) {
                true => Ok(value),
                false => Err(missing_value::missing_value(here, word).into()),
            };
        }
        Ok(cursor.under(cursor.rest()).into())
    }

    pub fn metric_or_us(&mut self, cursor: &mut Cursor, word: &str) -> Reading<System> {
        if cursor.take("metric") {
            return Ok(System::Metric);
        }
        if cursor.take("US") {
            return Ok(System::Us);
        }
        let rest = cursor.rest();
        let near = near(cursor.under(rest), &["metric"]);
        Err(unknown_value::metric_or_us(rest, word, cursor.under(rest), near).into())
    }

    /// `beside weights`.
    fn beside_weights(&mut self, cursor: &mut Cursor, word: &str) -> Reading<bool> {
        if cursor.take_both("beside", "weights") {
            return Ok(true);
        }
        let rest = cursor.rest();
        Err(unknown_value::beside_weights(rest, word, cursor.under(rest)).into())
    }

    /// `900 g from 25C to 8C in 3h at 4C`.
    fn cooling(&mut self, cursor: &mut Cursor, span: Span) -> Reading<Cooling> {
        let mass = self.quantity(cursor, ExpectedAmount::Mass)?;
        let mut next = |reader: &mut Self, word: &str, wanted| {
            if !cursor.take(word) {
                return Err(incomplete_statement::cooling(span).into());
            }
            reader.quantity(cursor, wanted)
        };
        Ok(Cooling {
            mass,
            from: next(self, "from", ExpectedAmount::Temperature)?,
            to: next(self, "to", ExpectedAmount::Temperature)?,
            time: next(self, "in", ExpectedAmount::Time)?,
            at: next(self, "at", ExpectedAmount::Temperature)?,
            span,
        })
    }

    /// `by factor` or `by heat balance`.
    fn water_method(&mut self, cursor: &mut Cursor) -> Reading<&'static str> {
        let rest = cursor.rest();
        if cursor.take("by") {
            if cursor.take("factor") {
                return Ok("by factor");
            }
            if cursor.take_both("heat", "balance") {
                return Ok("by heat balance");
            }
        }
        Err(unknown_value::water_by(rest, cursor.under(rest)).into())
    }

    /// `5 g above 1 kg, 1 g, 0.1 g below 20 g`.
    fn scale(&mut self, cursor: &mut Cursor, span: Span) -> Reading<Vec<ScaleLine>> {
        let mut scale = Vec::new();
        self.list(cursor, |reader, cursor| {
            let step = reader.quantity(cursor, ExpectedAmount::Mass)?;
            let (mut above, mut below) = (None, None);
            loop {
                if above.is_none() && cursor.take("above") {
                    above = Some(reader.quantity(cursor, ExpectedAmount::Mass)?);
                } else if below.is_none() && cursor.take("below") {
                    below = Some(reader.quantity(cursor, ExpectedAmount::Mass)?);
                } else {
                    break;
                }
            }
            scale.push(ScaleLine { step, above, below });
            Ok(())
        })?;
        let open = |line: &&ScaleLine| line.above.is_none() && line.below.is_none();
        match scale.iter().filter(open).count() {
            1 => Ok(scale),
            steps => Err(incomplete_statement::scale_steps(span, steps).into()),
        }
    }

    /// `mon..fri 06:00..22:00, sat, sun 08:00..23:00`: weekdays hold for the stretches up to
    /// the next weekday; without any, every day is meant.
    pub fn opening_hours(&mut self, cursor: &mut Cursor) -> Reading<Vec<Open>> {
        let mut hours: Vec<Open> = Vec::new();
        let mut days: Option<Weekdays> = None;
        // Weekdays that have no stretch yet.
        let mut waiting = false;
        loop {
            let here = cursor.here();
            if let Some(more) = self.weekdays(cursor)? {
                if days.is_none() && !hours.is_empty() {
                    return Err(malformed_hours::some_weekdays(here).into());
                }
                let before = days.filter(|_| waiting).unwrap_or(Weekdays::NONE);
                days = Some(before.and(more));
                waiting = true;
            }
            if !(waiting && cursor.is_comma()) {
                let (from, to) = self.hours(cursor)?;
                let hands = match cursor.take("with") {
                    true => self.whole_number(cursor, "`with`")?.0,
                    false => 1,
                };
                hours.push(Open { days: days.unwrap_or(Weekdays::ALL), from, to, hands });
                waiting = false;
            }
            if !cursor.take_comma() {
                self.end(cursor, "")?;
                return Ok(hours);
            }
        }
    }

    /// `mon`, `mon..fri`, `sat..mon`; none where no word follows.
    fn weekdays(&mut self, cursor: &mut Cursor) -> Reading<Option<Weekdays>> {
        if cursor.peek_kind() != Some(TokenKind::Word) {
            return Ok(None);
        }
        let first = self.weekday(cursor)?;
        if cursor.peek_kind() != Some(TokenKind::Range) && !cursor.is_dash() {
            return Ok(Some(Weekdays::NONE.with(first)));
        }
        cursor.advance();
        let last = self.weekday(cursor)?;
        let count = (last + 7 - first) % 7;
        Ok(Some((0..=count).fold(Weekdays::NONE, |days, more| days.with(first + more))))
    }

    fn weekday(&mut self, cursor: &mut Cursor) -> Reading<u8> {
        let here = cursor.here();
        let written = cursor.under(here);
        let day = Weekdays::number(written);
        let day = day.ok_or_else(|| malformed_hours::no_weekday(here, written))?;
        cursor.advance();
        Ok(day)
    }

    /// `03:30..13:00`, in minutes since midnight; a range may pass midnight.
    pub fn hours(&mut self, cursor: &mut Cursor) -> Reading<(u32, u32)> {
        let first = cursor.here();
        let from = self.time_of_day(cursor)?;
        if cursor.peek_kind() == Some(TokenKind::Range) || cursor.is_dash() {
            cursor.advance();
            let to = self.time_of_day(cursor)?;
            if from % (24 * 60) == to % (24 * 60) && from >= to {
                let span = cursor.since(first);
                return Err(malformed_hours::no_hours(span, cursor.under(span)).into());
            }
            return Ok((from, to));
        }
        let rest = cursor.after();
        Err(malformed_hours::hours(rest).into())
    }

    /// `03:30`, in minutes since midnight; 1440 at most.
    pub fn time_of_day(&mut self, cursor: &mut Cursor) -> Reading<u32> {
        let here = cursor.here();
        let written = cursor.under(here);
        let minutes = written.split_once(':').and_then(|(hours, minutes)| {
            let hours = hours.parse::<u32>().ok().filter(|hours| *hours <= 24)?;
            let two_digits = minutes.len() == 2;
            let minutes = minutes.parse::<u32>().ok().filter(|minutes| *minutes < 60)?;
            (two_digits && hours * 60 + minutes <= 24 * 60).then_some(hours * 60 + minutes)
        });
        // `7:30 pm` would be twelve hours earlier without its last word.
        let next = cursor.under(cursor.further().here()).to_lowercase();
        let goes_on = ["am", "pm", "a.m.", "p.m.", "a", "p", "uhr"].contains(&next.as_str());
        if !cursor.is_number() || minutes.is_none() || goes_on {
            // `7 am` and `7h30` are several words, and all of them are meant.
            let mut ahead = *cursor;
            let spans: Vec<Span> = (0..3)
                .map(|_| {
                    ahead.advance();
                    ahead.since(here)
                })
                .collect();
            let mut spans = spans.into_iter().rev();
            let meant = spans.find_map(|at| Some((at, clock_time(cursor.under(at))?)));
            let (span, meant) = match meant {
                Some((span, meant)) => (span, Some(meant)),
                None => (here, None),
            };
            let written = cursor.under(span);
            return Err(malformed_hours::no_time_of_day(span, written, meant).into());
        }
        cursor.advance();
        Ok(minutes.unwrap_or(0))
    }

    /// `mixer spiral { holds 3 kg..28 kg; friction 11C }`; none where it has no name.
    pub fn machine(
        &mut self,
        kind: MachineKind,
        statement: &Statement<'a>,
        outer: &mut Statements<'a>,
    ) -> Option<Machine> {
        if !statement.has_block() {
            let (name, holds) = named_and_holding(self.under(statement.after_word().rest()));
            self.fail(missing_value::machine(statement.span, kind.word(), &name, &holds));
            return None;
        }
        let findings = self.findings.len();
        let name = match is_named(kind) || !statement.after_word().at_end() {
            true => self.head_name(statement, kind.word()),
            false => Some(name_of(kind.word(), statement.span)),
        };
        let mut inner = self.open_needed(statement, kind.word());
        let mut machine = Machine {
            kind,
            name: name.clone().unwrap_or_default(),
            holds: Vec::new(),
            friction: None,
            work: None,
            speeds: None,
            volume_per_gram: None,
            greased: Vec::new(),
            ungreased: false,
            machines: None,
            decks: None,
            at: None,
            changes: None,
        };
        let mut said = SeenClauses::default();
        while let Some((statement, word)) = self.next_inside(&mut inner, outer, opens_in_file) {
            let read = self.machine_fact(&statement, &word, &mut machine, &mut said);
            self.done(read);
            self.no_block(&statement);
        }
        self.close(&inner);
        let name = name?;
        if kind == MachineKind::Tin && machine.holds.is_empty() && !self.broken_since(findings) {
            self.fail(incomplete_statement::tin_holds(name.span, &name.shown));
        }
        Some(machine)
    }

    fn machine_fact(
        &mut self,
        statement: &Statement<'a>,
        word: &str,
        machine: &mut Machine,
        said: &mut SeenClauses,
    ) -> Reading<()> {
        let mut cursor = statement.cursor;
        let span = statement.span;
        if cursor.at_end() {
            return Ok(());
        }
        if cursor.is_number() && of_a_machine(machine.kind).contains(&"ml per g") {
            let volume = self.quantity(&mut cursor, ExpectedAmount::Volume)?;
            if !cursor.take("per") {
                return Err(incomplete_statement::ml_per_g(span, cursor.under(span)).into());
            }
            let per = self.per_mass(&mut cursor)?;
            self.end(&cursor, "")?;
            if self.first_time(said, "ml per g", span) {
                machine.volume_per_gram = Some((volume, per));
            }
            return Ok(());
        }
        cursor.advance();
        let word =
            of_a_machine(machine.kind).iter().find(|known| known.split(' ').next() == Some(word));
        match (word.copied().unwrap_or_default(), machine.kind) {
            ("holds", kind) => {
                let mut holds = Vec::new();
                self.list(&mut cursor, |reader, cursor| {
                    holds.push(reader.holds(cursor, kind)?);
                    Ok(())
                })?;
                let is_range = holds.iter().any(|(extent, _)| extent.ranged);
                let holds_several = matches!(kind, MachineKind::Oven | MachineKind::Board);
                if !holds_several && holds.len() > 1 || kind == MachineKind::Tin && is_range {
                    let written = cursor.under(span);
                    return Err(said_twice::holds_one(span, written, kind.word()).into());
                }
                if self.first_time(said, "holds", span) {
                    machine.holds = holds;
                }
            }
            ("friction", MachineKind::Mixer) => {
                let friction = self.quantity(&mut cursor, ExpectedAmount::Temperature)?;
                self.end(&cursor, "")?;
                if self.first_time(said, "friction", span) {
                    machine.friction = Some(friction);
                }
            }
            ("work", MachineKind::Mixer) => {
                let energy = self.quantity(&mut cursor, ExpectedAmount::Energy)?;
                if !cursor.take("per") {
                    return Err(incomplete_statement::work_per(span, cursor.under(span)).into());
                }
                let per = self.per_mass(&mut cursor)?;
                self.end(&cursor, "")?;
                if self.first_time(said, "work", span) {
                    machine.work = Some((energy, per));
                }
            }
            ("speeds", MachineKind::Mixer) => {
                let (speeds, written) = self.whole_number(&mut cursor, "`speeds`")?;
                self.end(&cursor, "")?;
                if self.first_time(said, "speeds", span) {
                    machine.speeds = Some((speeds, written));
                }
            }
            ("machines", _) => {
                let (machines, written) = self.whole_number(&mut cursor, "`machines`")?;
                self.end(&cursor, "")?;
                if self.first_time(said, "machines", span) {
                    machine.machines = Some((machines, written));
                }
            }
            ("decks", _) => {
                let (decks, written) = self.whole_number(&mut cursor, "`decks`")?;
                self.end(&cursor, "")?;
                if self.first_time(said, "decks", span) {
                    machine.decks = Some((decks, written));
                }
            }
            ("at", _) => {
                let heat = self.quantity(&mut cursor, ExpectedAmount::Temperature)?;
                self.end(&cursor, "")?;
                if self.first_time(said, "at", span) {
                    machine.at = Some(heat);
                }
            }
            ("changes", _) => {
                let time = self.quantity(&mut cursor, ExpectedAmount::Time)?;
                if !cursor.take("per") {
                    return Err(incomplete_statement::changes_per(span, cursor.under(span)).into());
                }
                let heat = self.quantity(&mut cursor, ExpectedAmount::Temperature)?;
                self.end(&cursor, "")?;
                if self.first_time(said, "changes", span) {
                    machine.changes = Some((time, heat));
                }
            }
            ("greased with", MachineKind::Tin) => {
                if !cursor.take("with") {
                    return Err(incomplete_statement::greased_with(span).into());
                }
                let mut greased = Vec::new();
                self.list(&mut cursor, |reader, cursor| {
                    let here = cursor.here();
                    let name = reader.whole_name(cursor, |_| false);
                    let missing = || missing_name::missing_name(here, "`greased with`");
                    greased.push(name.ok_or_else(missing)?);
                    Ok(())
                })?;
                if self.first_time(said, "greased with", span) {
                    machine.ungreased = matches!(greased.as_slice(), [one] if one.key == "nothing");
                    machine.greased = if machine.ungreased { Vec::new() } else { greased };
                }
            }
            (_, kind) => {
                let here = statement.cursor.here();
                let word = statement.cursor.lower();
                let near = near(&word, of_a_machine(kind));
                let written = statement.cursor.under(here);
                return Err(unknown_word::unknown_word(here, written, kind.word(), near).into());
            }
        }
        Ok(())
    }

    /// What a machine holds: a weight of dough, a volume, a number of pieces of a kind.
    fn holds(&mut self, cursor: &mut Cursor, kind: MachineKind) -> Reading<(Extent, Option<Name>)> {
        match kind {
            MachineKind::Mixer => Ok((self.extent(cursor, ExpectedAmount::Mass)?, None)),
            MachineKind::Tin => Ok((self.extent(cursor, ExpectedAmount::Tin)?, None)),
            MachineKind::Board if is_weight(cursor) => {
                let dough = self.extent(cursor, ExpectedAmount::Mass)?;
                cursor.take("dough");
                Ok((dough, None))
            }
            MachineKind::Oven | MachineKind::Board => {
                let count = self.extent(cursor, ExpectedAmount::Count)?;
                Ok((count, self.name(cursor, |_| false)))
            }
            MachineKind::Proofer | MachineKind::Refrigerator => {
                let count = self.extent(cursor, ExpectedAmount::Count)?;
                if !cursor.take("boards") {
                    cursor.take("board");
                }
                Ok((count, None))
            }
        }
    }

    /// `g` or `100 g` behind `per`.
    fn per_mass(&mut self, cursor: &mut Cursor) -> Reading<Quantity> {
        let span = cursor.here();
        match cursor.word().and_then(Unit::read) {
            Some(unit) if ExpectedAmount::Mass.takes(unit.dimension()) => {
                cursor.advance();
                Ok(Quantity { number: int(1), unit, decimals: Some(0), span })
            }
            _ => self.quantity(cursor, ExpectedAmount::Mass),
        }
    }
}

/// The name and what it holds in the head of a machine that has no braces: `"deck" 24 loaves`.
fn named_and_holding(written: &str) -> (String, String) {
    let at = written.find(|sign: char| sign.is_ascii_digit()).unwrap_or(written.len());
    let (name, holds) = written.split_at(at);
    let plain = |text: &str| text.trim_matches(['"', ' ', '=', ':', ',']).replace(['"', '`'], "");
    let name = plain(name).trim_end_matches(" holds").to_owned();
    (if name == "holds" { String::new() } else { name }, plain(holds))
}

/// Three letters, as ISO 4217 has them.
pub fn is_currency(word: &str) -> bool {
    word.len() == 3 && word.bytes().all(|byte| byte.is_ascii_alphabetic())
}

/// The machine of a word.
pub fn machine_kind(word: &str) -> Option<MachineKind> {
    Some(match word {
        "mixer" => MachineKind::Mixer,
        "oven" => MachineKind::Oven,
        "tin" => MachineKind::Tin,
        "proofer" => MachineKind::Proofer,
        "refrigerator" => MachineKind::Refrigerator,
        "board" => MachineKind::Board,
        _ => return None,
    })
}

/// What a machine of a kind says.
fn of_a_machine(kind: MachineKind) -> &'static [&'static str] {
    match kind {
        MachineKind::Mixer => OF_A_MIXER,
        MachineKind::Oven => OF_AN_OVEN,
        MachineKind::Tin => OF_A_TIN,
        MachineKind::Proofer | MachineKind::Refrigerator => OF_A_PLACE,
        MachineKind::Board => OF_A_BOARD,
    }
}

/// Whether machines of a kind always have a name; one of the others may do without.
fn is_named(kind: MachineKind) -> bool {
    matches!(kind, MachineKind::Mixer | MachineKind::Oven | MachineKind::Tin)
}

/// Whether a number with a unit of weight stands here.
fn is_weight(cursor: &Cursor) -> bool {
    let unit = cursor.further();
    let unit = unit.peek().map(|token| unit.slice(token)).and_then(Unit::read);
    cursor.is_number() && unit.is_some_and(|unit| ExpectedAmount::Mass.takes(unit.dimension()))
}

fn empty_bakehouse(span: Span) -> Bakehouse {
    Bakehouse {
        title: None,
        language: None,
        second_language: None,
        units: Units::default(),
        volumes: false,
        us_measures: false,
        measures_said: false,
        currency: None,
        zone: None,
        temperatures: Vec::new(),
        scale: Vec::new(),
        scale_span: None,
        hours: Vec::new(),
        aim: None,
        cooling: None,
        machines: Vec::new(),
        settings: Vec::new(),
        span,
    }
}
