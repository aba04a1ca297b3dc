//! Inner volumes: of copper tube by its size, and of a system by what a gas does in it.

use super::gas_load::VOLUME;
use super::{Body, Example, Function, Given, Gives, Parameter, Refusal, Takes, in_unit};
use crate::physics::tube::{Size, Temper};
use crate::physics::volume::{by_expansion, by_pull_down};
use crate::quantity::QuantityKind;
use crate::text::list_and;

/// In the order of [`Temper::ALL`].
const TEMPERS: &[(&str, &str)] =
    &[("annealed", "soft, in coils"), ("drawn", "hard, in straight lengths")];

const SIZE: Parameter = Parameter::within(
    "size",
    "the outside diameter, by which refrigeration tube is named",
    QuantityKind::LENGTH,
    1e-3,
    0.2,
);
const LENGTH: Parameter =
    Parameter::within("length", "from end to end", QuantityKind::LENGTH, 0.0, 1000.0);
const TEMPER: Parameter =
    Parameter::required("temper", "how the tube was made", Takes::Word(TEMPERS));

const SOURCE: &str = "published: ASTM B280-20, table 1, read in an excerpt: drawn 1/4, 3/8, 5/8, \
                      3/4, 7/8, 1-3/8 in; an open engineering table headed ASTM B280: annealed 1/4, \
                      3/8, 1/2, 3/4, 7/8, 1-1/8 in; memory: all other sizes";
const HOLDS: &str = "the nominal wall; the tolerance of a wall moves a volume by 2 to 4 % (memory)";

pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "tube_bore",
        says: "the bore of copper refrigeration tube of a size",
        parameters: &[SIZE, TEMPER],
        gives: Gives::Kind(QuantityKind::LENGTH),
        formula: "outside diameter less two nominal walls",
        source: SOURCE,
        examples: &[
            Example { text: "tube_bore(3/8 in, annealed) as mm", gives: "7.899 mm" },
            Example { text: "tube_bore(9.52 mm, drawn) as mm", gives: "8.001 mm" },
        ],
        body: Body::Each(|given| Ok(size_of(given, 0, 1)?.bore())),
        holds: HOLDS,
        ..Function::PLAIN
    },
    Function {
        name: "tube_volume",
        says: "the inner volume of a length of copper refrigeration tube",
        parameters: &[SIZE, LENGTH, TEMPER],
        gives: Gives::Kind(QuantityKind::VOLUME),
        formula: "pi / 4 times the square of the bore times the length",
        source: SOURCE,
        examples: &[Example { text: "tube_volume(3/4 in, 50 ft, annealed)", gives: "3.571 L" }],
        body: Body::Each(|given| Ok(size_of(given, 0, 2)?.volume(given.at(1)))),
        holds: HOLDS,
        ..Function::PLAIN
    },
    Function {
        name: "volume_by_expansion",
        says: "the inner volume of a system into which a vessel was let",
        parameters: &[
            Parameter { name: "vessel", says: "the volume of the vessel", ..VOLUME },
            pressure("vessel_pressure", "the absolute pressure in the vessel before"),
            pressure("system_pressure", "the absolute pressure in the system before"),
            pressure("final_pressure", "the absolute pressure in both at last"),
        ],
        gives: Gives::Kind(QuantityKind::VOLUME),
        formula: "vessel times (vessel pressure less final pressure) over (final pressure less \
                  system pressure)",
        source: "published: ideal gas",
        examples: &[Example {
            text: "volume_by_expansion(2 L, 1 atm, 1000 micron, 110000 micron)",
            gives: "11.93 L",
        }],
        body: Body::Each(volume_by_expansion),
        holds: "one temperature, waited for after the expansion; what dissolves in oil is not seen",
        ..Function::PLAIN
    },
    Function {
        name: "volume_by_pull_down",
        says: "the inner volume of a system from the time of a pull-down",
        parameters: &[
            Parameter::within(
                "speed",
                "the speed of the pump at the system",
                QuantityKind::FLOW,
                1e-9,
                10.0,
            ),
            Parameter { range: Some((1.0, 2e5)), ..pressure("from", "the pressure at first") },
            Parameter { range: Some((1.0, 2e5)), ..pressure("to", "the pressure at last") },
            Parameter::within("duration", "the time it took", QuantityKind::TIME, 0.1, 1e6),
        ],
        gives: Gives::Kind(QuantityKind::VOLUME),
        formula: "speed times time over the logarithm of from / to",
        source: "published: pump-down at constant speed",
        examples: &[Example {
            text: "volume_by_pull_down(2 L/s, 300 mbar, 50 mbar, 10 s)",
            gives: "11.16 L",
        }],
        body: Body::Each(volume_by_pull_down),
        holds: "between 300 and 50 mbar, where a pump through a common hose keeps .7 to .9 of its \
                rated speed (memory); lower down water and the pump's floor tell too",
        ..Function::PLAIN
    },
];

const fn pressure(name: &'static str, says: &'static str) -> Parameter {
    Parameter::within(name, says, QuantityKind::PRESSURE, 0.0, 1e7)
}

fn size_of(given: &Given<'_>, size: usize, temper: usize) -> Result<&'static Size, Refusal> {
    let word = given.word(temper);
    let kind = Temper::ALL.get(word).copied().unwrap_or(Temper::Annealed);
    kind.find(given.at(size)).map_err(|near| {
        let named = TEMPERS.get(word).map_or("", |(word, _)| word);
        let near: Vec<String> = near.into_iter().map(str::to_owned).collect();
        let (word, verb) = if near.len() == 1 { ("size", "is") } else { ("sizes", "are") };
        Refusal::Impossible(format!(
            "no {named} copper tube with {:.2} mm outside is listed; the nearest {word} {verb} {}",
            given.at(size) * 1e3,
            list_and(&near)
        ))
    })
}

fn volume_by_expansion(given: &Given<'_>) -> Result<f64, Refusal> {
    let (vessel, system, last) = (given.at(1), given.at(2), given.at(3));
    if last <= vessel.min(system) || last >= vessel.max(system) {
        return Err(Refusal::Impossible(format!(
            "the final pressure, {}, does not lie between that of the system, {}, and that of the \
             vessel, {}",
            in_unit(last, QuantityKind::PRESSURE),
            in_unit(system, QuantityKind::PRESSURE),
            in_unit(vessel, QuantityKind::PRESSURE)
        )));
    }
    Ok(by_expansion(given.at(0), vessel, system, last))
}

fn volume_by_pull_down(given: &Given<'_>) -> Result<f64, Refusal> {
    let (from, to) = (given.at(1), given.at(2));
    if to >= from {
        return Err(Refusal::Impossible(format!(
            "the pressure at last, {}, does not lie below the one at first, {}",
            in_unit(to, QuantityKind::PRESSURE),
            in_unit(from, QuantityKind::PRESSURE)
        )));
    }
    Ok(by_pull_down(given.at(0), from, to, given.at(3)))
}
