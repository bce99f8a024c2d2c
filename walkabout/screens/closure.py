"""What a closure will do to the room: what lasts, what to do before leaving, who must come, the first morning."""

from collections.abc import Iterator, Sequence

from textual.content import Content

from walkabout.almanac.lasting_words import days_words, span_words
from walkabout.almanac.model import Before, Fate, Forecast, Lasting
from walkabout.almanac.visiting import doing
from walkabout.room.model import Who
from walkabout.screens.text import plain
from walkabout.screens.widgets.reading import ReadingPage, columns, head, wrapped
from walkabout.screens.widgets.stagewords import day_long

FATES: dict[Fate, tuple[str, str, str]] = {
    "lasts": ("✓", "$good", "lasts"),
    "lasts if": ("▴", "$watch", "lasts, if"),
    "visit": ("■", "$act", "needs a visit"),
    "harvest first": ("■", "$act", "harvest first"),
    "lost": ("‼", "$act bold", "is lost"),
}
"""What becomes of a station: its mark, its colour, its words."""
WHO: dict[Who, str] = {"pupil": "anybody", "adult": "adult", "licensed": "licensed"}
FATE, DAYS, SPAN, SHORT = 17, 13, 18, 70


class ClosureScreen(ReadingPage):
    """The forecast of one closure, to read before it."""

    HELP = (
        "What the closure will do to the room: how long each station lasts by itself, from surely to likely, and "
        "what fails first; what to do before leaving, in its order, with minutes and who may do it; on which days "
        "somebody must come all the same; and what to look at first on the morning after. At the end stands how each "
        "number came about."
    )

    def __init__(self, forecast: Forecast) -> None:
        super().__init__()
        self._forecast = forecast

    def headline(self) -> str:
        """Name the closure."""
        one = self._forecast
        return f"Almanac · {one.name or 'closure'} · {day_long(one.first)} to {day_long(one.last)}"

    def rows(self, width: int) -> Sequence[Content]:
        """Return the forecast from the answer down to the working."""
        return list(forecast_rows(self._forecast, width))


def forecast_rows(one: Forecast, width: int) -> Iterator[Content]:
    """Yield a forecast in lines of `width` cells."""
    yield plain(f"Will it live through {one.name or 'the closure'}?", "bold")
    says = (
        f"Nobody comes from {day_long(one.leaving)} after the last round to {day_long(one.back)}: {one.away:.0f} days."
    )
    yield from wrapped(says, width, "$muted")
    yield from head("How long each station lasts")
    for station in one.stations:
        yield from _station(station, width)
    yield from _leaving(one, width)
    if one.visits:
        yield from head("Somebody must come")
        yield from wrapped(days_words(one.visits, one.leaving), width, "$watch")
        serving = [(each.visit_does, each.name) for each in one.stations if each.visits and each.visit_does]
        if serving:
            yield from wrapped(f"They {doing(serving)}.", width, hang=2)
    if one.promises:
        yield from head("Falls into it")
        for says in one.promises:
            yield from wrapped(says, width)
    if one.first_morning:
        names = {each.station: each.name for each in one.stations}
        yield from head(f"The first morning, {day_long(one.back)}: look here first")
        for number, (where, looks) in enumerate(one.first_morning, 1):
            before = plain(f"{number}  ", "$accent-text bold")
            yield from wrapped(f"{names.get(where, where)}: {looks}", width, first=before, hang=3)
    worked = [each for each in one.stations if each.working]
    if worked:
        yield from head("The working")
    for station in worked:
        yield plain(station.name, "$muted")
        for says in station.working:
            yield from wrapped(says, width, hang=2)


def short_rows(one: Forecast, width: int, height: int) -> list[Content]:
    """Return a forecast in at most `height` lines of `width` cells, one a station; what fails first stands first."""
    rows = [
        Content("").join([
            plain(f"Will it live through {one.name or 'the closure'}?", "$accent-text"),
            plain(f"   {day_long(one.first)} to {day_long(one.last)}, {one.minutes:.0f} min before leaving", "$muted"),
        ])
    ]  # fmt: skip
    room = max(width - 24 - FATE - DAYS - 2, 12)
    for each in one.stations:
        mark, style, words = FATES[each.fate]
        days = span_words(each.days, each.days)
        does = each.before[0].says if each.before else each.fails
        more = f" (+{len(each.before) - 1})" if len(each.before) > 1 else ""
        rows.append(
            columns((
                (each.name, 24, ""), (f"{mark} {words}", FATE, style), (days, DAYS, ""),
                (f"{does}{more}", room, "$muted"),
            ))
        )  # fmt: skip
    if len(rows) > height:
        rows = [*rows[: height - 1], plain(f"and {len(one.stations) - height + 2} more", "$muted")]
    return rows


def _station(one: Lasting, width: int) -> Iterator[Content]:
    mark, style, words = FATES[one.fate]
    name = min(max(width - FATE - SPAN - 20, 12), 24)
    days = span_words(one.days, one.likely)
    yield columns(((one.name, name, ""), (f" {mark} {words}", FATE, style), (f" {days}", SPAN, "")))
    hang = 2 if width < SHORT else name + 1
    says = one.fails
    if one.before and one.days_helped != one.days and one.fate != "harvest first":
        helped = span_words(one.days_helped, one.likely_helped)
        says = f"{says.rstrip('.')}; with what is to be done before: {helped}"
    if one.dim:
        says = f"{says.rstrip('.')}. {one.dim}"
    if says:
        yield from wrapped(says, width, "$muted", hang=hang)


def _leaving(one: Forecast, width: int) -> Iterator[Content]:
    if not one.before:
        return
    adults = f", {one.adult_minutes:.0f} an adult's" if one.adult_minutes else ""
    yield from head(f"Before leaving, by {day_long(one.leaving)}: {one.minutes:.0f} min in all{adults}")
    names = {each.station: each.name for each in one.stations}
    for number, each in enumerate(one.before, 1):
        yield from _before(number, each, names.get(each.station, each.station), width)


def _before(number: int, one: Before, name: str, width: int) -> Iterator[Content]:
    first = plain(f"{number:>2}  ", "$accent-text bold")
    room = max(width - 4 - 18, 20)
    where = f"{name}: " if name else ""
    on = f" ({day_long(one.day)})" if one.day else ""
    rows = plain(f"{where}{one.says.rstrip('.')}{on}".replace("\n", " ")).wrap(room)
    side = columns(((f" {WHO[one.who]}", 10, "$watch" if one.who != "pupil" else "$muted"),))
    yield Content("").join([
        first, rows[0].pad_right(max(room - rows[0].cell_length, 0)), side, plain(f"{one.minutes:>4.0f} min", "$muted")
    ])  # fmt: skip
    for row in rows[1:]:
        yield plain("    ").append(row)
    if one.caution:
        yield from wrapped(f"Caution: {one.caution}", width, "$watch", hang=4)
