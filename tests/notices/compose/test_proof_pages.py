"""The proofs as pages: who gets what next, each variant in its three forms, what there is to say of it."""

import email
import html as entities
import re
from datetime import UTC, datetime

from audiences import canonical
from audiences.findings import Finding
from audiences.verdicts import Verdict
from notices.compose.mail import sample_values
from notices.compose.proofs import Proof, proof_pages
from notices.compose.values import FORMS
from tests.composing import LANGUAGES, PICTURES, TEMPLATES, catalogue, composed, demo, key

NOW = datetime(2026, 3, 3, 9, 30, tzinfo=UTC)
BUREAU = catalogue("en", "bureau")
FAULT = Finding(
    code="translation-missing",
    file="translations/de.po",
    line=88,
    path="now.steps",
    message="<b> [[ x ]] is not written",
    mend="write it",
    source="house rule",
)


def proof(
    language: str = "en",
    owners: int = 1,
    verdict: Verdict = Verdict.AFFECTED,
    signed_by: tuple[str, ...] = (),
    findings: tuple[Finding, ...] = (),
) -> Proof:
    """Compose a variant of the demo's and sample values for it."""
    of = demo(1, language)
    samples = {
        form: canonical.dump(sample_values(of, catalogue(language), country="DE", form=form))
        for form in FORMS
    }
    return Proof(
        composed=composed(of, key(verdict=verdict, language=language)),
        owners=owners,
        samples=samples,
        signed_by=signed_by,
        findings=findings,
    )


def pages(*proofs: Proof) -> dict[str, bytes]:
    """Make the pages of the demo's proofs."""
    return proof_pages(demo(1), proofs, BUREAU, TEMPLATES, PICTURES, date=NOW)


def test_the_variant_with_the_most_owners_stands_first() -> None:
    index = pages(proof("en", 74), proof("de", 118, signed_by=("IH",)), proof("ar", 2, findings=(FAULT,)))[
        "index.html"
    ].decode()
    links = re.findall(r'<a href="([^"]+)">([^<]+)</a>', index)
    states = re.findall(r'class="number">(\d+)</td><td>([^<]+)</td>', index)

    assert links == [
        ("first-affected-unknown-EU-de/index.html", "First notice: Use unknown, code known, EU, German"),
        ("first-affected-unknown-EU-en/index.html", "First notice: Use unknown, code known, EU, English"),
        ("first-affected-unknown-EU-ar/index.html", "First notice: Use unknown, code known, EU, Arabic"),
    ]
    assert states == [("118", "signed by IH"), ("74", "unsigned"), ("2", "1 to mend")]


def test_a_lead_who_reads_german_has_the_proofs_in_german() -> None:
    bureau = catalogue("de", "bureau")
    found = proof_pages(demo(1, "de"), [proof("en-US")], bureau, TEMPLATES, PICTURES, date=NOW)
    index = found["index.html"].decode()

    assert '<html lang="de" dir="ltr">' in index
    assert (
        "Erste Mitteilung: Nutzung unbekannt, Nummer bekannt, EU, Englisch (Vereinigte Staaten)</a>" in index
    )
    assert "nicht unterschrieben" in index


def test_a_proof_shows_phone_and_wide_plain_text_raw_message_and_the_three_forms() -> None:
    found = pages(proof())
    folder = "first-affected-unknown-EU-en"
    page = found[f"{folder}/index.html"].decode()
    frames = re.findall(
        r'<iframe class="(\w+)" sandbox="allow-same-origin" src="(\w+\.html)" title="[^"]+">', page
    )

    assert frames == [(wide, f"{form}.html") for form in FORMS for wide in ("phone", "page")]
    assert page.count("QM-2534-B····") == 3
    assert "Content-Transfer-Encoding: quoted-printable" in page
    assert "<script" not in page
    assert {f"{folder}/{form}.{kind}" for form in FORMS for kind in ("html", "txt")} < found.keys()


def test_the_framed_mail_shows_its_pictures_from_files_beside_it() -> None:
    found = pages(proof())
    html = found["first-affected-unknown-EU-en/one.html"].decode()
    sources = re.findall(r'src="\.\./(pictures/[0-9a-f]{64}\.png)"', html)

    assert [found[source] for source in sources] == list(PICTURES.values())
    assert "cid:" not in html


def test_the_message_beside_the_proof_is_the_whole_message() -> None:
    message = email.message_from_bytes(pages(proof())["first-affected-unknown-EU-en/message.eml"])

    assert message["Subject"].replace("\n", "").startswith("Do not ride your Drayling 2")
    assert message["To"] == "owner@proof.invalid"


def test_a_long_picture_is_left_out_of_the_raw_text() -> None:
    heavy = {name: data + b"\1" * 5000 for name, data in PICTURES.items()}
    of = demo(1)
    one = proof()
    big = Proof(composed=composed(of, key(), heavy), owners=1, samples=one.samples)
    page = proof_pages(of, [big], BUREAU, TEMPLATES, heavy, date=NOW)[
        "first-affected-unknown-EU-en/index.html"
    ]

    assert entities.unescape(page.decode()).count("[…]") == 2
    assert len(page) < 70_000


def test_findings_stand_beside_the_proof_escaped() -> None:
    page = pages(proof(findings=(FAULT,)))["first-affected-unknown-EU-en/index.html"].decode()

    assert (
        '<strong class="mend">must mend</strong> &lt;b&gt; &#91;&#91; x ]] is not written<small>write it</small>'
        in page
    )
    assert "translations/de.po:88 [translation-missing] now.steps" in entities.unescape(page)


def test_every_sentence_is_in_the_bureaus_catalogue() -> None:
    BUREAU.unsaid.clear()
    for verdict in Verdict:
        pages(*(proof(language, verdict=verdict, findings=(FAULT,)) for language in LANGUAGES))
    pages()

    assert BUREAU.unsaid == []


def test_nobody_who_is_owed_anything_is_said_too() -> None:
    assert "Nobody is owed a notice now." in pages()["index.html"].decode()
