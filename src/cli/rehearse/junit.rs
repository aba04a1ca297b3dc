//! A rehearsal for programs that gather tests: JUnit XML.
//!
//! There is no standard of it. What is written here is what readers of it commonly take
//! (`common_practice`): `testsuites` of `testsuite`s of `testcase`s, with `failure` or `skipped`
//! inside. A suite is a folder of scenarios; one more holds the coverage that was asked for.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::Path;

use super::told::{Told, Tried};
use crate::rehearsal::Outcome;

/// The whole document.
pub(super) fn junit(told: &Told) -> String {
    let mut suites: BTreeMap<String, Vec<&Tried>> = BTreeMap::new();
    for tried in &told.tried {
        suites.entry(folder(&tried.file)).or_default().push(tried);
    }
    let tests = told.tried.len() + told.below.len();
    let failures = told.fell_short() + told.below.len();
    let mut xml = String::from("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    let counted = counts(tests, failures, told.not_judged());
    let _ = writeln!(xml, "<testsuites name=\"dryhold rehearse\" {counted}>");
    for (name, tried) in &suites {
        suite(&mut xml, name, tried);
    }
    if !told.below.is_empty() {
        coverage(&mut xml, &told.below);
    }
    xml.push_str("</testsuites>");
    xml
}

/// The folder of a file; of a file named alone, a point.
fn folder(file: &str) -> String {
    let folder = Path::new(file).parent().map(|folder| folder.display().to_string());
    folder.filter(|folder| !folder.is_empty()).unwrap_or_else(|| ".".to_owned())
}

fn counts(tests: usize, failures: usize, skipped: usize) -> String {
    format!("tests=\"{tests}\" failures=\"{failures}\" errors=\"0\" skipped=\"{skipped}\"")
}

fn suite(xml: &mut String, name: &str, tried: &[&Tried]) {
    let of = |is_meant: &dyn Fn(Outcome) -> bool| {
        tried.iter().filter(|tried| is_meant(tried.outcome)).count()
    };
    let (failures, skipped) = (of(&Outcome::is_short), of(&|o| o == Outcome::NotJudged));
    let counted = counts(tried.len(), failures, skipped);
    let _ = writeln!(xml, "  <testsuite name=\"{}\" {counted}>", escaped(name));
    for tried in tried {
        case(xml, tried);
    }
    xml.push_str("  </testsuite>\n");
}

fn case(xml: &mut String, tried: &Tried) {
    let (name, tree, file) = (escaped(&tried.name), escaped(&tried.tree), escaped(&tried.file));
    let head = format!("    <testcase name=\"{name}\" classname=\"{tree}\" file=\"{file}\"");
    let _ = match tried.outcome {
        Outcome::Found => writeln!(xml, "{head}/>"),
        Outcome::NotJudged => {
            writeln!(
                xml,
                "{head}>\n      <skipped message=\"without an expectation\"/>\n    </testcase>"
            )
        }
        outcome => {
            let message = tried.misses.first().map_or("", |miss| &miss.text);
            let mut told = String::new();
            for miss in &tried.misses {
                let _ = writeln!(told, "{}: {}", miss.outcome.label(), miss.text);
                for line in &miss.because {
                    let _ = writeln!(told, "  - {line}");
                }
            }
            failure(xml, &head, outcome.label(), message, &told)
        }
    };
}

fn coverage(xml: &mut String, below: &[String]) {
    let counted = counts(below.len(), below.len(), 0);
    let _ = writeln!(xml, "  <testsuite name=\"coverage\" {counted}>");
    for short in below {
        let head = format!("    <testcase name=\"{}\" classname=\"coverage\"", escaped(short));
        let _ = failure(xml, &head, "coverage", short, "");
    }
    xml.push_str("  </testsuite>\n");
}

fn failure(
    xml: &mut String,
    head: &str,
    kind: &str,
    message: &str,
    told: &str,
) -> std::fmt::Result {
    let (message, told) = (escaped(message), escaped(told.trim_end()));
    writeln!(xml, "{head}>")?;
    writeln!(xml, "      <failure type=\"{kind}\" message=\"{message}\">{told}</failure>")?;
    writeln!(xml, "    </testcase>")
}

/// A text as it may stand in an attribute or between tags. XML 1.0 has no way to write most
/// control characters (Extensible Markup Language 1.0, fifth edition, 2.2): a mark stands for each.
fn escaped(text: &str) -> String {
    let mut safe = String::new();
    for letter in text.chars() {
        match letter {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\n' => safe.push_str("&#10;"),
            '\t' => safe.push_str("&#9;"),
            letter if letter.is_control() || matches!(letter, '\u{fffe}' | '\u{ffff}') => {
                safe.push('\u{fffd}');
            }
            letter => safe.push(letter),
        }
    }
    safe
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_xml_cannot_hold_is_marked_and_the_rest_is_escaped() {
        assert_eq!(escaped("a < b & \"c\"\n"), "a &lt; b &amp; &quot;c&quot;&#10;");
        assert_eq!(
            escaped("\u{1b}[2J\u{0}\r\u{7f}\u{ffff}"),
            "\u{fffd}[2J\u{fffd}\u{fffd}\u{fffd}\u{fffd}"
        );
        assert_eq!(escaped("µm äöü 測"), "µm äöü 測");
    }

    fn tried(file: &str, outcome: Outcome) -> Tried {
        Tried {
            file: file.to_owned(),
            name: "A & B".to_owned(),
            tree: "pump".to_owned(),
            outcome,
            misses: Vec::new(),
            remarks: Vec::new(),
            end: "pump.good".to_owned(),
            settled: false,
        }
    }

    #[test]
    fn scenarios_stand_by_folder_and_every_count_is_right() {
        let told = Told {
            tried: vec![
                tried("a/one.yaml", Outcome::Found),
                tried("two.yaml", Outcome::NotJudged),
                tried("a/three.yaml", Outcome::Missed),
            ],
            measured: Vec::new(),
            passed_over: 0,
            below: vec!["coverage of steps is 1 %".to_owned()],
        };
        let xml = junit(&told);
        let head = "<testsuites name=\"dryhold rehearse\" tests=\"4\" failures=\"2\" errors=\"0\" skipped=\"1\">";
        assert_eq!(xml.lines().nth(1), Some(head));
        let suites: Vec<&str> =
            xml.lines().filter_map(|row| row.trim().strip_prefix("<testsuite name=\"")).collect();
        assert_eq!(
            suites,
            [
                ".\" tests=\"1\" failures=\"0\" errors=\"0\" skipped=\"1\">",
                "a\" tests=\"2\" failures=\"1\" errors=\"0\" skipped=\"0\">",
                "coverage\" tests=\"1\" failures=\"1\" errors=\"0\" skipped=\"0\">",
            ]
        );
        assert_eq!(xml.matches("<testcase ").count(), 4);
        assert_eq!(xml.matches("<failure type=\"missed\"").count(), 1);
    }
}
