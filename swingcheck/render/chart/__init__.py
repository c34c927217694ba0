"""The clearance against the swing angle."""
