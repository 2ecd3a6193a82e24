"""Builds the head of a design by OpenCASCADE booleans, in the head's frame.

    python occt_head.py PARAMS.toml [--printed]      prints volume, area, centroid
"""

import sys

import occt_common as oc
from contract_design import Design
from occt_slot import SlotTool


def outline(design):
    """Edges of the head's outline at z = 0: nut line, sides with their shoulders, crest."""
    shoulder = design.parameters["head"].get("shoulder_width")
    chains = []
    for side in design.sides:
        points = [(side.sense * side.half_end, side.y_end, 0.0)]
        if side.y_start > 0 and shoulder is not None:
            points.append((side.sense * side.half_start, side.y_start, 0.0))
            points.append((side.sense * shoulder / 2, 0.0, 0.0))
        else:
            points.append((side.sense * side.half_width(0.0), 0.0, 0.0))
        chains.append(points)
    treble, bass = chains
    corners = treble + bass[::-1]
    edges = [oc.line(a, b) for a, b in zip(corners, corners[1:])]
    if design.arch:
        edges.append(oc.arc(bass[0], (0.0, design.length, 0.0), treble[0]))
    else:
        edges.append(oc.line(bass[0], treble[0]))
    return edges


def blank(design):
    """The outline extruded to the back plane, which may slope from y = 0 to y = length."""
    face = oc.face_of(outline(design))
    if design.thickness == design.thickness_at_crest:
        return oc.prism(face, (0, 0, -design.thickness))
    y_far = 2 * design.length
    deepest = max(design.thickness, design.thickness_at(y_far)) + 10
    low = -10.0
    below = oc.polygon([
        (-1000.0, low, -design.thickness_at(low)), (-1000.0, y_far, -design.thickness_at(y_far)),
        (-1000.0, y_far, -deepest - 10), (-1000.0, low, -deepest - 10),
    ])
    return oc.cut(oc.prism(face, (0, 0, -deepest)), oc.prism(below, (2000, 0, 0)), "sloping back")


def bore_tool(design, bore, start=-oc.OUTSIDE, counterbored=True):
    """Cylinder and point, the counterbore on the same axis, trimmed by the end plane where there is one; from `start`
    along the axis, 0 being the side."""
    r = bore.diameter / 2
    profile = [(start, 0.0)]
    if design.counterbore and counterbored:
        wide, deep = design.counterbore
        profile += [(start, wide / 2), (deep, wide / 2), (deep, r)]
    else:
        profile += [(start, r)]
    if bore.cylinder_is_cut:
        # The end plane may touch the rim; a cylinder drawn well past it gives the same ellipse without touching anything.
        far = (bore.to_centre - bore.end_x + r * abs(bore.sin)) / bore.cos + 5.0
        profile += [(far, r), (far, 0.0)]
    elif bore.point_height > 0:
        profile += [(bore.depth, r), (bore.depth + bore.point_height, 0.0)]
    else:
        profile += [(bore.depth, r), (bore.depth, 0.0)]
    tool = oc.turned(bore.entry, bore.direction, profile)
    if bore.ends == "blind":
        return tool
    near, far = bore.sense * bore.end_x, bore.sense * 4500.0
    keep = oc.box((min(near, far), -2500.0, -500.0), (max(near, far), 4500.0, 500.0))
    return oc.common(tool, keep)


def pilot_tool(pilot):
    entry, direction, diameter, depth = pilot
    return oc.turned(entry, direction,
                     [(-oc.OUTSIDE, 0.0), (-oc.OUTSIDE, diameter / 2), (depth, diameter / 2), (depth, 0.0)])


def tools(design):
    """Name and solid of everything that is cut out of the blank, in order."""
    thickest = max(design.thickness, design.thickness_at_crest, design.thickness_at(1.2 * design.length))
    for slot in design.slots:
        yield f"{slot.side} slot and ramp", SlotTool(slot, thickest).solid()
    for bore in design.bores:
        yield f"{bore.side} bore {bore.number}", bore_tool(design, bore)
    for i, pilot in enumerate(design.pilots):
        yield f"pilot {i + 1}", pilot_tool(pilot)


def build_head(design, joined=True):
    body = blank(design)
    for name, tool in tools(design):
        body = oc.cut(body, tool, name)
    return oc.one_solid(body, "head", joined)


def build(design, part, joined=True):
    """The reference solid of any part of the design."""
    if part == "head":
        return build_head(design, joined)
    import occt_block
    return occt_block.build_block(design.block(part))


def build_at_once(design, part):
    """The same by a single boolean, its faces not joined and nothing checked: quick, for a caller who holds its volume
    against another figure and falls back on `build` where they differ."""
    if part == "head":
        return oc.cut_at_once(blank(design), [tool for _, tool in tools(design)])
    import occt_block
    block = design.block(part)
    return oc.cut_at_once(occt_block.blank(block), [tool for _, tool in occt_block.tools(block)])


def main():
    printed = "--printed" in sys.argv
    for path in (a for a in sys.argv[1:] if not a.startswith("--")):
        design = Design(path, printed)
        solid = build_head(design)
        volume, centroid = oc.volume_and_centroid(solid)
        print(f"{design.title} head: volume {volume:.9f} area {oc.area(solid):.9f} centroid {centroid}"
              f" faces {len(oc.faces(solid))}")


if __name__ == "__main__":
    main()
