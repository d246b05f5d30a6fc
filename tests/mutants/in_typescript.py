"""Changes to the app's modules: a parser finds what has a meaning, a table says what it may become."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random

import tree_sitter_typescript
from tree_sitter import Language, Node, Parser

from tests.mutants.change import Change

PARSER = Parser(Language(tree_sitter_typescript.language_typescript()))
OTHERWISE = {
    "===": "!==",
    "!==": "===",
    "<": "<=",
    "<=": "<",
    ">": ">=",
    ">=": ">",
    "&&": "||",
    "||": "&&",
    "??": "&&",
    "+": "-",
    "-": "+",
    "*": "/",
    "/": "*",
    "true": "false",
    "false": "true",
    "break": "continue",
    "some": "every",
    "every": "some",
}
#: What only types say is the type checker's to notice.
TYPES = {
    "type_annotation",
    "type_arguments",
    "type_parameters",
    "interface_declaration",
    "type_alias_declaration",
}
TYPES |= {"import_statement", "as_expression", "satisfies_expression"}


def changes(path: str, source: str, chance: Random) -> Iterator[Change]:
    """Every place that can be changed, in an order by chance."""
    content = source.encode()
    found = [(node, new, kind) for node in nodes(PARSER.parse(content).root_node) for new, kind in ways(node)]
    chance.shuffle(found)
    for node, new, kind in found:
        text = content[: node.start_byte] + new.encode() + content[node.end_byte :]
        yield Change(path, node.start_point.row + 1, kind, text.decode())


def nodes(node: Node) -> Iterator[Node]:
    yield node
    for child in node.children:
        if child.type not in TYPES:
            yield from nodes(child)
        elif child.type in ("as_expression", "satisfies_expression"):
            yield from nodes(child.children[0])


def ways(node: Node) -> Iterator[tuple[str, str]]:
    """What may stand in a node's place, and what to call that."""
    text = (node.text or b"").decode()
    parent = node.parent.type if node.parent else ""
    in_expression = parent in ("binary_expression", "augmented_assignment_expression")
    if not node.children and text in OTHERWISE and (in_expression or node.type in ("true", "false", "break")):
        yield OTHERWISE[text], f"{text} becomes {OTHERWISE[text]}"
    if node.type == "property_identifier" and text in ("some", "every"):
        yield OTHERWISE[text], f"{text} becomes {OTHERWISE[text]}"
    if node.type == "number" and not only_orders(node):
        yield f"({text} + 1)", "a number is one more"
    if (
        node.type == "string"
        and parent in ("binary_expression", "return_statement", "array", "ternary_expression")
        and not for_the_type(node)
    ):
        yield '"otherwise"', "another text"
    if parent in ("if_statement", "while_statement") and node.type == "parenthesized_expression":
        yield f"(!{text})", "a condition is turned round"
    if node.type == "ternary_expression":
        condition = node.child_by_field_name("condition")
        if condition is not None and condition.text is not None:
            yield (
                text.replace(said := condition.text.decode(), f"!({said})", 1),
                "a condition is turned round",
            )
    if node.type == "expression_statement" and parent == "statement_block":
        yield ";", "a step is left out"
    if node.type == "return_statement" and parent == "statement_block" and len(node.children) > 1:
        yield "return undefined as never;", "nothing is returned"


def for_the_type(text: Node) -> bool:
    """Whether it stands behind the first part of what was split, `.split(" ")[0] ?? ""`: there always is one."""
    either = text.parent
    left = either.child_by_field_name("left") if either is not None else None
    if left is None or left.type != "subscript_expression" or left == text:
        return False
    whole, index = left.child_by_field_name("object"), left.child_by_field_name("index")
    called = whole.child_by_field_name("function") if whole is not None else None
    name = called.child_by_field_name("property") if called is not None else None
    return index is not None and index.text == b"0" and name is not None and name.text == b"split"


def only_orders(number: Node) -> bool:
    """Whether it puts two in order, `? -1 : 1`, of which only the sign is asked."""
    around = number.parent
    if around is not None and around.type == "unary_expression":
        around = around.parent
    if around is None or around.type != "ternary_expression":
        return False
    ways_out = [around.child_by_field_name(name) for name in ("consequence", "alternative")]
    return {way.text for way in ways_out if way is not None} == {b"-1", b"1"}
