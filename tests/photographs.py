"""Photographs for tests, drawn here: honest ones, and ones that were made to break or to tell."""

import struct
import zlib
from io import BytesIO

from PIL import Image, ImageDraw

PLACE_AND_MAKER = b"Secret Lane"
HEIC = b"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic" + b"\x00" * 64  # ISO/IEC 23008-12, brand heic
SVG = b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'


def picture(width: int = 320, height: int = 200, mode: str = "RGB") -> Image.Image:
    """Draw a picture whose top left corner is red and whose other corners are blue."""
    image = Image.new("RGB", (width, height), "navy")
    ImageDraw.Draw(image).rectangle((0, 0, width // 4, height // 4), fill="red")
    return image.convert(mode)


def written(image: Image.Image, kind: str = "JPEG", **options: object) -> bytes:
    """Return a picture as the bytes of a file."""
    file = BytesIO()
    image.save(file, kind, **options)
    return file.getvalue()


def telling() -> bytes:
    """Return a JPEG on its side that says where and with what it was taken, with a comment and a thumbnail's marker."""
    exif = Image.Exif()
    exif[0x0112] = 6  # orientation: turn a quarter to the right (Exif 2.32, 4.6.5.1.2)
    exif[0x010F] = PLACE_AND_MAKER.decode()
    exif[0x9003] = "2026:03:04 08:00:00"
    gps = exif.get_ifd(0x8825)
    gps[1], gps[2], gps[3], gps[4] = "N", (51.0, 30.0, 26.0), "W", (0.0, 7.0, 39.0)
    return written(picture(), exif=exif, comment=PLACE_AND_MAKER)


def polyglot() -> bytes:
    """Return a JPEG that is a page and an archive too."""
    return (
        written(picture(), comment=b"<script>alert(1)</script>")
        + b"PK\x03\x04<html><script>alert(2)</script>"
    )


def animated(kind: str) -> bytes:
    """Return an animation of two pictures as PNG or WebP."""
    other = picture().rotate(90)
    return written(picture(), kind, save_all=True, append_images=[other], duration=100)


def png_of_size(width: int, height: int) -> bytes:
    """Return a PNG whose head promises so many points, and which is a few bytes long (ISO/IEC 15948, 11.2.2)."""
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + _chunk(b"IHDR", head)
        + _chunk(b"IDAT", zlib.compress(b""))
        + _chunk(b"IEND", b"")
    )


def _chunk(name: bytes, content: bytes) -> bytes:
    return struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content))


def scanned_often() -> bytes:
    """Return a progressive JPEG whose last scan is written a thousand times over."""
    whole = written(picture(), progressive=True)
    last = whole.rindex(b"\xff\xda")
    return whole[:last] + whole[last:-2] * 1000 + whole[-2:]
