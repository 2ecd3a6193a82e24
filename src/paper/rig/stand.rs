//! The rig in use: from the front, the treble side up, and from the end.

use glam::{DVec2, DVec3};

use super::{Column, View, board, outline, scale_for, scale_words};
use crate::input::Side;
use crate::layout::{Layout, RigLayout};
use crate::paper::dimension::{LeaderEnd, Style, leader};
use crate::paper::measure::text_width;
use crate::paper::{Anchor, Layer, LineKind, Sheet};
use crate::units::Lengths;

/// Grey of boards, of the block, of the head.
const BOARD: f64 = 0.93;
const BLOCK: f64 = 0.72;
const HEAD: f64 = 0.84;
/// Paper left of, right of and between the views for dimensions, mm.
const LEFT: f64 = 15.0;
const RIGHT: f64 = 22.0;
/// From a view's foot down to its caption: below inches that stand under their dimension line, mm.
const CAPTION: f64 = 13.0;

/// Least of a surface that a leader's dot is put into, mm of paper.
const SEEN: f64 = 2.5;

/// Draws both views, one under the other, in this share of their room, and moves the column below
/// them.
pub(super) fn draw(
    sheet: &mut Sheet,
    column: &mut Column,
    (layout, rig): (&Layout, &RigLayout),
    lengths: Lengths,
    share: f64,
) {
    let size = DVec2::new(rig.length(), rig.height_over_table());
    let deep = rig.base_z[1] - rig.base_z[0];
    // Both views at one scale; half a page for the two.
    let room = DVec2::new(column.width - LEFT - RIGHT, 56.0 * share);
    let wide = size.max(DVec2::new(deep, 0.0));
    let scale = scale_for(wide, room);
    let paper = size.y / scale;

    let foot = column.top - 12.0 - paper;
    let front = View {
        origin: DVec2::new(
            column.left + LEFT - rig.ends[0] / scale,
            foot + rig.thickness[0] / scale,
        ),
        scale,
        lengths,
    };
    front_view(sheet, layout, rig, &front);
    caption(
        sheet,
        column,
        foot - CAPTION,
        &format!(
            "From the front, treble side up; {}. The neck goes out to the left; bass side up, to the right.",
            scale_words(scale)
        ),
    );

    let foot = foot - CAPTION - 14.0 - paper;
    let end = View {
        origin: DVec2::new(
            column.left + LEFT - rig.base_z[0] / scale,
            foot + rig.thickness[0] / scale,
        ),
        scale,
        lengths,
    };
    end_view(sheet, layout, rig, &end);
    caption(
        sheet,
        column,
        foot - CAPTION,
        &format!("From the end, {}.", scale_words(scale)),
    );
    column.top = foot - CAPTION - 4.0;
}

fn caption(sheet: &mut Sheet, column: &Column, y: f64, text: &str) {
    let at = DVec2::new(column.left, y);
    sheet.text(Layer::Notes, at, 2.5, Anchor::Start, text);
}

fn front_view(sheet: &mut Sheet, layout: &Layout, rig: &RigLayout, view: &View) {
    let stance = &rig.stances.treble;
    let (base, top) = (rig.thickness[0], rig.upright_height);
    board(sheet, &view.rectangle(rig.ends, [-base, 0.0]), BOARD);
    board(sheet, &view.rectangle(rig.ends, [0.0, top]), BOARD);
    for x in rig.bearing {
        let (a, b) = (view.at(x, 0.0), view.at(x, top));
        sheet.line(Layer::Outline, LineKind::Wide, a, b);
    }
    let [from, to] = stance.support;
    board(
        sheet,
        &view.rectangle([from, to], [0.0, stance.packing]),
        1.0,
    );
    if let Some((wedge, pose)) = rig.wedge.zip(rig.wedge_pose(Side::Treble)) {
        let corner = |x: f64, z: f64| {
            let p = pose.point(DVec3::new(x, 0.0, z));
            (p.x, p.y)
        };
        let shape = [
            corner(0.0, 0.0),
            corner(0.0, wedge.thin),
            corner(wedge.length, wedge.thick),
            corner(wedge.length, 0.0),
        ];
        board(sheet, &view.polygon(&shape), 0.6);
    }
    head_outline(sheet, layout, rig, view);
    if let Some(standing) = layout.standing(Side::Treble) {
        let block = standing.block;
        let heights = [rig.block_foot, top];
        board(sheet, &view.rectangle([0.0, block.length], heights), BLOCK);
        for hole in &block.holes {
            let reach = 3.0 * view.scale;
            let (a, b) = (
                view.at(hole.x, rig.block_foot - reach),
                view.at(hole.x, top + reach),
            );
            sheet.line(Layer::Axes, LineKind::Axis, a, b);
            for side in [-0.5, 0.5] {
                let x = hole.x + side * hole.diameter;
                let (a, b) = (view.at(x, rig.block_foot), view.at(x, top));
                sheet.line(Layer::Bores, LineKind::Hidden, a, b);
            }
        }
    }
    let (low, high) = (view.at(0.0, -base).y, view.at(0.0, top).y);
    let [x0, x1] = rig.ends.map(|x| view.at(x, -base));
    view.across(sheet, x0, x1, low - 6.0, rig.length());
    let right = view.at(rig.ends[1], 0.0).x;
    let at = |y: f64| view.at(rig.ends[1], y);
    view.upwards(
        sheet,
        at(0.0),
        at(rig.block_foot),
        right + 6.0,
        rig.block_foot,
    );
    view.upwards(sheet, at(0.0), at(top), right + 14.0, top);
    let left = view.at(rig.ends[0], 0.0).x;
    let at = |y: f64| view.at(rig.ends[0], y);
    view.upwards(sheet, at(-base), at(0.0), left - 6.0, base);
    // What is what.
    let style = Style::default();
    let middle = (from + to) / 2.0;
    let block_length = layout
        .standing(Side::Treble)
        .map_or(0.0, |s| s.block.length);
    let beside_block = (rig.block_foot + top) / 2.0;
    let mut names = vec![
        (
            view.at(rig.ends[0] + 4.0 * view.scale, top * 0.85),
            "upright, relieved",
        ),
        (view.at(block_length * 0.62, beside_block), "block"),
    ];
    if let Some(x) = full_upright(rig, block_length, SEEN * view.scale) {
        names.push((view.at(x, beside_block), "upright, full"));
    }
    // From left to right, each past the words of the one before.
    names.sort_by(|a, b| a.0.x.total_cmp(&b.0.x));
    let mut past = f64::NEG_INFINITY;
    for (tip, text) in names {
        let knee = DVec2::new((tip.x + 3.0).max(past), high + 4.5);
        leader(sheet, tip, knee, LeaderEnd::Dot, style, &[text]);
        past = knee.x + text_width(text, style.text, style.weight) + 6.0;
    }
    let inside = |text: &str, y: f64, sheet: &mut Sheet| {
        let at = view.at(middle, y) - DVec2::Y * 1.0;
        sheet.text(Layer::Notes, at, 2.0, Anchor::Middle, text);
    };
    inside("head, seen from its back", rig.block_foot * 0.6, sheet);
}

/// The middle of where the upright is seen at its full thickness beside the block, along the rig: the wider of
/// both sides of it. `None` where that is narrower than `least`.
pub(super) fn full_upright(rig: &RigLayout, block_length: f64, least: f64) -> Option<f64> {
    let [left, right] = rig.bearing;
    let before = [left, right.min(0.0)];
    let after = [left.max(block_length), right];
    let wide = |[a, b]: [f64; 2]| b - a;
    let seen = if wide(after) >= wide(before) {
        after
    } else {
        before
    };
    (wide(seen) >= least).then(|| f64::midpoint(seen[0], seen[1]))
}

/// The head's outline as it stands, a slot or bore left out: the drawing is of the rig.
fn head_outline(sheet: &mut Sheet, layout: &Layout, rig: &RigLayout, view: &View) {
    let head = &rig.stances.treble.head;
    let place = |p: DVec2| {
        let stood = head.point(p.extend(0.0));
        view.at(stood.x, stood.y)
    };
    let pieces = layout
        .outline
        .pieces
        .iter()
        // Seen from the back.
        .map(|(_, piece)| piece.mirrored(place, 1.0 / view.scale))
        .collect();
    outline(sheet, Layer::Adjacent, LineKind::Wide, pieces, Some(HEAD));
}

fn end_view(sheet: &mut Sheet, layout: &Layout, rig: &RigLayout, view: &View) {
    let (base, top) = (rig.thickness[0], rig.upright_height);
    let thickness = rig.thickness[1];
    let [back, front] = rig.base_z;
    let stance = &rig.stances.treble;
    board(sheet, &view.rectangle([back, front], [-base, 0.0]), BOARD);
    board(sheet, &view.rectangle([-thickness, 0.0], [0.0, top]), BOARD);
    let relief = [view.at(-rig.relief, 0.0), view.at(-rig.relief, top)];
    sheet.line(Layer::Outline, LineKind::Hidden, relief[0], relief[1]);
    let [height, depth, _] = rig.brace;
    let brace = [
        (-thickness - depth, 0.0),
        (-thickness, 0.0),
        (-thickness, height),
    ];
    board(sheet, &view.polygon(&brace), 1.0);
    let width = rig.support_width(layout);
    board(
        sheet,
        &view.rectangle([0.0, width], [0.0, stance.packing]),
        1.0,
    );
    if let Some(wedge) = rig.wedge {
        let heights = [stance.packing, stance.packing + wedge.thick];
        board(sheet, &view.rectangle([0.0, width], heights), 0.6);
    }
    if let Some(standing) = layout.standing(Side::Treble) {
        // The same shims as at the press, measured from the upright's surface.
        let [face, rear] = [standing.face, standing.back].map(|z| z - standing.upright);
        let low = rig.head_bottom();
        let stood = view.rectangle([face, rear], [low, rig.block_foot]);
        board(sheet, &stood, HEAD);
        let block = standing.block;
        let from = stance.block.origin.z;
        let across = [from, from + block.height];
        board(sheet, &view.rectangle(across, [rig.block_foot, top]), BLOCK);
        let axis = from + block.axis_height;
        let reach = 3.0 * view.scale;
        let (a, b) = (
            view.at(axis, rig.block_foot - reach * 2.0),
            view.at(axis, top + reach),
        );
        sheet.line(Layer::Axes, LineKind::Axis, a, b);
    }
    for screw in &rig.block_screws {
        let (a, b) = (
            view.at(-thickness, screw.across),
            view.at(thickness / 2.0, screw.across),
        );
        sheet.line(Layer::Axes, LineKind::Axis, a, b);
    }
    let low = view.at(0.0, -base).y;
    let at = |z: f64| view.at(z, -base);
    view.across(sheet, at(back), at(-thickness), low - 6.0, depth);
    let (a, b) = (view.at(0.0, top), view.at(-thickness, top));
    view.across(sheet, a, b, a.y + 6.0, thickness);
    view.across(sheet, at(0.0), at(front), low - 6.0, front);
    let left = view.at(back, 0.0).x;
    view.upwards(
        sheet,
        view.at(-thickness, 0.0),
        view.at(-thickness, height),
        left - 6.0,
        height,
    );
    // Names to the right, where the paper is free.
    let style = Style::default();
    let right = view.at(front, 0.0).x + 5.0;
    let mut name = |z: f64, y: f64, lift: f64, text: &str| {
        let tip = view.at(z, y);
        let knee = DVec2::new(right, tip.y + lift);
        leader(sheet, tip, knee, LeaderEnd::Dot, style, &[text]);
    };
    let block = layout
        .standing(Side::Treble)
        .map_or(0.0, |s| s.block.height);
    name(
        block * 0.8,
        (rig.block_foot + top) / 2.0,
        0.0,
        "block, screwed on from behind",
    );
    name(
        width * 0.8,
        rig.block_foot * 0.6,
        0.0,
        "head on edge, face to the upright",
    );
    let under = if rig.wedge.is_some() {
        "wedge on packing"
    } else {
        "packing"
    };
    name(width * 0.8, stance.packing * 0.5, 3.0, under);
    name(front * 0.9, -base * 0.5, 0.0, "base, clamped to the table");
}
