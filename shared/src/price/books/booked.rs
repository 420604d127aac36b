//! What the books share of one bill: the jobs of a ticket and the goods sold on it.

use std::collections::BTreeMap;

use crate::log::entry::SubjectId;
use crate::price::bill::{self, Net};
use crate::price::minor::Minor;
use crate::price::records::{At, JobFacts, SoldGoods, TicketFacts};

/// The jobs and goods whose tax is calculated together.
#[derive(Debug, Default)]
pub(super) struct BookedBill<'a> {
    pub(super) jobs: Vec<&'a JobFacts>,
    pub(super) ticket: Option<&'a TicketFacts>,
}

impl<'a> BookedBill<'a> {
    /// The bills of these jobs and tickets. Jobs without a ticket share no bill.
    pub(super) fn all(jobs: &'a [JobFacts], tickets: &'a [TicketFacts]) -> Vec<Self> {
        let mut all = Vec::new();
        let mut by_ticket: BTreeMap<SubjectId, Self> = BTreeMap::new();
        for ticket in tickets {
            by_ticket.entry(ticket.ticket).or_default().ticket = Some(ticket);
        }
        for job in jobs {
            match job.ticket {
                Some(ticket) => by_ticket.entry(ticket).or_default().jobs.push(job),
                None => all.push(Self {
                    jobs: vec![job],
                    ticket: None,
                }),
            }
        }
        all.extend(by_ticket.into_values());
        all
    }

    /// The goods sold over the counter.
    pub(super) fn sold(&self) -> &'a [SoldGoods] {
        self.ticket.map_or(&[], |ticket| &ticket.sold)
    }

    fn rate(&self) -> Option<i64> {
        let agreed = self.jobs.iter().find_map(|job| job.tax);
        agreed.or_else(|| self.ticket?.tax)
    }

    fn of_goods(&self) -> impl Iterator<Item = Minor> {
        self.sold().iter().map(|sold| sold.minor)
    }

    /// The prices without tax and the tax: for each job those of its lines, and for each of the goods.
    pub(super) fn nets(&self) -> (Vec<Vec<Net>>, Vec<Net>) {
        let of_jobs = self.jobs.iter().flat_map(|job| job.charges());
        let prices: Vec<Minor> = of_jobs.chain(self.of_goods()).collect();
        let mut all = bill::nets(&prices, self.rate()).into_iter();
        let of_job = |job: &&JobFacts| all.by_ref().take(job.lines.len()).collect();
        let jobs = self.jobs.iter().map(of_job).collect();
        (jobs, all.collect())
    }

    /// What the customer is charged for what has left, with the tax that is added to it.
    pub(super) fn charged_for_what_has_left(&self) -> Minor {
        let left = self.jobs.iter().filter(|job| job.handed_over_at.is_some());
        let prices = left.flat_map(|job| job.charges()).chain(self.of_goods());
        bill::due(prices, self.rate()).minor
    }

    /// The year and month in which the last of it left; `None` while a pair is still in the shop, if the clock of a
    /// hand-over is implausible, and if there is nothing on it.
    pub(super) fn left_in(&self) -> Option<(i64, i64)> {
        let pairs = self.jobs.iter();
        let pairs = pairs.map(|job| job.handed_over_at.and_then(At::month));
        let pairs = pairs.collect::<Option<Vec<_>>>()?;
        let goods = self.sold().iter().filter_map(|sold| sold.at.month());
        pairs.into_iter().chain(goods).max()
    }
}
