//! Pipes that close, devices that are full, input that has no end or no sense.

use super::Rough;

pub const TABLE: &[Rough] = &[
    Rough {
        what: "nobody at the terminal and no command",
        does: "dryhold",
        status: 0,
        says: "Usage: dryhold [OPTIONS] [COMMAND]",
    },
    Rough {
        what: "nobody at the terminal and a case",
        does: "dryhold diagnose pump_alone",
        status: 2,
        says: "nobody can answer here",
    },
    Rough {
        what: "a reader that has seen enough",
        does: "{ dryhold units; echo \"status $?\" > a; } | head -1; cat a",
        status: 0,
        says: "ratio status 0",
    },
    Rough {
        what: "a full disk for results",
        does: "dryhold units > /dev/full",
        status: 2,
        says: "the result can't be written: No space left on device",
    },
    Rough {
        what: "a full disk for a card",
        does: "dryhold print pump_alone --format html > /dev/full",
        status: 2,
        says: "the result can't be written",
    },
    Rough { what: "nowhere to talk", does: "dryhold units ratio 2>&-", status: 0, says: "exact" },
    Rough { what: "nowhere to listen", does: "dryhold units ratio <&-", status: 0, says: "exact" },
    Rough {
        what: "nowhere to print a verdict",
        does: "dryhold diagnose pump_alone --set blank_off=900 --acknowledge system_open >&-",
        status: 4,
        says: "safety question `system_connected` has no answer",
    },
    Rough {
        what: "talk to a full disk",
        does: "printf 'x\\n' | dryhold --plain diagnose pump_alone 2> /dev/full",
        status: 2,
        says: "",
    },
    Rough {
        what: "plain prompts and no input",
        does: "dryhold --plain diagnose pump_alone < /dev/null",
        status: 3,
        says: "Carry on with: dryhold --plain resume",
    },
    Rough {
        what: "plain prompts and an endless yes",
        does: "yes | dryhold --plain diagnose pump_alone",
        status: 4,
        says: "Carry on with: dryhold --plain resume",
    },
    Rough {
        what: "plain prompts and endless empty lines",
        does: "yes '' | dryhold --plain diagnose pump_alone",
        status: 3,
        says: "Carry on with: dryhold --plain resume",
    },
    Rough {
        what: "plain prompts and an endless line",
        does: "dryhold --plain diagnose pump_alone < /dev/zero",
        status: 3,
        says: "Carry on with: dryhold --plain resume",
    },
    Rough {
        what: "plain prompts and keys of a terminal",
        does: r"printf '\033[A\033[B\n\033]0;x\007\n' | dryhold --plain diagnose pump_alone",
        status: 3,
        says: "<U+001B>[A",
    },
    Rough {
        what: "lines of JSON and no input",
        does: "dryhold diagnose pump_alone --line-json < /dev/null",
        status: 3,
        says: "\"ended\":\"end_of_input\",\"exit_status\":3",
    },
    Rough {
        what: "lines of JSON a hundred thousand deep",
        does: r"head -c 100000 /dev/zero | tr '\0' '[' | dryhold diagnose pump_alone --line-json",
        status: 3,
        says: "\"why\":\"unreadable\"",
    },
    Rough {
        what: "lines of JSON without an end",
        does: "dryhold diagnose pump_alone --line-json < /dev/zero",
        status: 3,
        says: "\"ended\":\"end_of_input\"",
    },
    Rough {
        what: "lines of JSON that only go back, without an end",
        does: "yes '{\"do\":\"back\"}' | dryhold diagnose pump_alone --line-json | tail -1 | cut -c1-60",
        status: 0,
        says: "\"ended\":\"end_of_input\"",
    },
    Rough {
        what: "lines of JSON that nobody reads",
        does: "yes '{\"do\":\"back\"}' | dryhold diagnose pump_alone --line-json > /dev/full",
        status: 3,
        says: "",
    },
    Rough {
        what: "practice and no input",
        does: "dryhold practice --seed 3 < /dev/null",
        status: 3,
        says: "Practice, mixed, seed 3",
    },
    Rough {
        what: "columns and rows that are no numbers",
        does: "COLUMNS=-5 LINES=x TERM= dryhold units ratio",
        status: 0,
        says: "exact",
    },
    Rough {
        what: "a locale of ASCII",
        does: r"echo '0 min 300, 5 min 310, 10 min 320 micron' | LC_ALL=C dryhold rise - --plot > a
            status=$?; LC_ALL=C grep -c '[^ -~]' a; exit $status",
        status: 3,
        says: "0",
    },
];

#[test]
fn pipes_that_close_and_input_without_end_or_sense() {
    super::hold(TABLE);
}
