"""The demo's campaign folder: whole in each of its languages, and true to what was known on its day."""

import re
from pathlib import Path

import pytest
from PIL import Image

from notices.campaign.checks import check
from notices.campaign.comparing import changed
from notices.campaign.loading import load
from notices.campaign.models import Campaign
from notices.campaign.needs import lacking
from notices.wording.translation_files import write_po
from notices.wording.translations import read_po
from tests.source import ROOT

FOLDER = ROOT / "notices/demo/folder"
PICTURES = {
    f"pictures/{file.name}": file.read_bytes() for file in sorted((FOLDER / "pictures").glob("*.png"))
}
BOTH = [(number, tag) for number in range(6) for tag in ("ar", "de", "en-US", "es", "fr", "it", "nl", "pl")]


def _campaign(number: int) -> Campaign:
    loaded = load((FOLDER / f"campaign-{number}.yaml").read_text("utf-8"))
    assert loaded.findings == ()
    assert loaded.campaign is not None
    return loaded.campaign


@pytest.mark.parametrize("number", range(6))
def test_nothing_in_the_demos_campaign_has_to_be_mended(number: int) -> None:
    loaded = load((FOLDER / f"campaign-{number}.yaml").read_text("utf-8"))
    assert loaded.campaign is not None

    assert [str(finding) for finding in check(loaded.campaign, loaded.lines, PICTURES)] == []
    assert [str(finding) for finding in lacking(loaded.campaign, "proofs", loaded.lines)] == []


def test_the_first_evening_knows_neither_rule_nor_remedy() -> None:
    stop = _campaign(0)

    assert (stop.revision.number, stop.affected, stop.remedies) == (0, (), None)
    assert stop.revision.day is not None
    assert all(fact.day <= stop.revision.day for fact in stop.ledger if fact.day)


@pytest.mark.parametrize(
    ("number", "paths"),
    [
        (
            2,
            {
                "corrections.other",
                "remedies.repair.ridden_no_symptoms.promise",
                "remedies.repair.ridden_no_symptoms.parts.QL-118",
                "remedies.repair.symptomatic.promise",
                "remedies.repair.symptomatic.parts.QL-118",
                "parts.QL-118",
            },
        ),
        (3, {"corrections.told_to_stop", "affected"}),
        (4, {"corrections.told_safe", "affected"}),
        (5, {"corrections.parts"}),
    ],
)
def test_each_revision_differs_from_the_one_before_in_what_its_reason_says_and_in_nothing_else(
    number: int, paths: set[str]
) -> None:
    before, after = _campaign(number - 1), _campaign(number)
    found = {
        "affected" if change.path.startswith("affected") else change.path
        for change in changed(before, after)
        if not change.path.startswith(("ledger", "revision.", "next_word"))
    }

    assert found == paths
    assert len(after.ledger) > len(before.ledger)
    assert [fact.day for fact in after.ledger if fact.day and fact not in before.ledger] == [
        after.revision.day
    ] * (len(after.ledger) - len(before.ledger))


@pytest.mark.parametrize(("number", "tag"), BOTH)
def test_a_demo_translation_is_whole_and_owns_that_nobody_has_read_it(number: int, tag: str) -> None:
    file = f"translations-{number}/{tag}.po"
    _, findings = read_po((FOLDER / file).read_text("utf-8"), tag, _campaign(number), file)

    assert [finding.code for finding in findings] == ["translation-unread"]


@pytest.mark.parametrize(("number", "tag"), BOTH)
def test_a_demo_translation_is_in_the_form_that_an_export_writes(number: int, tag: str) -> None:
    text = (FOLDER / f"translations-{number}/{tag}.po").read_text("utf-8")

    assert write_po(_campaign(number), tag, text) == text


@pytest.mark.parametrize(("number", "tag"), BOTH)
def test_numbers_and_codes_are_in_latin_signs(number: int, tag: str) -> None:
    text = (FOLDER / f"translations-{number}/{tag}.po").read_text("utf-8")

    assert re.findall("[\u0660-\u0669\u06f0-\u06f9]", text) == []


@pytest.mark.parametrize("number", range(6))
def test_german_owners_are_spoken_to_politely(number: int) -> None:
    """German notices to the public say Sie (common practice, no source)."""
    text = (FOLDER / f"translations-{number}/de.po").read_text("utf-8")

    assert re.findall(r"\b(?:[Dd]u|[Dd]ich|[Dd]ir|[Dd]ein\w*|[Ee]uch|[Ee]uer)\b", text) == []


@pytest.mark.parametrize("file", sorted(PICTURES))
def test_a_picture_is_small_enough_to_travel_in_every_mail(file: str) -> None:
    with Image.open(FOLDER / file) as picture:
        size = picture.size

    assert size == (560, 260)
    assert len(PICTURES[file]) < 20_000
    assert Path(file).suffix == ".png"
