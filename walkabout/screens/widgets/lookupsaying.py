"""What is said in a lookup: the typed line, the signs turned or taken away in the list, and taking it back."""

from textual.widgets import Input

from walkabout.screens.widgets.lookanswering import LookAnswering
from walkabout.screens.widgets.number import Number, number_in
from walkabout.screens.widgets.sayline import SayLine


class LookupSaying(LookAnswering):
    """Takes in what is typed and what is changed in the list of what is known."""

    # in the line

    def on_input_changed(self, event: Input.Changed) -> None:
        """Show at once what is understood."""
        event.stop()
        self._view.show_preview(self.lookup, self.app.opened.scales)
        self._show_zone()

    def on_say_line_answered(self, event: SayLine.Answered) -> None:
        """Answer the look from the line."""
        event.stop()
        self.action_answer(event.key)

    def on_input_submitted(self, event: Input.Submitted) -> None:
        """Add what was typed."""
        event.stop()
        self._take_line()

    def _take_line(self) -> None:
        """Add what was typed; what was not understood is said, with the nearest signs."""
        text, lookup = self._view.line.value.strip(), self.lookup
        self._hurried = lookup is None and bool(text)
        if lookup is None:
            return
        if not text:
            if self._view.look.number.text:
                self._hand_in()
        elif number_in(text.replace(",", ".")) is not None and self._asked_reading:
            self._view.look.number = Number()
            self._view.look.type(text)
            self._hand_in()
        else:
            from walkabout.round.lookup_near import nearest_signs  # noqa: PLC0415 - with the knowledge

            self._remember(f'"{text}"')
            read = lookup.say(text)
            self._missed = ", ".join(read.not_understood)
            self._offered = nearest_signs(lookup.ready.known, self._missed) if self._missed else ()
            self._view.line.value = ""
            self._list = "known" if self._offered else "causes"
            self._changed()

    def action_undo(self) -> None:
        """Take back what was said last, and say what it was."""
        if self.lookup is None or not self._given:
            self.app.hint("Nothing was said yet that could be taken back.")
            return
        from walkabout.round.lookup_undo import take_back  # noqa: PLC0415 - with the knowledge

        self._missed, self._offered = "", ()
        self.app.hint(take_back(self.lookup, self._given.pop()))
        self._changed()

    # in the list of what is known

    def _take_known(self, *, present: bool | None) -> None:
        """Add the sign that is offered, or turn the sign pointed at."""
        what, _, key = self._view.known.key.partition(":")
        if self.lookup is None or what not in ("offer", "sign"):
            return
        if what == "offer":
            self._missed, self._offered = "", ()
            self._remember(self._sign_said(key, there=present is not False))
            self.lookup.set_sign(key, present is not False)
        else:
            there = next(one.present for one in self.lookup.seen() if one.key == key)
            self._remember(self._sign_said(key, there=not there))
            self.lookup.set_sign(key, not there)
        self._changed(keep=what == "sign")

    def _sign_said(self, key: str, *, there: bool) -> str:
        if self.lookup is None:
            return ""
        known = self.lookup.ready.known
        return f"{(known.signs.get(key) or known.generals[key]).name}: {'there' if there else 'not there'}"

    def action_flip(self) -> None:
        """Turn a sign from there to not there; a sign that is offered is taken as not there."""
        if self.zone == "known":
            self._take_known(present=False)

    def action_remove(self) -> None:
        """Take away a digit, or what is pointed at in the list of what is known."""
        if self._view.look.rub_out() or self.zone != "known" or self.lookup is None:
            return
        what, _, key = self._view.known.key.partition(":")
        if what == "offer":
            self._missed, self._offered = "", ()
        elif what in ("sign", "reading", "crop"):
            self._remember("that it was taken away")
        if what == "sign":
            self.lookup.set_sign(key, None)
        elif what == "reading":
            self.lookup.set_reading(key, None)
        elif what == "crop":
            self.lookup.set_crop("")
        self._changed(keep=True)
