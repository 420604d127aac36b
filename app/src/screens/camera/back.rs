//! The screen that the camera was opened from, carried in the address, so that a link leads back there.

use shared::log::{EntryId, SubjectId};

/// A screen about one job that opens the camera and is returned to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Back {
    /// The question to the customer.
    Ask,
    /// The findings at opening up.
    OpenUp,
    /// The work on the job.
    Work,
    /// Pickup.
    Pickup,
}

/// Each screen with its word in addresses.
const ALL: [(Back, &str); 4] = [
    (Back::Ask, "ask"),
    (Back::OpenUp, "open"),
    (Back::Work, "job"),
    (Back::Pickup, "pickup"),
];

impl Back {
    /// The screen with this word in an address.
    pub fn named(word: &str) -> Option<Self> {
        ALL.into_iter()
            .find(|(_, known)| *known == word)
            .map(|(back, _)| back)
    }

    /// Its word in addresses.
    fn code(self) -> &'static str {
        let known = ALL.into_iter().find(|(back, _)| *back == self);
        known.map_or("job", |(_, word)| word)
    }

    /// The text of the link back.
    pub fn words(self) -> &'static str {
        match self {
            Back::Ask => words::camera::back_to_question(),
            Back::OpenUp => words::camera::back_to_opening_up(),
            Back::Work => words::camera::back_to_work(),
            Back::Pickup => words::camera::back_to_pickup(),
        }
    }

    /// The address of the camera for a job, opened from this screen. `shows` is what the photograph will show, and `of`
    /// the damage it belongs to, if they are settled.
    pub fn camera(self, job: SubjectId, shows: Option<&str>, of: Option<EntryId>) -> String {
        let mut address = ["/camera/", &job.to_string(), "?back=", self.code()].concat();
        if let Some(shows) = shows {
            address.push_str("&shows=");
            address.push_str(shows);
        }
        if let Some(of) = of {
            address.push_str("&of=");
            address.push_str(&of.to_string());
        }
        address
    }

    /// The address of the screen that the camera was opened from, for the same damage if it was the question.
    pub fn address(self, job: SubjectId, of: Option<EntryId>) -> String {
        let screen = ["/", self.code(), "/", &job.to_string()].concat();
        match (self, of) {
            (Back::Ask, Some(damage)) => [&screen, "?damage=", &damage.to_string()].concat(),
            _ => screen,
        }
    }
}
