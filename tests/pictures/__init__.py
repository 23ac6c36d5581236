"""Pictures of the real screens, drawn from the invented record."""
