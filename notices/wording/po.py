"""Read and write the PO format (GNU gettext manual, "The Format of PO Files"), each entry with its line.

Our own reader, because a lead's file is hostile input: it keeps the line of every entry, says which line it
could not read, keeps entries that stand twice, and takes no line without its quotes.
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

_KEYWORD = re.compile(r'(msgctxt|msgid_plural|msgid|msgstr)(?:\[(\d)\])?\s*("(?:[^"\\]|\\.)*")')
_STRING = re.compile(r'"(?:[^"\\]|\\.)*"')
_ESCAPE = re.compile(r"\\(.)")
_ESCAPED = {"n": "\n", "t": "\t", "r": "\r", '"': '"', "\\": "\\"}
_TO_ESCAPE = str.maketrans({"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t", "\r": "\\r"})


NOBODY = "nobody"
"""What the head of a file says, as X-Read-By, of a wording that no second person has read."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Entry:
    """One message: *line* is where its msgid stands; *comments* holds no flags or previous text."""

    msgid: str
    line: int = 0
    context: str = ""
    plural: str = ""
    translations: tuple[str, ...] = ()
    flags: tuple[str, ...] = ()
    comments: tuple[str, ...] = ()
    previous: str = ""
    obsolete: bool = False

    @property
    def fuzzy(self) -> bool:
        """Say whether somebody must look at it again before it is used."""
        return "fuzzy" in self.flags

    @property
    def complete(self) -> bool:
        """Say whether every form is written and none is fuzzy."""
        return bool(self.translations) and all(self.translations) and not self.fuzzy


@dataclass(frozen=True, kw_only=True, slots=True)
class Fault:
    """A line that is not PO, and why."""

    line: int
    message: str


@dataclass(frozen=True, kw_only=True, slots=True)
class PoText:
    """A file as read: *headers* by lower-case name, *head* as PO, the entries, and what was unreadable."""

    headers: Mapping[str, str]
    head: str
    entries: tuple[Entry, ...]
    faults: tuple[Fault, ...]

    @property
    def unread(self) -> bool:
        """Say whether its head says, as X-Read-By, that no second person has read it."""
        return self.headers.get("x-read-by", "").strip().lower() == NOBODY


@dataclass(kw_only=True, slots=True)
class _Draft:
    """An entry while its lines come in."""

    parts: dict[str, list[str]] = field(default_factory=dict)
    comments: list[str] = field(default_factory=list)
    flags: list[str] = field(default_factory=list)
    previous: list[str] = field(default_factory=list)
    line: int = 0
    obsolete: bool = False
    broken: bool = False
    open: str = ""

    @property
    def ended(self) -> bool:
        return any(part.startswith("msgstr") for part in self.parts)

    def entry(self) -> Entry:
        strings = sorted(part for part in self.parts if part.startswith("msgstr"))
        return Entry(
            msgid="".join(self.parts["msgid"]),
            line=self.line,
            context="".join(self.parts.get("msgctxt", ())),
            plural="".join(self.parts.get("msgid_plural", ())),
            translations=tuple("".join(self.parts[part]) for part in strings),
            flags=tuple(self.flags),
            comments=tuple(self.comments),
            previous="".join(self.previous),
            obsolete=self.obsolete,
        )


class _Reader:
    """Takes one line after the other."""

    def __init__(self) -> None:
        self.entries: list[Entry] = []
        self.faults: list[Fault] = []
        self.draft = _Draft()

    def fault(self, line: int, message: str) -> None:
        self.draft.broken = True
        self.faults.append(Fault(line=line, message=message))

    def flush(self) -> None:
        draft, self.draft = self.draft, _Draft()
        if draft.broken or not draft.parts:
            return
        if "msgid" not in draft.parts or not draft.ended:
            lacking = "msgstr" if "msgid" in draft.parts else "msgid"
            self.faults.append(Fault(line=draft.line, message=f"the entry has no {lacking}"))
            return
        self.entries.append(draft.entry())

    def take(self, number: int, line: str) -> None:
        if not line and (self.draft.ended or self.draft.broken):  # a blank line ends an entry
            self.flush()
        elif line.startswith("#~") and not line.startswith("#~|"):
            self.keyword(number, line[2:].strip(), obsolete=True)
        elif line.startswith("#"):
            self.comment(number, line)
        else:
            self.keyword(number, line, obsolete=False)

    def comment(self, number: int, line: str) -> None:
        if self.draft.parts or self.draft.broken:
            self.flush()
        if line.startswith("#,"):
            self.draft.flags += [flag.strip() for flag in line[2:].split(",") if flag.strip()]
        elif line.startswith(("#|", "#~|")):
            self.before(number, line.partition("|")[2].strip())
        else:
            self.draft.comments.append(line)

    def before(self, number: int, body: str) -> None:
        """Keep the text that a fuzzy entry once translated; its old context is not needed."""
        match = _KEYWORD.fullmatch(body)
        if match and match[1] == "msgid":
            self.draft.previous.append(self.unquote(number, match[3]))
        elif self.draft.previous and _STRING.fullmatch(body):
            self.draft.previous.append(self.unquote(number, body))

    def keyword(self, number: int, body: str, *, obsolete: bool) -> None:
        if not body:
            return
        if self.draft.open and _STRING.fullmatch(body):
            self.draft.parts[self.draft.open].append(self.unquote(number, body))
            return
        match = _KEYWORD.fullmatch(body)
        if match is None:
            self.fault(number, 'a line must be a keyword and a text in quotes, as msgstr "…"')
            return
        self.begin(number, match[1] + (match[2] or ""), obsolete=obsolete)
        self.draft.parts[self.draft.open] = [self.unquote(number, match[3])]

    def begin(self, number: int, part: str, *, obsolete: bool) -> None:
        starts = part in ("msgctxt", "msgid")
        if starts and ("msgid" in self.draft.parts or self.draft.broken):
            self.flush()
        if part in self.draft.parts:
            self.fault(number, f"{part} stands twice in one entry")
        if part == "msgid" or not self.draft.line:
            self.draft.line = number
        self.draft.obsolete = obsolete
        self.draft.open = part

    def unquote(self, number: int, quoted: str) -> str:
        wrong = [letter for letter in _ESCAPE.findall(quoted) if letter not in _ESCAPED]
        if wrong:
            self.fault(number, f"\\{wrong[0]} is not an escape; write \\\\ for a backslash")
        return _ESCAPE.sub(lambda match: _ESCAPED.get(match[1], ""), quoted[1:-1])


def read(text: str) -> PoText:
    """Read a whole file; what cannot be read is a fault with its line, and the other entries go on."""
    reader = _Reader()
    for number, line in enumerate(text.removeprefix("\ufeff").split("\n"), start=1):
        reader.take(number, line.strip(" \t\r"))
    reader.flush()
    entries = [entry for entry in reader.entries if entry.msgid or entry.context]
    heads = [entry for entry in reader.entries if not entry.msgid and not entry.context]
    return PoText(
        headers=_headers(heads[0].translations[0]) if heads else {},
        head=render(heads[0]) if heads else "",
        entries=tuple(entries),
        faults=tuple(reader.faults),
    )


def _headers(text: str) -> Mapping[str, str]:
    pairs = (line.partition(":") for line in text.split("\n") if ":" in line)
    return {name.strip().lower(): value.strip() for name, _, value in pairs}


def head(headers: Mapping[str, str], comments: Iterable[str] = ()) -> str:
    """Render a header entry; the PO format keeps it in the translation of the empty text."""
    text = "".join(f"{name}: {value}\n" for name, value in headers.items())
    return render(Entry(msgid="", translations=(text,), comments=tuple(comments)))


def render(entry: Entry) -> str:
    """Render one entry as it stands in a file, without the blank line after it."""
    return "".join(f"{line}\n" for line in _lines(entry))


def _lines(entry: Entry) -> Iterator[str]:
    mark = "#~ " if entry.obsolete else ""
    yield from entry.comments
    if entry.flags:
        yield f"#, {', '.join(entry.flags)}"
    if entry.previous:
        yield from (f"#| {line}" for line in _quoted("msgid", entry.previous))
    if entry.context:
        yield from (mark + line for line in _quoted("msgctxt", entry.context))
    yield from (mark + line for line in _quoted("msgid", entry.msgid))
    if entry.plural:
        yield from (mark + line for line in _quoted("msgid_plural", entry.plural))
    for number, text in enumerate(entry.translations or ("",)):
        keyword = f"msgstr[{number}]" if entry.plural else "msgstr"
        yield from (mark + line for line in _quoted(keyword, text))


def _quoted(keyword: str, text: str) -> Iterator[str]:
    """Break only where the text itself has a line break: a sentence on one line is found by searching."""
    pieces = re.findall(r"[^\n]*\n|[^\n]+", text)
    if len(pieces) > 1:
        yield f'{keyword} ""'
        yield from (f'"{piece.translate(_TO_ESCAPE)}"' for piece in pieces)
    else:
        yield f'{keyword} "{text.translate(_TO_ESCAPE)}"'
