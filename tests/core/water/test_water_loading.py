"""What importing the water calculations may load."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import core.water

HEAVY = ("textual", "pint", "peewee", "reportlab", "numpy", "tomllib", "sqlite3")
MODULES = sorted(path.stem for path in Path(core.water.__path__[0]).glob("[a-z]*.py"))


def test_importing_every_water_module_loads_nothing_heavy() -> None:
    assert "ammonia" in MODULES
    imports = "; ".join(f"import core.water.{name}" for name in MODULES)
    program = f"import sys; {imports}; print([n for n in {HEAVY!r} if n in sys.modules])"
    done = subprocess.run(
        [sys.executable, "-c", program],
        check=True,
        capture_output=True,
        text=True,
        cwd=Path(core.water.__path__[0]).parent.parent,
    )
    assert done.stdout.strip() == "[]"
