"""`python -m saidspec` is the command line."""

from saidspec.cli.main import main

main()
