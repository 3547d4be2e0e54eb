#!/usr/bin/env python3
"""The cheapest way to buy 300 random orders, by a general solver of integer programs (HiGHS).

    orders.py                      writes orders.txt and expected.txt beside this file
    orders.py --check [COUNT]      makes COUNT orders (10) anew, spread over all, and fails where anything differs
    orders.py --time NAME          prints the median seconds that the solver takes for one order

The model knows nothing of how longlead searches. Packs are whole numbers, with a binary for each price
break; pieces are cut from rolls and offcuts by maximal patterns, every one listed; what is cut at the
counter is one length for each offer; each supplier has a binary for being used and one for reaching its
free limit. Totals are added up again in whole numbers. Needs highspy and numpy.

The text of an order, all lengths in millimetres and all prices in cents:

    order NAME tax PER-MILLE allowance LENGTH
    supplier CHARGE FREE-FROM SMALLEST inside|outside     (a dash where there is none)
    pieces NEED stock COUNT: OFFER; OFFER ...             (an offer: SUPPLIER pack SIZE PRICE [from N PRICE ...])
    cuts LENGTHS offcuts LENGTHS: OFFER; OFFER ...        (roll LENGTH PRICE, or step LENGTH SMALLEST PRICE)

An exclamation mark after the supplier says that the offer is not in stock."""

import itertools
import pathlib
import random
import statistics
import sys
import time
from dataclasses import dataclass, field
from fractions import Fraction

import highspy
import numpy as np

HERE = pathlib.Path(__file__).resolve().parent
ORDERS, EXPECTED = HERE / "orders.txt", HERE / "expected.txt"
COUNT = 300
# Orders by number of parts and of pieces to cut at most.
SIZES = [(150, 8, 10), (100, 40, 24), (50, 120, 40)]


@dataclass
class Offer:
    supplier: int
    kind: str  # "pack", "roll" or "step"
    size: int
    price: int
    smallest: int = 0
    breaks: list = field(default_factory=list)
    in_stock: bool = True

    def unit_price(self, packs: int) -> int:
        prices = [price for least, price in [(0, self.price), *self.breaks] if packs >= least]
        return prices[-1]

    def text(self) -> str:
        by = f"{self.supplier}{'' if self.in_stock else '!'}"
        if self.kind == "pack":
            breaks = "".join(f" from {least} {price}" for least, price in self.breaks)
            return f"{by} pack {self.size} {self.price}{breaks}"
        if self.kind == "roll":
            return f"{by} roll {self.size} {self.price}"
        return f"{by} step {self.size} {self.smallest} {self.price}"


@dataclass
class Part:
    offers: list
    need: int = 0
    stock: int = 0
    cuts: list = field(default_factory=list)
    offcuts: list = field(default_factory=list)

    def text(self) -> str:
        offers = "; ".join(offer.text() for offer in self.offers)
        if self.cuts:
            lengths = " ".join(map(str, self.cuts))
            return f"cuts {lengths} offcuts {' '.join(map(str, self.offcuts))}: {offers}"
        return f"pieces {self.need} stock {self.stock}: {offers}"


@dataclass
class Supplier:
    charge: int
    free_from: int | None
    smallest: int
    inside: bool

    def text(self) -> str:
        free = "-" if self.free_from is None else self.free_from
        return f"supplier {self.charge} {free} {self.smallest or '-'} {'inside' if self.inside else 'outside'}"


@dataclass
class Order:
    name: str
    tax: int
    allowance: int
    suppliers: list
    parts: list

    def text(self) -> str:
        lines = [f"order {self.name} tax {self.tax} allowance {self.allowance}"]
        lines += [supplier.text() for supplier in self.suppliers]
        return "\n".join(lines + [part.text() for part in self.parts])


# Making orders.


def price_at(rng, each: float, count: float, bulk: float) -> int:
    """A price in cents for so many at so much each, large packs cheaper, ending as shop prices do."""
    cents = each * count * (1 - bulk) * rng.uniform(0.85, 1.2) * 100
    step = 5 if cents > 300 else 1
    return max(1, round(cents / step) * step)


def counted(rng, suppliers: int) -> Part:
    each = rng.choice([0.12, 0.3, 0.45, 1.3, 3.8, 9.5, 24.0]) * rng.uniform(0.7, 1.4)
    need = 1 + int(rng.expovariate(1 / rng.choice([2, 8, 25])))
    stock = rng.choice([0, 0, 0, rng.randint(1, need)])
    offers = []
    for supplier in sample(rng, suppliers):
        packs = [1, 2, 5, 10, 20, 25, 50, 100] if each < 2 else [1, 1, 2, 4, 5, 10]
        for size in sorted(rng.sample(sorted(set(packs)), rng.choice([1, 1, 2]))):
            price = price_at(rng, each, size, 0.12 * min(size, 20) / 20)
            offer = Offer(supplier, "pack", size, price, in_stock=rng.random() > 0.1)
            least = 1
            for _ in range(rng.choice([0, 0, 0, 1, 2])):
                least += rng.randint(1, max(2, need // size))
                price = max(1, int(price * rng.uniform(0.82, 0.97)))
                offer.breaks.append((least, price))
            offers.append(offer)
    return Part(offers, need=need, stock=stock)


def lengths(rng, suppliers: int, pieces: int) -> Part:
    each = rng.choice([0.8, 2.2, 4.5, 9.0, 16.0]) * rng.uniform(0.8, 1.3)
    longest = rng.choice([800, 2500, 6500])
    cuts = [10 * rng.randint(15, longest // 10) for _ in range(pieces)]
    if rng.random() < 0.3:
        cuts = [rng.choice(cuts[: max(1, pieces // 3)]) for _ in cuts]
    offcuts = [10 * rng.randint(30, 300) for _ in range(rng.choice([0, 0, 1, 2]))]
    offers = []
    for supplier in sample(rng, suppliers):
        for way in rng.sample(["roll", "roll", "step"], rng.choice([1, 2])):
            stocked = rng.random() > 0.1
            if way == "roll":
                metres = rng.choice([5, 10, 15, 25, 50])
                price = price_at(rng, each, metres, 0.004 * metres)
                offers.append(Offer(supplier, "roll", metres * 1000, price, in_stock=stocked))
            else:
                step = rng.choice([100, 250, 500, 1000])
                smallest = step * rng.choice([1, 1, 1000 // step, 2000 // step])
                price = price_at(rng, each, step / 1000, -0.05)
                offers.append(Offer(supplier, "step", step, price, smallest, in_stock=stocked))
    if not any(offer.kind == "step" or offer.size >= longest + 10 for offer in offers):
        offers.append(Offer(offers[0].supplier, "roll", 10000, price_at(rng, each, 10, 0.04)))
    return Part(offers, cuts=sorted(cuts, reverse=True), offcuts=offcuts)


def sample(rng, suppliers: int) -> list:
    chosen = [supplier for supplier in range(suppliers) if rng.random() < 0.6]
    return chosen or [rng.randrange(suppliers)]


def order(number: int) -> Order:
    rng = random.Random(f"order {number}")
    edge, (_, most_parts, most_pieces) = 0, SIZES[-1]
    for count, parts, pieces in SIZES:
        edge += count
        if number < edge:
            most_parts, most_pieces = parts, pieces
            break
    suppliers = rng.randint(2, 4)
    total_parts = rng.randint(max(2, most_parts // 3), most_parts)
    pieces = rng.randint(most_pieces // 3, most_pieces)
    parts = []
    while pieces > 0:
        here = min(pieces, rng.randint(1, 9))
        parts.append(lengths(rng, suppliers, here))
        pieces -= here
    while len(parts) < total_parts:
        parts.append(counted(rng, suppliers))
    made = Order(f"{number:03}", rng.choice([0, 81, 190, 200, 255]), rng.choice([0, 2, 3, 5]), [], parts)
    # What one supplier of several would sell, so that limits are within reach.
    typical = sum(min(rough(part, offer) for offer in part.offers) for part in parts) / suppliers
    inside = rng.random() < 0.3
    for _ in range(suppliers):
        charge = 5 * rng.randint(60, 400)
        free = int(typical * rng.uniform(0.5, 1.8)) // 100 * 100 if rng.random() < 0.75 else None
        smallest = int(typical * rng.uniform(0.1, 0.6)) // 100 * 100 if rng.random() < 0.3 else 0
        made.suppliers.append(Supplier(charge, free or None, smallest, inside and rng.random() < 0.5))
    return made


def rough(part: Part, offer: Offer) -> float:
    need = sum(part.cuts) if part.cuts else part.need
    return offer.price * max(1, need / offer.size)


# Solving them.


class Model:
    """Rows and columns of an integer program."""

    def __init__(self):
        self.cost, self.upper, self.rows = [], [], []

    def column(self, cost: float = 0.0, upper: float = highspy.kHighsInf) -> int:
        self.cost.append(float(cost))
        self.upper.append(float(upper))
        return len(self.cost) - 1

    def at_least(self, terms: dict, least: float):
        self.rows.append((terms, float(least)))

    def solve(self):
        lp = highspy.HighsLp()
        lp.num_col_, lp.num_row_ = len(self.cost), len(self.rows)
        lp.col_cost_, lp.col_lower_ = np.array(self.cost), np.zeros(len(self.cost))
        lp.col_upper_ = np.array(self.upper)
        lp.row_lower_ = np.array([least for _, least in self.rows])
        lp.row_upper_ = np.full(len(self.rows), highspy.kHighsInf)
        starts = np.cumsum([0] + [len(terms) for terms, _ in self.rows])
        lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
        lp.a_matrix_.start_ = starts
        lp.a_matrix_.index_ = np.array([column for terms, _ in self.rows for column in terms], dtype=np.int32)
        lp.a_matrix_.value_ = np.array([float(value) for terms, _ in self.rows for value in terms.values()])
        lp.integrality_ = [highspy.HighsVarType.kInteger] * len(self.cost)
        solver = highspy.Highs()
        for name, setting in [
            ("output_flag", False), ("threads", 1), ("mip_rel_gap", 0.0), ("mip_abs_gap", 1e-4), ("time_limit", 900.0),
            ("mip_feasibility_tolerance", 1e-9), ("primal_feasibility_tolerance", 1e-9),
        ]:  # fmt: skip
            solver.setOptionValue(name, setting)
        solver.passModel(lp)
        began = time.perf_counter()
        solver.run()
        self.took = time.perf_counter() - began
        if solver.getModelStatus() == highspy.HighsModelStatus.kInfeasible:
            return None
        if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            raise SystemExit(f"the solver ended with {solver.getModelStatus()}")
        return [round(value) for value in solver.getSolution().col_value]


class Program:
    """An order as an integer program."""

    def __init__(self, order: Order, stocked: bool = False, most_suppliers: int | None = None):
        self.order, self.model = order, Model()
        model = self.model
        tax = Fraction(order.tax, 1000)
        self.weight = [Fraction(1) if supplier.inside else 1 + tax for supplier in order.suppliers]
        self.goals = max([0] + [(s.free_from or 0) for s in order.suppliers] + [s.smallest for s in order.suppliers])
        self.used = [model.column(upper=1) for _ in order.suppliers]
        self.paid = [model.column(float(s.charge * (1 + tax)), 1) for s in order.suppliers]
        self.spent = [{} for _ in order.suppliers]
        self.columns = []  # of each offer: (part, offer, column of a number of packs, unit price)
        for part in order.parts:
            offers = [offer for offer in part.offers if offer.in_stock or not stocked]
            if part.cuts:
                self._cuts(part, offers)
            elif part.need > part.stock:
                self._pieces(part, offers)
        for index, supplier in enumerate(order.suppliers):
            # Used and not free: paid. Free needs the goods; being used needs the smallest order.
            if supplier.free_from is None:
                model.at_least({self.paid[index]: 1, self.used[index]: -1}, 0)
            else:
                free = model.column(upper=1)
                model.at_least({self.paid[index]: 1, free: 1, self.used[index]: -1}, 0)
                model.at_least({**self.spent[index], free: -supplier.free_from}, 0)
            if supplier.smallest:
                model.at_least({**self.spent[index], self.used[index]: -supplier.smallest}, 0)
        if most_suppliers is not None:
            model.at_least({column: -1 for column in self.used}, -most_suppliers)

    def _buy(self, part: Part, offer: Offer, need: int, price: int) -> int:
        """A column for packs of an offer at a price, which makes its supplier used."""
        most = need + self.goals // price + 1
        column = self.model.column(float(price * self.weight[offer.supplier]), most)
        self.model.at_least({self.used[offer.supplier]: most, column: -1}, 0)
        self.spent[offer.supplier][column] = price
        self.columns.append((part, offer, column, price))
        return column

    def _pieces(self, part: Part, offers: list):
        covered = {}
        for offer in offers:
            need = -(-(part.need - part.stock) // offer.size)
            levels = []
            for position, (least, price) in enumerate([(0, offer.price), *offer.breaks]):
                column = self._buy(part, offer, max(need, least), price)
                covered[column] = offer.size
                if offer.breaks:
                    level = self.model.column(upper=1)
                    levels.append(level)
                    most = self.model.upper[column]
                    if position < len(offer.breaks):
                        most = min(most, offer.breaks[position][0] - 1)
                    self.model.at_least({column: 1, level: -least}, 0)
                    self.model.at_least({level: most, column: -1}, 0)
            if levels:
                self.model.at_least({level: -1 for level in levels}, -1)
        self.model.at_least(covered, part.need - part.stock)

    def _cuts(self, part: Part, offers: list):
        sizes = sorted({cut + self.order.allowance for cut in part.cuts}, reverse=True)
        wanted = [sum(cut + self.order.allowance == size for cut in part.cuts) for size in sizes]
        covered = [{} for _ in sizes]
        for length in part.offcuts:
            chosen = {}
            for pattern in patterns(length, sizes, wanted):
                column = self.model.column(upper=1)
                chosen[column] = -1
                for row, count in zip(covered, pattern):
                    row[column] = count
            if chosen:
                self.model.at_least(chosen, -1)
        for offer in offers:
            whole = sum(part.cuts) + self.order.allowance * len(part.cuts)
            if offer.kind == "roll":
                bought = self._buy(part, offer, len(part.cuts), offer.price)
                cut = {bought: 1}
                for pattern in patterns(offer.size, sizes, wanted):
                    column = self.model.column(upper=len(part.cuts))
                    cut[column] = -1
                    for row, count in zip(covered, pattern):
                        row[column] = count
                self.model.at_least(cut, 0)
                continue
            bought = self._buy(part, offer, -(-whole // offer.size) + offer.smallest // offer.size, offer.price)
            asked = self.model.column(upper=1)
            self.model.at_least({asked: self.model.upper[bought], bought: -1}, 0)
            self.model.at_least({bought: 1, asked: -(offer.smallest // offer.size)}, 0)
            length = {bought: offer.size}
            for row, size, count in zip(covered, sizes, wanted):
                column = self.model.column(upper=count)
                length[column] = -size
                row[column] = 1
            self.model.at_least(length, 0)
        for row, count in zip(covered, wanted):
            self.model.at_least(row, count)

    def total(self) -> tuple[int, int] | None:
        """The total in cents, and how many suppliers are used; added up in whole numbers."""
        values = self.model.solve()
        if values is None:
            return None
        for terms, least in self.model.rows:
            assert sum(value * values[column] for column, value in terms.items()) >= least - 1e-9
        packs = {}
        for part, offer, column, _ in self.columns:
            packs[id(offer)] = (offer, packs.get(id(offer), (offer, 0))[1] + values[column])
        goods = [0] * len(self.order.suppliers)
        for offer, count in packs.values():
            goods[offer.supplier] += count * offer.unit_price(count)
        net, gross, used = 0, 0, 0
        for supplier, bought in zip(self.order.suppliers, goods):
            if supplier.inside:
                gross += bought
            else:
                net += bought
            if bought:
                used += 1
                assert bought >= supplier.smallest
                if supplier.free_from is None or bought < supplier.free_from:
                    net += supplier.charge
        tax = (net * self.order.tax * 2 + 1000) // 2000
        return net + gross + tax, used


def patterns(length: int, sizes: list, wanted: list) -> list:
    """Every way to cut pieces from a length to which no further piece can be added."""
    found = []

    def extend(position: int, left: int, counts: tuple):
        if position == len(sizes):
            short = [size for size, count, most in zip(sizes, counts, wanted) if count < most]
            if any(counts) and (not short or min(short) > left):
                found.append(counts)
            return
        for count in range(min(wanted[position], left // sizes[position]), -1, -1):
            extend(position + 1, left - count * sizes[position], counts + (count,))

    extend(0, length, ())
    return found


def answers(order: Order) -> str:
    """The totals of the cheapest order, that with the fewest suppliers, and that of what is in stock."""
    cheapest = Program(order)
    total, used = cheapest.total()
    fewest = (total, used)
    for most in range(1, used):
        found = Program(order, most_suppliers=most).total()
        if found is not None:
            fewest = found
            break
    stocked = Program(order, stocked=True).total()
    return f"{order.name} {total} fewest {fewest[1]} {fewest[0]} stocked {stocked[0] if stocked else '-'}"


def main() -> None:
    if "--time" in sys.argv:
        made = order(int(sys.argv[sys.argv.index("--time") + 1]))
        took = []
        for _ in range(3):
            program = Program(made)
            program.total()
            took.append(program.model.took)
        print(f"{statistics.median(took):.6f}")
        return
    if "--check" in sys.argv:
        after = sys.argv[sys.argv.index("--check") + 1 :]
        count = int(after[0]) if after else 10
        texts = ORDERS.read_text().strip().split("\n\n")
        lines = EXPECTED.read_text().splitlines()
        wrong = []
        for number in range(COUNT // count // 2, COUNT, COUNT // count):
            made = order(number)
            found = answers(made)
            if made.text() != texts[number] or found != lines[number]:
                wrong.append(f"{found} instead of {lines[number]}")
        if wrong:
            raise SystemExit("\n".join(["orders differ:"] + wrong))
        print(f"{count} orders are as before")
        return
    texts, lines = [], []
    for number in range(COUNT):
        made = order(number)
        texts.append(made.text())
        lines.append(answers(made))
        print(lines[-1], flush=True)
    ORDERS.write_text("\n\n".join(texts) + "\n")
    EXPECTED.write_text("\n".join(lines) + "\n")


if __name__ == "__main__":
    main()
