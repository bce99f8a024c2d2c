"""The report of a term and the certificate: the right numbers, and nobody in them."""

from datetime import date, timedelta

import msgspec
import pypdfium2
import pytest

from tests.paper.printed import text
from tests.rooms import NOW
from walkabout.insight.shelf import add
from walkabout.paper.certificate import Certificate, certificate, certificates_of
from walkabout.paper.certificate import _draw as draw
from walkabout.paper.pages import Running, pdf_of
from walkabout.paper.report import term_report
from walkabout.paper.sizes import A4, LETTER
from walkabout.paper.summed import summed
from walkabout.records.model import Happening, Loss, Picking, Promise, Round
from walkabout.room.model import Closure, Prices
from walkabout.round.opened import OpenRoom

DAY = NOW.date() - timedelta(days=3)
FIRST = date(2026, 11, 1)


@pytest.fixture
def lived_in(opened: OpenRoom) -> OpenRoom:
    """Lettuce was picked and lost, rounds were walked, a promise was kept; codes stand wherever people type."""
    tub, basil = opened.plantings["p-1"], opened.plantings["p-2"]
    opened.plantings["p-1"] = msgspec.structs.replace(
        tub, count=7, started=12, pickings=(Picking(day=DAY, count=3, grams=640.0, promise="pr-1", by="AR"),),
        losses=(Loss(day=DAY, count=2, why="slugs, seen by K7", by="K7"),),
        history=(Happening(at=NOW, by="AR", says="picked: 3"),),
    )  # fmt: skip
    opened.plantings["p-2"] = msgspec.structs.replace(
        basil,
        losses=(Loss(day=DAY, count=4, why="dried out"), Loss(day=FIRST - timedelta(days=1), count=1, why="old")),
    )  # fmt: skip
    opened.promises["pr-1"] = Promise(
        key="pr-1", crop="raft-lettuce", amount=3, unit="heads", day=DAY, people="class 8b, ask AR", made=NOW, by="AR",
        closed=NOW, reason="kept",
    )  # fmt: skip
    for back in (2, 5, 6):
        when = NOW - timedelta(days=back)
        opened.save(Round(key=f"r-{back}", day=when.date(), started=when, walker="K7", ended=when, walked_seconds=200))
    return opened


def test_the_numbers(lived_in: OpenRoom) -> None:
    """Grams, plants, losses by cause and rounds are those on record within the days, and stand on the page."""
    found = summed(lived_in, FIRST, NOW.date())
    printed = text(term_report(lived_in, A4, FIRST, NOW.date()))

    lettuce = next(one for one in found.grown if one.name == "lettuce on rafts")
    assert (lettuce.began, lettuce.stands, lettuce.lost, lettuce.plants, lettuce.grams) == (12, 7, 2, 3, 640.0)
    assert [count for _, count in found.losses] == [4, 2]
    assert "640 g" in printed
    assert "dried out 4 plants" in printed
    assert "lettuce on rafts 12 7 2 0 3 640 g" in printed
    assert "old" not in printed.split()
    assert sum(one.walked for one in found.weeks) == 3
    assert sum(one.expected for one in found.weeks) == found.term.rounds.expected
    assert f"{found.term.rounds.walked} of {found.term.rounds.expected}" in printed


def test_where_the_plants_went(lived_in: OpenRoom) -> None:
    """What began is what stands, was lost, was taken out or was picked; what died counts as lost, as in the term."""
    gone = lived_in.plantings["p-3"]
    ended = msgspec.structs.replace(
        gone, count=2, started=9, ended=DAY, reason="died: dried out",
        losses=(Loss(day=FIRST - timedelta(days=1), count=3, why="old"), Loss(day=DAY, count=4, why="thinned")),
    )  # fmt: skip
    lived_in.plantings["p-3"] = ended
    other = lived_in.plantings["p-4"]
    lived_in.plantings["p-4"] = msgspec.structs.replace(
        other, count=5, started=5, losses=(), ended=DAY, reason="composted: musty"
    )
    found = summed(lived_in, FIRST, NOW.date())

    for one in found.grown:
        assert one.began == one.stands + one.lost + one.taken + one.plants, one
    assert sum(one.lost for one in found.grown) == found.term.losses.plants
    assert sum(one.taken for one in found.grown) == 9


@pytest.mark.parametrize("paper", [A4, LETTER], ids=["A4", "Letter"])
def test_nobody_stands_in_it(lived_in: OpenRoom, paper: object) -> None:
    """No code of the room stands in report or certificate, in capitals or not, wherever it was typed."""
    for data in (
        term_report(lived_in, paper, FIRST, NOW.date()),  # type: ignore[arg-type]
        certificate(lived_in, paper, "", FIRST, NOW.date()),  # type: ignore[arg-type]
    ):
        words = {word.strip(".,;:").casefold() for word in text(data).split()}
        assert not words & {"ar", "k7"}


def test_a_room_without_records(opened: OpenRoom) -> None:
    """A room in which nothing was written down has a report that says so and counts nothing."""
    opened.plantings = {}
    printed = text(term_report(opened, A4, FIRST, NOW.date()))

    assert "Nothing was on record as growing" in printed
    assert "Nothing was weighed in these weeks." in printed
    assert "No loss is on record." in printed


def test_what_it_cost_and_what_stands_behind_a_portion(lived_in: OpenRoom) -> None:
    """Lamps by place, money by kind and in all, the currency in front; portions by weight are told apart."""
    room = lived_in.room
    lamps = {key: msgspec.structs.replace(one, since=FIRST) for key, one in room.lamps.items()}
    prices = Prices(currency="EUR", per_kwh=0.5, per_cubic_metre=4.0)
    lived_in.room = msgspec.structs.replace(room, lamps=lamps, prices=prices)
    lived_in.save(add(name="Seed from AR", unit="seeds", amount=5.0, by="AR", now=NOW, used=7.0))
    found = summed(lived_in, FIRST, NOW.date())
    printed = text(term_report(lived_in, A4, FIRST, NOW.date()))

    energy, cost, harvest = found.term.energy, found.term.cost, found.term.harvest
    lamp = f"Sprout rack and Raft tub {energy.kwh:.1f} kWh (EUR {energy.money:.2f})"
    assert f"By the place that they light: {lamp}" in printed
    assert f"electricity EUR {cost.energy:.2f}" in printed
    assert f"together EUR {cost.total:.2f}" in printed
    assert f"EUR {cost.portion:.2f} for each of {harvest.all_portions:.1f} portions" in printed
    assert f"{harvest.by_weight:.1f} of lettuce on rafts at" in printed
    assert f"portions, about {harvest.by_weight:.0f} of them by weight" in printed
    assert "Seed from somebody: not known" in printed


def test_a_week_in_which_nobody_had_to_come(lived_in: OpenRoom) -> None:
    """The hole that a closure leaves among the columns has its name below them."""
    closure = Closure(first=NOW.date() + timedelta(days=3), last=NOW.date() + timedelta(days=11), name="rest of AR")
    lived_in.room = msgspec.structs.replace(lived_in.room, closures=(closure,))
    days = closure.last + timedelta(days=9)
    lived_in.clock = lambda: NOW + timedelta(days=20)
    assert [one.closed for one in summed(lived_in, FIRST, days).weeks if one.closed] == ["rest of somebody"]
    printed = text(term_report(lived_in, A4, FIRST, days))
    assert "No column in the week of 30 Nov: nobody had to come (rest of somebody)." in printed


def test_days_before_the_room(lived_in: OpenRoom) -> None:
    """Nothing is reckoned for days of which nothing is known."""
    printed = text(term_report(lived_in, A4, date(2020, 1, 1), date(2020, 2, 1)))
    assert "kWh" not in printed.replace("price of a kWh", "")
    assert "Lamp bar: that it hung there in these days is not on record." in printed


@pytest.mark.parametrize(("lines", "size"), [(1, 22), (8, 22), (12, 18)])
def test_a_certificate_fills_its_page(lines: int, size: float, lived_in: OpenRoom) -> None:
    """Few lines are written large, many smaller; none is cut and none stands in the signature."""
    one = Certificate("class 8b", "Small room", tuple(f"crop {at}: 3 plants, 640 g" for at in range(lines)), FIRST, DAY)
    data = pdf_of(lambda pages: draw(pages, (one,)), LETTER, Running("", "x", DAY), NOW, turned=True)
    letters = pypdfium2.PdfDocument(data)[0].get_textpage()
    place, _ = letters.search("crop 0").get_next()
    _, low, _, high = letters.get_charbox(place + 2)
    assert high - low == pytest.approx(0.55 * size, rel=0.12)
    last, _ = letters.search(f"crop {lines - 1}:").get_next()
    signed, _ = letters.search("for the school").get_next()
    assert letters.get_charbox(last)[1] > letters.get_charbox(signed)[3] + 20


def test_a_us_room_has_pounds_and_gallons(lived_in: OpenRoom) -> None:
    """Report and certificate stand in the room's own units."""
    lived_in.room = msgspec.structs.replace(lived_in.room, units="US")
    assert "lettuce on rafts 12 7 2 0 3 1.41 lb" in text(term_report(lived_in, LETTER, FIRST, NOW.date()))
    assert certificates_of(lived_in, "", FIRST, NOW.date())[0].lines == ("lettuce on rafts: 3 plants, 1.41 lb",)


def test_days_that_are_no_span(opened: OpenRoom) -> None:
    """Days that run backwards are one clear sentence."""
    with pytest.raises(ValueError, match=r"\w"):
        term_report(opened, A4, NOW.date(), FIRST)


def test_certificates(lived_in: OpenRoom) -> None:
    """A kept promise gives one with what was picked for it; a typed class without a promise what the room gave."""
    (one,) = certificates_of(lived_in, "", FIRST, NOW.date())
    assert one.people == "class 8b, ask somebody"
    assert one.lines == ("lettuce on rafts: 3 plants, 640 g",)
    assert not one.shared
    printed = text(certificate(lived_in, A4, "the garden club", FIRST, NOW.date()))
    assert "the garden club who had a part in what this room grew" in printed
    assert "lettuce on rafts: 3 plants, 640 g" in printed


def test_nothing_to_certify(opened: OpenRoom) -> None:
    """Without a kept promise and without a harvest there is a sentence, and no empty certificate."""
    with pytest.raises(ValueError, match="No promise was kept"):
        certificates_of(opened, "", FIRST, NOW.date())
    with pytest.raises(ValueError, match="k7 is a person's code"):
        certificates_of(opened, "k7", FIRST, NOW.date())
    with pytest.raises(ValueError, match="Nothing was harvested"):
        certificates_of(opened, "class 8b", FIRST, NOW.date())
