//! A hold against a written criterion.

use super::{Body, Example, Function, Gives, Parameter};
use crate::physics::acceptance::{HoldCriterion, HoldVerdict};
use crate::quantity::QuantityKind;

const VERDICTS: &[(&str, &str)] = &[
    ("passed", "it lasted long enough and stands at or below the limit"),
    ("failed", "it stands above the limit, wherever it began"),
    ("not_started", "the level was never reached, so the hold has not begun"),
    ("too_short", "it has not lasted long enough yet"),
];

const fn pressure(name: &'static str, says: &'static str) -> Parameter {
    Parameter::within(name, says, QuantityKind::PRESSURE, 0.0, 1.1e5)
}

const fn time(name: &'static str, says: &'static str) -> Parameter {
    // A month is longer than any hold.
    Parameter::within(name, says, QuantityKind::TIME, 0.0, 2.7e6)
}

pub(super) const FUNCTIONS: &[Function] = &[Function {
    name: "hold_verdict",
    says: "how a vacuum hold stands against a written criterion",
    parameters: &[
        pressure("level", "the pressure to be reached before the hold"),
        time("hold", "how long the hold has to last"),
        pressure("limit", "the highest reading at its end that still passes"),
        pressure("reached", "the pressure that was reached"),
        time("held", "how long it has lasted so far"),
        pressure("reading", "what the gauge reads now"),
    ],
    gives: Gives::Word(VERDICTS),
    formula: "failed if reading lies above limit; not started if reached lies above level; too \
              short if held is less than hold; else passed",
    source: "published: the form of UFGS-15182, evacuation test (superseded numbering)",
    examples: &[
        Example {
            text: "hold_verdict(300 micron, 60 min, 500 micron, 290 micron, 60 min, 480 micron)",
            gives: "passed",
        },
        Example {
            text: "hold_verdict(300 micron, 60 min, 500 micron, 290 micron, 60 min, \
                   480 +- 40 micron)",
            gives: "too close to tell",
        },
    ],
    body: Body::Each(|given| {
        let criterion = HoldCriterion { level: given.at(0), hold: given.at(1), limit: given.at(2) };
        let verdict = criterion.judge(given.at(3), given.at(4), given.at(5));
        // Words are given by their place.
        let place = HoldVerdict::ALL.iter().position(|one| *one == verdict);
        Ok(place.map_or(f64::NAN, |place| place as f64))
    }),
    holds: "the readings alone; a hold that passes may still rise by a leak, and one that fails may \
            do so by moisture. Which figures apply is for the local code, the maker or the contract \
            to say",
    ..Function::PLAIN
}];
