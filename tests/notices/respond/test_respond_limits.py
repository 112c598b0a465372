"""Too many at once: refused in the reader's language with the number and the stop, and never a pressed *stopped*."""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from notices.cases.case import Stopped
from notices.respond.limits import QUOTAS, Limits, Quota, Rate
from tests.owners_pages import Reader
from tests.owners_world import Owners, owners_world
from tests.photographs import picture, written

KEY = b"a key of this process alone"
WIDE = Quota(each=Rate(burst=10_000, every=0.001), together=Rate(burst=10_000, every=0.001))


@pytest.fixture
def owners(tmp_path: Path) -> Iterator[Owners]:
    with owners_world(tmp_path) as found:
        yield found


def narrow(owners: Owners, **quotas: Quota) -> Limits:
    """Return limits that are wide but for the given kinds."""
    return Limits(key=KEY, now=owners.clock, quotas={**dict.fromkeys(QUOTAS, WIDE), **quotas})


def of_each(burst: int, every: float = 30) -> Quota:
    return Quota(each=Rate(burst=burst, every=every), together=Rate(burst=1000, every=0.01))


def test_who_asks_too_often_is_told_when_to_come_again_and_how_to_reach_us(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    reader = Reader(owners, limits=narrow(owners, page=of_each(2, every=90)))
    reader.open(link).open(link)

    reader.open(link)

    assert reader.status == 429
    assert reader.headers["retry-after"] == "90"
    assert "Please try again in 2 minutes" in reader.text
    assert "Stop riding your Drayling 2 now." in reader.text
    assert {"tel:+448081570172", "tel:+493023125172"} <= reader.calls
    assert reader.headers["content-security-policy"].startswith("default-src 'none'")
    owners.clock.forward(timedelta(seconds=90))
    assert reader.open(link).status == 200


@pytest.mark.parametrize(
    ("tag", "words"),
    [
        ("de", "Bitte versuchen Sie es in einer Minute noch einmal"),
        ("ar", "حاولوا مرة أخرى بعد دقيقة"),
        ("en", "Please try again in one minute"),
    ],
)
def test_a_refusal_speaks_the_readers_language(owners: Owners, tag: str, words: str) -> None:
    reader = Reader(owners, limits=narrow(owners, page=of_each(1)))
    reader.open("")
    chosen = reader.open(f"?lang={tag}").html
    by_browser = reader.client.get("/drayling/", headers={"accept-language": tag}).text

    assert f'<html lang="{tag}"' in chosen
    assert f'<html lang="{tag}"' in by_browser
    assert words in reader.text
    assert reader.client.post("/drayling/start", data={"lang": tag}).status_code == 429


def test_a_pressed_stopped_with_a_valid_link_is_never_refused_by_the_limit_of_other_pages(
    owners: Owners,
) -> None:
    """A hundred people behind one office address, and one of them reloads like mad."""
    links = [owners.owner(f"Owner {place}") for place in range(100)]
    units = [owners.unit(link, f"QM-2534-B{place:04}") for place, link in enumerate(links)]
    reader = Reader(owners, limits=narrow(owners, page=of_each(1), miss=of_each(1), stop=QUOTAS["stop"]))
    reader.open("0000000000")
    assert reader.open(links[0]).status == 429

    for link in links:
        reader.address = f"/drayling/{link}"
        reader.post({"do": "stop"})

        assert reader.status == 200
    assert {owners.case(unit_id).stopped for unit_id in units} == {Stopped.PRESSED}


def test_other_forms_wait_and_their_reader_is_told_that_nothing_was_received(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    reader = Reader(owners, limits=narrow(owners, page=of_each(1)))
    reader.open(link)

    reader.post({"do": "signs", "signs": "0172"})

    assert reader.status == 429
    assert "We have not received this answer." in reader.text
    assert owners.kinds(unit_id) == []


@pytest.mark.parametrize(
    "headers", [{"content-type": "multipart/form-data; boundary=x"}, {"content-length": "9999"}]
)
def test_only_what_can_be_a_pressed_button_is_let_in_to_be_looked_at(
    owners: Owners, headers: dict[str, str]
) -> None:
    link = owners.owner()
    owners.unit(link)
    reader = Reader(owners, limits=narrow(owners, page=of_each(1), stop=of_each(1)))
    reader.open(link)

    assert reader.post({"do": "stop"}, headers).status == 429


def test_even_the_pressed_button_has_a_limit_of_its_own(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    reader = Reader(owners, limits=narrow(owners, page=of_each(1), stop=of_each(2)))
    reader.open(link)

    assert [reader.post({"do": "stop"}).status for _ in range(3)] == [200, 200, 429]


def test_who_tries_links_that_are_nobodys_may_soon_try_none(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    limits = narrow(owners, miss=of_each(3))
    reader = Reader(owners, limits=limits)
    tried = [reader.open(f"{place:010}").status for place in range(4)]

    assert tried == [404, 404, 404, 429]
    assert reader.open(link).status == 429  # no way to tell a good guess from a bad one
    assert reader.open(f"{link}/hurt").status == 429
    assert reader.open("").status == 200
    assert Reader(owners, limits=limits, at="203.0.113.8").open(link).status == 200


def test_a_guess_by_the_button_is_counted_too(owners: Owners) -> None:
    reader = Reader(owners, limits=narrow(owners, miss=of_each(2)))
    statuses = []
    for place in range(3):
        reader.address = f"/drayling/{place:010}"
        statuses.append(reader.post({"do": "stop"}).status)

    assert statuses == [404, 404, 429]


def test_guesses_from_everywhere_stop_the_guessers_and_nobody_with_a_good_link(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    together = Quota(each=Rate(burst=5, every=30), together=Rate(burst=4, every=30))
    limits = narrow(owners, miss=together)
    guessers = [Reader(owners, limits=limits, at=f"203.0.113.{place}") for place in range(4)]
    for place, guesser in enumerate(guessers):
        assert guesser.open(f"{place:010}").status == 404

    assert [guesser.open("9999999999").status for guesser in guessers] == [429] * 4
    assert guessers[0].open(link).status == 429
    honest = Reader(owners, limits=limits, at="198.51.100.1")
    assert honest.open(link).status == 200
    assert honest.open("9999999999").status == 429


@pytest.mark.parametrize("path", ["favicon.ico", "robots.txt", "apple-touch-icon.png", ".well-known/x"])
def test_what_browsers_ask_for_by_themselves_counts_as_no_guess(owners: Owners, path: str) -> None:
    reader = Reader(owners, limits=narrow(owners, miss=of_each(1)))

    assert [reader.open(path).status for _ in range(3)] == [404] * 3


def test_codes_typed_without_a_link_are_counted_and_other_languages_of_a_page_are_not(owners: Owners) -> None:
    reader = Reader(owners, limits=narrow(owners, typed=of_each(2))).open("")
    for _ in range(2):
        assert reader.open("").send("check", code="QM-2534-B0172").status == 200
        assert reader.send("show", press="lang=de").status == 200

    assert reader.open("").send("check", code="QM-2534-B0172").status == 429
    assert reader.open("start/hurt").send(name="Dora", phone="020 7946 0123").status == 429
    assert "tel:+448081570172" in reader.calls


def test_photos_are_counted_large_ones_before_they_are_read(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    reader = Reader(owners, limits=narrow(owners, upload=of_each(2)))
    small, large = written(picture()), written(picture()) + b"\0" * 40_000
    for data in (small, large):
        assert reader.open(f"{link}/photo").upload(data).status == 200

    assert reader.open(f"{link}/photo").upload(small).status == 429
    assert reader.open(f"{link}/photo").upload(large).status == 429
    assert reader.open(f"{link}/photo").upload().status == 200  # none was chosen


def test_behind_a_proxy_people_are_told_apart_by_what_it_writes(owners: Owners) -> None:
    limits = narrow(owners, page=of_each(1))
    reader = Reader(owners, limits=limits, at="127.0.0.1", behind_proxy=True)

    def status(forwarded: str) -> int:
        return reader.client.get("/drayling/", headers={"x-forwarded-for": forwarded}).status_code

    assert [status("198.51.100.1"), status("198.51.100.1"), status("198.51.100.2")] == [200, 429, 200]
    assert status("198.51.100.9, 198.51.100.1") == 429


def test_a_neighbour_that_nobody_called_a_proxy_is_held_by_what_all_may_do_alone(owners: Owners) -> None:
    together = Quota(each=Rate(burst=1, every=30), together=Rate(burst=3, every=30))
    reader = Reader(owners, limits=narrow(owners, page=together), at="127.0.0.1")

    assert [reader.open("").status for _ in range(4)] == [200, 200, 200, 429]
