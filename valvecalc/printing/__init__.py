"""The body of a formula or sheet, printed: as text, as MathML, as JavaScript."""
