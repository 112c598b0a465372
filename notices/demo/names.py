"""Invented owners' names, streets, towns and mail domains by country: many scripts, and the awkward ones."""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True, slots=True)
class Land:
    """What an owner of a country is made of; *post* is a postcode with ``#`` for a digit and ``?`` for a letter."""

    given: tuple[str, ...]
    family: tuple[str, ...]
    streets: tuple[str, ...]
    towns: tuple[str, ...]
    post: str
    language: str


def _of(given: str, family: str, streets: str, towns: str, post: str, language: str) -> Land:
    def words(text: str) -> tuple[str, ...]:
        return tuple(word.strip() for word in text.split(","))

    return Land(
        given=words(given),
        family=words(family),
        streets=words(streets),
        towns=words(towns),
        post=post,
        language=language,
    )


LANDS: Mapping[str, Land] = {
    "IE": _of(
        "Aoife, Cormac, Niamh, Oisín, Gráinne, Tadhg, Róisín, Fergal, Sorcha, Eimear, Donnacha, Bláthnaid, Killian,"
        " Muireann, Senan, Órla",
        "Hanrattigan, Ó Dúlaing, Kilbrack, McTorley, Brannelly, Cassinor, Ní Fhearna, Duggavan, Shaughlin, Tiernabrook,"
        " Mac Oscair, Wexcombe, Feerick-Hale, Lanigault, Corravan",
        "Quay Street, Lantern Lane, Saltpan Road, Weir View, Chandlers Row, Bell Hill, The Ropewalk",
        "Port Aldmere, Kilbrannagh, Ballintarn, Carrowdune, Inishvale, Dunmarrow",
        "X## ?#?#",
        "en",
    ),
    "GB": _of(
        "Harriet, Owen, Priya, Callum, Imogen, Rhys, Zainab, Duncan, Beatrix, Kwame, Morwenna, Alasdair, Tamsin, Idris",
        "Ashwold, Penhallick, Brackenridge-Shaw, Okonjwe, Fairweald, Llanfarrow, Tolquhart, Greystead, Harbottlewick,"
        " Dunnockson, Mistrivarma, Sedgemere, Cawthornley, Wrenfield",
        "Mill Bank, Orchard Rise, Station Approach, Kiln Lane, Beacon Street, The Maltings",
        "Tornbeck, Little Ashwold, Wexhampton, Strathmellick, Pontyfarrow, Saltmere",
        "?? ##?",
        "en",
    ),
    "DE": _of(
        "Jörg, Anke, Sönke, Mareike, Götz, Käthe, Thilo, Wiebke, Ruprecht, Hiltrud, Yasemin, Cem, Ottilie, Björn, Änne",
        "Grünewaldt, Hohenstegen, Möhrenschlager, Süßkorn, Achterdieck, Wüstemann-Köhl, Tränkle, Brüggenkamp,"
        " Öhmichen, Lindhorster, Schönaich, Kornweg, Petersohn-Groß, Yildizhan, Vogelpohl",
        "Lindenstraße, Am Alten Deich, Gerberweg, Kranichufer, Mühlengasse, Kastanienallee",
        "Ferngard, Neuenlinde, Oberweiden, Strandhusen, Kührup, Bad Tannau",
        "#####",
        "de",
    ),
    "FR": _of(
        "Hélène, Théo, Anaïs, Benoît, Cécile, Loïc, Maëlle, Étienne, Noëmie, Fabrice, Aurélie, Gaël",
        "Montferrière, Vaucresson-Lys, Delahaie, Bréchamp, Lecornouiller, Sainte-Aubade, Quérouille, Tisserin,"
        " Marchevoix, Fontbrune, L'Hermitois",
        "rue des Tilleuls, quai du Vieux Port, allée des Hêtres, chemin du Lavoir, rue de l'Écluse",
        "Saint-Orban, Villerive, Montclair-sur-Ance, Beaupuits, Castelnoir",
        "#####",
        "fr",
    ),
    "NL": _of(
        "Sjoerd, Femke, Joost, Maartje, Bram, Liesbeth, Tijmen, Roos, Wouter, Annelies",
        "van der Polderen, Hoogwater, de Wildeboer, Kanaalstra, ten Broekveld, Zonneveldt, van 't Sluisje, Dijkhuisen,"
        " Molenaarsma, Brinkhof",
        "Sluiskade, Molenpad, Lindengracht, Havenstraat, Wilgenlaan",
        "Oosterdam, Nieuwveen aan Zee, Waterhuizen, Koggenrijk",
        "#### ??",
        "nl",
    ),
    "BE": _of(
        "Lore, Wannes, Élodie, Jef, Griet, Baptiste, Marieke, Quinten",
        "Vandenheuvelaere, Claesmans, Dumortier-Lens, Peetersonck, De Wintervelde, Lambertois, Verhaegenaar",
        "Kerkdreef, rue du Canal, Brouwerslaan, Stationsplein",
        "Sint-Arnhout, Waterzele, Mont-Clairy, Hoevelaar",
        "####",
        "nl",
    ),
    "ES": _of(
        "Begoña, Íñigo, Nuria, Álvaro, Maite, Joaquín, Montserrat, Rubén",
        "Ibarrondo Peña, Carrascalejo, Núñez de Valdelagua, Fontanaluz, Echevarrena, Miravalles, Zubiaguirre",
        "calle del Olivo, plaza del Mercado, camino del Molino, avenida del Puerto",
        "Villasol del Río, Puertonuevo, Castromayor, Valdehermosa",
        "#####",
        "es",
    ),
    "IT": _of(
        "Niccolò, Giulia, Tommaso, Ludovica, Elia, Benedetta, Cosimo",
        "Dall'Acquabella, Montevecchi, Ferrovecchio, D'Angelantonio, Pratolungo, Castellazzi-Rè, Bonaventi",
        "via dei Tigli, piazza del Pozzo, via del Mulino, corso della Fiera",
        "Borgofiume, Castelverde Alto, Montelago, San Rocco al Colle",
        "#####",
        "it",
    ),
    "PL": _of(
        "Łucja, Zbigniew, Małgorzata, Wojciech, Żaneta, Bogusław",
        "Ścibor-Nowina, Wróblewiec, Krzemieński, Gąsiorska, Żółtowicz, Dąbrowiecka",
        "ulica Lipowa, ulica Młyńska, aleja Dębowa, ulica Portowa",
        "Nowe Brzegi, Starowieś Dolna, Jeziorzany Wielkie",
        "##-###",
        "pl",
    ),
    "US": _of(
        "Delia, Marcus, Xiomara, Wendell, Keiko",
        "Harlowe, Ortega-Winslow, Abernathson, Nakashima-Bell, Quillfeather",
        "Harbor Street, Alder Avenue, Prairie Road, Canal Street",
        "Fairhollow, Lake Merrin, New Aldmere, Port Winslow",
        "#####",
        "en",
    ),
}

# How many owners live where; Germany's two readers of Arabic are among these. They add up to 448: the firm is beside.
COUNTS: Mapping[str, int] = {
    "IE": 121,
    "GB": 96,
    "DE": 92,
    "FR": 42,
    "NL": 34,
    "BE": 20,
    "ES": 15,
    "IT": 13,
    "PL": 10,
    "US": 5,
}

# Given name, family name, country, language: names that lists, mails and pages get wrong.
AWKWARD: tuple[tuple[str, str, str, str], ...] = (
    ("Dervla", "O'Neil", "IE", "en"),
    ("Marie-Ange", "d'Aubigné", "FR", "fr"),
    ("Ana", "de la Vegaluz", "ES", "es"),
    ("Jean Luc", "Le Gofficou", "FR", "fr"),
    (
        "Maximiliane Theodora Rosalinde Friederike",
        "Freifrau von und zu Adlersheim-Krummenhagen-Obersteinbach",
        "DE",
        "de",
    ),
    ("Ng", "Ý", "GB", "en"),
    ("100%", "Holm", "GB", "en"),
    ("Li", "王小明", "GB", "en"),
    ("Олена", "Кравченюк", "DE", "uk"),
    ("Γιώργος", "Παπαδελφός", "DE", "el"),
    ("Sven", "Müßig & Söhne", "DE", "de"),
    ("Jan", 'Kowalec "Jaś"', "PL", "pl"),
    ("Tom", "Under_score<br>", "GB", "en"),
)
READERS_OF_ARABIC: tuple[tuple[str, str], ...] = (("أمينة", "الحدّادي"), ("كريم", "بن يوسف الرحباني"))

LEASING_FIRM = "Kelmora Fleet Leasing"
MAIL_DOMAINS = (
    "harbourmail.example",
    "kornpost.example",
    "lindenmail.example",
    "poste-villerive.example",
    "tidewater.example",
    "lastenräder.example",
)
REFUSING_DOMAIN = "strictpost.example"  # refuses every notice by policy
SCANNING_DOMAIN = "guardmail.example"  # fetches every link, and presses the first button it finds
