//! What is drawn of a hold, in minutes or hours and in a unit of pressure.

use super::axis::Axis;
use super::key::Drawn;
use crate::quantity::UnitExpression;
use crate::report::rise::sizes::{ShownIn, minutes};
use crate::rise::criterion::Criterion;
use crate::rise::{Hold, Reading, Verdict};

/// Pa in a micron of mercury (133.322387415 Pa a millimetre: ISO 80000-4, conventional).
const MICRON: f64 = 0.133_322_387_415;
/// Seconds in a minute and in an hour.
const MINUTE: f64 = 60.0;
const HOUR: f64 = 3600.0;
/// Holds from here on, in s, are drawn in hours (`estimate`: ticks in minutes get long).
const LONG: f64 = 5.0 * HOUR;
/// The share of the height that readings keep if the limit is drawn (`estimate`).
const SHARE_OF_READINGS: f64 = 0.25;
/// The least that an axis of pressures spans, as a share of the highest: what is flat shall look
/// flat (`estimate`).
const LEAST_SHARE: f64 = 0.02;
/// Room above and below what is drawn, as a share of it.
const ROOM: f64 = 0.03;

/// A line through points of time and pressure.
pub(super) struct Curve {
    pub drawn: Drawn,
    pub points: Vec<(f64, f64)>,
}

/// The limit of a criterion.
pub(super) struct Limit {
    /// In the unit of the pressures.
    pub pressure: f64,
    /// `500 micron`
    pub label: String,
    /// Until when it counts, in the unit of the times.
    pub until: f64,
    /// Whether it lies within the chart.
    pub is_drawn: bool,
    /// `limit, 500 micron within 30 min`
    pub words: String,
}

/// What is drawn.
pub(super) struct Picture {
    pub readings: Vec<(f64, f64)>,
    pub curves: Vec<Curve>,
    pub limit: Option<Limit>,
    /// Whether the curves are corrected for a known change of temperature.
    pub is_corrected: bool,
    /// Since the first reading.
    pub time: Axis,
    /// `min` or `h`.
    pub time_unit: &'static str,
    /// In [`pressure_unit`](Self::pressure_unit).
    pub pressure: Axis,
    pub pressure_unit: UnitExpression,
}

impl Picture {
    /// The picture of a hold, its curves drawn through so many points; none without a reading.
    /// Parts are drawn only where the verdict tells them.
    pub fn of(
        hold: &Hold,
        reading: Option<&Reading>,
        criterion: Option<Criterion>,
        points: usize,
        ticks: (usize, usize),
        shown: &ShownIn,
    ) -> Option<Self> {
        let pressure_unit = shown.pressure_unit()?;
        let pairs = hold.times.iter().copied().zip(hold.pressures.iter().copied());
        let pairs: Vec<(f64, f64)> =
            pairs.filter(|(time, p)| time.is_finite() && p.is_finite()).collect();
        let (start, end) = ends(pairs.iter().map(|(time, _)| *time))?;
        let (unit, time_unit) = if end - start >= LONG { (HOUR, "h") } else { (MINUTE, "min") };
        let place =
            |(time, pressure): (f64, f64)| ((time - start) / unit, pressure_unit.from_si(pressure));
        let readings: Vec<(f64, f64)> = pairs.into_iter().map(place).collect();
        let curves = reading.map_or_else(Vec::new, |reading| {
            let times = evenly(start, end, points);
            curves(reading, &times, place)
        });
        let all = curves.iter().flat_map(|curve| &curve.points).chain(&readings);
        let (low, high) = ends(all.map(|(_, pressure)| *pressure))?;
        let limit = criterion.and_then(|criterion| limit(criterion, unit, (low, high), shown));
        let drawn = limit.as_ref().filter(|limit| limit.is_drawn).map(|limit| limit.pressure);
        let (low, high) = (low.min(drawn.unwrap_or(low)), high.max(drawn.unwrap_or(high)));
        let step = pressure_unit.from_si(hold.gauge.resolution.unwrap_or(0.0));
        let least = (4.0 * step).max(pressure_unit.from_si(MICRON)).max(LEAST_SHARE * high);
        Some(Self {
            readings,
            curves,
            limit,
            is_corrected: hold.surroundings.warmed_by != 0.0,
            time: Axis::new(0.0, ((end - start) / unit).max(MINUTE / unit), 0.0, ticks.0),
            time_unit,
            pressure: Axis::new(low, high, least, ticks.1).padded(ROOM),
            pressure_unit,
        })
    }
}

/// The lowest and the highest.
fn ends(mut values: impl Iterator<Item = f64>) -> Option<(f64, f64)> {
    let first = values.next()?;
    Some(values.fold((first, first), |(low, high), value| (low.min(value), high.max(value))))
}

fn evenly(start: f64, end: f64, points: usize) -> Vec<f64> {
    let last = points.saturating_sub(1).max(1) as f64;
    (0..points).map(|k| start + (end - start) * (k as f64 / last)).collect()
}

fn curves(
    reading: &Reading,
    times: &[f64],
    place: impl Fn((f64, f64)) -> (f64, f64),
) -> Vec<Curve> {
    let told = reading.curves(times);
    let parts: &[Drawn] = match reading.verdict {
        Verdict::CannotTell => &[],
        Verdict::Quiet => &[Drawn::Fit],
        Verdict::Straight => &[Drawn::Fit, Drawn::Straight],
        Verdict::Levelling => &[Drawn::Fit, Drawn::Levelling],
        Verdict::Both => &[Drawn::Fit, Drawn::Straight, Drawn::Levelling],
    };
    let curve = |drawn: &Drawn| {
        let pressures = match drawn {
            Drawn::Straight => &told.straight,
            Drawn::Levelling => &told.levelling,
            Drawn::Fit | Drawn::Readings | Drawn::Limit => &told.fit,
        };
        let pairs = times.iter().copied().zip(pressures.iter().copied());
        Curve { drawn: *drawn, points: pairs.map(&place).collect() }
    };
    parts.iter().map(curve).collect()
}

fn limit(
    criterion: Criterion,
    unit: f64,
    (low, high): (f64, f64),
    shown: &ShownIn,
) -> Option<Limit> {
    let pressure = shown.pressure_unit()?.from_si(criterion.limit);
    let whole = high.max(pressure) - low.min(pressure);
    let is_drawn = high - low >= SHARE_OF_READINGS * whole;
    let label = shown.pressure(criterion.limit);
    let within = format!("{label} within {}", minutes(criterion.within));
    let words = match (is_drawn, pressure > high) {
        (true, _) => format!("{}, {within}", Drawn::Limit.name(false)),
        (false, true) => format!("{}, {within}, lies above the chart", Drawn::Limit.name(false)),
        (false, false) => format!("{}, {within}, lies below the chart", Drawn::Limit.name(false)),
    };
    Some(Limit { pressure, label, until: criterion.within / unit, is_drawn, words })
}
