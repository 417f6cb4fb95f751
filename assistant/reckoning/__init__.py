"""The trade's arithmetic: pure functions, each with units, range, errors and source in its docstring."""
