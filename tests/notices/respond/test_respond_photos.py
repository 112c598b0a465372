"""The page that takes photographs: offered where a code cannot be read, and beside the confirmation; no script."""

import re
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Browser

from notices.cases.records import EvidenceRow
from notices.demo.site import Site
from notices.respond.app import application
from notices.work.photos import file_of
from tests import photographs
from tests.browser import axe
from tests.owners_pages import KEY, Reader
from tests.owners_world import AFFECTED, Owners, owners_world
from tests.photographs import picture, written

PHOTO = written(picture())


@pytest.fixture
def owners(tmp_path: Path) -> Iterator[Owners]:
    with owners_world(tmp_path) as found:
        yield found


def rows(owners: Owners) -> list[EvidenceRow]:
    with owners.world.register.look() as tx:
        return tx.evidence.of_units()


def kept(owners: Owners) -> list[str]:
    return owners.world.folder.names("evidence")


def test_a_photo_reaches_a_person_and_the_page_says_what_happens_with_it(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link, None)
    reader = Reader(owners).open(f"{link}/photo")

    assert "We keep the picture with your case, without the place and time in it." in reader.text
    assert "The photo alone changes nothing" in reader.text
    assert "Stop riding your Drayling 2 now." in reader.text
    assert "Please send other kinds, such as HEIC, by e-mail." in reader.text
    reader.upload(PHOTO)
    assert "Thank you. A person will look at your photo." in reader.text
    assert "Stop riding your Drayling 2 now." in reader.text
    assert reader.reference == unit_id
    assert owners.due(unit_id) == "look"
    assert owners.case(unit_id).verdict == "missing"


def test_what_is_kept_says_nothing_of_place_time_or_maker(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    Reader(owners).open(f"{link}/photo").upload(photographs.telling())
    data = owners.world.folder.read(file_of(rows(owners)[0].digest))

    assert data is not None
    assert photographs.PLACE_AND_MAKER not in data
    assert b"Exif" not in data
    assert Image.open(BytesIO(data)).size == (200, 320)


def test_a_photo_is_offered_wherever_the_code_is_near_unreadable_or_not_found(owners: Owners) -> None:
    link, bare = owners.owner(), owners.owner("Carla Stone")
    owners.unit(link)
    owners.unit(bare, None)
    reader = Reader(owners)

    assert f"{link}/photo" in reader.open(link).send(press="do=stop").page.links
    assert f"../{link}/photo" in reader.open(f"{link}/nocode").page.links
    assert f"../{link}/photo" in reader.open(f"{link}/another").page.links
    assert "../start/photo" in reader.open("start/nocode").page.links
    unitcode = reader.open(bare).send(press="do=stop").send("signs", signs="Stone")
    assert f"{bare}/photo" in {form.action for form in unitcode.page.forms}
    near = reader.open("").send("check", code="QM-2534-D0172")
    assert "start/photo" in {form.action for form in near.page.forms}
    unreadable = reader.open("").send("check", code="QM-??")
    assert "start/photo" in {form.action for form in unreadable.page.forms}


def _to_photo(reader: Reader) -> Reader:
    form = next(form for form in reader.page.forms if form.action.endswith("/photo"))
    reader.address = f"/drayling/{form.action.replace('../', '')}"
    return reader.post(form.fields)


def test_who_has_given_the_signs_sends_a_photo_of_that_very_unit(owners: Owners) -> None:
    link = owners.owner("Carla Stone")
    owners.unit(link)
    bare = owners.unit(link, None)
    reader = Reader(owners).open(link).send(press="do=stop").send("signs", signs="Stone")

    _to_photo(reader).upload(PHOTO)

    assert reader.reference == bare
    assert [row.unit_id for row in rows(owners)] == [bare]


def test_who_has_no_link_gives_a_name_and_a_number_with_the_photo(owners: Owners) -> None:
    reader = _to_photo(Reader(owners).open("").send("check", code="QM-2534-D0172"))
    form = next(each for each in reader.page.forms if "photo" in each.fields)
    fields = {key: value for key, value in form.fields.items() if key != "photo"}

    def send(**typed: str) -> str:
        answer = reader.client.post(reader.address, data=fields | typed, files=[("photo", ("p.jpg", PHOTO))])
        reader.html = answer.text
        return reader.text

    assert "Please fill this in." in send()
    assert "Please choose the photo once more." in send(name="Carla Stone")
    assert rows(owners) == []
    assert "A person will look at your photo." in send(name="Carla Stone", phone="020 7946 0177")
    (unit_id,) = owners.all_units()
    assert owners.case(unit_id).verdict != "cleared"
    assert [row.unit_id for row in rows(owners)] == [unit_id]
    assert owners.due(unit_id) == "call-back"


def test_the_language_changes_on_the_way_and_the_claim_is_not_lost(owners: Owners) -> None:
    reader = _to_photo(Reader(owners).open("").send("check", code="QM-2534-D0172"))
    before = next(each for each in reader.page.forms if "photo" in each.fields).fields["claim"]

    reader.send("show", press="lang=de")

    after = next(each for each in reader.page.forms if "photo" in each.fields).fields
    assert after["lang"] == "de"
    assert before.partition(".")[0] == after["claim"].partition(".")[0]
    assert '<html lang="de"' in reader.html


def test_two_photos_at_a_time_and_one_without_a_file_is_asked_for(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    reader = Reader(owners)
    other = written(picture(64, 64), "PNG")

    assert "Please choose a photo first." in reader.open(f"{link}/photo").upload().text
    assert "at most two photos" in reader.open(f"{link}/photo").upload(PHOTO, other, PHOTO).text
    assert owners.kinds(unit_id) == []
    reader.open(f"{link}/photo").upload(PHOTO, other)
    assert len(rows(owners)) == len(kept(owners)) == 2


HOSTILE = {
    "svg": (photographs.SVG, "kind of file"),
    "heic": (photographs.HEIC, "kind of file"),
    "empty": (b"", "kind of file"),
    "animated": (photographs.animated("PNG"), "kind of file"),
    "half": (PHOTO[: len(PHOTO) // 2], "did not arrive whole"),
    "bomb": (photographs.png_of_size(50_000, 50_000), "too large"),
    "nine megabytes": (PHOTO + b"\0" * (9 * 1024 * 1024), "too large"),
}


@pytest.mark.parametrize(("data", "said"), HOSTILE.values(), ids=HOSTILE)
def test_what_is_no_photo_is_refused_in_words_and_nothing_is_kept(
    owners: Owners, data: bytes, said: str
) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    reader = Reader(owners).open(f"{link}/photo").upload(data)

    assert reader.status == 200
    assert said in reader.text
    assert 'class="fault"' in reader.html
    assert (rows(owners), kept(owners), owners.kinds(unit_id)) == ([], [], [])


@pytest.mark.parametrize(
    "name",
    [
        "../../register.db",
        "..\\..\\campaign.yaml",
        "/etc/passwd",
        "a\0b.jpg",
        "x.svg",
        "x.php",
        "photo",
        "\u202egpj.exe",
        "a" * 900,
    ],
)
def test_the_name_of_a_file_counts_nothing(owners: Owners, name: str) -> None:
    link = owners.owner()
    owners.unit(link)
    campaign = owners.world.folder.read("campaign.yaml")
    reader = Reader(owners).open(f"{link}/photo").upload(PHOTO, name=name)

    assert "A person will look at your photo." in reader.text
    assert kept(owners) == [file_of(rows(owners)[0].digest)]
    assert re.fullmatch(r"evidence/[0-9a-f]{64}\.jpg", kept(owners)[0])
    assert owners.world.folder.read("campaign.yaml") == campaign


def test_a_photo_that_is_a_page_too_is_kept_as_a_photo_alone(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    Reader(owners).open(f"{link}/photo").upload(photographs.polyglot(), name="x.html")
    data = owners.world.folder.read(kept(owners)[0])

    assert data is not None
    assert b"<script" not in data


def test_nothing_that_was_sent_can_be_fetched_again(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    reader = Reader(owners).open(f"{link}/photo").upload(PHOTO)
    digest = rows(owners)[0].digest

    for path in (
        f"evidence/{digest}.jpg",
        f"picture/{digest[:20]}",
        f"picture/{digest}.jpg",
        f"{link}/{digest}",
    ):
        assert reader.open(path).status == 404


def test_no_more_photos_than_a_person_can_look_through(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    reader = Reader(owners)
    for place in range(20):
        reader.open(f"{link}/photo").upload(written(picture(40 + place, 30)))

    reader.open(f"{link}/photo").upload(written(picture(90, 90)))

    assert "We have enough photos of this one now." in reader.text
    assert len(kept(owners)) == 20


def test_a_reload_keeps_it_once(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    reader = Reader(owners).open(f"{link}/photo")
    page, address = reader.html, reader.address
    reader.upload(PHOTO)
    once = owners.kinds(unit_id)
    reader.html, reader.address = page, address
    reader.upload(PHOTO)

    assert owners.kinds(unit_id) == once == ["code_given", "answer_set_aside"]


def test_the_confirmation_takes_a_photo_of_the_fitted_part_and_needs_none(owners: Owners) -> None:
    link, other = owners.owner(), owners.owner("Carla Stone")
    unit_id, plain = owners.unit(link), owners.unit(other, "QM-2540-B0200")
    said = {"by": "mechanic", "q__torque": "yes", "q__play": "yes"}
    reader = Reader(owners)
    reader.open(f"{link}/fixed").upload(PHOTO, signs="0555", **said)
    assert "Please choose the photo once more." in reader.text
    assert kept(owners) == []
    reader.upload(photographs.SVG, signs="0172", **said)
    assert "We cannot read this kind of file." in reader.text
    assert owners.case(unit_id).ending is None
    reader.upload(PHOTO, signs="0172", **said)
    reader.open(f"{other}/fixed").upload(signs="0200", **said)

    assert owners.case(unit_id).ending == owners.case(plain).ending == "fixed"
    confirmed = next(each for each in owners.events(unit_id) if each.kind == "fix_confirmed")
    assert confirmed.payload["photos"] == [rows(owners)[0].digest]
    assert len(rows(owners)) == 1


@pytest.mark.parametrize("path", ["LINK", "LINK/hurt", "LINK/gone", "start", "LINK/another"])
def test_where_no_photo_is_asked_for_none_is_taken(owners: Owners, path: str) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    answer = Reader(owners).client.post(
        f"/drayling/{path.replace('LINK', link)}", data={"do": "stop"}, files={"photo": b"x"}
    )

    assert answer.status_code == 400
    assert owners.kinds(unit_id) == []


@pytest.mark.parametrize("tag", ["en", "ar"])
def test_in_a_browser_without_scripts_a_photo_is_chosen_and_sent(
    owners: Owners, chromium: Browser, axe_source: str, tmp_path: Path, tag: str
) -> None:
    link = owners.owner(language=tag)
    unit_id = owners.unit(link, AFFECTED)
    file = tmp_path / "IMG 1 (Ä).png"
    file.write_bytes(written(picture(1200, 900), "PNG"))
    with Site(application(owners.world, key=KEY)) as site:
        page = chromium.new_context(
            java_script_enabled=False, viewport={"width": 390, "height": 844}
        ).new_page()
        page.goto(f"http://127.0.0.1:{site.port}/drayling/{link}/photo")
        wide = page.evaluate("document.documentElement.scrollWidth")
        small = page.evaluate(
            "[...document.querySelectorAll('main p, main label, main button, main input:not([type=hidden])')]"
            ".map(each => parseFloat(getComputedStyle(each).fontSize)).filter(size => size < 16).length"
        )
        page.set_input_files("input[type=file]", str(file))
        page.locator("main form button").first.click()
        words = page.locator("main").inner_text()
        seen = chromium.new_context(viewport={"width": 390, "height": 844}).new_page()
        seen.goto(f"http://127.0.0.1:{site.port}/drayling/{link}/photo")
        looked = axe(seen, axe_source)
        seen.context.close()
        page.context.close()

    assert wide <= 390
    assert small == 0
    assert looked.violations == ()
    assert unit_id in words
    assert [row.unit_id for row in rows(owners)] == [unit_id]
