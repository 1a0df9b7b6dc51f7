"""The risk beside a verdict: the share of a normal spread that lies on the other side of the limit."""

from collections.abc import Callable
from typing import Any

import pytest

from valvecalc.job.risk import risk


@pytest.mark.parametrize(
    ("verdict", "z", "said"),
    [("accept", 1.645, "wrong accept: 5.0 %"), ("accept", 2.0, "2.3 %"), ("accept", 4.0, "under 0.1 %"),
     ("reject", -1.645, "wrong reject: 5.0 %"), ("cannot-tell", 1.0, "within its limit with 84 %"),
     ("cannot-tell", 0.0, "with 50 %")],
)  # fmt: skip
def test_the_tail_of_the_normal_table(verdict: str, z: float, said: str) -> None:
    """Printed tables of the normal distribution: Φ(1) 0.8413, Φ(1.645) 0.9500, Φ(2) 0.9772. From both sides."""
    assert said in risk(verdict, 10.0 + z * 0.5, 0.5, low=10.0)
    assert said in risk(verdict, 10.0 - z * 0.5, 0.5, high=10.0)


def test_between_two_limits() -> None:
    """Inputs of JCGM 106:2012, 7.4: 13.6 with u 1.8 within 12.5 to 16.3; own arithmetic Φ(1.5) - Φ(-0.6111) = 66 %."""
    assert "with 66 %" in risk("cannot-tell", 13.6, 1.8, 12.5, 16.3)


def test_without_uncertainty_or_verdict_nothing_is_said() -> None:
    assert risk("accept", 1.0, 0.0, low=0.0) == risk("unknown", 1.0, 1.0, low=0.0) == ""


def test_an_acceptance_line_worked_by_hand(work: Callable[..., Any]) -> None:
    """2 Ω at least 1 with ± 20 % (0.4, u 0.231): 4.33 u off. 1.3 ± 20 % (u 0.150): 2.0 u, 2.3 %. 1.1 ± 20 % (u 0.127):
    0.787 u, 78 %; 0.7 ± 20 % (u 0.0808): -3.71 u, nothing to speak of."""
    expected = {
        "2 MΩ ± 20 %": ("accept", "under 0.1 %"), "1.3 MΩ ± 20 %": ("accept", "2.3 %"),
        "1.1 MΩ ± 20 %": ("cannot-tell", "with 78 %"), "0.7 MΩ ± 20 %": ("reject", "under 0.1 %"),
    }  # fmt: skip
    for text, (verdict, said) in expected.items():
        (row,) = work({"id": "1", "coil": [{"name": "a", "insulation": text}]})[1]["verdicts"]
        assert row["verdict"] == verdict and said in row["sentence"], row
