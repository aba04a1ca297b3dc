//! One engine behind three skins: every scenario comes to the same case, to the bit, by an answers
//! file, as lines of JSON, and typed at the plain prompts.

mod given;
mod lines;
mod typed;
mod typist;
