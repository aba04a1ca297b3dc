//! The interview as a pure state machine.
