"""Reckonings of a lamp's distance: how much light is left further away, and where there is so much."""

from walkabout.growing import distance as of
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result, ToDo
from walkabout.reckon.which_lamp import which_face
from walkabout.reckon.write import amount, digits, number, plainly

SOURCE = (
    "photometric distance law: CIE e-ILV 17-25-104; lamps with a size: closed forms for an evenly bright face that "
    "shines by Lambert's law; five-times rule: IES"
)
HANGING = (
    "Hanging a lamp is an adult's work: off at the plug, cooled down, no ladder for pupils, by local rules and the "
    "employer's risk assessment; nobody looks into a lamp that is lit."
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
) -> Reckoned:
    """Carry a reading from one distance to another."""
    light, unit, name = _reading(ppfd, lux)
    face, taken = which_face(shape, width, length, diameter)
    there = of.carried(light, from_, to, face)
    point = of.carried(light, from_, to, of.Face())
    change = 100 * (there / light - 1) if light > 0 else 0.0
    results = {name: Result(there, unit, 1, "light there")}
    lines = [taken] if taken else []
    step = f"{plainly(light)} × ({plainly(from_)} ÷ {plainly(to)})²"
    read = f"{amount(light, unit)} was read at {amount(from_, 'cm')}"
    says = [f"{amount(there, unit, 0)} at {amount(to, 'cm')}, where {read}."]
    if face.shape == "point":
        lines.append(f"E₂ = E₁ × (d₁ ÷ d₂)² = {step} = {amount(there, unit, 1)}")
        says.append("A lamp with a size thins out more slowly close by: give its shape and size.")
    else:
        lines += [*share_lines(face, from_, to), _carried_line(step, face, from_, to, there, unit),
                  f"as a point it would be {step} = {amount(point, unit, 1)}"]  # fmt: skip
        results["as_point"] = Result(point, unit, 1, "if the lamp were a point")
        results["point_error"] = Result(100 * (point / there - 1) if there > 0 else 0.0, "%", 1, "error of that")
        results["short_from"] = Result(short(face, from_), "%", 2, f"against a far lamp, at {amount(from_, 'cm')}")
        results["short_to"] = Result(short(face, to), "%", 2, f"against a far lamp, at {amount(to, 'cm')}")
        says.append(_rule(face, min(from_, to), results, lines))
    results["change"] = Result(change, "%", 1, "change of the light")
    return Reckoned(results=results, working=tuple(lines), source=SOURCE, says=(*says, _BARE))


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
) -> Reckoned:
    """Find the distance at which there is so much light."""
    light, unit, _ = _reading(ppfd, lux)
    aim, other = (wanted, wanted_lux) if ppfd is not None else (wanted_lux, wanted)
    if aim is None or other is not None:
        raise ValueError("give wanted= with a reading in ppfd=, or wanted_lux= with a reading in lux=")
    if light == 0 or aim == 0:
        raise ValueError("both the reading and the light that is wanted must be more than nothing")
    face, taken = which_face(shape, width, length, diameter)
    found = of.distance_for(light, from_, aim, face)
    lines = [taken] if taken else []
    results = {"distance": Result(found, "cm", 1, "from lamp to leaves")}
    if face.shape == "point":
        root = f"√({plainly(light)} ÷ {plainly(aim)})"
        lines.append(f"d₂ = d₁ × √(E₁ ÷ E₂) = {plainly(from_)} × {root} = {amount(found, 'cm', 1)}")
    else:
        step = f"{plainly(light)} × ({plainly(from_)} ÷ {number(found, 1)})²"
        lines += ["tried one distance after another, halving the gap, until it fits:",
                  *share_lines(face, from_, found),
                  _carried_line(step, face, from_, found, aim, unit)]  # fmt: skip
        _rule(face, min(from_, found), results, lines)
    return Reckoned(
        results=results,
        working=tuple(lines),
        source=SOURCE,
        says=(f"{amount(aim, unit)} falls {amount(found, 'cm', 0)} from the lamp.", _BARE),
        cautions=(HANGING,),
        do=ToDo(what=f"Hang the lamp {amount(found, 'cm', 0)} above the leaves", who="adult", caution=HANGING),
    )


def work_five_times(
    shape: str | None, width: float | None, length: float | None, diameter: float | None, distance: float
) -> Reckoned:
    """Say whether a lamp may be taken for a point."""
    face, taken = which_face(shape, width, length, diameter)
    if face.shape == "point":
        raise ValueError("give the lamp's shape (tube, panel or disc) and its width= or length=, in cm")
    off, ratio = short(face, distance), distance / face.largest
    results = {"difference": Result(off, "%", 2, "light against a point lamp")}
    lines = [*([taken] if taken else []), share_line(face, distance)]
    lines.append(f"difference = 100 × ({number(of.seen(face, distance), 5)} − 1) = {amount(off, '%', 2)}")
    says = _rule(face, distance, results, lines)
    results["ratio"] = Result(ratio, "", 2, "distance over largest dimension")
    results["enough_at"] = Result(of.RULE * face.largest, "cm", 1, "five times is")
    told = f"At {amount(distance, 'cm')} there is {number(abs(off), 1)} % less light than the inverse square law says."
    return Reckoned(results=results, working=tuple(lines), source=SOURCE, says=(told, says))


def short(face: of.Face, distance: float) -> float:
    """Return by how much, %, the light is short of what the same lamp, as a point, would give; never above zero."""
    return 100 * (of.seen(face, distance) - 1)


def share_line(face: of.Face, distance: float) -> str:
    """Write how much of a point's light a lamp gives at a distance."""
    d, share = plainly(round(distance, 1)), number(of.seen(face, distance), 5)
    if face.shape == "disc":
        return f"at {d} cm: share = 1 ÷ (1 + ({plainly(face.width / 2)} ÷ {d})²) = {share}"
    if face.shape == "tube":
        x = f"x = {plainly(face.length / 2)} ÷ {d}"
        return f"at {d} cm: {x}: share = ½ × [1 ÷ (1 + x²) + arctan(x) ÷ x] = {share}"
    a, b = plainly(face.width / 2), plainly(face.length / 2)
    return f"at {d} cm: A = {a}, B = {b}, d = {d}: share = {share}"


def share_lines(face: of.Face, from_: float, to: float) -> tuple[str, ...]:
    """Write the shares at two distances; a panel's formula first."""
    formula = (
        "share = [A/√(A²+d²) × arctan(B/√(A²+d²)) + B/√(B²+d²) × arctan(A/√(B²+d²))]",
        "        × d² ÷ (2 A B), with A and B the half sides",
    )
    lines = ("share: of what a point would give", share_line(face, from_), share_line(face, to))
    return (*formula, *lines) if face.shape == "panel" else lines


def _carried_line(step: str, face: of.Face, from_: float, to: float, there: float, unit: str) -> str:
    shares = f"{number(of.seen(face, to), 5)} ÷ {number(of.seen(face, from_), 5)}"
    return f"E₂ = {step} × {shares} = {digits(there, 4)} {unit}"


def _rule(face: of.Face, nearest: float, results: dict[str, Result], lines: list[str]) -> str:
    """Hold the nearer distance against the five-times rule; return what that means."""
    enough = of.far_enough(face, nearest)
    verdict = "like a point" if enough else "too near for a point"
    results["verdict"] = Result(verdict, says="five-times rule")
    sign = "≥" if enough else "<"
    five = f"5 × {plainly(face.largest)} = {amount(of.RULE * face.largest, 'cm')}"
    lines.append(f"{plainly(round(nearest, 1))} cm {sign} {five}, five times its largest dimension")
    if enough:
        return "So far away the lamp is like a point: light falls with the square of the distance, within 1 %."
    return "Nearer than five times the lamp's size the inverse square law does not hold: the lamp's own shape counts."


def _reading(ppfd: float | None, lux: float | None) -> tuple[float, str, str]:
    if (ppfd is None) == (lux is None):
        raise ValueError("give the reading, either ppfd= in µmol/m²/s or lux= in lx")
    return (ppfd, "µmol/m²/s", "ppfd") if ppfd is not None else (lux or 0.0, "lx", "lux")


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
    others=("illuminance", "e"), note="or foot-candles: 600fc",
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
        ),
        work=work_distance_for,
        example="ppfd=400 from=30 wanted=200 shape=panel width=40 length=40",
        others=("hang", "lamp-height", "hang-height", "hanging-height", "height-for"),
    ),
    Reckoning(
        name="five-times",
        subject="light",
        title="Is the lamp like a point?",
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
