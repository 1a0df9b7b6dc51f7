"""The vocabulary: what a name means, its symbol, its dimension and the units a shop reads it in.

Names decide, not prose. `clearance` is radial, a pressure is gauge unless its name ends in `_abs`
(absolute) or in `_drop` or `_difference` (a difference has no reference).
"""

from typing import NamedTuple

from valvecalc.quantities_bench import BENCH_ROWS
from valvecalc.quantities_coil import COIL_ROWS
from valvecalc.quantities_cylinder import CYLINDER_ROWS
from valvecalc.quantities_dirt import DIRT_ROWS
from valvecalc.quantities_flow import FLOW_ROWS
from valvecalc.quantities_identity import IDENTITY_ROWS
from valvecalc.quantities_job import JOB_ROWS
from valvecalc.quantities_lines import LINE_ROWS
from valvecalc.quantities_mounting import MOUNTING_ROWS
from valvecalc.quantities_oil import OIL_ROWS
from valvecalc.quantities_seals import SEAL_ROWS
from valvecalc.quantities_sheets import SHEET_ROWS
from valvecalc.quantities_valve import VALVE_ROWS


class Quantity(NamedTuple):
    """One name of the vocabulary.

    symbol     as printed, subscript after `_` (p_T, ν_100)
    dimension  name of a dimension of data/units.toml, or one of text, count, rows
    metric/us  printed form of the unit a shop reads it in (a row of data/units.toml)
    meaning    one line, in shop words
    """

    name: str
    symbol: str
    dimension: str
    metric: str
    us: str
    meaning: str


_ROWS: tuple[tuple[str, str, str, str, str, str], ...] = (
    # name, symbol, dimension, metric, US, meaning
    ("active_coils", "n", "ratio", "", "", "turns of the spring that work (end turns not counted)"),
    ("ambient_temperature", "T_a", "temperature", "°C", "°F", "temperature of the air round the coil"),
    ("annulus_area", "A_R", "area", "mm²", "in²", "ring area of the piston on the rod side"),
    ("area", "A", "area", "mm²", "in²", "area that the oil passes through or pushes on"),
    ("area_ratio", "φ", "ratio", "", "", "piston area over the ring area of the rod side"),
    ("available_drop", "Δp_av", "pressure_difference", "bar", "psi", "pressure left for both metering edges together"),
    ("bore_diameter", "D_B", "length", "mm", "in", "bore of the cylinder"),
    ("breakaway", "g", "ratio", "", "", "share of the silt force that is left at this travel: 1 not yet broken away"),
    ("cable_cores", "n_c", "count", "", "", "conductors in the loop: 2 for there and back"),
    ("cable_length", "l_c", "length", "m", "ft", "length of the cable one way, supply to plug"),
    ("cap_side_pressure", "p_C", "pressure", "bar", "psi", "pressure on the full piston area"),
    ("clearance", "c", "length", "µm", "thou", "radial clearance between spool and bore"),
    ("coil_temperature", "T_c", "temperature", "°C", "°F", "temperature of the winding when its resistance was read"),
    ("coil_voltage", "U_c", "voltage", "V", "V", "voltage at the coil's own pins, under load"),
    ("cold_resistance", "R_1", "resistance", "Ω", "Ω", "resistance read cold"),
    ("cold_temperature", "T_1", "temperature", "°C", "°F", "winding temperature at the cold reading"),
    ("contact_resistance", "R_k", "resistance", "Ω", "Ω", "resistance of plug, terminals and switch contact together"),
    ("copper_coefficient", "α", "per_kelvin", "1/K", "1/K", "how much of its 20 °C resistance copper gains for each K"),
    ("copper_constant", "k_Cu", "temperature_difference", "K", "K", "K below 0 °C where copper resists no more"),
    ("corner_area", "A_K", "area", "mm²", "in²", "edge area at which the whole pump flow just passes"),
    ("corner_opening", "x_K", "length", "mm", "in", "opening at which the whole pump flow just passes"),
    ("current", "I", "current", "A", "A", "current through the coil or cable"),
    ("current_ratio", "i", "ratio", "", "", "coil current over the current at which the force curve was taken"),
    ("curve_force", "F_0", "force", "N", "lbf", "force read off the solenoid's force curve at this place"),
    ("curve_resistance", "R_0", "resistance", "Ω", "Ω", "winding resistance at which the force curve was taken"),
    ("curve_voltage", "U_0", "voltage", "V", "V", "voltage at which the force curve was taken"),
    ("cylinder_speed", "v", "velocity", "mm/s", "in/s", "speed of the piston rod"),
    ("density", "ρ", "density", "kg/m³", "kg/m³", "density of the oil at its temperature"),
    ("density_15", "ρ_15", "density", "kg/m³", "kg/m³", "density of the oil at 15 °C, as its data sheet gives it"),
    ("density_reference_temperature", "T_15", "temperature", "°C", "°F", "temperature of the data sheet's density"),
    ("diameter", "d", "length", "mm", "in", "diameter"),
    ("diametral_clearance", "c_d", "length", "µm", "thou", "bore diameter minus spool diameter"),
    ("discharge_coefficient", "C_d", "ratio", "", "", "flow through the opening over the flow without losses"),
    ("driven_pressure", "p_D", "pressure", "bar", "psi", "pressure on the driven side of the cylinder"),
    ("eccentricity", "ε", "ratio", "", "", "offset of the spool over the radial clearance: 0 centred, 1 touching"),
    ("exponent_above", "m_2", "ratio", "", "", "power of the current above the curve current (iron near saturation)"),
    ("exponent_below", "m_1", "ratio", "", "", "power of the current up to the curve current"),
    ("flow", "Q", "flow", "L/min", "gpm", "flow"),
    ("flow_force", "F_Q", "force", "N", "lbf", "force of the streaming oil, towards shut"),
    ("flow_force_factor", "κ", "ratio", "", "", "flow force of this spool over the plain momentum theory"),
    ("force", "F", "force", "N", "lbf", "force"),
    ("force_scale", "k_F", "ratio", "", "", "share of the curve's force that this solenoid gives"),
    ("free_length", "L_0", "length", "mm", "in", "length of the spring lying free"),
    ("friction_coefficient", "µ_s", "ratio", "", "", "friction between spool and bore as it breaks loose"),
    ("groove_factor", "k_g", "ratio", "", "", "share of the sideways force that the land's grooves leave"),
    ("hold_time", "t_h", "time", "s", "s", "time that the spool stood still under pressure"),
    ("hot_resistance", "R_2", "resistance", "Ω", "Ω", "resistance read hot, within a second of switching off"),
    ("ice_point", "T_0", "temperature", "K", "K", "0 °C on the kelvin scale"),
    ("installed_length", "L_i", "length", "mm", "in", "length of the spring as fitted, valve at rest"),
    ("jet_angle", "θ", "angle", "°", "°", "angle of the jet to the spool's axis"),
    ("jet_speed", "v_j", "velocity", "m/s", "ft/s", "speed of the oil leaving a leak or an edge"),
    ("kinematic_viscosity", "ν", "kinematic_viscosity", "mm²/s", "mm²/s", "viscosity of the oil at its temperature"),
    ("land_drop", "Δp_1", "pressure_difference", "bar", "psi", "pressure difference over one land"),
    ("lands_in_series", "n_s", "count", "", "", "equal lands that the leaking oil passes one after the other"),
    ("lateral_force", "F_N", "force", "N", "lbf", "force that presses the spool sideways against its bore"),
    ("lateral_friction", "F_R", "force", "N", "lbf", "force that it takes to slide a spool pressed against its bore"),
    ("leakage", "Q_L", "flow", "mL/min", "in³/min", "oil that slips through"),
    ("length", "L", "length", "mm", "in", "length"),
    ("length_1", "L_1", "length", "mm", "in", "spring length at the first load"),
    ("length_2", "L_2", "length", "mm", "in", "spring length at the second load"),
    ("live_grooves", "n_g", "count", "", "", "grooves on the land that are open: not worn away, not full of varnish"),
    ("load_1", "F_1", "force", "N", "lbf", "spring load at the first length"),
    ("load_2", "F_2", "force", "N", "lbf", "spring load at the second length"),
    ("load_force", "F_L", "force", "N", "lbf", "load on the rod, against the motion"),
    ("load_pressure_difference", "p_L", "pressure_difference", "bar", "psi", "load as pressure on the driven side"),
    ("loop_resistance", "R_loop", "resistance", "Ω", "Ω", "resistance of the cable there and back"),
    ("margin", "M", "force", "N", "lbf", "force in hand: what drives minus what resists"),
    ("margin_share", "m", "ratio", "%", "%", "force in hand as a share of the driving force"),
    ("mean_diameter", "D_m", "length", "mm", "in", "mean diameter of the spring: outside diameter minus wire"),
    ("mean_pressure", "p_m", "pressure", "bar", "psi", "pressure at a shut port between two equal lands"),
    ("mechanical_efficiency", "η", "ratio", "", "", "share of the pressure force that the seals leave to the rod"),
    ("minimum_voltage", "U_min", "voltage", "V", "V", "lowest voltage at the plug that must still shift the valve"),
    ("nominal_power", "P_n", "power", "W", "W", "power on the coil's nameplate"),
    ("nominal_voltage", "U_n", "voltage", "V", "V", "voltage on the coil's nameplate"),
    ("offset", "e", "length", "µm", "thou", "distance of the spool's axis from the bore's axis"),
    ("oil_temperature", "T", "temperature", "°C", "°F", "temperature of the oil where it flows"),
    ("open_circumference", "f", "ratio", "", "", "share of the circumference that the edge opens: 1 a plain edge"),
    ("opening", "x", "length", "mm", "in", "how far the metering edge is open"),
    ("peak_flow_force", "F_Qp", "force", "N", "lbf", "largest flow force on the way, both edges together"),
    ("pickup_resistance", "R_pu", "resistance", "Ω", "Ω", "winding resistance at the moment of the pick-up reading"),
    ("pickup_voltage", "U_pu", "voltage", "V", "V", "voltage at the coil at which the spool just shifts"),
    ("pin_area", "A_pin", "area", "mm²", "in²", "area of a push pin sealed against the tank pressure"),
    ("pin_force", "F_pin", "force", "N", "lbf", "force of the tank pressure on a sealed push pin"),
    ("piston_area", "A_P", "area", "mm²", "in²", "full area of the piston"),
    ("position", "s", "length", "mm", "in", "travel of the spool from its rest position"),
    ("power", "P", "power", "W", "W", "electrical power turned to heat in the winding"),
    ("pressure_drop", "Δp", "pressure_difference", "bar", "psi", "pressure difference that drives the flow"),
    ("pull_force", "F_pull", "force", "N", "lbf", "force of the rod on its way in"),
    ("pump_flow", "Q_P", "flow", "L/min", "gpm", "flow that the pump delivers"),
    ("push_force", "F_push", "force", "N", "lbf", "force of the rod on its way out"),
    ("reference_leakage", "Q_ref", "flow", "mL/min", "in³/min", "leakage turned to the reference oil and pressure"),
    ("reference_pressure_drop", "Δp_ref", "pressure_difference", "bar", "psi", "pressure difference to compare at"),
    ("reference_temperature", "T_ref", "temperature", "°C", "°F", "temperature that the 20 °C resistance belongs to"),
    ("reference_viscosity", "µ_ref", "dynamic_viscosity", "mPa·s", "cP", "dynamic viscosity to compare at"),
    ("residual_at_end", "F_r0", "force", "N", "lbf", "residual magnetism at the closed gap, coil switched off"),
    ("residual_force", "F_r", "force", "N", "lbf", "residual magnetism at this position"),
    ("resistance", "R", "resistance", "Ω", "Ω", "resistance of the winding at its temperature"),
    ("resistance_20", "R_20", "resistance", "Ω", "Ω", "resistance of the winding at 20 °C"),
    ("resistance_per_length", "R'", "resistance_per_length", "Ω/km", "Ω/1000 ft", "resistance of one conductor"),
    ("return_flow", "Q_R", "flow", "L/min", "gpm", "flow that comes back from the cylinder"),
    ("return_pressure", "p_R", "pressure", "bar", "psi", "pressure on the return side of the cylinder"),
    ("return_ratio", "r", "ratio", "", "", "return flow over inlet flow: φ going in, 1/φ going out"),
    ("rod_diameter", "d_R", "length", "mm", "in", "diameter of the piston rod"),
    ("rod_side_pressure", "p_R", "pressure", "bar", "psi", "pressure on the ring area of the rod side"),
    ("shear_modulus", "G", "pressure_difference", "MPa", "psi", "shear modulus of the spring wire"),
    ("silt_force", "F_s", "force", "N", "lbf", "force that fine dirt adds after the spool has stood under pressure"),
    ("silt_limit", "F_∞", "force", "N", "lbf", "silt force after a very long stand"),
    ("silt_time_constant", "τ", "time", "s", "s", "time in which the silt force reaches 63 % of its limit"),
    ("solenoid_force", "F_sol", "force", "N", "lbf", "force of the solenoid at this position and current"),
    ("source_voltage", "U_s", "voltage", "V", "V", "voltage at the start of the cable, under load"),
    ("spool_diameter", "D", "length", "mm", "in", "diameter of the spool's lands"),
    ("spring_force", "F_sp", "force", "N", "lbf", "force of the spring at this position"),
    ("spring_preload", "F_pre", "force", "N", "lbf", "force of the spring with the valve at rest"),
    ("spring_rate", "k", "spring_rate", "N/mm", "lbf/in", "force that the spring gains for each length"),
    ("stroke", "S", "length", "mm", "in", "travel of the spool from rest to its end"),
    ("stroke_length", "h", "length", "mm", "in", "stroke of the cylinder"),
    ("stroke_time", "t_S", "time", "s", "s", "time for the whole stroke of the cylinder"),
    ("supply_pressure", "p_P", "pressure", "bar", "psi", "pressure at which the relief valve holds the pump"),
    ("tank_pressure", "p_T", "pressure", "bar", "psi", "pressure in the tank line at the valve"),
    ("taper", "t", "length", "µm", "thou", "radius lost over the length of the land"),
    ("taper_factor", "k_t", "ratio", "", "", "sideways force over land length x diameter x pressure difference"),
    ("temperature_100", "T_100", "temperature", "°C", "°F", "temperature of the second viscosity: 100 °C"),
    ("temperature_40", "T_40", "temperature", "°C", "°F", "temperature of the first viscosity: 40 °C"),
    ("thermal_expansion", "α_V", "per_kelvin", "1/K", "1/K", "share of its volume that the oil gains for each K"),
    ("thermal_resistance", "R_th", "thermal_resistance", "K/W", "K/W", "how many K the winding warms for each watt"),
    ("velocity_coefficient", "C_v", "ratio", "", "", "speed of the jet over its speed without losses"),
    ("viscosity", "µ", "dynamic_viscosity", "mPa·s", "cP", "dynamic viscosity of the oil where it flows"),
    ("viscosity_100", "ν_100", "kinematic_viscosity", "mm²/s", "mm²/s", "kinematic viscosity of the oil at 100 °C"),
    ("viscosity_40", "ν_40", "kinematic_viscosity", "mm²/s", "mm²/s", "kinematic viscosity of the oil at 40 °C"),
    ("viscosity_40_vi_0", "L", "kinematic_viscosity", "mm²/s", "mm²/s", "of the index 0 oil equal at 100 °C"),
    ("viscosity_40_vi_100", "H", "kinematic_viscosity", "mm²/s", "mm²/s", "of the index 100 oil equal at 100 °C"),
    ("viscosity_index", "VI", "ratio", "", "", "viscosity index: how little the oil thins when it warms"),
    ("viscosity_index_exponent", "N", "ratio", "", "", "exponent of procedure B of the viscosity index"),
    ("viscosity_unit", "ν_1", "kinematic_viscosity", "mm²/s", "mm²/s", "unit under the logarithm: 1 mm²/s"),
    ("voltage_drop", "ΔU", "voltage", "V", "V", "voltage lost in the cable"),
    ("walther_100", "W_100", "ratio", "", "", "double logarithm of the viscosity at 100 °C"),
    ("walther_40", "W_40", "ratio", "", "", "double logarithm of the viscosity at 40 °C"),
    ("walther_constant", "ν_W", "kinematic_viscosity", "mm²/s", "mm²/s", "added under the logarithm: 0.7 mm²/s"),
    ("walther_slope", "B", "ratio", "", "", "slope of the double logarithm over the logarithm of temperature"),
    ("walther_value", "W", "ratio", "", "", "double logarithm of the viscosity at the oil's temperature"),
    ("wanted_share", "m_w", "ratio", "%", "%", "share of the driving force that is to stay in hand"),
    ("winding_temperature", "T_w", "temperature", "°C", "°F", "mean temperature of the winding"),
    ("wire_diameter", "d_w", "length", "mm", "in", "diameter of the spring wire"),
)

#: Every row, of all families; a name stands in one of them.
ROWS = (
    *_ROWS,
    *SHEET_ROWS,
    *FLOW_ROWS,
    *COIL_ROWS,
    *CYLINDER_ROWS,
    *VALVE_ROWS,
    *BENCH_ROWS,
    *OIL_ROWS,
    *IDENTITY_ROWS,
    *LINE_ROWS,
    *MOUNTING_ROWS,
    *DIRT_ROWS,
    *SEAL_ROWS,
    *JOB_ROWS,
)
VOCABULARY: dict[str, Quantity] = {row[0]: Quantity(*row) for row in ROWS}
