//! Random sequences of events on a device for property tests: generated with `proptest`, carried out on a device in
//! memory.

use app_core::store::StoreError;
use app_core::store::memory::now;
use proptest::prelude::*;
use shared::log::Draft;
use shared::log::body::{Body, Opened, Retracted, SameAs, field};
use shared::log::{EntryId, ReceivedEntry, Subject, SubjectKind, UnixMs};
use shared::sync::Code;
use shared::sync::machine::{Progress, Settled};

use super::{Device, Taken, detail, drop_off, hand_over, pay, photo, sale, sell, step, taken};

/// One event. Its numbers select among the things that exist then.
#[derive(Debug, Clone)]
pub(crate) enum Act {
    DropOff,
    Step(usize),
    Look(usize, usize),
    Photo(usize, u8),
    HandOver(usize),
    MoveJob(usize, usize),
    SamePair(usize, usize),
    SameCustomer(usize, usize),
    Retract(usize),
    EraseCustomer(usize),
    SellAlone,
    Sell(usize),
    Pay(usize),
    EraseTicket(usize),
    Acknowledge(usize),
    Refuse(usize),
    Join,
    Retry,
    Echo(usize),
    Stranger(usize, usize),
    Unsend(usize),
    Tidy,
    Restart,
}

/// A sequence of at most `most` events.
pub(crate) fn acts(most: usize) -> impl Strategy<Value = Vec<Act>> {
    let n = 0..1000_usize;
    let act = prop_oneof![
        3 => Just(Act::DropOff),
        3 => n.clone().prop_map(Act::Step),
        3 => (n.clone(), n.clone()).prop_map(|(a, b)| Act::Look(a, b)),
        2 => (n.clone(), any::<u8>()).prop_map(|(a, b)| Act::Photo(a, b)),
        2 => n.clone().prop_map(Act::HandOver),
        1 => (n.clone(), n.clone()).prop_map(|(a, b)| Act::MoveJob(a, b)),
        2 => (n.clone(), n.clone()).prop_map(|(a, b)| Act::SamePair(a, b)),
        1 => (n.clone(), n.clone()).prop_map(|(a, b)| Act::SameCustomer(a, b)),
        3 => n.clone().prop_map(Act::Retract),
        1 => n.clone().prop_map(Act::EraseCustomer),
        2 => Just(Act::SellAlone),
        2 => n.clone().prop_map(Act::Sell),
        1 => n.clone().prop_map(Act::Pay),
        1 => n.clone().prop_map(Act::EraseTicket),
        3 => n.clone().prop_map(Act::Acknowledge),
        3 => n.clone().prop_map(Act::Refuse),
        1 => Just(Act::Join),
        1 => Just(Act::Retry),
        2 => n.clone().prop_map(Act::Echo),
        2 => (n.clone(), 1..12_usize).prop_map(|(a, b)| Act::Stranger(a, b)),
        1 => n.prop_map(Act::Unsend),
        2 => Just(Act::Tidy),
        1 => Just(Act::Restart),
    ];
    prop::collection::vec(act, 1..most)
}

/// A device, and everything that it has reported as saved.
pub(crate) struct Story {
    pub(crate) device: Device,
    /// Another device of the shop, whose entries arrive through the server.
    pub(crate) stranger: Device,
    pub(crate) taken: Vec<Taken>,
    /// Tickets without a pair.
    sales: Vec<Subject>,
    pub(crate) shown: Vec<ReceivedEntry>,
}

impl Story {
    pub(crate) fn new() -> Self {
        Self {
            device: Device::new(1),
            stranger: Device::new(2),
            taken: Vec::new(),
            sales: Vec::new(),
            shown: Vec::new(),
        }
    }

    /// Carries out one event. `Err` if the device failed; then it has reported nothing as saved.
    pub(crate) fn carry_out(&mut self, act: &Act) -> Result<(), StoreError> {
        self.device.around.advance(700);
        match act {
            Act::DropOff => {
                let taken = taken(&self.device);
                self.save(drop_off(
                    &taken,
                    &format!("Customer {}", self.taken.len()),
                    "derby",
                ))?;
                self.taken.push(taken);
            }
            Act::Stranger(from, pairs) => self.stranger_arrives(*from, *pairs)?,
            Act::Acknowledge(most) => self.acknowledge(1 + most % 40)?,
            Act::Refuse(which) => self.refuse(*which)?,
            Act::Join => now(self.device.store.set_join(
                &super::join_answer(5, "secret", "A"),
                "https://shop.example",
                "Bench",
            ))?,
            Act::Retry => now(self.device.store.retry_refused())?,
            Act::Echo(most) => self.echo(1 + most % 100)?,
            Act::Unsend(which) => self.unsend(*which)?,
            Act::Tidy => drop(now(self.device.store.compact())?),
            Act::SellAlone => {
                let ticket = self.device.subject(SubjectKind::Ticket);
                self.save(sale(&ticket, "Laces", 400))?;
                self.sales.push(ticket);
            }
            Act::Sell(_) | Act::Pay(_) | Act::EraseTicket(_) => self.on_a_ticket(act)?,
            Act::Restart => self.device.restart(),
            act => self.on_a_pair(act)?,
        }
        Ok(())
    }

    /// Carries out an event about a pair that was taken in before.
    fn on_a_pair(&mut self, act: &Act) -> Result<(), StoreError> {
        let Some(count) = std::num::NonZeroUsize::new(self.taken.len()) else {
            return Ok(());
        };
        let pick = |number: &usize| self.taken[*number % count].clone();
        let drafts = match act {
            Act::Step(a) => vec![step(&pick(a).job, "half_sole")],
            Act::Look(a, text) => {
                let pair = pick(a).pair;
                let over = now(self.device.store.pair_history(pair.id))?
                    .pair
                    .details
                    .over(field::LOOK);
                vec![Draft::new(pair, detail(field::LOOK, &format!("look {text}"))).over(over)]
            }
            Act::Photo(a, content) => {
                let (draft, blobs) = photo(&pick(a).job, &format!("picture {content}"));
                let saved = now(self.device.store.save(vec![draft], blobs))?;
                self.shown.extend(saved.entries);
                return Ok(());
            }
            Act::HandOver(a) => vec![hand_over(&pick(a).job)],
            Act::MoveJob(a, b) => {
                let opened = Opened {
                    pair: Some(pick(b).pair.id),
                    ..Opened::default()
                };
                vec![Draft::new(pick(a).job, Body::Opened(opened))]
            }
            Act::SamePair(a, b) => vec![same(pick(a).pair, &pick(b).pair)],
            Act::SameCustomer(a, b) => vec![same(pick(a).customer, &pick(b).customer)],
            Act::Retract(which) => {
                let Some(held) = self.shown.get(which % self.shown.len().max(1)) else {
                    return Ok(());
                };
                let retracted = Body::Retracted(Retracted { entry: held.entry.id });
                vec![Draft::new(held.entry.subject.clone(), retracted)]
            }
            Act::EraseCustomer(a) => {
                let saved = now(self.device.store.erase(vec![pick(a).customer], None))?;
                self.shown.extend(saved.entries);
                return Ok(());
            }
            other => unreachable!("{other:?} is not done to a pair"),
        };
        self.save(drafts)
    }

    /// Carries out an event about a ticket, with a pair or without one.
    fn on_a_ticket(&mut self, act: &Act) -> Result<(), StoreError> {
        let (Act::Sell(which) | Act::Pay(which) | Act::EraseTicket(which)) = act else {
            unreachable!("{act:?} is not done to a ticket")
        };
        let tickets = self.taken.iter().map(|taken| &taken.ticket).chain(&self.sales);
        let tickets: Vec<Subject> = tickets.cloned().collect();
        let Some(ticket) = tickets.get(which % tickets.len().max(1)) else {
            return Ok(());
        };
        match act {
            Act::EraseTicket(_) => {
                let saved = now(self.device.store.erase(vec![ticket.clone()], None))?;
                self.shown.extend(saved.entries);
                Ok(())
            }
            Act::Sell(_) => self.save(vec![sell(ticket, "Polish", 900)]),
            _ => self.save(vec![pay(ticket, 400)]),
        }
    }

    fn save(&mut self, drafts: Vec<Draft>) -> Result<(), StoreError> {
        let saved = now(self.device.store.save(drafts, Vec::new()))?;
        self.shown.extend(saved.entries);
        Ok(())
    }

    fn server_time(&self) -> UnixMs {
        UnixMs(super::MORNING.0 + self.shown.len() as i64)
    }

    /// The server accepts the first unsent entries.
    fn acknowledge(&mut self, most: usize) -> Result<(), StoreError> {
        let unsent = now(self.device.store.load_unsent(1_000_000))?;
        let received = self.server_time();
        let settled = unsent.iter().take(most).map(|held| Settled::Accepted {
            id: held.entry.id,
            received,
        });
        now(self
            .device
            .store
            .settle(&settled.collect::<Vec<_>>(), Progress::default()))
    }

    fn refuse(&mut self, which: usize) -> Result<(), StoreError> {
        let unsent = now(self.device.store.load_unsent(1_000_000))?;
        let Some(held) = unsent.get(which % unsent.len().max(1)) else {
            return Ok(());
        };
        let code = match which / 10 % 4 {
            0 => Code::KeptForRepairer,
            1 => Code::DroppedByRepairer,
            2 => Code::TooManyErasures,
            _ => Code::LinkTaken,
        };
        let settled = [Settled::Refused {
            id: held.entry.id,
            problem: super::problem(code),
        }];
        now(self.device.store.settle(&settled, Progress::default()))
    }

    /// The server sends entries of this device back, as after it was told to read everything again; also some that it
    /// has refused and a repairer has taken since.
    fn echo(&mut self, most: usize) -> Result<(), StoreError> {
        let received = self.server_time();
        let held = super::stored(&self.device.kv);
        let echoed = held.into_iter().rev().take(most).map(|mut held| {
            held.received = Some(held.received.map_or(received, |known| known.min(received)));
            held
        });
        now(self.device.store.apply(echoed.collect(), Progress::default())).map(drop)
    }

    /// Entries of another device arrive: about new pairs, and about one that this device knows.
    fn stranger_arrives(&mut self, known: usize, pairs: usize) -> Result<(), StoreError> {
        let mut entries = Vec::new();
        for number in 0..pairs {
            let taken = taken(&self.stranger);
            entries.extend(
                self.stranger
                    .save(drop_off(&taken, &format!("Stranger {number}"), "boot")),
            );
            self.taken.push(taken);
        }
        let known = &self.taken[known % self.taken.len()];
        entries.extend(self.stranger.save(vec![
            step(&known.job, "stretch"),
            sell(&known.ticket, "Insoles", 700),
            Draft::new(known.customer.clone(), detail(field::NAME, "Otherwise")),
        ]));
        let received = self.server_time();
        entries.iter_mut().for_each(|held| held.received = Some(received));
        now(self.device.store.apply(entries, Progress::default())).map(drop)
    }

    /// The server has lost an entry and asks for it again.
    fn unsend(&mut self, which: usize) -> Result<(), StoreError> {
        let holdings = now(self.device.store.load_holdings(None))?;
        let Some(holding) = holdings.get(which % holdings.len().max(1)) else {
            return Ok(());
        };
        now(self.device.store.mark_unsent(&[holding.id]))
    }

    /// The ids of everything that was reported as saved.
    pub(crate) fn shown_ids(&self) -> Vec<EntryId> {
        self.shown.iter().map(|held| held.entry.id).collect()
    }
}

fn same(subject: Subject, other: &Subject) -> Draft {
    debug_assert!(matches!(subject.kind, SubjectKind::Pair | SubjectKind::Customer));
    Draft::new(subject, Body::SameAs(SameAs { other: other.id }))
}
