"""Standing jobs whose day has come: they become jobs like any other."""

from datetime import timedelta

from walkabout.records.model import Job
from walkabout.round.opened import OpenRoom


def standing_due(opened: OpenRoom) -> tuple[Job, ...]:
    """Return the standing jobs that are due by today and that nobody has been given yet; none is saved.

    Their keys come from the job and its day, so that two programs that make them make the same ones.
    """
    from walkabout.almanac.course import courses  # noqa: PLC0415 - reckoned behind the first page
    from walkabout.almanac.standing import standing, standing_job  # noqa: PLC0415
    from walkabout.round.almanac import basis_of  # noqa: PLC0415

    basis = basis_of(opened)
    waiting = {one.standing for one in opened.jobs.values() if one.closed is None and one.standing}
    made = []
    for one in standing(basis, basis.today + timedelta(days=1), courses(basis)):
        if one.day <= basis.today and not one.asked and one.key not in waiting:
            job = standing_job(one, basis)
            # one that was closed undone for a reason is not made again for the same day
            if job.key not in opened.jobs:
                waiting.add(one.key)
                made.append(job)
    return tuple(made)
