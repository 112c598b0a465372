"""What a check has to say about the user's files: where, what, and what to do."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """Only what must be mended stops a sending; the rest is printed and passed over.

    What is overruled must have been mended, had not a named person judged otherwise.
    """

    MUST_MEND = "must mend"
    CONSIDER = "consider"
    OVERRULED = "overruled"


@dataclass(frozen=True, kw_only=True, slots=True)
class Finding:
    """One fault in one place, worded for the person who can mend it.

    *file* is the path inside the campaign folder; *line* counts from 1; *path* is ``a.b[2].c``; *source*
    names the law, standard or custom that says so, where there is one; *overruled* who judged otherwise, and why.
    """

    code: str
    file: str
    message: str
    line: int | None = None
    path: str = ""
    mend: str = ""
    severity: Severity = Severity.MUST_MEND
    source: str = ""
    overruled: str = ""

    @property
    def remedy(self) -> str:
        """Return what is to be done about it, or who has said that nothing is."""
        if self.overruled:
            return f"overruled by {self.overruled}"
        return f"mend: {self.mend}" if self.mend else ""

    @property
    def lines(self) -> tuple[str, ...]:
        """Return ``file:line: severity [code] path: message``, then the mend, then who says so."""
        place = self.file if self.line is None else f"{self.file}:{self.line}"
        subject = f"{self.path}: " if self.path else ""
        head = f"{place}: {self.severity} [{self.code}] {subject}{self.message}"
        source = f"source: {self.source}" if self.source else ""
        return (head, *(f"    {line}" for line in (self.remedy, source) if line))

    def __str__(self) -> str:
        """Render its lines, one below the other."""
        return "\n".join(self.lines)


class InvalidInputError(ValueError):
    """Raised once, at the edge, with every finding; never inside a check."""

    def __init__(self, findings: Iterable[Finding]) -> None:
        """Keep the findings in the order a reader would meet them in the files."""
        self.findings = in_reading_order(findings)
        super().__init__("\n".join(map(str, self.findings)))


def in_reading_order(findings: Iterable[Finding]) -> list[Finding]:
    """Sort by file, line and path, so that two runs print the same."""
    return sorted(findings, key=lambda f: (f.file, f.line or 0, f.path, f.code, f.message))


def must_mend(findings: Iterable[Finding]) -> list[Finding]:
    """Return the findings that hold something back."""
    return [finding for finding in findings if finding.severity is Severity.MUST_MEND]
