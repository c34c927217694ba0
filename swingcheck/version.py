"""The version: what a release raises, and what every file that is written can name."""

__version__ = "0.1.0"
