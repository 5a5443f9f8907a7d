"""Tells open pages over Socket.IO what has changed."""
