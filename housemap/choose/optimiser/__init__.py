"""Which paint for which room at the least cost: proven optimal, or with a bound."""
