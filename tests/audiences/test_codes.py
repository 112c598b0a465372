"""A code layout reads a marking, says why it cannot, and knows the codes one slip away."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from audiences.codes import COMMON_MISREADS, LONGEST_CODE, Layout, Parsed, Part, Unreadable, fold, read, slips

LAYOUT = Layout(
    parts=(
        Part(kind="text", text="QM-"),
        Part(kind="iso_year", name="year", size=2),
        Part(kind="iso_week", name="week"),
        Part(kind="text", text="-"),
        Part(kind="one_of", name="line", letters="ABCD"),
        Part(kind="digits", name="number", size=4),
    ),
    hidden=4,
    misread=(frozenset("BD8"), frozenset("0ODQ"), frozenset("1IL7")),
)
CODES = st.builds(
    "QM-{:02}{:02}-{}{:04}".format,
    st.integers(0, 99),
    st.integers(1, 52),
    st.sampled_from("ABCD"),
    st.integers(0, 9999),
)


def test_a_code_is_read_into_its_fields_and_kept_as_given() -> None:
    assert read(LAYOUT, " qm-2534-b0172") == Parsed(
        code_key="QM2534B0172",
        fields={"year": 2025, "week": 34, "line": "B", "number": 172},
        as_given=" qm-2534-b0172",
    )


@pytest.mark.parametrize(
    ("code", "why"),
    [
        ("", "empty"),
        ("- - -", "empty"),
        ("Q" * (LONGEST_CODE + 1), "too-long"),
        ("QM-2534-B017", "wrong-length"),
        ("2534-B0172", "wrong-length"),
        ("0172", "wrong-length"),
        ("unbekannt", "wrong-length"),
        ("4001234567890", "wrong-length"),  # an article number from the box
        ("RE-2025-0815", "wrong-length"),  # an invoice number
        ("QM-2534-80172", "wrong-shape"),  # B read as 8
        ("QM-2534-BO172", "wrong-shape"),  # 0 read as O
        ("OM-2534-B0172", "wrong-shape"),  # Q read as O
        ("QX-2534-B0172", "wrong-shape"),  # one sign of the fixed text mistyped
        ("MQ-2534-B0172", "wrong-shape"),  # swapped
        ("DR-2534-B0172", "wrong-shape"),  # D may be a Q, then one sign is mistyped
        ("SN-2534-B0172", "wrong-shape"),  # the word for a serial number in place of the fixed text
        ("12-2534-B0172", "wrong-shape"),
        ("QM-2453-B0172", "no-such-week"),  # ISO 8601: 2024 has 52 weeks
        ("XY-2453-B0172", "wrong-shape"),
        ("QM-25\ud80034-B0172", "wrong-length"),
        ("=QM-2534-B0172", "wrong-length"),
        ("%(code)s", "wrong-length"),
        ("<b>QM</b>", "wrong-length"),
    ],
)
def test_a_code_that_cannot_be_read_says_why_and_is_not_called_foreign(code: str, why: str) -> None:
    reading = read(LAYOUT, code)

    assert isinstance(reading, Unreadable)
    assert (reading.why, reading.foreign, reading.twin) == (why, False, "")
    assert reading.message


@pytest.mark.parametrize("code", ["XY-2534-B0172", "xy2534b0172", "KT-2534-B0172"])
def test_a_code_of_the_same_build_with_another_text_is_foreign(code: str) -> None:
    reading = read(LAYOUT, code)

    assert isinstance(reading, Unreadable)
    assert (reading.why, reading.foreign, reading.twin) == ("other-text", True, "QM2534B0172")


def test_week_53_is_read_in_a_year_that_has_it() -> None:
    assert isinstance(read(LAYOUT, "QM-2653-A0001"), Parsed)  # ISO 8601: 2026 has 53 weeks


def test_a_year_outside_the_calendar_is_unreadable() -> None:
    layout = Layout(parts=(Part(kind="iso_year", name="year", size=4), Part(kind="iso_week", name="week")))

    reading = read(layout, "000001")

    assert isinstance(reading, Unreadable)
    assert reading.why == "no-such-year"


def test_a_week_without_a_year_may_be_up_to_53() -> None:
    layout = Layout(parts=(Part(kind="iso_week", name="week"),))

    assert [isinstance(read(layout, week), Parsed) for week in ("53", "54")] == [True, False]


def test_a_choice_of_no_letters_reads_nothing_and_no_text_makes_nothing_foreign() -> None:
    layout = Layout(parts=(Part(kind="one_of", name="line"), Part(kind="digits", name="number", size=2)))

    reading = read(layout, "A12")

    assert isinstance(reading, Unreadable)
    assert not reading.foreign


def test_fixed_text_may_hold_digits_and_signs_of_patterns() -> None:
    layout = Layout(parts=(Part(kind="text", text="7(+"), Part(kind="digits", name="number", size=2)))

    assert isinstance(read(layout, "7(+12"), Parsed)
    assert isinstance(read(layout, "8(+12"), Unreadable)


@pytest.mark.parametrize(
    ("key", "expected"),
    [
        ("QM2534D0172", {"QM2534B0172", "QM5234D0172", "QM2543D0172"}),
        ("QM2534BO172", {"QM2534B0172"}),
        ("QM25348O172", set()),  # two slips
        ("OM2534B0172", {"QM2534B0172"}),
        ("MQ2534B0172", {"QM2534B0172"}),
        ("QM253B40172", {"QM2534B0172"}),
        ("Q" * (LONGEST_CODE + 1), set()),
        ("", set()),
    ],
)
def test_slips_are_the_readable_codes_one_misread_or_swap_away(key: str, expected: set[str]) -> None:
    found = list(slips(LAYOUT, key))

    assert len(found) == len(set(found))
    assert expected <= set(found)
    assert expected or not found


def test_the_slips_of_a_code_are_complete() -> None:
    assert sorted(slips(LAYOUT, "QM2534D0172")) == [
        "QM2534B0172",
        "QM2534D0112",
        "QM2534D0127",
        "QM2534D0712",
        "QM2534D0772",
        "QM2534D1072",
        "QM2543D0172",
        "QM5234D0172",
    ]


def test_common_misreads_hold_the_pairs_that_people_confuse() -> None:
    layout = Layout(parts=LAYOUT.parts)

    assert layout.misread == COMMON_MISREADS
    assert "QM2534B0172" in set(slips(layout, "QM2534D0172"))
    assert "QM2534B0155" in set(slips(layout, "QM2534B01S5"))


@pytest.mark.property
@given(CODES)
def test_every_built_code_is_read_and_its_key_reads_the_same(code: str) -> None:
    reading = read(LAYOUT, code)

    assert isinstance(reading, Parsed)
    again = read(LAYOUT, reading.code_key)
    assert isinstance(again, Parsed)
    assert again.fields == reading.fields


@pytest.mark.property
@given(CODES)
def test_a_slip_is_mutual_and_readable(code: str) -> None:
    key = fold(code)

    for near_by in slips(LAYOUT, key):
        assert near_by != key
        assert isinstance(read(LAYOUT, near_by), Parsed)
        assert key in set(slips(LAYOUT, near_by))


@pytest.mark.property
@given(st.text(alphabet=st.characters(exclude_categories=()), max_size=80))
def test_no_text_whatever_breaks_the_reader(text: str) -> None:
    reading = read(LAYOUT, text)
    list(slips(LAYOUT, fold(text)))

    assert len(reading.code_key) <= LONGEST_CODE
