//! Readings that contradict those beside them: never quiet, and never found where there are none.

use dryhold::report::{Asked, Judged, missing_told, rise_json};
use dryhold::rise::criterion::Criterion;
use dryhold::rise::{Gauge, Hold, Missing, read};

use super::invented::{Draws, MICRON, log};

fn hold(minutes: &[f64], micron: &[f64]) -> Hold {
    let times = minutes.iter().map(|minute| 60.0 * minute).collect();
    let pressures = micron.iter().map(|micron| MICRON * micron).collect();
    Hold::new(times, pressures, Gauge::default(), 5.0 * MICRON / 60.0)
}

fn every_five(micron: &[f64]) -> Hold {
    let minutes: Vec<f64> = (0..micron.len()).map(|k| 5.0 * k as f64).collect();
    hold(&minutes, micron)
}

#[test]
fn a_slipped_reading_is_named_with_its_mend() {
    for (micron, says, mend) in [
        ([420.0, 590.0, 660.0, 718.0, 768.0, 0.843], "reading 6, at 25 min, is 0.843", "843"),
        ([420.0, 590.0, 660.0, 718.0, 768.0, 84.0], "reading 6, at 25 min, is 84", "840"),
        ([420.0, 510.0, 51.0, 660.0, 718.0, 768.0], "reading 3, at 10 min, is 51", "510"),
        ([420.0, 590.0, 660.0, 718.0, 768.0, 8430.0], "reading 6, at 25 min, is 8430", "843"),
    ] {
        let hold = every_five(&micron);
        let why = read(&hold).unwrap_err();
        assert!(matches!(why, Missing::Odd { .. }), "{micron:?}: {why}");
        let criterion = Criterion { limit: 1000.0 * MICRON, within: 600.0 };
        let judgement = criterion.judge(&hold, MICRON);
        let judged = Judged { criterion, judgement, source: None };
        let asked = Asked { criterion: Some(judged), ..Asked::default() };
        let lines = missing_told(&hold, &asked, &why);
        let text: Vec<String> = lines.iter().map(|line| line.to_text()).collect();
        let text = text.join("\n");
        assert!(text.contains(says), "{text}");
        assert!(text.contains(&format!("Perhaps {mend} micron was meant")), "{text}");
        assert!(text.contains("as it stands, so judge again"), "{text}");
        let json = rise_json(&hold, &asked, Err(&why));
        assert!(json["missing"].as_str().is_some_and(|why| why.contains("contradicts")), "{json}");
        assert_eq!(json["verdict"], "cannot_tell");
    }
}

/// Also at every length that somebody who looks at each reading would meet.
#[test]
fn no_reading_of_a_thousand_invented_logs_is_odd() {
    for seed in [2_024, 7] {
        let mut draws = Draws(seed);
        for number in 0..1_000 {
            let log = log(&mut draws, number);
            for count in Missing::FEWEST..=log.minutes.len() {
                let hold = hold(&log.minutes[..count], &log.micron[..count]);
                let found = hold.check();
                assert!(!matches!(found, Err(Missing::Odd { .. })), "log {number}: {found:?}");
            }
        }
    }
}

#[test]
fn a_fall_that_goes_on_stays_a_fall() {
    let falling = every_five(&[1600.0, 800.0, 400.0, 200.0, 100.0, 50.0]);
    assert!(matches!(read(&falling), Err(Missing::Falling { .. })));
}
