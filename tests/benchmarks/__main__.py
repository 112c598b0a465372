"""Run the benchmarks: ``python -m tests.benchmarks [NAME] [--quick]``; the exit status is 1 where a bound is not kept.

``--quick`` does each thing a few times and asks only that both ways give the same, never how long they take.
"""

import sys
from collections.abc import Callable, Iterable, Iterator, Sequence

from tests.benchmarks import handing_over, lists, long_lists, mails, registers, single_codes, starting
from tests.benchmarks.timing import Line

BENCHMARKS: dict[str, Callable[..., Iterator[Line]]] = {
    "rendering": mails.rendering,
    "whole-messages": mails.whole_messages,
    "composing": mails.composing_many,
    "importing": lists.importing_rows,
    "importing-long": long_lists.importing_long,
    "single-codes": single_codes.by_single_codes,
    "handing-over": handing_over.as_fast_as_it_goes,
    "slow-line": handing_over.through_a_slow_line,
    "one-event-sqlite": registers.one_event_sqlite,
    "one-event-postgresql": registers.one_event_postgresql,
    "many-cases": registers.many_cases,
    "help": starting.help_text,
}


def run(names: Iterable[str], *, quick: bool) -> Iterator[Line]:
    """Yield what each benchmark says."""
    for name in names:
        yield from BENCHMARKS[name](quick=quick)


def main(words: Sequence[str]) -> int:
    """Print a line for each benchmark that was named, or for all."""
    quick = "--quick" in words
    names = [word for word in words if word != "--quick"] or list(BENCHMARKS)
    unknown = [name for name in names if name not in BENCHMARKS]
    if unknown:
        sys.stderr.write(f"no benchmark is called {unknown[0]}; there are {', '.join(BENCHMARKS)}\n")
        return 2
    kept = True
    for line in run(names, quick=quick):
        sys.stdout.write(f"{line}\n")
        sys.stdout.flush()
        kept = kept and (quick or line.holds)
    return 0 if kept else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
