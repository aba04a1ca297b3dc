//! How molecules move in a bore, and how easily gas passes tubes, holes and cores.

use std::sync::LazyLock;

use super::{Body, Example, Function, Given, Gives, Need, Parameter, Takes};
use crate::physics::conductance::{
    Tube, core_conductance, in_parallel, in_series, orifice_conductance,
};
use crate::physics::gas::{Gas, REFERENCE_TEMPERATURE, Regime};
use crate::quantity::QuantityKind;

/// The stream from which the conductance of a core is drawn.
pub(super) const CORE_STREAM: &str = "core_conductance";

const GASES: &[(&str, &str)] = &[("air", "dry air"), ("water", "water vapour")];
const REGIMES: &[(&str, &str)] = &[
    ("viscous", "molecules meet each other far more often than the wall"),
    ("transitional", "molecules meet each other and the wall"),
    ("molecular", "molecules meet hardly anything but the wall"),
];

const KINETIC_THEORY: &str = "published: kinetic theory of gases, with the viscosity of air \
                              1.82e-5 Pa s at 20 degC (common practice)";

const PRESSURE: Parameter = Parameter {
    range: Some((1e-6, 1e6)),
    ..Parameter::required(
        "pressure",
        "the absolute pressure of the air",
        Takes::Quantity(QuantityKind::PRESSURE),
    )
};
const TEMPERATURE: Parameter = Parameter {
    name: "temperature",
    says: "the temperature of the gas",
    takes: Takes::Quantity(QuantityKind::TEMPERATURE),
    need: Need::Default(REFERENCE_TEMPERATURE),
    range: Some((173.15, 473.15)),
};
pub(super) const BORE: Parameter = Parameter {
    range: Some((1e-5, 0.5)),
    ..Parameter::required("bore", "the inner diameter", Takes::Quantity(QuantityKind::LENGTH))
};
pub(super) const LENGTH: Parameter = Parameter {
    range: Some((1e-3, 1000.0)),
    ..Parameter::required("length", "from end to end", Takes::Quantity(QuantityKind::LENGTH))
};
const CONDUCTANCES: &[Parameter] = &[Parameter {
    range: Some((0.0, 1000.0)),
    ..Parameter::required("conductances", "two or more conductances", Takes::SeveralQuantities)
}];

pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "mean_free_path",
        says: "how far a molecule of air flies before it meets another",
        parameters: &[PRESSURE, TEMPERATURE],
        gives: Gives::Kind(QuantityKind::LENGTH),
        formula: "viscosity over pressure, times the square root of pi R T / (2 M)",
        source: KINETIC_THEORY,
        examples: &[Example { text: "mean_free_path(500 micron) as mm", gives: "0.09926 mm" }],
        body: Body::Each(|given| Ok(Gas::Air.mean_free_path(given.at(0), given.at(1)))),
        ..Function::PLAIN
    },
    Function {
        name: "knudsen_number",
        says: "how thin the air is for a bore",
        parameters: &[PRESSURE, BORE, TEMPERATURE],
        gives: Gives::Kind(QuantityKind::NUMBER),
        formula: "the mean free path over the bore",
        source: KINETIC_THEORY,
        examples: &[Example { text: "knudsen_number(500 micron, 3/8 in)", gives: "0.01042" }],
        body: Body::Each(|given| {
            Ok(Gas::Air.knudsen_number(given.at(0), given.at(1), given.at(2)))
        }),
        ..Function::PLAIN
    },
    Function {
        name: "flow_regime",
        says: "whether air flows through a bore like a liquid or molecule by molecule",
        parameters: &[PRESSURE, BORE, TEMPERATURE],
        gives: Gives::Word(REGIMES),
        formula: "viscous below a Knudsen number of 0.01, molecular above 0.5, transitional between",
        source: "memory: the bounds; other authors put them a few times lower or higher",
        examples: &[
            Example { text: "flow_regime(500 micron, 3/8 in)", gives: "transitional" },
            Example { text: "flow_regime(5000 micron, 3/8 in)", gives: "viscous" },
        ],
        body: Body::Each(|given| {
            let number = Gas::Air.knudsen_number(given.at(0), given.at(1), given.at(2));
            let regime = Regime::at(number);
            Ok(Regime::ALL.iter().take_while(|other| **other != regime).count() as f64)
        }),
        ..Function::PLAIN
    },
    Function {
        name: "tube_conductance",
        says: "how easily gas passes a hose or a tube",
        parameters: &[
            BORE,
            LENGTH,
            Parameter {
                range: Some((0.0, 2e5)),
                ..Parameter::required(
                    "pressure",
                    "the mean of the absolute pressures at both ends",
                    Takes::Quantity(QuantityKind::PRESSURE),
                )
            },
            TEMPERATURE,
            Parameter {
                name: "gas",
                says: "what flows",
                takes: Takes::Word(GASES),
                need: Need::Default(0.0),
                range: None,
            },
        ],
        gives: Gives::Kind(QuantityKind::FLOW),
        formula: "pi d^4 p / (128 viscosity L), plus pi d^3 (mean speed) / (12 L) cut by \
                  1 / (1 + 4 d / (3 L)) for the ends and by (1 + x) / (1 + 1.24 x), with \
                  x = p d sqrt(M / (R T)) / viscosity",
        source: "memory: Knudsen's formula for the flow between viscous and molecular, and \
                 Dushman's correction for the ends; published: viscosity of water vapour, IAPWS \
                 R12-08",
        examples: &[
            Example { text: "tube_conductance(3/8 in, 1.5 m, 500 micron)", gives: "0.5492 L/s" },
            Example {
                text: "tube_conductance(3/8 in, 1.5 m, 500 micron, gas = water)",
                gives: "1.011 L/s",
            },
        ],
        body: Body::Each(|given| {
            let gas = if given.word(4) == 0 { Gas::Air } else { Gas::Water };
            Ok(Tube::new(gas, given.at(0), given.at(1), given.at(3)).conductance(given.at(2)))
        }),
        holds: "straight smooth tubes longer than about ten bores, laminar or thinner flow; near \
                atmospheric pressure the flow is turbulent or choked, and less passes",
        ..Function::PLAIN
    },
    Function {
        name: "orifice_conductance",
        says: "how easily thin air passes a hole",
        parameters: &[BORE, TEMPERATURE],
        gives: Gives::Kind(QuantityKind::FLOW),
        formula: "the area of the hole times the mean speed of the molecules over 4",
        source: KINETIC_THEORY,
        examples: &[Example { text: "orifice_conductance(3 mm)", gives: "0.818 L/s" }],
        body: Body::Each(|given| Ok(orifice_conductance(Gas::Air, given.at(0), given.at(1)))),
        holds: "a hole in a thin wall, in molecular flow; in denser air up to 1.7 times as much \
                passes",
        ..Function::PLAIN
    },
    Function {
        name: "core_conductance",
        says: "how easily air passes a valve core left in line",
        parameters: &[],
        gives: Gives::Kind(QuantityKind::FLOW),
        formula: "a hole of 1.5 mm, from molecular flow (11.6 L/s per cm2) to choked flow (19.9 \
                  L/s per cm2), drawn evenly in the logarithm",
        source: "estimate: the hole; cores differ",
        examples: &[Example { text: "core_conductance()", gives: "0.27 L/s" }],
        body: Body::Each(|given| Ok(drawn_cores(given, 1.0))),
        holds: "a core that is fully pressed open",
        drawn: &[CORE_STREAM],
        ..Function::PLAIN
    },
    Function {
        name: "in_series",
        says: "the conductance of parts that the gas passes one after another",
        parameters: CONDUCTANCES,
        gives: Gives::From(conductance),
        formula: "1 over the sum of 1 over each",
        source: "definition",
        examples: &[Example { text: "in_series(2 L/s, 3 L/s, 6 L/s)", gives: "1 L/s" }],
        body: Body::Fold(in_series),
        ..Function::PLAIN
    },
    Function {
        name: "in_parallel",
        says: "the conductance of parts that the gas passes side by side",
        parameters: CONDUCTANCES,
        gives: Gives::From(conductance),
        formula: "the sum of all",
        source: "definition",
        examples: &[Example { text: "in_parallel(2 L/s, 3 L/s)", gives: "5 L/s" }],
        body: Body::Fold(in_parallel),
        ..Function::PLAIN
    },
];

/// The conductance of a core: the lowest in m³/s, and the logarithm of the highest over it.
static CORE: LazyLock<(f64, f64)> = LazyLock::new(|| {
    let (low, high) = core_conductance(REFERENCE_TEMPERATURE);
    (low, libm::log(high / low))
});

/// The conductance in m³/s of so many cores, in this draw; infinite for none.
pub(super) fn drawn_cores(given: &Given<'_>, count: f64) -> f64 {
    if count == 0.0 {
        return f64::INFINITY;
    }
    let (low, span) = *CORE;
    low * libm::exp(given.drawn(0) * span) / count
}

fn conductance(kind: QuantityKind) -> Result<QuantityKind, &'static str> {
    match kind == QuantityKind::FLOW {
        true => Ok(kind),
        false => Err("a conductance is a volume per time, such as `2 L/s`"),
    }
}
