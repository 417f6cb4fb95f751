"""What to ask next, what an answer means, and what the answers decided."""
