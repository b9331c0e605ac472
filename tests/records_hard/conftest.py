"""What the hard failures share: a seed that is printed, and counts that are told at the end."""

from __future__ import annotations

import os
import random
from collections.abc import Callable

import pytest

SEED = int(os.environ.get("HARD_SEED", "20261125"))
"""`HARD_SEED=n` walks other random moments, or the same ones again."""

Counted = Callable[[str], None]


@pytest.fixture
def dice() -> random.Random:
    print(f"HARD_SEED={SEED}")
    return random.Random(SEED)


@pytest.fixture
def counted(record_property: Callable[[str, object], None]) -> Counted:
    """Tell what was counted: it is printed, and stands in the report of the test."""

    def tell(words: str) -> None:
        print(words)
        record_property("counted", words)

    return tell
