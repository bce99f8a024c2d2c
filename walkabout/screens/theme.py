"""Four ways of looking: dark, light, high contrast, and without colour.

Every text colour stands on every background of its theme with at least 4.5:1 (WCAG 2.2, 1.4.3); a
test computes it from the variables here.
"""

import os

from textual.theme import Theme

TEXTS = ("words", "muted", "accent-text", "good", "watch", "act")
"""Names of the text colours."""
GROUNDS = ("ground", "raised")
"""Names of the backgrounds they stand on."""


def _theme(name: str, *, dark: bool, **colours: str) -> Theme:
    ground, raised = colours["ground"], colours["raised"]
    variables = {name.replace("_", "-"): value for name, value in colours.items()}
    return Theme(
        name=name,
        primary=colours["accent_text"],
        secondary=colours["muted"],
        accent=colours["accent_text"],
        warning=colours["watch"],
        error=colours["act"],
        success=colours["good"],
        foreground=colours["words"],
        background=ground,
        surface=ground,
        panel=raised,
        boost=raised,
        dark=dark,
        variables={
            **variables,
            # what Textual's own widgets (command palette, messages) write in
            "text": colours["words"],
            "text-muted": colours["muted"],
            "text-disabled": colours["muted"],
            "text-primary": colours["accent_text"],
            "text-accent": colours["accent_text"],
            "text-warning": colours["watch"],
            "text-error": colours["act"],
            "text-success": colours["good"],
            "foreground-muted": colours["muted"],
            "foreground-disabled": colours["muted"],
            "footer-key-foreground": colours["accent_text"],
            "input-cursor-background": colours["words"],
            "input-cursor-foreground": ground,
            "input-selection-background": f"{colours['accent_text']} 40%",
            "block-hover-background": raised,
            "block-cursor-background": raised,
            "block-cursor-foreground": colours["words"],
            "block-cursor-blurred-background": raised,
            "block-cursor-blurred-foreground": colours["words"],
            "border": colours["accent_text"],
            "border-blurred": colours["muted"],
            "scrollbar": colours["muted"],
            "scrollbar-hover": colours["words"],
            "scrollbar-active": colours["accent_text"],
            "scrollbar-background": ground,
            "scrollbar-corner-color": ground,
            "scrollbar-background-hover": ground,
            "scrollbar-background-active": ground,
        },
    )


THEMES = (
    _theme("walkabout-dark", dark=True, ground="#161a19", raised="#1f2624", words="#e3e8e4", muted="#8fa39b",
           accent_text="#c3d86a", good="#86c59a", watch="#e2ab55", act="#f08a74"),
    _theme("walkabout-light", dark=False, ground="#faf9f4", raised="#ecebe2", words="#1d2420", muted="#55625b",
           accent_text="#3d5a00", good="#1b6338", watch="#7a4b00", act="#a3261a"),
    _theme("walkabout-contrast", dark=True, ground="#000000", raised="#1a1a1a", words="#ffffff", muted="#d0d0d0",
           accent_text="#ffff66", good="#8dffb0", watch="#ffd480", act="#ffb0a0"),
    _theme("walkabout-no-colour", dark=True, ground="#121212", raised="#262626", words="#f0f0f0", muted="#b4b4b4",
           accent_text="#ffffff", good="#d8d8d8", watch="#f0f0f0", act="#ffffff"),
)  # fmt: skip
DEFAULT = "walkabout-dark"
NO_COLOUR = "walkabout-no-colour"


def no_colour_wanted() -> bool:
    """Say whether NO_COLOR asks for no colour: set and not empty (the convention of no-color.org)."""
    return bool(os.environ.get("NO_COLOR"))
