"""Reads texts with the parser that tree-sitter makes of grammar/tree-sitter, and says what it finds in them.

   read.py PARSER.so < {"queries": {name: text}, "texts": [text, …], "trees": bool}

Writes a list with an object for each text: "errors", "captures" and "tree"; places are bytes.
"""
import ctypes
import json
import sys

from tree_sitter import Language, Parser, Query, QueryCursor

make = ctypes.CDLL(sys.argv[1]).tree_sitter_dwell
make.restype = ctypes.c_void_p
capsule = ctypes.pythonapi.PyCapsule_New
capsule.restype = ctypes.py_object
capsule.argtypes = [ctypes.c_void_p, ctypes.c_char_p, ctypes.c_void_p]
language = Language(capsule(make(), b"tree_sitter.Language", None))
parser = Parser(language)


def errors(node, found):
    """The nodes that stand for what could not be read. What is missing inside a name or a text is not shown as a node of its own."""
    inside = [child for child in node.children if child.has_error]
    if node.is_error:
        found.append([node.start_byte, node.end_byte, "ERROR"])
    elif node.has_error and not inside:
        found.append([node.start_byte, node.end_byte, f"MISSING {node.type}"])
    for child in inside:
        errors(child, found)
    return found


def tree(node, field=None):
    """The tree as the corpus of tree-sitter writes it: named nodes with their fields."""
    inside = [tree(child, node.field_name_for_child(at)) for at, child in enumerate(node.children) if child.is_named or child.is_missing]
    kind = node.type if node.is_named else f'"{node.type}"'
    shown = f"(MISSING {kind})" if node.is_missing else "(" + " ".join([kind, *inside]) + ")"
    return f"{field}: {shown}" if field else shown


asked = json.load(sys.stdin)
queries = {name: Query(language, text) for name, text in asked["queries"].items()}
answers = []
for text in asked["texts"]:
    root = parser.parse(text.encode()).root_node
    captures = {}
    for name, query in queries.items():
        found = []
        for pattern, match in QueryCursor(query).matches(root):
            found += [[capture, node.start_byte, node.end_byte, pattern] for capture, nodes in match.items() for node in nodes]
        captures[name] = found
    answers.append({"errors": errors(root, []), "captures": captures, "tree": tree(root) if asked["trees"] else ""})
json.dump(answers, sys.stdout)
