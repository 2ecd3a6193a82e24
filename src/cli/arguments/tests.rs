use super::*;
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
