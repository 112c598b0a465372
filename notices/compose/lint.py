"""Whether our MJML is what the compiler understands: it takes misspelt tags and attributes without a word."""

from collections.abc import Mapping
from xml.parsers import expat

_TEXT = frozenset(
    {
        "align",
        "color",
        "css-class",
        "font-family",
        "font-size",
        "font-weight",
        "letter-spacing",
        "line-height",
        "padding",
    }
)
_INLINE = frozenset({"aria-hidden", "class", "dir", "lang", "style"})

# Tag -> the attributes we use on it (MJML 4 documentation, from memory). Nothing beside them is let through.
ALLOWED: Mapping[str, frozenset[str]] = {
    "mjml": frozenset({"dir", "lang"}),
    "mj-head": frozenset(),
    "mj-title": frozenset(),
    "mj-preview": frozenset(),
    "mj-raw": frozenset(),
    "mj-style": frozenset(),
    "mj-attributes": frozenset(),
    "mj-all": frozenset({"font-family"}),
    "mj-body": frozenset({"background-color", "width"}),
    "mj-section": frozenset({"background-color", "direction", "padding"}),
    "mj-column": frozenset({"background-color", "border", "direction"}),
    "mj-text": _TEXT,
    "mj-image": frozenset({"alt", "fluid-on-mobile", "font-size", "padding", "src"}),
    "mj-button": frozenset(
        {
            "background-color",
            "border-radius",
            "color",
            "font-size",
            "font-weight",
            "href",
            "inner-padding",
            "line-height",
            "padding",
            "width",
        }
    ),
    "meta": frozenset({"content", "name"}),
    **dict.fromkeys(("bdi", "div", "h1", "h2", "li", "ol", "p", "span", "strong", "ul"), _INLINE),
    "a": _INLINE | {"href"},
    "br": frozenset(),
}
_NEEDED: Mapping[str, frozenset[str]] = {
    "mjml": frozenset({"dir", "lang"}),
    "mj-image": frozenset({"alt", "src"}),
    "mj-button": frozenset({"href"}),
}
_PARENTS: Mapping[str, frozenset[str]] = {
    "mj-section": frozenset({"mj-body", "mj-attributes"}),
    "mj-column": frozenset({"mj-section", "mj-attributes"}),
    "mj-text": frozenset({"mj-column", "mj-attributes"}),
    "mj-image": frozenset({"mj-column", "mj-attributes"}),
    "mj-button": frozenset({"mj-column", "mj-attributes"}),
}


class _Lint:
    """Takes one tag after the other and gathers the faults."""

    def __init__(self) -> None:
        self.faults: list[str] = []
        self.open: list[str] = []
        self.parser = expat.ParserCreate()
        self.parser.StartElementHandler = self.start
        self.parser.EndElementHandler = self.end
        self.parser.StartDoctypeDeclHandler = self.doctype

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        place = f"line {self.parser.CurrentLineNumber}"
        parent = self.open[-1] if self.open else ""
        self.open.append(tag)
        if tag not in ALLOWED:
            self.faults.append(f"{place}: <{tag}> is no tag of ours")
            return
        self.faults += [
            f"{place}: <{tag}> takes no {name}" for name in attributes if name not in ALLOWED[tag]
        ]
        if parent == "mj-attributes":
            return
        self.faults += [
            f"{place}: <{tag}> lacks {name}"
            for name in sorted(_NEEDED.get(tag, frozenset()) - attributes.keys())
        ]
        if parent not in _PARENTS.get(tag, {parent}):
            self.faults.append(f"{place}: <{tag}> cannot stand in <{parent}>")

    def end(self, _tag: str) -> None:
        self.open.pop()

    def doctype(self, *_declared: object) -> None:
        self.faults.append("a document type has no place in MJML")


def lint(source: str) -> tuple[str, ...]:
    """Return what is wrong with MJML: not XML, or a tag, attribute or nesting that is not on our list."""
    one = _Lint()
    try:
        one.parser.Parse(source, True)  # noqa: FBT003 - expat's own way to say that this is all
    except expat.ExpatError as fault:
        one.faults.append(f"line {fault.lineno}: {expat.errors.messages[fault.code]}")
    return tuple(one.faults)
