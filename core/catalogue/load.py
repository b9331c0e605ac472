"""The only reader of the catalogue: what the trade knows, as data beside this module."""

from __future__ import annotations

import functools
import tomllib
from importlib import resources
from typing import Any

VERSION = "2026.11"
"""Version of the catalogue, kept with every figure that was shown."""


@functools.cache
def table(name: str) -> dict[str, Any]:
    """Return one TOML table of the catalogue as read, by its file name without the ending."""
    text = resources.files("core.catalogue").joinpath(f"{name}.toml").read_text("utf-8")
    return tomllib.loads(text)


def citations() -> dict[str, str]:
    """Return every source key with its citation: author, year, title, and where needed agency."""
    return {key: str(row["cite"]) for key, row in table("sources").items()}
