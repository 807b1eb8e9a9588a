"""Tests of saidspec; a package so that its corpora can be scored with `python -m tests.held_back`."""
