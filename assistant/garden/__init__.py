"""The garden as a whole: how each bed stands and what it needs, and every entry that a grower makes in the notebook."""
