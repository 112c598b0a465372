"""Whether the texts can be filled and the pictures shown."""

import re
from collections.abc import Iterator
from difflib import get_close_matches

from audiences.findings import Finding, Severity
from notices.campaign.looking import Look
from notices.campaign.shape import path_of, texts

PLACEHOLDERS: frozenset[str] = frozenset(
    {"answers", "bulletin", "day", "hours", "next_word", "phone", "revision"}
)
"""What a text of the campaign may leave open, as ``%(next_word)s``: the same for the public page and every owner."""

_OPEN = re.compile(r"%\(([^()%]{0,64})\)(s?)")
_HEAVY = 2_000_000  # bytes; a mail of more than ten megabytes is refused by many servers, common practice
_PICTURES = {
    b"\x89PNG\r\n\x1a\n": "PNG",
    b"\xff\xd8\xff": "JPEG",
}  # PNG (ISO/IEC 15948), JPEG (ISO/IEC 10918-1)


def placeholders(look: Look) -> Iterator[Finding]:
    """Hold that every placeholder is one that can be filled, and is whole."""
    for place, text in texts(look.campaign):
        for name, end in _OPEN.findall(text):
            if name in PLACEHOLDERS and end:
                continue
            close = get_close_matches(name, PLACEHOLDERS, n=1)
            known = ", ".join(f"%({name})s" for name in sorted(PLACEHOLDERS))
            yield Finding(
                code="placeholder-unknown",
                **look.at(path_of(place)),
                message=f"a notice cannot fill %({name}){end}",
                mend=f"did you mean %({close[0]})s?" if close else f"write the words, or one of {known}",
            )


def pictures(look: Look) -> Iterator[Finding]:
    """Hold that each picture lies in the folder, and is one that every mail program shows."""
    for place, picture in enumerate(look.campaign.product.pictures):
        where = look.at(f"product.pictures[{place}].file")
        steps = picture.file.split("/")
        if not steps[0] or ".." in steps or "\\" in picture.file or ":" in picture.file:
            yield Finding(
                code="picture-outside",
                **where,
                message="the picture does not lie in the campaign's folder",
                mend="copy it to pictures/ and write pictures/ and its name",
            )
        elif picture.file not in look.pictures:
            yield Finding(
                code="picture-absent",
                **where,
                message="there is no such file in the folder",
                mend="put it there, or correct the name; capital letters count",
            )
        else:
            yield from _form(look, place, look.pictures[picture.file])


def _form(look: Look, place: int, picture: bytes) -> Iterator[Finding]:
    where = look.at(f"product.pictures[{place}].file")
    if not any(picture.startswith(sign) for sign in _PICTURES):
        yield Finding(
            code="picture-form",
            **where,
            message="this file is neither PNG nor JPEG, and some mail programs would show nothing",
            mend="save the picture as PNG or JPEG",
        )
    if len(picture) > _HEAVY:
        yield Finding(
            code="picture-heavy",
            **where,
            message=f"the picture has {len(picture) // 1000} kB, and goes to every owner",
            mend="save it with 1200 dots across, or in lower quality",
            severity=Severity.CONSIDER,
            source="common practice, no source",
        )


def questions(look: Look) -> Iterator[Finding]:
    """Hold that each question of the confirmation has a key of its own."""
    asked: set[str] = set()
    for place, question in enumerate(look.campaign.confirm.questions):
        if question.key in asked:
            yield Finding(
                code="question-twice",
                **look.at(f"confirm.questions[{place}].key"),
                message="an earlier question has this key already",
                mend="give it a key of its own",
            )
        asked.add(question.key)


def sale_places(look: Look) -> Iterator[Finding]:
    """Hold that each place that may still sell has a name of its own."""
    named: set[str] = set()
    for place, name in enumerate(look.campaign.sale_stop.places):
        if name in named:
            yield Finding(
                code="sale-place-twice",
                **look.at(f"sale_stop.places[{place}]"),
                message="this place is named already",
                mend="keep it once, or tell the two apart",
            )
        named.add(name)


TEXT_CHECKS = (placeholders, pictures, questions, sale_places)
