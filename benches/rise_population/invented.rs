//! Invented logs of holds, from a seed: micron and minutes, as people read them.

/// Pa in a micron (1e-3 conventional mmHg).
pub const MICRON: f64 = 0.133_322_387_415;

/// The shapes that a release of moisture may have.
pub const FAMILIES: [&str; 6] =
    ["spread", "diffusion", "logarithm", "saturation", "two-stage", "slow single"];

/// A generator of the same draws everywhere (splitmix64).
pub struct Draws(pub u64);

impl Draws {
    /// Evenly from 0 to 1.
    pub fn chance(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Evenly between two values.
    pub fn even(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.chance()
    }

    /// Evenly in the logarithm.
    pub fn log_even(&mut self, low: f64, high: f64) -> f64 {
        low * libm::exp(libm::log(high / low) * self.chance())
    }

    /// From the standard normal distribution (Box and Muller).
    pub fn normal(&mut self) -> f64 {
        let radius = libm::sqrt(-2.0 * libm::log(1.0 - self.chance()));
        radius * libm::cos(core::f64::consts::TAU * self.chance())
    }
}

/// One invented hold with its truth.
pub struct Log {
    /// Minutes.
    pub minutes: Vec<f64>,
    /// Micron as displayed.
    pub micron: Vec<f64>,
    /// Minutes of the whole hold.
    pub duration: f64,
    /// True leak in micron/min, zero if none.
    pub leak: f64,
    /// Which of [`FAMILIES`], if moist.
    pub family: Option<usize>,
    /// Time constant in minutes of a single source with the same ratio of the rise in the second
    /// half to that in the first; zero if dry.
    pub time_constant: f64,
}

/// A quarter each quiet, leaking, moist and both.
pub fn log(draws: &mut Draws, number: usize) -> Log {
    let duration = draws.even(15.0, 45.0).round();
    let (leaks, moist) = (number % 2 == 1, number % 4 >= 2);
    let leak = if leaks { draws.log_even(0.5, 300.0) } else { 0.0 };
    let family = (number / 4) % FAMILIES.len();
    let release = release(draws, family, duration);
    let height = if moist { draws.log_even(100.0, 3000.0) } else { 0.0 };
    let display = Display::invent(draws, duration);
    let minutes: Vec<f64> = (0..=duration as usize).map(|minute| minute as f64).collect();
    let whole = release(duration);
    let micron =
        minutes.iter().map(|t| display.shows(draws, *t, leak * t, height * release(*t) / whole));
    let micron = micron.collect();
    let middle = release(0.5 * duration);
    let ratio = (whole - middle) / middle;
    let single = if ratio > 0.0 { -duration / (2.0 * libm::log(ratio)) } else { 0.0 };
    let time_constant = if moist { single } else { 0.0 };
    Log { minutes, micron, duration, leak, family: moist.then_some(family), time_constant }
}

type Release = Box<dyn Fn(f64) -> f64>;

fn settled(t: f64, tau: f64) -> f64 {
    -libm::expm1(-t / tau)
}

fn release(draws: &mut Draws, family: usize, duration: f64) -> Release {
    let tau = draws.log_even(1.5, 0.7 * duration);
    match family {
        0 => {
            let width = draws.even(0.3, 1.0);
            let parts: Vec<f64> = (0..7).map(|_| tau * libm::exp(width * draws.normal())).collect();
            Box::new(move |t| parts.iter().map(|tau| settled(t, *tau)).sum())
        }
        1 => Box::new(move |t| {
            // Uptake of a plane sheet (Crank, The Mathematics of Diffusion; from memory).
            let odd = (0..60).map(|k| f64::from(2 * k + 1));
            odd.map(|n| settled(t, tau / (n * n)) / (n * n)).sum()
        }),
        2 => {
            let begin = draws.log_even(0.2, 4.0);
            Box::new(move |t| libm::log1p(t / begin))
        }
        3 => {
            // The pool may be gone before saturation is reached.
            let pool = draws.even(0.7, 1.6);
            Box::new(move |t| settled(t, tau).min(pool))
        }
        4 => {
            let (quick, share) = (draws.log_even(0.5, 3.0), draws.even(0.3, 0.7));
            Box::new(move |t| share * settled(t, quick) + (1.0 - share) * settled(t, tau))
        }
        _ => {
            let slow = draws.log_even(0.2 * duration, 300.0);
            Box::new(move |t| settled(t, slow))
        }
    }
}

/// Gauge, step and temperature.
struct Display {
    start: f64,
    step: (f64, f64),
    duration: f64,
    kelvin: (f64, f64),
    per_kelvin: f64,
    scale: f64,
    resolution: f64,
    scatter: f64,
}

impl Display {
    fn invent(draws: &mut Draws, duration: f64) -> Self {
        let has_step = draws.chance() < 0.7;
        let step = if has_step { draws.even(5.0, 150.0) } else { 0.0 };
        let resolution = [1.0, 2.0, 5.0, 10.0, 20.0][(5.0 * draws.chance()) as usize];
        Self {
            start: draws.log_even(100.0, 1000.0),
            step: (step, draws.even(0.15, 0.6)),
            duration,
            kelvin: (DRIFT * draws.normal(), 0.2 * DRIFT * draws.normal()),
            per_kelvin: draws.even(0.06, 0.08),
            scale: 1.0 + SCALE * draws.normal(),
            resolution,
            scatter: resolution * draws.even(0.1, 0.6),
        }
    }

    fn shows(&self, draws: &mut Draws, t: f64, leaked: f64, moist: f64) -> f64 {
        let share = t / self.duration;
        let kelvin =
            self.kelvin.0 * share + self.kelvin.1 * libm::sin(core::f64::consts::TAU * share);
        let step = self.step.0 * settled(t, self.step.1);
        let dry = (self.start + step + leaked) * (1.0 + 0.0034 * kelvin);
        let truth = dry + moist * (1.0 + self.per_kelvin * kelvin);
        let shown = self.scale * truth + self.scatter * draws.normal();
        (shown / self.resolution).round() * self.resolution
    }
}

/// Drift of the temperature over a hold in K, one standard deviation.
pub const DRIFT: f64 = 0.7;
/// Doubt of the gauge's scale, relative, one standard deviation.
pub const SCALE: f64 = 0.05;
