//! The one integration binary, a module per subject.
