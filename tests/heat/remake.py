#!/usr/bin/env python3
"""Temperatures of cables, worked out apart from longlead.

    remake.py            writes tests/heat/expected.json
    remake.py --check    compares with the file, and fails where any figure differs by more than 1e-3

An independent iteration of the same standard, for no worked example of it is at hand: the surface
excess by the iteration printed in IEC 60287-2-1, the steady temperature by Brent's method, the
course of a temperature by a general integrator with tight tolerances (DOP853). Needs numpy and
scipy. All inputs stand here and go into the file; the constants are those of IEC 60287-2-1 Tables 1
and 2 and of IEC 60853-2 as remembered."""

import json
import math
import pathlib
import sys

from scipy.integrate import solve_ivp
from scipy.optimize import brentq

FILE = pathlib.Path(__file__).parent / "expected.json"
MOST = 1e-3
HOTTEST = 900.0

# Volumetric heat J/(K m3) and beta of the metals; resistivity K m/W and heat of the insulations.
METALS = {"copper": (3.45e6, 234.5), "clad aluminium": (2.595e6, 230.0)}
INSULATIONS = {"PVC": (5.0, 1.7e6), "XLPE": (3.5, 2.4e6), "rubber": (5.0, 2.0e6)}

# Name, metal, insulation, mm2, conductor mm, outer mm, ohm/km at 20 C, rating C.
CABLES = [
    ("thin-wall 0.75 mm2", "copper", "PVC", 0.75, 1.2, 1.9, 24.7, 105.0),
    ("thin-wall 2.5 mm2", "copper", "PVC", 2.5, 2.2, 3.0, 7.6, 105.0),
    ("battery 6 mm2", "copper", "PVC", 6.0, 3.4, 5.0, 3.30, 105.0),
    ("battery 25 mm2", "copper", "PVC", 25.0, 7.0, 10.0, 0.780, 105.0),
    ("battery 50 mm2", "copper", "PVC", 50.0, 9.9, 13.0, 0.386, 105.0),
    ("battery 120 mm2", "copper", "PVC", 120.0, 15.3, 20.0, 0.161, 105.0),
    ("crosslinked 16 mm2", "copper", "XLPE", 16.0, 5.6, 8.0, 1.21, 150.0),
    ("welding 70 mm2", "copper", "rubber", 70.0, 12.0, 18.0, 0.272, 85.0),
    ("clad aluminium 50 mm2", "clad aluminium", "PVC", 50.0, 9.9, 14.5, 0.5756, 80.0),
]

# Cables of a lay, Z, E, g: h = Z / D^g + E.
LAYS = [
    (1, 0.21, 3.94, 0.60),
    (2, 0.29, 2.35, 0.50),
    (3, 0.96, 1.25, 0.20),
    (3, 0.62, 1.95, 0.25),
    (1, 1.69, 0.63, 0.25),
    (3, 0.94, 0.79, 0.20),
]


class Cable:
    def __init__(self, row, together: int, ambient: float):
        _, metal, insulation, mm2, inner, outer, ohm_per_km, _ = row
        heat, self.beta = METALS[metal]
        resistivity, insulation_heat = INSULATIONS[insulation]
        inner, outer = inner * 1e-3, outer * 1e-3
        self.ambient, self.cold = ambient, ohm_per_km * 1e-3
        self.t1 = resistivity / (2 * math.pi) * math.log(outer / inner)
        wide = outer / inner
        van_wormer = 1 / (2 * math.log(wide)) - 1 / (wide**2 - 1)
        ring = math.pi / 4 * (outer**2 - inner**2)
        self.capacity = heat * mm2 * 1e-6 + van_wormer * insulation_heat * ring
        bundle = outer * {1: 1.0}.get(together, max(2.0, 1.2 * math.sqrt(together)))
        self.pi_d_h = math.inf
        for cables, z, e, g in LAYS:
            if cables == 1:
                per_cable = math.pi * bundle * (z / bundle**g + e) / together
            elif cables <= together:
                per_cable = math.pi * outer * (z / outer**g + e)
            else:
                continue
            self.pi_d_h = min(self.pi_d_h, per_cable)

    def ohm(self, celsius: float) -> float:
        return self.cold * (self.beta + celsius) / (self.beta + 20)

    def t4(self, excess: float) -> float:
        """IEC 60287-2-1, 4.2.1.1: the fourth root of the surface excess by iteration from 2."""
        k_a = self.pi_d_h * self.t1
        root = 2.0
        for _ in range(1000):
            following = (excess / (1 + k_a * root)) ** 0.25
            if abs(following - root) < 1e-14:
                break
            root = following
        return 1 / (self.pi_d_h * root)

    def lost(self, celsius: float) -> float:
        excess = celsius - self.ambient
        if abs(excess) < 1e-12:
            return 0.0
        return excess / (self.t1 + self.t4(abs(excess)))

    def steady(self, amps: float) -> float:
        """The root of heat made and lost; infinite where none lies below HOTTEST."""
        surplus = lambda celsius: amps**2 * self.ohm(celsius) - self.lost(celsius)
        if surplus(HOTTEST) >= 0:
            return math.inf
        return brentq(surplus, self.ambient, HOTTEST, xtol=1e-11, rtol=1e-14)

    def allowed(self, rating: float) -> float:
        return brentq(lambda amps: self.lost(rating) - amps**2 * self.ohm(rating), 0, 1e5)

    def solve(self, start: float, amps: float, seconds: float, events=None):
        rate = lambda _, y: [(amps**2 * self.ohm(y[0]) - self.lost(y[0])) / self.capacity]
        return solve_ivp(
            rate, (0, seconds), [start], method="DOP853", rtol=1e-10, atol=1e-9, events=events
        )

    def after(self, start: float, amps: float, seconds: float) -> float:
        return float(self.solve(start, amps, seconds).y[0, -1]) if seconds else start

    def reaches(self, start: float, amps: float, limit: float):
        if self.steady(amps) <= limit:
            return None
        crossing = lambda _, y: y[0] - limit
        crossing.terminal = True
        return float(self.solve(start, amps, 1e6, crossing).t_events[0][0])

    def cycle(self, start: float, runs) -> tuple[float, float]:
        end = peak = start
        for amps, seconds in runs:
            end = self.after(end, amps, seconds)
            peak = max(peak, end)
        return end, peak

    def peak(self, start: float, runs, times) -> float:
        end, peak = self.cycle(start, runs)
        if times is None:
            low = min(self.steady(amps) for amps, _ in runs)
            high = low
            while self.cycle(high, runs)[0] > high:
                high += 50
            gain = lambda celsius: self.cycle(celsius, runs)[0] - celsius
            settled = brentq(gain, low - 1, high + 1, xtol=1e-7)
            return max(peak, self.cycle(settled, runs)[1])
        for _ in range(1, times):
            end, other = self.cycle(end, runs)
            peak = max(peak, other)
        return peak


def places():
    """Every cable alone, and some in bundles and in other air."""
    for index, row in enumerate(CABLES):
        for together, ambient in [(1, 30.0), (2, 60.0), (3, 40.0), (8, -15.0)]:
            yield {"cable": index, "together": together, "ambient": ambient}, row, Cable(
                row, together, ambient
            )


def remade() -> dict:
    steady, allowed, pulses, limits, cycles = [], [], [], [], []
    for place, row, cable in places():
        rating = row[-1]
        most = cable.allowed(rating)
        allowed.append({**place, "rating": rating, "amps": most})
        for part in (0.0, 0.2, 0.6, 1.0, 1.2):
            amps = float(round(most * part, 1))
            steady.append({**place, "amps": amps, "celsius": cable.steady(amps)})
        warm = round(cable.steady(most * 0.5), 1)
        for factor, seconds in [(0.0, 90.0), (1.5, 60.0), (3.0, 10.0), (6.0, 2.0), (0.9, 7200.0)]:
            amps = float(round(most * factor))
            celsius = cable.after(warm, amps, seconds)
            if celsius < HOTTEST:
                pulse = {**place, "start": warm, "amps": amps, "seconds": seconds}
                pulses.append({**pulse, "celsius": celsius})
        for factor in (0.9, 1.1, 2.0, 8.0):
            amps = float(round(most * factor, 1))
            limit = {**place, "start": warm, "amps": amps, "limit": rating}
            limits.append({**limit, "seconds": cable.reaches(warm, amps, rating)})
        for factor, seconds, base, rest, times in [
            (2.0, 30.0, 0.5, 30.0, 4),
            (3.0, 10.0, 0.0, 60.0, 3),
            (1.8, 20.0, 0.4, 120.0, None),
            (1.2, 600.0, 0.2, 300.0, None),
            (3.0, 1.0, 0.3, 15.0, None),
        ]:
            runs = [[float(round(most * factor)), seconds], [float(round(most * base)), rest]]
            peak = cable.peak(warm, runs, times)
            if peak < HOTTEST:
                cycles.append({**place, "start": warm, "runs": runs, "times": times, "peak": peak})
    keys = ["name", "metal", "insulation", "mm2", "conductor_mm", "outer_mm", "ohm_per_km", "rating"]
    cables = []
    for row in CABLES:
        heat, beta = METALS[row[1]]
        resistivity, insulation_heat = INSULATIONS[row[2]]
        figures = {"beta": beta, "metal_heat": heat}
        figures |= {"insulation_resistivity": resistivity, "insulation_heat": insulation_heat}
        cables.append(dict(zip(keys, row)) | figures)
    return {
        "cables": cables,
        "steady": steady,
        "allowed": allowed,
        "pulses": pulses,
        "limits": limits,
        "cycles": cycles,
    }


def rounded(value):
    if isinstance(value, dict):
        return {key: rounded(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [rounded(inner) for inner in value]
    return round(value, 5) if isinstance(value, float) else value


def differences(one, other, path=""):
    if isinstance(one, dict) and isinstance(other, dict) and one.keys() == other.keys():
        for key in one:
            yield from differences(one[key], other[key], f"{path}.{key}")
    elif isinstance(one, list) and isinstance(other, list) and len(one) == len(other):
        for index, pair in enumerate(zip(one, other)):
            yield from differences(*pair, f"{path}[{index}]")
    elif isinstance(one, float) and isinstance(other, float):
        if not abs(one - other) <= MOST:
            yield f"{path}: {one} instead of {other}"
    elif one != other:
        yield f"{path}: {one} instead of {other}"


def lines(figures: dict) -> str:
    """One row a line, so that a change can be read."""
    blocks = []
    for name, rows in figures.items():
        written = ",\n".join("  " + json.dumps(row) for row in rows)
        blocks.append(f' "{name}": [\n{written}\n ]')
    return "{\n" + ",\n".join(blocks) + "\n}\n"


def main() -> None:
    figures = rounded(remade())
    count = sum(len(rows) for rows in figures.values())
    if "--check" in sys.argv:
        found = list(differences(figures, json.loads(FILE.read_text())))
        if found:
            raise SystemExit("\n".join(found))
    else:
        FILE.write_text(lines(figures))
    print(f"{count} rows")


if __name__ == "__main__":
    main()
