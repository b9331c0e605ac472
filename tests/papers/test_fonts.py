from __future__ import annotations

import io

import pypdf
import pytest
from hypothesis import given
from hypothesis import strategies as st
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import Paragraph as RichText

from core.papers import blocks
from core.papers.fonts import (
    REGULAR,
    markup,
    register,
    right_to_left,
    runs,
    unprintable,
    width,
)
from tests.papers.paper_samples import NOW, PRACTICE, fonts, pages, squeezed

SCRIPTS = {
    "Zoë Łucja Νίκος Иван Nguyễn Ánh ≤ ≥ ± µ → ₂": REGULAR,
    "محمد": "Papers-Arabic",
    "שלום": "Papers-Hebrew",
    "สมชาย": "Papers-Thai-Regular",
    "王小明": "STSong-Light",
    "さくら": "HeiseiKakuGo-W5",
    "김철수": "HYGothic-Medium",
}


@pytest.mark.parametrize(("text", "font"), SCRIPTS.items())
def test_each_script_finds_its_font_and_loses_nothing(text, font):
    assert {name for name, _ in runs(text)} == {font}
    assert "".join(chars for _, chars in runs(text)) == text
    assert unprintable(text) == ()


def test_han_characters_follow_the_script_around_them():
    assert {font for font, _ in runs("田中さくら")} == {"HeiseiKakuGo-W5"}
    assert {font for font, _ in runs("金철수")} == {"HYGothic-Medium"}


def test_what_no_font_has_is_told_and_drawn_as_a_sign():
    assert unprintable("Koi \N{FISH}\N{FISH} \x07 अ ok") == ("\N{FISH}", "\x07", "अ")
    sheet = blocks.Sheet(PRACTICE, "Title", "S", NOW, (blocks.Paragraph("Koi \N{FISH} pond"),))
    assert "Koi \ufffd pond" in squeezed(pages(blocks.pdf(sheet))[0])


def test_accents_typed_apart_are_drawn_together():
    assert runs("Zoe\u0308") == [(REGULAR, "Zoë")]


def test_right_to_left_is_told():
    assert right_to_left("Haus שלום")
    assert not right_to_left("Zoë 12")


def test_markup_is_escaped_before_it_gets_fonts():
    assert markup("<b>&amp;") == "&lt;b&gt;&amp;amp;"
    assert markup("</font>محمد<") == '&lt;/font&gt;<font name="Papers-Arabic">محمد</font>&lt;'


@given(st.text(max_size=60))
def test_any_text_becomes_a_paragraph_and_keeps_its_length(text):
    register()
    pieces = runs(text)
    style = ParagraphStyle("any", fontName=REGULAR)
    RichText(markup(text), style).wrap(300, 300)
    assert all(chars for _, chars in pieces) or pieces == [(REGULAR, "")]
    assert width(text, 10) >= 0
    lost = set(unprintable(text))
    assert ("\ufffd" in "".join(chars for _, chars in pieces)) == bool(
        lost | ({"\ufffd"} & {*text})
    )


def test_fallback_fonts_are_embedded_but_for_the_three_every_viewer_has():
    text = " ".join(SCRIPTS)
    sheet = blocks.Sheet(PRACTICE, text, text, NOW, (blocks.Paragraph(text),))
    found = fonts(blocks.pdf(sheet))
    assert {font for font, inside in found.items() if not inside} == {
        "/HeiseiKakuGo-W5",
        "/HYGothic-Medium",
    } | ({"/STSong-Light"} & set(found))
    assert not any("Helvetica" in font for font in found)
    reader = pypdf.PdfReader(io.BytesIO(blocks.pdf(sheet)))
    assert reader.metadata is not None
    assert reader.metadata.title == text


def test_words_gives_every_text_of_a_sheet():
    sheet = blocks.Sheet(
        PRACTICE,
        "T",
        "S",
        NOW,
        (
            blocks.Beside((blocks.Paragraph("p \N{FISH}"),), (blocks.KeyValues((("k", "v"),)),)),
            blocks.Ticks((("when", (blocks.Tick("tick"),)),)),
        ),
    )
    found = set(blocks.words(sheet))
    assert {"T", "S", PRACTICE.name, "p \N{FISH}", "k", "v", "when", "tick"} <= found
    assert unprintable(" ".join(blocks.words(sheet))) == ("\N{FISH}",)
