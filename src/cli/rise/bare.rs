//! Bare numbers beside units of one's own, which may be meant in those or in the usual ones.

use anyhow::{Result, bail};

use super::temperature;
use super::wanted::typed;
use crate::cli::hold_arguments::HoldArguments;
use crate::quantity::{QuantityKind, UnitExpression};
use crate::report::ShownIn;

/// Refuses every bare number of a measure whose unit somebody has chosen.
pub(super) fn refuse(arguments: &HoldArguments, shown: &ShownIn) -> Result<()> {
    if let Some(own) = chosen(shown.pressure_unit(), "micron") {
        let (pressure, difference) = (QuantityKind::PRESSURE, QuantityKind::PRESSURE_DIFFERENCE);
        let shown = [
            ("--limit", &arguments.limit, pressure),
            ("--gauge-offset", &arguments.gauge_offset, difference),
            ("--gauge-step", &arguments.gauge_step, difference),
        ];
        for (option, text, kind) in shown {
            of_one((option, text), kind, ("micron", &own), &own)?;
        }
        // The pressure of a working system is told in bar, whatever a vacuum is told in.
        let working = ("--working-pressure", &arguments.working_pressure);
        of_one(working, pressure, ("bara", &own), "bara")?;
    }
    if let Some(own) = chosen(shown.rise_unit(), "micron/min") {
        let matters = ("--matters", &arguments.matters);
        of_one(matters, QuantityKind::RISE_RATE, ("micron/min", &own), &own)?;
    }
    if let Some(own) = chosen(shown.temperature_unit(), "degC") {
        let coldest = ("--coldest", &arguments.coldest);
        of_one(coldest, QuantityKind::TEMPERATURE, ("degC", &own), &own)?;
        let change = arguments.temperature.as_ref();
        if let Some(text) = change.filter(|text| temperature::is_bare(text)) {
            bail!("{}", asked(temperature::OPTION, text, ("degC", &own), &own));
        }
    }
    Ok(())
}

/// The symbol of a unit that is not the usual one.
fn chosen(own: Option<UnitExpression>, usual: &str) -> Option<String> {
    own.map(|own| own.symbol).filter(|symbol| symbol != usual)
}

fn of_one(
    (option, text): (&str, &Option<String>),
    kind: QuantityKind,
    (usual, own): (&str, &str),
    mend: &str,
) -> Result<()> {
    let Some(text) = text else { return Ok(()) };
    if typed(option, text, kind, usual)?.is_bare {
        bail!("{}", asked(option, text, (usual, own), mend));
    }
    Ok(())
}

fn asked(option: &str, text: &str, (usual, own): (&str, &str), mend: &str) -> String {
    format!("{option} {text}: in {own} or in {usual}? Give the unit, as in '{text} {mend}'")
}
