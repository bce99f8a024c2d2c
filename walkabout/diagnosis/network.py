"""The network: exact probabilities of causes from signs that are there and signs that are not.

Two layers. Causes stand above and are independent before anything is seen; signs hang below. A cause that
is there gives each of its signs with its own strength, whatever else is there, and a sign may also come of
nothing on the list (its leak, kept apart from the strengths):

    P(sign absent | causes) = (1 - leak) · product over the causes that are there of (1 - strength)

The answer is a sum of positive terms over which present signs are explained so far, so that nothing is
lost by taking nearly equal numbers from each other. Causes are taken one at a time, in an order that keeps
few signs half explained; a sign is dropped as soon as its last cause has been taken, which also splits
causes that share no sign, and a cause that gives one present sign only goes into that sign itself. A pass
back through the same steps gives every cause at once. No limit is put on how many causes are there
together. Memory and time grow with 2 to the number of signs half explained.

Model: Shwe and others 1991, Methods of Information in Medicine 30:241-255 (two layers, noisy-OR with leak).
"""

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from walkabout.diagnosis.taking import Act, Closes, Opens, Takes, in_order

Numbers = NDArray[np.float64]

ROOM = 1 << 25
"""Numbers kept of the pass forward; beyond it only every so many steps are kept and the rest worked out again."""


MANY, HUB = 6, 0.6
"""From so many present signs on, a cause that gives more than this part of them is worked out both ways."""

SURE = 1.0 - 1e-9
"""A cause that explains a sign as surely as this is taken by itself: it leaves nothing for others to be divided by."""


class Contradiction(ValueError):
    """The evidence cannot come about: a present sign has neither a cause nor a leak."""


class Solved(NamedTuple):
    """`on`: the probability of each cause, shape (rows, causes); `log_evidence`: ln P(what was seen), shape (rows,)."""

    on: Numbers
    log_evidence: Numbers


class _Own(NamedTuple):
    """A sign's own causes: those that give no other present sign. They need no state of their own."""

    causes: NDArray[np.int64]
    strengths: Numbers
    unexplained: Numbers
    """P(neither the leak nor one of these explains the sign), shape (rows,)."""
    explained: Numbers
    """The rest, without loss where it is tiny."""
    spare: Numbers
    """1 in the rows where the sign need not be explained, else 0, shape (rows,)."""


def solve(
    prior: Numbers, stays: Numbers, gives: Numbers, leak: Numbers, left_out: NDArray[np.bool_] | None = None
) -> Solved:
    """Return the exact probability of each cause, for one or several rows of priors and absent signs at once.

    `prior`: P(cause) before any sign, shape (rows, causes) or (causes,), each in [0, 1].
    `stays`: P(every absent sign stays absent | this cause alone), without the leaks, same shape.
    `gives`: P(present sign | this cause alone), shape (present signs, causes), each in [0, 1].
    `leak`: P(present sign | no cause), shape (present signs,).
    `left_out`: present signs that a row takes as not looked at, shape (rows, present signs).
    Raises Contradiction when what is present cannot come about.
    """
    prior, stays = (np.atleast_2d(np.asarray(one, dtype=np.float64)) for one in np.broadcast_arrays(prior, stays))
    on_weight, off_weight = prior * stays, 1.0 - prior
    whole = on_weight + off_weight
    if not (whole > 0).all():
        raise Contradiction("what is absent cannot come about")
    # each cause's share is put in as a probability, so that no product of hundreds of small numbers can vanish
    share = on_weight / whole
    log_absent = np.log(whole).sum(axis=1)
    if not len(gives):
        return Solved(share, log_absent)
    spare = np.zeros((len(share), len(gives))) if left_out is None else left_out.astype(np.float64)
    leaks = np.broadcast_to(leak, spare.shape)
    linked = (gives > 0).sum(axis=0)
    hub = int(linked.argmax())
    if len(gives) >= MANY and linked[hub] > HUB * len(gives):
        log_present, on = _either_way(hub, share, gives, leaks, spare)
    else:
        log_present, on = _present(share, gives, leaks, spare)
    return Solved(on, log_absent + log_present)


def _either_way(hub: int, share: Numbers, gives: Numbers, leaks: Numbers, spare: Numbers) -> tuple[Numbers, Numbers]:
    """Work out a cause that gives nearly every sign both ways, so that it does not tie all the others together."""
    rows, here = len(share), share[:, hub]
    without, rest = share.copy(), gives.copy()
    without[:, hub] = rest[:, hub] = 0.0
    with_it = 1.0 - (1.0 - leaks) * (1.0 - gives[:, hub])
    log_present, on = _present(
        np.concatenate((without, without)), rest, np.concatenate((leaks, with_it)), np.concatenate((spare, spare))
    )
    with np.errstate(divide="ignore"):
        log_off, log_on = np.log1p(-here) + log_present[:rows], np.log(here) + log_present[rows:]
    log_whole = np.logaddexp(log_off, log_on)
    there = np.exp(log_on - log_whole)
    mixed = there[:, None] * on[rows:] + (1.0 - there)[:, None] * on[:rows]
    mixed[:, hub] = there
    return log_whole, mixed


def _present(share: Numbers, gives: Numbers, leaks: Numbers, spare: Numbers) -> tuple[Numbers, Numbers]:
    """Return ln P(present signs), shape (rows,), and P(cause), shape (rows, causes)."""
    signs, causes = np.nonzero(gives)
    of_cause: dict[int, list[int]] = {}
    for sign, cause in zip(signs.tolist(), causes.tolist(), strict=True):
        of_cause.setdefault(cause, []).append(sign)
    sure = share.max(axis=0) * gives.max(axis=0) >= SURE
    several = {cause: given for cause, given in of_cause.items() if len(given) > 1 or sure[cause]}
    single: list[list[int]] = [[] for _ in gives]
    for cause, given in of_cause.items():
        if cause not in several:
            single[given[0]].append(cause)
    own = [
        _own(gives[sign], leaks[:, sign], spare[:, sign], share, np.array(single[sign], dtype=np.int64))
        for sign in range(len(gives))
    ]
    return _forward_and_back(in_order(gives, several), share, own)


def _own(given: Numbers, leak: Numbers, spare: Numbers, share: Numbers, causes: NDArray[np.int64]) -> _Own:
    strengths = given[causes]
    with np.errstate(divide="ignore"):
        log_unexplained = np.log1p(-leak) + np.log1p(-share[:, causes] * strengths).sum(axis=1)
    return _Own(causes, strengths, np.exp(log_unexplained), -np.expm1(log_unexplained), spare)


def _forward_and_back(acts: Sequence[Act], share: Numbers, own: Sequence[_Own]) -> tuple[Numbers, Numbers]:
    """Return ln P(present signs), shape (rows,), and P(cause), shape (rows, causes)."""
    start = np.ones((share.shape[0], 1))
    spans = _spans(acts, share.shape[0])
    kept = [start]
    scale = np.zeros(share.shape[0])
    states: list[Numbers] = []
    for first, last in spans:
        states, state = _through(acts[first:last], kept[-1], share, own)
        # what is explained so far only gets less likely: keep it near one
        most = state.max(axis=1)
        if not (most > 0).all():
            raise Contradiction("what is present cannot come about")
        scale += np.log(most)
        kept.append(state / most[:, None])
    whole = kept.pop()[:, 0]
    on = share.copy()
    back = np.ones_like(start)
    for (first, last), state in zip(reversed(spans), reversed(kept), strict=True):
        if len(spans) > 1:
            states, _ = _through(acts[first:last], state, share, own)
        for act, before in zip(reversed(acts[first:last]), reversed(states), strict=True):
            back = _back(act, before, back, share, own, on)
        back /= back.max(axis=1)[:, None]
    return scale + np.log(whole), on


def _spans(acts: Sequence[Act], rows: int) -> list[tuple[int, int]]:
    """Cut the steps into spans whose inner states are kept while going back: one span where all of it fits."""
    size, sizes = 1, []
    for act in acts:
        size = size * 2 if isinstance(act, Opens) else size // 2 if isinstance(act, Closes) else size
        sizes.append(size * rows)
    length = len(acts) if sum(sizes) <= ROOM else max(int(len(acts) ** 0.5), 1)
    return [(first, min(first + length, len(acts))) for first in range(0, len(acts), length)]


def _through(acts: Sequence[Act], state: Numbers, share: Numbers, own: Sequence[_Own]) -> tuple[list[Numbers], Numbers]:
    """Return the state before each step, and the one after the last."""
    states = []
    for act in acts:
        states.append(state)
        if isinstance(act, Takes):
            on = share[:, act.cause, None]
            state = (1.0 - on) * state + on * _explain(act.gives, state)
        elif isinstance(act, Opens):  # always the newest axis
            of_sign = own[act.sign]
            state = np.concatenate((state * of_sign.unexplained[:, None], state * of_sign.explained[:, None]), axis=1)
        else:
            rows, size = state.shape
            low = 1 << act.axis
            cells = state.reshape(rows, size // (2 * low), 2, low)
            state = cells[:, :, 1] + own[act.sign].spare[:, None, None] * cells[:, :, 0]
            state = state.reshape(rows, size // 2)
    return states, state


def _back(act: Act, before: Numbers, back: Numbers, share: Numbers, own: Sequence[_Own], on: Numbers) -> Numbers:
    """Return what stands before a step, seen from the end; the causes that the step takes are put into `on`."""
    rows, size = back.shape
    if isinstance(act, Takes):
        here = share[:, act.cause]
        there = _explain_back(act.gives, back)
        with_it = here * _inner(there, before)
        on[:, act.cause] = with_it / (with_it + (1.0 - here) * _inner(back, before))
        return (1.0 - here)[:, None] * back + here[:, None] * there
    low = 1 << act.axis
    if isinstance(act, Closes):
        wider = np.empty((rows, size // low, 2, low))
        wider[:, :, 1] = back.reshape(rows, size // low, low)
        wider[:, :, 0] = own[act.sign].spare[:, None, None] * wider[:, :, 1]
        return wider.reshape(rows, size * 2)
    of_sign = own[act.sign]
    not_yet, done = back[:, :low], back[:, low:]
    if len(of_sign.causes):
        on[:, of_sign.causes] = _of_own(of_sign, share, _inner(before, not_yet), _inner(before, done))
    return not_yet * of_sign.unexplained[:, None] + done * of_sign.explained[:, None]


def _of_own(of_sign: _Own, share: Numbers, not_yet: Numbers, done: Numbers) -> Numbers:
    """Return P(cause) of a sign's own causes, from P(the rest | the sign not explained yet, and explained)."""
    here = share[:, of_sign.causes]
    with np.errstate(divide="ignore"):
        log_others = np.log(of_sign.unexplained)[:, None] - np.log1p(-here * of_sign.strengths)
        log_on = log_others + np.log1p(-of_sign.strengths)
    with_it = here * (np.exp(log_on) * not_yet[:, None] - np.expm1(log_on) * done[:, None])
    without = (1.0 - here) * (np.exp(log_others) * not_yet[:, None] - np.expm1(log_others) * done[:, None])
    found: Numbers = with_it / (with_it + without)
    return found


def _inner(one: Numbers, other: Numbers) -> Numbers:
    found: Numbers = np.einsum("ks,ks->k", one, other)
    return found


def _explain(gives: tuple[tuple[int, float], ...], state: Numbers) -> Numbers:
    """Let a cause that is there explain each of its open signs, one after the other."""
    rows, size = state.shape
    out = state.copy()
    for axis, strength in gives:
        low = 1 << axis
        cells = out.reshape(rows, size // (2 * low), 2, low)
        cells[:, :, 1] += strength * cells[:, :, 0]
        cells[:, :, 0] *= 1.0 - strength
    return out


def _explain_back(gives: tuple[tuple[int, float], ...], back: Numbers) -> Numbers:
    """Do the same to what stands after it, seen from the end."""
    rows, size = back.shape
    out = back.copy()
    for axis, strength in gives:
        low = 1 << axis
        cells = out.reshape(rows, size // (2 * low), 2, low)
        cells[:, :, 0] *= 1.0 - strength
        cells[:, :, 0] += strength * cells[:, :, 1]
    return out
