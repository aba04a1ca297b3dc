//! What a chart can show, and its name in the key.

/// Something drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Drawn {
    /// What the gauge showed.
    Readings,
    /// All parts together.
    Fit,
    /// The straight part alone.
    Straight,
    /// The part that levels off alone.
    Levelling,
    /// The limit of a written criterion.
    Limit,
}

impl Drawn {
    /// The name in the key.
    pub fn name(self) -> &'static str {
        match self {
            Self::Readings => "reading",
            Self::Fit => "fit",
            Self::Straight => "straight part",
            Self::Levelling => "levelling part",
            Self::Limit => "limit",
        }
    }
}
