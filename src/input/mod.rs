//! The parameter file: read as typed with the place of every value, then made into a [`Design`].
//!
//! Order of work: the bytes become text (`source`), the text a tree with places (`syntax`,
//! `tree`), tables named by `from` are laid under those that name them (`from`), and each table
//! has a file of its own that reads its keys and checks them. Every mistake is gathered in one
//! `context` and handed out at once.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::Arc;

mod again;
mod assumed;
mod bores;
pub mod check_codes;
mod context;
mod decimal_commas;
pub mod defaults;
mod design;
mod drilled;
mod drilling;
mod field;
mod from;
mod guide;
mod head;
mod joined;
mod keys;
mod known;
mod load;
mod machines;
pub mod measured;
mod numbers;
mod nut;
mod outsized;
mod partial;
mod placement;
mod read_lengths;
mod read_plain;
mod read_readings;
mod reader;
mod readings;
mod rig;
#[cfg(test)]
pub mod sample;
mod schema;
mod shop;
mod sides;
mod slots;
mod source;
mod strings;
mod syntax;
mod syntax_words;
mod template;
mod together;
mod tolerances;
mod tree;
mod uncertainty;
mod wood;
mod words;

pub use again::read_again;
pub use assumed::{Assumed, AssumedBasis, AssumedValue};
pub use check_codes::KNOWN_CHECK_CODES;
pub use design::*;
pub use drilled::{Drilled, DrilledAlong, DrilledKey, DrilledKeys};
pub use drilling::Drilling;
pub use load::{LARGEST_FILE, bytes_now};
pub use numbers::{KeyedNumber, NumberKind, Numbers};
pub use outsized::Outsized;
pub use partial::read_partial;
pub use readings::{Measurements, Readings};
pub use schema::schema;
pub use strings::{DiameterBasis, Strings};
pub use template::Template;
pub use together::holds_together;
pub use tolerances::Tolerances;
pub use uncertainty::Uncertainty;
pub use wood::{Climate, Cut, Wood};

use crate::diagnostic::Diagnostic;
use context::{Context, Sheet};
use field::Field;
use known::Known;
use reader::Reader;
use source::{Source, Sources};
use tree::Table;

/// Reads a parameter file.
///
/// # Errors
/// Everything that is wrong with it, in file order; never an empty list.
pub fn read(path: &Path) -> Result<Design, Vec<Diagnostic>> {
    let context = Context::default();
    let number = context.open(path, None);
    let design = number.and_then(|number| read_sheet(&context, number));
    finish(context, design, number.unwrap_or_default(), path)
}

/// Reads a design from a text, as if it stood in a file called `name`; a `from` starts at `base_dir`.
///
/// # Errors
/// Everything that is wrong with it, in file order; never an empty list.
pub fn read_str(text: &str, name: &Path, base_dir: &Path) -> Result<Design, Vec<Diagnostic>> {
    let context = Context::default();
    let source = Source::new(name.to_path_buf(), base_dir.to_path_buf(), text);
    let number = context.add(source, None);
    let design = read_sheet(&context, number);
    finish(context, design, number, name)
}

/// The files that reading a parameter file asks for: itself and those that `from` names, also where
/// they are not there or hold mistakes.
#[must_use]
pub fn files_asked_for(path: &Path) -> BTreeSet<PathBuf> {
    let context = Context::default();
    if let Some(number) = context.open(path, None) {
        let _ = read_sheet(&context, number);
    }
    context.into_named()
}

/// Whether a file holds a table `[head]`, so that it describes a design and not a set or a block
/// alone. A file that cannot be made out or holds nothing may, and so may a slip for that name: reading it
/// says what is wrong.
#[must_use]
pub fn has_head(path: &Path) -> bool {
    let context = Context::default();
    let sheet = context
        .open(path, None)
        .and_then(|number| context.sheet(number));
    sheet.is_none_or(|sheet| {
        let root = &sheet.root;
        let slip = || Reader::of_free_keys(&context, root, "").misspelt("head");
        root.incomplete || root.entries.is_empty() || root.entries.contains_key("head") || slip()
    })
}

fn finish(
    context: Context,
    design: Option<Design>,
    first: usize,
    path: &Path,
) -> Result<Design, Vec<Diagnostic>> {
    match design {
        Some(mut design) if !context.has_findings() => {
            design.measurements = context.measurements(first);
            design.outsized = context.outsized();
            (design.places, design.sources) = context.into_places();
            let paths = design.sources.0.iter().map(|source| source.path.clone());
            design.files = paths.collect();
            Ok(design)
        }
        _ => {
            let mut findings = context.into_findings();
            if findings.is_empty() {
                let message =
                    "the file was refused without a reason; this is a fault of the program";
                findings.push(Diagnostic::whole(Some(path.to_path_buf()), message, None));
            }
            Err(findings)
        }
    }
}

fn read_sheet(context: &Context, number: usize) -> Option<Design> {
    let sheet = context.sheet(number)?;
    if sheet.scrambled {
        return None;
    }
    let root = &sheet.root;
    if root.entries.is_empty() && !root.incomplete {
        let message = "the file is empty, or holds only comments";
        let hint = "the tables of a starter file; `barrelhead start NEW-NAME.toml` writes one";
        context.fault_of_file(number, "", message.to_owned(), Some(hint.to_owned()));
        return None;
    }
    read_tables(context, number, &sheet, root)
}

/// Reads the tables of a whole design; `root` may hold more than the sheet it began with.
fn read_tables(context: &Context, number: usize, sheet: &Sheet, root: &Table) -> Option<Design> {
    let r = Reader::new(context, root, "");
    let title = r.text("title").or(String::new());
    let required = |name: &str| match r.table(name) {
        Field::Good(table) => Some(table),
        Field::Bad => None,
        Field::Absent => {
            if !root.incomplete && !r.misspelt(name) {
                missing_table(context, number, name);
            }
            None
        }
    };
    let optional = |name: &'static str| match r.table(name) {
        Field::Good(table) => Some(Some(table)),
        Field::Absent => Some(None),
        Field::Bad => None,
    };
    let under = |table: &'static str| move |t| Reader::new(context, t, table);
    let mut known = Known::default();

    let head = required("head")
        .map(under("head"))
        .and_then(|r| head::read(r, &mut known));
    let taken = required("machines").map(|own| from::resolve(context, own, &from::MACHINES));
    let machines = taken
        .as_ref()
        .map(under("machines"))
        .and_then(|r| machines::read(r, &mut known));
    let nut = required("nut")
        .map(under("nut"))
        .and_then(|r| nut::read(r, &known));
    let placement = required("placement")
        .map(under("placement"))
        .and_then(placement::read);
    let bores = required("bores")
        .map(under("bores"))
        .and_then(|r| bores::read(r, &mut known));
    let slots = maybe(optional("slots"), |t| slots::read(under("slots")(t)));
    let strings = maybe(optional("strings"), |t| {
        strings::read(under("strings")(t), &known)
    });
    let taken = required("guide").map(|own| from::resolve(context, own, &from::GUIDE));
    let guide = taken
        .as_ref()
        .map(under("guide"))
        .and_then(|r| guide::read(r, &known));
    if let Some(guide) = &guide {
        known.guide_bore = Some(guide.bore_diameter);
        known.bush = Some(guide.bush_diameter);
    }
    let job = maybe(optional("job"), |t| shop::job(under("job")(t)));
    let press = maybe(optional("press"), |t| shop::press(under("press")(t)));
    let nothing = Table {
        at: root.at.clone(),
        entries: BTreeMap::new(),
        incomplete: root.incomplete,
    };
    let print =
        optional("print").and_then(|t| shop::print(under("print")(t.unwrap_or(&nothing)), &known));
    let tolerances = optional("tolerances")
        .and_then(|t| tolerances::read(under("tolerances")(t.unwrap_or(&nothing))));
    let drilling =
        optional("drilling").and_then(|t| drilling::read(under("drilling")(t.unwrap_or(&nothing))));
    let template = optional("template").and_then(|t| {
        let slots = slots.as_ref().map(Option::as_ref);
        template::read(under("template")(t.unwrap_or(&nothing)), t.is_some(), slots)
    });
    let rig = optional("rig").and_then(|t| rig::read(under("rig")(t.unwrap_or(&nothing))));
    let drilled = drilled::read(context, r.node("drilled"), known.barrels());
    let wood = maybe(optional("wood"), |t| wood::read(under("wood")(t)));
    let limits = maybe(optional("limits"), |t| shop::limits(context, t));

    let stem = || {
        sheet
            .source
            .path
            .file_stem()
            .map(|s| s.to_string_lossy().into_owned())
            .unwrap_or_default()
    };
    Some(Design {
        title: title.map(|title| {
            if title.trim().is_empty() {
                stem()
            } else {
                title
            }
        })?,
        unit: sheet.unit,
        inches: None,
        job: job?.unwrap_or_default(),
        head: head?,
        nut: nut?,
        machines: machines?,
        placement: placement?,
        bores: bores?,
        slots: slots?,
        strings: strings?,
        guide: guide?,
        press: press?,
        print: print?,
        tolerances: tolerances?,
        drilling: drilling?,
        drilled: drilled?,
        template: template?,
        rig: rig?,
        wood: wood?,
        limits: limits?.unwrap_or_default(),
        outsized: Vec::new(),
        measurements: Measurements::default(),
        places: Arc::default(),
        files: Vec::new(),
        sources: Sources::default(),
    })
}

/// Reads an optional table; outer `None`: wrong, inner `None`: absent.
#[allow(clippy::option_option)]
fn maybe<'t, T>(
    table: Option<Option<&'t Table>>,
    read: impl FnOnce(&'t Table) -> Option<T>,
) -> Option<Option<T>> {
    match table? {
        None => Some(None),
        Some(table) => read(table).map(Some),
    }
}

fn missing_table(context: &Context, number: usize, name: &str) {
    let what = keys::key("", name).map_or("", |key| key.what);
    let message = format!("the table [{name}] is missing: {what}");
    context.fault_of_file(
        number,
        name,
        message,
        Some(format!("[{name}] with its keys below it")),
    );
}
