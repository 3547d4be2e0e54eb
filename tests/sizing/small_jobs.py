"""Small random jobs for brute_force.py: every kind of network that can mislead a choice of sizes."""

import random

CHEMISTRIES = ["flooded", "absorbed glass mat", "gel", "lithium iron phosphate"]
FAMILIES = ["fine-strand", "fine-strand", "welding", "tinned", "stiff"]
KINDS = ["branches", "twin", "two batteries", "alternator", "ring", "starter", "any family", "twin return"]


class Writer:
    def __init__(self, number: int, throw: int):
        self.dice = random.Random(number * 1000 + throw)
        self.volts = self.dice.choice([12, 12, 12, 24, 48])
        self.kind = KINDS[number % len(KINDS)]
        if self.kind == "starter":
            self.volts = 12
        self.part = self.volts / 12
        self.family = self.dice.choice(FAMILIES)
        self.loads: list[str] = []
        self.out = [
            f'title = "Small job {number}: {self.kind}"',
            f'system_voltage = "{self.volts} V"',
            'setting = "road vehicle"',
            f'climate = {{ cold = "{self.dice.randint(-30, 0)} C", hot = "{self.dice.randint(25, 45)} C" }}',
        ]
        self.table("space", name="body", temperature=f"{self.dice.randint(30, 60)} C")

    def table(self, kind: str, /, **keys) -> None:
        self.out += ["", f"[[{kind}]]"]
        for key, value in keys.items():
            if isinstance(value, list):
                written = ", ".join(f'"{item}"' for item in value)
                self.out.append(f"{key} = [{written}]")
            else:
                self.out.append(f'{key} = "{value}"')

    def places(self, many: int) -> None:
        for place in range(many):
            self.table("place", name=f"place {place}", space="body")
        for place in range(many - 1):
            keys = {"from": f"place {place}", "to": f"place {place + 1}"}
            keys["length"] = f"{round(self.dice.uniform(0.6, 5.0), 2)} m"
            if self.dice.random() < 0.2:
                keys["bend_radius"] = f"{self.dice.choice([60, 75, 90])} mm"
            self.table("leg", **keys, space="body")

    def battery(self, name: str, place: int) -> None:
        keys = {"chemistry": self.dice.choice(CHEMISTRIES), "voltage": f"{self.volts} V"}
        keys["capacity"] = f"{self.dice.randint(40, 200)} Ah"
        keys["charge"] = f"{self.dice.randint(50, 100)} %"
        if self.dice.random() < 0.5:
            keys["cold_crank"] = f"{self.dice.randint(500, 1000)} A"
        else:
            keys["internal_resistance"] = f"{round(self.dice.uniform(2, 8) * self.part, 2)} mohm"
        if self.dice.random() < 0.3:
            keys |= {"post": "stud", "stud": "M8"}
        self.table("battery", name=name, place=f"place {place}", **keys)

    def load(self, name: str, place: int, amps: tuple[float, float], case: str | None = None) -> None:
        kind = self.dice.choice(["constant current", "constant power", "resistance"])
        keys = {"place": f"place {place}", "kind": kind}
        drawn = self.dice.uniform(*amps)
        if kind == "constant current":
            keys["current"] = f"{round(drawn, 1)} A"
        elif kind == "constant power":
            keys["power"] = f"{round(drawn * self.volts)} W"
        else:
            keys["resistance"] = f"{round(self.volts / drawn, 3)} ohm"
        if self.dice.random() < 0.3:
            keys["importance"] = "critical"
        if self.dice.random() < 0.3:
            keys["least"] = f"{round(self.dice.uniform(9.5, 11.2) * self.part, 1)} V"
        if case:
            keys["case"] = case
        self.table("load", name=name, **keys, stud=self.dice.choice(["M6", "M8"]))
        self.loads.append(name)

    def bus(self, name: str, place: int, polarity: str) -> None:
        self.table("bus", name=name, place=f"place {place}", polarity=polarity)

    def body(self, *places: int, most: float = 1.5) -> None:
        for place in places:
            self.table("chassis", name=f"body {place}", place=f"place {place}", stud="M8")
        for one, other in zip(places, places[1:]):
            ohm = f"{round(self.dice.uniform(0.1, most), 3)} mohm"
            self.table("bond", **{"from": f"body {one}", "to": f"body {other}"}, resistance=ohm)

    def lead(self, start: str, end: str, size: str | None = None) -> None:
        keys = {"from": start, "to": end, "protect": "none"}
        if size:
            keys |= {"size": size, "cable": "fine-strand"}
        elif self.kind != "any family":
            keys["cable"] = self.family
        self.table("lead", name=f"{start} to {end} {len(self.out)}", **keys)

    def states(self, engine: str) -> None:
        many = self.dice.choice([1, 1, 2])
        for season in self.dice.sample(["cold", "hot"], many):
            on = self.loads if many == 1 else self.dice.sample(self.loads, max(1, len(self.loads) - 1))
            if season == "cold" or many == 1:
                on = self.loads
            keys = {"engine": engine, "season": season, "loads": list(on)}
            if self.dice.random() < 0.3:
                keys["charge"] = f"{self.dice.randint(50, 95)} %"
            self.table("state", name=f"{season} state", **keys)


def branches(job: Writer) -> None:
    """Two loads on a trunk, returns through the body."""
    job.places(3)
    job.battery("battery", 0)
    job.body(0, 1, 2)
    job.bus("bus", 1, "positive")
    job.load("near load", 1, (10, 80), "body 1")
    job.load("far load", 2, (10, 80), "body 2")
    job.lead("battery +", "bus")
    job.lead("bus", "near load +")
    job.lead("bus", "far load +")
    job.lead("battery -", "body 0")
    job.states("off")


def twin(job: Writer) -> None:
    """Two parallel leads feed one load."""
    job.places(3)
    job.battery("battery", 0)
    job.body(0, 2)
    job.bus("front bus", 0, "positive")
    job.bus("rear bus", job.dice.choice([1, 2]), "positive")
    job.load("load", 2, (40, 200), "body 2")
    job.lead("battery +", "front bus", "95 mm2")
    job.lead("front bus", "rear bus")
    job.lead("front bus", "rear bus")
    job.lead("rear bus", "load +")
    job.lead("battery -", "body 0")
    job.states("off")


def two_batteries(job: Writer) -> None:
    """Batteries at both ends share a load in the middle."""
    job.places(3)
    job.battery("front battery", 0)
    job.battery("rear battery", 2)
    job.body(0, 1, 2)
    job.load("load", 1, (30, 150), "body 1")
    job.lead("front battery +", "load +")
    job.lead("rear battery +", "load +")
    job.lead("front battery -", "body 0")
    job.lead("rear battery -", "body 2")
    job.states("off")


def alternator(job: Writer) -> None:
    """A charger that may come to its limit, a battery, loads."""
    job.places(3)
    job.battery("battery", 0)
    job.body(0, 1, 2)
    job.bus("bus", 1, "positive")
    limit, regulated = job.dice.randint(30, 120), round(job.dice.uniform(13.8, 14.4) * job.part, 1)
    job.table(
        "alternator", name="alternator", place="place 1", regulated=f"{regulated} V",
        limit=f"{limit} A", stud="M8", case="body 1",
    )  # fmt: skip
    job.load("load", 2, (20, 120), "body 2")
    job.lead("bus", "alternator +")
    job.lead("battery +", "bus")
    job.lead("bus", "load +")
    job.lead("battery -", "body 0")
    job.states("running")


def ring(job: Writer) -> None:
    """A ring of three buses with loads on two of them."""
    job.places(3)
    job.battery("battery", 0)
    job.body(0, 1, 2)
    for place in range(3):
        job.bus(f"bus {place}", place, "positive")
    job.load("near load", 1, (20, 120), "body 1")
    job.load("far load", 2, (20, 120), "body 2")
    job.lead("battery +", "bus 0", "120 mm2")
    job.lead("bus 0", "bus 1")
    job.lead("bus 1", "bus 2")
    job.lead("bus 0", "bus 2")
    job.lead("bus 1", "near load +", "70 mm2")
    job.lead("bus 2", "far load +", "70 mm2")
    job.lead("battery -", "body 0")
    job.states("off")


def starter(job: Writer) -> None:
    """A starter on the block and a computer that must not lose its voltage."""
    job.places(3)
    job.battery("battery", 0)
    job.body(0, 1, 2, most=0.25)
    job.bus("bus", 1, "positive")
    running = job.dice.randint(80, 220)
    job.table(
        "load", name="starter", place="place 2", kind="starter", current=f"{running} A",
        locked=f"{running * 2} A", stud="M10", case="body 2",
    )  # fmt: skip
    job.load("computer", 1, (5, 20), "body 1")
    job.lead("battery +", "bus")
    job.lead("bus", "starter +")
    job.lead("bus", "computer +")
    job.lead("battery -", "body 0")
    job.table("state", name="crank", engine="cranking", season="cold", loads=["computer"])
    job.states("off")


def any_family(job: Writer) -> None:
    """Few leads that may be of any family of the setting."""
    job.places(2)
    job.battery("battery", 0)
    job.bus("bus", 1, "positive")
    job.load("load", 1, (5, 150))
    job.lead("battery +", "bus")
    job.lead("bus", "load +")
    job.lead("load -", "battery -")
    job.states("off")


def twin_return(job: Writer) -> None:
    """The body and a lead share the return."""
    job.places(3)
    job.battery("battery", 0)
    job.body(0, 2)
    job.bus("return bus", 2, "negative")
    job.load("load", 2, (20, 150))
    job.lead("battery +", "load +")
    job.lead("load -", "return bus")
    job.lead("return bus", "battery -")
    job.lead("return bus", "body 2")
    job.lead("body 0", "battery -")
    job.states("off")


WRITERS = [branches, twin, two_batteries, alternator, ring, starter, any_family, twin_return]


def job(number: int, throw: int) -> str:
    writer = Writer(number, throw)
    WRITERS[number % len(WRITERS)](writer)
    return "\n".join(writer.out) + "\n"
