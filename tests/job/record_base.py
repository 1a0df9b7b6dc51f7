"""The record of an invented job with every key of it once, as text of a job file."""

RECORD = """
out_of_service = ["os-1"]
[intake]
fails = "in-1"
onset = "sudden"
fails_when = "cold"
changed_last = "in-2"
removed_by = "in-3"
died_before = "in-4"
burnt_coil = true
shifts_by_hand = false
spare = true
fluid = "in-5"
data_sheet = true
accessories = ["in-6", "in-7"]
[isolation]
load_held = "is-1"
locked_by = "is-2"
proved_at = 2026-10-01 09:30:00
gauge_p = "0.11 bar"
gauge_a = "0.12 bar"
gauge_b = "0.13 bar"
gauge_t = "0.14 bar"
gauge_x = "0.15 bar"
gauge_y = "0.16 bar"
dead_proved = true
by = "is-3"
[outside]
leak = "drops"
leak_where = "ou-1"
tube = "sound"
crack = false
threads_damaged = false
screws = "complete"
rated_p = "315 bar"
rated_a = "314 bar"
rated_b = "313 bar"
rated_t = "160 bar"
plugs = "ou-2"
override = "ou-3"
seen = ["ou-4"]
by = "ou-5"
[as_received]
reproduced = "no"
why = "ar-1"
pressure = "118 bar"
voltage = "23.4 V"
oil_temperature = "43 °C"
seen = ["ar-2"]
on = 2026-10-02
by = "ar-3"
[[part]]
name = "pa-1"
finding = "pa-2"
verdict = "repair"
action = "pa-3"
[cause]
killer = "spool-silted"
also = ["ca-4"]
victims = ["ca-1"]
root = "oil-dirty"
evidence = ["ca-2"]
by = "ca-3"
[[option]]
name = "op-1"
what = "repair"
hours = "121 min"
parts = "op-2"
cost = "op-3"
ready = "op-4"
comeback_share = "7 %"
comeback_cost = "op-5"
why = "op-6"
[decision]
what = "exchange"
why = "de-1"
price = "de-2"
agreed_by = "de-3"
agreed_on = 2026-10-03
scrap_marked = true
[[part_used]]
name = "pu-1"
count = "pu-2"
price = "pu-3"
cure_date = 2025-03-31
[[torque_done]]
what = "to-1"
torque = "5.1 N·m"
tool = "to-2"
by = "to-3"
[[acceptance]]
test = "ac-1"
at = "ac-2"
limit = "ac-3"
reading = "ac-4"
result = "not-run"
why = "ac-5"
by = "ac-6"
[dispatch]
sent = 2026-10-05
preserved = "di-1"
caps = "di-2"
oldest_seal = 2024-12-31
tag = "di-3"
enclosed = ["di-4"]
by = "di-5"
[feedback]
measure = ["fe-1"]
call_back = 2026-11-05
outcome = "came-back"
came_back_on = 2026-11-01
heard = "fe-2"
[times]
intake = "11 min"
isolation = "12 min"
outside = "13 min"
electrical = "14 min"
as_received = "15 min"
strip_down = "16 min"
measuring = "17 min"
cause = "18 min"
repair = "19 min"
reassembly = "20 min"
acceptance = "21 min"
report = "22 min"
[[photo]]
file = "ph-1.jpg"
caption = "ph-2"
stage = "strip-down"
"""
