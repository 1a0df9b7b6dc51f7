"""The shop's memory: a folder of job files, listed, filtered, counted and drawn; the index beside them is a cache."""
