"""Formulas as trees, worked out and written down."""

import ast
import math
from collections.abc import Callable, Iterable, Mapping
from functools import cache

import msgspec

from filmbuild.pipeline.results import Operation, Step
from filmbuild.quantities import Duration, Quantity, UnitSystem, to_unit

ROUNDING = 1e-9
SYMBOLS: Mapping[Operation, str] = {
    "add": " + ",
    "subtract": " − ",  # noqa: RUF001 - the sign of typography
    "multiply": " × ",  # noqa: RUF001 - the sign of typography
    "divide": " ÷ ",
}
_OPERATIONS: Mapping[type[ast.operator], Operation] = {
    ast.Add: "add",
    ast.Sub: "subtract",
    ast.Mult: "multiply",
    ast.Div: "divide",
}
_CALLS: Mapping[str, Operation] = {"ceil": "round_up", "max": "at_least"}
_BINDING: Mapping[Operation, int] = {
    "round_up": 0,
    "at_least": 0,
    "add": 1,
    "subtract": 1,
    "multiply": 2,
    "divide": 2,
}


class Expression(msgspec.Struct, frozen=True):
    """A named value, or an operation on others; `value` is in SI."""

    operation: Operation
    value: float
    name: str | None = None
    of: tuple["Expression", ...] = ()


def named(name: str | None, value: float) -> Expression:
    return Expression("value", value, name)


ONE = named(None, 1)


def applied(operation: Operation, of: tuple[Expression, ...]) -> Expression:
    return Expression(operation, _work(operation, [one.value for one in of]), None, of)


def _work(operation: Operation, values: list[float]) -> float:
    match operation:
        case "add":
            return sum(values)
        case "subtract":
            return values[0] - sum(values[1:])
        case "multiply":
            return math.prod(values)
        case "divide":
            return values[0] / values[1]
        case "round_up":
            return math.ceil(values[0] - ROUNDING)
        case _:
            return max(values)


Find = Callable[[str], Expression | None]


@cache
def _parsed(formula: str) -> ast.expr:
    return ast.parse(formula, mode="eval").body


def worked(formula: str, find: Find) -> Expression | None:
    """A formula in the names of inputs; None where one that it cannot do without is missing.

    What is missing or nothing is left out of sums, and takes its products with it.
    """
    return _worked(_parsed(formula), find)


def _worked(node: ast.expr, find: Find) -> Expression | None:
    match node:
        case ast.Constant(value=int() | float() as value):
            return named(None, value)
        case ast.Name(id=name):
            return find(name)
        case ast.Call(func=ast.Name(id=name), args=arguments):
            parts = [_worked(one, find) for one in arguments]
            kept = tuple(one for one in parts if not _is_nothing(one) and one is not None)
            if name == "max" and len(kept) == 1:
                return kept[0]
            return applied(_CALLS[name], kept) if len(kept) == len(parts) else None
        case ast.BinOp(left=left, op=operator, right=right):
            operation = _OPERATIONS[type(operator)]
            return _joined(operation, _worked(left, find), _worked(right, find))
        case _:
            msg = f"no formula has a {type(node).__name__}"
            raise AssertionError(msg)


def _joined(
    operation: Operation, left: Expression | None, right: Expression | None
) -> Expression | None:
    if operation in ("add", "subtract"):
        return _sum(operation, left, right)
    if left is None or right is None:
        return None
    if right == ONE:
        return left
    if operation == "multiply" and left.operation == operation:
        return applied(operation, (*left.of, right))
    return applied(operation, (left, right))


def _sum(
    operation: Operation, left: Expression | None, right: Expression | None
) -> Expression | None:
    if _is_nothing(right):
        return left
    if operation == "subtract" or right is None:
        return None if left is None or right is None else applied(operation, (left, right))
    if left is None or _is_nothing(left):
        return right
    if left.operation == operation:
        return applied(operation, (*left.of, right))
    return applied(operation, (left, right))


def _is_nothing(one: Expression | None) -> bool:
    return one is None or one.value == 0


def written(expression: Expression, system: UnitSystem) -> str:
    """As it is read aloud: names before their values, counts before their names."""
    operation = expression.operation
    if operation == "value":
        return _value(expression, system)
    parts = expression.of
    if operation == "round_up":
        return f"{written(parts[0], system)}, rounded up"
    if operation == "at_least":
        return f"{written(parts[0], system)}, at least {written(parts[1], system)}"
    return SYMBOLS[operation].join(
        _bracketed(one, operation, system, first=not place) for place, one in enumerate(parts)
    )


def _bracketed(one: Expression, outer: Operation, system: UnitSystem, *, first: bool) -> str:
    text = written(one, system)
    inner = _BINDING.get(one.operation)
    if inner is None:
        return text
    looser = inner < _BINDING[outer]
    later = not first and inner == _BINDING[outer] and outer in ("subtract", "divide")
    return f"({text})" if looser or later else text


def _value(one: Expression, system: UnitSystem) -> str:
    text = figure(one.value, system)
    if one.name is None:
        return text
    if isinstance(one.value, int):
        return f"{text} {_numbered(one.name, one.value)}"
    return f"{one.name} {text}"


def _numbered(name: str, count: int) -> str:
    """One mix, two mixes: names of counts come as either."""
    one = name.removesuffix("es") if name.endswith("xes") else name.removesuffix("s")
    if count == 1:
        return one
    return f"{one}es" if one.endswith("x") else f"{one}s"


def figure(value: float, system: UnitSystem) -> str:
    if isinstance(value, Duration):
        return f"{_plain(float(value))} s"
    if isinstance(value, Quantity):
        amount, unit = to_unit(value, system)
        return f"{_plain(amount)} {unit}"
    return _plain(value)


def _plain(value: float) -> str:
    """Six digits, without an exponent and without thousands set apart."""
    text = f"{value:.6g}"
    return text if "e" not in text else f"{value:.12f}".rstrip("0").rstrip(".")


def steps(expression: Expression, result: float) -> tuple[Step, ...]:
    """The tree in the order of working it out; the same value stands there once.

    The last one is the figure that was answered, with its unit.
    """
    found: dict[Expression, int] = {}
    listed: list[Step] = []

    def add(one: Expression, value: float) -> int:
        if one not in found:
            places = tuple(add(part, part.value) for part in one.of)
            listed.append(_step(one, value, places))
            found[one] = len(listed) - 1
        return found[one]

    add(expression, result)
    return tuple(listed)


def _step(one: Expression, value: float, places: Iterable[int]) -> Step:
    quantity = value if isinstance(value, Quantity) else None
    return Step(
        operation=one.operation,
        name=one.name,
        quantity=quantity,
        number=None if quantity is not None else float(value),
        of=tuple(places),
    )
