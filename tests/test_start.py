"""Starting up: one calculation imports the module it needs, found by its text, and no heavy library."""

import subprocess
import sys
from pathlib import Path

import pytest

from valvecalc.door import load
from valvecalc.formula import REGISTER

HEAVY = {"pint", "numpy", "scipy", "fluids", "mkdocs"}
CALC = ["calc", "annular-leakage", "diameter=12 mm", "clearance=5 µm", "length=4 mm", "pressure_drop=160 bar"]

load()


def modules_after(code: str) -> set[str]:
    """What a fresh process has imported after some code."""
    told = f"{code}\nimport sys\nprint('imported', *sys.modules)"
    done = subprocess.run([sys.executable, "-c", told], check=True, capture_output=True, text=True)
    return set(done.stdout.splitlines()[-1].split())


@pytest.mark.parametrize(
    "code",
    [
        "import valvecalc",
        "from valvecalc.cli import main\ntry: main(['--help'])\nexcept SystemExit: pass",
        f"from valvecalc.cli import main\nmain({[*CALC, 'viscosity=30 mPa*s']})",
        f"from valvecalc.cli import main\nmain({[*CALC, 'viscosity=30 mPa*s', '--json']})",
        f"from valvecalc.cli import main\nmain({CALC})",
    ],
    ids=["import", "help", "calc", "calc-json", "calc-with-a-lack"],
)
def test_no_heavy_library_is_loaded(code):
    assert not modules_after(code) & HEAVY


def test_a_calculation_imports_its_own_module_only():
    found = modules_after("import valvecalc\nvalvecalc.calc('annular-leakage', diameter='12 mm')")
    ours = {name for name in found if name.startswith(("valvecalc.formulas.", "valvecalc.sheets."))}
    assert ours == {"valvecalc.formulas.gaps"}


@pytest.mark.parametrize("card", REGISTER.values(), ids=REGISTER)
def test_an_id_is_defined_in_one_file_only(card):
    """What `find` relies on when it looks for the module of an id in the texts."""
    home = Path(card.function.__code__.co_filename)
    package = home.parent.parent
    head = f"\ndef {card.function.__name__}("
    files = [*package.glob("formulas/*.py"), *package.glob("sheets/*.py")]
    assert [file for file in files if head in file.read_text("utf-8")] == [home]
