"""Answers browsers and programs over HTTP: pages, forms and the JSON interface."""
