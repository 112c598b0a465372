"""A list of single codes: one a line in a file, kept small and asked fast, up to a million of them."""

from array import array
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from itertools import groupby

from audiences.findings import Finding, Severity
from audiences.folding import fold

LONGEST_LIST = 1_000_000  # codes
LARGEST_FILE = 100_000_000  # bytes
_CELL_ENDS = (";", ",", "\t")
_END = "\n"  # folding drops line ends, so that no code holds one


@dataclass(frozen=True, slots=True, repr=False)
class CodeList:
    """Folded codes, sorted, each once; *text* holds one a line, and two lists are equal where their texts are.

    A table of places in the text, twice as long as the list at least, finds a code by its hash: some 22 bytes a code,
    where a set of texts takes 90.
    """

    text: str
    _table: "array[int]" = field(init=False, compare=False)

    def __post_init__(self) -> None:
        """Enter each code at the first free place from its hash on; 0 marks a free one."""
        table = array("I", bytes(4 << (2 * self.text.count(_END) + 1).bit_length()))
        last = len(table) - 1
        at = 0
        for key in self:
            place = hash(key) & last
            while table[place]:
                place = (place + 1) & last
            at += 1
            table[place] = at
            at += len(key)
        object.__setattr__(self, "_table", table)

    @classmethod
    def of(cls, codes: Iterable[str]) -> "CodeList":
        """Return the list of these codes, however they are written; what folds to nothing is none."""
        return _of_keys(map(fold, codes))

    def __contains__(self, key: str) -> bool:
        """Tell whether a folded code is on the list."""
        last = len(self._table) - 1
        place = hash(key) & last
        line = f"{key}{_END}"
        while at := self._table[place]:
            if self.text.startswith(line, at - 1):
                return True
            place = (place + 1) & last
        return False

    def __len__(self) -> int:
        """Return how many codes there are."""
        return self.text.count(_END)

    def __iter__(self) -> Iterator[str]:
        """Yield the folded codes in order."""
        begin = 0
        while (end := self.text.find(_END, begin)) >= 0:
            yield self.text[begin:end]
            begin = end + 1

    def __repr__(self) -> str:
        """Say how many codes there are; a million of them are no message."""
        return f"<{len(self)} codes>"


def read_codes(
    data: bytes, file: str, key_of: Callable[[str], str] = fold
) -> tuple[CodeList | None, tuple[Finding, ...]]:
    """Read a file with one code a line, the first cell where a line has several; None where it cannot be read.

    *key_of* gives the key under which a code is compared. A first line without a digit is a heading. A code that
    stands there twice counts once, and is told.
    """
    if len(data) > LARGEST_FILE or b"\0" in data[:4096]:
        return None, (_form(file),)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = data.decode("cp1252", "replace")  # the signs of a code are the same in both
    lines = text.splitlines()
    if lines and not any(sign.isdecimal() for sign in lines[0]):
        lines[0] = ""
    keys = [key_of(_first_cell(line)) for line in lines]
    codes = _of_keys(keys)
    if not codes:
        return None, (_empty(file),)
    if len(codes) > LONGEST_LIST:
        return None, (_too_long(file, len(codes)),)
    twice = sum(map(bool, keys)) - len(codes)
    return codes, (_twice(file, twice, _first_twice(keys)),) if twice else ()


def _of_keys(keys: Iterable[str]) -> CodeList:
    return CodeList("".join(f"{key}{_END}" for key, _ in groupby(sorted(keys)) if key))


def _first_cell(line: str) -> str:
    for end in _CELL_ENDS:
        if end in line:
            line = line[: line.index(end)]
    return line.strip().strip('"')


def _first_twice(keys: Iterable[str]) -> int:
    """Return the line of the first code that stood there before."""
    lines: dict[str, int] = {}
    return next(line for line, key in enumerate(keys, 1) if key and lines.setdefault(key, line) != line)


def _form(file: str) -> Finding:
    return Finding(
        code="code-list-form",
        file=file,
        line=1,
        message="this is no text with one code a line, or it is larger than 100 MB",
        mend="save the codes as text or CSV, one code a line, the code in the first column",
    )


def _empty(file: str) -> Finding:
    return Finding(
        code="code-list-empty",
        file=file,
        line=1,
        message="no code stands in the file",
        mend="put one code a line into it, or take the list out of the campaign",
    )


def _too_long(file: str, count: int) -> Finding:
    return Finding(
        code="code-list-too-long",
        file=file,
        line=LONGEST_LIST + 1,
        message=f"{count} codes stand in the file; a list holds a million",
        mend="say by ranges what can be said so, and keep single codes for the rest, or part the list",
    )


def _twice(file: str, count: int, line: int) -> Finding:
    return Finding(
        code="code-list-twice",
        file=file,
        line=line,
        message=f"{count} lines repeat a code of this list",
        mend="compare the number of codes with the number of units that were meant",
        severity=Severity.CONSIDER,
    )
