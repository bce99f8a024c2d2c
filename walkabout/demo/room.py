"""The demo's room.toml: an invented school room, written as a teacher would keep it."""

from collections.abc import Iterator
from datetime import date, timedelta

from walkabout.room.model import Closure, Person, Term

ADULTS = ("HM", "OC")
PUPILS = ("E4", "J9", "T2", "W7")
PEOPLE = {
    **dict.fromkeys(ADULTS, Person(role="adult")),
    **dict.fromkeys(PUPILS, Person(role="pupil")),
}


LOOKS_AHEAD = timedelta(weeks=12)
"""As far as the almanac looks."""
HANGS_SINCE = {"tubes": 700, "arch": 820}
"""Days ago on which a lamp was put in: the one of the arch is due within the next weeks."""
TERMS = ("spring term", "summer term", "autumn term")
SUMMER, AUTUMN = 4, 8
"""The months with which these terms begin."""


def closures(today: date) -> tuple[Closure, ...]:
    """Return the closed week inside the last eight weeks, the closed week ahead, and the winter holiday if it is near.

    The weeks go from Saturday to Sunday; what the week ahead takes of the holiday is not closed twice.
    """
    monday = today - timedelta(days=today.weekday())
    past = Closure(first=monday - timedelta(days=37), last=monday - timedelta(days=29), name="half-term")
    ahead = Closure(first=monday + timedelta(days=12), last=monday + timedelta(days=20), name="reading week")
    return past, ahead, *_winter(today, ahead)


def _winter(today: date, ahead: Closure) -> Iterator[Closure]:
    """Yield what is left of 24 December to 2 January after today and outside of the week ahead."""
    year = today.year - (today.month == 1)
    first, last = max(date(year, 12, 24), today + timedelta(days=1)), date(year + 1, 1, 2)
    if last <= today or first > today + LOOKS_AHEAD:
        return
    for begins, ends in (
        (first, min(last, ahead.first - timedelta(days=1))),
        (max(first, ahead.last + timedelta(days=1)), last),
    ):
        if begins <= ends:
            yield Closure(first=begins, last=ends, name="winter holiday")
            if ends == last:
                return


def term(today: date) -> Term:
    """Return the term around today: from the Monday eight weeks ago to the last school day before a longer holiday."""
    monday = today - timedelta(days=today.weekday())
    ends = monday + timedelta(days=39)
    for one in closures(today)[2:]:
        ends = min(ends, max(one.first - timedelta(days=1), today))
    name = TERMS[0] if today.month < SUMMER else TERMS[1] if today.month < AUTUMN else TERMS[2]
    return Term(first=monday - timedelta(weeks=8), last=ends, name=name)


def room_text(today: date) -> str:
    """Return the text of room.toml for a demo that is made on this day."""
    now = term(today)
    return _TEMPLATE.format(
        until=(today + timedelta(days=240)).isoformat(),
        tubes=(today - timedelta(days=HANGS_SINCE["tubes"])).isoformat(),
        arch=(today - timedelta(days=HANGS_SINCE["arch"])).isoformat(),
        term=_block("term", now),
        closures="\n".join(_block("closure", one) for one in sorted(closures(today), key=lambda one: one.first)),
    )


def _block(kind: str, one: Closure | Term) -> str:
    return f'[[{kind}]]\nfrom = {one.first.isoformat()}\nto = {one.last.isoformat()}\nname = "{one.name}"\n'


_TEMPLATE = """\
# This room is invented: it is here to be tried out. Nobody and no place in it is real.
#
# room.toml says what stands in the room. Change it with any text editor: the program reads it and
# never writes it. A line that begins with # is a remark. Names in quotes are for people; keys such as
# "raft" are small letters, digits and hyphens, and the records are kept under them, so change a name
# whenever you like, but keep the key.

name = "Quillmere growing room"
units = "metric"                # or "US"
minutes = 5                     # what the morning round may take
days = ["mon", "tue", "wed", "thu", "fri"]
starts = "08:10"                # when the round is usually walked

# What the whole room shares. Some questions are only asked where the instrument is there.
kit = ["pH meter", "EC meter", "lux meter", "chemicals cupboard"]

# What mains power and water cost here; leave a line out when you do not know. Assumed figures.
[prices]
currency = "EUR"
per_kwh = 0.32
per_cubic_metre = 4.10

# The water that fills the tanks (EC in mS/cm, alkalinity in mg/L of CaCO3), what 1 mL of each concentrate
# in a litre adds to the EC, and the diluted acid and base in the locked cupboard (mol/L). With them the
# program says how much to add; without them it only says that something is to be added. Invented figures.
[water]
ec = 0.35
ph = 7.6
alkalinity = 110
sodium = 18
chloride = 30

[feed]
rise = 0.18
parts = 2
recipe = "lettuce"

[acid]
kind = "nitric"
strength = 0.1

[base]
kind = "potassium hydroxide"
strength = 0.1


# People: a code of two or three letters or digits, never a name. role is "pupil", "adult" or
# "licensed" (an electrician, say). A code ends on the day in until.

[people]
HM = {{ role = "adult" }}
OC = {{ role = "adult" }}
E4 = {{ role = "pupil", until = {until} }}
J9 = {{ role = "pupil", until = {until} }}
T2 = {{ role = "pupil", until = {until} }}
W7 = {{ role = "pupil", until = {until} }}


# Lamps: kind is "led", "tube", "high-pressure sodium", "metal halide", "incandescent" or "window".
# hours a day from the time in on; gap_cm is the distance from the lamp to the tips; width_cm and
# length_cm are its lit face; since is the day on which it was put in, from which its life is counted.

[lamps.shelf-tubes]
kind = "tube"
watts = 72
hours = 16
on = "06:00"
gap_cm = 8
since = {tubes}

[lamps.raft-bar]
kind = "led"
watts = 120
hours = 16
on = "06:00"
gap_cm = 35
width_cm = 25
length_cm = 90

[lamps.herb-bar]
kind = "led"
watts = 60
hours = 16
on = "06:00"
gap_cm = 35

[lamps.drum-core]
kind = "led"
watts = 150
hours = 16
on = "06:00"
gap_cm = 18

[lamps.arch]
kind = "high-pressure sodium"
watts = 250
hours = 14
on = "06:30"
gap_cm = 50
enclosed = true
since = {arch}
note = "behind a safety glass; hot for half an hour after it goes out"

[lamps.greens-bar]
kind = "led"
watts = 36
hours = 14
on = "06:30"
gap_cm = 25


# Tanks: the litres when full, and the days until the solution is renewed.

[tanks.raft]
litres = 90
change_days = 21

[tanks.herbs]
litres = 30
change_days = 10

[tanks.drum]
litres = 36
change_days = 7

[tanks.arch]
litres = 45
change_days = 14


# Pumps: what they move, and whether a spare stands ready.

[pumps.raft-air]
moves = "air"
spare = true

[pumps.herbs]
moves = "water"
litres_per_hour = 300
spare = true

[pumps.arch]
moves = "water"
litres_per_hour = 200
spare = false


# The stations, in the order in which you walk past them. kind is the name of a checklist.

[[station]]
key = "shelf"
name = "Sowing shelf"
kind = "shelf"
lamps = ["shelf-tubes"]
kit = ["heat mat"]
places = 96

[[station]]
key = "raft"
name = "Lettuce bath"
kind = "raft"
lamps = ["raft-bar"]
tank = "raft"
pumps = ["raft-air"]
kit = ["scales"]
places = 12

[[station]]
key = "herbs"
name = "Herb gutters"
kind = "film"
lamps = ["herb-bar"]
tank = "herbs"
pumps = ["herbs"]
places = 24

[[station]]
key = "drum"
name = "Salad wheel"
kind = "drum"
lamps = ["drum-core"]
tank = "drum"
places = 80

[[station]]
key = "arch"
name = "Tomato arch"
kind = "vine"
lamps = ["arch"]
tank = "arch"
pumps = ["arch"]
kit = ["trellis"]
places = 2
note = "steps are for adults"

[[station]]
key = "sill"
name = "South sill"
kind = "pots"
kit = ["marked plant", "sticky card"]
places = 16
note = "the far end is kept free for plants that stand apart"

[[station]]
key = "bell"
name = "Glass bell"
kind = "case"
places = 3

[[station]]
key = "trays"
name = "Cress trays"
kind = "greens"
lamps = ["greens-bar"]
kit = ["thermometer"]
places = 4
note = "the room's thermometer, lowest and highest, hangs here"


# Terms: they close nothing, and say over which days the term in numbers is added up.

{term}

# Closures: days on which nobody comes, first and last included. Weekends need no entry.

{closures}"""
