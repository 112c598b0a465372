"""A layout is proposed from a few codes of real units, and every field comes back as a question."""

from audiences.proposing import propose


def test_year_week_line_and_number_are_found_and_asked_about() -> None:
    codes = ["QM-2534-B0172", "QM-2518-A0031", "QM-2547-D1204", "qm 2531 c0007"]

    proposed = propose(codes)

    assert proposed.as_data["layout"] == [
        {"text": "QM"},
        {"field": "year", "iso_year": 2},
        {"field": "week", "iso_week": True},
        {"field": "line", "one_of": "ABCD"},
        {"field": "number", "digits": 4},
    ]
    assert proposed.as_data["example"] == {
        "code": "QM-2534-B0172",
        "year": 2025,
        "week": 34,
        "line": "B",
        "number": 172,
    }
    assert "2534: week 34 of 2025?" in proposed.questions
    assert proposed.unread == ()
