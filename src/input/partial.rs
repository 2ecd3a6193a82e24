//! A design of which only a part is known: a set of machines, what a second file says of the neck,
//! and under both what is assumed.

use std::collections::btree_map::Entry as MapEntry;
use std::path::{Path, PathBuf};

use super::assumed::{self, Assumed, Given};
use super::context::Context;
use super::design::Design;
use super::field::Field;
use super::from;
use super::known::Known;
use super::machines;
use super::reader::Reader;
use super::source::Source;
use super::tree::{Table, Value};
use super::{finish, missing_table, read_tables};
use crate::diagnostic::Diagnostic;

/// Name under which findings about assumed values appear.
const ASSUMED: &str = "assumed values";

/// The tables that speak of the neck; one key of either is enough.
const NECK: [&str; 2] = ["head", "nut"];

/// Reads a file that must hold `[machines]` and may hold any other key; keys it lacks are taken from
/// `neck`, whose own machines and title are left aside, and what both lack is assumed. A neck that is
/// named must say something of one.
///
/// # Errors
/// Everything that is wrong with the files, in file order; never an empty list.
pub fn read_partial(
    path: &Path,
    neck: Option<&Path>,
) -> Result<(Design, Vec<Assumed>), Vec<Diagnostic>> {
    let context = Context::default();
    let number = context.open(path, None);
    let neck = neck.map(|neck| context.open(neck, None));
    let mut assumed = Vec::new();
    let design = match (number, neck) {
        (Some(number), None) => read_over(&context, number, None, &mut assumed),
        (Some(number), Some(Some(neck))) => read_over(&context, number, Some(neck), &mut assumed),
        _ => None,
    };
    finish(context, design, number.unwrap_or_default(), path).map(|design| (design, assumed))
}

fn read_over(
    context: &Context,
    number: usize,
    neck: Option<usize>,
    assumed: &mut Vec<Assumed>,
) -> Option<Design> {
    let sheet = context.sheet(number)?;
    if sheet.scrambled {
        return None;
    }
    let mut root = sheet.root.clone();
    // What the set's own `from` brings is the set's, and lies over what the neck says.
    for what in [&from::MACHINES, &from::GUIDE] {
        take(context, &mut root, what);
    }
    if let Some(neck) = neck {
        let other = context.sheet(neck)?;
        if other.scrambled {
            return None;
        }
        ask_of_neck(context, neck, &other.root);
        let mut below = other.root.clone();
        for name in ["title", "unit", "machines"] {
            below.entries.remove(name);
        }
        take(context, &mut below, &from::GUIDE);
        root.incomplete |= below.incomplete;
        lay_tables(&mut root, below);
    }
    let r = Reader::of_free_keys(context, &root, "");
    let machines = match r.table("machines") {
        Field::Good(table) => machines::read(
            Reader::new(context, table, "machines"),
            &mut Known::default(),
        ),
        Field::Bad => None,
        Field::Absent => {
            if !root.incomplete && !r.misspelt("machines") {
                missing_table(context, number, "machines");
            }
            None
        }
    };
    let Some(machines) = machines else {
        // Without machines nothing can be assumed; what is there is read for its own mistakes.
        root.mark_incomplete();
        read_tables(context, number, &sheet, &root);
        return None;
    };
    let given = Given {
        context,
        root: &root,
    };
    *assumed = assumed::assume(&machines, given);
    let source = Source::new(ASSUMED.into(), PathBuf::new(), &assumed::text(assumed));
    let below = context.add(source, None);
    lay_tables(&mut root, context.sheet(below)?.root.clone());
    read_tables(context, number, &sheet, &root)
}

/// Reports a neck's file that says nothing of the neck: everything would be assumed, while its maker
/// believes that the answer is for the wood on the bench.
fn ask_of_neck(context: &Context, number: usize, root: &Table) {
    let r = Reader::of_free_keys(context, root, "");
    let known = NECK.iter().any(|name| match r.table(name) {
        Field::Good(table) => table.incomplete || !table.entries.is_empty(),
        Field::Absent => r.misspelt(name),
        // Reported where it is read.
        Field::Bad => true,
    });
    if known || root.incomplete {
        return;
    }
    let [head, nut] = NECK;
    let message = if root.entries.is_empty() {
        "the file is empty, or holds only comments: it says nothing of the neck".to_owned()
    } else {
        let machines = if root.entries.contains_key("machines") {
            "; its machines are left aside"
        } else {
            ""
        };
        format!(
            "the file says nothing of the neck: no key under [{head}], none under [{nut}]{machines}"
        )
    };
    let hint = format!(
        "what is known of it, such as [{head}] with a line thickness = 18.6; or the command without --neck: \
         then all of it is assumed"
    );
    context.fault_of_file(number, head, message, Some(hint));
}

/// Brings in what a table's `from` names, so that nothing of it is assumed.
fn take(context: &Context, root: &mut Table, what: &from::Takeable) {
    if let Some(entry) = root.entries.get_mut(what.name)
        && let Value::Table(own) = &entry.node.value
    {
        entry.node.value = Value::Table(from::resolve(context, own, what));
    }
}

/// Lays tables under those that are there: a key that is there displaces the same key below and
/// those joined to it by "or".
fn lay_tables(root: &mut Table, below: Table) {
    for (name, under) in below.entries {
        match root.entries.entry(name.clone()) {
            MapEntry::Vacant(place) => {
                place.insert(under);
            }
            MapEntry::Occupied(mut place) => {
                let own = &mut place.get_mut().node;
                if let (Value::Table(over), Value::Table(under)) = (&own.value, under.node.value) {
                    own.value = Value::Table(from::lay_over(over, under, &name));
                }
            }
        }
    }
}
