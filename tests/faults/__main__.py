"""Run the matrix: ``python -m tests.faults [--quick]``; the exit status is 1 where a law is broken.

The full form tries PostgreSQL too where NOTICES_TEST_POSTGRESQL names a server.
"""

import os
import sys
import tempfile
from pathlib import Path

from tests.faults import matrix, servers


def main() -> int:
    """Run the form that was asked for, and print its tables."""
    quick = "--quick" in sys.argv[1:]
    size, wanted = matrix.quick() if quick else matrix.full(os.environ.get("NOTICES_TEST_POSTGRESQL") or None)
    broken: list[str] = []
    with tempfile.TemporaryDirectory() as folder:
        for verdict in matrix.run(size, wanted, Path(folder) / "kills"):
            _say(matrix.table([verdict]))
            broken += verdict.ledger.broken
        found = servers.run(servers.QUICK if quick else servers.CASES, Path(folder) / "servers")
        _say(servers.table(found))
        broken += [what for one in found for what in one.broken]
    _say(f"\n{len(broken)} laws broken" if broken else "\nEvery law holds.")
    return 1 if broken else 0


def _say(text: str) -> None:
    sys.stdout.write(text + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    sys.exit(main())
