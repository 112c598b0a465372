"""A translation as XLIFF (OASIS XLIFF 2.1, core): one unit a text, its name the path, its placeholders as ``<ph>``."""

import re
from collections.abc import Iterator
from xml.sax.saxutils import escape, quoteattr

from notices.campaign.models import Campaign
from notices.wording import po
from notices.wording.placeholders import Placeholder, split
from notices.wording.translation_files import Notes, merged

NAMESPACE = "urn:oasis:names:tc:xliff:document:2.0"
READ_BY = "read-by"
"""The category of the file's note that says who has read the wording."""
PREVIOUS = "previous-source"
# XML 1.0, 2.2: no other sign may stand in a document; XLIFF 2.1, 4.2.3.1, writes those as <cp>.
_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]|\r")


def write_xliff(campaign: Campaign, tag: str, previous_text: str, notes: Notes) -> str:
    """Return *campaign* in *tag* as XLIFF, with what the PO text *previous_text* translates.

    White space counts; a text that was reworded has the state ``initial`` and a note with its earlier wording.
    """
    before = po.read(previous_text)
    entries = [entry for entry in merged(campaign, before) if not entry.obsolete]
    read_by = before.headers.get("x-read-by") or po.NOBODY
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<xliff xmlns="{NAMESPACE}" version="2.1" srcLang={quoteattr(campaign.language)} trgLang={quoteattr(tag)}>',
        '  <file id="campaign" original="campaign.yaml" xml:space="preserve">',
        f'    <notes><note category="{READ_BY}">{escape(read_by)}</note></notes>',
        *(line for number, entry in enumerate(entries, start=1) for line in _unit(number, entry, notes)),
        "  </file>",
        "</xliff>",
        "",
    ]
    return "\n".join(lines)


def _unit(number: int, entry: po.Entry, notes: Notes) -> Iterator[str]:
    target = entry.translations[0] if entry.translations else ""
    found = list(
        dict.fromkeys(
            piece for text in (entry.msgid, target) for piece in split(text) if isinstance(piece, Placeholder)
        )
    )
    data = {placeholder: f"d{at}" for at, placeholder in enumerate(found, start=1)}
    yield f'    <unit id="u{number}" name={quoteattr(entry.context)} canResegment="no">'
    yield "      <notes>"
    yield from (f"        <note>{escape(line)}</note>" for line in notes(entry.context, entry.msgid))
    if entry.previous:
        yield f'        <note category="{PREVIOUS}">{_clean(entry.previous)}</note>'
    yield "      </notes>"
    if data:
        yield "      <originalData>"
        yield from (f'        <data id="{name}">{escape(str(each))}</data>' for each, name in data.items())
        yield "      </originalData>"
    state = "initial" if entry.fuzzy or not target else "translated"
    yield f'      <segment state="{state}">'
    yield f"        <source>{_inline(entry.msgid, data)}</source>"
    if target:
        yield f"        <target>{_inline(target, data)}</target>"
    yield from ("      </segment>", "    </unit>")


def _inline(text: str, data: dict[Placeholder, str]) -> str:
    """Write a text with its placeholders as codes; each has an id of its own, the same in source and target."""
    counts: dict[Placeholder, int] = {}
    pieces: list[str] = []
    for piece in split(text):
        if isinstance(piece, str):
            pieces.append(_coded(piece))
            continue
        counts[piece] = counts.get(piece, 0) + 1
        code = f'id="{data[piece]}.{counts[piece]}" dataRef="{data[piece]}"'
        pieces.append(f'<ph {code} equiv={quoteattr(piece.name)} canDelete="no"/>')
    return "".join(pieces)


def _coded(text: str) -> str:
    return _NOT_XML.sub(lambda sign: f'<cp hex="{ord(sign[0]):04X}"/>', escape(text))


def _clean(text: str) -> str:
    return escape(_NOT_XML.sub("\N{REPLACEMENT CHARACTER}", text))
