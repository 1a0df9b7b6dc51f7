"""The job record: a file of readings in, everything that they allow to be said out."""
