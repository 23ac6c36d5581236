"""Widgets of our own, where Textual has none that fits."""
