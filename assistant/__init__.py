"""A rules-based assistant for sweet potato growers: when to dig, and the crop until next year's bed."""
