"""Everything on record as tables: the form, about people's codes, the folder; then written beside the screen."""

from pathlib import Path
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from walkabout.paper.export import RAW, Exported
from walkabout.paper.export_words import AS_THEY_ARE, CODES, FORMS, WHO, standing_of, standing_words, usual_name
from walkabout.paper.making import usual_folder
from walkabout.paper.typed_paths import path_typed
from walkabout.paper.writers import Form
from walkabout.screens.text import fitted, lines, plain
from walkabout.screens.widgets.asking import AskingPage, LineScreen
from walkabout.screens.widgets.beside import Work
from walkabout.screens.widgets.headline import HeadLine
from walkabout.screens.widgets.keyline import Key, KeyLine
from walkabout.screens.widgets.longjobs import Tables, write_tables
from walkabout.screens.widgets.pointlist import NOBODY, PointList
from walkabout.screens.widgets.reading import wrapped

WIDEST = 100
OPTION = 16
LONGEST_PATH = 1000
EACH = 0.1
"""Seconds between two looks at how far it has come."""


class ExportScreen(AskingPage):
    """What will be written, and where; enter writes it."""

    CSS_PATH = "exporting.tcss"
    HELP = (
        "Everything on record as tables that a spreadsheet or any other program opens, each column described. f turns "
        "the form, c says whether people's codes are replaced, o whether the loggers' own files are copied too, w "
        "names the folder. Enter writes; nothing but an earlier export is ever replaced. An adult does this: the code "
        "of one is asked for once. The same from a command: walkabout export --to DIR."
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "write", "write", tooltip="Write the tables"),
        Binding("f", "form", "form", tooltip="CSV, a spreadsheet or Parquet"),
        Binding("c", "codes", "codes", tooltip="Replace people's codes, or leave them as they are"),
        Binding("o", "own", "own files", tooltip="Copy the loggers' own files too, or not"),
        Binding("w", "where", "folder", tooltip="Another folder"),
        Binding("up,pageup", "read(-1)", "read back", show=False, tooltip="Read back in what stands below"),
        Binding("down,pagedown", "read(1)", "read on", show=False, tooltip="Read on in what stands below"),
        Binding("escape,q,left", "back", "back", tooltip="Back; while it writes, stop it"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.form: Form = "csv"
        self.codes = self.raw = self._decided = False
        self.folder: Path | None = None
        self.made: Exported | None = None
        self._found: list[Content] = []
        self._work: Work | None = None
        # made at once: a key may come before the screen is put together
        self._head, self._keys, self._bar, self._said = HeadLine(), KeyLine(), Static(id="bar"), Static(id="said")
        self._options = PointList(id="options", at_once=True)
        self._below = VerticalScroll(self._said, id="below", can_focus=False)

    def compose(self) -> ComposeResult:
        """What can be chosen, how far it has come, what came of it."""
        yield self._head
        with Container(id="tables"):
            yield self._options
            yield self._bar
            yield self._below
        yield self._keys

    def on_mount(self) -> None:
        """Begin with a folder of this room and this day."""
        self.folder = usual_folder() / usual_name(self.app.opened.folder, self.app.opened.today())
        self._bar.display = False
        self.set_interval(EACH, self._look)
        self.renew()

    def on_unmount(self) -> None:
        """Whoever leaves the program does not wait for tables."""
        if self._work is not None:
            self._work.stop()

    def on_screen_resume(self) -> None:
        """Show it afresh when it comes back."""
        self.renew()

    def on_resize(self) -> None:
        """Fit it to the width."""
        self.call_after_refresh(self.renew)

    # showing it

    def renew(self) -> None:
        """Show what is true now."""
        if not self.is_mounted or self.folder is None:
            return
        self._head.left = f"Tables · {self.app.opened.room.name}"
        self._head.right = self.dated
        options = (
            ("f", "form", FORMS[self.form]),
            ("c", "people's codes", "as they are" if self.codes else "replaced by pseudonyms"),
            ("o", "loggers' files", f"{'copied too' if self.raw else 'not copied'}{self._own_files()}"),
            ("w", "folder", str(self.folder)),
        )
        rows = [
            plain(f"{key}  ", "$accent-text bold").append(plain(fitted(name, OPTION), "$muted")).append(plain(says))
            for key, name, says in options
        ]
        self._options.show(rows, NOBODY)
        enter = Key("esc", "stop", "screen.back") if self._work else Key("enter", "write", "screen.write")
        others = () if self._work else (
            Key("f", "form", "screen.form"), Key("c", "codes", "screen.codes"), Key("o", "own files", "screen.own"),
            Key("w", "folder", "screen.where"), Key("esc", "back", "screen.back"),
        )  # fmt: skip
        self._keys.keys = (enter, *others, Key("?", "help", "app.help"))
        self._said.update(lines(self._below_lines()))
        self._look()

    def _below_lines(self) -> list[Content]:
        assert self.folder is not None
        width = max(min(self._below.scrollable_content_region.width or self.size.width - 6, WIDEST), 20)
        if self._found:
            return [row for one in self._found for row in one.wrap(width)]
        if self._work:
            return wrapped("You may go on reading; esc stops it, and then nothing is left of it.", width, "$muted")
        standing = standing_of(self.folder)
        rows = wrapped(f"Enter writes into {self.folder}", width)
        rows += wrapped(standing_words(standing), width, "$watch" if standing == "other" else "$muted")
        rows += [plain(""), *wrapped(WHO, width, "$watch")]
        rows += wrapped(CODES[self.codes], width, "$watch" if self.codes else "$muted")
        return [*rows, *(wrapped(AS_THEY_ARE, width, "$watch") if self.raw else [])]

    def _own_files(self) -> str:
        files = [one for one in (self.app.opened.folder / RAW).glob("*.csv") if one.is_file()]
        if not files:
            return ": there are none"
        size = sum(one.stat().st_size for one in files)
        many = f"{size / 1e6:.1f} MB" if size >= 1e5 else f"{max(size / 1e3, 0.1):.1f} kB"
        return f": {len(files)} {'file' if len(files) == 1 else 'files'}, {many}"

    def _look(self) -> None:
        self._bar.display = self._work is not None
        if self._work is not None:
            self._bar.update(self._work.drawn())

    # choosing

    def on_point_list_picked(self, event: PointList.Picked) -> None:
        """Take a click."""
        event.stop()
        (self.action_form, self.action_codes, self.action_own, self.action_where)[event.index]()

    def action_form(self) -> None:
        """Take the next form."""
        if not self._work:
            forms = list(FORMS)
            self.form = forms[(forms.index(self.form) + 1) % len(forms)]
            self._changed()

    def action_codes(self) -> None:
        """Replace people's codes, or leave them."""
        if not self._work:
            self.codes = not self.codes
            self._changed()

    def action_own(self) -> None:
        """Copy the loggers' own files, or not."""
        if not self._work:
            self.raw = not self.raw
            self._changed()

    def action_where(self) -> None:
        """Ask for another folder."""
        if not self._work:
            self.ask_through(self._ask_where())

    async def _ask_where(self) -> None:
        def check(text: str) -> None:
            if not text:
                raise ValueError("Type the name of a folder.")
            if standing_of(path_typed(text)) == "other":
                raise ValueError(standing_words("other"))

        hint = "A new or an empty folder, or an earlier export, which is replaced."
        got = await self.app.push_screen_wait(
            LineScreen("Into which folder?", check, hint=hint, text=str(self.folder), most=LONGEST_PATH)
        )
        if got:
            self.folder = path_typed(got).absolute()
            self._changed()

    def _changed(self) -> None:
        self._found = []
        self.renew()

    # writing

    def action_write(self) -> None:
        """Write the tables."""
        if not self._work:
            self.ask_through(self._write())

    async def _write(self) -> None:
        if not self._decided:
            from walkabout.screens.adult import decided_by  # noqa: PLC0415 - seldom asked

            says = "Tables of everything that everybody wrote are for an adult. Whose code?"
            self._decided = await decided_by(self.app, says) is not None
            if not self._decided:
                return
        self._work = Work("Reading what is on record")
        self._found, self.made = [], None
        self.renew()
        # not through the questions: whoever asks for help meanwhile, or leaves, must be free to
        self.run_worker(self._to_the_end(self._work), exclusive=True, group="tables")

    async def _to_the_end(self, work: Work) -> None:
        assert self.folder is not None
        wanted = Tables(self.folder, self.form, codes=self.codes, raw=self.raw)
        self.made, self._found = await write_tables(work, self.app.opened, wanted)
        self._work = None
        self._below.scroll_home(animate=False)
        self.renew()

    # going

    def action_read(self, step: int) -> None:
        """Scroll what stands below."""
        self._below.scroll_relative(y=step * max(self._below.size.height - 1, 1), animate=False)

    def action_back(self) -> None:
        """Go back; while it writes, stop it."""
        if self._work is not None:
            self._work.stop()
            self._work.says = "Stopping"
        else:
            self.leave()
