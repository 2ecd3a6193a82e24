use super::*;
use super::making::Only;
use clap::CommandFactory;

#[test]
fn the_table_of_arguments_holds_together() {
    Arguments::command().debug_assert();
}

#[test]
fn one_name_is_the_file_two_are_kind_and_file() {
    let start = |names: &[&str]| {
        let line = ["barrelhead", "start"].iter().chain(names);
        match Arguments::try_parse_from(line).unwrap().command {
            Command::Start(start) => (start.design, start.file.unwrap()),
            other => panic!("{other:?}"),
        }
    };
    assert_eq!(start(&["a.toml"]), (None, "a.toml".into()));
    assert_eq!(
        start(&["ukulele", "a.toml"]),
        (Some("ukulele".into()), "a.toml".into())
    );
    assert_eq!(start(&["--ask", "a.toml"]), (None, "a.toml".into()));
}

/// What is said of a command line that is refused.
fn refused(line: &[&str]) -> String {
    let line = ["barrelhead", "make", "a.toml"].iter().chain(line);
    match Arguments::try_parse_from(line) {
        Ok(taken) => panic!("{taken:?}"),
        Err(error) => error.to_string(),
    }
}

#[test]
fn a_length_mistyped_is_named_and_mended() {
    for (option, typed, message, instead) in [
        ("--bar", "96,3", "a comma where a decimal point", "type 96.3"),
        ("--bar", "96,3 mm", "a comma where a decimal point", "\"96.3 mm\""),
        ("--bar", "foo", "is no length", "such as 99.6"),
        ("--bar", "nan", "is no length", "such as 99.6"),
        ("--bar", "9.96", "9.96 mm cannot be", "such as 99.6"),
        ("--neck-stub", "60,5", "a comma where a decimal point", "type 60.5"),
        ("--neck-stub", "6 cm", "`cm`", "\"60 mm\""),
        ("--neck-stub", "foo", "is no length", "such as 60 or \"2-3/8 in\""),
        ("--neck-stub", "0", "above zero", "such as 60 or \"2-3/8 in\""),
    ] {
        let said = refused(&[option, typed]);
        assert!(said.contains(message) && said.contains(instead), "{said}");
    }
}

#[test]
fn blanks_after_the_commas_of_a_list_are_taken() {
    let only = |typed: &str| {
        let line = ["barrelhead", "make", "a.toml", "--only", typed];
        match Arguments::try_parse_from(line).unwrap().command {
            Command::Make(make) => make.only,
            other => panic!("{other:?}"),
        }
    };
    assert_eq!(only("bench, print ,shop"), [Only::Bench, Only::Print, Only::Shop]);
    let said = refused(&["--only", "bench, prit"]);
    assert!(said.contains("[possible values: bench, print, shop, report]"), "{said}");
}
