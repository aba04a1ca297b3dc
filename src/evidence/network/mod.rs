//! The network of causes and findings, solved exactly.
//!
//! It is for one question: given what was seen, how likely is each set of causes? It knows
//! numbers and their places only: no handbook, no units, no words. A cause is a fault that is
//! there or not; any number of them may be there at once. A finding has outcomes in order, `0`
//! being normal; a yes/no finding has the outcomes no (`0`) and yes (`1`).
//!
//! Every set of causes (a *state*: bit `k` set means that cause `k` is there) is enumerated, so
//! the answers are exact and only positive numbers are ever added. With at most
//! [`MOST_CAUSES`] causes that takes micro- to milliseconds.
//!
//! Imports nothing from the other rooms.
//!
//! ```
//! use dryhold::evidence::network::{CauseModel, Evidence, FindingModel, Model, Network};
//!
//! // One cause, there in 20 of 100 cases before anything is seen. One finding: yes in 5 of 100
//! // cases without the cause, in 90 of 100 with it.
//! let model = Model {
//!     causes: vec![CauseModel { prior: 0.2, brought_by: vec![] }],
//!     findings: vec![FindingModel {
//!         background: vec![0.95, 0.05],
//!         shown_by: vec![(0, vec![0.1, 0.9])],
//!         hidden_by: vec![],
//!     }],
//! };
//! let network = Network::new(model).unwrap();
//! let posterior = network.posterior(&[], &[Evidence::Seen { finding: 0, outcome: 1 }]).unwrap();
//! assert!((posterior.marginals[0] - 0.18 / 0.22).abs() < 1e-12);
//! ```

mod block;
mod check;
mod compile;
mod conditional;
mod evidence;
mod factor;
mod fault;
mod finding;
mod gather;
mod leave_out;
mod live;
mod model;
mod outlook;
mod posterior;
mod prepare;
mod prior;
mod scope;
mod weights;

pub use compile::{MOST_NUMBERS, Network};
pub use conditional::MOST_TOGETHER;
pub use evidence::{Evidence, Impossible, Pattern};
pub use fault::ModelError;
pub use leave_out::Rest;
pub(super) use leave_out::{Partly, Whole};
pub use model::{CauseModel, FindingModel, MOST_CAUSES, Model};
pub use posterior::Posterior;
