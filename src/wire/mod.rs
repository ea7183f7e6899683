//! Wires: which terminals they join, how to check that with a meter, and what their markers look like.

pub(crate) mod geometry;
mod markers;
mod natural;
mod nets;
mod plan;
mod remarks;

pub(crate) use markers::markers;
pub(crate) use natural::natural;
pub(crate) use nets::Nets;
#[cfg(test)]
pub(crate) use plan::Reason;
pub(crate) use plan::{Plan, plan};
