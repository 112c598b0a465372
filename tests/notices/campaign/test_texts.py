"""Every text that owners read can be translated, and nothing else is."""

from notices.campaign.models import Campaign
from notices.campaign.shape import keys, part_at, path_of
from notices.campaign.texts import localise, translatable
from tests.stove import a_stove


def test_the_path_of_a_text_has_no_list_places() -> None:
    found = dict.fromkeys(path for path, _ in translatable(a_stove()))

    assert list(found) == [
        "revision.why",
        "product.description",
        "product.pictures.alt",
        "product.sold.by",
        "code.label",
        "code.where",
        "code.says",
        "hazard.what",
        "hazard.who",
        "hazard.without_sign",
        "hazard.signs",
        "hazard.short",
        "subjects.stop",
        "subjects.first",
        "subjects.cleared",
        "preheaders.stop",
        "preheaders.first",
        "corrections.told_safe",
        "corrections.told_to_stop",
        "corrections.parts",
        "corrections.other",
        "now.headline",
        "now.steps.all",
        "now.steps.symptomatic",
        "now.stopped_button",
        "now.stopped_page_button",
        "now.in_use_button",
        "now.call_at_once",
        "now.reply_word",
        "now.other_code",
        "now.code_missing",
        "now.near",
        "now.cleared",
        "use.question",
        "use.unridden.name",
        "use.unridden.answer",
        "use.ridden_no_symptoms.name",
        "use.ridden_no_symptoms.answer",
        "use.symptomatic.name",
        "use.symptomatic.answer",
        "use.unknown.name",
        "use.unknown.answer",
        "remedies.new-valve.label",
        "remedies.new-valve.unridden.promise",
        "remedies.new-valve.ridden_no_symptoms.promise",
        "remedies.new-valve.symptomatic.promise",
        "remedies.new-valve.symptomatic.tools",
        "remedies.refund.label",
        "remedies.refund.all.promise",
        "free",
        "answer_within.text",
        "meanwhile.text",
        "before_remedy",
        "cautions",
        "parts.EV-12",
        "parts.EO-3",
        "confirm.title",
        "confirm.questions.ask",
        "confirm.old_part",
        "no_longer",
        "share",
        "ledger.text",
        "markets.EU.headline",
        "markets.GB.headline",
        "warning_headline",
    ]


def test_a_text_that_stands_twice_at_one_path_is_translated_once() -> None:
    campaign = a_stove(("[you smell gas, you hear it hiss,", "[you smell gas, you smell gas,"))

    assert [text for path, text in translatable(campaign) if path == "hazard.signs"] == [
        "you smell gas",
        "the flame burns yellow",
    ]


def test_a_translation_takes_the_place_of_its_text_alone() -> None:
    translation = {
        ("hazard.signs", "you smell gas"): "es riecht nach Gas",
        ("hazard.short", "you smell gas"): "of another path",
        ("free", "You pay nothing."): "of another text",
        ("parts.EV-12", "valve"): "Ventil\n",
        ("issuer.name", "Your firm"): "never",
    }
    campaign = a_stove()
    there = localise(campaign, translation)

    assert there.hazard.signs == ("es riecht nach Gas", "you hear it hiss", "the flame burns yellow")
    assert there.parts == {"EV-12": "Ventil", "EO-3": "sealing ring"}
    assert there == campaign.model_copy(
        update={
            "hazard": campaign.hazard.model_copy(update={"signs": there.hazard.signs}),
            "parts": there.parts,
        }
    )


def test_an_empty_translation_leaves_the_source_text() -> None:
    campaign = a_stove()

    assert localise(campaign, {("share", campaign.share or ""): " \n "}) == campaign


def test_a_line_break_is_folded_and_a_space_that_does_not_break_stays() -> None:
    campaign = a_stove()
    there = localise(campaign, {("share", campaign.share or ""): " Qui d'autre\n en a un\u00a0? \u2028"})

    assert there.share == "Qui d'autre en a un\u00a0?"


def test_the_part_at_a_place_knows_its_keys() -> None:
    part = part_at(Campaign, ("remedies", "repair", "unridden"))
    assert part is not None

    assert keys(part) == ("promise", "parts", "by", "minutes", "tools", "steps", "saying")


def test_no_part_stands_at_a_value_or_below_it() -> None:
    places = [
        ("share",),
        ("share", "x"),
        ("ledger", 0, "text"),
        ("nowhere",),
        ("contacts", 0, "countries", 0),
    ]

    assert [part_at(Campaign, place) for place in places] == [None] * 5


def test_a_place_is_written_as_a_path() -> None:
    assert path_of(("a", "b", 2, "c")) == "a.b[2].c"
