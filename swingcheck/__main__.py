"""Run swingcheck as ``python -m swingcheck``."""

from swingcheck.cli import main

if __name__ == "__main__":
    main()
