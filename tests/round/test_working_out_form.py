"""The form in which something is worked out for a station: what fields hold, and in which units they are meant."""

import re
import shlex
from collections.abc import Mapping
from datetime import UTC, datetime

import pytest

from walkabout.growing.units import METRIC, UNITS, US, Scales, shown
from walkabout.reckon import units
from walkabout.reckon.catalogue import every, find
from walkabout.reckon.model import Reckoned, Reckoning, ToDo
from walkabout.reckon.read import split
from walkabout.round.workout import Form, Row

US_PPM = Scales(us=True, ec="ppm 500")
KNOWN = {
    METRIC: {"litres": "60", "capacity": "60", "EC": "1.8", "wanted EC": "1.2", "water EC": "0.3"},
    US_PPM: {"litres": "15.9", "capacity": "15.9", "EC": "900", "wanted EC": "600", "water EC": "150"},
}


def form(name: str, scales: Scales = METRIC, known: Mapping[Scales, Mapping[str, str]] | None = None) -> Form:
    reckoning = find(name)
    return Form(reckoning, lambda scales: (known or {}).get(scales, {}), scales)


def row(of: Form, key: str) -> Row:
    return next(one for one in of.rows() if one.key == key)


def amount(reckoned: Reckoned, name: str) -> float:
    value = reckoned.results[name].value
    assert isinstance(value, float | int)
    return value


# what fields hold


def test_fields_start_from_what_is_known() -> None:
    """They say so, and the form can be worked out before anybody types."""
    ours = form("bring", known=KNOWN)
    assert (row(ours, "volume").text, row(ours, "ec").text) == ("60", "1.8")
    assert row(ours, "ec").note.startswith("from this station")
    assert row(ours, "rise").text == ""
    assert "this station" not in row(ours, "rise").note
    assert ours.work().results


def test_what_is_typed_goes_before_what_is_known() -> None:
    """It no longer says that it comes from the station, and its result is that of what was typed."""
    ours = form("dilute", known=KNOWN)
    before = amount(ours.work(), next(iter(ours.work().results)))
    ours.set("volume", "30")
    assert row(ours, "volume").text == "30"
    assert row(ours, "volume").note == find("dilute").fields[0].note
    assert amount(ours.work(), next(iter(ours.work().results))) == pytest.approx(before / 2)


def test_a_needed_field_that_was_emptied_is_asked_for() -> None:
    """One sentence says what is missing."""
    ours = form("dilute", known=KNOWN)
    ours.set("ec", "  ")
    with pytest.raises(ValueError, match=r"dilute needs ec"):
        ours.work()


def test_what_is_usual_is_said_until_something_is_given() -> None:
    """A default stands in the note, never in the field."""
    for one in every():
        ours = form(one.name)
        for field in one.fields:
            if field.default is not None:
                assert row(ours, field.key).text == ""
                assert "unless given" in row(ours, field.key).note
                ours.set(field.key, "5")
                assert "unless given" not in row(ours, field.key).note


# open fields


def test_open_fields_come_and_go() -> None:
    """A salt is found by any of its names, once; dropped, it no longer counts."""
    ours = form("mix", known=KNOWN)
    name = ours.add("KNO3")
    assert ours.add("potassium-nitrate") == name
    assert [one.key for one in ours.rows()][-1] == name
    assert row(ours, name).unit == "g"
    ours.set(name, "30")
    nitrogen = amount(ours.work(), "n")
    assert nitrogen == pytest.approx(30 / 60 * 1000 * 14.007 / 101.10, rel=1e-3)
    ours.drop(name)
    ours.drop(name)
    assert name not in [one.key for one in ours.rows()]
    with pytest.raises(ValueError, match="needs"):
        ours.work()


def test_a_form_without_open_fields_takes_none() -> None:
    """It says so; and an unknown salt is refused with a sentence."""
    with pytest.raises(ValueError, match="takes nothing more"):
        form("dilute").add("KNO3")
    with pytest.raises(ValueError, match="moonstone"):
        form("mix").add("moonstone")


def test_grams_are_grams_in_a_us_room_too() -> None:
    """What is weighed is metric everywhere; ounces have to be written: 2 oz of a salt are 56.7 g."""
    metric, us = form("mix"), form("mix", US)
    for ours, grams, litres in ((metric, "56.699", "60"), (us, "2 oz", "15.85032")):
        ours.set(ours.add("KNO3"), grams)
        ours.set("volume", litres)
    assert amount(us.work(), "n") == pytest.approx(amount(metric.work(), "n"), rel=1e-4)


# units

SCALES = [US, US_PPM, Scales(ec="CF"), Scales(ec="µS/cm")]


def filled(reckoning: Reckoning, scales: Scales) -> Form:
    """Return the form with the reckoning's own example, bare numbers written in what `scales` show."""
    ours = Form(reckoning, lambda _: {}, scales)
    for key, text in split(shlex.split(reckoning.example)).items():
        field = reckoning.find(key)
        unit, kind = (field.unit, field.kind) if field else (reckoning.open.unit if reckoning.open else "", "number")
        parts = re.split(r"[,;\s]+", text) if kind == "numbers" else [text]
        turned = unit in UNITS and unit not in ("", "mL", "g")
        if kind in ("number", "numbers") and turned and not any(map(units.named, parts)):
            parts = [repr(shown(float(part), unit, scales)[0]) for part in parts if part]
        ours.set(field.key if field else ours.add(key), ";".join(parts))
    return ours


def same(one: Reckoned, other: Reckoned) -> list[str]:
    """Return the results in which the two are not the same."""
    return [
        name
        for name, result in one.results.items()
        if other.results[name].value != (
            pytest.approx(result.value, rel=1e-6, abs=1e-9) if not isinstance(result.value, str) else result.value
        )
    ]  # fmt: skip


@pytest.mark.parametrize("scales", SCALES, ids=["US", "US ppm", "CF", "µS/cm"])
def test_every_reckoning_means_the_same_in_every_unit(scales: Scales) -> None:
    """Its example, typed as bare numbers in the room's own units, gives the results that it gives in metric ones."""
    wrong = {one.name: same(filled(one, METRIC).work(), filled(one, scales).work()) for one in every()}
    assert len(wrong) > 80
    assert {name: results for name, results in wrong.items() if results} == {}


ROWS = {"change-due", "tank-fall", "degree-day-sum", "mean-vpd", "disease-weather"}
"""They take several numbers in one field."""


def changed(one: Reckoning, first: Scales, then: Scales) -> list[str]:
    ours = filled(one, first)
    ours.change_scales(then)
    return same(filled(one, METRIC).work(), ours.work())


@pytest.mark.parametrize(("first", "then"), [(METRIC, US_PPM), (US_PPM, METRIC), (Scales(ec="CF"), US)])
def test_other_units_keep_what_was_typed(first: Scales, then: Scales) -> None:
    """The number stays on the screen with the unit it was typed in, and the result is the same."""
    wrong = {one.name: changed(one, first, then) for one in every() if one.name not in {"mix", *ROWS}}
    assert {name: results for name, results in wrong.items() if results} == {}


def test_other_units_keep_the_grams_of_salts() -> None:
    """30 g stay 30 g in a US room."""
    assert changed(find("mix"), METRIC, US) == []


def test_other_units_keep_a_row_of_numbers() -> None:
    """Litres topped up, 12;15;14;10, stay litres in a US room."""
    assert changed(find("change-due"), METRIC, US) == []


def test_a_unit_chosen_in_the_form_is_the_unit() -> None:
    """In a room with a ppm meter somebody picks mS/cm from the list: 1.8 is 1.8 mS/cm."""
    ours = form("ec", US_PPM)
    ours.set("ec", "1.8")
    ours.set("from", "mS/cm")
    assert amount(ours.work(), "ec") == pytest.approx(1.8)


def test_what_was_taken_over_follows_the_units() -> None:
    """A field that still holds the station's own reading shows it in the other units; one that was typed keeps its."""
    ours = form("dilute", known=KNOWN)
    ours.set("volume", "30")
    ours.change_scales(US_PPM)
    assert row(ours, "ec").text == "900"
    assert row(ours, "ec").unit == "ppm 500"
    assert row(ours, "volume").text == "30 L"
    ours.change_scales(METRIC)
    assert (row(ours, "ec").text, row(ours, "volume").text) == ("1.8", "30 L")


def test_a_unit_that_was_typed_counts() -> None:
    """Whatever the room shows, '60 L' are litres and '8 gal' gallons."""
    for scales in (METRIC, US):
        ours = form("dilute", scales)
        for key, text in (("volume", "60 L"), ("ec", "2.4 mS/cm"), ("to", "1.8"), ("water_ec", "0.3")):
            ours.set(key, text)
        assert amount(ours.work(), next(iter(ours.work().results))) == pytest.approx(24)


# words


def test_results_are_in_the_rooms_units() -> None:
    """24 L are 6.3 US gal, 1.8 mS/cm are 900 ppm."""
    ours = form("dilute", US_PPM, KNOWN)
    results = ours.work().results
    said = {one.unit: ours.result_words(one) for one in results.values()}
    assert "US gal" in said["L"]
    metric = form("dilute", METRIC, KNOWN)
    assert metric.result_words(next(iter(metric.work().results.values()))).endswith(" L")


@pytest.mark.parametrize(
    ("text", "us"),
    [
        ("Take out 30 L, then add 12 L.", "Take out 7.9 US gal, then add 3.2 US gal."),
        ("Pour in 500 mL.", "Pour in 500 mL."),
        ("Weigh 85 g of it.", "Weigh 85 g of it."),
        ("Hang it 30 cm above.", "Hang it 11.8 in above."),
        ("It comes to 1.80 mS/cm.", "It comes to 900 ppm (500)."),
        ("The air has 24 °C, good to ± 1 °C.", "The air has 24 °C, good to ± 1 °C."),
        ("3 g/L, 2 L/day, 5 L² and 7 mL3 stay.", "3 g/L, 2 L/day, 5 L² and 7 mL3 stay."),
        ("Batch A12 L and 4 Litres stay.", "Batch A12 L and 4 Litres stay."),
        ("Nothing to turn.", "Nothing to turn."),
        ("a = b, and x=3 stays.", "a = b, and x=3 stays."),
    ],
)
def test_amounts_in_a_sentence(text: str, us: str) -> None:
    """Litres, lengths and EC are said as the room says them; what is weighed or dosed, temperatures and codes stay."""
    assert form("dilute", US_PPM).sentence(text) == us
    assert form("dilute").sentence(text) == text


@pytest.mark.parametrize("text", ["lettuce: 1.2 to 1.6 mS/cm", "from 10 to 20 cm", "5-10 L"])
def test_both_ends_of_a_range_are_turned(text: str) -> None:
    """'1.2 to 800 ppm' would be read as a range."""
    low = re.findall(r"[\d.]+", text)[0]
    assert low not in re.findall(r"[\d.]+", form("dilute", US_PPM).sentence(text))


@pytest.mark.parametrize("text", ["Add 1 mL.", "Weigh 0.5 g."])
def test_a_small_amount_stays_an_amount(text: str) -> None:
    """Nobody is told to add 0.0 of something."""
    assert " 0.0" not in form("dilute", US).sentence(text)


def test_what_is_to_be_done_becomes_a_job() -> None:
    """For today, for who may do it, with its caution, in the room's units, and looked at again tomorrow."""
    now = datetime(2026, 9, 14, 8, 0, tzinfo=UTC)
    do = ToDo(what="Take out 30 L", who="adult", caution="Wipe up.")
    job = form("dilute", US).job(do, "tub", "AR", now)
    assert (job.what, job.station, job.who, job.by) == ("Take out 7.9 US gal", "tub", "adult", "AR")
    assert (job.due, job.recheck, job.caution, job.closed) == (now.date(), 1, "Wipe up.", None)
    assert job.why.startswith("Worked out: ")
    assert [one.says for one in job.history] == ["made: worked out"]


def test_fields_are_named_by_their_labels() -> None:
    """What a command line calls lux= is 'reading of the lux meter' in a form; a value behind it stays as it is."""
    ours = form("dli")
    said = ours.sentence("Give ppfd=, or lux= and lamp= (the kind of light).")
    assert "=" not in said
    assert "'reading of the lux meter'" in said
    assert ours.sentence("as in name=lettuce") == "as in name=lettuce"
