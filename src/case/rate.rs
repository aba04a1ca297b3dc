//! A bare number where a rate is asked for: how fast it rises, or where it stands?

use super::case::Case;
use super::reading::ReadAnswer;
use crate::evidence::{Reach, Reply};
use crate::formula::Kind;
use crate::handbook::QuestionId;
use crate::quantity::{Dimension, QuantityKind, Slip, pressure_of_rate, show_rounded};

/// By which factor a number may differ from the last reading and still be one of that level
/// (`estimate`: between two questions a level rarely moves further).
const ALIKE: f64 = 2.0;

impl Case<'_> {
    /// Why a bare number may be a reading and no rate; none where nothing read so far is near it.
    pub(super) fn reading_for_rate(&self, id: QuestionId, read: &ReadAnswer) -> Option<Slip> {
        let question = self.handbook().question(id);
        let Kind::Quantity(kind) = question.kind else { return None };
        let Reply::Quantity { si, reach: Reach::Exact, .. } = read.reply else { return None };
        if kind.dimension != Dimension::RISE_RATE || read.bare_in.is_none() {
            return None;
        }
        let rate = question.unit.as_ref()?;
        let unit = pressure_of_rate(rate)?;
        let last = self.last_pressure()?;
        let stands = unit.to_si(rate.from_si(si));
        if stands <= 0.0 || stands > last * ALIKE || stands < last / ALIKE {
            return None;
        }
        let shown = |si| show_rounded(si, None, &unit, QuantityKind::PRESSURE);
        let message = format!(
            "{} is near what was read last, {}; this asks how much it rises in a time, not where it \
             stands",
            shown(stands),
            shown(last)
        );
        Some(Slip { message, suggestion: None })
    }

    /// What a number without a unit may be instead where a rate is asked for: what rose in some
    /// time. The rate as read, and how much in ten minutes, as it would be typed; none of a number
    /// that is 0 or has its unit, and at other questions.
    #[must_use]
    pub fn rate_or_rise(&self, id: QuestionId, typed: &str) -> Option<(String, String)> {
        let question = self.handbook().question(id);
        let rate = question.unit.as_ref()?;
        let unit = pressure_of_rate(rate)?;
        let typed = typed.trim();
        let is_bare = typed.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | ','));
        let is_zero = !typed.contains(|c: char| ('1'..='9').contains(&c));
        let is_rate =
            matches!(question.kind, Kind::Quantity(kind) if kind.dimension == Dimension::RISE_RATE);
        (is_rate && is_bare && !is_zero).then(|| {
            (format!("{typed} {}", rate.symbol), format!("{typed} {} in 10 min", unit.symbol))
        })
    }

    /// The last pressure that an instrument showed, in Pa.
    fn last_pressure(&self) -> Option<f64> {
        self.record().given.iter().rev().find_map(|given| {
            let question = self.handbook().question(given.question);
            let is_read = question.instrument.is_some();
            match (&question.kind, &given.reply) {
                (Kind::Quantity(QuantityKind::PRESSURE), Reply::Quantity { si, .. }) if is_read => {
                    Some(*si)
                }
                (Kind::Readings(QuantityKind::PRESSURE), Reply::Readings { pressures, .. }) => {
                    pressures.last().copied()
                }
                _ => None,
            }
        })
    }
}
