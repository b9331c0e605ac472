"""The commands as they are typed: what they print and the code with which they end."""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

import pytest

from core.records import engine, files, passphrase
from tests.records_keep.released import put
from tests.records_keep.test_backup import spoil
from tests.records_keep.test_salvage import root_of
from tui import cli


class Typed:
    """Types command lines on one file of records."""

    def __init__(self, file: Path, capsys: pytest.CaptureFixture[str], patch: pytest.MonkeyPatch):
        self.file, self._capsys, self._patch = file, capsys, patch
        patch.setenv("FINROUNDS_DATABASE", f"sqlite:///{file}")

    def __call__(self, *words: str | Path) -> tuple[int, str, str]:
        self._patch.setattr(sys, "argv", ["finrounds", *map(str, words)])
        code = cli.main()
        said = self._capsys.readouterr()
        return code, said.out, said.err


@pytest.fixture
def typed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> Typed:
    file = put(1, tmp_path)
    engine.open_records(file)
    shutil.rmtree(tmp_path / "backups")
    return Typed(file, capsys, monkeypatch)


def test_a_backup_is_made_checked_and_restored(typed: Typed) -> None:
    code, said, _ = typed("backup")
    [made] = (typed.file.parent / "backups").iterdir()
    assert code == 0
    assert said.startswith(f"Backup {made}\n651 edits, ")
    assert "opened, and is whole and the same" in said
    assert "Papers are not in it" in said
    code, said, _ = typed("restore", made)
    assert code == 0
    assert f"are those of {made}: 651 edits, the last of 2026-11-25 08:30 UTC." in said
    assert "set aside as practice-set-aside-" in said
    assert "Nothing that stood there is missing in it." in said
    # The papers of this practice are not in the test: each is named.
    assert said.count("papers as issued: ") == 21


def test_a_backup_goes_where_it_is_sent(typed: Typed, tmp_path: Path) -> None:
    code, said, _ = typed("backup", "--to", tmp_path / "stick")
    [made] = (tmp_path / "stick").iterdir()
    assert (code, str(made) in said) == (0, True)
    assert files.proved(made).edits == 651


def test_the_check_says_what_holds_and_what_does_not(typed: Typed) -> None:
    code, said, _ = typed("check")
    assert code == 1
    lines = said.splitlines()
    assert "  ok     journal, the chain of edits: 651 edits" in lines
    assert "  ok     rows against the journal: 1386 lines" in lines
    at = lines.index("  WRONG  papers as issued: 21 papers")
    assert lines[at + 1].endswith(".pdf is not there.")
    assert lines[at + 11] == "    and 11 more"
    assert lines[at + 12].startswith("    Copy them back into ")
    assert lines[-3:-1] == ["  ok     backups: none yet", "    finrounds backup makes one."]
    assert lines[-1] == "1 of 12 is wrong."


def test_a_damaged_file_is_told_and_salvaged(typed: Typed) -> None:
    with files.reading(typed.file, "live") as opened:
        opened.execute("SELECT 1").fetchall()
    spoil(typed.file, root_of(typed.file, "client_name"))
    damaged = typed.file.read_bytes()
    code, said, _ = typed("check")
    assert code == 1
    assert "Damaged" in said or "are damaged" in said
    assert "Still readable in it: 651 edits, " in said
    assert "finrounds restore --salvage" in said
    assert typed.file.read_bytes() == damaged
    code, said, _ = typed("restore", "--salvage")
    assert code == 0
    assert "Brought over: 651 of 651 edits that can be read" in said
    [aside] = typed.file.parent.glob("practice-set-aside-*.db")
    assert aside.read_bytes() == damaged
    assert aside.name in said
    code, said, _ = typed("restore", "--salvage")
    assert code == 1


def test_what_restore_needs_is_said(typed: Typed) -> None:
    for words in ((), ("some.db", "--salvage"), ("none.db",)):
        code, out, said = typed("restore", *words)
        assert (code, out) == (1, "")
        assert "Name " in said


def test_the_passphrase_is_set_changed_and_taken_away(
    typed: Typed, monkeypatch: pytest.MonkeyPatch
) -> None:
    typed("backup")
    monkeypatch.setenv("FINROUNDS_NEW_PASSPHRASE", "first of them all")
    code, said, _ = typed("password")
    assert code == 0
    assert "The records are encrypted. 651 edits" in said
    assert "If the passphrase is lost, there is no way back" in said
    assert "Deleting does not wipe" in said
    assert "Papers are plain" in said
    assert "1 backup beside them is under the same passphrase now." in said
    passphrase.forget()
    code, _, said = typed("check")
    assert (code, "nobody is here" in said or "encrypted" in said) == (1, True)
    monkeypatch.setenv(passphrase.VARIABLE, "first of them all")
    monkeypatch.setenv("FINROUNDS_NEW_PASSPHRASE", "second of them all")
    assert typed("password", "--delete-old")[0] == 0
    monkeypatch.setenv(passphrase.VARIABLE, "second of them all")
    passphrase.forget()
    code, out, said = typed("password", "--remove", "--delete-old")
    assert (code, out) == (1, "")
    assert "Add --yes" in said
    assert passphrase.sealed(typed.file)
    code, said, _ = typed("password", "--remove", "--delete-old", "--yes")
    assert code == 0
    assert "1 backup beside them is plain now." in said
    assert "plain: whoever can read the file" in said
    monkeypatch.delenv(passphrase.VARIABLE)
    assert "651 edits" in typed("check")[1]
    passphrase.ask_with(None)
