"""A DXF file through ezdxf, as JSON on standard output: what its auditor found, units, layers, line
types, and every entity of the model with its numbers."""

import json
import sys

import ezdxf
from ezdxf.lldxf.encoding import decode_dxf_unicode


def entity(e):
    found = {
        "type": e.dxftype(),
        "layer": e.dxf.layer,
        "linetype": e.dxf.linetype,
        "lineweight": e.dxf.lineweight,
        "handle": e.dxf.handle,
    }
    kind = e.dxftype()
    if kind == "LINE":
        found["points"] = [list(e.dxf.start)[:2], list(e.dxf.end)[:2]]
    elif kind in ("CIRCLE", "ARC"):
        found["center"] = list(e.dxf.center)[:2]
        found["radius"] = e.dxf.radius
        if kind == "ARC":
            found["points"] = [list(e.start_point)[:2], list(e.end_point)[:2]]
    elif kind == "LWPOLYLINE":
        found["closed"] = e.closed
        found["points"] = [list(p) for p in e.get_points("xyb")]
    elif kind == "TEXT":
        found["text"] = decode_dxf_unicode(e.dxf.text)
        found["height"] = e.dxf.height
        found["rotation"] = e.dxf.rotation
        align, first, second = e.get_placement()
        found["align"] = align.name
        found["points"] = [list(first)[:2]] + ([list(second)[:2]] if second else [])
    return found


def main(path):
    document = ezdxf.readfile(path)
    auditor = document.audit()
    json.dump(
        {
            "errors": [error.message for error in auditor.errors],
            "fixes": [fix.message for fix in auditor.fixes],
            "version": document.dxfversion,
            "units": document.units,
            "measurement": document.header["$MEASUREMENT"],
            "extent": [list(document.header[name])[:2] for name in ("$EXTMIN", "$EXTMAX")],
            # The reader adds a layer of its own for the points of dimensions.
            "layers": sorted(
                layer.dxf.name for layer in document.layers if layer.dxf.name != "Defpoints"
            ),
            "linetypes": {
                linetype.dxf.name: [tag.value for tag in linetype.pattern_tags.tags if tag.code == 49]
                for linetype in document.linetypes
            },
            "entities": [entity(e) for e in document.modelspace()],
        },
        sys.stdout,
    )


if __name__ == "__main__":
    main(sys.argv[1])
