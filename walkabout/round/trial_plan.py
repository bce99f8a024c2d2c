"""Planning a trial: where its plots can be, which treatment each gets, how many it takes."""

from collections.abc import Sequence

import msgspec
from msgspec import Struct

from walkabout.jobs.plantings import in_words
from walkabout.records.model_measured import Plot, PlotKind
from walkabout.round.opened import OpenRoom

UNDER_TEST: tuple[tuple[str, str], ...] = (
    ("lamp", "the kind of lamp"),
    ("hours", "the hours of light"),
    ("gap_cm", "how far the lamp hangs above the leaves"),
    ("tank", "the solution"),
    ("variety", "the variety"),
    ("crop", "the crop"),
    ("sown", "the day of sowing"),
    ("station", "the place in the room"),
    ("", "something else that is done to the plants"),
)
"""What a trial may compare, by the name of the condition in the room; '' for what the room knows nothing of."""


class Place(Struct, frozen=True):
    """Where plots are laid out: a station, or a planting at one."""

    key: str
    station: str
    planting: str
    says: str
    name: str


def places(opened: OpenRoom, kind: PlotKind) -> list[Place]:
    """Return where plots can be laid out: stations for whole stations, plantings for trays and plants."""
    if kind == "station":
        return [Place(one.key, one.key, "", one.name, one.name) for one in opened.room.stations]
    found = [one for one in opened.plantings.values() if one.ended is None]
    order = {one.key: place for place, one in enumerate(opened.room.stations)}
    found.sort(key=lambda one: (order.get(one.station, 999), one.sown, one.key))
    return [
        Place(
            one.key, one.station, one.key,
            f"{in_words(one, opened.crops, opened.today())}, at {opened.name_of(one.station)}",
            one.label or opened.name_of(one.station),
        )
        for one in found
    ]  # fmt: skip


def laid_out(kind: PlotKind, at: Sequence[Place], per_place: int) -> list[Plot]:
    """Return the plots without their treatments: whole stations, or so many trays or plants at each place.

    Where there are several places with several plots each, a place is a block.
    """
    if kind == "station":
        per_place = 1
    blocks = len(at) > 1 and per_place > 1
    found: list[Plot] = []
    taken: set[str] = set()
    named: dict[str, int] = {}
    for place in at:
        short = place.name[:28].strip() or kind
        named[short] = named.get(short, 0) + 1
        block = short if named[short] == 1 else f"{short} ({named[short]})"
        for number in range(1, per_place + 1):
            name = block if per_place == 1 else f"{block} {number}"
            while name in taken:
                name = f"{name}'"
            taken.add(name)
            found.append(
                Plot(name=name, kind=kind, treatment="", station=place.station, planting=place.planting,
                     block=block if blocks else "")
            )  # fmt: skip
    return found


def drawn(plots: Sequence[Plot], treatments: Sequence[str], seed: int) -> tuple[Plot, ...]:
    """Return the plots with treatments dealt out at random from `seed`, evenly in each block.

    ValueError in one line for too few plots or treatments.
    """
    from walkabout.insight.trials.assign import assign  # noqa: PLC0415 - only when a trial is set up

    blocks = [one.block for one in plots] if any(one.block for one in plots) else None
    dealt = dict(assign([one.name for one in plots], treatments, blocks, seed).plots)
    return tuple(msgspec.structs.replace(one, treatment=dealt[one.name]) for one in plots)


def power_says(
    counts: str, groups: int, n: int, worth: float | None, spread: float | None
) -> tuple[list[str], int | None]:
    """Say what difference `n` plots a treatment can find, and how many are needed for the one worth finding.

    `worth` and `spread` in per cent of the mean; of a share `worth` is in percentage points. Slow: it loads scipy.
    """
    if counts == "share":
        return _power_of_shares(n, worth)
    from walkabout.insight.trials.power import (  # noqa: PLC0415
        n_for_difference,
        n_for_groups,
        plants,
        smallest_difference,
        smallest_f,
    )

    apart = (2 * groups) ** 0.5
    says, needed = [], None
    if n >= 2:
        d = smallest_difference(n, n) if groups == 2 else smallest_f(groups, n) * apart
        found = f"about {d:.1f} times as much as plots treated alike lie from their mean"
        if spread:
            found = f"about {d * spread:.0f} % of the mean, if plots treated alike lie {spread:g} % from theirs"
        says.append(f"With {n} plots a treatment you can find a difference of {found}.")
    else:
        says.append("With one plot a treatment nothing can be found: nobody can tell the treatment from the plot.")
    if worth and spread:
        d = worth / spread
        needed = plants(n_for_difference(d) if groups == 2 else n_for_groups(d / apart, groups))
        says.append(f"For a difference of {worth:g} % you need {needed} plots a treatment.")
    says.append("A difference that is there is then found 8 times in 10; a smaller one mostly stays hidden.")
    return says, needed


def _power_of_shares(n: int, worth: float | None) -> tuple[list[str], int | None]:
    from walkabout.insight.trials.power import n_for_shares, plants  # noqa: PLC0415

    if not worth or worth >= 100:
        return [f"There are {n} plots a treatment; each seed or plant in them counts by itself."], None
    needed = plants(n_for_shares(0.5 - worth / 200, 0.5 + worth / 200))
    return [
        (
            f"To tell shares apart that differ by {worth:g} percentage points you need about {needed} seeds or plants "
            "a treatment, fewer where nearly all or nearly none do it."
        ),
        "A difference that is there is then found 8 times in 10.",
    ], needed
