//! Sizes of hoses and pipes as people say them: `five eighths`, `three quarter inch`, `one and an eighth`.

/// What a fraction counts, with its plural and the number below its line.
const PARTS: [(&str, &str, u32); 4] = [
    ("half", "halves", 2),
    ("quarter", "quarters", 4),
    ("eighth", "eighths", 8),
    ("sixteenth", "sixteenths", 16),
];

/// How many of them.
const NUMBERS: [(&str, u32); 11] = [
    ("a", 1),
    ("an", 1),
    ("one", 1),
    ("two", 2),
    ("three", 3),
    ("five", 5),
    ("seven", 7),
    ("nine", 9),
    ("eleven", 11),
    ("thirteen", 13),
    ("fifteen", 15),
];

const INCH: [&str; 3] = ["inch", "inches", "in"];

/// What a size stands before.
const SIZED: [&str; 8] = ["hose", "hoses", "line", "lines", "pipe", "tube", "tubing", "copper"];

/// The sizes within a text in figures: `hose is five eighths` becomes `hose is 5/8`, an inch behind it
/// stays. Quarters and halves, of which there are others than of an inch, only where they stand last or
/// before what has a size.
///
/// ```
/// use dryhold::quantity::sizes_in_figures;
/// assert_eq!(sizes_in_figures("five-eighths of an inch"), "5/8 inch");
/// assert_eq!(sizes_in_figures("half inch hose"), "1/2 inch hose");
/// assert_eq!(sizes_in_figures("three quarters of an hour"), "three quarters of an hour");
/// ```
#[must_use]
pub fn sizes_in_figures(text: &str) -> String {
    let tokens: Vec<&str> = text.split_whitespace().flat_map(parted).collect();
    let (mut out, mut at, mut is_changed) = (Vec::new(), 0, false);
    while at < tokens.len() {
        match size_at(&tokens[at..]) {
            Some((size, many)) => {
                out.push(size);
                (at, is_changed) = (at + many, true);
            }
            None => {
                out.push(tokens[at].to_owned());
                at += 1;
            }
        }
    }
    if is_changed { out.join(" ") } else { text.to_owned() }
}

/// `five-eighths` as two words; any other word as it is.
fn parted(token: &str) -> Vec<&str> {
    match token.split_once('-') {
        Some((many, part)) if number(many).is_some() && below(part).is_some() => vec![many, part],
        _ => vec![token],
    }
}

/// The size with which words begin, and how many of them it takes.
fn size_at(words: &[&str]) -> Option<(String, usize)> {
    let (size, many, is_plain) = match words {
        [whole, and, rest @ ..] if *and == "and" && number(whole).is_some() => {
            let (fraction, many, is_plain) = fraction(rest)?;
            (format!("{} {fraction}", number(whole)?), many + 2, is_plain)
        }
        _ => fraction(words)?,
    };
    let behind = &words[many..];
    let skipped = match behind {
        [of, a, inch, ..] if *of == "of" && matches!(*a, "a" | "an") && is_among(inch, &INCH) => 2,
        _ => 0,
    };
    let next = behind.get(skipped);
    let is_inch = next.is_some_and(|word| is_among(word, &INCH));
    let is_size = is_inch
        || match next {
            None => many > 1,
            Some(word) => {
                is_plain && !word.starts_with("turn") || many > 1 && is_among(word, &SIZED)
            }
        };
    is_size.then_some((size, many + skipped))
}

/// A fraction in figures, how many words it takes, and whether it is said of sizes only.
fn fraction(words: &[&str]) -> Option<(String, usize, bool)> {
    let told = |over: u32, part: &str| {
        let under = below(part)?;
        (over < under).then(|| (format!("{over}/{under}"), under > 4))
    };
    if let [many, part, ..] = words
        && let Some(over) = number(many)
        && let Some((figures, is_plain)) = told(over, part)
    {
        return Some((figures, 2, is_plain));
    }
    let (figures, _) = told(1, words.first()?)?;
    Some((figures, 1, false))
}

fn number(word: &str) -> Option<u32> {
    let word = word.to_lowercase();
    NUMBERS.iter().find(|(known, _)| *known == word).map(|(_, number)| *number)
}

fn below(word: &str) -> Option<u32> {
    let word = word.to_lowercase();
    let word = word.trim_end_matches([',', '.', ';', ':', '!']);
    PARTS
        .iter()
        .find(|(one, several, _)| *one == word || *several == word)
        .map(|(.., under)| *under)
}

fn is_among(word: &str, known: &[&str]) -> bool {
    let word = word.to_lowercase();
    known.contains(&word.trim_end_matches([',', '.', ';', ':', '!']))
}

#[cfg(test)]
mod tests {
    use super::sizes_in_figures;

    #[test]
    fn a_size_in_words_is_written_in_figures() {
        for (said, figures) in [
            ("five eighths", "5/8"),
            ("Three quarters", "3/4"),
            ("a half", "1/2"),
            ("half inch", "1/2 inch"),
            ("quarter inch.", "1/4 inch."),
            ("an eighth", "1/8"),
            ("three quarter line", "3/4 line"),
            ("one and an eighth", "1 1/8"),
            ("one and three eighths inch", "1 3/8 inch"),
            ("hose is seven eighths of an inch", "hose is 7/8 inch"),
        ] {
            assert_eq!(sizes_in_figures(said), figures, "{said}");
        }
    }

    #[test]
    fn what_is_no_size_stays_as_it_was() {
        for said in [
            "",
            "half",
            "quarter  turn",
            "half an hour",
            "three quarters of an hour",
            "two and a half hours",
            "oil three quarters full",
            "an eighth turn",
            "one and a half hours",
            "three",
        ] {
            assert_eq!(sizes_in_figures(said), said);
        }
    }
}
