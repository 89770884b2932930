"""The kinds of outside check, so that they can be counted: see ``count.py`` beside this file."""

KINDS = {
    "published": "a value read in a copy of a published text that the test names",
    "second_hand": "a value of a published text as another text restates it",
    "computed": "a value computed from first principles, independent of the code under test",
    "from_memory": "a value or formula of a published text from memory",
    "worked_example": "invented inputs, results worked by hand from the formulas",
}


def pytest_configure(config):
    for name, meaning in KINDS.items():
        config.addinivalue_line("markers", f"{name}: {meaning}")
