"""Read a translation that comes back as XLIFF 2.0 or 2.1 (OASIS), unit by unit, each with its line.

Somebody else's file is hostile input: no document type is read, so that no entity can be declared, and nothing is
fetched. What this reader does not know is a fault with its line, and the other units go on.
"""

from dataclasses import dataclass, field
from xml.parsers import expat

from notices.wording import po
from notices.wording.xliff import NAMESPACE, READ_BY

_VERSIONS = frozenset({"2.0", "2.1"})
_DEEPEST = 40
_LOST = frozenset(
    {"pc", "sc", "ec"}
)  # codes that no text of a campaign has; of an annotation (mrk, sm, em) the text goes on


class _Refused(Exception):  # noqa: N818 - it ends the reading, and is no error of ours
    """The file is refused whole; the text says why."""


@dataclass(kw_only=True, slots=True)
class _Unit:
    line: int
    name: str
    data: dict[str, str] = field(default_factory=dict)
    source: list[str] = field(default_factory=list)
    target: list[str] = field(default_factory=list)
    segments: int = 0
    targets: int = 0
    fuzzy: bool = False
    fault: str = ""


class _Reader:
    def __init__(self) -> None:
        self.parser = expat.ParserCreate(namespace_separator=" ")
        self.parser.StartElementHandler = self.start
        self.parser.EndElementHandler = self.end
        self.parser.CharacterDataHandler = self.text
        self.parser.StartDoctypeDeclHandler = self.doctype
        self.parser.buffer_text = True
        self.headers: dict[str, str] = {}
        self.entries: list[po.Entry] = []
        self.faults: list[po.Fault] = []
        self.path: list[str] = []
        self.unit: _Unit | None = None
        self.kept: list[str] = []  # where text goes that is read now
        self.state = ""
        self.about = ""

    @property
    def line(self) -> int:
        return self.parser.CurrentLineNumber

    def doctype(self, *_ignored: object) -> None:
        raise _Refused("a document type (DOCTYPE) may not stand in it")

    def start(self, name: str, attributes: dict[str, str]) -> None:
        space, _, tag = name.rpartition(" ")
        if not self.path:
            self.root(space, tag, attributes)
        self.path.append(tag if space == NAMESPACE else "")
        if len(self.path) > _DEEPEST:
            raise _Refused(f"its elements are nested more than {_DEEPEST} deep")
        if space != NAMESPACE:
            return
        if self.unit is None:
            self.outside(tag, attributes)
        else:
            self.inside(self.unit, tag, attributes)

    def root(self, space: str, tag: str, attributes: dict[str, str]) -> None:
        version = attributes.get("version", "none")
        if tag != "xliff" or space != NAMESPACE or version not in _VERSIONS:
            raise _Refused(
                f"it must be XLIFF 2.1, and is {tag} {version}; export it anew or have it saved as 2.1"
            )
        self.headers["language"] = attributes.get("trgLang", "")

    def outside(self, tag: str, attributes: dict[str, str]) -> None:
        if tag == "unit":
            self.unit = _Unit(line=self.line, name=attributes.get("name", ""))
        elif tag == "note":
            self.about, self.kept = attributes.get("category", ""), []

    def inside(self, unit: _Unit, tag: str, attributes: dict[str, str]) -> None:
        if tag == "data":
            self.about, self.kept = attributes.get("id", ""), []
        elif tag in {"segment", "ignorable"}:
            self.state = attributes.get("state", "") if tag == "segment" else ""
            unit.segments += tag == "segment"
        elif tag in {"source", "target"} and self.path[-2] in {"segment", "ignorable"}:
            self.kept = unit.source if tag == "source" else unit.target
            unit.targets += tag == "target" and self.path[-2] == "segment"
            unit.fuzzy = unit.fuzzy or (tag == "target" and self.state == "initial")
            if "order" in attributes:
                unit.fault = "its segments stand in another order than the source's; join them"
        elif tag == "ph":
            self.code(unit, attributes.get("dataRef", ""))
        elif tag == "cp":
            self.sign(unit, attributes.get("hex", ""))
        elif tag in _LOST:
            unit.fault = f"it holds the code <{tag}>, which no text of a campaign has"

    def code(self, unit: _Unit, name: str) -> None:
        held = unit.data.get(name)
        if held is None:
            unit.fault = "it holds a placeholder without original data"
        else:
            self.kept.append(held)

    def sign(self, unit: _Unit, digits: str) -> None:
        try:
            found = chr(int(digits, 16))
        except (ValueError, OverflowError):
            unit.fault = "it holds a sign that is no number (cp)"
        else:
            self.kept.append(found)

    def text(self, text: str) -> None:
        self.kept.append(text)

    def end(self, name: str) -> None:
        self.path.pop()
        space, _, tag = name.rpartition(" ")
        if space != NAMESPACE:
            return
        if self.unit is None:
            if tag == "note" and self.about == READ_BY:
                self.headers["x-read-by"] = " ".join("".join(self.kept).split())
        elif tag == "unit":
            self.finish(self.unit)
            self.unit = None
        elif tag == "data":
            self.unit.data[self.about] = "".join(self.kept)
        if tag in {"source", "target", "data", "note"}:
            self.kept = []

    def finish(self, unit: _Unit) -> None:
        source, target = "".join(unit.source), "".join(unit.target)
        if not unit.fault and 0 < unit.targets < unit.segments:
            unit.fault = "a part of it has no target"
        if unit.fault:
            self.faults.append(po.Fault(line=unit.line, message=f"unit {unit.name[:60]}: {unit.fault}"))
            return
        self.entries.append(
            po.Entry(
                msgid=source,
                context=unit.name,
                line=unit.line,
                translations=(target,),
                flags=("fuzzy",) if unit.fuzzy and target.strip() else (),
            )
        )


def looks_like_xml(data: bytes) -> bool:
    """Say whether the bytes begin as XML does, in UTF-8 or UTF-16, whatever the file's name."""
    return data[:200].removeprefix(b"\xef\xbb\xbf").lstrip().startswith(b"<") or data[:2] in {
        b"\xff\xfe",
        b"\xfe\xff",
    }


def read_xliff(data: bytes) -> po.PoText:
    """Read a whole file into entries as a PO file has them; a file that is refused is one fault and no entry."""
    reader = _Reader()
    try:
        reader.parser.Parse(data, True)  # noqa: FBT003 - expat's own argument: this is all
    except _Refused as fault:
        return _nothing(str(fault), reader.line)
    except expat.ExpatError as fault:
        return _nothing(f"it is not XML ({expat.ErrorString(fault.code)})", fault.lineno)
    except (LookupError, ValueError):  # an encoding that expat does not know
        return _nothing("its encoding is not known; save it as UTF-8", 1)
    return po.PoText(
        headers=reader.headers, head="", entries=tuple(reader.entries), faults=tuple(reader.faults)
    )


def _nothing(message: str, line: int) -> po.PoText:
    return po.PoText(headers={}, head="", entries=(), faults=(po.Fault(line=line, message=message),))
