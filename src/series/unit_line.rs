//! A unit that stands by itself for the whole block: `micron`, or `all in micron`.

use crate::quantity::{QuantityKind, UnitExpression, parse_prompt_unit};

/// The unit that one part is, and the other parts.
pub(super) fn without_unit_line<'t>(
    parts: &[(u64, &'t str)],
) -> Option<(UnitExpression, Vec<(u64, &'t str)>)> {
    let (at, unit) =
        parts.iter().enumerate().find_map(|(at, (_, part))| Some((at, unit_alone(part)?)))?;
    let others = parts.iter().enumerate().filter(|(other, _)| *other != at).map(|(_, part)| *part);
    Some((unit, others.collect()))
}

/// `micron`, `in micron`, `all readings in micron:`; not inches of mercury, which may be gauge.
fn unit_alone(part: &str) -> Option<UnitExpression> {
    let part = part.trim().trim_end_matches([':', '.', ',']);
    let is_said = part.split(' ').count() <= 4 && !part.contains(|c: char| c.is_ascii_digit());
    let last = part.rsplit(' ').next().filter(|_| is_said)?;
    let before = part[..part.len() - last.len()].trim();
    let is_alone = before.split(' ').all(|word| {
        ["", "in", "all", "are", "unit", "readings", "pressures"]
            .iter()
            .any(|known| known.eq_ignore_ascii_case(word))
    });
    let unit = parse_prompt_unit(last, QuantityKind::PRESSURE).ok().filter(|_| is_alone)?;
    (unit.kind.fits(QuantityKind::PRESSURE) && unit.symbol != "inHg").then_some(unit)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_unit_by_itself_is_told_from_readings() {
        for text in ["micron", "in micron", "All in micron:", "Pa"] {
            assert!(unit_alone(text).is_some(), "{text}");
        }
        for text in ["420 micron", "time", "min", "pump in micron", "inHg", ""] {
            assert!(unit_alone(text).is_none(), "{text}");
        }
    }
}
