"""Every figure on the sheets and lists of a design stands there for a reason.

Read are the texts of the PDFs (pdftotext of poppler-utils) and SVGs. A figure is a number with decimals, on the drawing
also one that stands alone. It must be one of the sheet's own figures, worked out in figure_sources.py from the
parameter file or taken from report.json, to the printed digit; millimetres, or inches where it has three decimals.
The other way round, what a sheet must tell has to be there. A vocabulary so wide that it explains any number would
be no test: shifted by a few hundredths, hardly a figure may still be explained.

    check_figures.py OUT DESIGN...      OUT/<stem>/ holds what `make` wrote, check.json of `check --json`, and fit.json of
                                        `fit --json` where the design has [[drilled]]
"""

import csv
import json
import re
import subprocess
import sys
import xml.etree.ElementTree as ET
from pathlib import Path

import figure_sources as sources
import rescue_sources
from contract_design import Design
from reporting import Checks

INCH = 25.4
# A diameter's or radius's sign may stand before it, no other letter and no other number's part; a scale is no figure.
FIGURE = re.compile(r"(?<![\d.,/:])(?<![A-QS-Za-z])[−-]?\d+\.\d+(?![.\d]|:\d)")
ALONE = re.compile(r"[(]?[−-]?(?:D |R|Ø)?(\d+)[)]?")
SHIFTS = (0.03, 0.07, 0.17, 0.37, -0.05, -0.13)  # mm; far from any rounding
MOST_BY_CHANCE = 0.05  # of the shifted figures

WEB = 0.5  # mm of wood that the model keeps between a pair not quite mirrored (3.3)


def text_of_pdf(path):
    done = subprocess.run(["pdftotext", "-layout", str(path), "-"], capture_output=True, check=True)
    return done.stdout.decode("utf-8")


def text_of_svg(path):
    texts = ET.parse(path).getroot().iter("{http://www.w3.org/2000/svg}text")
    return "\n".join("".join(text.itertext()) for text in texts)


def figures(text, alone=False):
    """Figures of a text as printed, the sign left to the tables' own checks."""
    found = []
    for line in text.splitlines():
        # Law and standards are cited, and versions of sheets named, by numbers that are no measures.
        if "CFR" in line:
            continue
        found += [figure.lstrip("−-") for figure in FIGURE.findall(line)]
        # The title block's row of the general tolerance holds the quantity to be made.
        if alone and "ISO 2768" not in line:
            cells = (ALONE.fullmatch(cell) for cell in re.split(r"\s{2,}", line.strip()))
            found += [match.group(1) for match in cells if match]
    return found


def explained(figure, values):
    """Whether one of the values, rounded to the figure's decimals, prints as the figure."""
    _, _, decimals = figure.partition(".")
    number = float(figure)
    # Fewer than two decimals mean that the rest is zeros: a sheet rounds to hundredths at most.
    half = 0.5 * 10.0 ** -max(2, len(decimals)) + 1e-6
    if any(abs(abs(value) - number) <= half for value in values):
        return True
    return len(decimals) == 3 and any(abs(abs(value) / INCH - number) <= half for value in values)


def shifted(figure):
    _, _, decimals = figure.partition(".")
    for shift in SHIFTS:
        number = abs(float(figure) + (shift if len(decimals) < 3 else shift / INCH))
        yield f"{number:.{max(2, len(decimals))}f}"


def check_sheet(checks, name, text, own, must, alone=False):
    """One sheet: `own` explains its figures, `must` are names of those it has to show."""
    found = figures(text, alone)
    values = list(own.values())
    strangers = sorted({figure for figure in found if not explained(figure, values)})
    checks.equal(f"{name}: figures that nothing explains", strangers, [])
    shown = {key for key in must if any(explained(figure, [own[key]]) for figure in found)}
    checks.equal(f"{name}: figures it must show but does not", sorted(set(must) - shown), [])
    others = [figure for one in found for figure in shifted(one)]
    lucky = sum(explained(figure, values) for figure in others)
    checks.below(f"{name}: shifted figures explained by chance", lucky / max(1, len(others)), MOST_BY_CHANCE)
    return found


def stop_figures(report):
    found = {}
    for stop in report["depth_stops"]:
        found |= {f"stop of {stop['sides']}": stop["from_block_top"], "block part of it": stop["block"],
                  f"bore part of {stop['sides']}": stop["depth"], "point part of it": stop["point"]}
    return found


def press_figures(report):
    found = {}
    for check in report["checks"]:
        if check["code"].startswith("press-"):
            found |= {f"{check['code']} {key}": check[key] for key in ("value", "limit", "margin")}
    return found


def caution_figures(report, screen):
    """Value, limits and advice of what is not clear; the advice from what `check --json` prints."""
    found = {}
    for check in report["checks"]:
        if check["verdict"] != "clear":
            limit = check["limit"]
            limits = limit.values() if isinstance(limit, dict) else [limit]
            found[f"{check['code']} value"] = check["value"]
            found |= {f"{check['code']} limit {i}": value for i, value in enumerate(limits)}
    for check in screen["designs"][0]["checks"]:
        if check["verdict"] != "clear":
            for i, figure in enumerate(re.findall(r"\d+\.\d+", check.get("advice", ""))):
                found[f"advice {i} on {check['code']}"] = float(figure)
    return found


def solid_figures(report, name):
    solid = report["solids"][name]
    return {f"{name}'s volume": solid["volume_mm3"], f"{name}'s area": solid["area_mm2"]}


def check_report(checks, design, report):
    """Our own working out agrees with report.json, so that either may explain a figure (1e-9 of up to 2000 mm)."""
    for mine, theirs in zip(design.bores, report["bores"], strict=True):
        name = f"report.json: {mine.side} bore {mine.number}"
        for what, a, b in (("x", mine.entry[0], theirs["entry"][0]), ("y", mine.entry[1], theirs["entry"][1]),
                           ("z", mine.entry[2], theirs["entry"][2]), ("depth", mine.depth, theirs["depth"]),
                           ("diameter", mine.diameter, theirs["diameter"]),
                           ("point", mine.point_height, theirs["point_height"])):
            checks.below(f"{name} {what}", abs(a - b), 2e-6, "mm")
    for side in design.sides:
        along = [bore["along_side"] for bore in report["bores"] if bore["side"] == side.name]
        checks.below(f"report.json: {side.name} s", max(abs(a - b) for a, b in zip(side.stations, along, strict=True)), 2e-6)
    checks.below("report.json: wedge", abs(abs(sources.tapers(design)["wedge"]) - abs(report["wedge_deg"])), 1e-9, "degrees")


def check_bore_list(checks, path, report):
    """bores.csv: every bore's row is report.json's to the list's own millionth."""
    with open(path, newline="", encoding="utf-8") as file:
        rows = [row for row in csv.DictReader(file) if row["feature"] == "bore"]
    checks.equal("bores.csv: bores", [(r["side"], int(r["number"])) for r in rows],
                 [(b["side"], b["number"]) for b in report["bores"]])
    for row, bore in zip(rows, report["bores"]):
        sign = 1 if bore["side"] == "treble" else -1
        for key, value in (("x_mm", -sign * bore["entry"][2]), ("y_mm", bore["along_side"]), ("depth_mm", bore["depth"]),
                           ("diameter_mm", bore["diameter"]), ("point_length_mm", bore["point_height"])):
            checks.below(f"bores.csv: {bore['side']} {bore['number']} {key}", abs(float(row[key]) - value), 0.5e-6 + 1e-9, "mm")
        checks.equal(f"bores.csv: {bore['side']} {bore['number']} ends", row["ends"], bore["ends"])


def check_bore_table(checks, text, report):
    """The drawing's table of bores, with its signs: along the side, x, y, D."""
    for bore in report["bores"]:
        name = f"{bore['side'][0].upper()}{bore['number']}"
        rows = [FIGURE.findall(line) for line in text.splitlines() if re.match(rf"\s*{name}\s+\d", line)]
        # Where the pilots have a table of their own, its rows are shorter.
        found = [float(figure.replace("−", "-")) for figure in max(rows, key=len, default=[])]
        wanted = [bore["along_side"], bore["entry"][0], bore["entry"][1], bore["depth"]]
        if len(found) > len(wanted):  # inches beside the millimetres
            wanted = [value for mm in wanted for value in (mm, mm / INCH)]
            close = [0.005, 0.0005] * 4
        else:
            close = [0.005] * 4
        holds = len(found) == len(wanted) and all(abs(a - b) <= half + 1e-6 for a, b, half in zip(found, wanted, close))
        checks.truth(f"drawing: row {name}", holds, f"{found} for {wanted}")


def check_rescue(checks, design, folder):
    """The rescue sheet: a page a side that has records, and its table row by row with signs."""
    path, records = folder / "bench/rescue-sheet.pdf", design.parameters.get("drilled", [])
    checks.equal("rescue-sheet.pdf: there", path.exists(), bool(records))
    if not path.exists():
        return
    fit = json.loads((folder / "fit.json").read_text(encoding="utf-8"))
    pages = text_of_pdf(path).split("\f")[:-1]
    sides = [side for side in design.sides if any(record["side"] == side.name for record in records)]
    checks.equal("rescue-sheet.pdf: sides", [told["side"] for told in fit["as_drilled"]], [side.name for side in sides])
    for side, told, page in zip(sides, fit["as_drilled"], pages, strict=True):
        bores, own, must, places = rescue_sources.rescue(checks, design, side, told)
        rows = [line for line in page.splitlines() if re.match(r"\s*\d+\s+Ø", line)]
        checks.equal(f"rescue-sheet.pdf: {side.name} rows", len(rows), len(bores))
        # Inches stand on a line of their own under each row.
        under = [line for line in page.splitlines() if re.match(r"\s+Ø [\d.]+ in", line)]
        checks.truth(f"rescue-sheet.pdf: {side.name} rows in inches", len(under) in (0, len(rows)), str(len(under)))
        # Rows and places are held one by one: their small figures would explain much of the rest by chance.
        rest = " ".join(" ".join(line for line in page.splitlines() if line not in rows + under).split())
        rest = rescue_sources.check_places(checks, f"rescue-sheet.pdf: {side.name}", rest, places)
        check_sheet(checks, "rescue-sheet.pdf", rest, own, must)
        for number, (row, bore) in enumerate(zip(rows, bores), 1):
            (along, across), (station, _) = bore["centre"], bore["station"]
            lengths = (bore["diameter"], along, along - station, across)
            wanted = [(mm, 0.005) for mm in lengths] + [(angle, 0.005) for angle in bore["lean"]]
            wanted += rescue_sources.becomes(told, own, number, inches=False)
            lines = [(row, wanted)]
            if under:
                inches = [(mm / INCH, 0.0005) for mm in lengths] + rescue_sources.becomes(told, own, number, inches=True)
                lines.append((under[number - 1], inches))
            for line, wanted in lines:
                found = [float(figure.replace("−", "-")) for figure in FIGURE.findall(line)]
                holds = len(found) == len(wanted)
                holds &= all(abs(a - b) <= half + 1e-6 for a, (b, half) in zip(found, wanted))
                checks.truth(f"rescue-sheet.pdf: {side.name} row {number}", holds, f"{found} for {wanted}")


def check_design(checks, folder, path):
    design = Design(path)
    report = json.loads((folder / "report.json").read_text(encoding="utf-8"))
    screen = json.loads((folder / "check.json").read_text(encoding="utf-8"))
    check_report(checks, design, report)
    stations, bores, tapers = sources.stations(design), sources.bores(design), sources.tapers(design)
    stops, blocks = stop_figures(report), [sources.block(block) for block in design.blocks]
    edge = {"edge radius": design.parameters["head"].get("edge_radius", 0.0)}
    s_and_y = [key for key in stations if key.endswith((" s", " y")) and "start" not in key]

    slots = sources.slots(design)
    marking = stations | bores | edge | {"check bar": 100.0} | {k: v for k, v in slots.items() if k == "ramp angle"}
    found = check_sheet(checks, "marking-sheet.pdf", text_of_pdf(folder / "bench/marking-sheet.pdf"), marking, s_and_y)
    whole = check_sheet(checks, "marking-sheet.svg", text_of_svg(folder / "bench/marking-sheet.svg"), marking, s_and_y)
    checks.truth("marking sheet: its pages show what the whole shows", set(whole) <= set(found), str(set(whole) - set(found)))

    setup = sources.readings(design) | stops | bores | tapers | blocks[0] | press_figures(report) | caution_figures(report, screen)
    must = [key for key in stops if key.startswith("stop of")] + ["treble bore 1 diameter", "block's axis"]
    must += [f"{key} {part}" for key in ("press-travel", "press-flutes") for part in ("value", "limit")
             if f"{key} value" in setup]
    must += ["wedge"] if abs(tapers["wedge"]) > 0.01 else []
    setup |= sources.deeper(design)
    on_rig = sources.daylight_on_rig(design, press_figures(report))
    setup |= on_rig
    must += list(on_rig)
    must += list(sources.deeper(design))
    check_sheet(checks, "setup-sheet.pdf", text_of_pdf(folder / "bench/setup-sheet.pdf"), setup, must)

    rig = sources.Rig(design).figures() | {"wedge": tapers["wedge"], "shim": blocks[0]["shim"]}
    must = ["rig's length", "block's foot", "upright's height", "wedge length", "wedge thick end", "block's end",
            "brace height", "bearing from", "bearing to", "block's top over the table", "supports' width", "brace 1",
            "screw 1", "foot screw 1"]
    check_sheet(checks, "rig.pdf", text_of_pdf(folder / "bench/rig.pdf"), rig, must)
    check_rescue(checks, design, folder)

    drawing = stations | bores | tapers | slots | sources.outline(design) | sources.TOLERANCES
    drawing |= edge | {"nothing": 0.0} | solid_figures(report, "head")
    for block, figure in zip(design.blocks, blocks):
        drawing |= {f"{block.name} {key}": value for key, value in figure.items()} | solid_figures(report, block.name)
        if "bush_diameter" in design.parameters["guide"]:
            drawing |= sources.seat(block)
    must = [key for key in stations if "bore" in key] + ["axis below the face", "treble bore 1 depth", "arch radius",
            "head's volume", "head's area", "rib", "slot width", "length", "thickness", "treble end y"]
    must = [key for key in must + [f"{b.name} block length" for b in design.blocks] if key in drawing]
    text = text_of_pdf(folder / "shop/drawing.pdf")
    paper = check_sheet(checks, "drawing.pdf", text, drawing, must, alone=True)
    check_bore_table(checks, text, report)
    pictures = "\n".join(text_of_svg(path) for path in sorted((folder / "shop").glob("drawing*.svg")))
    checks.equal("drawing.svg: the same figures", sorted(figures(pictures)), sorted(figures(text)))
    checks.truth("drawing.pdf: many figures read", len(paper) > 40, str(len(paper)))

    cards = stations | bores | slots | sources.outline(design) | tapers | {"quarter turn": 90.0, "nothing": 0.0}
    cards |= {"web that a pair keeps": WEB} if any(bore.ends == "web" for bore in design.bores) else {}
    must = [key for key in cards if key.endswith(" s") and "bore" in key or "slot's" in key or "arch" in key]
    check_sheet(checks, "operations.pdf", text_of_pdf(folder / "shop/operations.pdf"), cards, must)
    check_bore_list(checks, folder / "shop/bores.csv", report)


def main():
    out, status = Path(sys.argv[1]), 0
    for path in map(Path, sys.argv[2:]):
        checks = Checks(f"{path.stem}: ")
        check_design(checks, out / path.stem, path)
        status |= checks.finish()
    return status


if __name__ == "__main__":
    sys.exit(main())
