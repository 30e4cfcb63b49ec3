"""What to choose: paints for a room ranked, ways out of a finding, a whole house, a palette."""
