//! Where the camera was opened from, so that one tap leads back there: the address carries it.

use shared::log::{EntryId, SubjectId};

/// A screen about one job that leads to the camera and wants the repairer back.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Back {
    /// The question to the customer.
    Ask,
    /// Opening up.
    OpenUp,
    /// The work on it.
    Work,
    /// Pickup.
    Pickup,
}

/// Each with its word in addresses and the words of the link back.
const ALL: [(Back, &str, &str); 4] = [
    (Back::Ask, "ask", "Back to the question"),
    (Back::OpenUp, "open", "Back to opening up"),
    (Back::Work, "job", "Back to the work"),
    (Back::Pickup, "pickup", "Back to pickup"),
];

impl Back {
    /// By its word in an address.
    pub fn named(word: &str) -> Option<Self> {
        ALL.into_iter()
            .find(|(_, known, _)| *known == word)
            .map(|(back, ..)| back)
    }

    fn row(self) -> (&'static str, &'static str) {
        let row = ALL.into_iter().find(|(back, ..)| *back == self);
        row.map_or(("job", ""), |(_, word, words)| (word, words))
    }

    /// What the link back says.
    pub fn words(self) -> &'static str {
        self.row().1
    }

    /// The address of the camera for a job, opened from here. `shows` and `of`: what the photograph shows, and the damage it
    /// is of, where that is settled.
    pub fn camera(self, job: SubjectId, shows: Option<&str>, of: Option<EntryId>) -> String {
        let mut address = ["/camera/", &job.to_string(), "?back=", self.row().0].concat();
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

    /// The address of the screen it was opened from. A question stays the one about the same damage.
    pub fn address(self, job: SubjectId, of: Option<EntryId>) -> String {
        let screen = ["/", self.row().0, "/", &job.to_string()].concat();
        match (self, of) {
            (Back::Ask, Some(damage)) => [&screen, "?damage=", &damage.to_string()].concat(),
            _ => screen,
        }
    }
}
