//! A reading that looks like a slip: another unit, or a digit too many.

use super::entry::{Entry, cell};
use crate::quantity::{
    Bound, Expected, QuantityKind, Typed, UnitExpression, likely_slip, parse_unit, show,
};

/// What a service gauge of the trade shows, in Pa: 1 to 20,000 micron (`common_practice`).
const GAUGE: (f64, f64) = (0.133_322_387_415, 2_666.447_748_3);
/// From one reading to the next a hold may fall to this share, or rise to so many times
/// (`estimate`: a slip of unit is at least a factor of seven, a valve's trapped air may be ten).
const FALL: f64 = 0.1;
const RISE: f64 = 30.0;

/// A reading that waits for a word.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Doubt {
    entry: Entry,
    meant: Option<Entry>,
    /// What is odd about it.
    pub odd: String,
    /// The same, with what to type.
    pub message: String,
}

impl Doubt {
    /// The entry that this word settles it to.
    pub fn settled_by(&self, word: &str) -> Option<Entry> {
        match word {
            "keep" => Some(self.entry.clone()),
            "yes" | "y" => self.meant.clone(),
            _ => None,
        }
    }
}

/// The doubt about an entry after a reading of `before` Pa; none if it is usual. A number that
/// was typed bare stood in `unit`, and may have been meant in another one.
pub(super) fn doubted(
    entry: &Entry,
    unit: Option<&UnitExpression>,
    column: &UnitExpression,
    before: Option<f64>,
) -> Option<Doubt> {
    let pressure = entry.pressure.ok()?;
    let shown = unit.unwrap_or(column);
    let mut expected = Expected::new(QuantityKind::PRESSURE, parse_unit(&shown.symbol).ok()?);
    expected.usual = Some(match before {
        Some(before) => (FALL * before, (RISE * before).max(GAUGE.1)),
        None => GAUGE,
    });
    let echo = show(pressure, None, shown, QuantityKind::PRESSURE);
    let typed = Typed {
        value: pressure,
        half_width: None,
        bound: Bound::Exact,
        unit: shown.clone(),
        is_bare: unit.is_none(),
        echo: echo.clone(),
    };
    let slip = likely_slip(&typed, &expected)?;
    let meant = slip.suggestion.filter(|_| unit.is_some()).map(|(text, pascals)| {
        let cell = cell(Ok(pascals), column, false);
        (text, Entry { pressure: Ok(pascals), cell, ..entry.clone() })
    });
    let odd = if unit.is_some() {
        slip.message
    } else {
        slip.message.split([':', ';']).next().unwrap_or_default().to_owned()
    };
    let take = meant.as_ref().map(|(text, _)| format!("`yes` for {text}, "));
    let message =
        format!("{odd}. Type {}`keep` for {echo}, or the reading again", take.unwrap_or_default());
    Some(Doubt { entry: entry.clone(), meant: meant.map(|(_, entry)| entry), odd, message })
}
