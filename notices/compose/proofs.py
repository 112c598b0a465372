"""The proofs as pages to read: who gets what next, and each variant as its readers will see it."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from audiences.findings import Finding, Severity, must_mend
from audiences.verdicts import SAFE
from notices.campaign.models import Campaign
from notices.compose import layouts
from notices.compose.filling import Filled, fill
from notices.compose.messages import written
from notices.compose.phrases import Phrase, literal
from notices.compose.pictures import ENDINGS, by_digest
from notices.compose.speaking import Speaker, speaker
from notices.compose.values import FORMS, Form
from notices.compose.variants import Composed
from notices.wording.catalogues import Catalogue
from notices.wording.formats import country_name
from notices.wording.languages import autonym, canonical, locale_of

_TO = "owner@proof.invalid"  # RFC 2606: nobody's
_MESSAGE_ID = "<proof@proof.invalid>"
_REGION = 2  # BCP 47: a region subtag has two letters where ISO 3166-1 names it
_SHOWN = 8  # lines of a picture's part that are shown before the rest is left out


@dataclass(frozen=True, kw_only=True, slots=True)
class Proof:
    """One variant to read: for how many owners, who has signed it, its findings, sample values by form of units.

    *unread*: nobody who grew up with its language has read it.
    """

    composed: Composed
    owners: int
    samples: Mapping[Form, str]
    signed_by: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = ()
    unread: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class _Row:
    name: str
    kind: str
    verdict: str
    segment: str
    segment_name: Phrase | None
    market: Phrase | None
    language: str
    language_name: Phrase
    owners: int
    fingerprint: str
    signed_by: Phrase | None
    to_mend: int
    unread: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class _Remark:
    must: bool
    overruled: Phrase | None
    message: Phrase
    mend: Phrase | None
    place: Phrase
    source: Phrase | None


def proof_pages(
    campaign: Campaign,
    proofs: Sequence[Proof],
    bureau: Catalogue,
    templates: Mapping[str, str],
    pictures: Mapping[str, bytes],
    *,
    date: datetime,
) -> dict[str, bytes]:
    """Return every page and message by its name below the folder of proofs; ``index.html`` lists them.

    *campaign* is in its source language, *pictures* bytes by the name in it, *date* what the messages bear.
    """
    voice = speaker(campaign, bureau)
    images = by_digest(pictures)
    ordered = sorted(proofs, key=lambda proof: (-proof.owners, proof.composed.key.name))
    pairs = [(proof, _row(voice, proof)) for proof in ordered]
    common = {"title": literal(campaign.name or campaign.product.name)}
    number = literal(str(campaign.revision.number))
    index = layouts.html(
        templates, "bureau/proofs.html", voice, number=number, rows=[row for _, row in pairs], **common
    )
    found = {"index.html": layouts.fill_html(index, {}).encode()}
    for proof, row in pairs:
        found.update(_variant(voice, templates, proof, row, images, date))
    for digest, data in images.items():
        found |= {f"pictures/{digest}.{ending}": data for ending in _endings(pairs, digest)}
    return found


def _endings(pairs: Sequence[tuple[Proof, _Row]], digest: str) -> set[str]:
    return {
        ENDINGS[picture.media]
        for proof, _ in pairs
        for sample in proof.samples.values()
        for picture in fill(proof.composed.content, sample).pictures
        if picture.digest == digest
    }


def _variant(
    voice: Speaker,
    templates: Mapping[str, str],
    proof: Proof,
    row: _Row,
    images: Mapping[str, bytes],
    date: datetime,
) -> Iterator[tuple[str, bytes]]:
    content = proof.composed.content
    shown = {form: fill(content, proof.samples[form]) for form in FORMS}
    for form, filled in shown.items():
        yield f"{row.name}/{form}.html", _with_files(filled).encode()
        yield f"{row.name}/{form}.txt", filled.text.encode()
    one = shown["one"]
    message = written(one, to=_TO, date=date, message_id=_MESSAGE_ID, pictures=images)
    yield f"{row.name}/message.eml", message
    page = layouts.html(
        templates,
        "bureau/proof.html",
        voice,
        row=row,
        subject=literal(one.subject),
        preheader=literal(one.preheader) if one.preheader else None,
        sender=literal(f"{one.from_name} <{one.from_address}>"),
        texts=[_verbatim(filled.text) for filled in shown.values()],
        raw_message=_verbatim(_readable(message)),
        findings=[_remark(finding) for finding in proof.findings],
    )
    yield f"{row.name}/index.html", layouts.fill_html(page, {}).encode()


def _with_files(filled: Filled) -> str:
    """Return the mail's HTML with its pictures as files beside it: a browser knows no content ids."""
    html = filled.html
    for picture in filled.pictures:
        html = html.replace(f"cid:{picture.cid}", f"../pictures/{picture.digest}.{ENDINGS[picture.media]}")
    return html


def _readable(message: bytes) -> str:
    """Return a message as text, most of each picture's bytes left out; the whole stands in the file beside."""
    lines: list[str] = []
    inside, kept = False, 0
    for line in message.decode("ascii").split("\r\n"):
        if line.startswith("--=_"):
            inside, kept = False, 0
        inside = inside or line == "Content-Transfer-Encoding: base64"
        kept += inside
        if kept < _SHOWN:
            lines.append(line)
        elif kept == _SHOWN:
            lines.append("[…]")
    return "\n".join(lines)


def _verbatim(text: str) -> Phrase:
    """Return lines as they are, for a passage that keeps its line ends."""
    return Phrase((text,))


def _row(voice: Speaker, proof: Proof) -> _Row:
    key = proof.composed.key
    named = None if key.verdict in SAFE else getattr(voice.campaign.use, key.segment).name
    return _Row(
        name=key.name,
        kind=key.kind,
        verdict=key.verdict,
        segment=key.segment,
        segment_name=literal(named) if named else None,
        market=literal(key.market) if key.market else None,
        language=key.language,
        language_name=literal(_language(key.language, voice.catalogue.tag)),
        owners=proof.owners,
        fingerprint=proof.composed.fingerprint,
        signed_by=literal(", ".join(proof.signed_by)) if proof.signed_by else None,
        to_mend=len(must_mend(proof.findings)),
        unread=proof.unread,
    )


def _language(tag: str, reader: str) -> str:
    """Return what the reader calls a language, and its region; what it calls itself where CLDR has no name for it."""
    first, *others = canonical(tag).split("-")
    region = next((one for one in others if len(one) == _REGION), "")
    name = str(locale_of(reader).languages.get(first, autonym(tag)))
    return f"{name} ({country_name(region, reader)})" if region else name


def _remark(finding: Finding) -> _Remark:
    place = finding.file if finding.line is None else f"{finding.file}:{finding.line}"
    return _Remark(
        must=finding.severity is Severity.MUST_MEND,
        overruled=literal(finding.overruled) if finding.overruled else None,
        message=literal(finding.message),
        mend=literal(finding.mend) if finding.mend and not finding.overruled else None,
        place=literal(f"{place} [{finding.code}] {finding.path}".rstrip()),
        source=literal(finding.source) if finding.source else None,
    )
