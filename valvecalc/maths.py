"""The functions a formula may use, on float, NumPy array and pint Quantity alike.

Bodies are also printed to JavaScript and MathML, so what is not here does not exist there.
On floats nothing is imported; a root or logarithm outside its range raises, as in JavaScript.
"""

import math
from typing import Any

pi = math.pi


def _numpy() -> Any:
    import numpy

    return numpy


def sqrt(x: Any) -> Any:
    """Square root."""
    return math.sqrt(x) if x.__class__ is float or x.__class__ is int else x**0.5


def power(x: Any, exponent: Any) -> Any:
    """x to a broken exponent. A negative x has no value (Python's own ** would turn complex)."""
    if (x.__class__ is float or x.__class__ is int) and (exponent.__class__ is float or exponent.__class__ is int):
        return math.pow(x, exponent)
    return x**exponent


def exp(x: Any) -> Any:
    """e to the x."""
    return math.exp(x) if x.__class__ is float or x.__class__ is int else _numpy().exp(x)


def log(x: Any) -> Any:
    """Natural logarithm."""
    return math.log(x) if x.__class__ is float or x.__class__ is int else _numpy().log(x)


def log10(x: Any) -> Any:
    """Logarithm to base 10."""
    return math.log10(x) if x.__class__ is float or x.__class__ is int else _numpy().log10(x)


def cos(x: Any) -> Any:
    """Cosine of an angle in radians."""
    return math.cos(x) if x.__class__ is float or x.__class__ is int else _numpy().cos(x)


def tan(x: Any) -> Any:
    """Tangent of an angle in radians."""
    return math.tan(x) if x.__class__ is float or x.__class__ is int else _numpy().tan(x)


def acos(x: Any) -> Any:
    """Angle in radians whose cosine is x."""
    return math.acos(x) if x.__class__ is float or x.__class__ is int else _numpy().arccos(x)


def tanh(x: Any) -> Any:
    """Hyperbolic tangent: x itself when small, 1 when large."""
    return math.tanh(x) if x.__class__ is float or x.__class__ is int else _numpy().tanh(x)


def where(condition: Any, yes: Any, no: Any) -> Any:
    """`yes` where the condition holds, else `no`. Both are evaluated, in every language."""
    if condition is True:
        return yes
    if condition is False:
        return no
    return _numpy().where(condition, yes, no)


def maximum(a: Any, b: Any) -> Any:
    """The larger of two."""
    if (a.__class__ is float or a.__class__ is int) and (b.__class__ is float or b.__class__ is int):
        return b if b > a else a
    return _numpy().maximum(a, b)


def minimum(a: Any, b: Any) -> Any:
    """The smaller of two."""
    if (a.__class__ is float or a.__class__ is int) and (b.__class__ is float or b.__class__ is int):
        return b if b < a else a
    return _numpy().minimum(a, b)
