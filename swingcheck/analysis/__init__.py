"""What a scene comes to: contact, margins, clearance, verdict."""
