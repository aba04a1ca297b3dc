//! A rig in time: somebody does one thing after another, and the gauge shows what comes of it.

use super::ambient::Warming;
use crate::physics::gas::REFERENCE_TEMPERATURE;

use super::assembly::Held;
use super::balance::amounts;
use super::chance::Chance;
use super::gauge::{Gauge, Reading};
use super::hookup::{Configuration, GaugePlace, Hookup, Sites, chambers};
use super::misbuilt::Misbuilt;
use super::mixture::Each;
use super::oil::Oil;
use super::operation::{Operation, Outcome, Refusal};
use super::passing::Running;
use super::pump::Setting;
use super::rig::{Place, Rig, Valve};

/// A rig with somebody at it.
///
/// ```
/// use dryhold::bench::gauge::MICRON;
/// use dryhold::bench::operation::{Operation, Outcome};
/// use dryhold::bench::rig::Rig;
/// use dryhold::bench::session::Session;
/// let mut session = Session::new(Rig::sound(), 1).unwrap();
/// session.perform(Operation::CapPump).unwrap();
/// session.perform(Operation::Pull(600.0)).unwrap();
/// let Ok(Outcome::Shown(reading)) = session.perform(Operation::Read) else { unreachable!() };
/// let micron = reading.pressure().unwrap() / MICRON;
/// assert!((20.0..50.0).contains(&micron), "a good pump: {micron} micron");
/// ```
#[derive(Clone, Debug)]
pub struct Session {
    pub(super) rig: Rig,
    pub(super) configuration: Configuration,
    pub(super) held: Held,
    /// How warm each chamber is above ambient, from now on.
    pub(super) warming: Vec<Warming>,
    /// Which chambers lie open or have lain so long that nothing changes in them.
    pub(super) are_at_rest: Vec<bool>,
    /// The time in s since the work began.
    pub(super) clock: f64,
    pub(super) is_locked_out: bool,
    /// Whether nitrogen above the barometer stands in the system.
    pub(super) is_standing: bool,
    pub(super) chance: Chance,
    pub(super) worst_imbalance: Each,
    /// What goes on as long as nothing is changed.
    pub(super) running: Option<Running>,
}

impl Session {
    /// A rig that lies about, its system open to the air around; draws come from the seed.
    ///
    /// # Errors
    /// If such a rig can't be.
    pub fn new(rig: Rig, seed: u64) -> Result<Self, Misbuilt> {
        if let Some(fault) = rig.fault() {
            return Err(fault);
        }
        let configuration = Configuration {
            hookup: Hookup::PumpCapped,
            gauge: GaugePlace::PumpInlet,
            are_open: [true, false],
            pump: Setting::default(),
        };
        let assembly = configuration.assemble(&rig);
        let scale = REFERENCE_TEMPERATURE / rig.ambient.temperature;
        let held = assembly.filled(rig.ambient.pressures().map(|gas| gas * scale), rig.oil);
        if let Some(fault) = assembly.fault(&held) {
            return Err(fault);
        }
        let chambers = assembly.chambers.len();
        Ok(Self {
            held,
            configuration,
            warming: vec![Warming::default(); chambers],
            are_at_rest: vec![true; chambers],
            clock: 0.0,
            is_locked_out: false,
            is_standing: false,
            chance: Chance::new(seed),
            worst_imbalance: [0.0; 3],
            running: None,
            rig,
        })
    }

    /// Does something, unless that would be hazardous or can't be done.
    ///
    /// # Errors
    /// Says why it is not done; nothing has changed then, and no time has passed.
    pub fn perform(&mut self, operation: Operation) -> Result<Outcome, Refusal> {
        if let Some(refusal) = self.refusal(operation) {
            return Err(refusal);
        }
        // What can't be followed to its end is as if it had not been begun.
        let running = self.running.take();
        let before = self.clone();
        self.running = running;
        let done = self.act(operation);
        if done.is_err() {
            *self = before;
        }
        done
    }

    /// The rig with all that is hidden in it, as it was made and mended; what changes with time is
    /// told by the others.
    #[must_use]
    pub fn rig(&self) -> &Rig {
        &self.rig
    }

    /// The pump's oil with what is in it now.
    #[must_use]
    pub fn oil(&self) -> Oil {
        self.held.oil
    }

    /// How it is put together and set.
    #[must_use]
    pub fn configuration(&self) -> Configuration {
        self.configuration
    }

    /// Whether the compressor is locked out of its supply.
    #[must_use]
    pub fn is_locked_out(&self) -> bool {
        self.is_locked_out
    }

    /// The time in s since the work began.
    #[must_use]
    pub fn clock(&self) -> f64 {
        self.clock
    }

    /// The temperature in K of a place, as a thermometer on it would show.
    #[must_use]
    pub fn temperature(&self, place: Place) -> f64 {
        let above = self.warming.get(Sites::new(&self.rig).at(place));
        self.rig.ambient.temperature_at(self.clock) + above.map_or(0.0, |warming| warming.start)
    }

    /// The temperature in K of the coldest spot of the system. Water that evaporates cools its spot,
    /// the pipe with it.
    #[must_use]
    pub fn coldest(&self) -> f64 {
        let wet = self.rig.puddles.iter().zip(&self.held.puddles);
        let wet =
            wet.map(|((_, puddle), lying)| puddle.wetness(lying.mass, lying.heat).temperature);
        let dry =
            (0..self.rig.sections.len()).map(|section| self.temperature(Place::Section(section)));
        wet.chain(dry).fold(f64::INFINITY, f64::min)
    }

    /// The true partial pressures in Pa at a place; zeros where there is no such place.
    #[must_use]
    pub fn pressures(&self, place: Place) -> Each {
        if !self.rig.has(place) {
            return [0.0; 3];
        }
        self.pressures_in(Sites::new(&self.rig).at(place))
    }

    /// The worst share of each gas that any stretch of time lost or made.
    #[must_use]
    pub fn worst_imbalance(&self) -> Each {
        self.worst_imbalance
    }

    fn act(&mut self, operation: Operation) -> Result<Outcome, Refusal> {
        match operation {
            Operation::Read => {
                self.pass(operation.seconds())?;
                return Ok(Outcome::Shown(self.show()));
            }
            Operation::Touch(place) => return self.touch(place, operation.seconds()),
            Operation::LookAtOil => {
                self.pass(operation.seconds())?;
                return Ok(Outcome::Oil(self.held.oil.look()));
            }
            Operation::ReadStanding => {
                self.pass(operation.seconds())?;
                return Ok(self.standing());
            }
            Operation::BubbleTest(place) => {
                self.pass(operation.seconds())?;
                return Ok(Outcome::Bubbles(self.bubbles(place)));
            }
            _ => {}
        }
        let goes_on = match operation {
            Operation::Wait(_) => true,
            Operation::Pull(_) => self.configuration.pump.is_running,
            _ => false,
        };
        if !goes_on {
            self.running = None;
            self.book(|session| session.change(operation));
        }
        self.pass(operation.seconds() + operation.named_time())?;
        Ok(Outcome::Done)
    }

    /// Makes the change that an operation begins with.
    fn change(&mut self, operation: Operation) {
        if operation.takes_rig_apart() {
            self.take_apart();
        }
        match operation {
            Operation::LockOut => self.is_locked_out = true,
            Operation::TakeLockOff => self.is_locked_out = false,
            Operation::CapPump => self.connect(Hookup::PumpCapped, GaugePlace::PumpInlet),
            Operation::PutInLine(part) => {
                self.connect(Hookup::PartCapped(part), GaugePlace::FarEnd);
            }
            Operation::ConnectRig | Operation::Disconnect => {
                self.connect(Hookup::RigCapped, GaugePlace::FarEnd);
            }
            Operation::ConnectSystem(gauge) => self.connect(Hookup::System, gauge),
            Operation::VentRig => self.vent_rig(),
            Operation::Open(valve) => self.configuration.are_open[valve as usize] = true,
            Operation::Shut(valve) => self.configuration.are_open[valve as usize] = false,
            Operation::Pull(_) => self.configuration.pump.is_running = true,
            Operation::StopPump => self.configuration.pump.is_running = false,
            Operation::OpenBallast => self.configuration.pump.is_ballast_open = true,
            Operation::ShutBallast => self.configuration.pump.is_ballast_open = false,
            Operation::ChangeOil => self.change_oil(),
            Operation::WarmPump => self.warm_pump(),
            Operation::CleanGauge => self.rig.gauge = self.rig.gauge.cleaned(),
            Operation::SwapGauge => {
                let response = self.rig.gauge.response;
                self.rig.gauge = Gauge { response, ..Gauge::default() };
            }
            Operation::Warm(section, by) => self.warm(section, by),
            Operation::WarmSystem(by) => {
                (0..self.rig.sections.len()).for_each(|section| self.warm(section, by));
            }
            Operation::Sweep { to, .. } => self.let_nitrogen_in(to),
            Operation::Pressurise(above) => self.pressurise(above),
            Operation::ReleaseNitrogen => self.release_nitrogen(),
            _ => self.mend(operation),
        }
        if matches!(operation, Operation::CleanGauge | Operation::SwapGauge) {
            // It was off and in the air.
            self.held.sensed = self.rig.gauge.signal(&self.air());
        }
    }

    /// What the gauge shows now.
    fn show(&mut self) -> Reading {
        let draw = self.chance.normal();
        self.rig.gauge.show(self.held.sensed, draw)
    }

    /// Moves the fittings at a place: a joint that leaks lets five times as much in (estimate).
    fn touch(&mut self, place: Place, seconds: f64) -> Result<Outcome, Refusal> {
        let before = self.show();
        let leaks = self.rig.leaks.clone();
        let moved = self.rig.leaks.iter_mut().filter(|leak| leak.place == place && leak.is_joint);
        moved.for_each(|leak| leak.hole.size *= 5.0);
        self.running = None;
        let passed = self.pass(seconds);
        self.rig.leaks = leaks;
        self.running = None;
        passed?;
        Ok(Outcome::Touched { before, during: self.show() })
    }

    /// Makes a change at once and books what it brought and took as come and gone.
    fn book(&mut self, change: impl FnOnce(&mut Self)) {
        let count = |session: &Self| {
            let assembly = session.configuration.assemble(&session.rig);
            amounts(&assembly, &session.held)
        };
        let before = count(self);
        change(self);
        let after = count(self);
        for species in 0..before.len() {
            let more = after[species] - before[species];
            self.held.brought[species] += more.max(0.0);
            self.held.gone[species] += (-more).max(0.0);
        }
    }

    /// Connects something to the pump, with its valve open and the system's shut.
    fn connect(&mut self, hookup: Hookup, gauge: GaugePlace) {
        self.configuration.hookup = hookup;
        self.configuration.gauge = gauge;
        self.configuration.are_open[Valve::Pump as usize] = true;
        self.configuration.are_open[Valve::System as usize] = false;
        let at = self.configuration.gauge_chamber(&self.rig);
        self.held.sensed = self.rig.gauge.signal(&self.pressures_in(at));
    }

    /// Fits the chambers to a rig whose parts were changed.
    pub(super) fn refit(&mut self, changed: impl IntoIterator<Item = usize>) {
        let sites = Sites::new(&self.rig);
        let chambers = chambers(&self.rig);
        let air = self.cold_air();
        for part in changed {
            for chamber in [sites.part(part), sites.pocket(part)] {
                self.held.chambers[chamber] = chambers[chamber].filled(air);
                self.are_at_rest[chamber] = true;
            }
        }
    }
}
