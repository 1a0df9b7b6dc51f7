"""Is the main spool of a two-stage valve free: driven apart from its pilot, what does it take beyond its spring."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import budget, pilot, spring
from valvecalc.primitives import using
from valvecalc.sheet import sheet


class MainStage(NamedTuple):
    """The pressure that just moves the main spool to its end, its spring; SI."""

    full_stroke_difference: Value
    spool_diameter: Value
    stroke: Value
    spring_preload: Value
    spring_rate: Value


@sheet(
    "Main stage apart: is its spool free",
    results=("main_drag_share", "main_drag", "end_spring_force"),
    judged={"main_drag_share": ("band", "main-drag-lacks", "main-drag")},
    limits={
        "full_stroke_difference": "> 0 bar, <= 700 bar",
        "spool_diameter": "> 4 mm, <= 200 mm",
        "stroke": "> 0 mm, <= 100 mm",
        "spring_preload": ">= 0 N, <= 5000 N",
        "spring_rate": ">= 0 N/mm, <= 500 N/mm",
    },
    labels={
        "spool_diameter": "diameter of the main spool's end",
        "stroke": "travel of the main spool from centre to its end",
        "spring_preload": "force of the main stage's centring spring at rest",
        "spring_rate": "rate of the main stage's centring spring",
        "end_spring_force": "force of the centring spring at the end of the stroke",
    },
    example={
        "full_stroke_difference": "3.9 bar",
        "spool_diameter": "26 mm",
        "stroke": "8 mm",
        "spring_preload": "90 N",
        "spring_rate": "9 N/mm",
    },
    cautions=("test-stand", "stored-pressure"),
    distrust=(
        "A gauge of the full pilot range: the reading lies at a few bar. Take one of 10 or 16 bar behind a snubber.",
        "Flow through the main stage: its force adds to the spring. Read it without flow, ports as the symbol asks.",
        "A drain that is not open: the pressure at the other end comes off the reading.",
        "A choke between gauge and spool: raise the pressure slowly, or the gauge leads.",
    ),
)
def main_stage_drag(stage: MainStage) -> Value:
    """Which stage is it? A main spool that goes to its end at little more than its spring asks for is free.

    Then the pilot, its screen or its pressure is at fault. What goes beyond the spring is drag: dirt, lacquer, a bent
    body, an end cap that clamps.
    """
    pilot_force = using(stage, pilot.difference_force, pilot_difference=stage.full_stroke_difference)
    end_spring_force = using(stage, spring.spring_force, position=stage.stroke)
    main_drag = pilot_force - end_spring_force
    main_drag_share = budget.share_in_hand(margin=main_drag, drive=pilot_force) if pilot_force > 0.0 else None
    return {"main_drag_share": main_drag_share, "main_drag": main_drag, "end_spring_force": end_spring_force}
