"""Where rooms lie, which see each other, and what one sees standing in them."""
