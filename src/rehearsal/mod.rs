//! Scenarios and their outcomes.
