#!/usr/bin/env python3
"""Runs every deck of the demo jobs and of the random jobs, worst corners included, through a general
circuit simulator.

    remake.py LONGLEAD            writes tests/simulator/expected/*.json
    remake.py LONGLEAD --check    compares the simulator's volts with the files and with LONGLEAD's
                                  own, and fails where any differs by more than 1e-6 V
    remake.py LONGLEAD --only FOLDER
                                  compares the jobs of a folder with LONGLEAD's own alone

LONGLEAD is the program to test. The files hold the states as planned; the corners are compared
live, for there are many. The simulator is ngspice, in batch mode."""

import json
import pathlib
import re
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).parent
DEMOS = HERE.parent.parent / "templates" / "jobs"
MOST_V = 1e-6
# No source of any job comes near; beyond it the simulator has run off instead of finding a balance.
MOST_SENSIBLE_V = 1e6


def decks(program: str, job: pathlib.Path) -> list[str]:
    command = [program, "show", "circuit", str(job), "--as", "spice"]
    result = subprocess.run(command, capture_output=True, text=True)
    if result.returncode not in (0, 2):
        raise SystemExit(f"{job}: {result.stderr}")
    parts = re.split(r"(?m)^(?=\* state: )", result.stdout)
    return [part for part in parts if part.strip()]


def own(program: str, job: pathlib.Path) -> tuple[dict, dict]:
    """The program's volts: of the states as planned, and of their worst corners."""
    command = [program, "show", "circuit", str(job), "--as", "json"]
    states = json.loads(subprocess.run(command, capture_output=True, text=True).stdout)
    corners = [corner for state in states for corner in state["corners"]]

    def volts(networks: list) -> dict:
        return {
            network["name"]: {item["name"]: item["volts"] for item in network["terminals"]}
            for network in networks
        }

    return volts(states), volts(corners)


def nodes_of(name: str, deck: str) -> dict:
    with tempfile.NamedTemporaryFile("w", suffix=".cir") as file:
        file.write(deck)
        file.flush()
        run = subprocess.run(["ngspice", "-b", file.name], capture_output=True, text=True)
    if run.returncode != 0:
        raise SystemExit(f"{name}: the simulator failed\n{run.stdout}\n{run.stderr}")
    nodes = {"0": 0.0}
    for node, volts in re.findall(r"(?m)^(\S+) = (\S+)$", run.stdout):
        nodes[node.lower()] = float(volts)
    return nodes


def with_start(deck: str) -> str:
    """The deck with the search begun at the volts that the converters are set to."""
    outputs = re.findall(r"(?m)^Boutput\d+ \S+ (\S+) I = max\(0, min\(\S+, \((\S+) - ", deck)
    starts = "".join(f".nodeset v({plus})={volts}\n" for plus, volts in outputs)
    return deck.replace(".options ", starts + ".options ", 1)


def simulate(deck: str) -> tuple[str, dict]:
    name = re.search(r"(?m)^\* state: (.*)$", deck).group(1)
    terminals = re.findall(r"(?m)^\* terminal: (.*) = (\S+)$", deck)
    nodes = nodes_of(name, deck)
    if max(map(abs, nodes.values())) > MOST_SENSIBLE_V:
        nodes = nodes_of(name, with_start(deck))
    volts = {}
    for terminal, node in terminals:
        # A terminal that nothing is joined to is in no element of the deck.
        if node in nodes:
            volts[terminal] = nodes[node]
    return name, volts


def compare(job: str, what: str, simulated: dict, other: dict) -> float:
    worst = 0.0
    for state, terminals in simulated.items():
        for terminal, volts in terminals.items():
            difference = abs(volts - other[state][terminal])
            worst = max(worst, difference)
            if not difference <= MOST_V:
                raise SystemExit(
                    f"{job}, state {state}, terminal {terminal}: the simulator finds {volts} V, "
                    f"{what} {other[state][terminal]} V"
                )
    return worst


def main() -> None:
    program, check = sys.argv[1], "--check" in sys.argv
    folder = HERE / "expected"
    if "--only" in sys.argv:
        jobs = sorted(pathlib.Path(sys.argv[sys.argv.index("--only") + 1]).glob("*.toml"))
    else:
        jobs = sorted(DEMOS.glob("*.toml")) + sorted((HERE / "jobs").glob("*.toml"))
    worst, networks = 0.0, 0
    for job in jobs:
        planned, corners = own(program, job)
        simulated = dict(simulate(deck) for deck in decks(program, job))
        networks += len(simulated)
        worst = max(worst, compare(job.stem, "longlead", simulated, {**planned, **corners}))
        if "--only" in sys.argv:
            continue
        states = {state: volts for state, volts in simulated.items() if state in planned}
        path = folder / f"{job.stem}.json"
        if check:
            compare(job.stem, "the committed file", states, json.loads(path.read_text()))
        else:
            folder.mkdir(exist_ok=True)
            path.write_text(json.dumps(states, indent=1, ensure_ascii=False) + "\n")
    print(f"{len(jobs)} jobs, {networks} networks, largest difference {worst:.3g} V")


if __name__ == "__main__":
    main()
