"""A daily record of mood and sleep, for one person, in the terminal."""
