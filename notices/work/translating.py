"""Hand the campaign's wording to whoever translates it, and take in what comes back."""

import re
from collections.abc import Iterable, Mapping
from csv import DictReader
from dataclasses import dataclass, replace

from audiences.findings import Finding
from notices.campaign.models import Campaign
from notices.campaign.texts import translatable
from notices.compose.speaking import PLACEHOLDERS
from notices.wording import checks, places, po
from notices.wording.catalogues import nearest
from notices.wording.languages import canonical
from notices.wording.passages import Reading
from notices.wording.translation_files import Key, Notes, merged, take, write_po
from notices.wording.translations import read_entries
from notices.wording.xliff import write_xliff
from notices.wording.xliff_reading import looks_like_xml, read_xliff
from notices.work.ports import World
from notices.work.revisions import Draft, draft

LARGEST = 4_000_000  # bytes; a campaign's wording has some 50 kB in one language
_TAG = re.compile(r"[A-Za-z]{2,8}(-[A-Za-z0-9]{1,8}){0,6}")  # BCP 47
_SPOILT = frozenset({"translation-unreadable", "translation-twice", "translation-not-utf8"})


class TranslatingError(ValueError):
    """What was asked cannot be done; the text says why."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Standing:
    """How a translation stands: texts in all, translated, to be looked at again, not written; *file* holds it."""

    file: str
    texts: int
    translated: int
    fuzzy: int
    missing: int


@dataclass(frozen=True, kw_only=True, slots=True)
class Exported:
    """What was written, None where the folder's own files must be mended first."""

    standing: Standing | None
    findings: tuple[Finding, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Incoming:
    """A file that came back, read: what it would change in the language *tag*, and what is wrong with it.

    *texts* may be taken in: *new* of them and *changed* differ from the folder's. *refused* counts those with a fault.
    """

    campaign: Campaign
    tag: str
    file: str
    listed: bool
    texts: Mapping[Key, str]
    new: int
    changed: int
    refused: int
    read_by: str | None
    findings: tuple[Finding, ...]


def export(world: World, tag: str, *, xliff: bool = False) -> Exported:
    """Write ``translations/TAG.po`` anew, with everything that helps to translate it, and say how it stands.

    With *xliff* the same goes to ``out/translations/TAG.xlf``, and what the folder holds stays as it is.
    """
    drafted = draft(world)
    if drafted.revision is None:
        return Exported(standing=None, findings=drafted.findings)
    campaign = drafted.revision.campaign
    tag = _spelt(campaign, tag)
    before, findings = _held(world, campaign, tag)
    if before is None:
        return Exported(standing=None, findings=findings)
    name = f"out/translations/{tag}.xlf" if xliff else _name(tag)
    write = write_xliff if xliff else write_po
    world.folder.write(name, write(campaign, tag, before, helping(world, tag)).encode())
    return Exported(standing=_standing(campaign, before, name), findings=())


def read(world: World, *, data: bytes, file: str, language: str = "") -> Incoming:
    """Read a translation that came back, and say what it would change; nothing is written.

    Raise TranslatingError where it does not say in which language it is, or the folder's own files cannot be read.
    """
    drafted = draft(world)
    if drafted.revision is None:
        raise TranslatingError("campaign.yaml cannot be read; notices check says why")
    campaign = drafted.revision.campaign
    found, spoilt = _read(data, file)
    stated = language or found.headers.get("language", "")
    if not stated and found.entries:
        raise TranslatingError(f"{file} does not say in which language it is; give --language TAG")
    tag = _spelt(campaign, stated)
    before, wrong = _held(world, campaign, tag)
    if before is None:
        raise TranslatingError(f"{wrong[0].file} in the folder cannot be read: {wrong[0].message}")
    return _incoming(world, drafted, campaign, tag, found, before, file, spoilt)


def _read(data: bytes, file: str) -> tuple[po.PoText, tuple[Finding, ...]]:
    """Read PO or XLIFF, whichever it is; a file that cannot be read at all has a finding and no entry."""
    if looks_like_xml(data):
        return read_xliff(data), ()
    text, spoilt = _text(data, file)
    return po.read(text), spoilt


def take_in(world: World, incoming: Incoming) -> Standing:
    """Put what was read into ``translations/TAG.po``; whatever had a fault stays as it stood there."""
    campaign = incoming.campaign
    before, _ = _held(world, campaign, incoming.tag)
    text = take(campaign, incoming.tag, before, incoming.texts, read_by=incoming.read_by)
    text = write_po(campaign, incoming.tag, text, helping(world, incoming.tag))
    world.folder.write(_name(incoming.tag), text.encode())
    return _standing(campaign, text, _name(incoming.tag))


def helping(world: World, tag: str) -> Notes:
    """Return what gives the notes for a language: what a text is, its limit, its placeholders, its terms."""
    terms = _glossary(nearest(world.catalogues, tag, "glossary"))
    return lambda path, source: places.notes(path, source, terms, PLACEHOLDERS)


def _glossary(text: str | None) -> tuple[places.Term, ...]:
    return tuple(
        places.Term(english=row["english"], term=row["term"], avoid=row["avoid"], note=row["note"])
        for row in DictReader((text or "").splitlines())
    )


def _incoming(
    world: World,
    drafted: Draft,
    campaign: Campaign,
    tag: str,
    found: po.PoText,
    before: str,
    file: str,
    spoilt: tuple[Finding, ...],
) -> Incoming:
    held = {
        (entry.context, entry.msgid): entry.translations[0]
        for entry in po.read(before).entries
        if entry.complete and not entry.obsolete
    }
    texts, remarks = read_entries(found, tag, campaign, file)
    theirs = {(entry.context, entry.msgid): entry for entry in found.entries if not entry.obsolete}
    wanted = set(translatable(campaign))
    whole = [*spoilt, *(one for one in remarks if one.code == "translation-other-language")]
    if theirs and not wanted & theirs.keys():
        whole.append(_foreign(len(theirs), file))
    if whole:
        return Incoming(
            campaign=campaign, tag=tag, file=file, listed=_listed(campaign, tag), texts={}, new=0,
            changed=0, refused=len(theirs), read_by=None, findings=tuple(whole),
        )  # fmt: skip
    written = {key for key, entry in theirs.items() if any(map(str.strip, entry.translations))}
    lines = {key: entry.line for key, entry in theirs.items()}
    return Incoming(
        campaign=campaign,
        tag=tag,
        file=file,
        listed=_listed(campaign, tag),
        texts=texts,
        new=sum(key not in held for key in texts),
        changed=sum(key in held and held[key] != text for key, text in texts.items()),
        refused=len(written & wanted - texts.keys()) + len(found.faults),
        read_by=found.headers.get("x-read-by") or None,
        findings=(
            *(one for one in remarks if one.code != "translation-missing"),
            *_of_words(world, drafted, campaign, tag, {**held, **texts}, lines, file),
        ),
    )


def _of_words(
    world: World,
    drafted: Draft,
    campaign: Campaign,
    tag: str,
    spoken: Mapping[Key, str],
    lines: Mapping[Key, int],
    file: str,
) -> Iterable[Finding]:
    """Return what the checks of the words say of the texts that came, each with its line in *file*."""
    reading = Reading(
        campaign=campaign,
        lines=drafted.lines,
        translations={tag: spoken},
        lines_of={tag: lines},
        expressions=world.expressions,
        laws=world.laws,
    )
    return (
        replace(one, file=file)
        for one in checks.check(reading)
        if one.file == _name(tag) and one.line is not None
    )


def _name(tag: str) -> str:
    return f"translations/{tag}.po"


def _spelt(campaign: Campaign, tag: str) -> str:
    """Return *tag* as languages.written spells it; raise TranslatingError for none, or the source language."""
    if not _TAG.fullmatch(tag):
        raise TranslatingError("a language is given by its tag (BCP 47): de, pt-BR, zh-Hant")
    if canonical(tag) == canonical(campaign.language):
        raise TranslatingError(f"{tag} is the language of campaign.yaml itself")
    return next((one for one in campaign.languages.written if canonical(one) == canonical(tag)), tag)


def _listed(campaign: Campaign, tag: str) -> bool:
    return tag in campaign.languages.written


def _held(world: World, campaign: Campaign, tag: str) -> tuple[str | None, tuple[Finding, ...]]:
    """Return what the folder holds in a language; None, and why, where writing it anew would lose something."""
    raw = world.folder.read(_name(tag))
    if raw is None:
        return "", ()
    text, spoilt = _text(raw, _name(tag))
    _, found = read_entries(po.read(text), tag, campaign, _name(tag))
    wrong = tuple(one for one in (*spoilt, *found) if one.code in _SPOILT)
    return (None if wrong else text), wrong


def _text(raw: bytes, file: str) -> tuple[str, tuple[Finding, ...]]:
    try:
        return raw.decode("utf-8"), ()
    except UnicodeDecodeError as error:
        return "", (
            Finding(
                code="translation-not-utf8",
                file=file,
                line=raw[: error.start].count(b"\n") + 1,
                message="this line holds bytes that are not UTF-8",
                mend="save the file as UTF-8",
            ),
        )


def _foreign(count: int, file: str) -> Finding:
    return Finding(
        code="translation-foreign",
        file=file,
        line=1,
        message=f"none of its {count} texts is a text of this campaign",
        mend="see that it is the file of this campaign, and was exported from this wording",
    )


def _standing(campaign: Campaign, text: str, file: str) -> Standing:
    entries = [entry for entry in merged(campaign, po.read(text)) if not entry.obsolete]
    translated = sum(entry.complete for entry in entries)
    fuzzy = sum(entry.fuzzy for entry in entries)
    return Standing(
        file=file,
        texts=len(entries),
        translated=translated,
        fuzzy=fuzzy,
        missing=len(entries) - translated - fuzzy,
    )
