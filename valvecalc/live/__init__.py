"""What runs on the phone: JavaScript twins of the door, and the Python that prints their data."""
