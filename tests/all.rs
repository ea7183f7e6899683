//! Whole jobs, from YAML to bytes, in one test program.

mod art;
mod bad;
mod codes;
mod covered;
mod edges;
mod files;
mod gauges;
mod harness;
mod house;
mod jobs;
mod panels;
mod profiles;
mod proof;
mod rendered;
mod robust;
mod seen;
mod spec;
mod testprints;
mod thin;
mod wires;
