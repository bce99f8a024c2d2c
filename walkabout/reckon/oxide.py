"""Reckonings of labels: phosphorus and potassium as oxides, and what they are as elements."""

import re

from walkabout.growing import concentration as of
from walkabout.growing.concentration import Species
from walkabout.reckon.model import Field, Reckoned, Reckoning, Result
from walkabout.reckon.write import number, plainly

WEIGHED = "standard atomic weights of IUPAC (abridged, from memory)"
_LABEL = re.compile(r"(?:NPK\s*)?(\d+(?:\.\d+)?)\s*-\s*(\d+(?:\.\d+)?)\s*-\s*(\d+(?:\.\d+)?)", re.IGNORECASE)
"""N, P2O5 and K2O with dashes between them."""
_TRACES = ("te", "me", "trace elements", "micronutrients")
"""What a label may add that has no number."""


def work_oxide(from_: str | None, to: str | None, percent: float | None, label: str | None, written: str) -> Reckoned:
    """Turn the oxide of a label into the element, or the other way round."""
    if label is not None:
        if from_ is not None or to is not None or percent is not None:
            raise ValueError("write a label (label=13-0-46) or from= and percent=, not both")
        return _label(label, by_element=written == "elements")
    if from_ is None:
        raise ValueError("write from=P2O5 percent=20, or a whole label: label=13-0-46")
    this = of.species(from_)
    other = of.species(to) if to else _usual(this)
    ratio = of.mass_ratio(this, other)
    share = 100.0 if percent is None else percent
    lines = [f"taken: percent = {plainly(share)} %"] if percent is None else []
    lines.append(f"{this.name} to {other.name}: {_atoms(this, other)} = {number(ratio, 4)}")
    lines.append(f"{plainly(share)} % {this.name} × {number(ratio, 4)} = {number(share * ratio, 2)} % {other.name}")
    says = [f"{plainly(share)} % {this.name} is the same as {number(share * ratio, 2)} % {other.name}."]
    if this.charge is None and this.name != this.element:
        says.append("Labels often count nutrients as oxides: mg/L in a feed are of the element.")
    return Reckoned(
        results={
            other.name.casefold().replace("-", "_"): Result(share * ratio, "%", 2, f"{this.name} as {other.name}"),
            "factor": Result(ratio, "", 4, f"g {other.name} in 1 g {this.name}"),
        },
        says=tuple(says),
        working=tuple(lines),
        source=f"mass ratios, {WEIGHED}",
    )


def _label(label: str, *, by_element: bool) -> Reckoned:
    """Read the three numbers of a label, and what stands behind a plus."""
    found: dict[str, float] = {}
    results: dict[str, Result] = {}
    lines: list[str] = ["taken: P and K are written as oxides"] if not by_element else []
    for name, value in _label_parts(label, by_element=by_element):
        one = of.species(name)
        element = of.every()[one.element]
        ratio = of.mass_ratio(one, element)
        if element.name in found:
            raise ValueError(f"'{label}' names {element.name} twice")
        found[element.name] = value * ratio
        results[element.name.casefold()] = Result(value * ratio, "%", 2, element.name)
        step = f" {one.name} × {number(ratio, 4)} = {number(value * ratio, 2)} %" if one != element else ""
        lines.append(f"{plainly(value)} %{step} {element.name}")
    if sum(found.values()) > 100:
        raise ValueError(f"'{label}' adds up to more than 100 %: no bag holds that")
    for symbol in ("P", "K"):
        oxide = of.species(of.oxide_of(symbol))
        share = found[symbol] * of.mass_ratio(of.species(symbol), oxide)
        results[oxide.name.casefold()] = Result(share, "%", 2, f"{symbol} as {oxide.name}")
    told = ", ".join(f"{number(value, 1)} g {symbol}" for symbol, value in found.items() if value)
    if not told:
        raise ValueError(f"'{label}' holds nothing: write N, P2O5 and K2O as 13-0-46")
    return Reckoned(
        results=results,
        says=(
            f"100 g of it hold {told}.",
            "Here P and K of the label are elements; most labels count them as oxides."
            if by_element
            else "Most labels count P and K as oxides; where yours says elements, write written=elements.",
        ),
        working=tuple(lines),
        source=f"mass ratios, {WEIGHED}; order N, P2O5, K2O: common practice of fertiliser labels",
    )


def _label_parts(label: str, *, by_element: bool) -> list[tuple[str, float]]:
    text = label.replace("–", "-").replace("−", "-").replace(":", "-").replace(",", ".")
    head, *rest = re.split(r"\s*\+\s*", text.strip())
    numbers = _LABEL.fullmatch(head)
    if not numbers:
        raise ValueError(f"'{label}' is no label: write N, P2O5 and K2O as 13-0-46")
    names = ("N", "P", "K") if by_element else ("N", "P2O5", "K2O")
    parts = [(name, float(numbers[at + 1])) for at, name in enumerate(names)]
    for more in (one for one in rest if one.casefold() not in _TRACES):
        also = re.fullmatch(r"(\d+(?:\.\d+)?)\s*%?\s*([A-Za-z]\w*)", more)
        if not also:
            raise ValueError(f"'{more}' in the label is not clear: write it as +2MgO")
        parts.append((also[2], float(also[1])))
    return parts


def _usual(one: Species) -> Species:
    """Return what it is turned into when nothing is said: an element into its oxide, all else into the element."""
    if one.name != one.element:
        return of.every()[one.element]
    try:
        return of.species(of.oxide_of(one.name))
    except KeyError:
        raise ValueError(f"labels count {one.name} as it is: write to= as well") from None


def _atoms(this: Species, other: Species) -> str:
    count = of.counted_as(1.0, this, other)
    many = "" if count == 1 else f"{plainly(count)} × "
    return f"{many}{number(other.mass, 2)} ÷ {number(this.mass, 2)}"


RECKONINGS = (
    Reckoning(
        name="oxide",
        subject="solution",
        title="Oxides on a label",
        about="Bags count phosphorus and potassium as oxides, recipes as elements. This turns one into the other.",
        fields=(
            Field(
                key="from",
                says="what the label counts",
                kind="text",
                needed=False,
                others=("of", "oxide"),
                note="P2O5, K2O, CaO, MgO, SO3, or an element",
            ),
            Field(
                key="to",
                says="what is wanted",
                kind="text",
                needed=False,
                others=("as", "element", "want"),
                note="the element (or its oxide) when nothing is said",
            ),
            Field(
                key="percent",
                says="how much of it",
                unit="%",
                low=0,
                high=100,
                needed=False,
                others=("amount", "value", "share"),
            ),
            Field(
                key="label",
                says="a whole label",
                kind="text",
                needed=False,
                others=("npk", "grade", "analysis"),
                note="N-P2O5-K2O, and more behind a plus: 13-0-46, 15.5-0-0+19Ca",
            ),
            Field(
                key="written",
                says="P and K on the label are",
                kind="word",
                words=("oxides", "elements"),
                default="oxides",
                others=("written_as", "basis"),
            ),
        ),
        work=work_oxide,
        example="from=P2O5 percent=20 to=P",
        others=("oxides", "bag-label", "npk", "oxide-to-element"),
    ),
)
