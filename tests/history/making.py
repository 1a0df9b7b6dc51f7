"""Invented jobs, many of them, the same every time."""

import random
from datetime import date, timedelta
from pathlib import Path

from valvecalc.history.entry import titles

CUSTOMERS = ("Harrowmere Joinery", "Kalkwerk Öd", "木工場 北", "ورشة الشمال", "Śliwa i Syn", "मरम्मत केंद्र")
STAGES = ("intake", "outside", "electrical", "strip_down", "measuring", "repair", "acceptance", "report")


def job_text(place: int, chance: random.Random) -> str:
    """One job file as a shop writes it in short."""
    received = date(2021, 1, 4) + timedelta(days=chance.randrange(1800))
    sent = received + timedelta(days=chance.randrange(1, 30))
    symptom, killer = chance.choice(list(titles("symptoms"))), chance.choice(list(titles("causes"))[:12])
    outcome = chance.choice(("held", "held", "held", "held", "came-back", "unknown"))
    times = "\n".join(f'{stage} = "{chance.randrange(1, 12) * 5} min"' for stage in STAGES)
    volts, ohms = chance.choice((12, 24, 110)), chance.randrange(10, 90)
    dispatch = "" if place % 25 == 0 else f'[dispatch]\nsent = {sent}\ncaps = "all ports"\n'
    return f'''schema = 1
id = "J-{place:05}"
title = "Press {place % 40}: does not open after the break"
customer = "{chance.choice(CUSTOMERS)}"
machine = "press, station {place % 9}"
complaint = "After a break it stays shut; two or three pushes, then it goes."
received = {received}
[[coil]]
name = "a"
nominal_voltage = "{volts} V"
resistance = ["{ohms} ohm", "{ohms}.2 ohm"]
coil_temperature = "21 °C"
[intake]
fails = "to a"
onset = "gradual"
[[part]]
name = "spool"
finding = "bright, no scores"
verdict = "good"
[finder]
symptom = "{symptom}"
steps = ["listen-click=hum", "killer: {killer}"]
[cause]
killer = "{killer}"
root = "oil-dirty"
evidence = ["read on the bench"]
[decision]
what = "{chance.choice(("repair", "repair", "exchange", "replace"))}"
agreed_by = "foreman"
{dispatch}[feedback]
outcome = "{outcome}"
[times]
{times}
'''


def make(folder: Path, number: int, seed: int = 4) -> list[Path]:
    """So many job files, a folder for each thousand, all older than a moment so that the index may trust them."""
    chance = random.Random(seed)
    made = []
    for place in range(number):
        path = folder / f"{place // 1000:02}" / f"job {place}.toml"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(job_text(place, chance), "utf-8")
        made.append(path)
    return made
