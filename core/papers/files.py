"""Files that are written whole or not at all."""

from __future__ import annotations

import os
import tempfile
from contextlib import suppress
from pathlib import Path

from core import folders


def write_whole(path: Path, data: bytes) -> Path:
    """Write a file so that its name only ever stands for the whole of it.

    The bytes go to a nameless neighbour first and are on the disk before the name is given;
    the folder is flushed last, so that the name survives a power cut too.

    Parameters
    ----------
    path : Path
        Where to; an existing file is replaced, a missing folder is made.
    data : bytes
        The whole content.

    Raises
    ------
    OSError
        When the disk refuses; the old file, if any, then stands as it was.
    """
    folders.make(path.parent)
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=".", suffix=".part")
    try:
        with os.fdopen(handle, "wb") as part:
            part.write(data)
            part.flush()
            os.fsync(part.fileno())
        Path(name).replace(path)
    except BaseException:
        with suppress(FileNotFoundError):
            Path(name).unlink()
        raise
    folders.flush(path.parent)
    return path
