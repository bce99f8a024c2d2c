"""One column of an exported table."""

from msgspec import Struct


class Column(Struct, frozen=True):
    """A column: its name (with the unit where all its numbers share one), what it means, the field it comes from."""

    name: str
    says: str
    unit: str = ""
    field: str = ""
    """The struct's field, where that is called otherwise."""
    code: bool = False
    """It holds a person's code and nothing else."""
    typed: bool = False
    """It holds what somebody typed: a code may stand in it as a word."""
    said: bool = False
    """It holds a sentence of the program's own in which a code may stand as a word."""

    named: bool = False
    """It holds the name of a plot, a treatment or a kind, which is the same in every table: a code may stand in it."""

    @property
    def source(self) -> str:
        """The struct's field."""
        return self.field or self.name


def code(name: str, says: str) -> Column:
    """Return a column of people's codes."""
    return Column(name, says, code=True)


def typed(name: str, says: str) -> Column:
    """Return a column of what people typed."""
    return Column(name, says, typed=True)


def named(name: str, says: str, field: str = "") -> Column:
    """Return a column of names that people gave to plots, treatments or kinds."""
    return Column(name, says, field=field, named=True)
