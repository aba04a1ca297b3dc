//! Prompts, colours and waits; the only place that reads a key.
