"""Keys made on the device, so that rows from two trucks never collide."""

from __future__ import annotations

import uuid_utils


def new_key() -> str:
    """Return a new UUIDv7 as text."""
    return str(uuid_utils.uuid7())
