#!/usr/bin/env python3
"""Writes random jobs: rings, parallel leads, two batteries, body return with bonds, alternators at
their limit, loads of every kind, and converters in the fiftieth to the fifty-ninth.

    random_jobs.py                 writes 60 into tests/simulator/jobs
    random_jobs.py FOLDER COUNT    writes so many into a folder

Each job has a seed of its own, so the same files come out every time."""

import pathlib
import random
import sys

FOLDER = pathlib.Path(__file__).parent / "jobs"
CHEMISTRIES = ["flooded", "absorbed glass mat", "gel", "lithium iron phosphate"]


def converter(dice, number: int, volts: int, places: int) -> tuple[list, list]:
    """One converter with what hangs on it: a load or two, or a battery to be charged and a load.
    What goes on at its output has buses of its own."""
    out, leads = [], []
    place = dice.randrange(places)
    name = f"converter {number}"
    isolated, charger = dice.random() < 0.4, dice.random() < 0.4
    fed = volts if charger else dice.choice([12, 24])
    given = round(fed * 1.2, 1) if charger else fed
    limit = dice.randint(20, 60)
    out += ["", "[[converter]]", f'name = "{name}"', f'place = "place {place}"']
    out += [f'kind = "{"charger" if charger else "supply"}"', f'output = "{given} V"']
    out += [f'limit = "{limit} A"', f'efficiency = "{dice.randint(80, 96)} %"', 'stud = "M8"']
    if isolated:
        out += ["isolated = true"]
    far = dice.randrange(places)
    for pole, sign in [("positive", "plus"), ("negative", "minus")]:
        out += ["", "[[bus]]", f'name = "{name} {sign}"']
        out += [f'place = "place {far}"', f'polarity = "{pole}"']
    back = f"{name} out -" if isolated else f"{name} -"
    leads.append((f"{name} feed", f"plus {place}", f"{name} in +"))
    if isolated:
        leads.append((f"{name} feed return", f"{name} in -", f"minus {place}"))
    else:
        leads.append((f"{name} return", f"{name} -", f"minus {place}"))
    leads.append((f"{name} output", f"{name} plus", f"{name} out +"))
    leads.append((f"{name} output return", f"{name} minus", back))
    if charger:
        out += ["", "[[battery]]", f'name = "{name} battery"', f'place = "place {far}"']
        out += [f'chemistry = "{dice.choice(CHEMISTRIES)}"', f'voltage = "{volts} V"']
        out += [f'capacity = "{dice.randint(80, 300)} Ah"', f'charge = "{dice.randint(30, 95)} %"']
        out += [f'internal_resistance = "{round(dice.uniform(3, 10) * volts / 12, 2)} mohm"']
        leads.append((f"{name} battery plus", f"{name} battery +", f"{name} plus"))
        leads.append((f"{name} battery minus", f"{name} battery -", f"{name} minus"))
    for item in range(dice.randint(1, 2)):
        load = f"{name} load {item}"
        kind = dice.choice(["constant current", "constant power", "resistance"])
        amps = dice.uniform(0.1, 0.45) * limit
        out += ["", "[[load]]", f'name = "{load}"', f'place = "place {far}"', f'kind = "{kind}"']
        if kind == "constant current":
            out += [f'current = "{round(amps, 1)} A"']
        elif kind == "constant power":
            out += [f'power = "{round(amps * fed)} W"']
        else:
            out += [f'resistance = "{round(fed / amps, 3)} ohm"']
        out += ['stud = "M6"']
        leads.append((f"{load} plus lead", f"{name} plus", f"{load} +"))
        leads.append((f"{load} minus lead", f"{load} -", f"{name} minus"))
    return out, leads


def job(seed: int, converters: int = 0) -> str:
    dice = random.Random(seed)
    volts = dice.choice([12, 12, 24, 48])
    part = volts / 12
    places = dice.randint(3, 6)
    out = [
        f'title = "Random network {seed}"',
        f'system_voltage = "{volts} V"',
        'setting = "road vehicle"',
        'climate = { cold = "-20 C", hot = "40 C" }',
        "",
        "[[space]]",
        'name = "body"',
        f'temperature = "{dice.randint(30, 60)} C"',
    ]
    for place in range(places):
        out += ["", "[[place]]", f'name = "place {place}"', 'space = "body"']
    legs = [(a, a + 1) for a in range(places - 1)]
    if places > 3 and dice.random() < 0.6:
        legs.append((0, places - 1))
    for a, b in legs:
        length = round(dice.uniform(0.3, 3.0), 2)
        out += ["", "[[leg]]", f'from = "place {a}"', f'to = "place {b}"']
        out += [f'length = "{length} m"', 'space = "body"']

    chassis = dice.random() < 0.5
    if chassis:
        for place in range(places):
            out += ["", "[[chassis]]", f'name = "body {place}"']
            out += [f'place = "place {place}"', 'stud = "M8"']
        for place in range(places - 1):
            ohm = round(dice.uniform(0.1, 2.0), 3)
            out += ["", "[[bond]]", f'from = "body {place}"', f'to = "body {place + 1}"']
            out += [f'resistance = "{ohm} mohm"']

    # A bus of each pole at every place; they are joined to a chain or a ring.
    leads = []
    for place in range(places):
        for pole, sign in [("positive", "plus"), ("negative", "minus")]:
            out += ["", "[[bus]]", f'name = "{sign} {place}"']
            out += [f'place = "place {place}"', f'polarity = "{pole}"']
    for a, b in legs:
        for sign in ["plus", "minus"]:
            copies = 2 if dice.random() < 0.2 else 1
            for copy in range(copies):
                leads.append((f"{sign} {a} to {b} no {copy}", f"{sign} {a}", f"{sign} {b}"))
    if chassis:
        for place in {0, dice.randrange(places)}:
            leads.append((f"earth {place}", f"minus {place}", f"body {place}"))

    for number in range(dice.randint(1, 2)):
        place = dice.randrange(places)
        name = f"battery {number}"
        out += ["", "[[battery]]", f'name = "{name}"', f'place = "place {place}"']
        out += [f'chemistry = "{dice.choice(CHEMISTRIES)}"', f'voltage = "{volts} V"']
        out += [f'capacity = "{dice.randint(40, 200)} Ah"', f'charge = "{dice.randint(50, 100)} %"']
        if dice.random() < 0.5:
            out += [f'cold_crank = "{dice.randint(400, 900)} A"']
        else:
            out += [f'internal_resistance = "{round(dice.uniform(2, 12) * part, 2)} mohm"']
        leads.append((f"{name} plus lead", f"{name} +", f"plus {place}"))
        leads.append((f"{name} minus lead", f"{name} -", f"minus {place}"))

    if dice.random() < 0.7:
        place = dice.randrange(places)
        out += ["", "[[alternator]]", 'name = "alternator"', f'place = "place {place}"']
        out += [f'regulated = "{round(14.2 * part, 1)} V"', f'limit = "{dice.randint(20, 150)} A"']
        out += ['stud = "M8"']
        leads.append(("alternator plus lead", f"plus {place}", "alternator +"))
        leads.append(("alternator minus lead", "alternator -", f"minus {place}"))

    for number in range(dice.randint(2, 6)):
        place = dice.randrange(places)
        name = f"load {number}"
        kind = dice.choice(["constant current", "constant power", "resistance"])
        out += ["", "[[load]]", f'name = "{name}"', f'place = "place {place}"', f'kind = "{kind}"']
        amps = dice.uniform(2, 60)
        if kind == "constant current":
            out += [f'current = "{round(amps, 1)} A"']
        elif kind == "constant power":
            out += [f'power = "{round(amps * volts)} W"']
        else:
            out += [f'resistance = "{round(volts / amps, 3)} ohm"']
        if dice.random() < 0.3:
            out += ['duty = "intermittent"', f'longest = "{dice.randint(5, 120)} s"']
        out += ['stud = "M8"']
        leads.append((f"{name} plus lead", f"plus {place}", f"{name} +"))
        leads.append((f"{name} minus lead", f"{name} -", f"minus {place}"))

    if dice.random() < 0.5:
        place = dice.randrange(places)
        # A supply that collapses may rest at more than one point once a converter is in it, so
        # jobs with converters get small starters.
        running = dice.randint(20, 50) if converters else dice.randint(80, 250)
        out += ["", "[[load]]", 'name = "starter"', f'place = "place {place}"', 'kind = "starter"']
        out += [f'current = "{running} A"', f'locked = "{running * 2} A"', 'stud = "M10"']
        leads.append(("starter plus lead", f"plus {place}", "starter +"))
        leads.append(("starter minus lead", "starter -", f"minus {place}"))

    for number in range(converters):
        more, ends = converter(dice, number, volts, places)
        out += more
        leads += ends

    for name, start, end in leads:
        out += ["", "[[lead]]", f'name = "{name}"', f'from = "{start}"', f'to = "{end}"']
        if dice.random() < 0.2:
            out += [f'size = "{dice.choice([6, 10, 16, 25, 35, 50, 70])} mm2"']
    return "\n".join(out) + "\n"


def main() -> None:
    folder = pathlib.Path(sys.argv[1]) if len(sys.argv) > 1 else FOLDER
    count = int(sys.argv[2]) if len(sys.argv) > 2 else 60
    folder.mkdir(exist_ok=True)
    for seed in range(count):
        converters = 1 + seed % 3 if 50 <= seed < 60 else 0
        text = job(seed, converters) if converters else job(seed)
        (folder / f"random-{seed:02}.toml").write_text(text)


if __name__ == "__main__":
    main()
