//! What each piece of evidence says by itself, with nothing else known.
//!
//! Beside the rest a piece may speak for a cause although by itself it speaks against it: where it
//! speaks more against the others. Whoever reads it as a reason has to be told which it is.

use super::network::Rest;
use super::reasons::log_odds;
use super::weighed::Weighed;

/// One piece of evidence by itself.
#[derive(Clone, Debug, PartialEq)]
pub struct Alone {
    /// The places of the witnesses behind it.
    pub witnesses: Vec<usize>,
    /// What it changes in the log-odds of each cause being there now, in nats.
    pub for_causes: Vec<f64>,
    /// What it changes in the log-odds of nothing being wrong now, in nats.
    pub for_nothing: f64,
}

/// Every piece of evidence by itself, in the order of the evidence; none that is impossible alone.
pub(super) fn each_alone(weighed: &Weighed) -> Vec<Alone> {
    let (network, now) = (weighed.epochs.network(), weighed.now.nodes());
    let told = |rest: &Rest<'_>| Told::of(rest, now);
    let Ok((before, each)) = network.each_by_itself(&weighed.odds, &weighed.evidence, &told) else {
        return Vec::new();
    };
    let told = weighed.pieces.iter().zip(each).filter_map(|(piece, told)| Some((piece, told?)));
    told.map(|(piece, told)| told.beyond(&before, piece.witnesses.clone())).collect()
}

/// The log-odds of each cause being there now, and of nothing being wrong now.
struct Told {
    of_causes: Vec<f64>,
    of_nothing: f64,
}

impl Told {
    /// As states tell, of which these nodes are about now.
    fn of(rest: &Rest<'_>, now: &[usize]) -> Self {
        let all = rest.log_odds();
        Self {
            of_causes: now.iter().map(|node| all[*node]).collect(),
            of_nothing: log_odds(rest.without_any(now) / rest.total()),
        }
    }

    /// What is changed from what was told before.
    fn beyond(&self, before: &Self, witnesses: Vec<usize>) -> Alone {
        let of_causes = self.of_causes.iter().zip(&before.of_causes);
        Alone {
            witnesses,
            for_causes: of_causes.map(|(after, before)| after - before).collect(),
            for_nothing: self.of_nothing - before.of_nothing,
        }
    }
}
