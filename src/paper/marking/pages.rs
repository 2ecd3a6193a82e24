//! Laying the parts out on paper: upright or lying, whichever takes fewer sheets, each with its
//! own check bars.

use glam::DVec2;

use crate::check::Report;
use crate::layout::Layout;
use crate::paper::dimension::{Style, put};
use crate::paper::place::{Window, extent, placed};
use crate::paper::{Anchor, Item, Layer, Paper, Sheet, Weight};
use crate::tolerance::NOISE;

use super::bars::{CHECK_BAR, CheckBar, bar};
use super::seams::{Cutting, cut_up, marks};
use super::{MarkingOptions, blocks, notes, parts};

/// Paper that printers leave white, mm.
const MARGIN: f64 = 10.0;
/// Row of title and level check bar at the top, mm.
const HEADER: f64 = 10.0;
/// Column of the upright check bar at the right, mm.
const COLUMN: f64 = 7.0;
/// Between parts, mm.
const BETWEEN: f64 = 1.0;

/// A part and where it lies in its own drawing.
struct Part {
    sheet: Sheet,
    extent: Window,
}

/// One piece on a page, moved by `by`.
struct Laid {
    piece: usize,
    by: DVec2,
}

/// A way to lay everything out, in millimetres of the head.
struct Plan {
    /// Drawing area of a page, its lower left corner at the origin.
    area: DVec2,
    pieces: Vec<Cutting>,
    pages: Vec<Vec<Laid>>,
    /// The notes, the page they are on, and where their upper left corner lies.
    notes: (Sheet, usize, DVec2),
}

pub(super) fn on_paper(layout: &Layout, report: &Report, options: &MarkingOptions) -> Vec<Sheet> {
    let scale = options.bar.map_or(1.0, CheckBar::scale);
    let (short, long) = Paper::sides(options.paper);
    let parts = measured(layout);
    let plans = [DVec2::new(short, long), DVec2::new(long, short)].map(|paper| {
        let area = (paper - 2.0 * MARGIN) / scale - DVec2::new(COLUMN, HEADER);
        (paper, plan(&parts, area, layout, report, options.bar))
    });
    let [upright, lying] = plans;
    let cost = |plan: &Plan| (plan.pages.len(), plan.pieces.len());
    let (paper, plan) = if cost(&lying.1) < cost(&upright.1) {
        lying
    } else {
        upright
    };
    (0..plan.pages.len())
        .map(|page| {
            let what = format!(
                "page {} of {}, {}",
                page + 1,
                plan.pages.len(),
                options.paper.name()
            );
            let drawn = draw(layout, &parts, &plan, page, &what);
            let mut sheet = Sheet::new(drawn.title.clone(), paper.x, paper.y);
            let by = DVec2::splat(MARGIN);
            sheet.items = drawn
                .items
                .iter()
                .map(|item| placed(item, scale, by))
                .collect();
            sheet
        })
        .collect()
}

pub(super) fn whole(layout: &Layout, report: &Report) -> Sheet {
    let parts = measured(layout);
    let size = sum_of_widths(&parts);
    let notes_width = size.x.max(CHECK_BAR + 80.0);
    let notes = notes::notes(layout, report, None, false, notes_width, 2, notes::WORDS[0]);
    let notes_height = extent(&notes).map_or(0.0, |window| window.size().y);
    let area = DVec2::new(
        notes_width,
        (size.y + notes_height + 3.0 * BETWEEN).max(CHECK_BAR + 4.0),
    );
    let plan = plan(&parts, area, layout, report, None);
    let drawn = draw(layout, &parts, &plan, 0, "whole, true size");
    let paper = area + DVec2::new(COLUMN, HEADER) + 2.0 * MARGIN;
    let mut sheet = Sheet::new(drawn.title.clone(), paper.x, paper.y);
    let by = DVec2::splat(MARGIN);
    sheet.items = drawn
        .items
        .iter()
        .map(|item| placed(item, 1.0, by))
        .collect();
    sheet
}

/// The parts, all with the same extent up the head so that their nut lines stand level.
fn measured(layout: &Layout) -> Vec<Part> {
    let mut parts: Vec<Part> = parts(layout)
        .into_iter()
        .filter_map(|sheet| {
            let extent = extent(&sheet)?;
            Some(Part { sheet, extent })
        })
        .collect();
    let low = parts.iter().map(|part| part.extent.min.y);
    let low = low.fold(f64::INFINITY, f64::min) - 0.5;
    let high = parts.iter().map(|part| part.extent.max.y);
    let high = high.fold(f64::NEG_INFINITY, f64::max) + 0.5;
    for part in &mut parts {
        part.extent.min = DVec2::new(part.extent.min.x - 0.5, low);
        part.extent.max = DVec2::new(part.extent.max.x + 0.5, high);
    }
    parts
}

fn sum_of_widths(parts: &[Part]) -> DVec2 {
    let widths = parts.iter().map(|part| part.extent.size().x + BETWEEN);
    let height = parts.first().map_or(0.0, |part| part.extent.size().y);
    DVec2::new(widths.sum::<f64>() - BETWEEN + NOISE, height)
}

fn plan(
    parts: &[Part],
    area: DVec2,
    layout: &Layout,
    report: &Report,
    bar: Option<CheckBar>,
) -> Plan {
    let mut pieces: Vec<Cutting> = parts
        .iter()
        .enumerate()
        .flat_map(|(index, part)| cut_up(index, &part.extent, area))
        .collect();
    // The nut ends of all parts first: pieces that lie beside one another on the head share a page.
    pieces.sort_by_key(|piece| piece.cell[0]);
    let mut pages: Vec<Vec<Laid>> = Vec::new();
    let mut x = f64::INFINITY;
    for (index, piece) in pieces.iter().enumerate() {
        let size = piece.window.size();
        if x + size.x > area.x + NOISE {
            pages.push(Vec::new());
            x = 0.0;
        }
        let by = DVec2::new(x, area.y - size.y) - piece.window.min;
        if let Some(page) = pages.last_mut() {
            page.push(Laid { piece: index, by });
        }
        x += size.x + BETWEEN;
    }
    let notes = place_notes(&pieces, &mut pages, area, layout, report, bar);
    Plan {
        area,
        pieces,
        pages,
        notes,
    }
}

/// The notes go under the pieces or beside them, on the first page with room, else on a new one.
fn place_notes(
    pieces: &[Cutting],
    pages: &mut Vec<Vec<Laid>>,
    area: DVec2,
    layout: &Layout,
    report: &Report,
    bar: Option<CheckBar>,
) -> (Sheet, usize, DVec2) {
    let gap = 3.0 * BETWEEN;
    let joined = pieces.iter().any(|piece| piece.cell != [0, 0]);
    let shape = |width: f64, columns: usize, size: f64| {
        let sheet = notes::notes(layout, report, bar, joined, width, columns, size);
        let height = extent(&sheet).map_or(0.0, |window| window.size().y);
        (sheet, height)
    };
    let columns = if area.x > 140.0 { 2 } else { 1 };
    for (index, page) in pages.iter().enumerate() {
        let taken = page.iter().filter_map(|laid| pieces.get(laid.piece));
        let (mut right, mut deep) = (0.0, 0.0_f64);
        for piece in taken {
            right += piece.window.size().x + BETWEEN;
            deep = deep.max(piece.window.size().y);
        }
        let beside = area.x - right - gap;
        // Somewhat smaller on an earlier page before larger on a later one.
        for size in notes::WORDS {
            let broad = shape(area.x, columns, size);
            if deep + gap + broad.1 <= area.y {
                let corner = DVec2::new(0.0, area.y - deep - gap);
                return (broad.0, index, corner);
            }
            if beside >= 50.0 {
                let narrow = shape(beside, 1, size);
                if gap + narrow.1 <= area.y {
                    let corner = DVec2::new(right + gap, area.y - gap);
                    return (narrow.0, index, corner);
                }
            }
        }
    }
    pages.push(Vec::new());
    // Clear of the title above.
    let alone = shape(area.x, 1, notes::WORDS_ALONE);
    let corner = DVec2::new(0.0, area.y - gap);
    (alone.0, pages.len() - 1, corner)
}

/// One page in millimetres of the head, the lower left corner of its printable area at the origin.
fn draw(layout: &Layout, parts: &[Part], plan: &Plan, page: usize, what: &str) -> Sheet {
    let title = format!("{}: marking sheet, {what}", layout.design.title);
    let mut sheet = Sheet::new(title, 0.0, 0.0);
    let page_of = |wanted: &Cutting| {
        plan.pages.iter().position(|page| {
            let mut pieces = page.iter().filter_map(|laid| plan.pieces.get(laid.piece));
            pieces.any(|piece| piece == wanted)
        })
    };
    for laid in plan.pages.get(page).into_iter().flatten() {
        let Some(piece) = plan.pieces.get(laid.piece) else {
            continue;
        };
        let Some(part) = parts.get(piece.part) else {
            continue;
        };
        let siblings: Vec<Window> = plan
            .pieces
            .iter()
            .filter(|other| other.part == piece.part)
            .map(|other| other.window)
            .collect();
        let (mut own, mut over) = (Sheet::default(), Sheet::default());
        marks(
            [&mut own, &mut over],
            &blocks::text_windows(&part.sheet),
            piece,
            &plan.pieces,
            page + 1,
            |other| page_of(other).map(|page| page + 1),
        );
        own.items.extend(blocks::cut_out_whole_blocks(
            &part.sheet,
            &piece.window,
            &siblings,
        ));
        own.items.extend(over.items);
        sheet
            .items
            .extend(own.items.iter().map(|item| placed(item, 1.0, laid.by)));
    }
    let (words, on, corner) = &plan.notes;
    if *on == page {
        let moved = words.items.iter().map(|item| placed(item, 1.0, *corner));
        sheet.items.extend(moved.collect::<Vec<Item>>());
    }
    header(&mut sheet, layout, plan.area, what);
    sheet
}

/// Title, page and the two check bars.
fn header(sheet: &mut Sheet, layout: &Layout, area: DVec2, what: &str) {
    let top = area.y + HEADER;
    let style = |text: f64, weight| Style {
        text,
        weight,
        ..Style::default()
    };
    let right = area.x + COLUMN;
    let room = right - CHECK_BAR - 4.0;
    let name = format!("{}: marking sheet", layout.design.title);
    let fits = |text: &str, wanted: f64, weight| {
        let width = crate::paper::measure::text_width(text, wanted, weight);
        wanted * (room / width).min(1.0)
    };
    let at = DVec2::new(0.0, top - 3.2);
    let size = fits(&name, 3.2, Weight::Strong);
    let strong = style(size, Weight::Strong);
    put(sheet, Layer::Notes, at, 0.0, Anchor::Start, strong, &name);
    let line = format!("{what}, true size. Measure the bars first.");
    let line = line.replace("true size, true size", "true size");
    let size = fits(&line, 2.5, Weight::Plain);
    let plain = style(size, Weight::Plain);
    let at = DVec2::new(0.0, top - 7.4);
    put(sheet, Layer::Notes, at, 0.0, Anchor::Start, plain, &line);
    bar(sheet, DVec2::new(right - CHECK_BAR, top - 6.0), DVec2::X);
    let low = (area.y - CHECK_BAR).clamp(0.0, BETWEEN);
    bar(sheet, DVec2::new(right - 0.5, low), DVec2::Y);
}
