"""Everything written into a folder: every column told, nothing run, whole or not at all."""

from __future__ import annotations

import csv
import hashlib
import json
import re
import resource
import shutil
from argparse import Namespace
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.catalogue import load
from core.errors import Refusal
from core.practice import setup
from core.practice.export import Exported, export
from core.practice.export_cells import cell, exact, guarded, unguarded
from core.practice.export_words import meaning, readme
from core.practice.issued import Drawn, store
from core.practice.keep import Act
from core.practice.take_in import take_in
from core.records import exchange, journal, read
from core.records.tables import TABLES, Client, Document
from tests.conftest import MOMENT
from tests.servers import opened
from tests.small import fill
from tui.commands import export as export_command
from tui.commands import take_in as take_in_command

RUN = re.compile(r"\s*[=+\-@＝＋－＠]|[\t\r\n]")
"""What a spreadsheet would run, or what would put a formula into a cell of its own."""
NASTY = (
    "=cmd|'/c calc'!A1",
    "+44 7700 900123",
    "-2",
    "@SUM(A1)",
    " =1",
    "'=1",
    "１＝",
    "＝1",
    "a\nb",
)


def quiet(_: str) -> None:
    """Say nothing."""


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give a small practice with nasty names, a paper, one that is missing and one spoilt."""
    found = tmp_path_factory.mktemp("practice") / "practice.db"
    papers = found.parent / "papers"
    with opened(found):
        vet = fill(Act("setup", MOMENT), MOMENT.date()).vet
        for name in NASTY:
            setup.add_client(Act("setup", MOMENT), name)
        with journal.edit("paper", who=vet, at=MOMENT) as doing:
            for number in ("1", "2", "3"):
                drawn = Drawn("day summary", number, f"%PDF {number}".encode(), "the day")
                store(doing, Act(vet, MOMENT), papers, None, drawn)
        first, second, _ = read.find(Document)
    (papers / first.file).unlink()
    (papers / second.file).write_bytes(b"another")
    return found


@pytest.fixture
def records(file: Path) -> Iterator[Path]:
    """Give its file, open."""
    with opened(file):
        yield file


@pytest.fixture(scope="module")
def made(file: Path) -> Exported:
    """Give an export of it."""
    with opened(file):
        return export(file.parent / "out", file.parent / "papers", MOMENT, quiet)


def table(made: Exported, name: str) -> list[dict[str, str]]:
    with (made.folder / "tables" / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_every_column_is_described_and_no_word_is_left_over() -> None:
    said = load.table("columns")
    known = {row.table: set(exchange.kinds(row)) for row in TABLES}
    bare = [(row.table, c) for row in TABLES for c in known[row.table] if not meaning(row, c)]
    assert bare == []
    assert [t for t in said if t != "any" and t not in known] == []
    stale = [(t, c) for t, cs in said.items() if t != "any" for c in cs if c not in known[t]]
    assert stale == []
    assert [c for c in said["any"] if not any(c in columns for columns in known.values())] == []


def test_the_readme_names_every_table_and_column_with_unit_and_type(made: Exported) -> None:
    text = (made.folder / "README.txt").read_text("utf-8")
    assert max(map(len, text.splitlines())) <= 100
    for row in TABLES:
        part = text[re.search(rf"(?m)^{row.table}  \(", text).start() :]  # type: ignore[union-attr]
        for name in exchange.kinds(row):
            assert re.search(
                rf"(?m)^    {name} +(text|whole|number|decimal|true|date|moment)", part
            )
    assert re.search(r"volume_l +number, L, may be empty\n +Net volume of water", text)
    assert re.search(r"gross_minor +whole number, minor unit of the currency", text)
    assert re.search(r"site +text, key of site", text)
    assert "PINs and recovery codes" in text
    assert text.index("is missing") < text.index("The tables")
    said = json.loads((made.folder / "manifest.json").read_text("utf-8"))
    assert readme(said) == text


def test_cells_are_what_other_programs_take(made: Exported) -> None:
    [visit] = table(made, "visit")
    assert (visit["day"], visit["signed_at"], visit["minutes"]) == ("2026-11-25", "", "90")
    [water] = table(made, "system")
    assert (water["volume_l"], water["food_fish"]) == ("9000", "false")
    [practice] = table(made, "practice")
    assert practice["invented"] == "true"
    assert table(made, "document")[0]["at"] == "2026-11-25T08:30:00.000000Z"
    assert [row["rate_percent"] for row in table(made, "tax_class")] == []
    assert cell(Decimal("0.100")) == "0.100"
    assert (cell(1e-7), cell(1e16), cell(None)) == ("0.0000001", "10000000000000000", "")


def test_no_cell_is_run_and_the_rows_hold_the_exact_text(made: Exported, records: Path) -> None:
    shown = [row["name"] for row in table(made, "client")]
    assert not [name for name in shown if RUN.match(name)]
    assert [unguarded(name) for name in shown] == ["Clara Test", *NASTY]
    lines = (made.folder / "rows" / "client.jsonl").read_text("utf-8").splitlines()
    rows = [json.loads(line) for line in lines]
    assert [row["name"] for row in rows] == ["Clara Test", *NASTY]
    [first, *_] = read.find(Client)
    assert rows[0] == {name: exact(value) for name, value in vars(first).items()}
    with (made.folder / "tables" / "client.csv").open(encoding="utf-8", newline="") as file:
        assert all(not RUN.match(c) for row in csv.reader(file) for c in row)


@given(st.text())
def test_a_guard_comes_off_again_and_holds(text: str) -> None:
    assert unguarded(guarded(text)) == text
    assert not RUN.match(guarded(text))


def test_the_manifest_counts_and_hashes_everything(made: Exported) -> None:
    said = json.loads((made.folder / "manifest.json").read_text("utf-8"))
    files = {p.relative_to(made.folder).as_posix() for p in made.folder.rglob("*") if p.is_file()}
    assert set(said["files"]) == files - {"manifest.json"}
    for name, wanted in said["files"].items():
        assert hashlib.sha256((made.folder / name).read_bytes()).hexdigest() == wanted
    assert said["counts"]["client"] == 1 + len(NASTY)
    assert said["sums"]["system.volume_l"] == "9000.0"
    assert said["papers"] == 2
    assert len(said["papers_not_as_issued"]) == 2
    assert "is missing" in made.text
    assert "NOT as it was issued" in made.text
    assert (made.folder / "journal.jsonl").read_text("utf-8").count("\n") == said["edits"]


def test_nothing_is_written_over(made: Exported, records: Path, tmp_path: Path) -> None:
    with pytest.raises(Refusal, match="something in"):
        export(made.folder, records.parent / "papers", MOMENT, quiet)
    (tmp_path / "file").write_text("mine")
    with pytest.raises(Refusal, match="something in"):
        export(tmp_path / "file", records.parent / "papers", MOMENT, quiet)
    assert (tmp_path / "file").read_text() == "mine"
    (tmp_path / "empty").mkdir()
    again = export(tmp_path / "empty", records.parent / "papers", MOMENT, quiet)
    assert again.rows == made.rows


def test_records_without_a_practice_are_not_exported(tmp_path: Path) -> None:
    with opened(tmp_path / "empty.db"), pytest.raises(Refusal, match="no practice"):
        export(tmp_path / "out", tmp_path / "papers", MOMENT, quiet)
    assert not (tmp_path / "out").exists()


@contextmanager
def small_disk(most: int) -> Iterator[None]:
    """Refuse files over a size, as a full disk refuses."""
    usual = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (most, usual[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, usual)


def test_a_full_disk_is_told_and_no_half_folder_is_left(records: Path, tmp_path: Path) -> None:
    before = sorted(p.name for p in tmp_path.iterdir())
    with (
        small_disk(2000),
        pytest.raises(Refusal, match=r"can not be written to .*: File too large"),
    ):
        export(tmp_path / "out", records.parent / "papers", MOMENT, quiet)
    assert sorted(p.name for p in tmp_path.iterdir()) == before


Spoil = Callable[[Path], None]


def _rewrite(name: str, old: str, new: str) -> Spoil:
    def spoil(folder: Path) -> None:
        file = folder / name
        text = file.read_text("utf-8")
        assert old in text
        file.write_text(text.replace(old, new, 1), "utf-8")

    return spoil


SPOILT: dict[str, tuple[Spoil, str]] = {
    "a table": (_rewrite("tables/client.csv", "Clara", "Klara"), "tables/client.csv is not as"),
    "the journal": (_rewrite("journal.jsonl", "Clara", "Klara"), "journal.jsonl is not as"),
    "a missing file": (lambda f: (f / "rows/site.jsonl").unlink(), "rows/site.jsonl is missing"),
    "no manifest": (lambda f: (f / "manifest.json").unlink(), "no export in"),
    "half a manifest": (lambda f: (f / "manifest.json").write_text("{"), "manifest.json is not as"),
    "a foreign one": (lambda f: (f / "manifest.json").write_text("[1]"), "not an export"),
    "a newer schema": (_rewrite("manifest.json", '"schema": ', '"schema": 9'), "newer version"),
    "a newer export": (_rewrite("manifest.json", '"number": 1', '"number": 2'), "newer version"),
    "a way out": (_rewrite("manifest.json", '"README.txt"', '"../../x"'), "manifest.json is not"),
    "a count": (_rewrite("manifest.json", '"client": 1', '"client": 9'), "counts came out as"),
}


@pytest.mark.parametrize("spoilt", SPOILT)
def test_what_was_changed_is_named_and_nothing_is_taken_in(
    made: Exported, tmp_path: Path, spoilt: str
) -> None:
    spoil, said = SPOILT[spoilt]
    folder = shutil.copytree(made.folder, tmp_path / "copy")
    spoil(folder)
    with opened(tmp_path / "practice.db"):
        with pytest.raises(Refusal, match=said):
            take_in(folder, tmp_path / "papers", quiet)
        assert exchange.is_empty()
    assert not [*tmp_path.glob("papers/*")]


def test_the_two_commands_carry_a_practice_over(
    made: Exported, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    new = tmp_path / "new" / "practice.db"
    monkeypatch.setenv("FINROUNDS_DATABASE", f"sqlite:///{new}")
    said = take_in_command.run(Namespace(folder=made.folder))
    assert f"Taken in: {made.rows} rows, {made.edits} edits" in said
    assert str(new) in said
    assert len(list((new.parent / "papers").iterdir())) == 2
    again = export_command.run(Namespace(folder=tmp_path / "again"))
    assert f"{made.rows} rows, {made.edits} edits" in again
    for name in ("journal.jsonl", *(f"tables/{row.table}.csv" for row in TABLES)):
        assert (tmp_path / "again" / name).read_bytes() == (made.folder / name).read_bytes()
    with pytest.raises(Refusal, match="not empty"):
        take_in_command.run(Namespace(folder=made.folder))
    with pytest.raises(Refusal, match="an export is a folder"):
        take_in_command.run(Namespace(folder=made.folder / "README.txt"))
