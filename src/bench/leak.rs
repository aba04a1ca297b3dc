//! Holes through which the air around comes in, and nitrogen goes out.

use crate::physics::gas::STANDARD_ATMOSPHERE;
pub use crate::physics::leak::LeakPath;

use crate::physics::leak::LeakingGas;

use super::mixture::{Each, shares};

/// A hole to the outside.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hole {
    /// What air at the barometer lets in while there is vacuum inside, in Pa m³/s.
    pub size: f64,
    /// How it grows with a pressure inside.
    pub path: LeakPath,
}

impl Hole {
    /// What comes in of each gas in Pa m³/s, for partial pressures in Pa inside and outside;
    /// negative where it goes out.
    ///
    /// Into vacuum the flow is steady; it fades with the square of the pressure inside and is
    /// nothing where both sides are equal. Source: Hagen and Poiseuille's law for a compressible
    /// gas.
    #[must_use]
    pub fn inflow(&self, inside: &Each, outside: &Each) -> Each {
        let barometer: f64 = outside.iter().sum();
        let times = inside.iter().sum::<f64>() / barometer;
        let flow = self.size * (1.0 - times * times.abs());
        let carried = shares(if flow >= 0.0 { outside } else { inside });
        carried.map(|share| share * flow)
    }

    /// What nitrogen of a pressure in Pa inside lets out in Pa m³/s, into air of 101 325 Pa.
    /// 0 up to there.
    #[must_use]
    pub fn outflow(&self, inside: f64) -> f64 {
        if inside <= STANDARD_ATMOSPHERE {
            return 0.0;
        }
        // Where molecules pass one by one, air keeps coming in against those that go out.
        let back = if self.path == LeakPath::Molecular { 1.0 } else { 0.0 };
        (self.size * (self.path.ratio_to_air(&LeakingGas::AIR, inside) - back)).max(0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bench::ambient::Ambient;

    #[test]
    fn into_vacuum_the_flow_is_steady_and_it_turns_where_the_pressures_meet() {
        let hole = Hole { size: 1e-3, path: LeakPath::Laminar };
        let outside = Ambient::default().pressures();
        let inside = |air: f64| hole.inflow(&[air, 0.0, 0.0], &outside).iter().sum::<f64>();
        assert!((inside(0.0) / 1e-3 - 1.0).abs() < 1e-12);
        assert!((inside(100.0) / 1e-3 - 1.0).abs() < 1e-5);
        assert!(inside(STANDARD_ATMOSPHERE).abs() < 1e-15 && inside(1.5e5) < 0.0);
        let damp = hole.inflow(&[0.0; 3], &outside);
        assert!((damp[1] / 1e-3 - 0.01154).abs() < 1e-5, "{damp:?}");
    }

    #[test]
    fn forty_bar_let_out_forty_to_sixteen_hundred_times_as_much() {
        let out = |path| Hole { size: 1e-3, path }.outflow(41e5) / 1e-3;
        // The bounds of physics::leak::ratio_bounds.
        assert!((out(LeakPath::Choked) / 40.5 - 1.0).abs() < 0.02);
        assert!((out(LeakPath::Laminar) / 1637.0 - 1.0).abs() < 0.02);
        assert!((out(LeakPath::Molecular) / 39.46 - 1.0).abs() < 1e-3);
        assert_eq!(Hole { size: 1e-3, path: LeakPath::Choked }.outflow(1e5), 0.0);
    }
}
