//! Both units, and what `explain` tells.
use super::{folder, json, path};
use crate::support::demos::demo_file;
use crate::support::program::run;
use crate::support::said::{err, out, status};

#[test]
fn inches_stand_beside_millimetres() {
    let folder = folder();
    let said = run(
        folder.path(),
        &["check", "--all", path(&demo_file("turnstone"))],
    );
    assert!(out(&said).contains(" in)"), "{}", out(&said));
    let metric = demo_file("sandpiper");
    assert!(!out(&run(folder.path(), &["check", "--all", path(&metric)])).contains(" in)"));
    let said = run(
        folder.path(),
        &["check", "--all", "--inches", path(&metric)],
    );
    assert!(out(&said).contains(" in)"));
}

#[test]
fn explain_lists_tells_and_suggests() {
    let folder = folder();
    let listed = run(folder.path(), &["explain"]);
    assert_eq!(status(&listed), 0);
    let value = json(&run(folder.path(), &["explain", "--json"]));
    let checks = value["checks"].as_array().expect("checks").clone();
    assert!(checks.len() >= 30, "{}", checks.len());
    for check in &checks {
        let code = check["code"].as_str().expect("a code");
        assert!(out(&listed).contains(code), "{code}");
        let said = run(folder.path(), &["explain", code]);
        assert_eq!(status(&said), 0, "{code}");
        assert!(out(&said).len() > 120, "{code} says little: {}", out(&said));
        for line in out(&said).lines() {
            assert!(line.chars().count() <= 100, "{code}: {line}");
        }
    }
    let said = run(folder.path(), &["explain", "bering"]);
    assert_eq!(status(&said), 2);
    assert!(
        err(&said).contains("; did you mean `bearing`? `barrelhead explain`"),
        "{}",
        err(&said)
    );
    assert_eq!(
        status(&run(folder.path(), &["explain", "--json", "bearing"])),
        0
    );
}
