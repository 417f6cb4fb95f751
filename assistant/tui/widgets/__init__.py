"""Small widgets that know nothing of visits."""
