"""monreq takes musicians' requests for their monitor mixes to the engineer at the desk."""
