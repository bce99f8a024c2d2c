"""Is the comparison fair? What differs between the treatments besides the treatment."""

from collections.abc import Callable, Sequence
from datetime import date

from msgspec import Struct

from walkabout.insight.trials.say import listed, number


class Plot(Struct, frozen=True, kw_only=True):
    """One plot of a trial as the room has it: where it stands, its light, its water, what grows there since when.

    None or '' where the room does not say. `gap_cm` is from the lamp to the leaves, `hours` of light a day.
    """

    name: str
    treatment: str
    station: str = ""
    lamp: str = ""
    gap_cm: float | None = None
    hours: float | None = None
    watts: float | None = None
    tank: str = ""
    crop: str = ""
    variety: str = ""
    sown: date | None = None


GAP = 2.0
"""cm between mean lamp distances that is let pass. Assumed: a leaf moves as much."""
DAYS = 1
"""Days between sowings that are let pass. Assumed."""


def unfair(plots: Sequence[Plot], under_test: str = "") -> tuple[str, ...]:
    """Return one sentence for each thing that differs between treatments besides the treatment; none if it is fair.

    `under_test` names the one thing that is meant to differ ('station', 'lamp', 'gap_cm', 'hours', 'watts', 'tank',
    'crop', 'variety' or 'sown'): it is not complained about.
    """
    treatments: dict[str, list[Plot]] = {}
    for plot in plots:
        treatments.setdefault(plot.treatment, []).append(plot)
    if len(treatments) < 2:
        return ("There is only one treatment. A trial compares it with something: leave some plots as they are.",)
    found = [*_replication(treatments), *_places(treatments, under_test)]
    for name, what, why in _SORTS:
        if name != under_test:
            found += _sort(treatments, name, what, why)
    if under_test == "lamp":
        # Lamps that are compared differ in what they draw; how long they burn and how far they hang should not.
        found += [said for name, said in _amounts(treatments) if name != "watts"]
    else:
        found += [said for name, said in _amounts(treatments) if name != under_test]
    if under_test != "sown":
        found += _ages(treatments)
    return tuple(found)


_SORTS = (
    ("crop", "crop", "they cannot be told from the treatment"),
    ("variety", "variety", "a variety grows in its own way whatever is done to it"),
    ("lamp", "kind of lamp", "the light may be what makes the difference"),
    ("tank", "tank", "the solution may be what makes the difference"),
)


def _replication(treatments: dict[str, list[Plot]]) -> list[str]:
    alone = [name for name, plots in treatments.items() if len(plots) == 1]
    found = []
    if alone:
        has = "has" if len(alone) == 1 else "have"
        found.append(
            f"{listed(alone)} {has} one plot only: with no second plot nobody can tell the treatment from the plot."
        )
    sizes = {name: len(plots) for name, plots in treatments.items()}
    if max(sizes.values()) > 2 * min(sizes.values()):
        found.append(
            f"The treatments have very different numbers of plots ({_each(sizes)}): even numbers show more for less."
        )
    return found


def _places(treatments: dict[str, list[Plot]], under_test: str) -> list[str]:
    stations = {name: {plot.station for plot in plots} for name, plots in treatments.items()}
    if under_test == "station" or any("" in one for one in stations.values()):
        return []
    names = list(stations)
    apart = all(
        stations[one].isdisjoint(stations[other]) for place, one in enumerate(names) for other in names[place + 1 :]
    )
    if not apart:
        return []
    single = [name for name in names if len(stations[name]) == 1]
    if single:
        where = "; ".join(f"{name} at {next(iter(stations[name]))}" for name in single)
        mixed = f"All plots of one treatment stand at one station ({where}): the place is mixed up with the treatment"
        return [f"{mixed}, and the plots of a station are no true replicates. Put some of each at each station."]
    return ["No station has more than one of the treatments: put some of each treatment at each station."]


def _sort(treatments: dict[str, list[Plot]], name: str, what: str, why: str) -> list[str]:
    sets = {treatment: {getattr(plot, name) for plot in plots} - {""} for treatment, plots in treatments.items()}
    if not all(sets.values()) or len({frozenset(one) for one in sets.values()}) == 1:
        return []
    each = {treatment: listed(sorted(one)) for treatment, one in sets.items()}
    return [f"The {what} is not the same in all treatments ({_each(each)}): {why}."]


def _amounts(treatments: dict[str, list[Plot]]) -> list[tuple[str, str]]:
    rows: tuple[tuple[str, str, str, float], ...] = (
        ("gap_cm", "The lamps hang at different distances from the leaves", "cm", GAP),
        ("hours", "The lamps burn for different hours a day", "hours", 0.25),
        ("watts", "The lamps draw different power", "W", 0.05),
    )
    found = []
    for name, says, unit, slack in rows:
        means = _means(treatments, lambda plot, name=name: getattr(plot, name))  # type: ignore[misc]
        if means is None:
            continue
        allowed = slack * max(means.values()) if name == "watts" else slack
        if max(means.values()) - min(means.values()) > allowed:
            each = _each({one: f"{number(mean, 3)} {unit}" for one, mean in means.items()})
            found.append((name, f"{says} ({each}): set them alike."))
    return found


def _ages(treatments: dict[str, list[Plot]]) -> list[str]:
    means = _means(treatments, lambda plot: None if plot.sown is None else float(plot.sown.toordinal()))
    if means is None or max(means.values()) - min(means.values()) <= DAYS:
        return []
    days = {name: date.fromordinal(round(mean)).isoformat() for name, mean in means.items()}
    return [f"The plants are not of the same age (sown {_each(days)}): compare plants that were sown together."]


def _means(treatments: dict[str, list[Plot]], of: Callable[[Plot], float | None]) -> dict[str, float] | None:
    means = {}
    for name, plots in treatments.items():
        known = [value for plot in plots if (value := of(plot)) is not None]
        if not known:
            return None
        means[name] = sum(known) / len(known)
    return means


def _each(each: dict[str, object] | dict[str, int] | dict[str, str]) -> str:
    return ", ".join(f"{name} {value}" for name, value in each.items())
