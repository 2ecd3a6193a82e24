//! The same design in other units, another order, another form.

use barrelhead::input::{Along, BoreDepth, Design, Lie, OwnLimit, Point, Unit, read};

use super::{LEAST, design, good, near, with};

#[test]
fn a_text_carries_its_own_unit_in_any_file() {
    let inches = LEAST.replacen("\n[head]", "\nunit = 'in'\n[head]", 1);
    let to_text = |text: &str| -> String {
        text.lines()
            .map(|line| match line.split_once(" = ") {
                Some((key, list)) if list.starts_with('[') => {
                    let items: Vec<_> = list
                        .trim_matches(['[', ']'])
                        .split(", ")
                        .map(|n| format!("'{n} mm'"))
                        .collect();
                    format!("{key} = [{}]\n", items.join(", "))
                }
                Some((key, number)) if key != "angle" && key != "unit" => {
                    format!("{key} = '{number} mm'\n")
                }
                _ => format!("{line}\n"),
            })
            .collect()
    };
    let mut a = design(&to_text(&inches));
    let b = design(LEAST);
    assert_eq!(a.unit, Unit::Inch);
    a.unit = Unit::Mm;
    a.places.clone_from(&b.places);
    assert_eq!(a, b);
    near(
        with("thickness = 20", "thickness = '1-3/16 in'")
            .head
            .thickness,
        1.1875 * 25.4,
    );
}

#[test]
fn a_default_is_millimetres_in_a_file_of_inches() {
    let text = std::fs::read_to_string(good("inches.toml")).unwrap();
    let d = design(&text);
    let p = &d.print;
    assert_eq!(
        (
            p.head_allowance,
            p.block_allowance,
            p.bush_allowance,
            p.chord
        ),
        (0.2, 0.2, 0.0, 0.02)
    );
    assert_eq!(d.bores.point, Point::Angle(118f64.to_radians()));
}

#[test]
fn inches_equal_millimetres() {
    let inch = read(&good("inches.toml")).unwrap();
    let mm = read(&good("millimetres.toml")).unwrap();
    assert_eq!(inch.unit, Unit::Inch);
    let numbers = |d: &Design| {
        let (h, m, g) = (&d.head, &d.machines, &d.guide);
        let s = d.slots.as_ref().unwrap();
        let BoreDepth::BeyondBarrel(beyond) = d.bores.depth else {
            panic!()
        };
        let Along::FirstBarrel(first) = d.placement.along else {
            panic!()
        };
        let Lie::Rib(rib) = s.lie else { panic!() };
        let OwnLimit::Band { low, high } = d.limits["clearance"] else {
            panic!()
        };
        let OwnLimit::Single(degrees) = d.limits["side-pull"] else {
            panic!()
        };
        let mut all = vec![
            h.length,
            h.side_end,
            h.half_width_at_start.treble,
            h.half_width_at_end.bass,
            h.thickness,
            h.angle,
            d.nut.string_height,
            m.barrel_diameter,
            m.barrel_length,
            m.string_hole,
            m.plate_width,
            m.plate_thickness,
            m.axis_offset,
            d.bores.diameter,
            beyond,
            first.treble,
            first.bass,
            s.width,
            rib,
            s.corner_radius,
            g.depth,
            g.height,
            g.end_margin,
            g.bush_diameter.unwrap(),
            low,
            high,
            degrees,
            d.press.as_ref().unwrap().travel,
        ];
        all.extend(&d.nut.strings);
        all.extend(&m.pitches.treble);
        all.extend(m.overhang.bass);
        all.extend(s.end_margin);
        all.extend(m.screws.as_ref().unwrap().points.iter().flatten());
        all
    };
    let (a, b) = (numbers(&inch), numbers(&mm));
    assert_eq!(a.len(), b.len());
    for (a, b) in a.iter().zip(&b) {
        near(*a, *b);
    }
}

#[test]
fn order_of_tables_and_keys_does_not_matter() {
    let text = std::fs::read_to_string(good("example.toml")).unwrap();
    let mut parts: Vec<Vec<&str>> = vec![vec![]];
    for line in text
        .lines()
        .filter(|line| !line.trim().is_empty() && !line.starts_with('#'))
    {
        if line.starts_with('[') {
            parts.push(vec![]);
        }
        parts.last_mut().unwrap().push(line);
    }
    for part in &mut parts {
        let keys_from = usize::from(part.first().is_some_and(|line| line.starts_with('[')));
        part[keys_from..].reverse();
    }
    parts[1..].reverse();
    let turned: Vec<String> = parts.iter().map(|part| part.join("\n")).collect();
    let mut a = design(&turned.join("\n"));
    let mut b = design(&text);
    assert_ne!(a.places, b.places);
    a.places = std::sync::Arc::default();
    b.places = std::sync::Arc::default();
    assert_eq!(a, b);
}

#[test]
fn windows_line_ends_and_byte_order_mark() {
    let text = std::fs::read_to_string(good("example.toml")).unwrap();
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("Sandpiper.toml");
    std::fs::write(&path, format!("\u{feff}{}", text.replace('\n', "\r\n"))).unwrap();
    let (a, b) = (read(&path).unwrap(), read(&good("example.toml")).unwrap());
    assert_eq!(
        (&a.head, &a.machines, &a.job),
        (&b.head, &b.machines, &b.job)
    );
    let lines = |d: &Design| {
        d.places
            .iter()
            .map(|(k, p)| (k.clone(), p.line))
            .collect::<Vec<_>>()
    };
    assert_eq!(lines(&a), lines(&b));
}

#[test]
fn the_demo_forms_with_inline_tables() {
    let text = LEAST.replacen(
        "[bores]\ndiameter = 10.5\nbeyond_barrel = 2\n[guide]\ndepth = 24\nend_margin = 30\n",
        "",
        1,
    );
    let d = design(&format!(
        "bores = {{ diameter = 10.5, beyond_barrel = 2 }}\nguide.depth = 24\nguide.end_margin = 30\n{text}"
    ));
    assert_eq!((d.bores.diameter, d.guide.depth), (10.5, 24.0));
}
