"""From decisions to the painter: areas, coats, litres, tins, cost, cautions, and what to print."""
