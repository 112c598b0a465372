"""What is signed: campaign, translations, pictures and lists of codes as one canonical text, and its digest."""

import base64
import binascii
import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass, field

from pydantic import ValidationError

from audiences import canonical
from audiences.code_lists import CodeList
from notices.campaign.models import Campaign

Translation = Mapping[tuple[str, str], str]
"""Translated text by path without list places, and source text."""


class ContentError(ValueError):
    """Raised where a stored revision is not one that this program wrote."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Revision:
    """Everything a notice is made of: the campaign, its translations by language tag, its pictures by file.

    *lists* holds the lists of single codes by which units are judged, by file; *unread* names the translations that
    nobody who grew up with their language has read.
    """

    campaign: Campaign
    translations: Mapping[str, Translation] = field(default_factory=dict)
    pictures: Mapping[str, bytes] = field(default_factory=dict)
    lists: Mapping[str, CodeList] = field(default_factory=dict)
    unread: tuple[str, ...] = ()

    @property
    def number(self) -> int:
        """Return the number that the lead gave this revision."""
        return self.campaign.revision.number


def to_content(revision: Revision) -> str:
    """Write a revision as canonical JSON: keys sorted, no spaces, no floats, pictures in base64 (RFC 4648).

    The campaign lies in it as a text of its own, for the order in which the lead offers remedies is part of what is
    said, and sorting would lose it. A list lies in it as its folded codes, so that what was signed is what judges.
    """
    lists = {"lists": {name: codes.text for name, codes in revision.lists.items()}} if revision.lists else {}
    unread = {"unread": sorted(revision.unread)} if revision.unread else {}
    return canonical.dump(
        {
            **lists,
            **unread,
            "campaign": revision.campaign.model_dump_json(by_alias=True, exclude_none=True),
            "translations": {
                tag: [[*place, text] for place, text in sorted(translation.items())]
                for tag, translation in revision.translations.items()
            },
            "pictures": {
                name: base64.b64encode(picture).decode("ascii") for name, picture in revision.pictures.items()
            },
        }
    )


def from_content(text: str) -> Revision:
    """Read what `to_content` wrote; raise ContentError for anything else."""
    try:
        content = json.loads(text)
        return Revision(
            campaign=Campaign.model_validate_json(content["campaign"], by_alias=True, by_name=False),
            translations={
                tag: {(path, source): translated for path, source, translated in entries}
                for tag, entries in content["translations"].items()
            },
            pictures={
                name: base64.b64decode(picture, validate=True)
                for name, picture in content["pictures"].items()
            },
            lists={name: CodeList(text) for name, text in content.get("lists", {}).items()},
            unread=tuple(content.get("unread", ())),
        )
    except (AttributeError, KeyError, RecursionError, TypeError, ValueError, ValidationError, binascii.Error):
        # The cause quotes what stands in the file; what a campaign says does not belong in a log.
        raise ContentError("the stored revision cannot be read: it was not written by this program") from None


def digest(content: str) -> str:
    """Return the SHA-256 of a revision's content as 64 hexadecimal signs (FIPS 180-4)."""
    return hashlib.sha256(content.encode()).hexdigest()
