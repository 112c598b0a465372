"""What the law asks for, as it is typed and printed."""

from tests.commands import Desk, desk

__all__ = ["desk"]

CLOSING = "This is no legal advice: your firm's counsel and the authority decide.\n"


def _change(desk: Desk, old: str, new: str) -> None:
    path = desk.folder / "campaign.yaml"
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new), "utf-8")


def test_a_finding_shows_its_paragraph_and_the_list_says_once_who_decides(desk: Desk) -> None:
    before = desk.type("check").out
    _change(desk, "  brand: Quillmoor\n", "")
    after = desk.type("check").out

    assert CLOSING not in before
    assert "] product.brand: the notice does not say the brand of the product: EU, consumer goods\n" in after
    assert "\n    source: good practice after Regulation (EU) 2023/988, article 36(2)(b)(i)" in after
    assert after.count(CLOSING) == 1


def test_what_a_markets_law_asks_for_is_shown_line_by_line(desk: Desk) -> None:
    shown = desk.type("check", "--market", "EU").out

    assert "EU, consumer goods:\n  should  the name of the product: written\n" in shown
    assert "          Regulation (EU) 2023/988, article 36(2)(b)(i) [R]\n" in shown
    assert "US, consumer goods" not in shown
    assert CLOSING in shown


def test_every_law_area_is_shown_to_the_curious_and_those_without_a_market_are_marked(desk: Desk) -> None:
    shown = desk.type("check", "--market", "all").out
    told = desk.type("check", "--market", "all", "--format", "json").json["law"]

    assert "US, consumer goods:\n" in shown
    assert "  should  about what it cost: written" not in shown  # a stop warning needs no price
    assert "  should  a contact, with its days and hours and the time zone: written\n" in shown
    assert "Australia, consumer goods (no market of this campaign):\n" in shown
    assert {one["area"] for one in told if one["market"] is None} >= {"au", "ca", "jp", "nz"}


def test_a_market_that_nobody_knows_is_refused(desk: Desk) -> None:
    said = desk.type("check", "--market", "XX")

    assert said.status == 2
    assert said.err == ("notices: no market and no law area is called XX; --market all shows every one\n")
