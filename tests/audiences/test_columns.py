"""Columns are guessed, remembered and read by; a row with one bad cell stays listed."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from audiences.columns import MEANINGS, Columns, from_toml, guess, read_rows, to_toml
from audiences.findings import Finding, Severity
from audiences.headings import meaning_of, part_of
from audiences.owners import ContactPoint, ListedRow, Place
from audiences.tables import read_csv

HOSTILE = st.text(alphabet=st.characters(exclude_categories=()), max_size=40)


def _read(text: str, country: str | None = "DE") -> tuple[tuple[ListedRow, ...], tuple[Finding, ...]]:
    table = read_csv(text.encode(), "lists/shop.csv")
    assert table.findings == ()
    return read_rows(table, guess(table.headings), default_country=country)


def _faults(findings: tuple[Finding, ...]) -> list[tuple[str, int | None, str]]:
    return [(finding.code, finding.line, finding.path) for finding in findings]


def _email(value: str) -> ContactPoint:
    return ContactPoint(channel="email", value=value, value_key=value)


def _phone(value: str) -> ContactPoint:
    return ContactPoint(channel="phone", value=value, value_key=value)


def test_an_english_list_is_guessed() -> None:
    columns = guess(
        [
            "Order No.",
            "Frame number",
            "Name",
            "E-mail",
            "Phone",
            "Street",
            "Town",
            "Postcode",
            "Country",
            "Note",
        ]
    )

    assert columns == Columns(
        by_meaning={
            "sale": ("Order No.",),
            "code": ("Frame number",),
            "name": ("Name",),
            "email": ("E-mail",),
            "phone": ("Phone",),
            "address": ("Street", "Postcode", "Town"),
            "country": ("Country",),
        },
        ignored=("Note",),
    )


GERMAN = """\
Auftragsnr.;Rahmennummer (am Steuerrohr);Kd.-Nr.;Firma;Nachname;Vorname;E-Mail-Adresse;Telefon;Handy;PLZ;Ort;\
Straße;Hausnr.;Land;Sprache;Kaufdatum;Verkaufsland;Bemerkung
A-1;QM-2534-B0172;77;;Kern;Änne;aenne@faß.de;030 23125172;;10115;Berlin;Lindenstr.;4a;D;Deutsch;19.08.2025;\
Irland;ruft an
A-2;;78;Leihrad GmbH;Kern;Ali;;030 23125173;030 23125174;10115;Berlin;Am Hof 1;;Deutschland;;1.9.2025;DE;
"""


def test_a_german_list_with_its_own_headings_is_read() -> None:
    rows, findings = _read(GERMAN, None)

    assert findings == ()
    assert rows == (
        ListedRow(
            place=Place(file="lists/shop.csv", row=2),
            sale="A-1",
            code="QM-2534-B0172",
            name="Änne Kern",
            customer="77",
            email=_email("aenne@xn--fa-hia.de"),
            phone=_phone("+493023125172"),
            address=("Lindenstr. 4a", "10115 Berlin"),
            country="DE",
            language="de",
            sold_on=date(2025, 8, 19),
            sold_in="IE",
            raw=tuple(GERMAN.splitlines()[1].split(";")),
        ),
        ListedRow(
            place=Place(file="lists/shop.csv", row=3),
            sale="A-2",
            name="Leihrad GmbH",
            kind="firm",
            customer="78",
            phone=_phone("+493023125174"),
            address=("Am Hof 1", "10115 Berlin"),
            country="DE",
            sold_on=date(2025, 9, 1),
            sold_in="DE",
            raw=tuple(GERMAN.splitlines()[2].split(";")),
        ),
    )


ARABIC = """\
رقم الفاتورة,رقم الإطار,الاسم الكامل,البريد الالكتروني,رقم الجوّال,العنوان,المدينة,الدولة,اللغة,تاريخ الشراء
\u0661\u0662,QM-\u0662\u0665\u0663\u0664-B\u0660\u0661\u0667\u0662,\u202bليلى حداد\u202c,layla@post.example,\
\u0660\u0663\u0660 \u0662\u0663\u0661\u0662\u0665\u0661\u0667\u0662,شارع الميناء ٢,برلين,ألمانيا,العربية,\
\u0661\u0669.\u0660\u0668.\u0662\u0660\u0662\u0665
"""


def test_an_arabic_list_with_its_own_headings_is_read() -> None:
    rows, findings = _read(ARABIC, None)

    assert findings == ()
    assert rows == (
        ListedRow(
            place=Place(file="lists/shop.csv", row=2),
            sale="١٢",
            code="QM-\u0662\u0665\u0663\u0664-B\u0660\u0661\u0667\u0662",
            name="ليلى حداد",
            email=_email("layla@post.example"),
            phone=_phone("+493023125172"),
            address=("شارع الميناء ٢", "برلين"),
            country="DE",
            language="ar",
            sold_on=date(2025, 8, 19),
            raw=tuple(ARABIC.splitlines()[1].split(",")),
        ),
    )


@pytest.mark.parametrize(
    ("headings", "name"),
    [
        (["Name", "Vorname"], ("Vorname", "Name")),
        (["Surname", "First name", "Customer"], ("First name", "Surname")),
        (["Customer", "First name"], ("Customer", "First name")),
        (["Company", "Contact name"], ("Company", "Contact name")),
        (["Owner", "Buyer"], ("Owner",)),
    ],
)
def test_the_columns_of_a_name_are_put_in_the_order_it_is_said_in(
    headings: list[str], name: tuple[str, ...]
) -> None:
    assert guess(headings).by_meaning["name"] == name


def test_one_column_is_taken_where_one_is_wanted_and_the_rest_are_shown_as_ignored() -> None:
    columns = guess(["Invoice", "Order number", "Date", "Sold on"])

    assert columns == Columns(
        by_meaning={"sale": ("Order number",), "sold_on": ("Sold on",)}, ignored=("Invoice", "Date")
    )


def test_a_heading_nobody_knows_has_no_meaning() -> None:
    assert (meaning_of("Colour"), part_of("Colour"), part_of("PLZ")) == (None, "", "postcode")


BAD = """\
code,name,email,phone,street,town,country,language,kind,sold on,sold in,role
A1,Anna,anna@@post.example,12,Quay Street 2,Port Aldmere,Narnia,Elvish,alien,2025-02-30,Nowhere,cousin
"""


def test_a_row_whose_cells_are_all_bad_is_listed_with_a_finding_for_each() -> None:
    rows, findings = _read(BAD)

    assert _faults(findings) == [
        ("country-unknown", 2, "country"),
        ("kind-unknown", 2, "kind"),
        ("email-unusable", 2, "email"),
        ("phone-unusable", 2, "phone"),
        ("address-unusable", 2, "street"),
        ("language-unknown", 2, "language"),
        ("day-unreadable", 2, "sold on"),
        ("country-unknown", 2, "sold in"),
        ("role-unknown", 2, "role"),
    ]
    assert {finding.severity for finding in findings} == {Severity.CONSIDER}
    assert rows == (
        ListedRow(
            place=Place(file="lists/shop.csv", row=2),
            code="A1",
            name="Anna",
            email=ContactPoint(
                channel="email",
                value="anna@@post.example",
                value_key="anna@@post.example",
                fault="several-addresses",
            ),
            phone=ContactPoint(channel="phone", value="12", value_key="12", fault="phone-country-unknown"),
            address=("Quay Street 2", "Port Aldmere"),
            raw=tuple(BAD.splitlines()[1].split(",")),
        ),
    )


def test_no_finding_quotes_what_an_owner_s_cell_holds() -> None:
    _, findings = _read(BAD)

    texts = " ".join(map(str, findings))
    assert not [cell for cell in ("Anna", "anna", "Quay", "Narnia", "Elvish", "alien") if cell in texts]


def test_a_country_that_the_list_does_not_give_is_the_default() -> None:
    rows, findings = _read("code,country,phone\nA1,,030 23125172\nA2,GB,020 7946 0018\n")

    assert findings == ()
    assert [(row.country, row.phone and row.phone.value) for row in rows] == [
        ("DE", "+493023125172"),
        ("GB", "+442079460018"),
    ]


def test_the_first_usable_of_several_addresses_is_taken() -> None:
    rows, findings = _read("code,email,mail\nA1,wrong,anna@post.example\nA2,bad,worse\n")

    assert [row.email and row.email.value for row in rows] == ["anna@post.example", "bad"]
    assert _faults(findings) == [("email-unusable", 3, "email")]


def test_a_row_that_says_nothing_in_the_columns_that_are_read_is_left_out() -> None:
    rows, findings = _read("code,name,note\n,,call back\nA1,Anna,\n")

    assert [row.place.row for row in rows] == [3]
    assert _faults(findings) == [("row-says-nothing", 2, "")]
    assert findings[0].severity is Severity.MUST_MEND


def test_a_name_on_two_lines_becomes_one_and_a_name_without_end_is_cut() -> None:
    rows, findings = _read(f'code,name\nA1,"Anna\nBcc: all"\nA2,{"x" * 201}\n')

    assert [row.name for row in rows] == ["Anna Bcc: all", "x" * 200]
    assert _faults(findings) == [("name-too-long", 4, "name")]


def test_an_address_cell_with_lines_keeps_them_and_the_lead_s_own_headings_work() -> None:
    table = read_csv(b'Nr,Wer,Wohin,Stadt\nA1,Anna,"Hof 1\nHaus B",Berlin\n', "lists/shop.csv")
    columns = Columns(by_meaning={"code": ("Nr",), "name": ("Wer",), "address": ("Wohin", "Stadt")})

    rows, findings = read_rows(table, columns, default_country="DE")

    assert findings == ()
    assert [(row.name, row.address) for row in rows] == [("Anna", ("Hof 1", "Haus B", "Berlin"))]


def test_a_remembered_column_that_the_list_lacks_is_found_at_its_headings() -> None:
    table = read_csv(b"\ncode\nA1\n", "lists/shop.csv")
    columns = Columns(by_meaning={"code": ("code",), "name": ("Name",), "address": ("Street",)})

    rows, findings = read_rows(table, columns, default_country=None)

    assert _faults(findings) == [("column-missing", 2, "Name"), ("column-missing", 2, "Street")]
    assert [row.code for row in rows] == ["A1"]


def test_columns_are_written_as_toml_that_a_person_can_mend() -> None:
    columns = guess(["Rahmennummer", "PLZ", "Straße", 'Zoll "26"'])

    assert to_toml(columns) == (
        "# Which headings of the list mean what. Several are read in this order.\n"
        'code = ["Rahmennummer"]\n'
        'address = ["Straße", "PLZ"]\n'
        'ignored = ["Zoll \\"26\\""]\n'
    )


def test_a_heading_may_stand_without_brackets_and_an_empty_list_means_none() -> None:
    assert from_toml('code = "Nr"\nname = []\n', "lists/shop.columns.toml") == (
        Columns(by_meaning={"code": ("Nr",)}),
        (),
    )


@pytest.mark.parametrize(
    ("text", "faults"),
    [
        ('code = ["Nr"]\nname = [\n', [("columns-not-toml", None, "")]),
        ('code = ["Nr"]\nname == "x"\n', [("columns-not-toml", 2, "")]),
        ('code = ["Nr"]\n\ncolour = ["x"]\n', [("columns-meaning-unknown", 3, "colour")]),
        ("[code]\nx = 1\n", [("columns-wrong-form", 1, "code")]),
        (
            'name = ["a", 1]\ncode = 7\n',
            [("columns-wrong-form", 1, "name"), ("columns-wrong-form", 2, "code")],
        ),
        ('name = "x"\ncode = ["x"]\n', [("columns-heading-twice", 2, "code")]),
        ('"na\\u006de" = 1\n', [("columns-wrong-form", None, "name")]),
        ("code = " + "[" * 5_000, [("columns-not-toml", None, "")]),
        ('code = "Nr"\nencoding = "morse"\n', [("columns-form-unknown", 2, "encoding")]),
        (
            'separator = 1\nsheet = ["x"]\n',
            [("columns-form-unknown", 1, "separator"), ("columns-form-unknown", 2, "sheet")],
        ),
    ],
)
def test_what_is_wrong_with_remembered_columns_is_found_with_its_line(
    text: str, faults: list[tuple[str, int | None, str]]
) -> None:
    columns, findings = from_toml(text, "lists/shop.columns.toml")

    assert columns is None
    assert _faults(findings) == faults


def test_how_the_list_is_written_is_remembered_and_comes_back() -> None:
    table = read_csv("Nr;Größe\nA1;L\n".encode("cp1252"), "lists/shop.csv")
    columns = Columns(by_meaning={"code": ("Nr",)}, form=table.form)

    assert to_toml(columns) == (
        "# Which headings of the list mean what. Several are read in this order.\n"
        'code = ["Nr"]\n'
        "ignored = []\n"
        "# How the list is written. What a newer file says of itself goes first.\n"
        'encoding = "windows-1252"\n'
        'separator = "semicolon"\n'
    )
    assert from_toml(to_toml(columns), "x.toml") == (columns, ())


@pytest.mark.property
@given(
    st.dictionaries(
        st.sampled_from(MEANINGS),
        st.lists(st.text(alphabet=st.characters(exclude_categories=["Cs"])), min_size=1, unique=True).map(
            tuple
        ),
        max_size=1,
    )
)
def test_columns_come_back_from_toml_as_they_went(by_meaning: dict[str, tuple[str, ...]]) -> None:
    columns = Columns(by_meaning=by_meaning)

    assert from_toml(to_toml(columns), "x.toml") == (columns, ())


@pytest.mark.property
@given(st.lists(HOSTILE, unique=True), HOSTILE)
def test_no_heading_breaks_the_guess_and_none_is_lost(headings: list[str], text: str) -> None:
    columns = guess(headings)
    from_toml(text, "x.toml")

    read = [heading for chosen in columns.by_meaning.values() for heading in chosen]
    assert sorted([*read, *columns.ignored]) == sorted(headings)


CELLS = st.text(
    alphabet=st.characters(exclude_categories=["Cs"], exclude_characters='\0\r\n",;\t'), max_size=30
)


@pytest.mark.property
@given(st.lists(st.lists(CELLS, min_size=11, max_size=11), max_size=8))
def test_every_row_is_listed_or_found_and_hostile_cells_stay_one_line(rows: list[list[str]]) -> None:
    text = BAD.splitlines()[0] + "\n" + "".join(",".join(row) + "\n" for row in rows)
    table = read_csv(text.encode(), "lists/shop.csv")

    listed, findings = read_rows(table, guess(table.headings), default_country="DE")

    left_out = [finding for finding in findings if finding.code == "row-says-nothing"]
    assert len(listed) + len(left_out) == len(table.rows)
    assert all("\n" not in row.name and "\u202e" not in row.name + (row.code or "") for row in listed)


@pytest.mark.parametrize(
    ("cell", "role"),
    [
        ("Keeper", "keeper"),
        ("Fahrerin", "rider"),
        ("Leasing firm", "lessor"),
        ("المشتري", "buyer"),
        ("Erziehungsberechtigte", "guardian"),
        ("helper", "helper"),
        ("Händler", "shop"),
        ("", None),
    ],
)
def test_a_row_says_who_sold_the_unit_and_which_part_its_owner_has(cell: str, role: str | None) -> None:
    (row,), findings = _read(f"code,email,Händler,Rolle\nA1,anna@post.example,Kern & Sohn,{cell}\n")

    assert (row.shop, row.role, findings) == ("Kern & Sohn", role, ())
