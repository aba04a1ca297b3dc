//! What is typed behind the program's name.

use super::Rough;

pub const TABLE: &[Rough] = &[
    Rough {
        what: "a formula of nothing",
        does: "dryhold eval ''",
        status: 2,
        says: "the formula is empty",
    },
    Rough {
        what: "a division by zero",
        does: "dryhold eval '1/0'",
        status: 2,
        says: "gives no finite number",
    },
    Rough {
        what: "a number beyond what can be computed",
        does: "dryhold eval '9e999 micron'",
        status: 2,
        says: "`9e999` is too large a number",
    },
    Rough {
        what: "a formula of a hundred thousand brackets",
        does: r#"dryhold eval "$(head -c 100000 /dev/zero | tr '\0' '(')""#,
        status: 2,
        says: "a formula of 100000 bytes is too long",
    },
    Rough {
        what: "a formula nested as deep as its length allows",
        does: r#"dryhold eval "$(head -c 900 /dev/zero | tr '\0' '(')1""#,
        status: 2,
        says: "error[H3",
    },
    Rough {
        what: "a letter of another alphabet in a unit",
        does: "dryhold eval '1 \u{430}tm'",
        status: 2,
        says: "did you mean `atm`?",
    },
    Rough {
        what: "a formula that would clear the screen",
        does: r#"dryhold eval "$(printf '1 +\033[2J 2')""#,
        status: 2,
        says: "`<U+001B>` is not used in formulas",
    },
    Rough {
        what: "an argument that is no text",
        does: r#"dryhold eval "$(printf '1\377')""#,
        status: 2,
        says: "invalid UTF-8",
    },
    Rough {
        what: "a folder whose name would colour the terminal",
        does: r#"dryhold --only-rules "$(printf 'a\033[31m')" check"#,
        status: 2,
        says: "a<U+001B>[31m",
    },
    Rough {
        what: "a name that reads backwards",
        does: r#"dryhold diagnose "$(printf 'a\342\200\256b')""#,
        status: 2,
        says: "a<U+202E>b",
    },
    Rough {
        what: "an answer without a sign between",
        does: "dryhold diagnose pump_alone --set blank_off",
        status: 2,
        says: "write --set QUESTION=ANSWER",
    },
    Rough {
        what: "an answer to no question",
        does: "dryhold diagnose pump_alone --set =5",
        status: 2,
        says: "names no question",
    },
    Rough {
        what: "an answer to a question misspelt",
        does: "dryhold diagnose pump_alone --set blank_of=5",
        status: 2,
        says: "did you mean `blank_off`?",
    },
    Rough {
        what: "an answer of nothing",
        does: "dryhold diagnose pump_alone --set blank_off=",
        status: 2,
        says: "no value stands here",
    },
    Rough {
        what: "an answer of a hundred thousand digits",
        does: r#"dryhold diagnose pump_alone --set "blank_off=$(head -c 100000 /dev/zero | tr '\0' 9)" > a
            status=$?; test "$(wc -c < a)" -lt 1000 && exit $status"#,
        status: 2,
        says: "",
    },
    Rough {
        what: "a pressure below nothing",
        does: "dryhold diagnose pump_alone --set 'blank_off=-5 micron'",
        status: 2,
        says: "is below a perfect vacuum",
    },
    Rough {
        what: "a pressure in no unit that there is",
        does: "dryhold diagnose pump_alone --set 'blank_off=45 apples'",
        status: 2,
        says: "`apples` is not a unit",
    },
    Rough {
        what: "a file of the system in the place of a pressure",
        does: "dryhold diagnose pump_alone --set blank_off=@/etc/passwd",
        status: 2,
        says: "`@/etc/passwd` is not understood",
    },
    Rough {
        what: "a device without an end as a hold",
        does: "dryhold diagnose hold_test --set hold_readings=@/dev/zero",
        status: 2,
        says: "line 1 has no end within 64 MiB",
    },
    Rough {
        what: "a folder as a hold",
        does: "dryhold diagnose hold_test --set hold_readings=@hollow",
        status: 2,
        says: "the log `hollow` can't be read: it is a folder",
    },
    Rough {
        what: "answers from a file that is not there",
        does: "dryhold diagnose pump_alone --answers nowhere.yaml",
        status: 2,
        says: "nowhere.yaml can't be read: it is not there",
    },
    Rough {
        what: "answers from a folder",
        does: "dryhold diagnose pump_alone --answers hollow",
        status: 2,
        says: "hollow can't be read: it is a folder",
    },
    Rough {
        what: "answers from a device without an end",
        does: "dryhold diagnose pump_alone --answers /dev/zero",
        status: 2,
        says: "/dev/zero is larger than the 128 MiB that are read of a file",
    },
    Rough {
        what: "answers from noise",
        does: "head -c 5000 /dev/urandom > a.yaml; dryhold diagnose pump_alone --answers a.yaml",
        status: 2,
        says: "save it as UTF-8",
    },
    Rough {
        what: "answers that hold themselves",
        does: r"printf 'tree: pump_alone\nanswers: &a {blank_off: *a}\n' > a.yaml
            dryhold diagnose --answers a.yaml",
        status: 2,
        says: "an anchor is a YAML feature that handbooks don't use",
    },
    Rough {
        what: "a command misspelt",
        does: "dryhold diagnos",
        status: 2,
        says: "a similar subcommand exists: 'diagnose'",
    },
    Rough {
        what: "an option misspelt",
        does: "dryhold --colour never units",
        status: 2,
        says: "a similar argument exists: '--color'",
    },
    Rough {
        what: "a tree with a name of a hundred thousand letters",
        does: r#"dryhold diagnose "$(head -c 100000 /dev/zero | tr '\0' x)" > a
            status=$?; test "$(wc -c < a)" -lt 3000 && exit $status"#,
        status: 2,
        says: "",
    },
    Rough {
        what: "a manual page of nothing",
        does: "dryhold manual nowhere",
        status: 2,
        says: "there is no command `nowhere`",
    },
    Rough {
        what: "completions for a shell that is not known",
        does: "DRYHOLD_COMPLETE=fishy dryhold -- dryhold d",
        status: 2,
        says: "no shell `fishy` is known",
    },
    Rough {
        what: "the list of a class from a device without an end",
        does: "dryhold practice --class /dev/zero",
        status: 2,
        says: "it is too long for the record of an exercise",
    },
];

#[test]
fn what_is_typed_behind_the_name() {
    super::hold(TABLE);
}
