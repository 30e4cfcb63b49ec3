"""What a house is: frozen data, edits that make a new house from an old one, and their history."""
