"""A layout is proposed from a few codes of real units, and every field comes back as a question."""

from collections.abc import Mapping

import pytest
from hypothesis import given
from hypothesis import strategies as st

from audiences.check_characters import Scheme, check_signs
from audiences.codes import Layout, Parsed, fold, read
from audiences.proposing import Proposed, propose


def _parts(proposed: Proposed) -> object:
    return proposed.as_data["layout"]


def test_year_week_line_and_number_are_found_and_asked_about() -> None:
    proposed = propose(["QM-2534-B0172", "QM-2518-A0031", "QM-2547-D1204", "qm 2531 c0007"])

    assert proposed.as_data == {
        "layout": [
            {"text": "QM"},
            {"field": "year", "iso_year": 2},
            {"field": "week", "iso_week": True},
            {"field": "line", "one_of": "ABCD"},
            {"field": "number", "digits": 4},
        ],
        "example": {"code": "QM-2534-B0172", "year": 2025, "week": 34, "line": "B", "number": 172},
    }
    assert proposed.questions == (
        "QM-2534-B0172 reads as year 2025, week 34, line B, number 172. Is that right?",
        "2534: week 34 of 2025?",
        "A, B, C and D: are these all that stand at this place? A code with another one cannot be read.",
        "0172: number 172?",
    )
    assert proposed.unread == ()


def test_what_may_be_a_month_or_a_week_is_asked_so_that_yes_is_sure() -> None:
    proposed = propose(["DE2403-0A1F", "DE2403-0B2G", "PL2404-00ZZ", "DE2411-19AA"])

    assert _parts(proposed) == [
        {"field": "line", "choice": ["DE", "PL"]},
        {"field": "year", "year": 2},
        {"field": "month", "month": True},
        {"field": "number", "base_34": 4},
    ]
    assert "2403: March 2024 (and not week 3 of 2024)?" in proposed.questions
    assert "0A1F: a running number of digits and letters, and are I and O left out?" in proposed.questions


@pytest.mark.parametrize(
    ("codes", "parts"),
    [
        (["20250131001", "20250228002", "20251201003"], ["year", "month", "day", "number"]),
        (["2025-31-001", "2025-08-002", "2025-52-003"], ["iso_year", "iso_week", "digits"]),
        (["31.25.001", "08.25.002", "52.25.003"], ["iso_week", "iso_year", "digits"]),
        (["25365X", "25001X", "25099X"], ["year", "year_day"]),
        (["8801-0001", "8801-0002", "8801-0009"], ["text", "digits"]),
        (["AB25I01", "AB25A02", "AB24C07"], ["text", "year", "month_letters", "digits"]),
        (["AB25K01", "AB25A02", "AB24C07"], ["text", "year", "month_letters", "digits"]),
        (["AB25Z01", "AB25A02", "AB24C07"], ["text", "digits", "one_of", "digits"]),
        (["AB99C01", "AB25A02", "AB24C07"], ["text", "digits", "one_of", "digits"]),
        (["K/9O1I", "K/11A2", "K/7BZ3"], ["text", "base_36"]),
        (["XA71", "YB72", "ZC73"], ["one_of", "one_of", "digits"]),
        (["PXA71", "PYA72", "PZA73"], ["text", "one_of", "text", "digits"]),
    ],
)
def test_each_kind_of_stretch_is_found_where_every_code_fits(codes: list[str], parts: list[str]) -> None:
    found = _parts(propose(codes))

    assert isinstance(found, list)
    kinds = [next(key for key in part if key != "field") for part in found]
    same = {"year": "year", "month": "month", "day": "day", "number": "digits"}
    assert kinds == [
        *(same.get(part, part) for part in parts),
        *(["text"] if codes[0].endswith("X") else []),
    ]


def test_a_month_letter_is_asked_with_what_is_left_out() -> None:
    assert "25K: October 2025, if I is left out?" in propose(["AB25K01", "AB25A02", "AB24C07"]).questions
    assert (
        "25I: September 2025, with no letter left out?"
        in propose(["AB25I01", "AB25A02", "AB24C07"]).questions
    )


def _checked(scheme: Scheme, bodies: list[str]) -> list[str]:
    return [body + (check_signs(scheme, body) or "") for body in bodies]


def test_a_check_character_is_proposed_where_codes_are_enough_and_asked_about_where_not() -> None:
    bodies = ["25010001", "25030122", "25110200", "24121101", "25010017"]
    sure, likely, few = (propose(_checked("luhn", bodies[:count])) for count in (5, 3, 2))

    ask = "The end of all {} codes fits the check character Luhn. Is it one?"
    assert sure.as_data["layout"][-1:] == [{"check": "luhn"}]  # type: ignore[index] # a plain list of plain dicts
    assert ask.format(5) in sure.questions
    assert ask.format(3) not in likely.questions
    assert any("check character Luhn, which may be chance" in question for question in likely.questions)
    assert {"check": "luhn"} not in list(likely.as_data["layout"])  # type: ignore[call-overload] # the same
    assert not any("check character" in question for question in few.questions)
    assert (
        "Only 2 of the codes can show anything, and more would show more. Are you sure of what stands above?"
        in few.questions
    )


def test_a_check_over_the_digits_alone_names_the_fields_that_it_counts() -> None:
    bodies = ["2531-A-0001", "2502-B-0122", "2511-A-0200", "2452-C-1101", "2503-A-0017"]
    codes = [body + str(check_signs("luhn", body.replace("-", "").replace(body[5], ""))) for body in bodies]

    proposed = propose(codes)

    assert list(_parts(proposed)) == [  # type: ignore[call-overload] # a plain list of plain dicts
        {"field": "year", "iso_year": 2},
        {"field": "week", "iso_week": True},
        {"field": "line", "one_of": "ABC"},
        {"field": "number", "digits": 4},
        {"check": "luhn", "over": ["year", "week", "number"]},
    ]
    assert proposed.unread == ()


def test_gs1_codes_are_taken_apart_into_their_elements() -> None:
    proposed = propose(
        [
            "(01)09506000134352(10)AB1(11)250131(21)12",
            "]d2010950600013435211250228" + "10AB2\x1d2115",
            "https://id.example.com/01/09506000134352/10/ABC123/21/12345?11=251201&17=271231",
        ]
    )

    assert _parts(proposed) == [
        {"field": "gtin", "whole": True, "element": "01"},
        {"field": "batch", "whole": True, "element": "10"},
        {"field": "year", "year": 2, "element": "11"},
        {"field": "month", "month": True, "element": "11"},
        {"field": "day", "day": True, "element": "11"},
        {"field": "serial", "whole": True, "element": "21"},
    ]
    assert "250131: 31 January 2025?" in proposed.questions
    assert proposed.unread == ()


def test_a_day_of_production_without_a_day_is_left_out() -> None:
    proposed = propose(["(01)09506000134352(11)250100(21)12", "(01)09506000134352(11)250200(21)13"])

    assert _parts(proposed) == [
        {"field": "gtin", "whole": True, "element": "01"},
        {"field": "serial", "whole": True, "element": "21"},
    ]


def test_two_lengths_make_two_layouts_and_what_is_alone_is_asked_about() -> None:
    proposed = propose(["AB01", "AB72", "XY123", "XY129", "4711ABC"])

    assert proposed.as_data == {
        "layouts": {
            "build-1": [{"text": "AB"}, {"field": "number", "digits": 2}],
            "build-2": [{"text": "XY"}, {"field": "number", "digits": 3}],
        },
        "examples": [{"code": "AB01", "number": 1}, {"code": "XY123", "number": 123}],
    }
    assert proposed.unread == ("4711ABC",)
    assert proposed.questions[-1].startswith("4711ABC: built in another way.")


@pytest.mark.parametrize("codes", [[], ["", " - "], ["AB", "AB"], ["\ud800", "\x00A1"[:1]], ["ÄÖ", "¼"]])
def test_codes_that_show_nothing_give_no_layout_and_say_so(codes: list[str]) -> None:
    proposed = propose(codes)

    assert (proposed.layout, proposed.as_data) == (None, {})
    assert proposed.questions == (
        "These codes do not show how they are built. Can you copy at least three, from different units?",
    )


@pytest.mark.property
@given(st.lists(st.text("ABIO0125/-Xä\ud800\x1d(0)", max_size=12), max_size=8))
def test_whatever_is_pasted_a_proposal_reads_all_that_it_does_not_name(codes: list[str]) -> None:
    proposed = propose(codes)

    unread = {fold(code) for code in proposed.unread}
    for code in codes:
        if proposed.layout is not None and fold(code) and fold(code) not in unread:
            assert isinstance(read(proposed.layout, code), Parsed)
    assert proposed.questions


def _layout(proposed: Proposed) -> Layout:
    assert proposed.layout is not None
    return proposed.layout


def test_the_proposed_layout_reads_codes_that_it_has_not_seen() -> None:
    layout = _layout(propose(["QM-2534-B0172", "QM-2518-A0031", "QM-2547-D1204"]))
    reading = read(layout, "qm2601a9999")

    assert isinstance(reading, Parsed)
    expected: Mapping[str, object] = {"year": 2026, "week": 1, "line": "A", "number": 9999}
    assert reading.fields == expected
