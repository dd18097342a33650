"""The quick finder: everything by name, from the keyboard."""
