"""The Plans: all plans, one as the photographer reads it, two side by side, and a house plan in a form."""
