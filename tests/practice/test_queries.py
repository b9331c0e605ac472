"""Opening a day, a visit and a client: the same statements at any size, each on an index."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest

from core.practice import day, find, history, visits, water
from core.records import engine
from tests.grown import Grown, grow

Statement = tuple[str, tuple[object, ...]]
LOOKS: dict[str, Callable[[Grown], object]] = {
    "the day": lambda g: day.view(g.day),
    "a visit": lambda g: visits.opened(g.visit),
    "its water": lambda g: water.view(g.visit, g.system),
    "its history": lambda g: history.view(g.visit, g.system),
    "a client": lambda g: find.find(g.client_name),
}
SMALL, LARGE = 1_000, 4_000
FEW = frozenset({"practice", "person", "setting", "tax_class", "price", "device"})
"""Tables that do not grow with the work: going through them whole is no matter."""


@pytest.fixture(scope="module")
def sizes(tmp_path_factory: pytest.TempPathFactory) -> dict[int, Grown]:
    folder = tmp_path_factory.mktemp("grown")
    return {size: grow(folder / f"{size}.db", size) for size in (SMALL, LARGE)}


@pytest.fixture(params=LOOKS)
def look(request: pytest.FixtureRequest) -> Callable[[Grown], object]:
    found: Callable[[Grown], object] = LOOKS[request.param]
    return found


def said(grown: Grown, look: Callable[[Grown], object]) -> list[Statement]:
    """Return the statements that a look makes."""
    found: list[Statement] = []
    ask = engine.execute

    def noted(sql: str, values: tuple[object, ...] = ()) -> object:
        found.append((sql, tuple(values)))
        return ask(sql, values)

    engine.open_records(grown.file)
    with engine.connection(), pytest.MonkeyPatch.context() as patch:
        patch.setattr(engine, "execute", noted)
        look(grown)
    return found


def test_as_many_statements_at_any_size(
    sizes: dict[int, Grown], look: Callable[[Grown], object]
) -> None:
    few, many = (len(said(sizes[size], look)) for size in (SMALL, LARGE))
    assert few == many > 0


def scans(grown: Grown, statements: list[Statement]) -> Iterator[str]:
    """Give each step of a plan that goes through a whole table which grows with the work.

    What a statement has picked out itself is small already.
    """
    engine.open_records(grown.file)
    with engine.connection():
        for sql, values in statements:
            for *_, step in engine.query(f"EXPLAIN QUERY PLAN {sql}", values):
                words = step.split()
                whole = words[0] == "SCAN" and "INDEX" not in words
                made = words[1].startswith("(") or words[1] == "ranked"
                if whole and not made and words[1] not in FEW:
                    yield f"{step}: {' '.join(sql.split())}"


def test_every_statement_stands_on_an_index(
    sizes: dict[int, Grown], look: Callable[[Grown], object]
) -> None:
    assert list(scans(sizes[SMALL], said(sizes[SMALL], look))) == []
