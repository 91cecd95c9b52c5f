"""Asks ezdxf and GEOS (through shapely) about a DXF, one JSON object on stdout.

drawing.py FILE        structure, extents and areas by layer
drawing.py FILE D      also the area of the cut region grown by D
"""
import json
import math
import sys

import ezdxf
from ezdxf import bbox
from shapely.geometry import Polygon
from shapely.validation import explain_validity

STEP = math.radians(0.5)  # of an arc, to a chord


def points(line):
    """The outline of a polyline, its arcs as chords."""
    out = []
    vertices = list(line.vertices)
    closed = line.is_closed
    for i, v in enumerate(vertices):
        a = v.dxf.location
        out.append((a.x, a.y))
        bulge = v.dxf.get("bulge", 0)
        if not bulge or (not closed and i == len(vertices) - 1):
            continue
        b = vertices[(i + 1) % len(vertices)].dxf.location
        center, start, end, radius = ezdxf.math.bulge_to_arc((a.x, a.y), (b.x, b.y), bulge)
        sweep = 4 * math.atan(bulge)
        first = math.atan2(a.y - center[1], a.x - center[0])
        n = max(1, math.ceil(abs(sweep) / STEP))
        for k in range(1, n):
            t = first + sweep * k / n
            out.append((center[0] + radius * math.cos(t), center[1] + radius * math.sin(t)))
    return out


def main(path, grow):
    doc = ezdxf.readfile(path)
    audit = doc.audit()
    found = {
        "Version": doc.dxfversion,
        "Errors": len(audit.errors),
        "Fixes": len(audit.fixes),
        "Layers": sorted(layer.dxf.name for layer in doc.layers),
        "Cut": 0, "Open": 0, "Arcs": 0, "Invalid": [], "Area": 0.0, "Grown": 0.0, "Low": [0, 0], "High": [0, 0],
    }
    cut = [e for e in doc.modelspace().query("POLYLINE") if e.dxf.layer == "CUT"]
    rings = []
    for line in cut:
        found["Cut"] += 1
        found["Open"] += not line.is_closed
        found["Arcs"] += sum(1 for v in line.vertices if v.dxf.get("bulge", 0))
        ring = Polygon(points(line))
        if not ring.is_valid:
            found["Invalid"].append(explain_validity(ring))
        rings.append((ring, ring.exterior.is_ccw))
    box = bbox.extents(cut, flatten=0.001)
    found["Low"], found["High"] = list(box.extmin)[:2], list(box.extmax)[:2]
    region = Polygon()
    for ring, ccw in rings:
        if ccw:
            region = region.union(ring)
    for ring, ccw in rings:
        if not ccw:
            region = region.difference(ring)
    found["Area"] = region.area
    found["Grown"] = region.buffer(grow, resolution=64).area
    print(json.dumps(found))


main(sys.argv[1], float(sys.argv[2]) if len(sys.argv) > 2 else 0.0)
