"""An acid by the equivalents that it brings, for arithmetic that asks for no pH."""

from msgspec import Struct

from walkabout.growing import acid as of
from walkabout.growing.acid import Substance
from walkabout.reckon import acid_bottle as held
from walkabout.reckon.acid_bottle import Bottle
from walkabout.reckon.model import Field, Result
from walkabout.reckon.write import plainly

SOURCE = "arithmetic with atomic weights (IUPAC): 1 meq is 50.04 mg of CaCO3"
LIKELY_CORROSIVE = 0.8
"""eq/L from which an acid of unknown name is taken to be corrosive: where nitric acid is (CLP)."""

ACID = Field(
    key="acid",
    says="which acid",
    kind="text",
    words=held.ACIDS,
    needed=False,
    starts="acid",
    others=("kind", "which", "substance"),
    note="not needed when the strength is in N",
)


class Counted(Struct, frozen=True):
    """An acid that brings so many eq/L."""

    kind: Substance | None
    """None when only its normality is known."""
    bottle: Bottle
    each: float
    """eq for one mol."""
    eq: float
    """eq/L"""

    @property
    def said(self) -> str:
        """Return what it is: 'nitric acid (67 %)'."""
        return f"{of.said(self.kind)} ({self.bottle.said})" if self.kind else f"acid ({self.bottle.said})"

    @property
    def strong(self) -> bool:
        """Say whether it is corrosive, or likely to be."""
        return self.bottle.dangerous(self.kind) if self.kind else self.eq >= LIKELY_CORROSIVE

    @property
    def cautions(self) -> tuple[str, ...]:
        """Return the cautions for it."""
        if self.kind:
            return (*self.bottle.cautions(self.kind), held.INTO_WATER, held.NO_BLEACH)
        lines = ((held.CORROSIVE, self.strong), (held.UNNAMED, self.eq >= held.UNNAMED_FROM))
        return (*(line for line, holds in lines if holds), held.INTO_WATER, held.NO_BLEACH)

    @property
    def source(self) -> str:
        """Return where its figures come from."""
        return f"{SOURCE}; {held.HANDBOOK}" if self.bottle.said.endswith("%") else SOURCE

    def lines(self) -> list[str]:
        """Return how its eq/L come about."""
        if self.kind is None or self.bottle.said.endswith(" N"):
            return []
        lines = list(self.bottle.lines)
        if self.each != 1:
            lines.append(f"{plainly(self.bottle.mol)} mol/L × {self.each:g} eq/mol = {plainly(self.eq)} eq/L")
        if self.kind in ("phosphoric", "citric"):
            lines.append(f"taken: one mol of {of.said(self.kind)} = {self.each:g} eq, as near pH 6")
        return lines

    def brings(self, meq: float) -> dict[str, Result]:
        """Return the nutrient that so many meq/L bring."""
        return held.brought(self.kind, meq / self.each) if self.kind else {}


def counted(
    acid: str | None, strength: float | None, percent: float | None, density: float | None, normality: float | None
) -> Counted:
    """Return what the fields of an acid say together; raises ValueError when they say too little or two things."""
    kind = held.known(acid) if acid else None
    if kind is None and normality is None:
        raise ValueError("which acid, and how strong? Give acid and strength or percent, or the normality alone")
    each = of.NEAR_SIX[kind] if kind else 1.0
    bottle = held.bottle(kind, strength, percent, density, normality, each)
    if bottle is None:
        raise ValueError("how strong is the acid? Give strength in mol/L, or percent, or normality")
    return Counted(kind, bottle, each, normality if normality is not None else bottle.mol * each)
