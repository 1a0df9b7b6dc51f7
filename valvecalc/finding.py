"""Finding by words that are not quite the right ones: another word for it, a slip of the thumb, a beginning.

The same once more in live/finding.js, held to this by tests/sitegen/test_find.py. Which words mean the same, and
what a match is worth, stands in data/words/search.toml.
"""

import re
import unicodedata
from collections.abc import Container, Iterable, Mapping, Sequence
from functools import cache
from itertools import pairwise
from math import log
from typing import Any, NamedTuple

from valvecalc.facts import load_toml
from valvecalc.unit_table import dimension_names, dimension_row

_APOSTROPHES = re.compile("['\u2019\u02bc`]")
#: A symbol is one word with what stands below its line: p_T is pt.
_SYMBOL = re.compile(r"(^|[\W_])([^\W_]{1,2})_")
_WORD = re.compile(r"[^\W\d_]+|\d+")
_VOWEL = re.compile("[aeiouy]")
#: A longer unit (volts, centistokes) is a word that decides, behind a number too.
_SHORT = 4
#: The fields of an entry that are searched, and what its kind is called; what each is worth stands in the rules.
FIELDS = ("title", "line", "words", "names", "kind")


class Entry(NamedTuple):
    """Something to be found: title and line are shown, words are searched only, names (of what goes in and comes
    out) are searched and decide little. `kind` is one of data/words/search.toml."""

    kind: str
    address: str
    title: str
    line: str = ""
    words: str = ""
    names: str = ""


class Rules(NamedTuple):
    """What finding goes by, as plain data: the browser gets the same.

    same   groups of phrases that mean the same, each phrase as its roots
    idle   roots of words that never decide
    units  what may stand behind a number and then is a reading, which is not looked for
    worth  what a match counts for
    kinds  by id: what the kind is called and what it counts for, in the order of the answers
    """

    same: Sequence[Sequence[tuple[str, ...]]]
    idle: Sequence[str]
    units: Sequence[str]
    worth: Mapping[str, float]
    kinds: Mapping[str, Mapping[str, Any]]


class Found(NamedTuple):
    """Places of the entries found, those near the best and those further off, each by kind; and the words of the
    question that stand nowhere."""

    near: list[int]
    far: list[int]
    unknown: list[str]


@cache
def rules() -> Rules:
    """The rules of data/words/search.toml with the units of data/units.toml."""
    told = load_toml("words/search.toml")
    spelt = {
        part
        for name in dimension_names()
        for spelling in dimension_row(name).names
        for part in words(spelling)
        if not part.isdigit() and len(part) <= _SHORT
    }
    return Rules(
        same=[list(dict.fromkeys(tuple(roots(phrase)) for phrase in group.split(","))) for group in told["same"]],
        idle=roots(told["idle"]),
        units=sorted(spelt),
        worth=told["worth"],
        kinds=told["kinds"],
    )


def words(text: str) -> list[str]:
    """A text as small letters and digits without accents: "Won't shift, 24V" is wont, shift, 24, v."""
    bare = "".join(letter for letter in unicodedata.normalize("NFKD", text) if unicodedata.category(letter)[0] != "M")
    return _WORD.findall(_SYMBOL.sub(r"\1\2", _APOSTROPHES.sub("", bare)).lower())


def root(word: str) -> str:
    """A word without the ends that change with its use: leaks, leaking and leaked are leak."""
    if len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us", "is")):
        word = word[:-1]
    for ending in ("ing", "ed"):
        stem = word.removesuffix(ending)
        if stem != word and len(stem) > 2 and _VOWEL.search(stem) and not stem.endswith("e"):
            word = stem
            break
    if len(word) > 3 and word.endswith("e"):
        word = word[:-1]
    if len(word) > 3 and word[-1] == word[-2]:
        word = word[:-1]
    return word[:-1] + "i" if len(word) > 3 and word.endswith("y") else word


def roots(text: str) -> list[str]:
    """The roots of all words of a text."""
    return [root(word) for word in words(text)]


def apart(first: str, second: str, most: int) -> int:
    """Slips between two words: letters left out, put in, changed, or two changed over; `most` + 1 where more."""
    if abs(len(first) - len(second)) > most:
        return most + 1
    before: list[int] = []
    row = list(range(len(second) + 1))
    for i, letter in enumerate(first, 1):
        earlier, before, row = before, row, [i]
        for j, other in enumerate(second, 1):
            best = min(before[j] + 1, row[j - 1] + 1, before[j - 1] + (letter != other))
            if i > 1 and j > 1 and letter == second[j - 2] and first[i - 2] == other:
                best = min(best, earlier[j - 2] + 1)
            row.append(best)
        if min(row) > most:
            return most + 1
    return min(row[-1], most + 1)


class Finder:
    """Entries made ready to be asked. `ask` returns places in `entries`."""

    def __init__(self, entries: Sequence[Entry], by: Rules) -> None:
        self.entries = entries
        self.by = by
        self.idle = frozenset(by.idle)
        self.units = frozenset(by.units)
        #: root -> what it counts for in which entry
        self.places: dict[str, dict[int, float]] = {}
        self.titles: list[frozenset[str]] = []
        #: what a page is called, its title and its name in the address -> which entries
        self.called: dict[frozenset[str], set[int]] = {}
        for place, entry in enumerate(entries):
            self.titles.append(self._deciding(entry.title))
            if "#" not in entry.address:
                for name in (self.titles[-1], self._deciding(entry.address.rstrip("/").rpartition("/")[2])):
                    self.called.setdefault(name, set()).add(place)
            called = str(by.kinds[entry.kind]["title"])
            for field, text in zip(FIELDS, (*entry[2:], called), strict=True):
                told = roots(text)
                joined = [a + b for a, b in pairwise(told)] if field == "title" else []
                for known in (*told, *joined):
                    row = self.places.setdefault(known, {})
                    row[place] = max(row.get(place, 0.0), by.worth[field])
        #: Words that stand nowhere but mean the same as one that does.
        every = dict.fromkeys((*self.places, *(part for group in by.same for one in group for part in one)))
        self.known = {word: frozenset(word) for word in every}
        #: A phrase that means the same as others, by its first root, with those others.
        self.phrases: dict[str, list[tuple[tuple[str, ...], Sequence[tuple[str, ...]]]]] = {}
        for group in by.same:
            for phrase in group:
                self.phrases.setdefault(phrase[0], []).append((phrase, group))
        self.meant: dict[str, dict[str, float]] = {}

    def ask(self, question: str) -> Found:
        """Answers to a question as somebody types it. An empty one has none."""
        asked, minor = self._looked_for(words(question)[: int(self.by.worth["most"])])
        if not asked:
            return Found([], [], [])
        likely = [self._meanings(word) for word in asked]
        readings = self._readings(asked, likely)
        best: list[dict[int, float]] = [{} for _ in asked]
        touched: set[str] = set()
        for first, after, phrase, worth in readings:
            rows = [self.places.get(part, {}) for part in phrase]
            touched.update(phrase)
            for place in min(rows, key=len):
                if all(place in row for row in rows):
                    value = worth * min(row[place] for row in rows)
                    for at in range(first, after):
                        best[at][place] = max(best[at].get(place, 0.0), value)
        weights = [self._weight(len(row), slight) for row, slight in zip(best, minor, strict=True)]
        unknown = [word for word, row, slight in zip(asked, best, minor, strict=True) if not row and not slight]
        decided = any(row and not slight for row, slight in zip(best, minor, strict=True))
        scores = self._scores(best, weights, touched) if decided or not unknown else {}
        return self._ranked(scores, self.called.get(self._deciding(" ".join(asked)), set()), unknown)

    def _weight(self, entries: int, slight: bool) -> float:
        """What a word of the question decides: the more, the fewer entries have it."""
        if not entries:
            return 0.0
        weight = log(1 + len(self.entries) / (entries + self.by.worth["common"]))
        return weight * self.by.worth["minor"] if slight else weight

    def _scores(self, best: list[dict[int, float]], weights: list[float], touched: set[str]) -> dict[int, int]:
        """What each entry is worth that meets enough of the question."""
        whole = sum(weights)
        short = self.by.worth["short"]
        scores: dict[int, int] = {}
        for place in sorted({place for row in best for place in row}):
            met = sum(weight for row, weight in zip(best, weights, strict=True) if place in row)
            if met >= self.by.worth["enough"] * whole:
                score = sum(row.get(place, 0.0) * weight for row, weight in zip(best, weights, strict=True)) / whole
                title = self.titles[place]
                score *= 1 - short + short * len(title & touched) / max(1, len(title))
                score *= self.by.kinds[self.entries[place].kind]["worth"]
                scores[place] = round(score * 1e9)  # equal ones stay equal, here and in the browser
        return scores

    def _ranked(self, scores: Mapping[int, int], called: Container[int], unknown: list[str]) -> Found:
        """What is called just so, then by kind, the best of each kind first. A kind with an answer as good as any comes
        before the others."""
        worth, order = self.by.worth, list(self.by.kinds)
        best = max(scores.values(), default=0)
        tops: dict[str, int] = {}
        for place, score in scores.items():
            kind = self.entries[place].kind
            tops[kind] = max(tops.get(kind, 0), score)

        def key(place: int) -> tuple[bool, bool, int, int]:
            kind = self.entries[place].kind
            return place not in called, tops[kind] < worth["equal"] * best, order.index(kind), -scores[place]

        ranked = sorted(scores, key=key)
        near = [place for place in ranked if place in called or scores[place] >= worth["near"] * best]
        far = [place for place in ranked if place not in near and scores[place] >= worth["least"] * best]
        return Found(near, far, unknown)

    def _meanings(self, word: str) -> dict[str, float]:
        """Known roots that a typed word may stand for, with what the match counts for."""
        if word in self.meant:
            return self.meant[word]
        worth, own = self.by.worth, root(word)
        letters = frozenset(own)
        found: dict[str, float] = {}
        slips = 0 if len(word) < 4 or own in self.places or word.isdigit() else 1 if len(word) < 8 else 2
        for known, its in self.known.items():
            if known == own:
                found[known] = 1.0
            elif len(word) > 1 and (known.startswith(word) or (len(own) > 2 and known.startswith(own))):
                found[known] = worth["beginning"]
            elif len(known) > 3 and len(own) - len(known) <= 3 and own.startswith(known):
                found[known] = worth["ending"]
            elif slips and len(letters - its) <= slips >= len(its - letters) and apart(own, known, slips) <= slips:
                found[known] = worth["slip"]  # a slip brings in one letter at most: most words need no counting
        self.meant[word] = found
        return found

    def _readings(
        self, asked: Sequence[str], likely: Sequence[Mapping[str, float]]
    ) -> Iterable[tuple[int, int, Sequence[str], float]]:
        """What may be meant: from word, to word, the roots that an entry needs for it, what it counts for."""
        for at, known in enumerate(likely):
            yield from ((at, at + 1, (one,), worth) for one, worth in known.items())
            if at and (both := root(asked[at - 1] + asked[at])) in self.places:
                yield at - 1, at + 1, (both,), self.by.worth["joined"]
            for phrase, group in (pair for one in known for pair in self.phrases.get(one, ())):
                after = at + len(phrase)
                worth = min(row.get(part, 0.0) for row, part in zip(likely[at:after], phrase, strict=False))
                if after <= len(asked) and worth:
                    worth *= self.by.worth["same"]
                    yield from ((at, after, other, worth) for other in group if other != phrase)

    def _looked_for(self, asked: Sequence[str]) -> tuple[list[str], list[bool]]:
        """The words to look for, and which of them decide nothing beside others: idle ones, single letters, numbers.

        A number with a unit behind it is a reading: it stands on no page (60 of 60 °C is not 60 Hz). Its unit says a
        little where a group of words names it, as ohm does; all is looked for where nothing else is left.
        """
        kept: list[tuple[str, bool]] = []
        numbers: list[tuple[str, bool]] = []
        behind = False
        for word in asked:
            if word.isdigit():
                numbers.append((word, True))
            elif word in self.units and (numbers or behind):
                numbers, behind = [], True
                if any(phrase == (word,) for phrase, _ in self.phrases.get(word, ())):
                    kept.append((word, True))
            else:
                kept += [*numbers, (word, len(word) == 1 or root(word) in self.idle)]
                numbers, behind = [], False
        kept += numbers
        if all(slight for _, slight in kept):
            kept = [(word, word.isdigit() or len(word) == 1 or root(word) in self.idle) for word in asked]
        return [word for word, _ in kept], [slight for _, slight in kept]

    def _deciding(self, text: str) -> frozenset[str]:
        """The roots of a text but for those that never decide."""
        return frozenset(roots(text)) - self.idle
