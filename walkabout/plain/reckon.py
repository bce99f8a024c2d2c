"""Reckonings as text and as JSON."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from walkabout.reckon.catalogue import every
from walkabout.reckon.model import SUBJECTS, Field, Reckoned, Reckoning
from walkabout.reckon.read import Taken
from walkabout.reckon.write import amount, result


def facts(reckoning: Reckoning, taken: Taken, reckoned: Reckoned) -> dict[str, Any]:
    """Return what came out as JSON has it: name, inputs, results, working, source, cautions."""
    return {
        "name": reckoning.name,
        "inputs": _inputs(reckoning, taken),
        "results": {name: {"value": one.value, "unit": one.unit} for name, one in reckoned.results.items()},
        "working": list(reckoned.working),
        "source": reckoned.source,
        "cautions": list(reckoned.cautions),
    }


def lines(reckoning: Reckoning, reckoned: Reckoned) -> list[str]:
    """Return what came out as lines to read."""
    wide = max((len(one.says or name) for name, one in reckoned.results.items()), default=0)
    rows = [f"  {one.says or name.replace('_', ' '):{wide}}  {result(one)}" for name, one in reckoned.results.items()]
    parts = [
        [reckoning.title, *rows],
        list(reckoned.says),
        ["The working", *(f"  {line}" for line in reckoned.working)],
        list(reckoned.cautions),
        [f"Source: {reckoned.source}"],
    ]
    return [line for part in parts if part and part != ["The working"] for line in (*part, "")][:-1]


def all_lines() -> list[str]:
    """List every reckoning by subject, with what it is good for."""
    known = list(every())
    wide = max(len(one.name) for one in known)
    said = ["What can be worked out. What one takes: walkabout reckon NAME"]
    for subject in SUBJECTS:
        said += [
            "",
            subject.capitalize(),
            *(f"  {one.name:{wide}}  {one.title}" for one in known if one.subject == subject),
        ]
    return said


def all_facts() -> list[dict[str, Any]]:
    """List every reckoning as JSON has it."""
    return [takes_facts(one) for one in every()]


def takes_lines(reckoning: Reckoning) -> list[str]:
    """Say what a reckoning takes, as lines to read."""
    rows = [(one.key, _row(one)) for one in reckoning.fields]
    if reckoning.open is not None:
        unit = f", {reckoning.open.unit}" if reckoning.open.unit else ""
        rows.append((f"{reckoning.open.example or 'NAME'}=…", f"{reckoning.open.says}{unit}"))
    wide = max((len(key) for key, _ in rows), default=0)
    return [
        f"{reckoning.title}. {reckoning.about}",
        "",
        *(f"  {key:{wide}}  {says}" for key, says in rows),
        "",
        f"Example: walkabout reckon {reckoning.name} {reckoning.example}",
    ]


def _row(field: Field) -> str:
    says = field.says + (f", {field.unit}" if field.unit else "")
    if field.words:
        says += f": {', '.join(field.words)}"
    if field.default is not None:
        default = field.default if isinstance(field.default, str) else amount(field.default, field.unit)
        says += f" ({default} unless given)"
    elif not field.needed:
        says += " (may be left out)"
    return f"{says}; {field.note}" if field.note else says


def takes_facts(reckoning: Reckoning) -> dict[str, Any]:
    """Say what a reckoning takes, as JSON has it."""
    fields = [
        {
            "key": one.key,
            "others": list(one.others),
            "says": one.says,
            "unit": one.unit,
            "kind": one.kind,
            "needed": one.must,
            "default": one.default,
            "words": list(one.words),
        }
        for one in reckoning.fields
    ]
    wanted = reckoning.open
    more = {"says": wanted.says, "unit": wanted.unit, "needed": wanted.needed} if wanted is not None else None
    return {
        "name": reckoning.name,
        "others": list(reckoning.others),
        "subject": reckoning.subject,
        "title": reckoning.title,
        "about": reckoning.about,
        "fields": fields,
        "open": more,
        "example": reckoning.example,
    }


def _inputs(reckoning: Reckoning, taken: Taken) -> dict[str, Any]:
    given: dict[str, Any] = {}
    for one in reckoning.fields:
        value = taken.values.get(one.key, one.default)
        if value is not None:
            given[one.key] = {"value": _plain(value), "unit": one.unit if one.kind in ("number", "numbers") else ""}
    wanted = reckoning.open
    amounts: Mapping[str, float] = taken.amounts
    return given | {
        name: {"value": value, "unit": wanted.unit_for(name) if wanted else ""} for name, value in amounts.items()
    }


def _plain(value: Any) -> Any:
    return value.isoformat() if isinstance(value, date) else list(value) if isinstance(value, tuple) else value
