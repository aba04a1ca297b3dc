//! Worksheet, network, reasons and wording.
