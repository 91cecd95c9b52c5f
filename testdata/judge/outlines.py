"""Draws outlines with ezdxf into a folder and says, as JSON, what ezdxf and
shapely take them for: area and size in mm, by flattening to 0.0001.

    /usr/bin/python3 outlines.py FOLDER
"""
import json
import math
import sys

import ezdxf
from ezdxf.math import global_bspline_interpolation
from shapely.geometry import LineString
from shapely.ops import polygonize, unary_union

UNIT = {1: 25.4, 4: 1.0, 5: 10.0, 6: 1000.0}


def outlines():
    """name, DXF version, unit, function that draws"""

    def lines(msp):
        c = [(0, 0), (60, 0), (60, 25), (0, 40)]
        for i in (2, 0, 3, 1):
            msp.add_line(c[i], c[(i + 1) % 4])

    def slot(msp):
        msp.add_line((0, 0), (50, 0))
        msp.add_arc((50, 12), 12, -90, 90)
        msp.add_line((0, 24), (50, 24))
        msp.add_arc((0, 12), 12, 90, 270)

    def circle(msp):
        msp.add_circle((10, -4), 21)

    def bulges(msp):
        msp.add_lwpolyline([(0, 0, 0.3), (70, 0, -0.2), (70, 30, 1), (0, 30, 0)], format="xyb", close=True)

    def old(msp):
        msp.add_polyline2d([(0, 0, 0.3), (70, 0, -0.2), (70, 30, 1), (0, 30, 0)], format="xyb", close=True)

    def below(msp):
        msp.add_lwpolyline([(0, 0, 0.3), (70, 0, 0), (70, 30, 1), (0, 30, 0)], format="xyb", close=True,
                           dxfattribs={"extrusion": (0, 0, -1)})

    def ellipse(msp):
        msp.add_ellipse((3, 4), major_axis=(40, 15), ratio=0.45)

    def half(msp):
        msp.add_ellipse((0, 0), major_axis=(40, 0), ratio=0.5, start_param=0, end_param=math.pi)
        msp.add_line((-40, 0), (40, 0))

    def spline(msp):
        curve = global_bspline_interpolation([(0, 0), (40, -10), (70, 0), (60, 40), (20, 30), (0, 0)], degree=3)
        msp.add_spline().apply_construction_tool(curve)

    def rational(msp):
        msp.add_rational_spline([(0, 0), (0, 30), (40, 40), (60, 0)], weights=[1, 3, 2, 1], degree=3)
        msp.add_line((0, 0), (60, 0))

    for name, draw in (("lines", lines), ("slot", slot), ("circle", circle), ("old", old)):
        yield name, "R12", 4, draw
    for name, draw in (("bulges", bulges), ("below", below), ("ellipse", ellipse), ("half", half), ("spline", spline), ("rational", rational)):
        yield name, "R2010", 4, draw
    yield "cm", "R2000", 5, lambda m: m.add_lwpolyline([(0, 0), (5, 0), (4, 3)], close=True)
    yield "inch", "R2000", 1, lambda m: m.add_lwpolyline([(0, 0), (2, 0), (2, 1), (0, 1)], close=True)


def measure(doc, unit):
    pieces = []
    for e in doc.modelspace():
        parts = e.virtual_entities() if e.dxftype() in ("LWPOLYLINE", "POLYLINE") else [e]
        for p in parts:
            if p.dxftype() == "LINE":
                points = [p.dxf.start, p.dxf.end]
            else:
                points = p.flattening(0.0001 / unit)
            pieces.append(LineString([(round(v.x * unit, 6), round(v.y * unit, 6)) for v in points]))
    shapes = list(polygonize(unary_union(pieces)))
    assert len(shapes) == 1, (len(shapes), len(pieces))
    x0, y0, x1, y1 = shapes[0].bounds
    return {"area": shapes[0].area, "length": shapes[0].length, "width": x1 - x0, "height": y1 - y0}


def main(folder):
    out = []
    for name, version, insunits, draw in outlines():
        doc = ezdxf.new(version)
        draw(doc.modelspace())
        if version != "R12":
            doc.header["$INSUNITS"] = insunits
        file = f"{folder}/{name}.dxf"
        doc.saveas(file)
        again = ezdxf.readfile(file)
        assert not again.audit().errors
        out.append({"file": file, "unit": UNIT[insunits] if version == "R12" else 0, **measure(again, UNIT[insunits])})
    json.dump(out, sys.stdout)


main(sys.argv[1])
