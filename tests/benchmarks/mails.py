"""Rendering and writing messages: the real first notice, to invented owners, in twenty variants."""

import gc
import json
import tracemalloc
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from email import message_from_bytes, policy
from email.headerregistry import Address
from email.message import EmailMessage
from functools import cache
from itertools import cycle, islice, product
from typing import Any

from markupsafe import Markup

from audiences.segments import Segment
from audiences.verdicts import Verdict
from notices.compose import filling, layouts
from notices.compose.filling import Filled, fill
from notices.compose.mail import message_bytes
from notices.compose.notice import Notice, notice
from notices.compose.pictures import by_digest
from notices.compose.speaking import Speaker, speaker
from notices.compose.variants import VariantKey
from notices.compose.wrapping import wrap
from tests import composing
from tests.benchmarks import yardsticks
from tests.benchmarks.timing import ROUNDS, Bound, Line, ready, slowness
from tests.benchmarks.yardsticks import OwnValues

_WHEN = datetime(2026, 3, 3, 9, 30, tzinfo=UTC)
_VARIANTS = 20
_NAMES = ("Ada Quell", "Jürgen Ölt", 'Zoë "Zo" Brook', "سمير", "Tom & <Jerry>", "O'Neil, Anna")
_PICTURES = by_digest(composing.PICTURES)


@dataclass(frozen=True, kw_only=True, slots=True)
class Mail:
    """One owner's mail before it is written: the variant, the owner's values as the outbox keeps them, and both."""

    variant: VariantKey
    content: str
    values: str
    to: str
    message_id: str


def variants() -> list[VariantKey]:
    """Return the variants: two verdicts, four uses, three languages, the first twenty."""
    every = product((Verdict.AFFECTED, Verdict.MISSING), Segment, composing.LANGUAGES)
    found = (composing.key("first", verdict, segment, language) for verdict, segment, language in every)
    return list(islice(found, _VARIANTS))


@cache
def _campaign(language: str) -> Any:  # noqa: ANN401 - a campaign, whose model hashes not
    return composing.demo(1, language)


def mails(count: int, contents: dict[VariantKey, str]) -> Iterator[Mail]:
    """Yield *count* mails, the variants in turn."""
    names = cycle(_NAMES)
    for number, (key, name) in enumerate(islice(zip(cycle(contents), names), count)):
        units = (composing.unit(f"QM-2534-B{number % 10_000:04d}", f"{number:07d}0"),)
        values = composing.values(
            _campaign(key.language),
            key.language,
            composing.owner(f"{name} {number % 97}", "DE", key.language),
            units,
        )
        yield Mail(
            variant=key,
            content=contents[key],
            values=values,
            to=f"owner-{number}@mail.example",
            message_id=f"<{number}@aldmere.example>",
        )


def composed() -> dict[VariantKey, str]:
    """Compose every variant, from the campaign on."""
    return {key: composing.composed(_campaign(key.language), key).content for key in variants()}


def _own(mail: Mail) -> OwnValues:
    """Return an owner's values ready to be put in, so that the bare way has nothing to do but that."""
    rich, plain = filling.own_values(json.loads(mail.content), json.loads(mail.values))
    return OwnValues(rich=rich, plain=plain)


@dataclass(frozen=True, kw_only=True, slots=True)
class _Layout:
    """A variant's notice, ready for the layouts."""

    voice: Speaker
    notice: Notice

    def mjml(self) -> str:
        """Fill templates/mail.mjml."""
        styles = layouts.mail_styles(self.voice)
        html = layouts.html(composing.TEMPLATES, "mail.mjml", self.voice, notice=self.notice, styles=styles)
        units = layouts.html(
            composing.TEMPLATES, "units.html", self.voice, notice=self.notice, styles=styles, form="one"
        )
        return html.replace("[[ units ]]", units)

    def text(self) -> str:
        """Fill templates/mail.txt."""
        text = layouts.text(composing.TEMPLATES, "mail.txt", self.voice, notice=self.notice)
        units = layouts.text(composing.TEMPLATES, "units.txt", self.voice, notice=self.notice, form="one")
        return text.replace("[[ units ]]", units)


def _layout(key: VariantKey) -> _Layout:
    voice = speaker(_campaign(key.language), composing.catalogue(key.language))
    return _Layout(voice=voice, notice=notice(voice, key, composing.PICTURES))


def rendering(*, quick: bool) -> Iterator[Line]:
    """Compare with filling and compiling the MJML layout for each owner."""
    size = 40 if quick else 5_000
    contents = composed()
    some = list(mails(size, contents))
    own = [_own(mail) for mail in some]

    def ours() -> list[Filled]:
        fresh = composed()
        return [fill(fresh[mail.variant], mail.values) for mail in some]

    def bare() -> list[tuple[str, str]]:
        laid_out = {key: _layout(key) for key in contents}
        return [
            yardsticks.mail_for_one(laid_out[mail.variant].mjml(), laid_out[mail.variant].text(), values)
            for mail, values in zip(some, own, strict=True)
        ]

    def bare_once_laid_out() -> list[tuple[str, str]]:
        layouts_of = {key: _layout(key) for key in contents}
        sources = {key: (layout.mjml(), layout.text()) for key, layout in layouts_of.items()}
        return [
            yardsticks.mail_for_one(*sources[mail.variant], values)
            for mail, values in zip(some, own, strict=True)
        ]

    made = [(filled.html, filled.text) for filled in ours()]
    for way in (bare, bare_once_laid_out):
        assert [(html, wrap(text)) for html, text in way()] == made
    rounds = 1 if quick else ROUNDS
    for name, way, limit in (("rendering", bare, 8), ("rendering-laid-out-once", bare_once_laid_out, 1.2)):
        ratio = 1 / slowness(ready(ours), ready(way), rounds=rounds)
        yield Line(name=name, ratio=ratio, bound=Bound(limit=limit, at_least=True), size=size, clock="cpu")


def written(mail: Mail) -> bytes:
    """Fill and write one owner's message, as the product does."""
    return message_bytes(
        mail.content, mail.values, to=mail.to, date=_WHEN, message_id=mail.message_id, pictures=_PICTURES
    )


def _address(name: str, address: str) -> Address:
    return Address(name, addr_spec=address)


def _ready_content(mail: Mail) -> yardsticks.Content:
    filled = fill(mail.content, mail.values)
    return yardsticks.Content(
        subject=filled.subject,
        sender=_address(filled.from_name, filled.from_address),
        reply_to=filled.reply_to,
        to=_address(filled.to_name, mail.to),
        language=filled.language,
        text=filled.text,
        html=filled.html,
        pictures=[(f"<{one.cid}>", _PICTURES[one.digest]) for one in filled.pictures],
    )


def _said(data: bytes) -> list[object]:
    """Return what a reader gets: headers, texts and pictures."""
    message = message_from_bytes(data, EmailMessage, policy=policy.default)
    heads: list[object] = [
        " ".join(str(message[name]).split()) for name in ("Date", "From", "Reply-To", "Subject", "Message-ID")
    ]
    parts = [part.get_content() for part in message.walk() if not part.is_multipart()]
    # the standard library ends every text with a line end of its own
    return [
        *heads,
        *(part.replace("\r\n", "\n").rstrip() if isinstance(part, str) else part for part in parts),
    ]


def whole_messages(*, quick: bool) -> Iterator[Line]:
    """Compare filling and writing with the standard library's writing of what is filled already."""
    size = 20 if quick else 500
    some = [mail for mail in mails(size * 3, composed()) if mail.variant.language == "en"]
    contents = [_ready_content(mail) for mail in some]

    def ours() -> list[bytes]:
        return [written(mail) for mail in some]

    def bare() -> list[bytes]:
        return [
            yardsticks.email_message(content, date=_WHEN, message_id=mail.message_id)
            for mail, content in zip(some, contents, strict=True)
        ]

    assert [_said(one) for one in ours()] == [_said(one) for one in bare()]
    ratio = 1 / slowness(ready(ours), ready(bare), rounds=1 if quick else ROUNDS)
    yield Line(
        name="whole-messages",
        ratio=ratio,
        bound=Bound(limit=6, at_least=True),
        size=len(some),
        clock="cpu",
    )


def _templates(content: str) -> yardsticks.Templates:
    variant = json.loads(content)
    units = variant["units"]["one"]
    return yardsticks.Templates(
        html=yardsticks.second_template(variant["html"], escapes=True),
        html_units=yardsticks.second_template(units["html"], escapes=True),
        text=yardsticks.second_template(variant["text"], escapes=False),
        text_units=yardsticks.second_template(units["text"], escapes=False),
    )


def composing_many(*, quick: bool) -> Iterator[Line]:
    """Compare with the floor: the same Jinja output from ready values, as quoted-printable; and memory with itself."""
    size = 60 if quick else 20_000
    contents = composed()
    some = list(mails(size, contents))
    templates = {key: _templates(content) for key, content in contents.items()}
    own = [_own(mail) for mail in some]

    def ours() -> int:
        return sum(len(written(mail)) for mail in some)

    def floor() -> int:
        octets = 0
        for mail, values in zip(some, own, strict=True):
            html, text = templates[mail.variant].fill(values, Markup)
            octets += len(yardsticks.quoted(html)) + len(yardsticks.quoted(text))
        return octets

    for mail, values in islice(zip(some, own, strict=True), 60):
        html, text = templates[mail.variant].fill(values, Markup)
        said = _said(written(mail))
        assert said[5:7] == [wrap(text).rstrip(), html.rstrip()]
    ratio = slowness(ready(ours), ready(floor), rounds=1 if quick else ROUNDS)
    yield Line(name="composing", ratio=ratio, bound=Bound(limit=1.3), size=size, clock="cpu")
    few, many = (20, 40) if quick else (1_000, 8_000)
    tracemalloc.start()
    try:
        _peak(some[-many:])  # what is kept for all owners of a variant is kept once
        ratio = _peak(some[:many]) / _peak(some[:few])
    finally:
        tracemalloc.stop()
    yield Line(name="composing-memory", ratio=ratio, bound=Bound(limit=1.1), size=many, clock="bytes")


def _peak(some: Sequence[Mail]) -> int:
    """Return the most memory that is held while these messages are composed one after the other, in octets."""
    gc.collect()
    tracemalloc.reset_peak()
    for mail in some:
        written(mail)
    return tracemalloc.get_traced_memory()[1]
