//! What the options say about gauge, surroundings and criterion.

use anyhow::{Result, anyhow, bail};

use super::{bare, temperature};
use crate::cli::hold_arguments::{HoldArguments, Responds};
use crate::physics::gas::REFERENCE_TEMPERATURE;
use crate::physics::refrigerant::{Refrigerant, Saturation};
use crate::quantity::{
    Bound, Expected, QuantityKind, Typed, UnitExpression, parse_unit, read_typed,
};
use crate::report::{Asked, AtWork, Judged, ShownIn};
use crate::rise::criterion::Criterion;
use crate::rise::{
    Doubted, GasResponse, Gauge, Hold, OF_HALF_WIDTH, Surroundings, found_resolution, is_even_row,
};
use crate::series::Readings;

/// Below it hardly anything leaves, and air may come in: 1.2 bar, as `leak_at_pressure` has it.
const LOWEST_INSIDE: f64 = 1.2e5;
/// The rate that matters where nobody says which (`estimate`).
const MATTERS: &str = "5 micron/min";
/// One micron in Pa, the step of a usual fine gauge (`estimate`, as in the built-in instruments).
const FINE_STEP: f64 = 0.133_322_387_415;
/// What one gauge doesn't repeat from reading to reading, as a half-width (`estimate`): that of the
/// built-in question of a hold's readings, so that both judge the same numbers alike.
const REPEATS: &str = "3 micron";

/// What the options ask for, in SI units.
pub(in crate::cli) struct Wanted {
    pub gauge: Gauge,
    pub surroundings: Surroundings,
    pub matters: f64,
    pub criterion: Option<Criterion>,
    /// Who wrote the criterion, if that was told.
    pub criterion_from: Option<String>,
    pub at_work: Option<AtWork>,
    /// The units that a person reads.
    pub shown: ShownIn,
}

impl Wanted {
    pub fn of(arguments: &HoldArguments) -> Result<Self> {
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
            criterion_from: arguments.criterion_from.clone(),
            at_work: at_work(arguments)?,
            shown: ShownIn::default(),
        })
    }

    /// The same, told in units of somebody's own.
    ///
    /// # Errors
    /// If an option holds a bare number, which might be in that unit or in the usual one.
    pub fn shown_in(
        self,
        arguments: &HoldArguments,
        instead: &[(String, UnitExpression)],
    ) -> Result<Self> {
        let shown = ShownIn::new(instead);
        bare::refuse(arguments, &shown)?;
        Ok(Self { shown, ..self })
    }

    /// What is asked of a hold besides its parts, its criterion judged.
    pub fn asked(&self, hold: &Hold) -> Asked {
        let found = || found_resolution(&hold.pressures);
        let resolution = hold.gauge.resolution.or_else(found).unwrap_or(0.0);
        let judged = |criterion: Criterion| Judged {
            criterion,
            judgement: criterion.judge(hold, resolution),
            source: self.criterion_from.clone(),
        };
        Asked {
            criterion: self.criterion.map(judged),
            at_work: self.at_work,
            shown: self.shown.clone(),
        }
    }

    /// The hold that these readings are of.
    pub fn hold(&self, readings: &Readings) -> Hold {
        let (times, pressures) = (readings.times().to_vec(), readings.pressures().to_vec());
        let mut hold = Hold::new(times, pressures, self.gauge, self.matters);
        hold.gauge.resolution = hold.gauge.resolution.or_else(|| shown_step(readings));
        hold.weights = readings.weights().to_vec();
        hold.surroundings = self.surroundings;
        hold
    }
}

/// The step that the readings go in; of an even row no more than the finest that is usual, as in the
/// guided case.
fn shown_step(readings: &Readings) -> Option<f64> {
    let step = readings.resolution()?;
    let is_even = is_even_row(readings.times(), readings.pressures());
    Some(if is_even { step.min(FINE_STEP) } else { step })
}

fn gauge(arguments: &HoldArguments) -> Result<Gauge> {
    let difference = QuantityKind::PRESSURE_DIFFERENCE;
    let repeats = positive("what the gauge repeats", REPEATS, difference, "micron")?;
    let repeatability = Some(repeats * OF_HALF_WIDTH);
    let mut gauge = Gauge { repeatability, ..Gauge::default() };
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
    if let Some(text) = &arguments.gauge_step {
        let kind = QuantityKind::PRESSURE_DIFFERENCE;
        gauge.resolution = Some(positive("--gauge-step", text, kind, "micron")?);
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
    let (limit, within) = match (&arguments.limit, &arguments.within) {
        (Some(limit), Some(within)) => (limit, within),
        (Some(limit), None) => bail!(
            "--limit {limit} says nothing without its time: add the one that the sheet or the code \
             gives with it, such as --within '10 min'"
        ),
        (None, Some(within)) => bail!(
            "--within {within} says nothing without its limit: add the one that the sheet or the \
             code gives with it, such as --limit '500 micron'"
        ),
        (None, None) => return Ok(None),
    };
    Ok(Some(Criterion {
        limit: exact("--limit", limit, QuantityKind::PRESSURE, "micron")?,
        within: exact("--within", within, QuantityKind::TIME, "min")?,
    }))
}

/// The pressure over liquid of 20 °C where none was typed.
fn at_work(arguments: &HoldArguments) -> Result<Option<AtWork>> {
    let Some(word) = &arguments.refrigerant else { return Ok(None) };
    let plain = word.to_lowercase().replace('-', "");
    let Some(refrigerant) = Refrigerant::ALL.into_iter().find(|one| one.designation() == plain)
    else {
        let known: Vec<&str> = Refrigerant::ALL.iter().map(|one| one.designation()).collect();
        bail!("--refrigerant {word}: what is known of is {}", known.join(", "));
    };
    let inside = match &arguments.working_pressure {
        Some(text) => typed("--working-pressure", text, QuantityKind::PRESSURE, "bara")?.value,
        None => refrigerant.pressure(REFERENCE_TEMPERATURE, Saturation::Bubble),
    };
    if inside < LOWEST_INSIDE {
        bail!("--working-pressure: give the absolute pressure, above 1.2 bara");
    }
    Ok(Some(AtWork { refrigerant, inside }))
}

/// A figure of a criterion, which is above zero and has no doubt of its own.
fn exact(option: &str, text: &str, kind: QuantityKind, unit: &str) -> Result<f64> {
    if typed(option, text, kind, unit)?.half_width.is_some() {
        bail!(
            "{option} {text}: a limit is exact, so leave out what stands behind the plus-minus; \
             --gauge-scale and --gauge-offset tell the doubt of the gauge"
        );
    }
    positive(option, text, kind, unit)
}

/// A value above zero, typed behind an option.
pub(in crate::cli) fn positive(
    option: &str,
    text: &str,
    kind: QuantityKind,
    unit: &str,
) -> Result<f64> {
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
