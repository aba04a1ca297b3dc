//! YAML with spans.
