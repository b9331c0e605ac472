"""Which mutants of `core/dosing` the tests let live: cosmic-ray's, each in a warm forked process.

    python -m tests.bench.mutants --out mutants.csv [modules]

`cosmic-ray exec` starts Python and pytest anew for each, which takes many hours; here all that does
not depend on `core.dosing` is loaded once. With the same file again only what lived and what is new
is run: a mutant is known by all of its text, so a changed module runs whole. That is sound while
tests are only added. Where others write in the checkout, run it in a copy.
"""

import argparse
import ast
import csv
import os
import resource
import sys
from collections import Counter
from collections.abc import Iterator
from contextlib import suppress
from hashlib import sha256
from importlib import import_module
from itertools import chain
from pathlib import Path
from types import ModuleType

import pytest
from cosmic_ray.ast import ast_nodes, get_ast
from cosmic_ray.mutating import mutate_code
from cosmic_ray.plugins import get_operator, operator_names
from hypothesis import settings

Row = list[str]  # module, line, operator, change, fate, and the mark of the whole mutated text
FOLDER, TESTS, CPU_SECONDS = Path("core/dosing"), Path("tests/core/dosing"), 20
SLOW = ("pairings", "stops", "properties", "examples")
WARM = ("hypothesis.strategies", "pint", "core.catalogue.load", "core.records.tables")
QUIET = ["-xq", "--assert=plain", "--noconftest", "--doctest-modules", "-c", os.devnull]
QUIET += [f"-pno:{name}" for name in ("cacheprovider", "unraisableexception", "warnings")]
FATES = ("annotation only", "killed", "timeout", "survived")


def mutants(path: Path) -> Iterator[tuple[Row, str]]:
    """Give every mutant of a module, of every operator that needs no settings."""
    plain = path.read_text(encoding="utf-8")
    unsaid = bare(plain)
    for name in (name for name in operator_names() if not get_operator(name).arguments()):
        kind = get_operator(name)()
        places = [at for node in ast_nodes(get_ast(plain)) for at in kind.mutation_positions(node)]
        for occurrence, ((line, _), _) in enumerate(places):
            code = mutate_code(plain, kind, occurrence)
            pairs = zip(plain.splitlines(), code.splitlines(), strict=False)
            change = next(f"{old.strip()} -> {new.strip()}" for old, new in pairs if old != new)
            fate = FATES[0] if bare(code) == unsaid else ""
            mark = sha256(f"{path}{code}".encode()).hexdigest()[:16]
            yield [path.stem, str(line), name.split("/")[1], change, fate, mark], code


def bare(code: str) -> str:
    """Return the code without its annotations, which are never evaluated in `core/dosing`."""
    with suppress(SyntaxError):
        tree = ast.parse(code)
        for node in ast.walk(tree):
            for part in {"annotation", "returns"} & set(node._fields):
                setattr(node, part, None)
        return ast.dump(tree)
    return code


def lives(module: str, code: str) -> bool:
    """Put the code in the place of its module and run the tests, the nearest first."""
    path = FOLDER / f"{module}.py"
    put = sys.modules[f"core.dosing.{module}"] = ModuleType(f"core.dosing.{module}")
    setattr(import_module("core.dosing"), module, put)
    put.__file__ = str(path.resolve())
    exec(compile(code, put.__file__, "exec"), put.__dict__)
    said = {test: test.read_text("utf-8").count(module) for test in TESTS.glob("test_*.py")}
    tests = sorted(said, key=lambda test: (test.stem.endswith(SLOW), -said[test]))
    return not any(pytest.main([*QUIET, *map(str, f)]) for f in ((path, *tests[:2]), tests[2:]))


def forked(module: str, code: str) -> int:
    """Judge in a process of its own and return its number; its status is 0 when the code lives."""
    if child := os.fork():
        return child
    status = 1
    try:
        resource.setrlimit(resource.RLIMIT_CPU, (CPU_SECONDS, CPU_SECONDS))
        for stream in (1, 2):
            os.dup2(os.open(os.devnull, os.O_WRONLY), stream)
        status = 0 if lives(module, code) else 1
    finally:
        os._exit(status)


def fates(paths: list[Path], known: dict[str, Row]) -> Iterator[Row]:
    """Give each mutant with what became of it; those not known are run, so many at once."""
    workers, running = os.cpu_count() or 1, dict[int, Row]()
    for row, code in chain(*map(mutants, paths), [([], "")] * workers):
        if row and (row[4] or row[-1] in known):
            yield known.get(row[-1], row)
            continue
        if row:
            running[forked(row[0], code)] = row
        if running and (not row or len(running) == workers):
            number, status = os.wait()
            done = running.pop(number)
            done[4] = "timeout" if os.WIFSIGNALED(status) else FATES[1 if status else 3]
            yield done


def main() -> None:
    """Run what the file does not hold yet; print the table and a line for each that lives."""
    options = argparse.ArgumentParser()
    options.add_argument("modules", nargs="*")
    options.add_argument("--out", type=Path, required=True)
    given = options.parse_args()
    os.environ["PYTEST_DISABLE_PLUGIN_AUTOLOAD"], sys.dont_write_bytecode = "1", False
    list(map(import_module, WARM))
    few = settings(deadline=None, max_examples=25, derandomize=True, database=None)
    settings.register_profile("mutants", few)
    settings.load_profile("mutants")
    paths = [FOLDER / f"{name}.py" for name in given.modules] or sorted(FOLDER.glob("[!_]*.py"))
    for path in paths:  # else everything would seem killed
        if os.waitpid(forked(path.stem, path.read_text("utf-8")), 0)[1]:
            sys.exit(f"The tests do not pass on {path} as it stands.")
    given.out.touch()
    with given.out.open("r+", newline="", encoding="utf-8") as file:
        known = {row[-1]: row for row in csv.reader(file) if row[4] != "survived"}
        rows = []
        for row in fates(paths, known):
            rows.append(row)
            if row[-1] not in known and row[4] != FATES[0]:
                csv.writer(file).writerow(row)
                file.flush()
    print(f"{'':16}{'mutants':>9}" + "".join(f"{fate:>17}" for fate in FATES))
    for name in (*sorted({row[0] for row in rows}), "all"):
        count = Counter(row[4] for row in rows if name in (row[0], "all"))
        print(f"{name:16}{count.total():9}" + "".join(f"{count[fate]:17}" for fate in FATES))
    print(*(f"{row[0]}.py:{row[1]}  {row[3]}" for row in rows if row[4] == FATES[3]), sep="\n")


if __name__ == "__main__":
    main()
