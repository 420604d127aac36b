//! The lines of work on a pair of the form: what is added with a tap, what follows from it, and what each line costs.
//!
//! A price that nobody typed follows the shop's price list with every change of its line. A price that was typed stays.

use shared::log::body::{Agreed, OperationCode, Side};
use shared::log::fold::ShopState;
use shared::price::listed::{listed, package_prices};
use shared::price::minor::Minor;
use shared::text::unless_empty;
use shared::trade::amount::LineSize;
use shared::trade::packages::packages_for;
use shared::trade::{Class, Goods, Package, line_name, operation, operations, package};

use super::form::{LineIn, PairIn};

/// The most pieces that a line can have.
pub const MOST_PIECES: u32 = 50;

impl LineIn {
    /// An operation on both shoes, or on one piece, in no variant in particular and without a price.
    pub fn usual(operation: impl Into<OperationCode>) -> Self {
        Self {
            operation: operation.into(),
            side: Side::Both,
            variant: String::new(),
            count: 1,
            package: String::new(),
            height_mm: 0,
            price: String::new(),
            by_hand: false,
        }
    }

    /// The line as it is written in the log, at this price.
    pub fn agreed(&self, price: Minor) -> Agreed {
        Agreed {
            side: self.side.clone(),
            variant: unless_empty(self.variant.clone()),
            count: (self.count > 1).then_some(self.count),
            package: unless_empty(self.package.clone()),
            height_mm: Some(self.height_mm).filter(|height| *height > 0),
            ..Agreed::at(&self.operation, price)
        }
    }

    /// The line in words, as lists name it.
    pub fn name(&self) -> String {
        line_name(&self.agreed(Minor::ZERO))
    }

    /// The shoe that a line on one shoe leaves free; `None` for a line on both.
    fn free_shoe(&self) -> Option<Side> {
        match self.side {
            Side::Left => Some(Side::Right),
            Side::Right => Some(Side::Left),
            Side::Both | Side::Other(_) => None,
        }
    }

    fn asked(&self) -> LineSize<'_> {
        LineSize {
            operation: &self.operation,
            variant: unless_empty(self.variant.as_str()),
            count: self.count,
            side: &self.side,
        }
    }

    /// Sets the price, unless somebody typed one.
    fn costs(&mut self, price: Option<Minor>, shop: &ShopState) {
        if !self.by_hand {
            self.price = price
                .map(|price| shop.money_kind().typed(price))
                .unwrap_or_default();
        }
    }
}

impl PairIn {
    /// Its lines of work, in words.
    pub fn work(&self) -> String {
        self.lines.iter().map(LineIn::name).collect::<Vec<_>>().join("; ")
    }

    /// Whether an operation is one of its lines.
    pub fn has(&self, operation: &str) -> bool {
        self.lines.iter().any(|line| line.operation == operation)
    }

    /// What the buttons and fields of a line are called by: its operation and, where the other shoe has a line of its own,
    /// which shoe. It does not change while the line's variant and number are chosen.
    pub fn label(&self, at: usize) -> String {
        let Some(line) = self.lines.get(at) else {
            return String::new();
        };
        let shoe = self.other_shoe_of(at).map_or("", |_| line.side.after());
        [operations::name(&line.operation), shoe].concat()
    }

    /// The index of the line of the same operation for the other shoe; `None` if there is none.
    fn other_shoe_of(&self, at: usize) -> Option<usize> {
        let operation = &self.lines.get(at)?.operation;
        let mut lines = self.lines.iter().enumerate();
        let other = lines.find(|(place, line)| *place != at && line.operation == *operation);
        other.map(|(place, _)| place)
    }

    /// Whether a line is on one shoe, and its operation can be added for the other one.
    pub fn lacks_other_shoe(&self, at: usize) -> bool {
        let line = self.lines.get(at);
        line.and_then(LineIn::free_shoe).is_some() && self.other_shoe_of(at).is_none()
    }

    /// Adds the operation of a line on one shoe for the other shoe too, as a line with a variant, a number and a price of
    /// its own. It stands after that line, and is sold in the same package.
    pub fn add_other_shoe(&mut self, at: usize, shop: &ShopState) {
        if !self.lacks_other_shoe(at) {
            return;
        }
        let other = self.lines.get(at).and_then(|line| {
            Some(LineIn {
                side: line.free_shoe()?,
                package: line.package.clone(),
                ..LineIn::usual(&line.operation)
            })
        });
        if let Some(other) = other {
            self.lines.insert(at + 1, other);
            self.set_price(at + 1, shop);
        }
    }

    /// The line of which an operation is a part, so that it is not charged beside it; `None` if there is none.
    pub fn includes(&self, code: &str) -> Option<&LineIn> {
        self.lines
            .iter()
            .find(|line| operation(&line.operation).is_some_and(|known| known.includes.contains(&code)))
    }

    /// The operations that have to be asked for beside its lines: that the price list has for such goods, and that are
    /// not there yet.
    pub fn asks_for(&self, shop: &ShopState) -> Vec<&'static str> {
        let known = self.lines.iter().filter_map(|line| operation(&line.operation));
        let mut asked: Vec<&'static str> = Vec::new();
        for code in known.flat_map(|known| known.asks_for.iter().copied()) {
            let there = self.has(code) || self.includes(code).is_some() || asked.contains(&code);
            if !there && listed(shop, &self.goods, LineSize::usual(code)).is_some() {
                asked.push(code);
            }
        }
        asked
    }

    /// Whether lines of it were sold in a package.
    pub fn has_package(&self, package: &Package) -> bool {
        self.lines.iter().any(|line| line.package == package.code)
    }

    /// Adds an operation at its listed price, or removes it from both shoes. What is part of other work is not added.
    pub fn toggle(&mut self, operation: &str, shop: &ShopState) {
        let count = self.lines.len();
        while let Some(at) = self.lines.iter().position(|line| line.operation == operation) {
            self.take_off(at, shop);
        }
        if self.lines.len() < count || self.includes(operation).is_some() {
            return;
        }
        self.lines.push(LineIn::usual(operation));
        self.set_price(self.lines.len() - 1, shop);
        self.take_off_what_is_included(shop);
    }

    /// Adds an operation that another line asks for; both become a package if there is one and nobody typed the other
    /// one's price.
    pub fn add_asked(&mut self, code: &str, shop: &ShopState) {
        let goods = Goods::from(self.goods.as_str());
        let with_it = |package: &&Package| {
            package.operations.contains(&code)
                && package.operations.iter().all(|one| {
                    let free =
                        |line: &LineIn| line.operation == *one && line.package.is_empty() && !line.by_hand;
                    *one == code || self.lines.iter().any(free)
                })
        };
        let package = packages_for(&goods).find(with_it);
        match package {
            Some(package) => self.toggle_package(package, shop),
            None if !self.has(code) => self.toggle(code, shop),
            None => {}
        }
    }

    /// Adds the operations of a package at its price, or removes them. Lines that are there already become part of it,
    /// at its price.
    pub fn toggle_package(&mut self, package: &Package, shop: &ShopState) {
        if self.has_package(package) {
            return self.lines.retain(|line| line.package != package.code);
        }
        let mut left: Vec<String> = Vec::new();
        for code in package.operations {
            if !self.has(code) {
                self.lines.push(LineIn::usual(*code));
            }
            for line in self.lines.iter_mut().filter(|line| line.operation == *code) {
                left.push(std::mem::replace(&mut line.package, package.code.to_owned()));
                line.by_hand = false;
            }
        }
        for code in left {
            self.dissolve(&code, shop);
        }
        self.price_package(package, shop);
        self.take_off_what_is_included(shop);
    }

    /// Removes a line. If it was sold in a package that is no longer whole, the others of that package cost their list
    /// prices again.
    pub fn take_off(&mut self, at: usize, shop: &ShopState) {
        if at < self.lines.len() {
            let gone = self.lines.remove(at);
            match package(&gone.package) {
                Some(package) => self.price_package(package, shop),
                None => self.dissolve(&gone.package, shop),
            }
        }
    }

    /// Changes a line: its variant, its number, which shoe. Its price follows. If its operation has a line for the other
    /// shoe, that one moves to the shoe that is left free, or goes if none is.
    pub fn change(&mut self, at: usize, shop: &ShopState, change: impl FnOnce(&mut LineIn)) {
        if let Some(line) = self.lines.get_mut(at) {
            change(line);
            line.count = line.count.clamp(1, MOST_PIECES);
            let free = line.free_shoe();
            self.set_price(at, shop);
            if let Some(other) = self.other_shoe_of(at) {
                self.move_to(other, free, shop);
            }
        }
    }

    /// Moves a line to a shoe; without one, takes the line off.
    fn move_to(&mut self, at: usize, shoe: Option<Side>, shop: &ShopState) {
        let Some(shoe) = shoe else {
            return self.take_off(at, shop);
        };
        if let Some(line) = self.lines.get_mut(at) {
            line.side = shoe;
            self.set_price(at, shop);
        }
    }

    /// Sets the kind of goods; prices that nobody typed change to the listed ones.
    pub fn is_a(&mut self, goods: &str, shop: &ShopState) {
        goods.clone_into(&mut self.goods);
        if !Goods::from(goods).is_any_of(Class::FOOTWEAR) {
            self.lines.iter_mut().for_each(|line| line.side = Side::Both);
            let mut known: Vec<OperationCode> = Vec::new();
            self.lines.retain(|line| {
                let is_first = !known.contains(&line.operation);
                known.push(line.operation.clone());
                is_first
            });
        }
        for at in 0..self.lines.len() {
            self.set_price(at, shop);
        }
    }

    fn take_off_what_is_included(&mut self, shop: &ShopState) {
        while let Some(at) = self.first_included() {
            self.take_off(at, shop);
        }
    }

    fn first_included(&self) -> Option<usize> {
        self.lines
            .iter()
            .position(|line| self.includes(&line.operation).is_some())
    }

    /// Sets the price of a line to the listed one; if it is of a package, the prices of all lines of that package.
    fn set_price(&mut self, at: usize, shop: &ShopState) {
        let Some(line) = self.lines.get_mut(at) else {
            return;
        };
        if let Some(package) = package(&line.package) {
            return self.price_package(package, shop);
        }
        let price = listed(shop, &self.goods, line.asked());
        line.costs(price, shop);
    }

    /// Shares the price of a package over its lines; a package that is no longer whole, or has no price, is dissolved.
    fn price_package(&mut self, package: &Package, shop: &ShopState) {
        let lines = || self.lines.iter().filter(move |line| line.package == package.code);
        let is_whole = package
            .operations
            .iter()
            .all(|code| lines().any(|line| line.operation == *code));
        let asked: Vec<LineSize<'_>> = lines().map(LineIn::asked).collect();
        let prices = package_prices(shop, &self.goods, package, &asked).filter(|_| is_whole);
        let Some(prices) = prices else {
            return self.dissolve(package.code, shop);
        };
        let lines = self.lines.iter_mut().filter(|line| line.package == package.code);
        for (line, price) in lines.zip(prices) {
            line.costs(Some(price), shop);
        }
    }

    /// Ends a package: what is left of it costs its list price again.
    fn dissolve(&mut self, package: &str, shop: &ShopState) {
        if package.is_empty() {
            return;
        }
        let goods = self.goods.clone();
        for line in self.lines.iter_mut().filter(|line| line.package == package) {
            line.package.clear();
            let price = listed(shop, &goods, line.asked());
            line.costs(price, shop);
        }
    }
}

#[cfg(test)]
mod tests;
