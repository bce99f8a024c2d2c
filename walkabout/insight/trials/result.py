"""A whole trial from its table: read, tested, and put in words."""

from collections.abc import Sequence
from typing import Any

from walkabout.insight.trials import tests
from walkabout.insight.trials.chances import t_point
from walkabout.insight.trials.counting import analyse_counts, analyse_ratio, is_tally
from walkabout.insight.trials.counts import read_ratio
from walkabout.insight.trials.design import Trial, only_yes_no, read_trial, whole_numbers
from walkabout.insight.trials.fits import fit, fit_lines
from walkabout.insight.trials.names import COUNTED, fitting, test_key
from walkabout.insight.trials.outcome import LEVEL, Effect, Group, Outcome, Outlier, Tested, plain
from walkabout.insight.trials.outliers import outliers
from walkabout.insight.trials.plates import plates, plates_note
from walkabout.insight.trials.report import Result
from walkabout.insight.trials.say import number
from walkabout.insight.trials.table import BadTrial, Table, line_list
from walkabout.insight.trials.two_groups import differences
from walkabout.insight.trials.words import fit_words, several_words, two_words

__all__ = ["Result", "analyse", "analyse_fit"]


def analyse(
    table: Table,
    response: str,
    by: str | None = None,
    pair: str | None = None,
    block: str | None = None,
    test: str | None = None,
    *,
    ratio: str | None = None,
    count: str | None = None,
    of: str | None = None,
) -> Result:
    """Return what a table shows about a response: the test that fits its design, or the one asked for.

    `by` names the column of the treatments, `pair` that of the pairs, `block` that of the blocks. `ratio` ('3:1', or
    'purple=3, white=1') sets the outcomes of the response against a ratio. `count` names a column that says for how
    many plants a row stands, `of` one of totals, of which the response is a part. BadTrial, in one line, where that
    cannot be done.
    """
    parts = read_ratio(ratio) if ratio is not None else read_ratio(test) if test is not None else None
    if ratio is not None and parts is None:
        raise BadTrial(f'"{ratio[:40]}" is no ratio. Write it as 3:1 or 9:3:3:1, or with names: purple=3, white=1')
    key = test_key(test) if test is not None and parts is None else None
    if parts is not None:
        return analyse_ratio(table, response, by, parts, count)
    if key == "ratio":
        raise BadTrial("Give the ratio itself, such as --ratio 3:1 or --test 9:3:3:1")
    table.column(response)
    if key == "chi-squared" and of is None and _counts_alone(table, response, by, count):
        return analyse_ratio(table, response, by, None, count)
    if by is None:
        also = " The column of the pairs alone does not say which value belongs to which treatment." if pair else ""
        raise BadTrial(
            f"Name the column that says which treatment each row had: --by COL.{also} For counts against a ratio: "
            "--ratio 3:1. For a line along numbers: --fit line --over COL"
        )
    numeric = table.is_numbers(response)
    yes_no = numeric and of is None and only_yes_no(table.numbers(response))
    if key in COUNTED and numeric and not yes_no:
        raise BadTrial(
            f'The test "{key}" counts words, or 0 and 1; "{response}" holds amounts. Where it holds how many of a '
            "total had the outcome, name the column of the totals: --of COL"
        )
    if of is None and (not numeric or (yes_no and (key is None or key in COUNTED)) or count is not None):
        return analyse_counts(table, response, by, key, pair, block, count)
    return _numbers(table, response, by, pair, block, key, of)


def analyse_fit(table: Table, response: str, over: str, curve: str, by: str | None = None) -> Result:
    """Return a line or curve of the response along the numbers of `over`, for each treatment where `by` names them."""
    if table.column(response) == table.column(over):
        raise BadTrial("--response and --over name the same column: a line goes along another one")
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
    notes = [f"{len(left_out)} rows with something missing left out: {line_list(left_out)}."] if left_out else []
    notes += [f"{name}: {note}" if name else note for name, found in fits for note in found.notes]
    return Result(
        design="line" if curve == "line" else "curve",
        response=response,
        by=by,
        groups=tuple(_group_facts(one) for one in groups),
        samples=tuple(groups),
        outcome=outcome,
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


def _numbers(
    table: Table, response: str, by: str, pair: str | None, block: str | None, key: str | None, of: str | None
) -> Result:
    trial = read_trial(table, response, by, pair, block, of)
    chosen = fitting(trial.design, key)
    outcome = tests.run(trial, chosen)
    far = outliers(_looked_at(trial))
    second = tests.second_look(trial, chosen, far)
    notes = [*trial.notes, *outcome.notes, *map(_far_line, far)]
    notes += [tests.second_line(second, outcome)] if second else []
    notes += [plates_note(plates(_plates(table, response, by, of)))] if of else []
    say = two_words if trial.design in ("two groups", "paired") else several_words
    return Result(
        design=trial.design,
        response=response,
        by=by,
        groups=tuple(map(_group_facts, trial.groups)),
        samples=trial.groups,
        outcome=outcome,
        words=say(trial, outcome, response, tests.second_words(second, outcome)),
        working=(*map(_group_line, trial.groups), *outcome.working),
        outliers=far,
        notes=tuple(one for one in notes if one),
        more={"second_look": {"name": second.outcome.test.name, "p": second.outcome.test.p}} if second else {},
    )


def _counts_alone(table: Table, response: str, by: str | None, count: str | None) -> bool:
    """Say whether there are outcomes and how many of each, without treatments: equal parts are what is tested then."""
    if by is None:
        return count is not None or not table.is_numbers(response)
    return count is None and table.is_numbers(response) and is_tally(table, response, by)


def _looked_at(trial: Trial) -> Sequence[Group]:
    if trial.design != "paired":
        return trial.groups
    return (differences(*trial.groups),)


def _plates(table: Table, response: str, by: str, of: str) -> list[tuple[str, int, int]]:
    rows = zip(table.words(by), whole_numbers(table, response), whole_numbers(table, of), strict=True)
    return [(name, up, total) for name, up, total in rows if name is not None and up is not None and total]


def _group_facts(group: Group) -> dict[str, Any]:
    sd = group.sd
    half = t_point(LEVEL, group.n - 1) * sd / group.n**0.5 if sd is not None else None
    ordered, at = sorted(group.values), group.n // 2
    median = ordered[at] if group.n % 2 else (ordered[at - 1] + ordered[at]) / 2
    return {
        "name": group.name,
        "n": group.n,
        "mean": group.mean,
        "sd": sd,
        "mean_low": None if half is None else group.mean - half,
        "mean_high": None if half is None else group.mean + half,
        "median": median,
        "least": ordered[0],
        "most": ordered[-1],
    }


def _group_line(group: Group) -> str:
    head = f"{group.name}: mean = sum/n = {number(group.mean * group.n)}/{group.n} = {number(group.mean)}"
    if group.sd is None:
        return head
    return f"{head}; sd = √(Σ (value − mean)²/(n−1)) = √({number(group.squares)}/{group.n - 1}) = {number(group.sd)}"


def _far_line(one: Outlier) -> str:
    where = f" (line {one.line})" if one.line else ""
    far = f"{number(one.value)} in {one.group}{where} lies {number(one.statistic, 3)} sd from its mean; the limit is "
    far += number(one.limit, 3)
    if one.statistic <= one.limit:
        far += ", but together with the next one it is too far out"
    return f"{far}. It was kept: look whether it was misread, and drop it only for a reason you can name."
