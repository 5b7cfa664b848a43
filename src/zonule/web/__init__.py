"""The pages: served on this computer only, rendered here, working without script."""
