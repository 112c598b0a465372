"""Any layout reads what it prints, and no code whatever breaks a reader."""

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from audiences.check_characters import SCHEMES
from audiences.codes import COMMON_MISREADS, LONGEST_CODE, Layout, Parsed, Unreadable, fold, near, read, slips
from audiences.parts import Part, signs_of, size_of
from audiences.printing import printed
from audiences.telling import looks, meanings
from audiences.weeks import days_in, is_day, us_weeks_in, weeks_in

_SINCE = 2015
_ALPHABET = "ABCDEFGHJKLMNPQRSTUVWXYZ"
_DATES = ("iso_week", "us_week", "month", "month_letter", "year_day", "day", "")


def _fields(draw: st.DrawFn) -> list[Part]:
    """Return parts of every kind: a date, numbers, choices, text and separators, in any order."""
    size = draw(st.sampled_from((1, 2, 4)))
    since = _SINCE if size == 1 else draw(st.sampled_from((None, 1980)))
    kind = draw(st.sampled_from(_DATES))
    parts = [Part(kind="iso_year" if kind == "iso_week" else "year", name="year", size=size, since=since)]
    if kind in {"day", "month"}:
        parts.append(Part(kind="month", name="month"))
    if kind == "month_letter":
        parts.append(Part(kind="month_letter", name="month", letters="ABCDEFGHJKLM"))
    elif kind and kind != "month":
        parts.append(Part(kind=kind, name="day"))  # type: ignore[arg-type] # drawn from the kinds above
    sizes = st.integers(1, 6)
    others = st.one_of(
        st.builds(
            lambda text: Part(kind="text", text=text), st.text(_ALPHABET + "0189-./", min_size=1, max_size=4)
        ),
        st.builds(lambda sign: Part(kind="separator", text=sign), st.sampled_from("/*#:")),
        st.builds(lambda size: Part(kind="digits", size=size), sizes),
        st.builds(lambda size: Part(kind="base_34", size=size), sizes),
        st.builds(lambda size: Part(kind="base_36", size=size), sizes),
        st.builds(
            lambda letters, size: Part(kind="one_of", letters=letters, size=size),
            st.text(_ALPHABET, min_size=1, max_size=5),
            st.integers(1, 3),
        ),
        st.builds(
            lambda choices: Part(kind="choice", choices=tuple(choices)),
            st.sampled_from((["PL", "DE1"], ["A"])),
        ),
    )
    parts += [
        Part(
            kind=part.kind,
            name=f"field-{at}" if part.sort else "",
            text=part.text,
            size=part.size,
            letters=part.letters,
            choices=part.choices,
        )
        for at, part in enumerate(draw(st.lists(others, max_size=5)))
    ]
    return list(draw(st.permutations(parts)))


@st.composite
def _layouts(draw: st.DrawFn) -> tuple[Part, ...]:
    parts = _fields(draw)
    if draw(st.booleans()):
        scheme = draw(st.sampled_from(SCHEMES))
        counted = tuple(part.name for part in parts if part.kind in {"digits", "year", "iso_year"})
        parts.append(Part(kind="check", scheme=scheme, over=counted))
    return tuple(parts)


def _values(draw: st.DrawFn, parts: tuple[Part, ...]) -> dict[str, str | int]:
    """Return values that the fields of a layout can take; the date is one that there is."""
    whole = next(part for part in parts if part.sort == "year")
    years = range(_SINCE, _SINCE + 10) if size_of(whole) == 1 else range(2000, 2060)
    day = date(draw(st.sampled_from(years)), 1, 1) + timedelta(days=draw(st.integers(0, 364)))
    week = draw(st.integers(1, weeks_in(day.year)))
    fields: dict[str, str | int] = {}
    for part in parts:
        if part.sort == "choice":
            options = st.sampled_from([fold(one) for one in part.choices] or list(signs_of(part)))
            fields[part.name] = "".join(draw(options) for _ in range(size_of(part) or 1))
        elif part.sort == "number":
            most = {"digits": 10, "base_34": 34, "base_36": 36}[part.kind] ** size_of(part) - 1
            fields[part.name] = draw(st.integers(0, most))
        elif part.sort:
            fields[part.name] = {
                "year": day.year,
                "iso_week": week,
                "us_week": draw(st.integers(1, us_weeks_in(day.year))),
                "month": day.month,
                "year_day": day.timetuple().tm_yday,
                "day": day.day,
            }[part.kind if part.sort == "week" else part.sort]
    return fields


@pytest.mark.property
@settings(deadline=None)
@given(st.data())
def test_any_layout_reads_what_it_prints(data: st.DataObject) -> None:
    parts = data.draw(_layouts())
    fields = data.draw(st.composite(_values)(parts))
    code = printed(parts, fields)
    layout = Layout(parts=parts)

    reading = read(layout, code.lower())

    assert isinstance(reading, Parsed)
    assert reading.fields == fields
    assert meanings(layout, reading)
    assert looks(parts)
    for other in near(layout, reading.code_key):
        again = read(layout, other.code_key)
        assert isinstance(again, Parsed)
        assert again.fields == other.fields


@pytest.mark.property
@settings(deadline=None)
@given(st.data(), st.text(st.characters(exclude_categories=()), max_size=80))
def test_no_text_whatever_breaks_any_layout(data: st.DataObject, text: str) -> None:
    layout = Layout(parts=data.draw(_layouts()), others=(data.draw(_layouts()),))

    reading = read(layout, text)

    assert len(reading.code_key) <= LONGEST_CODE
    assert isinstance(reading, Parsed) or reading.message
    assert all(isinstance(read(layout, key), Parsed) for key in slips(layout, fold(text)))


@pytest.mark.property
@settings(deadline=None)
@given(st.data())
def test_every_misread_sign_and_every_swap_of_a_code_brings_it_back_as_a_candidate(
    data: st.DataObject,
) -> None:
    parts = data.draw(_layouts())
    layout = Layout(parts=parts)
    key = fold(printed(parts, data.draw(st.composite(_values)(parts))))
    at = data.draw(st.integers(0, len(key) - 1))
    if data.draw(st.booleans()) and at:
        typed = key[: at - 1] + key[at] + key[at - 1] + key[at + 1 :]
    else:
        like = [sign for alike in COMMON_MISREADS if key[at] in alike for sign in alike]
        typed = key[:at] + data.draw(st.sampled_from(sorted(like) or [key[at]])) + key[at + 1 :]

    assert typed == key or key in set(slips(layout, typed))


_CHECKED = (
    Part(kind="text", text="HX-"),
    Part(kind="digits", name="number", size=5),
    Part(kind="check", scheme="mod_37_36"),
)


def test_a_code_whose_check_character_fails_is_unreadable_and_its_slips_are_only_candidates() -> None:
    layout = Layout(parts=_CHECKED)
    code = printed(_CHECKED, {"number": 10237})
    swapped = code.replace("10237", "10327")

    reading = read(layout, swapped)

    assert isinstance(reading, Unreadable)
    assert (reading.why, reading.foreign) == ("check-fails", False)
    assert fold(code) in set(slips(layout, fold(swapped)))


def test_a_check_may_count_named_fields_in_their_order() -> None:
    parts = (
        Part(kind="one_of", name="line", letters="AB"),
        Part(kind="digits", name="number", size=10),
        Part(kind="check", scheme="luhn", over=("number",)),
    )

    assert (
        printed(parts, {"line": "B", "number": 7992739871}) == "B79927398713"
    )  # Luhn, the usual published example


@pytest.mark.parametrize(
    ("parts", "code", "why"),
    [
        ((Part(kind="year", name="y"), Part(kind="month", name="m")), "2513", "no-such-month"),
        ((Part(kind="year", name="y"), Part(kind="year_day", name="d")), "25366", "no-such-day"),
        ((Part(kind="year_day", name="d"),), "367", "no-such-day"),
        ((Part(kind="year", name="y"), Part(kind="us_week", name="w")), "2554", "no-such-us-week"),
        ((Part(kind="us_week", name="w"),), "55", "no-such-us-week"),
        (
            (Part(kind="year", name="y"), Part(kind="month", name="m"), Part(kind="day", name="d")),
            "250229",
            "no-such-day",
        ),
        ((Part(kind="month", name="m"), Part(kind="day", name="d")), "0230", "no-such-day"),
        ((Part(kind="day", name="d"),), "32", "no-such-day"),
        ((Part(kind="digits", name="n", size=2),), "1Ä", "wrong-shape"),
        ((Part(kind="digits", name="n", size=2),), "1²", "wrong-shape"),
    ],
)
def test_a_date_that_is_not_in_the_calendar_is_unreadable(
    parts: tuple[Part, ...], code: str, why: str
) -> None:
    reading = read(Layout(parts=parts), code)

    assert isinstance(reading, Unreadable)
    assert reading.why == why


def test_leap_days_are_in_the_calendar_where_the_year_is_not_known() -> None:
    assert is_day(None, 2, 29)
    assert not is_day(None, 2, 30)
    assert isinstance(read(Layout(parts=(Part(kind="year_day", name="d"),)), "366"), Parsed)


def test_the_us_week_begins_on_sunday_and_the_first_holds_the_first_of_january() -> None:
    """Hold the count against a calendar gone through day by day (common practice, no source)."""
    for year in range(2000, 2041):
        days = [date(year, 1, 1) + timedelta(days=day) for day in range(days_in(year))]
        sundays = sum(day.isoweekday() == 7 for day in days[1:])

        assert us_weeks_in(year) == 1 + sundays
    assert [year for year in range(2000, 2041) if us_weeks_in(year) == 54] == [2000, 2028]


def test_a_year_of_one_digit_is_the_first_since_the_year_that_the_campaign_names() -> None:
    parts = (Part(kind="year", name="year", size=1, since=2017), Part(kind="digits", name="n", size=1))
    layout = Layout(parts=parts)
    years = [
        reading.fields["year"] for digit in "6789" if isinstance(reading := read(layout, f"{digit}1"), Parsed)
    ]

    assert years == [2026, 2017, 2018, 2019]
    assert isinstance(read(Layout(parts=(Part(kind="year", name="y", size=1),)), "0"), Unreadable)


def test_a_code_that_two_layouts_read_differently_is_unreadable() -> None:
    one = (Part(kind="year", name="year"), Part(kind="month", name="month"))
    other = (Part(kind="iso_year", name="year"), Part(kind="iso_week", name="week"))
    layout = Layout(parts=one, others=(other, other))
    readings = [read(layout, code) for code in ("2507", "2534", "2554", "25341")]

    assert [one.why if isinstance(one, Unreadable) else one.fields for one in readings] == [
        "two-ways",
        {"year": 2025, "week": 34},
        "no-such-month",
        "wrong-length",
    ]


def test_another_text_is_foreign_only_where_it_is_far_from_every_layout_of_the_family() -> None:
    layout = Layout(
        parts=(Part(kind="text", text="QM"), Part(kind="digits", name="number", size=3)),
        others=((Part(kind="text", text="XZ"), Part(kind="digits", name="number", size=3)),),
    )
    far, slipped = read(layout, "KT123"), read(layout, "XT123")

    assert isinstance(far, Unreadable)
    assert isinstance(slipped, Unreadable)
    assert (far.foreign, far.twin) == (True, "QM123")
    assert slipped.foreign is False


def test_a_layout_says_how_its_codes_look_and_what_one_means() -> None:
    parts = (
        Part(kind="text", text="QM-"),
        Part(kind="iso_year", name="year"),
        Part(kind="iso_week", name="week"),
        Part(kind="one_of", name="line", letters="ABCD"),
        Part(kind="digits", name="number", size=4),
    )
    layout = Layout(parts=parts)
    reading = read(layout, "QM-2534-B0172")

    assert looks(parts) == "It begins with QM. Then come four digits, one letter and four digits."
    assert isinstance(reading, Parsed)
    assert meanings(layout, reading) == (
        "2534: week 34 of 2025",
        "QM: always the same",
        "B: line, one of A, B, C or D",
        "0172: number 172",
    )


@pytest.mark.parametrize(
    ("parts", "says"),
    [
        (
            (Part(kind="text", text="A"), Part(kind="one_of", name="l", letters="AB")),
            "It begins with A. Then comes one letter.",
        ),
        (
            (Part(kind="text", text="A"), Part(kind="digits", name="n", size=4)),
            "It begins with A. Then come four digits.",
        ),
        ((Part(kind="text", text="A"),), "It begins with A."),
        ((Part(kind="digits", name="n", size=13), Part(kind="check", scheme="luhn")), "It has 14 digits."),
        (
            (Part(kind="choice", name="p", choices=("PL", "DE")), Part(kind="base_36", name="n", size=2)),
            "It begins with PL or DE. Then come two signs.",
        ),
        (
            (Part(kind="whole", name="g", element="01"), Part(kind="whole", name="s", element="21")),
            "It is a GS1 code: (01) GTIN and (21) serial number.",
        ),
    ],
)
def test_looks_are_told_in_plain_words(parts: tuple[Part, ...], says: str) -> None:
    assert looks(parts) == says


@pytest.mark.parametrize(
    ("kinds", "code", "means"),
    [
        (("year", "month", "day"), "250314", "250314: 14 March 2025"),
        (("year", "month"), "2503", "2503: March 2025"),
        (("month",), "03", "03: March"),
        (("year",), "25", "25: 2025"),
        (("year", "year_day"), "25034", "25034: day 34 of 2025, 3 February"),
        (("year_day",), "034", "034: day 34"),
        (("year", "us_week"), "2534", "2534: week 34 of 2025, as weeks are counted in the US"),
        (("iso_week",), "34", "34: week 34"),
    ],
)
def test_dates_are_told_in_words(kinds: tuple[str, ...], code: str, means: str) -> None:
    layout = Layout(parts=tuple(Part(kind=kind, name=kind) for kind in kinds))  # type: ignore[arg-type] # as above
    reading = read(layout, code)

    assert isinstance(reading, Parsed)
    assert meanings(layout, reading) == (means,)


def test_several_places_choices_and_elements_are_told_too() -> None:
    parts = (
        Part(kind="one_of", name="lot", letters="AB", size=2),
        Part(kind="choice", name="plant", choices=("PL", "DE")),
    )
    layout = Layout(parts=parts)
    reading = read(layout, "ABPL")

    assert isinstance(reading, Parsed)
    assert meanings(layout, reading) == ("AB: lot, one of A or B at each place", "PL: plant, one of PL or DE")
