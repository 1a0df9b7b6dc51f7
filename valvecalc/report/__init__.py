"""Answers and job reports as a page (`html`) and as terminal text (`text`). Nothing is computed here.

Both take the plain dicts of the JSON contract, so that a file read back renders as on the day it was made.
"""
