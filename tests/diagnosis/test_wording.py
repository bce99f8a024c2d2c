"""What people type becomes signs, and what is not understood is handed back."""

import pytest

from tests.diagnosis.made_up import cause, knowledge, sign
from walkabout.diagnosis.model import Crop, General
from walkabout.diagnosis.wording import Read, Wording, make_wording, read_text

SIGNS = [
    sign("white-powder", words=("white powder", "looks like flour", "talc on leaves"), seen="Powder rubs off."),
    sign("old-yellow", words=("old leaves yellow",)),
    sign("old-between", words=("old leaves yellow between veins",)),
    sign("new-between", words=("new leaves yellow between veins",)),
    sign("new-twisted", words=("new leaves twisted", "new leaves curled")),
    sign("webbing", words=("webbing", "fine webs")),
    sign("sticky", words=("sticky leaves", "honeydew")),
    sign("fuzz-under", words=("fuzz under leaf", "grey fuzz underneath")),
    sign("edge-brown", words=("brown edges", "crispy rims")),
    sign("roots-brown", organ="root", words=("brown soft roots", "roots rotten"), absent=("roots white and firm",)),
    sign("no-flow", words=("no flow", "pump stopped")),
    sign("wilt-wet", words=("wilts though wet",)),
    sign("stem-thin", organ="stem", words=("stem thin at the base",)),
]
GENERALS = {
    "yellow": General(key="yellow", name="yellow leaves", any=("old-yellow", "old-between"), words=("leaves yellow",)),
    "spots": General(key="spots", name="spots", any=("edge-brown",), words=("spots on leaves", "spots")),
}
CROPS = {
    "tomato": Crop(key="tomato", name="tomato", words=("tomatoes", "toms"), families=("fruiting",)),
    "pepper": Crop(key="pepper", name="pepper"),
    "cucumber": Crop(key="cucumber", name="cucumber", words=("cuke", "cukes")),
    "seedling": Crop(key="seedling", name="seedling", words=("seedlings",)),
}


@pytest.fixture(scope="module")
def wording() -> Wording:
    """A small knowledge's words, with the program's own groups of words."""
    return make_wording(knowledge(SIGNS, [cause("x", {"webbing": "always"})], generals=GENERALS, crops=CROPS))


def signs(read: Read) -> set[str]:
    """Return the signs, '-' before what is not there."""
    return {one.sign if one.present else f"-{one.sign}" for one in read.signs}


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("white powder", {"white-powder"}),
        ("White powdery dust on the leaves!", {"white-powder"}),
        ("there is some white powder on my leaves", {"white-powder"}),
        ("old leaves are yellow", {"old-yellow"}),
        ("the bottom leaves have gone yellowish", {"old-yellow"}),
        ("lower foliage chlorotic", {"old-yellow"}),
        ("yellow between the veins on the lower leaves", {"old-between"}),
        ("interveinal chlorosis of the youngest leaves", {"new-between"}),
        ("leaves are yellow", {"yellow"}),
        ("fuzz on the undersides of the leaves", {"fuzz-under"}),
        ("leaf margins brown", {"edge-brown"}),
        ("honeydew", {"sticky"}),
        ("the roots are rotten", {"roots-brown"}),
    ],
)
def test_everyday_and_trade_words_are_signs(wording: Wording, text: str, expected: set[str]) -> None:
    """Synonyms, plurals and endings lead to the same sign; a place makes it narrower."""
    read = read_text(wording, text)
    assert signs(read) == expected
    assert read.not_understood == ()


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("no webs", {"-webbing"}),
        ("not sticky", {"-sticky"}),
        ("no webs no spots", {"-webbing", "-spots"}),
        ("leaves aren't sticky", {"-sticky"}),
        ("white powder but no webs", {"white-powder", "-webbing"}),
        ("no webs or spots", {"-webbing", "-spots"}),
        ("no webs and spots", {"-webbing", "-spots"}),
        ("no webs and the old leaves are yellow", {"-webbing", "old-yellow"}),
        ("without any webbing, leaves sticky", {"-webbing", "sticky"}),
        ("the roots are not brown or soft", {"-roots-brown"}),
        ("roots white and firm", {"-roots-brown"}),
        ("no flow", {"no-flow"}),
    ],
)
def test_denial_reaches_to_the_end_of_its_clause(wording: Wording, text: str, expected: set[str]) -> None:
    """'no', 'not' and their kin deny what follows, over 'or', up to a comma, 'but' or a new subject."""
    assert signs(read_text(wording, text)) == expected


def test_several_signs_in_one_sentence(wording: Wording) -> None:
    """Each sign of a long sentence is found once, with the words that say it."""
    read = read_text(wording, "Old leaves yellow, white powder on top, a bit sticky; no webs.")
    assert signs(read) == {"old-yellow", "white-powder", "sticky", "-webbing"}
    assert {one.sign: one.text for one in read.signs}["webbing"] == "webs"


def test_which_leaves_holds_for_the_clauses_that_follow(wording: Wording) -> None:
    """'on the new leaves: yellow between the veins, twisted' speaks of new leaves twice."""
    assert signs(read_text(wording, "New leaves: yellow between the veins, and twisted")) == {
        "new-between",
        "new-twisted",
    }


def test_green_veins_in_the_next_clause_make_the_sign_narrower(wording: Wording) -> None:
    """'lower leaves yellow, veins stay green' is one sign, not an evenly yellow leaf."""
    assert signs(read_text(wording, "lower leaves yellow, veins stay green")) == {"old-between"}


def test_other_leaves_are_not_mixed_up(wording: Wording) -> None:
    """What is said of new leaves is not taken for the old ones."""
    assert "old-yellow" not in signs(read_text(wording, "old leaves are fine, new leaves yellow between the veins"))


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("whte powdr", {"white-powder"}),
        ("old leafs yelow", {"old-yellow"}),
        ("webing", {"webbing"}),
        ("stiky leaves", {"sticky"}),
    ],
)
def test_misspellings_are_understood(wording: Wording, text: str, expected: set[str]) -> None:
    """A letter left out, doubled or swapped does not matter."""
    assert signs(read_text(wording, text)) == expected


def test_an_organ_has_to_be_the_right_one(wording: Wording) -> None:
    """'thin at the base' says nothing of a stem in a sentence about roots, and brown leaves are no brown roots."""
    assert "roots-brown" not in signs(read_text(wording, "leaves brown and soft"))
    assert "stem-thin" not in signs(read_text(wording, "thin roots"))


@pytest.mark.parametrize(
    ("text", "crop"),
    [
        ("my toms have white powder", "tomato"),
        ("cuke: sticky leaves", "cucumber"),
        ("pepper plant with webs", "pepper"),
        ("pepper dots in the spots", ""),
        ("white powder", ""),
    ],
)
def test_the_crop_is_found(wording: Wording, text: str, crop: str) -> None:
    """The crop too is known by the names that people use, but not by a likeness."""
    assert read_text(wording, text).crop == crop


def test_seedlings_are_young(wording: Wording) -> None:
    """Seedlings are a family of their own."""
    assert read_text(wording, "seedlings with white powder").also == ("seedling",)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("pH 7.4, new leaves yellow between veins", {"ph": 7.4}),
        ("ph is 7,4 and EC of 2.5", {"ph": 7.4, "ec": 2.5}),
        ("it is 31 °C and humidity 85 %", {"air": 31, "humidity": 85}),
        ("solution 27 C", {"solution": 27}),
        ("three leaves, 2 spots", {}),
    ],
)
def test_readings_in_a_sentence_are_taken(wording: Wording, text: str, expected: dict[str, float]) -> None:
    """pH, EC, temperatures and humidity are readings, other numbers are not."""
    assert {measure: value for measure, value, _ in read_text(wording, text).readings} == expected


@pytest.mark.parametrize(
    ("text", "hazards"),
    [
        ("there is a burnt smell near the lamp", ("burnt smell",)),
        ("Sparks! and sticky leaves", ("Sparks",)),
        ("water on the floor", ("water on the floor",)),
        ("burnt edges, no smoke, leaves look fired", ()),
    ],
)
def test_danger_to_people_is_no_sign_of_a_plant(wording: Wording, text: str, hazards: tuple[str, ...]) -> None:
    """Words of danger are taken out of the text and handed back apart."""
    assert read_text(wording, text).hazards == hazards


def test_a_text_that_says_nothing_known_is_handed_back_whole(wording: Wording) -> None:
    """'My plants look sad' is not passed over in silence."""
    assert read_text(wording, "my plants look sad").not_understood == ("my plants look sad",)


def test_what_is_not_understood_is_said(wording: Wording) -> None:
    """A clause that says nothing known comes back as it was typed; the rest is taken."""
    read = read_text(wording, "White powder, it hums a Quixotic tune")
    assert signs(read) == {"white-powder"}
    assert read.not_understood == ("it hums a Quixotic tune",)


@pytest.mark.parametrize(
    "text", ["", "   ", "???", "[bold]x[/]", "\x00\x1b[31m", "no", "no no no", "a" * 5000, "веб 叶"]
)
def test_any_text_can_be_read(wording: Wording, text: str) -> None:
    """Nothing that is typed breaks the reading, and nothing known is found in it."""
    assert read_text(wording, text).signs == ()
