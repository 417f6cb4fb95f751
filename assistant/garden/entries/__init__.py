"""What a grower writes down, changes and takes out: each entry is on the disk at one go, and is undone at one go."""
