//! What `make --only` leaves alone, and says of it.

#![cfg(unix)]
#![allow(
    clippy::expect_used,
    reason = "a test that cannot set up its case should say so and fail"
)]

mod hostile;

use std::fs;

use hostile::{demo, done, err, folder, run};

/// `--only` over another design's files: what it left of those is named, whatever the last report says,
/// and nothing is said where all is of one design.
#[test]
fn only_names_what_it_leaves_of_another_design() {
    let folder = folder();
    let make = |design: &str, extra: &[&str]| {
        let design = format!("{}/params/{design}.toml", env!("CARGO_MANIFEST_DIR"));
        let mut line = vec!["make", "--quiet", "--out", "out", &design];
        line.extend(extra);
        let said = run(folder.path(), &line);
        done(&said);
        err(&said)
    };
    let warned = |extra: &[&str]| make("dunlin", extra);
    assert_eq!(warned(&[]), "");
    // The same design; and again with a page that lists fewer files, and has its room to move.
    assert_eq!(warned(&["--only", "bench"]), "");
    assert_eq!(warned(&["--only", "report", "--room"]), "");
    assert_eq!(warned(&["--only", "bench,print"]), "");
    // Room to move has no page to stand on.
    let said = warned(&["--only", "bench", "--room"]);
    assert!(said.starts_with("warning: --room is left out"), "{said}");
    assert_eq!(said.lines().count(), 1, "{said}");
    // Another design, twice: the report is its own then, and the rest is still not.
    for _ in 0..2 {
        let said = make("sandpiper", &["--only", "bench"]);
        assert!(
            said.starts_with("warning: in out these are left from an earlier run"),
            "{said}"
        );
        for name in ["print/printed.3mf", "report.html", "files in shop/"] {
            assert!(said.contains(name), "{name}: {said}");
        }
        assert!(!said.contains("bench"), "{said}");
    }
    let said = make("sandpiper", &["--only", "shop,print"]);
    assert!(said.contains("options: report.html. "), "{said}");
    // A number of the shop's job alone, which no report holds, as a program is told it.
    assert_eq!(warned(&[]), "");
    let text = demo("dunlin");
    let job = "[job]\n";
    assert!(text.contains(job));
    let text = text.replace(job, "[job]\nrevision = \"Z\"\n");
    fs::write(folder.path().join("dunlin.toml"), text).expect("a file");
    let line = "make dunlin.toml --out out --only bench --json";
    let said = run(folder.path(), &line.split(' ').collect::<Vec<_>>());
    done(&said);
    let said: serde_json::Value = serde_json::from_slice(&said.stdout).expect("JSON");
    let earlier = said["earlier_files"].as_array().expect("a list");
    assert!(earlier.contains(&"shop/drawing.pdf".into()), "{earlier:?}");
    assert!(!earlier.contains(&"shop/bores.csv".into()), "{earlier:?}");
}

/// What stands in the place of a file and is none, or cannot be one of ours, is named and not waited for.
#[test]
fn what_is_no_file_is_named_and_not_read() {
    let folder = folder();
    let shop = folder.path().join("out/shop");
    fs::create_dir_all(&shop).expect("a folder");
    let pipe = shop.join("drawing.pdf");
    let made = std::process::Command::new("mkfifo").arg(&pipe).status();
    assert!(made.is_ok_and(|status| status.success()), "needs mkfifo");
    std::os::unix::fs::symlink("/dev/zero", shop.join("rig.step")).expect("a link");
    std::os::unix::fs::symlink("nowhere", shop.join("bores.csv")).expect("a link");
    let huge = fs::File::create(shop.join("operations.pdf")).expect("a file");
    huge.set_len(1 << 40).expect("a hole of a terabyte");
    fs::write(folder.path().join("dunlin.toml"), demo("dunlin")).expect("a file");
    let line = "make dunlin.toml --out out --only bench --json";
    let said = run(folder.path(), &line.split(' ').collect::<Vec<_>>());
    done(&said);
    let said: serde_json::Value = serde_json::from_slice(&said.stdout).expect("JSON");
    let mut named: Vec<&str> = Vec::new();
    for name in said["earlier_files"].as_array().expect("a list") {
        named.push(name.as_str().expect("a name"));
    }
    named.sort_unstable();
    let all = [
        "shop/bores.csv",
        "shop/drawing.pdf",
        "shop/operations.pdf",
        "shop/rig.step",
    ];
    assert_eq!(named, all);
}
