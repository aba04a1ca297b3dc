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
    /// The name in the key. A fit that was corrected for a known change of temperature need not
    /// run through the readings, and says so.
    pub fn name(self, is_corrected: bool) -> &'static str {
        match self {
            Self::Readings => "reading",
            Self::Fit if is_corrected => "fit, at an even temperature",
            Self::Fit => "fit",
            Self::Straight => "straight part",
            Self::Levelling => "levelling part",
            Self::Limit => "limit",
        }
    }
}
