"""Compares every bore and hole of report.json with the contract's own numbers.

    python check_layout.py PARAMS.toml report.json
"""

import json
import sys
from pathlib import Path

from contract_design import Design
from reporting import Checks

SAME = 1e-9     # mm, and without a unit for directions
VERDICTS = {"clear", "caution", "stop"}


def worst(got, wanted):
    if len(got) != len(wanted):
        return float("inf")
    return max(abs(a - b) for a, b in zip(got, wanted))


def check_bores(checks, told, design):
    checks.equal("bores in order", [(b["side"], b["number"]) for b in told], [(b.side, b.number) for b in design.bores])
    for got, b in zip(told, design.bores):
        name = f"{b.side} bore {b.number} "
        checks.below(name + "entry", worst(got["entry"], b.entry), SAME, "mm")
        checks.below(name + "direction", worst(got["direction"], b.direction), SAME)
        for key, wanted in (("diameter", b.diameter), ("depth", b.depth), ("point_height", b.point_height),
                            ("length_in_model", b.length_in_model)):
            checks.below(name + key, abs(got[key] - wanted), SAME, "mm")
        checks.equal(name + "ends", got["ends"], b.ends)


def check_blocks(checks, told, design):
    for block in design.blocks:
        if block.name not in told:
            continue
        holes = told[block.name]["holes"]
        checks.equal(f"{block.name} holes", [h["number"] for h in holes], list(range(1, len(block.holes) + 1)))
        for h, x in zip(holes, block.holes):
            figure = max(abs(h["x"] - x), abs(h["z"] - block.axis_height), abs(h["diameter"] - block.diameter))
            checks.below(f"{block.name} hole {h['number']}", figure, SAME, "mm")
        box = told[block.name]["bounding_box"]
        figure = max(worst(box["min"], (0, 0, 0)), worst(box["max"], (block.length, block.depth, block.height)))
        checks.below(f"{block.name} box", figure, SAME, "mm")


def check(params_path, report_path, checks):
    design = Design(params_path)
    report = json.loads(Path(report_path).read_text(encoding="utf-8"))
    checks.equal("title", report.get("title"), design.title)
    checks.equal("units", report.get("units"), "mm")
    checks.equal("solids", sorted(report["solids"]), sorted(design.parts()))
    check_bores(checks, report["bores"], design)
    check_blocks(checks, report["solids"], design)
    checks.truth("verdict is one of the three", report.get("verdict") in VERDICTS, repr(report.get("verdict")))
    codes = [c["code"] for c in report["checks"]]
    checks.equal("one entry per check", len(codes), len(set(codes)))
    wrong = [c["code"] for c in report["checks"] if c["verdict"] not in VERDICTS or
             (c["margin"] is not None and (c["margin"] >= -SAME) != (c["verdict"] == "clear"))]
    checks.truth("margins and verdicts agree", not wrong, ", ".join(wrong) or f"{len(codes)} checks")
    ranks = ["clear", "caution", "stop"]
    if codes:
        checks.equal("verdict is the worst of all", report["verdict"],
                     max((c["verdict"] for c in report["checks"]), key=ranks.index))


def main():
    params_path, report_path = sys.argv[1:3]
    checks = Checks("report.json ")
    check(params_path, report_path, checks)
    return checks.finish()


if __name__ == "__main__":
    sys.exit(main())
