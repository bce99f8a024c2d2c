"""What working out shows: the list, the title over the fields, what comes out, the keys that work."""

from textual.content import Content

from walkabout.reckon.catalogue import every
from walkabout.reckon.model import SUBJECTS, Reckoned, Subject
from walkabout.round.workout import Form, Row
from walkabout.screens.text import lines, plain
from walkabout.screens.widgets.keyline import Key
from walkabout.screens.widgets.pointed import Entry

CLOSED = "="
"""Before a subject: the key of its row while it is closed."""


def entries_with(subject: Subject) -> list[Entry]:
    """Return all subjects, and what can be worked out in this one."""
    entries: list[Entry] = []
    for one in SUBJECTS:
        if one == subject:
            entries.append(Entry(one.capitalize(), "head"))
            entries += [Entry(known.title, key=known.name) for known in every() if known.subject == one]
        else:
            entries.append(Entry(f"{one.capitalize()} …", key=f"{CLOSED}{one}", stands_out=True))
    return entries


def title_lines(form: Form, row: Row | None) -> Content:
    """Say what it is good for; while the field of `row` is filled in, what belongs into that field."""
    reckoning = form.reckoning
    says = reckoning.about
    if row is not None and row.key:
        unit = f", {row.unit}" if row.unit not in ("", "pH") else ""
        says = f"{_capital(row.says)}{unit}{f': {row.note}' if row.note else ''}."
        says += " ← → turns it." if row.words else ""
    return lines([plain(reckoning.title, "$accent-text bold"), plain(says, "$muted")])


def not_yet(form: Form, wrong: str) -> Content:
    """Say what is still needed or, when nothing is missing, what is `wrong` with what was typed."""
    missing = [row.says for row in form.rows() if row.must and not row.text]
    says = f"Still needed: {', '.join(missing)}." if missing else f"{_capital(form.sentence(wrong)).rstrip('.')}."
    return plain(says, "$muted" if missing else "$watch")


def what_comes_out(form: Form, reckoned: Reckoned) -> Content:
    """Say what came out: first what it means and who does what, then the figures, the working and the source."""
    rows = [plain(form.sentence(says), "bold" if index == 0 else "") for index, says in enumerate(reckoned.says)]
    do = reckoned.do
    if do is not None:
        who = "anybody" if do.who == "pupil" else f"for an {do.who}"
        says = f"{who}{f' · {do.caution}' if do.caution else ''}"
        rows.insert(1, plain(says, "$muted" if do.who == "pupil" else "$watch"))
    rows += [plain(one, "$watch") for one in reckoned.cautions if do is None or one != do.caution]
    rows.append(plain(""))
    names = {name: one.says or name.replace("_", " ") for name, one in reckoned.results.items()}
    wide = max((len(name) for name in names.values()), default=0)
    rows += [
        Content("").join([plain(f"{names[name]:{wide}}  ", "$muted"), plain(form.result_words(one))])
        for name, one in reckoned.results.items()
    ]
    if reckoned.working:
        rows += [plain(""), plain("The working", "$accent-text"), *(plain(line) for line in reckoned.working)]
    rows += [plain(""), plain(f"Source: {reckoned.source}", "$muted")]
    return lines(rows)


def asks_for_more(form: Form) -> str:
    """Return how another field is added, or '' where the fields are given."""
    wanted = form.reckoning.open
    return f"{wanted.says}: type its name, for example {wanted.example}, then enter" if wanted else ""


def keys_for(*, typing: bool, job: bool) -> tuple[Key, ...]:
    """Return the keys that work while a field is typed into, or else in the list; `job`: there is something to do."""
    keys = [
        Key("↑↓", "field" if typing else "choose", "screen.point(1)"),
        Key("enter", "next" if typing else "fields", "screen.enter"),
        Key("esc", "list" if typing else "back", "screen.back"),
    ]
    if job:
        keys.append(Key("f2" if typing else "j", "make a job", "screen.job"))
    keys += [Key("pgdn", "read on", "screen.read(1)"), Key("f3" if typing else "s", "station", "screen.station")]
    keys += [Key("/", "find", "app.command_palette")] if not typing else []
    keys += [Key("f4" if typing else "u", "units", "screen.units")]
    return (*keys, Key("?", "help", "app.help"))


def _capital(text: str) -> str:
    """Begin a sentence with a capital, but for pH, which has its own."""
    return text if text.startswith("pH") else f"{text[:1].upper()}{text[1:]}"
