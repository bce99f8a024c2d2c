"""A line or curve along numbers, from its table: fitted for each treatment and put in words."""

from walkabout.insight.trials.answer import fit_answer
from walkabout.insight.trials.design import unit_of
from walkabout.insight.trials.fits import Fit, fit, fit_lines
from walkabout.insight.trials.groups import group_facts
from walkabout.insight.trials.outcome import ALPHA, LEVEL, Effect, Group, Outcome, Tested, plain
from walkabout.insight.trials.report import Result
from walkabout.insight.trials.say import short
from walkabout.insight.trials.spelling import bare
from walkabout.insight.trials.table import BadTrial, Table, line_list
from walkabout.insight.trials.words import capital


def analyse_fit(table: Table, response: str, over: str, curve: str, by: str | None = None) -> Result:
    """Return a line or curve of the response along the numbers of `over`, for each treatment where `by` names them."""
    if table.column(response) == table.column(over):
        raise BadTrial("--response and --over name the same column: a line goes along another one")
    table, read = bare(table, response, over)
    y, x = table.numbers(response), table.numbers(over)
    names = table.words(by) if by is not None else [""] * len(y)
    sides: dict[str, list[tuple[float, float, int]]] = {}
    left_out = []
    for row, one, at, name in zip(table.rows, y, x, names, strict=True):
        if one is None or at is None or name is None:
            left_out.append(row.line)
        else:
            sides.setdefault(name, []).append((at, one, row.line))
    if not sides:
        raise BadTrial(f'{table.file}: no row has a number both in "{response}" and in "{over}"')
    if len(sides) > 12:
        raise BadTrial(f'{table.file}: "{by}" holds {len(sides)} different words: is it the treatment?')
    fits = [(name, fit(curve, [one[0] for one in rows], [one[1] for one in rows])) for name, rows in sides.items()]
    groups = [Group(n, tuple(r[1] for r in rows), tuple(r[2] for r in rows)) for n, rows in sides.items()]
    outcome = None
    if len(fits) == 1:
        only = fits[0][1]
        effect = Effect("r squared", only.r_squared)
        if only.t is not None and only.p is not None:
            tested = Tested(key="line", name="t test of the slope", statistic=only.t, df=only.df, p=only.p)
            outcome = Outcome(test=tested, effect=effect)
    notes = list(read)
    notes += [f"{len(left_out)} rows with something missing left out: {line_list(left_out)}."] if left_out else []
    notes += [f"{name}: {note}" if name else note for name, found in fits for note in found.notes]
    return Result(
        design="line" if curve == "line" else "curve",
        response=response,
        by=by,
        groups=tuple(group_facts(one) for one in groups),
        samples=tuple(groups),
        outcome=outcome,
        answer=fit_answer(fits, response, over),
        words=fit_words(fits, response, over),
        working=tuple(
            f"{name}: {line}" if name else line for name, found in fits for line in fit_lines(found, over, response)
        ),
        notes=tuple(notes),
        more={
            "over": over,
            "fits": [
                {"group": name, **plain(found), "terms": [plain(one) for one in found.terms]} for name, found in fits
            ],
        },
    )


def fit_words(fits: list[tuple[str, Fit]], response: str, over: str) -> str:
    """Return what fitted lines or curves say; each with the name of its group, '' for all values."""
    unit = unit_of(response)
    parts = []
    for name, found in fits:
        head = f"{name}: " if name else ""
        first, last = found.points[0][0], found.points[-1][0]
        span = f"Nothing is known outside {over} {short(first)} to {short(last)}."
        if found.curve == "line":
            slope = found.terms[1]
            parts.append(
                f"{head}for each 1 of {over}, {response} changes by {short(slope.low)} to {short(slope.high)}{unit} "
                f"({LEVEL * 100:.0f} % interval); best guess {short(slope.value)}."
            )
            if found.p is not None and found.p >= ALPHA:
                parts.append("No slope is shown; that is not the same as no slope.")
        else:
            top = found.terms[0]
            parts.append(
                f"{head}the curve ({found.curve}) heads for {short(top.low)} to {short(top.high)}{unit} of {response} "
                f"({LEVEL * 100:.0f} % interval); best guess {short(top.value)}."
            )
        shape = "line" if found.curve == "line" else "curve"
        parts.append(f"Values lie about {short(found.sd)}{unit} from the {shape}. {span}")
    parts[0] = capital(parts[0])
    return " ".join([*parts, f"A {shape} that fits shows how, not why."])
