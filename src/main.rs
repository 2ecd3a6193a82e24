//! The `barrelhead` command.

fn main() {}
