//! Shares as the handbook has them, and as arithmetic shows them.

/// A share with a decimal near the ends: `85 %`, `0.5 %`, `99.6 %`. What is neither never nor
/// always is not rounded to it.
pub(super) fn percent(share: f64) -> String {
    match 100.0 * share {
        hundredths if hundredths > 0.0 && hundredths < 0.1 => "less than 0.1 %".to_owned(),
        hundredths if hundredths > 99.9 && hundredths < 100.0 => "more than 99.9 %".to_owned(),
        hundredths if (0.1..1.0).contains(&hundredths) || (99.0..=99.9).contains(&hundredths) => {
            format!("{hundredths:.1} %")
        }
        hundredths => format!("{hundredths:.0} %"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_is_never_or_always_is_called_so() {
        let shares = [0.0, 0.0004, 0.005, 0.01, 0.854, 0.99, 0.996, 0.9996, 1.0];
        assert_eq!(
            shares.map(percent),
            [
                "0 %",
                "less than 0.1 %",
                "0.5 %",
                "1 %",
                "85 %",
                "99.0 %",
                "99.6 %",
                "more than 99.9 %",
                "100 %"
            ]
        );
    }
}
