"""The wheel: what travels in it, and that what is installed from it runs from anywhere.

It is built here without a network: the build backend is among the test libraries, and the
environment it is installed into borrows the libraries of this one.
"""

from __future__ import annotations

import os
import subprocess
import sys
import sysconfig
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.terminal import ROOT, Terminal

PACKAGES = ("core", "tui", "fixtures")
STAYS_HERE = ("fixtures/pictures", "fixtures/published", "fixtures/released")
DATA = {".toml", ".tcss", ".py"}
LIMIT = 25.0


def run(*argv: str | Path, cwd: Path) -> str:
    """Run a program to its end; return what it printed, or fail with it."""
    bare = {k: v for k, v in os.environ.items() if k not in ("PYTHONPATH", "PYTHONHOME")}
    done = subprocess.run(
        [str(part) for part in argv],
        cwd=cwd,
        env=bare,
        capture_output=True,
        text=True,
        timeout=LIMIT,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def in_the_tree() -> Iterator[str]:
    """Give every file of the packages that should travel."""
    for package in PACKAGES:
        for file in (ROOT / package).rglob("*"):
            name = file.relative_to(ROOT).as_posix()
            made = "__pycache__" in file.parts or file.name.startswith(".")
            if file.is_file() and not made and not name.startswith(STAYS_HERE):
                yield name


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    run(sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", folder, cwd=ROOT)
    [made] = folder.glob("*.whl")
    return made


def test_the_wheel_holds_the_packages_and_nothing_else(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as opened:
        names = [n for n in opened.namelist() if ".dist-info/" not in n]
        told = opened.read(next(n for n in opened.namelist() if n.endswith("entry_points.txt")))
    assert sorted(names) == sorted(in_the_tree())
    assert {Path(name).suffix for name in names} == DATA
    for needed in ("core/catalogue/medicines.toml", "fixtures/demo/people.toml"):
        assert needed in names
    assert any(name.endswith(".tcss") for name in names)
    assert "finrounds = tui.cli:main" in told.decode()
    assert wheel.stat().st_size < 3_000_000


def test_what_is_installed_from_it_runs_the_demo_from_elsewhere(
    wheel: Path, tmp_path: Path
) -> None:
    python = install(wheel, tmp_path / "empty")
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    where = "import core.catalogue.load as c, tui, fixtures; print(c.__file__, tui.__file__)"
    for file in run(python, "-c", where, cwd=elsewhere).split():
        assert Path(file).is_relative_to(tmp_path / "empty"), file
    program = python.with_name("finrounds")
    assert "--demo" in run(program, "--help", cwd=elsewhere)
    env = {"PYTHONPATH": "", "TMPDIR": str(elsewhere), "HOME": str(elsewhere)}
    with Terminal([str(program), "--demo", "--as", "Marlo"], cwd=elsewhere, env=env) as app:
        app.wait(r"Invented practice(.*\n)+.*Marlo Tregg: \d+ visits", LIMIT)
        app.wait("Larkspur Hotel")
        app.settle(0.1)
        app.send("q")
        app.wait_for(lambda: not app.alive, 10, "the end")
    assert list(elsewhere.glob("finrounds-demo-*/practice.db"))


def install(wheel: Path, folder: Path) -> Path:
    """Install the wheel into an environment of its own; return its Python."""
    run(sys.executable, "-m", "venv", "--without-pip", folder, cwd=wheel.parent)
    python = folder / "bin" / "python"
    pip = (sys.executable, "-m", "pip", "--python", python, "--disable-pip-version-check")
    run(*pip, "install", "--quiet", "--no-index", "--no-deps", wheel, cwd=wheel.parent)
    site = run(python, "-c", "import sysconfig; print(sysconfig.get_path('purelib'))", cwd=folder)
    borrowed = Path(site.strip()) / "borrowed.pth"
    borrowed.write_text(sysconfig.get_path("purelib") + "\n", encoding="utf-8")
    return python
