"""The page for whoever takes over: all its parts, what stands first, and nobody on it."""

from datetime import UTC, date, datetime, timedelta

import msgspec
import pytest

from tests.almanac.closed_rooms import CROPS, FRIDAY, planting, station
from walkabout.almanac.handover import BLANKS, DAYS, LONGEST, MOST_JOBS, Handover, Line, handover
from walkabout.almanac.handover_looks import good_answers, look_lines
from walkabout.almanac.handover_words import CAUTIONS
from walkabout.almanac.model import Almanac, Basis, Entry, Forecast, Foreseen, WayOut
from walkabout.checklist.model import Case, Checklist, Choice, Fault, Question, When
from walkabout.records.model import Finding, Happening, Job, Planting, Promise
from walkabout.room.model import WHOLE_ROOM, Person, Room, Tank, Who

NOW = datetime(2026, 12, 4, 8, 0, tzinfo=UTC)
TITLES = [
    "Today",
    "The days to come",
    "Station by station",
    "Open findings",
    "Promised",
    "Who may do what",
    "Take care",
    "Whom to ask",
]
ROOM = Room(
    name="Small room",
    people={"AR": Person(role="adult"), "K7": Person(role="pupil"), "OC": Person(role="pupil")},
    tanks={"tub": Tank(litres=40)},
    stations=(station("channels", tank="tub"), station("sill", "pots")),
)


def look(name: str, *choices: Choice, **more: object) -> Question:
    good = Choice(id="good", says=f"{name} as it should be")
    fields: dict[str, object] = {"seconds": 3, "should": 1, "must": 1}
    return Question(id=name, ask=f"How is the {name}?", choices=(good, *choices), **(fields | more))  # type: ignore[arg-type]


def bad(says: str, *, verdict: str = "now", who: Who = "pupil", caution: str = "") -> Choice:
    return Choice(id="bad", says=says, verdict=verdict, do=f"Mend what is {says}.", who=who, caution=caution)  # type: ignore[arg-type]


def fault(hours: float, *, people: bool = False) -> Fault:
    return Fault(says="x", per_week=0.1, hours=hours, people=people, source="assumed")


FILM = Checklist(
    kind="film",
    title="Film channels",
    fault={"no-film": fault(4), "hunger": fault(400), "wet-mains": fault(1, people=True)},
    question=(
        look("leaf", bad("pale", verdict="today"), reveals={"hunger": 0.5}),
        look("plug", bad("wet", verdict="stop"), bad("loose"), reveals={"wet-mains": 0.9}),
        look("film", bad("dry", caution="Hands out of the tank."), bad("gone", who="adult"), reveals={"no-film": 0.9}),
        look("flow", bad("slow"), reveals={"no-film": 0.3}),
        look("strength", bad("strong"), reveals={"no-film": 0.95}, slow=True),
    ),
)
POTS = Checklist(kind="pots", title="Pots in soil", question=(look("mix", bad("dry")),))
LOOKS = {"channels": FILM.question, "sill": POTS.question}


def based(**more: object) -> Basis:
    fields: dict[str, object] = {
        "room": ROOM,
        "crops": CROPS,
        "checklists": {"film": FILM, "pots": POTS},
        "today": FRIDAY,
        "plantings": (planting("lettuce", "channels", 20), planting("tomato", "sill", 2)),
    }
    return Basis(**(fields | more))  # type: ignore[arg-type]


def dates(*entries: Entry, **more: object) -> Almanac:
    fields: dict[str, object] = {"entries": entries, "rows": (), "promises": (), "standing": (), "closures": ()}
    return Almanac(made=FRIDAY, first=FRIDAY, last=FRIDAY + timedelta(days=60), **(fields | more))  # type: ignore[arg-type]


def job(what: str, **more: object) -> Job:
    fields: dict[str, object] = {"station": "sill", "who": "pupil", "due": FRIDAY, "made": NOW, "by": "K7"}
    return Job(key=f"j-{what}", what=what, **(fields | more))  # type: ignore[arg-type]


def found(seen: str, **more: object) -> Finding:
    fields: dict[str, object] = {"station": "sill", "verdict": "today", "by": "K7", "at": NOW}
    return Finding(key=f"f-{seen[:9]}", seen=seen, **(fields | more))  # type: ignore[arg-type]


def due(says: str, day: date, **more: object) -> Entry:
    fields: dict[str, object] = {"kind": "job", "uid": f"job/change/tub/{day}"}
    return Entry(day=day, says=says, **(fields | more))  # type: ignore[arg-type]


def promised(**more: object) -> Foreseen:
    promise = Promise(
        key="pr-1", crop="lettuce", amount=12, unit="heads", day=date(2026, 12, 18), people="the lunch club",
        made=NOW, by="AR", closed=more.pop("closed", None),  # type: ignore[arg-type]
    )  # fmt: skip
    fields: dict[str, object] = {"outlook": "on course", "chance": 0.9, "says": "12 heads are likely."}
    return Foreseen(promise=promise, name="lettuce", **(fields | more))  # type: ignore[arg-type]


def page(almanac: Almanac | None = None, *, jobs: tuple[Job, ...] = (), findings: tuple[Finding, ...] = (),
         basis: Basis | None = None) -> Handover:  # fmt: skip
    return handover(basis or based(), almanac or dates(), LOOKS, jobs, findings)


def part(of: Handover, title: str) -> tuple[Line, ...]:
    return next(one.lines for one in of.sections if one.title == title)


def text(of: Handover) -> str:
    return msgspec.json.encode(of).decode()


def test_every_part_stands_even_when_nothing_is_known() -> None:
    """An empty room still gives each part something to read, and blanks to fill in."""
    empty = handover(Basis(room=Room(), crops=CROPS, checklists={}, today=FRIDAY), dates(), {}, (), ())
    assert [one.title for one in empty.sections] == TITLES
    assert all(one.lines for one in empty.sections)
    assert part(empty, "Open findings")[0].says == "None."
    assert part(empty, "Promised")[0].says == "Nothing."
    assert part(empty, "The days to come")[0].says == "Nothing but the morning rounds."


def test_whom_to_ask_is_left_blank() -> None:
    """Each of the people to ask is a label and a line to write on, and no more."""
    asked = part(page(), "Whom to ask")
    assert [one.says.split(":")[0] for one in asked] == list(BLANKS)
    assert all(set(one.says.split(": ")[1]) == {"_"} for one in asked)


def test_the_round_comes_first() -> None:
    """The first line of today is the round; on a day on which nobody comes it says so."""
    assert part(page(), "Today")[0].says.startswith("Walk the round at about 08:00, 5 minutes long")
    sunday = based(today=date(2026, 12, 6))
    assert part(page(basis=sunday), "Today")[0].says.startswith("Nobody comes today.")


def test_jobs_that_can_wait_are_only_counted() -> None:
    """Trivial standing jobs and slow measurements are counted; what cannot wait is named with who may do it."""
    jobs = (
        job("Fetch the pump", who="adult", verdict="now", caution="Unplug it first."),
        job("Turn every pot", standing="turn/sill"),
        job("Measure and write down: flow", questions=("flow",)),
        job("Order seed", due=FRIDAY + timedelta(days=1)),
    )
    first, *rest = part(page(jobs=jobs), "Today")[1:]
    assert first == Line(says="The sill: Fetch the pump (an adult)", under=("Unplug it first.",), warns=True)
    assert [one.says for one in rest] == ["2 small jobs can wait; the list of jobs names them."]


def test_a_small_job_that_became_urgent_is_named() -> None:
    """Nothing that is to be done now waits, whatever kind of job it is."""
    told = part(page(jobs=(job("Turn every pot", standing="turn/sill", verdict="now"),)), "Today")
    assert told[1].says == "The sill: Turn every pot (anybody)"


def test_more_jobs_than_fit_are_counted() -> None:
    """Beyond the first few, the page points to the list."""
    told = part(page(jobs=tuple(job(f"Job {number}") for number in range(MOST_JOBS + 2))), "Today")
    assert len(told) == 1 + MOST_JOBS + 1
    assert told[-1].says == "2 more jobs of today: see the list of jobs."


def test_the_days_to_come_name_what_matters() -> None:
    """Each day is a heading with its lines under it; trivial jobs are counted, far days are left out."""
    monday, tuesday = date(2026, 12, 7), date(2026, 12, 8)
    almanac = dates(
        due("Renew the solution", monday, station="channels", who="adult", minutes=15),
        due("Sweep", monday, uid=f"job/sweep/room/{monday}"),
        due("ready", tuesday, kind="harvest", uid="harvest/p", station="sill"),
        due("Move on", tuesday, kind="move", uid="job/move-on/p", minutes=5),
        due("should flower", tuesday, kind="stage", uid="flowering/p"),
        due("Renew it later", FRIDAY + timedelta(days=DAYS + 1)),
    )
    assert [(one.says, one.under) for one in part(page(almanac), "The days to come")] == [
        ("Monday 7 December", ("The channels: Renew the solution (an adult, 15 min)",)),
        ("Tuesday 8 December", ("The sill: ready", "Move on (anybody, 5 min)")),
        ("2 small jobs of these days can wait; the almanac names them.", ()),
    ]


def test_a_closure_says_who_must_come() -> None:
    """The closure that comes stands with its list, its visits and nothing of the days in it."""
    closure = Forecast(
        first=date(2026, 12, 19), last=date(2027, 1, 3), name="midwinter", leaving=date(2026, 12, 18),
        back=date(2027, 1, 4), away=17.0, stations=(), before=(), visits=(date(2026, 12, 24),), first_morning=(),
    )  # fmt: skip
    told = part(page(dates(closures=(closure,))), "The days to come")[-1]
    assert told.says == "Nobody comes from Sat 19 Dec to Sun 3 Jan: midwinter"
    assert told.under == ("An adult must come by arrangement on Thu 24 Dec.",)
    assert told.warns
    far = msgspec.structs.replace(closure, first=date(2027, 2, 1), last=date(2027, 2, 5))
    assert "Nobody comes from" not in text(page(dates(closures=(far,))))


def test_each_station_says_what_good_is_and_what_to_do() -> None:
    """What is lost soonest stands, the surest look at it, without instruments and without what stops people."""
    lines = {one.says: one.under for one in part(page(), "Station by station")}
    assert lines["The channels (film channels): 20 lettuce"] == (
        "How is the film? Good: film as it should be. If dry: Mend what is dry.",
        "Take care: Hands out of the tank.",
    )
    assert lines["The sill (pots in soil): 2 tomato"] == (
        "How is the mix? Good: mix as it should be. If dry: Mend what is dry.",
    )


def test_every_good_answer_is_named() -> None:
    """What is as good as the first answer stands beside it; what is good only sometimes or asks for an act does not."""
    held = Case(when=When(), verdict="today")
    good = (
        Choice(id="b", says="a finger's width", verdict="good"), Choice(id="c", says="a hand", verdict="watch"),
        Choice(id="d", says="two", verdict="good", cases=(held,)), Choice(id="e", says="three", do="Write it down."),
    )  # fmt: skip
    asked = look("level", *good, bad("dry"))
    assert good_answers(asked) == "level as it should be or a finger's width"
    assert any("Good: level as it should be or a finger's width. If dry" in one for one in look_lines(asked, set()))
    listed = msgspec.structs.replace(asked, choices=(Choice(id="a", says="white, firm"), good[0], bad("dry")))
    assert good_answers(listed) == "white, firm; or a finger's width"


def test_an_adults_act_says_so() -> None:
    """What only an adult may do is marked."""
    looks = {"sill": (look("mix", bad("dry", who="adult")),)}
    told = handover(based(), dates(), looks, (), ())
    assert "Mend what is dry. (an adult)" in text(told)


def test_the_room_as_a_whole_is_looked_at_first() -> None:
    """What can hurt people is said before every station, whatever its checklist asks."""
    first = part(page(), "Station by station")[0].says
    assert "floor and plugs dry" in first
    assert "fetch an adult" in first
    whole = based(checklists={"film": FILM, "pots": POTS, WHOLE_ROOM: POTS})
    lines = part(handover(whole, dates(), {**LOOKS, WHOLE_ROOM: POTS.question}, (), ()), "Station by station")
    assert next(one.says for one in lines if one.under) == "The room"


def test_what_stands_apart_is_touched_last() -> None:
    """A plant in quarantine is marked."""
    apart = msgspec.structs.replace(planting("geranium", "sill", 1), apart_until=FRIDAY + timedelta(days=3))
    assert "1 geranium (stands apart: touch it last)" in text(page(basis=based(plantings=(apart,))))


def test_only_promises_that_stand_are_named() -> None:
    """A kept promise is left out; one at risk says what would help and why nothing may be eaten."""
    slips = promised(
        outlook="at risk", says="It may be late.", ways=(WayOut(says="Put it off", chance=0.9, who="adult"),),
        blocked=("A spray has five days to wait.",),
    )  # fmt: skip
    lines = part(page(dates(promises=(promised(closed=NOW, outlook="kept"), slips))), "Promised")
    assert lines[0] == Line(
        says="Friday 18 December: 12 heads of lettuce for the lunch club; at risk. It may be late.",
        under=("What would help: Put it off (an adult).", "A spray has five days to wait."),
        warns=True,
    )
    (eating,) = (one.says for one in lines[1:])
    for word in ("allergies", "washed", "kept at 5 °C or below", "waiting time"):
        assert word in eating
    us = part(page(basis=based(room=msgspec.structs.replace(ROOM, units="US"))), "Promised")
    assert "kept at 41 °F or below" in us[-1].says


def test_cautions_stand_with_those_of_the_plants() -> None:
    """The general cautions and those of what grows here; not of what has ended."""
    ended = msgspec.structs.replace(planting("dill", "sill", 3), ended=FRIDAY)
    told = [one.says for one in part(page(basis=based(plantings=(planting("tomato", "sill", 2), ended))), "Take care")]
    assert told[: len(CAUTIONS)] == list(CAUTIONS)
    assert [one.split(":")[0] for one in told[len(CAUTIONS) :]] == ["Tomato"]


CODED = (
    "K7 saw it", "asked AR.", "k7: dry", "(OC)", "AR/K7", "by Z9, who has left", "told B2B",
)  # fmt: skip


@pytest.mark.parametrize("says", CODED)
def test_no_code_stands_on_the_page(says: str) -> None:
    """Codes of people are replaced wherever they are written: of those in room.toml and of those only in records."""
    gone = Planting(key="p-9", crop="lettuce", sown=FRIDAY, count=1, moves=planting("dill", "sill", 1).moves,
                    history=(Happening(at=NOW, by="Z9", says="sown"),))  # fmt: skip
    written = found(says, by="B2B")
    room = msgspec.structs.replace(ROOM, name=says, stations=(station("channels"), station("sill", "pots", note=says)))
    basis = based(room=room, plantings=(gone,), findings=(written,))
    promise = promised()
    promise = msgspec.structs.replace(promise, promise=msgspec.structs.replace(promise.promise, people=says))
    told = text(
        page(dates(due(says, FRIDAY), promises=(promise,)), jobs=(job(says),), findings=(written,), basis=basis)
    )
    for code in ("K7", "k7", "AR", "OC", "Z9", "B2B"):
        assert code not in told
    assert told.count("somebody") >= 5


def test_words_are_no_codes() -> None:
    """A code of letters alone is one in capitals only, and never inside a word."""
    assert "ocean oc OCEAN Arch" in text(page(findings=(found("ocean oc OCEAN Arch"),)))


def test_typed_text_keeps_to_its_line() -> None:
    """Line breaks, markup and endless text neither make lines of their own nor a page of their own."""
    nasty = "[b]x[/]\nTAKE CARE\n\tall is well" + " again" * 400
    told = page(findings=(found(nasty),), jobs=(job(nasty),))
    line = part(told, "Open findings")[0].says
    assert "[b]x[/] TAKE CARE all is well" in line
    assert len(line) < LONGEST + 80
    assert all("\n" not in one.says for section in told.sections for one in section.lines)
