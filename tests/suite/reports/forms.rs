//! Every form of a report says the same and keeps what it promises. The verdicts of all scenarios
//! are read together with these.

use std::fs;
use std::path::Path;
use std::sync::LazyLock;

use dryhold::case::{Case, Closes, Closing, Event, FixedBy, Now, Reply};
use dryhold::report::{About, CaseReport, LONGEST_MESSAGE};
use dryhold::text::{Line, capital, is_inert};

use super::plain::{of_html, of_lines, of_markdown, words};
use crate::commands::{built_in, scenario_events};

/// The most pages that a report of a scenario may take; usual ones take one or two.
const MOST_PAGES: f64 = 3.0;

/// What is wrong with the report of a case.
pub fn faults(case: &Case<'_>) -> Vec<String> {
    let about = About { id: "2026-03-31-1".to_owned(), ..About::default() };
    let report = CaseReport::of(case, &about);
    let mut faults = Vec::new();
    let (text, page) = (of_lines(&report.lines()), report.html());
    if of_markdown(&report.markdown()) != text {
        faults.push("the Markdown says something else than the text".to_owned());
    }
    if of_html(&page) != text {
        faults.push("the page says something else than the text".to_owned());
    }
    let json = report.json();
    faults.extend(schema().iter_errors(&json).map(|error| format!("the JSON: {error}")));
    faults.extend(faults_of_message(&report, case));
    if matches!(case.now(), Now::Stopped { .. }) {
        let told = ["What was computed", "What was found", "Ranking"];
        let told = told.iter().filter(|heading| text.contains(**heading));
        faults.extend(told.map(|heading| format!("beside a danger stands {heading}")));
    }
    for caution in json["cautions"].as_array().unwrap() {
        if !text.contains(&words(caution["text"].as_str().unwrap())) {
            faults.push(format!("the caution {} is missing", caution["caution"]));
        }
    }
    let pages = report.pages();
    if pages > MOST_PAGES {
        faults.push(format!("it takes {pages:.2} pages"));
    }
    faults
}

fn faults_of_message(report: &CaseReport<'_>, case: &Case<'_>) -> Vec<String> {
    let message = report.message();
    let mut faults = Vec::new();
    let mut must = |holds: bool, what: &str| {
        if !holds {
            faults.push(format!("{what}: {message}"));
        }
    };
    must(message.chars().count() <= LONGEST_MESSAGE, "it is too long");
    must(is_inert(&message) && !message.contains('\n'), "it is not one inert row");
    must(message.ends_with(['.', '?', '!']), "it ends within a sentence");
    must(!message.contains(". ."), "it has an empty sentence");
    must(message.contains("where they differ, they win."), "the referral is missing");
    let lines = report.lines();
    let facts = words(&of_lines(&lines));
    if let Now::Stopped { text, refer, .. } = case.now() {
        must(message.contains(&words(&text.to_text())), "the stop is missing");
        must(message.contains(&words(&refer.to_text())), "whom to ask is missing");
        must(!message.contains("Next"), "a stopped case goes on");
    } else {
        // A caller has no program that asks: what he reads or looks at is said as he hears it.
        let told = TO_TELL.iter().find_map(|lead| message.split(*lead).nth(1));
        let is_said = |said: &str| {
            case.question_ids().any(|id| {
                let view = case.question_view(id);
                said.starts_with(&words(&view.say.unwrap_or(view.ask).to_text()))
            })
        };
        must(told.is_none_or(is_said), "nobody asks a caller for what is next");
        let leads = TO_TELL.iter().map(|lead| message.matches(lead).count()).sum::<usize>();
        must(leads == usize::from(told.is_some()), "it is no act");
        let begun = message.matches("Next, ").count() + message.matches("Next: ").count();
        must(begun <= 1, "it names two next steps");
        let at = message.split("Next: ").nth(1);
        let first = at.unwrap_or_default().split(['.', '?', '!']).next().unwrap_or_default();
        must(facts.contains(first), "what is next is not in the report");
        // What is settled to be there still is told as not mended yet.
        let leader = case.assessment().leader().unwrap().cause;
        let unmended = format!("Not mended yet: {}", capital(&case.cause_view(leader).in_short));
        let is_said = message.contains("Settled: ") || message.contains(&unmended);
        let verdict = facts.split("Settled: ").nth(1).filter(|_| !is_said);
        must(verdict.is_none(), "what was found is missing");
        must(told.is_none() || !begins_with_a_repair(&lines), "the report begins with a repair");
        let waits = matches!(case.now(), Now::Act { .. } | Now::Do { .. });
        let way = first_check(report).and_then(|check| named_way(&check));
        if let Some(title) = way.filter(|_| !waits && !begins_with_a_repair(&lines)) {
            let named = format!("Next: \"{title}\". ");
            must(message.contains(&named), "it names another step than the report");
            let tree = case.handbook().trees().iter().find(|tree| tree.title == title);
            let begins = tree.and_then(|tree| tree.say.as_deref()).map(words);
            let begins = begins.unwrap_or_else(|| "Have it read out how.".to_owned());
            must(message.contains(&format!("{named}{begins}")), "how it begins is missing");
        }
        if let (Some(Closes::Planned), Now::Ended { done, .. }) = (case.closes(), case.now()) {
            let plan = words(&done.to_text());
            let limits = plan.rsplit_once(". ").map_or(plan.as_str(), |(_, limits)| limits);
            must(message.contains(limits), "the limits of the plan are missing");
        }
    }
    faults
}

/// Whether a report lists repairs before checks.
fn begins_with_a_repair(lines: &[Line]) -> bool {
    let mut headings = lines.iter().map(Line::to_text);
    let first = headings.find(|text| text == CHECKS || text.starts_with("What to do about it"));
    first.is_some_and(|heading| heading != CHECKS)
}

/// The heading of the checks.
const CHECKS: &str = "What to check next";

/// What stands before something that a caller reads or looks at.
const TO_TELL: [&str; 5] = [
    "Next, read and tell: ",
    "Next, look and tell: ",
    "Next, read again, before anything else: ",
    "Have it read out how. Read and tell first: ",
    "Have it read out how. Look and tell first: ",
];

fn schema() -> &'static jsonschema::Validator {
    static SCHEMA: LazyLock<jsonschema::Validator> = LazyLock::new(|| {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/schema/report.json");
        let schema = serde_json::from_str(&fs::read_to_string(path).unwrap()).unwrap();
        jsonschema::draft202012::meta::validate(&schema).expect("it is a schema itself");
        jsonschema::draft202012::new(&schema).unwrap()
    });
    &SCHEMA
}

fn with_report<T>(scenario: &str, look: impl FnOnce(&CaseReport<'_>) -> T) -> T {
    let (handbook, engine) = built_in();
    let case = Case::replay(handbook, engine, &scenario_events(scenario)).unwrap();
    let about = About { id: "2026-03-31-1".to_owned(), ..About::default() };
    look(&CaseReport::of(&case, &about))
}

#[test]
fn a_usual_report_takes_one_or_two_pages() {
    for scenario in ["pump_alone/wet_van", "hold_test/moisture", "rig_alone/old_hoses"] {
        let pages = with_report(scenario, |report| report.pages());
        assert!(pages > 0.5 && pages <= 2.0, "{scenario}: {pages:.2} pages");
    }
}

#[test]
fn the_page_draws_the_hold_that_was_read_and_nothing_else() {
    let page = with_report("hold_test/moisture", |report| report.html());
    assert_eq!(page.matches("<svg").count(), 1);
    assert!(page.contains("readings over") && !page.contains("<script") && !page.contains("href"));
    assert!(!with_report("pump_alone/sound", |report| report.html()).contains("<svg"));
    let limited = with_report("rises/leaks_at_a_flare", |report| report.html());
    assert!(limited.contains(" A limit, 1500 micron within 10 min"), "the limit is drawn");
}

#[test]
fn a_stopped_case_is_reported_as_that() {
    let text = with_report("safety/oxygen", |report| of_lines(&report.lines()));
    assert!(text.contains("Stopped for safety") && !text.contains("What was found"), "{text}");
    let message = with_report("safety/oxygen", |report| report.message());
    assert!(message.contains("Stopped for safety.") && !message.contains("Next:"), "{message}");
}

#[test]
fn a_report_that_breaks_the_schema_would_be_seen() {
    let mut json = with_report("pump_alone/sound", |report| report.json());
    assert!(schema().is_valid(&json));
    json["answers"][0]["extra"] = serde_json::json!(1);
    assert!(!schema().is_valid(&json));
}

/// One of each way in which an instruction and its cautions may fit.
#[test]
fn a_message_tells_an_instruction_whole_with_its_cautions_or_that_there_is_more() {
    let message = |scenario: &str| with_report(scenario, |report| report.message());
    let short = message("pump_alone/good_enough_only");
    assert!(short.contains("Next: Put this gauge aside, marked, for calibration"), "{short}");
    assert!(
        short.contains("Caution: Shut the valve at the system, if one is connected, stop the pump"),
        "{short}"
    );
    assert!(!short.contains("longer than fits"), "{short}");
    let long = message("rises/leaks_at_a_flare");
    for part in [
        "Settled: a leak in the system is almost certain (more than 99 in 100).",
        "Next: Press the system with dry nitrogen in steps,",
        "stand the test for an hour with the temperature allowed for.",
        "Caution: Never oxygen, never compressed air. ",
        "The cautions are longer than fits here: have them read out before you do anything.",
    ] {
        assert!(long.contains(part), "{part}\n{long}");
    }
}

#[test]
fn the_message_of_a_proof_begins_with_what_was_proved_and_by_what() {
    let (handbook, engine) = built_in();
    let case = Case::replay(handbook, engine, &scenario_events("prove_it/kept")).unwrap();
    let about = About { id: "2026-03-31-1".to_owned(), ..About::default() };
    let message = CaseReport::of(&case, &about).message();
    let order = [
        "Case 2026-03-31-1: Proved: it stood its nitrogen test, and in vacuum it kept 1500 micron \
         for 10 min.",
        "Read in the hold: 300 micron at the start, 309 micron after 15 min.",
        "Limit: The equipment's maker; 1500 micron; 10 min.",
        "Refrigerant: R-410A.",
        "Gauge: On the system, far from the pump's hose.",
        "Not proved: that nothing leaks.",
        "Told: the caretaker; nothing is open.",
        "Beyond that proof:",
    ];
    let places: Vec<Option<usize>> = order.iter().map(|said| message.find(said)).collect();
    assert!(places.iter().all(Option::is_some) && places.is_sorted(), "{places:?}: {message}");
    assert!(!message.contains("that something is") && !message.contains('`'), "{message}");
    assert!(message.chars().count() <= LONGEST_MESSAGE);
}

/// What was seen first is told and not looked at. A tree is nothing that a caller can run, so its title
/// stands before what is read in it.
#[test]
fn a_message_names_the_next_step_and_what_is_read_in_it_as_it_is_asked_on_the_phone() {
    for (scenario, lead) in [
        // Where nothing is likely yet, the way goes on before anything else is looked at.
        (
            "gauge_check/second_one_wrong",
            "Next: \"The pump on its own\". Have it read out how. Read and tell first: \
             What does the gauge read on the pump alone",
        ),
        (
            "pull_down/bench",
            "Next: \"The rig alone, without the system\". Shut the valve at the system and the \
             gauge's own, stop the pump, vent the rig. Read the gauge on the capped pump; then",
        ),
        // A row of readings is told by the work that it is taken in.
        (
            "wont_pull_below/arrived_on_fresh_oil",
            "Next: \"Shut the system off and read the rise\". Have it read out how.",
        ),
    ] {
        with_report(scenario, |report| {
            let told = report.message();
            assert!(told.contains(lead), "{told}");
            for other in ["find out", "What are you seeing?", "Go on with", "Run \""] {
                assert!(!told.contains(other), "{told}");
            }
        });
    }
}

/// Whoever has no screen is told what has to be off the system before any nitrogen, and which gas.
#[test]
fn a_message_that_leads_to_nitrogen_says_what_comes_off_first_and_which_gas() {
    with_report("rises/told_over_night", |report| {
        let message = report.message();
        for told in [
            "Next: \"A standing pressure test with dry nitrogen\". Shut the valve at the system, stop \
             the pump, vent the rig. Before any nitrogen take off pump and vacuum hoses, and shut the \
             gauge off at its own valve, so that no air gets in.",
            "Only dry nitrogen from a regulator goes in, never oxygen or air.",
            "Not settled, and nothing stands out yet. First comes",
        ] {
            assert!(message.contains(told), "{message}");
        }
        for other in ["read out how", "Read and tell first", "nothing is wrong"] {
            assert!(!message.contains(other), "{message}");
        }
        assert!(message.chars().count() <= LONGEST_MESSAGE);
    });
}

/// Two readings were told, and the list that comes next is no single one at its start.
#[test]
fn a_message_that_leads_back_to_a_hold_asks_for_no_reading_that_was_told() {
    with_report("few_readings/night_and_clear_oil", |report| {
        let (message, lines) = (report.message(), report.lines());
        let next = "Next: \"Shut the system off and read the rise\". Have it read out how.";
        assert!(message.contains(next), "{message}");
        assert!(message.contains("nitrogen under pressure whether it leaks"), "{message}");
        assert!(!message.contains("Read and tell first"), "{message}");
        let beside = "Or with \"A standing pressure test with dry nitrogen\".";
        assert!(of_lines(&lines).contains(beside), "{}", of_lines(&lines));
        assert!(message.chars().count() <= LONGEST_MESSAGE);
    });
}

/// The way reads what shows the likely cause, so nothing else is looked at or taken apart before it.
#[test]
fn a_rig_that_rises_beside_a_quiet_system_is_read_alone_before_anything_is_taken_out_of_it() {
    for scenario in ["hold_test/rises_only_with_the_rig", "rises/rises_only_with_the_rig"] {
        with_report(scenario, |report| {
            let (lines, message) = (report.lines(), report.message());
            let check = first_check(report).unwrap_or_default();
            assert!(check.contains("The rig alone, without the system"), "{check}");
            assert!(!begins_with_a_repair(&lines), "{}", of_lines(&lines));
            let next = "Next: \"The rig alone, without the system\". Shut the valve at the system";
            assert!(message.contains(next), "{message}");
            assert!(!message.contains("Prove it"), "{message}");
        });
    }
}

/// The report of a case that was left behind so many events.
fn left_behind(events: &[Event], until: usize, look: impl FnOnce(&CaseReport<'_>, &Case<'_>)) {
    let (handbook, engine) = built_in();
    let case = Case::replay(handbook, engine, &events[..until]).unwrap();
    let about = About { id: "2026-03-31-1".to_owned(), ..About::default() };
    look(&CaseReport::of(&case, &about), &case);
}

/// What stands first under the heading of the checks, behind its cautions; none without the heading.
fn first_check(report: &CaseReport<'_>) -> Option<String> {
    let lines: Vec<String> = report.lines().iter().map(Line::to_text).collect();
    let from = lines.iter().position(|line| line == CHECKS)?;
    let mut under = lines[from + 1..].iter().take_while(|line| line.starts_with("- "));
    let is_before =
        |line: &&String| line.starts_with("- CAUTION") || line.starts_with("- Answer this before ");
    under.find(|line| !is_before(line)).cloned()
}

/// The title of the way that a check goes on with or runs whole.
fn named_way(check: &str) -> Option<String> {
    let check = words(check);
    let behind =
        ["- Go on with \"", "- Run \""].iter().find_map(|lead| check.strip_prefix(lead))?;
    behind.split('"').next().map(str::to_owned)
}

/// Wherever a case is left, its report and the message to the caller name one next step.
#[test]
fn the_message_and_the_report_name_the_same_next_step() {
    let mut compared = 0;
    for scenario in ["part_in_line/leaky_then_remade", "wont_pull_below/arrived_on_fresh_oil"] {
        let events = scenario_events(scenario);
        for until in (events.len() / 2..=events.len()).step_by(3) {
            left_behind(&events, until, |report, case| {
                let (message, Some(check)) = (report.message(), first_check(report)) else {
                    return;
                };
                let told = TO_TELL.iter().find_map(|lead| message.split(*lead).nth(1));
                let (Some(told), check) = (told, words(&check)) else { return };
                let asked = case.question_ids().find(|id| {
                    let view = case.question_view(*id);
                    told.starts_with(&words(&view.say.unwrap_or(view.ask).to_text()))
                });
                let asked = asked.unwrap();
                let in_tree = || {
                    let trees = case.trees_asking(asked).into_iter();
                    trees.map(|tree| case.tree_view(tree).1).any(|title| check.contains(title))
                };
                let ask = words(&case.question_view(asked).ask.to_text());
                assert!(check.contains(&ask) || in_tree(), "{until}: {check}\n{message}");
                compared += 1;
            });
        }
    }
    assert!(compared > 3, "{compared}");
}

/// A caller is told of which part something was found, and of which the next reading is.
#[test]
fn verdict_and_message_name_the_part() {
    let events = scenario_events("part_in_line/leaky_then_remade");
    let acted = events.iter().position(|event| matches!(event, Event::Acted { .. })).unwrap();
    left_behind(&events, acted, |report, _| {
        for text in [report.message(), words(&of_lines(&report.lines()))] {
            assert!(text.contains("a leak in the rig (red hose) is "), "{text}");
            assert!(text.contains("It is about this: red hose."), "{text}");
        }
    });
    // What is asked outside rounds too tells of no part: milky oil is the pump's.
    let of_blank_off = |event: &Event| matches!(event, Event::Answered { question, .. } if question == "blank_off");
    let mut told = events[..=events.iter().position(of_blank_off).unwrap()].to_vec();
    told.push(Event::Answered {
        question: "oil_look".to_owned(),
        typed: "Cloudy or milky".to_owned(),
        reply: Reply::Choice("cloudy".to_owned()),
        bare_in: None,
    });
    left_behind(&told, told.len(), |report, _| {
        let message = report.message();
        assert!(
            message.contains("bad pump oil") && !message.contains("bad pump oil ("),
            "{message}"
        );
    });
    left_behind(&events, acted + 1, |report, case| {
        let mut reading = acted + 1;
        if !matches!(case.now(), Now::Ask { .. }) {
            reading += 1;
        }
        left_behind(&events, reading, |report, _| {
            let message = report.message();
            let next = "Next, read and tell: What does the gauge read with the part in, and in which \
                        unit? It is about this: red hose.";
            assert!(message.contains(next), "{message}");
            let check = first_check(report).unwrap();
            assert!(check.contains("With the part between pump and gauge"), "{check}");
        });
        assert!(report.message().contains("A leak in the rig (red hose)"), "{}", report.message());
    });
}

/// Two gauges that differ beyond their tolerances settle that one is wrong; which of them that is
/// stands in the message too, and beside it nothing is said to be in order as a whole.
#[test]
fn a_gauge_that_turned_out_wrong_is_said_by_verdict_and_message() {
    let events = scenario_events("gauge_check/second_one_wrong");
    let is_told = |event: &Event| matches!(event, Event::Answered { question, .. } if question == "gauge_at_fault");
    let told = events.iter().position(is_told).unwrap();
    left_behind(&events, told, |report, _| {
        for text in [report.message(), words(&of_lines(&report.lines()))] {
            assert!(text.contains("Settled: a dirty or wrong gauge is almost certain"), "{text}");
        }
    });
    left_behind(&events, told + 1, |report, _| {
        for text in [report.message(), words(&of_lines(&report.lines()))] {
            assert!(text.contains("Gauge B, the second one, turned out wrong"), "{text}");
            assert!(text.contains("that nothing else is wrong"), "{text}");
            assert!(!text.contains("that nothing is wrong"), "{text}");
        }
    });
}

/// Whoever chose another way than the one advised is told of it again at that way's end.
#[test]
fn what_an_earlier_way_advised_stays_open() {
    let mut events = scenario_events("wont_pull_below/near_its_target");
    events.push(Event::WentOn { tree: "pump_alone".to_owned() });
    events.extend(scenario_events("pump_alone/sound").into_iter().skip(1));
    left_behind(&events, events.len(), |report, _| {
        let text = words(&of_lines(&report.lines()));
        let open =
            "As was advised before, and is still open: \"Shut the system off and read the rise\"";
        assert!(text.contains(open), "{text}");
    });
}

/// What to do stands before why it is to be done.
#[test]
fn a_message_tells_what_to_do_before_what_was_found() {
    for scenario in ["pump_alone/good_enough_only", "rises/leaks_at_a_flare"] {
        let message = with_report(scenario, |report| report.message());
        let found = message.find("Settled: ").or_else(|| message.find("Not settled"));
        let next = message.find("Next: ");
        assert!(next.is_some() && found.is_some() && next < found, "{message}");
    }
}

#[test]
fn a_message_of_readings_that_clash_asks_to_read_again_once() {
    let message = with_report("pump_alone/above_the_system", |report| report.message());
    assert_eq!(message.to_lowercase().matches("read again").count(), 1, "{message}");
    assert!(message.contains("can't both be") && message.contains("Until then nothing leads."));
}

/// Minutes with a second gauge come before a gauge or a pump that may be sound is put aside.
#[test]
fn a_quick_check_comes_before_a_repair_that_most_likely_leaves_something_wrong() {
    with_report("pump_alone/worn", |report| {
        let (lines, message) = (report.lines(), report.message());
        let at = |heading: &str| lines.iter().position(|line| line.to_text().starts_with(heading));
        let (check, repair) = (at(CHECKS), at("What to do about it"));
        assert!(check.is_some() && repair.is_some() && check < repair, "{}", of_lines(&lines));
        let next = "Next: \"Can the gauge be believed?\". Have it read out how. Read and tell first: \
                    What does gauge A show";
        assert!(message.contains(next), "{message}");
    });
}

/// A plan is sent with what is dangerous about the system that it is for.
#[test]
fn the_plan_for_carbon_dioxide_says_that_it_is_under_pressure() {
    with_report("before_the_job/carbon_dioxide", |report| {
        let told = "Under pressure until both sides read 0 bar gauge";
        for text in [report.message(), words(&of_lines(&report.lines()))] {
            assert!(text.contains(told), "{text}");
        }
        assert!(report.message().contains("The plan, in order."), "{}", report.message());
    });
}

/// Nothing is to be done any more, and nobody is left to guess whether it was mended.
#[test]
fn the_message_of_a_closed_case_says_so_and_by_what() {
    let mut events = scenario_events("pump_alone/wet_van");
    let closing = Closing::by(FixedBy::Cause("pump_oil".to_owned()));
    events.push(Event::Closed { closing });
    left_behind(&events, events.len(), |report, _| {
        let message = report.message();
        let told = "Case 2026-03-31-1: This case is closed: fixed by mending this: bad pump oil.";
        assert!(message.starts_with(told) && !message.contains("Next"), "{message}");
        assert!(!message.contains("ettled"), "{message}");
    });
}

/// What has to be safe comes before the name of what is fitted.
#[test]
fn the_first_part_is_named_behind_the_safety_questions() {
    let events = scenario_events("part_in_line/leaky_then_remade");
    left_behind(&events, 1, |_, case| {
        let Now::Ask { question, .. } = case.now() else { panic!("nothing is asked") };
        assert_eq!(case.question_view(*question).id, "system_connected");
    });
}
