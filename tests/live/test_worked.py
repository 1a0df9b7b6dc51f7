"""The worked lines on the phone against Python: the same rows, the texts letter by letter, the numbers to 1e-12."""

from tests.engine.conftest import Dice
from tests.live.worked import CASES, SHOWN, SYSTEMS, Asked, Told, as_typed, compare, drawn, filled
from valvecalc.door import calc


def test_the_examples_of_all_pages(told: Told) -> None:
    asked = [(card, calc(card.id, **card.example).values, system) for card in SHOWN for system in SYSTEMS]
    rows, none = compare(asked, told)
    assert rows > 500 and none == 0


def test_random_entries_of_every_page(told: Told) -> None:
    hand = Dice(61)
    few = max(2, CASES // 300)
    often = {"single-causes": few, "limit-curve": few, "limit-point": CASES // 50, "shift-budget": CASES // 20}
    often["shift-time"] = few
    asked = [
        (card, filled(card, as_typed(hand.random, drawn(card, hand, number))), hand.random.choice(SYSTEMS))
        for card in SHOWN
        for number in range(often.get(card.id, CASES // 10))
    ]
    rows, none = compare(asked, told)
    assert rows > 3 * len(asked) * 0.8 and 0 < none < len(asked) / 10


def test_each_entry_left_out(told: Told) -> None:
    """Of every sheet each entry alone, and each given alone; of a formula one, which leaves no line."""
    asked: list[Asked] = []
    for card in SHOWN:
        values = calc(card.id, **card.example).values
        if card.kind == "formula":
            asked.append((card, {**values, card.entries[0]: None}, "metric"))
        elif card.id not in ("single-causes", "limit-curve"):
            rest = [{other: values[other] for other in values if other != name} for name in card.entries]
            alone = [{name: values[name]} for name in card.entries if "lands" not in card.rows]
            asked += [(card, filled(card, given), SYSTEMS[len(given) == 1]) for given in (*rest, *alone)]
    rows, _ = compare(asked, told)
    assert rows > len(asked)
