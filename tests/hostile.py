"""Texts that break programs: of our own making, for every field that takes a text from outside.

Each group names what it is meant to break. A test takes `HOSTILE_TEXTS` whole, or draws `hostile_texts()`.
"""

from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy

NOTHING = (
    "",
    " ",
    "\u00a0",
    "\u200b",
    "\u3000",
    "\ufeff",
    "-",
    "0",
    "null",
    "None",
    "nan",
    "undefined",
    "#REF!",
)

LINES = (
    "Anna\nBcc: all@mail.example",
    "Anna\r\nSubject: other\r\n\r\nbody",
    "Anna\rKern",
    "Anna\u2028Kern\u2029",
    "Anna\x0b\x0cKern",
    "Anna\x85Kern",
    "Anna\n\n\n.\n",  # the line that ends a message (RFC 5321, 4.5.2)
    "%0d%0aBcc: all@mail.example",
)

CONTROLS = (
    "An\x00na",
    "\x1b[2J\x1b]0;gone\x07Anna",  # clears a terminal and names its window
    "An\x08\x08\x7fna",
    "\x9b31mAnna",
    "Anna\ufffe\uffff",
    "\U000e0041\U000e0042Anna",  # letters nobody sees
)

SURROGATES = ("An\ud800na", "\udfffAnna", "\ud83dAnna", "Anna\udce4")

BIDI = (
    "\u202eannA",
    "Anna \u202e)elbissop(",
    "\u2066Anna",
    "Anna\u2069\u2069\u2069",
    "\u200fAnna\u200e",
    "سمير \u202dAnna",
)

MARKUP = (
    "<b>Anna</b>",
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(1)>",
    '"><svg onload=alert(1)>',
    "' onmouseover='alert(1)",
    "</title></head><body>gone",
    "<!-- Anna",
    "]]><![CDATA[",
    "&lt;Anna&gt; &amp; &#0; &#x202e;",
    "javascript:alert(1)",
    "</textarea></td></table>",
    "<mj-text>Anna</mj-text><mj-raw>",
    "<mj-include path='/etc/passwd'/>",
    "<style>*{display:none}</style>",
)

TEMPLATES = (
    "{{ 7 * 7 }}",
    "{% for x in () %}",
    "{# gone #}",
    "{{ ''.__class__ }}",
    "}}{{",
    "%}{%",
    "{0} {owner} {owner.__class__}",
    "%(owner)s",
    "%(link)s",
    "%(units)s %s %d %n %",
    "100 % safe",
    "${7*7} #{7*7} $owner",
    "[[owner]] <%= 7 %> @{owner}",
    "\x02owner\x03",
    "\ue000owner\ue001",
)

FORMULAS = (
    "=1+1",
    '=HYPERLINK("https://mail.example","Anna")',
    "+49 30 1",
    "-2+3",
    "@SUM(A1:A9)",
    "\t=1+1",
    "'=1+1",
    "＝1+1",  # noqa: RUF001 - the full-width sign starts a formula too
)

SEPARATORS = (
    'Anna "A" Kern',
    '"',
    '""',
    "Kern, Anna",
    "Kern; Anna",
    "Kern\tAnna",
    "Anna's",
    "\\",
    "a\\nb",
    "|",
)

PATHS = ("../../register.db", "/etc/passwd", "C:\\windows", "file:///etc/passwd", "CON", "a" * 300 + ".csv")

QUERIES = ("'; DROP TABLE owners; --", "' OR 1=1 --", "\\'; --", "Robert'); --")

SHAPES = (
    "x" * 5_000,
    "ﷺ" * 500,  # grows to eighteen signs each when folded
    "e" + "\u0301" * 500,
    "👩\u200d👩\u200d👧\u200d👦",
    "ﬀ ﬃ ß İ ı Ǆ",  # noqa: RUF001 - they change their length with their case
    "ＡＮＮＡ",  # noqa: RUF001 - full width
    "А" + "nna",  # noqa: RUF001 - the first letter is Cyrillic
    "نور\u200cس",
    "١٢٣٤",
    "٣١.٠٢.٢٠٢٥",
    "1" * 400,
    "9999-99-99",
    "1e999",
    "-0",
)

HOSTILE_TEXTS: tuple[str, ...] = (
    *NOTHING,
    *LINES,
    *CONTROLS,
    *SURROGATES,
    *BIDI,
    *MARKUP,
    *TEMPLATES,
    *FORMULAS,
    *SEPARATORS,
    *PATHS,
    *QUERIES,
    *SHAPES,
)
"""Every text above; some hold lone surrogates, which no UTF-8 file can."""

HOSTILE_WRITABLE: tuple[str, ...] = tuple(text for text in HOSTILE_TEXTS if text not in SURROGATES)
"""Those that a file in UTF-8 can hold."""

HOSTILE_NAME = (
    'Zoë <script>alert(1)</script> {{ 7*7 }} {% raw %} %(link)s 100 % \u202e& "O\'Neil" =1+1'
    "\r\nBcc: all@mail.example"
)
"""One name with everything that travels: it must arrive whole, escaped, on one line, and do nothing."""


def hostile_texts(*, writable: bool = False) -> SearchStrategy[str]:
    """Draw a text of the table, one put together of two of them, or any text at all, surrogates included."""
    table = st.sampled_from(HOSTILE_WRITABLE if writable else HOSTILE_TEXTS)
    categories = st.characters(exclude_categories=["Cs"] if writable else [])
    return st.one_of(table, st.tuples(table, table).map("".join), st.text(categories, max_size=40))
