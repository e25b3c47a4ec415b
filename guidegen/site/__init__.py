"""Site: turns records into pages, charts and files of a site."""
