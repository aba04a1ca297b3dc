//! What the answers amount to: the worksheet, the network of causes and findings, the reasons
//! and the words for doubt.
//!
//! A [`Worksheet`] evaluates answers, formulas and findings on demand; [`assess`] brings its
//! findings to the [`network`] and gives a ranking with reasons and the next checks. Nothing here
//! knows a tree or a terminal. Imports `handbook`, `formula`, `quantity` and `text`.

mod account;
mod alike;
mod alone;
mod assessment;
mod configuration;
mod costs;
mod curves;
pub mod decision;
mod doubt;
mod engine;
mod epochs;
mod far_fetched;
mod finding;
mod holds;
mod home;
mod hypothetical;
mod insight;
mod joint;
pub mod ledger;
pub mod left_out;
mod likely_states;
mod look_back;
pub mod network;
mod next_check;
mod obscured;
pub mod plan;
mod proof;
mod ranking;
mod reasons;
mod record;
mod repairs;
mod saying;
pub mod sensitivity;
mod settled;
mod side_by_side;
mod told_by;
mod value;
mod way;
mod weighed;
pub mod what_if;
mod witness;
pub mod wording;
mod worksheet;

pub use account::{Account, Entry, account};
pub use alike::{Alike, alike};
pub use alone::Alone;
pub use assessment::{Assessment, assess, checks_left, speaks};
pub use doubt::{InstrumentError, Reading, Streams, share_above, true_values};
pub use engine::Engine;
pub use epochs::Epochs;
pub use finding::{FindingState, Judged};
pub use holds::HoldsWhile;
pub use insight::{Change, Decided, Insight, Past, RestsOn, insight};
pub use joint::{Piece, gather};
pub use next_check::NextCheck;
pub use obscured::{ExplainedAway, Hidden};
pub use proof::Proof;
pub use ranking::{Ranked, RankedGroup, Together};
pub use reasons::{Reason, Reasons, reasons};
pub use record::{Given, Reach, Record, Reply, Round};
pub use repairs::{LeftOut, MENDS, REFERRAL, RepairStep, Repairs};
pub use saying::Saying;
pub use settled::{SETTLED_AT, STAYS_AT};
pub use told_by::{Worth, worth_of};
pub use value::NextTest;
pub use weighed::Weighed;
pub use witness::{AsOf, Witness, witnesses};
pub use worksheet::{Cells, Outdating, Worksheet};
