//! When results and talk are coloured, as asked for by name.

use clap::ValueEnum;

/// When to colour.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Coloured {
    /// At a terminal that can, unless the environment says otherwise.
    #[default]
    Auto,
    /// Always, also into a file.
    Always,
    /// Never.
    Never,
}

impl Coloured {
    /// What was asked for by name.
    pub(super) fn asked(self) -> Option<bool> {
        match self {
            Self::Auto => None,
            Self::Always => Some(true),
            Self::Never => Some(false),
        }
    }
}
