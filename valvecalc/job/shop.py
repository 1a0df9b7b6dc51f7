"""shop.toml: the shop's name, units, instruments with their limits of error, own limits, own checks and fields."""

from collections.abc import Mapping
from typing import Any, NamedTuple

from valvecalc.errors import InputError, Trouble, nearest
from valvecalc.job.fields import Field
from valvecalc.job.own import Check
from valvecalc.units import read, standard_uncertainty


class Instrument(NamedTuple):
    """Limit of error as data: an amount, or a share of the reading, or a share of the range."""

    id: str
    kind: str
    range: str
    accuracy: str
    calibrated_until: str

    def standard_uncertainty(self, name: str, dimension: str, si: float) -> float:
        """Standard uncertainty in SI of a reading called `name` (rectangular limits).

        Raises InputError when range or accuracy do not fit the reading.
        """
        share, of, what = self.accuracy.partition(" of ")
        try:
            if not of:
                reading = read(f"{_nought(self.accuracy)} ± {self.accuracy}", name, dimension)
                return standard_uncertainty(reading) or 0.0
            part = read(share, "accuracy", "ratio").si
            if what.strip() == "reading":
                base = abs(si)
            elif what.strip() in ("range", "full scale"):
                full = read(self.range, "range", dimension)
                zero = read(f"0 {full.unit}", "range", dimension).si
                base = full.si - zero
            else:
                raise InputError(
                    Trouble(
                        "accuracy",
                        self.accuracy,
                        '"1 % of range", "0.5 % of reading" or an amount',
                        "Correct it in shop.toml.",
                    )
                )
        except InputError as trouble:
            raise InputError(
                one._replace(entry=f"instrument {self.id} for {name}: {one.entry}") for one in trouble.troubles
            ) from None
        u: float = part * base / 3.0**0.5
        return u


def _nought(accuracy: str) -> str:
    return f"0 {accuracy.split()[-1]}"


class Shop(NamedTuple):
    """What shop.toml says; an empty one is a shop that has not filled it in."""

    name: str = ""
    address: str = ""
    units: str = "metric"
    paper: str = "A4"
    site: str = ""
    hourly_rate: str = ""
    instruments: Mapping[str, Instrument] = {}
    limits: Mapping[str, float] = {}
    checks: Mapping[str, Check] = {}
    fields: Mapping[str, Mapping[str, Field]] = {}

    def instrument(self, name: str, wanted: str) -> Instrument:
        """The instrument that a reading names. Raises InputError with the nearest ones."""
        known = self.instruments.get(wanted)
        if known is None:
            close = ", ".join(nearest(wanted, self.instruments) or self.instruments) or "none"
            raise InputError(
                Trouble(name, f"instrument {wanted!r}", "an instrument of shop.toml", f"It knows: {close}.")
            )
        return known


def own_limits(given: Mapping[str, Any], where: str) -> tuple[dict[str, float], list[Trouble]]:
    """Own limits by fact id, read in the dimension of the fact they replace."""
    from valvecalc.facts import load_toml

    facts = {key: fact for key, fact in load_toml("defaults.toml").items() if "value" in fact}
    found: dict[str, float] = {}
    troubles: list[Trouble] = []
    for key, text in given.items():
        if key not in facts:
            close = ", ".join(nearest(key, facts))
            do = f"{f'Nearest: {close}. ' if close else ''}The bench sheet prints each limit's name beside it."
            troubles.append(Trouble(f"limits.{key}", str(text), "a limit that the project has", do, where))
            continue
        try:
            found[key] = read(str(text), f"limits.{key}", facts[key]["dimension"]).si
        except InputError as trouble:
            troubles.extend(one._replace(where=where) for one in trouble.troubles)
    return found, troubles
