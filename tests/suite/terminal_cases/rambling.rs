//! Whole jobs that don't go as planned: a caller who tells everything out of turn, and a technician
//! who is called away again and again. Both end with the whole record.

use serde_json::Value;

use super::built_in::{Mind, beside_questions};
use super::desk::{Desk, Sitting};

/// A job that is pulled down, held and handed over.
const JOB: &str = "prove_it/kept.yaml";

/// What nobody asks for on this way and a record has all the same.
const BESIDE: [(&str, &str); 12] = [
    ("oil_type", "POE"),
    ("oil_age", "0.5 h"),
    ("blank_off", "20 micron"),
    ("ambient_temperature", "20 degC"),
    ("nitrogen_pressure_start", "150 psig"),
    ("nitrogen_temperature_start", "20 degC"),
    ("nitrogen_pressure_end", "150 psig"),
    ("nitrogen_temperature_end", "20 degC"),
    ("nitrogen_hours", "24 h"),
    ("time_taken", "40 min"),
    ("stall_reading", "300 micron"),
    ("stall_minutes", "20 min"),
];

/// What only options tell.
const DETAILS: [&str; 20] = [
    "--place",
    "cellar",
    "--equipment",
    "chiller 2",
    "--technician",
    "A. B.",
    "--licence",
    "L 7",
    "--pump",
    "P 3",
    "--oil-changed",
    "today",
    "--gauge",
    "G 7",
    "--gauge-checked",
    "in March",
    "--rig",
    "two hoses",
    "--told",
    "the owner",
];

/// More prompts than the job takes, with all that comes between.
const MOST_PROMPTS: usize = 300;

/// What happens instead of an answer.
#[derive(Clone, Debug)]
enum Aside {
    /// A question is answered out of turn.
    Tells(&'static str),
    /// Lines are typed that lead back to the question.
    Types(&'static [&'static str]),
    /// The sitting ends, in one of these ways, and the case is taken up again.
    Interrupted(Interruption),
}

#[derive(Clone, Copy, Debug)]
enum Interruption {
    Stop,
    ControlC,
    Kill,
}

/// A job at a desk.
struct Job<'d> {
    desk: &'d Desk,
    /// `--for phone`, or nothing.
    way: &'static str,
    mind: Mind,
    /// What happens at the next questions, one at each.
    asides: Vec<Aside>,
}

impl Job<'_> {
    /// Goes through the job to the verdict, which is given back.
    fn goes_to_its_end(&mut self) -> String {
        let mut person =
            self.desk.sit(&format!("--plain diagnose {} {}", self.mind.tree, self.way));
        for _ in 0..MOST_PROMPTS {
            let said = person.wants();
            if let Some(line) = beside_questions(&said) {
                person.presses(&format!("{line}\n"));
                if said.contains("1. Finish and see") {
                    return person.ends(0);
                }
                continue;
            }
            let line = self.mind.answer(&said).0;
            if !self.asides.is_empty() {
                let aside = self.asides.remove(0);
                person = self.put_aside(person, &aside);
                // The question that was put aside is put again.
                person.wants();
            }
            person.presses(&format!("{line}\n"));
        }
        panic!("the job did not end; left: {:?}", self.asides);
    }

    fn put_aside(&mut self, mut person: Sitting, aside: &Aside) -> Sitting {
        match aside {
            Aside::Tells(id) => {
                person.presses("other\n");
                let said = person.answers(id);
                assert!(said.contains("Which question do you want to answer?"), "{said}");
                let mut said = person.wants();
                while let Some(line) = beside_questions(&said) {
                    person.presses(&format!("{line}\n"));
                    said = person.wants();
                }
                let line = self.mind.answer(&said).0;
                assert_ne!(line, "skip", "`{id}` is not what was asked: {said}");
                person.presses(&format!("{line}\n"));
                person
            }
            Aside::Types(lines) => {
                person.presses(&format!("{}\n", lines[0]));
                lines[1..].iter().for_each(|line| _ = person.answers(line));
                person
            }
            Aside::Interrupted(how) => {
                match how {
                    Interruption::Stop => {
                        person.presses("stop\n");
                        person.ends(3);
                    }
                    Interruption::ControlC => {
                        person.control('c');
                        person.ends(130);
                    }
                    Interruption::Kill => person.kill(),
                }
                self.desk.sit(&format!("--plain resume {}", self.way))
            }
        }
    }
}

/// The record of the only case, once it is closed.
fn record(desk: &Desk) -> Vec<(String, Option<String>)> {
    let [case] = &desk.cases()[..] else { panic!("{:?}", desk.cases()) };
    let id = case.file_stem().unwrap().to_str().unwrap();
    let close = [&["close", id, "--fixed-by", "nothing"][..], &DETAILS].concat();
    let closed = desk.program(&close).output().unwrap();
    assert!(closed.status.success(), "{closed:?}");
    let output = desk.program(&["report", id, "--format", "json"]).output().unwrap();
    let report: Value = serde_json::from_slice(&output.stdout).unwrap();
    let fields = report["record"].as_array().unwrap().iter();
    fields
        .map(|field| {
            let text = |key: &str| field[key].as_str().map(str::to_owned);
            (text("field").unwrap(), text("value"))
        })
        .collect()
}

/// Every field is told but the sweeps, of which there were none.
fn is_whole(record: &[(String, Option<String>)]) {
    assert_eq!(record.len(), 35);
    let blank: Vec<&str> =
        record.iter().filter(|(_, value)| value.is_none()).map(|(f, _)| f.as_str()).collect();
    assert_eq!(blank, ["Nitrogen sweeps"], "{record:?}");
}

#[test]
fn a_desk_follows_a_caller_who_tells_everything_out_of_turn() {
    let desk = Desk::new();
    let mut asides: Vec<Aside> = BESIDE.iter().map(|(id, _)| Aside::Tells(id)).collect();
    asides.insert(0, Aside::Types(&["the compressor hums, is that bad?", "yes"]));
    asides.insert(2, Aside::Types(&["note", "he is called away to the front desk"]));
    asides.insert(3, Aside::Interrupted(Interruption::Stop));
    asides.insert(5, Aside::Types(&["why"]));
    asides.insert(7, Aside::Types(&["board"]));
    let mind = Mind::of(JOB).on_the_phone(&BESIDE);
    let mut job = Job { desk: &desk, way: "--for phone", mind, asides };
    let said = job.goes_to_its_end();
    assert_eq!(job.asides.len(), 0);
    let (_, message) = said.split_once("To send to the caller:").unwrap();
    let (message, _) = message.split_once("The case is kept").unwrap();
    assert!(message.trim().chars().count() <= 1_000, "{message}");
    is_whole(&record(&desk));
}

#[test]
fn a_technician_is_interrupted_at_every_question_and_loses_nothing() {
    let desk = Desk::new();
    let ways = [Interruption::Kill, Interruption::ControlC, Interruption::Stop];
    let mut asides: Vec<Aside> =
        ways.into_iter().cycle().take(18).map(Aside::Interrupted).collect();
    for (place, (id, _)) in BESIDE.iter().enumerate() {
        asides.insert(place, Aside::Tells(id));
    }
    let mind = Mind::of(JOB).knowing(&BESIDE);
    let mut job = Job { desk: &desk, way: "", mind, asides };
    job.goes_to_its_end();
    assert!(job.asides.len() < 18 - 6, "interrupted too seldom: {:?}", job.asides);
    is_whole(&record(&desk));
}
