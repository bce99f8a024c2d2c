"""The words of the dictionary for trials: what is compared, the kinds, the plots, what was measured."""

from walkabout.paper.column import Column, code, named, typed
from walkabout.paper.columns import KEY

TRIALS = (
    KEY,
    typed("question", "What the trial asks."),
    named("treatments", "The treatments that are compared; empty where kinds are counted against a ratio."),
    named("control", "The treatment that the others are compared with."),
    typed("response", "What is measured."),
    Column("seed", "The number that the treatments were drawn from; 0 where nothing was drawn."),
    Column("made", "When it was set up."),
    code("by", "The code of whoever set it up."),
    typed("unit", "The unit of what is measured."),
    typed("how", "How it is measured."),
    Column("counts", "Whether numbers, counts or shares are measured."),
    typed("under_test", "Which condition of the room is meant to differ; empty for something else."),
    Column("blind", "Whether treatments go by their letters until the names are opened."),
    named("letters", "The letters or words that stand for the treatments, in their order.", "codes"),
    Column("opened", "When the names behind the letters were opened."),
    Column("worth_percent", "The difference worth finding, of the mean.", "%", "worth"),
    Column("spread_percent", "How far plots that are treated alike lie apart, of the mean.", "%", "spread"),
    Column("planned", "How many plots each treatment needs for that; of kinds, how many plants are counted in all."),
    Column("power", "The chance of finding that difference, from 0 to 1."),
    Column("sown_each", "How many seeds were sown in each plot, where kinds are counted."),
    Column("closed", "When it was closed; empty while it goes on."),
    typed("reason", "Why it was closed."),
)

KINDS = (
    named("name", "The name of the kind."),
    Column("expected_part", "Its part in the ratio that is expected: 3 of 3:1.", field="part"),
    Column("other_part", "Its part in another ratio that would be worth telling from it.", field="other"),
)

PLOTS = (
    named("name", "The name of the plot within its trial."),
    Column("kind", "Whether it is a station, a tray or a plant."),
    named("treatment", "What it gets; empty where kinds are counted."),
    Column("station", "The key of its station."),
    Column("planting", "The key of the planting that grows there."),
    typed("block", "Plots of a block stand alike."),
    Column("replicate", "The how many-th plot of its treatment it is."),
)

MEASUREMENTS = (
    KEY,
    Column("trial", "The key of the trial."),
    named("plot", "The name of the plot."),
    Column("day", "The day."),
    Column("at", "When it was written down."),
    code("by", "The code of whoever measured."),
    Column("value", "What was measured, in the trial's unit."),
    Column("of", "Out of how many, where it is a share."),
    named("kind", "Which kind was counted, where the trial counts kinds."),
    typed("note", "What was typed beside it."),
    Column("replaces", "The key of the measurement that this one corrects."),
    typed("reason", "Why it was corrected."),
    typed("excluded", "Why it is left out of the reckoning; empty where it counts."),
)
