"""Paper: the review as HTML, PDF, XLSX and JSON."""
