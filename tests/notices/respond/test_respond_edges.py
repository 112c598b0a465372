"""What holds for every answer: headers, languages, hostile input, one face for links that are nobody's."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.applications import Starlette
from starlette.routing import Mount
from starlette.testclient import TestClient

from notices.respond.app import application
from notices.work.revisions import Signed
from tests.owners_pages import KEY, Reader
from tests.owners_world import AFFECTED, Owners, owners_world

WAYS = ("hurt", "gone", "another", "nocode", "call", "helper", "print", "fixed")
HOSTILE = (
    "<script>alert(1)</script>",
    '" onfocus=alert(1) autofocus x="',
    "{{ 7*7 }}{% raw %}[[ code ]]",
    "%(owner)s 100 % %s %n",
    "\x00\x1b[31m\ud800\u202e\u2066x\u0085",
    "'; DROP TABLE events; --",
    '=HYPERLINK("http://a.example")',
    "A" * 3000,
)


@pytest.fixture
def owners(tmp_path: Path) -> Iterator[Owners]:
    with owners_world(tmp_path) as found:
        yield found


@pytest.mark.parametrize("path", ["", "start/hurt", "NOSUCHLINK", "style.css", "LINK", "LINK/fixed"])
def test_every_answer_forbids_scripts_frames_and_traces(owners: Owners, path: str) -> None:
    link = owners.owner()
    owners.unit(link)
    headers = Reader(owners).open(path.replace("LINK", link)).headers

    policy = headers["content-security-policy"]
    assert policy.startswith("default-src 'none'; style-src 'self'; img-src 'self'; form-action 'self'")
    assert "frame-ancestors 'none'; base-uri 'none'" in policy
    assert headers["referrer-policy"] == "no-referrer"
    assert headers["x-robots-tag"] == "noindex, nofollow"
    assert headers["x-content-type-options"] == "nosniff"
    assert "set-cookie" not in headers
    assert path == "style.css" or headers["cache-control"] == "no-store"


def test_no_page_holds_a_script_a_foreign_address_or_a_personal_name(owners: Owners) -> None:
    link = owners.owner("Annabel Bergmeister")
    owners.unit(link)
    reader = Reader(owners)
    for path in (link, *(f"{link}/{way}" for way in WAYS)):
        reader.open(path)

        assert reader.status == 200
        assert not re.search(r"<script|\son\w+=|javascript:|https?://|Bergmeister", reader.html)
        assert AFFECTED not in reader.html


def test_opening_every_page_records_nothing(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    reader = Reader(owners)
    for path in (link, f"{link}/", *(f"{link}/{way}" for way in WAYS), "", "start/hurt", f"{link}?do=stop"):
        reader.open(path)
        reader.client.head(f"/drayling/{path}")

    assert owners.kinds(unit_id) == []
    assert set(owners.all_units()) == {unit_id}


def test_no_code_field_is_ever_prefilled(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    reader = Reader(owners)
    pages = [reader.open(path).page for path in ("", link, *(f"{link}/{way}" for way in WAYS))]
    pages.append(reader.open(link).send(press="do=stop").send("signs", signs="1234").page)
    pages.append(reader.open("").send("check", code="QM-2534-D0172").page)
    pages.append(reader.send("claim", press="stopped=yes", name="", phone="").page)
    codes = [field for page in pages for field in page.inputs if field.get("name") in {"code", "signs"}]

    assert len(codes) >= 6
    assert [field.get("value", "") for field in codes] == [""] * len(codes)
    assert {field.get("autocomplete") for field in codes} <= {"off", "family-name"}


def test_unknown_and_retired_links_have_one_face(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    owners.retire(link)
    retired, unknown = Reader(owners).open(link), Reader(owners).open("0123456789")

    assert (retired.status, retired.html) == (404, unknown.html)
    assert "Stop riding your Drayling 2 now." in retired.text


def test_a_link_is_found_as_it_is_typed(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    typed = link.lower().replace("0", "o").replace("1", "l")

    assert Reader(owners).open(typed).status == 200
    assert Reader(owners).open(f"{typed}/").status == 200


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_in_every_field_is_kept_or_refused_and_never_runs(owners: Owners, text: str) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    reader = Reader(owners)
    encoded = text.encode("utf-8", "surrogatepass").decode("utf-8", "replace")
    forms: list[tuple[str, str, str, dict[str, str]]] = [
        (link, "signs", "", {"signs": encoded}),
        ("", "check", "", {"code": encoded}),
        (f"{link}/hurt", "", "", {"phone": f"{encoded} 020 7946 0123", "words": encoded}),
        (f"{link}/helper", "", "", {"helper": encoded, "phone": "020 7946 0123"}),
        (f"{link}/print", "", "", {"address": encoded}),
        (f"{link}/gone", "", "", {"holder": encoded, "signs": encoded}),
        (f"{link}/fixed", "", "", {"by": encoded, "q__torque": encoded, "signs": encoded}),
        (f"{link}/another", "", "", {"code": encoded}),
    ]
    for path, do, press, typed in forms:
        reader.open(path)
        if do == "signs":
            reader.send(press="do=stop")
        reader.send(do, press=press, **typed)

        assert reader.status == 200
        assert "<script>alert" not in reader.html
        assert not any("onfocus" in field for field in reader.page.inputs)
    words = [owners.words(e) for e in owners.events(unit_id) if "text" in e.payload]
    assert not re.search("[\x00\x1b\u202e\u2066\ud800-\udfff]", "".join(words))
    assert owners.case(unit_id).ending is None


@pytest.mark.parametrize(
    "do", ["stop", "in_use", "signs", "check", "claim", "unit_code", "use", "place", "remedy", "show", "x"]
)
def test_a_form_with_made_up_hidden_fields_is_answered_with_a_page(owners: Owners, do: str) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    fields = {
        "do": do,
        "nonce": "<b>",
        "proof": "e30.x",
        "claim": "e30.x",
        "step": "use",
        "use": "nuts",
        "lang": "xx",
    }

    reader = Reader(owners).open(link).post(fields)

    assert reader.status == 200
    assert set(owners.kinds(unit_id)) <= {"stop_stated"}


def test_a_form_too_large_or_with_a_file_is_refused(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    reader = Reader(owners)
    large = reader.client.post(f"/drayling/{link}", data={"do": "stop", "words": "x" * 70_000})
    file = reader.client.post(f"/drayling/{link}", data={"do": "stop"}, files={"photo": b"x"})

    assert large.status_code == 413
    assert large.headers["content-security-policy"].startswith("default-src 'none'")
    assert file.status_code == 400
    assert owners.kinds(unit_id) == []


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ({"origin": "https://aldmere.example"}, 200),
        ({"origin": "null", "sec-fetch-site": "same-origin"}, 200),
        ({"origin": "null"}, 200),
        ({"origin": "null", "sec-fetch-site": "cross-site"}, 403),
        ({"origin": "https://evil.example"}, 403),
        ({"origin": "https://aldmere.example.evil.example"}, 403),
        ({"origin": "garbage"}, 403),
    ],
)
def test_a_form_comes_from_our_own_page(owners: Owners, headers: dict[str, str], status: int) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)

    reader = Reader(owners).open(link).post({"do": "stop"}, headers)

    assert reader.status == status
    assert bool(owners.kinds(unit_id)) is (status == 200)


@pytest.mark.parametrize(("tag", "direction", "word"), [("de", "ltr", "WARNUNG"), ("ar", "rtl", "تحذير")])
def test_a_page_speaks_the_owners_language_and_says_so(
    owners: Owners, tag: str, direction: str, word: str
) -> None:
    link = owners.owner(language=tag, country="DE")
    owners.unit(link)
    html = Reader(owners).open(link).html

    assert f'<html lang="{tag}" dir="{direction}">' in html
    assert word in html
    assert '<bdi dir="ltr">030 23125172</bdi>' in html


def test_a_colon_stands_as_the_readers_language_sets_it(owners: Owners) -> None:
    link = owners.owner(language="fr", country="FR")
    owners.unit(link)
    reader = Reader(owners).open(link)
    assert "Rappel de produit pour des raisons de sécurité\u00a0: Drayling\u00a02" in reader.html
    reader.send(press="do=stop").send("signs", signs="0172").send("use", press="use=unridden")

    reader.send("place", place="Quai du Vieux Port 3", phone="+33199000018")

    assert "Réparation\u00a0: un mécanicien s\u2019en charge" in reader.html


def test_another_language_can_be_chosen_on_every_page_without_losing_the_place(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    reader = Reader(owners).open(f"{link}?lang=de")
    assert "Ich fahre nicht mehr. Weiter" in reader.text
    reader.send(press="do=stop").send("signs", signs="0172")
    assert "gefahren" in reader.text

    reader.send("show", press="lang=ar")

    assert '<html lang="ar" dir="rtl">' in reader.html
    assert owners.kinds(unit_id).count("code_given") == 1
    reader.send("use", press="use=unridden")
    assert owners.case(unit_id).segment == "unridden"


def test_who_has_no_link_is_met_in_the_language_of_the_browser(owners: Owners) -> None:
    client = Reader(owners).client

    german = client.get("/drayling/", headers={"accept-language": "sv;q=0.9, de-AT;q=0.8, en;q=0.1"})

    assert '<html lang="de"' in german.text


@pytest.mark.parametrize("base", ["", "/drayling"])
def test_the_pages_work_whether_a_proxy_strips_the_path_or_not(owners: Owners, base: str) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)

    reader = Reader(owners, base=base).open(link).send(press="do=stop").send("signs", signs="0172")

    assert "stop_stated" in owners.kinds(unit_id)
    style = re.search(r'href="([^"]*style\.css[^"]*)"', Reader(owners, base=base).open(f"{link}/hurt").html)
    assert style is not None
    assert reader.client.get(f"{base}/{link}/{style[1]}").status_code == 200


def test_the_pages_work_mounted_inside_another_application(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    outer = Starlette(routes=[Mount("/inner", app=application(owners.world, key=KEY))])
    page = TestClient(outer).get(f"/inner/{link}/hurt")

    assert page.status_code == 200
    assert 'href="../style.css' in page.text


def test_the_base_address_without_its_slash_leads_to_the_one_with_it(owners: Owners) -> None:
    answer = Reader(owners).client.get("/drayling", follow_redirects=False)

    assert (answer.status_code, answer.headers["location"]) == (308, "drayling/")


def test_pictures_come_from_the_signed_revision_by_their_digest(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    reader = Reader(owners).open(link).send(press="do=stop")
    address = re.search(r'<img class="picture" src="([^"]+)" alt="The code', reader.html)
    assert address is not None

    picture = reader.client.get(f"/drayling/{address[1]}")

    assert picture.headers["content-type"] == "image/png"
    assert picture.content == owners.world.folder.read("pictures/head-tube.png")
    assert reader.client.get("/drayling/picture/..%2Fcampaign.yaml").status_code == 404


def test_the_next_signed_revision_speaks_at_the_next_request(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    reader = Reader(owners).open(link)
    now = "Do not even look at it."
    owners.sign(lambda c: c.model_copy(update={"now": c.now.model_copy(update={"headline": now})}))

    assert now not in reader.text
    assert now in reader.open(link).text


def test_the_public_page_is_plugged_in_with_a_policy_for_its_own_style(owners: Owners) -> None:
    def bulletin(_held: Signed, tag: str) -> str:
        return f"<!doctype html><html lang={tag}><style>p{{}}</style><p>Bulletin"

    client = TestClient(application(owners.world, key=KEY, bulletin=bulletin))
    answer = client.get("/bulletin?lang=de")

    assert answer.text.startswith("<!doctype html><html lang=de>")
    # SHA-256 of "p{}" in base64, as CSP level 3 wants it; from openssl dgst.
    assert "style-src 'sha256-" in answer.headers["content-security-policy"]
    assert "'self'; form-action" in answer.headers["content-security-policy"].replace(" data:", "")


def test_before_the_first_signature_there_is_nothing_to_say(tmp_path: Path) -> None:
    with owners_world(tmp_path / "unsigned", signed=False) as owners:
        reader = Reader(owners).open("")

        assert (reader.status, reader.html) == (503, "There is nothing here yet.\n")


def test_every_page_offers_the_ways_out(owners: Owners) -> None:
    link = owners.owner()
    owners.unit(link)
    reader = Reader(owners).open(link)
    stages = [set(reader.page.links)]
    for do, press, typed in (
        ("stop", "do=stop", {}),
        ("signs", "", {"signs": "0172"}),
        ("use", "use=unridden", {}),
        ("place", "", {"place": "Mill Lane 4", "phone": "020 7946 0123"}),
        ("remedy", "remedy=refund", {}),
    ):
        stages.append(set(reader.send(do, press=press, **typed).page.links))

    for links in stages:
        assert {f"{link}/{way}" for way in WAYS} <= links


def test_a_code_typed_where_the_last_signs_are_asked_for_is_judged(owners: Owners) -> None:
    link = owners.owner()
    unit_id = owners.unit(link)
    reader = Reader(owners).open(link).send(press="do=stop").send("signs", signs="QM-2534-D0172")

    assert "Still do not ride." in reader.text
    assert owners.case(unit_id).verdict == "affected"
    assert AFFECTED not in reader.html
