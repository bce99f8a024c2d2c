"""Taking a person's code out of records; what the plants did stays."""

import json
import re
from collections.abc import Callable
from pathlib import Path

import msgspec

from walkabout.records import disk

NOBODY = "--"

_BY = ("walker", "by", "closed_by", "cause_by", "says")
"""The fields that may hold a code: alone, or (`says`) as a word in a line of a history."""


def without(code: str) -> Callable[[bytes], bytes]:
    """Return a function that takes a record's JSON and returns it with `code` replaced by '--'."""
    word = re.compile(rf"(?<!\w){re.escape(code)}(?!\w)")

    def replaced(value: object) -> object:
        if isinstance(value, dict):
            return {
                name: word.sub(NOBODY, inner) if name in _BY and isinstance(inner, str) else replaced(inner)
                for name, inner in value.items()
            }
        return [replaced(inner) for inner in value] if isinstance(value, list) else value

    def change(doc: bytes) -> bytes:
        content = msgspec.json.decode(doc)
        purged = replaced(content)
        return doc if purged == content else msgspec.json.encode(purged)

    return change


def purge_set_aside(folder: Path, code: str) -> None:
    """Take `code` out of the damaged files that were kept, and remove unfinished ones.

    They cannot be read as records, so the fields are found by the letters around them.
    """
    field = re.compile(rb'("(?:%s)"\s*:\s*")((?:[^"\\]|\\.)*)' % "|".join(_BY).encode())
    spellings = {code.encode(), json.dumps(code)[1:-1].encode()}
    words = re.compile(rb"(?<!\w)(?:%s)(?!\w)" % b"|".join(map(re.escape, sorted(spellings))))
    for path in sorted(folder.glob("*.damaged-*")):
        data = path.read_bytes()
        purged = field.sub(lambda found: found[1] + words.sub(NOBODY.encode(), found[2]), data)
        if purged != data:
            disk.write_whole(path, purged)
    for path in folder.glob("*.new"):
        path.unlink()
