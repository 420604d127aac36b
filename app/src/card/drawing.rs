//! The drawing of the kind of goods on the card, with the parts that were worked on tinted.

use shared::log::body::Section;
use shared::trade::Component;

/// What the files say about their kind of document. Inside a page it is not needed.
const NAMESPACE: &str = " xmlns=\"http://www.w3.org/2000/svg\"";

/// A drawing as it stands on the card.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct TintedDrawing {
    /// The `<svg>` element as text. None of it comes from the log.
    pub(super) svg: String,
    /// What its tints mean, in words; `None` if no part that it shows is tinted.
    pub(super) says: Option<&'static str>,
}

/// The drawing in which the parts of this section have an attribute `data-age`, by which the style sheet tints them.
pub(super) fn tinted(drawing: &str, section: &Section) -> TintedDrawing {
    let mut svg = drawing.replace(NAMESPACE, "");
    let new = tint(&mut svg, &section.new_parts, "new");
    let mended = tint(&mut svg, &section.mended_parts, "mended");
    let says = match (new, mended) {
        (true, true) => Some(words::card::shaded_new_and_mended()),
        (true, false) => Some(words::card::shaded_new()),
        (false, true) => Some(words::card::shaded_mended()),
        (false, false) => None,
    };
    TintedDrawing { svg, says }
}

/// Writes the age of these parts into a drawing; whether it shows any of them.
fn tint(svg: &mut String, codes: &[String], age: &str) -> bool {
    let mut any = false;
    let told = |part: &&Component| codes.iter().any(|code| code == part.as_str());
    for part in Component::KNOWN.iter().filter(told) {
        let plain = ["data-part=\"", part.as_str(), "\""].concat();
        if svg.contains(&plain) {
            let aged = ["data-age=\"", age, "\" ", &plain].concat();
            *svg = svg.replace(&plain, &aged);
            any = true;
        }
    }
    any
}

/// The drawing of a kind of goods by its code, for the server; `None` for a code this version does not know. The app
/// loads the same files with all its other drawings (`app/src/device/drawings.rs`).
#[cfg(feature = "ssr")]
#[must_use]
pub fn drawing_of(goods: &str) -> Option<&'static str> {
    macro_rules! among {
        ($($kind:literal)+) => {
            match goods {
                $($kind => Some(include_str!(concat!("../../assets/drawings/", $kind, ".svg"))),)+
                _ => None,
            }
        };
    }
    among!(
        "low_shoe" "boot" "walking_boot" "court_shoe" "dance_shoe" "sandal" "child" "trainer" "long_boot" "safety_boot"
        "orthopaedic" "climbing_shoe" "clog" "belt" "bag" "other"
    )
}

#[cfg(all(test, feature = "ssr"))]
mod tests {
    use shared::trade::Goods;

    use super::*;

    fn section(new: &[&str], mended: &[&str]) -> Section {
        let owned = |codes: &[&str]| codes.iter().map(|code| (*code).to_owned()).collect();
        Section {
            new_parts: owned(new),
            mended_parts: owned(mended),
            ..Section::default()
        }
    }

    #[test]
    fn every_kind_of_goods_has_a_drawing_that_can_stand_in_a_page() {
        for kind in Goods::KNOWN {
            let drawing = drawing_of(kind.as_str()).expect("it is drawn");
            let shown = tinted(drawing, &section(&[], &[]));
            assert!(
                shown.svg.starts_with("<svg viewBox=") && shown.says.is_none(),
                "{kind}"
            );
            assert!(!shown.svg.contains("http"), "{kind}");
        }
        assert_eq!(drawing_of("bell"), None);
    }

    #[test]
    fn only_parts_that_the_drawing_shows_are_tinted_and_told() {
        let drawing = drawing_of("low_shoe").expect("it is drawn");
        let shown = tinted(drawing, &section(&["outsole", "shank"], &["welt"]));
        assert_eq!(
            shown
                .svg
                .matches("data-age=\"new\" data-part=\"outsole\"")
                .count(),
            1
        );
        assert_eq!(shown.svg.matches("data-age=").count(), 2);
        assert_eq!(shown.says, Some("dark: new; light: mended, or new in part"));
        assert_eq!(tinted(drawing, &section(&["shank"], &[])).says, None);
    }

    #[test]
    fn what_a_log_calls_a_part_does_not_reach_the_page() {
        let drawing = drawing_of("low_shoe").expect("it is drawn");
        let plain = tinted(drawing, &section(&[], &[]));
        assert_eq!(tinted(drawing, &section(&["\"><script>", "bell"], &[""])), plain);
    }
}
