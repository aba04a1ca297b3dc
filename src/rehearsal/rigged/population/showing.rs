//! Whether what is wrong with a rig shows in the job: whether the system comes down in time and
//! stays there, by what is really in it and not by what anybody reads or holds.

use super::super::fault::{Fault, Making};
use super::super::hand::{Hand, MINUTE};
use super::drawing::Drawn;
use crate::bench::operation::{Operation, Refusal};
use crate::bench::rig::{Place, Valve};

/// How long the pump may take, in s, before the system counts as not coming down: as long as
/// whoever stands there pulls at first. Mark: estimate.
const IN_TIME: f64 = 60.0 * MINUTE;
/// How often it is looked at, in s (limit of ours).
const EVERY: f64 = 2.0 * MINUTE;
/// How many times as long as without its faults a rig may take before it counts as slow. Mark:
/// estimate.
const SLOW_FROM: f64 = 1.5;
/// How long it is pulled on before it is shut off, in s. Mark: common_practice.
const PULLED_ON: f64 = 10.0 * MINUTE;
/// How long it stands then, in s. Mark: common_practice.
const STANDS: f64 = 15.0 * MINUTE;
/// How much more than without its faults it may rise in that time, in Pa: 50 micron. Mark:
/// estimate.
const RISES_BY: f64 = 50.0 * 0.133_322_387_415;

/// How the job goes at a rig.
#[derive(Clone, Copy, Debug)]
struct Job {
    /// When the system was at its target, in s; none if not in time.
    down_in: Option<f64>,
    /// How far it rose in its hold, in Pa.
    rise: f64,
    /// Where it stood after it, in Pa.
    end: f64,
}

impl Drawn {
    /// Whether what is wrong shows in the job: the system doesn't come down to its target within
    /// an hour, or takes half as long again as the same rig without its faults, or rises above the
    /// target in a hold of 15 minutes, and by 50 micron more than that one; or the gauge is off. A
    /// rig whose job can't be done shows its faults, and one without any has none to show.
    #[must_use]
    pub fn shows(&self) -> bool {
        if self.faults.is_empty() {
            return false;
        }
        let is_of_gauge =
            |(fault, _): &(Fault, f64)| matches!(fault, Fault::GaugeDirty | Fault::GaugeHigh);
        let job = |making: &Making| job(making.clone(), self.seed).ok();
        let (Some(own), Some(sound)) = (job(&self.making), job(&self.sound)) else { return true };
        let is_slow = match (own.down_in, sound.down_in) {
            (None, _) => true,
            (Some(own), Some(sound)) => own > SLOW_FROM * sound.max(EVERY),
            (Some(_), None) => false,
        };
        let rises = own.end > self.making.kit.target && own.rise > sound.rise + RISES_BY;
        self.faults.iter().any(is_of_gauge) || is_slow || rises
    }
}

/// Does the job as whoever stands there would who saw what is really in the system.
fn job(making: Making, seed: u64) -> Result<Job, Refusal> {
    let target = making.kit.target;
    let mut hand = Hand::of(making, seed).map_err(Refusal::from)?;
    hand.connect()?;
    let mut pulled = 0.0;
    while within(&hand) > target && pulled < IN_TIME {
        hand.perform(Operation::Pull(EVERY))?;
        pulled += EVERY;
    }
    let down_in = (within(&hand) <= target).then_some(pulled);
    hand.perform(Operation::Pull(PULLED_ON))?;
    hand.perform(Operation::Shut(Valve::System))?;
    let before = within(&hand);
    hand.perform(Operation::Wait(STANDS))?;
    let end = within(&hand);
    Ok(Job { down_in, rise: end - before, end })
}

/// The highest true pressure in the system, in Pa.
fn within(hand: &Hand) -> f64 {
    let session = hand.session();
    let sections = 0..session.rig().sections.len();
    let pressure = |at| session.pressures(Place::Section(at)).iter().sum::<f64>();
    sections.map(pressure).fold(0.0, f64::max)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bench::rig::Rig;
    use crate::handbook::CauseId;

    fn shows(faults: &[(Fault, f64)]) -> bool {
        let sound = Making::of(Rig::sound());
        let mut making = sound.clone();
        faults.iter().for_each(|(fault, size)| making.spoil(*fault, *size));
        let causes = faults.iter().map(|_| CauseId::at(0)).collect();
        Drawn { making, sound, causes, faults: faults.to_vec(), seed: 3 }.shows()
    }

    #[test]
    fn a_fault_shows_from_the_size_on_that_holds_the_job_up() {
        assert!(!shows(&[]));
        // Worn vanes under the target leave the job as it is, far above it they do not.
        assert!(!shows(&[(Fault::PumpWorn, 5.0)]) && shows(&[(Fault::PumpWorn, 200.0)]));
        // A leak of a few Pa in 15 min in some litres, and one of hundreds.
        assert!(!shows(&[(Fault::SystemLeak, 2e-5)]) && shows(&[(Fault::SystemLeak, 5e-3)]));
        assert!(!shows(&[(Fault::CoreIn, 4e-3)]) && shows(&[(Fault::CoreIn, 0.5e-3)]));
        assert!(!shows(&[(Fault::HoseDamp, 1.1)]) && shows(&[(Fault::Water, 0.05)]));
        // A gauge that is off is wrong whatever the job does.
        assert!(shows(&[(Fault::GaugeHigh, 0.3)]));
    }
}
