//! What a person typed can't change how a report looks, in any form.

use dryhold::case::{Case, Closing, Detail, Details, Event, FixedBy};
use dryhold::report::{About, CaseReport, LONGEST_MESSAGE};
use dryhold::text::is_inert;

use crate::commands::{built_in, scenario_events};

const NASTY: &str = "\u{1b}[2J<script>alert(1)</script>\u{202e}*x* `y` | # [a](b)\n## H \"q\" &";

fn with_nasty_texts() -> Vec<Event> {
    let mut events = scenario_events("part_in_line/sound_pair");
    for event in &mut events {
        match event {
            Event::Answered { question, typed, reply, .. } if question == "part" => {
                *typed = NASTY.to_owned();
                *reply = dryhold::case::Reply::Text(NASTY.to_owned());
            }
            Event::Acknowledged { by, .. } => *by = NASTY.to_owned(),
            _ => {}
        }
    }
    let all = Detail::all();
    let details = all.iter().fold(Details::default(), |all, detail| all.with(*detail, NASTY));
    events.push(Event::Described { details });
    events.push(Event::Noted { text: NASTY.to_owned() });
    let closing = Closing { note: Some(NASTY.to_owned()), ..Closing::by(FixedBy::Nothing) };
    events.push(Event::Closed { closing });
    events
}

#[test]
fn control_characters_and_markup_stay_text() {
    let (handbook, engine) = built_in();
    let events = with_nasty_texts();
    let case = Case::replay(handbook, engine, &events).unwrap();
    let about = About { id: "a\u{1b}b".to_owned(), ..About::default() };
    let report = CaseReport::of(&case, &about);
    let (markdown, page, message) = (report.markdown(), report.html(), report.message());
    for (name, text) in [("Markdown", &markdown), ("page", &page), ("message", &message)] {
        assert!(is_inert(text), "{name}: {text}");
    }
    assert!(!page.contains("<script") && page.contains("&lt;script&gt;alert(1)"));
    assert!(markdown.contains("\\<script\\>") && markdown.contains("\\# \\[a\\](b)"));
    assert!(!markdown.lines().any(|row| row.starts_with("## H")), "{markdown}");
    assert!(message.chars().count() <= LONGEST_MESSAGE);
    let told = markdown.matches("alert(1)").count();
    assert!(told > Detail::all().len() + 3, "only {told} of the texts are told");
}

#[test]
fn a_message_keeps_its_limit_whatever_people_type() {
    let (handbook, engine) = built_in();
    let mut events = with_nasty_texts();
    let long = "\u{202e}".repeat(60);
    events.push(Event::Described { details: Details::default().with(Detail::Place, &long) });
    let case = Case::replay(handbook, engine, &events).unwrap();
    let about = About { id: "\u{1b}".repeat(400), ..About::default() };
    let message = CaseReport::of(&case, &about).message();
    assert!(message.chars().count() <= LONGEST_MESSAGE, "{}", message.chars().count());
    assert!(message.contains("where they differ, they win."), "{message}");
}
