//! Copper tube for refrigeration by its size: bore and volume.

use std::f64::consts::PI;

/// How a tube was made, which settles its wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Temper {
    /// Soft, in coils.
    Annealed,
    /// Hard, in straight lengths.
    Drawn,
}

/// Where the wall of a size was read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    /// In an excerpt of ASTM B280-20, table 1.
    Standard,
    /// In an open engineering table headed ASTM B280.
    Table,
    /// Nowhere: from memory.
    Memory,
}

/// A size of tube.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Size {
    /// Its name: the outside diameter in inches, as people write it.
    pub name: &'static str,
    /// The outside diameter in inches.
    pub outside_inches: f64,
    /// The nominal wall in inches.
    pub wall_inches: f64,
    /// Where the wall was read.
    pub basis: Basis,
}

/// m in an inch.
const INCH: f64 = 0.0254;
/// How far a size may lie from the one listed in m, so that rounded millimetres such as 9.52
/// for 3/8 in are found.
const NEAR_ENOUGH: f64 = 0.06e-3;

const fn size(name: &'static str, outside_inches: f64, wall_inches: f64, basis: Basis) -> Size {
    Size { name, outside_inches, wall_inches, basis }
}

/// Annealed coils, smallest first.
const ANNEALED: &[Size] = &[
    size("1/4 in", 0.25, 0.030, Basis::Table),
    size("5/16 in", 0.3125, 0.032, Basis::Memory),
    size("3/8 in", 0.375, 0.032, Basis::Table),
    size("1/2 in", 0.5, 0.032, Basis::Table),
    size("5/8 in", 0.625, 0.035, Basis::Memory),
    size("3/4 in", 0.75, 0.035, Basis::Table),
    size("7/8 in", 0.875, 0.045, Basis::Table),
    size("1-1/8 in", 1.125, 0.050, Basis::Table),
    size("1-3/8 in", 1.375, 0.055, Basis::Memory),
    size("1-5/8 in", 1.625, 0.060, Basis::Memory),
];

/// Drawn straight lengths, smallest first.
const DRAWN: &[Size] = &[
    size("1/4 in", 0.25, 0.025, Basis::Standard),
    size("3/8 in", 0.375, 0.030, Basis::Standard),
    size("1/2 in", 0.5, 0.035, Basis::Memory),
    size("5/8 in", 0.625, 0.040, Basis::Standard),
    size("3/4 in", 0.75, 0.042, Basis::Standard),
    size("7/8 in", 0.875, 0.045, Basis::Standard),
    size("1-1/8 in", 1.125, 0.050, Basis::Memory),
    size("1-3/8 in", 1.375, 0.055, Basis::Standard),
    size("1-5/8 in", 1.625, 0.060, Basis::Memory),
    size("2-1/8 in", 2.125, 0.070, Basis::Memory),
    size("2-5/8 in", 2.625, 0.080, Basis::Memory),
];

impl Temper {
    /// Every temper.
    pub const ALL: [Self; 2] = [Self::Annealed, Self::Drawn];

    /// The sizes listed, smallest first.
    #[must_use]
    pub fn sizes(self) -> &'static [Size] {
        match self {
            Self::Annealed => ANNEALED,
            Self::Drawn => DRAWN,
        }
    }

    /// The size with an outside diameter in m, or the names of the sizes next to it: one or two.
    ///
    /// # Errors
    /// If no size listed has that diameter within .06 mm.
    pub fn find(self, outside: f64) -> Result<&'static Size, Vec<&'static str>> {
        let sizes = self.sizes();
        if let Some(size) = sizes.iter().find(|s| (s.outside() - outside).abs() <= NEAR_ENOUGH) {
            return Ok(size);
        }
        let below = sizes.iter().rfind(|size| size.outside() < outside);
        let above = sizes.iter().find(|size| size.outside() > outside);
        Err(below.into_iter().chain(above).map(|size| size.name).collect())
    }
}

impl Size {
    /// The outside diameter in m.
    #[must_use]
    pub fn outside(&self) -> f64 {
        self.outside_inches * INCH
    }

    /// The bore in m: the outside diameter less two nominal walls. A real tube's volume lies
    /// within about 4 % of what follows, by the tolerance of the wall (memory).
    #[must_use]
    pub fn bore(&self) -> f64 {
        (self.outside_inches - 2.0 * self.wall_inches) * INCH
    }

    /// The volume in m³ of a length in m.
    #[must_use]
    pub fn volume(&self, length: f64) -> f64 {
        PI / 4.0 * self.bore() * self.bore() * length
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_rise_and_are_wider_than_their_walls() {
        for temper in Temper::ALL {
            assert!(temper.sizes().is_sorted_by(|a, b| a.bore() < b.bore()));
            for size in temper.sizes() {
                assert!((0.7..0.96).contains(&(size.bore() / size.outside())), "{}", size.name);
                assert_eq!(temper.find(size.outside()), Ok(size));
            }
        }
    }

    #[test]
    fn rounded_millimetres_are_found_and_sizes_between_name_their_neighbours() {
        for (millimetres, name) in [(6.35, "1/4 in"), (9.52, "3/8 in"), (15.88, "5/8 in")] {
            let found = Temper::Annealed.find(millimetres * 1e-3).map(|size| size.name);
            assert_eq!(found, Ok(name));
        }
        assert_eq!(Temper::Drawn.find(11e-3), Err(vec!["3/8 in", "1/2 in"]));
        assert_eq!(Temper::Drawn.find(3e-3), Err(vec!["1/4 in"]));
        assert_eq!(Temper::Annealed.find(0.1), Err(vec!["1-5/8 in"]));
        assert!(Temper::Annealed.find(f64::NAN).is_err());
    }
}
