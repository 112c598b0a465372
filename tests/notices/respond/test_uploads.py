"""A photograph made anew: what is read, what is refused, and that nothing but its points goes on."""

import logging
from io import BytesIO
from math import isclose

import pytest
from PIL import Image

from notices.respond import uploads
from notices.respond.uploads import LONGEST_SIDE, MOST_PHOTO_BYTES, remade
from notices.work.photos import Photo, Unfit
from tests import photographs
from tests.photographs import HEIC, PLACE_AND_MAKER, SVG, picture, written


def opened(found: Photo | Unfit) -> Image.Image:
    """Open what came out, as anybody would."""
    assert isinstance(found, Photo), found
    image = Image.open(BytesIO(found.data))
    image.load()
    return image


def segments(data: bytes) -> list[int]:
    """Return the markers of a JPEG before its points, and of what follows its end (ITU-T T.81, annex B)."""
    found, at = [], 2
    while data[at + 1] != 0xDA:
        found.append(data[at + 1])
        at += 2 + int.from_bytes(data[at + 2 : at + 4], "big")
    assert data.endswith(b"\xff\xd9")
    assert data.count(b"\xff\xd9") == 1
    return found


MODES = {
    "JPEG": ("RGB", "L", "1", "CMYK"),
    "PNG": ("RGB", "L", "P", "1", "RGBA", "LA", "I;16"),
    "WEBP": ("RGB", "L", "P", "RGBA", "LA"),
}


@pytest.mark.parametrize(("kind", "mode"), [(kind, mode) for kind, modes in MODES.items() for mode in modes])
def test_what_cameras_and_screens_write_is_read_and_becomes_a_jpeg(kind: str, mode: str) -> None:
    data = written(picture(mode="L").convert("I;16") if mode == "I;16" else picture(mode=mode), kind)
    image = opened(remade(data))

    assert (image.format, image.mode, image.size) == ("JPEG", "RGB", (320, 200))


def test_a_picture_keeps_its_colours_and_see_through_parts_become_white() -> None:
    clear = Image.new("RGBA", (100, 100), (0, 0, 0, 0))
    clear.paste((255, 0, 0, 255), (0, 0, 50, 100))
    image = opened(remade(written(clear, "PNG")))

    left, right = image.getpixel((20, 50)), image.getpixel((80, 50))
    assert isinstance(left, tuple)
    assert isinstance(right, tuple)
    assert all(isclose(a, b, abs_tol=6) for a, b in zip(left, (255, 0, 0), strict=True))
    assert all(isclose(a, b, abs_tol=6) for a, b in zip(right, (255, 255, 255), strict=True))


def test_greys_of_sixteen_bits_keep_their_shade() -> None:
    image = opened(remade(written(Image.new("I;16", (50, 50), 0x8000), "PNG")))
    grey = image.getpixel((25, 25))

    assert isinstance(grey, tuple)
    assert all(isclose(each, 0x80, abs_tol=3) for each in grey)


def test_place_time_maker_and_comment_are_gone_and_the_picture_stands_upright() -> None:
    data = photographs.telling()
    assert PLACE_AND_MAKER in data
    assert b"Exif" in data
    found = remade(data)
    image = opened(found)

    assert isinstance(found, Photo)
    # JFIF, tables, frame: no APP1 (Exif), no APP2 (colour profile), no comment (ITU-T T.81, table B.1).
    assert set(segments(found.data)) <= {0xE0, 0xDB, 0xC0, 0xC4}
    assert PLACE_AND_MAKER not in found.data
    assert not image.getexif()
    assert image.size == (200, 320)
    corner = image.getpixel((190, 10))  # turned a quarter to the right, the red corner is the right one
    assert isinstance(corner, tuple)
    assert corner[0] > 200 > corner[2]


def test_notes_that_break_their_reader_lose_no_picture() -> None:
    broken = b"Exif\x00\x00MM\x00\x2a\xff\xff\xff\xff" + b"\xff" * 64

    assert opened(remade(written(picture(), exif=broken))).size == (320, 200)


def test_a_colour_profile_and_an_endless_comment_do_not_go_on() -> None:
    found = remade(written(picture(), icc_profile=b"profile" * 1000, comment=b"c" * 60_000))

    assert isinstance(found, Photo)
    assert b"profile" not in found.data
    assert set(segments(found.data)) <= {0xE0, 0xDB, 0xC0, 0xC4}


def test_a_file_that_is_a_page_and_an_archive_too_is_neither_afterwards() -> None:
    data = photographs.polyglot()
    found = remade(data)

    assert isinstance(found, Photo)
    assert b"<script>" in data
    assert not any(each in found.data for each in (b"<script>", b"<html", b"PK\x03\x04"))


def test_a_large_picture_is_made_smaller_and_a_small_one_never_larger() -> None:
    assert opened(remade(written(picture(4032, 3024)))).size == (LONGEST_SIDE, 1500)
    assert opened(remade(written(picture(3024, 4032), "PNG"))).size == (1500, LONGEST_SIDE)
    assert opened(remade(written(picture(10_000, 3)))).size == (LONGEST_SIDE, 1)
    assert opened(remade(written(picture(40, 30)))).size == (40, 30)


def test_the_same_picture_sent_twice_is_the_same_bytes() -> None:
    assert remade(photographs.telling()) == remade(photographs.telling())


def test_a_second_view_inside_a_telephones_picture_is_left_out() -> None:
    both = BytesIO()
    picture().save(both, "MPO", save_all=True, append_images=[picture(64, 64)])

    assert opened(remade(both.getvalue())).size == (320, 200)


@pytest.mark.parametrize(
    "data",
    [
        pytest.param(HEIC, id="heic"),
        pytest.param(SVG, id="svg"),
        pytest.param(b"", id="empty"),
        pytest.param(b"GIF89a" + b"\0" * 100, id="gif"),
        pytest.param(b"%PDF-1.7\n", id="pdf"),
        pytest.param(b"PK\x03\x04" + b"\0" * 100, id="archive"),
        pytest.param(written(picture(), "TIFF"), id="tiff"),
        pytest.param(written(picture(), "BMP"), id="bmp"),
        pytest.param(b"<html>" + written(picture()), id="a page first"),
        pytest.param(photographs.animated("PNG"), id="animated png"),
        pytest.param(photographs.animated("WEBP"), id="animated webp"),
    ],
)
def test_another_kind_of_file_is_refused_by_its_first_bytes(data: bytes) -> None:
    assert remade(data) is Unfit.OTHER_KIND


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
@pytest.mark.parametrize("share", [0.02, 0.3, 0.9])
def test_half_a_picture_is_refused(kind: str, share: float) -> None:
    whole = written(picture(1000, 800), kind)

    assert remade(whole[: max(12, int(len(whole) * share))]) in {Unfit.BROKEN, Unfit.OTHER_KIND}


@pytest.mark.parametrize(
    "start", [b"\xff\xd8\xff\xe0", b"\x89PNG\r\n\x1a\n", b"RIFF\x20\x00\x00\x00WEBPVP8 "]
)
def test_noise_behind_a_good_start_is_refused(start: bytes) -> None:
    assert remade(start + bytes(range(256)) * 50) is Unfit.BROKEN


def test_more_points_than_we_decode_are_refused_before_any_is(monkeypatch: pytest.MonkeyPatch) -> None:
    def never(*_: object) -> None:
        raise AssertionError("a point was decoded")

    monkeypatch.setattr("PIL.ImageFile.ImageFile.load", never)

    assert remade(photographs.png_of_size(50_000, 50_000)) is Unfit.TOO_LARGE
    assert remade(photographs.png_of_size(10_000, 5001)) is Unfit.TOO_LARGE


def test_the_decoders_own_limit_stands_behind_ours_and_is_no_warning() -> None:
    assert Image.MAX_IMAGE_PIXELS == uploads.MOST_POINTS
    with pytest.raises((Image.DecompressionBombError, Image.DecompressionBombWarning)):
        Image.open(BytesIO(photographs.png_of_size(50_000, 50_000)))


def test_our_limit_holds_without_the_decoders(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Image, "MAX_IMAGE_PIXELS", None)

    assert remade(photographs.png_of_size(50_000, 50_000)) is Unfit.TOO_LARGE


def test_a_picture_that_goes_over_itself_a_thousand_times_is_refused() -> None:
    data = photographs.scanned_often()
    assert data.count(b"\xff\xda") > 1000

    assert remade(data) is Unfit.BROKEN
    assert isinstance(remade(written(picture(), progressive=True)), Photo)


def test_a_file_over_eight_megabytes_is_refused_unread() -> None:
    assert remade(written(picture()) + b"\0" * MOST_PHOTO_BYTES) is Unfit.TOO_LARGE


def test_the_decoder_writes_down_nothing_of_what_a_picture_says(caplog: pytest.LogCaptureFixture) -> None:
    caplog.set_level(logging.DEBUG)

    remade(photographs.telling())
    remade(written(picture(), "PNG"))

    assert caplog.text == ""
