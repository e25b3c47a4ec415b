"""guidegen: a workshop's YAML about machines and retrofit kits in, a versioned, computed, safe guide site out."""

__version__ = "0.1.0"
