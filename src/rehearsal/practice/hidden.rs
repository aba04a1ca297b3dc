//! What was hidden in a rig, with its size in words.

use crate::bench::gauge::MICRON;
use crate::rehearsal::rigged::{Fault, rounded};

/// What a gauge reads too high at the worst dirt, in Pa and as a share, as the bench has it.
const WORST_DIRT: (f64, f64) = (300.0 * MICRON, 0.2);

/// A fault of a size in SI units, in words.
#[must_use]
pub fn told_fault(fault: Fault, size: f64) -> String {
    let grams = || rounded(1000.0 * size, 2, "g");
    let micron = |pascal: f64| rounded(pascal / MICRON, 2, "micron");
    let bore = || rounded(1000.0 * size, 2, "mm");
    let leak = || rounded(size, 1, "Pa m3/s");
    match fault {
        Fault::OilWet => format!("{} of water in the pump's oil", grams()),
        Fault::OilGassy => format!("{} of refrigerant in the pump's oil", grams()),
        Fault::OilLow => "too little oil in the pump".to_owned(),
        Fault::OilDark => "old dark oil in the pump".to_owned(),
        Fault::BallastOpen => {
            format!("the gas ballast left open, which lifts the pump's floor by {}", micron(size))
        }
        Fault::PumpWorn => {
            format!("a worn pump, whose floor stands {} too high", micron(size))
        }
        Fault::PumpCold => format!(
            "a pump that turns slowly: until it is warm its floor stands {} higher",
            micron(size)
        ),
        Fault::GaugeDirty => format!(
            "a dirty gauge that reads about {} and {} too high",
            micron(size * WORST_DIRT.0),
            percent(size * WORST_DIRT.1)
        ),
        Fault::GaugeHigh if size < 0.0 => format!("a gauge that reads {} too low", percent(-size)),
        Fault::GaugeHigh => format!("a gauge that reads {} too high", percent(size)),
        Fault::HoseLeak => format!("a leak of {} at a joint of the hose", leak()),
        Fault::ToolLeak => format!("a leak of {} at a joint of the core tool", leak()),
        Fault::HoseDamp => {
            format!(
                "a damp hose, with {} times the water of a dry one",
                rounded(size, 2, "").trim()
            )
        }
        Fault::ToolPocket => {
            format!("{} of air trapped in the core tool's valve", rounded(1e6 * size, 2, "mL"))
        }
        Fault::HoseNarrow => format!("a narrow hose of {}", bore()),
        Fault::CoreIn => format!("the valve core left in, a hole of {}", bore()),
        Fault::WayBlocked => {
            format!("something shut or blocked on the way, which leaves a hole of {}", bore())
        }
        Fault::Water => format!("{} of water at a low point of the system", grams()),
        Fault::WallsWet => {
            format!(
                "a damp system, with {} times the water of a dry one",
                rounded(size, 2, "").trim()
            )
        }
        Fault::RefrigerantInOil => format!("{} of refrigerant in the compressor's oil", grams()),
        Fault::DrierWet => format!("{} of water in the drier", grams()),
        Fault::SystemLeak => format!("a leak of {} at a joint of the system", leak()),
        Fault::AirWarms if size < 0.0 => {
            format!("air that cools by {} an hour", rounded(-size, 2, "K"))
        }
        Fault::AirWarms => format!("air that warms by {} an hour", rounded(size, 2, "K")),
    }
}

fn percent(share: f64) -> String {
    rounded(100.0 * share, 2, "%")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_are_told_in_the_units_of_the_trade() {
        let told = |fault, size| told_fault(fault, size);
        assert_eq!(told(Fault::OilWet, 2.13e-3), "2.1 g of water in the pump's oil");
        let ballast = told(Fault::BallastOpen, 450.0 * MICRON);
        assert_eq!(
            ballast,
            "the gas ballast left open, which lifts the pump's floor by 450 micron"
        );
        let dirty = told(Fault::GaugeDirty, 0.5);
        assert_eq!(dirty, "a dirty gauge that reads about 150 micron and 10 % too high");
        assert_eq!(
            told(Fault::HoseDamp, 132.0),
            "a damp hose, with 130 times the water of a dry one"
        );
        assert_eq!(told(Fault::AirWarms, -4.0), "air that cools by 4.0 K an hour");
        assert_eq!(told(Fault::GaugeHigh, -0.3), "a gauge that reads 30 % too low");
    }
}
