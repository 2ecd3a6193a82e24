//! The typeface in a PDF: only the letters used, each with the character it stands for, so that a
//! reader can search and copy the text.

use std::collections::BTreeMap;

use pdf_writer::types::{CidFontType, FontFlags, SystemInfo, UnicodeCmap};
use pdf_writer::{Filter, Finish as _, Name, Pdf, Rect, Ref, Str};
use subsetter::GlyphRemapper;

use crate::paper::font::Typeface;
use crate::paper::{Text, Weight};

use super::{PdfError, pack, single};

const IDENTITY: SystemInfo<'static> = SystemInfo {
    registry: Str(b"Adobe"),
    ordering: Str(b"Identity"),
    supplement: 0,
};

/// The typeface's weights as the texts use them.
pub struct Fonts {
    plain: Font,
    strong: Font,
}

/// One weight and the letters used of it.
pub struct Font {
    weight: Weight,
    face: &'static Typeface,
    /// Letters used, by their number in the whole font: the first character each stands for, and
    /// its width.
    used: BTreeMap<u16, (char, u16)>,
    numbers: GlyphRemapper,
}

impl Fonts {
    /// Gathers the letters of all texts.
    pub fn for_texts<'a>(texts: impl Iterator<Item = &'a Text>) -> Result<Fonts, PdfError> {
        let mut fonts = Fonts {
            plain: Font::new(Weight::Plain)?,
            strong: Font::new(Weight::Strong)?,
        };
        for text in texts {
            let font = match text.weight {
                Weight::Plain => &mut fonts.plain,
                Weight::Strong => &mut fonts.strong,
            };
            // Number 0 is the form for a missing letter; every font carries it unasked.
            let letters = font
                .face
                .letters(&text.text)
                .filter(|letter| letter.glyph != 0);
            for letter in letters {
                let entry = (letter.character, letter.advance);
                let known = font.used.entry(letter.glyph).or_insert(entry);
                // One form may serve several characters: the plainest, lowest one is copied out.
                known.0 = known.0.min(letter.character);
            }
        }
        for font in [&mut fonts.plain, &mut fonts.strong] {
            for &glyph in font.used.keys() {
                font.numbers.remap(glyph);
            }
        }
        Ok(fonts)
    }

    /// The font of a weight.
    pub fn of(&self, weight: Weight) -> &Font {
        match weight {
            Weight::Plain => &self.plain,
            Weight::Strong => &self.strong,
        }
    }

    /// Gives the fonts that are used their places in the file.
    pub fn place(&self, reference: &mut impl FnMut() -> Ref) -> Vec<Placed<'_>> {
        let fonts = [&self.plain, &self.strong];
        let used = fonts.into_iter().filter(|font| !font.used.is_empty());
        used.map(|font| Placed {
            font,
            references: [(); 5].map(|()| reference()),
        })
        .collect()
    }
}

impl Font {
    fn new(weight: Weight) -> Result<Font, PdfError> {
        let face = Typeface::of(weight)
            .ok_or_else(|| PdfError::Font("the font in the program could not be read".into()))?;
        Ok(Font {
            weight,
            face,
            used: BTreeMap::new(),
            numbers: GlyphRemapper::new(),
        })
    }

    /// Name among a page's resources.
    pub fn name(&self) -> Name<'static> {
        match self.weight {
            Weight::Plain => Name(b"Plain"),
            Weight::Strong => Name(b"Strong"),
        }
    }

    /// The typeface itself.
    pub fn face(&self) -> &'static Typeface {
        self.face
    }

    /// A text as the letters' numbers in the font carried along, two bytes each.
    pub fn encode(&self, text: &str) -> Vec<u8> {
        let numbers = self
            .face
            .letters(text)
            .map(|letter| self.numbers.get(letter.glyph).unwrap_or(0));
        numbers.flat_map(u16::to_be_bytes).collect()
    }

    /// The font's name in the file. Its six letters tell this choice of letters from others, as
    /// the format asks: a sum over their numbers (FNV-1a).
    fn base_name(&self) -> String {
        let mut sum: u64 = 0xcbf2_9ce4_8422_2325;
        for byte in self.used.keys().flat_map(|glyph| glyph.to_be_bytes()) {
            sum = (sum ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
        }
        let mut name = String::new();
        for _ in 0..6 {
            name.push(char::from(b'A' + u8::try_from(sum % 26).unwrap_or(0)));
            sum /= 26;
        }
        name.push_str(match self.weight {
            Weight::Plain => "+DejaVuSansCondensed",
            Weight::Strong => "+DejaVuSansCondensed-Bold",
        });
        name
    }
}

/// A font with its places in the file.
pub struct Placed<'a> {
    font: &'a Font,
    references: [Ref; 5],
}

impl Placed<'_> {
    /// Name among a page's resources.
    pub fn name(&self) -> Name<'static> {
        self.font.name()
    }

    /// The font's own place.
    pub fn reference(&self) -> Ref {
        self.references[0]
    }

    /// Writes the font and all that hangs on it.
    pub fn write(&self, pdf: &mut Pdf) -> Result<(), PdfError> {
        let [whole, letters, _, map, file] = self.references;
        let font = self.font;
        let base_name = font.base_name();
        let base = Name(base_name.as_bytes());

        pdf.type0_font(whole)
            .base_font(base)
            .encoding_predefined(Name(b"Identity-H"))
            .descendant_font(letters)
            .to_unicode(map);
        self.write_letters(pdf, base);
        self.write_descriptor(pdf, base);

        let mut cmap = UnicodeCmap::new(Name(b"Characters"), IDENTITY);
        for (&glyph, &(character, _)) in &font.used {
            cmap.pair(font.numbers.get(glyph).unwrap_or(0), character);
        }
        let packed = pack(cmap.finish().as_slice())?;
        pdf.cmap(map, &packed).filter(Filter::FlateDecode);

        let data = subsetter::subset(font.face.data, 0, &font.numbers)
            .map_err(|error| PdfError::Font(error.to_string()))?;
        let length = i32::try_from(data.len()).unwrap_or(i32::MAX);
        pdf.stream(file, &pack(&data)?)
            .filter(Filter::FlateDecode)
            .pair(Name(b"Length1"), length);
        Ok(())
    }

    fn write_letters(&self, pdf: &mut Pdf, base: Name) {
        let [_, letters, descriptor, _, _] = self.references;
        let font = self.font;
        let thousandths = |units: u16| single(f64::from(units) * 1000.0 / font.face.em);
        let mut cid = pdf.cid_font(letters);
        cid.subtype(CidFontType::Type2)
            .base_font(base)
            .system_info(IDENTITY)
            .font_descriptor(descriptor)
            .default_width(0.0)
            .cid_to_gid_map_predefined(Name(b"Identity"));
        // Numbers follow the order of the letters, so the widths are one run.
        let mut widths = cid.widths();
        let run = font.used.values().map(|&(_, advance)| thousandths(advance));
        widths.consecutive(1, run);
        widths.finish();
        cid.finish();
    }

    fn write_descriptor(&self, pdf: &mut Pdf, base: Name) {
        let [_, _, descriptor, _, file] = self.references;
        let face = self.font.face;
        let thousandths = |units: f64| single(units * 1000.0 / face.em);
        let parsed = face.face();
        let b = parsed.global_bounding_box();
        pdf.font_descriptor(descriptor)
            .name(base)
            .flags(FontFlags::NON_SYMBOLIC)
            .bbox(Rect::new(
                thousandths(b.x_min.into()),
                thousandths(b.y_min.into()),
                thousandths(b.x_max.into()),
                thousandths(b.y_max.into()),
            ))
            .italic_angle(0.0)
            .ascent(thousandths(parsed.ascender().into()))
            .descent(thousandths(parsed.descender().into()))
            .cap_height(thousandths(face.capitals))
            // The width of an upright stroke; readers with the font at hand do not use it.
            .stem_v(match self.font.weight {
                Weight::Plain => 80.0,
                Weight::Strong => 140.0,
            })
            .font_file2(file);
    }
}
