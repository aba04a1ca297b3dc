//! A page of Markdown: its blocks, headings and links.

use std::path::{Path, PathBuf};

/// A page of the project.
pub struct Page {
    /// Its path from the project's root, with `/`.
    pub name: String,
    /// Its fenced blocks in order.
    pub blocks: Vec<Block>,
    /// The lines outside of fences.
    prose: Vec<String>,
}

/// A fenced block.
#[derive(Clone)]
pub struct Block {
    /// What stands behind the opening fence.
    pub info: String,
    /// The line of its opening fence, from 1.
    pub line: usize,
    /// Its lines.
    pub text: String,
}

/// The project's root.
pub fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// The pages at the top and in `docs/`, with its decisions.
pub fn pages() -> Vec<Page> {
    let mut paths = vec![root().join("README.md"), root().join("DEVELOPERS.md")];
    for folder in ["docs", "docs/decisions"] {
        paths.extend(markdown_in(&root().join(folder)));
    }
    let read = |path: &PathBuf| {
        let name = path.strip_prefix(root()).unwrap().to_string_lossy().replace('\\', "/");
        Page::read(&name, &std::fs::read_to_string(path).unwrap())
    };
    paths.iter().map(read).collect()
}

fn markdown_in(folder: &Path) -> Vec<PathBuf> {
    let entries = std::fs::read_dir(folder).unwrap();
    let mut paths: Vec<PathBuf> = entries.map(|entry| entry.unwrap().path()).collect();
    paths.retain(|path| path.extension().is_some_and(|ending| ending == "md"));
    paths.sort();
    paths
}

impl Page {
    /// Takes a page apart.
    pub fn read(name: &str, text: &str) -> Self {
        let mut page = Self { name: name.to_owned(), blocks: Vec::new(), prose: Vec::new() };
        let mut is_inside = false;
        for (index, line) in text.lines().enumerate() {
            match line.strip_prefix("```") {
                Some(_) if is_inside => is_inside = false,
                Some(info) => {
                    is_inside = true;
                    let block =
                        Block { info: info.to_owned(), line: index + 1, text: String::new() };
                    page.blocks.push(block);
                }
                None if is_inside => {
                    let block = page.blocks.last_mut().unwrap();
                    block.text.push_str(line);
                    block.text.push('\n');
                }
                None => page.prose.push(line.to_owned()),
            }
        }
        assert!(!is_inside, "{name}: the last fence is not closed");
        page
    }

    /// The headings with their levels.
    pub fn headings(&self) -> Vec<(usize, String)> {
        let heading = |line: &String| {
            let title = line.trim_start_matches('#');
            let level = line.len() - title.len();
            (level > 0 && title.starts_with(' ')).then(|| (level, title.trim().to_owned()))
        };
        self.prose.iter().filter_map(heading).collect()
    }

    /// The targets of its links.
    pub fn links(&self) -> Vec<String> {
        let prose = self.prose.join("\n");
        let mut links = Vec::new();
        // Every second piece between backticks is code, in which nothing is a link.
        for piece in prose.split('`').step_by(2) {
            for rest in piece.split("](").skip(1) {
                links.extend(rest.split_once(')').map(|(target, _)| target.to_owned()));
            }
        }
        // A link whose words hold code is cut by its backticks and starts a piece.
        links.retain(|link| !link.is_empty());
        links
    }

    /// The paths of the project that stand in backticks.
    pub fn paths_named(&self) -> Vec<String> {
        let prose = self.prose.join("\n");
        let is_path = |text: &&str| {
            let starts = ["src/", "tests/", "docs/", "rules/", "scenarios/", ".ci/"];
            starts.iter().any(|start| text.starts_with(start))
                && !text.contains(|c: char| c.is_ascii_uppercase() || " *<{".contains(c))
        };
        prose.split('`').skip(1).step_by(2).filter(is_path).map(str::to_owned).collect()
    }

    /// Whether a link leads to a file that is there, and to a heading that it has.
    pub fn resolves(&self, link: &str, pages: &[Page]) -> bool {
        if link.starts_with("https://") {
            return true;
        }
        let (file, heading) = link.split_once('#').unwrap_or((link, ""));
        let folder = Path::new(&self.name).parent().unwrap();
        let name = if file.is_empty() { self.name.clone() } else { joined(folder, file) };
        let is_there = file.is_empty() || root().join(&name).exists();
        let page = pages.iter().find(|page| page.name == name);
        let page = if file.is_empty() { Some(self) } else { page };
        is_there && (heading.is_empty() || page.is_some_and(|page| page.has_anchor(heading)))
    }

    fn has_anchor(&self, anchor: &str) -> bool {
        self.headings().iter().any(|(_, title)| slug(title) == anchor)
    }
}

/// A path from a folder on, without `..`.
fn joined(folder: &Path, file: &str) -> String {
    let mut parts: Vec<String> =
        folder.iter().map(|part| part.to_string_lossy().into_owned()).collect();
    for part in file.split('/') {
        match part {
            ".." => drop(parts.pop()),
            "." | "" => {}
            _ => parts.push(part.to_owned()),
        }
    }
    parts.join("/")
}

/// The anchor of a heading as the usual viewers make it.
fn slug(title: &str) -> String {
    let kept = title.to_lowercase().replace(' ', "-");
    kept.chars().filter(|c| c.is_alphanumeric() || *c == '-' || *c == '_').collect()
}
