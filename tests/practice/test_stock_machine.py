"""A random walk over a shelf: in whatever order things are done, a lot is the sum of its lines.

Lines are only added, none goes below nothing, each says what was left after it, and nothing comes
back of a treatment or a bath that was not taken for it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from datetime import timedelta
from decimal import Decimal
from pathlib import Path

from hypothesis import HealthCheck, settings
from hypothesis import given as drawn
from hypothesis import strategies as st

from core.errors import Refusal
from core.practice import (
    documents,
    given,
    in_hand,
    in_hand_clock,
    shelf,
    stock_bath,
    stock_log,
    treatments,
    undo,
    visits,
)
from core.practice.dose_parts import Ask
from core.practice.giving_context import Wanted
from core.practice.in_hand_clock import INTO
from core.practice.keep import Act
from core.practice.paperwork import deliver
from core.practice.shelf import NewProduct, Received
from core.practice.treatments import Order
from core.records import read
from core.records.tables import Lot, StockLine, Treatment
from tests.conftest import MOMENT
from tests.practice.test_in_hand import TRICAINE, take
from tests.read_rows import all_read
from tests.small import Small

DAY = MOMENT.date()
NEW = (
    NewProduct("praziquantel-prolonged", "praziquantel 25 %", 25.0, "% w/w", 500.0, "g"),
    NewProduct("tricaine-anaesthesia", "tricaine, ours", 100.0, "% w/w", 100.0, "g"),
    NewProduct("butorphanol", "butorphanol, ours", 10.0, "mg/mL", 50.0, "mL", controlled=True),
)
AMOUNTS = st.decimals(Decimal("0.05"), Decimal(150), places=2)
OPS = (
    *("receive", "given here", "given here", "dispensed", "dispensed", "prescribed"),
    *("hand over", "hand over", "inject", "bathe", "bath take", "bath unused", "bath mark"),
    *(
        "bathe",
        "bath unused",
        "bath unused",
        "bath level",
        "waste",
        "return",
        "send back",
        "count",
        "put right",
    ),
    *("strike", "strike", "strike", "undo", "redo"),
)
STEP = st.tuples(st.sampled_from(OPS), st.integers(0, 9), AMOUNTS, st.booleans())
EXAMPLES, STEPS = 12, 36


class Walk:
    """Does what a practice does with its shelf, at a visit of its own."""

    def __init__(self, made: Small, folder: Path, done: Counter[str], number: int) -> None:
        self.made, self.folder, self.done = made, folder, done
        self.now = MOMENT + timedelta(minutes=number)
        at = f"{8 + number // 4}:{15 * (number % 4):02}"
        self.visit = visits.book(self.act(), made.system, DAY, at, made.vet, "walk")
        self.seen: dict[str, tuple[StockLine, ...]] = {}
        self.products = [shelf.add_product(self.act(), new) for new in NEW]
        self.lots = [self._came(product, Decimal(100)) for product in self.products]
        self.fish: list[str] = []
        self.bathed: list[str] = []

    def act(self) -> Act:
        self.now += timedelta(seconds=1)
        return Act(self.made.vet, self.now)

    def _came(self, product: str, much: Decimal) -> str:
        number = f"L{len(read.find(Lot))}"
        return shelf.receive(self.act(), product, Received(number, much, DAY + timedelta(60)))

    def step(self, what: str, which: int, much: Decimal, yes: bool) -> None:
        """Try one act; what is refused is counted beside what went through."""
        doing = self._doing(what, which, much, yes)
        try:
            doing()
        except Refusal:
            self.done[f"{what} refused"] += 1
        else:
            self.done[what] += 1

    def _doing(self, what: str, which: int, much: Decimal, yes: bool) -> Callable[[], object]:
        lot, witness = self.lots[which % len(self.lots)], "Tim Test" if yes else ""
        if what in ("given here", "dispensed", "prescribed"):
            return lambda: self._order(what, which, yes)
        if what.startswith("bath "):
            return lambda: self._of_a_bath(what, which)
        acts: dict[str, Callable[[], object]] = {
            "receive": lambda: self.lots.append(self._came(self.products[which % 3], much)),
            "hand over": self._hand_over,
            "inject": lambda: self._inject(2000.0 if yes else 90_000.0),
            "bathe": lambda: self._bathe(60.0 if yes else 80.0, (10.0, 25.0, 400.0)[which % 3]),
            "waste": lambda: stock_log.waste(self.act(), lot, much, "spilt", witness),
            "return": lambda: stock_log.bring_back(self.act(), lot, much, "sealed", witness),
            "send back": lambda: stock_log.bring_back(self.act(), lot, -much, "recall", witness),
            "count": lambda: stock_log.count(self.act(), lot, much),
            "put right": lambda: self._put_right(lot, much, witness),
            "strike": lambda: self._strike(which, yes),
            "undo": lambda: undo.take_back(self.act()),
            "redo": lambda: undo.do_again(self.act()),
        }
        return acts[what]

    def _order(self, done: str, which: int, late: bool) -> None:
        level = ("1 mg/L", "2 mg/L", "10 mg/L")[which % 3]
        ask = Ask(level, "prolonged bath", product=self.products[0])
        wanted = Order(
            done,
            "praziquantel-prolonged",
            ask,
            self.made.system,
            starts=DAY + timedelta(2 * late),
            reason="flukes in two gill snips",
        )
        treatments.order_treatment(self.act(), self.visit, wanted)

    def _hand_over(self) -> None:
        issued = documents.issue_labels(self.act(), self.visit, self.folder)
        deliver(self.act(), issued.document.id, "by hand", "owner")

    def _fish(self) -> str:
        label = f"fish {in_hand.taken(self.visit)}"
        self.fish.append(take(self.act(), self.visit, label))
        return self.fish[-1]

    def _inject(self, grams: float) -> None:
        fish = self._fish()
        in_hand.set_weight(self.act(), fish, grams, f"{grams} g")
        wanted = Wanted("butorphanol", dose=0.4, product=self.products[2], reason="pain")
        given.give(self.act(), fish, wanted)

    def _bathe(self, level: float, litres: float) -> None:
        fish = self._fish()
        bath = {"agent": TRICAINE, "agent_mg_l": level, "bath_l": litres}
        for column, value in bath.items():
            in_hand.set_bath(self.act(), fish, **{column: value})
        in_hand_clock.mark(self.act(), fish, INTO)
        self.bathed.append(fish)

    def _of_a_bath(self, what: str, which: int) -> None:
        if not self.bathed:
            raise Refusal("No fish was in a bath.")
        fish = self.bathed[which % len(self.bathed)]
        lot = self.lots[1]
        acts: dict[str, Callable[[], object]] = {
            "bath take": lambda: stock_bath.take(self.act(), fish, lot),
            "bath unused": lambda: stock_bath.unused(self.act(), fish, "not needed"),
            "bath mark": lambda: in_hand_clock.take_back(self.act(), fish, "too early"),
            "bath level": lambda: in_hand.set_bath(self.act(), fish, agent_mg_l=90.0),
        }
        acts[what]()

    def _put_right(self, lot: str, much: Decimal, witness: str) -> None:
        stock_log.count(self.act(), lot, much)
        stock_log.put_right(self.act(), lot, "counted twice", witness)

    def _strike(self, which: int, unused: bool) -> None:
        if not (rows := read.find(Treatment, visit=self.visit)):
            raise Refusal("Nothing was ordered.")
        row = rows[which % len(rows)]
        by = in_hand.strike_given if row.handling else treatments.strike_treatment
        by(self.act(), row.id, "not so", unused=unused, witness="Tim Test" if unused else "")

    def check(self) -> None:
        """Hold every lot against its lines, and the lines against what they were before."""
        net: dict[tuple[str, str], Decimal] = {}
        for lot in self.lots:
            lines, whole = stock_log.lines(lot), Decimal(0)
            for line in lines:
                whole += Decimal(0) if line.kind == "count" else line.amount
                assert line.balance == whole >= 0
                assert line.struck is None
                for of in filter(None, (line.treatment, line.handling)):
                    net[of, lot] = net.get((of, lot), Decimal(0)) - line.amount
            assert stock_log.left(lot) == whole
            before = self.seen.get(lot, ())
            assert [vars(x) for x in lines[: len(before)]] == [vars(x) for x in before]
            self.seen[lot] = lines
        assert all(taken >= 0 for taken in net.values()), "more came back than was taken"


def test_a_shelf_balances_whatever_is_done(practice: Small, tmp_path: Path) -> None:
    all_read(Act(practice.vet, MOMENT))
    done: Counter[str] = Counter()
    walks: list[Walk] = []

    @settings(
        max_examples=EXAMPLES,
        derandomize=True,
        deadline=None,
        suppress_health_check=list(HealthCheck),
    )
    @drawn(st.lists(STEP, min_size=STEPS, max_size=STEPS))
    def walk(steps: list[tuple[str, int, Decimal, bool]]) -> None:
        walks.append(Walk(practice, tmp_path, done, len(walks)))
        for step in steps:
            walks[-1].step(*step)
            walks[-1].check()

    walk()
    kinds = {line.kind for line in read.find(StockLine)}
    assert kinds == {
        *("received", "given here", "dispensed", "waste", "returned", "count", "put right")
    }
    for what in {*OPS} - {"redo"}:
        assert done[what], (what, sorted(done.items()))
    assert done["undo refused"]
