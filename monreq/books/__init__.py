"""Band books: the file that carries a band from one machine to another. Our own format, documented by its schema."""
