//! Components that several screens use.

#![expect(
    unreachable_pub,
    reason = "components are `pub` in private files: `#[component]` makes their properties so"
)]

mod back;
mod caution;
mod day;
mod drawing;
mod dry;
mod face;
mod field;
mod goods;
mod icon;
mod install_hint;
mod keep_part;
mod kept_fold;
mod materials;
mod nav;
mod note;
mod operations;
mod pair_row;
mod say;
mod scanner;
mod sides;
mod toggle;
mod typed;
mod undo;
mod varying;
mod viewer;
mod viewer_dialog;
mod viewer_stage;
mod voice_note;
mod voice_recorder;
mod wait_choice;
mod wide_face;
mod wiped;
mod work_too;
mod working;

pub use back::BackLink;
pub use caution::Cautions;
pub use day::{about, day_words, in_days, is_past, near_day_words, on_day, promised, promised_for, today};
pub use drawing::Drawing;
pub use dry::DryNotice;
pub use face::{Face, Photograph, just_made};
pub use field::Field;
pub use goods::GoodsChoice;
pub use icon::camera_icon;
pub use install_hint::InstallHint;
pub use keep_part::KeepPart;
pub use kept_fold::{OpenFolds, kept_fold};
pub use materials::{Materials, has_soles, pair_materials};
pub use nav::Nav;
pub use note::{AddNote, NoteForm, UnfoldedNote, note_list};
pub use operations::OperationChoice;
pub use pair_row::PairRow;
pub use say::Say;
pub use scanner::Scanner;
pub use sides::Sides;
pub use toggle::Toggle;
pub use typed::Typed;
pub use undo::UndoLast;
pub use varying::{HowMany, PrescribedHeight, Variants};
pub use viewer::{Looked, Viewer};
pub use viewer_dialog::PhotographViewer;
pub use voice_note::VoiceNote;
pub use voice_recorder::VoiceRecorder;
pub use wait_choice::WaitChoice;
pub use wide_face::WideFace;
pub use wiped::Wiped;
pub use work_too::WorkToo;
pub use working::Working;
