"""The sheet for the theatre wall: what one A4 page says of a plan, and the page itself."""
