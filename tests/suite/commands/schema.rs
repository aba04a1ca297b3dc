//! `dryhold schema`.

use dryhold::handbook::{SchemaOf, schema};

use super::stand::Stand;

#[test]
fn each_sort_of_file_is_printed_and_the_handbook_by_default() {
    let stand = Stand::new();
    for (arguments, of) in [
        (&["schema"][..], SchemaOf::Handbook),
        (&["schema", "handbook", "--format", "json"], SchemaOf::Handbook),
        (&["schema", "scenario"], SchemaOf::Scenario),
        (&["schema", "answers"], SchemaOf::Answers),
    ] {
        let ran = stand.run(arguments);
        assert_eq!((ran.status, ran.stderr.as_str()), (Some(0), ""), "{arguments:?}");
        assert_eq!(ran.json(), schema(of), "{arguments:?}");
    }
}

#[test]
fn other_sorts_and_formats_are_refused() {
    let stand = Stand::new();
    for arguments in [&["schema", "tree"][..], &["schema", "--format", "xml"]] {
        let ran = stand.run(arguments);
        assert_eq!((ran.status, ran.stdout.as_str()), (Some(2), ""), "{arguments:?}");
        assert!(ran.stderr.contains("[possible values: "), "{}", ran.stderr);
    }
}
