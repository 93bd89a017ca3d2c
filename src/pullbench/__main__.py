"""`python -m pullbench` is the `pullbench` command."""

from pullbench.cli import main

main()
