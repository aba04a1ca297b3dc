//! Handbooks as large as none is: checking one comes to an end soon.

use dryhold::analysis::{Analysis, advise};
use dryhold::handbook::{Compiled, compile};
use dryhold::source::Sources;

/// A long chain of formulas is traced to its question once, not once for each link.
#[test]
fn a_long_chain_of_formulas_shares_its_questions() {
    let mut text = "format: 1\nname: Chain\nversion: 1\nquestions:\n  x:\n    ask: How many?\n    \
                    kind: number\nformulas:\n  f0:\n    is: x\n"
        .to_owned();
    for link in 1..2000 {
        text += &format!("  f{link}:\n    is: f{}\n", link - 1);
    }
    let mut sources = Sources::default();
    let id = sources.add("x.yaml", text);
    let handbook = compile(&sources, &[id], &[]).handbook.unwrap();
    let under = |name: &str| handbook.questions_under(handbook.symbol(name).unwrap());
    let question = handbook.find_question("x").unwrap();
    assert_eq!(under("f1999"), [question]);
    assert!(std::ptr::eq(under("f1999"), under("x")));
}

#[track_caller]
fn is_too_large(entries: impl Fn(usize) -> String, section: &str, most: usize, what: &str) {
    let head = "format: 1\nname: Large\nversion: 1\n";
    let check = |count: usize| {
        let entries: String = (0..count).map(&entries).collect();
        let mut sources = Sources::default();
        let id = sources.add("x.yaml", format!("{head}{section}:\n{entries}"));
        compile(&sources, &[id], &[])
    };
    let Compiled { handbook, faults, .. } = check(most + 1);
    assert!(handbook.is_none());
    let title = format!("the handbook has {} {what}, and may have {most}", most + 1);
    let told: Vec<_> = faults.iter().map(|f| (f.code.number(), f.title.clone())).collect();
    assert_eq!(told, [("H108", title)]);
    assert!(check(most).handbook.is_some());
}

#[test]
fn more_trees_or_entries_than_any_handbook_has_are_refused() {
    let source = |number| format!("  s{number}: {{title: A}}\n");
    is_too_large(source, "sources", 20_000, "entries");
    let tree =
        |number| format!("  t{number}: {{title: T, start: a, steps: {{a: {{end: Done.}}}}}}\n");
    is_too_large(tree, "trees", 500, "trees");
}

/// However many conditions hold at the same values, a value that they leave out is told once.
#[test]
fn conditions_alike_leave_a_value_out_once() {
    let sides = ["x < 5", "x > 5"].iter().cycle().take(400);
    let rules: String =
        sides.map(|side| format!("          - if: {side}\n            go: end\n")).collect();
    let text = format!(
        "format: 1\nname: Alike\nversion: 1\nquestions:\n  x:\n    ask: How many?\n    kind: number\n\
         trees:\n  t:\n    title: T\n    start: s\n    steps:\n      s:\n        ask: x\n        \
         next:\n{rules}          - too_close: end\n          - unknown: end\n          - else: end\n      \
         end:\n        end: Done.\n"
    );
    let mut sources = Sources::default();
    let id = sources.add("x.yaml", text);
    let Compiled { handbook, written, .. } = compile(&sources, &[id], &[]);
    let advice = advise(&written, &Analysis::of(&handbook.unwrap()));
    let left_out: Vec<_> = advice.iter().filter(|fault| fault.code.number() == "H612").collect();
    assert_eq!(left_out.len(), 1, "{left_out:?}");
}
