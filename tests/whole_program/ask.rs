//! `start --ask`, answered.

use super::{folder, has_cautions_only, json};
use crate::support::program::run;
use crate::support::said::{err, out, status};
use crate::support::typed::type_in;

const ANSWERS: &str = "10\n30.5\n19\n80\n17.4\n105.5\n20.4\n63\n71\n184\n";

#[test]
fn ask_writes_a_file_that_reads_back_and_ends_with_the_checks() {
    let folder = folder();
    let said = type_in(
        folder.path(),
        &["start", "--ask", "--mm", "mine.toml"],
        ANSWERS,
    );
    assert_eq!(status(&said), 0, "{}{}", out(&said), err(&said));
    assert!(
        out(&said).contains("the checks say clear"),
        "{}",
        out(&said)
    );
    let checked = run(folder.path(), &["check", "--json", "mine.toml"]);
    assert_eq!(status(&checked), 0, "{}", out(&checked));
    has_cautions_only(&json(&checked)["designs"][0], &[], "ten answers");
}

#[test]
fn ask_in_inches_and_with_unequal_sides() {
    let folder = folder();
    let inches = "1/4\n1-1/8\n0.72\n3\n0.56\n4.05\n11/16\n2.25\n2.5\n6-5/8\n";
    let line = ["start", "--ask", "--inches", "steel-string", "steel.toml"];
    let said = type_in(folder.path(), &line, inches);
    assert_eq!(status(&said), 0, "{}{}", out(&said), err(&said));
    let seven = "10\n32.5\n20\n80\n18\n105\n21\n66\n73\n202\n";
    let line = ["start", "--ask", "--mm", "seven-string", "seven.toml"];
    let said = type_in(folder.path(), &line, seven);
    assert_eq!(status(&said), 0, "{}{}", out(&said), err(&said));
    for name in ["steel.toml", "seven.toml"] {
        let checked = run(folder.path(), &["check", "--json", name]);
        assert_eq!(status(&checked), 0, "{name}: {}", out(&checked));
    }
}

#[test]
fn ask_tells_a_stop_but_has_done_its_work() {
    // Barrels a millimetre short of meeting stand the questions but not every check.
    let folder = folder();
    let typed = ANSWERS
        .replace("63\n71\n", "56\n62\n")
        .replace("30.5\n", "30.9\n");
    let said = type_in(
        folder.path(),
        &["start", "--ask", "--mm", "mine.toml"],
        &typed,
    );
    assert_eq!(status(&said), 0, "{}{}", out(&said), err(&said));
    assert!(out(&said).contains("the checks say stop"), "{}", out(&said));
    assert_eq!(status(&run(folder.path(), &["check", "mine.toml"])), 1);
}
