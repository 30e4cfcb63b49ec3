"""What stands on the screens. A widget reports what happened; the screen decides."""
