//! The rate of hidden damage as a calculation of the command line.

use serde::{Deserialize, Serialize};

use super::{Beta, Count, Posterior, fit, pooled};
use crate::trade::formulas::calculation::gives;
use crate::trade::formulas::{Allowed, AnswerField, Calculation, Field, InvalidField};

/// The greatest number of groups.
const MOST: usize = 10_000;
/// The greatest number of pairs in a group.
const MOST_PAIRS: u32 = 10_000;

const ALPHA: Field = Field::number("alpha", "like pairs with the damage", 1e-3, 1e6);
const BETA: Field = Field::number("beta", "like pairs without", 1e-3, 1e6);
const GROUPS: Field = Field::new(
    "groups",
    "[found, opened] each, found no more than opened, opened at most 10000; [] for none",
    Allowed::Described("a list of at most 10000 groups"),
);
const PRIOR: Field = Field::new(
    "prior",
    "in place of one from the groups",
    Allowed::Group(&[ALPHA, BETA]),
)
.or_none();
const OWN: Field = Field::new(
    "own",
    "[found, opened], found no more than opened, opened at most 10000; [0, 0] if left out",
    Allowed::Described("two whole numbers"),
)
.or_none();

/// The groups, and the group to estimate.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AllowanceInput {
    /// `[found, opened]` of each group.
    pub groups: Vec<[u32; 2]>,
    /// A prior to use instead of one fitted to the groups.
    #[serde(default)]
    pub prior: Option<Beta>,
    /// `[found, opened]` of the group to estimate.
    #[serde(default)]
    pub own: Option<[u32; 2]>,
}

/// How the prior was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum PriorSource {
    /// It was given.
    Given,
    /// It was fitted to the groups.
    Fitted,
    /// The groups do not show how much rates differ: their counts were pooled.
    Pooled,
}

/// The prior, and the posterior of the group.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct RateEstimate {
    /// The prior.
    pub prior: Beta,
    /// How the prior was found.
    pub prior_from: PriorSource,
    /// The posterior after the counts of the group.
    pub posterior: Posterior,
}

fn count(field: &Field, [found, opened]: [u32; 2]) -> Result<Count, InvalidField> {
    if found <= opened && opened <= MOST_PAIRS {
        Ok(Count { found, opened })
    } else {
        Err(field.refused())
    }
}

impl Calculation for AllowanceInput {
    const NAME: &'static str = "allowance";
    const TAKES: &'static [Field] = &[GROUPS, PRIOR, OWN];
    const GIVES: &'static [AnswerField] = gives![
        "prior" "alpha, beta", "prior_from" "given, fitted, or pooled where groups cannot tell how far they differ",
        "posterior" "alpha, beta, mean, sd, q025, q50, q90, q975",
    ];
    type Answer = RateEstimate;

    fn calculate(&self) -> Result<RateEstimate, InvalidField> {
        if self.groups.len() > MOST {
            return Err(GROUPS.refused());
        }
        let groups = self
            .groups
            .iter()
            .map(|group| count(&GROUPS, *group))
            .collect::<Result<Vec<_>, _>>()?;
        let own = count(&OWN, self.own.unwrap_or_default())?;
        let (prior, prior_from) = match self.prior {
            Some(given) => {
                ALPHA
                    .check(given.alpha)
                    .map_err(|refused| refused.within(PRIOR.name))?;
                BETA.check(given.beta)
                    .map_err(|refused| refused.within(PRIOR.name))?;
                (given, PriorSource::Given)
            }
            None => fit(&groups).map_or_else(
                || (pooled(&groups), PriorSource::Pooled),
                |prior| (prior, PriorSource::Fitted),
            ),
        };
        Ok(RateEstimate {
            prior,
            prior_from,
            posterior: prior.after(own).posterior(),
        })
    }
}
