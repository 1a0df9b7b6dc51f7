"""Names that only the record of a job uses; the rest of the vocabulary is in quantities.py."""

JOB_ROWS: tuple[tuple[str, str, str, str, str, str], ...] = (
    # name, symbol, dimension, metric, US, meaning
    ("applied_torque", "M_A", "torque", "N·m", "lbf·in", "torque that a screw or nut was tightened to"),
    ("comeback_share", "P_cb", "ratio", "%", "%", "chance that it comes back with the same complaint"),
    ("gauge_reading", "p_g", "pressure", "bar", "psi", "pressure at a port as its gauge showed it"),
    ("insulation_resistance", "R_i", "resistance", "MΩ", "MΩ", "resistance from both pins of a coil to its case"),
    ("port_rating", "p_max", "pressure", "bar", "psi", "largest pressure that the valve's documents allow at a port"),
    ("work_time", "t_W", "time", "min", "min", "working time spent on a stage of the job"),
)
