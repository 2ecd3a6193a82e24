//! Shrinkage, movement and density of some woods, and the moisture that wood takes on in air.
//!
//! Sources: the United States Forest Products Laboratory's Wood Handbook, FPL-GTR-190 (2010), tables
//! 4-3, 4-4 and 13-5 as page text (the edition of 2021, FPL-GTR-282, keeps these tables as far as
//! recalled, from memory); the laboratory's sheet on *Swietenia macrophylla*; data sheets and pages of
//! the timber trade for European beech, Spanish cedar, sugar maple. All are averages of many trees.

use super::Mark;

/// Where the figures of most woods stand.
const HANDBOOK: &str = "Wood Handbook (FPL-GTR-190), tables 4-3 and 13-5";

/// Change of a dimension as a share of it, for 1 % of moisture content.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Coefficient {
    /// Between 6 and 14 % of moisture content.
    pub value: f64,
    /// How it was read; computed: from the shrinkage, by [`from_shrinkage`].
    pub mark: Mark,
}

/// A wood.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Species {
    /// As it is written in a file.
    pub name: &'static str,
    /// Botanical name.
    pub botanical: &'static str,
    /// Where its figures were read.
    pub source: &'static str,
    /// Density at 12 % of moisture content, kg/m³, and how it was read.
    pub density: Option<(f64, Mark)>,
    /// Least and greatest density published.
    pub density_range: Option<(f64, f64)>,
    /// Shrinkage from green to oven-dry, %: radial, tangential.
    pub shrinkage: Option<[f64; 2]>,
    /// Radial coefficients: all that are known, where they differ.
    pub radial: &'static [Coefficient],
    /// Tangential coefficients.
    pub tangential: &'static [Coefficient],
}

/// Moisture contents between which the coefficients hold, %.
pub const COEFFICIENTS_HOLD: (f64, f64) = (6.0, 14.0);

/// Density varies within a species by about this share of its mean, as a standard deviation (Wood
/// Handbook, from memory); used where no range was found.
pub const DENSITY_VARIES: f64 = 0.1;

const fn printed(value: f64) -> Coefficient {
    Coefficient {
        value,
        mark: Mark::Confirmed,
    }
}

const fn computed(value: f64) -> Coefficient {
    Coefficient {
        value,
        mark: Mark::Computed,
    }
}

const fn recalled(value: f64) -> Coefficient {
    Coefficient {
        value,
        mark: Mark::FromMemory,
    }
}

/// The woods.
pub const SPECIES: &[Species] = &[
    // The table's rows of imported woods were not seen; from memory they give mahogany 1.7 times what
    // its shrinkage gives. Both are kept: the truth is taken to lie between.
    Species {
        name: "mahogany",
        botanical: "Swietenia macrophylla",
        source: "the Forest Products Laboratory's sheet on the species, density from trade pages",
        density: Some((590.0, Mark::Confirmed)),
        density_range: Some((480.0, 833.0)),
        shrinkage: Some([3.0, 4.1]),
        radial: &[computed(0.00102), recalled(0.00172)],
        tangential: &[computed(0.00141), recalled(0.00238)],
    },
    Species {
        name: "Spanish cedar",
        botanical: "Cedrela odorata",
        source: "trade pages; shrinkage as in the Wood Handbook's table 4-4 from memory",
        density: Some((470.0, Mark::Confirmed)),
        density_range: Some((340.0, 720.0)),
        shrinkage: Some([4.2, 6.3]),
        radial: &[computed(0.00144)],
        tangential: &[computed(0.00219)],
    },
    Species {
        name: "sugar maple",
        botanical: "Acer saccharum",
        source: "Wood Handbook (FPL-GTR-190), table 13-5, and trade pages",
        density: Some((705.0, Mark::Confirmed)),
        density_range: None,
        shrinkage: Some([4.8, 9.9]),
        radial: &[printed(0.00165)],
        tangential: &[printed(0.00353)],
    },
    Species {
        name: "red maple",
        botanical: "Acer rubrum",
        source: HANDBOOK,
        density: None,
        density_range: None,
        shrinkage: None,
        radial: &[printed(0.00137)],
        tangential: &[printed(0.00289)],
    },
    Species {
        name: "bigleaf maple",
        botanical: "Acer macrophyllum",
        source: HANDBOOK,
        density: None,
        density_range: None,
        shrinkage: None,
        radial: &[printed(0.00126)],
        tangential: &[printed(0.00248)],
    },
    Species {
        name: "American beech",
        botanical: "Fagus grandifolia",
        source: HANDBOOK,
        density: Some((717.0, Mark::FromMemory)),
        density_range: None,
        shrinkage: Some([5.5, 11.9]),
        radial: &[printed(0.00190)],
        tangential: &[printed(0.00431)],
    },
    Species {
        name: "European beech",
        botanical: "Fagus sylvatica",
        source: "a timber data sheet of the trade",
        density: Some((710.0, Mark::Confirmed)),
        density_range: None,
        shrinkage: Some([5.7, 11.6]),
        radial: &[computed(0.00198)],
        tangential: &[computed(0.00419)],
    },
    Species {
        name: "black cherry",
        botanical: "Prunus serotina",
        source: HANDBOOK,
        density: None,
        density_range: None,
        shrinkage: Some([3.7, 7.1]),
        radial: &[printed(0.00126)],
        tangential: &[printed(0.00248)],
    },
    Species {
        name: "black walnut",
        botanical: "Juglans nigra",
        source: HANDBOOK,
        density: None,
        density_range: None,
        shrinkage: Some([5.5, 7.8]),
        radial: &[printed(0.00190)],
        tangential: &[printed(0.00274)],
    },
];

/// The wood of this name, capitals or not.
#[must_use]
pub fn species(name: &str) -> Option<&'static Species> {
    let name = name.trim();
    SPECIES.iter().find(|wood| {
        wood.name.eq_ignore_ascii_case(name) || wood.botanical.eq_ignore_ascii_case(name)
    })
}

/// Coefficient of a shrinkage from green to oven-dry, %: shrinking begins at 30 % of moisture content
/// and runs evenly to 0.
#[must_use]
pub fn from_shrinkage(percent: f64) -> f64 {
    percent / (30.0 * (1.0 - percent * 20.0 / 3000.0)) / 100.0
}

/// Change of a dimension (any unit) for a change of moisture content, %: ΔD = D·C·ΔM.
#[must_use]
pub fn movement(dimension: f64, coefficient: f64, moisture_change: f64) -> f64 {
    dimension * coefficient * moisture_change
}

/// Moisture content, %, that wood takes on in air of this relative humidity, % (0 to 100), and
/// temperature, °C: the Wood Handbook's fit of the Hailwood–Horrobin equation (4-5), coefficients
/// from memory. For practical use only, as the laboratory warns of its historic data (FPL-GTR-229).
#[must_use]
pub fn equilibrium_moisture(humidity: f64, celsius: f64) -> f64 {
    let (h, t) = (humidity / 100.0, celsius);
    let w = 349.0 + 1.29 * t + 0.0135 * t * t;
    let k = 0.805 + 0.000_736 * t - 0.000_002_73 * t * t;
    let k1 = 6.27 - 0.009_38 * t - 0.000_303 * t * t;
    let k2 = 1.91 + 0.0407 * t - 0.000_293 * t * t;
    let kh = k * h;
    let hydrates = k1 * kh + 2.0 * k1 * k2 * kh * kh;
    1800.0 / w * (kh / (1.0 - kh) + hydrates / (1.0 + k1 * kh + k1 * k2 * kh * kh))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The Handbook's worked example: 8 in wide, .0026, 6 % of moisture: .1248 in.
    #[test]
    fn the_published_worked_example() {
        assert!((movement(8.0, 0.0026, 6.0) - 0.1248).abs() < 1e-12);
    }

    /// Every printed coefficient against its species' shrinkage, to the five decimals printed; so do
    /// the computed ones, which are only rounded.
    #[test]
    fn coefficients_follow_from_shrinkage() {
        let mut printed = 0;
        for wood in SPECIES {
            let Some(shrinkage) = wood.shrinkage else {
                continue;
            };
            for (percent, coefficients) in shrinkage.iter().zip([wood.radial, wood.tangential]) {
                for coefficient in coefficients.iter().filter(|c| c.mark != Mark::FromMemory) {
                    let error = (from_shrinkage(*percent) - coefficient.value).abs();
                    assert!(error < 0.51e-5, "{} {percent}", wood.name);
                    printed += usize::from(coefficient.mark == Mark::Confirmed);
                }
            }
        }
        assert_eq!(printed, 8, "pairs that the table prints");
    }

    /// Published: 140 °F and 55 % give 8.4 % by the formula; at 70 °F, 25 % give 5.3 and 60 % give
    /// 11.1 by a page that rounds otherwise. Then values of the formula itself, to half their last
    /// digit, worked out apart.
    #[test]
    fn moisture_as_published() {
        assert!((equilibrium_moisture(55.0, 60.0) - 8.4).abs() < 0.05);
        assert!((equilibrium_moisture(25.0, 21.1) - 5.3).abs() < 0.15);
        assert!((equilibrium_moisture(60.0, 21.1) - 11.1).abs() < 0.15);
        for (humidity, moisture) in [
            (30.0, 6.17),
            (40.0, 7.70),
            (45.0, 8.46),
            (50.0, 9.24),
            (60.0, 10.97),
            (70.0, 13.09),
            (80.0, 15.99),
        ] {
            let found = equilibrium_moisture(humidity, 21.1);
            assert!((found - moisture).abs() < 0.006, "{humidity}: {found}");
        }
    }

    #[test]
    fn more_humid_air_makes_moister_wood() {
        let all: Vec<f64> = (1..100)
            .map(|h| equilibrium_moisture(f64::from(h), 20.0))
            .collect();
        assert!(all.windows(2).all(|pair| pair[1] > pair[0]));
        assert!(all[0] > 0.0 && all[98] < 30.0);
    }

    #[test]
    fn woods_are_found_by_either_name() {
        assert_eq!(
            species("spanish CEDAR").unwrap().botanical,
            "Cedrela odorata"
        );
        assert_eq!(species("fagus sylvatica").unwrap().name, "European beech");
        assert!(species("oak").is_none());
    }
}
