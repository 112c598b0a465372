"""What can be wrong in ``risk.toml``, in the words of who can mend it."""

import difflib
from collections.abc import Sequence
from dataclasses import dataclass

from audiences.findings import Finding, Severity

LARGEST = 100_000
"""Bytes; fifty scenarios with their reasons have half of it."""
MOST_STEPS = 20


@dataclass(frozen=True, kw_only=True, slots=True)
class Place:
    """Where in the file: *line* counts from 1, *path* is ``scenario[0].step[1].reason``, both from 0."""

    file: str
    line: int | None
    path: str = ""


def too_large(at: Place) -> Finding:
    """Refuse what is no list of scenarios."""
    return Finding(
        code="risk-file-too-large",
        file=at.file,
        message=f"this is more than {LARGEST} bytes, and no list of scenarios",
        mend="keep the scenarios here, and reports and tables in evidence/",
    )


def not_toml(at: Place) -> Finding:
    """Name the line from which on nothing can be read."""
    return Finding(
        code="risk-not-toml",
        file=at.file,
        line=at.line,
        message="from here on it cannot be read as TOML",
        mend='write each key once, texts in quotes, as in happens = "…"',
    )


def scenario_missing(at: Place) -> Finding:
    """Name a file that tells of no harm."""
    return Finding(
        code="risk-scenario-missing",
        file=at.file,
        line=at.line,
        message="there is no scenario in it, so there is no level",
        mend="write how somebody comes to harm under [[scenario]], or take the # away from the example",
    )


def wrong_form(at: Place, header: str) -> Finding:
    """Name what stands where a list of tables is read; *header* is how each begins."""
    return Finding(
        code="risk-wrong-form",
        file=at.file,
        line=at.line,
        path=at.path,
        message=f"there may be several, so each begins with {header}",
        mend=f"write {header} on a line of its own, with two brackets, and its keys below",
    )


def key_unknown(at: Place, key: str, known: Sequence[str]) -> Finding:
    """Name a key that nothing is read from."""
    close = difflib.get_close_matches(key.lower(), known, n=1)
    return Finding(
        code="risk-key-unknown",
        file=at.file,
        line=at.line,
        path=at.path,
        message="nothing is read from this",
        mend=f"did you mean {close[0]}?" if close else f"known here: {', '.join(known)}",
    )


def words_missing(at: Place) -> Finding:
    """Name a scenario or step that says nothing."""
    return Finding(
        code="risk-words-missing",
        file=at.file,
        line=at.line,
        path=at.path,
        message="nobody can tell what is meant to happen",
        mend='write happens = "…" in a sentence',
    )


def reason_missing(at: Place, key: str) -> Finding:
    """Name a figure that nobody can check."""
    return Finding(
        code="risk-reason-missing",
        file=at.file,
        line=at.line,
        path=at.path,
        message="a figure without a reason is a guess that nobody can check",
        mend=f'write {key} = "…": a test, a count, a report, or that it is your own estimate',
    )


def severity_unusable(at: Place) -> Finding:
    """Name a severity that is none of the four."""
    return Finding(
        code="risk-severity-unusable",
        file=at.file,
        line=at.line,
        path=at.path,
        message="how bad the harm is, is a whole number from 1 to 4",
        mend="1 basic treatment, 2 emergency care, 3 hospital or a lasting loss, 4 can kill",
    )


def probability_unusable(at: Place) -> Finding:
    """Name a probability that is none."""
    return Finding(
        code="risk-probability-unusable",
        file=at.file,
        line=at.line,
        path=at.path,
        message="a probability is above 0 and at most 1",
        mend='write "1/50", "1 in 50", "2 %" or 0.02, no comma or space in a number; 1 where it always happens',
    )


def steps_missing(at: Place) -> Finding:
    """Name a scenario without a step."""
    return Finding(
        code="risk-steps-missing",
        file=at.file,
        line=at.line,
        path=at.path,
        message="nothing leads to the harm here, so it has no probability",
        mend="write each step under [[scenario.step]] with happens, probability and reason",
    )


def steps_too_many(at: Place, number: int) -> Finding:
    """Name a scenario that is taken apart too finely to be judged."""
    return Finding(
        code="risk-steps-too-many",
        file=at.file,
        line=at.line,
        path=at.path,
        message=f"{number} steps: each further guess makes the product less worth",
        mend=f"tell it in {MOST_STEPS} steps at most; three to six are usual",
    )


def example_kept(at: Place) -> Finding:
    """Name a sentence of the invented example."""
    return Finding(
        code="risk-example-kept",
        file=at.file,
        line=at.line,
        path=at.path,
        message="this is a sentence of the invented example, and no product of yours",
        mend="write what happens with your product, and your own probability and reason",
        severity=Severity.CONSIDER,
    )


def file_missing(at: Place) -> Finding:
    """Say what to write where there is nothing yet."""
    return Finding(
        code="risk-file-missing",
        file=at.file,
        line=at.line,
        message="nobody has written yet how somebody comes to harm",
        mend="notices risk --begin writes it with an invented scenario, to be written over with yours",
    )
