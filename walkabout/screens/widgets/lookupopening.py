"""The screens that open from a lookup, and what is asked to write jobs and findings down."""

from walkabout.screens.widgets.lookuppage import LookupPage


class LookupOpening(LookupPage):
    """Opens what belongs to a lookup; until its knowledge is read nothing opens."""

    def action_signs(self) -> None:
        """Pick signs from the list."""
        if self.lookup is not None:
            from walkabout.screens.signs import SignsScreen  # noqa: PLC0415 - only when it opens

            self.app.push_screen(SignsScreen(self.lookup))

    def action_cause(self) -> None:
        """Read all about the cause pointed at."""
        if self.lookup is not None and (key := self._view.causes.key):
            from walkabout.screens.cause import CauseScreen  # noqa: PLC0415 - only when it opens

            if self.lookup.ready.known.cause(key) is None:
                self.app.hint("Nothing is known of that one: it stands for whatever is not on the list.")
            else:
                self.app.push_screen(CauseScreen(key))

    def action_causes(self) -> None:
        """Look through all causes."""
        if self.lookup is not None:
            from walkabout.screens.causes import CausesScreen  # noqa: PLC0415 - only when it opens

            self.app.push_screen(CausesScreen())

    def action_jobs(self) -> None:
        """Make jobs of what is to be done."""
        if self.lookup is not None:
            from walkabout.screens.widgets.lookupasking import ask_jobs  # noqa: PLC0415 - only when it is asked

            self.ask_through(ask_jobs(self.app, self.lookup, self.station_key, self._walker))

    def action_finding(self) -> None:
        """Keep what is seen as a finding."""
        if self.lookup is not None:
            from walkabout.screens.widgets.lookupasking import ask_finding  # noqa: PLC0415 - only when it is asked

            self.ask_through(ask_finding(self.app, self.lookup, self.station_key, self._walker))
