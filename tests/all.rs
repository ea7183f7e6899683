//! Whole jobs, from YAML to bytes, in one test program.

mod bad;
mod robust;

mod house;
