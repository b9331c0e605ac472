"""What the migrations make is pinned: a change after a release needs a migration of its own."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from core.records import engine
from core.records.migrate import VERSION
from core.records.models import database
from tests.core.records.pins import pin, schema

RELEASED = Path(__file__).with_name("schema_1.sql").read_text(encoding="utf-8")
"""What the first released version made, on the one engine that it had."""
TABLES = dict(re.findall(r'^CREATE TABLE "(\w+)" (.*)$', RELEASED, re.MULTILINE))
GUARDS = re.findall(r'^CREATE TRIGGER "(\w+)"', RELEASED, re.MULTILINE)


@pytest.mark.usefixtures("records")
def test_the_schema_is_as_pinned() -> None:
    assert schema() == pin(VERSION, engine.kind()).read_text(encoding="utf-8")


@pytest.mark.usefixtures("records")
def test_what_the_released_version_made_is_there_still() -> None:
    assert len(TABLES) > 40
    for table, body in TABLES.items():
        was = set(re.findall(r'"(\w+)" (?:TEXT|INTEGER|REAL)', body))
        assert {"id"} < was or table in ("edit_line", "schema_step")
        assert was <= {column.name for column in database.get_columns(table)}
    assert len(GUARDS) > 200
    now = schema()
    assert [name for name in GUARDS if name not in now] == []
