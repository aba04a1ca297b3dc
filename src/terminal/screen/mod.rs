//! Lists to walk and filter, and fields to type in, redrawn in place.
//!
//! For a capable terminal. Esc opens the same menu of actions at every prompt. `inquire` draws
//! the lists and fields; the menu of actions and the countdown of a wait read single keys. Not for
//! pipes and screen readers; that is the `plain` console.
//!
//! At a list or a field Ctrl-D and Esc cannot be told apart: both open the menu of actions, and
//! Ctrl-D there (or a second Ctrl-D) is the end of input. In a wait Ctrl-D ends at once.

mod actions;
mod confirming;
mod console;
mod countdown;
mod fitting;
mod inquire_widgets;
mod keys;
mod listing;
mod picking;
mod value;
mod widgets;

#[cfg(test)]
mod tests;

pub use console::ScreenConsole;
