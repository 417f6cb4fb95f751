"""Words for what the engine recorded: the reasoning, the headline, JSON. One record, many views."""
