"""Thickness of a membrane laid into a round pocket that it sticks to, as a JSON
list of {Depth, Harmonic, NeoHookean}, shares of the gauge by depth below the rim.

membrane.py HALF DRAFT MOUTH     mm, degrees, mm

HALF is where the wall meets the plane of the rim, DRAFT its lean, MOUTH the
radius of the rounded mouth: (MOUTH + d1)^2 + (MOUTH + d2)^2 = MOUTH^2, with d1 and
d2 the signed distances from rim and wall. The free sheet is the inflated
membrane of revolution of Adkins and Rivlin, Phil. Trans. A 244:505, 1952, in terms
of the meridian tension and the initial radius; scipy integrates and finds roots.
"""
import json
import math
import sys

from scipy.integrate import solve_ivp
from scipy.optimize import brentq

TIGHT = {"rtol": 1e-6, "atol": 1e-8}
START = 1e-3  # of the disc's radius: a series would begin here


def stretch_for(tension, across):
    """The meridian stretch that gives the tension a/b - 1/(a b)^3."""
    a, cube = max(tension * across, 1 / across), across**-3
    while True:
        step = (a / across - cube / a**3 - tension) / (1 / across + 3 * cube / a**4)
        a -= step
        if abs(step) < 1e-12 * a:
            return a


def free_cap(pole, slope):
    """Edge stretches of the cap that reaches the slope; mu h0 = pressure = 1."""

    def rate(x, y):
        tension, phi, r = y
        b = r / x
        a = stretch_for(tension, b)
        other = b / a - 1 / (a * b) ** 3
        return [
            (other - tension) * a * math.cos(phi) / r,
            a * (1 - other * math.sin(phi) / r) / tension,
            a * math.cos(phi),
        ]

    even = 1 - pole**-6
    x = START * 2 * even / pole
    reached = lambda x, y: y[1] - slope
    reached.terminal = True
    out = solve_ivp(rate, (x, 1e4), [even, x * pole / (2 * even), pole * x], events=reached, **TIGHT)
    x, (tension, _, r) = out.t[-1], out.y[:, -1]
    return stretch_for(tension, r / x), r / x


def edge_stretch(across, slope):
    """The meridian stretch at the edge of a cap of given slope and hoop stretch."""
    pole = brentq(lambda p: free_cap(p, slope)[1] - across, 1 + 1e-6, 6 * across, rtol=1e-7)
    return free_cap(pole, slope)[0]


class Section:
    """A pocket's section by arc length: radius, depth, slope."""

    def __init__(self, half, draft, mouth):
        self.half, self.draft, self.mouth = half, draft, mouth
        self.turns = [self.round(i / 2000) for i in range(2001)]
        self.length = [0.0]
        for (r, z), (s, y) in zip(self.turns, self.turns[1:]):
            self.length.append(self.length[-1] + math.hypot(s - r, y - z))

    def round(self, u):
        a = u * math.pi / 2
        wall, rim = self.mouth * (math.sin(a) - 1), self.mouth * (math.cos(a) - 1)
        return self.half + rim * math.tan(self.draft) - wall / math.cos(self.draft), -rim

    def at(self, s):
        if s >= self.length[-1]:
            down = (s - self.length[-1]) * math.cos(self.draft)
            r, z = self.turns[-1]
            return r - down * math.tan(self.draft), z + down, math.pi / 2 - self.draft
        i = next(i for i, l in enumerate(self.length) if l > s) - 1
        w = (s - self.length[i]) / (self.length[i + 1] - self.length[i])
        (r, z), (q, y) = self.turns[i], self.turns[i + 1]
        return r + w * (q - r), z + w * (y - z), math.atan2(y - z, r - q)


def lay(section, edge, depths):
    """Lays the sheet down the section by Heun's rule; thickness at the depths."""
    out, s, x = [], 0.0, section.at(0)[0]
    for depth in depths:
        end = section.length[-1] + (depth - section.at(section.length[-1])[1]) / math.cos(section.draft)
        n = max(8, math.ceil((end - s) / 0.4))
        h = (end - s) / n
        for _ in range(n):
            slope = -1 / edge(section.at(s), x)
            x += h / 2 * (slope - 1 / edge(section.at(s + h), x + h * slope))
            s += h
        r = section.at(s)[0]
        out.append(x / (r * edge(section.at(s), x)))
    return out


def harmonic(place, x):
    return place[0] / x


def neo_hookean(place, x):
    r, _, slope = place
    return 1.0 if slope < 0.05 else edge_stretch(r / x, slope)


def main(half, draft, mouth):
    section = Section(half, math.radians(draft), mouth)
    depths = [4.0, 8.0, 16.0]
    rows = zip(depths, lay(section, harmonic, depths), lay(section, neo_hookean, depths))
    print(json.dumps([{"Depth": d, "Harmonic": a, "NeoHookean": b} for d, a, b in rows]))


main(*map(float, sys.argv[1:4]))
