"""Station cards: what stands on them, and the code that a second library reads."""

from tests.paper.printed import codes, text
from tests.rooms import NOW
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
