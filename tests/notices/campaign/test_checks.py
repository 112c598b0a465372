"""Each check of a campaign finds what it is there for, on its line, and nothing in a sound campaign."""

import pytest

from audiences.findings import Finding
from notices.campaign.checks import check
from notices.campaign.loading import load
from tests.stove import WHOLE, changed, without

_PNG = b"\x89PNG\r\n\x1a\n"
_JPEG = b"\xff\xd8\xff"
_PICTURES = {"pictures/stove.png": _PNG, "pictures/base.png": _JPEG}


def _found(text: str, pictures: dict[str, bytes] | None = None) -> list[Finding]:
    loaded = load(text)
    assert loaded.campaign is not None, "\n".join(map(str, loaded.findings))
    return list(check(loaded.campaign, loaded.lines, _PICTURES if pictures is None else pictures))


def _line(text: str, piece: str) -> int:
    return text[: text.index(piece)].count("\n") + 1


@pytest.mark.parametrize(
    ("old", "new", "code", "path"),
    [
        ("schema: 1 ", "schema: 2 ", "schema-unknown", "schema"),
        ("schema: 1 ", "schema: 0 ", "schema-unknown", "schema"),
        ("next_word: 2026-01-16", "next_word: 2026-01-20", "next-word-too-late", "next_word"),
        ("next_word: 2026-01-16", "next_word: 2026-01-11", "next-word-before-revision", "next_word"),
        (
            "number: 0, day: 2026-01-12, why:",
            "number: 1, day: 2026-01-12} #",
            "revision-why-missing",
            "revision",
        ),
        ("{day: 2026-01-10, standing: known", "{standing: known", "fact-without-day", "ledger[0]"),
        ("{day: 2026-01-10, st", "{day: 2026-01-13, st", "fact-after-revision", "ledger[0].day"),
        ("symptomatic: 3", "symptomatic: 1", "level-falls", "now.level.symptomatic"),
        ("unknown: 3", "unknown: 1", "level-falls", "now.level.unknown"),
        ("affected: 2, missing: 2", "affected: 1, missing: 2", "level-too-low", "now.level.affected"),
        ("affected: 2, missing: 2", "affected: 2, missing: 0", "level-too-low", "now.level.missing"),
        ("cleared: 0}", "cleared: 2}", "level-cleared", "now.level.cleared"),
        ("signal: WARNING", "signal: NOTICE", "signal-notice", "hazard.signal"),
        (
            "email: safety@fellbrook.example",
            "email: safety.fellbrook.example",
            "issuer-email-unusable",
            "issuer.email",
        ),
        ('"+442079460123"', '"+4420"', "contact-phone-unusable", "contacts[0].phone"),
        (
            "GB: {countries: [GB]",
            "GB: {countries: [GB, FR]",
            "market-country-without-contact",
            "markets.GB.countries",
        ),
        ("EU: {countries: [IE]", "EU: {countries: [IE, GB]", "market-country-twice", "markets"),
        ("- {countries: [IE]", "- {countries: [IE, GB]", "contact-country-twice", "contacts"),
        ("zone: Europe/London\n", "zone: Europe/Fellbrook\n", "time-zone-unknown", "issuer.time_zone"),
        ("zone: Europe/London\n", "zone: Europe\n", "time-zone-unknown", "issuer.time_zone"),
        ("zone: Europe/London\n", "zone: ../../etc/passwd\n", "time-zone-unknown", "issuer.time_zone"),
        ("zone: Europe/Dublin,", "zone: Dublin,", "time-zone-unknown", "contacts[1].time_zone"),
        (
            "https://fellbrook.example/stove",
            "http://fellbrook.example/stove",
            "answers-address-form",
            "issuer.answers",
        ),
        (
            "https://fellbrook.example/stove",
            "https://fellbrook.example/?a",
            "answers-address-form",
            "issuer.answers",
        ),
        ("https://fellbrook.example/stove", "https://[x/stove", "answers-address-form", "issuer.answers"),
        ("web: fellbrook.example ", "web: on our page ", "web-address-form", "issuer.web"),
        ("bulletin: fellbrook.example/valve", "bulletin: a@b.example", "web-address-form", "issuer.bulletin"),
        ("written: [en]", "written: [de]", "language-source-not-written", "languages.written"),
        ("written: [en]", "written: [en, de, en]", "language-twice", "languages.written"),
        ("default: en}", "default: fr}", "language-default-not-written", "languages.default"),
        ('from: "09:00"', 'from: "17:00"', "hours-empty", "hours"),
        ("[mon, tue, wed, thu, fri]", "[]", "hours-empty", "hours"),
        ("{step: text, ", "{step: mail-again, ", "follow-up-twice", "follow_up[1].step"),
        ("after_days: 5", "after_days: 3", "follow-up-order", "follow_up[1].after_days"),
        (
            "{field: works, one_of: FGH}",
            "{field: works, one_of: FGH, digits: 1}",
            "layout-part-unclear",
            "code.layout[3]",
        ),
        ("{field: works, one_of: FGH}", "{field: works}", "layout-part-unclear", "code.layout[3]"),
        ("{field: works, one_of: FGH}", "{one_of: FGH}", "layout-part-unclear", "code.layout[3]"),
        ('{text: "EM"}', '{text: "EM", field: brand}', "layout-part-unclear", "code.layout[0]"),
        ("iso_year: 2}", "iso_year: 3}", "layout-part-unclear", "code.layout[1]"),
        ("week, iso_week: true", "week, iso_week: false", "layout-part-unclear", "code.layout[2]"),
        ("{field: number, digits: 3}", "{field: works, digits: 3}", "layout-field-twice", "code.layout"),
        ("example: {code: EM2521F014,", "example: {code: EM2560F014,", "example-unreadable", "code.example"),
        ("week: 21, works", "week: 22, works", "example-differs", "code.example.week"),
        ("works: F, number: 14", "works: G, number: 14", "example-differs", "code.example.works"),
        ("works: F, number: 14", "works: F, line: 14", "example-differs", "code.example.line"),
        ("number: 14}", 'number: "x"}', "example-differs", "code.example.number"),
        ("hidden: 4 ", "hidden: 9 ", "hidden-shortened", "code.hidden"),
        ("works: F, week:", "line: F, week:", "rule-field-unknown", "affected[0].line"),
        ("works: F, week:", "works: K, week:", "rule-value-unfit", "affected[0].works"),
        ('week: ["2514", "2533"]', 'week: ["2514", "2560"]', "rule-value-unfit", "affected[0].week"),
        ('week: ["2514", "2533"]', 'year: ["25", "6"]', "rule-value-unfit", "affected[0].year"),
        ('week: ["2514", "2533"]', "number: 1000", "rule-value-unfit", "affected[0].number"),
        ('week: ["2514", "2533"]', "number: x", "rule-value-unfit", "affected[0].number"),
        ('week: ["2514", "2533"]', "number: [1, 2, 3]", "rule-range-form", "affected[0].number"),
        ('week: ["2514", "2533"]', 'week: ["2533", "2514"]', "rule-range-turned", "affected[0].week"),
        (
            '{rule: works-f, works: F, week: ["2514", "2533"]}',
            "{rule: a}",
            "rule-without-condition",
            "affected[0]",
        ),
        ("free: You pay nothing", "free: On %(dey)s you pay nothing", "placeholder-unknown", "free"),
        ("free: You pay nothing", "free: On %(day) you pay nothing", "placeholder-unknown", "free"),
        ("free: You pay nothing", "free: To %(iban)s you pay nothing", "placeholder-unknown", "free"),
        ("pictures/stove.png", "pictures/Stove.png", "picture-absent", "product.pictures[0].file"),
        ("pictures/stove.png", "../stove.png", "picture-outside", "product.pictures[0].file"),
        ("pictures/stove.png", "/stove.png", "picture-outside", "product.pictures[0].file"),
        ("pictures/stove.png", "C:\\stove.png", "picture-outside", "product.pictures[0].file"),
        ("{key: flame,", "{key: leak,", "question-twice", "confirm.questions[1].key"),
        ("shop in Fellbrook,", "web shop,", "sale-place-twice", "sale_stop.places[1]"),
        (
            "{EV-12: valve, EO-3:",
            "{EV-12: valve, EO-4:",
            "part-without-name",
            "remedies.new-valve.unridden.parts.EO-3",
        ),
        (
            "[mechanic]                #",
            "[owner, mechanic] #",
            "owner-before-mechanic",
            "remedies.new-valve.unridden.by",
        ),
        (
            "[mechanic]                #",
            "[mechanic, owner] #",
            "owner-without-steps",
            "remedies.new-valve.unridden.by",
        ),
        (
            "minutes: {workshop: 45}",
            "minutes: {mechanic: 45}",
            "minutes-for-nobody",
            "remedies.new-valve.symptomatic.minutes.mechanic",
        ),
    ],
)
def test_a_check_finds_its_fault_on_its_line(old: str, new: str, code: str, path: str) -> None:
    text = changed((old, new))
    finding = next(finding for finding in _found(text) if finding.code == code)
    stands = _STAND_ABOVE.get(path, new)

    assert (finding.file, finding.path, finding.line) == ("campaign.yaml", path, _line(text, stands))


# Where the finding stands on another line than the first that holds what was written.
_STAND_ABOVE = {
    "markets": "markets:",
    "contacts": "contacts:",
    "code.layout": "  layout:",
    "follow_up[1].step": "{step: mail-again, after_days: 5",
    "follow_up[1].after_days": "{step: text,",
    "confirm.questions[1].key": '{key: leak, ask: "Does',
    "remedies.new-valve.unridden.parts.EO-3": "parts: {EV-12: 1, EO-3: 1}",
}


def test_a_sound_campaign_has_no_findings() -> None:
    assert _found(WHOLE) == []


@pytest.mark.parametrize(
    ("text", "stands", "said"),
    [
        (
            without("cautions", text=changed(("[mechanic]                #", "[mechanic, owner] #"))),
            "by: [mechanic, owner]",
            (
                "must mend [cautions-missing] remedies.new-valve.unridden.by: "
                "the owner may do the work, and no cautions are written\n"
                "    mend: write cautions: and what a qualified person would warn of"
            ),
        ),
        (
            changed(("  price: {cents: 7900, currency: EUR}\n", "")),
            "  refund:",
            (
                "consider [refund-without-price] remedies.refund: money is promised back, and "
                "product.price is not written\n    mend: write price: {cents: …, currency: …} below product"
            ),
        ),
        (
            without("code"),
            "affected:",
            (
                "must mend [rule-without-layout] affected: codes cannot be read without a clear "
                "layout, so every unit counts as affected\n    mend: write code.layout, or take affected: "
                "out until you know it"
            ),
        ),
        (
            without("affected", text=changed(("otherwise: cleared ", "otherwise: affected "))),
            "otherwise:",
            (
                "consider [otherwise-without-rule] otherwise: without a rule every unit is "
                "affected already\n    mend: take otherwise: out, or write the rules"
            ),
        ),
        (
            changed(("  example: {code: EM2521F014, year: 2025, week: 21, works: F, number: 14}\n", "")),
            "code:",
            (
                "consider [example-missing] code: nothing shows that the layout reads a real code"
                "\n    mend: write example: with a code from a unit and the value of each field"
            ),
        ),
        (
            changed(
                ("    - {field: year, iso_year: 2}\n", ""),
                ("    - {field: week, iso_week: true}\n", ""),
                ("    - {field: works, one_of: FGH}\n", ""),
                ("    - {field: number, digits: 3}\n", ""),
            ),
            "  layout:",
            (
                "must mend [layout-without-field] code.layout: the layout is fixed text alone, "
                "so that it tells no two units apart\n    mend: add {field: number, digits: 4} or what stands there"
            ),
        ),
        (
            changed(
                ('    - {text: "EM"}\n', ""),
                ("    - {field: year, iso_year: 2}\n", ""),
                ("    - {field: week, iso_week: true}\n", ""),
                ("    - {field: works, one_of: FGH}\n", ""),
                ("digits: 3", "digits: 2"),
                (
                    "{code: EM2521F014, year: 2025, week: 21, works: F, number: 14}",
                    '{code: "14", number: 14}',
                ),
                ('works: F, week: ["2514", "2533"]', "number: [10, 20]"),
            ),
            "  hidden:",
            (
                "must mend [hidden-too-many] code.hidden: no sign of the code is left to show, "
                "so that an owner cannot tell which unit is meant\n    mend: hide at most half of the signs"
            ),
        ),
        (
            changed(("affected:\n", "affected:\n  - {rule: works-f, number: 7}\n")),
            "  - {rule: works-f, works",
            (
                "must mend [rule-twice] affected[1].rule: an earlier rule has "
                "this name already; verdicts name their rule\n    mend: give it a name of its own"
            ),
        ),
        (
            changed(("affected:\n", 'affected:\n  - {rule: early, works: [F, G], week: ["2510", "2514"]}\n')),
            "  - {rule: works-f, works",
            (
                "consider [rules-overlap] affected[1]: some codes are affected "
                "by early too, and are told so under that name\n    mend: part the ranges if figures are to tell "
                "the two rules apart"
            ),
        ),
    ],
)
def test_a_check_says_what_is_wrong_and_how_to_mend_it(text: str, stands: str, said: str) -> None:
    line = _line(text, f"\n{stands}") + 1 if f"\n{stands}" in text else _line(text, stands)

    assert f"campaign.yaml:{line}: {said}" in [str(finding) for finding in _found(text)]


def test_a_picture_of_another_form_is_found() -> None:
    [finding] = _found(WHOLE, _PICTURES | {"pictures/stove.png": b"GIF89a"})

    assert (finding.code, finding.line) == ("picture-form", _line(WHOLE, "{file: pictures/stove.png"))


def test_a_heavy_picture_is_found() -> None:
    [finding] = _found(WHOLE, _PICTURES | {"pictures/base.png": _PNG + bytes(2_000_000)})

    assert (finding.code, finding.line) == ("picture-heavy", _line(WHOLE, "{file: pictures/base.png"))


def test_a_campaign_made_without_a_file_has_findings_without_a_line() -> None:
    loaded = load(changed(("signal: WARNING", "signal: NOTICE")))
    assert loaded.campaign is not None

    assert [finding.line for finding in check(loaded.campaign, {}, _PICTURES)] == [None]


def test_a_missing_contact_holds_nothing_back_where_owners_can_write() -> None:
    text = changed(("GB: {countries: [GB]", "GB: {countries: [GB, FR]"))
    mute = changed(("  email: safety@fellbrook.example # owners see it and answer to it\n", ""), text=text)

    assert [finding.severity for finding in (*_found(text), *_found(mute))] == ["consider", "must mend"]


def test_a_new_folder_is_checked_without_findings() -> None:
    assert _found("issuer: {name: F}\nproduct: {name: E}\nnext_word: 2026-01-01\n") == []


@pytest.mark.parametrize(
    "rules",
    [
        '  - {rule: b, works: G, week: ["2510", "2514"]}\n',
        '  - {rule: b, works: F, week: ["2501", "2513"]}\n',
        '  - {rule: b, works: F, week: ["2534", "2540"]}\n',
        "  - {rule: b, works: K}\n",
    ],
)
def test_rules_that_take_no_code_in_common_do_not_overlap(rules: str) -> None:
    text = changed(("affected:\n", f"affected:\n{rules}"))

    assert "rules-overlap" not in [finding.code for finding in _found(text)]


@pytest.mark.parametrize(
    "condition",
    [
        "year: 25",
        "year: 2025",
        "number: [1, 999]",
        'number: "014"',
        "works: [F, H]",
        "week: 2514",
        "works: f",
    ],
)
def test_a_value_that_the_field_can_take_is_let_through(condition: str) -> None:
    text = changed(('works: F, week: ["2514", "2533"]', condition))

    assert _found(text) == []
