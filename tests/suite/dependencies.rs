//! What the program is built from: under which licences, what is there twice, and nothing that talks to a
//! network. Read from the lock file and the manifests that were fetched for the build, so it runs offline.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;
use std::process::Command;

use serde_json::Value;

use crate::architecture::rust_files;

/// Licences that ask for no more than to be named with what is passed on, by their SPDX names.
const PERMISSIVE: &[&str] = &[
    "0BSD",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "CC0-1.0",
    "ISC",
    "MIT",
    "MIT-0",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// Libraries under another licence, and what it asks for.
const APART: &[(&str, &str, &str)] = &[(
    "colored",
    "MPL-2.0",
    "only changes to its own files have to be passed on, and none are made",
)];

/// Libraries of which the program holds two versions, each asked for by another library.
const TWICE: &[(&str, &str)] = &[
    ("embedded-io", "postcard supports two of its versions, and holds a few traits of each"),
    ("foldhash", "it comes with each hashbrown"),
    ("hashbrown", "petgraph and the indexmap below it are a version apart"),
    ("syn", "two makers of macros are a version apart; neither is in the program"),
];

/// The best-known libraries with which Rust programs talk to a network.
const NETWORK: &[&str] = &[
    "async-std",
    "curl",
    "hyper",
    "isahc",
    "native-tls",
    "openssl",
    "quinn",
    "reqwest",
    "rustls",
    "smol",
    "socket2",
    "tokio",
    "trust-dns-resolver",
    "hickory-resolver",
    "tungstenite",
    "ureq",
];

/// The packages below this one on this platform, as Cargo tells of them without a network.
struct Packages {
    metadata: Value,
}

impl Packages {
    fn read() -> Self {
        let platform = format!("{}-unknown-linux-gnu", std::env::consts::ARCH);
        let told = Command::new(env!("CARGO"))
            .args(["metadata", "--format-version", "1", "--offline", "--locked"])
            .args(["--filter-platform", &platform])
            .current_dir(env!("CARGO_MANIFEST_DIR"))
            .output()
            .unwrap();
        assert!(told.status.success(), "{}", String::from_utf8_lossy(&told.stderr));
        Self { metadata: serde_json::from_slice(&told.stdout).unwrap() }
    }

    fn list<'v>(value: &'v Value, field: &str) -> &'v [Value] {
        value[field].as_array().map_or(&[], Vec::as_slice)
    }

    /// All that was resolved, or only what the program itself is built from.
    fn below(&self, is_wanted: impl Fn(&Value) -> bool) -> Vec<&Value> {
        let nodes = Self::list(&self.metadata["resolve"], "nodes");
        let root = &self.metadata["resolve"]["root"];
        let (mut seen, mut open) = (BTreeSet::new(), vec![root.as_str().unwrap()]);
        while let Some(id) = open.pop() {
            if !seen.insert(id) {
                continue;
            }
            let node = nodes.iter().find(|node| node["id"] == id).unwrap();
            let wanted = Self::list(node, "deps")
                .iter()
                .filter(|dep| Self::list(dep, "dep_kinds").iter().any(&is_wanted));
            open.extend(wanted.filter_map(|dep| dep["pkg"].as_str()));
        }
        seen.remove(root.as_str().unwrap());
        let packages = Self::list(&self.metadata, "packages");
        packages
            .iter()
            .filter(|one| one["id"].as_str().is_some_and(|id| seen.contains(id)))
            .collect()
    }

    fn of_program(&self) -> Vec<&Value> {
        self.below(|kind| kind["kind"].is_null())
    }
}

/// Whether one way to read a licence expression asks for nothing but permissive licences. Old manifests
/// write `/` for `OR`.
fn is_permissive(expression: &str) -> bool {
    let expression = expression.replace('/', " OR ").replace(['(', ')'], "");
    // No expression here nests an AND within an OR's alternative but as the last of all.
    expression
        .split(" AND ")
        .all(|part| part.split(" OR ").any(|licence| PERMISSIVE.contains(&licence.trim())))
}

#[test]
fn every_library_is_under_a_licence_that_is_known_here() {
    let packages = Packages::read();
    let all = packages.below(|_| true);
    assert!(all.len() > 100, "{} packages were told of", all.len());
    let is_known = |package: &&Value| {
        let name = package["name"].as_str().unwrap_or_default();
        let licence = package["license"].as_str().unwrap_or_default();
        is_permissive(licence)
            || APART.iter().any(|(apart, of, _)| (*apart, *of) == (name, licence))
    };
    let unknown: Vec<String> = all
        .iter()
        .filter(|package| !is_known(package))
        .map(|package| format!("{}: {}", package["name"], package["license"]))
        .collect();
    assert!(unknown.is_empty(), "under another licence: {unknown:?}");
}

#[test]
fn a_licence_counts_by_its_best_alternative_and_all_its_parts() {
    for known in ["MIT", "MIT OR GPL-3.0", "Unlicense/MIT", "(MIT OR Apache-2.0) AND Unicode-3.0"] {
        assert!(is_permissive(known), "{known}");
    }
    for unknown in ["", "GPL-3.0-only", "MIT AND GPL-3.0-only", "MPL-2.0"] {
        assert!(!is_permissive(unknown), "{unknown}");
    }
}

#[test]
fn a_library_is_there_twice_only_where_it_is_known_why() {
    let packages = Packages::read();
    let mut versions: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    for package in packages.of_program() {
        let (name, version) = (package["name"].as_str(), package["version"].as_str());
        versions.entry(name.unwrap()).or_default().insert(version.unwrap());
    }
    let twice: Vec<&str> =
        versions.iter().filter(|(_, all)| all.len() > 1).map(|(name, _)| *name).collect();
    let known: Vec<&str> = TWICE.iter().map(|(name, _)| *name).collect();
    assert_eq!(twice, known, "{versions:?}");
}

#[test]
fn no_library_of_the_program_talks_to_a_network() {
    let packages = Packages::read();
    let of_program = packages.of_program();
    assert!(of_program.len() > 50, "{} packages were told of", of_program.len());
    let found: Vec<&str> = of_program
        .iter()
        .filter_map(|package| package["name"].as_str())
        .filter(|name| NETWORK.contains(name))
        .collect();
    assert!(found.is_empty(), "{found:?}");
}

#[test]
fn nothing_of_our_own_opens_a_socket() {
    let files = rust_files(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"));
    assert!(files.len() > 100, "{} files", files.len());
    for file in files {
        let text = fs::read_to_string(&file).unwrap();
        assert!(
            !text.contains("std::net") && !text.contains("os::unix::net"),
            "{}",
            file.display()
        );
    }
}
