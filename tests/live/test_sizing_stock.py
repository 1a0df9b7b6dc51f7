"""Stock lists on the phone against Python: the same valves, the same faults letter by letter, the same curves."""

import csv
import io
import random
from pathlib import Path
from typing import Any

import pytest

from tests.live.sizing import ask_inner
from tests.live.sizing_plain import plainly, same
from tests.live.texts import nonsense, one_language, spoilt
from valvecalc.demo import SIZE
from valvecalc.errors import InputError
from valvecalc.selection.cells import columns
from valvecalc.selection.stock import STRAY_END, curve, read_csv, read_stock

DEMO = (SIZE / "stock.csv").read_text("utf-8")
FAULTY = (Path(__file__).parent.parent / "selection/faulty.csv").read_text("utf-8")


def told(text: str, file: str = "list.csv") -> dict[str, Any]:
    """What Python reads in a list, as `ask_inner` gives it."""
    try:
        valves, problems = read_csv(text.encode(), file)
    except InputError as fault:
        return {"troubles": [one._asdict() for one in fault.troubles]}
    return {"value": {"valves": plainly(valves), "problems": plainly(problems)}}


def agree(folder: Path, texts: list[str]) -> list[dict[str, Any]]:
    """What Python says of each list, after the phone has said the same."""
    expected = [told(text) for text in texts]
    answers = ask_inner(folder, ["readStock"], [("readStock", text, "list.csv") for text in texts])
    for text, answer, one in zip(texts, answers, expected, strict=True):
        assert same(answer, one), (text, answer, one)
    return expected


def test_the_demo_and_the_planted_faults(tmp_path: Path) -> None:
    demo, faulty = agree(tmp_path, [DEMO, FAULTY])
    assert len(demo["value"]["valves"]) == 20
    assert not demo["value"]["problems"]
    assert len(faulty["value"]["problems"]) >= 15


def test_what_is_no_list_and_what_only_looks_odd(tmp_path: Path) -> None:
    head = "name,price,rest,fluids"
    texts = [
        "",
        "\n\n",
        "# only words\n",
        "shelf,rest\nx,shut\n",
        'name\n"x\n',
        'name\n"x"y\n',
        "name\nx\0y\n",
        "a\rb\n",
        "name\r\rx\n",
        "name\rx\r",
        "\ufeff# ours\nName;Pressure P [MPa];Price\nx;31,5;85,50 EUR\n\ny;4500 psi;\n",
        "\ufeff\ufeffname\nx\n",
        f"# ours, all\n#\n{head}\n#14,2\n#15,-\n",
        "name\tprice\nx\t3\n",
        "name;a,b,c\nx;1\n",
        "name,a;b,c\nx,1\n",
        f"{head}\nx,P-A, B-T\ny,,shut\n",
        f'{head}\nx,1,"P-A, B-T","HLP, ""HFC"""\n',
        f'{head}\nx"y,1\n',
        f'{head}\n"x\ny",1\n',
        f"{head}\r\nx,1\r\ny,2\r\n",
        f"{head}\nx,1,,,,,\ny,1,,,7\n",
        f"{head},price,PRICE \nx,1,,,2\n",
        "name[bar],price [EUR]\nx,1\n",
        "name,pressure-p [Bar],Pressure  A [psia],pressure_b [],flow nominal [gal]\nx,315,30,3 bar,7\n",
        "name, [bar]\nx,1\n",
        "name,colour,qantity,constructor,__proto__\nx,red,1,2,3\n",
        "name,x\x1dprice\nx,1\n",
        "name\u2028price\nx\n",
        '"na\nme",name\n1,x\n',
        "name,viscosity_min,viscosity_max,pressure_t,pressure_p\nx,9 cSt,3 cSt,300 bar,200 bar\n",
        "name,pressure_t,pressure_p,shift_limit\nx,300 bar,200 bar,30 L/min 250 bar\ny,,200 bar,30 L/min 250 bar\n",
        "name,operator,rest,on_a\nx,spring-centred,shut,none\ny,detent,,\nz,spring-offset,,P-A\n",
        "name,drop_pa\nx,20 L/min 3 bar\n",
        f"name,override\nx,{'y' * 131072}\n",
        f"name,override\nx,{'y' * 131073}\n",
        f'name\n"{"x" * 131073}',
        f"name\n{'🔧' * 131072}\n",
    ]
    expected = agree(tmp_path, texts)
    assert {next(iter(one)) for one in expected} == {"value", "troubles"}
    assert len({str(one) for one in expected if "troubles" in one}) >= 8


def spoilt_list(dice: random.Random) -> str:
    """Some rows and columns of a list, with cells exchanged and spoilt, written with any mark."""
    head, *rows = list(
        csv.reader(line for line in dice.choice([DEMO, FAULTY]).splitlines() if not line.startswith("#"))
    )
    kept = sorted({0, *dice.sample(range(len(head)), dice.randrange(len(head)))})
    table = [[row[at] for at in kept] for row in [head, *dice.sample(rows, dice.randrange(1, 5))]]
    for _ in range(dice.randrange(8)):
        row = dice.choice(table)
        at = dice.randrange(len(row))
        row[at] = dice.choice(
            [
                spoilt(dice, row[at]),
                dice.choice(dice.choice(rows)),
                dice.choice(list(columns())) + dice.choice(["", " [bar]", " [L/min]", " [V]"]),
                "unknown",
                nonsense(dice)[:20],
            ]
        )
        if dice.random() < 0.1:
            row += dice.choice([[""], ["more"], ["", "3 bar"]])
    written = io.StringIO()
    writer = csv.writer(written, delimiter=dice.choice(",;\t"), lineterminator=dice.choice(["\n", "\r\n"]))
    writer.writerows(table)
    text = dice.choice(["", "\ufeff", "# words, more\n", "\n"]) + written.getvalue()
    return spoilt(dice, text) if dice.random() < 0.3 and len(text) < 2000 else text


def test_lists_spoilt_in_any_way(tmp_path: Path) -> None:
    dice = random.Random(6)
    lists = [spoilt_list(dice) for _ in range(420)]
    texts = [text for text in lists if one_language(text) and not any("\ud800" <= one <= "\udfff" for one in text)]
    assert len(texts) > 300
    expected = agree(tmp_path, texts)
    problems = [problem for one in expected if "value" in one for problem in one["value"]["problems"]]
    assert len({(one["need"], one["do"]) for one in problems}) > 60
    assert sum("troubles" in one for one in expected) > 5


def test_curves_of_the_demo(tmp_path: Path) -> None:
    valves, _ = read_stock(SIZE / "stock.csv")
    points = {getattr(valve, f"drop_{path}") for valve in valves for path in valve.curves}
    points |= {one[:1] for one in points} | {one[::2] for one in points}
    asked = sorted(points)
    assert len(asked) > 20
    answers = ask_inner(tmp_path, ["curveOf"], [("curveOf", one) for one in asked])
    for one, answer in zip(asked, answers, strict=True):
        assert same(answer, {"value": plainly(curve(one))}), (one, answer)


def test_bytes_that_were_no_utf_8_are_told(tmp_path: Path) -> None:
    data = "name,drop_viscosity\nbär,36 mm²/s\n".encode("cp1252")
    valves, problems = read_csv(data, "list.csv")
    asked = ("readStock", data.decode("cp1252"), "list.csv", True)
    assert same(
        ask_inner(tmp_path, ["readStock"], [asked]),
        [{"value": {"valves": plainly(valves), "problems": plainly(problems)}}],
    )
    assert problems


@pytest.mark.parametrize("mark", [",", ";", "\t"])
def test_tables_are_read_like_pythons(tmp_path: Path, mark: str) -> None:
    dice = random.Random(mark)
    texts = ["".join(dice.choices('ab"\r\n' + mark + mark + '"\n ', k=dice.randrange(30))) for _ in range(3000)]
    more = """const rowsOf = (...given) => {
      try { return readTable(...given); } catch (fault) {
        if (fault instanceof TableError) return fault.message;
        throw fault;
      }
    };"""
    answers = ask_inner(tmp_path, ["rowsOf"], [("rowsOf", text, mark) for text in texts], more)
    kinds = set()
    for text, answer in zip(texts, answers, strict=True):
        try:
            expected: Any = list(csv.reader(io.StringIO(text), delimiter=mark, strict=True))
        except csv.Error as fault:
            expected = STRAY_END if str(fault).startswith("new-line") else str(fault)
            kinds.add(expected)
        assert answer == {"value": expected}, text
    assert len(kinds) == 3
