//! An agreed line in words: short for the shop, in full for the customer.

use super::amount::takes_height;
use super::operations::{self, operation};
use crate::log::body::{Agreed, Side, Step};
use crate::price::minor::Minor;

/// The line as the shop calls it: the operation, its variant, how many pieces, and which shoe if it is only one:
/// `Heels, leather, left`; `Zip × 2`.
pub fn line_name(line: &Agreed) -> String {
    let mut name = operations::name(&line.operation).to_owned();
    if let Some(variant) = variant_name(line) {
        name.push_str(", ");
        name.push_str(&variant.to_lowercase());
    }
    if line.pieces() > 1 {
        name.push_str(" × ");
        name.push_str(&line.pieces().to_string());
    }
    if let Some(height_mm) = height_mm(line) {
        name.push_str(", ");
        name.push_str(&words::parts::height(height_mm));
    }
    name.push_str(line.side.after());
    name
}

/// The line on a tile: the tile name of its operation, and which shoe if it is only one: `Half soles, left`.
pub fn tile_name_of_line(line: &Agreed) -> String {
    let mut name = operations::tile_name(&line.operation).to_owned();
    name.push_str(line.side.after());
    name
}

/// A step as the shop calls it: the line that it was done for, as far as that is known, on the shoe of the step.
pub fn step_name(step: &Step, line: Option<&Agreed>) -> String {
    line_name(&Agreed {
        side: step.side.clone(),
        variant: line.and_then(|line| line.variant.clone()),
        count: line.and_then(|line| line.count),
        height_mm: line.and_then(|line| line.height_mm),
        ..Agreed::at(&step.operation, Minor::ZERO)
    })
}

/// The line as a customer reads it on the card: `New wearing layer under the left heel (leather).` Work that is not in the
/// trade's list is in the shop's own words.
pub fn line_plain(line: &Agreed) -> String {
    let Some(known) = operation(&line.operation) else {
        return line_name(line);
    };
    let side = match line.side {
        Side::Left => words::card::left(),
        Side::Right => words::card::right(),
        Side::Both | Side::Other(_) => "",
    };
    if let Some(height_mm) = height_mm(line) {
        return if side.is_empty() {
            words::card::both_raised(height_mm)
        } else {
            words::card::one_raised(side, height_mm)
        };
    }
    let plain = if side.is_empty() || known.plain_one().is_empty() {
        known.plain().to_owned()
    } else {
        known.plain_one().replace("{side}", side)
    };
    let mut more = Vec::new();
    if line.pieces() > 1 {
        more.push(words::card::pieces(line.pieces()));
    }
    more.extend(variant_name(line).map(|name| name.to_lowercase()));
    if more.is_empty() {
        return plain;
    }
    let more = more.join(", ");
    format!("{} ({more}).", plain.trim_end_matches('.'))
}

/// The prescribed height of a line whose operation has one, in millimeters.
fn height_mm(line: &Agreed) -> Option<u32> {
    line.height_mm().filter(|_| takes_height(&line.operation))
}

/// The name of the line's variant; for the shop's own, its word.
fn variant_name(line: &Agreed) -> Option<&str> {
    let code = line.variant()?;
    let Some(known) = operation(&line.operation).and_then(|known| known.variant(code)) else {
        return Some(code);
    };
    Some(known.name())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn heels() -> Agreed {
        Agreed::at("top_piece_replacement", Minor(1_600))
    }

    #[test]
    fn one_shoe_is_named_and_both_are_not() {
        let left = Agreed {
            side: Side::Left,
            ..heels()
        };
        assert!(line_plain(&left).contains("left heel"), "{}", line_plain(&left));
        assert!(
            line_plain(&heels()).contains("both heels"),
            "{}",
            line_plain(&heels())
        );
        assert!(line_name(&left).ends_with(", left"));
    }

    #[test]
    fn a_tile_names_the_operation_and_the_one_shoe() {
        let right_leather = Agreed {
            side: Side::Right,
            variant: Some("leather".to_owned()),
            ..heels()
        };
        assert_eq!(tile_name_of_line(&right_leather), "Heels, right");
        assert_eq!(tile_name_of_line(&heels()), "Heels");
    }

    #[test]
    fn variant_and_number_are_told() {
        let known = operation("top_piece_replacement").unwrap();
        let leather = known.variants.iter().find(|one| one.name() == "Leather").unwrap();
        let line = Agreed {
            variant: Some(leather.code.to_owned()),
            ..heels()
        };
        assert!(
            line_plain(&line).ends_with(" (leather)."),
            "{}",
            line_plain(&line)
        );
        let zips = Agreed {
            count: Some(2),
            ..Agreed::at("zip_replacement", Minor(9_000))
        };
        assert!(line_name(&zips).ends_with(" × 2"), "{}", line_name(&zips));
        assert!(line_plain(&zips).contains('2') || line_plain(&zips).contains("two"));
    }

    #[test]
    fn a_step_is_called_as_its_line_on_the_shoe_it_was_done_on() {
        let line = Agreed {
            variant: Some("leather".to_owned()),
            ..heels()
        };
        let step = Step {
            operation: line.operation.clone(),
            side: Side::Right,
            note: String::new(),
            minutes: None,
            used: Vec::new(),
            line: None,
            cement: None,
        };
        let name = operations::name("top_piece_replacement");
        assert_eq!(step_name(&step, Some(&line)), format!("{name}, leather, right"));
        assert_eq!(step_name(&step, None), format!("{name}, right"));
    }

    #[test]
    fn the_prescribed_height_of_a_raise_is_told() {
        let raise = Agreed {
            height_mm: Some(12),
            ..Agreed::at("raise_to_prescription", Minor(6_500))
        };
        assert_eq!(line_plain(&raise), "Both soles raised by 12 mm, as prescribed.");
        let right = Agreed {
            side: Side::Right,
            ..raise
        };
        assert_eq!(
            line_plain(&right),
            "The right sole raised by 12 mm, as prescribed."
        );
        let name = operations::name("raise_to_prescription");
        assert_eq!(line_name(&right), format!("{name}, 12 mm, right"));
        // Not stated, taken back, and on work that has no height.
        for (operation, height_mm) in [
            ("raise_to_prescription", None),
            ("raise_to_prescription", Some(0)),
            ("half_sole", Some(12)),
        ] {
            let line = Agreed {
                height_mm,
                ..Agreed::at(operation, Minor(6_500))
            };
            assert!(!line_name(&line).contains("mm"), "{operation} {height_mm:?}");
            assert!(!line_plain(&line).contains("mm"), "{operation} {height_mm:?}");
        }
    }

    #[test]
    fn the_shops_own_words_stay_as_they_are() {
        let own = Agreed {
            side: Side::Right,
            variant: Some("brass".to_owned()),
            ..Agreed::at("bell repair", Minor(100))
        };
        assert_eq!(line_plain(&own), "bell repair, brass, right");
    }
}
