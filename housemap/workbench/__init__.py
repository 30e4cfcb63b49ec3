"""What an open house can do, without a screen: the session, and one object a task."""
