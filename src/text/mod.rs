//! Pieces of text with a meaning, and the small prose that every message needs.
//!
//! The engine says *what* a piece of text is (a value, a warning, an id); only the terminal and
//! the report decide what that looks like. No colour lives here. Imports nothing.
//!
//! ```
//! use dryhold::text::{count, list_or};
//! assert_eq!(count(1, "reading"), "1 reading");
//! assert_eq!(list_or(&["a", "b", "c"]), "a, b or c");
//! ```

mod inert;
mod label;
mod markup;
mod near;
mod piece;
mod prose;
mod said;

pub use inert::{inert, is_inert};
pub use label::is_called;
pub use markup::{escaped, markdown_escaped};
pub use near::near_name;
pub use piece::{Line, Piece, Role};
pub use prose::{capital, count, list_and, list_or, plural, spoken};
pub use said::{also_said, as_said, is_in_doubt, is_prompt_word, says_not_sure};
