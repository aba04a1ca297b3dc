//! `dryhold graph`.

use std::collections::BTreeSet;
use std::io::Write;
use std::process::{Command, Stdio};

use super::stand::Stand;

fn drawn(stand: &Stand, arguments: &[&str]) -> String {
    let mut all = vec!["graph"];
    all.extend(arguments);
    let ran = stand.run(&all);
    assert_eq!((ran.status, ran.stderr.as_str()), (Some(0), ""), "{arguments:?}: {ran:?}");
    ran.stdout
}

fn trees() -> Vec<String> {
    let handbook = dryhold::built_in::built_in_handbook().unwrap();
    handbook.trees().iter().map(|tree| tree.id.clone()).collect()
}

/// A handbook whose texts hold what the three languages use themselves.
fn hostile(stand: &Stand) {
    std::fs::create_dir(stand.path("hostile")).unwrap();
    let text = r##"format: 1
name: 'A "name" <b>&amp; \ #end; | `x`'
version: 1
trees:
  end:
    title: 'Quote " and \n <script>alert(1)</script> ]]> -->|x| {a} ; #35; %%{init}%%'
    start: graph
    steps:
      graph:
        do: 'A "quoted" <text> with \ and | and ; and #quot; and ]] ) }} %% x'
        next: subgraph
      subgraph:
        end: 'Done & gone "]; n0 -> n1; </text></svg>'
"##;
    stand.write("hostile/rules.yaml", text);
}

/// A check by rules of DOT's grammar: quotes are closed, and every statement is one that is known.
fn assert_dot(text: &str) {
    let mut lines = text.lines();
    assert!(lines.next().unwrap().starts_with("digraph \"") && text.ends_with("}\n"), "{text}");
    for line in lines {
        let mut outside = String::new();
        let (mut is_open, mut is_escaped) = (false, false);
        for c in line.chars() {
            match c {
                _ if is_escaped => is_escaped = false,
                '\\' if is_open => is_escaped = true,
                '"' => is_open = !is_open,
                c if !is_open => outside.push(c),
                _ => {}
            }
        }
        assert!(!is_open, "a quote stays open: {line}");
        let outside = outside.trim();
        let is_known = ["graph [", "node [", "edge [", "legend [", "}"]
            .iter()
            .any(|start| outside.starts_with(start))
            || outside.strip_prefix('n').is_some_and(|rest| {
                rest.starts_with(|c: char| c.is_ascii_digit()) && rest.ends_with("];")
            });
        assert!(is_known, "{line}");
    }
}

/// A check by rules of Mermaid's grammar: lines of nodes, links, classes, with quoted labels.
fn assert_mermaid(text: &str) {
    let mut lines = text.lines();
    assert_eq!(lines.next(), Some("flowchart TD"));
    let is_id = |word: &str| {
        word == "legend"
            || word
                .strip_prefix('n')
                .is_some_and(|n| !n.is_empty() && n.chars().all(|c| c.is_ascii_digit()))
    };
    for line in lines {
        let line = line.trim();
        if line.starts_with("accTitle: ") || line.starts_with("classDef ") {
            assert!(!line.contains(['"', '<', '>', '`', '#', ';', '%']), "{line}");
            continue;
        }
        if let Some(ids) = line.strip_prefix("class ") {
            let (ids, class) = ids.split_once(' ').unwrap();
            assert!(ids.split(',').all(is_id) && ["thick", "dashed"].contains(&class), "{line}");
            continue;
        }
        assert!(line.matches('"').count() % 2 == 0, "{line}");
        let outside: String = line.split('"').step_by(2).collect();
        let inside: String = line.split('"').skip(1).step_by(2).collect();
        let told = inside.replace("<br/>", "");
        assert!(!told.contains(['<', '>', '`', '|', '{', '}', '\\']), "{line}");
        let id: String = outside.chars().take_while(|c| c.is_ascii_alphanumeric()).collect();
        assert!(is_id(&id), "{line}");
        let rest = &outside[id.len()..];
        let is_node = ["[]", "[[]]", "()", "([])", "{{}}", "[//]"].contains(&rest);
        let is_link = ["-->", "==>", "-.->"].iter().any(|arrow| {
            rest.trim()
                .strip_prefix(arrow)
                .is_some_and(|to| is_id(to.trim_start_matches('|').trim()))
        });
        assert!(is_node || is_link, "{line}");
    }
}

/// A check of SVG: every tag is closed in order, and only a few are used.
fn assert_svg(text: &str) {
    let mut open: Vec<&str> = Vec::new();
    let mut rest = text;
    let known = ["svg", "title", "desc", "defs", "marker", "path", "rect", "text", "polyline"];
    while let Some(start) = rest.find('<') {
        let end = start + rest[start..].find('>').expect("a tag is closed");
        let tag = &rest[start + 1..end];
        rest = &rest[end + 1..];
        if let Some(name) = tag.strip_prefix('/') {
            assert_eq!(open.pop(), Some(name));
            continue;
        }
        let name = tag.split([' ', '/']).next().unwrap();
        assert!(known.contains(&name), "{tag}");
        if !tag.ends_with('/') {
            open.push(name);
        }
    }
    assert!(open.is_empty(), "{open:?}");
    for foreign in ["<script", "href", " style=", " on"] {
        let inside_tags: Vec<&str> =
            text.split('<').filter_map(|tag| tag.split('>').next()).collect();
        assert!(!inside_tags.iter().any(|tag| format!("<{tag}").contains(foreign)), "{foreign}");
    }
    assert_eq!(text.matches("http://").count(), 1, "nothing is loaded from elsewhere");
    assert!(text.starts_with("<svg xmlns=\"http://www.w3.org/2000/svg\""), "{}", &text[..80]);
    assert!(text.contains("<title id=\"title\">") && text.contains("<desc id=\"desc\">"));
}

/// The rectangles that are outlines of boxes.
fn boxes(svg: &str) -> Vec<[f64; 4]> {
    let number = |line: &str, name: &str| -> f64 {
        let (_, rest) = line.split_once(&format!(" {name}=\"")).unwrap();
        rest.split('"').next().unwrap().parse().unwrap()
    };
    svg.lines()
        .filter(|line| line.starts_with("<rect x=") && line.contains("stroke=\"#000\""))
        .map(|line| ["x", "y", "width", "height"].map(|name| number(line, name)))
        .collect()
}

#[test]
fn every_tree_is_drawn_in_every_language() {
    let stand = Stand::new();
    for tree in trees().iter().map(String::as_str).chain([""]) {
        let named: Vec<&str> = if tree.is_empty() { Vec::new() } else { vec![tree] };
        let with = |format| [&named[..], &["--format", format]].concat();
        assert_dot(&drawn(&stand, &with("dot")));
        assert_mermaid(&drawn(&stand, &with("mermaid")));
        let svg = drawn(&stand, &with("svg"));
        assert_svg(&svg);
        let boxes = boxes(&svg);
        assert!(boxes.len() >= 3, "{tree}");
        let overlaps = |a: &[f64; 4], b: &[f64; 4]| {
            let is_inside = a[0] <= b[0] && b[0] + b[2] <= a[0] + a[2];
            let is_apart = a[0] + a[2] <= b[0]
                || b[0] + b[2] <= a[0]
                || a[1] + a[3] <= b[1]
                || b[1] + b[3] <= a[1];
            !is_apart && !is_inside
        };
        for (place, one) in boxes.iter().enumerate() {
            for other in &boxes[place + 1..] {
                assert!(!overlaps(one, other), "{tree}: {one:?} {other:?}");
            }
        }
    }
}

#[test]
fn texts_of_a_handbook_stay_texts() {
    let stand = Stand::new();
    hostile(&stand);
    for tree in [&["end"][..], &[]] {
        let with = |format| [&["--only-rules", "hostile", "--format", format], tree].concat();
        assert_dot(&drawn(&stand, &with("dot")));
        assert_mermaid(&drawn(&stand, &with("mermaid")));
        let svg = drawn(&stand, &with("svg"));
        assert_svg(&svg);
        assert!(!svg.contains("<script") && svg.matches("</svg>").count() == 1, "{svg}");
    }
}

/// `computed`: the steps of `rules/trees/note_vacuum.yaml` follow one another, four questions and an
/// end.
#[test]
fn a_chain_of_questions_is_a_chain_of_boxes() {
    let mermaid = drawn(&Stand::new(), &["note_vacuum", "--format", "mermaid"]);
    let links: Vec<&str> = mermaid.lines().filter(|row| row.contains(" --> ")).collect();
    let wanted: Vec<String> = (0..4).map(|n| format!("  n{n} --> n{}", n + 1)).collect();
    assert_eq!(links, wanted);
    assert!(mermaid.contains("n0(\"ask: reading<br/>"), "{mermaid}");
    assert!(mermaid.contains("n4([\"end: noted<br/>"), "{mermaid}");
}

#[test]
fn branches_say_what_leads_along_them() {
    let dot = drawn(&Stand::new(), &["safety", "--format", "dot"]);
    for label in ["label=\"no\"", "label=\"yes\"", "label=\"if class_too_mild"] {
        assert!(dot.contains(label), "{label}: {dot}");
    }
    let dot = drawn(&Stand::new(), &["start", "--format", "dot"]);
    assert!(dot.contains("label=\"Read the pump on its own"), "{dot}");
    let dot = drawn(&Stand::new(), &["pump_alone", "--format", "dot"]);
    for label in ["if still_falling", "too close", "after 4 times", "offered next"] {
        assert!(dot.contains(label), "{label}");
    }
}

#[test]
fn a_case_s_path_is_told_by_words_and_strokes() {
    let stand = Stand::new();
    let barrel = ["--plain", "--only-rules", "barrel", "diagnose", "barrel"];
    let ran = stand.run_fed(&barrel, b"the first\nA. B.\n");
    let (_, rest) = ran.stderr.split_once("Case ").unwrap();
    let case = rest.split_once(".\n").unwrap().0.to_owned();
    let with = |format| {
        ["--only-rules", "barrel", "graph", "barrel", "--case", &case, "--format", format]
            .map(str::to_owned)
    };
    let mermaid = stand.run(&with("mermaid")).stdout;
    assert_mermaid(&mermaid);
    assert!(mermaid.contains("[passed: 1") || mermaid.contains("stands here"), "{mermaid}");
    assert!(mermaid.contains("Thick: the case has passed it"), "{mermaid}");
    assert!(mermaid.contains("classDef thick"), "{mermaid}");
    let dot = stand.run(&with("dot")).stdout;
    assert!(dot.contains("bold"), "{dot}");
    let svg = stand.run(&with("svg")).stdout;
    assert!(svg.contains("stroke-width=\"3\"") && svg.contains("Thick: the case"), "{svg}");
    assert!(!svg.contains("fill=\"red\"") && !svg.contains("stroke=\"red\""));
    let none = stand.run(&["graph", "--only-rules", "barrel", "--case", "1999-01-01-1"]);
    assert_eq!(none.status, Some(2), "{none:?}");
    assert!(none.stderr.contains("there is no case `1999-01-01-1`"), "{none:?}");
}

#[test]
fn coverage_tells_what_no_scenario_reached() {
    let stand = Stand::new();
    let scenarios = super::stand::fixtures().join("miniature/scenarios");
    let scenarios = scenarios.to_str().unwrap();
    let arguments = |format| {
        [
            "--only-rules",
            "barrel",
            "barrel",
            "--coverage",
            "--scenarios",
            scenarios,
            "--format",
            format,
        ]
    };
    let mermaid = drawn(&stand, &arguments("mermaid"));
    assert_mermaid(&mermaid);
    let reached = mermaid.matches("[reached by 1 scenario]").count();
    let missed = mermaid.matches("[never reached]").count();
    assert!(reached > 2 && missed > 0, "{mermaid}");
    assert!(mermaid.contains("-.->") && mermaid.contains("never taken"), "{mermaid}");
    // The drawing and the rehearsal agree on the steps of this tree.
    let rehearsed = stand.run(&["--only-rules", "barrel", "rehearse", scenarios]).stdout;
    let told: BTreeSet<&str> = rehearsed
        .lines()
        .filter(|row| !row.contains("->"))
        .filter_map(|row| row.trim().strip_prefix("barrel."))
        .collect();
    assert_eq!(told.len(), missed, "{rehearsed}\n{mermaid}");
    let svg = drawn(&stand, &arguments("svg"));
    assert!(svg.contains("stroke-dasharray") && svg.contains("Dashed: no scenario"), "{svg}");
}

#[test]
fn what_can_t_be_drawn_is_told() {
    let stand = Stand::new();
    for (arguments, said) in [
        (&["graph", "pump_alon"][..], "did you mean `pump_alone`?"),
        (&["graph", "x"], "there is no tree `x`; the trees are "),
        (&["graph", "--coverage", "--scenarios", "nowhere"], "nowhere is not there"),
        (&["graph", "--scenarios", "nowhere"], "--coverage"),
        (&["graph", "--coverage", "--case", "x"], "cannot be used with"),
        (&["graph", "--format", "png"], "[possible values: dot, mermaid, svg]"),
        (&["graph", "--only-rules", "nowhere"], "nowhere can't be read: it is not there"),
    ] {
        let ran = stand.run(arguments);
        assert_eq!((ran.status, ran.stdout.as_str()), (Some(2), ""), "{arguments:?}: {ran:?}");
        assert!(ran.stderr.contains(said), "{arguments:?}: {}", ran.stderr);
    }
    assert_eq!(stand.run(&["graph", "--only-rules", "broken"]).status, Some(5));
}

/// Where the program of the DOT language is there, it takes every drawing.
#[test]
fn the_program_of_the_dot_language_takes_it() {
    let stand = Stand::new();
    hostile(&stand);
    let is_there = Command::new("dot").arg("-V").output().is_ok();
    if !is_there {
        eprintln!("skipped: there is no program `dot` here");
        return;
    }
    for arguments in
        [&["pump_alone", "--format", "dot"][..], &["--only-rules", "hostile", "--format", "dot"]]
    {
        let mut command = Command::new("dot");
        command.args(["-Tplain"]).stdin(Stdio::piped()).stdout(Stdio::piped());
        let mut child = command.spawn().unwrap();
        child.stdin.take().unwrap().write_all(drawn(&stand, arguments).as_bytes()).unwrap();
        assert!(child.wait_with_output().unwrap().status.success());
    }
}
