//! A photo or another file that goes with a case.

use serde::{Deserialize, Serialize};

/// A file by its name. The file stays where it is; its length and its hash tell later whether it is
/// still the same.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct NamedFile {
    /// Its name or path, as it was typed.
    pub name: String,
    /// How long it was, in bytes; none where it could not be read.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bytes: Option<u64>,
    /// The BLAKE3 hash of what was in it, in hexadecimal; none where it could not be read.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub blake3: Option<String>,
}

impl NamedFile {
    /// A file that is somewhere else, such as on the phone of whoever called.
    #[must_use]
    pub fn elsewhere(name: &str) -> Self {
        Self { name: name.to_owned(), bytes: None, blake3: None }
    }

    /// What is known of it, behind its name: `2.1 MB, BLAKE3 1a2b3c4d5e6f7a8b`, or that it was not
    /// seen.
    #[must_use]
    pub fn facts(&self) -> String {
        match (self.bytes, &self.blake3) {
            (Some(bytes), Some(hash)) => {
                let short = hash.get(..16).unwrap_or(hash);
                format!("{}, BLAKE3 {short}", size(bytes))
            }
            _ => "not seen by the program".to_owned(),
        }
    }
}

/// `812 bytes`, `2.1 MB`
fn size(bytes: u64) -> String {
    match bytes {
        0..1_000 => format!("{bytes} bytes"),
        1_000..1_000_000 => format!("{:.1} kB", bytes as f64 / 1e3),
        _ => format!("{:.1} MB", bytes as f64 / 1e6),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_told_by_its_size_and_hash_or_as_not_seen() {
        let mut file = NamedFile::elsewhere("gauge.jpg");
        assert_eq!(file.facts(), "not seen by the program");
        file.blake3 = Some("0123456789abcdef0123".to_owned());
        for (bytes, told) in [(812, "812 bytes"), (2_140, "2.1 kB"), (2_140_000, "2.1 MB")] {
            file.bytes = Some(bytes);
            assert_eq!(file.facts(), format!("{told}, BLAKE3 0123456789abcdef"));
        }
    }

    #[test]
    fn what_is_not_known_of_it_is_not_written() {
        let text = r#"{"name":"gauge.jpg"}"#;
        let file: NamedFile = serde_json::from_str(text).unwrap();
        assert_eq!(serde_json::to_string(&file).unwrap(), text);
    }
}
