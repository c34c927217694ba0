"""One hinge pulled apart."""
