//! Files that were read, kept to be read again with some of their numbers moved: parsed once,
//! replaced in the tree, read and checked anew as if the numbers stood in the file. What hangs on a
//! number follows, a taken table is taken as before, and the disk is not touched.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::context::{Context, Sheets};
use super::design::{Design, Places};
use super::tree::{At, Node, Table, Value};
use super::{finish, read_sheet};
use crate::diagnostic::Diagnostic;

/// The sheets of a design, the parameter file's own by its number.
#[derive(Debug, Clone, Default)]
pub(crate) struct Again {
    pub sheets: Sheets,
    pub first: usize,
    /// Where the keys were set, if known: other values in their place change nothing of it.
    pub places: Option<Places>,
}

impl Again {
    /// The design with other values at some places, and the means of the readings of some keys
    /// moved by so much, mm.
    ///
    /// # Errors
    /// What the reader says against the file so changed. The lines shown are those of the file as
    /// it is.
    pub fn read(
        &self,
        changes: &[(&At, Value)],
        shifts: &BTreeMap<String, f64>,
    ) -> Result<Design, Vec<Diagnostic>> {
        let mut sheets = self.sheets.clone();
        for (at, value) in changes {
            if let Some(sheet) = sheets.sheets.get_mut(at.source)
                && let Some(node) = node_at(&mut Arc::make_mut(sheet).root, at)
            {
                node.value = value.clone();
            }
        }
        let path = sheets.sheets.get(self.first);
        let path = path.map(|sheet| sheet.source.path.clone());
        let context = Context::again(sheets, shifts.clone(), self.places.clone());
        let design = read_sheet(&context, self.first);
        finish(context, design, self.first, &path.unwrap_or_default())
    }
}

/// Reads the files of a design again as they stood, with the means of the readings of some keys
/// moved by so much, mm. Nothing is read from the disk.
///
/// # Errors
/// What would then be wrong with it, or that the design has no readings.
pub fn read_again(
    design: &Design,
    shifts: &BTreeMap<String, f64>,
) -> Result<Design, Vec<Diagnostic>> {
    let Some(again) = &design.measurements.again else {
        let message = "the design holds no readings";
        return Err(vec![Diagnostic::whole(None, message, None)]);
    };
    again.read(&[], shifts)
}

/// The node at a place.
fn node_at<'t>(table: &'t mut Table, at: &At) -> Option<&'t mut Node> {
    table
        .entries
        .values_mut()
        .find_map(|entry| within(&mut entry.node, at))
}

fn within<'t>(node: &'t mut Node, at: &At) -> Option<&'t mut Node> {
    if node.at == *at && !matches!(node.value, Value::List(_) | Value::Table(_)) {
        return Some(node);
    }
    match &mut node.value {
        Value::List(items) => items.iter_mut().find_map(|item| within(item, at)),
        Value::Table(table) => node_at(table, at),
        _ => None,
    }
}
