"""Answering the one look that would tell: yes, no, cannot tell, or a number."""

from textual import events

from walkabout.screens.widgets.lookuppage import ANSWERS, LookupPage
from walkabout.screens.widgets.number import Number, number_in
from walkabout.screens.widgets.onelook import UNKNOWN, OneLook

LETTERS = {"y": "1", "n": "2", "?": "3"}
"""Letters that answer too, in the lists."""
NO_NUMBER = "Type the number, or ? if it cannot be told."


class LookAnswering(LookupPage):
    """Takes the answer to the look, by a key, a click or a number that is handed in."""

    @property
    def _asked_reading(self) -> bool:
        check = self.lookup.answer().next_check if self.lookup is not None else None
        return check is not None and check.reading

    def action_answer(self, key: str) -> None:
        """Answer the look; without one, ? asks for help."""
        lookup, said = self.lookup, ANSWERS[LETTERS.get(key, key)]
        check = lookup.answer().next_check if lookup is not None else None
        if lookup is None or check is None:
            if key == "?":
                self.app.action_help()
        elif check.reading and key != UNKNOWN:
            self._view.look.wrong(NO_NUMBER)
        else:
            from walkabout.round.lookup import answer_check  # noqa: PLC0415 - with the knowledge

            self._remember(f"{check.ask} {said}")
            if check.reading:
                lookup.cannot_tell(check.key)
            else:
                answer_check(lookup, said)
            self._changed()

    def on_one_look_pressed(self, event: OneLook.Pressed) -> None:
        """Take a click on a key of the look as that key."""
        event.stop()
        if event.key == "enter":
            self._hand_in()
        elif event.key == "⌫":
            self._view.look.rub_out()
        elif event.key == UNKNOWN or not self._asked_reading:
            self.action_answer(event.key)
        else:
            self._view.look.type(event.key)

    # a number

    def on_key(self, event: events.Key) -> None:
        """Digits make the number that is asked for."""
        if self.zone != "line" and self._asked_reading and self._view.look.type(event.character or ""):
            event.prevent_default()
            event.stop()

    def _hand_in(self) -> None:
        """Take the number that was typed; one that cannot be is asked for again."""
        look, lookup = self._view.look, self.lookup
        check = lookup.answer().next_check if lookup is not None else None
        if lookup is None or check is None or not check.reading:
            return
        if look.number.value is None:
            look.wrong(NO_NUMBER)
            return
        from walkabout.round.lookup_typed import read_value, reading_said  # noqa: PLC0415 - with the knowledge

        measure = lookup.ready.known.measures[check.key]
        try:
            value = read_value(measure, look.number.text, self.app.opened.scales)
        except ValueError as error:
            look.wrong(str(error))
            if self.zone == "line":  # it still stands there, to be put right
                look.number = Number()
            return
        self._remember(reading_said(measure, value, self.app.opened.scales))
        lookup.set_reading(check.key, value)
        if self._asked_number_in_line():
            self._view.line.value = ""
        self._changed()

    def _asked_number_in_line(self) -> bool:
        return number_in(self._view.line.value.strip().replace(",", ".")) is not None
