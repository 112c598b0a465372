"""The numbers of incidents agree with each other, and stand where a market's law asks for them."""

import pytest

from audiences.findings import Finding, Severity
from notices.campaign.checks import check
from notices.campaign.incidents import told_by
from notices.campaign.loading import load
from tests.stove import WHOLE, changed

_PNG, _JPEG = b"\x89PNG\r\n\x1a\n", b"\xff\xd8\xff"
IN_THE_US = (
    "GB: {countries: [GB], headline: Product safety recall}",
    "US: {countries: [GB, US], headline: Safety recall}",
)
HURT = ("  injuries: 0\n", "  injuries: 2\n")
BLOCK = WHOLE[WHOLE.index("incidents:\n") : WHOLE.index("markets:")]


def found(*changes: tuple[str, str]) -> list[tuple[str, str, int | None]]:
    """Return code, path and line of what the checks say of the stove's numbers."""
    return [(one.code, one.path, one.line) for one in _findings(changed(*changes)) if "incidents" in one.path]


def _findings(text: str) -> list[Finding]:
    loaded = load(text)
    assert loaded.campaign is not None, "\n".join(map(str, loaded.findings))
    return list(
        check(loaded.campaign, loaded.lines, {"pictures/stove.png": _PNG, "pictures/base.png": _JPEG})
    )


def line(piece: str) -> int:
    return WHOLE[: WHOLE.index(piece)].count("\n") + 1


def test_the_starting_folders_numbers_hold_together() -> None:
    assert found() == []


@pytest.mark.parametrize(
    ("old", "new", "code", "path"),
    [
        ("  all: 1  ", "  all: 0  ", "incidents-fewer", "all"),
        ("  damage: 1  ", "  damage: 4  ", "incidents-fewer", "all"),
        ("  ages: []", "  ages: [34]", "ages-too-many", "ages"),
        ("  day: 2026-01-12  ", "  day: 2026-01-13  ", "incidents-after-revision", "day"),
        ("  received: []", "  received: [2026-01-11, 2026-01-13]", "incidents-after-revision", "received"),
    ],
)
def test_a_number_that_another_denies_must_be_mended(old: str, new: str, code: str, path: str) -> None:
    assert found((old, new)) == [
        (code, f"incidents.{path}", line(f"\n  {path}: ") + 1 if path != "day" else line(old))
    ]


def test_one_incident_can_hurt_several() -> None:
    assert found(HURT) == []


def test_without_a_day_of_the_revision_no_day_is_too_late() -> None:
    assert (
        found(
            ("number: 0, day: 2026-01-12, why:", "number: 0, why:"),
            ("  day: 2026-01-12  ", "  day: 2027-01-12  "),
        )
        == []
    )


def test_in_the_us_the_ages_and_the_days_of_the_authority_are_asked_for() -> None:
    """16 CFR 1115.27(m): ages of all injured and killed, and when the commission received word of it."""
    place = line("\n  ages: ") + 1

    assert found(IN_THE_US, HURT) == [
        ("ages-missing", "incidents.ages", place),
        ("received-missing", "incidents.received", place + 1),
    ]
    assert (
        found(IN_THE_US, HURT, ("ages: []", "ages: [34, 41]"), ("received: []", "received: [2026-01-12]"))
        == []
    )
    assert found(IN_THE_US) == []


def test_in_the_us_numbers_that_are_not_there_are_missed_by_a_recall_alone() -> None:
    without = changed((BLOCK, ""), IN_THE_US)
    (missed,) = [one for one in _findings(without) if one.code == "incidents-missing"]
    warning = without[: without.index("remedies:\n")] + without[without.index("\nfree: ") :]

    assert (missed.severity, missed.source) == (Severity.CONSIDER, "16 CFR 1115.27(m)")
    assert missed.line is None
    assert [one for one in _findings(warning) if one.code == "incidents-missing"] == []
    assert [one for one in _findings(changed((BLOCK, ""))) if one.code == "incidents-missing"] == []


@pytest.mark.parametrize(("countries", "source"), [(("CA", "US"), "16 CFR 1115.27(m)"), (("DE", "GB"), None)])
def test_the_numbers_are_told_where_a_law_has_a_notice_tell_them(
    countries: tuple[str, ...], source: str | None
) -> None:
    assert told_by(countries) == source


@pytest.mark.parametrize(
    ("old", "new", "code"),
    [
        ("  all: 1  ", "  all: -1  ", "number-range"),
        ("  all: 1  ", "  all: one  ", "number-form"),
        ("  ages: []", "  ages: [340]", "number-range"),
        ("  received: []", "  received: [soon]", "day-form"),
        ("  deaths: 0\n", "", "key-missing"),
    ],
)
def test_what_is_no_number_and_no_day_is_named_with_its_line(old: str, new: str, code: str) -> None:
    loaded = load(changed((old, new)))

    assert [(one.code, one.path.partition(".")[0]) for one in loaded.findings] == [(code, "incidents")]
    assert all(one.line for one in loaded.findings)
