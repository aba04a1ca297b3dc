//! Kinds, units, and measured values: reading what a person types and printing it.
