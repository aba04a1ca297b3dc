//! What is told of two small sets of files.

use super::*;

fn compared(old: &str, new: &str) -> Vec<Difference> {
    let mut sources = Sources::default();
    let (old, new) = (sources.add("old.yaml", old), sources.add("new.yaml", new));
    differences((&sources, &[old]), (&sources, &[new]))
}

fn change(key: &str, old: Option<&str>, new: Option<&str>) -> KeyChange {
    KeyChange { key: key.to_owned(), old: old.map(str::to_owned), new: new.map(str::to_owned) }
}

fn difference(section: &str, id: &str, way: Way) -> Difference {
    Difference { section: section.to_owned(), id: id.to_owned(), way }
}

#[test]
fn layout_and_comments_are_no_difference() {
    let old = "causes:\n  leak:\n    name: A leak\n    fix: [seal, swap]\n";
    let new = "# Later.\ncauses: {leak: {fix: [seal, swap], name: 'A  leak'}}\n";
    assert_eq!(compared(old, new), []);
}

#[test]
fn a_changed_key_is_named_with_both_values() {
    let old = "version: 1\nfindings:\n  high:\n    shown_by: {leak: 0.9, wet: 0.2}\n";
    let new = "version: 2\nfindings:\n  high:\n    shown_by: {leak: 0.5}\n    so: High.\n";
    let keys = vec![
        change("shown_by.leak", Some("0.9"), Some("0.5")),
        change("shown_by.wet", Some("0.2"), None),
        change("so", None, Some("High.")),
    ];
    let version = vec![change("value", Some("1"), Some("2"))];
    let expected = [
        difference("findings", "high", Way::Changed(keys)),
        difference("handbook", "version", Way::Changed(version)),
    ];
    assert_eq!(compared(old, new), expected);
}

#[test]
fn an_entry_is_renamed_only_where_it_says_so() {
    let old = "causes:\n  leak: {name: A leak}\n  wet: {name: Water}\n";
    let new = "causes:\n  seal: {was: leak, name: A seal}\n  water: {name: Water}\n";
    let keys = vec![change("name", Some("A leak"), Some("A seal"))];
    let expected = [
        difference("causes", "seal", Way::Renamed("leak".to_owned(), keys)),
        difference("causes", "water", Way::Added),
        difference("causes", "wet", Way::Removed),
    ];
    assert_eq!(compared(old, new), expected);
    // Once both handbooks have the new id, its former one says nothing.
    assert_eq!(compared(new, new), []);
}

/// Where others name it by its new id, they say the same as before.
#[test]
fn a_renamed_entry_is_followed_where_it_is_named() {
    let old = "causes:\n  wet: {name: Water}\nfindings:\n  high:\n    shown_by: {wet: 0.9}\n    same_measurement: [wet]\n";
    let new = "causes:\n  damp: {was: wet, name: Water}\nfindings:\n  high:\n    shown_by: {damp: 0.9}\n    same_measurement: [damp]\n";
    let expected = [difference("causes", "damp", Way::Renamed("wet".to_owned(), Vec::new()))];
    assert_eq!(compared(old, new), expected);
}

#[test]
fn a_renamed_step_is_followed_where_it_is_named() {
    let tree = |first: &str, second: &str, more: &str| {
        format!(
            "trees:\n  t:\n    start: {first}\n    steps:\n      {first}:\n        ask: oil\n        \
             next: {{yes: {second}, no: {first}}}\n      {second}:\n        end: Done.\n{more}"
        )
    };
    let steps = |changes: &[(&str, &str)]| {
        let all = changes.iter().map(|(old, new)| change("steps", Some(old), Some(new)));
        vec![difference("trees", "t", Way::Changed(all.collect()))]
    };
    // By what they say alone, each leading to the other or to itself; then by its own word.
    let (old, new) = (tree("oil", "done", ""), tree("look", "ready", ""));
    assert_eq!(compared(&old, &new), steps(&[("done", "ready"), ("oil", "look")]));
    let new = tree("oil", "ready", "        was: done\n");
    assert_eq!(compared(&old, &new), steps(&[("done", "ready")]));
    // Where two would fit, neither is taken for it.
    let new = tree("oil", "ready", "      over:\n        end: Done.\n");
    let keys = [
        change("steps.done.end", Some("Done."), None),
        change("steps.oil.next.yes", Some("done"), Some("ready")),
        change("steps.over.end", None, Some("Done.")),
        change("steps.ready.end", None, Some("Done.")),
    ];
    assert_eq!(compared(&old, &new), [difference("trees", "t", Way::Changed(keys.into()))]);
}

#[test]
fn the_order_of_choices_counts() {
    let old = "questions:\n  look:\n    choices: {fine: Fine, bad: Bad}\n";
    let new = "questions:\n  look:\n    choices: {bad: Bad, fine: Fine}\n";
    let keys = vec![change("choices", Some("fine, bad"), Some("bad, fine"))];
    assert_eq!(compared(old, new), [difference("questions", "look", Way::Changed(keys))]);
}
