//! The state of one visit to the camera: the pair, the operation, the photographs, and which of them are saved.

use shared::log::body::OperationCode;
use std::future::Future;

use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::log::body::{Photo, Shows};
use shared::log::fold::{Item, JobLine, Summary, bench};
use shared::log::{EntryId, Subject, SubjectId, SubjectKind};
use shared::trade::{line_name, operations};

use super::Back;
use super::naming::named;
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

/// How many of the latest photographs are shown and can be moved.
const AT_HAND: usize = 6;
/// The operation that is preselected when none is agreed.
const ANY_WORK: &str = "clean_condition_polish";

/// A photograph of this visit, as it is filed now.
#[derive(Debug, Clone, PartialEq)]
pub struct TakenPhoto {
    /// Its number in this visit, from 1.
    pub number: u32,
    /// The job it is filed under.
    pub job: SubjectId,
    /// The number or description of that pair.
    pub name: String,
    /// The entry that files it.
    pub item: Item<Photo>,
}

/// What the address says about the photographs.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct VisitTarget {
    /// What they show; `None` for a step or the finished pair.
    pub shows: Option<Shows>,
    /// The damage entry that they belong to.
    pub of: Option<EntryId>,
    /// Where the camera was opened from.
    pub back: Option<Back>,
}

/// What a photograph is filed as.
struct PhotoOf {
    shows: Shows,
    operation: Option<OperationCode>,
    of: Option<EntryId>,
}

/// The state of one visit. Cheap to copy; ends with its screen, except for photographs that are still being saved.
#[derive(Clone, Copy)]
pub struct Visit {
    session: Session,
    bench: Selection,
    found: LiveQuery<Option<JobLife>>,
    line: Memo<Option<(Summary, JobLine)>>,
    operation: RwSignal<Option<OperationCode>>,
    finished: RwSignal<bool>,
    asked: Signal<VisitTarget>,
    saved: RwSignal<u32>,
    /// The number of this visit.
    number: u32,
    /// The number of the latest photograph.
    numbered: StoredValue<u32>,
    taken: RwSignal<Vec<TakenPhoto>>,
    sign: SavedSign,
}

impl Visit {
    /// Begins with the job in the address, and follows the address to other jobs.
    pub fn begin(asked: Signal<VisitTarget>) -> Self {
        let (found, wanted) = (use_job(), use_subject("job"));
        // While the next pair is being read there is none: no photograph may be filed under the former one.
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
            operation: RwSignal::new(None),
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

    /// Preselects the next operation for each pair, and again when the chosen one is noted as done. An operation that
    /// the repairer has chosen before the pair was read is kept.
    fn choose_operations(self) {
        Effect::new(move |before: Option<Option<(SubjectId, usize)>>| {
            let Some((_, line)) = self.line.get() else {
                self.operation.set(None);
                return None;
            };
            let at = (line.id, line.done.len());
            let before = before.flatten();
            let other_pair = before.is_none_or(|(job, _)| job != line.id);
            let chosen = before.is_none() && self.operation.with_untracked(Option::is_some);
            let noted = before != Some(at)
                && self
                    .operation
                    .with_untracked(|now| line.done.last() == now.as_ref());
            if (other_pair && !chosen) || noted {
                let next = line.left.first().or(line.done.last()).cloned();
                self.operation.set(Some(next.unwrap_or_else(|| ANY_WORK.into())));
                // Nothing is left to do, so the next photograph is of the finished pair.
                self.finished.set(line.left.is_empty());
            }
            Some(at)
        });
    }

    /// The pair's summary and the job's line; `None` while the next pair is being read.
    pub fn line(self) -> Memo<Option<(Summary, JobLine)>> {
        self.line
    }

    /// The job that is photographed now.
    pub fn job(self) -> Signal<Option<SubjectId>> {
        Signal::derive(move || self.line.with(|line| line.as_ref().map(|(_, line)| line.id)))
    }

    /// The scope of what can be undone here: everything of this visit, because a photograph may have been moved between
    /// two other pairs.
    pub fn whose(self) -> Signal<Option<UndoScope>> {
        let (number, job) = (self.number, self.job());
        Signal::derive(move || {
            Some(UndoScope::Visit {
                number,
                job: job.get()?,
            })
        })
    }

    /// The job and its pair history.
    pub fn found(self) -> LiveQuery<Option<JobLife>> {
        self.found
    }

    /// The operation that is photographed.
    pub fn operation(self) -> RwSignal<Option<OperationCode>> {
        self.operation
    }

    /// Whether the person chooses what photographs show (a step, or the finished pair), because the address does not
    /// say.
    pub fn free(self) -> Signal<bool> {
        let asked = self.asked;
        Signal::derive(move || asked.get().shows.is_none())
    }

    /// Whether the finished pair is photographed rather than a step.
    pub fn finished(self) -> RwSignal<bool> {
        self.finished
    }

    /// What the next photograph shows: what the address says, else a step, or the finished pair.
    pub fn shows(self) -> Shows {
        match self.asked.get().shows {
            Some(asked) => asked,
            None if self.finished.get() => Shows::Finished,
            None => Shows::Step,
        }
    }

    /// How many photographs are saved.
    pub fn saved(self) -> RwSignal<u32> {
        self.saved
    }

    /// How many photographs are not saved yet, of any pair.
    pub fn unsaved(self) -> RwSignal<u32> {
        self.bench.unsaved()
    }

    /// The latest photographs, latest first.
    pub fn taken(self) -> RwSignal<Vec<TakenPhoto>> {
        self.taken
    }

    /// True for a moment after each photograph that is saved.
    pub fn flashing(self) -> Signal<bool> {
        self.sign.flashing()
    }

    /// Saves a photograph under the pair shown now once it is processed, and only then gives the sign. The next one can
    /// be taken meanwhile, of this pair or another.
    pub fn keep(self, developing: impl Future<Output = Result<PreparedPicture, PictureError>> + 'static) {
        self.keep_and(developing, |_| {});
    }

    /// The same; `then` is told afterwards under which job it is saved, or `None` if it could not be saved.
    pub fn keep_and(
        self,
        developing: impl Future<Output = Result<PreparedPicture, PictureError>> + 'static,
        then: impl FnOnce(Option<SubjectId>) + 'static,
    ) {
        let Some((summary, line)) = self.line.get_untracked() else {
            self.session.complain(words::camera::pair_not_on_device());
            return then(None);
        };
        let name = named(&summary, &line);
        let shows = untrack(|| self.shows());
        let photo = PhotoOf {
            operation: self.operation.get_untracked().filter(|_| shows == Shows::Step),
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
            // This count is shared by all screens, because this screen may have been left meanwhile.
            self.unsaved().update(|count| *count -= 1);
            match kept {
                Ok((photo, saved)) => {
                    self.hold(line.id, name, photo, &saved);
                    then(Some(line.id));
                }
                Err(why) => {
                    self.session
                        .complain(words::camera::photograph_not_saved(&name, &why));
                    then(None);
                }
            }
        });
    }

    /// Whether this job is before the lens now; never after the screen was left.
    pub fn is_at(self, job: SubjectId) -> bool {
        let at = |line: &Option<(Summary, JobLine)>| line.as_ref().is_some_and(|(_, line)| line.id == job);
        self.line.try_with_untracked(at) == Some(true)
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

    /// Undoes taking one of the latest photographs, of any pair.
    pub fn take_back(self, one: &TakenPhoto) {
        let entry = one.item.entry;
        let undo = commands::undo(Subject::new(SubjectKind::Job, one.job), entry);
        self.session.save_and(vec![undo], move |_| {
            self.bench.forget_entry(entry);
            self.put_away(entry);
            self.session.tell(words::session::undone());
        });
    }

    /// Removes it from the photographs of this visit.
    fn put_away(self, entry: EntryId) {
        self.taken
            .try_update(|all| all.retain(|one| one.item.entry != entry));
        self.saved.try_update(|count| *count = count.saturating_sub(1));
    }

    /// Gives the sign that it is saved, and adds it to the latest photographs and to what can be undone.
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
        let said = words::camera::photograph_saved(&name);
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

    /// Files one of the latest photographs under another pair.
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
                .remember_and(&saved, words::camera::moved_to(&name), move || put(&one));
        });
    }

    /// Shows why there is no photograph.
    pub fn complain(self, error: impl std::fmt::Display) {
        self.session.complain(error);
    }

    /// Notes the chosen operation as done on the pair shown.
    pub fn step_done(self) {
        let Some((_, line)) = self.line.get_untracked() else {
            return;
        };
        let Some(code) = self.operation.get_untracked() else {
            return;
        };
        let found = self.found.get_untracked().flatten();
        let Some(state) = found.as_ref().and_then(JobLife::state) else {
            return;
        };
        let step = commands::step_done(line.id, state, &code);
        let name = bench::line_of(state, &code).map_or_else(
            || operations::name(&code).to_owned(),
            |line| line_name(&line.body),
        );
        self.bench.act(vec![step], words::camera::operation_noted(&name));
    }
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
