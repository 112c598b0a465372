"""Write the lead's wording in another language as a PO file, with what helps whoever translates it."""

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from difflib import SequenceMatcher

from notices.campaign.models import Campaign
from notices.campaign.texts import translatable
from notices.wording import placeholders, po
from notices.wording.catalogues import CatalogueError, plural_header

Key = tuple[str, str]
"""A text of the campaign: its path without list places, and what it says in the source language."""

Notes = Callable[[str, str], Iterable[str]]
"""Given path and source text, returns the lines that help to translate it."""

_ALIKE = 0.6  # of difflib; below it a new text is another text, not the old one reworded
_NOTE = "#. "
_FORMAT = "python-format"  # what msgfmt --check knows our placeholders by


def write_po(campaign: Campaign, tag: str, previous_text: str | None, notes: Notes | None = None) -> str:
    """Return the PO text for *campaign* in *tag*, in the order of the campaign.

    What *previous_text* translates is kept; a reworded text keeps its translation as fuzzy, with the text it
    was made for; what is gone is kept as obsolete. Written again, nothing changes. With *notes* each entry bears
    them as extracted comments, and says where its per cent signs are placeholders.
    """
    before = po.read(previous_text or "")
    entries = merged(campaign, before)
    dressed = [_dressed(entry, notes) for entry in entries] if notes else entries
    return "\n".join([before.head or _new_head(campaign, tag), *map(po.render, dressed)])


def take(
    campaign: Campaign,
    tag: str,
    previous_text: str | None,
    incoming: Mapping[Key, str],
    *,
    read_by: str | None,
) -> str:
    """Return the PO text with *incoming* put in the place of what it translates, and all else as it stood.

    *read_by* is who has read the incoming texts. Where nobody says, and one of them is new, nobody has.
    """
    before = po.read(previous_text or "")
    entries, changed = [], False
    for entry in merged(campaign, before):
        text = None if entry.obsolete else incoming.get((entry.context, entry.msgid))
        if text is None or (entry.complete and entry.translations == (text,)):
            entries.append(entry)
            continue
        changed = True
        flags = tuple(flag for flag in entry.flags if flag != "fuzzy")
        entries.append(replace(entry, translations=(text,), flags=flags, previous=""))
    head = before.head or _new_head(campaign, tag)
    if read_by or changed:
        head = _read_by(head, read_by or po.NOBODY)
    return "\n".join([head, *map(po.render, entries)])


def merged(campaign: Campaign, before: po.PoText) -> list[po.Entry]:
    """Return an entry for every text of *campaign*, in its order, then what only *before* holds, as obsolete."""
    known = {(entry.context, entry.msgid): entry for entry in before.entries if not entry.obsolete}
    retired = {(entry.context, entry.msgid): entry for entry in before.entries if entry.obsolete}
    wanted = dict.fromkeys(translatable(campaign))
    spare = {key: entry for key, entry in known.items() if key not in wanted and any(entry.translations)}
    alone = {path for path, count in Counter(path for path, _ in wanted).items() if count == 1}
    entries = []
    for key in wanted:
        entry = known.get(key) or retired.pop(key, None) or _reworded(key, spare, alone=key[0] in alone)
        entries.append(replace(entry or po.Entry(context=key[0], msgid=key[1]), obsolete=False))
    return [*entries, *retired.values(), *(replace(entry, obsolete=True) for entry in spare.values())]


def _dressed(entry: po.Entry, notes: Notes) -> po.Entry:
    """Give an entry its notes, and the flag that is true of it; what a translator noted stays."""
    kept = tuple(line for line in entry.comments if not line.startswith("#."))
    flags = tuple(flag for flag in entry.flags if flag != _FORMAT)
    if entry.obsolete:
        return replace(entry, comments=kept, flags=flags)
    if _is_format(entry.msgid):
        flags = (*flags, _FORMAT)
    said = (_NOTE + " ".join(line.split()) for line in notes(entry.context, entry.msgid))
    return replace(entry, comments=(*kept, *said), flags=flags)


def _is_format(text: str) -> bool:
    """Say whether a per cent sign stands in *text*, and every one begins a placeholder."""
    pieces = placeholders.split(text)
    return len(pieces) > sum(isinstance(piece, str) for piece in pieces) and all(
        "%" not in piece for piece in pieces if isinstance(piece, str)
    )


def _read_by(head: str, name: str) -> str:
    """Put who has read the wording into the head of a file."""
    line = f"X-Read-By: {' '.join(name.split())}".replace("\\", "\\\\").replace('"', '\\"')
    others = [each for each in head.splitlines() if not each.lower().startswith('"x-read-by:')]
    return "\n".join([*others, f'"{line}\\n"', ""])


def _reworded(key: Key, spare: dict[Key, po.Entry], *, alone: bool) -> po.Entry | None:
    """Take from *spare* what most likely was this text before; a place that holds one text is sure of it."""
    path, text = key
    near = [(SequenceMatcher(None, text, old[1]).ratio(), old) for old in spare if old[0] == path]
    alike, old = max(near, default=(0.0, key))
    if not near or (alike < _ALIKE and not alone):
        return None
    entry = spare.pop(old)
    if entry.previous == text:  # the old wording is back, and with it the translation that was made for it
        return replace(entry, msgid=text, flags=(), previous="")
    return replace(entry, msgid=text, flags=("fuzzy",), previous=entry.previous or old[1])


def _new_head(campaign: Campaign, tag: str) -> str:
    try:
        plural = {"Plural-Forms": plural_header(tag)}
    except CatalogueError:
        plural = {}  # a campaign's texts are not counted, so a language without a rule can be written too
    headers = {
        "Project-Id-Version": campaign.name or campaign.product.name,
        "Language": tag,
        "MIME-Version": "1.0",
        "Content-Type": "text/plain; charset=UTF-8",
        "Content-Transfer-Encoding": "8bit",
        **plural,
        "X-Read-By": po.NOBODY,
    }
    return po.head(headers)
