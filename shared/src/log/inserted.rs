//! Maps and sets built by insertion.

/// Collects by inserting one after another. `collect` into a `BTreeMap` or `BTreeSet` sorts first, and every such
/// sort is some kilobytes of wasm; the collections of one pair's life are small.
pub fn inserted<C: Default + Extend<T>, T>(items: impl IntoIterator<Item = T>) -> C {
    let mut all = C::default();
    all.extend(items);
    all
}
