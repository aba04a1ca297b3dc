//! What the targets begin with: files of this repository.

use std::path::{Path, PathBuf};

/// The bytes of every file below a folder with one of these endings, in the order of their names.
pub fn files(folder: &str, endings: &[&str]) -> Vec<Vec<u8>> {
    let mut paths = Vec::new();
    let mut folders = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join(folder)];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path: PathBuf = entry.unwrap().path();
            let ending = path.extension().and_then(|ending| ending.to_str());
            if path.is_dir() {
                folders.push(path);
            } else if ending.is_some_and(|ending| endings.contains(&ending)) {
                paths.push(path);
            }
        }
    }
    paths.sort();
    let found: Vec<Vec<u8>> = paths.iter().map(|path| std::fs::read(path).unwrap()).collect();
    assert!(!found.is_empty(), "{folder}");
    found
}

/// Lines of a text, each for itself.
pub fn lines(text: &str) -> Vec<Vec<u8>> {
    text.lines().map(|line| line.as_bytes().to_vec()).collect()
}
