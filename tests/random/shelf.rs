//! Tables taken from another file: part of a table's keys moves there, with its own unit, and keys that the
//! design has itself stand there once more with another value, which must not count.

use super::{Dice, Sheet, Value};

/// A file with one table.
#[derive(Clone, Debug)]
pub struct Shelf {
    pub table: &'static str,
    pub inches: bool,
    /// What the design takes from it.
    pub keys: Vec<(String, Value)>,
    /// What the design's own keys displace.
    pub decoys: Vec<(String, Value)>,
}

impl Shelf {
    pub fn file(&self) -> String {
        format!("shelf-{}.toml", self.table)
    }
}

/// Keys that move together: a table within a table, or the two halves of one statement.
fn group(key: &str) -> &str {
    let inner = [
        "machines.bass",
        "machines.screws",
        "guide.scribe",
        "machines.barrels",
        "machines.over_outer_barrels",
    ];
    match inner.iter().find(|inner| key.starts_with(**inner)) {
        Some(&"machines.over_outer_barrels") => "machines.barrels",
        Some(inner) => inner,
        None => key,
    }
}

impl Sheet {
    /// Moves part of `[machines]` or `[guide]` to a file of its own, now and then.
    pub fn to_the_shelf(&mut self, dice: &mut Dice) {
        for table in ["machines", "guide"] {
            if !dice.once_in(5) {
                continue;
            }
            let mut shelf = Shelf {
                table,
                inches: dice.once_in(2),
                keys: Vec::new(),
                decoys: Vec::new(),
            };
            let begins = |key: &str| key.split('.').next() == Some(table);
            let mut groups: Vec<String> = Vec::new();
            for (key, _) in self.keys.iter().filter(|(key, _)| begins(key)) {
                if !groups.iter().any(|own| own == group(key)) {
                    groups.push(group(key).to_owned());
                }
            }
            for own in groups {
                let moved = !dice.once_in(3);
                let decoy = dice.once_in(3);
                let of_group = |(key, _): &(String, Value)| begins(key) && group(key) == own;
                if moved {
                    let (gone, kept) = self.keys.drain(..).partition(of_group);
                    self.keys = kept;
                    shelf.keys.extend::<Vec<_>>(gone);
                } else if decoy {
                    let other = self.keys.iter().filter(|one| of_group(one));
                    shelf.decoys.extend(other.filter_map(|(key, value)| {
                        let Value::Length(length) = value else {
                            return None;
                        };
                        Some((key.clone(), Value::Length(length + 1.0)))
                    }));
                }
            }
            // Half of a statement would be a mistake of its own.
            shelf.decoys.retain(|(key, _)| {
                ![
                    "machines.barrels",
                    "machines.bass",
                    "machines.screws",
                    "guide.scribe",
                ]
                .contains(&group(key))
            });
            if !shelf.keys.is_empty() {
                self.shelf.push(shelf);
            }
        }
    }

    /// The same design in one file.
    pub fn in_one_file(&self) -> Sheet {
        let mut sheet = self.clone();
        for shelf in sheet.shelf.drain(..) {
            sheet.keys.extend(shelf.keys);
        }
        sheet
    }
}
