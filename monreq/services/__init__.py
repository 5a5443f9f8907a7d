"""Use cases, a verb each: load the show, decide, append to its log, announce."""
