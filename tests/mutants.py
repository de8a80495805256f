"""
How many small faults in the rules the tests find: python -m tests.mutants [--modules table drops]

Works on a copy of the project, so that the files may be edited meanwhile. The tests are collected
once and asked which lines each of them runs. Every fault is then put into the running code of a
forked child, which runs the tests of that line, quickest first, until one fails. A fault outside
any function is there only while files are loaded, and is tried in an interpreter of its own; so is
every survivor, with --twice. Made-up cases are few and the same every time, so that a run can be
repeated.
"""

from __future__ import annotations

import argparse
import gc
import json
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from importlib.abc import Loader, MetaPathFinder
from importlib.machinery import ModuleSpec
from pathlib import Path
from types import CodeType, FunctionType, ModuleType
from typing import Any

import coverage
import hypothesis
import pytest
from _pytest.runner import runtestprotocol

from tests.mutations import Mutation, mutated, mutations

ROOT = Path(__file__).parents[1]
RULES = Path("league/rules")
TESTS = ("tests/rules", "tests/files", "league/rules")
# The draw, its pegs and what the guard sees are proved by vectors and statistics of their own.
NOT_SCORING = ("bank", "draw", "notice", "pegs", "rotation", "slips", "walks", "errors", "__init__")
QUICK = (
    "-q",
    "-x",
    "--no-header",
    "--tb=no",
    "-n",
    "0",
    "-p",
    "no:playwright",
    "--doctest-modules",
)
# Hypothesis is loaded before pytest is, to have its profile.
QUICK += ("-W", "ignore:Module already imported")
LEFT_OUT = tuple(f"--ignore-glob=*{name}*" for name in ("draw", "pegs", "rotation", "guard"))
TOOK = Path("took.json")  # in the copy: seconds by test, so that the quickest are run first
NOT_PATCHED = 3  # how a child ends that must be tried from the start
SECONDS = 20  # of computing that one test may take before the fault counts as found


def main() -> None:
    """Read what is asked, make the copy, and run there."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[1])
    parser.add_argument("--modules", nargs="*", default=[], help="names in league/rules")
    parser.add_argument("--sample", type=int, default=0, help="so many faults, drawn by --seed")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--until", default="", help="start no fault after this time of day: 16:30")
    parser.add_argument("--only", nargs="*", default=[], help="faults by name, as the report does")
    parser.add_argument("--cases", type=int, default=10, help="made up for each law")
    parser.add_argument("--twice", action="store_true", help="try survivors from the start too")
    parser.add_argument("--in-copy", action="store_true", help=argparse.SUPPRESS)
    parser.add_argument("--one", default="", help=argparse.SUPPRESS)
    asked = parser.parse_args()
    if asked.one:
        sys.exit(_from_the_start(asked.one, asked.cases))
    if asked.in_copy:
        _run(asked)
        return
    with tempfile.TemporaryDirectory(prefix="mutants-") as copy:
        _copy_to(Path(copy))
        command = [sys.executable, "-m", "tests.mutants", "--in-copy", *sys.argv[1:]]
        there = os.environ | {"PYTHONPATH": copy}
        sys.exit(subprocess.run(command, cwd=copy, env=there).returncode)


def _copy_to(copy: Path) -> None:
    listed = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        check=True,
        text=True,
    )
    for name in filter(None, listed.stdout.split("\0")):
        if (ROOT / name).is_file():
            (copy / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(ROOT / name, copy / name)


def _modules(asked: Sequence[str]) -> list[str]:
    every = sorted(path.stem for path in RULES.glob("*.py"))
    return [
        name for name in every if (name in asked if asked else not name.startswith(NOT_SCORING))
    ]


def _chosen(asked: argparse.Namespace) -> list[tuple[str, Mutation]]:
    """The faults to try, in an order drawn by the seed, so that what fits in time is a sample."""
    pool = [
        (name, mutation)
        for name in _modules(asked.modules)
        for mutation in mutations((RULES / f"{name}.py").read_text())
    ]
    _say(f"{len(pool)} faults can be made in {len({name for name, _ in pool})} files.")
    if asked.only:
        return [each for each in pool if _called(*each) in asked.only]
    random.Random(asked.seed).shuffle(pool)
    chosen = pool[: asked.sample or None]
    # Those that need an interpreter of their own come last: each takes as long as many others.
    return sorted(chosen, key=lambda each: not each[1].running)


def _called(name: str, mutation: Mutation) -> str:
    return f"{name}:{mutation.line}:{mutation.number}"


def _say(words: str) -> None:
    sys.stdout.write(f"{words}\n")
    sys.stdout.flush()


def _same_cases_every_time() -> None:
    """What is made up hangs on the test alone; nothing is made smaller once it fails."""
    phases = [hypothesis.Phase.explicit, hypothesis.Phase.generate]
    hypothesis.settings.register_profile(
        "mutants", derandomize=True, database=None, deadline=None, phases=phases
    )
    hypothesis.settings.load_profile("mutants")


def _run(asked: argparse.Namespace) -> None:
    _same_cases_every_time()
    trial = _Trial(_chosen(asked), asked.until, asked.cases, twice=asked.twice)
    status = pytest.main([*QUICK, *LEFT_OUT, *TESTS], plugins=[trial])
    if trial.began:
        trial.report()
    sys.exit(0 if trial.began else status)


class _Trial:
    """A plugin of pytest: where it would run the tests once, it runs them fault by fault."""

    def __init__(
        self, chosen: Sequence[tuple[str, Mutation]], until: str, cases: int, *, twice: bool
    ) -> None:
        self.chosen, self.until, self.cases, self.twice = chosen, until, cases, twice
        self.functions: list[FunctionType] = []
        self.began = False
        self.tried = 0
        self.found = 0
        self.survivors: list[tuple[str, Mutation]] = []
        self.took: dict[str, float] = {}
        self.lately: list[str] = []  # tests that found something, the last one first

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Run every test once to see which lines it needs, then try the faults."""
        assert Path(sys.modules["league"].__file__ or "").is_relative_to(Path.cwd())
        items = {item.nodeid: item for item in session.items}
        for item in session.items:
            _fewer_cases(item, self.cases)
        lines = self._lines_of(session.items)
        self.functions = [
            each
            for each in gc.get_objects()
            if isinstance(each, FunctionType) and str(RULES) in each.__code__.co_filename
        ]
        gc.freeze()
        self.began = True
        started = time.time()
        for name, mutation in self.chosen:
            if self.until and time.strftime("%H:%M") >= self.until:
                break
            self.tried += 1
            if self._is_found(name, mutation, items, lines[name]):
                self.found += 1
            else:
                self.survivors.append((name, mutation))
                _say(f"  survives: {_said(name, mutation)}")
            if self.tried % 50 == 0:
                _say(f"{self.tried} tried, {time.time() - started:.0f} s")
        return True

    def _lines_of(self, items: Sequence[pytest.Item]) -> dict[str, dict[int, set[str]]]:
        """For every file of the rules, which tests run which line."""
        watch = coverage.Coverage(data_file=None, include=[f"{RULES.resolve()}/*"])
        watch.start()
        for item in items:
            watch.switch_context(item.nodeid)
            started = time.perf_counter()
            reports = runtestprotocol(item, nextitem=None, log=False)
            self.took[item.nodeid] = time.perf_counter() - started
            if any(report.failed for report in reports):
                pytest.exit(f"{item.nodeid} fails before anything is changed.", returncode=1)
        watch.stop()
        TOOK.write_text(json.dumps(self.took))
        _say(f"{len(items)} tests, {sum(self.took.values()):.0f} s.")
        data = watch.get_data()
        found: dict[str, dict[int, set[str]]] = {path.stem: {} for path in RULES.glob("*.py")}
        for path in data.measured_files():
            by_line = data.contexts_by_lineno(path)
            found[Path(path).stem] = {
                line: {context for context in contexts if context}
                for line, contexts in by_line.items()
            }
        return found

    def _is_found(
        self,
        name: str,
        mutation: Mutation,
        items: dict[str, pytest.Item],
        lines: dict[int, set[str]],
    ) -> bool:
        if mutation.running:
            running: set[str] = set()
            for line in range(mutation.line, mutation.last_line + 1):
                running |= lines.get(line, set())
            recent = {nodeid: place for place, nodeid in enumerate(self.lately[:20])}
            order = sorted(running, key=lambda nodeid: (recent.get(nodeid, 99), self.took[nodeid]))
            code, finder = _in_a_child(
                self.functions, name, mutation, [items[nodeid] for nodeid in order]
            )
            if finder:
                self.lately = [finder, *(each for each in self.lately if each != finder)]
            if code != NOT_PATCHED and not (code == 0 and self.twice):
                return code != 0
        command = [sys.executable, "-m", "tests.mutants", "--one", _called(name, mutation)]
        command += ["--cases", str(self.cases)]
        return subprocess.run(command, capture_output=True).returncode != 0

    def report(self) -> None:
        """Print the counts and who is left."""
        share = f": {100 * self.found / self.tried:.1f} % found" if self.tried else ""
        _say(f"{self.tried} tried, {self.found} found, {len(self.survivors)} survive{share}.")
        for name, mutation in sorted(self.survivors, key=lambda each: (each[0], each[1].line)):
            _say(_said(name, mutation))


def _fewer_cases(item: pytest.Item, cases: int) -> None:
    inner = getattr(item, "obj", None)
    settings = getattr(inner, "_hypothesis_internal_use_settings", None)
    if inner is not None and settings is not None:
        few = hypothesis.settings(settings, max_examples=min(cases, settings.max_examples))
        inner._hypothesis_internal_use_settings = few


def _said(name: str, mutation: Mutation) -> str:
    line = (RULES / f"{name}.py").read_text().splitlines()[mutation.line - 1].strip()
    return f"{_called(name, mutation)}  {mutation.words}  |  {line[:100]}"


def _in_a_child(
    functions: Sequence[FunctionType], name: str, mutation: Mutation, items: Sequence[pytest.Item]
) -> tuple[int, str]:
    """How it ended, 0 where every test passed, and which test failed."""
    read, write = os.pipe()
    child = os.fork()
    if not child:
        os.close(read)
        _try_here(functions, name, mutation, items, write)
    os.close(write)
    with os.fdopen(read) as pipe:
        said = pipe.read()
    _, status = os.waitpid(child, 0)
    return os.waitstatus_to_exitcode(status), said


def _try_here(
    functions: Sequence[FunctionType],
    name: str,
    mutation: Mutation,
    items: Sequence[pytest.Item],
    write: int,
) -> None:
    """In the child: put the fault in, run the tests, leave without looking back."""
    try:
        quiet = os.open(os.devnull, os.O_WRONLY)
        os.dup2(quiet, 1)
        os.dup2(quiet, 2)
        gc.disable()
        if not _patched(functions, (RULES / f"{name}.py").resolve(), mutation):
            os._exit(NOT_PATCHED)
        for item in items:
            signal.setitimer(signal.ITIMER_PROF, SECONDS)  # nobody hears it: the child ends
            reports = runtestprotocol(item, nextitem=None, log=False)
            if any(report.failed for report in reports):
                os.write(write, item.nodeid.encode())
                os._exit(1)
        os._exit(0)
    except BaseException:
        os._exit(1)


def _patched(functions: Sequence[FunctionType], path: Path, mutation: Mutation) -> bool:
    """Give every function of the file at *path*, wherever it is kept, its code with the fault."""
    source = path.read_text()
    old = dict(_codes(compile(source, str(path), "exec", dont_inherit=True)))
    new = dict(_codes(compile(mutated(source, mutation), str(path), "exec", dont_inherit=True)))
    if old.keys() != new.keys():
        return False
    for each in functions:
        if each.__code__.co_filename == str(path):
            place = _place(each.__code__)
            if place not in new or new[place].co_freevars != each.__code__.co_freevars:
                return False
            each.__code__ = new[place]
    for loaded in [one for key, one in sys.modules.items() if key.startswith("league.")]:
        for kept in vars(loaded).values():
            if hasattr(kept, "cache_clear"):
                kept.cache_clear()
    return True


def _codes(code: CodeType) -> Iterator[tuple[Any, CodeType]]:
    for inner in code.co_consts:
        if isinstance(inner, CodeType):
            yield _place(inner), inner
            yield from _codes(inner)


def _place(code: CodeType) -> tuple[str, int, int | None]:
    column = next((each[2] for each in code.co_positions() if each[2]), None)
    return code.co_qualname, code.co_firstlineno, column


class _Changed(MetaPathFinder, Loader):
    """Loads one file of the rules with a fault in it."""

    def __init__(self, name: str, mutation: Mutation) -> None:
        self.name, self.mutation = name, mutation
        self.path = (RULES / f"{name}.py").resolve()

    def find_spec(self, fullname: str, path: object, target: object = None) -> ModuleSpec | None:
        if fullname != f"league.rules.{self.name}":
            return None
        return ModuleSpec(fullname, self, origin=str(self.path))

    def exec_module(self, module: ModuleType) -> None:
        module.__file__ = str(self.path)
        tree = mutated(self.path.read_text(), self.mutation)
        exec(compile(tree, str(self.path), "exec", dont_inherit=True), module.__dict__)  # noqa: S102


class _QuickestFirst:
    """A plugin of pytest: few made-up cases, and the tests in the order of their time."""

    def __init__(self, cases: int) -> None:
        self.cases = cases

    @pytest.hookimpl(trylast=True)
    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Sort what was collected."""
        took = json.loads(TOOK.read_text())
        items.sort(key=lambda item: took.get(item.nodeid, 0))
        for item in items:
            _fewer_cases(item, self.cases)


def _from_the_start(called: str, cases: int) -> int:
    """With the fault there before anything is imported: 0 where every test passes."""
    name = called.partition(":")[0]
    source = (RULES / f"{name}.py").read_text()
    (mutation,) = (each for each in mutations(source) if _called(name, each) == called)
    sys.meta_path.insert(0, _Changed(name, mutation))
    _same_cases_every_time()
    signal.setitimer(signal.ITIMER_PROF, 10 * SECONDS)
    return int(pytest.main([*QUICK, *LEFT_OUT, *TESTS], plugins=[_QuickestFirst(cases)]))


if __name__ == "__main__":
    main()
