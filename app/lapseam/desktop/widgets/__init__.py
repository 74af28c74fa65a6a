"""Widgets: each draws one pure value and says by signals what the person wants."""
