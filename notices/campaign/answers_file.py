"""The answers as a file that repeats them: TOML, each below its question."""

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from audiences.cleaning import one_line
from audiences.findings import Finding
from notices.campaign.answers import FILE, Given, plain
from notices.campaign.questions import ASKS

_KEY = re.compile(r"\s*([\w\"'-]+)\s*=")
_AT_LINE = re.compile(r"at line ([0-9]+)")


def to_toml(given: Given) -> str:
    """Return the lines that were typed as TOML 1.0, each below its question; `from_toml` reads them back."""
    return "\n".join(_written(given))


def _written(given: Given) -> Iterator[str]:
    yield "# The answers that this campaign began with. ? is not yet known. To begin again with them:"
    yield "#   notices new DIR --answers answers.toml"
    for ask in ASKS:
        if ask.key in given:
            lines = [_quoted(plain(line)) for line in given[ask.key]]
            alone = len(lines) == 1 and not ask.several
            yield f"\n# {ask.words}"
            yield f"{ask.key} = {lines[0] if alone else '[' + ', '.join(lines) + ']'}"
    yield ""


def _quoted(text: str) -> str:
    """Quote a line without controls as a basic string (TOML 1.0)."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'


@dataclass(frozen=True, kw_only=True, slots=True)
class Kept:
    """What a file of answers holds: the typed lines by key, on which line of the file; what is wrong with the file."""

    given: Mapping[str, tuple[str, ...]]
    lines: Mapping[str, int]
    findings: tuple[Finding, ...]


def from_toml(text: str) -> Kept:
    """Read a file of answers; what it holds beside them is a finding each."""
    try:
        read_back = tomllib.loads(text)
    except (RecursionError, ValueError) as error:
        return Kept(given={}, lines={}, findings=(_not_toml(str(error)),))
    lines = {
        found[1].strip("\"'"): at
        for at, line in enumerate(text.split("\n"), 1)
        if (found := _KEY.match(line))
    }
    known = {ask.key for ask in ASKS}
    given: dict[str, tuple[str, ...]] = {}
    findings: list[Finding] = []
    for key, value in read_back.items():
        said = value if isinstance(value, list) else [value]
        if key in known and all(isinstance(line, str | int | date) for line in said):
            given[key] = tuple(map(str, said))
        else:
            findings.append(_stray(key, lines.get(key), known=key in known))
    return Kept(given=given, lines=lines, findings=tuple(findings))


def _not_toml(error: str) -> Finding:
    place = _AT_LINE.search(error)
    return Finding(
        code="answers-not-toml",
        file=FILE,
        line=int(place[1]) if place else None,
        message=f"the answers cannot be read: {one_line(error)}",
        mend='write each as key = "answer", and several as key = ["one", "two"]',
        source="TOML 1.0",
    )


def _stray(key: str, line: int | None, *, known: bool) -> Finding:
    return Finding(
        code="answer-form",
        file=FILE,
        line=line,
        path=one_line(key),
        message="an answer is a text or a list of texts" if known else "no question has this key",
        mend='write it in quotes, as "answer"'
        if known
        else "take the line out; notices new --help lists the keys",
    )
