"""What nobody has read goes out at the signer's word alone, with stop and hazard in the source language beside it."""

from dataclasses import replace
from pathlib import Path

from notices.cases.events import CAMPAIGN
from notices.work import proving, signing
from tests.folders import LEAD, Desk, a_desk

STOP = "Stop riding your Drayling 2 now."


def _read_by_somebody(desk: Desk) -> None:
    """Have our German catalogue and the lead's German wording read."""
    held = desk.world.catalogues
    read = held["de/notices"].replace("X-Read-By: nobody", "X-Read-By: A. N.")
    desk.world = replace(desk.world, catalogues={**held, "de/notices": read})
    desk.edit("X-Read-By: nobody", "X-Read-By: A. N.", "translations/de.po")


def _languages(items: tuple[proving.Item, ...]) -> set[str]:
    return {item.key.language for item in items}


def test_without_the_signers_word_only_what_somebody_has_read_is_signed(tmp_path: Path) -> None:
    with a_desk(tmp_path) as desk:
        desk.take()
        done = signing.sign(desk.world, by=LEAD)
        after = signing.sign(desk.world, by=LEAD, unread_too=True)

    assert (_languages(done.unread), done.held, done.signed > 0) == ({"ar", "de"}, (), True)
    assert (after.unread, after.signed, after.already) == ((), len(done.unread), done.signed)


def test_a_word_that_was_given_stands_and_is_in_the_record(tmp_path: Path) -> None:
    with a_desk(tmp_path) as desk:
        desk.take()
        desk.sign()
        again = signing.sign(desk.world, by=LEAD)
        with desk.world.register.look() as tx:
            events = [one for one in tx.events.stream(CAMPAIGN) if one.kind == "variant_signed"]

    assert again.unread == ()
    assert {one.payload.get("unread", False) for one in events} == {True, False}


def test_stop_and_hazard_stand_in_the_source_language_beside_what_nobody_has_read(tmp_path: Path) -> None:
    with a_desk(tmp_path) as desk:
        desk.take()
        shown = {item.key.language: item for item in proving.needed(desk.world).items}

    for tag in ("de", "ar"):
        assert shown[tag].composed.content.count(STOP) == 2
        assert "The steering link under the cargo box can break." in shown[tag].composed.content
    assert shown["en"].composed.content.count("The steering link under the cargo box can break.") == 2
    assert not shown["en"].unread


def test_once_somebody_has_read_both_wordings_it_stands_alone_and_needs_no_word(tmp_path: Path) -> None:
    with a_desk(tmp_path) as desk:
        desk.take()
        before = proving.needed(desk.world).draft.digest
        _read_by_somebody(desk)
        done = signing.sign(desk.world, by=LEAD)
        found = proving.needed(desk.world)
        german = next(item for item in found.items if item.key.language == "de")

    assert _languages(done.unread) == {"ar"}
    assert STOP not in german.composed.content
    assert found.draft.digest != before


def test_every_proof_says_that_nobody_has_read_it(tmp_path: Path) -> None:
    with a_desk(tmp_path) as desk:
        desk.take()
        proving.write_proofs(desk.world)
        pages = {
            item.key.language: (tmp_path / f"out/proofs/{item.name}/index.html").read_text("utf-8")
            for item in proving.needed(desk.world).items
        }
        index = (tmp_path / "out/proofs/index.html").read_text("utf-8")

    said = "Nobody who grew up with this language has read this wording"
    assert {tag: said in page for tag, page in pages.items()} == {"ar": True, "de": True, "en": False}
    assert "read by nobody" in index
