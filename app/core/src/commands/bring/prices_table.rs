//! Reading a table of prices: RFC 4180, with headings on the first line.
//!
//! It is read in two forms. One has a line for each operation and a column for each kind of goods, as people write a
//! price list. The other has one price a line, as this app writes it (`take_out`). Operations and goods may be named by
//! their codes or by their names in British or American English.

use shared::csv;
use shared::log::body::field;
use shared::log::fold::ShopState;
use shared::text::folded;
use shared::trade::operations::{Operation, operation, operations};
use shared::trade::packages::packages;
use shared::trade::{Goods, operations as trade_names};
use words::Language;

use super::heads::letters;
use super::read::UnreadLine;

/// Headings of the column that names the work, by their letters.
const WORK_HEADS: &str = "operation code work repair service job item arbeit leistung reparatur reparation travail \
                          trabajo lavoro werk";
/// Headings of the column of goods, where each line has one price.
const GOODS_HEADS: &str = "goods kind";
/// Headings of the column of prices there.
const PRICE_HEADS: &str = "price amount preis prix precio prezzo prijs";

/// One price, as it stands in a table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct PriceCell {
    /// The line, counted from 1.
    pub(super) line: usize,
    /// The plain field of the shop that holds such a price.
    pub(super) field: String,
    /// What it is the price of, in words.
    pub(super) what: String,
    /// The amount, as it was typed.
    pub(super) typed: String,
}

/// What a table says.
#[derive(Debug, Default)]
pub(super) struct PriceTable {
    pub(super) cells: Vec<PriceCell>,
    pub(super) unread: Vec<UnreadLine>,
    pub(super) unknown: Vec<String>,
}

/// What a column has.
#[derive(Debug, Clone, PartialEq, Eq)]
enum PriceColumn {
    /// The code or the name of the work.
    Work,
    /// Its name beside its code, which is not read.
    Name,
    /// Prices on this kind of goods.
    On(Goods),
    /// The kind of goods of a line with one price.
    Goods,
    /// The price of a line with one price.
    Price,
    /// What the price of such a line is for: `operation`, `variant`, `one_shoe`, `package` or `piece`.
    For,
    /// The variant of such a line.
    Variant,
    /// The code of the currency of the prices of a line.
    Currency,
}

/// Whether these are the headings of a table of prices.
pub(super) fn is_of_prices(heads: &[String], shop: &ShopState) -> bool {
    let columns = columns(heads, shop);
    let has = |wanted: fn(&PriceColumn) -> bool| columns.iter().flatten().any(wanted);
    has(|column| *column == PriceColumn::Work)
        && has(|column| matches!(column, PriceColumn::On(_) | PriceColumn::Price))
}

/// Reads a table of prices.
pub(super) fn read(text: &str, shop: &ShopState) -> PriceTable {
    let mut table = PriceTable::default();
    let mut records = csv::read(text, csv::separator(text)).into_iter();
    let Some(first) = records.next() else { return table };
    let heads = first.fields.unwrap_or_default();
    if !is_of_prices(&heads, shop) {
        let why = words::shop::bring::no_headings_of_prices();
        table
            .unread
            .push(UnreadLine::new(first.line, &heads.join(", "), why));
        return table;
    }
    let columns = columns(&heads, shop);
    for (head, column) in heads.iter().zip(&columns) {
        if column.is_none() && !head.trim().is_empty() {
            table.unknown.push(head.trim().to_owned());
        }
    }
    for record in records {
        match record.fields {
            Ok(fields) => {
                let plain = fields.iter().map(|field| csv::unescaped(field.trim()));
                let fields: Vec<String> = plain.collect();
                let row = PriceRecord {
                    line: record.line,
                    fields: &fields,
                    columns: &columns,
                    shop,
                };
                row.hand_over(&mut table);
            }
            Err(bad) => {
                let why = words::shop::bring::quotes_do_not_match();
                table.unread.push(UnreadLine::new(record.line, &bad, why));
            }
        }
    }
    table
}

/// What the columns have.
fn columns(heads: &[String], shop: &ShopState) -> Vec<Option<PriceColumn>> {
    let is_one_of = |letters: &str, all: &str| all.split_whitespace().any(|known| known == letters);
    let mut columns = Vec::with_capacity(heads.len());
    for head in heads {
        let letters = letters(head);
        let column = match letters.as_str() {
            "pricefor" => Some(PriceColumn::For),
            "variant" => Some(PriceColumn::Variant),
            "goodsname" => Some(PriceColumn::Name),
            "currency" => Some(PriceColumn::Currency),
            "name" if columns.contains(&Some(PriceColumn::Work)) => Some(PriceColumn::Name),
            "name" => Some(PriceColumn::Work),
            work if is_one_of(work, WORK_HEADS) && !columns.contains(&Some(PriceColumn::Work)) => {
                Some(PriceColumn::Work)
            }
            goods if is_one_of(goods, GOODS_HEADS) => Some(PriceColumn::Goods),
            price if is_one_of(price, PRICE_HEADS) || is_currency(head, shop) => Some(PriceColumn::Price),
            _ => goods_named(head).map(PriceColumn::On),
        };
        columns.push(column);
    }
    columns
}

/// Whether a heading is the code of the shop's currency.
fn is_currency(head: &str, shop: &ShopState) -> bool {
    let code = shop.money_kind().code();
    !code.is_empty() && head.trim().eq_ignore_ascii_case(code)
}

/// A line of a table of prices.
struct PriceRecord<'a> {
    line: usize,
    /// The fields, without blanks around them and without the apostrophes that protect against formulas.
    fields: &'a [String],
    columns: &'a [Option<PriceColumn>],
    shop: &'a ShopState,
}

impl PriceRecord<'_> {
    /// The field under this column; empty if there is none.
    fn under(&self, wanted: &PriceColumn) -> &str {
        let cells = self.columns.iter().zip(self.fields);
        let mut found = cells.filter(|(column, _)| matches!(column, Some(known) if known == wanted));
        found.next().map_or("", |(_, field)| field.as_str())
    }

    fn unread(&self, why: &'static str) -> UnreadLine {
        UnreadLine::new(self.line, &self.fields.join(", "), why)
    }

    fn cell(&self, field: String, what: String, typed: &str) -> PriceCell {
        PriceCell {
            line: self.line,
            field,
            what,
            typed: typed.to_owned(),
        }
    }

    fn hand_over(&self, table: &mut PriceTable) {
        if self.fields.iter().all(String::is_empty) {
            return;
        }
        if self.is_in_another_currency() {
            let why = words::shop::bring::in_another_currency();
            table.unread.push(self.unread(why));
            return;
        }
        let price = self.under(&PriceColumn::Price);
        let is_single = self.columns.contains(&Some(PriceColumn::Price));
        let read = match (self.under(&PriceColumn::For), is_single) {
            ("piece", true) => self.piece(price),
            ("package", true) => self.package(price),
            (wanted, true) => self.single(wanted, price),
            (_, false) => self.on_each_kind(table),
        };
        match read {
            Ok(cells) => table.cells.extend(cells),
            Err(why) => table.unread.push(self.unread(why)),
        }
    }

    /// Whether the line names a currency that is not the shop's. A shop without a currency takes each.
    fn is_in_another_currency(&self) -> bool {
        let (money, named) = (self.shop.money_kind(), self.under(&PriceColumn::Currency));
        !named.is_empty() && !money.code().is_empty() && !money.is_named(named)
    }

    /// The code of the work that the line names.
    fn work(&self) -> Result<String, &'static str> {
        let named = self.under(&PriceColumn::Work);
        work_named(named, self.shop).ok_or_else(words::shop::bring::no_such_work)
    }

    /// The same, in the form that this app writes: what is not known there is the shop's own work.
    fn work_or_own(&self) -> Result<String, &'static str> {
        let named = self.under(&PriceColumn::Work);
        match self.work() {
            Err(_) if !named.is_empty() => Ok(named.to_owned()),
            known => known,
        }
    }

    /// The kind of goods that the line names.
    fn goods(&self) -> Result<Goods, &'static str> {
        goods_named(self.under(&PriceColumn::Goods)).ok_or_else(words::shop::bring::no_such_goods)
    }

    /// A line with a price on each kind of goods. Kinds without a price are left as they are.
    fn on_each_kind(&self, table: &mut PriceTable) -> Result<Vec<PriceCell>, &'static str> {
        let work = self.work()?;
        let mut cells = Vec::new();
        for (column, typed) in self.columns.iter().zip(self.fields) {
            let Some(PriceColumn::On(goods)) = column else {
                continue;
            };
            if typed.is_empty() {
                continue;
            }
            let what = on_goods(trade_names::name(&work), goods);
            if fits(&work, goods) {
                cells.push(self.cell(field::price(&work, goods.as_str()), what, typed));
            } else {
                let why = words::shop::bring::not_done_on_such_goods();
                table.unread.push(UnreadLine::new(self.line, &what, why));
            }
        }
        Ok(cells)
    }

    /// A line with the price of an operation, of a variant of it, or of one shoe.
    fn single(&self, wanted: &str, typed: &str) -> Result<Vec<PriceCell>, &'static str> {
        let work = match wanted {
            "operation" | "one_shoe" => self.work_or_own()?,
            _ => self.work()?,
        };
        let goods = self.goods()?;
        if !fits(&work, &goods) {
            return Err(words::shop::bring::not_done_on_such_goods());
        }
        let name = trade_names::name(&work);
        let (field, what) = match wanted {
            "" | "operation" => (field::price(&work, goods.as_str()), on_goods(name, &goods)),
            "one_shoe" => {
                let one = words::shop::prices::one_shoe();
                let what = words::shop::prices::variant_on_goods(name, one, goods.words());
                (field::one_shoe_price(&work, goods.as_str()), what)
            }
            "variant" => {
                let code = self.under(&PriceColumn::Variant);
                let variant = operation(&work).and_then(|known| known.variant(code));
                let variant = variant.ok_or_else(words::shop::bring::no_such_work)?;
                let what = words::shop::prices::variant_on_goods(name, variant.name(), goods.words());
                (field::variant_price(&work, code, goods.as_str()), what)
            }
            _ => return Err(words::shop::bring::no_such_price()),
        };
        Ok(vec![self.cell(field, what, typed)])
    }

    /// A line with the price of a package.
    fn package(&self, typed: &str) -> Result<Vec<PriceCell>, &'static str> {
        let named = self.under(&PriceColumn::Work);
        let mut known = packages().iter();
        let package = known.find(|one| one.code == named || is_name(named, || one.name()));
        let (package, goods) = (
            package.ok_or_else(words::shop::bring::no_such_work)?,
            self.goods()?,
        );
        let field = field::package_price(package.code, goods.as_str());
        Ok(vec![self.cell(field, on_goods(package.name(), &goods), typed)])
    }

    /// A line with the price of one piece of goods that are sold over the counter.
    fn piece(&self, typed: &str) -> Result<Vec<PriceCell>, &'static str> {
        let what = self.under(&PriceColumn::Work);
        if what.is_empty() {
            return Err(words::shop::bring::no_such_goods());
        }
        Ok(vec![self.cell(field::goods_price(what), what.to_owned(), typed)])
    }
}

/// Work on goods, in words.
fn on_goods(work: &str, goods: &Goods) -> String {
    words::shop::prices::operation_on_goods(work, goods.words())
}

/// Whether work can be done on goods. Of the shop's own work it is not known on which.
fn fits(work: &str, goods: &Goods) -> bool {
    operation(work).is_none_or(|known| known.fits(goods))
}

/// Whether a text is a name in British or in American English, compared without case and marks.
fn is_name<'a>(text: &str, name: impl Fn() -> &'a str) -> bool {
    let wanted = folded(text.trim());
    let is_it = |language| words::speaking(language, || folded(name()) == wanted);
    !wanted.is_empty() && Language::ALL.into_iter().any(is_it)
}

/// The code of the operation that a text names: one of the trade's by code or name, or one of the shop's own.
fn work_named(text: &str, shop: &ShopState) -> Option<String> {
    let text = text.trim();
    let is_it = |known: &&Operation| known.code == text || is_name(text, || known.name());
    if let Some(known) = operations().find(is_it) {
        return Some(known.code.to_owned());
    }
    let wanted = folded(text);
    let fields = shop.details.iter().map(|(field, _)| field);
    let mut own = fields.filter_map(field::priced_operation);
    own.find(|own| folded(own) == wanted).map(str::to_owned)
}

/// The kind of goods that a text names, by code or name.
fn goods_named(text: &str) -> Option<Goods> {
    let text = text.trim();
    let is_it = |known: &&Goods| known.as_str() == text || is_name(text, || known.words());
    Goods::KNOWN.iter().find(is_it).cloned()
}
