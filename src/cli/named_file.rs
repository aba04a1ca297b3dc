//! A file that goes with a case, looked at.

use std::fs::File;
use std::io::{ErrorKind, Read};
use std::path::Path;

use super::load::reason;
use crate::case::NamedFile;

/// The largest file that is looked at, in bytes (limit of ours: a film of some minutes).
const LARGEST: u64 = 1 << 30;

/// How long a file is and its hash; one that is not there is somewhere else.
pub(super) fn look_at(name: &str) -> Result<NamedFile, String> {
    let path = Path::new(name);
    let told = match path.metadata() {
        Ok(told) => told,
        Err(error) if error.kind() == ErrorKind::NotFound => return Ok(NamedFile::elsewhere(name)),
        Err(error) => return Err(reason(&error)),
    };
    if !told.is_file() {
        return Err("it is no file".to_owned());
    }
    if told.len() > LARGEST {
        return Err(format!("it is larger than {} MiB", LARGEST >> 20));
    }
    let hash = hash(path).map_err(|error| reason(&error))?;
    Ok(NamedFile { name: name.to_owned(), bytes: Some(told.len()), blake3: Some(hash) })
}

fn hash(path: &Path) -> std::io::Result<String> {
    let mut hasher = blake3::Hasher::new();
    let mut file = File::open(path)?.take(LARGEST);
    std::io::copy(&mut file, &mut hasher)?;
    Ok(hasher.finalize().to_hex().to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_looked_at_a_folder_refused_and_what_is_not_there_is_elsewhere() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("gauge.jpg");
        std::fs::write(&path, "abc").unwrap();
        let file = look_at(path.to_str().unwrap()).unwrap();
        // The BLAKE3 hash of `abc` (memory).
        let hash = "6437b3ac38465133ffb63b75273a8db548c558465d79db03fd359c6cd5bd9d85";
        assert_eq!((file.bytes, file.blake3.as_deref()), (Some(3), Some(hash)));
        let missing = folder.path().join("none.jpg");
        let missing = missing.to_str().unwrap();
        assert_eq!(look_at(missing), Ok(NamedFile::elsewhere(missing)));
        assert_eq!(look_at(folder.path().to_str().unwrap()), Err("it is no file".to_owned()));
    }
}
