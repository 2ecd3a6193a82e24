//! Designs to start from: each is valid and far from every stop. Printing allowances are nothing, so
//! that the finished copy decides; a case that wants the printed copy to decide sets them.

/// A design as lines of `key = value`, each key dotted from the top of the file.
#[derive(Clone, Debug)]
pub struct Sheet(Vec<(String, String)>);

impl Sheet {
    /// The lines of a base, with a maker's own limits so low that no caution is left: advice is worked
    /// out for cautions only, and takes longer than everything else.
    pub fn of(base: &str) -> Sheet {
        let mut sheet = Sheet(Vec::new());
        for line in base.lines().chain(QUIET.lines()) {
            if let Some((key, value)) = line.split_once('=') {
                sheet.set(key.trim(), value.trim());
            }
        }
        sheet
    }

    /// Sets a key; `"-"` takes it out, with every key below it.
    pub fn set(&mut self, key: &str, value: &str) {
        if value == "-" {
            let below = format!("{key}.");
            self.0
                .retain(|(own, _)| own != key && !own.starts_with(&below));
        } else if let Some((_, old)) = self.0.iter_mut().find(|(own, _)| own == key) {
            value.clone_into(old);
        } else {
            self.0.push((key.to_owned(), value.to_owned()));
        }
    }

    /// With some keys set.
    pub fn with(mut self, keys: &[(&str, &str)]) -> Sheet {
        for (key, value) in keys {
            self.set(key, value);
        }
        self
    }

    /// With the number of one key, put into `form` where its `{}` stands, to every digit.
    pub fn moved(&self, key: &str, form: &str, number: f64) -> String {
        let mut sheet = self.clone();
        sheet.set(key, &form.replace("{}", &format!("{number:?}")));
        sheet.text()
    }

    /// The parameter file.
    pub fn text(&self) -> String {
        let lines = self
            .0
            .iter()
            .map(|(key, value)| format!("{key} = {value}\n"));
        lines.collect()
    }
}

/// A maker's own limits that are always kept. They must not loosen a stop.
const QUIET: &str = r"
limits.wood-over = -1999
limits.wood-under = -1999
limits.web = -1999
limits.cheek = -1999
limits.rib = -1999
limits.end-wood = -1999
limits.slot-end = -1999
limits.bearing = -1999
limits.rim = -1999
limits.edges = -1999
limits.counterbore = -1999
limits.bore-depth = -1999
limits.clearance = { low = -1999, high = 1999 }
limits.barrels-apart = -1999
limits.far-wood = -1999
limits.pair-offset = 1999
limits.plate-thickness = -1999
limits.plate-even = 1999
limits.plate-side = -1999
limits.edge-radius = -1999
limits.hole-in-slot = -1999
limits.string-face = -1999
limits.string-edge = -1999
limits.side-pull = 1999
limits.nut-break = { low = -1999, high = 1999 }
limits.ramp-depth = -1999
limits.screw-slot = -1999
limits.screw-bore = -1999
limits.block-wood = -1999
limits.block-guided = -1999
limits.block-bore = 1999
limits.block-axis = 1999
limits.bit-size = 1999
";

/// Slots with a rib, sides that flare, an arched crest; mirrored pairs whose points open.
pub const FLARED: &str = r#"
title = "Edge"
head.length = 196.0
head.side_end = 184.0
head.width_at_nut_end = 63.0
head.width_at_crest_end = 71.0
head.thickness = 20.4
head.angle = 14.0
head.crest = "arch"
nut.string_span = 43.0
nut.string_height = 4.2
machines.barrel_diameter = 10.0
machines.barrel_length = 30.5
machines.string_hole = 19.0
machines.plate_width = 17.4
machines.plate_thickness = 1.2
machines.pitches = [35.0, 35.0]
machines.overhang = [17.0, 18.5]
placement.first_barrel = 57.0
placement.axis_below_face = 10.2
bores.diameter = 10.5
bores.beyond_barrel = 2.0
slots.width = 15.0
slots.rib = 14.0
slots.end_margin = [18.0, 18.0]
slots.ramp.mouth = 19.0
slots.ramp.angle = 24.0
guide.depth = 24.0
guide.height = 20.4
guide.axis_height = 10.2
guide.end_margin = 31.0
guide.scribe.width = 0.8
guide.scribe.depth = 0.4
print.head_allowance = 0.0
print.block_allowance = 0.0
"#;

/// One machine a side in a head with parallel sides and a flat crest, no slots; a blind mirrored pair
/// with flat ends, 12 mm of wood between them.
pub const PLAIN: &str = r#"
title = "Edge"
head.length = 120.0
head.width_at_nut_end = 64.0
head.width_at_crest_end = 64.0
head.thickness = 20.0
head.angle = 14.0
nut.string_span = 20.0
nut.string_height = 4.0
machines.barrel_diameter = 8.0
machines.barrel_length = 24.0
machines.string_hole = 15.0
machines.plate_width = 14.0
machines.plate_thickness = 1.0
machines.pitches = []
machines.overhang = [14.0, 14.0]
placement.first_barrel = 60.0
placement.bass.first_barrel = 60.0
placement.axis_below_face = 10.0
bores.diameter = 8.5
bores.beyond_barrel = 2.0
bores.point = "flat"
guide.depth = 20.0
guide.height = 20.0
guide.axis_height = 10.0
guide.end_margin = 25.0
print.head_allowance = 0.0
print.block_allowance = 0.0
"#;

/// Slots along strongly flared sides, so that they run together towards the nut; one machine a side.
pub const CONVERGING: &str = r#"
title = "Edge"
head.length = 160.0
head.width_at_nut_end = 48.0
head.width_at_crest_end = 80.0
head.thickness = 20.0
head.angle = 14.0
nut.string_span = 20.0
nut.string_height = 4.0
machines.barrel_diameter = 8.0
machines.barrel_length = 26.0
machines.string_hole = 15.0
machines.plate_width = 14.0
machines.plate_thickness = 1.0
machines.pitches = []
machines.overhang = [14.0, 14.0]
placement.first_barrel = 110.0
placement.axis_below_face = 10.0
bores.diameter = 8.5
bores.beyond_barrel = 1.0
bores.point = "flat"
slots.width = 12.0
slots.cheek = 9.0
slots.end_margin = [40.0, 14.0]
slots.corner_radius = 2.0
guide.depth = 20.0
guide.height = 20.0
guide.axis_height = 10.0
guide.end_margin = 25.0
print.head_allowance = 0.0
print.block_allowance = 0.0
"#;
