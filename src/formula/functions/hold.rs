//! What the readings of a hold say.

use super::{Body, Example, Function, Given, Gives, Parameter, Refusal, Takes, in_unit};
use crate::formula::hold::HoldGap;
use crate::quantity::QuantityKind;
use crate::rise::Missing;
use crate::rise::three_readings::{Shape, shape};

const READINGS: Parameter = Parameter::required(
    "readings",
    "the readings of a hold since the valve was shut",
    Takes::Readings,
);

/// Half a kelvin if nobody says (`estimate`).
const DRIFT: Parameter = Parameter::within(
    "drift",
    "by how much the temperature may have changed over the hold, to either side",
    QuantityKind::TEMPERATURE_DIFFERENCE,
    0.0,
    50.0,
)
.or(0.5);

const RATE: Parameter =
    Parameter::within("above", "the rate that matters", QuantityKind::RISE_RATE, 1e-9, 1e4);

/// Doubt of one reading in steps of the display: rounding is even over one step, and scatter is
/// taken as 0.35 of one (`estimate`).
const OF_DISPLAY: f64 = 0.455;

const fn time(name: &'static str, says: &'static str) -> Parameter {
    // A month is longer than any hold.
    Parameter::within(name, says, QuantityKind::TIME, 0.0, 2.7e6)
}

const SOURCE: &str = "computed: a straight part and a non-negative spread of time constants, \
                      least squares (docs/rise.md)";
const RAW: &str = "definition, on the readings as they are";

const TOLD: &str = "five readings or more over more than two minutes that do not fall. Straight \
                    means steady over this hold: a source slower than the hold can show counts as \
                    straight too";

const SHAPES: &[(&str, &str)] = &[
    ("too_small", "the whole rise is too small for this display"),
    ("not_curved", "no bend is seen: straight, or too short to see one"),
    ("levels_off", "the second half rose less by more than the doubt"),
    ("neither", "it falls, or speeds up"),
];

const fn pressure(name: &'static str, says: &'static str) -> Parameter {
    Parameter::within(name, says, QuantityKind::PRESSURE, 0.0, 1.1e5)
}

pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "straight_part",
        says: "whether the pressure rises steadily by more than a rate, beside what levels off",
        parameters: &[READINGS, RATE, DRIFT],
        gives: Gives::YesNo,
        formula: "the probability that the straight part is larger than the rate, at odds of one to one",
        source: SOURCE,
        examples: &[
            Example { text: "straight_part(hold, above = 5 micron/min)", gives: "yes" },
            Example {
                text: "straight_part(hold, above = 12 micron/min)",
                gives: "too close to tell",
            },
        ],
        body: Body::Hold(|draw, given| yes_no(draw.is_straight_above(given.at(1), given.at(2)))),
        holds: TOLD,
        ..Function::PLAIN
    },
    Function {
        name: "levelling_part",
        says: "whether a part of the rise levels off",
        parameters: &[READINGS, DRIFT],
        gives: Gives::YesNo,
        formula: "the probability that a part with a time constant explains the readings better than a step and a straight part alone",
        source: SOURCE,
        examples: &[Example { text: "levelling_part(hold)", gives: "yes" }],
        body: Body::Hold(|draw, given| yes_no(draw.is_levelling(given.at(1)))),
        holds: TOLD,
        ..Function::PLAIN
    },
    Function {
        name: "rise_rate",
        says: "how fast the straight part rises",
        parameters: &[READINGS, DRIFT],
        gives: Gives::Kind(QuantityKind::RISE_RATE),
        formula: "the slope of the straight part with its doubt, none below zero",
        source: SOURCE,
        examples: &[Example { text: "rise_rate(hold)", gives: "11.4 micron/min" }],
        body: Body::Hold(|draw, given| in_words(draw.rate(given.at(1)))),
        holds: TOLD,
        ..Function::PLAIN
    },
    Function {
        name: "level",
        says: "where the pressure heads for without the straight part",
        parameters: &[READINGS, DRIFT],
        gives: Gives::Kind(QuantityKind::PRESSURE),
        formula: "the first reading, the step and all that levels off, to its end",
        source: SOURCE,
        examples: &[Example { text: "level(hold)", gives: "520 micron" }],
        body: Body::Hold(|draw, given| in_words(draw.level(given.at(1)))),
        holds: TOLD,
        ..Function::PLAIN
    },
    Function {
        name: "level_shown",
        says: "where the gauge's figure heads for without the straight part",
        parameters: &[READINGS, DRIFT],
        gives: Gives::Kind(QuantityKind::PRESSURE),
        formula: "the same as the gauge shows it, its own errors left in: what `rise` tells",
        source: SOURCE,
        examples: &[Example { text: "level_shown(hold)", gives: "517.7 micron" }],
        body: Body::Hold(|draw, given| {
            in_words(draw.level_shown(given.at(1)).map(|level| level.value))
        }),
        holds: TOLD,
        ..Function::PLAIN
    },
    Function {
        name: "level_shown_least",
        says: "the least of where the gauge's figure heads for (19 in 20)",
        parameters: &[READINGS, DRIFT],
        gives: Gives::Kind(QuantityKind::PRESSURE),
        formula: "the lower end of the range that `rise` tells",
        source: SOURCE,
        examples: &[Example { text: "level_shown_least(hold)", gives: "487 micron" }],
        body: Body::Hold(|draw, given| {
            in_words(draw.level_shown(given.at(1)).map(|level| level.low))
        }),
        holds: TOLD,
        ..Function::PLAIN
    },
    Function {
        name: "level_shown_most",
        says: "the most of where the gauge's figure heads for (19 in 20)",
        parameters: &[READINGS, DRIFT],
        gives: Gives::Kind(QuantityKind::PRESSURE),
        formula: "the upper end of the range that `rise` tells",
        source: SOURCE,
        examples: &[Example { text: "level_shown_most(hold)", gives: "597.4 micron" }],
        body: Body::Hold(|draw, given| {
            in_words(draw.level_shown(given.at(1)).map(|level| level.high))
        }),
        holds: TOLD,
        ..Function::PLAIN
    },
    Function {
        name: "time_constant",
        says: "how fast the part that levels off does so",
        parameters: &[READINGS, DRIFT],
        gives: Gives::Kind(QuantityKind::TIME),
        formula: "the time constants of what levels off, each as often as its share of the height",
        source: SOURCE,
        examples: &[Example { text: "time_constant(hold)", gives: "4 min" }],
        body: Body::Hold(|draw, given| in_words(draw.time_constant(given.at(1)))),
        holds: TOLD,
        ..Function::PLAIN
    },
    Function {
        name: "step_part",
        says: "how far the pressure steps up at first, while it evens out",
        parameters: &[READINGS, DRIFT],
        gives: Gives::Kind(QuantityKind::PRESSURE_DIFFERENCE),
        formula: "the parts that settle within the first two minutes",
        source: SOURCE,
        examples: &[Example { text: "step_part(hold)", gives: "0 micron" }],
        body: Body::Hold(|draw, given| in_words(draw.step(given.at(1)))),
        holds: TOLD,
        ..Function::PLAIN
    },
    Function {
        name: "slowest_told",
        says: "the slowest source that this hold could still tell from a straight rise",
        parameters: &[READINGS, DRIFT],
        gives: Gives::Kind(QuantityKind::TIME),
        formula: "the time constant whose bend is three times the doubt; never more than 0.8 of the hold",
        source: SOURCE,
        examples: &[Example { text: "slowest_told(hold)", gives: "24 min" }],
        body: Body::Hold(|draw, given| in_words(draw.slowest_told(given.at(1)))),
        holds: TOLD,
        ..Function::PLAIN
    },
    Function {
        name: "is_falling",
        says: "whether the pressure falls during the hold",
        parameters: &[READINGS],
        gives: Gives::YesNo,
        formula: "whether the last third lies below the first by more than the doubt and what a drift of one kelvin does to a level held by water",
        source: SOURCE,
        examples: &[Example { text: "is_falling(hold)", gives: "no" }],
        body: Body::Hold(|draw, _| yes_no(draw.is_falling())),
        holds: "five readings or more over more than two minutes",
        ..Function::PLAIN
    },
    Function {
        name: "rise_over",
        says: "how much higher the reading was a time after the first",
        parameters: &[READINGS, time("duration", "the time after the first reading")],
        gives: Gives::Kind(QuantityKind::PRESSURE_DIFFERENCE),
        formula: "the reading then less the first one, in a straight line between two readings",
        source: RAW,
        examples: &[Example { text: "rise_over(hold, 10 min)", gives: "304 micron" }],
        body: Body::Hold(|draw, given| in_words(draw.rise_over(given.at(1)))),
        holds: "a hold that lasted as long",
        ..Function::PLAIN
    },
    Function {
        name: "highest",
        says: "the highest pressure within a time after the first reading",
        parameters: &[READINGS, time("within", "the time after the first reading")],
        gives: Gives::Kind(QuantityKind::PRESSURE),
        formula: "the highest of the readings until then; where none was taken at the end of \
                  the time, anything between the one before and the one after",
        source: RAW,
        examples: &[Example { text: "highest(hold, within = 15 min)", gives: "675 micron" }],
        body: Body::Hold(|draw, given| in_words(draw.highest(given.at(1)))),
        holds: "a hold that lasted as long",
        ..Function::PLAIN
    },
    Function {
        name: "steps_of",
        says: "the steps that the readings of a hold go in",
        parameters: &[READINGS],
        gives: Gives::Kind(QuantityKind::PRESSURE_DIFFERENCE),
        formula: "the coarsest usual step of a display that every reading is a multiple of",
        source: RAW,
        examples: &[Example { text: "steps_of(hold)", gives: "1 micron" }],
        body: Body::Hold(|draw, _| Ok(draw.display_step())),
        holds: "",
        ..Function::PLAIN
    },
    Function {
        name: "start_of",
        says: "the first reading of a hold",
        parameters: &[READINGS],
        gives: Gives::Kind(QuantityKind::PRESSURE),
        formula: "the first reading",
        source: RAW,
        examples: &[Example { text: "start_of(hold)", gives: "300 micron" }],
        body: Body::Hold(|draw, _| Ok(draw.start())),
        holds: "",
        ..Function::PLAIN
    },
    Function {
        name: "end_of",
        says: "the last reading of a hold",
        parameters: &[READINGS],
        gives: Gives::Kind(QuantityKind::PRESSURE),
        formula: "the last reading",
        source: RAW,
        examples: &[Example { text: "end_of(hold)", gives: "860 micron" }],
        body: Body::Hold(|draw, _| Ok(draw.end())),
        holds: "",
        ..Function::PLAIN
    },
    Function {
        name: "hold_time",
        says: "how long a hold lasted",
        parameters: &[READINGS],
        gives: Gives::Kind(QuantityKind::TIME),
        formula: "from the first reading to the last",
        source: RAW,
        examples: &[Example { text: "hold_time(hold)", gives: "30 min" }],
        body: Body::Hold(|draw, _| Ok(draw.duration())),
        holds: "",
        ..Function::PLAIN
    },
    Function {
        name: "rise_shape",
        says: "what three readings at even times say: start, middle and end",
        parameters: &[
            pressure("start", "the reading when the valve was shut"),
            pressure("middle", "the reading at half the time"),
            pressure("end", "the reading at the end"),
            Parameter::within(
                "display",
                "the step between two readings that the gauge can show",
                QuantityKind::PRESSURE_DIFFERENCE,
                1e-4,
                1e4,
            ),
        ],
        gives: Gives::Word(SHAPES),
        formula: "the second half's rise less the first half's, against twice its doubt, which is \
                  the root of six times that of one reading",
        source: "computed: the second difference, from the variance of a sum; estimate: one reading \
                 is in doubt by 0.45 steps of the display",
        examples: &[
            Example {
                text: "rise_shape(400 micron, 520 micron, 570 micron, 5 micron)",
                gives: "levels_off",
            },
            Example {
                text: "rise_shape(400 micron, 410 micron, 420 micron, 100 micron)",
                gives: "too_small",
            },
        ],
        body: Body::Each(|given| Ok(shape_told(given))),
        holds: "three readings at even times. A bend rules out a leak alone; without one nothing is \
                ruled out",
        ..Function::PLAIN
    },
];

fn yes_no(told: Result<bool, HoldGap>) -> Result<f64, Refusal> {
    in_words(told.map(|yes| f64::from(u8::from(yes))))
}

/// What is missing, said in the units of people.
fn in_words(told: Result<f64, HoldGap>) -> Result<f64, Refusal> {
    let minutes = |seconds: f64| in_unit(seconds, QuantityKind::TIME);
    told.map_err(|gap| {
        Refusal::Impossible(match gap {
            HoldGap::Missing(Missing::Falling { fall }) => {
                format!("the pressure falls by {}", in_unit(fall, QuantityKind::PRESSURE))
            }
            HoldGap::Missing(Missing::Time { found, needed }) => format!(
                "the hold lasted {}, and its first {} belong to evening out",
                minutes(found),
                minutes(needed)
            ),
            HoldGap::Missing(missing) => missing.to_string(),
            HoldGap::Ended { at, asked } => {
                format!("the hold lasted {}, and {} were asked about", minutes(at), minutes(asked))
            }
            HoldGap::NothingLevels => "nothing in the hold levels off".to_owned(),
        })
    })
}

/// Words are given by their place.
fn shape_told(given: &Given<'_>) -> f64 {
    let readings = [given.at(0), given.at(1), given.at(2)];
    // The length of the hold moves the time constant only, which isn't told.
    match shape(readings, 1.0, OF_DISPLAY * given.at(3)) {
        Shape::Never => 0.0,
        Shape::NotCurved => 1.0,
        Shape::Curved { .. } => 2.0,
        Shape::Neither => 3.0,
    }
}
