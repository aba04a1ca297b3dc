//! Handbooks: raw, resolved, checked.
