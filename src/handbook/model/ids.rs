//! Places in the tables of a handbook.

use serde::{Deserialize, Serialize};

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident;)*) => {
        $($(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        pub struct $name(pub(in crate::handbook) usize);

        impl $name {
            /// The id for a place in the table, from 0.
            #[must_use]
            pub fn at(index: usize) -> Self {
                Self(index)
            }

            /// The place in the table, from 0.
            #[must_use]
            pub fn index(self) -> usize {
                self.0
            }
        })*
    };
}

ids! {
    /// Names a question.
    QuestionId;
    /// Names an instrument.
    InstrumentId;
    /// Names a formula.
    FormulaId;
    /// Names a finding.
    FindingId;
    /// Names a cause.
    CauseId;
    /// Names an action.
    ActionId;
    /// Names a tree.
    TreeId;
    /// Names a step within its tree.
    StepId;
    /// Names a caution.
    CautionId;
    /// Names a source.
    ReferenceId;
}
