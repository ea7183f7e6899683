//! Wires: which terminals they join, how to check that with a meter, and what their markers look like.

pub mod geometry;
mod markers;
mod remarks;

pub use markers::markers;
