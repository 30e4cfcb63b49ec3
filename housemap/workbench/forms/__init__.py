"""Forms as plain data: fields derived from the schema, what is typed in them, what it makes."""
