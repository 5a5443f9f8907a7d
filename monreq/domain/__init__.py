"""What is true about sources, mixes, requests and levels: pure, without clock, chance or I/O."""
