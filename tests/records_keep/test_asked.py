"""What the password command asks on a terminal, and what it refuses."""

from __future__ import annotations

import re
import shutil
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from core.records import engine, passphrase, sealing
from core.records.place import Place, place_of
from tests.conftest import MOMENT
from tests.records_keep.released import put
from tests.records_keep.test_commands import Typed
from tests.terminal import ENTER, Terminal
from tui import ask

PHRASE = "vier worte ohne sinn"


@pytest.fixture(autouse=True)
def _no_key_is_known() -> Iterator[None]:
    passphrase.forget()
    yield
    passphrase.forget()
    passphrase.ask_with(None)


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Place:
    """Give plain records without backups; no passphrase is in the environment."""
    found = place_of(put(1, tmp_path))
    engine.open_records(found)
    engine.let_go()
    shutil.rmtree(found.backups)
    for name in (passphrase.VARIABLE, ask.NEW):
        monkeypatch.delenv(name, raising=False)
    return found


def asked(place: Place, *words: str) -> Terminal:
    return Terminal(
        [sys.executable, "-m", "tui.cli", "password", *words],
        env={"FINROUNDS_DATABASE": f"sqlite:///{place.file}"},
    )


def ended(app: Terminal) -> str:
    app.wait_for(lambda: not app.alive, 20, "the end")
    return " ".join(app.text.split())


def test_an_empty_new_passphrase_changes_nothing(place: Place) -> None:
    assert place.file is not None
    before = place.file.read_bytes()
    with asked(place) as app:
        app.wait("Passphrase:")
        app.send(ENTER)
        said = ended(app)
    assert "The new passphrase is empty; nothing was changed." in said
    assert "finrounds password --remove" in said
    assert place.file.read_bytes() == before
    assert not list(place.folder.glob("*set-aside*"))


def test_of_encrypted_records_too_and_removing_is_confirmed(place: Place) -> None:
    assert place.file is not None
    sealing.rekey(place, PHRASE, MOMENT, delete_old=True)
    for words, typed, told in (
        ((), "", "The new passphrase is empty; nothing was changed."),
        (("--remove",), "no", "It was not confirmed; nothing was changed."),
    ):
        with asked(place, *words) as app:
            app.wait("Passphrase:")
            app.send(PHRASE + ENTER)
            app.wait("Type yes" if words else r"Passphrase:(.*\n)+Passphrase:")
            app.send(typed + ENTER)
            assert told in ended(app)
        assert passphrase.sealed(place.file)
    with asked(place, "--remove") as app:
        app.wait("Passphrase:")
        app.send(PHRASE + ENTER)
        app.wait("Type yes")
        app.send("yes" + ENTER)
        said = ended(app)
    assert "The records are plain" in said
    assert not passphrase.sealed(place.file)
    # A word broken at the terminal's edge would read as two here.
    assert re.search(r"set aside as practice-set-aside-\S+; it opens as it did before\.", said)
    assert "whoever can read the file can read the records" in said


def test_without_a_terminal_one_sentence(
    place: Place, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    assert place.file is not None
    typed = Typed(place.file, capsys, monkeypatch)
    before = place.file.read_bytes()
    assert typed("password") == (
        1,
        "",
        "That can not be done. A new passphrase is typed on a terminal, and there is none here. "
        "Give it in FINROUNDS_NEW_PASSPHRASE, or start from a terminal; nothing was changed.\n",
    )
    monkeypatch.setenv(ask.NEW, "")
    assert "The new passphrase is empty" in typed("password")[2]
    assert "there is no passphrase to remove" in typed("password", "--remove")[2]
    assert place.file.read_bytes() == before
