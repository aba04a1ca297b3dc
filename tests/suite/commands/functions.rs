//! `dryhold functions`, `dryhold eval --working`: every row fits the narrowest terminal.

use dryhold::formula::functions;

use super::stand::Stand;

fn too_wide(text: &str) -> Vec<&str> {
    text.lines().filter(|row| row.chars().count() > 80).collect()
}

#[test]
fn no_row_is_wider_than_eighty() {
    let stand = Stand::new();
    let list = stand.run(&["functions"]).stdout;
    assert_eq!(too_wide(&list), [""; 0]);
    for function in functions() {
        assert!(list.contains(&format!("  {}(", function.name)), "{} is not listed", function.name);
    }
    for function in functions() {
        let told = stand.run(&["functions", function.name]).stdout;
        assert_eq!(too_wide(&told), [""; 0], "{}", function.name);
    }
}

#[test]
fn no_working_is_wider_than_eighty() {
    let stand = Stand::new();
    for example in functions().flat_map(|function| function.examples) {
        let ran = stand.run(&["eval", example.text, "--working"]);
        // Examples that look back at answers have none here.
        if ran.status == Some(0) {
            assert_eq!(too_wide(&ran.stdout), [""; 0], "{}", example.text);
            let result = ran.stdout.lines().last().unwrap();
            assert!(result.starts_with(example.gives), "{}: {result}", example.text);
        }
    }
}
