//! Whole jobs, from YAML to bytes, in one test program.

mod bad;
mod edges;
mod house;
mod robust;
