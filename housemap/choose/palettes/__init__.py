"""A palette for a whole house out of a deck: wall paints, few of them, and a trim paint.

The deck is screened (`shortlist`), what is left is weighed as for filling a house (`screened`) and
the least costly choice is looked for with a bound (`palette`). Then each colour of the choice is
held against the whole deck (`swaps`): where another paint does better in its place it joins the
screened ones, and the search is made again. Every bound holds for the paints so weighed, not for
the whole deck. The walls are chosen first, without the trim that is to be replaced, then a trim
that goes with them (`trim`).
"""
