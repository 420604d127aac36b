//! The network between one phone and the server, and all that can go wrong on it.

use std::cell::Cell;

use app_core::store::{Outgoing, Sha256Digest};
use app_core::sync::Server;
use bytes::Bytes;
use server_core::error::Error;
use server_core::shop::{Member, read_push};
use shared::log::ReceivedEntry;
use shared::sync::machine::{Command, Event};
use shared::sync::messages::{
    MissingBlobsAnswer, MissingEntriesAnswer, PushAnswer, PushRequest, ShutOutProof, ShutOutQuestion,
};
use support::memory::MemoryShop;

use crate::dice::Dice;
use crate::doings;
use crate::phone::{Phone, Store};
use crate::seen::Seen;

/// Whether the network may fail.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Weather {
    Stormy,
    Calm,
}

/// A connection for one round.
pub(crate) struct Line<'a> {
    pub(crate) shop: &'a MemoryShop,
    pub(crate) token: String,
    pub(crate) weather: Weather,
    pub(crate) dice: &'a Dice,
    pub(crate) seen: &'a Seen,
    /// Whether entries lose their content on the way to the phone.
    pub(crate) blanks: bool,
    /// Whether the server has proved to the phone that it was shut out.
    pub(crate) proved: Cell<bool>,
    /// The repairer goes on working while the network is slow.
    pub(crate) meanwhile: Store,
}

impl Server for Line<'_> {
    async fn ask(&self, question: &Command) -> Event {
        self.work_meanwhile().await;
        match self.fate() {
            Fate::Lost => Event::NoAnswer,
            Fate::AnswerLost => {
                self.answer(question).await;
                Event::NoAnswer
            }
            Fate::Twice => {
                self.answer(question).await;
                self.answer(question).await
            }
            Fate::OutOfOrder => {
                self.overtake(question).await;
                self.answer(question).await
            }
            Fate::Fine => self.answer(question).await,
        }
    }

    async fn put_blob(&self, blob: Outgoing) -> Event {
        match self.fate() {
            Fate::Lost => Event::NoAnswer,
            Fate::AnswerLost => {
                self.keep(&blob).await;
                Event::NoAnswer
            }
            _ => self.keep(&blob).await,
        }
    }

    async fn ask_shut_out(&self, question: &ShutOutQuestion) -> Option<ShutOutProof> {
        match self.fate() {
            Fate::Lost | Fate::AnswerLost => None,
            // Something on the way answers in the place of the server.
            Fate::OutOfOrder => Some(self.false_proof()),
            Fate::Twice | Fate::Fine => {
                let Ok(proof) = self.shop.shut_out_proof(question).await else {
                    return Some(ShutOutProof { proofs: Vec::new() });
                };
                self.proved.set(true);
                Some(proof)
            }
        }
    }
}

impl Sha256Digest for Line<'_> {
    async fn sha256(&self, bytes: &[u8]) -> Result<String, String> {
        Native.sha256(bytes).await
    }
}

/// SHA-256 by a library, where the app takes the browser's.
pub(crate) struct Native;

impl Sha256Digest for Native {
    async fn sha256(&self, bytes: &[u8]) -> Result<String, String> {
        Ok(support::sample::sha256(bytes))
    }
}

enum Fate {
    Lost,
    AnswerLost,
    Twice,
    OutOfOrder,
    Fine,
}

impl Line<'_> {
    fn fate(&self) -> Fate {
        if self.weather == Weather::Calm {
            return Fate::Fine;
        }
        match self.dice.between(1, 12) {
            1 => Fate::Lost,
            2 => Fate::AnswerLost,
            3 => Fate::Twice,
            4 => Fate::OutOfOrder,
            _ => Fate::Fine,
        }
    }

    async fn work_meanwhile(&self) {
        if self.weather == Weather::Stormy && self.dice.once_in(8) {
            doings::work(&self.meanwhile, self.dice, self.seen).await;
        }
    }

    /// A later entry of a batch arrives before the others: another tab, or a batch sent again in pieces.
    async fn overtake(&self, question: &Command) {
        if let Command::Push(sent) = question {
            let mut some = sent.clone();
            self.dice.shuffle(&mut some.entries);
            some.entries.truncate(sent.entries.len().div_ceil(2));
            self.answer(&Command::Push(some)).await;
        }
    }

    async fn answer(&self, question: &Command) -> Event {
        let answered = match self.shop.member_of(&self.token).await {
            Ok(member) => self.answer_joined(&member, question).await,
            Err(error) => Err(error),
        };
        answered.unwrap_or_else(|error| Event::Refused(error.problem()))
    }

    async fn answer_joined(&self, member: &Member, question: &Command) -> Result<Event, Error> {
        let shop = self.shop;
        Ok(match question {
            Command::Push(sent) => Event::Pushed(self.push(member, sent).await?),
            Command::GetInShop(from) => {
                let after = from.and_then(|from| Some((from.start, from.read?)));
                let mut answer = shop.in_shop_page(after).await?;
                self.blank_some(&mut answer.entries);
                Event::InShop(answer)
            }
            Command::Pull { cursor, pushed } => {
                let mut answer = shop.pull(&member.role, *cursor, *pushed).await?;
                self.blank_some(&mut answer.entries);
                Event::Pulled(answer)
            }
            Command::GetHistory(from) => {
                let mut answer = shop.history(from.start, from.read).await?;
                self.blank_some(&mut answer.entries);
                Event::History(answer)
            }
            Command::AskMissing(held) => Event::Missing(MissingEntriesAnswer {
                missing: shop.missing_entries(member.device, held).await?,
            }),
            Command::AskBlobs(hashes) => Event::MissingBlobs(MissingBlobsAnswer {
                missing: shop.missing_blobs(hashes).await?,
            }),
            other => panic!("not a question for the server: {other:?}"),
        })
    }

    /// Takes the content of some entries away, if this line does that.
    fn blank_some(&self, entries: &mut [ReceivedEntry]) {
        for held in entries.iter_mut().filter(|_| self.blanks) {
            if self.dice.once_in(6) {
                held.entry.body.clear();
            }
        }
    }

    /// Through JSON, as over the wire.
    async fn push(&self, member: &Member, sent: &PushRequest) -> Result<PushAnswer, Error> {
        let body = serde_json::to_vec(sent).expect("entries are JSON");
        self.shop.push(member, read_push(&body)?).await
    }

    fn false_proof(&self) -> ShutOutProof {
        let hash = support::sample::sha256(&self.dice.seed().to_be_bytes());
        ShutOutProof { proofs: vec![hash] }
    }

    async fn keep(&self, blob: &Outgoing) -> Event {
        if let Err(error) = self.shop.member_of(&self.token).await {
            return Event::Refused(error.problem());
        }
        let body = futures_util::stream::iter([Ok(Bytes::from(blob.bytes.clone()))]);
        match self.shop.put_blob(&blob.sha256, &blob.media_type, body).await {
            Ok(_) => Event::BlobTaken,
            Err(error) => Event::Refused(error.problem()),
        }
    }
}

impl Phone {
    /// A connection for this phone, if it has joined.
    pub(crate) fn line<'a>(
        &self,
        shop: &'a MemoryShop,
        dice: &'a Dice,
        seen: &'a Seen,
        weather: Weather,
    ) -> Option<Line<'a>> {
        let token = self.membership().token?;
        Some(Line {
            shop,
            token,
            weather,
            dice,
            seen,
            blanks: false,
            proved: Cell::new(false),
            meanwhile: self.store.clone(),
        })
    }
}
