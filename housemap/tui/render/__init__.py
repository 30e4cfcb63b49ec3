"""Drawing as pure functions: values in, rows of runs out. Nothing here needs a running program."""
