//! Maps and sets built by insertion.

/// Collects by inserting one after another. `collect` into a `BTreeMap` or `BTreeSet` sorts first, and each such sort
/// adds some kilobytes to the wasm; the collections of one pair are small.
pub fn inserted<C: Default + Extend<T>, T>(items: impl IntoIterator<Item = T>) -> C {
    let mut all = C::default();
    all.extend(items);
    all
}
