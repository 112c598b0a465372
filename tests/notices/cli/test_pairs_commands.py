"""Which owners are one person, typed."""

from tests.commands import Desk

SHOP = """\
order,code,name,email,street,town,country
1,QM-2534-B0172,Anna Reed,anna@mail.example,Quay Street 2,Port Aldmere PA4 1,GB
2,QM-2534-B0200,A. Reed,reed@post.example,Quay St 2,Port Aldmere,GB
3,QM-2534-B0201,Zoe Quirk,zoe(at)mail.example,Lime Walk 17,Dunmarrow D08,GB
"""


def two(desk: Desk) -> tuple[str, str]:
    """Return the ids of the two who look alike."""
    (pair,) = desk.type("owners", "pairs", "--format", "json").json["pairs"]
    one, other = (side["owner"] for side in pair["owners"])
    return one, other


def test_pairs_are_shown_with_score_reasons_every_way_and_the_commands_that_decide(desk: Desk) -> None:
    desk.imported(SHOP)
    one, other = two(desk)
    said = desk.type("owners", "pairs")
    (pair,) = desk.type("owners", "pairs", "--format", "json").json["pairs"]
    lines = {
        f"     {one}  {pair['owners'][0]['name']}",
        f"     {other}  {pair['owners'][1]['name']}",
    }

    assert said.status == 0
    assert said.out.startswith(" 50  similar names, similar postal addresses\n")
    assert {line.partition(" · ")[0] for line in said.out.split("\n") if line.startswith("     ")} == lines
    assert " · anna@mail.example · Quay Street 2, Port Aldmere PA4 1 · 1 unit\n" in said.out
    assert said.out.endswith(
        "1 pair.\n"
        "One person: notices owners join OWNER OWNER --by NAME\n"
        "Two persons: notices owners apart OWNER OWNER --by NAME --reason TEXT\n"
    )
    assert (pair["score"], pair["reasons"]) == (
        50,
        {"name-similar": "similar names", "address-similar": "similar postal addresses"},
    )
    assert {contact["channel"] for side in pair["owners"] for contact in side["contacts"]} == {
        "email",
        "letter",
    }
    assert [len(side["units"]) for side in pair["owners"]] == [1, 1]


def test_a_pair_is_joined_and_held_apart_and_not_shown_again(desk: Desk) -> None:
    desk.imported(SHOP)
    one, other = two(desk)
    joined = desk.type("owners", "join", one, other, "--by", "Mara Quill")
    shown = desk.type("owners", "pairs")
    person = desk.type("owners", "pairs", "--decided")
    again = desk.type("owners", "join", other, one, "--by", "Mara Quill")
    parted = desk.type("owners", "apart", one, other, "--by", "Mara Quill", "--reason", "father and son")
    apart = desk.type("owners", "apart", one, other, "--by", "Mara Quill", "--reason", "father and son")
    (decided,) = desk.type("owners", "pairs", "--decided", "--format", "json").json["decided"]

    assert (joined.status, joined.out) == (0, f"One person: {one} and {other}.\n")
    assert shown.out == "No owners look like one person, beside those of whom it was decided.\n"
    assert person.out.startswith(f"one person\n     {min(one, other)}  ")
    assert (again.status, again.out) == (0, "That is recorded already.\n")
    assert (parted.status, parted.out) == (0, f"Two persons: {one} and {other}.\n")
    assert apart.out == "That is recorded already.\n"
    assert decided["decided"] == "apart"
    assert desk.type("verify").status == 0


def test_nothing_decided_is_said(desk: Desk) -> None:
    desk.imported(SHOP)

    assert desk.type("owners", "pairs", "--decided").out == "Nothing was decided of any owners yet.\n"


def test_what_cannot_be_decided_is_one_sentence(desk: Desk) -> None:
    desk.imported(SHOP)
    one, other = two(desk)
    unknown = desk.type("owners", "join", one, "nobody", "--by", "Mara Quill")
    silent = desk.type("owners", "apart", one, other, "--by", "Mara Quill", "--reason", "")

    assert (unknown.status, unknown.err) == (
        1,
        "notices: no owner is known as nobody; notices owners pairs shows their ids\n",
    )
    assert (silent.status, silent.err) == (
        1,
        "notices: to hold two owners apart needs a reason: --reason TEXT\n",
    )


def test_of_many_pairs_the_likeliest_are_shown_and_the_rest_counted(desk: Desk) -> None:
    rows = "".join(
        f"{number}{given},,{given} {name},{given}{number}@mail.example,{name} Lane 1,Dunmarrow D{number},GB\n"
        for number in range(10, 62)
        for name in (f"St{chr(97 + number % 26)}{chr(97 + number // 3)}mp{number}",)
        for given in ("Nora", "N")
    )
    desk.imported(SHOP.split("\n", 1)[0] + "\n" + rows)
    said = desk.type("owners", "pairs")

    assert "52 pairs; 2 more than shown: --format json.\n" in said.out
