//! Whole jobs, from YAML to bytes, in one test program.

mod bad;
mod codes;
mod edges;
mod files;
mod house;
mod jobs;
mod rendered;
mod robust;
