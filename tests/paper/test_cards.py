"""Station cards: what stands on them, and the code that a second library reads."""

import msgspec

from tests.paper.printed import codes, text, texts
from tests.rooms import NOW
from walkabout.almanac.handover import BLANKS, Line, Section
from walkabout.paper.cards import cards_of, station_cards
from walkabout.paper.handover_page import handover_page
from walkabout.paper.sizes import A4, LETTER
from walkabout.round.handover import handover_of
from walkabout.round.opened import OpenRoom


def test_each_station_has_its_card_and_code(opened: OpenRoom) -> None:
    """There is a card for every station in walking order; its QR code holds the station's key and nothing else."""
    keys = [one.key for one in opened.room.stations]
    assert [one.key for one in cards_of(opened)] == keys
    assert codes(station_cards(opened, A4)) == keys
    assert codes(station_cards(opened, LETTER)) == keys


def test_what_good_looks_like_and_the_first_act(opened: OpenRoom) -> None:
    """Each look stands with what is good, and the worst answer with its act, who may do it and its caution."""
    printed = text(station_cards(opened, A4))
    cards = cards_of(opened)
    for card in cards:
        assert card.name in printed
        assert card.kind in printed
        assert 1 <= len(card.looks) <= 4
        for look in card.looks:
            assert f"{look.ask} Good: {look.good}." in printed
            assert not look.act or f"If {look.worst}{look.who}: {look.act}" in printed
    assert any(look.who == " (for an adult)" for card in cards for look in card.looks)
    assert any("Take care:" in look.act for card in cards for look in card.looks)


def test_a_code_still_reads_when_it_is_dirty(opened: OpenRoom) -> None:
    """A tenth of a code may be covered by soil."""
    import pypdfium2
    import zxingcpp
    from PIL import ImageDraw

    picture = pypdfium2.PdfDocument(station_cards(opened, A4))[0].render(scale=3).to_pil().convert("L")
    clean = zxingcpp.read_barcodes(picture)
    for one in clean:
        x, y = one.position.bottom_right.x, one.position.bottom_right.y
        side = one.position.bottom_right.x - one.position.bottom_left.x
        ImageDraw.Draw(picture).ellipse((x - side * 0.3, y - side * 0.3, x, y), fill=120)
    assert sorted(one.text for one in zxingcpp.read_barcodes(picture)) == sorted(one.text for one in clean)
    assert len(clean) == 2


def test_whom_to_ask_stands_in_one_place(opened: OpenRoom) -> None:
    """The lines that are filled in by hand stand under each other, on whatever page they come."""
    import pypdfium2

    for paper in (A4, LETTER):
        for page in pypdfium2.PdfDocument(handover_page(handover_of(opened), paper, NOW)):
            letters = page.get_textpage()
            if "Whom to ask" not in letters.get_text_range():
                continue
            found = [letters.search(says).get_next() for says in ("Whom to ask", *BLANKS)]
            assert None not in found
            left, _, _, top = zip(*(letters.get_charbox(place) for place, _ in found), strict=True)
            assert max(left) - min(left) < 15
            assert list(top) == sorted(top, reverse=True)
            break
        else:
            raise AssertionError(paper)


def test_the_handover_is_one_sheet_with_whom_to_ask_in_front(opened: OpenRoom) -> None:
    """It takes two pages on either paper, in smaller type where it must; whom to ask stands first."""
    page = handover_of(opened)
    lines = [Line(says="Look at the solution, the film and the pump. " * 4, under=("Then at the leaves. " * 6,))] * 8
    longer = msgspec.structs.replace(page, sections=(Section(title="More", lines=tuple(lines)), *page.sections))
    for paper in (A4, LETTER):
        for one in (page, longer):
            printed = texts(handover_page(one, paper, NOW))
            assert len(printed) == 2, paper
            assert printed[0].index("Whom to ask") < printed[0].index("Today")


def test_the_rafts_good_is_all_that_is_good(opened: OpenRoom) -> None:
    """A finger's width below the raft is as good as touching it, and the card says so."""
    raft = next(one for one in cards_of(opened) if one.key == "tub")
    assert "touching it or a finger's width" in [one.good for one in raft.looks]


def test_the_handover_page_is_all_there(opened: OpenRoom) -> None:
    """Every line of the page stands on paper, with lines to write on where somebody is to be asked; no code does."""
    page = handover_of(opened)
    printed = text(handover_page(page, A4, NOW))
    for section in page.sections:
        assert section.title in printed
        for line in section.lines:
            assert line.says.split("  ")[0].rstrip("_ :") in printed
            for under in line.under:
                assert " ".join(under.split()) in printed
    assert "AR" not in printed.split()
