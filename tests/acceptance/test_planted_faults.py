"""The demo's recall notice is clean; each fault planted in it is found at its place, and nothing else is."""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import pytest

from audiences.findings import Finding
from notices.work import checking
from tests.folders import Desk, a_desk

SOURCE = "campaign.yaml"


@dataclass(frozen=True, kw_only=True, slots=True)
class Fault:
    """What is changed in one file, and the code and path of what must be found there; *warns* in a stop warning too."""

    before: str
    after: str
    code: str
    path: str
    file: str = SOURCE
    warns: bool = False


FAULTS = {
    "voluntary, in English": Fault(
        before="Then you cannot steer.",
        after="Then you cannot steer. This recall is voluntary.",
        code="expression-forbidden",
        path="hazard.what",
        warns=True,
    ),
    "voluntary, in German": Fault(
        before="Dann können Sie nicht mehr lenken.",
        after="Dann können Sie nicht mehr lenken. Der Rückruf ist freiwillig.",
        code="expression-forbidden",
        path="hazard.what",
        file="translations/de.po",
        warns=True,
    ),
    "voluntary, in French": Fault(
        before="cassé le poignet.",
        after="cassé le poignet. Ce rappel est volontaire.",
        code="expression-forbidden",
        path="ledger[0].text",
        file="translations/fr.po",
        warns=True,
    ),
    "voluntary, in Spanish": Fault(
        before="Entonces no podrá dirigir la bicicleta.",
        after="Entonces no podrá dirigir la bicicleta. El aviso es voluntario.",
        code="expression-forbidden",
        path="hazard.what",
        file="translations/es.po",
        warns=True,
    ),
    "an alt text that plays it down": Fault(
        before="a long front box over two wheels",
        after="a long front box over two wheels. Voluntary recall",
        code="expression-forbidden",
        path="product.pictures[0].alt",
        warns=True,
    ),
    "no accidents reported": Fault(
        before="can be killed or badly hurt.",
        after="can be killed or badly hurt. No accidents have been reported.",
        code="expression-forbidden",
        path="hazard.who",
        warns=True,
    ),
    "a sentence of 45 words": Fault(
        before="Tell us who has it now, or send them to %(bulletin)s.",
        after="Tell us who has it now, and where it is now, and who had it before you, and who rode it, and who sat in"
        " it, and who was near it, and what you told them, or send them all to our page, which is %(bulletin)s.",
        code="sentence-long",
        path="no_longer",
        warns=True,
    ),
    "a stale translation": Fault(
        before='msgctxt "no_longer"\n',
        after='#, fuzzy\nmsgctxt "no_longer"\n',
        code="translation-fuzzy",
        path="no_longer",
        file="translations/de.po",
        warns=True,
    ),
    "a lost placeholder": Fault(
        before="oder geben Sie dieser Person die Adresse %(bulletin)s.",
        after="oder geben Sie dieser Person unsere Adresse.",
        code="translation-placeholders",
        path="no_longer",
        file="translations/de.po",
        warns=True,
    ),
    "selling": Fault(
        before="Send them to the same page.",
        after="Send them to the same page. Buy the new Drayling 3.",
        code="selling-text",
        path="share",
        warns=True,
    ),
    "a hazard after the first sixty words": Fault(
        before="Stop riding your Drayling 2 now. Carry nobody in it.",
        after="We are a small firm, and we have made and sold good bicycles for many years. We write to you today about"
        " the bicycle that you bought from us or from a shop. We know that you like it, and that you may need it every"
        " day. Please take two minutes, and read all of this page to its end. Stop riding your Drayling 2 now, and"
        " carry nobody in it until we have looked at it.",
        code="hazard-late",
        path="now.headline",
        warns=True,
    ),
    "no place of the code": Fault(
        before="  where: The code is stamped low on the head tube, in front of the box.\n",
        after="",
        code="element-missing",
        path="code.where",
    ),
    "a headline that is not the law's": Fault(
        before='msgctxt "markets.EU.headline"\nmsgid "Product safety recall"\nmsgstr "Produktsicherheitsrückruf"',
        after='msgctxt "markets.EU.headline"\nmsgid "Product safety recall"\nmsgstr "Produktrückruf"',
        code="headline-words",
        path="markets.EU.headline",
        file="translations/de.po",
    ),
    "a torque without its tool": Fault(
        before="tools: [torque wrench, spanner]",
        after="tools: [spanner]",
        code="torque-without-tool",
        path="remedies.repair.unridden.steps[2]",
    ),
    "bring it to us beside do not ride": Fault(
        before="we fetch the bicycle by van and repair it in our workshop.",
        after="bring it to us and we repair it in our workshop.",
        code="brought-while-stopped",
        path="remedies.repair.symptomatic.promise",
    ),
    "a request for bank data": Fault(
        before="You pay nothing for parts, work, transport or post.",
        after="You pay nothing for parts, work, transport or post. Send us your bank account number.",
        code="data-asked",
        path="free",
    ),
    "familiar address in German": Fault(
        before="Ihr Recht auf kostenlose Abhilfe bleibt bestehen.",
        after="Dein Recht auf kostenlose Abhilfe bleibt bestehen.",
        code="address-familiar",
        path="before_remedy",
        file="translations/de.po",
        warns=True,
    ),
    "a day by which to claim": Fault(
        before="You pay nothing for parts, work, transport or post.",
        after="You pay nothing for parts, work, transport or post. Claim your repair by 31 May 2026.",
        code="claim-by-day",
        path="free",
    ),
    "an owner's repair without a mechanic": Fault(
        before="by: [mechanic, owner]                           # the mechanic first\n"
        "      minutes: {mechanic: 15, owner: 20}",
        after="by: [owner]\n      minutes: {owner: 20}",
        code="owner-before-mechanic",
        path="remedies.repair.unridden.by",
    ),
    "one remedy without a reason": Fault(
        before="  refund:\n    kind: refund\n    label: Your money back\n"
        "    all: {promise: The full price you paid. We fetch the bicycle.}\n",
        after="",
        code="single-remedy",
        path="remedies",
    ),
    "no free way to ask": Fault(
        before="  answers: https://aldmere.example/drayling\n",
        after="",
        code="element-missing",
        path="contacts",
        warns=True,
    ),
    "no way on without the code": Fault(
        before="  code_missing: We do not have the code of your bicycle. Do not ride. Tell us the code, or send us a"
        " photo of it.\n",
        after="",
        code="code-missing-text-missing",
        path="now.code_missing",
        warns=True,
    ),
    "nobody named who can be hurt": Fault(
        before="You, a child in the box and people near you can be killed or badly hurt.",
        after="It can end very badly.",
        code="who-nobody",
        path="hazard.who",
        warns=True,
    ),
    "a country without any contact": Fault(
        before="countries: [IE, NL, BE, ES, IT, PL], phone: null",
        after="countries: [IE, NL, BE, ES, IT], phone: null",
        code="market-country-without-contact",
        path="markets.EU.countries",
        warns=True,
    ),
}


@contextmanager
def _recall(root: Path, fault: Fault) -> Iterator[Desk]:
    """Yield the demo's recall notice; alone in its source language where the fault is planted there."""
    with a_desk(root, revision=1) as desk:
        if fault.file == SOURCE:
            text = (desk.root / SOURCE).read_text("utf-8")
            (desk.root / SOURCE).write_text(re.sub(r"written: \[.*?\]", "written: [en]", text), "utf-8")
        yield desk


def _plant(desk: Desk, fault: Fault) -> None:
    path = desk.root / fault.file
    text = path.read_text("utf-8")
    assert text.count(fault.before) == 1, f"{fault.before!r} stands {text.count(fault.before)} times"
    path.write_text(text.replace(fault.before, fault.after), "utf-8")


def _found(desk: Desk) -> set[tuple[str, str, str]]:
    return {_place(finding) for finding in checking.check(desk.world).findings}


def _place(finding: Finding) -> tuple[str, str, str]:
    return finding.code, finding.file, finding.path


@pytest.mark.parametrize("name", FAULTS)
def test_in_a_stop_warning_only_what_concerns_it_is_found(name: str, tmp_path: Path) -> None:
    fault = FAULTS[name]
    with _recall(tmp_path / "c", fault) as desk:
        text = (desk.root / SOURCE).read_text("utf-8")
        remedies = text[text.index("\nremedies:") : text.index("\nfree:")]
        if fault.file == SOURCE and fault.before.strip() in remedies:
            assert not fault.warns
            return
        desk.edit(remedies, "\n")
        before = _found(desk)
        _plant(desk, fault)
        found = _found(desk) - before

    assert found == ({(fault.code, fault.file, fault.path)} if fault.warns else set())


@pytest.mark.parametrize("name", FAULTS)
def test_a_planted_fault_is_found_at_its_place_and_nothing_else_is(name: str, tmp_path: Path) -> None:
    fault = FAULTS[name]
    with _recall(tmp_path / "c", fault) as desk:
        before = _found(desk)
        _plant(desk, fault)
        found = _found(desk) - before

        said = [one for one in checking.check(desk.world).findings if _place(one) in found]

    assert found == {(fault.code, fault.file, fault.path)}
    assert [bool(one.line and one.mend) for one in said] == [True]
    assert all(
        one.source for one in said if not one.code.startswith("translation-")
    )  # those are plain mistakes
