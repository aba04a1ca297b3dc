//! Lists to walk and filter, and fields to type in, redrawn in place.
//!
//! For a capable terminal. Esc opens the same menu of actions at every prompt, and Ctrl-D where nothing
//! is typed is the end of input. `inquire` draws a list that is being filtered; a list at rest, the
//! fields, the menu of actions and the countdown of a wait read single keys, since `inquire` types the
//! letters of keys with Ctrl and takes Ctrl-D for Esc. Not for pipes and screen readers; that is the
//! `plain` console.

mod actions;
mod confirming;
mod console;
mod countdown;
mod field;
mod fitting;
mod frame;
mod inquire_widgets;
mod keys;
mod line;
mod listing;
mod picking;
mod resting;
mod value;
mod widgets;

#[cfg(test)]
mod tests;

pub use console::ScreenConsole;
