//! What the handbook concludes is what the trade would.

use dryhold::case::{Case, Event};
use dryhold::evidence::{Engine, FindingState};

use super::{handbook, probability, state, told};

/// A gauge with a common tolerance: 10 % and 5 micron (memory).
const GAUGE: [(&str, &str); 2] = [("gauge_scale", "10 %"), ("gauge_offset", "5 micron")];

/// A capped, warm pump with its ballast shut and nothing still falling, for a common job.
const READY: [(&str, &str); 5] = [
    ("target", "500 micron"),
    ("pump_is_capped", "yes"),
    ("pump_minutes", "10 min"),
    ("ballast_state", "shut"),
    ("still_falling", "no"),
];

/// One symptom and, in percent, how a person of the trade would share it out among single
/// faults before looking further. Source: rough judgement, `estimate`; no field counts are known.
type Shares = (&'static str, &'static [(&'static str, u32)]);

const SHARES: [Shares; 3] = [
    (
        "wont_pull_below",
        &[
            ("pump_oil", 20),
            ("ballast_open", 4),
            ("pump", 7),
            ("gauge_off", 9),
            ("rig_leak", 20),
            ("rig_desorption", 0),
            ("restriction", 12),
            ("moisture", 12),
            ("refrigerant_in_oil", 5),
            ("wet_drier", 2),
            ("system_leak", 9),
            ("temperature_change", 0),
            ("nothing", 0),
        ],
    ),
    (
        "rises",
        &[
            ("pump_oil", 0),
            ("ballast_open", 0),
            ("pump", 0),
            ("gauge_off", 5),
            ("rig_leak", 17),
            ("rig_desorption", 9),
            ("restriction", 4),
            ("moisture", 21),
            ("refrigerant_in_oil", 8),
            ("wet_drier", 3),
            ("system_leak", 14),
            ("temperature_change", 2),
            ("nothing", 17),
        ],
    ),
    (
        "slow",
        &[
            ("pump_oil", 15),
            ("ballast_open", 2),
            ("pump", 4),
            ("gauge_off", 0),
            ("rig_leak", 3),
            ("rig_desorption", 2),
            ("restriction", 38),
            ("moisture", 17),
            ("refrigerant_in_oil", 7),
            ("wet_drier", 2),
            ("system_leak", 2),
            ("temperature_change", 0),
            ("nothing", 8),
        ],
    ),
];

/// How probable a row of the table is in a case. A worn and a cold pump are one row.
fn row(case: &Case<'_>, name: &str) -> f64 {
    match name {
        "nothing" => case.assessment().nothing_wrong,
        "pump" => probability(case, "pump_worn") + probability(case, "pump_cold"),
        cause => probability(case, cause),
    }
}

/// The band for a share: several faults can be there at once, so that probabilities come out
/// above shares of one; the small ones may be anything small (`estimate`).
fn band(percent: u32) -> (f64, f64) {
    let share = f64::from(percent) / 100.0;
    match percent {
        12.. => (0.7 * share, 2.0 * share),
        4..12 => (0.6 * share, 2.6 * share),
        _ => (0.0, 0.11),
    }
}

#[test]
fn the_ranking_after_the_symptom_alone_is_that_of_the_trade() {
    let handbook = handbook();
    let engine = Engine::new(&handbook).unwrap();
    for (symptom, shares) in SHARES {
        let case = told(&handbook, &engine, &[("symptom", symptom)]);
        let mut ranking: Vec<(f64, &str, u32)> =
            shares.iter().map(|(name, share)| (row(&case, name), *name, *share)).collect();
        for (p, name, share) in &ranking {
            let (least, most) = band(*share);
            assert!((least..=most).contains(p), "{symptom}: {name} is {p:.3}, {least}..={most}");
        }
        ranking.sort_by(|a, b| b.0.total_cmp(&a.0));
        let leading = ranking.iter().filter(|(_, _, share)| *share >= 12).count();
        for (p, name, share) in &ranking[leading + 1..] {
            assert!(*share < 12, "{symptom}: {name} ({p:.3}) is ranked too low");
        }
    }
}

#[test]
fn checking_tools_before_a_job_settles_nothing() {
    let handbook = handbook();
    let engine = Engine::new(&handbook).unwrap();
    let case = told(&handbook, &engine, &[("symptom", "none")]);
    assert!(!case.assessment().settled);
    assert!((0.5..0.7).contains(&case.assessment().nothing_wrong));
}

/// Common practice: a healthy warm pump rated 15 micron or better blanks off below about 30
/// micron, and 50 micron is good for a job of 500.
#[test]
fn a_healthy_pump_is_not_called_high() {
    let handbook = handbook();
    let engine = Engine::new(&handbook).unwrap();
    for rating in ["5 micron", "10 micron", "15 micron"] {
        for reading in ["8 micron", "15 micron", "22 micron", "30 micron"] {
            let read = [("pump_rating", rating), ("blank_off", reading)];
            let case = told(&handbook, &engine, &[&GAUGE[..], &READY, &read].concat());
            for finding in ["blank_off_high", "blank_off_above_rating"] {
                let state = state(&case, finding);
                assert!(
                    matches!(state, FindingState::False(_)),
                    "{finding} of a pump rated {rating} at {reading}: {state:?}"
                );
            }
            assert!(case.assessment().nothing_leads());
        }
    }
}

/// Common practice: oil that is wet or dirty blanks off at 200 to 5000 micron, and above 200 the
/// pump is put right first.
#[test]
fn a_pump_that_needs_mending_is_called_high() {
    let handbook = handbook();
    let engine = Engine::new(&handbook).unwrap();
    for reading in ["250 micron", "900 micron", "5000 micron"] {
        let read = [("pump_rating", "15 micron"), ("blank_off", reading)];
        let case = told(&handbook, &engine, &[&GAUGE[..], &READY, &read].concat());
        for finding in ["blank_off_high", "blank_off_above_rating"] {
            assert!(matches!(state(&case, finding), FindingState::True(_)), "{finding} {reading}");
        }
        let leader = case.assessment().leader().unwrap().cause;
        assert_eq!(handbook.cause(leader).id, "pump_oil");
    }
}

fn with_part<'h>(
    handbook: &'h dryhold::handbook::Handbook,
    engine: &'h Engine,
    (floor, rating, reading): (u32, u32, u32),
) -> Case<'h> {
    let micron = |n: u32| format!("{n} micron");
    let (floor, rating, reading) = (micron(floor), micron(rating), micron(reading));
    let read: [(&str, &str); 4] = [
        ("blank_off", &floor),
        ("part_rating", &rating),
        ("part_reading", &reading),
        ("blank_off", &floor),
    ];
    told(handbook, engine, &[&GAUGE[..], &READY, &read].concat())
}

/// Common practice: on a low floor the contributions of parts add up, so that a part rated r on
/// a floor b reads about b + r.
#[test]
fn a_part_that_adds_its_rating_is_not_called_above_it() {
    let handbook = handbook();
    let engine = Engine::new(&handbook).unwrap();
    for floor in [20, 40, 80] {
        for rating in [5, 10, 20, 40] {
            let case = with_part(&handbook, &engine, (floor, rating, floor + rating));
            let sound = state(&case, "part_above_rating");
            assert!(matches!(sound, FindingState::False(_)), "{floor} {rating}: {sound:?}");
            let case = with_part(&handbook, &engine, (floor, rating, floor + 3 * rating + 20));
            let leaky = state(&case, "part_above_rating");
            assert!(matches!(leaky, FindingState::True(_)), "{floor} {rating}: {leaky:?}");
        }
    }
}

/// Common practice: above a floor of about 100 micron contributions no longer add up.
#[test]
fn a_part_on_a_high_floor_is_not_judged() {
    let handbook = handbook();
    let engine = Engine::new(&handbook).unwrap();
    for floor in [130, 200, 900] {
        let case = with_part(&handbook, &engine, (floor, 10, floor + 200));
        for finding in ["part_above_rating", "part_over_budget"] {
            assert!(
                matches!(state(&case, finding), FindingState::NotApplicable),
                "{finding} on a floor of {floor}: {:?}",
                state(&case, finding)
            );
        }
    }
}

/// Each change of oil is judged on the floor before it and the floor after it, also when the oil
/// has been changed again since.
#[test]
fn a_floor_is_never_compared_with_itself() {
    let handbook = handbook();
    let engine = Engine::new(&handbook).unwrap();
    let floors = ["4000 micron", "1800 micron", "700 micron", "260 micron"];
    let first = [("pump_rating", "15 micron"), ("blank_off", floors[0])];
    let mut case = told(&handbook, &engine, &[&GAUGE[..], &READY, &first].concat());
    for floor in &floors[1..] {
        let acted = Event::Acted {
            action: "change_oil".to_owned(),
            tree: "pump_alone".to_owned(),
            step: "change".to_owned(),
        };
        case.apply(acted).unwrap();
        let states = case.assessment().witnesses.iter();
        let fresh = handbook.find_finding("fresh_oil_no_help").unwrap();
        for witness in states.filter(|witness| witness.finding == fresh) {
            let state = &witness.judged.state;
            assert!(
                !matches!(state, FindingState::True(_)),
                "{}",
                case.says(witness).text.to_text()
            );
        }
        // What the pump had run and whether it stood still is another matter on each oil.
        let anew = [("pump_minutes", "10 min"), ("still_falling", "no"), ("blank_off", *floor)];
        for event in &told(&handbook, &engine, &anew).events()[1..] {
            case.apply(event.clone()).unwrap();
        }
        assert!(matches!(state(&case, "fresh_oil_no_help"), FindingState::False(_)));
    }
    let past = case.assessment().witnesses.iter().filter(|witness| witness.is_past());
    assert!(past.count() > 0, "what was read before the first change still speaks");
}
