//! One visit to the camera: which pair, which operation, what was taken, and what of it is saved.

use std::future::Future;

use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::log::body::{Photo, Shows};
use shared::log::fold::{Item, JobLine, Summary, bench};
use shared::log::{EntryId, Subject, SubjectId, SubjectKind};
use shared::trade::operations;

use super::Back;
use crate::device::DeviceError;
use crate::device::picture::{PictureError, PreparedPicture};
use crate::device::screen::SavedSign;
use crate::parts::just_made;
use crate::screens::job::{JobLife, use_job, use_subject};
use crate::selection::{Selection, UndoScope, use_selection};
use crate::session::{LiveQuery, Session, use_session};
use app_core::commands;
use app_core::stations::StationRow;
use app_core::store::Saved;

/// How many of the last photographs stay at hand.
const AT_HAND: usize = 6;
/// What is offered when nothing is agreed.
const ANY_WORK: &str = "clean_condition_polish";

/// A photograph of this visit, as it is filed now.
#[derive(Debug, Clone, PartialEq)]
pub struct TakenPhoto {
    /// Its number in this visit, from 1.
    pub number: u32,
    /// The job it is filed under.
    pub job: SubjectId,
    /// What that pair answers to.
    pub name: String,
    /// The entry that files it.
    pub item: Item<Photo>,
}

/// What the address asks photographs of.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct VisitTarget {
    /// What they show; absent: a step, or the finished pair.
    pub shows: Option<Shows>,
    /// The entry they belong to: the damage.
    pub of: Option<EntryId>,
    /// Where the camera was opened from.
    pub back: Option<Back>,
}

/// What a photograph is filed as.
struct PhotoOf {
    shows: Shows,
    operation: Option<String>,
    of: Option<EntryId>,
}

/// The state of one visit. Cheap to copy; ends with its screen, but for what is still being saved.
#[derive(Clone, Copy)]
pub struct Visit {
    session: Session,
    bench: Selection,
    found: LiveQuery<Option<JobLife>>,
    line: Memo<Option<(Summary, JobLine)>>,
    operation: RwSignal<String>,
    finished: RwSignal<bool>,
    asked: Signal<VisitTarget>,
    saved: RwSignal<u32>,
    /// Which visit to the camera this is.
    number: u32,
    /// The number given out last.
    numbered: StoredValue<u32>,
    taken: RwSignal<Vec<TakenPhoto>>,
    sign: SavedSign,
}

impl Visit {
    /// Begins at the job in the address, and goes on to another when the address does.
    pub fn begin(asked: Signal<VisitTarget>) -> Self {
        let (found, wanted) = (use_job(), use_subject("job"));
        // Between two pairs there is none: no photograph may go to the one before.
        let line = Memo::new(move |_| {
            let found = found.get()?.filter(|found| Some(found.job) == wanted.get())?;
            let summary = Summary::of(&found.life);
            let line = summary.jobs.iter().find(|line| line.id == found.job).cloned()?;
            Some((summary, line))
        });
        let bench = use_selection();
        let visit = Self {
            session: use_session(),
            bench,
            number: bench.begin_visit(),
            found,
            line,
            operation: RwSignal::new(String::new()),
            finished: RwSignal::new(false),
            asked,
            saved: RwSignal::new(0),
            numbered: StoredValue::new(0),
            taken: RwSignal::new(Vec::new()),
            sign: SavedSign::new(),
        };
        visit.choose_operations();
        visit
    }

    /// Each pair begins at its own next operation, and goes on to the next when the chosen one is noted. What the
    /// repairer has chosen meanwhile stays: the pair, and the news of a step, may come later than their thumb.
    fn choose_operations(self) {
        Effect::new(move |before: Option<Option<(SubjectId, usize)>>| {
            let Some((_, line)) = self.line.get() else {
                self.operation.set(String::new());
                return None;
            };
            let at = (line.id, line.done.len());
            let before = before.flatten();
            let other_pair = before.is_none_or(|(job, _)| job != line.id);
            let chosen = before.is_none() && self.operation.with_untracked(|now| !now.is_empty());
            let noted =
                before != Some(at) && self.operation.with_untracked(|now| line.done.last() == Some(now));
            if (other_pair && !chosen) || noted {
                let next = line.left.first().or(line.done.last()).cloned();
                self.operation.set(next.unwrap_or_else(|| ANY_WORK.to_owned()));
                // Nothing left to do: the next photograph is the one the customer will compare.
                self.finished.set(line.left.is_empty());
            }
            Some(at)
        });
    }

    /// The pair's summary and the job's line; `None` between two pairs.
    pub fn line(self) -> Memo<Option<(Summary, JobLine)>> {
        self.line
    }

    /// The job that is photographed now.
    pub fn job(self) -> Signal<Option<SubjectId>> {
        Signal::derive(move || self.line.with(|line| line.as_ref().map(|(_, line)| line.id)))
    }

    /// Whose doings can be taken back here: all of this visit, for a photograph may be moved between two other pairs.
    pub fn whose(self) -> Signal<Option<UndoScope>> {
        let (number, job) = (self.number, self.job());
        Signal::derive(move || {
            Some(UndoScope::Visit {
                number,
                job: job.get()?,
            })
        })
    }

    /// The life of its pair.
    pub fn found(self) -> LiveQuery<Option<JobLife>> {
        self.found
    }

    /// The operation that is photographed.
    pub fn operation(self) -> RwSignal<String> {
        self.operation
    }

    /// Whether the address leaves it open what photographs show: steps, or the finished pair.
    pub fn free(self) -> Signal<bool> {
        let asked = self.asked;
        Signal::derive(move || asked.get().shows.is_none())
    }

    /// Whether the finished pair is photographed rather than a step.
    pub fn finished(self) -> RwSignal<bool> {
        self.finished
    }

    /// What the next photograph shows: as the address asks, else a step, else the finished pair.
    pub fn shows(self) -> Shows {
        match self.asked.get().shows {
            Some(asked) => asked,
            None if self.finished.get() => Shows::Finished,
            None => Shows::Step,
        }
    }

    /// Photographs that are on the disk.
    pub fn saved(self) -> RwSignal<u32> {
        self.saved
    }

    /// Photographs that are not yet.
    pub fn unsaved(self) -> RwSignal<u32> {
        self.bench.unsaved()
    }

    /// The last photographs, the latest first.
    pub fn taken(self) -> RwSignal<Vec<TakenPhoto>> {
        self.taken
    }

    /// True for a moment after each photograph that is saved.
    pub fn flashing(self) -> Signal<bool> {
        self.sign.flashing()
    }

    /// Stores what comes out of the darkroom under the pair shown now, and only then says so. The next can be taken
    /// at once, of this pair or another.
    pub fn keep(self, developing: impl Future<Output = Result<PreparedPicture, PictureError>> + 'static) {
        let Some((summary, line)) = self.line.get_untracked() else {
            return self
                .session
                .complain("This photograph was not saved: its pair is not on this device.");
        };
        let name = named(&summary, &line);
        let shows = untrack(|| self.shows());
        let photo = PhotoOf {
            operation: (shows == Shows::Step).then(|| self.operation.get_untracked()),
            of: self.asked.get_untracked().of,
            shows,
        };
        self.unsaved().update(|count| *count += 1);
        spawn_local(async move {
            let kept = match developing.await {
                Ok(picture) => self
                    .store(line.id, picture, photo)
                    .await
                    .map_err(|error| error.to_string()),
                Err(error) => Err(error.to_string()),
            };
            // Counted for the whole bench: this screen may have been left meanwhile.
            self.unsaved().update(|count| *count -= 1);
            match kept {
                Ok((photo, saved)) => self.hold(line.id, name, photo, &saved),
                Err(why) => self
                    .session
                    .complain(format!("A photograph of {name} was not saved: {why}.")),
            }
        });
    }

    async fn store(
        self,
        job: SubjectId,
        picture: PreparedPicture,
        taken: PhotoOf,
    ) -> Result<(Photo, Saved), DeviceError> {
        let PreparedPicture { full, thumb } = picture;
        let photo = Photo {
            operation: taken.operation,
            of: taken.of,
            ..Photo::new(full.about.clone(), thumb.about.clone(), taken.shows)
        };
        let small = thumb.clone();
        let saved = self
            .session
            .save(vec![commands::photo(job, photo.clone())], vec![full, thumb])
            .await?;
        just_made(&small.about.sha256, &small.bytes);
        Ok((photo, saved))
    }

    /// Takes back one of the last photographs, whichever pair is before the lens now.
    pub fn take_back(self, one: &TakenPhoto) {
        let entry = one.item.entry;
        let undo = commands::undo(Subject::new(SubjectKind::Job, one.job), entry);
        self.session.save_and(vec![undo], move |_| {
            self.bench.forget_entry(entry);
            self.put_away(entry);
            self.session.tell("Taken back.");
        });
    }

    /// It is no photograph of this visit any more.
    fn put_away(self, entry: EntryId) {
        self.taken
            .try_update(|all| all.retain(|one| one.item.entry != entry));
        self.saved.try_update(|count| *count = count.saturating_sub(1));
    }

    /// Says that it is saved, and keeps it at hand to be moved or taken back.
    fn hold(self, job: SubjectId, name: String, photo: Photo, saved: &Saved) {
        self.saved.try_update(|count| *count += 1);
        let number = self.numbered.try_update_value(|number| {
            *number += 1;
            *number
        });
        self.sign.show();
        let (Some(number), Some(item)) = (number, filed(saved, photo)) else {
            return;
        };
        let said = format!("Photograph of {name} saved.");
        let entry = item.entry;
        let taken = self.taken;
        taken.try_update(|all| {
            all.insert(
                0,
                TakenPhoto {
                    number,
                    job,
                    name,
                    item,
                },
            );
            all.truncate(AT_HAND);
        });
        let away = move || self.put_away(entry);
        self.bench.remember_and(saved, said, away);
    }

    /// Files one of the last photographs under another pair.
    pub fn move_to(self, one: TakenPhoto, to: &StationRow) {
        let drafts = commands::move_step_photo(one.job, &one.item, &to.job);
        let (name, job) = (to.name().to_owned(), to.job.id);
        self.session.save_and(drafts, move |saved| {
            let Some(item) = filed(&saved, one.item.body.clone()) else {
                return;
            };
            let moved = TakenPhoto {
                number: one.number,
                job,
                name: name.clone(),
                item,
            };
            let taken = self.taken;
            let put = move |now: &TakenPhoto| {
                taken.try_update(|all| {
                    let slot = all.iter_mut().find(|slot| slot.number == now.number);
                    slot.into_iter().for_each(|slot| *slot = now.clone());
                });
            };
            put(&moved);
            self.bench
                .remember_and(&saved, format!("Moved to {name}."), move || put(&one));
        });
    }

    /// Tells why there is no photograph.
    pub fn complain(self, error: impl std::fmt::Display) {
        self.session.complain(error);
    }

    /// Notes the chosen operation as done on the pair shown.
    pub fn step_done(self) {
        let Some((_, line)) = self.line.get_untracked() else {
            return;
        };
        let code = self.operation.get_untracked();
        let found = self.found.get_untracked().flatten();
        let Some(state) = found.as_ref().and_then(JobLife::state) else {
            return;
        };
        let step = commands::step(line.id, &code, bench::side_of(state, &code), "");
        self.bench
            .act(vec![step], format!("{} noted.", operations::name(&code)));
    }
}

/// What a pair answers to: its number, else what it is.
pub fn named(summary: &Summary, line: &JobLine) -> String {
    let name = if line.tag.is_empty() {
        &summary.title
    } else {
        &line.tag
    };
    if name.is_empty() { "this pair" } else { name }.to_owned()
}

/// The photograph as the last of the saved entries files it.
fn filed(saved: &Saved, body: Photo) -> Option<Item<Photo>> {
    let entry = &saved.entries.last()?.entry;
    Some(Item {
        entry: entry.id,
        at: entry.made_at,
        person: entry.person,
        body,
    })
}
