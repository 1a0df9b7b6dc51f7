"""Replacement sizing: a stock list, a duty, and which valve of the one fits the other, rule by rule."""
