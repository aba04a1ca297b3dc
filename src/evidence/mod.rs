//! Worksheet, network, reasons and wording.

pub mod network;
