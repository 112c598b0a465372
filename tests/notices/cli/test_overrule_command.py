"""Overruling as it is typed."""

from tests.commands import Desk, desk

__all__ = ["desk"]

SAID = ("--by", "Ines Hall", "--reason", "the laboratory is shut until then")


def _late(desk: Desk) -> None:
    path = desk.folder / "campaign.yaml"
    text = path.read_text("utf-8")
    path.write_text(text.replace("next_word: 2026-03-03", "next_word: 2026-03-20"), "utf-8")


def test_a_finding_is_overruled_by_its_path_and_check_prints_who_and_why(desk: Desk) -> None:
    _late(desk)
    before = desk.type("check")
    done = desk.type("overrule", "[next-word-too-late]", "next_word", *SAID)
    after = desk.type("check")
    as_json = desk.type("check", "--format", "json").json["findings"]

    assert (before.status, done.status, after.status) == (1, 0, 0)
    assert done.out.endswith("1 finding overruled, until the passage changes.\n")
    assert ": overruled [next-word-too-late] next_word: " in after.out
    assert "\n    overruled by Ines Hall: the laboratory is shut until then\n" in after.out
    assert [one["overruled"] for one in as_json if one["severity"] == "overruled"] == [
        "Ines Hall: the laboratory is shut until then"
    ]


def test_it_can_be_taken_back_once(desk: Desk) -> None:
    _late(desk)
    desk.type("overrule", "next-word-too-late", "next_word", *SAID)
    back = desk.type("overrule", "next-word-too-late", "next_word", "--take-back", *SAID)
    again = desk.type("overrule", "next-word-too-late", "next_word", "--take-back", *SAID)

    assert (back.status, again.status, desk.type("check").status) == (0, 1, 1)
    assert back.out.endswith("1 finding taken back: held back again.\n")


def test_what_is_broken_is_not_overruled(desk: Desk) -> None:
    said = desk.type("overrule", "stop-missing", "now.headline", *SAID)

    assert said.status == 1
    assert (
        said.err == "notices: [stop-missing] is never overruled: without hazard and stop it is no warning\n"
    )


def test_an_explanation_says_whether_a_finding_may_be_overruled(desk: Desk) -> None:
    assert (
        "may be overruled: seven days are common practice" in desk.type("explain", "next-word-too-late").out
    )
    assert "overruled" not in desk.type("explain", "picture-absent").out
