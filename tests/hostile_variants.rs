//! `vary --make` on disks that fill up half-way: the variants that are finished stay, and it is said which.

#![cfg(target_os = "linux")]
#![allow(
    clippy::expect_used,
    reason = "a test that cannot set up its case should say so and fail"
)]

mod hostile;

use std::fs;
use std::path::Path;
use std::process::Command;

use hostile::limits::{limited_to, shell_in};
use hostile::{PROGRAM, demo, done, err, found, names, with_demo};

/// Five variants and what they take, made where there is room.
const VARIANTS: &str = "vary a.toml slots.rib=8..12:1 --make";
/// Three variants of which the last has the largest file: wider bores have more facets.
const GROWING: &str = "vary a.toml bores.clearance=0.3..0.7:0.2 --make";

/// What is in the folder `v` of variants made on a disk that filled up: those that were finished, each as on a
/// disk with room, and nothing else. Gives how many there are.
fn finished(said: &str, left: &Path, whole: &Path) -> usize {
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        said.contains("the disk is full") || said.contains("no file of that size"),
        "{said}"
    );
    assert!(!said.contains("the program failed"), "{said}");
    let mut there: Vec<String> = fs::read_dir(left)
        .into_iter()
        .flatten()
        .map(|entry| {
            entry
                .expect("listed")
                .file_name()
                .to_string_lossy()
                .into_owned()
        })
        .collect();
    there.sort();
    if there.is_empty() {
        assert!(said.starts_with("error: nothing was written: "), "{said}");
        return 0;
    }
    assert!(!said.contains("nothing was written"), "{said}");
    let words = format!(
        "Made before that, each whole in its folder: {}. The other variants, variants.csv and variants.svg were not \
         written.",
        there.join(", ")
    );
    assert!(said.contains(&words), "{said}");
    for name in &there {
        assert!(
            found(&left.join(name)) == found(&whole.join(name)),
            "{name}"
        );
    }
    there.len()
}

/// A small disk that fills up while variants are made: those that are finished stay, and it is said which.
#[test]
fn a_disk_that_fills_up_keeps_the_variants_that_are_finished() {
    let folder = with_demo();
    done(&shell_in(
        folder.path(),
        &format!("exec \"$0\" {VARIANTS} --out whole"),
        PROGRAM,
    ));
    let whole = folder.path().join("whole");
    // In pages of 4 KiB, as the small disk counts.
    let taken: usize = found(&whole)
        .values()
        .map(|bytes| bytes.len().div_ceil(4096) * 4)
        .sum();
    let percent = |share: usize| taken * share / 100;
    let sizes = [
        percent(10),
        percent(45),
        percent(70),
        percent(95),
        taken - 4,
    ];
    let mut counts = Vec::new();
    for size in sizes {
        // Two at a time, so that as many are finished as there was room for.
        let script = format!(
            "mount -t tmpfs -o size={size}k none disk || exit 97; export RAYON_NUM_THREADS=2; \
             \"$0\" {VARIANTS} --out disk/v; status=$?; cp -r disk left || exit 98; exit $status"
        );
        for name in ["disk", "left"] {
            let _ = fs::remove_dir_all(folder.path().join(name));
        }
        fs::create_dir(folder.path().join("disk")).expect("a folder");
        let said = Command::new("unshare")
            .args(["-rm", "sh", "-c", &script, PROGRAM])
            .current_dir(folder.path())
            .output();
        let status = said.as_ref().ok().and_then(|said| said.status.code());
        if status.is_none() || status == Some(97) || status == Some(1) {
            eprintln!("left out: no disk of our own here");
            return;
        }
        let text = err(&said.expect("its end"));
        assert_eq!(status, Some(3), "{size}: {text}");
        counts.push(finished(&text, &folder.path().join("left/v"), &whole));
    }
    // At the end there is room for all of them, but not for both the list and the map.
    assert!(matches!(counts[..], [0, 2, 2 | 3, 4, 5]), "{counts:?}");
}

/// The same without a disk of its own: no file may be as large as the largest of all variants. One at a time,
/// so that the smaller ones before it are finished; over what an earlier run left, which stays.
#[test]
fn variants_finished_before_one_fails_stay_over_those_of_an_earlier_run() {
    let folder = with_demo();
    done(&shell_in(
        folder.path(),
        &format!("exec \"$0\" {GROWING} --out whole"),
        PROGRAM,
    ));
    let whole = folder.path().join("whole");
    let variants = [
        "1-bores.clearance-0.3",
        "2-bores.clearance-0.5",
        "3-bores.clearance-0.7",
    ];
    let largest = variants.map(|name| {
        let sizes = found(&whole.join(name));
        sizes.values().map(Vec::len).max().unwrap_or_default()
    });
    assert!(
        largest[0] < largest[2] && largest[1] < largest[2],
        "{largest:?}"
    );
    // An earlier run into the same folders, of another head.
    let other = demo("dunlin").replace("title = \"Dunlin\"", "title = \"Another\"");
    fs::write(folder.path().join("a.toml"), &other).expect("a file");
    done(&shell_in(
        folder.path(),
        &format!("exec \"$0\" {GROWING} --out v"),
        PROGRAM,
    ));
    fs::write(folder.path().join("a.toml"), demo("dunlin")).expect("a file");
    let v = folder.path().join("v");
    let before = found(&v);
    let line = format!("{GROWING} --out v");
    let Some(said) = limited_to(folder.path(), largest[2] - 1, 1, &line) else {
        return;
    };
    let text = err(&said).split_whitespace().collect::<Vec<_>>().join(" ");
    assert_eq!(said.status.code(), Some(3), "{text}");
    let words = format!(
        "the system allows no file of that size Made before that, each whole in its folder: {}, {}. The other \
         variants, variants.csv and variants.svg were not written. What an earlier run left of those stays as it was.",
        variants[0], variants[1]
    );
    assert!(text.contains(&words), "{text}");
    for name in &variants[..2] {
        assert!(found(&v.join(name)) == found(&whole.join(name)), "{name}");
    }
    let after = found(&v);
    assert_eq!(names(&after), names(&before));
    let stayed = |name: &&String| !variants[..2].iter().any(|made| name.starts_with(made));
    for name in after.keys().filter(stayed) {
        assert!(after[name] == before[name], "{name}");
    }
    // For a script: the same, in JSON.
    let json = format!("{line} --json");
    let said = limited_to(folder.path(), largest[2] - 1, 1, &json).expect("prlimit");
    assert_eq!(said.status.code(), Some(3));
    let value: serde_json::Value = serde_json::from_slice(&said.stdout).expect("JSON");
    assert_eq!(value["made"], serde_json::json!(variants[..2]));
    assert!(
        value["failure"]
            .as_str()
            .expect("words")
            .contains("no file of that size")
    );
}
