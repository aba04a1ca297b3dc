//! From the bytes of a file to its text.

use crate::diagnostic::{Code, Diagnostic};

/// The text of a file called `name`; files are UTF-8.
///
/// A file in another encoding is a fault that says which byte gives it away.
///
/// ```
/// use dryhold::document::decode;
/// assert_eq!(decode("a.yaml", "5 µm".as_bytes()).unwrap(), "5 µm");
/// let fault = decode("a.yaml", b"ask: 5 \xb5m\n").unwrap_err();
/// assert_eq!(fault.title, "`a.yaml` is not a UTF-8 text: line 1 holds the byte B5");
/// ```
pub fn decode<'b>(name: &str, bytes: &'b [u8]) -> Result<&'b str, Diagnostic> {
    let error = match std::str::from_utf8(bytes) {
        Ok(text) => return Ok(text),
        Err(error) => error,
    };
    let at = error.valid_up_to();
    let line = bytes[..at].iter().filter(|&&b| b == b'\n').count() + 1;
    let byte = bytes.get(at).copied().unwrap_or(0);
    let title = format!("`{name}` is not a UTF-8 text: line {line} holds the byte {byte:02X}");
    Err(Diagnostic::nowhere(Code::Unreadable, title)
        .help("in the editor, save the file with the encoding UTF-8"))
}
