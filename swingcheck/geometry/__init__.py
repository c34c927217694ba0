"""Meshes, solids, rotation contact and distance; knows no doors."""
