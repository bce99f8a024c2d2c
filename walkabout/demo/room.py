"""The demo's room.toml: an invented school room, written as a teacher would keep it."""

from datetime import date, timedelta

from walkabout.room.model import Closure, Person

ADULTS = ("HM", "OC")
PUPILS = ("E4", "J9", "T2", "W7")
PEOPLE = {
    **dict.fromkeys(ADULTS, Person(role="adult")),
    **dict.fromkeys(PUPILS, Person(role="pupil")),
}


def closures(today: date) -> tuple[Closure, Closure]:
    """Return the closed week inside the last eight weeks and the closed week ahead, Saturday to Sunday."""
    monday = today - timedelta(days=today.weekday())
    past = Closure(first=monday - timedelta(days=37), last=monday - timedelta(days=29), name="half-term")
    ahead = Closure(first=monday + timedelta(days=12), last=monday + timedelta(days=20), name="reading week")
    return past, ahead


def room_text(today: date) -> str:
    """Return the text of room.toml for a demo that is made on this day."""
    past, ahead = closures(today)
    until = (today + timedelta(days=240)).isoformat()
    return _TEMPLATE.format(
        until=until,
        past_from=past.first.isoformat(),
        past_to=past.last.isoformat(),
        past=past.name,
        ahead_from=ahead.first.isoformat(),
        ahead_to=ahead.last.isoformat(),
        ahead=ahead.name,
    )


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
# length_cm are its lit face.

[lamps.shelf-tubes]
kind = "tube"
watts = 72
hours = 16
on = "06:00"
gap_cm = 8

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


# Closures: days on which nobody comes, first and last included. Weekends need no entry.

[[closure]]
from = {past_from}
to = {past_to}
name = "{past}"

[[closure]]
from = {ahead_from}
to = {ahead_to}
name = "{ahead}"
"""
