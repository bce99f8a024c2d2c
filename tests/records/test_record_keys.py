from datetime import UTC, datetime, timedelta

from walkabout.records.keys import new_key

NOW = datetime(2026, 11, 25, 8, tzinfo=UTC)


def test_keys_are_never_the_same() -> None:
    """Many keys made for one and the same moment all differ."""
    assert len({new_key("a", NOW) for _ in range(20_000)}) == 20_000


def test_keys_sort_by_time() -> None:
    """Sorted as text, keys stand in the order of their moments, to the millisecond."""
    moments = [NOW + timedelta(milliseconds=step**3) for step in range(300)]
    made = [new_key("a", moment) for moment in moments]

    assert sorted(made) == made


def test_keys_are_short_and_plain() -> None:
    """A key is its prefix and sixteen small letters and digits."""
    key = new_key("job", NOW)

    assert key.startswith("job")
    assert len(key) == len("job") + 16
    assert key.isascii()
    assert key.isalnum()
    assert key == key.lower()


def test_a_forked_program_makes_keys_of_its_own(monkeypatch) -> None:
    """A child process does not go on with its parent's tag."""
    mine = new_key("a", NOW)[10:14]
    monkeypatch.setattr("walkabout.records.keys.os.getpid", lambda: -1)
    monkeypatch.setattr("walkabout.records.keys._tags", {-2: int.from_bytes(b"\0\0\0\0")})
    monkeypatch.setattr("walkabout.records.keys.os.urandom", lambda _: bytes([1, 2, 3, 4]))
    childs = new_key("a", NOW)[10:14]

    assert childs != mine
    assert childs == new_key("a", NOW)[10:14]
