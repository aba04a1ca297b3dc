//! A bare number where a rate is asked for: is it how fast it rises, or where it stands?

use dryhold::evidence::Engine;

use super::handbooks::{Bench, PUMP, handbook};

#[test]
fn a_bare_number_near_the_last_reading_is_asked_back_at_a_rate() {
    let text = PUMP.replace(
        "questions:\n",
        "questions:\n  rises:\n    ask: How fast does it rise?\n    kind: rise rate\n    \
         unit: micron/min\n    range: 0 micron/min to 5000 micron/min\n    basis: estimate\n",
    );
    let handbook = handbook(&text);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "bench");
    let rises = handbook.find_question("rises").unwrap();
    let doubt = |bench: &Bench<'_>, typed: &str| {
        bench.case.read(rises, typed).unwrap().slip.map(|slip| slip.message)
    };
    assert_eq!(doubt(&bench, "120"), None, "nothing has been read yet");
    bench.acknowledge("hot");
    bench.answer("floor", "0.13 mbar");
    assert_eq!(
        doubt(&bench, "120").as_deref(),
        Some(
            "120 micron is near what was read last, 97.51 micron; this asks how much it rises in a \
             time, not where it stands"
        )
    );
    for near in ["49", "195"] {
        assert!(doubt(&bench, near).is_some(), "{near}");
    }
    for rate in ["0", "6", "48", "196", "120 micron/min", "120 micron in 1 min"] {
        assert_eq!(doubt(&bench, rate), None, "{rate}");
    }
    bench.answer("target", "500 micron");
    assert!(doubt(&bench, "500").is_none(), "a target is no reading");
}
