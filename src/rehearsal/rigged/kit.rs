//! What somebody at a rig has at hand and knows of it, and the slips that he makes.

use crate::bench::gauge::{Gauge, MICRON};
use crate::bench::rig::{Rig, Seen};

/// The unit of a gauge's face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Face {
    /// The choice that stands for it.
    pub choice: &'static str,
    /// Its symbol.
    pub symbol: &'static str,
    /// What it is in Pa.
    pub pascal: f64,
    /// The decimals that it shows.
    pub decimals: usize,
}

/// The faces that gauges have.
pub const FACES: [Face; 5] = [
    Face { choice: "shows_micron", symbol: "micron", pascal: MICRON, decimals: 0 },
    Face { choice: "shows_torr", symbol: "Torr", pascal: 1000.0 * MICRON, decimals: 3 },
    Face { choice: "shows_mbar", symbol: "mbar", pascal: 100.0, decimals: 3 },
    Face { choice: "shows_pascal", symbol: "Pa", pascal: 1.0, decimals: 0 },
    Face { choice: "shows_kilopascal", symbol: "kPa", pascal: 1000.0, decimals: 3 },
];

impl Face {
    /// The smallest step that it shows, in Pa.
    #[must_use]
    pub fn step(&self) -> f64 {
        (0..self.decimals).fold(self.pascal, |step, _| step / 10.0)
    }
}

/// At which of its occasions, counted from 0, a slip happens; none for one that never does.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Slips {
    /// A reading is typed in another unit than the gauge shows.
    pub unit: Option<usize>,
    /// For a hold, the valve at the pump is shut in the place of the one at the system.
    pub valve: Option<usize>,
    /// A reading is taken before it has settled.
    pub early: Option<usize>,
}

/// What is told of the past; none where nobody knows.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Past {
    /// Whether water had a way in.
    pub wet: Option<bool>,
    /// Whether joints are new.
    pub new_joints: Option<bool>,
    /// Whether it held nitrogen for an hour, or lost it.
    pub held_nitrogen: Option<bool>,
    /// Whether the gauge has been on oily systems.
    pub oily_gauge: Option<bool>,
    /// Whether the system never held refrigerant.
    pub never_charged: Option<bool>,
    /// How long the oil has run, in s.
    pub oil_age: Option<f64>,
}

/// What somebody at a rig has and knows.
#[derive(Clone, Debug, PartialEq)]
pub struct Kit {
    /// The place of the gauge's face in [`FACES`].
    pub face: usize,
    /// The share of a reading that the gauge's leaflet allows.
    pub scale: f64,
    /// What it allows besides, in Pa.
    pub offset: f64,
    /// A second gauge.
    pub second: Option<Gauge>,
    /// The vacuum that the job asks for, in Pa.
    pub target: f64,
    /// What the pump's plate says of its lowest pressure, in Pa.
    pub rating: f64,
    /// What is known of the rig, as said.
    pub said: Seen,
    /// Whether core tools and a wide hose are at hand.
    pub has_wider_way: bool,
    /// Whether the pump can be heard to labour.
    pub labours: bool,
    /// The past.
    pub past: Past,
    /// The slips.
    pub slips: Slips,
}

/// The lowest pressure in Pa that plates name, as shares of what the pump could do when new.
/// Mark: estimate; plates are rounded.
const PLATE: f64 = 20.0 * MICRON;

impl Kit {
    /// What is known of a rig by somebody who has read every plate and makes no slip. Marks:
    /// estimate; the gauge is within 10 % and 10 micron, the job asks for 500 micron.
    #[must_use]
    pub fn of(rig: &Rig) -> Self {
        Self {
            face: 0,
            scale: 0.1,
            offset: 10.0 * MICRON,
            second: None,
            target: 500.0 * MICRON,
            rating: PLATE.max(rig.pump.ultimate),
            said: rig.seen(),
            has_wider_way: true,
            labours: false,
            past: Past { held_nitrogen: Some(true), wet: Some(false), ..Past::default() },
            slips: Slips::default(),
        }
    }

    /// The face of the gauge.
    #[must_use]
    pub fn face(&self) -> Face {
        FACES[self.face.min(FACES.len() - 1)]
    }
}
