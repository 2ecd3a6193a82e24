//! `barrelhead vary`.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use serde_json::{Value, json};

use crate::input::Numbers;
use crate::paper::variants::variants_map;
use crate::pipeline::Failure;
use crate::study::trial::Grade;
use crate::study::vary::{Axis, Legend, MOST_AXES, Variant, bound, typed, vary};
use crate::units::plain;
use crate::write::output;
use crate::write::svg::svg;
use crate::write::variants_csv::variants_csv;

use super::arguments::VaryArguments;
use super::read_numbers::{read, refused};
use super::style::{STRONG, clean, paint};
use super::{Said, json, progress};
use making::Making;

mod earlier;
mod making;

/// The list of all variants.
const LIST: &str = "variants.csv";
/// The map of all variants.
const MAP: &str = "variants.svg";

/// Widest map on the screen, marks.
const WIDEST: usize = 80;

/// Checks every variant, writes list and map, and draws the map on the screen.
pub fn run(arguments: &VaryArguments) -> Said {
    let path = &arguments.file;
    let numbers = match read(path) {
        Ok(numbers) => numbers,
        Err(failure) => return refused(path, &failure, arguments.json),
    };
    let axes = match axes(&arguments.ranges, &numbers) {
        Ok(axes) => axes,
        Err(message) => return Said::wrong(&message),
    };
    let count = match bound(&axes, arguments.make) {
        Ok(count) => count,
        Err(message) => return Said::wrong(&message),
    };
    let Some(out) = arguments.out.clone().or_else(|| usual_folder(path)) else {
        return Said::wrong(&format!(
            "{} names no file; name a parameter file",
            path.display()
        ));
    };
    let bar = progress::bar(count, "checked", arguments.json);
    let variants = vary(&numbers, &axes, &|| bar.inc(1));
    bar.finish_and_clear();
    let mut folders: Vec<Option<String>> = vec![None; count];
    if arguments.make {
        let bar = progress::bar(count, "made", arguments.json);
        let making = Making {
            path,
            numbers: &numbers,
            axes: &axes,
            out: &out,
        };
        let (made, outcome) = making.all(&variants, &|| bar.inc(1));
        bar.finish_and_clear();
        folders = made;
        if let Err(failure) = outcome {
            return making::failed(path, &failure, &folders, &out, arguments.json);
        }
    }
    let sheet = variants_map(&numbers.design().title, &axes, &variants);
    let files = [
        (LIST.to_owned(), variants_csv(&axes, &variants, &folders)),
        (MAP.to_owned(), svg(&sheet).into_bytes()),
    ];
    // Nothing of an earlier run is removed: the names are always the same two.
    let written = match output::replace(&out, &files, |_| false) {
        Ok(written) => written,
        Err(error) => {
            let failure = Failure::NotPut(Arc::new(error));
            return making::failed(path, &failure, &folders, &out, arguments.json);
        }
    };
    let earlier = earlier::folders(&out, &folders);
    if arguments.json {
        let mut value = value(&numbers, path, &axes, &variants, &written, &folders);
        if let Some(map) = value.as_object_mut() {
            map.insert("earlier".to_owned(), json!(earlier));
        }
        return Said::done(json::text(&value)).with_files();
    }
    let mut text = format!(
        "{} ({}): {}\n\n{}\n",
        paint(STRONG, &clean(&numbers.design().title)),
        clean(&path.display().to_string()),
        tally(&variants),
        map(&axes, &variants)
    );
    for file in &written {
        text.push_str(&format!("{}\n", clean(&file.display().to_string())));
    }
    let folders = folders.iter().flatten().count();
    if arguments.make {
        text.push_str(&format!(
            "{folders} of {count} variants made, a folder each beside these; a variant that is stopped or \
             refused is not made\n"
        ));
    }
    let mut said = Said::done(text).with_files();
    said.err = earlier::warning(&earlier, &out);
    said
}

fn axes(ranges: &[String], numbers: &Numbers) -> Result<Vec<Axis>, String> {
    if ranges.len() > MOST_AXES {
        return Err(format!(
            "{} numbers to vary; at most {MOST_AXES} at once, or the map has no place for them: type the two that \
             matter most",
            ranges.len()
        ));
    }
    let axes: Vec<Axis> = ranges
        .iter()
        .map(|range| Axis::parse(range, numbers))
        .collect::<Result<_, _>>()?;
    match axes.as_slice() {
        [a, b] if a.number.key == b.number.key => Err(format!(
            "`{}` is given twice; type one range for it, or another number",
            a.number.key
        )),
        _ => Ok(axes),
    }
}

/// `output/<file stem>-variants`, below the current folder.
fn usual_folder(path: &Path) -> Option<PathBuf> {
    let stem = path.file_stem()?.to_string_lossy().into_owned();
    Some(Path::new("output").join(format!("{stem}-variants")))
}

fn tally(variants: &[Variant]) -> String {
    let mut parts = Vec::new();
    for grade in [Grade::Clear, Grade::Caution, Grade::Stop, Grade::Refused] {
        let count = variants
            .iter()
            .filter(|variant| variant.grade() == grade)
            .count();
        if count > 0 {
            parts.push(format!("{count} {}", grade.name()));
        }
    }
    format!("{} variants: {}", variants.len(), parts.join(", "))
}

/// The map: the first number runs upwards, the last to the right.
fn map(axes: &[Axis], variants: &[Variant]) -> String {
    let legend = Legend::of(variants);
    let Some(across) = axes.last() else {
        return String::new();
    };
    let wide = across.values.len();
    let mut out = String::new();
    if wide > WIDEST {
        out.push_str(&format!(
            "The map is {wide} marks wide, too wide for a screen: see variants.svg.\n"
        ));
    } else {
        let up = if axes.len() > 1 { axes.first() } else { None };
        let labels: Vec<String> = up.map_or_else(
            || vec![String::new()],
            |up| {
                up.values
                    .iter()
                    .map(|value| plain(typed(&up.number, *value)))
                    .collect()
            },
        );
        let margin = labels.iter().map(String::len).max().unwrap_or(0);
        if let Some(up) = up {
            out.push_str(&format!("{} upwards\n", clean(&up.number.key)));
        }
        for (label, row) in labels.iter().zip(variants.chunks(wide)).rev() {
            let marks: String = row.iter().map(|variant| legend.mark(variant)).collect();
            out.push_str(&format!("{label:>margin$}  {marks}\n"));
        }
        let end = |value: Option<&f64>| {
            value.map_or(String::new(), |value| plain(typed(&across.number, *value)))
        };
        out.push_str(&format!(
            "{:margin$}  {} from {} to {}\n",
            "",
            clean(&across.number.key),
            end(across.values.first()),
            end(across.values.last()),
        ));
    }
    out.push_str("\n.  clear\n");
    for code in &legend.codes {
        let letter = legend.letter(code);
        out.push_str(&format!(
            "{letter}  {code} says stop, {} caution\n",
            letter.to_ascii_lowercase()
        ));
    }
    if variants
        .iter()
        .any(|variant| variant.grade() == Grade::Refused)
    {
        out.push_str("#  the file would be refused\n");
    }
    out
}

fn value(
    numbers: &Numbers,
    path: &Path,
    axes: &[Axis],
    variants: &[Variant],
    written: &[PathBuf],
    folders: &[Option<String>],
) -> Value {
    let axes: Vec<Value> = axes
        .iter()
        .map(|axis| json!({ "key": axis.number.key, "values": axis.values }))
        .collect();
    let list: Vec<Value> = variants
        .iter()
        .zip(folders)
        .map(|(variant, folder)| {
            let worst = variant.worst().map(crate::write::entries::check_entry);
            let refused = variant.found.as_ref().err();
            json!({
                "values": variant.values,
                "verdict": variant.grade().name(),
                "worst": worst,
                "refused": refused.map(|refusal| json!({ "key": refusal.key, "message": refusal.message })),
                "folder": folder,
            })
        })
        .collect();
    json!({
        "file": path.display().to_string(),
        "title": numbers.design().title,
        "axes": axes,
        "variants": list,
        "files": written.iter().map(|file| file.display().to_string()).collect::<Vec<_>>(),
    })
}
