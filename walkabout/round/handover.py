"""The handover page of an open room."""

from walkabout.almanac.handover import Handover, handover
from walkabout.jobs.findings import still_open
from walkabout.jobs.life import ordered
from walkabout.round.almanac import almanac_of, basis_of
from walkabout.round.here import applies
from walkabout.round.opened import OpenRoom


def handover_of(opened: OpenRoom) -> Handover:
    """Return the page for the days to come."""
    today = opened.today()
    looks = {
        here.key: tuple(one for one in checklist.question if applies(one, here, today))
        for here, checklist in opened.places()
    }
    jobs = [one for one in ordered(opened.jobs_due()) if one.closed is None]
    return handover(basis_of(opened), almanac_of(opened), looks, jobs, still_open(opened.findings.values()))
