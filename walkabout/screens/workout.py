"""Working out: pick what one wants to know, fill the fields, read what to do and the working."""

from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.widgets import Static

from walkabout.growing.units import Scales
from walkabout.jobs.make import already_asked
from walkabout.reckon.catalogue import every, find
from walkabout.reckon.model import SUBJECTS, Reckoned, Subject
from walkabout.room.model import may
from walkabout.round.known import Known, known_at
from walkabout.round.own import own_recipes
from walkabout.round.starts import about, starts
from walkabout.round.workout import Form, Starts, superseded, worked_out_before
from walkabout.screens.base import Page
from walkabout.screens.text import plain
from walkabout.screens.widgets.asking import PickScreen
from walkabout.screens.widgets.choices import Row
from walkabout.screens.widgets.fields import Fields
from walkabout.screens.widgets.headline import HeadLine
from walkabout.screens.widgets.keyline import KeyLine
from walkabout.screens.widgets.pointed import Pointed
from walkabout.screens.workout_shown import (
    CLOSED,
    asks_for_more,
    entries_with,
    keys_for,
    not_yet,
    title_lines,
    what_comes_out,
)

OF_A_TANK = "bring"
"""What one most likely wants to know at a station with a tank."""


class WorkOutScreen(Page):
    """What can be worked out on the left; its fields, what comes out and how on the right."""

    CSS_PATH = "workout.tcss"
    HELP = (
        "Every number a growing room needs, with the way it is worked out. Point at what you want to know on the "
        "left, press enter and type into the fields: what comes out changes with each key, and the working below "
        "shows each step and where it comes from. Fields start from the last readings of the station; s chooses "
        "another station. Where there is something to do, j makes a job of it. A number may have its unit behind it: "
        "75F, 20gal, 1400uS/cm."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "point(-1)", "up", tooltip="The one above"),
        Binding("down", "point(1)", "down", tooltip="The one below"),
        Binding("enter", "enter", "fields", tooltip="Go to the fields, and from one to the next"),
        Binding(
            "left", "subject(-1)", "subject before", tooltip="The subject before: light, air, solution, water, growth"
        ),
        Binding("right", "subject(1)", "next subject", tooltip="The next subject"),
        Binding("slash", "app.command_palette", "find", tooltip="Find something to work out by its name"),
        Binding("tab", "turn", "fields and back", tooltip="Between the list and the fields", priority=True),
        Binding("shift+tab", "turn", "fields and back", show=False, priority=True),
        Binding("j,f2", "job", "make a job", tooltip="Make a job of what is to be done (f2 from a field)"),
        Binding("s,f3", "station", "station", tooltip="Start from another station's values (f3 from a field)"),
        Binding("u,f4", "units", "units", tooltip="Metric or US units (f4 from a field)"),
        Binding("pagedown", "read(1)", "read on", tooltip="Read on in the working"),
        Binding("pageup", "read(-1)", "read back", tooltip="Read back"),
        Binding("escape", "back", "back", tooltip="Back to the list, then to where you came from"),
        Binding("q", "leave", "leave", show=False, tooltip="Back to where you came from"),
    ]

    def __init__(self, station: str = "", name: str = "") -> None:
        super().__init__()
        self.station_key = station
        self._begin = name
        self._subject: Subject = SUBJECTS[0]
        self._scales: Scales | None = None
        self._forms: dict[str, Form] = {}
        self._reckoned: Reckoned | None = None
        # made at once: a key may come before the screen is put together
        self._head, self._list, self._fields = HeadLine(), Pointed(id="subjects", bare=True), Fields(id="fields")
        self._title, self._out, self._keys = Static(id="title"), Static(id="out"), KeyLine()
        self._page = VerticalScroll(self._out, id="page", can_focus=False)

    def compose(self) -> ComposeResult:
        """The list on the left, the form and what comes out on the right."""
        yield self._head
        with Horizontal(id="workout"):
            with Vertical(id="left"):
                yield Static(plain("What do you want to know?", "$accent-text"), id="ask")
                yield self._list
            with Vertical(id="right"):
                yield self._title
                yield self._fields
                yield self._page
        yield self._keys

    def on_mount(self) -> None:
        """List what can be worked out, and begin with one."""
        if not self.station_key and self.app.opened.room.stations:
            with_tank = (one.key for one in self.app.opened.room.stations if one.tank)
            self.station_key = next(with_tank, self.app.opened.room.stations[0].key)
        station = self.app.opened.room.station(self.station_key)
        self.point_at(self._begin or (OF_A_TANK if station and station.tank else next(every()).name))
        self.renew()

    def on_screen_resume(self) -> None:
        """Show what is true now."""
        self.renew()

    def on_resize(self, event: events.Resize) -> None:
        """Fit the lines to the width."""
        self.call_after_refresh(self.renew)

    def renew(self) -> None:
        """Show the form and what comes out of it."""
        if not self.is_mounted or not self._list.key or self._list.key.startswith(CLOSED):
            return
        opened = self.app.opened
        self._head.left = f"Working out · {about(opened, self.station_key, self.scales)}"
        self._head.right = self.dated
        self._show_form()

    # the form

    @property
    def scales(self) -> Scales:
        """In what is typed and shown here: the room's own, unless turned."""
        return self._scales or self.app.opened.scales

    @property
    def form(self) -> Form:
        """The form that is open; what was typed into one stays while the screen is open."""
        name = self._list.key
        if name not in self._forms:
            known = known_at(self.app.opened, self.station_key)
            own = own_recipes(self.app.opened.room.recipes)
            self._forms[name] = Form(find(name), _starts(known), self.scales, own, known)
        return self._forms[name]

    def _show_form(self) -> None:
        self._show_out()
        self._show_fields()

    def _show_fields(self) -> None:
        self._fields.show(self.form.rows(), asks_for_more(self.form))

    def _show_out(self) -> None:
        form = self.form
        try:
            self._reckoned = form.work()
        except ValueError as error:
            self._reckoned = None
            self._out.update(not_yet(form, str(error)))
        else:
            self._out.update(what_comes_out(form, self._reckoned))
        self._page.scroll_home(animate=False)
        self._show_keys()

    def _show_keys(self) -> None:
        typing = self._fields.has_focus
        self._title.update(title_lines(self.form, self._fields.pointed if typing else None))
        job = self._reckoned is not None and self._reckoned.do is not None
        self._keys.keys = keys_for(typing=typing, job=job)

    # what happens in it

    def on_pointed_moved(self, event: Pointed.Moved) -> None:
        """Show the form of what is pointed at now."""
        event.stop()
        key = self._list.key
        if key.startswith(CLOSED):
            self._open_subject(key.removeprefix(CLOSED))
        elif self.is_mounted and key:
            self._fields.restart()
            self._show_form()

    def _open_subject(self, name: str) -> None:
        """Open a subject that was pointed at: from above at its first, from below at its last."""
        subject = next(one for one in SUBJECTS if one == name)
        inside = [one.name for one in every() if one.subject == subject]
        before = SUBJECTS.index(self._subject)
        self.point_at(inside[-1] if SUBJECTS.index(subject) < before else inside[0])

    def on_fields_changed(self, event: Fields.Changed) -> None:
        """Take in what was typed, and work it out anew."""
        event.stop()
        before = next((row.text for row in self.form.rows() if row.key == event.key), "")
        self.form.set(event.key, event.change(before))
        self._show_out()
        self._show_fields()

    def on_fields_added(self, event: Fields.Added) -> None:
        """Add a salt or an element by its name."""
        event.stop()
        try:
            name = self.form.add(event.typed)
        except ValueError as error:
            self.app.say(f"{str(error).rstrip('.?')}.", grave=True)
            self._fields.refresh()
            return
        self._show_fields()
        self._fields.point_at(name)

    def on_fields_moved(self, event: Fields.Moved) -> None:
        """Show the keys of the fields."""
        event.stop()
        self._show_keys()

    def on_descendant_focus(self) -> None:
        """Show the keys that work now."""
        self._show_keys()

    def on_descendant_blur(self) -> None:
        """Show the keys that work now."""
        self._show_keys()

    # actions

    def action_point(self, step: int) -> None:
        """Move in the fields while typing, else in the list."""
        if self._fields.has_focus:
            self._fields.point(step)
        else:
            self._list.point(step)

    def action_subject(self, step: int) -> None:
        """Point at the first of the next subject."""
        subject = SUBJECTS.index(self._subject) + step
        if not self._fields.has_focus and 0 <= subject < len(SUBJECTS):
            self.point_at(next(one.name for one in every() if one.subject == SUBJECTS[subject]))

    def point_at(self, name: str) -> None:
        """Point at one by its name, with nothing to type into yet."""
        self.set_focus(None)
        self._subject = find(name).subject
        self._list.show(entries_with(self._subject))
        self._list.key = find(name).name

    def action_enter(self) -> None:
        """Go into the fields; there, from one to the next, and from the last back to the list."""
        if not self._fields.has_focus:
            self._fields.focus()
            self._fields.begin()
        elif not self._fields.hand_in() and not self._fields.point(1):
            self.set_focus(None)

    def action_turn(self) -> None:
        """Change between the list and the fields."""
        if self._fields.has_focus:
            self.set_focus(None)
        else:
            self.action_enter()

    def action_read(self, step: int) -> None:
        """Scroll the working."""
        self._page.scroll_relative(y=step * max(self._page.size.height - 2, 1), animate=False)

    def action_units(self) -> None:
        """Change between metric and US units; what was typed stays as it was typed."""
        self._scales = self.scales.other
        for form in self._forms.values():
            form.change_scales(self._scales)
        self.app.say("US units" if self._scales.us else "metric units", seconds=2)
        self._show_form()

    def action_station(self) -> None:
        """Choose the station whose values the fields start from."""
        stations = self.app.opened.room.stations
        rows = [Row(one.name, about(self.app.opened, one.key, self.scales).partition(" · ")[2]) for one in stations]

        def chosen(picked: tuple[int, ...] | None) -> None:
            if picked:
                self.station_key = stations[picked[0]].key
                known = known_at(self.app.opened, self.station_key)
                for form in self._forms.values():
                    form.move(_starts(known), known)
                self.renew()

        self.app.push_screen(PickScreen("Which station?", rows), chosen)

    def action_job(self) -> None:
        """Make a job of what is to be done."""
        do = self._reckoned.do if self._reckoned else None
        if do is None:
            self.app.say("There is nothing to do in this one.")
            return
        opened = self.app.opened
        job = self.form.job(do, self.station_key, self.app.walker, opened.clock())
        if already_asked(opened.jobs.values(), job) is not None:
            self.app.say("That job is on the list already.")
            return
        same = (self.station_key, *opened.sharing(self.station_key))
        before = [one for one in opened.jobs.values() if one.station in same and worked_out_before(one, self.form.why)]
        over = [superseded(one, job, self.app.walker, opened.clock()) for one in before]
        unsaved = opened.save(*over, job)
        whose = "" if may(opened.room.role(self.app.walker), do.who) else f", for an {do.who}"
        instead = " It takes the place of the earlier one." if over else ""
        self.app.say(unsaved or f"Job written down{whose}: {job.what}.{instead}", grave=bool(unsaved))

    def action_back(self) -> None:
        """From the fields to the list, from the list to where one came from."""
        if self._fields.has_focus:
            self.set_focus(None)
        else:
            self.action_leave()

    def action_leave(self) -> None:
        """Go back to where one came from."""
        if self.app.screen is self:
            self.app.pop_screen()


def _starts(known: Known | None) -> Starts:
    return lambda scales: starts(known, scales) if known else {}
