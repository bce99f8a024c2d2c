"""What was printed, read by libraries that know nothing of the program: text, places of letters, QR codes."""

import io

import pypdf
import pypdfium2
import zxingcpp

from walkabout.paper.sizes import Paper

MM = 72 / 25.4
EDGE = 8.0
"""No letter may come nearer to the edge of the paper than this, mm: head and foot stand in the margins."""


def reader(data: bytes) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(data), strict=True)


def texts(data: bytes) -> list[str]:
    """Return the text of each page on one line."""
    return [" ".join(page.extract_text().split()) for page in reader(data).pages]


def text(data: bytes) -> str:
    return " ".join(texts(data))


def sizes(data: bytes) -> set[tuple[float, float]]:
    """Return the sizes of the pages, mm."""
    boxes = [page.mediabox for page in reader(data).pages]
    return {(round(float(box.width) / MM, 1), round(float(box.height) / MM, 1)) for box in boxes}


def outside(data: bytes, *, side: float = EDGE, low: float = EDGE) -> list[tuple[int, str]]:
    """Return (page, letter) of every letter that stands nearer to an edge than it may."""
    found = []
    for number, page in enumerate(pypdfium2.PdfDocument(data), 1):
        width, height = page.get_size()
        letters = page.get_textpage()
        for place in range(letters.count_chars()):
            left, bottom, right, top = (one / MM for one in letters.get_charbox(place))
            if right <= left or top <= bottom:
                continue  # a blank has no ink
            inside = left >= side and right <= width / MM - side and bottom >= low and top <= height / MM - low
            if not inside:
                found.append((number, letters.get_text_range(place, 1)))
    return found


def over_the_foot(data: bytes, paper: Paper) -> list[tuple[int, str]]:
    """Return (page, letter) of what stands between the lowest line and the foot: a page that overflowed."""
    found = []
    for number, page in enumerate(pypdfium2.PdfDocument(data), 1):
        letters = page.get_textpage()
        for place in range(letters.count_chars()):
            _, bottom, _, top = (one / MM for one in letters.get_charbox(place))
            if top > bottom and 13.2 < bottom < 17.0:
                found.append((number, letters.get_text_range(place, 1)))
    return found


def codes(data: bytes, scale: float = 3.0) -> list[str]:
    """Return what the QR codes hold, page by page from the top left."""
    found = []
    for page in pypdfium2.PdfDocument(data):
        picture = page.render(scale=scale).to_pil().convert("L")
        here = zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCode)
        here = sorted(here, key=lambda one: (round(one.position.top_left.y / 40), one.position.top_left.x))
        found += [one.text for one in here]
    return found
