"""From a scene to posed solids and the pin line."""

from swingcheck.assembly.parts import Assembly, Axis, Part, PartKind

__all__ = ["Assembly", "Axis", "Part", "PartKind"]
