//! Worksheet, network, reasons and wording.

pub mod ledger;
pub mod network;
pub mod wording;
