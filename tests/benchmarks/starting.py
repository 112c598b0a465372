"""How long a person waits for the list of commands."""

import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from tests.benchmarks import yardsticks_outside as yardsticks
from tests.benchmarks.timing import ROUNDS, Bound, Line, ready, slowness
from tests.source import ROOT

_TIMES = 5


def help_text(*, quick: bool) -> Iterator[Line]:
    """Compare with the help of a bare program that has as many commands, with the same names."""

    def printed(*words: str) -> str:
        asked = [sys.executable, *words, "--help"]
        return subprocess.run(asked, cwd=ROOT, check=True, capture_output=True, text=True).stdout

    with tempfile.TemporaryDirectory() as folder:
        program = Path(folder) / "bare.py"
        ours = printed("-m", "notices.cli")
        program.write_text(yardsticks.program(ours), "utf-8")
        bare = printed(str(program))
        assert yardsticks.commands(ours) == yardsticks.commands(bare)
        times = 1 if quick else _TIMES

        def work(*words: str) -> None:
            for _ in range(times):
                printed(*words)

        ratio = slowness(
            ready(lambda: work("-m", "notices.cli")),
            ready(lambda: work(str(program))),
            rounds=1 if quick else ROUNDS,
        )
    size = len(yardsticks.commands(bare))
    yield Line(name="help", ratio=ratio, bound=Bound(limit=2), size=size, clock="cpu")
