"""The tables of an export: what each is made of, and how they hang together."""

from msgspec import Struct

from walkabout.paper import columns as daily
from walkabout.paper import columns_growing as growing
from walkabout.paper import columns_trials as trials
from walkabout.paper.column import Column
from walkabout.paper.places import LampRow, StationRow
from walkabout.records.model import (
    Answer,
    Asked,
    Finding,
    Happening,
    Job,
    Loss,
    Move,
    Picking,
    Planting,
    Promise,
    Reached,
    Round,
    Treatment,
)
from walkabout.records.model_measured import Hour, Kind, Measurement, Plot, Trial
from walkabout.records.model_supplies import Counted, Supply

OWN = "Key of the record it belongs to."


class Foreign(Struct, frozen=True):
    """The values of `column` are found in the column `key` of another table."""

    column: str
    table: str


class Part(Struct, frozen=True):
    """Where the rows of a table stand within the records of another: its field, and what rows from there are called."""

    table: str
    field: str
    called: str = ""


class Table(Struct, frozen=True):
    """One table of the export. `parts` is empty for a table with one row for each record."""

    name: str
    title: str
    says: str
    kind: type[Struct]
    columns: tuple[Column, ...]
    lead: tuple[Column, ...] = ()
    """The columns that say to which record a row belongs, and where in it; they are the primary key then."""
    parts: tuple[Part, ...] = ()
    foreign: tuple[Foreign, ...] = ()

    @property
    def all(self) -> tuple[Column, ...]:
        """Every column, in the order in which they are written."""
        return self.lead + self.columns

    @property
    def primary(self) -> tuple[str, ...]:
        """The names of the columns that tell each row from all others."""
        return tuple(column.name for column in self.lead) or ("key",)


STATION = Foreign("station", "stations")


def _within(
    name: str, title: str, says: str, kind: type[Struct], columns: tuple[Column, ...], of: Part, *more: Foreign
) -> Table:
    """Return a table whose rows are parts of one kind of record."""
    owner = _ONE[of.table]
    lead = (Column(owner, OWN), Column("number", f"Its place within the {owner}, from 1."))
    return Table(name, title, says, kind, columns, lead, (of,), (Foreign(owner, of.table), *more))


_ONE = {"plantings": "planting", "rounds": "round", "supplies": "supply", "trials": "trial"}

TABLES: tuple[Table, ...] = (
    Table(
        "answers",
        "Answers",
        "One row for each answer in a round, readings among them.",
        Answer,
        daily.ANSWERS,
        foreign=(Foreign("round", "rounds"), STATION, Foreign("replaces", "answers")),
    ),
    Table("rounds", "Rounds", "One row for each walk through the room.", Round, daily.ROUNDS),
    Table(
        "asked",
        "Questions asked",
        "What a round had on its plan, and what did not fit into it.",
        Asked,
        daily.ASKED,
        (
            Column("round", OWN),
            Column("part", "Whether it was asked or left out."),
            Column("number", "Its place in the plan, from 1."),
        ),
        (Part("rounds", "asked", "asked"), Part("rounds", "left", "left")),
        (Foreign("round", "rounds"), STATION),
    ),
    Table(
        "plantings",
        "Plantings",
        "Plants of one crop, sown on one day.",
        Planting,
        growing.PLANTINGS,
        foreign=(Foreign("parted_from", "plantings"),),
    ),
    _within(
        "moves",
        "Moves",
        "Where each planting stood, and since when.",
        Move,
        growing.MOVES,
        Part("plantings", "moves"),
        STATION,
    ),
    _within(
        "stages",
        "Stages",
        "What each planting was seen to have reached.",
        Reached,
        growing.STAGES,
        Part("plantings", "reached"),
    ),
    _within("losses", "Losses", "Plants that were lost, and why.", Loss, growing.LOSSES, Part("plantings", "losses")),
    _within(
        "pickings",
        "Pickings",
        "What was harvested.",
        Picking,
        growing.PICKINGS,
        Part("plantings", "pickings"),
        Foreign("promise", "promises"),
    ),
    Table(
        "findings",
        "Findings",
        "What was noticed to be wrong.",
        Finding,
        daily.FINDINGS,
        foreign=(STATION, Foreign("planting", "plantings")),
    ),
    Table(
        "jobs",
        "Jobs",
        "What there was to do.",
        Job,
        daily.JOBS,
        foreign=(STATION, Foreign("finding", "findings")),
    ),
    Table("promises", "Promises", "Harvests promised to people.", Promise, growing.PROMISES),
    Table(
        "treatments",
        "Treatments",
        "What was put on plants, with its waiting times.",
        Treatment,
        daily.TREATMENTS,
        foreign=(STATION, Foreign("planting", "plantings")),
    ),
    Table("supplies", "Supplies", "What is used up and bought again.", Supply, growing.SUPPLIES),
    _within("counts", "Counts", "How much of a supply there was.", Counted, growing.COUNTS, Part("supplies", "counts")),
    Table("trials", "Trials", "What was compared, and how.", Trial, trials.TRIALS),
    _within(
        "kinds",
        "Kinds",
        "What is counted against a ratio, in the trials that do so.",
        Kind,
        trials.KINDS,
        Part("trials", "kinds"),
    ),
    _within(
        "plots",
        "Plots",
        "What gets one treatment for itself.",
        Plot,
        trials.PLOTS,
        Part("trials", "plots"),
        STATION,
        Foreign("planting", "plantings"),
    ),
    Table(
        "measurements",
        "Measurements",
        "What was measured on the plots of trials.",
        Measurement,
        trials.MEASUREMENTS,
        foreign=(Foreign("trial", "trials"), Foreign("replaces", "measurements")),
    ),
    Table(
        "history",
        "History",
        "What happened to findings, jobs, plantings, promises, treatments, supplies, trials and measurements.",
        Happening,
        daily.HISTORY,
        (
            Column("about", "The kind of record that it belongs to."),
            Column("key", "The key of that record, in the table of its kind."),
            Column("number", "Its place in the history, from 1."),
        ),
        (
            Part("plantings", "history", "planting"),
            Part("findings", "history", "finding"),
            Part("jobs", "history", "job"),
            Part("promises", "history", "promise"),
            Part("treatments", "history", "treatment"),
            Part("supplies", "history", "supply"),
            Part("trials", "history", "trial"),
            Part("measurements", "history", "measurement"),
        ),
    ),
    Table("hours", "Logger readings by the hour", "What loggers read.", Hour, daily.HOURS, foreign=(STATION,)),
    Table(
        "stations",
        "Stations",
        "Every place of the room, and every one that records name although room.toml has it no more.",
        StationRow,
        growing.STATIONS,
    ),
    Table("lamps", "Lamps", "The lamps of the room.", LampRow, growing.LAMPS),
)
"""In the order in which they are listed."""

FROM_ROOM = ("stations", "lamps")
"""Tables that come from room.toml, not from the records."""

BY_NAME = {table.name: table for table in TABLES}
