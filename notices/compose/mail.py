"""A mail: one variant, laid out once, with places for what differs between owners; then its bytes for one owner."""

from collections.abc import Iterator, Mapping
from datetime import datetime

from audiences import addresses, canonical
from audiences.findings import Finding, Severity
from notices.campaign.models import Campaign
from notices.cases.owed import STOPS
from notices.cases.sayings import saying, warning
from notices.compose import layouts, messages, pictures
from notices.compose.filling import fill
from notices.compose.notice import Notice, notice
from notices.compose.phrases import Phrase
from notices.compose.pictures import by_digest
from notices.compose.speaking import OF_LAYOUT, PLACEHOLDERS, Speaker, speaker
from notices.compose.values import sample_values, values_for
from notices.compose.variants import Composed, VariantKey
from notices.wording import placeholders
from notices.wording.catalogues import Catalogue

__all__ = ["compose_mail", "fill", "message_bytes", "sample_values", "values_for"]

CAMPAIGN_FILE = "campaign.yaml"
_LONG_HTML = 80_000  # bytes; a wide-spread mail program cuts a mail near 102 kB and hides the rest (measured by others)
_CUT_HTML = 102_000
_FORMS = ("one", "none", "several")


def compose_mail(
    campaign: Campaign,
    key: VariantKey,
    catalogue: Catalogue,
    templates: Mapping[str, str],
    pictures_by_file: Mapping[str, bytes],
    *,
    lines: Mapping[str, int] | None = None,
    file: str = CAMPAIGN_FILE,
    source: Campaign | None = None,
) -> Composed:
    """Compose one variant of a mail from a campaign in the variant's language.

    *pictures_by_file* holds bytes by the name in the campaign; *lines* gives findings their line. *source* is
    the campaign in its source language where nobody has read this wording: stop and hazard stand in it too.
    Placeholders without a value stand in the text as written, each with a finding: no owner may get such a mail.
    """
    voice = speaker(campaign, catalogue)
    parts = notice(voice, key, pictures_by_file, source)
    content = _content(campaign, key, voice, parts, templates)
    written = canonical.dump(content)
    found = (
        *_placeholder_findings(voice, lines or {}, file),
        *_size_findings(str(content["html"]), file),
        *pictures.findings(campaign, pictures_by_file, lines or {}, file),
    )
    told = warning(campaign) if key.kind in STOPS else campaign
    return Composed(
        key=key,
        said=saying(told, key.verdict, key.segment).said,
        content=written,
        fingerprint=canonical.digest(content),
        findings=found,
    )


def _content(
    campaign: Campaign, key: VariantKey, voice: Speaker, parts: Notice, templates: Mapping[str, str]
) -> dict[str, object]:
    """Return what the fingerprint is made of: everything an owner sees save the values of their own."""
    styles = layouts.mail_styles(voice)
    rtl = catalogue_rtl(voice)
    html = layouts.compiled(layouts.html(templates, "mail.mjml", voice, notice=parts, styles=styles))
    text = layouts.text(templates, "mail.txt", voice, notice=parts)
    units = _units(voice, parts, templates)
    subject = _line(parts.subject, rtl=rtl)
    preheader = _line(parts.preheader, rtl=rtl)
    address = _sender(campaign.issuer.email)
    shown = {picture.cid: picture for picture in (*parts.pictures, *parts.fit_pictures)}
    return {
        "kind": key.kind,
        "channel": key.channel,
        "verdict": key.verdict,
        "segment": key.segment,
        "market": key.market,
        "language": key.language,
        "subject": subject,
        "preheader": preheader,
        "html": html,
        "text": text,
        "units": units,
        "placeholders": _used((subject, preheader, html, text, str(units))),
        "from": {"name": campaign.issuer.name, "address": address},
        "reply_to": address,
        "answers": campaign.issuer.answers,
        "pictures": [
            {"cid": picture.cid, "digest": picture.digest, "media": picture.media}
            for picture in shown.values()
        ],
        "attachments": [],
    }


def _sender(email: str | None) -> str:
    """Return the address as it stands in headers: a domain of other letters by its A-label (IDNA 2008)."""
    if email is None:
        return ""
    point = addresses.email(email)
    return email if point.fault else point.value


def catalogue_rtl(voice: Speaker) -> bool:
    """Say whether the notice runs from right to left."""
    return voice.catalogue.direction == "rtl"


def _line(phrase: Phrase | None, *, rtl: bool) -> str:
    return phrase.text(rtl=rtl) if phrase else ""


def _units(voice: Speaker, parts: Notice, templates: Mapping[str, str]) -> dict[str, object]:
    """Return the one block among the placeholders in its three forms, and what stands for a code we do not have."""
    styles = layouts.mail_styles(voice)
    forms: dict[str, object] = {
        form: {
            "html": layouts.html(templates, "units.html", voice, notice=parts, styles=styles, form=form),
            "text": layouts.text(templates, "units.txt", voice, notice=parts, form=form),
        }
        for form in _FORMS
    }
    return {**forms, "no_code": _line(voice.gettext("code not known"), rtl=catalogue_rtl(voice))}


def _used(texts: tuple[str, ...]) -> dict[str, str]:
    everything = " ".join(texts)
    return {
        name: source
        for name, source in PLACEHOLDERS.items()
        if f"[[ {name} ]]" in everything or f"[[ plain.{name} ]]" in everything
    }


def _placeholder_findings(voice: Speaker, lines: Mapping[str, int], file: str) -> Iterator[Finding]:
    for path, name in voice.unanswered():
        yield placeholder_finding(path, name, lines, file)
    phones = [contact.phone for contact in voice.campaign.contacts]
    for path, text in dict.fromkeys(voice.heard):
        if "phone" in placeholders.names(text) and not all(phones) and "phone" in voice.known:
            yield Finding(
                code="notice-phone-not-everywhere",
                file=file,
                line=lines.get(path),
                path=path,
                message="%(phone)s stands here; owners in a country without a telephone read the mail address",
                mend="leave the number out of the sentence; every notice says how to call",
                severity=Severity.CONSIDER,
            )


def placeholder_finding(path: str, name: str, lines: Mapping[str, int], file: str) -> Finding:
    """Return what is wrong with a placeholder that has no value: misspelt, a whole passage, or not filled in."""
    line = lines.get(path)
    if name in OF_LAYOUT:
        return Finding(
            code="notice-placeholder-misplaced",
            file=file,
            line=line,
            path=path,
            message=f"%({name})s stands for a whole passage and cannot stand inside a sentence",
            mend="take it out; every notice shows that passage by itself",
        )
    if name in PLACEHOLDERS:
        return Finding(
            code="notice-placeholder-empty",
            file=file,
            line=line,
            path=path,
            message=f"%({name})s has no value: it comes from {PLACEHOLDERS[name]}",
            mend="fill that in, or take the placeholder out",
        )
    known = ", ".join(f"%({known})s" for known in sorted(PLACEHOLDERS.keys() - OF_LAYOUT))
    return Finding(
        code="notice-placeholder-unknown",
        file=file,
        line=line,
        path=path,
        message=f"%({name})s is no placeholder; an owner would read it as it stands",
        mend=f"use one of {known}",
    )


def _size_findings(html: str, file: str) -> Iterator[Finding]:
    size = len(html.encode())
    if size > _LONG_HTML:
        cut = size > _CUT_HTML
        yield Finding(
            code="notice-cut-off" if cut else "notice-long",
            file=file,
            line=1,
            message=f"the mail has {size:,} bytes of HTML; from {_CUT_HTML:,} on some mail programs hide its end",
            mend="shorten steps, cautions or the ledger; the bulletin holds the rest",
            severity=Severity.MUST_MEND if cut else Severity.CONSIDER,
        )


def message_bytes(
    content: str,
    values: str,
    *,
    to: str,
    date: datetime,
    message_id: str,
    pictures: Mapping[str, bytes],
    test: bool = False,
) -> bytes:
    """Write one owner's message: a variant's *content* filled with a posting's *values* (both canonical JSON).

    *pictures* holds bytes by any name, found by their digest; see `messages.written` for the rest and for what it
    raises.
    """
    return messages.written(
        fill(content, values),
        to=to,
        date=date,
        message_id=message_id,
        pictures=by_digest(pictures),
        test=test,
    )
