#!/usr/bin/env python3
"""Runs every deck of the demo jobs and of the random jobs, worst corners and dead shorts included,
through a general circuit simulator.

    remake.py LONGLEAD            writes tests/simulator/expected/*.json
    remake.py LONGLEAD --check    compares the simulator's volts with the files and with LONGLEAD's
                                  own, and fails where any differs by more than 1e-6 V, or the
                                  current of a short by more than a millionth of it
    remake.py LONGLEAD --only FOLDER
                                  compares the jobs of a folder with LONGLEAD's own alone

LONGLEAD is the program to test. The files hold the states as planned; corners and shorts are
compared live, for there are many. The simulator is ngspice, in batch mode."""

import concurrent.futures
import json
import pathlib
import re
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).parent
DEMOS = HERE.parent.parent / "templates" / "jobs"
MOST_V = 1e-6
MOST_PART_OF_AMPS = 1e-6
# No source of any job comes near; beyond it the simulator has run off instead of finding a balance.
MOST_SENSIBLE_V = 1e6
# Stands among the terminals of a short, and cannot be a terminal's name.
AMPERES = "\namperes"
AMMETER = "vshort#branch"


def shown(program: str, job: pathlib.Path, *how: str) -> str:
    command = [program, "show", "circuit", str(job), *how]
    result = subprocess.run(command, capture_output=True, text=True)
    if result.returncode not in (0, 2):
        raise SystemExit(f"{job}: {result.stderr}")
    return result.stdout


def decks(program: str, job: pathlib.Path) -> list[str]:
    text = shown(program, job, "--as", "spice", "--shorts")
    parts = re.split(r"(?m)^(?=\* state: )", text)
    return [part for part in parts if part.strip()]


def volts(networks: list) -> dict:
    return {
        network["name"]: {item["name"]: item["volts"] for item in network["terminals"]}
        for network in networks
    }


def own(program: str, job: pathlib.Path) -> tuple[dict, dict]:
    """The program's volts: of the states as planned, and of their worst corners and the shorts.
    Of a short its amperes too."""
    networks = json.loads(shown(program, job, "--as", "json", "--shorts"))
    states = [network for network in networks if "corners" in network]
    corners = [corner for state in states for corner in state["corners"]]
    shorts = [network for network in networks if "amps" in network]
    solved = volts(corners + shorts)
    for short in shorts:
        solved[short["name"]][AMPERES] = short["amps"]
    return volts(states), solved


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
    if max(abs(found) for node, found in nodes.items() if "#" not in node) > MOST_SENSIBLE_V:
        nodes = nodes_of(name, with_start(deck))
    volts = {}
    for terminal, node in terminals:
        # A terminal that nothing is joined to is in no element of the deck.
        if node in nodes:
            volts[terminal] = nodes[node]
    if AMMETER in nodes:
        volts[AMPERES] = nodes[AMMETER]
    return name, volts


def compare(job: str, what: str, simulated: dict, other: dict) -> tuple[float, float]:
    """The largest difference in volts, and that in amperes of a short as a part of them."""
    worst_v, worst_part = 0.0, 0.0
    for state, terminals in simulated.items():
        for terminal, found in terminals.items():
            difference = abs(found - other[state][terminal])
            if terminal == AMPERES:
                difference /= abs(found)
                worst_part, most = max(worst_part, difference), MOST_PART_OF_AMPS
            else:
                worst_v, most = max(worst_v, difference), MOST_V
            if not difference <= most:
                raise SystemExit(
                    f"{job}, {state}, {terminal.strip()}: the simulator finds {found}, "
                    f"{what} {other[state][terminal]}"
                )
    return worst_v, worst_part


def main() -> None:
    program, check = sys.argv[1], "--check" in sys.argv
    folder = HERE / "expected"
    if "--only" in sys.argv:
        jobs = sorted(pathlib.Path(sys.argv[sys.argv.index("--only") + 1]).glob("*.toml"))
    else:
        jobs = sorted(DEMOS.glob("*.toml")) + sorted((HERE / "jobs").glob("*.toml"))
    worst_v, worst_part, networks = 0.0, 0.0, 0
    # The simulator runs as processes of its own, so that threads suffice to wait for them.
    with concurrent.futures.ThreadPoolExecutor() as workers:
        for job in jobs:
            solved = workers.submit(own, program, job)
            simulated = dict(workers.map(simulate, decks(program, job)))
            planned, others = solved.result()
            networks += len(simulated)
            found = compare(job.stem, "longlead", simulated, {**planned, **others})
            worst_v, worst_part = max(worst_v, found[0]), max(worst_part, found[1])
            if "--only" in sys.argv:
                continue
            states = {state: found for state, found in simulated.items() if state in planned}
            path = folder / f"{job.stem}.json"
            if check:
                compare(job.stem, "the committed file", states, json.loads(path.read_text()))
            else:
                folder.mkdir(exist_ok=True)
                path.write_text(json.dumps(states, indent=1, ensure_ascii=False) + "\n")
    print(
        f"{len(jobs)} jobs, {networks} networks, largest difference {worst_v:.3g} V, "
        f"in the current of a short {worst_part:.3g} of it"
    )

if __name__ == "__main__":
    main()
