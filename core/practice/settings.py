"""Settings of the practice by name: what is not worth a column of its own."""

from __future__ import annotations

from core.practice.door import edit
from core.practice.keep import Act
from core.records import read
from core.records.keys import new_key
from core.records.tables import Setting


def get(key: str, default: str = "") -> str:
    """Return a setting.

    Parameters
    ----------
    key : str
        Its name, parts separated by dots: ``keep_years.record``.
    default : str
        What is meant when nobody has set it.
    """
    row = read.first(Setting, key=key)
    return row.value if row is not None else default


def under(prefix: str) -> dict[str, str]:
    """Return every setting whose name begins so, by the rest of its name."""
    return {
        row.key.removeprefix(prefix): row.value
        for row in read.find(Setting)
        if row.key.startswith(prefix)
    }


def put(act: Act, key: str, value: str) -> None:
    """Set a setting; it is one row, and the journal keeps what stood before."""
    row = read.first(Setting, key=key)
    with edit("setting", who=act.by, at=act.at) as doing:
        if row is None:
            doing.add(Setting(id=new_key(), key=key, value=value))
        else:
            doing.change(Setting, row.id, value=value)
