"""Radial jobs of 30 leads for radial.py: trees of buses from one battery, loads of constant current,
returns by trees of their own or shared with the body of nothing; cold states alone."""

import random

VOLTS = [12, 24, 12, 48]
FAMILIES = ["fine-strand", "tinned", "thin-wall", "fine-strand", "auto"]


def table(out: list[str], kind: str, /, **keys) -> None:
    out += ["", f"[[{kind}]]"]
    for key, value in keys.items():
        written = "[" + ", ".join(f'"{item}"' for item in value) + "]" if isinstance(value, list) else f'"{value}"'
        out.append(f"{key} = {written}")


def job(number: int, throw: int) -> str:
    dice = random.Random(77_000 + number * 1000 + throw)
    volts = VOLTS[number % len(VOLTS)]
    family = FAMILIES[number % len(FAMILIES)]
    buses = dice.choice([4, 5, 6])
    loads = 10 if buses == 4 else 9
    returns = 30 - 2 * loads - buses
    out = [
        f'title = "Radial job {number}"',
        f'system_voltage = "{volts} V"',
        'setting = "road vehicle"',
        'climate = { cold = "-10 C", hot = "35 C" }',
    ]
    table(out, "space", name="body", temperature=f"{dice.randint(30, 50)} C")
    parents = [None] + [dice.randrange(max(0, bus - 2), bus) for bus in range(1, max(buses, returns))]
    for place in range(len(parents) + loads):
        table(out, "place", name=f"place {place}", space="body")
    homes = [dice.randrange(buses) for _ in range(loads)]
    legs = [(parent, bus) for bus, parent in enumerate(parents) if parent is not None]
    legs += [(home, len(parents) + load) for load, home in enumerate(homes)]
    for one, other in legs:
        keys = {"from": f"place {one}", "to": f"place {other}", "length": f"{round(dice.uniform(0.5, 3.0), 2)} m"}
        table(out, "leg", **keys, space="body")
    keys = {"chemistry": "absorbed glass mat", "voltage": f"{volts} V", "capacity": "100 Ah", "charge": "80 %"}
    table(out, "battery", name="battery", place="place 0", **keys, internal_resistance=f"{3 * volts / 12} mohm")
    leads = [("battery +", "plus 0"), ("minus 0", "battery -")]
    for bus in range(buses):
        table(out, "bus", name=f"plus {bus}", place=f"place {bus}", polarity="positive")
        if bus:
            leads.append((f"plus {parents[bus]}", f"plus {bus}"))
    for bus in range(returns):
        table(out, "bus", name=f"minus {bus}", place=f"place {bus}", polarity="negative")
        if bus:
            leads.append((f"minus {bus}", f"minus {parents[bus]}"))
    names = [f"load {load}" for load in range(loads)]
    for load, home in enumerate(homes):
        keys = {"place": f"place {len(parents) + load}", "kind": "constant current"}
        keys["current"] = f"{round(dice.uniform(2, 22), 1)} A"
        if dice.random() < 0.25:
            keys["importance"] = "critical"
        if dice.random() < 0.3:
            keys["least"] = f"{round(dice.uniform(11.0, 11.6) * volts / 12, 2)} V"
        table(out, "load", name=names[load], **keys, stud="M6")
        leads.append((f"plus {home}", f"{names[load]} +"))
        # A return goes to the nearest bus on the way home that there is.
        while home >= returns:
            home = parents[home]
        leads.append((f"{names[load]} -", f"minus {home}"))
    for start, end in leads:
        keys = {"from": start, "to": end, "protect": "none"}
        if family != "auto":
            keys["cable"] = family if end.startswith("load") or start.startswith("load") else "fine-strand"
        table(out, "lead", name=f"{start} to {end}", **keys)
    many = dice.choice([1, 2, 3])
    for state in range(many):
        on = names if many == 1 else sorted(dice.sample(names, loads - 3))
        table(out, "state", name=f"state {state}", engine="off", season="cold", loads=on)
    return "\n".join(out) + "\n"
