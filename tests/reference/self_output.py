"""Writes an output folder as the contract describes it from the reference's own solids and numbers.

    python self_output.py OUTDIR PARAMS.toml...

It serves to try the checks of this folder on files known to be right, and on files spoilt on purpose (try_checks.py);
it says nothing about the program under test.
"""

import json
import re
import sys
from pathlib import Path

import numpy as np
from OCP.gp import gp_Pnt
from OCP.Interface import Interface_Static
from OCP.Quantity import Quantity_Color, Quantity_TypeOfColor
from OCP.STEPCAFControl import STEPCAFControl_Writer
from OCP.STEPControl import STEPControl_StepModelType
from OCP.TCollection import TCollection_ExtendedString
from OCP.TDataStd import TDataStd_Name
from OCP.TDocStd import TDocStd_Document
from OCP.XCAFDoc import XCAFDoc_Area, XCAFDoc_Centroid, XCAFDoc_ColorType, XCAFDoc_DocumentTool, XCAFDoc_Volume

import occt_common as oc
import occt_head
import occt_mesh
import step_file
from contract_design import Design

STAND_IN = "NAMEOFTHEPART"


def part_21(text):
    """A text as a Part 21 string's inside."""
    text = text.replace("\\", "\\\\").replace("'", "''")
    return re.sub(r"[^ -~]+", lambda m: "\\X2\\" + m[0].encode("utf-16-be").hex().upper() + "\\X0\\", text)


def write_step(path, solid, name):
    step_file.quiet()
    document = TDocStd_Document(TCollection_ExtendedString("XmlOcaf"))
    label = XCAFDoc_DocumentTool.ShapeTool_s(document.Main()).AddShape(solid, False)
    TDataStd_Name.Set_s(label, TCollection_ExtendedString(STAND_IN))
    XCAFDoc_DocumentTool.ColorTool_s(document.Main()).SetColor(
        label, Quantity_Color(0.6, 0.4, 0.2, Quantity_TypeOfColor.Quantity_TOC_RGB), XCAFDoc_ColorType.XCAFDoc_ColorSurf)
    volume, centroid = oc.volume_and_centroid(solid)
    XCAFDoc_Volume.Set_s(label, volume)
    XCAFDoc_Area.Set_s(label, oc.area(solid))
    XCAFDoc_Centroid.Set_s(label, gp_Pnt(*centroid))
    writer = STEPCAFControl_Writer()
    writer.SetPropsMode(True)
    Interface_Static.SetIVal_s("write.surfacecurve.mode", 0)
    writer.Transfer(document, STEPControl_StepModelType.STEPControl_AsIs)
    writer.Write(str(path))
    # OpenCASCADE leaves the solid's own name empty and writes letters beyond ASCII as they are; put both right.
    text = Path(path).read_text(encoding="ascii").replace(STAND_IN, part_21(name))
    text = text.replace("MANIFOLD_SOLID_BREP(''", "MANIFOLD_SOLID_BREP('" + part_21(name) + "'")
    Path(path).write_text(text, encoding="ascii")


def write_stl(path, vertices, triangles):
    """Binary STL, normals from the corners."""
    corners = vertices[triangles].astype(np.float32)
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    normals /= np.linalg.norm(normals, axis=1)[:, None]
    record = np.zeros(len(triangles), dtype=[("n", "<f4", 3), ("c", "<f4", (3, 3)), ("a", "<u2")])
    record["n"], record["c"] = normals, corners
    with open(path, "wb") as out:
        out.write(b"reference".ljust(80) + np.uint32(len(triangles)).tobytes() + record.tobytes())


def solid_entry(solid):
    volume, centroid = oc.volume_and_centroid(solid)
    low, high = oc.bounding_box(solid)
    return {"volume_mm3": volume, "area_mm2": oc.area(solid), "centroid": list(centroid),
            "bounding_box": {"min": list(low), "max": list(high)}}


def report_of(design, solids):
    report = {"title": design.title, "units": "mm", "solids": {}, "bores": [], "checks": [], "verdict": "clear"}
    for part, solid in solids.items():
        entry = report["solids"][part] = solid_entry(solid)
        if part != "head":
            block = design.block(part)
            entry["holes"] = [{"number": i + 1, "x": x, "z": block.axis_height, "diameter": block.diameter}
                              for i, x in enumerate(block.holes)]
    for b in design.bores:
        report["bores"].append({
            "side": b.side, "number": b.number, "entry": list(b.entry), "direction": list(b.direction),
            "diameter": b.diameter, "depth": b.depth, "point_height": b.point_height, "ends": b.ends,
            "length_in_model": b.length_in_model})
    return report


def write_all(out, params):
    """One design's folder: STEP, STL of every part, report.json."""
    design, printed = Design(params), Design(params, printed=True)
    folder = Path(out) / Path(params).stem
    folder.mkdir(parents=True, exist_ok=True)
    # Faces are left unjoined, so that an opening pair keeps its edge in the centre plane where the two bores are in line.
    solids = {part: occt_head.build(design, part, joined=False) for part in design.parts()}
    for part, solid in solids.items():
        spoken = {"head": "head", "guide-block": "guide block"}.get(part) or f"guide block {part.split('-')[-1]}"
        write_step(folder / f"{part}.step", solid, f"{design.title} {spoken}")
        vertices, triangles = occt_mesh.triangulate(occt_head.build(printed, part), design.chord)
        write_stl(folder / f"{part}.stl", vertices, triangles)
    (folder / "report.json").write_text(json.dumps(report_of(design, solids), indent=1))
    return folder


if __name__ == "__main__":
    for path in sys.argv[2:]:
        print(write_all(sys.argv[1], path))
