"""The commands."""


def main() -> int:
    return 0
