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


def changes(path: str, source: str, chance: Random) -> Iterator[Change]:
    """Every place that can be changed, in an order by chance, each by one operator of its family by chance."""
    tree = get_ast(source)
    places: dict[tuple[object, str], list[tuple[str, int]]] = {}
    for name in sorted(set(operator_names()) - NEED_WORDS):
        operator = get_operator(name)()
        occurrence = 0
        for node in ast_nodes(tree):
            for place in operator.mutation_positions(node):
                places.setdefault((place, name.split("_")[0]), []).append((name, occurrence))
                occurrence += 1
    meaning = without_annotations(source)
    for (place, _), ways in sorted(places.items(), key=lambda _: chance.random()):
        name, occurrence = chance.choice(ways)
        text = mutate_code(source, get_operator(name)(), occurrence)
        # What only types say is the type checker's to notice.
        if text is not None and without_annotations(text) != meaning:
            yield Change(path, place[0][0], name.removeprefix("core/"), text)  # type: ignore[index]


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
