//! Readings and wood as `report.json` and `--json` give them: millimetres, percent, grams; null where
//! the file holds nothing of the kind.

use serde_json::{Value, json};

use crate::check::Report;
use crate::input::{Climate, Cut};
use crate::layout::Layout;
use crate::solid::Solids;
use crate::study::{measured, wood};

/// Lengths that were read more than once, and the verdicts that hang on them.
#[must_use]
pub fn measured_entry(layout: &Layout, report: &Report) -> Value {
    let Some(study) = measured::study(&layout.design, report) else {
        return Value::Null;
    };
    let lengths = study.quantities.iter().map(|quantity| {
        let of = &quantity.uncertainty;
        json!({
            "key": quantity.readings.key,
            "readings": quantity.readings.values,
            "mean": of.mean,
            "spread": of.spread,
            "standard_error": of.standard_error,
            "standard_uncertainty": of.standard,
            "factor": of.factor,
            "expanded_uncertainty": of.expanded,
            "disagreeing": of.disagreeing.iter().map(|index| index + 1).collect::<Vec<_>>(),
        })
    });
    let given = study.given.iter().map(|given| {
        json!({ "name": given.name, "value": given.value, "expanded_uncertainty": given.expanded })
    });
    let checks = study.effects.iter().map(|effect| {
        json!({
            "code": effect.code,
            "value": effect.value,
            "expanded_uncertainty": effect.expanded,
            "unit": effect.unit,
        })
    });
    let changes = study.turns.iter().map(|turn| {
        json!({
            "code": turn.code,
            "verdict": turn.now.name(),
            "becomes": turn.then.name(),
            "value": turn.value,
            "key": turn.by.as_ref().map(|(key, _)| key),
            "moved": turn.by.as_ref().map(|(_, by)| by),
        })
    });
    let refused = study.refusals.iter().map(
        |refusal| json!({ "key": refusal.key, "moved": refusal.by, "message": refusal.message }),
    );
    json!({
        "lengths": lengths.collect::<Vec<_>>(),
        "gives": given.collect::<Vec<_>>(),
        "diameters_disagree": study.diameters.map(|two| json!({
            "barrel_diameter": two.typed,
            "by_pitches": two.of_pairs,
            "expanded_uncertainty": two.expanded,
        })),
        "checks": checks.collect::<Vec<_>>(),
        "verdicts_that_change": changes.collect::<Vec<_>>(),
        "refused": refused.collect::<Vec<_>>(),
    })
}

/// What the wood does; its weight where there are solids.
#[must_use]
pub fn wood_entry(layout: &Layout, report: &Report, solids: Option<&Solids>) -> Value {
    let Some(study) = wood::study(layout, report) else {
        return Value::Null;
    };
    let (humidity, celsius) = match study.wood.climate {
        Climate::Humidity { percent, celsius } => (Some(percent), Some(celsius)),
        Climate::Moisture(_) => (None, None),
    };
    let movements = study.movements.iter().map(|movement| {
        json!({ "what": movement.what, "across": movement.across, "least": movement.by[0], "most": movement.by[1] })
    });
    let margins = study.eaten.iter().map(|eaten| {
        json!({
            "code": eaten.code,
            "margin": eaten.margin,
            "lost_least": eaten.by[0],
            "lost_most": eaten.by[1],
            "when": if eaten.drier { "drier" } else { "damper" },
            "no_longer_clear": eaten.turns(),
        })
    });
    let weight = solids.and_then(|solids| wood::weight(&study.wood, solids.head.measures.volume));
    json!({
        "species": study.wood.species.map(|species| species.name),
        "cut": study.wood.cut.map(Cut::name),
        "humidity": humidity,
        "celsius": celsius,
        "moisture": study.moisture,
        "radial": study.wood.radial,
        "tangential": study.wood.tangential,
        "movements": movements.collect::<Vec<_>>(),
        "margins": margins.collect::<Vec<_>>(),
        "head_weight_g": weight.map(|weight| json!({
            "mean": weight.mean,
            "least": weight.range.map(|range| range[0]),
            "most": weight.range.map(|range| range[1]),
        })),
        "basis": wood::basis(&study),
    })
}
