//! Any number of rows in bounded memory: all of them while they are few, means in bins of time
//! once they are many.
//!
//! A bin holds the number of its readings and the sums of their times and pressures, so its mean
//! is exact whatever the order of the rows, and a straight rise stays straight. Bins are as wide
//! as the time from the first to the last reading needs; when they get too many, neighbours are
//! joined two by two.

/// Readings kept one by one; beyond, they are gathered in bins.
pub(super) const MOST_KEPT: usize = 4096;
/// Bins that the readings kept so far are spread over when bins begin.
const FIRST_BINS: f64 = 2048.0;

/// A reading with the line it stands in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Row {
    /// Seconds from any zero.
    pub time: f64,
    /// Pa.
    pub pressure: f64,
    /// From 1.
    pub line: u64,
}

/// The readings of one stretch of time.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bin {
    index: i64,
    /// How many there are.
    pub readings: u64,
    time_sum: f64,
    pressure_sum: f64,
}

impl Bin {
    /// Mean time, in s from the origin of the bins.
    pub fn time(&self) -> f64 {
        self.time_sum / self.readings as f64
    }

    /// Mean pressure, in Pa.
    pub fn pressure(&self) -> f64 {
        self.pressure_sum / self.readings as f64
    }

    fn join(&mut self, other: &Self) {
        self.readings += other.readings;
        self.time_sum += other.time_sum;
        self.pressure_sum += other.pressure_sum;
    }
}

/// Bins of one width, in the order of time.
#[derive(Clone, Debug)]
pub(super) struct Bins {
    /// The time that bins count from.
    pub origin: f64,
    width: f64,
    bins: Vec<Bin>,
}

impl Bins {
    /// Spreads rows over bins, a second wide where all rows have one time; none without rows.
    pub fn of(rows: &[Row]) -> Option<Self> {
        let origin = rows.first()?.time;
        let earliest = rows.iter().fold(f64::INFINITY, |least, row| least.min(row.time));
        let latest = rows.iter().fold(f64::NEG_INFINITY, |most, row| most.max(row.time));
        let needed = (latest - earliest) / FIRST_BINS;
        let width = if needed > 0.0 { needed } else { 1.0 };
        let mut bins = Self { origin, width, bins: Vec::with_capacity(MOST_KEPT + 1) };
        rows.iter().for_each(|&row| bins.add(row));
        Some(bins)
    }

    /// Adds a reading to the bin of its time.
    pub fn add(&mut self, row: Row) {
        let time = row.time - self.origin;
        // A cast holds at the ends of its type, so the farthest times share a bin.
        let index = (time / self.width).floor() as i64;
        let new = Bin { index, readings: 1, time_sum: time, pressure_sum: row.pressure };
        match self.bins.last_mut() {
            Some(last) if last.index == index => last.join(&new),
            Some(last) if last.index > index => self.put_back(new),
            _ => self.bins.push(new),
        }
        while self.bins.len() > MOST_KEPT {
            self.widen();
        }
    }

    fn put_back(&mut self, new: Bin) {
        match self.bins.binary_search_by_key(&new.index, |bin| bin.index) {
            Ok(at) => self.bins[at].join(&new),
            Err(at) => self.bins.insert(at, new),
        }
    }

    /// Joins neighbours; ends since indices shrink until one bin is left.
    fn widen(&mut self) {
        self.width *= 2.0;
        for bin in &mut self.bins {
            bin.index >>= 1;
        }
        self.bins.dedup_by(|next, kept| {
            let is_same = next.index == kept.index;
            if is_same {
                kept.join(next);
            }
            is_same
        });
    }

    /// The bins in the order of time.
    pub fn in_order(&self) -> &[Bin] {
        &self.bins
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_straight_rise_stays_straight_and_no_reading_is_lost() {
        let row = |i: u64| Row { time: i as f64, pressure: 40.0 + 0.25 * i as f64, line: i };
        let first: Vec<Row> = (0..5000).map(row).collect();
        let mut bins = Bins::of(&first).unwrap();
        (5000..300_000).for_each(|i| bins.add(row(i)));
        assert!(bins.in_order().len() <= MOST_KEPT && bins.in_order().len() > MOST_KEPT / 4);
        assert_eq!(bins.in_order().iter().map(|bin| bin.readings).sum::<u64>(), 300_000);
        for bin in bins.in_order() {
            assert!((bin.pressure() - 40.0 - 0.25 * bin.time()).abs() < 1e-9);
        }
    }

    #[test]
    fn the_order_of_the_rows_does_not_matter() {
        let row = |i: u64| Row { time: i as f64, pressure: 7.0, line: i };
        let first: Vec<Row> = (0..5000).map(row).collect();
        let (mut forward, mut backward) = (Bins::of(&first).unwrap(), Bins::of(&first).unwrap());
        (5000..9000).for_each(|i| forward.add(row(i)));
        (5000..9000).rev().for_each(|i| backward.add(row(i)));
        let readings =
            |bins: &Bins| bins.in_order().iter().map(|b| (b.index, b.readings)).collect();
        let (forward, backward): (Vec<_>, Vec<_>) = (readings(&forward), readings(&backward));
        assert_eq!(forward, backward);
    }

    #[test]
    fn rows_of_one_time_share_a_bin() {
        let bins = Bins::of(&[Row { time: 1.0, pressure: 1.0, line: 1 }; 3]).unwrap();
        assert_eq!(bins.in_order().iter().map(|bin| bin.readings).collect::<Vec<_>>(), [3]);
        assert!(Bins::of(&[]).is_none());
    }
}
