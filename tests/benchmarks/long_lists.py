"""A long list beside one of a tenth its length: how time a row grows, and how much memory the taking in holds."""

import json
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from tests.benchmarks.lists import a_list
from tests.benchmarks.timing import Bound, Line
from tests.source import ROOT

_MEMORY = 300_000_000
# A process of its own for each: what another has used before is never given back to the system whole.
_ALONE = """
import json, resource, sys
from pathlib import Path
from tests.benchmarks.lists import a_world, take
from tests.benchmarks.timing import cpu

place = Path(sys.argv[1])
with a_world(place / "campaign") as world:
    began = cpu()
    new = take(world, (place / "shop.csv").read_bytes()).new
    spent = cpu() - began
# getrusage(2): on Linux the peak is told in kilobytes
peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024
print(json.dumps([new, spent, peak]))
"""


def importing_long(*, quick: bool) -> Iterator[Line]:
    """Take in a list ten times as long as another; each once, for it takes minutes."""
    size = 3_000 if quick else 1_000_000
    short, _ = _taken(size // 10)
    long, peak = _taken(size)
    ratio = long / size / (short / (size // 10))
    yield Line(name="importing-long", ratio=ratio, bound=Bound(limit=1.3), size=size, clock="cpu")
    yield Line(
        name="importing-memory", ratio=peak / _MEMORY, bound=Bound(limit=1.0), size=size, clock="bytes"
    )


def _taken(size: int) -> tuple[float, int]:
    """Return the seconds of processor time that a list of *size* rows takes, and the peak of memory in bytes."""
    with tempfile.TemporaryDirectory() as place:
        (Path(place) / "shop.csv").write_bytes(a_list(size))
        words = [sys.executable, "-c", _ALONE, place]
        said = subprocess.run(words, cwd=ROOT, check=True, capture_output=True, text=True)
    new, spent, peak = json.loads(said.stdout)
    assert new == size, new
    return spent, peak
