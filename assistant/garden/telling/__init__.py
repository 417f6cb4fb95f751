"""What the notebook tells of a bed: its story, its pictures, its pages to print."""
