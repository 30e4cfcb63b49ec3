"""House files: read, write, save, compare and merge them, and never lose one."""
