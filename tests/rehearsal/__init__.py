"""Tests of the rehearsal: pages run on the model of the room."""
