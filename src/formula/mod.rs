//! The formula language.
