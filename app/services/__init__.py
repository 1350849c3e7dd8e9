"""One function per use case: load, ask the domain, store, commit. The only place that commits."""
