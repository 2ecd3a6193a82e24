//! `[wood]`: what the head is made of, and between which humidities it will live. It changes no
//! position: what wood does with the seasons is told beside the margins.

use super::defaults::{HUMIDITY_RANGE, MOISTURE_RANGE, TEMPERATURE, TEMPERATURE_RANGE};
use super::field::{Choice, Field};
use super::joined;
use super::reader::{Reader, shown};
use super::tree::Value;
use super::words;
use crate::diagnostic::meant::nearest;
use crate::standards::wood::{SPECIES, Species, species};

/// `[wood]`.
#[derive(Debug, Clone, PartialEq)]
pub struct Wood {
    /// A wood of the table; `None` with coefficients of the maker's own alone.
    pub species: Option<&'static Species>,
    /// Radial coefficients, shares for 1 % of moisture content: the least and the greatest known.
    pub radial: [f64; 2],
    /// Tangential coefficients.
    pub tangential: [f64; 2],
    /// Whether these coefficients are the maker's own: radial, tangential.
    pub own: [bool; 2],
    /// The maker's own density, kg/m³.
    pub density: Option<f64>,
    /// How the head is sawn; `None`: not known.
    pub cut: Option<Cut>,
    /// The two climates, the drier first.
    pub climate: Climate,
}

/// How the year rings lie in the head.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cut {
    /// Rings stand square to the face: the thickness moves tangentially, the width radially.
    QuarterSawn,
    /// Rings lie with the face: the thickness moves radially, the width tangentially.
    FlatSawn,
}

impl Cut {
    /// As it is written in a file.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Cut::QuarterSawn => "quarter-sawn",
            Cut::FlatSawn => "flat-sawn",
        }
    }
}

/// Between what the wood will live.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Climate {
    /// Two relative humidities, %, at a temperature, °C.
    Humidity {
        /// The lower first.
        percent: [f64; 2],
        /// Degrees Celsius.
        celsius: f64,
    },
    /// Two moisture contents, %, the lower first.
    Moisture([f64; 2]),
}

pub(crate) fn read(r: Reader<'_>) -> Option<Wood> {
    let wood = named(r);
    let own = ["radial", "tangential"].map(|name| coefficient(r, name));
    let density = bare(r, "density", "kg/m³", (50.0, 1500.0)).optional();
    let cut = r.word("cut", &words::CUT).optional();
    let climate = climate(r);
    let wood = wood.optional()?;
    let known = |own: &Field<f64>, name: &str, of: fn(&Species) -> [f64; 2]| match (own, wood) {
        (Field::Good(own), _) => Some([*own; 2]),
        (Field::Bad, _) => None,
        (Field::Absent, Some(wood)) => Some(of(wood)),
        (Field::Absent, None) => {
            if !r.incomplete() {
                r.fault(
                    name,
                    format!(
                        "[wood] needs `species`, or coefficients of your own; `{name}` is not given"
                    ),
                    format!(
                        "species = \"Spanish cedar\", or {name} = 0.0018 (for 1 % of moisture)"
                    ),
                );
            }
            None
        }
    };
    let radial = known(&own[0], "radial", |wood| {
        ends(wood.radial.iter().map(|c| c.value))
    });
    let tangential = known(&own[1], "tangential", |wood| {
        ends(wood.tangential.iter().map(|c| c.value))
    });
    Some(Wood {
        species: wood,
        radial: radial?,
        tangential: tangential?,
        own: own.map(|own| matches!(own, Field::Good(_))),
        density: density?,
        cut: cut?.map(|word| {
            if word == Cut::FlatSawn.name() {
                Cut::FlatSawn
            } else {
                Cut::QuarterSawn
            }
        }),
        climate: climate?,
    })
}

fn ends(values: impl Iterator<Item = f64>) -> [f64; 2] {
    values.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], v| {
        [low.min(v), high.max(v)]
    })
}

fn named(r: Reader<'_>) -> Field<&'static Species> {
    let name = match r.text("species") {
        Field::Absent => return Field::Absent,
        Field::Bad => return Field::Bad,
        Field::Good(name) => name,
    };
    if let Some(wood) = species(&name) {
        return Field::Good(wood);
    }
    let names = || SPECIES.iter().map(|wood| wood.name);
    let hint = nearest(&name, names()).map_or_else(
        || {
            format!(
                "one of {}; or `radial` and `tangential` of your own",
                names().collect::<Vec<_>>().join(", ")
            )
        },
        |near| format!("\"{near}\""),
    );
    r.fault(
        "species",
        format!(
            "`species`: no figures are known here for \"{}\"",
            shown(&name)
        ),
        hint,
    );
    Field::Bad
}

fn coefficient(r: Reader<'_>, name: &str) -> Field<f64> {
    // Published ones run from 0.0005 to 0.005; a hundred times too much is a percentage.
    bare(
        r,
        name,
        "a share of the dimension for 1 % of moisture content",
        (0.0001, 0.02),
    )
}

/// A bare number from the first to the second, both included.
fn bare(r: Reader<'_>, name: &str, what: &str, range: (f64, f64)) -> Field<f64> {
    let Some(node) = r.node(name) else {
        return Field::Absent;
    };
    let Some(value) = r.number_of(name, node, "a bare number") else {
        return Field::Bad;
    };
    if value >= range.0 && value <= range.1 {
        return Field::Good(value);
    }
    r.fault(
        name,
        format!("`{name}`, {what}, must be from {} to {}", range.0, range.1),
        format!(
            "a number in that range, such as {}",
            r.sample(name, &node.at)
        ),
    );
    Field::Bad
}

fn climate(r: Reader<'_>) -> Option<Climate> {
    let humidity = two(r, "humidity", HUMIDITY_RANGE);
    let moisture = two(r, "moisture", MOISTURE_RANGE);
    let celsius = bare(r, "temperature", "degrees Celsius", TEMPERATURE_RANGE).or(TEMPERATURE);
    match r.choose(joined::CLIMATE) {
        Choice::Of("humidity") => Some(Climate::Humidity {
            percent: humidity.good()?,
            celsius: celsius?,
        }),
        Choice::Of("moisture") => {
            celsius?;
            Some(Climate::Moisture(moisture.good()?))
        }
        Choice::Of(_) | Choice::None | Choice::Several => None,
    }
}

/// Two different percentages, the lower first.
fn two(r: Reader<'_>, name: &str, range: (f64, f64)) -> Field<[f64; 2]> {
    let Some(node) = r.node(name) else {
        return Field::Absent;
    };
    let sample = r.sample(name, &node.at);
    let Value::List(items) = &node.value else {
        r.fault(
            name,
            format!(
                "`{name}` must be a list of two percentages, not {}",
                node.value.kind()
            ),
            sample,
        );
        return Field::Bad;
    };
    let [first, second] = items.as_slice() else {
        r.fault(
            name,
            format!("`{name}` must hold two percentages, not {}", items.len()),
            sample,
        );
        return Field::Bad;
    };
    let read = |item| r.number_of(name, item, "a list of two percentages, bare numbers");
    let (Some(first), Some(second)) = (read(first), read(second)) else {
        return Field::Bad;
    };
    if [first, second]
        .iter()
        .any(|v| !(range.0..=range.1).contains(v))
    {
        r.fault(
            name,
            format!(
                "`{name}` must be percentages from {} to {}",
                range.0, range.1
            ),
            sample,
        );
        return Field::Bad;
    }
    if (first - second).abs() <= crate::tolerance::NOISE {
        r.fault(
            name,
            format!("`{name}` names the same climate twice, so nothing moves"),
            format!("the driest and the dampest the instrument will meet, such as {sample}"),
        );
        return Field::Bad;
    }
    Field::Good([first.min(second), first.max(second)])
}
