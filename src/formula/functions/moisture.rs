//! Water as vapour, and what sweeps with dry gas leave.

use super::gas_load::VOLUME;
use super::{Body, Example, Function, Given, Gives, Need, Parameter, Refusal, in_unit};
use crate::physics::gas::REFERENCE_TEMPERATURE;
use crate::physics::moisture::{
    heat_limited_time, sweep_dilution, vapour_limited_time, water_vapour_mass,
};
use crate::physics::saturation::saturation_pressure;
use crate::quantity::QuantityKind;

const PRESSURE: Parameter = Parameter::within(
    "pressure",
    "the absolute pressure of the water vapour",
    QuantityKind::PRESSURE,
    1e-3,
    2e5,
);
const TEMPERATURE: Parameter = Parameter::within(
    "temperature",
    "the temperature of the water",
    QuantityKind::TEMPERATURE,
    273.15 - 40.0,
    273.15 + 80.0,
)
.or(REFERENCE_TEMPERATURE);
const BREAK_PRESSURE: Parameter = Parameter::within(
    "break_pressure",
    "the absolute pressure to which dry gas is let in",
    QuantityKind::PRESSURE,
    1.0,
    1e7,
);

pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "water_vapour_mass",
        says: "the mass of the water vapour in a volume",
        parameters: &[PRESSURE, VOLUME, TEMPERATURE],
        gives: Gives::Kind(QuantityKind::MASS),
        formula: "pressure times volume times 18.015268 g/mol, over gas constant times temperature",
        source: "published: ideal gas",
        examples: &[Example {
            text: "water_vapour_mass(1000 micron, 10 L) as mg",
            gives: "9.854 mg",
        }],
        body: Body::Each(|given| Ok(water_vapour_mass(given.at(0), given.at(1), given.at(2)))),
        holds: "if all of the pressure is water vapour; saturated at 20 degC .14 % too little \
                (computed: CoolProp 8.0.0). Liquid and ice are not counted",
        ..Function::PLAIN
    },
    DRYING_TIME,
    Function {
        name: "sweep_dilution",
        says: "what share of a gas is left after sweeps with dry gas",
        parameters: &[
            Parameter {
                says: "the absolute pressure to which the system is pumped each time",
                ..PRESSURE
            },
            BREAK_PRESSURE,
            Parameter::within("sweeps", "how many", QuantityKind::NUMBER, 0.0, 20.0),
        ],
        gives: Gives::Kind(QuantityKind::NUMBER),
        formula: "(pressure over break pressure) to the power of the number of sweeps",
        source: "published: ideal gas, fully mixed",
        examples: &[Example { text: "sweep_dilution(1500 micron, 1 atm, 3)", gives: "7.688e-9" }],
        body: Body::Each(sweep_dilution_of),
        holds: "for gas in the open. Water on walls, in oil or as liquid comes out at its own pace, \
                however often it is swept",
        ..Function::PLAIN
    },
];

fn sweep_dilution_of(given: &Given<'_>) -> Result<f64, Refusal> {
    let (pressure, broken) = (given.at(0), given.at(1));
    if pressure > broken {
        return Err(Refusal::Impossible(format!(
            "the pressure pumped to, {}, lies above the break pressure, {}",
            in_unit(pressure, QuantityKind::PRESSURE),
            in_unit(broken, QuantityKind::PRESSURE)
        )));
    }
    Ok(sweep_dilution(pressure, broken, given.at(2)))
}

const DRYING_TIME: Function = Function {
    name: "drying_time",
    says: "how long it takes to pump water away as vapour",
    parameters: &[
        Parameter::within("mass", "the water", QuantityKind::MASS, 0.0, 100.0),
        PRESSURE,
        Parameter::within(
            "speed",
            "the speed of the pump at the system",
            QuantityKind::FLOW,
            1e-9,
            10.0,
        ),
        TEMPERATURE,
        Parameter {
            need: Need::Optional,
            ..Parameter::within(
                "heat",
                "the heat that reaches the water",
                QuantityKind::POWER,
                1e-3,
                1e5,
            )
        },
    ],
    gives: Gives::Kind(QuantityKind::TIME),
    formula: "the larger of mass R T / (M p S), which is how fast the vapour can leave, and of mass \
              times heat of evaporation over heat, which is how fast it can form",
    source: "published: ideal gas, balance of energy; heat of evaporation of liquid 2.4536 kJ/g at \
             20 degC (computed: a line through CoolProp 8.0.0), of ice 2.834 kJ/g (memory)",
    examples: &[
        Example { text: "drying_time(1 g, 500 micron, 2 L/s)", gives: "16.91 min" },
        Example {
            text: "drying_time(5 g, 4500 micron, 2 L/s, 0 degC, heat = 7.5 W)",
            gives: "31.49 min",
        },
    ],
    body: Body::Each(drying_time_of),
    holds: "a lower bound: all gas at that pressure is water vapour of that temperature, and none \
            waits behind oil, ice or a narrow way. Without heat given it is taken to be plenty",
    ..Function::PLAIN
};

fn drying_time_of(given: &Given<'_>) -> Result<f64, Refusal> {
    let (mass, pressure, temperature) = (given.at(0), given.at(1), given.at(3));
    let boils_below = saturation_pressure(temperature);
    if pressure > boils_below {
        return Err(Refusal::Impossible(format!(
            "at {} water gives vapour of {} at most, and the pressure is {}",
            in_unit(temperature, QuantityKind::TEMPERATURE),
            in_unit(boils_below, QuantityKind::PRESSURE),
            in_unit(pressure, QuantityKind::PRESSURE)
        )));
    }
    let by_vapour = vapour_limited_time(mass, pressure, given.at(2), temperature);
    let by_heat = given.optional(4).map(|heat| heat_limited_time(mass, temperature, heat));
    Ok(by_vapour.max(by_heat.unwrap_or(0.0)))
}
