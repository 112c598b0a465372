"""Many findings that are alike, as one that counts its rows; and all of them as a table for whoever mends the list."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from audiences.findings import Finding, in_reading_order

FEWEST = 10
"""So many findings that are alike are still told one by one."""

HEADINGS = ("file", "row", "column", "severity", "what", "code", "mend")
_FIRST = 3  # rows that are named


def grouped(findings: Iterable[Finding]) -> list[Finding]:
    """Return the findings in reading order, those alike as one at their first row where they are more than FEWEST.

    Alike are findings of one code, in one column of one file, whose rows differ.
    """
    groups: dict[tuple[str, str, str], list[Finding]] = {}
    for finding in in_reading_order(set(findings)):
        groups.setdefault((finding.file, finding.code, finding.path), []).append(finding)
    return in_reading_order(one for group in groups.values() for one in _as_one(group))


def _as_one(group: list[Finding]) -> Iterator[Finding]:
    rows = list(dict.fromkeys(finding.line for finding in group if finding.line is not None))
    if len(rows) <= FEWEST:
        yield from group
        return
    named = ", ".join(map(str, rows[:_FIRST]))
    same = len({finding.message for finding in group}) == 1
    first = group[0]
    yield replace(
        first,
        message=f"{first.message}{'' if same else ' (or alike)'}; so in {len(rows):,} rows, first rows {named}",
    )


def as_rows(findings: Iterable[Finding]) -> list[tuple[str | int, ...]]:
    """Return every finding as a row under HEADINGS, in reading order; none quotes what an owner's cell holds."""
    return [
        (
            finding.file,
            finding.line or "",
            finding.path,
            finding.severity.value,
            finding.message,
            finding.code,
            finding.mend,
        )
        for finding in in_reading_order(set(findings))
    ]
