"""What a person decides about an entry or a photo. Each is whole when it returns, and undoable."""
