"""What a test needs of this machine: skipped with a reason where it is missing, a failure where all must run."""

import os
import shutil
from typing import NoReturn

import pytest

EVERYTHING = os.environ.get("NOTICES_TESTS") == "all"


def missing(reason: str) -> NoReturn:
    """Skip the test for *reason*; fail instead where NOTICES_TESTS is ``all``."""
    if EVERYTHING:
        pytest.fail(f"NOTICES_TESTS=all, but {reason}")
    pytest.skip(reason)


def command(name: str, *, debian: str) -> str:
    """Return the path of a command; *debian* names the package that brings it."""
    found = shutil.which(name)
    if found is None:
        missing(f"{name} is not installed (Debian: {debian})")
    return found


def postgresql() -> str:
    """Return the address of the PostgreSQL server that tests may use."""
    address = os.environ.get("NOTICES_TEST_POSTGRESQL")
    if not address:
        missing("NOTICES_TEST_POSTGRESQL names no server")
    return address
