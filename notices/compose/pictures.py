"""Pictures inside a message: what they are by their first bytes, and the name each is called by (RFC 2392)."""

import hashlib
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

from audiences.findings import Finding, Severity
from notices.campaign.models import Campaign
from notices.compose.phrases import Phrase
from notices.compose.speaking import Speaker

# The first bytes of each kind that mail programs show: PNG (ISO/IEC 15948), JPEG (ITU-T T.81), GIF89a.
_STARTS: Mapping[bytes, str] = {
    b"\x89PNG\r\n\x1a\n": "image/png",
    b"\xff\xd8\xff": "image/jpeg",
    b"GIF87a": "image/gif",
    b"GIF89a": "image/gif",
}
ENDINGS: Mapping[str, str] = {"image/png": "png", "image/jpeg": "jpg", "image/gif": "gif"}
_MOST_BYTES = 1_000_000  # for all pictures of one message; common practice, no source
_CID_SIGNS = 32


@dataclass(frozen=True, kw_only=True, slots=True)
class Shown:
    """A picture in a notice: its content id, the digest and kind of its bytes, the words in its place."""

    cid: str
    digest: str
    media: str
    alt: Phrase
    data: bytes


def media_of(data: bytes) -> str | None:
    """Return the media type of a picture that mail programs can show, None of anything else."""
    return next((media for start, media in _STARTS.items() if data.startswith(start)), None)


@lru_cache(maxsize=64)
def digest_of(data: bytes) -> str:
    """Return the SHA-256 of a picture, by which messages and proofs find it."""
    return hashlib.sha256(data).hexdigest()


def by_digest(pictures: Mapping[str, bytes]) -> dict[str, bytes]:
    """Return pictures, given by file name, by the digest of their bytes."""
    return {digest_of(data): data for data in pictures.values()}


def shown(
    speaker: Speaker, pictures: Mapping[str, bytes], kinds: Collection[str], *, most: int = 2
) -> tuple[Shown, ...]:
    """Return the campaign's pictures of these kinds, in the order of *kinds*; one that cannot be shown is left out."""
    found = [
        Shown(
            cid=f"{(digest := digest_of(data))[:_CID_SIGNS]}@pictures.invalid",  # RFC 2606: no one's domain
            digest=digest,
            media=media,
            alt=alt,
            data=data,
        )
        for kind in kinds
        for place, picture in enumerate(speaker.campaign.product.pictures)
        if picture.shows == kind
        and (data := pictures.get(picture.file)) is not None
        and (media := media_of(data)) is not None
        and (alt := speaker.lead(picture.alt, f"product.pictures[{place}].alt")) is not None
    ]
    return tuple(found[:most])


def findings(
    campaign: Campaign, pictures: Mapping[str, bytes], lines: Mapping[str, int], file: str
) -> Iterator[Finding]:
    """Yield what is amiss with the pictures; none of it holds a notice back, for the words stand without them."""
    weight = 0
    for place, picture in enumerate(campaign.product.pictures):
        path = f"product.pictures[{place}].file"
        data = pictures.get(picture.file)
        weight += len(data or b"")
        if data is None or media_of(data) is None:
            what = "is not in the folder" if data is None else "is not a PNG, JPEG or GIF"
            yield Finding(
                code="notice-picture-left-out",
                file=file,
                line=lines.get(path),
                path=path,
                message=f"{picture.file} {what}; the notice goes without it",
                mend="put the picture into the folder as PNG or JPEG",
                severity=Severity.CONSIDER,
            )
    if weight > _MOST_BYTES:
        yield Finding(
            code="notice-pictures-heavy",
            file=file,
            line=lines.get("product.pictures"),
            path="product.pictures",
            message=f"the pictures weigh {weight:,} bytes, in every single mail",
            mend="save them smaller: 1200 pixels wide is enough",
            severity=Severity.CONSIDER,
        )
