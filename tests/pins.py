"""PINs in tests: hashes that cost next to nothing."""

from __future__ import annotations

import pytest

from core.practice import access
from core.practice.access import Cost

PIN, OTHER = "2580", "larkspur9"


@pytest.fixture(autouse=True)
def cheap(monkeypatch: pytest.MonkeyPatch) -> None:
    """Make hashes cheap for the tests of the module that names this fixture."""
    monkeypatch.setattr(access, "COST", Cost(rounds=1, memory_kib=8, lanes=1))
