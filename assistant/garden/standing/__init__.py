"""How each bed stands and what it needs next, how it is found by name, and where every pound is."""
