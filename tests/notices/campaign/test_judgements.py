"""Which findings a person may overrule, and what voids an overruling."""

from dataclasses import replace

import pytest

from audiences.findings import Finding, Severity, must_mend
from notices.campaign.needs import NEVER_OVERRULED_CODES
from notices.campaign.overruling import JUDGEMENTS, Overruling, bound, may_be_overruled, with_overrulings
from notices.campaign.revisions import Revision
from tests.builders import a_campaign
from tests.source import explanations

LATE = Finding(
    code="next-word-too-late",
    file="campaign.yaml",
    line=6,
    path="next_word",
    message="2026-03-20 is 17 days after this revision, and 7 is the most",
    mend="write a day up to 2026-03-10",
)
FORBIDDEN = "expression-forbidden"
FREE = Finding(code="free-missing", file="translations/de.po", path="now.steps.all[1]", message="not said")
STEP = a_campaign(1).now.steps.all[1]


def revision(german: str = "Absperren.", **changes: object) -> Revision:
    return Revision(
        campaign=a_campaign(1, **changes),
        translations={"de": {("now.steps.all", STEP): german}},
        pictures={},
    )


def overruled(finding: Finding, then: Revision, now: Revision) -> Finding:
    """Return *finding* under *now*, overruled while *then* stood in the folder."""
    key = bound(finding, then)
    word = Overruling(bound=key, by="Ines Hall", reason="seen by counsel")
    (found,) = with_overrulings([finding], now, {key: word})
    return found


def test_an_overruled_finding_holds_nothing_back_and_says_who_and_why() -> None:
    found = overruled(LATE, revision(), revision())

    assert must_mend([found]) == []
    assert found.severity is Severity.OVERRULED
    assert str(found).splitlines()[1] == "    overruled by Ines Hall: seen by counsel"
    assert replace(found, severity=LATE.severity, overruled="") == LATE


@pytest.mark.parametrize(
    "changed",
    [
        replace(LATE, message="2026-03-27 is 24 days after this revision, and 7 is the most"),
        replace(LATE, path="revision"),
        replace(LATE, file="translations/de.po"),
        replace(LATE, code="free-missing"),
    ],
)
def test_it_holds_for_this_finding_in_this_place_alone(changed: Finding) -> None:
    key = bound(LATE, revision())
    word = Overruling(bound=key, by="Ines Hall", reason="seen by counsel")

    assert with_overrulings([changed], revision(), {key: word}) == (changed,)


def test_a_changed_passage_voids_it_and_a_change_elsewhere_does_not() -> None:
    now = a_campaign(1).now
    headline = replace(LATE, path="now.headline")
    reworded = now.model_copy(update={"headline": "Stop."})
    stepped = now.model_copy(update={"call_at_once": "Call us."})

    assert overruled(headline, revision(), revision(now=reworded)) == headline
    assert overruled(headline, revision(), revision(now=stepped)).overruled


def test_in_a_translation_it_is_bound_to_the_words_of_that_language() -> None:
    assert overruled(FREE, revision(), revision("Anketten.")) == FREE
    assert overruled(FREE, revision(), revision("Absperren.")).overruled
    assert overruled(replace(FREE, file="translations/fr.po"), revision(), revision("Anketten.")).overruled


def test_a_false_alarm_in_one_passage_is_none_in_another_nor_for_other_words_there() -> None:
    first = replace(FREE, code=FORBIDDEN, message="vorsorglich plays the hazard down")
    elsewhere = replace(first, path="now.steps.all[0]")
    other = replace(first, message="freiwillig plays the hazard down")
    key = bound(first, revision())
    word = Overruling(bound=key, by="Ines Hall", reason="it is the name of the street")
    found = with_overrulings([first, elsewhere, other], revision(), {key: word})

    assert must_mend(found) == [elsewhere, other]


def test_where_nothing_stands_it_is_bound_to_the_part_around() -> None:
    missing = replace(LATE, path="now.steps.all[99].text")
    shorter = a_campaign(1).now.model_copy(
        update={"steps": a_campaign(1).now.steps.model_copy(update={"all": ()})}
    )

    assert overruled(missing, revision(), revision()).overruled
    assert overruled(missing, revision(), revision(now=shorter)) == missing


def test_what_is_only_to_be_considered_is_not_overruled() -> None:
    idle = replace(LATE, severity=Severity.CONSIDER)

    assert not may_be_overruled(idle)
    assert overruled(idle, revision(), revision()) == idle


@pytest.mark.parametrize(
    "code",
    [
        "hazard-missing",
        "stop-missing",
        "campaign-not-utf8",
        "yaml-syntax",
        "notice-placeholder-empty",
        "notice-placeholder-unknown",
        "picture-absent",
        "web-address-form",
        "revision-number-used",
        "translation-placeholders",
        "cautions-missing",
        "level-too-low",
    ],
)
def test_no_reason_mends_a_missing_hazard_a_danger_or_what_is_broken(code: str) -> None:
    broken = replace(LATE, code=code)

    assert overruled(broken, revision(), revision()) == broken


def test_an_element_that_the_law_asks_for_is_judged_but_never_hazard_and_stop() -> None:
    paths = ("contacts", "now.headline", "hazard.what", "product.sold.from")
    lacking = [replace(LATE, code="element-missing", path=path) for path in paths]

    assert [may_be_overruled(one) for one in lacking] == [True, False, False, True]


def test_every_judgement_is_a_finding_that_can_be_explained_and_says_why_it_is_one() -> None:
    assert JUDGEMENTS.keys() <= explanations().keys()
    assert not JUDGEMENTS.keys() & NEVER_OVERRULED_CODES
    assert all(JUDGEMENTS.values())
