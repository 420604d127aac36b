//! Whether a drawing was printed at its true size, by the bar beside it.

use shared::trade::formulas::Calculation;
use shared::trade::formulas::print_check::{CheckBar, is_plausible};

use super::lengths::Lengths;

/// The length of the check bar on paper, in mm.
pub const BAR_MM: f64 = 100.0;
/// A print is true to scale if it is off by no more than this share.
const TOLERANCE: f64 = 0.005;

/// What the bar says that measures so much on paper; `None` while that is no length. A length that can only have been
/// read in the unit that the shop does not use is converted, and it is said so.
pub fn check_bar(lengths: Lengths, typed: &str) -> Option<String> {
    let other = match lengths {
        Lengths::Mm => Lengths::Inch,
        Lengths::Inch => Lengths::Mm,
    };
    let (own, converted) = (lengths.read(typed)?, other.read(typed)?);
    let is_other = !is_plausible(own, BAR_MM) && is_plausible(converted, BAR_MM);
    let measured_mm = if is_other { converted } else { own };
    let printed = CheckBar {
        expected_mm: BAR_MM,
        measured_mm,
    }
    .calculate()
    .ok()?;
    let verdict = if (printed.scale - 1.0).abs() < TOLERANCE {
        words::calc_screens::true_to_scale().to_owned()
    } else {
        words::calc_screens::not_to_scale((printed.correction * 100.0).round())
    };
    if !is_other {
        return Some(verdict);
    }
    let read = words::calc_screens::read_in_other_unit(&other.say(measured_mm), &lengths.say(measured_mm));
    Some([read, verdict].join(" "))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// An inch is 25.4 mm (NIST SP 811, appendix B): 3.94 in are 100.076 mm, and 3.82 in 97.028 mm.
    #[test]
    fn a_reading_in_the_other_unit_is_recognised_and_converted() {
        let mm = |typed| check_bar(Lengths::Mm, typed);
        assert_eq!(mm("100").as_deref(), Some("True to scale."));
        assert_eq!(mm("97").as_deref(), Some("Not true: print at 103 % of this."));
        assert_eq!(
            mm("3,94").as_deref(),
            Some("Read as 3.94 in, that is 100.1 mm. True to scale.")
        );
        assert_eq!(
            mm("3.82").as_deref(),
            Some("Read as 3.82 in, that is 97 mm. Not true: print at 103 % of this.")
        );
        let inches = |typed| check_bar(Lengths::Inch, typed);
        assert_eq!(inches("3.94").as_deref(), Some("True to scale."));
        assert_eq!(
            inches("100").as_deref(),
            Some("Read as 100 mm, that is 3.94 in. True to scale.")
        );
        assert_eq!((mm(""), mm("long")), (None, None));
        assert_eq!(mm("50").as_deref(), Some("Not true: print at 200 % of this."));
    }
}
