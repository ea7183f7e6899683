//! The room on its own: trees of job files, and thousands of broken ones.

mod file;
mod robust;
