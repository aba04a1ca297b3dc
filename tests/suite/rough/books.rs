//! Books of cases that are damaged, foreign, full or nowhere.

use super::Rough;

pub const TABLE: &[Rough] = &[
    Rough {
        what: "a book that is a file",
        does: "echo mine > a; dryhold --book a cases",
        status: 2,
        says: "the folder a can't be read",
    },
    Rough {
        what: "a book that is a device",
        does: "dryhold --book /dev/null cases",
        status: 2,
        says: "the folder /dev/null can't be read",
    },
    Rough {
        what: "a book that is not there",
        does: "dryhold --book nowhere cases",
        status: 0,
        says: "There is no case in nowhere",
    },
    Rough {
        what: "a case in a book that is not there",
        does: "dryhold --book nowhere report 1",
        status: 2,
        says: "there is no case `1` in nowhere",
    },
    Rough {
        what: "a case outside of the book",
        does: "mkdir a; echo x > 2026-03-31-1.jsonl; dryhold --book a report ../2026-03-31-1",
        status: 2,
        says: "there is no case `../2026-03-31-1` in a",
    },
    Rough {
        what: "a book of which no case can be carried on",
        does: "dryhold --book hollow resume",
        status: 2,
        says: "there is no case in hollow",
    },
    Rough {
        what: "an empty case file",
        does: "mkdir a; : > a/2026-03-31-1.jsonl; dryhold --book a report 2026-03-31-1",
        status: 2,
        says: "the case `2026-03-31-1` can't be reported",
    },
    Rough {
        what: "noise instead of a case file",
        does: "mkdir a; head -c 3000 /dev/urandom > a/2026-03-31-1.jsonl; dryhold --book a cases",
        status: 0,
        says: "can't be read",
    },
    Rough {
        what: "a pipe nobody writes to among the cases",
        does: "mkdir a; mkfifo a/2026-03-31-1.jsonl; dryhold --book a cases",
        status: 0,
        says: "There is no case in a",
    },
    Rough {
        what: "a device without an end among the cases",
        does: "mkdir a; ln -s /dev/zero a/2026-03-31-1.jsonl; dryhold --book a cases",
        status: 0,
        says: "There is no case in a",
    },
    Rough {
        what: "an import of noise",
        does: "head -c 5000 /dev/urandom > a; dryhold import a",
        status: 2,
        says: "save it as UTF-8",
    },
    Rough {
        what: "an import of a folder",
        does: "dryhold import hollow",
        status: 2,
        says: "hollow can't be read: it is a folder",
    },
    Rough {
        what: "an import of a device without an end",
        does: "dryhold import /dev/zero",
        status: 2,
        says: "larger than the 128 MiB",
    },
    Rough {
        what: "an import of what is JSON and no case",
        does: r#"echo '{"a": [1, 2]}' > a; dryhold import a"#,
        status: 2,
        says: "it is neither a case that was exported nor a case file",
    },
    Rough {
        what: "an export of a case that is not there",
        does: "dryhold export nowhere --output a; status=$?; test -e a || exit $status",
        status: 2,
        says: "there is no case `nowhere`",
    },
    Rough {
        what: "a home that is not there",
        does: "HOME=/nonexistent XDG_DATA_HOME= dryhold cases",
        status: 0,
        says: "There is no case in /nonexistent",
    },
    Rough {
        what: "a data folder that begins nowhere",
        does: "XDG_DATA_HOME=relative dryhold cases",
        status: 0,
        says: "There is no case in",
    },
    Rough {
        what: "a time zone that is not there",
        does: "TZ=nowhere/never dryhold cases",
        status: 0,
        says: "There is no case in",
    },
    Rough {
        what: "a book where nothing can be written",
        does: "echo x > a; printf 'yes\\n' | dryhold --plain --book a/b diagnose pump_alone",
        status: 4,
        says: "this case goes on without being kept",
    },
    Rough {
        what: "a configuration without an end",
        does: "DRYHOLD_CONFIG=/dev/zero dryhold units ratio",
        status: 2,
        says: "it is larger than 64 KiB",
    },
    Rough {
        what: "a configuration that is a folder",
        does: "DRYHOLD_CONFIG=hollow dryhold units ratio",
        status: 2,
        says: "the configuration hollow: it is a folder",
    },
];

#[test]
fn books_damaged_foreign_full_or_nowhere() {
    super::hold(TABLE);
}
