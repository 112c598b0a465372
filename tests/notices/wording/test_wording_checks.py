"""All checks of the words together: the good is let pass, the planted named at its line, and nothing breaks them."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notices.campaign.loading import load
from notices.wording.checks import check
from notices.wording.passages import Reading, lines_of
from notices.wording.translations import read_po
from tests.builders import DEMO_FOLDER
from tests.stove import WHOLE, a_stove, changed

LONG = " ".join(["The valve of the stove can leak gas that nobody smells"] * 4) + " now"  # 45 words
STOVE = a_stove()


def _reading(text: str, po_files: tuple[Path, ...] = ()) -> Reading:
    loaded = load(text)
    assert loaded.campaign is not None
    files = {file.stem: file.read_text("utf-8") for file in po_files}
    return Reading(
        campaign=loaded.campaign,
        lines=loaded.lines,
        translations={tag: read_po(po, tag, loaded.campaign, tag)[0] for tag, po in files.items()},
        lines_of={tag: lines_of(po) for tag, po in files.items()},
    )


@pytest.mark.parametrize("number", range(6))
def test_the_demo_reads_well_in_every_language(number: int) -> None:
    po_files = tuple(sorted((DEMO_FOLDER / f"translations-{number}").glob("*.po")))
    found = check(_reading((DEMO_FOLDER / f"campaign-{number}.yaml").read_text("utf-8"), po_files))

    assert len(po_files) > 1
    assert [str(one) for one in found] == []


def test_the_starting_files_stove_reads_well() -> None:
    assert [str(one) for one in check(_reading(WHOLE))] == []


def test_what_is_planted_is_named_at_its_line() -> None:
    text = changed(
        (
            "  what: The valve of the stove can leak gas. The gas can catch fire or explode.",
            f"  what: {LONG}.",
        ),
        ("  who: You and everyone near the stove can be killed or badly burnt.", "  who: Severe burns."),
        ("Tell us that you have stopped.", "Tell us by 03/05/2026, and keep the stove."),
        ("Put the stove out. Do not light it again.", "The stove must be out."),
        ("Never lit: a gas fitter near you puts in a new valve, and we pay.", "A new valve is sent to you."),
        ("EO-3: sealing ring}", "EO-3: valve}"),
    )
    lines = text.split("\n")
    found = {(one.code, lines[(one.line or 0) - 1].strip()[:18]) for one in check(_reading(text))}

    assert found == {
        ("sentence-long", "what: The valve of"),
        ("who-nobody", "who: Severe burns."),
        ("hazard-late", "who: Severe burns."),
        ("date-in-figures", "- Tell us by 03/05"),
        ("step-several-instructions", "- Tell us by 03/05"),
        ("step-not-imperative", "- The stove must b"),
        ("passive-without-actor", 'promise: "A new va'),
        ("parts-named-alike", "parts: {EV-12: val"),
    }


@pytest.mark.property
@settings(deadline=None)
@given(text=st.text(max_size=200), language=st.sampled_from(["ar", "de", "en-US", "fr", "it", "ja", "pl"]))
def test_no_translation_breaks_a_check(text: str, language: str) -> None:
    spoken = {(_context(one.path), one.text): text for one in Reading(campaign=STOVE).passages()}
    found = check(Reading(campaign=STOVE, translations={language: spoken}))

    assert {one.file for one in found} <= {f"translations/{language}.po"}


def _context(path: str) -> str:
    return ".".join(step.partition("[")[0] for step in path.split("."))
