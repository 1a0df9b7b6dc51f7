"""The fault finder: knowledge from data/faults/, belief, policy and the walk of one case; pure functions."""
