"""Names of small readings that are judged and of the test stand; the rest of the vocabulary is in quantities.py."""

BENCH_ROWS: tuple[tuple[str, str, str, str, str, str], ...] = (
    # name, symbol, dimension, metric, US, meaning
    # ---- coil readings
    ("off_load_voltage", "U_0", "voltage", "V", "V", "voltage at the same plug with the coil disconnected, command on"),
    ("supply_sag", "δ_s", "ratio", "%", "%", "voltage lost from off load to on load, as a share of off load"),
    ("lowest_voltage", "U_low", "voltage", "V", "V", "nominal voltage less what the supply may drop"),
    ("largest_current", "I_max", "current", "A", "A", "current of the winding at its coldest, at this voltage"),
    ("smallest_current", "I_min", "current", "A", "A", "current of the winding at its hottest, at this voltage"),
    ("current_deviation", "δ_I", "ratio", "%", "%", "current beyond what the winding can draw between cold and hot"),
    ("resistance_ratio", "r_R", "ratio", "", "", "winding resistance hot in service over that at the pick-up trial"),
    ("resistance_ratio_read", "r_Rm", "ratio", "", "", "the same from two resistances read"),
    ("resistance_ratio_copper", "r_Rc", "ratio", "", "", "the same from two temperatures of a copper winding"),
    ("largest_pickup_voltage", "U_lim", "voltage", "V", "V", "pick-up voltage up to which enough stays in hand"),
    # ---- spool
    ("clearance_growth", "g_c", "ratio", "", "", "clearance over that of the new fit"),
    ("growth_least", "g_min", "ratio", "", "", "clearance over the largest of a new fit"),
    ("growth_most", "g_max", "ratio", "", "", "clearance over the smallest of a new fit"),
    ("growth_limit", "g_lim", "ratio", "", "", "growth of the clearance at which a fit counts as worn"),
    ("largest_new_clearance", "c_nh", "length", "µm", "thou", "radial clearance of the loosest new fit"),
    ("smallest_new_clearance", "c_nl", "length", "µm", "thou", "radial clearance of the tightest new fit"),
    # ---- the test stand
    ("overall_efficiency", "η_P", "ratio", "", "", "share of the motor's power that the pump brings into the oil"),
    ("drive_power", "P_M", "power", "kW", "hp", "power that the pump takes from its motor"),
    ("motor_power", "P_r", "power", "kW", "hp", "power on the motor's nameplate"),
    ("motor_share", "k_M", "ratio", "%", "%", "power that the pump takes over the motor's rated power"),
    ("warming_time", "t_w", "time", "min", "min", "time in which the oil of the tank warms by so much"),
    ("glass_resolution", "v_r", "volume", "mL", "in³", "smallest amount that the measuring glass shows"),
    ("resolution_share", "u_r", "ratio", "%", "%", "share of the reading that this amount may be"),
    ("collected_volume", "v_c", "volume", "mL", "in³", "oil to collect"),
    ("collection_time", "t_c", "time", "s", "s", "time to collect"),
    ("half_time", "t_h", "time", "s", "s", "time in which half of the pressure is lost"),
    ("cooling", "ΔT_c", "temperature_difference", "K", "K", "how much the oil cooled"),
    ("false_leakage", "Q_f", "flow", "mL/min", "in³/min", "leakage that cooling pretends"),
    ("false_share", "k_f", "ratio", "%", "%", "share of the leakage read that may be cooling"),
    ("test_flow", "Q_t", "flow", "L/min", "gpm", "flow of the test"),
    ("duty_flow", "Q_d", "flow", "L/min", "gpm", "flow of the duty"),
    ("test_drop", "Δp_t", "pressure_difference", "bar", "psi", "pressure over the spool in the test"),
    ("duty_drop", "Δp_d", "pressure_difference", "bar", "psi", "pressure over the spool in the duty"),
    ("flow_force_cover", "k_Q", "ratio", "%", "%", "share of the duty's flow force that the test reached"),
    ("lateral_cover", "k_N", "ratio", "%", "%", "share of the duty's sideways force that the test reached"),
)
