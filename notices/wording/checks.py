"""Whether what owners read says what it must, in words that they understand: one function a question."""

from collections.abc import Callable, Iterator

from audiences.findings import Finding, in_reading_order
from notices.wording.passages import Reading

Check = Callable[[Reading], Iterator[Finding]]

WORDING_CHECKS: tuple[Check, ...] = ()


def check(reading: Reading) -> tuple[Finding, ...]:
    """Return every finding of every check of the words, in the order of the files."""
    return tuple(in_reading_order(finding for one in WORDING_CHECKS for finding in one(reading)))
