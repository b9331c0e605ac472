"""Fonts for every name a client may have, and plain text made safe to draw.

Fira Sans is the base. Where it has no character, the first font that has it is taken: Noto Sans
Arabic, Arimo (Hebrew and rare signs), Sarabun (Thai), then the CID fonts every PDF viewer knows
for Chinese, Japanese and Korean, which are named in the file and not embedded. A character that
none of them has is drawn as U+FFFD and told by `unprintable`, so that a screen can warn first.

Right-to-left order and the joining of Arabic letters are out of scope: such text is drawn letter
by letter in the order it is stored. `right_to_left` says so in time. Arabic and Hebrew have no
bold here.

ReportLab keeps fonts and parsers in module globals: whoever draws holds `LOCK`.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib.resources import files
from threading import RLock
from xml.sax.saxutils import escape

REGULAR = "Papers"
BOLD = "Papers-Bold"
LOCK = RLock()
REPLACEMENT = "\ufffd"

# A figure never parts from its unit, nor from its thousands, at the end of a line.
_FIGURE_GAP = re.compile(
    r"(?<=\d) (?=(?:[kmµ]?g|m?[lL]|[cmµ]?m|h|min|d|gal|dKH|IU)(?![^\W\d_])|[%°]|\d{3}(?!\d))"
)

_LINE_END = re.compile("\r\n|[\r\u2028\u2029]")

# The codec stands for the characters a CID font holds: none of them lists its own.
_CID = (("gbk", "STSong-Light"), ("big5", "MSung-Light"))
_JAPANESE = ("cp932", "HeiseiKakuGo-W5")
_KOREAN = ("cp949", "HYGothic-Medium")


@dataclass(frozen=True)
class Face:
    """A registered font and the characters it holds."""

    name: str
    characters: frozenset[str]


@cache
def faces(bold: bool = False) -> tuple[Face, ...]:
    """Return the embedded fonts in the order they are asked, registered with ReportLab."""
    weight = "Bold" if bold else "Regular"
    return (
        _face(BOLD if bold else REGULAR, "fontpkg_fira_sans", f"FiraSans-{weight}.ttf"),
        _face("Papers-Arabic", "fontpkg_noto_sans_arabic", "NotoSansArabic[wdth,wght].ttf"),
        _face("Papers-Hebrew", "fontpkg_arimo", "Arimo[wght].ttf"),
        _face(f"Papers-Thai-{weight}", "fontpkg_sarabun", f"Sarabun-{weight}.ttf"),
    )


@cache
def register() -> None:
    """Register all fonts, and take Helvetica away as the font every page begins with."""
    from reportlab import rl_config
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.cidfonts import UnicodeCIDFont

    with LOCK:
        faces(False)
        faces(True)
        for _, name in (*_CID, _JAPANESE, _KOREAN):
            pdfmetrics.registerFont(UnicodeCIDFont(name))
        pdfmetrics.registerFontFamily(REGULAR, REGULAR, BOLD, REGULAR, BOLD)
        rl_config.canvas_basefontname = REGULAR


def unprintable(text: str) -> tuple[str, ...]:
    """Return the characters of a text that no font has, each once, in order.

    Examples
    --------
    >>> [ascii(char) for char in unprintable("Zoë \\N{FISH}")]
    ["'\\\\U0001f41f'"]
    """
    lost = (char for char in _clean(text) if char != "\n" and _font_of(char, "", False) is None)
    return tuple(dict.fromkeys(lost))


def right_to_left(text: str) -> bool:
    """Say whether a text has letters that are read from right to left.

    Examples
    --------
    >>> right_to_left("Zoë"), right_to_left("\\N{HEBREW LETTER ALEF}")
    (False, True)
    """
    return any(unicodedata.bidirectional(char) in ("R", "AL") for char in text)


def is_plain(text: str, bold: bool = False) -> bool:
    """Say whether the base font alone can draw a text on one line, as it stands."""
    return text == _clean(text) and faces(bold)[0].characters.issuperset(text)


def runs(text: str, bold: bool = False) -> list[tuple[str, str]]:
    """Split a text into (font, characters); what no font has becomes U+FFFD."""
    clean = _clean(text)
    if faces(bold)[0].characters.issuperset(clean):
        return [(faces(bold)[0].name, clean)]
    found: list[tuple[str, str]] = []
    script = _script(clean)
    for char in clean:
        font = faces(bold)[0].name if char in "\n " else _font_of(char, script, bold)
        drawn = char if font else REPLACEMENT
        font = font or _replacement_font()
        if found and found[-1][0] == font:
            found[-1] = (font, found[-1][1] + drawn)
        else:
            found.append((font, drawn))
    return found


def markup(text: str, bold: bool = False) -> str:
    """Return a text as the XML of a ReportLab paragraph: escaped first, then given its fonts."""
    base = faces(bold)[0].name
    parts = (
        _xml(chars) if font == base else f'<font name="{font}">{_xml(chars)}</font>'
        for font, chars in runs(text, bold)
    )
    return "".join(parts)


def bound(text: str) -> str:
    """Bind figures to their units and thousands with no-break spaces.

    Examples
    --------
    >>> bound("18 000 L and 2 mg/L").split(" ")
    ['18\\xa0000\\xa0L', 'and', '2\\xa0mg/L']
    """
    return _FIGURE_GAP.sub("\u00a0", text)


def width(text: str, size: float, bold: bool = False) -> float:
    """Return the width of a text on one line, in points."""
    from reportlab.pdfbase.pdfmetrics import stringWidth

    return float(sum(stringWidth(chars, font, size) for font, chars in runs(text, bold)))


def _xml(text: str) -> str:
    return escape(bound(text)).replace("\n", "<br/>")


@cache
def _face(name: str, package: str, file: str) -> Face:
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    font = TTFont(name, str(files(package) / "files" / file))
    pdfmetrics.registerFont(font)
    return Face(name, frozenset(char for char in map(chr, font.face.charToGlyph) if _drawn(char)))


def _drawn(char: str) -> bool:
    # Fonts give glyphs to control characters too, which no paper may draw.
    return char.isprintable() or unicodedata.category(char) == "Zs"


def _clean(text: str) -> str:
    """Compose accents, make line ends one kind, drop signs that only steer layout."""
    if text.isascii() and text.isprintable():
        return text
    lined = _LINE_END.sub("\n", text).replace("\t", " ")
    composed = unicodedata.normalize("NFC", lined)
    return "".join(char for char in composed if unicodedata.category(char) != "Cf")


@lru_cache(maxsize=4096)
def _font_of(char: str, script: str, bold: bool) -> str | None:
    for face in faces(bold):
        if char in face.characters:
            return face.name
    return _cid_font(char, script)


def _cid_font(char: str, script: str) -> str | None:
    if ord(char) > 0xFFFF or not char.isprintable():
        return None
    order = [*_CID, _JAPANESE, _KOREAN]
    if script:
        order.insert(0, _JAPANESE if script == "japanese" else _KOREAN)
    return next((name for codec, name in order if _holds(codec, char)), None)


def _holds(codec: str, char: str) -> bool:
    try:
        char.encode(codec)
    except UnicodeEncodeError:
        return False
    return True


def _script(text: str) -> str:
    """Tell Japanese and Korean from their own letters: Han characters alone do not say."""
    if any("\u3041" <= char <= "\u30ff" for char in text):
        return "japanese"
    return "korean" if any("\uac00" <= char <= "\ud7a3" for char in text) else ""


@cache
def _replacement_font() -> str:
    return next(face.name for face in faces(False) if REPLACEMENT in face.characters)
