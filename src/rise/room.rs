//! How far a sum of the settling parts may lie from its best value, the slope standing still.

use super::nonnegative::dot;
use super::profile::Profile;

/// Doublings, and halvings, of the pull that is searched for (limits of ours: a part in a thousand,
/// of a range that is told with three digits).
const DOUBLINGS: u32 = 40;
const HALVINGS: u32 = 10;

/// By how much the sum of the amounts, each times its weight, may be lower and higher before the
/// misfit has grown by `growth`.
///
/// Lagrange: where the misfit is least with a pull on the sum, it is the least of all with that sum. So
/// the pull at which it has grown by as much leads to the edge of what the likelihood allows.
/// `scale` is a sum of a size that matters, in Pa.
pub(super) fn room(
    profile: &Profile<'_>,
    slope: f64,
    weights: &[f64],
    growth: f64,
    scale: f64,
) -> (f64, f64) {
    let (least, amounts) = profile.drawn(slope, weights, 0.0);
    let best = dot(weights, &amounts);
    let edge = |side: f64| {
        let grown = |pull: f64| profile.drawn(slope, weights, side * pull).0 - least > growth;
        let (mut weak, mut strong) = (0.0, libm::sqrt(growth) / scale);
        for _ in 0..DOUBLINGS {
            if grown(strong) {
                break;
            }
            (weak, strong) = (strong, 2.0 * strong);
        }
        for _ in 0..HALVINGS {
            let middle = 0.5 * (weak + strong);
            if grown(middle) {
                strong = middle;
            } else {
                weak = middle;
            }
        }
        dot(weights, &profile.drawn(slope, weights, side * weak).1)
    };
    ((best - edge(1.0)).max(0.0), (edge(-1.0) - best).max(0.0))
}
