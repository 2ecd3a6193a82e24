//! What reading a design gathers on its way: the sources, the findings, the places of keys.

use std::cell::{Cell, RefCell};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::again::Again;
use super::design::{Place, Places, Unit};
use super::keys;
use super::load::{LoadError, load};
use super::outsized::Outsized;
use super::reader::Reader;
use super::readings::{Measurements, Readings};
use super::source::{Source, Sources};
use super::syntax;
use super::tree::{At, Entry, Table, Value, from_document};
use super::words;
use crate::diagnostic::Diagnostic;

/// A file that was read: its text and its tree.
#[derive(Debug, Clone)]
pub(crate) struct Sheet {
    pub source: Arc<Source>,
    pub root: Table,
    /// Of bare numbers; where it is not known, as it was most likely meant.
    pub unit: Unit,
    /// `false`: the key of the unit is misspelt, out of place or wrong, and that is reported. Bare
    /// numbers then are no lengths, so that nothing is held against them.
    pub unit_known: bool,
    /// Nothing may be said about its keys.
    pub scrambled: bool,
    /// The file on disk, however it was named; `None` for a text that came from elsewhere.
    pub identity: Option<PathBuf>,
    /// 0-based lines with a mistake of TOML: other findings there would be its echo.
    slip_lines: BTreeSet<usize>,
}

/// The key of the unit.
const UNIT: &str = "unit";

/// Whether a key of the whole file that is not known was meant to be its unit.
fn means_unit(name: &str) -> bool {
    name == UNIT || (keys::key("", name).is_none() && keys::meant("", name) == Some(UNIT))
}

/// The unit under a slip for its name, or in a table where it does not belong: that table, its
/// name there, its entry.
fn misplaced_unit(root: &Table) -> Option<(&str, &str, &Entry)> {
    let slip = root.entries.iter().find(|(name, _)| means_unit(name));
    if let Some((name, entry)) = slip {
        return Some(("", name, entry));
    }
    root.entries.iter().find_map(|(path, _)| {
        let (name, entry) = root.inner(path)?.entries.get_key_value(UNIT)?;
        Some((path.as_str(), name.as_str(), entry))
    })
}

/// The unit that a wrong text for one was most likely meant to be.
fn unit_meant(text: &str) -> Unit {
    let text = text.trim().trim_matches(['"', '\'']);
    match words::unit_meant(text) {
        Some(words::IN) => Unit::Inch,
        _ => Unit::Mm,
    }
}

/// Most findings handed out; beyond this it is no parameter file.
const MOST_FINDINGS: usize = 200;

struct Finding {
    order: (usize, usize),
    diagnostic: Diagnostic,
}

/// Shared by all readers of one design.
#[derive(Default)]
pub(crate) struct Context {
    sheets: RefCell<Vec<Arc<Sheet>>>,
    /// Sheets by the names under which they were opened.
    opened: RefCell<BTreeMap<PathBuf, usize>>,
    findings: RefCell<Vec<Finding>>,
    places: RefCell<BTreeMap<String, Place>>,
    /// All of them, where the same keys were read before.
    known_places: Option<Places>,
    /// Findings beyond those kept.
    uncounted: Cell<usize>,
    readings: RefCell<Vec<Readings>>,
    diameter_of_pairs: Cell<Option<f64>>,
    outsized: RefCell<Vec<Outsized>>,
    /// Every file that was asked for, there or not.
    named: RefCell<BTreeSet<PathBuf>>,
    /// Added to the mean of the readings of these keys, mm.
    shifts: BTreeMap<String, f64>,
}

/// Sheets read before, to be read again without the disk.
#[derive(Debug, Clone, Default)]
pub(crate) struct Sheets {
    pub sheets: Vec<Arc<Sheet>>,
    opened: BTreeMap<PathBuf, usize>,
}

impl Context {
    /// Begins with sheets that were read before, the means of some readings moved; nothing is found
    /// yet. The places of keys need not be gathered again where they are known.
    pub fn again(
        sheets: Sheets,
        shifts: BTreeMap<String, f64>,
        known_places: Option<Places>,
    ) -> Context {
        Context {
            sheets: RefCell::new(sheets.sheets),
            opened: RefCell::new(sheets.opened),
            shifts,
            known_places,
            ..Context::default()
        }
    }

    /// How far the mean of the readings of a key is moved, mm.
    pub fn shift(&self, key: &str) -> f64 {
        self.shifts.get(key).copied().unwrap_or_default()
    }

    /// Keeps the readings of a key, each key once.
    pub fn keep(&self, readings: Readings) {
        let mut kept = self.readings.borrow_mut();
        if kept.iter().all(|known| known.key != readings.key) {
            kept.push(readings);
        }
    }

    /// Keeps a number that is far beyond what is usual, each key once.
    pub fn keep_outsized(&self, outsized: Outsized) {
        let mut kept = self.outsized.borrow_mut();
        if kept.iter().all(|known| known.key != outsized.key) {
            kept.push(outsized);
        }
    }

    /// Those that were kept.
    pub fn outsized(&self) -> Vec<Outsized> {
        self.outsized.borrow().clone()
    }

    /// Keeps the barrels' diameter as pitches read over and between give it.
    pub fn keep_diameter(&self, diameter: Option<f64>) {
        self.diameter_of_pairs.set(diameter);
    }

    /// All readings in file order, and what it takes to read the parameter file, sheet `first`,
    /// again.
    pub fn measurements(&self, first: usize) -> Measurements {
        let mut readings = self.readings.borrow().clone();
        if readings.is_empty() {
            return Measurements::default();
        }
        let sheets = self.sheets.borrow();
        readings.sort_by_key(|readings| {
            let place = readings.place.as_ref();
            let file = |path| sheets.iter().position(|sheet| &sheet.source.path == path);
            place.map(|place| (file(&place.file), place.line))
        });
        Measurements {
            readings,
            diameter_of_pairs: self.diameter_of_pairs.get(),
            again: Some(Arc::new(Again {
                sheets: self.sheets(),
                first,
                places: None,
            })),
        }
    }

    /// The sheets read so far.
    pub fn sheets(&self) -> Sheets {
        Sheets {
            sheets: self.sheets.borrow().clone(),
            opened: self.opened.borrow().clone(),
        }
    }

    /// A sheet by its number.
    pub fn sheet(&self, number: usize) -> Option<Arc<Sheet>> {
        self.sheets.borrow().get(number).cloned()
    }

    /// The unit of bare numbers at a place.
    pub fn unit(&self, at: &At) -> Unit {
        self.sheet(at.source).map_or(Unit::Mm, |sheet| sheet.unit)
    }

    /// Whether bare numbers at a place are lengths.
    pub fn unit_known(&self, at: &At) -> bool {
        self.sheet(at.source).is_none_or(|sheet| sheet.unit_known)
    }

    /// Reports a fault at a place.
    pub fn fault(&self, at: &At, key: &str, message: String, hint: Option<String>) {
        let Some(sheet) = self.sheet(at.source) else {
            return;
        };
        if self.full() {
            return;
        }
        if sheet
            .slip_lines
            .contains(&sheet.source.line_index(at.span.start))
        {
            return;
        }
        self.push(
            (at.source, at.span.start + 1),
            sheet.source.diagnostic(&at.span, key, message, hint),
        );
    }

    /// Reports a fault of a whole file.
    pub fn fault_of_file(&self, number: usize, key: &str, message: String, hint: Option<String>) {
        let file = self.sheet(number).map(|sheet| sheet.source.path.clone());
        let mut diagnostic = Diagnostic::whole(file, message, hint);
        key.clone_into(&mut diagnostic.key);
        self.push((number, 0), diagnostic);
    }

    /// Enough is gathered to fill the list of findings even if each was found twice; the rest is
    /// only counted, so that a file of nothing but mistakes costs no more than one of a few.
    fn full(&self) -> bool {
        let full = self.findings.borrow().len() >= 2 * MOST_FINDINGS;
        if full {
            self.uncounted.set(self.uncounted.get() + 1);
        }
        full
    }

    fn push(&self, order: (usize, usize), diagnostic: Diagnostic) {
        self.findings
            .borrow_mut()
            .push(Finding { order, diagnostic });
    }

    /// Remembers where a key was set; `path` is asked for only where that is not known.
    pub fn remember(&self, path: impl FnOnce() -> String, at: &At) {
        if self.known_places.is_some() {
            return;
        }
        if let Some(place) = self.place(at) {
            self.places.borrow_mut().insert(path(), place);
        }
    }

    /// A place by file and line.
    pub fn place(&self, at: &At) -> Option<Place> {
        let sheet = self.sheet(at.source)?;
        Some(Place {
            file: sheet.source.path.clone(),
            line: sheet.source.line_index(at.span.start) + 1,
        })
    }

    /// Reads a file, once however often it is named. `None`: it could not be read, and that is
    /// reported; `named` is where another file named it.
    pub fn open(&self, path: &Path, named: Option<(&At, &str)>) -> Option<usize> {
        self.named.borrow_mut().insert(path.to_path_buf());
        let before = self.opened.borrow().get(path).copied();
        if before.is_some() {
            return before;
        }
        let number = self.open_file(path, named)?;
        self.opened.borrow_mut().insert(path.to_path_buf(), number);
        Some(number)
    }

    fn open_file(&self, path: &Path, named: Option<(&At, &str)>) -> Option<usize> {
        let identity = std::fs::canonicalize(path).ok();
        if identity.is_some() {
            let known = self
                .sheets
                .borrow()
                .iter()
                .position(|sheet| sheet.identity == identity);
            if known.is_some() {
                return known;
            }
        }
        match load(path) {
            Ok(text) => {
                let base = path.parent().map(Path::to_path_buf).unwrap_or_default();
                Some(self.add(Source::new(path.to_path_buf(), base, &text), identity))
            }
            Err(error) => {
                self.could_not_load(path, error, named);
                None
            }
        }
    }

    fn could_not_load(&self, path: &Path, error: LoadError, named: Option<(&At, &str)>) {
        match (error.spot, named) {
            (Some((line, text)), _) => {
                let order = named.map_or((0, 0), |(at, _)| (at.source, at.span.start + 1));
                let diagnostic = Diagnostic {
                    file: Some(path.to_path_buf()),
                    at: Some((line, 1)),
                    span_len: text.chars().count().max(1),
                    source_line: text,
                    key: String::new(),
                    message: format!("the file {}", error.message),
                    hint: error.hint,
                };
                self.push(order, diagnostic);
            }
            (None, Some((at, key))) => {
                let message = format!("the file {} named here {}", path.display(), error.message);
                self.fault(at, key, message, error.hint);
            }
            (None, None) => {
                let message = format!("the file {}", error.message);
                self.push(
                    (0, 0),
                    Diagnostic::whole(Some(path.to_path_buf()), message, error.hint),
                );
            }
        }
    }

    /// Takes a text as the next sheet: parses it, reports what is wrong with its TOML and its unit.
    pub fn add(&self, source: Source, identity: Option<PathBuf>) -> usize {
        let number = self.sheets.borrow().len();
        let parsed = syntax::parse(&source);
        let mut root = from_document(&parsed.document, number);
        if parsed.incomplete {
            root.mark_incomplete();
        }
        let mut slip_lines = BTreeSet::new();
        for slip in parsed.slips {
            slip_lines.insert(source.line_index(slip.span.start));
            let diagnostic = source.diagnostic(&slip.span, "", slip.message, slip.hint);
            self.push((number, slip.span.start + 1), diagnostic);
        }
        let scrambled = parsed.scrambled;
        let typed = root.entries.get(UNIT).map(|entry| &entry.node.value);
        let (unit, unit_known) = match typed {
            Some(Value::Text(text)) if text == words::IN => (Unit::Inch, true),
            Some(Value::Text(text)) if text == words::MM => (Unit::Mm, true),
            Some(Value::Text(text)) => (unit_meant(text), false),
            Some(_) => (Unit::Mm, false),
            None => {
                let mut slips = slip_lines.iter().map(|line| source.line_text(*line));
                let slip = slips.find_map(|line| {
                    let (key, value) = line.split_once(['=', ':'])?;
                    means_unit(key.trim()).then_some(value)
                });
                let misplaced = misplaced_unit(&root).map(|(_, _, entry)| &entry.node.value);
                let meant = match misplaced {
                    Some(Value::Text(text)) => Some(text.as_str()),
                    Some(_) => Some(""),
                    None => slip,
                };
                (meant.map_or(Unit::Mm, unit_meant), meant.is_none())
            }
        };
        let sheet = Sheet {
            source: Arc::new(source),
            root,
            unit,
            unit_known,
            scrambled,
            identity,
            slip_lines,
        };
        self.sheets.borrow_mut().push(Arc::new(sheet));
        self.check_unit(number);
        number
    }

    fn check_unit(&self, number: usize) {
        let Some(sheet) = self.sheet(number).filter(|sheet| !sheet.scrambled) else {
            return;
        };
        let Some(entry) = sheet.root.entries.get(UNIT) else {
            // A file that is taken is not read as a whole, so its slips there would not be seen.
            if let Some((path, name, entry)) = misplaced_unit(&sheet.root) {
                let (table, name) = (sheet.root.inner(path).unwrap_or(&sheet.root), name);
                Reader::of_free_keys(self, table, path).unknown(name, &entry.key);
            }
            return;
        };
        let hint = match &entry.node.value {
            Value::Text(text) if words::UNIT.contains(&text.as_str()) => return,
            Value::Text(text) => words::unit_meant(text),
            _ => None,
        };
        let hint = match hint {
            Some(meant) => format!("\"{meant}\""),
            None => "\"mm\" or \"in\"".to_owned(),
        };
        let message = "`unit` must be \"mm\" or \"in\"".to_owned();
        self.fault(&entry.node.at, UNIT, message, Some(hint));
    }

    /// Every file that was asked for, there or not.
    pub fn into_named(self) -> BTreeSet<PathBuf> {
        self.named.into_inner()
    }

    /// Whether anything was reported.
    pub fn has_findings(&self) -> bool {
        !self.findings.borrow().is_empty()
    }

    /// All findings in file order, each once.
    pub fn into_findings(self) -> Vec<Diagnostic> {
        let mut findings = self.findings.into_inner();
        findings.sort_by_key(|finding| finding.order);
        let mut seen = BTreeSet::new();
        findings.retain(|f| seen.insert((f.order, f.diagnostic.message.clone())));
        let more = findings.len().saturating_sub(MOST_FINDINGS) + self.uncounted.get();
        findings.truncate(MOST_FINDINGS);
        let mut out: Vec<Diagnostic> = findings
            .into_iter()
            .map(|finding| finding.diagnostic)
            .collect();
        if let Some(last) = out.last_mut().filter(|_| more > 0) {
            last.message
                .push_str(&format!(" ({more} more mistakes are not shown)"));
        }
        out
    }

    /// The places of all keys and the files read.
    pub fn into_places(self) -> (Places, Sources) {
        let sheets = self.sheets.into_inner();
        let sources = Sources(sheets.iter().map(|sheet| sheet.source.clone()).collect());
        let gathered = || Arc::new(self.places.into_inner());
        (self.known_places.unwrap_or_else(gathered), sources)
    }
}
