"""Encrypted records: nothing readable on the disk, the same guards, a passphrase to open."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

import peewee as pw
import pytest

from core.errors import BadInput, Refusal
from core.practice import find, setup, visits, water
from core.practice.keep import Act
from core.records import (
    backup,
    engine,
    files,
    index,
    passphrase,
    restore,
    salvage,
    sealing,
    sqlcipher,
    verify,
)
from core.records.fileguard import Damaged
from core.records.journal import Closed
from core.records.models import MODELS
from core.records.place import Place, place_of
from core.records.read import find as rows
from core.records.tables import Reading, Visit
from tests.conftest import MOMENT
from tests.core.records import checks
from tests.records_keep.released import put
from tests.records_keep.test_backup import spoil
from tests.small import Small, fill
from tests.terminal import ENTER, start_app

PHRASE, OTHER = "vier wörter ohne sinn", "another that is long enough"
SHORTEST = 7
"""Texts of fewer bytes are found in noise by chance."""


@pytest.fixture(autouse=True)
def _no_key_is_known() -> Iterator[None]:
    passphrase.forget()
    yield
    passphrase.forget()
    passphrase.ask_with(None)


@pytest.fixture(scope="module")
def base(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give the folder of rich records, closed, with their backups, under `PHRASE`."""
    folder = tmp_path_factory.mktemp("sealed")
    place = place_of(put(1, folder))
    engine.open_records(place)
    backup.make(place, MOMENT)
    sealing.rekey(place, PHRASE, MOMENT, delete_old=True)
    return folder


@pytest.fixture
def sealed(base: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Place:
    """Give a copy of them; the passphrase is in the environment."""
    shutil.copytree(base, tmp_path / "practice")
    monkeypatch.setenv(passphrase.VARIABLE, PHRASE)
    return place_of(tmp_path / "practice" / "practice.db")


def texts(place: Place) -> set[bytes]:
    """Return every text that stands in the open records, of some length."""
    found: set[bytes] = set()
    for table, model in MODELS.items():
        listed = ", ".join(f'"{name}"' for name in model._meta.fields)
        for row in engine.query(f'SELECT {listed} FROM "{table}"'):
            found |= {value.encode() for value in row if isinstance(value, str)}
    return {text for text in found if len(text) >= SHORTEST}


def readable_in(data: bytes, wanted: set[bytes]) -> set[bytes]:
    heads: dict[bytes, set[bytes]] = {}
    for text in wanted:
        heads.setdefault(text[:SHORTEST], set()).add(text)
    there = {part for n in range(len(data)) if (part := data[n : n + SHORTEST]) in heads}
    return {text for head in there for text in heads[head] if text in data}


def test_a_stolen_folder_shows_nothing(sealed: Place) -> None:
    engine.open_records(sealed)
    with engine.connection():
        vet = rows(Visit)[0].vet
        for number in range(40):
            setup.add_client(Act(vet, MOMENT), f"Stolen While Open {number}", phone="0123 456789")
        assert len(find.find("Stolen While Open")) > 0
        backup.make(sealed, MOMENT)
        engine.execute("BEGIN")
        # A sort of everything at once, and a savepoint: what needs a file beside, if anything.
        engine.query('SELECT * FROM "edit_line" ORDER BY "change" DESC, "row"')
        stolen = {f: f.read_bytes() for f in sealed.folder.rglob("*") if f.is_file()}
        engine.execute("ROLLBACK")
        wanted = texts(sealed)
    names = {file.name for file in stolen}
    assert {"practice.db", "practice.db-wal", "practice.db-shm"} <= names
    assert len([n for n in names if n.startswith(("before-schema", "practice-2026"))]) == 2
    assert len(stolen[sealed.folder / "practice.db-wal"]) > 100_000
    for word in ("Odile Fennimar", "Stolen While Open 39", "0123 456789"):
        assert word.encode() in wanted
    assert len(wanted) > 2000
    for file, data in stolen.items():
        assert readable_in(data, wanted) == set(), file


def test_the_same_search_finds_them_in_a_plain_file(sealed: Place) -> None:
    sealing.rekey(sealed, "", MOMENT, delete_old=True)
    engine.open_records(sealed)
    with engine.connection():
        wanted = texts(sealed)
    assert sealed.file is not None
    assert len(readable_in(sealed.file.read_bytes(), wanted)) > 2000


def test_all_holds_in_it_as_in_a_plain_one(sealed: Place) -> None:
    engine.open_records(sealed)
    with engine.connection():
        assert engine.kind() == "sqlite"
        checks.all_hold()
        assert verify.broken() == []
        assert index.check() == []
        assert engine.query("PRAGMA synchronous") == [(2,)]
        assert engine.query("PRAGMA journal_mode") == [("wal",)]
        assert engine.query("PRAGMA temp_store") == [(2,)]


def test_the_guards_stand_in_it(sealed: Place) -> None:
    engine.open_records(sealed)
    with engine.connection():
        made = fill_again()
        act = Act(made.vet, MOMENT)
        water.record_reading(act, made.visit, made.system, water.Measured("ph", 7.4, "7.4"))
        for beside in (
            'UPDATE "reading" SET "value" = 1',
            'DELETE FROM "client"',
            'UPDATE "edit" SET "who" = \'x\'',
            'INSERT INTO "setting" ("id", "key", "value") VALUES (\'a\', \'b\', \'c\')',
        ):
            with pytest.raises(pw.DatabaseError, match="finrounds"):
                engine.execute(beside)
        signed = next(
            v for v in rows(Visit) if v.signed_at is not None and rows(Reading, visit=v.id)
        )
        with pytest.raises(Closed):
            visits.move(act, signed.id, signed.day, "11:11")
        checks.all_hold()


def fill_again() -> Small:
    """Make a client with a visit in records that have a practice already."""
    seen = rows(Visit)[0]
    act = Act(seen.vet, MOMENT)
    client = setup.add_client(act, "Guarded Client")
    site = setup.add_site(act, client, "home")
    system = setup.add_system(act, site, "pond", "koi_pond", volume_l=900.0)
    visit = visits.book(act, system, MOMENT.date(), "23:30", seen.vet, "check")
    return Small(seen.vet, "", client, site, system, "", visit)


def test_new_entries_are_there_after_a_start_and_in_its_backup(sealed: Place) -> None:
    engine.open_records(sealed)
    with engine.connection():
        setup.add_client(Act(rows(Visit)[0].vet, MOMENT), "Kept Client")
    passphrase.forget()
    made = backup.make(sealed, MOMENT)
    assert passphrase.sealed(made.file)
    restored = restore.restore(sealed, made.file, MOMENT)
    assert restored.missing == ()
    engine.open_records(sealed)
    with engine.connection():
        checks.all_hold()
        assert engine.query('SELECT count(*) FROM "client" WHERE "name" = \'Kept Client\'') == [
            (1,)
        ]


def test_any_program_with_sqlcipher_opens_it_with_the_passphrase(sealed: Place) -> None:
    opened = sqlcipher.connect(f"file:{sealed.file}", "")
    opened.execute(f"PRAGMA key = '{PHRASE}'")
    assert opened.execute('SELECT count(*) FROM "edit"').fetchone() == (651,)
    opened.close()


def answers(*given: str) -> tuple[Callable[[str], str], list[str]]:
    said: list[str] = []
    left = list(given)

    def ask(sentence: str) -> str:
        said.append(sentence)
        return left.pop(0)

    return ask, said


def test_wrong_passphrases_are_said_and_slowed(
    sealed: Place, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv(passphrase.VARIABLE)
    waits: list[float] = []
    monkeypatch.setattr(passphrase, "wait", waits.append)
    ask, said = answers("wrong", "wrong again", PHRASE)
    passphrase.ask_with(ask)
    engine.open_records(sealed)
    assert waits == [1, 2]
    assert said[0].endswith("are encrypted.")
    assert said[1:] == ["This passphrase does not open them."] * 2
    passphrase.forget()
    passphrase.ask_with(answers(*["wrong"] * 5)[0])
    with pytest.raises(passphrase.Sealed, match="5 wrong passphrases"):
        engine.open_records(sealed)
    assert waits == [1, 2, 1, 2, 4, 8, 16]


def test_without_anybody_to_ask_a_sentence(sealed: Place, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(passphrase.VARIABLE, "not this one")
    with pytest.raises(passphrase.Sealed, match="does not open"):
        engine.open_records(sealed)
    monkeypatch.delenv(passphrase.VARIABLE)
    with pytest.raises(passphrase.Sealed, match="nobody is here to ask"):
        engine.open_records(sealed)
    passphrase.ask_with(answers(PHRASE)[0])
    engine.open_records(sealed)


def test_without_the_extra_a_sentence(sealed: Place, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(__import__("sys").modules, "sqlcipher3", None)
    with pytest.raises(Refusal, match="not installed") as told:
        engine.open_records(sealed)
    assert "finrounds[encryption]" in told.value.todo


def test_a_changed_passphrase_loses_nothing_and_takes_the_backups_along(
    sealed: Place, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert sealed.file is not None
    before = files.proved(sealed.file)
    done = sealing.rekey(sealed, OTHER, MOMENT, delete_old=False)
    assert done.facts == before
    assert len(done.backups) == 2
    assert (done.old_backups, done.plain) == ((), ())
    passphrase.forget()
    with pytest.raises(passphrase.Sealed):
        engine.open_records(sealed)
    assert done.aside is not None
    assert files.proved(done.aside) == before
    monkeypatch.setenv(passphrase.VARIABLE, OTHER)
    passphrase.forget()
    engine.open_records(sealed)
    with engine.connection():
        checks.all_hold()
    assert {files.proved(file).edits for file in done.backups} == {651}


def test_what_stays_readable_is_named(base: Path, tmp_path: Path) -> None:
    place = place_of(put(1, tmp_path))
    engine.open_records(place)
    earlier = tmp_path / "practice-set-aside-earlier.db"
    assert place.file is not None
    shutil.copy(place.file, earlier)
    (place.backups / "broken.db").write_bytes(b"no database")
    done = sealing.rekey(place, PHRASE, MOMENT, delete_old=False)
    assert done.plain == (earlier,)
    assert done.old_backups == (place.backups / "broken.db",)
    assert done.aside is not None
    assert not passphrase.sealed(done.aside)
    with closing(sqlite3.connect(done.aside)) as plain:
        assert plain.execute("SELECT count(*) FROM edit").fetchone() == (651,)


def test_what_is_refused_changes_nothing(sealed: Place, tmp_path: Path) -> None:
    assert sealed.file is not None
    before = sealed.file.read_bytes()
    with pytest.raises(BadInput, match="at least 8 characters"):
        sealing.rekey(sealed, "short", MOMENT, delete_old=True)
    spoil(sealed.file, 40 * 4096)
    damaged = sealed.file.read_bytes()
    with pytest.raises(Refusal, match="could not be copied"):
        sealing.rekey(sealed, OTHER, MOMENT, delete_old=True)
    assert sealed.file.read_bytes() == damaged != before
    assert list(sealed.folder.glob("*set-aside*")) == list(sealed.folder.glob(".*")) == []
    with pytest.raises(Refusal, match="no records"):
        sealing.rekey(place_of(tmp_path / "none.db"), OTHER, MOMENT, delete_old=True)


def test_what_can_be_read_of_a_damaged_one_comes_over_and_stays_encrypted(sealed: Place) -> None:
    assert sealed.file is not None
    for page in (40, 41, 300, 301, 302):
        spoil(sealed.file, page * 4096)
    damaged = sealed.file.read_bytes()
    with pytest.raises(Damaged):
        files.proved(sealed.file)
    with pytest.raises(Damaged):
        backup.make(sealed, MOMENT)
    made = salvage.salvage(sealed, MOMENT)
    assert made.aside is not None
    assert made.aside.read_bytes() == damaged
    assert made.edits + made.rows > 300
    assert passphrase.sealed(sealed.file)
    engine.open_records(sealed)
    with engine.connection():
        checks.all_hold()


def test_other_files_are_not_taken_for_encrypted(tmp_path: Path, sealed: Place) -> None:
    plain = put(1, tmp_path)
    text = tmp_path / "text"
    text.write_text("a letter " * 4096)
    empty = tmp_path / "empty"
    empty.touch()
    assert sealed.file is not None
    assert [passphrase.sealed(f) for f in (plain, text, empty, tmp_path, sealed.file)] == [
        *[False] * 4,
        True,
    ]
    spoil(plain, 0, 100)
    assert not passphrase.sealed(plain)


def test_the_app_asks_before_the_screen_opens(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "practice.db"
    engine.open_records(file)
    with engine.connection():
        from core import clock
        from tests.small import ZONE

        fill(Act("setup", MOMENT), clock.today(ZONE))
    sealing.rekey(place_of(file), OTHER, MOMENT, delete_old=True)
    monkeypatch.delenv(passphrase.VARIABLE, raising=False)
    with start_app(file) as app:
        app.wait(r"are\s+encrypted")
        # What is typed before the question is thrown away, so that no echo shows it.
        app.wait("Passphrase:")
        app.send("not this one" + ENTER)
        app.wait("does not open them")
        app.wait(r"Passphrase:(.*\n)+Passphrase:")
        app.send(OTHER + ENTER)
        app.wait("test visit")
        assert OTHER not in app.text
        app.settle()
        app.send("q")
        app.wait_for(lambda: not app.alive, 10, "the end")
    [made] = (tmp_path / "backups").iterdir()
    assert passphrase.sealed(made)
