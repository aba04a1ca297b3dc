//! Chambers that hang together are followed together, each such piece for itself: what lies about
//! shut off needs few steps, however busy the pump is.

use super::assembly::{Assembly, Held, Way};
use super::integrate::Stuck;
use super::misbuilt::Misbuilt;
use super::oil::Oil;
use super::pump::{Pump, Setting};
use super::simulation::Simulation;

/// The chambers that hang together by ways, each piece in rising order.
pub(super) fn pieces(chambers: usize, ways: &[Way]) -> Vec<Vec<usize>> {
    let mut piece_of: Vec<usize> = (0..chambers).collect();
    for way in ways {
        let (near, far) = (piece_of[way.near], piece_of[way.far]);
        let (low, high) = (near.min(far), near.max(far));
        piece_of.iter_mut().filter(|piece| **piece == high).for_each(|piece| *piece = low);
    }
    let members = |piece: usize| -> Vec<usize> {
        (0..chambers).filter(|chamber| piece_of[*chamber] == piece).collect()
    };
    (0..chambers).map(members).filter(|piece| !piece.is_empty()).collect()
}

/// Chambers that hang together, as they are followed.
#[derive(Clone, Debug)]
pub(super) struct Piece {
    members: Vec<usize>,
    simulation: Simulation,
}

impl Piece {
    /// A piece of a whole with what it holds, from a time in s since the work began.
    ///
    /// # Errors
    /// If the whole can't be, or what it holds does not fit it.
    pub(super) fn new(
        whole: &Assembly,
        held: &Held,
        members: Vec<usize>,
        start: f64,
    ) -> Result<Self, Misbuilt> {
        let inside = take_out(whole, held, &members);
        let simulation = Simulation::new(&cut_out(whole, &members), &inside, start)?;
        Ok(Self { members, simulation })
    }

    /// The chambers in rising order.
    pub(super) fn members(&self) -> &[usize] {
        &self.members
    }

    /// Whether the pump is at it.
    pub(super) fn has_pump(&self) -> bool {
        self.members.first() == Some(&0)
    }

    /// Lets a time in s pass. The pump, its oil and the gauge change only with the piece that
    /// they are at.
    ///
    /// # Errors
    /// If the steps become too small or too many; what is held then stays as it was.
    pub(super) fn run(
        &mut self,
        whole: &Assembly,
        held: &mut Held,
        duration: f64,
    ) -> Result<(), Stuck> {
        let members = &self.members;
        let mut inside = take_out(whole, held, members);
        self.simulation.run(&mut inside, duration)?;
        for (chamber, contents) in members.iter().zip(inside.chambers) {
            held.chambers[*chamber] = contents;
        }
        let places = whole.puddles.iter().map(|(chamber, _)| members.contains(chamber));
        let lying = held.puddles.iter_mut().zip(places).filter(|(_, is_here)| *is_here);
        lying.zip(&inside.puddles).for_each(|((lying, _), now)| *lying = *now);
        if members.first() == Some(&0) {
            held.oil = inside.oil;
            held.warmth = inside.warmth;
        }
        if members.contains(&whole.gauge.0) {
            held.sensed = inside.sensed;
        }
        for species in 0..held.brought.len() {
            held.brought[species] += inside.brought[species];
            held.gone[species] += inside.gone[species];
        }
        Ok(())
    }
}

/// The assembly of one piece; without the pump's inlet a pump that stands still and lets nothing
/// back takes its place.
fn cut_out(whole: &Assembly, piece: &[usize]) -> Assembly {
    let place = |chamber: &usize| piece.iter().position(|member| member == chamber);
    let has_pump = piece.first() == Some(&0);
    let still = (Pump { back_flow: 0.0, ..whole.pump.0 }, Setting::default());
    Assembly {
        chambers: piece.iter().map(|chamber| whole.chambers[*chamber].clone()).collect(),
        ways: whole
            .ways
            .iter()
            .filter_map(|way| {
                Some(Way { near: place(&way.near)?, far: place(&way.far)?, passage: way.passage })
            })
            .collect(),
        holes: whole.holes.iter().filter_map(|(at, hole)| Some((place(at)?, *hole))).collect(),
        puddles: whole.puddles.iter().filter_map(|(at, lies)| Some((place(at)?, *lies))).collect(),
        pump: if has_pump { whole.pump } else { still },
        gauge: (place(&whole.gauge.0).unwrap_or(0), whole.gauge.1),
        ambient: whole.ambient,
        refrigerant: whole.refrigerant,
    }
}

/// What one piece holds, with nothing brought and gone yet.
fn take_out(whole: &Assembly, held: &Held, piece: &[usize]) -> Held {
    let puddles = whole.puddles.iter().zip(&held.puddles);
    let has_pump = piece.first() == Some(&0);
    Held {
        chambers: piece.iter().map(|chamber| held.chambers[*chamber].clone()).collect(),
        puddles: puddles
            .filter(|((chamber, _), _)| piece.contains(chamber))
            .map(|(_, lying)| *lying)
            .collect(),
        oil: if has_pump { held.oil } else { Oil::default() },
        warmth: held.warmth,
        sensed: held.sensed,
        brought: [0.0; 3],
        gone: [0.0; 3],
    }
}

#[cfg(test)]
mod tests {
    use super::super::assembly::Chamber;
    use super::super::passage::Passage;
    use super::*;

    fn three() -> Assembly {
        let mut assembly = Assembly::bare(Pump::default(), 1e-4);
        assembly.pump.1.is_running = true;
        assembly.chambers.extend([Chamber::dry(1e-4), Chamber::dry(1e-3), Chamber::dry(2e-3)]);
        let passage = Passage::Hole { bore: 1e-3 };
        assembly.ways.extend([(0, 3), (2, 1)].map(|(near, far)| Way { near, far, passage }));
        assembly
    }

    #[test]
    fn what_hangs_together_is_found_in_any_order() {
        let assembly = three();
        assert_eq!(pieces(4, &assembly.ways), [vec![0, 3], vec![1, 2]]);
        assert_eq!(pieces(2, &[]), [vec![0], vec![1]]);
    }

    #[test]
    fn pieces_go_as_the_whole_does() {
        let assembly = three();
        let mut whole = assembly.filled([1e5, 500.0, 0.0], Oil::default());
        whole.chambers[1].gas[0] = 100.0;
        let mut apart = whole.clone();
        Simulation::new(&assembly, &whole, 0.0).unwrap().run(&mut whole, 60.0).unwrap();
        for members in pieces(4, &assembly.ways) {
            let mut piece = Piece::new(&assembly, &apart, members, 0.0).unwrap();
            piece.run(&assembly, &mut apart, 60.0).unwrap();
        }
        for (one, other) in whole.chambers.iter().zip(&apart.chambers) {
            let (one, other) = (one.gas[0], other.gas[0]);
            assert!((one / other - 1.0).abs() < 1e-3, "{one} {other}");
        }
        assert!((whole.gone[0] / apart.gone[0] - 1.0).abs() < 1e-4);
        assert!((whole.oil.water / apart.oil.water - 1.0).abs() < 1e-3);
    }
}
