//! `dryhold print`: a card on paper says what the tree says.

use dryhold::built_in::built_in_handbook;
use dryhold::handbook::{Handbook, StepKind, TreeId};
use dryhold::report::card::{Part, card, html, markdown, pages};

use super::stand::Stand;

fn handbook() -> Handbook {
    built_in_handbook().unwrap()
}

/// The texts of a card in Markdown without its marks.
fn bare_markdown(text: &str) -> String {
    let mut bare = String::new();
    let mut letters = text.chars();
    while let Some(c) = letters.next() {
        match c {
            '\\' => bare.extend(letters.next()),
            '*' => {}
            c => bare.push(c),
        }
    }
    let rows = bare.lines().map(|row| row.trim_start_matches(['#', '-', ' ']));
    rows.collect::<Vec<_>>().join(" ").split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The texts of the body of a page without its tags.
fn bare_html(text: &str) -> String {
    let (_, body) = text.split_once("<body>").unwrap();
    let mut bare = String::new();
    let mut is_tag = false;
    for c in body.chars() {
        match c {
            '<' => is_tag = true,
            '>' => {
                is_tag = false;
                bare.push(' ');
            }
            c if !is_tag => bare.push(c),
            _ => {}
        }
    }
    let plain = bare.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"");
    plain.replace("&amp;", "&").split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn both_forms_say_the_same_in_the_same_order() {
    let handbook = handbook();
    for tree in 0..handbook.trees().len() {
        let card = card(&handbook, TreeId::at(tree));
        let said = card.texts().join(" ").split_whitespace().collect::<Vec<_>>().join(" ");
        assert_eq!(bare_markdown(&markdown(&card)), said);
        assert_eq!(bare_html(&html(&card)), said);
    }
}

#[test]
fn every_built_in_tree_fits_on_two_pages() {
    let handbook = handbook();
    for (place, tree) in handbook.trees().iter().enumerate() {
        let pages = pages(&card(&handbook, TreeId::at(place)));
        assert!(pages > 0.1 && pages <= 2.0, "{}: {pages:.2} pages", tree.id);
    }
}

#[test]
fn cautions_come_first_and_nothing_is_left_out() {
    let handbook = handbook();
    for (place, tree) in handbook.trees().iter().enumerate() {
        let card = card(&handbook, TreeId::at(place));
        let headings: Vec<&str> = card
            .parts
            .iter()
            .filter_map(|part| match part {
                Part::Heading(text) => Some(text.as_str()),
                _ => None,
            })
            .collect();
        assert_eq!(headings[..3], ["Cautions first", "Step by step", "How it ends"], "{}", tree.id);
        let rows = card.parts.iter().filter_map(|part| match part {
            Part::Row { mark, ways, kind, .. } => Some((mark.as_str(), kind.as_str(), ways)),
            _ => None,
        });
        let steps: Vec<_> =
            rows.filter(|(mark, ..)| !mark.is_empty() && !mark.starts_with('!')).collect();
        assert_eq!(steps.len(), tree.steps.len(), "{}", tree.id);
        let marks: Vec<&str> = steps.iter().map(|(mark, ..)| *mark).collect();
        for (mark, kind, ways) in &steps {
            let is_last = ["end", "STOP"].contains(kind);
            assert_eq!(ways.is_empty(), is_last, "{}: {mark}", tree.id);
            for way in ways.iter() {
                let (_, to) = way.rsplit_once("go to ").unwrap();
                assert!(marks.contains(&to) || to.starts_with("card "), "{}: {way}", tree.id);
            }
        }
        let stops = tree.steps.iter().filter(|s| matches!(s.kind, StepKind::Stop { .. })).count();
        assert_eq!(steps.iter().filter(|(_, kind, _)| *kind == "STOP").count(), stops);
    }
}

#[test]
fn limits_stand_in_both_units_and_a_safety_question_says_what_doubt_is() {
    let stand = Stand::new();
    let ran = stand.run(&["print", "hold_test"]);
    assert_eq!((ran.status, ran.stderr.as_str()), (Some(0), ""), "{ran:?}");
    assert!(ran.stdout.contains("(0.67 Pa/min)"), "{}", ran.stdout);
    assert!(ran.stdout.contains("500 micron (67 Pa)"), "{}", ran.stdout);
    let ran = stand.run(&["print", "safety"]);
    assert!(ran.stdout.contains("(not sure counts as: yes)"), "{}", ran.stdout);
    assert!(ran.stdout.contains("Ask: the gas supplier or your local safety authority"));
}

#[test]
fn the_page_is_whole_in_itself_and_texts_stay_texts() {
    let stand = Stand::new();
    std::fs::create_dir(stand.path("hostile")).unwrap();
    stand.write(
        "hostile/rules.yaml",
        "format: 1\nname: '<b>&'\nversion: 1\ntrees:\n  t:\n    title: '# <script>x</script> *a*'\n    \
         start: a\n    steps:\n      a:\n        end: '[x](y) `z` </li> & _so_'\n",
    );
    let page = stand.run(&["print", "--only-rules", "hostile", "--format", "html"]);
    assert_eq!(page.status, Some(0), "{page:?}");
    for foreign in ["<script", "src=", "href=", "url(", "http", "</li> &"] {
        assert!(!page.stdout.contains(foreign), "{foreign}: {}", page.stdout);
    }
    assert!(page.stdout.contains("@page { size: A4;"), "{}", page.stdout);
    let text = stand.run(&["print", "--only-rules", "hostile"]).stdout;
    assert!(text.starts_with("# \\# \\<script\\>x\\</script\\> \\*a\\*\n"), "{text}");
    assert!(text.contains("\\[x\\](y) \\`z\\` \\</li\\> \\& \\_so\\_"), "{text}");
}

#[test]
fn what_can_t_be_printed_is_told() {
    let stand = Stand::new();
    for (arguments, said) in [
        (&["print", "pump_alon"][..], "did you mean `pump_alone`?"),
        (&["print", "--only-rules", "barrel"], "name a tree: "),
        (&["print", "--format", "pdf"], "[possible values: markdown, html]"),
    ] {
        let ran = stand.run(arguments);
        assert_eq!((ran.status, ran.stdout.as_str()), (Some(2), ""), "{arguments:?}: {ran:?}");
        assert!(ran.stderr.contains(said), "{arguments:?}: {}", ran.stderr);
    }
    let ran = stand.run(&["print"]);
    assert!(ran.stdout.starts_with("# Start here\n"), "{}", ran.stdout);
}
