"""Read the lead's wording in another language: one PO file a language beside the campaign.

An entry is ``msgctxt`` = path in campaign.yaml without list places, ``msgid`` = source text. It is current if
both fit, fuzzy with its previous text if the source was reworded, obsolete if its place or text is gone.
"""

import unicodedata
from collections import Counter
from collections.abc import Iterator, Mapping

from audiences.findings import Finding, Severity
from notices.campaign.models import Campaign
from notices.campaign.texts import translatable
from notices.wording import facts, placeholders, places, po
from notices.wording.catalogues import CatalogueError, plural_count
from notices.wording.languages import autonym, canonical

_Key = tuple[str, str]  # path without list places, source text

# UAX #9: embeddings and overrides turn round what stands around them; isolates do not. Those are allowed in a
# translation, in pairs, because right-to-left wording needs them around numbers and codes.
_OVERRIDES = frozenset("\u202a\u202b\u202c\u202d\u202e")
_OPENING, _CLOSING = frozenset("\u2066\u2067\u2068"), "\u2069"
_UNSEEN = frozenset({"Cc", "Cs", "Cn"})
_WORDS_OF_A_SENTENCE = 4  # a shorter text may well be the same in two languages: a name, a number
_LONGEST_EXCERPT = 60


def read_po(
    po_text: str, tag: str, campaign: Campaign, file: str
) -> tuple[Mapping[_Key, str], tuple[Finding, ...]]:
    """Return the translation for *campaign*, and what is wrong with it, each finding with its line in *file*.

    An entry with a fault that must be mended is left out of the translation. A language that the campaign
    does not list as written gives no translation and one remark.
    """
    if canonical(tag) not in {canonical(written) for written in campaign.languages.written}:
        return {}, (_not_listed(tag, file),)
    return read_entries(po.read(po_text), tag, campaign, file)


def read_entries(
    found: po.PoText, tag: str, campaign: Campaign, file: str
) -> tuple[Mapping[_Key, str], tuple[Finding, ...]]:
    """Do the same with entries that have been read already, whether *tag* is listed or not."""
    wanted = tuple(dict.fromkeys(translatable(campaign)))
    if not found.entries and not found.faults:
        return {}, (_nothing_written(tag, len(wanted), file),)
    findings = [*_faults(found, file), *_head(found, tag, file), *_twice(found, file)]
    translation: dict[_Key, str] = {}
    by_key = {_key(entry): entry for entry in found.entries if not entry.obsolete}
    for key in wanted:
        remarks = tuple(_remarks(key, by_key.get(key), tag, file))
        if _regional(tag, campaign):
            remarks = tuple(remark for remark in remarks if remark.code != "translation-same")
        findings += remarks
        if all(remark.severity is not Severity.MUST_MEND for remark in remarks):
            translation[key] = by_key[key].translations[0]
    findings += [_gone(entry, file) for key, entry in by_key.items() if key not in set(wanted)]
    return translation, tuple(findings)


def _regional(tag: str, campaign: Campaign) -> bool:
    """Say whether *tag* is the campaign's own language as another region writes it: most of it stays the same."""
    return canonical(tag).partition("-")[0] == canonical(campaign.language).partition("-")[0]


def _key(entry: po.Entry) -> _Key:
    return entry.context, entry.msgid


def _remarks(key: _Key, entry: po.Entry | None, tag: str, file: str) -> Iterator[Finding]:
    """Say what is wrong with the entry of one text; nothing where it is as it should be."""
    path, source = key
    if entry is None or not entry.translations or not entry.translations[0].strip():
        yield Finding(
            code="translation-missing",
            file=file,
            line=entry.line if entry else None,
            path=path,
            message=f'"{_excerpt(source)}" is not written in {autonym(tag)}',
            mend=f"write it, or take {tag} out of languages.written; `translations export` adds the entry",
        )
        return
    if entry.fuzzy:
        yield Finding(
            code="translation-fuzzy",
            file=file,
            line=entry.line,
            path=path,
            message=f'reworded to "{_excerpt(source)}"; the translation has not been looked at since',
            mend="read it against the new text, mend it, and take the word fuzzy away",
        )
    yield from _text_remarks(key, entry, file)


def _text_remarks(key: _Key, entry: po.Entry, file: str) -> Iterator[Finding]:
    path, source = key
    text = entry.translations[0]
    if Counter(placeholders.names(source)) != Counter(placeholders.names(text)):
        yield Finding(
            code="translation-placeholders",
            file=file,
            line=entry.line,
            path=path,
            message=f"the source has {_shown(source)}, the translation {_shown(text)}",
            mend="use the same placeholders, spelt the same",
        )
    if hidden := _hidden(text):
        yield Finding(
            code="translation-hidden-sign",
            file=file,
            line=entry.line,
            path=path,
            message=f"the translation holds {hidden}, which no reader can see",
            mend="take it out; around a number or code use the pair U+2066 and U+2069",
        )
    yield from facts.differences(source, text, {"file": file, "line": entry.line, "path": path})
    yield from _form(path, entry, file)
    if text.strip() == source and len(source.split()) >= _WORDS_OF_A_SENTENCE:
        yield Finding(
            code="translation-same",
            file=file,
            line=entry.line,
            path=path,
            message="the translation is the source text",
            mend="translate it, if it is a sentence",
            severity=Severity.CONSIDER,
        )


def _form(path: str, entry: po.Entry, file: str) -> Iterator[Finding]:
    if entry.plural or len(entry.translations) > 1:
        yield Finding(
            code="translation-counted",
            file=file,
            line=entry.line,
            path=path,
            message="the entry has plural forms, but a campaign's text is one sentence that is not counted",
            mend="write one msgstr, without msgid_plural",
        )
    longest, size = places.limit(path), len(entry.translations[0].strip())
    if longest is not None and size > longest:
        yield Finding(
            code="translation-long",
            file=file,
            line=entry.line,
            path=path,
            message=f"the translation has {size} signs; after {longest} much of it is not seen",
            mend="say it shorter, what can happen and what to do first",
            severity=Severity.CONSIDER,
            source="common practice, no source",
        )


def _shown(text: str) -> str:
    return ", ".join(f"%({name})s" for name in placeholders.names(text)) or "no placeholder"


def _hidden(text: str) -> str | None:
    """Name the first sign that is unseen, or that turns round more of the text than it says."""
    depth = 0
    for sign in text:
        if sign in _OVERRIDES or unicodedata.category(sign) in _UNSEEN:
            return f"U+{ord(sign):04X}"
        depth += (sign in _OPENING) - (sign == _CLOSING)
        if depth < 0:
            return "U+2069 without its beginning"
    return "an isolate without its end, U+2069" if depth else None


def _excerpt(text: str) -> str:
    seen = "".join(sign if sign.isprintable() else "\N{REPLACEMENT CHARACTER}" for sign in text)
    return seen if len(seen) <= _LONGEST_EXCERPT else seen[: _LONGEST_EXCERPT - 1].rstrip() + "…"


def _not_listed(tag: str, file: str) -> Finding:
    return Finding(
        code="translation-not-listed",
        file=file,
        message=f"languages.written does not list {tag}, so nobody gets this wording",
        mend=f"list {tag} there when it is complete, or leave it for later",
        severity=Severity.CONSIDER,
    )


def _nothing_written(tag: str, count: int, file: str) -> Finding:
    return Finding(
        code="translation-missing",
        file=file,
        message=f"none of the campaign's {count} texts is written in {autonym(tag)}",
        mend=f"run `translations export`, have it filled in, or take {tag} out of languages.written",
    )


def _faults(found: po.PoText, file: str) -> Iterator[Finding]:
    for fault in found.faults:
        yield Finding(
            code="translation-unreadable",
            file=file,
            line=fault.line,
            message=fault.message,
            mend="mend the line, or open and save the file with a PO editor; its entry is left out",
        )


def _head(found: po.PoText, tag: str, file: str) -> Iterator[Finding]:
    stated = found.headers.get("language", "")
    if stated and canonical(stated) != canonical(tag):
        yield Finding(
            code="translation-other-language",
            file=file,
            line=1,
            message=f"the file says that it is in {_excerpt(stated)}, but it stands in the place of {tag}",
            mend="put the right file here, or mend its Language line",
        )
    yield from _plural_rule(found, tag, file)
    if found.unread:
        yield Finding(
            code="translation-unread",
            file=file,
            line=1,
            message=f"nobody who grew up with {autonym(tag)} has read this wording yet",
            mend="have a second person read it, and put who that was into X-Read-By",
            severity=Severity.CONSIDER,
            source="common practice",
        )


def _plural_rule(found: po.PoText, tag: str, file: str) -> Iterator[Finding]:
    stated = found.headers.get("plural-forms", "")
    try:
        wanted = plural_count(tag)
    except CatalogueError:
        return
    if stated and not stated.replace(" ", "").startswith(f"nplurals={wanted};"):
        yield Finding(
            code="translation-plurals",
            file=file,
            line=1,
            message=f"Plural-Forms says {_excerpt(stated)}, but {autonym(tag)} has {wanted} forms",
            mend="see that the file is in this language; `translations export` writes the right line",
            severity=Severity.CONSIDER,
            source="Unicode CLDR, plural rules",
        )


def _twice(found: po.PoText, file: str) -> Iterator[Finding]:
    first: dict[_Key, int] = {}
    for entry in found.entries:
        if entry.obsolete:
            continue
        if _key(entry) in first:
            yield Finding(
                code="translation-twice",
                file=file,
                line=entry.line,
                path=_excerpt(entry.context),
                message=f"this text stands already in line {first[_key(entry)]}; the later one would be used",
                mend="keep one of the two",
            )
        first.setdefault(_key(entry), entry.line)


def _gone(entry: po.Entry, file: str) -> Finding:
    return Finding(
        code="translation-obsolete",
        file=file,
        line=entry.line,
        path=_excerpt(entry.context),
        message=f'the campaign no longer says "{_excerpt(entry.msgid)}" there',
        mend="run `translations export`; it keeps the entry as obsolete",
        severity=Severity.CONSIDER,
    )
