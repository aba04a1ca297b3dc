//! Prompts, colours and waits; the only place that reads a key.
//!
//! A [`Console`] tells a person things and asks them things; it knows nothing of cases. There are
//! two behind the one interface: lists to walk and filter on a capable terminal, and numbered
//! lists with typed answers everywhere else ([`Facts::dialogue`] decides). At both, the words of
//! [`Action`] may be typed instead of an answer. What is asked and what an answer means is not
//! decided here. May import `report`, `case`, `quantity`, `diagnostic` and `text`.
//!
//! ```
//! use dryhold::terminal::Action;
//! assert_eq!(Action::from_word("not sure"), Some(Action::NotSure));
//! ```

mod acknowledging;
mod beside_a_wait;
mod capability;
mod clock;
mod console;
mod doubt;
mod input;
mod keyboard_lines;
mod line_json;
mod opening;
mod paint;
mod past;
mod person;
mod plain;
mod prompt;
mod screen;
mod signals;
mod understanding;
mod watching;
mod words;

pub use capability::{Dialogue, Facts, Stream};
pub use clock::{Clock, SystemClock, spoken};
pub use console::{Console, ROUNDS, Reply};
pub use input::{Heard, LineSource, PipedLines};
pub use line_json::{Program, opened, verdict as verdict_line};
pub use opening::open;
pub use paint::{Paper, WARNING_MARK};
pub use person::{Audience, LookAt, Person, ReadLog};
pub use plain::PlainConsole;
pub use prompt::{Checked, ConfirmPrompt, Confirmation, Menu, MenuOption, ValuePrompt, WaitPrompt};
pub use screen::ScreenConsole;
pub use watching::{LiveEvent, LiveScreen, keyboard_lines};
pub use words::Action;
