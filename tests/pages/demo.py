"""The demo jobs and their documents, and a list of all that is at fault with them."""

import subprocess
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
JOBS = sorted((ROOT / "templates/jobs").glob("*.toml"))
SHOP = ROOT / "templates/shops/workbench.toml"
DOCUMENTS = (
    "bill shopping quote costing cuts crimps labels sizing volts faults checks route diagram layout drill "
    "install readings spares"
).split()

faults = []


def hold(truth, told):
    if not truth:
        faults.append(told)
        print("  FAULT:", told, flush=True)


def run(program, *words, accepted=(0,)):
    """What the program prints; it is at fault where it ends otherwise than accepted."""
    done = subprocess.run([program, *map(str, words)], capture_output=True)
    hold(done.returncode in accepted, f"{words}: {done.returncode}: {done.stderr.decode()[:600]}")
    return done.stdout
