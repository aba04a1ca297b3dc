//! Dryhold: a rule-driven diagnostic assistant for people who evacuate refrigeration and
//! air-conditioning systems.
//!
//! The rooms, from the ground up; each may import only those named in its row (a test reads
//! every `crate::` path and fails on another edge):
//!
//! | room | is | may import |
//! | --- | --- | --- |
//! | [`text`] | pieces with a meaning, counts, lists | nothing |
//! | [`source`] | loaded files, byte spans, line index | nothing |
//! | [`quantity`] | kinds, units, reading and printing measured values | `text` |
//! | [`diagnostic`] | an author-facing fault as a value, registry, renderer | `source`, `text` |
//! | [`document`] | YAML with spans | `source`, `diagnostic`, `text` |
//! | [`physics`] | pure laws, one file per phenomenon | `quantity` |
//! | [`series`] | readings of a hold test: logs, pasted lines | `quantity`, `text`, `source`, `diagnostic` |
//! | [`rise`] | the reading of a rise | `physics`, `quantity` |
//! | [`formula`] | the formula language | `quantity`, `physics`, `rise`, `source`, `diagnostic`, `text` |
//! | [`handbook`] | raw, resolved and checked handbooks | `document`, `formula` and below |
//! | [`built_in`] | the handbook that comes with the program | `handbook`, `source` |
//! | [`analysis`] | which answers lead where, and what none lead to | `handbook`, `formula` and below |
//! | [`evidence`] | worksheet, network, reasons, wording | `handbook`, `formula` and below |
//! | [`case`] | the interview as a pure state machine | `evidence`, `handbook` and below |
//! | [`book`] | case files on disk | `case`, `handbook` and below |
//! | [`bench`](mod@bench) | a simulated rig that yields readings; knows no rules | `physics`, `quantity` |
//! | [`drawing`] | trees as drawings: DOT, Mermaid, SVG | `case`, `handbook`, `text` |
//! | [`rehearsal`] | scenarios and their outcomes, plays at a simulated rig | `case`, `evidence`, `bench` and below |
//! | [`terminal`] | prompts, the only place that reads a key | `case` and below |
//! | [`cli`] | arguments, exit status, one file per command | all |

pub mod analysis;
pub mod bench;
pub mod book;
pub mod built_in;
pub mod case;
pub mod cli;
pub mod diagnostic;
pub mod document;
pub mod drawing;
pub mod evidence;
pub mod formula;
pub mod handbook;
pub mod physics;
pub mod quantity;
pub mod rehearsal;
pub mod report;
pub mod rise;
pub mod series;
pub mod source;
pub mod terminal;
pub mod text;
