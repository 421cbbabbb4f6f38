"""Text to SI, the glossary, bands, tables, errors."""
