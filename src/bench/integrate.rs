//! Steps through time of a stiff system, in which valves open within milliseconds and walls dry
//! for days: as large as their error allows, each for one factoring.

use super::elimination::Pattern;
use super::rodas::{DRIFTS, GAMMA, SIDES, STAGES, STATES, TIMES};

/// A system of differential equations.
pub(super) trait Equations {
    /// Which unknown meets which.
    fn pattern(&self) -> &Pattern;
    /// The rates at a time in s and a state.
    fn rates(&mut self, time: f64, state: &[f64], rates: &mut [f64]);
    /// Writes the slopes of the rates into the slots of the pattern. All slots are 0 before.
    fn slopes(&mut self, time: f64, state: &[f64], slopes: &mut [f64]);
    /// What each unknown may be off by besides its relative error; infinite for one that only
    /// counts along.
    fn tolerated(&self) -> &[f64];
    /// Whether the rates depend on time itself.
    fn is_time_told(&self) -> bool;
}

/// Why a system could not be followed to the end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stuck {
    /// The time in s from the start at which the steps became too small or too many.
    pub at: f64,
}

impl std::fmt::Display for Stuck {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "the simulation got stuck {:.3} s after its start", self.at)
    }
}

impl std::error::Error for Stuck {}

/// The most steps of one run; a pull of half an hour takes about a hundred.
const MOST_STEPS: usize = 20_000;
/// The first step in s: what is faster is damped, and refused where it counts.
const FIRST_STEP: f64 = 1e-2;
/// The shortest step in s.
const SHORTEST_STEP: f64 = 1e-12;
/// How much a step may grow and shrink, and how far it stays below the one that just passes.
/// Source: Hairer and Wanner, section IV.7.
const GROWTH: f64 = 6.0;
const SHRINKING: f64 = 0.2;
const SAFETY: f64 = 0.9;

/// The steps through time, with room for what they need.
#[derive(Clone, Debug)]
pub(super) struct Integrator {
    /// The relative error that a step may make.
    relative: f64,
    slopes: Vec<f64>,
    factors: Vec<f64>,
    stages: Vec<Vec<f64>>,
    drift: Vec<f64>,
    rates: Vec<f64>,
    trial: Vec<f64>,
    /// The step in s that is tried next.
    step: f64,
    /// How many steps were taken and refused so far.
    steps: (usize, usize),
}

impl Integrator {
    /// Steps for a system, each with a relative error of at most so much.
    pub(super) fn new(equations: &impl Equations, relative: f64) -> Self {
        let pattern = equations.pattern();
        let zeros = vec![0.0; pattern.unknowns()];
        Self {
            relative,
            slopes: vec![0.0; pattern.slots()],
            factors: vec![0.0; pattern.slots()],
            stages: vec![zeros.clone(); STAGES],
            drift: zeros.clone(),
            rates: zeros.clone(),
            trial: zeros,
            step: FIRST_STEP,
            steps: (0, 0),
        }
    }

    /// How many steps were taken and refused so far.
    pub(super) fn steps(&self) -> (usize, usize) {
        self.steps
    }

    /// Carries a state from a time to another, both in s. A run that begins where another ended
    /// goes on with its steps.
    ///
    /// # Errors
    /// If the steps become too small or too many, which a rate that is not a number does too.
    pub(super) fn run(
        &mut self,
        equations: &mut impl Equations,
        state: &mut [f64],
        (mut time, end): (f64, f64),
    ) -> Result<(), Stuck> {
        let mut is_after_refusal = false;
        for _ in 0..MOST_STEPS {
            if time >= end {
                return Ok(());
            }
            let is_last = self.step >= end - time;
            let taken = self.step.min(end - time);
            let error = self.attempt(equations, state, time, taken);
            // What is not a number does not pass either.
            let is_passed = error <= 1.0;
            let factor = SAFETY / libm::sqrt(libm::sqrt(error.max(1e-12)));
            if is_passed {
                time = if is_last { end } else { time + taken };
                state.copy_from_slice(&self.trial);
                self.steps.0 += 1;
                let most = if is_after_refusal { 1.0 } else { GROWTH };
                let next = taken * factor.clamp(SHRINKING, most);
                // A step cut short by the end says little about the next.
                self.step = if is_last { self.step.max(next) } else { next };
            } else {
                self.steps.1 += 1;
                // An error that is not a number says nothing of how far off it is.
                self.step =
                    taken * if error.is_finite() { factor.max(SHRINKING) } else { SHRINKING };
            }
            is_after_refusal = !is_passed;
            if self.step < SHORTEST_STEP && time < end {
                return Err(Stuck { at: time });
            }
        }
        Err(Stuck { at: time })
    }

    /// Makes a step into `trial` and gives its error; 1 is just tolerated.
    fn attempt(
        &mut self,
        equations: &mut impl Equations,
        state: &[f64],
        time: f64,
        step: f64,
    ) -> f64 {
        self.slopes.fill(0.0);
        equations.slopes(time, state, &mut self.slopes);
        self.factors.copy_from_slice(&self.slopes);
        self.factors.iter_mut().for_each(|number| *number = -*number);
        let pattern = equations.pattern();
        for unknown in 0..state.len() {
            self.factors[pattern.slot(unknown, unknown)] += 1.0 / (GAMMA * step);
        }
        pattern.factor(&mut self.factors);
        equations.rates(time, state, &mut self.rates);
        self.find_drift(equations, state, time, step);
        for stage in 0..STAGES {
            self.make_stage(equations, state, (time, step), stage);
        }
        let (last, before) = (&self.stages[STAGES - 1], &mut self.trial);
        // The state of the last stage plus the last stage is the result.
        before.iter_mut().zip(last).for_each(|(value, change)| *value += change);
        self.error(equations.tolerated(), state)
    }

    /// How the rates change with time alone.
    fn find_drift(&mut self, equations: &mut impl Equations, state: &[f64], time: f64, step: f64) {
        if !equations.is_time_told() {
            return;
        }
        // The laws of time are smooth: so small a part of the step is a slope, and still no noise.
        let ahead = 1e-5 * step;
        equations.rates(time + ahead, state, &mut self.drift);
        self.drift
            .iter_mut()
            .zip(&self.rates)
            .for_each(|(later, now)| *later = (*later - now) / ahead);
    }

    fn make_stage(
        &mut self,
        equations: &mut impl Equations,
        state: &[f64],
        (time, step): (f64, f64),
        stage: usize,
    ) {
        self.trial.copy_from_slice(state);
        for (weight, before) in STATES[stage].iter().zip(&self.stages) {
            self.trial.iter_mut().zip(before).for_each(|(value, change)| *value += weight * change);
        }
        if stage > 0 {
            equations.rates(time + TIMES[stage] * step, &self.trial, &mut self.rates);
        }
        let (done, open) = self.stages.split_at_mut(stage);
        let side = &mut open[0];
        side.copy_from_slice(&self.rates);
        for (weight, before) in SIDES[stage].iter().zip(done.iter()) {
            let weight = weight / step;
            side.iter_mut().zip(before).for_each(|(value, change)| *value += weight * change);
        }
        if equations.is_time_told() && DRIFTS[stage] != 0.0 {
            let weight = DRIFTS[stage] * step;
            side.iter_mut().zip(&self.drift).for_each(|(value, drift)| *value += weight * drift);
        }
        equations.pattern().solve(&self.factors, side);
    }

    /// The root of the mean square of what the last stage changed over what is tolerated.
    fn error(&self, tolerated: &[f64], state: &[f64]) -> f64 {
        let mut sum = 0.0;
        let mut counted = 0.0;
        for (unknown, absolute) in tolerated.iter().enumerate().filter(|(_, t)| t.is_finite()) {
            let size = state[unknown].abs().max(self.trial[unknown].abs());
            let share = self.stages[STAGES - 1][unknown] / (absolute + self.relative * size);
            sum += share * share;
            counted += 1.0;
        }
        libm::sqrt(sum / f64::max(counted, 1.0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `y' = -rate (y - cos t) - sin t`, which keeps to `cos t`, and a second unknown that the
    /// first drives: `z' = y z`, so that `z = exp(sin t)`.
    struct Follower {
        rate: f64,
        pattern: Pattern,
    }

    impl Follower {
        fn new(rate: f64) -> Self {
            Self { rate, pattern: Pattern::new(2, [(1, 0)]) }
        }
    }

    impl Equations for Follower {
        fn pattern(&self) -> &Pattern {
            &self.pattern
        }

        fn rates(&mut self, time: f64, state: &[f64], rates: &mut [f64]) {
            rates[0] = -self.rate * (state[0] - libm::cos(time)) - libm::sin(time);
            rates[1] = state[0] * state[1];
        }

        fn slopes(&mut self, _: f64, state: &[f64], slopes: &mut [f64]) {
            slopes[self.pattern.slot(0, 0)] = -self.rate;
            slopes[self.pattern.slot(1, 0)] = state[1];
            slopes[self.pattern.slot(1, 1)] = state[0];
        }

        fn tolerated(&self) -> &[f64] {
            &[1e-12, 1e-12]
        }

        fn is_time_told(&self) -> bool {
            true
        }
    }

    /// The error at time 1 of so many equal steps.
    fn error_of(rate: f64, steps: usize) -> f64 {
        let mut follower = Follower::new(rate);
        let mut integrator = Integrator::new(&follower, 1e-6);
        let mut state = [1.0, 1.0];
        let step = 1.0 / steps as f64;
        for place in 0..steps {
            integrator.attempt(&mut follower, &state, place as f64 * step, step);
            state.copy_from_slice(&integrator.trial);
        }
        (state[1] - libm::exp(libm::sin(1.0))).abs()
    }

    #[test]
    fn half_the_step_makes_a_sixteenth_of_the_error() {
        for steps in [8, 16] {
            let order = libm::log2(error_of(1.0, steps) / error_of(1.0, 2 * steps));
            assert!((3.7..4.6).contains(&order), "order {order} at {steps} steps");
        }
    }

    #[test]
    fn a_stiff_unknown_is_followed_with_steps_far_longer_than_its_time() {
        let mut follower = Follower::new(1e7);
        let mut integrator = Integrator::new(&follower, 1e-6);
        let mut state = [5.0, 1.0];
        integrator.run(&mut follower, &mut state, (0.0, 3.0)).unwrap();
        assert!((state[0] - libm::cos(3.0)).abs() < 1e-5, "{state:?}");
        assert!((state[1] - libm::exp(libm::sin(3.0))).abs() < 1e-4, "{state:?}");
        assert!(integrator.steps().0 < 200, "{:?}", integrator.steps());
    }

    #[test]
    fn a_rate_that_is_not_a_number_ends() {
        let mut follower = Follower::new(f64::NAN);
        let mut integrator = Integrator::new(&follower, 1e-6);
        assert!(integrator.run(&mut follower, &mut [1.0, 1.0], (0.0, 1.0)).is_err());
    }
}
