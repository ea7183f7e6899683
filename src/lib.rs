//! decalwright turns one YAML spec into print-ready artwork for small decals and labels.
//!
//! The rooms stand in the order data flows; a room may use only those above it (DEVELOPERS.md).

pub mod units;

mod known;

mod parallel;

pub mod shape;

pub mod colour;

pub mod finding;

pub mod files;

pub mod font;

mod drawing;

pub mod yaml;

mod table;

pub mod spec;

pub mod text;

pub mod code;

pub mod wire;

pub mod design;

pub mod sheet;

pub mod check;

pub mod output;

pub mod card;

pub mod testprint;

pub mod proof;

pub mod job;
