//! Items that are known to be in their lists.

/// The item at an index that comes from the list itself. It is there: a debug build stops where it is not, a
/// release build goes on without it.
pub(crate) fn item<T>(list: &[T], at: usize) -> Option<&T> {
    let item = list.get(at);
    debug_assert!(item.is_some(), "there are {} items and none with the index {at}", list.len());
    item
}
