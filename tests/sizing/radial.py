#!/usr/bin/env python3
"""The cheapest sizes of 20 radial jobs of 30 leads, by a general solver of integer programs (HiGHS).

    radial.py PROGRAM                writes tests/sizing/radial/*.toml and tests/sizing/expected/radial.json
    radial.py PROGRAM --check        makes both anew and fails where anything differs
    radial.py PROGRAM --time JOB     prints the median seconds that the solver takes for one job file

Where every lead is the only way for its current and every load draws a constant one, the volts lost
on the way to a load are a sum over leads, and the worst corner is plain: all resistances and all
currents at their upper ends. One binary variable for each cable that a lead may have; ampacity
strikes options out. Nothing but the geometry of the routes comes from longlead. Needs highspy."""

import json
import pathlib
import statistics
import sys
import time

import highspy
import numpy as np

import radial_jobs
from parts import Job, figure

HERE = pathlib.Path(__file__).resolve().parent
RADIAL = HERE / "radial"
EXPECTED = HERE / "expected" / "radial.json"
JOBS = 20
# Rows are brought to this budget, so that the solver's tolerance is small beside it.
BUDGET = 100.0


class Radial:
    """A radial job as an integer program."""

    def __init__(self, file: pathlib.Path, program: str):
        self.job = job = Job(file, program)
        self.below = self._below()
        flows = [self._amps(state) for state in job.file["state"]]
        most = [max(flow[lead] for flow in flows) for lead in range(len(job.leads))]
        self.options = []
        for lead, amps in zip(job.leads, most):
            carrying = [option for option in job.candidates(lead) if option["allowed"] >= amps]
            for option in carrying:
                option["ohm"] = self._ohm(lead, option["cable"])
            self.options.append(carrying)
        self.budgets = [
            budget for state, flow in zip(job.file["state"], flows) for budget in self._budgets(state, flow)
        ]

    def _below(self) -> list[set[str]]:
        """The loads that each lead carries the current of."""
        neighbours: dict[str, list[tuple[int, str]]] = {}
        for index, lead in enumerate(self.job.leads):
            neighbours.setdefault(lead["from"], []).append((index, lead["to"]))
            neighbours.setdefault(lead["to"], []).append((index, lead["from"]))
        below: list[set[str]] = [set() for _ in self.job.leads]

        def descend(node: str, came: int | None) -> set[str]:
            found = {node[:-2]} if node.startswith("load") else set()
            for index, other in neighbours[node]:
                if index != came:
                    below[index] = descend(other, index)
                    found |= below[index]
            return found

        descend("battery +", None)
        descend("battery -", None)
        return below

    def _amps(self, state: dict) -> list[float]:
        drawn = {load["name"]: figure(load["current"]) for load in self.job.file["load"]}
        over = 1 + self.job.rule("tolerance_load")
        return [sum(drawn[load] for load in below & set(state["loads"])) * over for below in self.below]

    def _ohm(self, lead: dict, cable: dict) -> float:
        """The upper end of a cold lead's resistance, joints included."""
        job = self.job
        at = lambda celsius: cable["ohm_per_m"] * job.cut(lead) * (cable["beta"] + celsius) / (cable["beta"] + 20)
        off = job.rule("tolerance_length") + job.rule("tolerance_conductor")
        warmer = at(job.cold + job.rule("tolerance_temperature")) - at(job.cold)
        joints = 2 * len(job.ways[lead["name"]]["sections"]) * job.rule("joint_resistance")
        return at(job.cold) * (1 + off) + warmer + joints * (1 + job.rule("tolerance_joint"))

    def _budgets(self, state: dict, flow: list[float]):
        """Volts that may be lost on the way to and from each load, with the amperes of each lead."""
        job = self.job
        battery = job.file["battery"][0]
        charge = figure(battery["charge"]) - job.rule("tolerance_charge")
        weak, _ = job.battery(battery, charge, job.cold)
        _, stiff = job.battery(battery, charge, job.cold - job.rule("tolerance_temperature"))
        trunk = next(index for index, lead in enumerate(job.leads) if lead["from"] == "battery +")
        left = weak - stiff * (1 + job.rule("tolerance_battery")) * flow[trunk]
        for load in job.file["load"]:
            if load["name"] not in state["loads"]:
                continue
            way = [amps if load["name"] in below else 0.0 for amps, below in zip(flow, self.below)]
            rule = "drop_critical" if load.get("importance") == "critical" else "drop_ordinary"
            yield job.rule(rule) * job.volts, way
            if "least" in load:
                yield left - figure(load["least"]), way

    def feasible(self) -> bool:
        """Whether the thickest cables keep every budget, which the program's choice presumes."""
        if not all(self.options):
            return False
        least = [min(option["ohm"] for option in options) for options in self.options]
        return all(sum(a * ohm for a, ohm in zip(way, least)) <= most for most, way in self.budgets)

    def program(self) -> highspy.HighsLp:
        flat = [(lead, option) for lead, options in enumerate(self.options) for option in options]
        index, value, start, lower, upper = [], [], [0], [], []
        for lead in range(len(self.options)):
            row = [column for column, (other, _) in enumerate(flat) if other == lead]
            index += row
            value += [1.0] * len(row)
            start.append(len(index))
            lower.append(1.0)
            upper.append(1.0)
        for most, way in self.budgets:
            for column, (lead, option) in enumerate(flat):
                if way[lead]:
                    index.append(column)
                    value.append(way[lead] * option["ohm"] * BUDGET / most)
            start.append(len(index))
            lower.append(-highspy.kHighsInf)
            upper.append(BUDGET)
        lp = highspy.HighsLp()
        lp.num_col_, lp.num_row_ = len(flat), len(lower)
        lp.col_cost_ = np.array([option["price"] for _, option in flat])
        lp.col_lower_, lp.col_upper_ = np.zeros(len(flat)), np.ones(len(flat))
        lp.row_lower_, lp.row_upper_ = np.array(lower), np.array(upper)
        lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
        lp.a_matrix_.start_ = np.array(start)
        lp.a_matrix_.index_ = np.array(index)
        lp.a_matrix_.value_ = np.array(value)
        lp.integrality_ = [highspy.HighsVarType.kInteger] * len(flat)
        return lp

    def solve(self) -> tuple[list[dict], float]:
        """The cable of every lead, and the seconds that the solver took."""
        solver = highspy.Highs()
        for name, setting in [
            ("output_flag", False), ("threads", 1), ("mip_rel_gap", 0.0), ("mip_abs_gap", 1e-7),
            ("mip_feasibility_tolerance", 1e-9), ("primal_feasibility_tolerance", 1e-9),
        ]:  # fmt: skip
            solver.setOptionValue(name, setting)
        solver.passModel(self.program())
        began = time.perf_counter()
        solver.run()
        took = time.perf_counter() - began
        if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            raise SystemExit(f"the solver ended with {solver.getModelStatus()}")
        taken = iter(solver.getSolution().col_value)
        chosen = []
        for options in self.options:
            part = [next(taken) for _ in options]
            chosen.append(options[int(np.argmax(part))])
        for most, way in self.budgets:
            assert sum(a * option["ohm"] for a, option in zip(way, chosen)) <= most * (1 + 1e-9)
        return chosen, took


def solved(number: int, program: str, known: int | None) -> tuple[str, dict, float]:
    for throw in range(1000) if known is None else [known]:
        text = radial_jobs.job(number, throw)
        file = RADIAL / f".{number}.toml"
        file.write_text(text)
        try:
            radial = Radial(file, program)
        finally:
            file.unlink()
        if known is None and not radial.feasible():
            continue
        chosen, took = radial.solve()
        cables = {lead["name"]: option["cable"]["id"] for lead, option in zip(radial.job.leads, chosen)}
        price = round(sum(option["price"] for option in chosen), 9)
        return text, {"throw": throw, "price": price, "cables": cables}, took
    raise SystemExit(f"no job for number {number}")


def main() -> None:
    program, check = sys.argv[1], "--check" in sys.argv
    if "--time" in sys.argv:
        radial = Radial(pathlib.Path(sys.argv[sys.argv.index("--time") + 1]), program)
        print(f"{statistics.median(radial.solve()[1] for _ in range(5)):.6f}")
        return
    committed = json.loads(EXPECTED.read_text()) if check else {}
    made, wrong = {}, []
    for number in range(JOBS):
        name = f"radial-{number:02}"
        file = RADIAL / f"{name}.toml"
        text, made[name], took = solved(number, program, committed[name]["throw"] if check else None)
        if not check:
            file.write_text(text)
        elif file.read_text() != text:
            wrong.append(str(file))
        elif abs(made[name]["price"] - committed[name]["price"]) > 1e-6:
            wrong.append(f"{name}: {made[name]} instead of {committed[name]}")
        print(f"{name}: {made[name]['price']:.2f}, {took:.3f} s")
    if wrong:
        raise SystemExit("\n".join(wrong))
    if not check:
        rows = ",\n".join(f" {json.dumps(name)}: {json.dumps(row)}" for name, row in made.items())
        EXPECTED.write_text(f"{{\n{rows}\n}}\n")


if __name__ == "__main__":
    main()
