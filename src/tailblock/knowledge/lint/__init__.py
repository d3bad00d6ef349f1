"""Set by the folder's author."""
