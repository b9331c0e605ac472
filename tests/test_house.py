"""The rules of the house: tools, layers, what each import loads, and words that may not stand."""

from __future__ import annotations

import ast
import configparser
import json
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.small import build
from tests.terminal import ROOT

CODE = ("core", "tui", "fixtures")


def run(*argv: str, cwd: Path = ROOT, env: dict[str, str] | None = None) -> str:
    """Run Python with these arguments; fail with what it said when it says no."""
    done = subprocess.run(
        [sys.executable, *argv],
        cwd=cwd,
        env={**os.environ, **(env or {})},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def files(*folders: str, ending: str = ".py") -> list[Path]:
    return sorted(p for f in folders for p in (ROOT / f).rglob(f"*{ending}"))


def nodes(path: Path) -> Iterator[tuple[str, ast.AST]]:
    """Give every node of a file with the place to look at."""
    for node in ast.walk(ast.parse(path.read_text("utf-8"), str(path))):
        yield f"{path.relative_to(ROOT)}:{getattr(node, 'lineno', 0)}", node


def test_the_code_is_formatted() -> None:
    run("-m", "ruff", "format", "--check", ".")


def test_the_linter_is_content() -> None:
    run("-m", "ruff", "check", ".")


def test_the_types_hold() -> None:
    run("-m", "mypy")


def contracts() -> list[str]:
    parser = configparser.ConfigParser()
    parser.read(ROOT / ".importlinter", encoding="utf-8")
    return [s.rsplit(":", 1)[1] for s in parser.sections() if s.startswith("importlinter:contract")]


LINT = "from importlinter.cli import lint_imports_command as command; command()"


@pytest.mark.parametrize("contract", contracts())
def test_import_contract(contract: str) -> None:
    said = run("-c", LINT, "--no-logo", "--contract", contract)
    assert "1 kept, 0 broken" in said


def test_a_contract_would_break(tmp_path: Path) -> None:
    """A contract that can not fail says nothing: one bad line is added to a copy."""
    for name in CODE:
        ignored = shutil.ignore_patterns("__pycache__", "*.toml", "*.csv")
        shutil.copytree(ROOT / name, tmp_path / name, ignore=ignored)
    shutil.copy(ROOT / ".importlinter", tmp_path)
    bad = tmp_path / "core" / "water" / "ammonia.py"
    bad.write_text(bad.read_text("utf-8") + "\nimport textual\nimport core.records.read\n")
    done = subprocess.run(
        [sys.executable, "-c", LINT, "--no-cache"],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 1
    assert "core.water.ammonia -> textual" in done.stdout
    assert "core.water.ammonia -> core.records.read" in done.stdout


LOADED = "import sys, json; print(json.dumps(sorted({m.split('.')[0] for m in sys.modules})))"


@pytest.mark.parametrize(
    ("module", "absent"),
    [
        ("core.water.ammonia", {"textual", "rich", "pint", "peewee", "reportlab", "numpy"}),
        ("core.dosing.stops", {"textual", "rich", "peewee", "reportlab"}),
        ("core.units", {"textual", "pint", "numpy", "peewee"}),
        ("tui.cli", {"textual", "rich", "peewee", "pint", "reportlab", "numpy"}),
        ("tui.app", {"pint", "reportlab", "numpy", "psycopg", "psycopg2"}),
        ("tui.workup.water", {"pint", "reportlab", "numpy", "psycopg", "psycopg2"}),
    ],
)
def test_an_import_loads_no_more_than_it_needs(module: str, absent: set[str]) -> None:
    loaded = set(json.loads(run("-c", f"import {module}; {LOADED}")))
    assert not loaded & absent


WITHOUT_A_SCREEN: list[list[str]] = [
    ["--help"],
    ["paperwork", "--help"],
    ["paperwork", "--date", "2026-11-25"],
    ["paperwork", "--date", "2026-11-25", "--out", "papers of the day"],
    ["export", "everything"],
    ["take-in", "--help"],
]
"""Command lines that need no Textual, run in an empty folder on a small practice."""

AS_COMMAND = """
import sys, json
sys.argv = json.loads(sys.argv[1])
from tui.cli import main
try:
    code = main()
except SystemExit as ended:
    code = ended.code
print()
print(json.dumps([code, "textual" in sys.modules]))
"""


@pytest.mark.parametrize("line", WITHOUT_A_SCREEN, ids=" ".join)
def test_a_command_without_a_screen_loads_no_textual(line: list[str], tmp_path: Path) -> None:
    file = tmp_path / "practice.db"
    build(file)
    env = {"FINROUNDS_DATABASE": f"sqlite:///{file}", "PYTHONPATH": str(ROOT)}
    said = run("-c", AS_COMMAND, json.dumps(["finrounds", *line]), cwd=tmp_path, env=env)
    code, textual = json.loads(said.splitlines()[-1])
    assert not code
    assert not textual


def test_no_test_is_passed_over() -> None:
    names = {"skip", "skipif", "xfail", "importorskip", "skipTest", "expectedFailure"}
    found = [
        where
        for path in files("tests")
        for where, node in nodes(path)
        if (isinstance(node, ast.Attribute) and node.attr in names)
        or (isinstance(node, ast.alias) and node.name in names)
    ]
    assert found == []


def test_no_screen_makes_a_float_itself() -> None:
    found = [
        where
        for path in files("tui")
        for where, node in nodes(path)
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") in ("float", "eval")
    ]
    assert found == []


def swallows(handler: ast.ExceptHandler) -> bool:
    """Whether a handler takes any error and does not hand it on."""
    broad = handler.type is None or getattr(handler.type, "id", "") in (
        "Exception",
        "BaseException",
    )
    return broad and not isinstance(handler.body[-1], ast.Raise)


def test_no_broad_except_beyond_the_writer() -> None:
    found = [
        where
        for path in files(*CODE)
        for where, node in nodes(path)
        if isinstance(node, ast.ExceptHandler) and swallows(node)
    ]
    assert [w for w in found if not w.startswith("core/records/writer.py")] == []


def test_packages_are_bare() -> None:
    inits = [p for p in files(*CODE) if p.name == "__init__.py"]
    assert [p for p in inits if p.read_text("utf-8")] == []
    folders = {p.parent for p in files(*CODE)}
    assert [f for f in folders if not (f / "__init__.py").exists()] == []


MACHINE = re.compile(r"(?<![\w.}])/(?:home|root|Users|work|mnt|opt|tmp|srv)/\w|\b[A-Z]:\\\w")
# Written from halves, so that this file does not name what it looks for.
HALVES = (("py", "pi"), ("python", "hosted"), ("npm", "js"), ("cra", "tes"), ("ruby", "gems"))
REGISTRIES = ["".join(halves) for halves in HALVES]
HOSTS = re.compile(rf"\b(?:{'|'.join(REGISTRIES)})\.(?:org|io|com)\b")


@pytest.mark.parametrize("ending", [".py", ".toml", ".tcss", ".csv"])
def test_no_machine_and_no_registry_is_named(ending: str) -> None:
    found = [
        f"{path.relative_to(ROOT)}:{number}"
        for path in files(*CODE, ending=ending)
        for number, line in enumerate(path.read_text("utf-8").splitlines(), start=1)
        if MACHINE.search(line) or HOSTS.search(line) or str(ROOT) in line
    ]
    assert found == []


def test_ci_runs_exactly_the_command_that_the_readme_prints() -> None:
    command = (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()[-1]
    assert command.endswith("pytest -n 3")
    assert command in (ROOT / "README.md").read_text(encoding="utf-8")
