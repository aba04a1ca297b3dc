//! A repair that is proposed and passed over: what was read before it stands.

use dryhold::case::{
    Answerer, Case, Ending, KeepNothing, Now, Objection, Response, Script, interview,
};
use dryhold::evidence::{Engine, FindingState};
use dryhold::report::{About, CaseReport, verdict};

use super::handbook;

/// Does what is to be done, and passes over every action.
struct PassesOver {
    script: Script,
    actions: usize,
}

impl Answerer for PassesOver {
    fn respond(&mut self, case: &Case<'_>) -> Response {
        if matches!(case.now(), Now::Act { .. }) {
            self.actions += 1;
            return Response::Skip;
        }
        self.script.respond(case)
    }

    fn object(&mut self, case: &Case<'_>, objection: &Objection) -> bool {
        self.script.object(case, objection)
    }
}

const BEFORE: [(&str, &str); 9] = [
    ("system_charged", "no"),
    ("oxygen_offered", "no"),
    ("confined_space", "aired"),
    ("locked_out", "yes"),
    ("refrigerant", "R-410A"),
    ("refrigerant_class", "a1"),
    ("gauge_scale", "10 %"),
    ("gauge_offset", "5 micron"),
    ("target", "500 micron"),
];

fn passed_over(tree: &str, told: &[(&str, &[&str])], look: impl FnOnce(&Case<'_>, usize)) {
    let handbook = handbook();
    let engine = Engine::new(&handbook).unwrap();
    let mut case = Case::open(&handbook, &engine, handbook.find_tree(tree).unwrap());
    let id = |id: &str| handbook.find_question(id).unwrap();
    let before = BEFORE.iter().map(|(name, typed)| (id(name), vec![(*typed).to_owned()]));
    let told = told.iter().map(|(name, typed)| {
        (id(name), typed.iter().map(|typed| (*typed).to_owned()).collect::<Vec<_>>())
    });
    let cautions = ["system_open", "swap_parts"].map(str::to_owned);
    let script = Script::new(before.chain(told), cautions);
    let mut answerer = PassesOver { script, actions: 0 };
    interview(&mut case, &mut answerer, &mut KeepNothing);
    look(&case, answerer.actions);
}

#[test]
fn a_hose_that_adds_too_much_stays_found_without_new_gaskets() {
    let told: &[(&str, &[&str])] = &[
        ("part", &["yellow hose", "skip"]),
        ("blank_off", &["25 micron", "25 micron"]),
        ("part_rating", &["not sure"]),
        ("part_reading", &["1800 micron"]),
        ("still_falling", &["no"]),
        ("changes_when_touched", &["no"]),
    ];
    passed_over("part_in_line", told, |case, actions| {
        assert_eq!(actions, 1, "the joints are asked for once");
        let found = case.handbook().find_finding("part_over_budget").unwrap();
        assert!(matches!(case.assessment().finding(found).state, FindingState::True(_)));
        let lines = verdict(case, &Ending::Done);
        let said = lines.iter().map(|line| line.to_text()).collect::<Vec<_>>().join("\n");
        assert!(said.contains("a leak in the rig (yellow hose) is likely"), "{said}");
        assert!(
            said.contains("Not done yet: nobody has said that the joints were renewed"),
            "{said}"
        );
        assert!(said.contains("The yellow hose lifts the reading"), "{said}");
        let about = About { id: "A".to_owned(), ..About::default() };
        let message = CaseReport::of(case, &about).message();
        assert!(
            message.contains("Next, not done yet: Vent the rig. Renew the gaskets"),
            "{message}"
        );
        // "Skip" is the name of no part.
        assert_eq!(case.round_ends().len(), 1);
    });
}

/// That the next hose is sound mends none before it, in whichever order they are read.
#[test]
fn a_bad_hose_stays_found_while_sound_ones_are_read_after_it() {
    let bad_first: [&[&str]; 2] =
        [&["yellow hose", "red hose", "skip"], &["1800 micron", "40 micron"]];
    let bad_last: [&[&str]; 2] =
        [&["red hose", "yellow hose", "skip"], &["40 micron", "1800 micron"]];
    let likely = [bad_first, bad_last].map(|[parts, readings]| {
        let told: &[(&str, &[&str])] = &[
            ("part", parts),
            ("blank_off", &["25 micron"; 4]),
            ("part_rating", &["not sure"; 2]),
            ("part_reading", readings),
            ("still_falling", &["no"; 2]),
            ("changes_when_touched", &["no"; 2]),
            ("part_follows", &["no"; 2]),
        ];
        let mut likely = 0.0;
        passed_over("part_in_line", told, |case, _| {
            assert_eq!(case.round_ends().len(), 2);
            let leak = case.handbook().find_cause("rig_leak").unwrap();
            likely = case.assessment().probability(leak);
            let lines = verdict(case, &Ending::Done);
            let said = lines.iter().map(|line| line.to_text()).collect::<Vec<_>>().join("\n");
            assert!(said.contains("a leak in the rig (yellow hose) is likely"), "{said}");
            assert!(said.contains("The yellow hose lifts the reading"), "{said}");
            let about = About { id: "A".to_owned(), ..About::default() };
            let message = CaseReport::of(case, &about).message();
            assert!(message.contains("yellow hose"), "{message}");
        });
        likely
    });
    assert!((likely[0] - likely[1]).abs() < 0.05, "{likely:?}");
}

#[test]
fn a_pump_whose_oil_stays_is_not_read_again() {
    let told: &[(&str, &[&str])] = &[
        ("pump_is_capped", &["yes"]),
        ("pump_rating", &["15 micron"]),
        ("oil_look", &["cloudy"]),
        ("oil_age", &["30 h"]),
        ("pump_minutes", &["10 min"]),
        ("pump_labours", &["no"]),
        ("ballast_state", &["shut"]),
        ("blank_off", &["900 micron"]),
        ("still_falling", &["no"]),
        ("oil_mist", &["no"]),
        ("ballast_cover_helps", &["no"]),
        ("fresh_oil_here", &["yes"]),
    ];
    passed_over("pump_alone", told, |case, actions| {
        assert_eq!(actions, 1);
        let Now::Ended { done, .. } = case.now() else { panic!("{:?}", case.now()) };
        assert!(
            done.to_text().starts_with("Not done yet: nobody has said that the oil was changed")
        );
        let oil = case.handbook().find_cause("pump_oil").unwrap();
        assert!(case.assessment().probability(oil) > 0.8);
    });
}
