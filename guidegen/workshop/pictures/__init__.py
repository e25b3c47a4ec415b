"""Photographs taken at the bench: what is written of them, what their files hold, and the site's copies."""
