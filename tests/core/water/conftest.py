from __future__ import annotations

import pytest

from core.catalogue.load import citations, table
from core.water.targets import SystemKind, kinds


@pytest.fixture(scope="session")
def system_kinds() -> dict[str, SystemKind]:
    return kinds(table("system_kinds"), table("targets"), citations())
