"""Which paint for which room at the least cost: optimal where proven, told how far where not."""
