//! What a pump achieves behind a hose and cores: speed, pressures, time.

use super::gas_flow::{BORE, CORE_STREAM, LENGTH, drawn_cores};
use super::{Body, Example, Function, Given, Gives, Need, Never, Parameter, Refusal, Takes};
use crate::physics::conductance::Tube;
use crate::physics::gas::{Gas, REFERENCE_TEMPERATURE};
use crate::physics::pump_down::PumpDown;
use crate::physics::pumping_speed::{PumpingLine, effective_speed};
use crate::quantity::QuantityKind;

const SPEED: Parameter = Parameter {
    range: Some((1e-6, 1.0)),
    ..Parameter::required(
        "speed",
        "the rated speed of the pump",
        Takes::Quantity(QuantityKind::FLOW),
    )
};
const CORES: Parameter = Parameter {
    range: Some((0.0, 10.0)),
    ..Parameter::required(
        "cores",
        "how many valve cores the gas passes, at the system's end",
        Takes::Quantity(QuantityKind::NUMBER),
    )
};
const SYSTEM_PRESSURE: Parameter = Parameter {
    range: Some((1e-3, 2e5)),
    ..Parameter::required(
        "pressure",
        "the absolute pressure at the system",
        Takes::Quantity(QuantityKind::PRESSURE),
    )
};
const VOLUME: Parameter = Parameter {
    range: Some((1e-6, 1000.0)),
    ..Parameter::required(
        "volume",
        "the inner volume of the system",
        Takes::Quantity(QuantityKind::VOLUME),
    )
};
const START: Parameter =
    Parameter { name: "start", says: "the absolute pressure at first", ..SYSTEM_PRESSURE };
const FLOOR: Parameter = Parameter {
    name: "floor",
    says: "the lowest pressure that the pump reaches by itself",
    need: Need::Default(0.0),
    range: Some((0.0, 1e5)),
    ..SYSTEM_PRESSURE
};
const HOSE_BORE: Parameter =
    Parameter { says: "the bore of the hose", need: Need::Optional, ..BORE };
const HOSE_LENGTH: Parameter =
    Parameter { says: "the length of the hose", need: Need::Optional, ..LENGTH };
const CORES_OR_NONE: Parameter = Parameter { need: Need::Default(0.0), ..CORES };
const LOAD: Parameter = Parameter {
    name: "load",
    says: "the gas that keeps coming in, as a throughput",
    takes: Takes::Quantity(QuantityKind::THROUGHPUT),
    need: Need::Default(0.0),
    range: Some((0.0, 1e3)),
};

const SOURCE: &str = "computed: steady flow through pump, hose and cores at every moment; \
                      estimate: the cores; memory: the law of the hose, see tube_conductance";
const HOLDS: &str = "a dry system of air at 20 degC without inner resistance, and a pump that keeps \
                     its rated speed: a lower bound. Near atmospheric pressure the law of the hose \
                     gives too much, but there the pump limits";

pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "effective_speed",
        says: "what is left of a pump's speed behind a conductance",
        parameters: &[
            SPEED,
            Parameter {
                range: Some((1e-12, 1e3)),
                ..Parameter::required(
                    "conductance",
                    "how easily gas passes what lies between",
                    Takes::Quantity(QuantityKind::FLOW),
                )
            },
        ],
        gives: Gives::Kind(QuantityKind::FLOW),
        formula: "speed times conductance over their sum",
        source: "definition",
        examples: &[Example { text: "effective_speed(2 L/s, 0.5 L/s)", gives: "0.4 L/s" }],
        body: Body::Each(|given| Ok(effective_speed(given.at(0), given.at(1)))),
        ..Function::PLAIN
    },
    Function {
        name: "system_speed",
        says: "what is left of a pump's speed at the system, behind hose and cores",
        parameters: &[SPEED, BORE, LENGTH, CORES, SYSTEM_PRESSURE, FLOOR],
        gives: Gives::Kind(QuantityKind::FLOW),
        formula: "what flows, over the pressure at the system above the floor, with the hose at \
                  the mean of the pressures at its two ends",
        source: SOURCE,
        examples: &[Example {
            text: "system_speed(5 cfm, 3/8 in, 1.5 m, 0, 500 micron)",
            gives: "0.2919 L/s",
        }],
        body: Body::Each(|given| Ok(line_at(given, 0, 5, 1)?.system_speed(given.at(4)))),
        holds: HOLDS,
        drawn: &[CORE_STREAM],
        ..Function::PLAIN
    },
    Function {
        name: "pump_end_pressure",
        says: "what a gauge at the pump reads while the system has a pressure",
        parameters: &[SPEED, BORE, LENGTH, CORES, SYSTEM_PRESSURE, FLOOR],
        gives: Gives::Kind(QuantityKind::PRESSURE),
        formula: "the pressure at which the pump takes what hose and cores pass",
        source: SOURCE,
        examples: &[Example {
            text: "pump_end_pressure(5 cfm, 3/8 in, 1.5 m, 0, 500 micron, floor = 20 micron)",
            gives: "80.84 micron",
        }],
        body: Body::Each(|given| {
            Ok(line_at(given, 0, 5, 1)?.at_system_pressure(given.at(4)).pump_end_pressure)
        }),
        holds: HOLDS,
        drawn: &[CORE_STREAM],
        ..Function::PLAIN
    },
    Function {
        name: "pump_down_time",
        says: "how long a dry system takes to be pumped down",
        parameters: &[
            VOLUME,
            SPEED,
            START,
            Parameter { name: "target", says: "the absolute pressure at last", ..SYSTEM_PRESSURE },
            FLOOR,
            HOSE_BORE,
            HOSE_LENGTH,
            CORES_OR_NONE,
            LOAD,
        ],
        gives: Gives::Kind(QuantityKind::TIME),
        formula: "the integral of volume over (what flows minus the load) from target to start; 0 \
                  where the start lies at or below the target",
        source: SOURCE,
        examples: &[
            Example {
                text: "pump_down_time(10 L, 2 L/s, 760000 micron, 1000 micron) as s",
                gives: "33.17 s",
            },
            Example {
                text: "pump_down_time(14 L, 6 cfm, 760000 micron, 500 micron, bore = 3/8 in, \
                       length = 1.5 m)",
                gives: "1.294 min",
            },
        ],
        body: Body::Each(|given| Ok(pump_down(given)?.time(given.at(2), given.at(3)))),
        holds: HOLDS,
        drawn: &[CORE_STREAM],
        never: Some(Never {
            says: "it stops at",
            kind: QuantityKind::PRESSURE,
            law: |given| pump_down(given).map_or(f64::NAN, |down| down.stopping_pressure()),
        }),
    },
    Function {
        name: "pump_down_pressure",
        says: "how far a dry system is pumped down after a time",
        parameters: &[
            VOLUME,
            SPEED,
            START,
            Parameter {
                range: Some((0.0, 1e7)),
                ..Parameter::required(
                    "after",
                    "how long the pump has run",
                    Takes::Quantity(QuantityKind::TIME),
                )
            },
            FLOOR,
            HOSE_BORE,
            HOSE_LENGTH,
            CORES_OR_NONE,
            LOAD,
        ],
        gives: Gives::Kind(QuantityKind::PRESSURE),
        formula: "the pressure to which pump_down_time takes so long; the start where it already \
                  lies at or below where the system stops",
        source: SOURCE,
        examples: &[Example {
            text: "pump_down_pressure(14 L, 6 cfm, 760000 micron, 2 min, floor = 20 micron, \
                   bore = 3/8 in, length = 1.5 m)",
            gives: "258.4 micron",
        }],
        body: Body::Each(|given| {
            let (down, start) = (pump_down(given)?, given.at(2));
            Ok(down.pressure_after(start, given.at(3)))
        }),
        holds: HOLDS,
        drawn: &[CORE_STREAM],
        ..Function::PLAIN
    },
];

/// The line of the functions that take a pump-down: parameters 1 and 4 to 7.
fn pump_down(given: &Given<'_>) -> Result<PumpDown, Refusal> {
    Ok(PumpDown::new(line_at(given, 1, 4, 5)?, given.at(0), given.at(8)))
}

/// The pumping line whose speed and floor stand at these places, with bore, length and cores at
/// three that follow each other.
fn line_at(
    given: &Given<'_>,
    speed: usize,
    floor: usize,
    bore: usize,
) -> Result<PumpingLine, Refusal> {
    let hose = match (given.optional(bore), given.optional(bore + 1)) {
        (Some(bore), Some(length)) => {
            Some(Tube::new(Gas::Air, bore, length, REFERENCE_TEMPERATURE))
        }
        (None, None) => None,
        (given, _) => {
            let (there, missing) = match given {
                Some(_) => ("bore", "length"),
                None => ("length", "bore"),
            };
            return Err(Refusal::Impossible(format!(
                "a hose is known by its bore and its length; its {there} was given without its \
                 {missing}"
            )));
        }
    };
    Ok(PumpingLine {
        speed: given.at(speed),
        floor: given.at(floor),
        hose,
        cores: drawn_cores(given, given.at(bore + 2)),
    })
}
