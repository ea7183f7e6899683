//! Sheets as bytes, one file a format.
