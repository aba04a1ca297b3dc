//! What the network yields for each test of the trade with one cause alone, beside what the trade
//! expects. `cargo test --test suite trade_table -- --nocapture` prints the table.

use dryhold::evidence::Engine;
use dryhold::handbook::Handbook;

use super::handbook;

/// Tests and causes whose values differ on purpose, with the reason.
const ON_PURPOSE: [(&str, &[&str], &str); 7] = [
    (
        "hold_straight",
        &["rig_leak"],
        "the hold asks for the valve at the system, which leaves most of the rig out",
    ),
    (
        "hold_straight",
        &["moisture", "refrigerant_in_oil", "wet_drier"],
        "a source slower than the window looks straight, so one hold alone never proves a leak",
    ),
    (
        "hold_levels_off",
        &["rig_desorption", "restriction", "nothing"],
        "the step of evening out is taken out of the rise before its shape is judged",
    ),
    ("warmth_measured", &["rig_desorption"], "a spot on the system is warmed, and not the hoses"),
    (
        "sweep_helps",
        &["rig_desorption"],
        "the holds beside a sweep are read behind the valve at the system, without the hoses",
    ),
    (
        "rig_stops_high",
        &["pump_oil", "ballast_open", "pump_worn", "gauge_off"],
        "the rig is read only once the pump on its own has been read low enough",
    ),
    (
        "fresh_oil_no_help",
        &[
            "rig_leak",
            "rig_desorption",
            "restriction",
            "moisture",
            "refrigerant_in_oil",
            "wet_drier",
            "system_leak",
            "temperature_change",
            "nothing",
        ],
        "it is asked only of a pump that stopped above its rating, which these don't cause",
    ),
];

struct Cell {
    test: String,
    finding: String,
    cause: String,
    trade: f64,
    ours: f64,
}

impl Cell {
    fn reason(&self) -> Option<&'static str> {
        let is_this = |row: &&(&str, &[&str], &str)| {
            row.0 == self.finding && row.1.contains(&self.cause.as_str())
        };
        ON_PURPOSE.iter().find(is_this).map(|row| row.2)
    }
}

/// The chance of an outcome with one cause alone, or none.
fn chance(handbook: &Handbook, engine: &Engine, finding: &str, outcome: usize, cause: &str) -> f64 {
    let finding = handbook.find_finding(finding).unwrap();
    let state = match cause {
        "nothing" => 0,
        cause => 1 << handbook.find_cause(cause).unwrap().index(),
    };
    engine.network().chance(finding.index(), outcome, state).unwrap()
}

fn cells() -> Vec<Cell> {
    let handbook = handbook();
    let engine = Engine::new(&handbook).unwrap();
    let data = include_bytes!("../../data/trade-likelihoods.csv");
    let mut table = csv::Reader::from_reader(data.as_slice());
    let causes: Vec<String> = table.headers().unwrap().iter().skip(3).map(str::to_owned).collect();
    let mut cells = Vec::new();
    for row in table.records().map(Result::unwrap) {
        let (test, finding) = (row[0].to_owned(), row[1].to_owned());
        assert!(!finding.is_empty(), "{test} is answered by no finding");
        let outcome = usize::from(&row[2] == "yes");
        for (cause, value) in causes.iter().zip(row.iter().skip(3)) {
            let ours = chance(&handbook, &engine, &finding, outcome, cause);
            let (test, finding, cause) = (test.clone(), finding.clone(), cause.clone());
            cells.push(Cell { test, finding, cause, trade: value.parse().unwrap(), ours });
        }
    }
    cells
}

#[test]
fn each_test_shows_a_cause_as_often_as_the_trade_expects() {
    let cells = cells();
    assert_eq!(cells.len(), 14 * 13);
    let mut last = String::new();
    for cell in &cells {
        if cell.test != last {
            println!("\n{} (`{}`)", cell.test, cell.finding);
            last.clone_from(&cell.test);
        }
        let reason = cell.reason().map(|reason| format!("  on purpose: {reason}"));
        let reason = reason.unwrap_or_default();
        println!("  {:<20} trade {:.2}  here {:.3}{reason}", cell.cause, cell.trade, cell.ours);
    }
    let (mut sum, mut compared) = (0.0, 0.0);
    for cell in cells.iter().filter(|cell| cell.reason().is_none()) {
        let Cell { finding, cause, trade, ours, .. } = cell;
        let difference = (trade - ours).abs();
        assert!(*trade < 0.7 || *ours > 0.5, "{finding}, {cause}: {ours:.3}, trade {trade}");
        assert!(*trade > 0.1 || *ours < 0.5, "{finding}, {cause}: {ours:.3}, trade {trade}");
        assert!(difference < 0.2, "{finding}, {cause}: {ours:.3}, trade {trade}");
        sum += difference;
        compared += 1.0;
    }
    println!("\nmean difference of {compared} cells {:.3}", sum / compared);
    assert!(sum / compared < 0.05, "{}", sum / compared);
}

/// An exception that is no longer one goes.
#[test]
fn what_differs_on_purpose_does_differ() {
    let cells = cells();
    for (finding, causes, _) in ON_PURPOSE {
        let of = |cause: &&&str| {
            let cell = cells.iter().find(|cell| cell.finding == finding && cell.cause == **cause);
            (cell.unwrap().trade - cell.unwrap().ours).abs() >= 0.2
        };
        assert_eq!(causes.iter().filter(of).count(), causes.len(), "{finding}: {causes:?}");
    }
}
