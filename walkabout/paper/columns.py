"""The words of the dictionary for what a round writes down: answers, rounds, findings, jobs, treatments, readings."""

from walkabout.paper.column import Column, code, typed

KEY = Column("key", "The key of the record; it never changes.")
STATION = Column("station", "The key of the station; room stands for the room as a whole.")

ANSWERS = (
    KEY,
    Column("round", "The key of the round in which it was given."),
    Column("at", "When it was given."),
    code("walker", "The code of whoever walked."),
    STATION,
    Column("question", "The question, by its name in the checklist."),
    Column("state", "Whether it was answered, not looked at, or does not apply."),
    Column("choices", "The answers that were picked, by their names in the checklist."),
    Column("value", "The number that was read or counted, in the unit of the next column."),
    Column("unit", "The unit of the value; empty for a count."),
    typed("note", "What was typed beside it."),
    Column("looking_s", "How long the look took.", "s", "seconds"),
    Column("verdict", "What the answer means: good, watch, today, now or stop."),
    Column("why", "The reason for the verdict.", typed=True),
    Column("shows", "The faults that the answer shows."),
    Column("doubtful", "Why the value is not to be trusted; empty where nothing speaks against it.", typed=True),
    Column("replaces", "The key of the answer that this one corrects."),
    typed("reason", "Why it was corrected."),
)

ROUNDS = (
    KEY,
    Column("day", "The day."),
    Column("started", "When it was begun."),
    code("walker", "The code of whoever walked."),
    Column("returning", "Whether it was the first round after a closure."),
    Column("ended", "When it was ended; empty where it was not."),
    Column("walked_s", "Time on foot, pauses taken out.", "s", "walked_seconds"),
)

ASKED = (
    STATION,
    Column("question", "The question, by its name in the checklist."),
    Column("why", "Why it was asked, or why it was left out.", typed=True),
    Column("vital", "Whether something would be lost before the next round if nobody looked."),
    Column("looking_s", "How long the look was expected to take.", "s", "seconds"),
)

FINDINGS = (
    KEY,
    STATION,
    typed("seen", "What was seen."),
    Column("verdict", "How grave it was: watch, today, now or stop."),
    code("by", "The code of whoever saw it."),
    Column("at", "When it was seen."),
    Column("signs", "The signs, by their names in the knowledge of the lookup."),
    Column("question", "The question whose answer raised it; empty when somebody flagged it."),
    Column("planting", "The key of the planting that it is about."),
    Column("who", "Who may close it, at least."),
    Column("recheck", "The day on which to look again."),
    Column("recheck_days", "Days from one look to the next.", "days"),
    Column("closed", "When it was closed; empty while it is open."),
    typed("reason", "Why it was closed."),
    Column("cause", "The cause that an adult confirmed, by its name in the knowledge of the lookup."),
    code("cause_by", "The code of whoever confirmed it."),
)

JOBS = (
    KEY,
    typed("what", "What there was to do."),
    STATION,
    Column("who", "Who may do it, at least."),
    Column("due", "The day on which it was due."),
    Column("made", "When it was written down."),
    code("by", "The code of whoever made it, or whose answer did."),
    Column("verdict", "How grave it was."),
    Column("to_loss_h", "Hours to loss when it is not done.", "h", "hours"),
    typed("why", "The reason for it."),
    typed("caution", "The danger to people, and who decides."),
    Column("finding", "The key of the finding that it settles."),
    Column("questions", "The questions that are answered when it is done."),
    Column("recheck_days", "Look again so many days after it is done.", "days", "recheck"),
    Column("standing", "Which standing job it is; empty for a job that comes once."),
    Column("takes_min", "How long it takes.", "min", "minutes"),
    Column("treats", "Whether it puts something on plants."),
    Column("closed", "When it was done or called off; empty while it is open."),
    code("closed_by", "The code of whoever closed it."),
    typed("reason", "Why it was closed, where that was said."),
)

TREATMENTS = (
    KEY,
    Column("day", "The day."),
    STATION,
    typed("what", "What was put on the plants."),
    code("by", "The code of whoever wrote it down."),
    Column("at", "When it was written down."),
    Column("planting", "The key of the one planting that was treated; empty for all at the station."),
    Column(
        "wait_days",
        "Days until anything may be eaten, from the label; empty: not known, so nothing may be eaten.",
        "days",
    ),
    Column("entry_h", "Hours until people may touch the plants again, from the label.", "h", "entry_hours"),
)

HISTORY = (
    Column("at", "When it happened."),
    code("by", "The code of whoever did it."),
    Column("says", "What happened.", said=True, typed=True),
)

HOURS = (
    KEY,
    STATION,
    Column("quantity", "What was measured."),
    Column("start", "The hour's beginning, by the clock of the room."),
    Column("n", "How many readings there were in the hour."),
    Column("mean", "The mean of the readings, in the unit of the column unit."),
    Column("low", "The lowest reading, in the unit of the column unit."),
    Column("high", "The highest reading, in the unit of the column unit."),
    Column("unit", "The unit of mean, low and high."),
    typed("source", "The name of the file that was taken in last for this hour."),
    Column("files", "The files in the room's folder logger/ that hold the readings."),
)
