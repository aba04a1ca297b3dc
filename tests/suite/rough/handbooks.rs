//! Folders of rules that somebody made by mistake or in malice.

use super::Rough;

pub const TABLE: &[Rough] = &[
    Rough {
        what: "rules in Latin-1",
        does: "dryhold --only-rules latin check",
        status: 5,
        says: "`latin/rules.yaml` is not a UTF-8 text: line 1 holds the byte E4",
    },
    Rough {
        what: "rules with a byte order mark",
        does: r"mkdir a; { printf '\357\273\277'; cat barrel/handbook.yaml; } > a/a.yaml
            dryhold --only-rules a check",
        status: 0,
        says: "is sound",
    },
    Rough {
        what: "rules in UTF-16",
        does: r"mkdir a; printf '\377\376f\000o\000' > a/a.yaml; dryhold --only-rules a check",
        status: 5,
        says: "is not a UTF-8 text",
    },
    Rough {
        what: "rules with a byte 0",
        does: r"mkdir a; printf 'format: 1\000\n' > a/a.yaml; dryhold --only-rules a check",
        status: 5,
        says: "error[H",
    },
    Rough {
        what: "a folder that is called like rules",
        does: "mkdir -p a/a.yaml; dryhold --only-rules a check",
        status: 5,
        says: "holds no YAML file",
    },
    Rough {
        what: "rules that are a link to nothing",
        does: "mkdir a; ln -s nowhere a/a.yaml; dryhold --only-rules a check",
        status: 5,
        says: "it is a link that leads to no file",
    },
    Rough {
        what: "a folder of rules that holds itself",
        does: "mkdir a; ln -s ../a a/a; dryhold --only-rules a check",
        status: 5,
        says: "holds no YAML file",
    },
    Rough {
        what: "rules that are a pipe nobody writes to",
        does: "mkdir a; mkfifo a/a.yaml; dryhold --only-rules a check",
        status: 5,
        says: "it is no file",
    },
    Rough {
        what: "rules that are a device without an end",
        does: "mkdir a; ln -s /dev/zero a/a.yaml; dryhold --only-rules a check",
        status: 5,
        says: "it is no file",
    },
    Rough {
        what: "a folder without rules",
        does: "dryhold --only-rules hollow check",
        status: 5,
        says: "holds no YAML file",
    },
    Rough {
        what: "a folder of rules that is not there",
        does: "dryhold --only-rules nowhere check",
        status: 2,
        says: "the folder nowhere can't be read: it is not there",
    },
    Rough {
        what: "a device instead of a folder of rules",
        does: "dryhold --only-rules /dev/null check",
        status: 2,
        says: "it is not a folder",
    },
    Rough {
        what: "rules that grow by aliases",
        does: "mkdir a; { echo 'a: &a [x,x,x,x,x,x,x,x]'
            for i in b c d e f g h i; do echo \"$i: &$i [*a,*a,*a,*a,*a,*a,*a,*a]\"; done; } > a/a.yaml
            dryhold --only-rules a check",
        status: 5,
        says: "error[H",
    },
    Rough {
        what: "rules a hundred thousand deep",
        does: r"mkdir a; head -c 100000 /dev/zero | tr '\0' '[' > a/a.yaml; dryhold --only-rules a check",
        status: 5,
        says: "stand more than 64 deep",
    },
    Rough {
        what: "rules of twenty megabytes",
        does: r"mkdir a; head -c 20000000 /dev/zero | tr '\0' '#' > a/a.yaml; dryhold --only-rules a check",
        status: 5,
        says: "is larger than the 1024 KiB of a handbook's file",
    },
    Rough {
        what: "rules that would retitle the terminal",
        does: r#"mkdir a; printf 'format: 1\nname: "\033]0;x\007"\nqestions: {}\n' > a/a.yaml
            dryhold --only-rules a check"#,
        status: 5,
        says: "the character U+001B can't be seen, or steers a terminal",
    },
    Rough {
        what: "rules with a word that reads backwards",
        does: r"mkdir a; printf 'format: 1\nname: x\n\342\200\256snoitseuq: {}\n' > a/a.yaml
            dryhold --only-rules a check",
        status: 5,
        says: "the character U+202E can't be seen, or steers a terminal",
    },
    Rough {
        what: "a file of rules whose name would clear the screen",
        does: r#"mkdir a; echo 'x: [' > "a/$(printf '\033[2J').yaml"; dryhold --only-rules a check"#,
        status: 5,
        says: "error[H",
    },
    Rough {
        what: "noise instead of a scenario",
        does: "head -c 5000 /dev/urandom > a.yaml; dryhold rehearse a.yaml",
        status: 2,
        says: "save it as UTF-8",
    },
    Rough {
        what: "a device without an end instead of scenarios",
        does: "dryhold rehearse /dev/zero",
        status: 2,
        says: "/dev/zero",
    },
    Rough {
        what: "a comparison with a handbook that is not there",
        does: "dryhold compare nowhere built_in",
        status: 2,
        says: "the folder nowhere can't be read",
    },
    Rough {
        what: "a new handbook in the place of a file",
        does: "echo mine > a; dryhold new handbook A --into a; cat a; dryhold units nowhere",
        status: 2,
        says: "it is not a folder mine",
    },
];

#[test]
fn rules_made_by_mistake_or_in_malice() {
    super::hold(TABLE);
}
