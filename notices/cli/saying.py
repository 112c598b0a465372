"""How a command speaks: plain lines, findings one a line, a question with its answer, a status at the end."""

import json
import sys
import unicodedata
from collections.abc import Iterable, Sequence
from typing import NoReturn

import typer

from audiences.findings import Finding, in_reading_order, must_mend

MEND = 1
USAGE = 2
# Joiners that some scripts need; every other invisible sign is spelled out, for it may steer a terminal.
_KEPT = frozenset("\u200c\u200d")


def shown(text: str) -> str:
    """Return *text* with every control and invisible sign spelled out, so that it stays on its line."""
    return "".join(
        sign
        if sign in _KEPT or unicodedata.category(sign)[0] not in "CZ" or sign in " \u00a0"
        else _spelled(sign)
        for sign in text
    )


def _spelled(sign: str) -> str:
    if unicodedata.category(sign) == "Zs":
        return " "
    return f"\\x{ord(sign):02x}" if ord(sign) < 256 else f"\\u{ord(sign):04x}"  # noqa: PLR2004 - two hexadecimal digits


def say(text: str = "") -> None:
    """Print lines as they are, each without control signs; nothing wraps them."""
    typer.echo("\n".join(shown(line) for line in text.split("\n")))


def warn(text: str) -> None:
    """Print a line where complaints go."""
    typer.echo("\n".join(shown(line) for line in text.split("\n")), err=True)


def say_json(value: object) -> None:
    """Print *value* as JSON."""
    typer.echo(json.dumps(value, ensure_ascii=False, indent=2))


def say_findings(findings: Iterable[Finding]) -> bool:
    """Print findings in reading order, one line each and its mend below; say whether one must be mended."""
    return say_in_order(in_reading_order(set(findings)))


def say_in_order(findings: Sequence[Finding]) -> bool:
    """Print findings in the order given; say whether one must be mended.

    Where one cites a law, a line at the end says who decides.
    """
    from notices.campaign.duties import CLOSING, cites_law

    for finding in findings:
        say("\n".join(" ".join(line.split("\n")) for line in finding.lines))
    if any(cites_law(finding.source) for finding in findings):
        say(CLOSING)
    return bool(must_mend(findings))


def finding_as_json(finding: Finding) -> dict[str, object]:
    """Return a finding in the shape that other programs read."""
    return {
        "code": finding.code,
        "severity": finding.severity.value,
        "file": finding.file,
        "line": finding.line,
        "path": finding.path,
        "message": finding.message,
        "mend": finding.mend,
        "source": finding.source,
        "overruled": finding.overruled,
    }


def ask(question: str, *, yes: bool) -> None:
    """Ask, and go on only at *y*; with *yes* nothing is asked, and without anybody to answer it is a fault of usage."""
    if yes:
        return
    typer.echo(f"{shown(question)} [y/N] ", nl=False)
    answer = sys.stdin.readline()
    if not answer:
        say()
        stop("nobody is there to answer, and nothing was done; give --yes to go on without asking")
    if answer.strip().lower() not in {"y", "yes"}:
        say("Nothing was done.")
        raise typer.Exit(MEND)


def stop(sentence: str) -> NoReturn:
    """End with status 2 and one plain sentence: something about the call or this machine is wrong."""
    warn(f"notices: {sentence}")
    raise typer.Exit(USAGE)


def end(*, mend: bool) -> None:
    """End with status 1 where something must be mended or was refused."""
    if mend:
        raise typer.Exit(MEND)


def number(count: int, one: str, many: str | None = None) -> str:
    """Return a count with its noun: ``1 owner``, ``449 owners``."""
    return f"{count} {one if count == 1 else many or one + 's'}"
