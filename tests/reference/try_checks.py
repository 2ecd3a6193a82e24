"""Tries the checks themselves: files known to be right must pass, files spoilt on purpose must fail by the named check.

    python try_checks.py SCRATCHDIR

Run it after any change to this folder. The design is the smallest of designs/ that has slots, ramps and open pairs.
"""

import contextlib
import io
import json
import re
import shutil
import sys
from pathlib import Path

import numpy as np
import trimesh

import check_layout
import check_step
import check_stl
import self_output
from reporting import Checks

HERE = Path(__file__).resolve().parent
PARAMS = HERE / "designs" / "flat-bit.toml"


def outcome(call):
    """Failures of a check, without its lines; a check that breaks off counts as one."""
    checks = Checks()
    with contextlib.redirect_stdout(io.StringIO()):
        try:
            call(checks)
        except Exception as error:
            checks.failures.append(f"broke off: {type(error).__name__}: {error}")
    return checks.failures


def replaced(folder, name, pattern, new, count=1):
    """A copy of a text file with a pattern replaced; that it occurs is made sure of."""
    text = (folder / name).read_text()
    spoilt, n = re.subn(pattern, new, text, count=count)
    assert n, f"{name}: nothing to spoil by {pattern}"
    target = folder / f"spoilt-{name}"
    target.write_text(spoilt)
    return target


def edited_report(folder, edit):
    report = json.loads((folder / "report.json").read_text())
    edit(report)
    target = folder / "spoilt-report.json"
    target.write_text(json.dumps(report))
    return target


def spoilt_mesh(folder, edit):
    mesh = trimesh.load_mesh(str(folder / "head.stl"))
    vertices, triangles = edit(np.array(mesh.vertices), np.array(mesh.faces))
    target = folder / "spoilt-head.stl"
    self_output.write_stl(target, vertices, triangles)
    return target


def moved(vertices, triangles):
    vertices[len(vertices) // 2] += (0.001, 0.001, 0.001)
    return vertices, triangles


def bloated(vertices, triangles):
    centre = vertices.mean(axis=0)
    return centre + (vertices - centre) * 1.002, triangles


def flipped(vertices, triangles):
    triangles[0] = triangles[0][::-1]
    return vertices, triangles


def split(vertices, triangles):
    """Every facet in four: right in shape, but wasteful."""
    return trimesh.remesh.subdivide(vertices, triangles)


def design_variant(folder, pattern, new):
    """The same parameters with one number changed: the files then no longer belong to them."""
    text, n = re.subn(pattern, new, PARAMS.read_text(), count=1)
    assert n, pattern
    target = folder / "variant.toml"
    target.write_text(text)
    return target


def trials(folder):
    """(what is tried, name of the check that must fail, failures)."""
    head, report, stl = folder / "head.step", folder / "report.json", folder / "head.stl"
    step = lambda f, p=PARAMS, part="head", r=report: outcome(lambda c: check_step.check(f, p, part, r, c))
    mesh = lambda f, p=PARAMS: outcome(lambda c: check_stl.check(f, p, "head", c))
    layout = lambda r, p=PARAMS: outcome(lambda c: check_layout.check(p, r, c))

    yield "right STEP", None, step(head)
    yield "right block STEP", None, step(folder / "guide-block.step", part="guide-block")
    yield "right STL", None, mesh(stl)
    yield "right report", None, layout(report)

    yield "another title", "product is named", step(replaced(folder, "head.step", r"Flat bit", "Round bit", 0))
    yield "no colour", "colour", step(replaced(folder, "head.step", r"STYLED_ITEM\(", "UNSTYLED_ITEM(", 0))
    yield "inches", "unit", step(replaced(folder, "head.step", r"\.MILLI\.", "$", 0))
    yield "a wrong property", "validation property volume", step(
        replaced(folder, "head.step", r"VOLUME_MEASURE\(\s*[0-9.E+]+\)", "VOLUME_MEASURE(131000.)"))
    yield "an edge sense turned", "every edge once", step(replaced(
        folder, "head.step", r"(ORIENTED_EDGE\('',\*,\*,#\d+,)\.T\.", r"\1.F."))
    yield "a radius off by 2e-6", "bore", step(replaced(
        folder, "head.step", r"(CYLINDRICAL_SURFACE\('',#\d+,)4\.2\d*\)", r"\g<1>4.200002)", 0))
    yield "volume in the report off by 3e-8", "volume against report.json", step(head, r=edited_report(
        folder, lambda r: r["solids"]["head"].update(volume_mm3=r["solids"]["head"]["volume_mm3"] * (1 + 3e-8))))
    yield "axis 2e-6 deeper", "bore", step(head, design_variant(folder, r'depth = "centred"', "axis_below_face = 9.000002"))
    yield "rib 0.002 wider", "symmetric difference", step(head, design_variant(folder, r"rib( +)= 11.0", "rib = 11.002"))
    yield "slot corners rounded", "faces match", step(head, design_variant(folder, r"\ncorner_radius = 0", "\ncorner_radius = 0.2"))

    yield "a bore's depth off by 1e-8", "depth", layout(edited_report(
        folder, lambda r: r["bores"][1].update(depth=r["bores"][1]["depth"] + 1e-8)))
    yield "an end misnamed", "ends", layout(edited_report(folder, lambda r: r["bores"][2].update(ends="web")))
    yield "bores out of order", "order", layout(edited_report(folder, lambda r: r["bores"].reverse()))
    yield "a hole 1e-8 off", "hole", layout(edited_report(
        folder, lambda r: r["solids"]["guide-block"]["holes"][0].update(x=25.00000001)))

    yield "a facet missing", "watertight", mesh(spoilt_mesh(folder, lambda v, t: (v, t[1:])))
    yield "a facet turned", "wound", mesh(spoilt_mesh(folder, flipped))
    yield "a vertex moved by 0.002", "vertices on", mesh(spoilt_mesh(folder, moved))
    yield "0.2 % too large", "volume against", mesh(spoilt_mesh(folder, bloated))
    yield "inside out", "volume above zero", mesh(spoilt_mesh(folder, lambda v, t: (v, t[:, ::-1])))
    yield "four facets for one", "facets, against", mesh(spoilt_mesh(folder, split))
    yield "without the allowance", "vertices on", mesh(stl, design_variant(folder, r"\[print\]", "[print]\nhead_allowance = 0.0"))
    yield "a finer chord asked", "within the chord", mesh(stl, design_variant(folder, r"chord( +)= 0.05", "chord = 0.005"))
    yield "web in place of an opening", "genus", mesh(stl, design_variant(folder, r"angle( +)= 13.0", (
        "angle = 13.0\nbass = { width_at_nut_end = 56.02, width_at_crest_end = 64.02 }")))


def main():
    scratch = Path(sys.argv[1])
    folder = self_output.write_all(scratch, PARAMS)
    wrong = 0
    for what, name, failures in trials(folder):
        good = not failures if name is None else any(name in f for f in failures)
        wrong += not good
        figure = "passes" if not failures else f"{len(failures)} failed, first: {failures[0][:110]}"
        print(("ok    " if good else "FAIL  ") + f"{what}: {figure}", flush=True)
    shutil.rmtree(folder)
    print(f"{wrong} trials went wrong")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
