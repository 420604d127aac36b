//! Makes entries from the stories.

mod job;
mod stay;

use shared::price::minor::Minor;
use std::collections::HashMap;

use serde_json::{Value, json};
use shared::log::body::{CardLink, Detail, Opened, Payment, Person, Role, field};
use shared::log::{Body, PersonId, SubjectId, SubjectKind, UnixMs};
use shared::trade::final_check::usual_list;

use super::album::Album;
use super::pen::Pen;
use super::story::{Customer, Does, StoryIfHidden, StoryJob, StoryPair, Ticket, When, Who};
use super::{Demo, cast, stories};
use server_core::world::World;

/// When the shop was set up.
const SET_UP: When = When::Days(2200, 9, 0);
/// The time between two entries made at the counter.
const AT_THE_COUNTER_MS: i64 = 20_000;

/// Makes the demo shop from all stories.
pub(super) fn tell(world: &dyn World, shop: SubjectId) -> Demo {
    let pictures = stories::all().flat_map(|ticket| ticket.jobs).flat_map(pictures);
    let mut teller = Teller::new(world, Album::of(pictures));
    teller.set_up(shop);
    for ticket in stories::all() {
        teller.ticket(ticket);
    }
    Demo {
        card: teller.card(&cast::DERBY),
        entries: teller.pen.done(),
        blobs: teller.album.into_bytes(),
    }
}

/// The names of the pictures taken on a job.
pub(super) fn pictures(job: &StoryJob) -> impl Iterator<Item = String> {
    let later = job.then.iter().filter_map(|(_, _, does)| match does {
        Does::Photo(_, shot) => Some(*shot),
        _ => None,
    });
    let shots = job.brought.iter().copied().chain(later);
    shots.map(|shot| shot.of(job.pair.look))
}

/// A pair whose first entries have been written.
struct ToldPair {
    id: SubjectId,
    secret: String,
    /// Its latest job and that job's last step, to which a complaint refers.
    last: Option<stay::Past>,
}

struct Teller<'w> {
    pen: Pen<'w>,
    album: Album,
    people: [PersonId; 2],
    customers: HashMap<&'static str, SubjectId>,
    /// By colour and look, which together are unique.
    pairs: HashMap<(&'static str, &'static str), ToldPair>,
}

impl<'w> Teller<'w> {
    fn new(world: &'w dyn World, album: Album) -> Self {
        let pen = Pen::new(world);
        Self {
            people: [(); 2].map(|()| pen.person()),
            pen,
            album,
            customers: HashMap::new(),
            pairs: HashMap::new(),
        }
    }

    fn who(&self, who: Who) -> PersonId {
        let [repairer, helper] = self.people;
        match who {
            Who::Repairer => repairer,
            Who::Helper => helper,
        }
    }

    fn set_up(&mut self, shop: SubjectId) {
        let at = SET_UP.at(self.pen.now);
        let about = (SubjectKind::Shop, shop);
        for (person, (name, role)) in self
            .people
            .into_iter()
            .zip(cast::PEOPLE.into_iter().zip([Role::Repairer, Role::Helper]))
        {
            let body = Body::Person(Person {
                person,
                name: name.to_owned(),
                role,
                left: false,
            });
            self.pen.write(at, self.people[0], about.clone(), &body);
        }
        let check: Vec<&str> = usual_list().chain([cast::OWN_CHECK]).collect();
        let fixed = [
            (field::NAME, json!(cast::SHOP)),
            (field::PHONE, json!(cast::PHONE)),
            (field::TERMS, json!(cast::TERMS)),
            (field::CURRENCY, json!(cast::CURRENCY)),
            (field::TAX, json!(cast::TAX)),
            (field::FINAL_CHECK, json!(check)),
        ];
        for (name, value) in fixed {
            self.detail(at, Who::Repairer, about.clone(), name, value);
        }
        for (operation, goods, minor) in cast::PRICES {
            let name = field::price(operation, goods);
            self.detail(at, Who::Repairer, about.clone(), &name, json!(minor));
        }
    }

    fn ticket(&mut self, told: &'static Ticket) {
        let at = told.brought.at(self.pen.now);
        let Some(owner) = told.jobs.first().map(|job| job.pair.owner) else {
            return;
        };
        let customer = self.customer(at, owner);
        let ticket = self.pen.subject(at);
        let about = (SubjectKind::Ticket, ticket);
        self.opened(at, about.clone(), (None, None, Some(customer)));
        let promised = json!(self.pen.working_day(told.promised));
        self.detail(at, Who::Repairer, about.clone(), field::DAY, promised);
        let if_hidden = match told.if_hidden {
            StoryIfHidden::Nothing => json!("nothing"),
            StoryIfHidden::Ask => json!("ask"),
            StoryIfHidden::UpTo(minor) => json!(minor),
        };
        self.detail(at, Who::Repairer, about.clone(), field::IF_HIDDEN, if_hidden);
        if told.rush {
            self.detail(at, Who::Repairer, about.clone(), field::RUSH, json!(true));
        }
        for (when, what, minor) in told.paid {
            let body = Body::Payment(Payment {
                minor: Minor(*minor),
                what: what.clone(),
            });
            let (at, by) = (when.at(self.pen.now), self.who(Who::Repairer));
            self.pen.write(at, by, about.clone(), &body);
        }
        for (number, job) in (1..).zip(told.jobs) {
            let at = UnixMs(at.0 + number * AT_THE_COUNTER_MS);
            self.job(at, ticket, customer, job);
        }
    }

    fn customer(&mut self, at: UnixMs, customer: &'static Customer) -> SubjectId {
        if let Some(id) = self.customers.get(customer.name) {
            return *id;
        }
        let id = self.pen.subject(at);
        let about = (SubjectKind::Customer, id);
        self.opened(at, about.clone(), (None, None, None));
        self.detail(
            at,
            Who::Repairer,
            about.clone(),
            field::NAME,
            json!(customer.name),
        );
        self.detail(at, Who::Repairer, about, field::PHONE, json!(customer.phone));
        self.customers.insert(customer.name, id);
        id
    }

    fn pair(&mut self, at: UnixMs, customer: SubjectId, pair: &'static StoryPair) -> SubjectId {
        let key = (pair.colour, pair.look);
        if let Some(known) = self.pairs.get(&key) {
            return known.id;
        }
        let (id, secret) = (self.pen.subject(at), self.pen.secret());
        let about = (SubjectKind::Pair, id);
        self.opened(at, about.clone(), (None, None, Some(customer)));
        let link = Body::CardLink(CardLink {
            secret: secret.clone(),
        });
        let by = self.who(Who::Repairer);
        self.pen.write(at, by, about.clone(), &link);
        let texts = [
            (field::MAKER, pair.maker),
            (field::COLOUR, pair.colour),
            (field::LOOK, pair.look),
            (field::GOODS, pair.goods),
        ];
        for (name, text) in texts.into_iter().filter(|(_, text)| !text.is_empty()) {
            self.detail(at, Who::Repairer, about.clone(), name, json!(text));
        }
        self.detail(at, Who::Repairer, about, field::MATERIALS, json!(pair.materials));
        let last = None;
        self.pairs.insert(key, ToldPair { id, secret, last });
        id
    }

    fn card(&self, pair: &StoryPair) -> String {
        let known = self.pairs.get(&(pair.colour, pair.look));
        known.map(|known| known.secret.clone()).unwrap_or_default()
    }

    fn opened(
        &mut self,
        at: UnixMs,
        about: (SubjectKind, SubjectId),
        (pair, ticket, customer): (Option<SubjectId>, Option<SubjectId>, Option<SubjectId>),
    ) {
        let body = Body::Opened(Opened {
            pair,
            ticket,
            customer,
        });
        let by = self.who(Who::Repairer);
        self.pen.write(at, by, about, &body);
    }

    fn detail(&mut self, at: UnixMs, by: Who, about: (SubjectKind, SubjectId), name: &str, value: Value) {
        let body = Body::Detail(Detail {
            field: name.to_owned(),
            value,
        });
        let by = self.who(by);
        self.pen.write(at, by, about, &body);
    }
}
