//! The list of calculations as text, for a terminal.

use std::fmt::Write;

use super::CALCULATIONS;
use crate::trade::formulas::{Allowed, Field};

/// Every calculation with its inputs and answers, one field in each line.
pub fn list() -> String {
    let mut text = String::new();
    for entry in CALCULATIONS {
        // Writing to a string cannot fail.
        let _ = writeln!(text, "{}", entry.name);
        takes(&mut text, "", entry.takes);
        for given in entry.gives {
            let _ = writeln!(text, "  out  {:<22} {}", given.name, given.unit);
        }
        text.push('\n');
    }
    text
}

fn takes(text: &mut String, group: &str, fields: &[Field]) {
    for field in fields {
        let name = format!("{group}{}", field.name);
        let optional = if field.optional { ", optional" } else { "" };
        let _ = writeln!(text, "  in   {name:<22} {field}{optional}");
        if let Allowed::Group(inner) = field.allowed {
            takes(text, &format!("{name}."), inner);
        }
    }
}
