"""The days ahead of a bed, and how the same advice would have done in every autumn on record."""
