"""The rings to lay ready, from readings of an invented valve's counterbores."""

import pytest

from valvecalc.errors import InputError
from valvecalc.job.rings import ring_list

PORT = {"groove_depth": "1.33 mm", "groove_diameter": "12.7 mm", "port_diameter": "7.6 mm"}
SERVICE = {"fluid": "HLP", "compound": "NBR", "highest_temperature": "75 °C", "pressure": "210 bar"}


def test_four_ports_and_a_plug() -> None:
    plug = {"groove_kind": "static, groove on the plug", "groove_depth": "1.35 mm", "groove_width": "2.4 mm"}
    ports = [{"port": name, **PORT} for name in "PABT"]
    ports.append({"port": "plug", "number": 2, **plug, "groove_diameter": "9.5 mm", "diametral_gap": "0.1 mm"})
    found = ring_list(ports, SERVICE)
    assert found["to_pick"] == [{"size": "012", "number": 6}] and found["open"] == []
    first, last = found["rows"][0], found["rows"][-1]
    assert first["backup"] == "none while the joint stays shut"
    assert last["backup"] == "back-up ring on the side away from the pressure"  # 210 bar lies above the table
    assert {row["size"] for row in first["neighbours"]} > {"011", "012", "013"}
    assert found["rubber"]["word"] == "yes" and "EPDM" in found["rubber"]["caution"]


def test_what_is_not_settled_is_not_picked() -> None:
    deep = {"port": "T", **PORT, "groove_depth": "2.3 mm"}
    found = ring_list([{"port": "P", **PORT}, deep, {"port": "A"}])
    assert found["open"] == ["T", "A"]
    assert [row["verdict"] for row in found["rows"]] == ["settled", "none of them", "not read"]
    assert found["rows"][1]["size"] is found["rows"][1]["inside"] is found["rubber"] is None
    assert set(found["rows"][2]["missing"]) >= {"groove_depth", "groove_diameter"}


def test_a_doubtful_depth_picks_nothing() -> None:
    assert ring_list([{"port": "P", **PORT, "groove_depth": "1.45 mm ± 0.1 mm"}])["rows"][0]["size"] is None


def test_a_rubber_that_the_fluid_destroys_is_a_no() -> None:
    assert ring_list([], {"fluid": "HFDR", "compound": "NBR"})["rubber"]["word"] == "no"
    assert ring_list([], {"fluid": "HFDR"})["rubber"]["word"] == "ask"


def test_a_wrong_reading_is_told() -> None:
    with pytest.raises(InputError, match="groove_depth"):
        ring_list([{"port": "P", **PORT, "groove_depth": "deep"}])
