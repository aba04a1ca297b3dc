//! Shares as the handbook has them.

/// A share as the handbook has it: `85 %`.
pub(super) fn percent(share: f64) -> String {
    let hundredths = 100.0 * share;
    if hundredths > 0.0 && hundredths < 1.0 {
        format!("{hundredths:.1} %")
    } else {
        format!("{hundredths:.0} %")
    }
}
