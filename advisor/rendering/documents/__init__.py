"""Documents that programs read: `assessment_document`, `plain` (a document as JSON), `schema_of`, `KINDS`."""
