"""Pictures: a record in, SVG out; the same on a page and on paper."""
