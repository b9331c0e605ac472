from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest

from core.papers.files import write_whole


def test_a_file_is_written_and_replaced(tmp_path):
    path = tmp_path / "new" / "paper.pdf"
    assert write_whole(path, b"first") == path
    write_whole(path, b"second")
    assert path.read_bytes() == b"second"
    assert [each.name for each in path.parent.iterdir()] == ["paper.pdf"]


@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_when_the_disk_refuses_the_old_file_stands_and_nothing_is_left_over(
    tmp_path, monkeypatch, step
):
    path = tmp_path / "paper.pdf"
    path.write_bytes(b"old")

    def refuse(*_arguments):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(*((os, "fsync") if step == "fsync" else (Path, "replace")), refuse)
    with pytest.raises(OSError, match="No space"):
        write_whole(path, b"new")
    monkeypatch.undo()
    assert path.read_bytes() == b"old"
    assert [each.name for each in tmp_path.iterdir()] == ["paper.pdf"]


def test_bytes_are_on_the_disk_before_the_name_and_the_folder_after(tmp_path, monkeypatch):
    path = tmp_path / "paper.pdf"
    seen = []
    flush, replace = os.fsync, Path.replace

    def note_flush(handle):
        kind = "folder" if stat.S_ISDIR(os.fstat(handle).st_mode) else "file"
        seen.append((kind, path.exists()))
        flush(handle)

    def note_replace(part, target):
        seen.append(("name", part.parent == target.parent))
        return replace(part, target)

    monkeypatch.setattr(os, "fsync", note_flush)
    monkeypatch.setattr(Path, "replace", note_replace)
    write_whole(path, b"whole")
    assert seen == [("file", False), ("name", True), ("folder", True)]
