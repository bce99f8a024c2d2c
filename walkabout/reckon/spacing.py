"""Reckoning of room: how many plants stand on an area, in rows, square or triangular."""

from walkabout.growing import spacing as of
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result
from walkabout.reckon.which_crop import MAYBE_CROP, sources, which_crop
from walkabout.reckon.write import amount, number, plainly

PATTERNS: dict[str, of.Pattern] = {
    "square": "square",
    "triangle": "triangle",
    "triangular": "triangle",
    "staggered": "triangle",
    "offset": "triangle",
}


def work_spacing(
    crop: str | None,
    spacing: float | None,
    rows: float | None,
    area: float | None,
    plants: float | None,
    density: float | None,
    pattern: str,
    length: float | None,
    width: float | None,
) -> Reckoned:
    """Work out how many plants fit, or how far apart they have to stand."""
    way = PATTERNS[pattern]
    if plants is not None and plants != int(plants):
        raise ValueError(f"plants are counted in whole ones: write {int(plants) + 1}, not {plainly(plants)}")
    if (length is None) != (width is None):
        raise ValueError("give both length= and width= of the tray, in cm")
    if rows is not None and way == "triangle":
        raise ValueError("in a triangular pattern the rows follow from the spacing: leave rows= out")
    lines: list[str] = []
    if length is not None and width is not None:
        area = _tray_area(length, width, area, lines)
    found_in = ["plain geometry"]
    if spacing is None and density is None and crop is not None:
        one = which_crop(crop)
        spacing = one.spacing.value
        found_in.append(one.spacing.source)
        lines.append(f"taken: spacing = {amount(spacing, 'cm')}, {one.name} ({one.spacing.source})")
    given = spacing is not None
    if spacing is None:
        spacing = _from_density(density, area, plants, way, lines)
    elif density is not None:
        raise ValueError("give spacing= or density=, not both")
    between = of.row_distance(spacing, way) if rows is None else rows
    per_m2 = of.density(spacing, between)
    if way == "triangle":
        lines.append(f"rows = spacing × √3 ÷ 2 = {plainly(spacing)} × 0.8660 = {amount(between, 'cm')}")
    product = f"({plainly(spacing)} × {plainly(between)})"
    lines.append(f"plants/m² = 10000 ÷ (spacing × rows) = 10000 ÷ {product} = {number(per_m2, 1)}")
    apart = Result(spacing, "cm", 1, "between plants in the row")
    results = {} if given else {"spacing": apart}
    results |= {
        "density": Result(per_m2, "plants/m²", 1, "plants on a square metre"),
        "spacing": apart,
        "rows": Result(between, "cm", 1, "between rows"),
        "room": Result(spacing * between / of.CM2, "m²", 4, "for each plant"),
    }
    says = [f"One plant every {amount(spacing, 'cm', 1)}, rows {amount(between, 'cm', 1)} apart."]
    if area is not None:
        says.insert(0, _fit(area, per_m2, plants, (length, width, spacing, between), way, results, lines))
    if plants is not None:
        need = plants / per_m2
        results["area_needed"] = Result(need, "m²", 2, "for so many plants")
        lines.append(f"room for all = {plainly(plants)} plants ÷ {plainly(per_m2)} = {amount(need, 'm²', 2)}")
        if area is None:
            says.insert(0, f"{plainly(plants)} plants need {amount(need, 'm²', 2)}.")
    if given and area is not None:
        results = {"plants": results["plants"], **results}
    return Reckoned(results=results, working=tuple(lines), says=tuple(says), source=sources(*found_in))


def _tray_area(length: float, width: float, area: float | None, lines: list[str]) -> float:
    if area is not None:
        raise ValueError("give area= or the tray's length= and width=, not both")
    found = length * width / of.CM2
    lines.append(f"area = {plainly(length)} cm × {plainly(width)} cm ÷ 10000 = {amount(found, 'm²')}")
    return found


def _from_density(
    density: float | None, area: float | None, plants: float | None, way: of.Pattern, lines: list[str]
) -> float:
    if density is None:
        if area is None or plants is None:
            raise ValueError("give spacing=, density= or crop=; or area= and plants= to find the spacing")
        density = plants / area
        lines.append(f"plants/m² = {plainly(plants)} ÷ {plainly(area)} = {number(density, 1)}")
    spacing = of.spacing_for(density, way)
    shape = f"({plainly(density)} × 0.8660)" if way == "triangle" else plainly(density)
    lines.append(f"spacing = √(10000 ÷ {shape}) = {amount(spacing, 'cm', 1)}")
    return spacing


def _fit(
    area: float,
    per_m2: float,
    plants: float | None,
    tray: tuple[float | None, float | None, float, float],
    way: of.Pattern,
    results: dict[str, Result],
    lines: list[str],
) -> str:
    length, width, spacing, between = tray
    if length is not None and width is not None:
        count = of.fit_tray(length, width, spacing, between, way)
        lines.append(f"whole rows and places, half a space from the edges: {count} plants")
    else:
        count = of.fit_area(area, per_m2)
        lines.append(f"plants = {plainly(area)} m² × {plainly(per_m2)} = {plainly(area * per_m2)}: {count} whole ones")
    results["plants"] = Result(float(count), "", 0, "plants that fit")
    if plants is None:
        return f"{count} plant{'s' if count != 1 else ''} fit{'s' if count == 1 else ''}."
    fits = plants <= count
    results["verdict"] = Result("fits" if fits else "too many", says="the plants wanted")
    return (
        f"{plainly(plants)} plants fit: there is room for {count}."
        if fits
        else f"{plainly(plants)} are too many: {count} fit. Use more room, or pick every second one young."
    )


def _cm(key: str, says: str, *others: str, note: str = "") -> Field:
    return Field(key=key, says=says, unit="cm", low=0.1, high=10_000, needed=False, others=others, note=note)


RECKONINGS = (
    Reckoning(
        name="spacing",
        subject="growth",
        title="Room for each plant",
        about="How many plants stand on a square metre or in a tray, or how far apart so many have to stand.",
        fields=(
            MAYBE_CROP,
            _cm("spacing", "distance between plants", "apart", "distance"),
            _cm("rows", "distance between rows", "row", "between_rows", note="as between plants when not given"),
            Field(key="area", says="area", unit="m²", low=0.0001, high=100_000, needed=False, others=("a",)),
            Field(
                key="plants", says="number of plants", low=1, high=1_000_000, needed=False,
                others=("n", "count", "number"), starts="plants",
            ),
            Field(
                key="density", says="plants on a square metre", unit="plants/m²", low=0.01, high=1e6, needed=False,
                others=("per_m2", "plants_per_m2", "plants_m2"),
            ),
            Field(
                key="pattern", says="square or triangular", kind="word", words=tuple(PATTERNS), default="square",
                others=("layout", "shape"),
            ),
            _cm("length", "length of the tray", "tray_length"),
            _cm("width", "width of the tray", "tray_width"),
        ),
        work=work_spacing,
        example="crop=lettuce area=1.2",
        others=("plants-per-area", "plant-spacing", "plant-density"),
    ),
)  # fmt: skip
