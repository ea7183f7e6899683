//! Wires: which terminals they join, how to check that with a meter, and what their markers look like.

mod natural;
mod nets;
mod plan;

pub(crate) use natural::natural;
pub use nets::Nets;
pub use plan::{Apart, Joined, Plan, Reason, plan};
