"""What Today says: is the round walked, how long will it take and why, what is due, how the days went."""

from datetime import date, timedelta

from msgspec import Struct

from walkabout.almanac.ahead import Ahead, ahead
from walkabout.checklist.model import gravest
from walkabout.jobs.findings import still_open
from walkabout.records.model import Finding, Job, Round
from walkabout.room.calendar import is_walked
from walkabout.room.model import WHOLE_ROOM
from walkabout.round.opened import OpenRoom, measures
from walkabout.round.plan import Plan
from walkabout.round.trend import running_towards
from walkabout.round.words import clock_words

DAYS = 14


class Days(Struct, frozen=True):
    """A station's last fourteen days: a verdict for each, 'not looked', or '' without a round."""

    key: str
    name: str
    verdicts: tuple[str, ...]


class TodayPage(Struct, frozen=True):
    """All that Today shows."""

    headline: str
    detail: str
    walked: bool
    jobs: tuple[Job, ...]
    findings: tuple[Finding, ...]
    ahead: tuple[Ahead, ...]
    dates: tuple[date, ...]
    days: tuple[Days, ...]


def today_page(opened: OpenRoom, walker: str = "") -> TodayPage:
    """Gather what Today shows. Without a walker the round is counted as an adult would walk it."""
    today = opened.today()
    dates = tuple(today - timedelta(days=back) for back in range(DAYS - 1, -1, -1))
    headline, detail, walked = _round_words(opened, walker or _any_adult(opened))
    return TodayPage(
        headline=headline,
        detail=detail,
        walked=walked,
        jobs=tuple(opened.jobs_due()),
        findings=tuple(still_open(opened.findings.values())),
        ahead=tuple(ahead(opened.room, opened.plantings.values(), opened.crops, today)),
        dates=dates,
        days=tuple(_days(opened, key, name, dates) for key, name in _rows(opened)),
    )


def _any_adult(opened: OpenRoom) -> str:
    return next((code for code, person in opened.room.people.items() if person.role != "pupil"), "")


def _rows(opened: OpenRoom) -> list[tuple[str, str]]:
    return [(WHOLE_ROOM, "The room"), *((one.key, one.name) for one in opened.room.stations)]


def _round_words(opened: OpenRoom, walker: str) -> tuple[str, str, bool]:
    rounds = [one for one in opened.rounds_today() if one.asked and not measures(one)]
    done = [one for one in rounds if one.ended is not None]
    if done:
        last = done[-1]
        return (
            f"The round was walked today{_by_whom(last)}.",
            _measured_since(opened),
            True,
        )
    if rounds:
        open_round = rounds[-1]
        given = {(one.station, one.question) for one in opened.history.everything() if one.round == open_round.key}
        left = len({(one.station, one.question) for one in open_round.asked} - given)
        says = f"{left} question{'s are' if left != 1 else ' is'} open."
        return f"The round of {open_round.walker} is not finished.", says, False
    if not is_walked(opened.room, opened.today()):
        return "No round is expected today.", "It can be walked all the same.", False
    plan = opened.plan(walker)
    returning = opened.today_for(walker).returning
    head = (
        "The first round after some days away has not been walked."
        if returning
        else "The round has not been walked today."
    )
    stations = f"{plan.stations} station{'s' if plan.stations != 1 else ''}"
    questions = f"{len(plan.asked)} question{'s' if len(plan.asked) != 1 else ''}"
    long = f"{stations}, {questions}, about {clock_words(plan.seconds)}."
    return head, f"{long} {_closest(opened, plan)}".strip(), False


def _by_whom(one: Round) -> str:
    """Say by whom and in what time, each where it is known: a round on paper need not tell how long it took."""
    by = f" by {one.walker}" if one.walker else ""
    return f"{by}, in {clock_words(one.walked_seconds)}" if round(one.walked_seconds) else by


def _measured_since(opened: OpenRoom) -> str:
    due = len(opened.jobs_due())
    return f"{due} job{'s' if due != 1 else ''} due." if due else "Nothing is due."


def _closest(opened: OpenRoom, plan: Plan) -> str:
    """Say where to look most closely, and why."""
    today = opened.today()
    for one in plan.asked:
        if towards := running_towards(one.question, one.here.key, opened.history, today):
            return f"Closest look at {one.here.name}: {towards[:1].lower()}{towards[1:]}"
    again = next((one for one in plan.asked if one.why.startswith("Look again")), None)
    if again is not None:
        return f"Closest look at {again.here.name}: something was noticed there."
    return ""


def _days(opened: OpenRoom, key: str, name: str, dates: tuple[date, ...]) -> Days:
    worst: dict[date, str] = {}
    for answer in opened.history.at_station(key):
        day = answer.at.date()
        if day < dates[0]:
            continue
        if answer.state == "not looked":
            worst.setdefault(day, "not looked")
        elif answer.verdict:
            before = worst.get(day, "good")
            worst[day] = gravest(["good" if before == "not looked" else before, answer.verdict])  # type: ignore[list-item]
    return Days(key, name, tuple(worst.get(day, "") for day in dates))
