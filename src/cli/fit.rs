//! `barrelhead fit`.

use serde_json::{Value, json};

use crate::input::{Side, Unit};
use crate::layout::Layout;
use crate::standards::y14_5;
use crate::study::drilled::{Loosest, loosest};
use crate::study::fit::{self, Asked, Bit, SideFit, WANTED, WORST};
use crate::tolerance::NOISE;
use crate::units::{show_degrees, show_mm};

use super::arguments::FitArguments;
use super::check::checked;
use super::style::{Lengths, QUIET, STRONG, clean, paint};
use super::table::{Lean, Table};
use super::{Said, drilled, failure_text, json, status_of};

/// The seed of every run: any would do, but another changes every figure.
const SEED: u64 = 1994;

/// Keys of `[drilling]`, as the file names them, with where an absent one comes from.
const KEYS: [(&str, &str); 5] = [
    ("position", "our assumption"),
    ("squareness", "our assumption"),
    ("wander", "our assumption"),
    ("growth", "common practice; figure assumed"),
    ("pitch", "our assumption"),
];

/// Works out the fit and says it.
pub fn run(arguments: &FitArguments) -> Said {
    let path = &arguments.file;
    let (layout, _) = match checked(path) {
        Ok(found) => found,
        Err(failure) => {
            let mut said = Said::done("");
            said.status = status_of(&failure);
            if arguments.json {
                let mut value = json::failed(path, &failure);
                value["exit_status"] = json!(said.status as u8);
                said.out = json::text(&value);
            } else {
                said.err = failure_text(path, &failure);
            }
            return said;
        }
    };
    let asked = Asked {
        trials: arguments.trials,
        seed: SEED,
    };
    let sides = fit::fit(&layout, asked);
    if arguments.json {
        let sides: Vec<Value> = sides.iter().map(side_value).collect();
        return Said::done(json::text(&json!({
            "file": path.display().to_string(),
            "title": layout.design.title,
            "trials": asked.trials,
            "seed": asked.seed,
            "wanted": WANTED,
            "drilling": drilling_value(&layout),
            "sides": sides,
            "as_drilled": drilled::value(&layout),
            "exit_status": 0,
        })));
    }
    let lengths = Lengths {
        inches: arguments.inches || layout.design.unit == Unit::Inch,
    };
    let mut out = format!(
        "{} ({})\n\n",
        paint(STRONG, &clean(&layout.design.title)),
        clean(&path.display().to_string())
    );
    out.push_str(&drilled::text(&layout, lengths));
    out.push_str(&drilling_text(&layout, lengths));
    let alike = match sides.as_slice() {
        [a, b] => a.bits == b.bits,
        _ => false,
    };
    for side in sides.iter().take(if alike { 1 } else { sides.len() }) {
        let which = match side.side {
            _ if alike => "Either",
            Side::Treble => "Treble",
            Side::Bass => "Bass",
        };
        out.push_str(&side_text(
            side,
            which,
            asked.trials,
            lengths,
            &loosest(&layout),
        ));
    }
    Said::done(out)
}

/// The value of each key with its unit, in the order of [`KEYS`].
fn drilling(layout: &Layout) -> [f64; 5] {
    let own = &layout.design.drilling;
    [
        own.position,
        own.squareness.to_degrees(),
        own.wander,
        own.growth,
        own.pitch,
    ]
}

fn basis(layout: &Layout, key: &str, default: &'static str) -> &'static str {
    let given = layout
        .design
        .places
        .contains_key(&format!("drilling.{key}"));
    if given { "from the file" } else { default }
}

fn drilling_text(layout: &Layout, lengths: Lengths) -> String {
    let what = [
        "a bore's centre at the side, each way",
        "lean of the rig, each way",
        "drift of the bit by the barrel's end, each way",
        "what a bore gains over its bit, on average",
        "a barrel off its place along the plate",
    ];
    let mut table = Table::new(&[
        ("[drilling]", Lean::Left),
        ("", Lean::Right),
        ("", Lean::Left),
        ("", Lean::Left),
    ]);
    let shown = drilling(layout).into_iter().zip(KEYS).zip(what);
    for ((value, (key, default)), what) in shown {
        let value = if key == "squareness" {
            show_degrees(value.to_radians())
        } else {
            lengths.show(value)
        };
        table.row(vec![
            key.to_owned(),
            value,
            what.to_owned(),
            basis(layout, key, default).to_owned(),
        ]);
    }
    let note = "Standard deviations, but growth. Measure your own and put them under [drilling].\n";
    format!("{}{}", table.draw(), paint(QUIET, note))
}

/// The bits a maker chooses from: none beyond the first that is wider than the design's and the
/// advised one and goes in as good as always.
fn worth_showing(side: &SideFit) -> &[Bit] {
    let own = side.own().map_or(0.0, |bit| bit.diameter);
    let advised = side.advised().map_or(f64::INFINITY, |bit| bit.diameter);
    let needed = own.max(advised);
    let last = side
        .bits
        .iter()
        .position(|bit| bit.diameter > needed && bit.chance.share() > ALWAYS);
    &side.bits[..last.map_or(side.bits.len(), |last| last + 1)]
}

/// As good as always, for the listing alone.
const ALWAYS: f64 = 0.9995;

fn side_text(
    side: &SideFit,
    which: &str,
    trials: u64,
    lengths: Lengths,
    loosest: &Loosest,
) -> String {
    let barrels = side.plate.stations.len();
    let many = if barrels == 1 { "" } else { "s" };
    let mut out = format!(
        "\n{}\n",
        paint(
            STRONG,
            &format!(
                "{which} side: {barrels} barrel{many} of {} held over {}",
                lengths.show(side.plate.barrel_diameter),
                lengths.show(side.plate.grip)
            )
        )
    );
    let mut table = Table::new(&[
        ("bit", Lean::Left),
        ("bore", Lean::Right),
        ("clearance", Lean::Right),
        ("goes in", Lean::Right),
        ("std error", Lean::Left),
        ("lean up to", Lean::Right),
        ("", Lean::Left),
    ]);
    let advised = side.advised().map(|bit| bit.diameter.to_bits());
    for bit in worth_showing(side) {
        let take = advised == Some(bit.diameter.to_bits());
        let note = match (take, bit.own) {
            (true, true) => "← your bore; take this",
            (true, false) => "← take this",
            (false, true) => "← your bore",
            (false, false) => "",
        };
        table.row(vec![
            bit.name
                .clone()
                .unwrap_or_else(|| "no stock size".to_owned()),
            lengths.show(bit.diameter),
            lengths.show(bit.clearance),
            percent(bit.chance.share()),
            error(bit.chance.standard_error()),
            show_degrees(bit.lean),
            note.to_owned(),
        ]);
    }
    out.push_str(&table.draw());
    out.push('\n');
    out.push_str(&advice(side, lengths, loosest));
    out.push_str(&format!(
        "\nWorst case, everything {} standard deviations off at once ({},\nformulas {}; the trials say how seldom that is):\n",
        WORST,
        y14_5::DESIGNATION,
        y14_5::FORMULAS.words()
    ));
    for case in &side.worst {
        let bit = case.bit.as_ref().map_or_else(
            || "no stock bit".to_owned(),
            |bit| format!("bit {}", bit.name),
        );
        out.push_str(&format!(
            "  {} → bore {}, {bit}\n    {}\n",
            case.formula,
            lengths.show(case.bore),
            case.covers
        ));
    }
    if let Some(play) = side.block_play {
        out.push_str(&format!(
            "  The bit's play in the block alone lets it stray within {} by the barrel's end.\n",
            lengths.show(play)
        ));
    }
    let note = format!(
        "From {trials} trials with the same errors for every bit. The plate is free to shift and \
turn on the side;\n\"goes in\" means that every barrel passes and touches nothing over its whole \
length.\n"
    );
    out.push_str(&paint(QUIET, &note));
    out
}

fn advice(side: &SideFit, lengths: Lengths, loosest: &Loosest) -> String {
    let named = |bit: &Bit| bit.name.clone().unwrap_or_else(|| show_mm(bit.diameter));
    // What goes in surely may still lean: two judgements of one bit stand side by side.
    let loose = |bit: &Bit| {
        if bit.clearance <= loosest.clearance + NOISE {
            return String::new();
        }
        format!(
            "\n({} loose: the check `clearance` wants at most {}, {})",
            lengths.show(bit.clearance),
            lengths.show(loosest.clearance),
            loosest.basis.name()
        )
    };
    let wanted = percent(WANTED);
    let Some(advised) = side.advised() else {
        return format!(
            "No bit of this list lets {wanted} of plates in. Drill more truly, or plan to ease the bores.\n"
        );
    };
    let mut out = format!(
        "Take {}: the smallest bit with which at least {wanted} of plates go in (our assumption of \
enough).{}\n",
        named(advised),
        loose(advised)
    );
    let [metric, inch] = side.advised_of_each();
    match (metric, inch) {
        (Some(metric), Some(inch)) if metric.diameter > inch.diameter => {
            out.push_str(&format!(
                "With metric bits: {}.{}\n",
                named(metric),
                loose(metric)
            ));
        }
        (_, Some(inch)) if inch.diameter > advised.diameter => {
            out.push_str(&format!(
                "With inch bits: {}.{}\n",
                named(inch),
                loose(inch)
            ));
        }
        _ => {}
    }
    if advised.own && advised.off.abs() > NOISE {
        out.push_str(&format!(
            "It is the bit of your bore, which is {} wide; the check `bit-size` takes them for one.\n",
            lengths.show(advised.diameter)
        ));
    }
    // Two sizes that print alike are not compared.
    if let Some(own) = side
        .own()
        .filter(|own| (own.diameter - advised.diameter).abs() >= 0.005)
    {
        let by = advised.diameter - own.diameter;
        let lean = show_degrees((advised.lean - own.lean).abs());
        out.push_str(&if by > 0.0 {
            format!(
                "{} is {} wider than your bore; the looseness costs {lean} more lean\nof a barrel under string pull.\n",
                named(advised),
                lengths.show(by)
            )
        } else {
            format!(
                "{} is {} narrower than your bore and takes {lean} off the lean\nof a barrel under string pull.\n",
                named(advised),
                lengths.show(-by)
            )
        });
    }
    out
}

/// A standard error in percent: never none.
fn error(share: f64) -> String {
    if share < 0.00005 {
        "below 0.01 %".to_owned()
    } else {
        format!("± {}", percent(share))
    }
}

/// A share in percent, as many decimals as a maker reads.
fn percent(share: f64) -> String {
    format!("{:.2} %", share * 100.0)
}

fn drilling_value(layout: &Layout) -> Value {
    let unit = |key: &str| if key == "squareness" { "deg" } else { "mm" };
    drilling(layout)
        .into_iter()
        .zip(KEYS)
        .map(|(value, (key, default))| {
            json!({
                "key": key,
                "value": value,
                "unit": unit(key),
                "basis": basis(layout, key, default),
            })
        })
        .collect()
}

fn bit_value(bit: &Bit) -> Value {
    json!({
        "name": bit.name,
        "diameter_mm": bit.diameter,
        "clearance_mm": bit.clearance,
        "lean_deg": bit.lean.to_degrees(),
        "chance": bit.chance.share(),
        "standard_error": bit.chance.standard_error(),
        "own": bit.own,
    })
}

fn side_value(side: &SideFit) -> Value {
    let worst: Vec<Value> = side
        .worst
        .iter()
        .map(|case| {
            json!({
                "formula": case.formula,
                "covers": case.covers,
                "source": y14_5::DESIGNATION,
                "mark": y14_5::FORMULAS.words(),
                "bore_mm": case.bore,
                "bit": case.bit.as_ref().map(|bit| bit.name.clone()),
            })
        })
        .collect();
    let [metric, inch] = side.advised_of_each();
    json!({
        "side": side.side.name(),
        "barrels": side.plate.stations.len(),
        "barrel_diameter_mm": side.plate.barrel_diameter,
        "grip_mm": side.plate.grip,
        "worst_cases": worst,
        "block_play_mm": side.block_play,
        "bits": side.bits.iter().map(bit_value).collect::<Vec<_>>(),
        "advised": side.advised().and_then(|bit| bit.name.clone()),
        "advised_metric": metric.and_then(|bit| bit.name.clone()),
        "advised_inch": inch.and_then(|bit| bit.name.clone()),
    })
}
