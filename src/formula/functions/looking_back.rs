//! Functions that reach earlier answers.

use super::{Body, Example, Function, Gives, LookBack, Parameter, Takes};

const QUESTION: Parameter =
    Parameter::required("question", "the id of a question", Takes::Question);
const NAME: Parameter =
    Parameter::required("name", "the id of a question, formula or finding", Takes::Name);

pub(super) const FUNCTIONS: &[Function] = &[
    Function {
        name: "first",
        says: "the first answer of a question",
        parameters: &[QUESTION],
        gives: Gives::OfName,
        formula: "the answer that was given first",
        source: "definition",
        examples: &[Example { text: "first(blank_off)", gives: "900 micron" }],
        body: Body::LookBack(LookBack::First),
        ..Function::PLAIN
    },
    Function {
        name: "previous",
        says: "the answer before the latest",
        parameters: &[QUESTION],
        gives: Gives::OfName,
        formula: "the answer that was given before the latest one",
        source: "definition",
        examples: &[Example { text: "previous(blank_off) - blank_off", gives: "865 micron" }],
        body: Body::LookBack(LookBack::Previous),
        ..Function::PLAIN
    },
    Function {
        name: "before",
        says: "the value before an action was done",
        parameters: &[Parameter::required("action", "the id of an action", Takes::Action), NAME],
        gives: Gives::OfName,
        formula: "the last answer given before the latest time that the action was done; for a \
                  formula or finding, its value from the answers given until then",
        source: "definition",
        examples: &[Example { text: "before(change_oil, blank_off)", gives: "900 micron" }],
        body: Body::LookBack(LookBack::Before),
        ..Function::PLAIN
    },
    Function {
        name: "every",
        says: "all answers of a question as a list",
        parameters: &[NAME],
        gives: Gives::OfName,
        formula: "all answers, oldest first; for a tree that runs in rounds, one value a round",
        source: "definition",
        examples: &[Example { text: "every(blank_off)", gives: "900 micron and 35 micron" }],
        body: Body::LookBack(LookBack::Every),
        ..Function::PLAIN
    },
];
