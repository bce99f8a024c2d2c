"""Reckonings of a lamp's distance: how much light is left further away, and where there is so much."""

from walkabout.growing import distance as of
from walkabout.growing.units import LUX_PER_FOOTCANDLE
from walkabout.reckon.distance_board import FORMULA, SHARE, carried_line, share_line, share_lines
from walkabout.reckon.in_full import in_full
from walkabout.reckon.light import lux_read
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result, ToDo
from walkabout.reckon.which_lamp import which_face
from walkabout.reckon.write import amount, number

SOURCE = (
    "photometric distance law: CIE e-ILV 17-25-104; lamps with a size: closed forms for an evenly bright face that "
    "shines by Lambert's law; five-times rule: IES"
)
HANGING = (
    "Hanging a lamp is an adult's work: off at the plug, cooled down, no ladder for pupils, by local rules and the "
    "employer's risk assessment; nobody looks into a lamp that is lit."
)
CLOSE = 15.0
"""cm: nearer than this lamps warm leaves and hands. Assumed."""
FULL_SUN = {"µmol/m²/s": 2000.0, "lx": 108_000.0}
"""The light of full sun: the table of a maker of quantum sensors."""
SCORCH = (
    "So near, or so bright, a lamp can scorch leaves, burn hands and dazzle: an adult tries it, feels how warm it gets "
    "at the leaves first and stays within the maker's instructions and local rules."
)
_BARE = "It holds straight below the middle. Walls, reflectors and other lamps add light: read again when it is done."


def work_distance(
    ppfd: float | None,
    from_: float,
    to: float,
    shape: str | None,
    width: float | None,
    length: float | None,
    diameter: float | None,
    lux: float | None,
    fc: float | None,
) -> Reckoned:
    """Carry a reading from one distance to another."""
    light, unit, name, turned = _reading(ppfd, lux, fc)
    face, taken = which_face(shape, width, length, diameter)
    there = of.carried(light, from_, to, face)
    point = of.carried(light, from_, to, of.Face())
    change = 100 * (there / light - 1) if light > 0 else 0.0
    results = {name: Result(there, unit, 1, "light there")}
    lines = [*turned, *([taken] if taken else [])]
    if unit == "lx":
        candles = {"footcandles": Result(there / LUX_PER_FOOTCANDLE, "fc", 1, "light there, in foot-candles")}
        results = candles | results if fc is not None else results | candles
    step = f"{in_full(light)} × ({in_full(from_)} ÷ {in_full(to)})²"
    read = f"{amount(light, unit)} was read at {amount(from_, 'cm')}"
    says = [f"{amount(there, unit, 0)} at {amount(to, 'cm')}, where {read}."]
    if face.shape == "point":
        lines.append(f"E₂ = E₁ × (d₁ ÷ d₂)² = {step} = {amount(there, unit, 1)}")
        says.append("A lamp with a size thins out more slowly close by: give its shape and size.")
    else:
        lines += [*share_lines(face, from_, to), carried_line(step, face, from_, to, there, unit),
                  f"as a point: {step} = {amount(point, unit, 1)}"]  # fmt: skip
        results["as_point"] = Result(point, unit, 1, "if the lamp were a point")
        error = 100 * (point / there - 1) if there > 0 else 0.0
        results["point_error"] = Result(error, "%", 1, "so wrong is it as a point")
        results["short_from"] = Result(short(face, from_), "%", 2, f"against a point, at {amount(from_, 'cm')}")
        results["short_to"] = Result(short(face, to), "%", 2, f"against a point, at {amount(to, 'cm')}")
        says.append(_rule(face, min(from_, to), results, lines))
    if unit == "lx":
        candles_there = amount(there / LUX_PER_FOOTCANDLE, "fc", 1)
        lines.append(f"foot-candles = {in_full(there)} ÷ {in_full(LUX_PER_FOOTCANDLE)} = {candles_there}")
    results["change"] = Result(change, "%", 1, "change of the light")
    return Reckoned(
        results=results,
        working=tuple(lines),
        source=SOURCE,
        says=(*_too_bright(there, unit), *says, _BARE),
        cautions=_minding(to, there, unit),
    )


def work_distance_for(
    ppfd: float | None,
    from_: float,
    wanted: float | None,
    shape: str | None,
    width: float | None,
    length: float | None,
    diameter: float | None,
    lux: float | None,
    wanted_lux: float | None,
    fc: float | None,
    wanted_fc: float | None,
) -> Reckoned:
    """Find the distance at which there is so much light."""
    light, unit, _, turned = _reading(ppfd, lux, fc)
    if wanted_lux is not None or wanted_fc is not None:
        wanted_lux, more = lux_read(wanted_lux, wanted_fc)
        turned += tuple(f"wanted: {line}" for line in more)
    aim, other = (wanted, wanted_lux) if ppfd is not None else (wanted_lux, wanted)
    if aim is None or other is not None:
        raise ValueError("give wanted= with ppfd=, or wanted_lux= (wanted_fc=) with a reading in lux= (fc=)")
    if light == 0 or aim == 0:
        raise ValueError("both the reading and the light that is wanted must be more than nothing")
    face, taken = which_face(shape, width, length, diameter)
    found = of.distance_for(light, from_, aim, face)
    lines = [*turned, *([taken] if taken else [])]
    results = {"distance": Result(found, "cm", 1, "from lamp to leaves")}
    if face.shape == "point":
        root = f"√({in_full(light)} ÷ {in_full(aim)})"
        lines.append(f"d₂ = d₁ × √(E₁ ÷ E₂) = {in_full(from_)} × {root} = {amount(found, 'cm', 1)}")
    else:
        tried = round(found, 2)
        there = of.carried(light, from_, tried, face)
        step = f"{in_full(light)} × ({in_full(from_)} ÷ {in_full(tried)})²"
        lines += ["tried one distance after another, halving the gap, until it fits:",
                  *share_lines(face, from_, tried),
                  carried_line(step, face, from_, tried, there, unit)]  # fmt: skip
        _rule(face, min(from_, found), results, lines)
    return Reckoned(
        results=results,
        working=tuple(lines),
        source=SOURCE,
        says=(
            *_too_bright(aim, unit),
            f"{amount(aim, unit)} falls {amount(found, 'cm', 0)} from the lamp.",
            _BARE,
        ),
        cautions=_minding(found, aim, unit),
        do=None
        if aim > FULL_SUN[unit]
        else ToDo(what=f"Hang the lamp {amount(found, 'cm', 0)} above the leaves", who="adult", caution=HANGING),
    )


def _minding(distance: float, light: float, unit: str) -> tuple[str, ...]:
    """Return what to mind when a lamp is moved to a distance, cm, at which there is so much light."""
    return (SCORCH, HANGING) if distance < CLOSE or light > FULL_SUN[unit] else (HANGING,)


def _too_bright(light: float, unit: str) -> tuple[str, ...]:
    """Say so where there is more light than any plant ever gets."""
    sun = FULL_SUN[unit]
    return (f"That is more than full sun (about {amount(sun, unit)}): do not hang it so near.",) if light > sun else ()


def work_five_times(
    shape: str | None, width: float | None, length: float | None, diameter: float | None, distance: float
) -> Reckoned:
    """Say whether a lamp may be taken for a point."""
    face, taken = which_face(shape, width, length, diameter)
    if face.shape == "point":
        raise ValueError("give the lamp's shape (tube, panel or disc) and its width= or length=, in cm")
    off, ratio = short(face, distance), distance / face.largest
    results = {"difference": Result(off, "%", 2, "light against a point lamp")}
    lines = [*([taken] if taken else []), *FORMULA[face.shape], share_line(face, distance)]
    lines.append(f"difference = 100 × ({number(of.seen(face, distance), SHARE)} − 1) = {amount(off, '%', 2)}")
    says = _rule(face, distance, results, lines)
    results["ratio"] = Result(ratio, "", 2, "distance over largest dimension")
    results["enough_at"] = Result(of.RULE * face.largest, "cm", 1, "five times is")
    told = f"At {amount(distance, 'cm')} there is {number(abs(off), 1)} % less light than the inverse square law says."
    return Reckoned(results=results, working=tuple(lines), source=SOURCE, says=(told, says))


def short(face: of.Face, distance: float) -> float:
    """Return by how much, %, the light is short of what the same lamp, as a point, would give; never above zero."""
    return 100 * (of.seen(face, distance) - 1)


def _rule(face: of.Face, nearest: float, results: dict[str, Result], lines: list[str]) -> str:
    """Hold the nearer distance against the five-times rule; return what that means."""
    enough = of.far_enough(face, nearest)
    verdict = "like a point" if enough else "too near for a point"
    results["verdict"] = Result(verdict, says="is it small and far enough?")
    sign = "≥" if enough else "<"
    five = f"5 × {in_full(face.largest)} = {in_full(of.RULE * face.largest, 'cm')}"
    lines.append(f"{in_full(nearest)} cm {sign} {five}, five times its size")
    if enough:
        return "So far away the lamp is like a point: light falls with the square of the distance, within 1 %."
    return "Nearer than five times the lamp's size the inverse square law does not hold: the lamp's own shape counts."


def _reading(ppfd: float | None, lux: float | None, fc: float | None) -> tuple[float, str, str, tuple[str, ...]]:
    """Return the reading, its unit, its name and the line that turns it out of foot-candles; raises ValueError."""
    if sum(one is not None for one in (ppfd, lux, fc)) != 1:
        raise ValueError("give the reading, either ppfd= in µmol/m²/s or lux= in lx (fc= in foot-candles)")
    if ppfd is not None:
        return ppfd, "µmol/m²/s", "ppfd", ()
    light, turned = lux_read(lux, fc)
    return light, "lx", "lux", turned


def _cm(key: str, says: str, *others: str, starts: str = "") -> Field:
    return Field(key=key, says=says, unit="cm", low=0.1, high=10_000, needed=False, others=others, starts=starts)


_FACE = (
    Field(
        key="shape", says="shape of the lamp", kind="text", words=of.SHAPES, needed=False,
        others=("lamp_shape", "form", "source_shape", "fixture"),
    ),
    _cm("width", "width of its lit face", "size", "side", "w", starts="width"),
    _cm("length", "length of its lit face", "l", "tube_length", starts="length"),
    _cm("diameter", "or the diameter of a round one", "dia"),
)  # fmt: skip
_READING = Field(
    key="ppfd", says="light that was read", unit="µmol/m²/s", low=0, high=100_000, needed=False,
    others=("light", "reading", "e1", "ppfd_from"), starts="PPFD",
)  # fmt: skip
_LUX = Field(
    key="lux", says="or the reading of a lux meter", unit="lx", low=0, high=1e7, needed=False,
    others=("illuminance", "e"),
)  # fmt: skip
_FC = Field(
    key="fc", says="or that in foot-candles", unit="fc", low=0, high=1e6, needed=False,
    others=("footcandles", "footcandle", "foot_candles"),
)  # fmt: skip
_FROM = Field(
    key="from", says="distance at which it was read", unit="cm", low=0.1, high=10_000, starts="gap",
    others=("d1", "at", "near", "from_distance", "distance_from", "read_at"),
)  # fmt: skip

RECKONINGS = (
    Reckoning(
        name="distance",
        subject="light",
        title="Light further away",
        about="How much light is left when the lamp hangs higher or lower. A lamp with a size thins out more slowly.",
        fields=(
            _READING,
            _FROM,
            Field(
                key="to", says="the other distance", unit="cm", low=0.1, high=10_000,
                others=("d2", "far", "to_distance", "distance", "distance_to", "new_distance"),
            ),
            *_FACE,
            _LUX,
            _FC,
        ),
        work=work_distance,
        example="ppfd=400 from=30 to=60",
        others=("inverse-square", "light-at-distance", "lamp-distance", "inverse-square-law", "light-distance"),
    ),
    Reckoning(
        name="distance-for",
        subject="light",
        title="How high to hang a lamp",
        about="At which distance there is as much light as you want, from one reading below the lamp.",
        fields=(
            _READING,
            _FROM,
            Field(
                key="wanted", says="light wanted", unit="µmol/m²/s", low=0, high=100_000, needed=False,
                others=("want", "target", "for", "wanted_ppfd", "e2"),
            ),
            *_FACE,
            _LUX,
            Field(
                key="wanted_lux", says="light wanted, as lux", unit="lx", low=0, high=1e7, needed=False,
                others=("target_lux",),
            ),
            _FC,
            Field(
                key="wanted_fc", says="light wanted, as foot-candles", unit="fc", low=0, high=1e6, needed=False,
                others=("target_fc", "wanted_footcandles"),
            ),
        ),
        work=work_distance_for,
        example="ppfd=400 from=30 wanted=200 shape=panel width=40 length=40",
        others=("hang", "lamp-height", "hang-height", "hanging-height", "height-for"),
    ),
    Reckoning(
        name="five-times",
        subject="light",
        title="A lamp taken as a point",
        about="The inverse square law is for small lamps far away. How wrong it is for this lamp, at this distance.",
        fields=(
            *_FACE,
            Field(
                key="distance", says="distance from the lamp", unit="cm", low=0.1, high=100_000, starts="gap",
                others=("d", "at", "gap", "from"),
            ),
        ),
        work=work_five_times,
        example="shape=disc width=30 distance=60",
        others=("five-times-rule", "near-field", "point-source", "inverse-square-error", "far-field"),
    ),
)  # fmt: skip
