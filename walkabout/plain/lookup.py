"""The lookup as a line dialogue: what is seen is typed, and the look that tells most is asked for in turn."""

import re

from walkabout.diagnosis.consult import Consulted
from walkabout.diagnosis.next_check import NextCheck
from walkabout.diagnosis.wording import Read
from walkabout.growing.counting import counted
from walkabout.growing.units import METRIC
from walkabout.plain.asking import pick, several
from walkabout.plain.dialogue import Dialogue
from walkabout.plain.finding import GRAVITY
from walkabout.plain.lookup_lines import (
    NEVER_SURE,
    WHEN,
    cause_lines,
    check_lines,
    known_lines,
    page_lines,
    stop_lines,
)
from walkabout.plain.outcome import saved_line
from walkabout.round.lookup import Answered, Lookup, answer_check
from walkabout.round.lookup_near import nearest_signs
from walkabout.round.lookup_pages import find_cause, todo_words
from walkabout.round.lookup_typed import crop_of, read_value, reading_of, reading_said, unit_of
from walkabout.round.lookup_undo import Before, before, take_back
from walkabout.round.opened import OpenRoom
from walkabout.round.words import VERDICT_MEANS

SHOWN = 3
"""So many causes are said after each answer."""
SAID: dict[str, Answered] = {"y": "yes", "yes": "yes", "n": "no", "no": "no", "?": "cannot tell"}
_NUMBER = re.compile(r"(?:ph\s*)?[+-]?[\d.,]*\d", re.IGNORECASE)


class LookupDialogue:
    """One lookup in lines. In a room it can leave a finding and jobs behind."""

    def __init__(
        self, dialogue: Dialogue, lookup: Lookup, opened: OpenRoom | None = None, station: str = "", walker: str = ""
    ) -> None:
        """Talk about `lookup`; `opened`, `station` and `walker` say where and by whom."""
        self._dialogue = dialogue
        self._lookup = lookup
        self._opened = opened
        self._station = station
        self._walker = walker
        self._scales = opened.scales if opened is not None else METRIC
        self._told: Consulted | None = None
        self._given: list[Before] = []

    def run(self) -> None:
        """Ask until somebody ends it; Ended when nothing more will be typed."""
        self._dialogue.say("Lookup. Nothing is certain before somebody has looked; an adult decides.")
        self._begin()
        while True:
            typed = self._dialogue.ask(*self._turn())
            if typed.lower() == "q":
                self._dialogue.say("The lookup is ended.")
                return
            if typed:
                self._take(typed)

    def _begin(self) -> None:
        """Say what is known already, and ask which crop is meant where several stand."""
        if self._opened is not None and self._station:
            from walkabout.round.lookup_start import at_station, crops_here, recent  # noqa: PLC0415 - in a room only

            standing = crops_here(self._opened, self._station)
            if len(standing) > 1:
                crops = self._opened.crops
                rows = [f"{one.name}, {counted(one.plants, crops.find(one.planting.crop))}" for one in standing]
                place = pick(self._dialogue, "Which crop is it?", rows, "another, or not known")
                if place is None:
                    self._lookup.set_crop("")
                else:
                    crop = standing[place].planting.crop
                    self._lookup = at_station(self._opened, self._station, self._walker, crop=crop)
            self._dialogue.say(*recent(self._opened, self._station))
        known = known_lines(self._lookup, self._scales)
        self._dialogue.say(*(["Known already:", *known] if known else []))

    # one turn

    def _turn(self) -> list[str]:
        """Return what is asked now."""
        answer = self._lookup.answer()
        if not any(one.present for one in self._lookup.seen()):
            return ["What is seen? Type it in your own words, such as: white dust on old leaves", "h tells what else."]
        lines = [] if answer is self._told else [answer.says, *cause_lines(answer, SHOWN)]
        self._told = answer
        check = answer.next_check
        if check is None:
            return [*lines, "No further look would change what to do. d tells what to do, h what else can be typed."]
        asks = check_lines(self._lookup, check, self._scales)
        return [*lines, *(asks if lines else asks[:1]), self._how_to_answer(check)]

    def _how_to_answer(self, check: NextCheck) -> str:
        if check.reading:
            unit = unit_of(self._lookup.ready.known.measures[check.key], self._scales)
            says = f"Type the number{f' in {unit}' if unit else ''}, or ? if it cannot be told"
        else:
            says = "Type y for yes, n for no, ? if it cannot be told"
        return f"{says}; or what else is seen. d tells what to do, h what else can be typed."

    def _take(self, typed: str) -> None:
        """Do what one typed line asks for."""
        word, _, rest = typed.partition(" ")
        word = word.lower()
        check = self._lookup.answer().next_check if any(one.present for one in self._lookup.seen()) else None
        acts = {
            "h": self._help,
            "u": self._undo,
            "d": self._what_to_do,
            "k": self._known,
            "j": self._jobs,
            "f": self._finding,
        }
        try:
            if typed.lower() in SAID and check is not None:
                self._answered(check, SAID[typed.lower()], typed)
            elif typed.lower() in acts:
                acts[typed.lower()]()
            elif word == "c" and rest:
                crop = crop_of(self._lookup, rest)
                self._keep(typed)
                self._lookup.set_crop(crop)
                self._say_crop()
            elif word == "p" and rest:
                self._dialogue.say(*page_lines(find_cause(rest)))
            elif word == "x" and rest:
                self._forget(rest)
            elif check is not None and check.reading and _NUMBER.match(typed):
                self._read(check.key, typed)
            elif re.fullmatch(r"[\w ]+=.+", typed):
                measure, value = reading_of(typed, self._scales)
                self._keep(typed)
                self._lookup.set_reading(measure, value)
                self._say_reading(measure, value)
            else:
                self._say(typed)
        except ValueError as error:
            self._dialogue.say(str(error))

    def _keep(self, typed: str) -> None:
        """Remember what was known before this line, so that it can be taken back."""
        self._given.append(before(self._lookup, f'"{typed}"'))

    def _undo(self) -> None:
        if not self._given:
            self._dialogue.say("Nothing was said yet that could be taken back.")
            return
        self._dialogue.say(take_back(self._lookup, self._given.pop()))

    def _answered(self, check: NextCheck, said: Answered, typed: str) -> None:
        if check.reading and said != "cannot tell":
            self._dialogue.say("Type the number, or ? if it cannot be told.")
            return
        self._keep(typed)
        if said == "cannot tell":
            self._lookup.cannot_tell(check.key)
        else:
            answer_check(self._lookup, said)

    def _read(self, measure: str, typed: str) -> None:
        value = read_value(self._lookup.ready.known.measures[measure], typed, self._scales)
        self._keep(typed)
        self._lookup.set_reading(measure, value)
        self._say_reading(measure, value)

    def _say_reading(self, measure: str, value: float) -> None:
        entry = self._lookup.ready.known.measures[measure]
        self._dialogue.say(f"Taken: {reading_said(entry, value, self._scales)}.")

    def _say_crop(self) -> None:
        self._dialogue.say(f"Crop: {self._lookup.ready.known.crops[self._lookup.crop].name}.")

    def _say(self, typed: str) -> None:
        """Take in a description; where some of it was not understood, offer the nearest signs."""
        standing = self._lookup.crop
        self._keep(typed)
        read = self._lookup.say(typed)
        self._dialogue.say(*stop_lines(self._lookup), *self._understood(read))
        if self._lookup.crop != standing:
            self._say_crop()
        for text in read.not_understood:
            self._offer(text)

    def _understood(self, read: Read) -> list[str]:
        names = {one.key: one.name for one in self._lookup.seen()}
        there = [names[one.sign] for one in read.signs if one.present]
        gone = [names[one.sign] for one in read.signs if not one.present]
        lines = [
            f"Taken: {', '.join(there)}." if there else "",
            f"Taken as not there: {', '.join(gone)}." if gone else "",
        ]
        for measure, value, _ in read.readings:
            self._say_reading(measure, value)
        return lines

    def _offer(self, text: str) -> None:
        known = self._lookup.ready.known
        near = [key for key in nearest_signs(known, text) if key not in {one.key for one in self._lookup.seen()}]
        said = f'Not understood: "{text}".'
        if not near:
            self._dialogue.say(f"{said} Say it in other words, or leave it.")
            return
        place = pick(self._dialogue, f"{said} Is one of these meant?", [known.signs[key].name for key in near], "none")
        if place is not None:
            self._lookup.set_sign(near[place], present=True)

    # what else can be typed

    def _help(self) -> None:
        self._dialogue.say(
            "Anything that is seen, in your own words; no webs means that there are none.",
            "ph=6.9 or air=24C takes a reading.",
            "c basil says which crop it is.",
            "u takes back what was typed last.",
            "k tells what is known, with numbers; x 2 takes number 2 back.",
            "p powdery mildew tells all about a cause.",
            "d tells what to do, who may do it and with what caution.",
            *(["j writes jobs down, f a finding."] if self._opened is not None else []),
            "q ends the lookup.",
        )

    def _what_to_do(self) -> None:
        answer = self._lookup.answer()
        if not answer.do:
            self._dialogue.say("Nothing is to be done as far as is known now.")
        for when, title in WHEN.items():
            steps = [todo_words(one) for one in answer.do if one.when == when]
            self._dialogue.say(*([f"{title}:", *steps] if steps else []))
        self._dialogue.say(NEVER_SURE)

    def _known(self) -> None:
        rows = known_lines(self._lookup, self._scales)
        numbered = len(self._lookup.seen())
        self._dialogue.say(*(f"{at}. {row}" if at <= numbered else row for at, row in enumerate(rows, 1)))
        if not rows:
            self._dialogue.say("Nothing is known yet.")

    def _forget(self, rest: str) -> None:
        seen = self._lookup.seen()
        if not (rest.isascii() and rest.isdigit() and 1 <= int(rest) <= len(seen)):
            raise ValueError("k tells what is known, with numbers; x and a number takes one back.")
        one = seen[int(rest) - 1]
        self._keep(f"x {rest}")
        self._lookup.set_sign(one.key, None)
        self._dialogue.say(f"Taken back: {one.name}.")

    def _jobs(self) -> None:
        if self._opened is None:
            self._dialogue.say("Jobs belong to a room: walkabout --room DIR lookup --plain")
            return
        from walkabout.round.lookup_jobs import make_jobs, offered, seen_words  # noqa: PLC0415 - in a room only

        seen_words(self._lookup)
        do = offered(self._lookup.answer().do, self._opened.room.role(self._walker))
        steps = {todo_words(one): one for one in do}
        if not steps:
            self._dialogue.say("Nothing is to be done as far as is known now.")
            return
        chosen = [steps[row] for row in several(self._dialogue, "Which of these become jobs?", list(steps))]
        if not chosen:
            self._dialogue.say("No job was written down.")
            return
        made = make_jobs(self._opened, self._lookup, chosen, self._station, self._walker)
        self._dialogue.say(f"Not saved yet: {made.says} {made.unsaved}" if made.unsaved else f"Saved: {made.says}")

    def _finding(self) -> None:
        if self._opened is None:
            self._dialogue.say("Findings belong to a room: walkabout --room DIR lookup --plain")
            return
        from walkabout.round.lookup_jobs import keep_finding, seen_words  # noqa: PLC0415 - in a room only

        seen = seen_words(self._lookup)
        place = pick(self._dialogue, "How grave is it?", [VERDICT_MEANS[one] for one in GRAVITY], "leave it")
        if place is None:
            self._dialogue.say("No finding was written down.")
            return
        kept = keep_finding(self._opened, self._lookup, self._station, self._walker, GRAVITY[place])
        self._dialogue.say(saved_line(seen, kept.unsaved))
        if kept.job is not None:
            self._dialogue.say(f"Job written down: {kept.job.what}; for an adult, due today.")


def look_up(dialogue: Dialogue, opened: OpenRoom, station: str, walker: str) -> None:
    """Look something up at a station of an open room, in lines."""
    from walkabout.round.lookup_start import at_station  # noqa: PLC0415 - the knowledge is loaded only for a lookup

    LookupDialogue(dialogue, at_station(opened, station, walker), opened, station, walker).run()
