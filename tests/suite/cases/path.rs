//! The path: branches, bounds, hazards, rounds, taking back.

use dryhold::case::{
    Answerer, Case, Ending, Event, KeepNothing, Now, Objection, Refusal, Response, interview,
};
use dryhold::evidence::{Engine, FindingState};
use dryhold::report::verdict;

use super::handbooks::{Bench, PUMP, handbook};

/// A bench at the question for the pump's floor.
fn at_the_reading<'h>(handbook: &'h dryhold::handbook::Handbook, engine: &'h Engine) -> Bench<'h> {
    let mut bench = Bench::open(handbook, engine, "bench");
    bench.answer("charged", "no");
    bench.answer("target", "300 micron");
    bench.done();
    assert_eq!(bench.wanted(), "acknowledge hot");
    bench.acknowledge("hot");
    assert_eq!(bench.wanted(), "ask floor");
    bench
}

#[test]
fn a_repair_loop_runs_until_the_reading_is_good() {
    let handbook = handbook(PUMP);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = at_the_reading(&handbook, &engine);
    bench.answer("floor", "900 micron");
    assert_eq!(bench.wanted(), "act change");
    bench.done();
    assert_eq!(bench.wanted(), "do warm");
    bench.done();
    assert_eq!(bench.wanted(), "ask floor");
    bench.answer("floor", "30 micron");
    assert_eq!(bench.wanted(), "ended");
}

#[test]
fn a_bound_ends_the_loop() {
    let handbook = handbook(PUMP);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = at_the_reading(&handbook, &engine);
    for _ in 0..3 {
        bench.answer("floor", "900 micron");
        assert_eq!(bench.wanted(), "act change");
        bench.done();
        bench.done();
    }
    assert_eq!(bench.wanted(), "ended");
}

#[test]
fn not_sure_of_a_hazard_stops_the_work() {
    let handbook = handbook(PUMP);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "bench");
    bench.answer("charged", "not sure");
    assert_eq!(bench.wanted(), "stopped");
}

#[test]
fn an_answer_out_of_turn_does_not_get_past_a_stop_caution() {
    let handbook = handbook(PUMP);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "bench");
    let question = handbook.find_question("floor").unwrap();
    let reply =
        dryhold::case::read_answer(handbook.question(question), None, "40 micron").unwrap().reply;
    let event = Event::Answered {
        question: "floor".to_owned(),
        typed: String::new(),
        reply,
        bare_in: None,
    };
    let hot = handbook.find_caution("hot").unwrap();
    assert_eq!(bench.case.apply(event.clone()), Err(Refusal::NeedsAcknowledgement(hot)));
    assert_eq!(bench.case.events().len(), 1);
    bench.acknowledge("hot");
    assert!(bench.case.apply(event).is_ok());
}

#[test]
fn an_answer_given_before_it_is_asked_is_passed_over() {
    let handbook = handbook(PUMP);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "bench");
    bench.answer("target", "300 micron");
    assert_eq!(bench.wanted(), "ask charged");
    let news = bench.answer("charged", "no");
    assert_eq!(bench.wanted(), "do warm");
    let said: Vec<String> = news.passed_over.iter().map(|line| line.to_text()).collect();
    assert_eq!(said, ["Known already: What must be reached? [300 micron]"]);
}

#[test]
fn a_correction_moves_the_path_and_keeps_what_was_done() {
    let handbook = handbook(PUMP);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = at_the_reading(&handbook, &engine);
    bench.answer("floor", "60 micron");
    assert_eq!(bench.wanted(), "ended");
    let read = |typed: &str| {
        let question = handbook.find_question("target").unwrap();
        dryhold::case::read_answer(handbook.question(question), None, typed).unwrap().reply
    };
    let place = bench.case.latest_answer(handbook.find_question("target").unwrap()).unwrap().order;
    let reply = read("60 micron");
    let news = bench.apply(Event::Corrected {
        answer: place,
        typed: "60 micron".into(),
        reply,
        bare_in: None,
    });
    assert_eq!(bench.wanted(), "act change", "60 is above a third of 60");
    let moved: Vec<String> = news.moved.iter().map(|line| line.to_text()).collect();
    assert_eq!(moved[0], "Corrected: What must be reached? [60 micron, not 300 micron]");
    assert!(moved[1].starts_with("Before: ") && moved[2].starts_with("Now: "), "{moved:?}");
}

#[test]
fn taking_back_the_last_answer_asks_again() {
    let handbook = handbook(PUMP);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = at_the_reading(&handbook, &engine);
    let before = bench.case.assessment().nothing_wrong;
    bench.answer("floor", "900 micron");
    let order = bench.case.given_last().unwrap();
    bench.apply(Event::TakenBack { order });
    assert_eq!(bench.wanted(), "ask floor");
    assert_eq!(bench.case.assessment().nothing_wrong.to_bits(), before.to_bits());
    assert_eq!(bench.case.apply(Event::TakenBack { order }), Err(Refusal::NothingThere(order)));
}

#[test]
fn rounds_ask_anew_and_every_sees_each() {
    let handbook = handbook(PUMP);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "parts");
    bench.acknowledge("hot");
    for (part, floor, with_part) in
        [("red hose", "20 micron", "27 micron"), ("blue hose", "22 micron", "80 micron")]
    {
        assert_eq!(bench.wanted(), "ask part");
        bench.answer("part", part);
        assert_eq!(bench.wanted(), "ask floor");
        bench.answer("floor", floor);
        bench.done();
        bench.answer("with_part", with_part);
    }
    bench.apply(Event::RoundsEnded { tree: "parts".to_owned() });
    assert_eq!(bench.wanted(), "ended");
    let text = bench.case.finding_says(handbook.find_finding("part_bad").unwrap()).text.to_text();
    assert_eq!(text, "A part adds 58 micron.");
}

#[test]
fn what_was_told_before_a_round_is_asked_once_in_it() {
    let handbook = handbook(PUMP);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "parts");
    bench.acknowledge("hot");
    for floor in ["25 micron", "24 micron"] {
        bench.answer("floor", floor);
    }
    bench.answer("part", "red hose");
    assert_eq!(bench.wanted(), "ask floor", "told of no part");
    bench.answer("floor", "20 micron");
    assert_ne!(bench.wanted(), "ask floor");
    bench.done();
    assert_eq!(bench.wanted(), "ask with_part");
}

/// What is read again behind the work is another reading than the one told before it.
#[test]
fn a_reading_told_before_the_work_of_a_round_is_none_behind_it() {
    let text = PUMP.replace(
        "        ask: with_part\n        next: over\n",
        "        ask: with_part\n        next: take_out\n      take_out:\n        do: Take it out.\n        \
         next: after\n      after:\n        ask: floor\n        again: true\n        next: over\n",
    );
    let handbook = handbook(&text);
    let engine = Engine::new(&handbook).unwrap();
    let at_the_end = |told_before: &[&str], told_at_the_work: &[&str]| {
        let mut bench = Bench::open(&handbook, &engine, "parts");
        bench.acknowledge("hot");
        bench.answer("part", "red hose");
        for floor in ["25 micron"].iter().chain(told_before) {
            bench.answer("floor", floor);
        }
        bench.done();
        bench.answer("with_part", "40 micron");
        for floor in told_at_the_work {
            bench.answer("floor", floor);
        }
        bench.done();
        bench.wanted()
    };
    assert_eq!(at_the_end(&[], &[]), "ask floor");
    assert_eq!(at_the_end(&["24 micron"], &[]), "ask floor", "told before the part was in");
    assert_eq!(at_the_end(&[], &["23 micron"]), "ask part", "told while it is taken out");
}

/// The pump's handbook with a setting in each round and sentences that name the part.
fn named_parts() -> String {
    PUMP.replace(
        "    start: before\n    steps:\n",
        "    start: need\n    steps:\n      need:\n        ask: target\n        next: before\n",
    )
    .replace("when: most_added > 20", "when: added > 20")
    .replace("A part adds {most_added}.", "The {part} adds {added}, to reach {target}.")
    .replace("One part was read.", "The {part} was read at {with_part}.")
}

/// Answers one round from the floor on, and gives what its last answer changed.
fn read_part(bench: &mut Bench, floor: &str, with_part: &str) -> dryhold::case::News {
    bench.answer("floor", floor);
    bench.done();
    bench.answer("with_part", with_part)
}

#[test]
fn a_setting_is_asked_once_for_all_rounds() {
    let handbook = handbook(&named_parts());
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "parts");
    bench.acknowledge("hot");
    bench.answer("part", "red hose");
    assert_eq!(bench.wanted(), "ask target");
    bench.answer("target", "not sure");
    read_part(&mut bench, "20 micron", "27 micron");
    bench.answer("part", "blue hose");
    assert_eq!(bench.wanted(), "ask floor", "what is read is asked anew, what is set is not");
}

#[test]
fn a_finding_speaks_of_the_part_it_was_read_on() {
    let handbook = handbook(&named_parts());
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "parts");
    let said = |bench: &Bench| {
        let finding = handbook.find_finding("part_bad").unwrap();
        bench.case.finding_says(finding).text.to_text()
    };
    bench.acknowledge("hot");
    bench.answer("part", "red hose");
    bench.answer("target", "not sure");
    let news = read_part(&mut bench, "20 micron", "80 micron");
    let ended: Vec<String> = news.rounds.iter().map(|line| line.to_text()).collect();
    assert_eq!(ended, ["The red hose was read at 80 micron."]);
    let of_red = "The red hose adds 60 micron, to reach 500 micron (assumed).";
    assert_eq!(said(&bench), of_red);
    bench.answer("part", "the blue hose");
    bench.answer("floor", "45 micron");
    assert_eq!(said(&bench), of_red, "the blue one has not been read yet");
    bench.done();
    bench.answer("with_part", "150 micron");
    assert!(said(&bench).starts_with("The blue hose adds 105 micron"), "{}", said(&bench));
    assert_eq!(bench.case.round_ends().len(), 2);
}

#[test]
fn a_part_without_a_name_is_called_what_it_is() {
    let handbook = handbook(&named_parts());
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "bench");
    bench.acknowledge("hot");
    bench.answer("floor", "20 micron");
    bench.answer("with_part", "80 micron");
    let finding = handbook.find_finding("part_bad").unwrap();
    let said = bench.case.finding_says(finding).text.to_text();
    assert_eq!(said, "The part adds 60 micron, to reach not measured.");
}

#[test]
fn a_reading_that_could_not_be_taken_again_is_not_judged_by_the_one_before() {
    let text = PUMP.replace("          - unknown: done\n", "          - unknown: over\n").replace(
        "      done:\n        end: The pump was read.",
        "      over:\n        end: Nothing was read.\n      done:\n        end: The pump was read.",
    );
    let handbook = handbook(&text);
    let engine = Engine::new(&handbook).unwrap();
    for nothing in ["not sure", "skip"] {
        let mut bench = at_the_reading(&handbook, &engine);
        bench.answer("floor", "900 micron");
        bench.done();
        bench.done();
        bench.answer("floor", nothing);
        let Now::Ended { done, .. } = bench.case.now() else { panic!("{nothing}") };
        assert_eq!(done.to_text(), "Nothing was read.", "{nothing}");
        // What was seen before the change goes on speaking about what was there before it.
        let high = handbook.find_finding("floor_high").unwrap();
        assert!(matches!(bench.case.assessment().finding(high).state, FindingState::True(_)));
    }
}

/// Answers what is asked as a person would, so that a place that is free is filled.
fn say(bench: &mut Bench<'_>, typed: &str) {
    struct Once<'a>(Option<&'a str>);
    impl Answerer for Once<'_> {
        fn respond(&mut self, _: &Case<'_>) -> Response {
            self.0.take().map_or(Response::Leave, |typed| Response::Answer(typed.to_owned()))
        }

        fn object(&mut self, _: &Case<'_>, objection: &Objection) -> bool {
            panic!("{objection:?}")
        }
    }
    interview(&mut bench.case, &mut Once(Some(typed)), &mut KeepNothing);
}

#[test]
fn an_answer_given_for_one_taken_back_tells_of_the_time_before_what_was_done_since() {
    let handbook = handbook(PUMP);
    let engine = Engine::new(&handbook).unwrap();
    let floor = handbook.find_question("floor").unwrap();
    let told = |readings: [&str; 2]| {
        let mut bench = at_the_reading(&handbook, &engine);
        bench.answer("floor", readings[0]);
        bench.done();
        bench.done();
        bench.answer("floor", readings[1]);
        bench
    };
    let straight = told(["400 micron", "30 micron"]);
    let mut mended = told(["4000 micron", "30 micron"]);
    let first = mended.case.answers(floor).next().unwrap().order;
    mended.apply(Event::TakenBack { order: first });
    assert_eq!(mended.wanted(), "ask floor");
    say(&mut mended, "400 micron");
    assert_eq!(mended.wanted(), "ended");
    let told: Vec<_> = mended.case.answers(floor).map(|given| given.typed.as_str()).collect();
    assert_eq!(told, ["400 micron", "30 micron"]);
    let chances = |bench: &Bench<'_>| {
        let ranking = &bench.case.assessment().ranking;
        ranking.iter().map(|ranked| ranked.probability.to_bits()).collect::<Vec<_>>()
    };
    assert_eq!(chances(&mended), chances(&straight));
    let again = Case::replay(&handbook, &engine, mended.case.events()).unwrap();
    assert_eq!(again.record(), mended.case.record());
}

#[test]
fn an_answer_in_the_place_of_another_is_asked_back_where_it_is_out_of_the_usual() {
    struct Asked(Option<&'static str>, usize);
    impl Answerer for Asked {
        fn respond(&mut self, _: &Case<'_>) -> Response {
            self.0.take().map_or(Response::Leave, |typed| Response::Answer(typed.to_owned()))
        }

        fn object(&mut self, _: &Case<'_>, objection: &Objection) -> bool {
            assert!(matches!(objection, Objection::Doubtful(..)), "{objection:?}");
            self.1 += 1;
            true
        }
    }
    let text = PUMP.replace(
        "    range: 0 micron to 760000 micron\n    instrument: gauge\n    repeats: 1 micron\n    cautions",
        "    range: 0 micron to 760000 micron\n    usual: 5 micron to 5000 micron\n    instrument: gauge\n    repeats: 1 micron\n    cautions",
    );
    let handbook = handbook(&text);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = at_the_reading(&handbook, &engine);
    bench.answer("floor", "900 micron");
    bench.done();
    let floor = handbook.find_question("floor").unwrap();
    let order = bench.case.latest_answer(floor).unwrap().order;
    bench.apply(Event::TakenBack { order });
    let mut asked = Asked(Some("90000 micron"), 0);
    interview(&mut bench.case, &mut asked, &mut KeepNothing);
    assert_eq!(asked.1, 1, "90000 micron is far above the usual");
    assert_eq!(bench.case.latest_answer(floor).unwrap().order, order, "it keeps its place");
}

#[test]
fn an_answer_taken_back_with_nothing_done_since_is_given_at_the_end() {
    let handbook = handbook(PUMP);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = at_the_reading(&handbook, &engine);
    bench.answer("floor", "900 micron");
    let order = bench.case.given_last().unwrap();
    bench.apply(Event::TakenBack { order });
    say(&mut bench, "800 micron");
    assert!(matches!(bench.case.events().last(), Some(Event::Answered { .. })));
    assert_eq!(bench.wanted(), "act change");
}

#[test]
fn a_danger_that_comes_up_later_stops_the_case() {
    let handbook = handbook(PUMP);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "bench");
    bench.answer("charged", "no");
    bench.answer("target", "300 micron");
    assert_eq!(bench.wanted(), "do warm");
    bench.answer("charged", "yes");
    assert_eq!(bench.wanted(), "stopped", "the new answer is as good a reason as the first");
    let verdict = verdict(&bench.case, &Ending::Left);
    let first = verdict[0].to_text();
    assert!(first.starts_with("Stopped for safety."), "{first}");
    let says = |words: &str| verdict.iter().any(|line| line.to_text().contains(words));
    assert!(!says("Ranking") && !says("What to check next"), "{verdict:?}");
}

#[test]
fn a_danger_that_is_told_before_it_is_asked_for_stops_the_case_too() {
    let handbook = handbook(PUMP);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "parts");
    bench.answer("charged", "not sure");
    assert_ne!(bench.wanted(), "stopped", "nobody has said that there is a danger");
    bench.answer("charged", "yes");
    assert_eq!(bench.wanted(), "stopped");
}

#[test]
fn a_stop_is_left_by_the_answer_that_it_comes_from() {
    let handbook = handbook(PUMP);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "parts");
    bench.acknowledge("hot");
    bench.answer("charged", "not sure");
    bench.answer("part", "red hose");
    read_part(&mut bench, "20 micron", "27 micron");
    bench.apply(Event::RoundsEnded { tree: "parts".to_owned() });
    bench.apply(Event::WentOn { tree: "bench".to_owned() });
    assert_eq!(bench.wanted(), "stopped", "not sure counts as the danger once it is asked for");
    let behind = bench.case.answer_behind_stop().unwrap();
    assert_eq!(handbook.question(behind.question).id, "charged");
    let order = behind.order;
    assert!(bench.case.record().given.iter().any(|given| given.order > order));
    bench.apply(Event::TakenBack { order });
    assert_eq!(bench.wanted(), "ask charged");
    assert!(bench.case.answer_behind_stop().is_none());
}

/// What leads to a stop may be an answer after the one that the last condition looks at: both made
/// it, and the later one is taken back.
#[test]
fn a_stop_by_an_early_answer_is_left_by_the_later_one_that_led_there() {
    let rules = "
format: 1
name: Labels
version: 1
questions:
  label:
    ask: What does the label say?
    choices: {clear: It can be read, torn: Half of it}
  class:
    ask: Which class is it?
    choices: {mild: Mild, not_known: Nobody knows}
trees:
  labels:
    title: Labels
    start: name
    steps:
      name: {ask: label, next: class}
      class:
        ask: class
        next: {mild: fine, not_known: by_name, not_sure: by_name}
      by_name:
        ask: label
        next:
          - if: label is clear
            go: fine
          - unknown: leave
          - else: leave
      leave: {stop: Leave it., why: Nobody knows what it is., refer: a person who knows}
      fine: {end: It is known.}
"
    .replace(
        "    kind_of: setting
",
        "",
    );
    let handbook = handbook(&rules);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = Bench::open(&handbook, &engine, "labels");
    bench.answer("label", "torn");
    bench.answer("class", "not_known");
    assert_eq!(bench.wanted(), "stopped");
    let behind = bench.case.answer_behind_stop().unwrap();
    assert_eq!(handbook.question(behind.question).id, "class");
}

/// Who goes back beyond what was done gives all answers anew, in a new place each: in their old places
/// they would stand before what was done since.
#[test]
fn an_answer_behind_work_done_anew_comes_after_it() {
    let handbook = handbook(PUMP);
    let engine = Engine::new(&handbook).unwrap();
    let mut bench = at_the_reading(&handbook, &engine);
    bench.answer("floor", "900 micron");
    let is_deed = |event: &Event| matches!(event, Event::Did { .. });
    let deed = bench.case.events().iter().position(is_deed).unwrap();
    let floor = bench.case.events().len() - 1;
    for order in [floor, deed] {
        bench.apply(Event::TakenBack { order });
    }
    bench.done();
    assert!(
        matches!(bench.case.now(), Now::Ask { in_place_of: None, .. }),
        "{:?}",
        bench.case.now()
    );
    bench.answer("floor", "900 micron");
    assert_eq!(bench.wanted(), "act change");
    let again = bench.case.events().iter().rposition(is_deed).unwrap();
    let given = bench.case.record().given.iter().map(|given| given.order);
    assert!(given.max().unwrap() > again, "{:?}", bench.case.record().given);
}
