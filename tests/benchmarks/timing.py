"""Two ways of doing the same, timed in turns: the median of their ratios counts, for machines are noisy."""

import gc
import json
import resource
import time
from collections.abc import Callable
from dataclasses import dataclass
from statistics import median

ROUNDS = 5
Work = Callable[[], object]
Prepare = Callable[[], Work]  # makes ready what the clock is not to count


@dataclass(frozen=True, kw_only=True, slots=True)
class Bound:
    """What a ratio is held to; *at_least* where more is better, else it may be at most *limit*."""

    limit: float
    at_least: bool = False

    def holds(self, ratio: float) -> bool:
        """Say whether *ratio* keeps the bound."""
        return ratio >= self.limit if self.at_least else ratio <= self.limit


@dataclass(frozen=True, kw_only=True, slots=True)
class Line:
    """What one benchmark says: *size* is how many things were done, *clock* cpu, wall or bytes."""

    name: str
    ratio: float
    bound: Bound
    size: int
    clock: str

    @property
    def holds(self) -> bool:
        """Say whether the bound is kept."""
        return self.bound.holds(self.ratio)

    def __str__(self) -> str:
        """Render as one line of JSON."""
        side = "at_least" if self.bound.at_least else "at_most"
        said = {
            "name": self.name,
            "ratio": round(self.ratio, 3),
            "bound": {side: self.bound.limit},
            "holds": self.holds,
            "size": self.size,
            "clock": self.clock,
        }
        return json.dumps(said)


def cpu() -> float:
    """Return the seconds of processor time that this process and its ended children have used."""
    whose = (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)
    return sum(used.ru_utime + used.ru_stime for used in map(resource.getrusage, whose))


def seconds(prepare: Prepare, clock: Callable[[], float]) -> float:
    """Return how long one piece of work takes, once it is made ready."""
    work = prepare()
    gc.collect()
    gc.freeze()  # what the benchmark itself holds is not to be looked through at each way's cost
    try:
        began = clock()
        work()
        return clock() - began
    finally:
        gc.unfreeze()


def slowness(
    ours: Prepare, bare: Prepare, *, clock: Callable[[], float] = cpu, rounds: int = ROUNDS
) -> float:
    """Return the median over *rounds* of how many times as long as the bare way ours takes."""
    return median(seconds(ours, clock) / seconds(bare, clock) for _ in range(rounds))


def ready(work: Work) -> Prepare:
    """Return work that needs no making ready."""
    return lambda: work


def wall() -> float:
    """Return the seconds on the wall."""
    return time.perf_counter()
