//! The handbook that comes with the program.

use include_dir::{Dir, include_dir};

static RULES: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/rules");

/// The files of the built-in handbook: names such as `rules/causes.yaml`, and texts, in the order
/// of their names.
#[must_use]
pub fn built_in_files() -> Vec<(String, &'static str)> {
    let mut files = Vec::new();
    collect(&RULES, &mut files);
    files.sort_unstable();
    files
}

fn collect(folder: &'static Dir<'static>, files: &mut Vec<(String, &'static str)>) {
    for file in folder.files() {
        let is_yaml = file.path().extension().is_some_and(|ending| ending == "yaml");
        if let (true, Some(text)) = (is_yaml, file.contents_utf8()) {
            let path: Vec<String> = file
                .path()
                .components()
                .map(|part| part.as_os_str().to_string_lossy().into_owned())
                .collect();
            files.push((format!("rules/{}", path.join("/")), text));
        }
    }
    for inner in folder.dirs() {
        collect(inner, files);
    }
}
