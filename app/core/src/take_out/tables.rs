//! The tables of what is taken out, and the lines of each thing in them.

use std::collections::BTreeSet;

use shared::csv;
use shared::log::body::{Agreed, Note, OperationCode, Photo, field};
use shared::log::fold::{CustomerState, Item, JobState, PairHistory, ShopState, TicketState, bench, summary};
use shared::log::{EntryId, MadeAt, PersonId, SubjectId};
use shared::price::minor::Minor;
use shared::trade::{Construction, Goods, operations};

use super::forms::{CUSTOMERS, JOBS, MONEY, NOTES, PAIRS, PHOTOGRAPHS, PRICES, TICKETS, TableForm, WORK};
use super::prices;
use crate::pair_history::day_of;

/// A table that is being written.
struct TableText {
    form: &'static TableForm,
    text: String,
}

impl TableText {
    fn new(form: &'static TableForm) -> Self {
        Self {
            form,
            text: [csv::BYTE_ORDER_MARK, &csv::line(form.columns)].concat(),
        }
    }

    fn add<T: AsRef<str>>(&mut self, fields: &[T]) {
        self.text.push_str(&csv::line(fields));
    }
}

/// Every table.
pub(super) struct TakenTables<'a> {
    shop: &'a ShopState,
    customers: TableText,
    pairs: TableText,
    tickets: TableText,
    jobs: TableText,
    work: TableText,
    money: TableText,
    notes: TableText,
    photographs: TableText,
    /// The ids of customers and tickets that have a line: several pairs may have the same.
    met: BTreeSet<SubjectId>,
}

impl<'a> TakenTables<'a> {
    pub(super) fn new(shop: &'a ShopState) -> Self {
        Self {
            shop,
            customers: TableText::new(&CUSTOMERS),
            pairs: TableText::new(&PAIRS),
            tickets: TableText::new(&TICKETS),
            jobs: TableText::new(&JOBS),
            work: TableText::new(&WORK),
            money: TableText::new(&MONEY),
            notes: TableText::new(&NOTES),
            photographs: TableText::new(&PHOTOGRAPHS),
            met: BTreeSet::new(),
        }
    }

    /// The files of all tables: name and text.
    pub(super) fn files(self) -> Vec<(&'static str, String)> {
        let mut list = TableText::new(&PRICES);
        for line in prices::lines(self.shop) {
            list.add(&line);
        }
        let all = [
            self.customers,
            self.pairs,
            self.tickets,
            self.jobs,
            self.work,
            self.money,
            self.notes,
            self.photographs,
            list,
        ];
        all.into_iter()
            .map(|table| (table.form.file, table.text))
            .collect()
    }

    /// A customer under this id, once. One who was merged from several has the same line under each of their ids, so that
    /// every id in the other tables is found.
    pub(super) fn customer(&mut self, id: SubjectId, state: &CustomerState) {
        if self.met.insert(id) {
            let text = |field: &str| state.details.text(field).unwrap_or_default();
            self.customers.add(&[
                id.to_string().as_str(),
                text(field::NAME),
                text(field::PHONE),
                text(field::PHONE_SECOND),
                text(field::EMAIL),
                text(field::ADDRESS),
                text(field::NOTE),
            ]);
        }
    }

    /// A pair, whose files are in this folder.
    pub(super) fn pair(&mut self, history: &PairHistory, folder: &str) {
        let pair = &history.pair;
        let goods = pair.goods();
        let materials = pair.materials().map(|material| material.as_str().to_owned());
        let materials: Vec<String> = materials.collect();
        self.pairs.add(&[
            history.id.to_string().as_str(),
            &id_or_nothing(summary::customer_of(history)),
            pair.goods_code().unwrap_or_default(),
            goods.as_ref().map_or("", Goods::words),
            pair.look().unwrap_or_default(),
            pair.colour().unwrap_or_default(),
            pair.maker().unwrap_or_default(),
            &materials.join(" "),
            folder,
        ]);
    }

    /// A ticket with what was paid and sold on it, once. Returns whether it has a line only now.
    pub(super) fn ticket(&mut self, id: SubjectId, state: &TicketState) -> bool {
        if !self.met.insert(id) {
            return false;
        }
        let ticket = id.to_string();
        let tax = state.tax();
        let opened = state.opened.as_ref().map(|slot| slot.current.at);
        self.tickets.add(&[
            ticket.as_str(),
            &id_or_nothing(state.customer()),
            &opened.map(moment).unwrap_or_default(),
            state.day().unwrap_or_default(),
            state.ready_from().unwrap_or_default(),
            yes(state.is_rush()),
            &tax.map(percent).unwrap_or_default(),
            yes(tax.is_some_and(|rate| rate < 0)),
        ]);
        for item in &state.payments {
            let (what, amount) = (item.body.what.as_str(), self.amount(item.body.minor));
            self.money
                .add(&[ticket.as_str(), what, &moment(item.at), "", "", &amount]);
        }
        for item in &state.sold {
            let amount = self.amount(item.body.price_minor);
            let (at, count) = (moment(item.at), item.body.count.to_string());
            self.money
                .add(&[ticket.as_str(), "sold", &at, &item.body.what, &count, &amount]);
        }
        true
    }

    /// A visit of a pair, with the work on it.
    pub(super) fn job(&mut self, id: SubjectId, pair: SubjectId, job: &JobState) {
        let came_with: Vec<String> = job.came_with().map(|one| one.as_str().to_owned()).collect();
        let construction = |known: Option<Construction>| known.map(|one| one.as_str().to_owned());
        let opened = job.opened.as_ref().map(|slot| slot.current.at);
        let checked = job.checked.as_ref().map(|slot| slot.current.at);
        let left = job.handed_over.as_ref().map(|slot| &slot.current);
        self.jobs.add(&[
            id.to_string().as_str(),
            &pair.to_string(),
            &id_or_nothing(job.ticket()),
            job.tag().unwrap_or_default(),
            &opened.map(moment).unwrap_or_default(),
            job.shelf().unwrap_or_default(),
            &came_with.join(" "),
            &construction(job.construction_guessed()).unwrap_or_default(),
            &construction(job.construction_opened()).unwrap_or_default(),
            &construction(job.construction_left()).unwrap_or_default(),
            &checked.map(moment).unwrap_or_default(),
            &left.map(|item| moment(item.at)).unwrap_or_default(),
            yes(left.is_some_and(|item| item.body.unrepaired)),
        ]);
        self.work_on(&id.to_string(), job);
    }

    fn work_on(&mut self, job_id: &str, job: &JobState) {
        for item in bench::agreed(job) {
            let Agreed { operation, side, .. } = &item.body;
            let what = WorkLine {
                what: "agreed",
                side: side.as_str(),
                variant: item.body.variant().unwrap_or_default(),
                pieces: item.body.pieces().to_string(),
                price: self.amount(item.body.price_minor),
                ..WorkLine::default()
            };
            self.work_line(job_id, item, operation, &what);
        }
        for item in &job.skipped {
            let what = WorkLine {
                what: "skipped",
                note: &item.body.note,
                ..WorkLine::default()
            };
            self.work_line(job_id, item, &item.body.operation, &what);
        }
        for item in &job.steps {
            let what = WorkLine {
                what: "done",
                side: item.body.side.as_str(),
                minutes: bench::noted_minutes(job, item)
                    .map(|minutes| minutes.to_string())
                    .unwrap_or_default(),
                cement: bench::cement_of(job, item).unwrap_or_default(),
                note: &item.body.note,
                ..WorkLine::default()
            };
            self.work_line(job_id, item, &item.body.operation, &what);
        }
        for item in &job.redone {
            let of = job.steps.iter().find(|step| step.entry == item.body.step);
            let operation = of.map_or("", |step| step.body.operation.as_str());
            let what = WorkLine {
                what: "again",
                note: &item.body.scrap,
                ..WorkLine::default()
            };
            self.work_line(job_id, item, operation, &what);
        }
    }

    fn work_line<T>(&mut self, job: &str, item: &Item<T>, operation: &str, line: &WorkLine<'_>) {
        let person = self.name_of(item.person);
        self.work.add(&[
            job,
            line.what,
            &moment(item.at),
            &person,
            operation,
            operations::name(operation),
            line.side,
            line.variant,
            &line.pieces,
            &line.price,
            &line.minutes,
            line.cement,
            line.note,
        ]);
    }

    /// A remark about a subject of this kind; `file` is its recording, empty if it has none.
    pub(super) fn note(&mut self, kind: &str, id: SubjectId, item: &Item<Note>, file: &str) {
        let person = self.name_of(item.person);
        self.notes.add(&[
            kind,
            &id.to_string(),
            &moment(item.at),
            &person,
            &item.body.text,
            file,
        ]);
    }

    /// A photograph: `file` is where it is, empty if it is not on this device; `stored` how it is there.
    pub(super) fn photograph(
        &mut self,
        [pair, job]: [SubjectId; 2],
        item: &Item<Photo>,
        file: &str,
        stored: &str,
    ) {
        let photo = &item.body;
        self.photographs.add(&[
            pair.to_string().as_str(),
            &job.to_string(),
            &moment(item.at),
            photo.shows.as_str(),
            photo.operation.as_ref().map_or("", OperationCode::as_str),
            file,
            stored,
            &photo.full.sha256,
        ]);
    }

    fn amount(&self, minor: Minor) -> String {
        self.shop.money_kind().format(minor)
    }

    /// What somebody who works in the shop is called; empty if the shop does not know them.
    fn name_of(&self, person: Option<PersonId>) -> String {
        let mut people = self.shop.people.iter().rev();
        let known = people.find(|item| Some(item.body.person) == person);
        known.map(|item| item.body.name.clone()).unwrap_or_default()
    }
}

/// What a line of the table of work says beside its job, time, person and operation.
#[derive(Default)]
struct WorkLine<'a> {
    what: &'static str,
    side: &'a str,
    variant: &'a str,
    pieces: String,
    price: String,
    minutes: String,
    cement: &'a str,
    note: &'a str,
}

fn id_or_nothing(id: Option<SubjectId>) -> String {
    id.map(|id| id.to_string()).unwrap_or_default()
}

fn yes(is: bool) -> &'static str {
    if is { "yes" } else { "" }
}

/// A rate of tax in thousandths, with any sign, as percent: `19`, `7.7`.
fn percent(rate: i64) -> String {
    let rate = rate.unsigned_abs();
    match rate % 10 {
        0 => (rate / 10).to_string(),
        tenths => format!("{}.{tenths}", rate / 10),
    }
}

/// A moment as in RFC 3339, on the clock of the device that noted it; empty for a time that only a wrong clock shows.
pub(super) fn moment(at: MadeAt) -> String {
    let Some(day) = day_of(at) else {
        return String::new();
    };
    let seconds = at.utc.0.div_euclid(1000) + i64::from(at.offset_min) * 60;
    let seconds = seconds.rem_euclid(86_400);
    let sign = if at.offset_min < 0 { '-' } else { '+' };
    let offset = at.offset_min.unsigned_abs();
    format!(
        "{day}T{:02}:{:02}:{:02}{sign}{:02}:{:02}",
        seconds / 3600,
        seconds / 60 % 60,
        seconds % 60,
        offset / 60,
        offset % 60,
    )
}

/// The entry that opened a job: a job with several ids is listed under each of them.
pub(super) fn opened_by(job: &JobState) -> Option<EntryId> {
    job.opened.as_ref().map(|slot| slot.current.entry)
}

#[cfg(test)]
mod tests {
    use super::*;
    use shared::log::UnixMs;

    #[test]
    fn a_moment_is_that_of_the_clock_in_the_shop() {
        let at = |offset_min| MadeAt {
            utc: UnixMs(1_772_438_400_000),
            offset_min,
        };
        assert_eq!(moment(at(0)), "2026-03-02T08:00:00+00:00");
        assert_eq!(moment(at(330)), "2026-03-02T13:30:00+05:30");
        assert_eq!(moment(at(-600)), "2026-03-01T22:00:00-10:00");
        assert_eq!(
            moment(MadeAt {
                utc: UnixMs(0),
                ..at(0)
            }),
            "",
            "no shop had this then"
        );
    }

    #[test]
    fn rates_of_tax_are_percent() {
        assert_eq!([190, -77, 8].map(percent), ["19", "7.7", "0.8"]);
    }
}
