//! One look at all readings so far.

use crate::cli::rise::Wanted;
use crate::report::Asked;
use crate::rise::stopping::Standing;
use crate::rise::{Hold, Missing, Reading, read};
use crate::series::{Given, read_log};

use super::entry::Entry;

/// What the readings say so far.
#[derive(Clone, Debug)]
pub(super) struct Look {
    pub hold: Hold,
    pub reading: Result<Reading, Missing>,
    pub asked: Asked,
    /// Whether the answer has stood for long enough.
    pub standing: Standing,
}

impl Look {
    /// Looks at the readings of a log with this heading; the standing is still to be asked for.
    pub fn at(heading: &str, entries: &[Entry], wanted: &Wanted) -> Self {
        let hold = hold(heading, entries, wanted);
        let asked = wanted.asked(&hold);
        let reading = read(&hold);
        Self { hold, reading, asked, standing: Standing::Going }
    }

    /// Seconds from the first to the last reading.
    pub fn duration(&self) -> f64 {
        match (self.hold.times.first(), self.hold.times.last()) {
            (Some(first), Some(last)) => last - first,
            _ => 0.0,
        }
    }

    pub fn is_settled(&self) -> bool {
        matches!(self.standing, Standing::Settled { .. })
    }
}

/// The hold as `dryhold rise` would read it from the log; a single reading, of which no log can
/// be made, as it is.
fn hold(heading: &str, entries: &[Entry], wanted: &Wanted) -> Hold {
    let log: String =
        std::iter::once(heading.to_owned()).chain(entries.iter().map(Entry::lines)).collect();
    match read_log(log.as_bytes(), &Given::default()) {
        Ok(readings) => wanted.hold(&readings),
        Err(_) => {
            let pressures: Vec<f64> =
                entries.iter().filter_map(|entry| entry.pressure.ok()).take(1).collect();
            let times = vec![0.0; pressures.len()];
            let mut hold = Hold::new(times, pressures, wanted.gauge, wanted.matters);
            hold.surroundings = wanted.surroundings;
            hold
        }
    }
}
