use super::*;
use proptest::prelude::*;

fn good(text: &str, mm: f64) {
    let read = parse_length(text).unwrap();
    assert!((read - mm).abs() < 1e-12, "{text}: {read}");
}

fn bad(text: &str, message: &str, hint: &str) {
    let error = parse_length(text).unwrap_err();
    assert!(error.message.contains(message), "{text}: {}", error.message);
    assert!(error.hint.contains(hint), "{text}: {}", error.hint);
}

#[test]
fn reads_every_form_of_the_contract() {
    good("10.5 mm", 10.5);
    good("0.413 in", 0.413 * 25.4);
    good("13/32 in", 10.31875);
    good("1-3/8 in", 34.925);
    good("1 3/8 in", 34.925);
    good("  11/16 in ", 17.4625);
    good("-11 mm", -11.0);
    good("-1/2 in", -12.7);
    good("+.5in", 12.7);
    good("20mm", 20.0);
    good("13/8 in", 41.275);
    good("0 mm", 0.0);
}

#[test]
fn refuses_with_a_hint() {
    bad("10,5 mm", "comma", "\"10.5 mm\"");
    bad("10.5", "no unit", "\"10.5 mm\"");
    bad("13/32", "no unit", "\"13/32 in\"");
    bad("-10,5", "no unit", "\"-10.5 mm\"");
    bad("1,2,3", "is no length", "10.5 mm");
    bad("3/0 in", "zero", "3/16 in");
    bad("2-3/0 in", "zero", "2-3/16 in");
    bad("5/2 mm", "fraction of a millimetre", "\"2.5 mm\"");
    bad("1.5 cm", "`cm`", "\"15 mm\"");
    bad("1-3/8\"", "neither mm nor in", "\"1-3/8 in\"");
    bad("10 MM", "`MM`", "\"10 mm\"");
    bad("3 inches", "`inches`", "\"3 in\"");
    bad("", "empty", "10.5 mm");
    bad("mm", "no number", "10.5 mm");
    bad("ten mm", "is no length", "10.5 mm");
    bad("1.2.3 mm", "not a length", "10.5 mm");
    bad("--5 mm", "two signs", "10.5 mm");
    bad("1.5/8 in", "fraction", "13/32 in");
    bad("1-9/8 in", "one or more", "1-3/8 in");
    bad("1/2/3 in", "fraction", "13/32 in");
    bad("nan mm", "is no length", "10.5 mm");
    bad("much", "is no length", "10.5 mm");
    bad("1e400 mm", "not a length", "10.5 mm");
    bad("½ in", "not a length", "13/32 in");
}

#[test]
fn prints_for_people() {
    assert_eq!(show_mm(10.5), "10.50 mm");
    assert_eq!(show_mm(-0.001), "0.00 mm");
    assert_eq!(show_mm(-0.126), "-0.13 mm");
    assert_eq!(show_inches(10.5), "0.413 in");
    assert_eq!(show_sixty_fourths(10.31875), "13/32 in");
    assert_eq!(show_sixty_fourths(34.925), "1-3/8 in");
    assert_eq!(show_sixty_fourths(50.8), "2 in");
    assert_eq!(show_sixty_fourths(0.1), "0 in");
    assert_eq!(show_sixty_fourths(-12.7), "-1/2 in");
    assert_eq!(show_degrees(14f64.to_radians()), "14.00°");
    assert_eq!(plain(-0.0), "0");
}

#[test]
fn numbers() {
    assert_eq!(number(-0.0001), "-0.0001");
    assert_eq!(number(-1e-9), "0.00");
    assert_eq!(number(0.0002), "0.0002");
    let both = Lengths { inches: true };
    assert_eq!(both.value(10.5, "mm"), "10.50 mm (0.413 in)");
    assert_eq!(both.value(8.5, "deg"), "8.50°");
    assert_eq!(Lengths { inches: false }.show(10.5), "10.50 mm");
}

#[test]
fn a_value_at_the_half_has_one_figure_however_it_was_worked_out() {
    // 1-1/16 in, as typed and as an arc's end gives it.
    for mm in [26.9875, 26.987_500_000_000_01, 26.987_499_999_999_99] {
        assert_eq!(show_inches(mm), "1.063 in");
        assert_eq!(show_inches(-mm), "-1.063 in");
    }
    assert_eq!(show_mm(0.125), "0.13 mm");
    assert_eq!(show_mm(-0.005), "-0.01 mm");
    // Less than half stays less.
    assert_eq!(show_mm(0.124_999_9), "0.12 mm");
    assert_eq!(show_mm(0.004_999_9), "0.00 mm");
}

#[test]
fn a_value_goes_onto_the_next_step_but_stays_where_it_is_one() {
    for (value, step, up, expected) in [
        (10.26, 0.5, true, 10.5),
        (10.26, 0.5, false, 10.0),
        // 0.3 / 0.1 comes out a hair below three, the sum of 0.1 and 0.2 a hair above.
        (0.3, 0.1, false, 0.3),
        (0.1 + 0.2, 0.1, true, 0.3),
        (-0.26, 0.1, true, -0.2),
    ] {
        let found = on_step(value, step, up, 1e-6);
        assert!((found - expected).abs() < 1e-12, "{value} {step}: {found}");
    }
    // Two hundredths of a step off is no whole step.
    assert!((on_step(0.302, 0.1, true, 1e-6) - 0.4).abs() < 1e-12);
}

proptest! {
    #[test]
    fn printed_millimetres_read_back_to_the_hundredth(mm in -2000.0..2000.0f64) {
        let read = parse_length(&show_mm(mm)).unwrap();
        prop_assert!((read - mm).abs() <= 0.005 + 1e-9);
    }

    #[test]
    fn printed_inches_read_back_to_the_thousandth(mm in -2000.0..2000.0f64) {
        let read = parse_length(&show_inches(mm)).unwrap();
        prop_assert!((read - mm).abs() <= 0.0005 * MM_PER_INCH + 1e-9);
    }

    #[test]
    fn sixty_fourths_read_back_exactly(count in -5000i64..5000) {
        let mm = SixtyFourths(count).mm();
        let read = parse_length(&show_sixty_fourths(mm)).unwrap();
        prop_assert!((read - mm).abs() < 1e-12 * mm.abs().max(1.0));
    }

    #[test]
    fn a_plain_number_reads_back_exactly(mm in 0.0..2000.0f64) {
        prop_assert_eq!(parse_length(&format!("{} mm", plain(mm))).unwrap().to_bits(), mm.to_bits());
    }

    #[test]
    fn no_text_panics_and_every_hint_says_something(text in "\\PC{0,24}") {
        if let Err(error) = parse_length(&text) {
            prop_assert!(!error.message.is_empty() && !error.hint.is_empty());
        }
    }

    #[test]
    fn length_like_text_gives_a_finite_number_or_an_error(text in "[-+ ]?[0-9]{0,3}[-., /]?[0-9]{0,3}[/ ]?[0-9]{0,3} ?(mm|in|cm|)") {
        if let Ok(mm) = parse_length(&text) {
            prop_assert!(mm.is_finite());
        }
    }
}
