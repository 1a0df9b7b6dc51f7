"""What each port of a directional valve does in each position, as plain data: read, printed in words, compared.

A position is a partition of the ports P, A, B and T. It is written as groups parted by commas, the ports of a group
joined by "-": "P-A, B-T". A port that is not named is shut by itself; "shut" alone shuts all four. "restricted" after
a group says that it is joined through a small notch only.
"""

from functools import lru_cache
from itertools import combinations
from typing import NamedTuple

from valvecalc.numbers import Refused

PORTS = "PABT"
SHUT = "shut"
#: There is no such position: a valve with two positions lacks one.
NO_POSITION = "none"

_EXAMPLE = "P-A, B-T"
_SWAP = str.maketrans("AB", "BA")


class Position(NamedTuple):
    """Groups of joined ports (a shut port is in none), and which of them are joined through a notch only."""

    groups: frozenset[frozenset[str]]
    restricted: frozenset[frozenset[str]] = frozenset()

    def joins(self, *ports: str) -> bool:
        """Whether these ports are joined to each other, notch or not."""
        return any(group.issuperset(ports) for group in self.groups)

    def is_shut(self, port: str) -> bool:
        """Whether a port is joined to no other."""
        return not any(port in group for group in self.groups)


class Function(NamedTuple):
    """The positions of a valve; None is unknown, an empty text a position that the valve does not have."""

    rest: Position | str | None = None
    on_a: Position | str | None = None
    on_b: Position | str | None = None
    crossing_a: Position | str | None = None
    crossing_b: Position | str | None = None


@lru_cache(maxsize=1024)
def completed(positions: Function, operator: str | None) -> Function:
    """The positions with those that the operator rules out: a spring at one end leaves one coil, a detent no rest."""
    rest, on_a, on_b, crossing_a, crossing_b = positions
    if operator == "spring-offset":
        if on_a is None and isinstance(on_b, Position):
            on_a = ""
        elif on_b is None and isinstance(on_a, Position):
            on_b = ""
    if operator == "detent" and rest is None:
        rest = ""
    return Function(rest, on_a, on_b, crossing_a, crossing_b)


ALL_SHUT = Position(frozenset())


@lru_cache(maxsize=1024)
def read_position(text: str) -> Position | str:
    """The position that a text names, "" for none. Raises Refused with what is needed and what to do."""
    plain = " ".join(text.split())
    if plain.lower() == NO_POSITION:
        return ""
    if plain.lower() == SHUT:
        return ALL_SHUT
    groups, restricted = [], []
    seen: set[str] = set()
    for part in plain.split(","):
        words = part.split()
        notch = len(words) == 2 and words[1].lower() == "restricted"
        if not words or (len(words) > 1 and not notch):
            raise Refused(
                f"groups of ports as in {_EXAMPLE}", f"Part groups by commas and join ports by -: {_EXAMPLE}."
            )
        ports = words[0].upper().split("-")
        for port in ports:
            if len(port) != 1 or port not in PORTS:
                need = "the ports P, A, B and T"
                raise Refused(need, f"{port or 'An empty place'} is none of them: write it like {_EXAMPLE}.")
            if port in seen:
                raise Refused("each port once", f"{port} stands twice: join all that is joined, as in P-A-B or A-B-T.")
            seen.add(port)
        if len(ports) > 1:
            group = frozenset(ports)
            groups.append(group)
            if notch:
                restricted.append(group)
        elif notch:
            raise Refused(
                "two ports at least before restricted", f"Write it like A-B-T restricted; {ports[0]} is alone."
            )
    return Position(frozenset(groups), frozenset(restricted))


def _ordered(group: frozenset[str]) -> str:
    return "-".join(port for port in PORTS if port in group)


def text(position: Position | str) -> str:
    """A position as `read_position` takes it; one spelling for each position."""
    if isinstance(position, str):
        return NO_POSITION
    parts = [
        _ordered(group) + (" restricted" if group in position.restricted else "")
        for group in sorted(position.groups, key=lambda one: PORTS.index(_ordered(one)[0]))
    ]
    return ", ".join(parts) or SHUT


def words(position: Position | str) -> str:
    """A position in words: "P joined to A, B joined to T", "P, A, B and T shut"."""
    if isinstance(position, str):
        return "no such position"
    parts = []
    for group in sorted(position.groups, key=lambda one: PORTS.index(_ordered(one)[0])):
        ports = _ordered(group).split("-")
        joined = f"{ports[0]} joined to {' and '.join(ports[1:])}"
        parts.append(joined + (" through a notch" if group in position.restricted else ""))
    shut = [port for port in PORTS if position.is_shut(port)]
    if shut:
        parts.append((", ".join(shut[:-1]) + " and " if shut[1:] else "") + shut[-1] + " shut")
    return ", ".join(parts)


def mirrored(position: Position | str | None) -> Position | str | None:
    """The position with A and B exchanged."""
    if not isinstance(position, Position):
        return position
    swap = [frozenset(frozenset(port.translate(_SWAP) for port in one) for one in side) for side in position]
    return Position(*swap)


def exchanged(function: Function) -> Function:
    """The function with the two plugs exchanged: what coil a did, coil b does."""
    return Function(function.rest, function.on_b, function.on_a, function.crossing_b, function.crossing_a)


def turned(function: Function) -> Function:
    """The function with the hoses at A and B exchanged and the two plugs as well."""
    return Function(*(mirrored(position) for position in exchanged(function)))


#: How two functions may agree, best first.
EQUAL, PLUGS, HOSES, DIFFERENT, UNKNOWN = "equal", "plugs", "hoses", "different", "unknown"
_WORKING = ("rest", "on_a", "on_b")


def compare(need: Function, has: Function) -> str:
    """How what is there agrees with what is needed in rest, a and b; crossing is compared by itself.

    Unknown only where a position that is not known decides: if those that are known differ already, it is different.
    """
    outcome = DIFFERENT
    for name, turn in ((EQUAL, has), (PLUGS, exchanged(has)), (HOSES, turned(has))):
        pairs = [(getattr(need, position), getattr(turn, position)) for position in _WORKING]
        if all(a == b for a, b in pairs if a is not None and b is not None):
            if all(a is not None and b is not None for a, b in pairs):
                return name
            outcome = UNKNOWN
    return outcome


def as_it_fits(has: Function, outcome: str) -> Function:
    """The function as it stands after plugs or hoses have been exchanged."""
    return exchanged(has) if outcome == PLUGS else turned(has) if outcome == HOSES else has


def hazards(need: Position, has: Position) -> list[str]:
    """Ids of what goes wrong where `has` stands in the place of `need`; sentences are in data/words/size.toml.

    The load comes first, then what the pump feels.
    """
    found = []
    opened = [port for port in "AB" if has.joins(port, "T") and not need.joins(port, "T")]
    closed = [port for port in "AB" if need.joins(port, "T") and not has.joins(port, "T")]
    driven = [port for port in "AB" if has.joins("P", port) and not need.joins("P", port)]
    dead = [port for port in "AB" if need.joins("P", port) and not has.joins("P", port)]
    if opened:
        found.append("opened-to-tank")
    if driven:
        found.append("joined-to-pump")
    if closed:
        found.append("shut-from-tank")
    if dead:
        found.append("cut-from-pump")
    if has.joins("P", "T") and not need.joins("P", "T"):
        found.append("unloads")
    if need.joins("P", "T") and not has.joins("P", "T"):
        found.append("holds-pressure")
    if not found and has != need:
        found.append("notch" if has.groups == need.groups else "joined-otherwise")
    return found


def all_positions() -> list[Position]:
    """Every partition of the four ports: fifteen."""
    found = []

    def split(rest: tuple[str, ...], groups: tuple[frozenset[str], ...]) -> None:
        if not rest:
            found.append(Position(frozenset(group for group in groups if len(group) > 1)))
            return
        first, others = rest[0], rest[1:]
        for size in range(len(others) + 1):
            for chosen in combinations(others, size):
                left = tuple(port for port in others if port not in chosen)
                split(left, (*groups, frozenset((first, *chosen))))

    split(tuple(PORTS), ())
    return found
