//! Wires: which terminals they join, how to check that with a meter, and what their markers look like.

pub mod geometry;
mod markers;
mod natural;
mod nets;
mod plan;
mod remarks;

pub use markers::markers;
pub(crate) use natural::natural;
pub use nets::Nets;
pub use plan::{Apart, Joined, Plan, Reason, plan};
