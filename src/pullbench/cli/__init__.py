"""The `pullbench` command: parse, call, print."""


def main() -> None:
    """Run the command line."""
