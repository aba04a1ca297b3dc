//! What the options say about gauge, surroundings and criterion.

use anyhow::{Result, anyhow, bail};

use super::temperature;
use crate::cli::hold_arguments::{HoldArguments, Responds};
use crate::quantity::{Bound, Expected, QuantityKind, Typed, parse_unit, read_typed};
use crate::rise::criterion::Criterion;
use crate::rise::{Doubted, GasResponse, Gauge, Surroundings};

/// From the half-width of an even spread to its standard deviation: one over the root of three.
pub(super) const OF_HALF_WIDTH: f64 = 0.577_350_269_189_625_8;
/// The rate that matters where nobody says which (`estimate`).
const MATTERS: &str = "5 micron/min";

/// What the options ask for, in SI units.
pub(super) struct Wanted {
    pub gauge: Gauge,
    pub surroundings: Surroundings,
    pub matters: f64,
    pub criterion: Option<Criterion>,
}

impl Wanted {
    pub(super) fn of(arguments: &HoldArguments) -> Result<Self> {
        Ok(Self {
            gauge: gauge(arguments)?,
            surroundings: surroundings(arguments)?,
            matters: positive(
                "--matters",
                arguments.matters.as_deref().unwrap_or(MATTERS),
                QuantityKind::RISE_RATE,
                "micron/min",
            )?,
            criterion: criterion(arguments)?,
        })
    }
}

fn gauge(arguments: &HoldArguments) -> Result<Gauge> {
    let mut gauge = Gauge::default();
    if let Some(text) = &arguments.gauge_scale {
        let scale = typed("--gauge-scale", text, QuantityKind::NUMBER, "%")?.value;
        if !(0.0..=0.5).contains(&scale) {
            bail!("--gauge-scale {text}: give a share from 0 to 50 %");
        }
        gauge.scale_doubt = scale * OF_HALF_WIDTH;
    }
    if let Some(text) = &arguments.gauge_offset {
        let kind = QuantityKind::PRESSURE_DIFFERENCE;
        let offset = typed("--gauge-offset", text, kind, "micron")?.value;
        gauge.offset_doubt = offset.abs() * OF_HALF_WIDTH;
    }
    gauge.response = match arguments.gas_response {
        Responds::HeatLoss => GasResponse::HeatLoss,
        Responds::Independent => GasResponse::Independent,
        Responds::Unknown => GasResponse::Unknown,
    };
    Ok(gauge)
}

fn surroundings(arguments: &HoldArguments) -> Result<Surroundings> {
    let mut around = Surroundings::default();
    if let Some(text) = &arguments.temperature {
        (around.warmed_by, around.drift) = temperature::change(text)?;
    }
    if let Some(text) = &arguments.coldest {
        let coldest = typed("--coldest", text, QuantityKind::TEMPERATURE, "degC")?;
        around.coldest = Some(doubted(&coldest, 1.0));
    }
    if let Some(text) = &arguments.volume {
        let volume = typed("--volume", text, QuantityKind::VOLUME, "L")?;
        if volume.value <= 0.0 {
            bail!("--volume {text}: a volume is above 0");
        }
        around.volume = Some(doubted(&volume, 0.0));
    }
    Ok(around)
}

/// A value with its standard deviation; `otherwise` where no half-width was typed.
fn doubted(typed: &Typed, otherwise: f64) -> Doubted {
    let doubt = typed.half_width.map_or(otherwise, |half| half * OF_HALF_WIDTH);
    Doubted { value: typed.value, doubt }
}

fn criterion(arguments: &HoldArguments) -> Result<Option<Criterion>> {
    let (Some(limit), Some(within)) = (&arguments.limit, &arguments.within) else {
        return Ok(None);
    };
    Ok(Some(Criterion {
        limit: positive("--limit", limit, QuantityKind::PRESSURE, "micron")?,
        within: positive("--within", within, QuantityKind::TIME, "min")?,
    }))
}

fn positive(option: &str, text: &str, kind: QuantityKind, unit: &str) -> Result<f64> {
    let value = typed(option, text, kind, unit)?.value;
    if value > 0.0 { Ok(value) } else { Err(anyhow!("{option} {text}: it has to be above 0")) }
}

/// What was typed behind an option, with a unit or in the one that is usual there.
pub(super) fn typed(option: &str, text: &str, kind: QuantityKind, unit: &str) -> Result<Typed> {
    let unit = parse_unit(unit).map_err(|error| anyhow!("{option}: {error:?}"))?;
    let typed = read_typed(text, &Expected::new(kind, unit))
        .map_err(|misread| anyhow!("{option}: {misread}"))?;
    match typed.bound {
        Bound::Exact => Ok(typed),
        Bound::Over | Bound::Under => bail!("{option} {text}: give the value itself"),
    }
}
