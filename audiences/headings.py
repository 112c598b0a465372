"""What the headings of sales lists mean, in English, German and Arabic (common practice, no source)."""

import re
import unicodedata
from collections.abc import Mapping
from types import MappingProxyType

MEANINGS = (
    "sale",
    "code",
    "name",
    "kind",
    "customer",
    "email",
    "phone",
    "address",
    "country",
    "language",
    "sold_on",
    "sold_in",
    "shop",
    "role",
)
"""What a column can mean, in the order of a remembered file."""

# (meaning, part) -> headings. The order of the lines is the order of preference, and of postal lines.
_WORDS: tuple[tuple[str, str, str], ...] = (
    (
        "sale",
        "",
        "sale, sale number, sale no, sale id, Verkaufsnummer, Verkaufsnr, Verkauf, رقم البيع, رقم عملية البيع",
    ),
    (
        "sale",
        "",
        "order, order number, order no, order id, Auftrag, Auftragsnummer, Auftragsnr, رقم الطلب, الطلب",
    ),
    ("sale", "", "Bestellung, Bestellnummer, Bestellnr, Vorgang, Vorgangsnummer, رقم الطلبية"),
    ("sale", "", "invoice, invoice number, invoice no, receipt number, receipt no, رقم الفاتورة, الفاتورة"),
    ("sale", "", "Rechnung, Rechnungsnummer, Rechnungsnr, Belegnummer, Belegnr, Kassenbon"),
    (
        "code",
        "",
        "code, unit code, marking, frame number, frame no, frame, frame code, رقم الإطار, رمز الدراجة",
    ),
    (
        "code",
        "",
        "Rahmennummer, Rahmennr, Rahmen, Rahmencode, Kennzeichnung, Gerätenummer, Gerätenr, Gerätecode",
    ),
    (
        "code",
        "",
        "serial number, serial no, serial, serial code, Seriennummer, Seriennr, الرقم التسلسلي, رقم التسلسل",
    ),
    (
        "code",
        "",
        "chassis number, chassis no, Fahrgestellnummer, Fahrgestellnr, رقم الهيكل, رقم الشاسيه, الرمز, الكود",
    ),
    ("name", "company", "company, company name, firm, business, business name, organisation, organization"),
    ("name", "company", "Firma, Firmenname, Unternehmen, Betrieb, الشركة, اسم الشركة, المؤسسة"),
    ("name", "full", "full name, customer name, owner, owner name, buyer, buyer name, keeper, contact name"),
    (
        "name",
        "full",
        "Kundenname, Käufer, Besitzer, Halter, Eigentümer, vollständiger Name, Vor- und Nachname",
    ),
    ("name", "full", "الاسم الكامل, اسم العميل, اسم الزبون, المالك, اسم المالك, المشتري, اسم المشتري"),
    ("name", "given", "first name, given name, forename, Vorname, Rufname, الاسم الأول"),
    (
        "name",
        "family",
        "last name, family name, surname, Nachname, Familienname, Zuname, اسم العائلة, اللقب, الكنية",
    ),
    ("name", "family", "name, الاسم"),
    ("name", "full", "customer, Kunde, Kundin, العميل, الزبون"),
    (
        "kind",
        "",
        "kind, owner kind, customer type, customer kind, Kundenart, Kundentyp, نوع العميل, نوع الزبون",
    ),
    (
        "customer",
        "",
        "customer number, customer no, customer id, client number, account number, رقم العميل, رقم الزبون",
    ),
    ("customer", "", "Kundennummer, Kundennr, Kunden-ID, Kd.-Nr., Debitor, Debitorennummer"),
    (
        "email",
        "",
        "email, e-mail, email address, mail, mail address, البريد الإلكتروني, بريد إلكتروني, الإيميل",
    ),
    ("email", "", "E-Mail-Adresse, Mailadresse, عنوان البريد الإلكتروني"),
    (
        "phone",
        "",
        "mobile, mobile phone, mobile number, cell, cell phone, الجوال, رقم الجوال, الهاتف المحمول, المحمول",
    ),
    ("phone", "", "Mobil, Mobiltelefon, Mobilnummer, Handy, Handynummer, رقم الهاتف المحمول, الموبايل"),
    (
        "phone",
        "",
        "phone, phone number, phone no, telephone, telephone number, tel, tel no, هاتف, الهاتف, رقم الهاتف",
    ),
    ("phone", "", "Telefon, Telefonnummer, Telefonnr, Tel.-Nr., Festnetz, Rufnummer"),
    (
        "address",
        "extra",
        "address line 2, address 2, care of, c/o, Adresszusatz, Adresszeile 2, تكملة العنوان",
    ),
    (
        "address",
        "street",
        "street, street address, address, address line 1, address 1, postal address, الشارع, العنوان",
    ),
    (
        "address",
        "street",
        "Straße, Strasse, Str., Straße und Hausnummer, Straße Nr., Adresse, Anschrift, Postanschrift",
    ),
    ("address", "street", "اسم الشارع, العنوان البريدي"),
    (
        "address",
        "number",
        "house number, house no, number, Hausnummer, Hausnr, Haus-Nr., رقم المنزل, رقم المبنى",
    ),
    (
        "address",
        "postcode",
        "postcode, post code, postal code, zip, zip code, Postleitzahl, PLZ, الرمز البريدي",
    ),
    (
        "address",
        "town",
        "town, city, place, Ort, Stadt, Wohnort, PLZ Ort, PLZ und Ort, المدينة, مدينة, البلدة",
    ),
    ("address", "region", "county, state, province, region, Bundesland, المحافظة, المنطقة, الولاية"),
    (
        "country",
        "",
        "country, country code, Land, Länderkennzeichen, Ländercode, Landescode, Staat, البلد, الدولة, بلد",
    ),
    (
        "language",
        "",
        "language, preferred language, Sprache, Korrespondenzsprache, Sprachcode, اللغة, لغة, لغة المراسلة",
    ),
    ("sold_on", "", "sold on, date of sale, sale date, day of sale, sales date, تاريخ البيع, تاريخ المبيع"),
    ("sold_on", "", "verkauft am, Verkaufsdatum, Verkaufstag, Kaufdatum, gekauft am, Tag des Verkaufs"),
    ("sold_on", "", "purchase date, date of purchase, bought on, تاريخ الشراء"),
    (
        "sold_on",
        "",
        "invoice date, order date, date, Rechnungsdatum, Auftragsdatum, Bestelldatum, Datum, التاريخ",
    ),
    ("sold_on", "", "تاريخ الفاتورة, تاريخ الطلب"),
    (
        "sold_in",
        "",
        "sold in, country of sale, sale country, sales country, market, بلد البيع, دولة البيع, السوق",
    ),
    ("sold_in", "", "verkauft in, Verkaufsland, Land des Verkaufs, Markt, Absatzland"),
    ("shop", "", "shop, shop name, store, branch, dealer, sold by, retailer, المتجر, المحل, الفرع, البائع"),
    (
        "shop",
        "",
        "Händler, Verkäufer, Filiale, Geschäft, Laden, Verkaufsstelle, verkauft durch, verkauft von",
    ),
    ("role", "", "role, part, part in it, Rolle, Beteiligung, الدور, الصفة"),
)


def plain(text: str) -> str:
    """Return *text* for comparison: letters and digits only, case, accents and Arabic spelling variants folded."""
    spread = unicodedata.normalize("NFKD", text.casefold())
    letters = "".join(sign for sign in spread if sign.isalnum())
    return letters.translate(_ARABIC_VARIANTS)


# tatweel is ornament; alef maksura, teh marbuta and alef wasla are written as yeh, heh and alef by many
_ARABIC_VARIANTS = {0x0640: None, 0x0649: 0x064A, 0x0629: 0x0647, 0x0671: 0x0627}

_TABLE: Mapping[str, tuple[str, str, int]] = MappingProxyType(
    {
        plain(word): (meaning, part, rank)
        for rank, (meaning, part, words) in enumerate(_WORDS)
        for word in words.split(", ")
    }
)


def meaning_of(heading: str) -> tuple[str, str, int] | None:
    """Return (meaning, part, rank) of a heading, None where it is not known; brackets in it do not count."""
    return _TABLE.get(plain(heading)) or _TABLE.get(plain(re.sub(r"\([^()]*\)|\[[^\[\]]*\]", "", heading)))


def part_of(heading: str) -> str:
    """Return which part of a name or an address a heading stands for, "" where it does not say."""
    found = meaning_of(heading)
    return found[1] if found else ""
