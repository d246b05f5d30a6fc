"""Changes to the office's modules, by the operators of cosmic-ray."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from random import Random

from cosmic_ray.ast import ast_nodes, get_ast
from cosmic_ray.mutating import mutate_code
from cosmic_ray.plugins import get_operator, operator_names

from tests.mutants.change import Change

#: They need to be told which names to put where.
NEED_WORDS = {"core/VariableReplacer", "core/VariableInserter"}
#: What nobody would write, and what mostly means the same: of one identity for another equality, and back.
SAME_MEANING = {
    f"core/ReplaceComparisonOperator_{old}_{new}"
    for old, new in (("Eq", "Is"), ("NotEq", "IsNot"), ("Is", "Eq"), ("IsNot", "NotEq"))
}
#: Without it all is as before, only slower, or what was frozen could be changed, which the type checker notices as it
#: does what is there for it alone.
SPEED_ALONE = ("@cache", "@lru_cache", "@dataclass(frozen=True)", "@dataclass(slots=True)", "@overload")


def changes(path: str, source: str, chance: Random) -> Iterator[Change]:
    """Every place that can be changed, in an order by chance, each by one operator of its family by chance."""
    tree = get_ast(source)
    places: dict[tuple[object, str], list[tuple[str, int]]] = {}
    for name in sorted(set(operator_names()) - NEED_WORDS - SAME_MEANING):
        operator = get_operator(name)()
        occurrence = 0
        for node in ast_nodes(tree):
            for place in operator.mutation_positions(node):
                places.setdefault((place, name.split("_")[0]), []).append((name, occurrence))
                occurrence += 1
    meaning = without_annotations(source)
    lines = source.splitlines()
    for (place, _), ways in sorted(places.items(), key=lambda _: chance.random()):
        name, occurrence = chance.choice(ways)
        line = place[0][0]  # type: ignore[index]
        if name == "core/RemoveDecorator" and lines[line - 1].strip().startswith(SPEED_ALONE):
            continue
        text = mutate_code(source, get_operator(name)(), occurrence)
        if text is not None and text.count("frozen=True") < source.count("frozen=True"):
            continue
        # What only types say is the type checker's to notice, and what nobody could read is no change of meaning.
        if text is not None and without_annotations(text) not in ("", meaning):
            yield Change(path, line, name.removeprefix("core/"), text)


class Unannotated(ast.NodeTransformer):
    def visit_arg(self, node: ast.arg) -> ast.arg:
        node.annotation = None
        return node

    def visit_AnnAssign(self, node: ast.AnnAssign) -> ast.AnnAssign:
        node.annotation = ast.Constant(None)
        self.generic_visit(node)
        return node

    def visit_FunctionDef(self, node: ast.FunctionDef) -> ast.FunctionDef:
        node.returns = None
        self.generic_visit(node)
        return node

    def visit_AsyncFunctionDef(self, node: ast.AsyncFunctionDef) -> ast.AsyncFunctionDef:
        node.returns = None
        self.generic_visit(node)
        return node


def without_annotations(source: str) -> str:
    """What the source means, as one text; empty if it cannot be compiled."""
    try:
        return ast.dump(Unannotated().visit(ast.parse(source)))
    except SyntaxError:
        return ""
