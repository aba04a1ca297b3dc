//! The registry of faults: every code is written out here and never used twice.
//!
//! Grouped in hundreds: 1 files and YAML, 2 keys and names, 3 formula text, 4 kinds and units,
//! 5 numbers and evidence, 6 trees, 7 texts, 8 scenarios and answers,
//! 9 logs of readings.

/// How grave a fault is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// The handbook can't run.
    Error,
    /// It runs, but hardly as its author meant.
    Warning,
    /// It runs as meant, and could serve its users better; told by `dryhold check` alone.
    Advice,
}

macro_rules! codes {
    ($($(#[$doc:meta])* $name:ident = $number:literal, $severity:ident, $title:literal;)*) => {
        /// A fault that an author can make.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Code {
            $(#[doc = $title] $name,)*
        }

        /// Every code, in the order of the registry.
        pub const CODES: &[Code] = &[$(Code::$name,)*];

        impl Code {
            /// The code as it is printed and as its page in `docs/errors/` is named: `H201`.
            #[must_use]
            pub fn number(self) -> &'static str {
                match self { $(Code::$name => $number,)* }
            }

            /// What it is about, in a few words.
            #[must_use]
            pub fn title(self) -> &'static str {
                match self { $(Code::$name => $title,)* }
            }

            /// How grave it is.
            #[must_use]
            pub fn severity(self) -> Severity {
                match self { $(Code::$name => Severity::$severity,)* }
            }
        }
    };
}

codes! {
    Unreadable = "H101", Error, "a file can't be read";
    NotYaml = "H102", Error, "the text is not YAML";
    SplitAtComma = "H103", Error, "YAML split a text at a comma";
    CutAtHash = "H104", Error, "YAML cut a text at a number sign";
    ColonInText = "H105", Error, "YAML took a colon in a text for a key";
    BlockForComparison = "H106", Error, "YAML took a comparison for a folded block";
    YamlFeature = "H107", Error, "a YAML feature that handbooks don't use";
    TooLarge = "H108", Error, "a file or a text is larger than a handbook needs";
    ControlCharacter = "H109", Error, "a character that can't be seen or that steers a terminal";
    WrongShape = "H110", Error, "a map, a list or a text stands where another belongs";
    WrongFormat = "H111", Error, "the format of the handbook is not known";
    PassedOver = "H112", Advice, "a file that looks like rules and is not read";
    CurlyQuotes = "H113", Error, "a text in curly quotes";
    UnknownKey = "H201", Error, "a key that this entry doesn't have";
    DuplicateKey = "H202", Error, "a key written twice";
    DuplicateId = "H203", Error, "an id used twice";
    MissingKey = "H204", Error, "a key is missing";
    BadId = "H205", Error, "a name that can't be an id";
    UnknownName = "H206", Error, "a name that nothing carries";
    ReservedName = "H207", Error, "an id that the language uses itself";
    NotReplacing = "H208", Error, "an entry says that it replaces one, and none is there";
    KeysTogether = "H209", Error, "keys that don't go together";
    UnknownWord = "H210", Error, "a word that is not one of those possible here";
    NamesItself = "H211", Error, "an entry that names itself";
    NeverLeft = "H212", Warning, "a condition that no action leaves behind";
    NeverUsed = "H213", Advice, "an entry that nothing uses";
    IdleWaiver = "H214", Advice, "a waiver that waives nothing";
    NothingDepends = "H215", Advice, "a question whose answer changes nothing";
    WordTaken = "H216", Error, "words for an answer that mean something already";
    BadCharacter = "H301", Error, "a character that formulas don't use";
    BadOperator = "H302", Error, "an operator from another language";
    UnexpectedToken = "H303", Error, "something else was expected here";
    UnclosedBracket = "H304", Error, "a bracket is not closed";
    UnknownUnit = "H305", Error, "a unit that is not known";
    BadNumber = "H306", Error, "a number that can't be read";
    TooDeep = "H307", Error, "a formula is too long or too deep";
    EmptyFormula = "H308", Error, "a formula without anything in it";
    BadPlaceholder = "H309", Error, "a brace in a text that can't be read";
    WrongKind = "H401", Error, "a value of another kind is needed here";
    KindsDiffer = "H402", Error, "two values that can't be joined or compared";
    WrongArguments = "H403", Error, "a function called with other arguments than it takes";
    UnknownFunction = "H404", Error, "a function that is not known";
    ProbabilityCompared = "H405", Error, "a probability can't be compared with a number";
    WrongUnit = "H406", Error, "a unit of another kind";
    UnknownChoice = "H407", Error, "a choice that the question doesn't offer";
    NoFace = "H408", Error, "an instrument whose face no choice tells";
    UnitUnsaid = "H409", Error, "a choice that doesn't say which unit it stands for";
    MissingBasis = "H501", Error, "a number without its basis";
    BelowBackground = "H502", Error, "a strength below the background";
    OutOfRange = "H503", Error, "a number outside its range";
    NotADistribution = "H504", Error, "shares that don't make a whole";
    FormulaCycle = "H505", Error, "names that need each other in a circle";
    BringsCycle = "H506", Error, "causes that bring each other in a circle";
    TooManyCauses = "H507", Error, "more causes than can be weighed together";
    Clamped = "H508", Warning, "a strength that claims certainty";
    ReplacesCycle = "H509", Error, "findings that replace each other in a circle";
    CountedTwice = "H510", Warning, "two findings off one reading";
    NothingFor = "H511", Advice, "a cause that no finding speaks for";
    NothingAgainst = "H512", Advice, "a cause that no finding speaks against";
    AlikeCauses = "H513", Advice, "causes that nothing tells apart";
    NeverTrue = "H514", Advice, "a finding that can't come true";
    PercentForgotten = "H515", Warning, "a number without a unit beside something in %";
    CauseLeftOut = "H516", Advice, "a finding that leaves out one cause";
    ReadAgainUnread = "H517", Error, "a reading to read again that the finding doesn't look at";
    DisputesItself = "H518", Error, "a contradiction that rests on a finding";
    DanglingStep = "H601", Error, "a step that is not there";
    UnreachableStep = "H602", Error, "a step that nothing leads to";
    NoWayToEnd = "H603", Error, "a step from which no end can be reached";
    EndlessCycle = "H604", Error, "a circle of steps without a bound";
    BranchMissing = "H605", Error, "a choice that leads nowhere";
    StepKind = "H606", Error, "a step that is not exactly one kind of step";
    VisitCycle = "H607", Error, "trees that visit each other in a circle";
    DoubtUnsaid = "H608", Warning, "a branch that doesn't say what doubt does";
    DeadStep = "H609", Advice, "a step that no answers lead to";
    NeverTaken = "H610", Advice, "a branch that is never taken";
    AlwaysTheSame = "H611", Advice, "a condition that always comes out the same";
    LeftOut = "H612", Advice, "a value that falls between two conditions";
    ClaimedTwice = "H613", Advice, "a value that two conditions claim";
    NotAllFollowed = "H614", Advice, "a tree with more ways than are followed one by one";
    RangeLeftOut = "H615", Advice, "a range that falls between two conditions";
    RangeClaimedTwice = "H616", Advice, "a range that two conditions claim";
    NotAsked = "H617", Advice, "a text that tells of what may not have been asked";
    LooksBackTooSoon = "H618", Advice, "a look back before there is anything to look back at";
    StaleAnswer = "H619", Advice, "a step that passes with an answer from before an action";
    AskedTwiceInARow = "H620", Advice, "a question asked again though nothing was done";
    LastUnread = "H621", Advice, "a bound that leaves the last action unread";
    Unoffered = "H622", Advice, "a tree that nothing leads to";
    UnsureTold = "H623", Advice, "an instruction that tells of what nobody may know";
    UnsureIsHazard = "H624", Error, "a way for not sure where that counts as the dangerous answer";
    EmptyText = "H701", Error, "a text without anything in it";
    NoText = "H702", Advice, "a text that the people on site or on the phone miss";
    LongSentence = "H703", Advice, "a sentence too long to be read aloud";
    WideRow = "H704", Advice, "a name too long for a narrow screen";
    NoCaution = "H705", Advice, "something that can hurt, without a caution";
    CautionAtStepOnly = "H706", Advice, "a caution that can be passed by";
    UnknownAnswer = "H801", Error, "an answer to a question that the handbook doesn't ask";
    UnreadableAnswer = "H802", Error, "an answer that can't be read";
    UnknownExpectation = "H803", Error, "an expectation of something that isn't there";
    RigUnanswered = "H804", Error, "a question or an action that nothing is done for at the rig";
    RigMisfit = "H805", Error, "something at the rig that doesn't fit its question or its size";
    LogColumns = "H901", Error, "a log whose columns can't be told";
    LogUnit = "H902", Error, "a column of a log whose unit is missing or can't be its own";
    LogComma = "H903", Error, "a comma in a number of a log that can mean two things";
    LogRow = "H904", Warning, "a row of a log that can't be used as it stands";
    LogTimeBack = "H905", Error, "an elapsed time that goes back";
    LogTooShort = "H906", Error, "a log with fewer than two readings";
}

impl std::str::FromStr for Code {
    type Err = ();

    /// The code of a number such as `H201`.
    fn from_str(number: &str) -> Result<Self, ()> {
        CODES.iter().copied().find(|code| code.number() == number).ok_or(())
    }
}

impl std::fmt::Display for Code {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.number())
    }
}

#[cfg(test)]
mod tests {
    use super::CODES;

    #[test]
    fn numbers_rise_and_none_repeats() {
        let numbers: Vec<&str> = CODES.iter().map(|code| code.number()).collect();
        assert!(numbers.windows(2).all(|pair| pair[0] < pair[1]), "{numbers:?}");
    }
}
