"""A photograph as it arrives from anybody, made anew: decoded within bounds, turned upright, and nothing else kept.

What leaves here is a JPEG that this program has drawn itself. No byte of the file that came is in it but the colours
of its points: no place, no time, no name, no thumbnail, nothing after the end.
"""

import logging
import warnings
from collections.abc import Mapping
from io import BytesIO

from PIL import Image, ImageOps

from notices.work.photos import Photo, Unfit

MOST_PHOTO_BYTES = 8 * 1024 * 1024
MOST_PHOTOS = 2
MOST_POINTS = 50_000_000  # what the largest telephones write; common practice, no source
LONGEST_SIDE = 2000
# A progressive JPEG has about ten; each makes the decoder go over the whole picture once more.
_MOST_SCANS = 100
_QUALITY = 85
_START_OF_SCAN = b"\xff\xda"  # ITU-T T.81, table B.1; in coded points 0xFF is always followed by 0x00
# Animated ones are refused; a telephone's JPEG may hold a second view beside the first, which is left out.
_MANY_IN_ONE = frozenset({"PNG", "WEBP"})
# First bytes: JPEG (ITU-T T.81), PNG (ISO/IEC 15948), WebP (RFC 9649).
_STARTS: Mapping[str, tuple[int, bytes]] = {
    "JPEG": (0, b"\xff\xd8\xff"),
    "PNG": (0, b"\x89PNG\r\n\x1a\n"),
    "WEBP": (8, b"WEBP"),
}

# At its most talkative it writes down what a photograph says of place and time.
logging.getLogger("PIL").setLevel(logging.WARNING)
# The decoder's own limit, as an error and never as a warning; ours is asked too, whatever it lets through.
Image.MAX_IMAGE_PIXELS = MOST_POINTS


def remade(data: bytes) -> Photo | Unfit:
    """Return the photograph made anew as a JPEG of at most 2,000 points a side, or why it cannot be taken.

    JPEG, PNG and WebP are read, told by their first bytes; whatever the sender says of name and type counts nothing.
    """
    if len(data) > MOST_PHOTO_BYTES:
        return Unfit.TOO_LARGE
    kind = next((kind for kind, (at, start) in _STARTS.items() if data.startswith(start, at)), None)
    if kind is None:
        return Unfit.OTHER_KIND
    if kind == "JPEG" and data.count(_START_OF_SCAN) > _MOST_SCANS:
        return Unfit.BROKEN
    try:
        with (
            warnings.catch_warnings()
        ):  # one picture is decoded at a time; what is odd in it is no news to us
            warnings.simplefilter("ignore")
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            return _decoded(data, kind)
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        return Unfit.TOO_LARGE
    except Exception:  # noqa: BLE001 - a decoder raises anything at all for what was made to break it
        return Unfit.BROKEN


def _decoded(data: bytes, kind: str) -> Photo | Unfit:
    with Image.open(BytesIO(data), formats=(kind,)) as image:  # reads the header and no point
        if image.width * image.height > MOST_POINTS:
            return Unfit.TOO_LARGE
        if kind in _MANY_IN_ONE and getattr(image, "n_frames", 1) != 1:
            return Unfit.OTHER_KIND
        image.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))  # a JPEG is then decoded smaller
        image.load()
        return Photo(data=_as_jpeg(_small(_upright(image))))


def _upright(image: Image.Image) -> Image.Image:
    """Turn a picture as its Exif orientation says; where that cannot be read it stays as it is."""
    try:
        return ImageOps.exif_transpose(image)
    except Exception:  # noqa: BLE001 - notes that were made to break the reader are no reason to lose the picture
        return image


def _small(image: Image.Image) -> Image.Image:
    if image.mode.startswith("I"):  # greys of sixteen bits, which a plain conversion would cut off as white
        image = image.convert("I").point(lambda grey: grey * (1 / 256)).convert("L")
    flat = image.convert("RGBA") if "transparency" in image.info or image.mode in {"LA", "PA"} else image
    if flat.mode not in {"RGB", "RGBA", "L"}:
        flat = flat.convert("RGB")
    flat.thumbnail((LONGEST_SIDE, LONGEST_SIDE), Image.Resampling.LANCZOS)
    return flat


def _as_jpeg(image: Image.Image) -> bytes:
    """Draw the picture on a new white sheet, which has no notes, and write that."""
    sheet = Image.new("RGB", image.size, "white")
    sheet.paste(image, mask=image.getchannel("A") if image.mode == "RGBA" else None)
    written = BytesIO()
    sheet.save(written, "JPEG", quality=_QUALITY, optimize=True)
    return written.getvalue()
