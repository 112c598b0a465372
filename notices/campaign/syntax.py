"""What is wrong where a file is not YAML, in words for somebody who does not know YAML."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from ruamel.yaml.error import MarkedYAMLError

from audiences.findings import Finding

_LONGEST_SHOWN = 60
# YAML 1.2.2, section 5.1, c-printable: everything else may not stand in a file.
_NOT_PRINTABLE = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def shown(text: str) -> str:
    """Return *text* on one line, in quotes, short, and without signs that cannot be seen."""
    folded = " ".join(text.split())
    visible = "".join(sign if sign.isprintable() else "\N{REPLACEMENT CHARACTER}" for sign in folded)
    short = visible if len(visible) <= _LONGEST_SHOWN else visible[:_LONGEST_SHOWN] + "…"
    return f"“{short}”"


def unprintable(text: str, file: str) -> Iterator[Finding]:
    """Yield one finding for each line that holds a sign no YAML file may hold (NUL, controls, surrogates)."""
    for number, line in enumerate(re.split("\r\n|\n|\r", text), start=1):
        found = _NOT_PRINTABLE.search(line)
        if found:
            yield Finding(
                code="yaml-sign",
                file=file,
                line=number,
                message=f"the sign U+{ord(found.group()):04X} cannot be read and may not stand in the file",
                mend="delete it; in an editor it may show as a box, or not at all",
            )


@dataclass(frozen=True, kw_only=True, slots=True)
class _Wording:
    """Our words for one kind of complaint of the YAML reader."""

    begins: str
    message: str
    mend: str


# The first that the complaint begins with wins.
_COMPLAINTS = (
    _Wording(
        begins="mapping values are not allowed",
        message="there is a second colon on this line, or the line above does not end as it should",
        mend="put the whole text after the first colon in quotes",
    ),
    _Wording(
        begins="sequence entries are not allowed",
        message="a dash stands where no list can begin",
        mend="set each dash on a line of its own below the key, or put the text in quotes",
    ),
    _Wording(
        begins="found character '\\t'",
        message="a tab stands where spaces must stand",
        mend="set the line in with spaces",
    ),
    _Wording(
        begins="found character",
        message="an unquoted text cannot begin with this sign",
        mend="put the text in quotes",
    ),
    _Wording(
        begins="found unexpected end of stream",
        message="a quotation mark is opened here and never closed",
        mend="close it where the text ends",
    ),
    _Wording(
        begins="found unknown escape character",
        message="a backslash in double quotes stands before a sign that has no meaning there",
        mend="write two backslashes, or use single quotes",
    ),
    _Wording(
        begins="expected escape sequence",
        message="a backslash in double quotes is followed by too few digits",
        mend="write two backslashes, or use single quotes",
    ),
    _Wording(
        begins="expected ',' or",
        message="a bracket is opened and not closed, or a comma is missing",
        mend="close the bracket; put a text that holds a comma or a bracket in quotes",
    ),
    _Wording(
        begins="expected <block end>",
        message="this line is set in differently from the lines it belongs to",
        mend="begin lines that belong together at the same place",
    ),
    _Wording(
        begins="could not find expected ':'",
        message="a key stands here without a colon",
        mend="write key: text, with a space after the colon",
    ),
    _Wording(
        begins="expected the node content",
        message="something stands here that closes what was never opened",
        mend="take it out, or put the text in quotes",
    ),
)
_OTHERWISE = _Wording(
    begins="",
    message="the file cannot be read from this line on",
    mend="look at this line and the one above: quotes, brackets, and where the lines begin",
)


def syntax_finding(fault: MarkedYAMLError, text: str, file: str) -> Finding:
    """Say what is wrong, and where: for what was never closed, the line where it was opened."""
    problem = str(fault.problem)
    wording = next((known for known in _COMPLAINTS if problem.startswith(known.begins)), _OTHERWISE)
    opened = "never closed" in wording.message or "not closed" in wording.message
    mark = fault.context_mark if opened and fault.context_mark is not None else fault.problem_mark
    last = len(text.rstrip("\n").split("\n"))
    return Finding(
        code="yaml-syntax",
        file=file,
        line=min(mark.line + 1, last),
        message=wording.message,
        mend=wording.mend,
    )
