"""Paths as people type and paste them: in quotation marks, as file://, with a ~, half and to be completed."""

from pathlib import Path
from urllib.parse import unquote, urlsplit
from urllib.request import url2pathname

_QUOTES = ("''", '""', "‘’", "“”", "<>")
MOST = 200
"""Entries of a folder that are looked through for one; assumed."""


def path_typed(text: str) -> Path:
    """Return the path that a text means: without the quotation marks, file:// and escaped blanks of a paste."""
    plain = text.strip()
    for quotes in _QUOTES:
        if len(plain) >= 2 and plain[0] == quotes[0] and plain[-1] == quotes[1]:
            plain = plain[1:-1].strip()
    if plain.lower().startswith("file:"):
        found = urlsplit(plain)
        # a colon, # or ? in a name stands escaped in such an address
        plain = url2pathname(found.path) if "%" not in found.path else unquote(found.path)
    plain = plain.replace("\0", "")
    try:
        if plain[:1] in ("'", '"') and not Path(plain).exists():
            plain = plain[1:]  # a mark that is opened and not yet closed
        path = Path(plain).expanduser()
        if "\\ " in plain and not path.exists():
            path = Path(plain.replace("\\ ", " ")).expanduser()
    except (RuntimeError, OSError):
        path = Path(plain)  # ~somebody who is not known here, or a name that is too long
    return path


def completed(text: str) -> tuple[str, list[str]]:
    """Return a half-typed path as far as the folder's entries agree, and the entries that it may mean."""
    path = path_typed(text)
    whole = text.strip().endswith(("/", "\\")) or not text.strip()
    folder, begins = (path, "") if whole else (path.parent, path.name)
    try:
        entries = sorted(folder.iterdir(), key=lambda one: one.name.casefold())
        found = [one for one in entries if one.name.startswith(begins)]
        found = found or [one for one in entries if one.name.casefold().startswith(begins.casefold())]
        found = [one for one in found if begins.startswith(".") or not one.name.startswith(".")][:MOST]
        names = [f"{one.name}/" if one.is_dir() else one.name for one in found]
    except OSError:
        return text, []
    if not names:
        return text, []
    first, last = min(names), max(names)
    same = next((at for at, letter in enumerate(first) if last[at : at + 1] != letter), len(first))
    joined = first[:same] if len(first[:same]) >= len(begins) else begins
    return str(folder / "x")[:-1] + joined, names
