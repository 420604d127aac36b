//! What has to be ordered: as lines, as a text to send, and as a file for a spreadsheet.

use super::amount::{amount_words, whole_units};
use super::rows::{Shelf, ShelfRow};
use crate::csv::field;
use crate::log::entry::SubjectId;
use crate::price::currency::Currency;
use crate::price::minor::Minor;

/// One material to be ordered.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderLine {
    /// The material.
    pub material: SubjectId,
    /// Its name.
    pub name: String,
    /// What kind of material it is; empty if that was not noted, as the texts below.
    pub kind: String,
    /// Its size.
    pub size: String,
    /// Its thickness with the unit.
    pub thickness: String,
    /// Its colour.
    pub colour: String,
    /// Who supplies it.
    pub supplier: String,
    /// The unit it is counted in.
    pub unit: String,
    /// How much to order, in thousandths of the unit: whole units.
    pub thousandths: i64,
    /// The cost of one unit, without tax, in minor units.
    pub cost_minor: Option<Minor>,
}

impl OrderLine {
    /// A material with this amount of it, in thousandths of its unit.
    pub fn of(row: &ShelfRow, thousandths: i64) -> Self {
        let state = &row.state;
        let text = |text: Option<&str>| text.unwrap_or_default().to_owned();
        let thickness = state.thickness_mm().map(words::shelf::millimetres);
        Self {
            material: row.id,
            name: row.name().to_owned(),
            kind: text(state.kind()),
            size: text(state.size()),
            thickness: thickness.unwrap_or_default(),
            colour: text(state.colour()),
            supplier: text(state.supplier()),
            unit: text(state.unit()),
            thousandths,
            cost_minor: row.cost(),
        }
    }

    /// The material as one reads it in an order: its name, and what sets it apart from others.
    fn what(&self) -> String {
        listed(&[&self.name, &self.facts()])
    }

    /// What sets it apart from others of its name: its kind, size, thickness and colour, as far as they were noted.
    pub fn facts(&self) -> String {
        listed(&[&self.kind, &self.size, &self.thickness, &self.colour])
    }
}

/// Those of these texts that say something, one after another.
fn listed(texts: &[&str]) -> String {
    let said = texts.iter().copied().filter(|text| !text.is_empty());
    said.collect::<Vec<_>>().join(", ")
}

impl Shelf {
    /// What is below the least that should be there and not ordered: enough to reach it, in whole units, by supplier
    /// and name. Materials without a supplier come last.
    pub fn order_list(&self) -> Vec<OrderLine> {
        let missing = self.rows.iter().map(|row| (row, row.missing()));
        let missing = missing.filter(|(_, amount)| *amount > 0);
        by_supplier(missing.map(|(row, amount)| OrderLine::of(row, whole_units(amount))))
    }

    /// What is on order and has not come, in the same order.
    pub fn on_order_list(&self) -> Vec<OrderLine> {
        let on_order = self.rows.iter().filter(|row| row.on_order > 0);
        by_supplier(on_order.map(|row| OrderLine::of(row, row.on_order)))
    }
}

/// Lines that are sorted by name.
fn by_supplier(lines: impl Iterator<Item = OrderLine>) -> Vec<OrderLine> {
    let mut lines: Vec<_> = lines.collect();
    lines.sort_by_key(|line| (line.supplier.is_empty(), line.supplier.to_lowercase()));
    lines
}

/// An order as a text to send: what the shop and the day are called, then the lines under each supplier.
pub fn order_text(lines: &[OrderLine], shop: &str, day: &str) -> String {
    let mut all = vec![words::shelf::order_of(shop, day)];
    let mut supplier = None;
    for line in lines {
        if supplier != Some(&line.supplier) {
            supplier = Some(&line.supplier);
            all.push(String::new());
            all.push(match line.supplier.as_str() {
                "" => words::shelf::no_supplier().to_owned(),
                name => words::shelf::supplier(name),
            });
        }
        let amount = amount_words(line.thousandths);
        all.push(words::shelf::order_line(&amount, &line.unit, &line.what()));
    }
    all.push(String::new());
    all.join("\n")
}

/// An order as a file for a spreadsheet (RFC 4180): one line for each material, with the costs in the shop's currency.
pub fn order_csv(lines: &[OrderLine], money: Currency) -> String {
    let heads = [
        words::shelf::head_supplier(),
        words::shelf::head_material(),
        words::shelf::head_kind(),
        words::shelf::head_size(),
        words::shelf::head_thickness(),
        words::shelf::head_colour(),
        words::shelf::head_amount(),
        words::shelf::head_unit(),
        words::shelf::head_cost_of_one(),
        words::analytics::head_currency(),
    ];
    let mut all = record(&heads);
    for line in lines {
        let amount = amount_words(line.thousandths);
        let cost = line
            .cost_minor
            .map(|minor| money.format(minor))
            .unwrap_or_default();
        all.push_str(&record(&[
            line.supplier.as_str(),
            &line.name,
            &line.kind,
            &line.size,
            &line.thickness,
            &line.colour,
            &amount,
            &line.unit,
            &cost,
            money.code(),
        ]));
    }
    all
}

/// A record of the file.
fn record(fields: &[&str]) -> String {
    let fields: Vec<String> = fields.iter().map(|text| field(text)).collect();
    [&fields.join(","), "\r\n"].concat()
}
