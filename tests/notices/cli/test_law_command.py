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
