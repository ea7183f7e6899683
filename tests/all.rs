//! Whole jobs, from YAML to bytes, in one test program.
