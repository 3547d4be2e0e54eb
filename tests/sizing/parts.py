"""What cables cost, carry and resist, read from the catalog's own files and worked out apart from
longlead. Only the geometry of a job's route (cut lengths, clamps, surroundings) is taken from the
program, which the choice of sizes does not touch."""

import functools
import json
import math
import pathlib
import re
import subprocess
import tomllib

ROOT = pathlib.Path(__file__).resolve().parents[2]
CATALOG = ROOT / "catalog"

UNITS = {
    "m": 1.0, "mm": 1e-3, "in": 0.0254, "ft": 0.3048,
    "C": 1.0, "K": 1.0, "V": 1.0, "mV": 1e-3, "A": 1.0, "W": 1.0, "Ah": 1.0,
    "ohm": 1.0, "mohm": 1e-3, "ohm/km": 1e-3, "g/m": 1e-3, "%": 1e-2, "s": 1.0, "ms": 1e-3,
    "K m/W": 1.0, "MJ/(K m3)": 1e6,
}  # fmt: skip


def figure(text: str) -> float:
    """A quantity in base units."""
    number, unit = re.fullmatch(r"(-?[\d.]+) (.+)", text).groups()
    return float(number) * UNITS[unit]


def area(size: str) -> float:
    """Nominal square millimetres; AWG by ASTM B258."""
    number, unit = size.split()
    if unit == "mm2":
        return float(number)
    gauge = 1 - int(number[0]) if number.endswith("/0") else int(number)
    return math.pi / 4 * (0.127 * 92 ** ((36 - gauge) / 39)) ** 2


def rows(name: str, folder: str = "") -> list[dict]:
    """The rows of a kind of part, from one file or from all files of a folder."""
    files = sorted((CATALOG / folder).glob("*.toml")) if folder else [CATALOG / f"{name}.toml"]
    return [row for file in files for row in tomllib.loads(file.read_text())[name]]


def reference(file: str, name: str) -> list[dict]:
    return tomllib.loads((CATALOG / "reference" / f"{file}.toml").read_text())[name]


@functools.cache
def prices() -> dict[str, float]:
    """The cheapest price for a piece or a metre."""
    cheapest = {}
    for price_list in rows("price_list", "offers"):
        for offer in price_list["offer"]:
            pack = offer["pack"]
            many = re.fullmatch(r"(\d+) pieces?", pack)
            each = float(offer["price"]) / (float(many[1]) if many else figure(pack))
            cheapest[offer["part"]] = min(each, cheapest.get(offer["part"], math.inf))
    return cheapest


@functools.cache
def cables() -> list[dict]:
    metals = {row["material"]: row for row in reference("materials", "material")}
    insulations = {row["material"]: row for row in reference("heat", "insulation")}
    fills = {row["class"]: figure(row["fill"]) for row in reference("heat", "stranding")}
    found = []
    for row in rows("cable", "cables"):
        metal, insulation = metals[row["material"]], insulations[row["insulation"]]
        mm2 = area(row["size"])
        outer = figure(row["outer_diameter"])
        inner = 1e-3 * math.sqrt(mm2 / fills[row["conductor_class"]] / (math.pi / 4))
        found.append({
            **row,
            "mm2": mm2,
            "ohm_per_m": figure(row["max_resistance"]),
            "outer": outer,
            "inner": min(inner, outer * 0.95),
            "celsius": figure(row["rating"]),
            "bend": figure(row["min_bend_radius"]),
            "kg_per_m": figure(row["mass_per_length"]),
            "beta": figure(metal["beta"]),
            "metal_heat": figure(metal["volumetric_heat"]),
            "ampacity_factor": figure(metal["ampacity_factor"]),
            "resistivity": figure(insulation["resistivity"]),
            "insulation_heat": figure(insulation["volumetric_heat"]),
        })  # fmt: skip
    return found


def setting(name: str) -> dict:
    found = rows("setting", "settings")
    return next(row for row in found if row["setting"] == name)


def ampacity(cable: dict, table_name: str, ambient: float, together: int) -> float:
    """What a cable may carry for hours outside engine spaces, by the setting's table."""
    table = next(t for t in reference("ampacity", "ampacity_table") if t["name"] == table_name)
    ratings = [figure(rating) for rating in table["ratings"]]
    below = [index for index, rating in enumerate(ratings) if rating <= cable["celsius"]]
    if not below or ambient >= cable["celsius"]:
        return 0.0
    column = below[-1]
    listed = [(area(row["size"]), row["size"], figure(row["currents"][column])) for row in table["row"]]
    amps = next((amps for _, size, amps in listed if size == cable["size"]), None)
    if amps is None:
        smaller = [row for row in listed if row[0] < cable["mm2"]]
        larger = [row for row in listed if row[0] > cable["mm2"]]
        if smaller and larger:
            (low, _, low_amps), (high, _, high_amps) = smaller[-1], larger[0]
            part = math.log(cable["mm2"] / low) / math.log(high / low)
            amps = low_amps * (high_amps / low_amps) ** part
        elif larger:
            amps = larger[0][2] * cable["mm2"] / larger[0][0]
        else:
            amps = smaller[-1][2]
    rating = ratings[column]
    left = max(0.0, (rating - ambient) / (rating - figure(table["ambient"])))
    bundled = [figure(row["factor"]) for row in table["bundle"] if row["from"] <= together]
    return amps * min(1.0, math.sqrt(left)) * (bundled[-1] if bundled else 1.0) * cable["ampacity_factor"]


def fitting_lugs(cable: dict) -> list[dict]:
    return [
        lug
        for lug in rows_once("lug", "lugs")
        if cable["size"] in lug["sizes"]
        and cable["conductor_class"] in lug["classes"]
        and cable["material"] in lug["materials"]
    ]


@functools.cache
def rows_once(name: str, folder: str = "") -> list[dict]:
    return rows(name, folder)


def cheapest(found) -> float:
    """The least price; nothing where no part fits."""
    return min((prices().get(part["id"], 1e5) for part in found), default=0.0)


@functools.cache
def end_price(cable_id: str, stud: str | None, positive: bool) -> float:
    """The cheapest lug with its sleeve, and a boot on the positive side."""
    cable = next(cable for cable in cables() if cable["id"] == cable_id)
    outer = cable["outer"]
    lugs = []
    for lug in fitting_lugs(cable):
        if stud is not None and lug["stud"] != stud:
            continue
        wide = max(figure(lug["barrel_outer"]), outer)
        sleeves = (
            sleeve
            for sleeve in rows_once("sleeve")
            if figure(sleeve["supplied"]) > wide and figure(sleeve["recovered"]) < outer
        )
        lugs.append(cheapest([lug]) + cheapest(sleeves))
    boots = (
        boot
        for boot in rows_once("boot")
        if figure(boot["min_cable"]) <= outer <= figure(boot["max_cable"])
    )
    return min(lugs, default=0.0) + (cheapest(boots) if positive else 0.0)


@functools.cache
def clamp_price(outer: float) -> float:
    grips = (
        clamp
        for clamp in rows_once("clamp")
        if figure(clamp["min_diameter"]) <= outer <= figure(clamp["max_diameter"])
    )
    return cheapest(grips)


class Job:
    """A job file with the geometry that its route has."""

    def __init__(self, file: pathlib.Path, program: str):
        self.file = tomllib.loads(file.read_text())
        self.rules = setting(self.file["setting"])
        self.volts = figure(self.file["system_voltage"])
        self.cold, self.hot = (figure(self.file["climate"][season]) for season in ("cold", "hot"))
        shown = subprocess.run(
            [program, "show", "plan", str(file), "--as", "json"], capture_output=True, text=True
        )
        if shown.returncode not in (0, 2):
            raise SystemExit(f"{file}: {shown.stderr}")
        plan = json.loads(shown.stdout)
        self.ways = {lead["name"]: lead for lead in plan["leads"]}
        self.own_clamps = {name: 0 for name in self.ways}
        for clamp in plan["clamps"]:
            if len(clamp["leads"]) == 1:
                self.own_clamps[clamp["leads"][0]] += 1
        self.leads = self.file["lead"]
        self.studs = self._studs()

    def rule(self, name: str) -> float:
        own = self.file.get("rules", {}).get(name)
        return figure(own if own is not None else self.rules[name]["value"])

    def _studs(self) -> dict[str, str | None]:
        """Threads of the terminals; those of tapered posts and buses are not known here."""
        studs = {}
        for kind in ("battery", "alternator", "load"):
            for item in self.file.get(kind, []):
                for pole in "+-":
                    studs[f"{item['name']} {pole}"] = item.get("stud")
        studs |= {bus["name"]: None for bus in self.file.get("bus", [])}
        studs |= {point["name"]: point["stud"] for point in self.file.get("chassis", [])}
        return studs

    def cut(self, lead: dict) -> float:
        return sum(section["cut_length_m"] for section in self.ways[lead["name"]]["sections"])

    def tightest(self, lead: dict) -> float:
        path = self.ways[lead["name"]]["path"]
        steps = {frozenset(step) for step in zip(path, path[1:])}
        bends = [
            figure(leg["bend_radius"])
            for leg in self.file.get("leg", [])
            if "bend_radius" in leg and frozenset((leg["from"], leg["to"])) in steps
        ]
        return min(bends, default=math.inf)

    def candidates(self, lead: dict) -> list[dict]:
        """Every cable that the lead may be made of, with price, mass and allowed current."""
        way = self.ways[lead["name"]]
        ambient = way["ambient_c"]
        metric = self.file.get("units", "metric") == "metric"
        family, size = lead.get("cable", "auto"), lead.get("size", "auto")

        def may(cable: dict) -> bool:
            if size != "auto":
                return cable["family"] == family and cable["size"] == size
            if family != "auto":
                if cable["family"] != family:
                    return False
            else:
                if cable["family"] not in self.rules["auto_families"]:
                    return False
                if cable["size"].endswith("mm2") != metric:
                    return False
                if cable["material"] == "copper-clad aluminium":
                    return False
                threads = {lug["stud"] for lug in fitting_lugs(cable)}
                wanted = {self.studs[lead["from"]], self.studs[lead["to"]]} - {None}
                if not wanted <= threads:
                    return False
            least = area(self.rules["least_size"]["value"]) * 0.99
            return cable["bend"] <= self.tightest(lead) and cable["mm2"] >= least and cable["celsius"] > ambient

        found = []
        for cable in filter(may, cables()):
            cut = self.cut(lead)
            price = prices().get(cable["id"], 1e5) * cut
            for _ in way["sections"]:
                for end in ("from", "to"):
                    price += end_price(cable["id"], self.studs[lead[end]], way["polarity"] == "positive")
            if self.own_clamps[lead["name"]]:
                price += self.own_clamps[lead["name"]] * clamp_price(cable["outer"])
            allowed = ampacity(cable, self.rules["ampacity_table"], ambient, way["bundled_with"])
            found.append({"cable": cable, "price": price, "mass": cable["kg_per_m"] * cut, "allowed": allowed})
        return found

    def battery(self, battery: dict, charge: float, celsius: float) -> tuple[float, float]:
        """Open-circuit volts and internal ohms."""
        row = next(row for row in reference_once("batteries", "chemistry") if row["chemistry"] == battery["chemistry"])
        twelfths = figure(battery["voltage"]) / 12
        empty, full = figure(row["empty"]), figure(row["full"])
        volts = (empty + (full - empty) * min(max(charge, 0), 1)) * twelfths
        warm_part = figure(row["warm_resistance"])
        if "internal_resistance" in battery:
            cold_ohm = figure(battery["internal_resistance"]) / warm_part
        else:
            cold_ohm = figure(row["sae_loss"]) * twelfths / figure(battery["cold_crank"])
        cold, warm = figure(row["cold"]), figure(row["warm"])
        warmth = min(max((celsius - cold) / (warm - cold), 0), 1)
        return volts, cold_ohm * (1 - (1 - warm_part) * warmth)


@functools.cache
def reference_once(file: str, name: str) -> list[dict]:
    return reference(file, name)
