"""Builds the guide block, or both blocks, of a design by OpenCASCADE booleans, in the block's own frame.

    python occt_block.py PARAMS.toml [--printed]      prints volume, area, centroid
"""

import sys

import occt_common as oc
from contract_design import Design


def groove_tool(block, x):
    """The V over one hole: triangular section, apex `depth` below the face z = height, right across along y.

    The section is carried up past the face along the V's own flanks, so no face of the tool lies in a face of the block.
    """
    width, depth = block.scribe
    up = 0.5
    half = width / 2 * (depth + up) / depth
    outside = -oc.OUTSIDE
    section = [(x - half, outside, block.height + up), (x + half, outside, block.height + up),
               (x, outside, block.height - depth)]
    return oc.prism(oc.polygon(section), (0.0, block.depth + 2 * oc.OUTSIDE, 0.0))


def blank(block):
    return oc.box((0, 0, 0), (block.length, block.depth, block.height))


def tools(block):
    """Name and solid of everything that is cut out of the blank, in order."""
    r = block.diameter / 2
    for x in block.holes:
        yield f"{block.name} hole at {x:.3f}", oc.turned(
            (x, 0.0, block.axis_height), (0.0, 1.0, 0.0),
            [(-oc.OUTSIDE, 0.0), (-oc.OUTSIDE, r), (block.depth + oc.OUTSIDE, r), (block.depth + oc.OUTSIDE, 0.0)])
    if block.scribe:
        for x in block.holes:
            yield f"{block.name} groove at {x:.3f}", groove_tool(block, x)


def build_block(block):
    body = blank(block)
    for name, tool in tools(block):
        body = oc.cut(body, tool, name)
    return oc.one_solid(body, block.name)


def main():
    printed = "--printed" in sys.argv
    for path in (a for a in sys.argv[1:] if not a.startswith("--")):
        design = Design(path, printed)
        for block in design.blocks:
            solid = build_block(block)
            volume, centroid = oc.volume_and_centroid(solid)
            print(f"{design.title} {block.name}: volume {volume:.9f} area {oc.area(solid):.9f} centroid {centroid}"
                  f" faces {len(oc.faces(solid))}")


if __name__ == "__main__":
    main()
