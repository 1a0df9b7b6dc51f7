"""Does the main spool of a two-stage valve shift: pilot pressure and drain against springs, friction and flow."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import budget, pilot, spool, spring
from valvecalc.primitives import fact, least, using
from valvecalc.sheet import sheet


class TwoStage(NamedTuple):
    """The main stage, its pilot and drain pressure, the duty flow, the choke; SI."""

    pilot_pressure: Value
    drain_pressure: Value
    spool_diameter: Value
    stroke: Value
    spring_preload: Value
    spring_rate: Value
    dry_friction: Value = 10.0
    pump_flow: Value = None
    available_drop: Value = None
    density: Value = 857.0
    return_ratio: Value = 1.0
    flow_force_factor: Value = 1.0
    choke_diameter: Value = None
    discharge_coefficient: Value = 0.61


@sheet(
    "Two-stage valve: does the main spool shift",
    results=(
        "margin_share",
        "margin",
        "required_pilot_pressure",
        "pilot_difference",
        "pilot_force",
        "start_margin",
        "end_margin",
        "peak_flow_force",
        "return_margin",
        "pilot_shift_time",
    ),
    judged={"margin_share": (">=", "margin-sign-off")},
    limits={
        "pilot_pressure": ">= 0 bar, <= 700 bar",
        "drain_pressure": ">= 0 bar, <= 350 bar",
        "spool_diameter": "> 4 mm, <= 200 mm",
        "stroke": "> 0 mm, <= 100 mm",
        "spring_preload": ">= 0 N, <= 5000 N",
        "spring_rate": ">= 0 N/mm, <= 500 N/mm",
        "dry_friction": ">= 0 N, <= 2000 N",
        "pump_flow": "> 0 L/min, <= 10000 L/min",
        "available_drop": ">= 0 bar, <= 700 bar",
        "density": ">= 700 kg/m³, <= 1500 kg/m³",
        "return_ratio": "> 0.1, <= 10",
        "flow_force_factor": ">= 0, <= 2",
        "choke_diameter": "> 0.1 mm, <= 20 mm",
        "discharge_coefficient": "> 0.3, <= 1",
    },
    origins={
        "dry_friction": ("judgement", ""),
        "density": ("common-practice", ""),
        "return_ratio": ("judgement", ""),
        "flow_force_factor": ("judgement", ""),
        "discharge_coefficient": ("handbook", "rabie-2009"),
    },
    labels={
        "pilot_pressure": "pilot pressure at the moment of shifting, at its lowest: pump idling, other valves working",
        "drain_pressure": "pressure at Y, or at T of the main stage with an internal drain, at its highest",
        "spool_diameter": "diameter of the main spool's end",
        "stroke": "travel of the main spool from centre to its end",
        "spring_preload": "force of the main stage's centring spring at rest",
        "spring_rate": "rate of the main stage's centring spring",
        "dry_friction": "friction of the main spool",
        "pump_flow": "flow through the main stage",
        "available_drop": "supply pressure less load: what the main edges lose before the pump flow passes",
        "margin": "force in hand at the end of the spring with the flow force at its peak",
        "start_margin": "force in hand as the main spool starts",
        "end_margin": "force in hand at the end of the stroke, no flow",
        "peak_flow_force": "largest flow force of the main edges on the way, both together",
    },
    chart="pilot_pressure",
    example={
        "pilot_pressure": "9.5 bar",
        "drain_pressure": "2.5 bar",
        "spool_diameter": "26 mm",
        "stroke": "8 mm",
        "spring_preload": "90 N",
        "spring_rate": "9 N/mm",
        "dry_friction": "12 N",
        "pump_flow": "150 L/min",
        "available_drop": "120 bar",
        "density": "857 kg/m³",
        "flow_force_factor": "0.3",
        "choke_diameter": "1.5 mm",
    },
    cautions=("test-stand", "falling-load", "stored-pressure"),
    sources=(("jelali-kroll-2003", "eq. 3.88, p. 50"), ("rabie-2009", "eq. 2.39")),
    distrust=(
        "A gauge read while nothing moves: the pilot pressure that counts is the one while the main spool crosses.",
        "The flow-force factor: 1 is the plain theory and pessimistic. Spring and flow force count at their largest.",
        "A pilot valve that does not shift itself: judge it first, it has its own budget.",
        "A surge in a shared tank line: with an internal drain it can shift the main spool with nothing switched on.",
        "The return: with both ends at the drain its pressure cancels; a pressure in one end alone does not.",
    ),
)
def two_stage_shift(stage: TwoStage) -> Value:
    """Whether the main spool shifts with this pilot pressure and this back pressure in the drain, and what is in hand.

    Drive: pilot pressure less drain pressure on the spool's end. Against it: centring spring, friction, flow force.
    Back to centre the spring works alone against friction, since both ends are open to the same drain.
    """
    pilot_difference = stage.pilot_pressure - stage.drain_pressure
    pilot_force = using(stage, pilot.pilot_force)
    end_spring_force = using(stage, spring.spring_force, position=stage.stroke)
    start_force = stage.spring_preload + stage.dry_friction
    end_force = end_spring_force + stage.dry_friction
    peak_flow_force = using(stage, spool.peak_flow_force)
    full_force = end_force + peak_flow_force
    start_margin = pilot_force - start_force
    end_margin = pilot_force - end_force
    margin = pilot_force - full_force
    margin_share = budget.share_in_hand(margin=margin, drive=pilot_force) if pilot_force > 0.0 else None
    required_pilot_pressure = using(
        stage, pilot.required_pilot_pressure, spring_force=end_spring_force, flow_force=peak_flow_force
    )
    return_margin = stage.spring_preload - stage.dry_friction
    start_drop = using(stage, pilot.remaining_drop, pilot_difference=pilot_difference, force=start_force)
    end_drop = using(stage, pilot.remaining_drop, pilot_difference=pilot_difference, force=end_force)
    pilot_shift_time = (
        using(stage, pilot.pilot_shift_time, start_drop=start_drop, end_drop=end_drop) if end_drop > 0.0 else None
    )
    return {
        "margin_share": margin_share,
        "margin": margin,
        "required_pilot_pressure": required_pilot_pressure,
        "pilot_difference": pilot_difference,
        "pilot_force": pilot_force,
        "start_margin": start_margin,
        "end_margin": end_margin,
        "peak_flow_force": peak_flow_force,
        "return_margin": return_margin,
        "pilot_shift_time": pilot_shift_time,
    }


class Plugs(NamedTuple):
    """How the pilot is fed and drained."""

    pilot_supply: Value
    pilot_drain: Value


@sheet(
    "Pilot plugs of a two-stage valve: what the setting needs, what goes wrong",
    results=("plug_needs", "plug_openings", "plug_wrong", "plug_check"),
    choices={"pilot_supply": ("internal", "external"), "pilot_drain": ("internal", "external")},
    example={"pilot_supply": "internal", "pilot_drain": "external"},
    cautions=("stored-pressure", "falling-load"),
    distrust=(
        "Where the plugs sit and which way they turn the valve differs from valve to valve: its own sheet shows it.",
        "A valve from the shelf may come set another way than the one it replaces: compare both before it is fitted.",
    ),
)
def pilot_plugs(plugs: Plugs) -> Value:
    """What each setting of pilot and drain plugs asks of the circuit, and how it fails where it does not suit.

    Pilot from P or from X, drain to T or to Y: a valve set wrongly clicks and does nothing, or shifts by itself.
    """
    plug_setting = least(
        [
            row
            for row in fact("pilot-plugs")
            if row["pilot_supply"] == plugs.pilot_supply and row["pilot_drain"] == plugs.pilot_drain
        ],
        "plug_place",
    )
    return {
        "plug_needs": plug_setting["plug_needs"],
        "plug_openings": plug_setting["plug_openings"],
        "plug_wrong": plug_setting["plug_wrong"],
        "plug_check": plug_setting["plug_check"],
    }
