"""The first evening, typed command by command: from the list to the notices, the answers and the sum."""

from email import message_from_bytes
from email.policy import default

from tests.commands import LIST, Desk


def test_the_list_goes_in_with_its_columns_named_and_its_bad_cells_found(desk: Desk) -> None:
    said = desk.imported()

    assert said.status == 0 or "must mend" in said.out
    assert said.out.startswith(
        "The columns are read as:\n"
        "  sale      order\n"
        "  code      code\n"
        "  name      name\n"
        "  email     email\n"
        "  phone     phone\n"
        "  country   country\n"
        "  language  language\n"
        "  sold_on   sold on\n"
        "3 rows in sales.csv: UTF-8, parted by commas.\n"
        "sales.csv:4: consider [email-unusable]"
    )
    assert said.out.endswith(
        "3 new, 0 changed, 0 as before, 0 refused.\nNext, when all lists are in: notices proofs\n"
    )


def test_the_same_list_again_changes_nothing(desk: Desk) -> None:
    desk.imported()

    assert desk.imported().out.endswith(
        "0 new, 0 changed, 3 as before, 0 refused.\nNext, when all lists are in: notices proofs\n"
    )


def test_a_refused_row_shows_in_the_status_and_holds_nobody_back(desk: Desk) -> None:
    said = desk.imported(LIST + "4,QM-2534-B0174,Too,few\n")

    assert said.status == 1
    assert "3 new, 0 changed, 0 as before, 1 refused.\n" in said.out
    assert said.out.endswith("Next, when all lists are in: notices proofs\n")


def test_what_is_owed_is_proved_signed_and_sent_once(desk: Desk) -> None:
    desk.imported()
    desk.signed()
    first = desk.type("send", "--to-folder", "mails", "--yes")
    again = desk.type("send", "--to-folder", "mails", "--yes")

    assert (first.status, again.status) == (0, 0)
    assert "2 messages to 2 owners can go now, 2 of them new.\n" in first.out
    assert "2 handed over, 0 refused, 0 in doubt, 0 withdrawn, 0 put off by the mail server.\n" in first.out
    assert "0 messages to 0 owners can go now, 0 of them new.\n" in again.out
    assert len(list((desk.folder / "mails").glob("*.eml"))) == 2


def test_each_owner_reads_their_own_language(desk: Desk) -> None:
    desk.imported()
    desk.signed()
    desk.type("send", "--to-folder", "mails", "--yes")
    mails = [
        message_from_bytes(file.read_bytes(), policy=default)
        for file in sorted((desk.folder / "mails").glob("*.eml"))
    ]

    assert {(mail["To"].addresses[0].addr_spec, mail["Content-Language"]) for mail in mails} == {
        ("anna@mail.example", "en"),
        ("juergen@mail.example", "de"),
    }


def test_a_folder_counts_as_told_only_when_a_person_says_so(desk: Desk) -> None:
    desk.imported()
    desk.signed()
    refused = desk.type("send", "--to-folder", "mails", answer="n\n")
    nobody = desk.type("send", "--to-folder", "mails")
    agreed = desk.type("send", "--to-folder", "mails", answer="y\n")

    assert "2 owners then count as told. Write into mails? [y/N] Nothing was done.\n" in refused.out
    assert (refused.status, nobody.status, agreed.status) == (1, 2, 0)
    assert nobody.err == (
        "notices: nobody is there to answer, and nothing was done; give --yes to go on without asking\n"
    )


def test_nothing_goes_out_unsigned(desk: Desk) -> None:
    desk.imported()
    said = desk.type("send", "--to-folder", "mails", "--yes")

    assert said.status == 1
    assert said.out == "Nothing is signed yet: read notices proofs, then notices sign --by NAME --all\n"
    assert not (desk.folder / "mails").exists()


def test_what_is_due_and_unsigned_is_named_and_the_rest_goes(desk: Desk) -> None:
    desk.imported()
    desk.type("sign", "--by", "Mara", "stop-affected-unknown-GB-en", "--yes")
    said = desk.type("send", "--to-folder", "mails", "--yes")

    assert said.status == 1
    assert "not signed, so 1 message cannot go: stop-affected-unknown-EU-de\n" in said.out
    assert "1 handed over, 0 refused" in said.out


def test_a_draft_that_says_something_else_is_one_line_and_what_was_signed_goes(desk: Desk) -> None:
    desk.imported()
    desk.signed()
    text = (desk.folder / "campaign.yaml").read_text("utf-8")
    desk.write("campaign.yaml", text.replace("Then you cannot steer.", "Then nobody can steer.", 1))
    said = desk.type("send", "--to-folder", "mails", "--yes")
    mails = b"".join(file.read_bytes() for file in (desk.folder / "mails").glob("*.eml"))

    assert said.out.startswith(
        "The draft in the folder differs from the signed revision; revision 0 is what goes out.\n"
    )
    assert b"you cannot steer" in mails
    assert b"nobody can steer" not in mails


def test_signing_says_first_what_follows(desk: Desk) -> None:
    desk.imported()
    said = desk.type("sign", "--by", "Mara", "--all", answer="n\n")

    assert said.status == 1
    assert "The draft becomes revision 0; every unit is judged by it.\n" in said.out
    assert "  2 units become affected\n  1 unit becomes missing\n" in said.out
    assert said.out.endswith("Sign as Mara? [y/N] Nothing was done.\n")
    assert desk.type("status", "--format", "json").json["revision"] is None


def test_a_test_message_tells_nobody(desk: Desk) -> None:
    desk.imported()
    said = desk.type("send", "--to-folder", "mails", "--test", "mara@aldmere.example")
    mails = [
        message_from_bytes(file.read_bytes(), policy=default)
        for file in (desk.folder / "mails").glob("*.eml")
    ]

    assert said.status == 0
    assert {mail["To"].addresses[0].addr_spec for mail in mails} == {"mara@aldmere.example"}
    assert all(mail["Subject"].startswith("TEST: ") for mail in mails)
    assert set(desk.type("outbox", "--format", "json").json.values()) == {0}


def test_the_outbox_counts_every_state(desk: Desk) -> None:
    desk.imported()
    desk.signed()
    desk.type("send", "--to-folder", "mails", "--yes")

    assert desk.type("outbox", "--format", "json").json == {
        "waiting": 0,
        "trying": 0,
        "handed_over": 2,
        "refused": 0,
        "in_doubt": 0,
        "bounced": 0,
        "withdrawn": 0,
    }


def test_what_staff_hear_moves_the_case(desk: Desk) -> None:
    desk.imported()
    desk.signed()
    desk.type("send", "--to-folder", "mails", "--yes")
    said = desk.type("record", "QM-2534-B0172", "stopped", "--by", "Mo")
    status = desk.type("status", "--format", "json").json

    assert said.out.startswith("Written down for 1 unit: ")
    assert status["stopped"] == {"stopped": 1, "pressed": 0, "in_use": 0, "no_word": 2}
    assert status["grid"]["unknown"]["answered"] == 1


def test_a_word_that_is_none_is_said_to_be_none(desk: Desk) -> None:
    desk.imported()
    said = desk.type("record", "QM-2534-B0172", "vanished", "--by", "Mo")

    assert (said.status, said.out) == (1, "")
    assert said.err.startswith("notices: 'vanished' is none of: ")


def test_a_case_is_found_by_code_by_reference_and_by_address(desk: Desk) -> None:
    desk.imported()
    by_code = desk.type("case", "qm 2534 b0172", "--format", "json").json
    reference = by_code[0]["unit"]

    assert desk.type("case", reference, "--format", "json").json == by_code
    assert desk.type("case", "anna@mail.example", "--format", "json").json == by_code
    assert by_code[0]["holders"][0]["name"] == "Anna Reed"
    assert [event["kind"] for event in by_code[0]["events"]] == ["unit_listed"]


def test_a_case_that_is_not_there_is_said_so(desk: Desk) -> None:
    desk.imported()
    said = desk.type("case", "QM-2534-B9999")

    assert (said.status, said.out) == (1, "No unit has the reference, code or link QM-2534-B9999.\n")


def test_an_owner_without_a_usable_address_is_due_another_way(desk: Desk) -> None:
    desk.imported()
    desk.signed()
    due = desk.type("due", "--format", "json").json["due"]

    assert [(step["owner"], step["step"], step["to"]) for step in due] == [("Zoe Quirk", "another-way", [])]


def test_the_status_is_a_grid_with_its_sum(desk: Desk) -> None:
    desk.imported()
    desk.signed()
    desk.type("send", "--to-folder", "mails", "--yes")
    lines = desk.type("status").out.split("\n")

    assert lines[0].endswith(", revision 0")
    assert "Use unknown               1     2     0      0     0        0     0     0   3" in lines
    assert (
        "480 sold = 3 in owners' hands + 0 cleared + 0 in stock, collected or destroyed + 477 owner unknown"
        in lines
    )


def test_the_status_of_a_day_before_is_what_was_known_then(desk: Desk) -> None:
    desk.imported()
    said = desk.type("status", "--on", "2020-01-01", "--format", "json").json

    assert (said["on"], said["revision"], said["units"]["in_hands"]) == ("2020-01-01", None, 0)


def test_the_public_pages_are_written_and_recorded(desk: Desk) -> None:
    desk.imported()
    unsigned = desk.type("bulletin")
    desk.signed()
    written = desk.type("bulletin")
    published = desk.type("bulletin", "--published")

    assert (unsigned.status, written.status, published.status) == (1, 0, 0)
    assert unsigned.out.startswith("campaign.yaml: must mend [nothing-signed] no revision is signed yet")
    assert "out/bulletin/index.html\n" in written.out
    assert published.out.endswith("Revision 0 counts as published.\n")
    assert (desk.folder / "out/bulletin/de.html").read_text("utf-8").count("<html") == 1


def test_a_published_revision_keeps_its_number(desk: Desk) -> None:
    desk.imported()
    desk.signed()
    desk.type("bulletin", "--published")
    text = (desk.folder / "campaign.yaml").read_text("utf-8")
    desk.write("campaign.yaml", text.replace("Then you cannot steer.", "Then nobody can steer.", 1))
    said = desk.signed()

    assert said.status == 1
    assert "[revision-number-used]" in said.out


def test_a_sale_is_stopped_place_by_place(desk: Desk) -> None:
    desk.type("stop-sale", "web shop", "--holds", "3", "--by", "Jo Harbour")
    places = desk.type("stop-sale", "--format", "json").json

    assert places[0] == {"place": "web shop", "holds": 3, "by": "Jo Harbour"}
    assert {place["holds"] for place in places[1:]} == {None}
    assert len(places) == 5


def test_the_proofs_are_pages_to_be_read(desk: Desk) -> None:
    desk.imported()
    said = desk.type("proofs")
    listed = desk.type("proofs", "--format", "json").json

    assert said.status == 0
    assert "stop-affected-unknown-GB-en: 1 owner, not signed\n" in said.out
    assert said.out.endswith("To be read in out/proofs/index.html; then notices sign --by NAME --all\n")
    assert (desk.folder / "out/proofs/index.html").is_file()
    assert {item["name"] for item in listed["variants"]} == {
        "stop-affected-unknown-GB-en",
        "stop-affected-unknown-EU-de",
    }
    assert {item["may_go"] for item in listed["variants"]} == {True}


def test_a_case_tells_word_for_word_what_its_owner_was_told(desk: Desk) -> None:
    desk.imported()
    desk.signed()
    desk.type("send", "--to-folder", "mails", "--yes")
    briefly = desk.type("case", "QM-2534-B0172").out
    said = desk.type("case", "QM-2534-B0172", "--words").out
    words = desk.type("case", "QM-2534-B0172", "--words", "--format", "json").json[0]["notices"][0]["words"]
    mail = message_from_bytes(
        next(
            file for file in (desk.folder / "mails").glob("*.eml") if b"anna@" in file.read_bytes()
        ).read_bytes(),
        policy=default,
    )
    body = mail.get_body(("plain",))
    assert body is not None

    assert words.split() == body.get_content().split()
    assert "      | Stop riding your Drayling 2 now. Carry nobody in it.\n" in said
    assert "Stop riding" not in briefly
    assert briefly.endswith(" stop for stop: handed over\n")


def test_each_step_names_the_next(desk: Desk) -> None:
    checked = desk.type("check")
    nobody = desk.type("proofs")
    desk.imported()
    read = desk.type("proofs")

    assert checked.out.splitlines()[-1] == "Next: notices proofs"
    assert nobody.out.splitlines()[-1] == "Owners come from lists: notices owners import FILE"
    assert read.out.splitlines()[-1].endswith("then notices sign --by NAME --all")


def test_what_nobody_has_read_waits_for_the_signers_word_and_goes_with_it_in_one_command(desk: Desk) -> None:
    desk.imported()
    told = desk.type("proofs").out.splitlines()
    without = desk.type("sign", "--by", "Mara", "--all", "--yes")
    asked = desk.type("sign", "--by", "Mara", "--all", "--unread-too", answer="y\n")

    assert any(line.endswith("not signed; read by nobody") for line in told)
    assert "What nobody has read goes out at your word alone: sign it with --unread-too." in told
    assert without.status == 1
    assert "To give it: notices sign --by NAME --all --unread-too\n" in without.out
    assert "waits for your word, for nobody has read it: stop-affected-unknown-EU-de\n" in without.out
    assert asked.status == 0
    assert "Sign as Mara and give your word for what nobody has read? [y/N] " in asked.out


def test_where_only_unread_variants_were_to_be_signed_nothing_is_said_of_sending(desk: Desk) -> None:
    desk.imported()
    said = desk.type("sign", "--by", "Mara", "stop-affected-unknown-EU-de", "--yes")

    assert said.status == 1
    assert "notices send" not in said.out
