//! Mean, spread and standard error of repeated readings, Student's t, and which reading disagrees.
//!
//! Sources: evaluation of uncertainty as in JCGM 100:2008 (mean and experimental standard deviation
//! 4.2, combination 5.1, Student's t and effective degrees of freedom annex G), from memory of the
//! document; the modified z-score by the median absolute deviation as the NIST/SEMATECH e-Handbook
//! of Statistical Methods, section 1.3.5.17, gives it, from memory too.

/// Two standard deviations of a normal distribution hold this share of it; with it Student's t is 2
/// where readings are many, as the coverage factor k = 2 is.
pub const COVERAGE: f64 = 0.954_499_736_103_641_6;

/// A reading whose modified z-score is above this disagrees with the others (NIST/SEMATECH
/// e-Handbook, 1.3.5.17).
pub const Z_LIMIT: f64 = 3.5;

/// Median absolute deviation of a normal distribution, as a share of its standard deviation.
const MAD_OF_NORMAL: f64 = 0.674_489_750_196_081_7;

/// The mean; the same whatever the order of the readings, to the last bit. 0 for none.
#[must_use]
pub fn mean(readings: &[f64]) -> f64 {
    let sorted = sorted(readings);
    let Some(first) = sorted.first() else {
        return 0.0;
    };
    // Differences from one reading are small, so that equal readings give themselves exactly.
    first + sorted.iter().map(|x| x - first).sum::<f64>() / count(&sorted)
}

/// Experimental standard deviation, with n − 1; `None` below two readings.
#[must_use]
pub fn standard_deviation(readings: &[f64]) -> Option<f64> {
    if readings.len() < 2 {
        return None;
    }
    let middle = mean(readings);
    let squares: f64 = sorted(readings)
        .iter()
        .map(|x| (x - middle) * (x - middle))
        .sum();
    Some((squares / (count(readings) - 1.0)).sqrt())
}

/// Standard deviation of the mean; `None` below two readings.
#[must_use]
pub fn standard_error(readings: &[f64]) -> Option<f64> {
    Some(standard_deviation(readings)? / count(readings).sqrt())
}

/// Indices of the readings that disagree with the others: 0.6745·|x − median| over the median
/// absolute deviation above [`Z_LIMIT`]. Readings come in steps, so that more than half of them are
/// often equal: a deviation of the median below `least` (above zero, as a standard deviation)
/// counts as `least`. None below three readings: of two nobody can say which is wrong.
#[must_use]
pub fn disagreeing(readings: &[f64], least: f64) -> Vec<usize> {
    if readings.len() < 3 {
        return Vec::new();
    }
    let middle = median(readings);
    let deviations: Vec<f64> = readings.iter().map(|x| (x - middle).abs()).collect();
    let scale = (median(&deviations) / MAD_OF_NORMAL).max(least);
    (0..readings.len())
        .filter(|i| deviations.get(*i).is_some_and(|d| d / scale > Z_LIMIT))
        .collect()
}

/// The median; 0 for none.
#[must_use]
pub fn median(readings: &[f64]) -> f64 {
    let sorted = sorted(readings);
    let at = |i: usize| sorted.get(i).copied().unwrap_or_default();
    let half = sorted.len() / 2;
    if sorted.len() % 2 == 1 {
        at(half)
    } else {
        f64::midpoint(at(half.saturating_sub(1)), at(half))
    }
}

/// Effective degrees of freedom of a standard uncertainty put together from one with `degrees` and
/// one that is known for good (Welch and Satterthwaite's formula, JCGM 100, G.4.1). Infinite where
/// the first is nothing.
#[must_use]
pub fn effective_degrees(first: f64, degrees: f64, known: f64) -> f64 {
    let share = first / first.hypot(known);
    if share > 0.0 {
        degrees / share.powi(4)
    } else {
        f64::INFINITY
    }
}

/// Student's t: the factor either way that holds [`COVERAGE`] of the distribution with these degrees
/// of freedom (1 or more, fractions allowed). 2 for infinitely many.
#[must_use]
pub fn student_factor(degrees: f64) -> f64 {
    if degrees > 1e7 {
        return 2.0;
    }
    // P(|T| > t) is the incomplete beta function of ν/(ν + t²) with ν/2 and 1/2.
    let outside = |t: f64| incomplete_beta(degrees / (degrees + t * t), degrees / 2.0, 0.5);
    let (mut low, mut high) = (1.0, 20.0);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if outside(middle) > 1.0 - COVERAGE {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

fn sorted(readings: &[f64]) -> Vec<f64> {
    let mut sorted = readings.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted
}

#[allow(clippy::cast_precision_loss, reason = "a few readings")]
fn count(readings: &[f64]) -> f64 {
    readings.len() as f64
}

/// Regularised incomplete beta function, by its continued fraction (Lentz's way of evaluating it).
fn incomplete_beta(x: f64, a: f64, b: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    if x >= 1.0 {
        return 1.0;
    }
    let front =
        (a * x.ln() + b * (-x).ln_1p() + log_gamma(a + b) - log_gamma(a) - log_gamma(b)).exp();
    if x < (a + 1.0) / (a + b + 2.0) {
        front * fraction(x, a, b) / a
    } else {
        1.0 - front * fraction(1.0 - x, b, a) / b
    }
}

fn fraction(x: f64, a: f64, b: f64) -> f64 {
    const TINY: f64 = 1e-300;
    let kept = |v: f64| if v.abs() < TINY { TINY } else { v };
    let mut c = 1.0;
    let mut d = 1.0 / kept(1.0 - (a + b) * x / (a + 1.0));
    let mut h = d;
    for step in 1..=500_u32 {
        let m = f64::from(step);
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        d = 1.0 / kept(1.0 + even * d);
        c = kept(1.0 + even / c);
        h *= d * c;
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        d = 1.0 / kept(1.0 + odd * d);
        c = kept(1.0 + odd / c);
        let change = d * c;
        h *= change;
        if (change - 1.0).abs() < 1e-15 {
            break;
        }
    }
    h
}

/// Logarithm of the gamma function for x > 0: moved up by its recurrence to where Stirling's series
/// is good to the last digits.
fn log_gamma(x: f64) -> f64 {
    let (mut z, mut below) = (x, 0.0);
    while z < 12.0 {
        below += z.ln();
        z += 1.0;
    }
    let s = 1.0 / (z * z);
    let series =
        (1.0 / 12.0 - s * (1.0 / 360.0 - s * (1.0 / 1260.0 - s * (1.0 / 1680.0 - s / 1188.0)))) / z;
    (z - 0.5) * z.ln() - z + 0.5 * (2.0 * std::f64::consts::PI).ln() + series - below
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Readings of the e-Handbook's example of a test for outliers (1.3.5.17.1, from memory).
    const MASSES: [f64; 8] = [
        199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57,
    ];

    /// The statistical reference data sets NumAcc1 to NumAcc3 of NIST, made to show what is lost in
    /// rounding, with their certified means and standard deviations. The last holds 0.1 in a million:
    /// doubles there step by 1e-10.
    #[test]
    fn certified_means_and_deviations() {
        let alternating = |base: f64| {
            let ends = [base + 0.1, base - 0.1];
            let mut all = vec![base];
            all.extend(ends.iter().cycle().take(1000));
            all
        };
        for (readings, middle, spread, close) in [
            (
                vec![10_000_001.0, 10_000_003.0, 10_000_002.0],
                10_000_002.0,
                1.0,
                1e-12,
            ),
            (alternating(1.2), 1.2, 0.1, 1e-12),
            (alternating(1_000_000.2), 1_000_000.2, 0.1, 1e-9),
        ] {
            assert!((mean(&readings) - middle).abs() < close * middle);
            assert!((standard_deviation(&readings).unwrap() - spread).abs() < close);
        }
        let three = standard_error(&[10_000_001.0, 10_000_003.0, 10_000_002.0]).unwrap();
        assert!((three - 1.0 / 3.0_f64.sqrt()).abs() < 1e-12);
    }

    /// Table G.2 of JCGM 100:2008, column 95.45 %, to the two digits printed.
    #[test]
    fn students_t_as_published() {
        for (degrees, printed) in [
            (1.0, 13.97),
            (2.0, 4.53),
            (3.0, 3.31),
            (4.0, 2.87),
            (5.0, 2.65),
            (10.0, 2.28),
            (20.0, 2.13),
            (50.0, 2.05),
            (100.0, 2.025),
            (f64::INFINITY, 2.0),
        ] {
            let t = student_factor(degrees);
            assert!((t - printed).abs() < 0.0051, "{degrees}: {t}");
        }
        // One degree of freedom has a closed form: tan of π/2 times the share.
        let closed = (std::f64::consts::FRAC_PI_2 * COVERAGE).tan();
        assert!((student_factor(1.0) - closed).abs() < 1e-9);
    }

    /// Longhand: median 201.37, deviations .55 .55 .58 .81 1.18 1.84 2.06 44.2, their median 0.995;
    /// 0.6745 · 44.2 / 0.995 = 29.96 for the last, at most 1.40 for the others.
    #[test]
    fn the_published_outlier_is_found_and_no_other() {
        assert!((median(&MASSES) - 201.37).abs() < 1e-9);
        assert_eq!(disagreeing(&MASSES, 1e-9), [7]);
        // At its score it is still one of them, a little further it is not.
        let last = |z: f64| {
            let mut readings = MASSES;
            readings[7] = 201.37 + z * 0.995 / 0.674_489_75;
            disagreeing(&readings, 1e-9)
        };
        assert!(last(3.499).is_empty());
        assert_eq!(last(3.501), [7]);
    }

    #[test]
    fn readings_in_steps_do_not_disagree_by_one_step() {
        assert!(disagreeing(&[10.01, 10.01, 10.01, 10.02], 0.01).is_empty());
        assert_eq!(disagreeing(&[10.01, 10.01, 10.51, 10.02], 0.01), [2]);
        assert!(
            disagreeing(&[10.0, 11.0], 0.01).is_empty(),
            "two cannot say which"
        );
    }

    #[test]
    fn the_order_of_readings_changes_nothing() {
        let mut turned = MASSES;
        for _ in 0..20 {
            turned.rotate_left(3);
            turned.swap(0, 5);
            assert_eq!(mean(&turned).to_bits(), mean(&MASSES).to_bits());
            assert_eq!(standard_error(&turned), standard_error(&MASSES));
        }
        assert_eq!(mean(&[0.1; 7]).to_bits(), 0.1_f64.to_bits());
    }

    #[test]
    fn degrees_of_freedom_lie_between_the_readings_and_all() {
        assert!((effective_degrees(0.1, 4.0, 0.0) - 4.0).abs() < 1e-12);
        // Equal parts: u⁴ = 4·(first)⁴, so four times as many.
        assert!((effective_degrees(0.1, 4.0, 0.1) - 16.0).abs() < 1e-12);
        assert!(effective_degrees(0.0, 4.0, 0.1).is_infinite());
        assert!(effective_degrees(0.0, 4.0, 0.0).is_infinite());
    }
}
