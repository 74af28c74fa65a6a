"""The Walk: what to shoot next, and closing a setup without a silent gap."""
