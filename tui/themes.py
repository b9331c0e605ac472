"""Two themes: black on near-white for sunlight, light on near-black for night.

Colour only supports what words already say. Every pair of colours that carries a value keeps a
contrast of at least 7 to 1; `PAIRS` names them, and a test computes the ratio of each.
"""

from __future__ import annotations

from textual.theme import Theme

SUNLIGHT = Theme(
    name="sunlight",
    primary="#003a70",
    secondary="#24475f",
    warning="#5c3a00",
    error="#7d0c0c",
    success="#0b4a1e",
    accent="#003a70",
    foreground="#000000",
    background="#fcfcf7",
    surface="#fcfcf7",
    panel="#eeeee4",
    dark=False,
    text_alpha=1.0,
    variables={
        # Textual leaves this transparent in a theme that names its panel.
        "boost": "#e6e6d8",
        "block-cursor-background": "#000000",
        "block-cursor-foreground": "#fcfcf7",
        "block-cursor-text-style": "none",
        "block-cursor-blurred-background": "#e6e6d8",
        "block-cursor-blurred-foreground": "#000000",
        "block-cursor-blurred-text-style": "none",
        "footer-background": "#eeeee4",
        "footer-foreground": "#000000",
        "footer-key-background": "#eeeee4",
        "footer-key-foreground": "#003a70",
        "footer-description-background": "#eeeee4",
        "footer-description-foreground": "#000000",
        "border": "#000000",
        "border-blurred": "#3c3c3c",
        "text-muted": "#3c3c3c",
        "text-disabled": "#444444",
        "text-success": "#0b4a1e",
        "text-warning": "#5c3a00",
        "text-error": "#7d0c0c",
        "panel-lighten-1": "#eeeee4",
    },
)
NIGHT = Theme(
    name="night",
    primary="#9fc8f0",
    secondary="#b4cbd8",
    warning="#f0cf8a",
    error="#ffb3ab",
    success="#a5dfb2",
    accent="#9fc8f0",
    foreground="#ececec",
    background="#0b0d10",
    surface="#0b0d10",
    panel="#1a1e24",
    dark=True,
    text_alpha=1.0,
    variables={
        "boost": "#23282f",
        "block-cursor-background": "#d9e4ee",
        "block-cursor-foreground": "#0b0d10",
        "block-cursor-text-style": "none",
        "block-cursor-blurred-background": "#23282f",
        "block-cursor-blurred-foreground": "#ececec",
        "block-cursor-blurred-text-style": "none",
        "footer-background": "#1a1e24",
        "footer-foreground": "#ececec",
        "footer-key-background": "#1a1e24",
        "footer-key-foreground": "#9fc8f0",
        "footer-description-background": "#1a1e24",
        "footer-description-foreground": "#ececec",
        "border": "#ececec",
        "border-blurred": "#b8b8b8",
        "text-muted": "#c4c4c4",
        "text-disabled": "#b8b8b8",
        "text-success": "#a5dfb2",
        "text-warning": "#f0cf8a",
        "text-error": "#ffb3ab",
        "panel-lighten-1": "#1a1e24",
    },
)
THEMES = (SUNLIGHT, NIGHT)

PAIRS = (
    ("foreground", "background"),
    ("foreground", "surface"),
    ("foreground", "panel"),
    ("foreground", "boost"),
    ("primary", "background"),
    ("text-muted", "background"),
    ("text-muted", "panel"),
    ("text-success", "panel-lighten-1"),
    ("text-warning", "panel-lighten-1"),
    ("text-error", "panel-lighten-1"),
    ("foreground", "panel-lighten-1"),
    ("block-cursor-foreground", "block-cursor-background"),
    ("block-cursor-blurred-foreground", "block-cursor-blurred-background"),
    ("footer-key-foreground", "footer-key-background"),
    ("footer-description-foreground", "footer-description-background"),
)
"""Text and what it stands on, by the names of the theme's variables."""
