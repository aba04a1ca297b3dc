//! Folders that are no handbook: each is refused with what is wrong, and beside files that are.

use std::fs;
use std::path::Path;

use super::stand::{Ran, Stand};

/// `dryhold check odd`, of a folder that holds the barrel's handbook and what `fill` adds.
fn check(fill: impl Fn(&Path)) -> Ran {
    let stand = Stand::new();
    fs::rename(stand.path("barrel"), stand.path("odd")).unwrap();
    fill(&stand.path("odd"));
    stand.run(&["check", "odd"])
}

#[track_caller]
fn is_refused(ran: &Ran, told: &[&str]) {
    assert_eq!(ran.status, Some(5), "{ran:?}");
    for part in told {
        assert!(ran.stdout.contains(part), "no {part} in\n{}", ran.stdout);
    }
    let errors = ran.stdout.lines().filter(|line| line.starts_with("error[")).count();
    assert_eq!(errors, 1, "{}", ran.stdout);
}

#[test]
fn a_folder_that_is_too_deep_is_told_and_hides_no_other_file() {
    let deep = ["d"; 18].join("/");
    let ran = check(|odd| {
        fs::create_dir_all(odd.join(&deep)).unwrap();
        fs::write(odd.join("worse.yaml"), "causes: [\n").unwrap();
    });
    assert_eq!(ran.status, Some(5), "{ran:?}");
    let place = format!("error[H108]: `odd/{}` lies more than 16 folders deep", &deep[..33]);
    assert!(ran.stdout.contains(&place), "{}", ran.stdout);
    assert!(ran.stdout.contains("`[` is not closed"), "{}", ran.stdout);
}

#[test]
fn too_many_files_are_not_read() {
    let ran = check(|odd| {
        for number in 0..=20_000 {
            fs::File::create(odd.join(format!("{number}.yaml"))).unwrap();
        }
    });
    is_refused(&ran, &["error[H108]: more than 20000 YAML files lie below `odd`", "none of them"]);
}

#[test]
fn files_that_are_too_large_together_are_not_checked() {
    let remark = format!("# {}\n", "x".repeat((1 << 20) - 3));
    let ran = check(|odd| {
        for number in 0..8 {
            fs::write(odd.join(format!("{number}.yaml")), &remark).unwrap();
        }
    });
    is_refused(&ran, &["error[H108]: the files of `odd` hold more than 8 MiB together"]);
}

#[cfg(unix)]
#[test]
fn links_in_a_circle_are_told() {
    use std::os::unix::fs::symlink;
    let ran = check(|odd| {
        symlink(".", odd.join("itself")).unwrap();
        symlink("round.yaml", odd.join("round.yaml")).unwrap();
    });
    is_refused(
        &ran,
        &["error[H101]: `odd/round.yaml` can't be read: it is a link that leads to no file"],
    );
}

/// Some editors put a mark at the start of a file that says how it is encoded.
#[test]
fn a_byte_order_mark_does_no_harm() {
    let ran = check(|odd| {
        let text = fs::read_to_string(odd.join("causes.yaml")).unwrap();
        fs::write(odd.join("causes.yaml"), format!("\u{feff}{text}")).unwrap();
    });
    let whole = check(|_| {});
    assert_eq!((ran.status, ran.stdout), (Some(0), whole.stdout));
}
