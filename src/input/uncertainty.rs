//! How sure a length is that was read more than once.
//!
//! The standard error of the mean and what calipers may be off whatever they repeat to are put
//! together as JCGM 100:2008 asks (5.1.2), and widened to about 95 % by Student's t for the effective
//! degrees of freedom (annex G): k = 2 where readings are many.

use super::defaults::{CALIPERS_OFF, CALIPERS_STEP};
use super::readings::Readings;
use crate::statistics::{
    disagreeing, effective_degrees, standard_deviation, standard_error, student_factor,
};

/// Figures of the readings of one length, mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Uncertainty {
    /// Mean.
    pub mean: f64,
    /// Experimental standard deviation; `None` for a single reading.
    pub spread: Option<f64>,
    /// Standard deviation of the mean; `None` for a single reading.
    pub standard_error: Option<f64>,
    /// Standard error and calipers together.
    pub standard: f64,
    /// Factor to about 95 %.
    pub factor: f64,
    /// `standard` times `factor`: the ± that is shown and followed through the checks.
    pub expanded: f64,
    /// Indices of the readings that disagree with the others.
    pub disagreeing: Vec<usize>,
}

/// Below this many readings the test for one that disagrees gives hardly more than a hint (our
/// assumption).
pub const FEW: usize = 6;

impl Readings {
    /// Works them out.
    #[must_use]
    pub fn uncertainty(&self) -> Uncertainty {
        // Anywhere within ± a, equally likely: standard deviation a/√3 (JCGM 100, 4.3.7).
        let calipers = CALIPERS_OFF / 3.0_f64.sqrt();
        let standard_error = standard_error(&self.values);
        let standard = standard_error.unwrap_or_default().hypot(calipers);
        #[allow(clippy::cast_precision_loss, reason = "a few readings")]
        let degrees = self.values.len() as f64 - 1.0;
        let factor = standard_error.map_or(2.0, |error| {
            student_factor(effective_degrees(error, degrees, calipers))
        });
        Uncertainty {
            mean: self.mean(),
            spread: standard_deviation(&self.values),
            standard_error,
            standard,
            factor,
            expanded: factor * standard,
            disagreeing: disagreeing(&self.values, CALIPERS_STEP),
        }
    }

    /// What cannot be told from so few readings, if anything.
    #[must_use]
    pub fn untold(&self) -> Option<&'static str> {
        match self.values.len() {
            0 | 1 => Some("one reading has no spread: ± is the calipers' alone"),
            2 => Some("two readings cannot tell which of them is wrong"),
            n if n < FEW && !self.uncertainty().disagreeing.is_empty() => {
                Some("so few readings give only a hint: read it again")
            }
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(values: &[f64]) -> Uncertainty {
        Readings {
            key: "machines.barrel_diameter".to_owned(),
            values: values.to_vec(),
            place: None,
        }
        .uncertainty()
    }

    /// 10.01, 9.99, 10.02 longhand: mean 10.00667, s = 0.015275, s/√3 = 0.008819; calipers
    /// 0.03/√3 = 0.017321; together 0.019437; ν = 2·(0.019437/0.008819)⁴ = 47.2, t = 2.05.
    #[test]
    fn three_readings_longhand() {
        let u = of(&[10.01, 9.99, 10.02]);
        assert!((u.mean - 10.006_667).abs() < 1e-6);
        assert!((u.spread.unwrap() - 0.015_275).abs() < 1e-6);
        assert!((u.standard_error.unwrap() - 0.008_819).abs() < 1e-6);
        assert!((u.standard - 0.019_437).abs() < 1e-6);
        // Between t of 40 and of 50 degrees, 2.06 and 2.05 in table G.2 of JCGM 100.
        assert!((u.factor - 2.055).abs() < 0.006, "{}", u.factor);
        assert!((u.expanded - 0.0399).abs() < 0.0002);
        assert!(u.disagreeing.is_empty());
    }

    #[test]
    fn calipers_that_repeat_to_a_hair_are_not_believed_beyond_what_they_are() {
        let u = of(&[10.0, 10.0, 10.0]);
        assert!((u.expanded - 2.0 * 0.03 / 3.0_f64.sqrt()).abs() < 1e-12);
        assert_eq!(of(&[10.0]).spread, None);
        assert!((of(&[10.0]).expanded - u.expanded).abs() < 1e-12);
    }

    #[test]
    fn two_readings_that_differ_are_trusted_least() {
        let (two, four) = (of(&[10.0, 10.2]), of(&[10.0, 10.2, 10.0, 10.2]));
        assert!(two.expanded > 2.0 * four.expanded, "{two:?} {four:?}");
    }
}
